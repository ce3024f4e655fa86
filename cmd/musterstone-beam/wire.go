package main

import (
	"bufio"
	"bytes"
	"compress/flate"
	"context"
	"encoding/gob"
	"fmt"
	"hash/fnv"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/model"
)

// Elements of the pipeline are blocks, as gob bytes: many records or stones in one, so that what the engine costs for each element is shared by many.

// recordBlock is some service records. A place says where a record stands in the survey: see placeOf.
type recordBlock struct {
	Places  []int
	Records []model.Record
}

// stoneBlock is some stones, read.
type stoneBlock struct {
	Block    int64
	Places   []int
	Subjects []*model.Subject
}

// candidateBlock is what one shard of the records found for the stones of one block.
type candidateBlock struct {
	Places  []int // of the records, each but once
	Records []model.Record
	Stones  []found
}

// found are the candidates of the stone in a place: numbers of the block's records, and their scores.
type found struct {
	Place     int
	At, Score []int
}

// claimBlock is some claims of stones on records.
type claimBlock struct {
	Stones  []int    // places
	Records []uint64 // digests of their ids
}

// lineBlock is proposals, printed, with the places of their stones.
type lineBlock struct {
	Places []int
	Lines  [][]byte
}

// A place is a row's table and its number within the table: it grows in the order of the survey. A block's number is made the same way.
const rowBits, blockBits = 40, 24

func placeOf(table int64, row int) int { return int(table)<<rowBits | row }

func blockOf(table int64, block int) int64 { return table<<blockBits | int64(block) }

// digest stands for the id of a stone or a record where it is only asked whether two are the same.
func digest(id string) uint64 {
	h := fnv.New64a()
	h.Write([]byte(id))
	return h.Sum64()
}

// pack writes an element: compressed, since the words of a block repeat, and what is shuffled is written to disks and sent over the net.
func pack(v any) ([]byte, error) {
	var b bytes.Buffer
	z, err := flate.NewWriter(&b, flate.BestSpeed)
	if err != nil {
		return nil, err
	}
	if err := gob.NewEncoder(z).Encode(v); err != nil {
		return nil, fmt.Errorf("write a block: %w", err)
	}
	if err := z.Close(); err != nil {
		return nil, fmt.Errorf("write a block: %w", err)
	}
	return b.Bytes(), nil
}

// unpack reads an element.
func unpack(b []byte, into any) error {
	if err := gob.NewDecoder(bufio.NewReader(flate.NewReader(bytes.NewReader(b)))).Decode(into); err != nil {
		return fmt.Errorf("read a block: %w", err)
	}
	return nil
}

// namespace is the name under which the counters stand.
const namespace = "musterstone"

// tell counts what a stage has sent on: blocks, what is in them, and bytes.
func tell(ctx context.Context, stage string, items, size int) {
	beam.NewCounter(namespace, stage+": blocks").Inc(ctx, 1)
	beam.NewCounter(namespace, stage+": items").Inc(ctx, int64(items))
	beam.NewCounter(namespace, stage+": bytes").Inc(ctx, int64(size))
}

// one gives the only element of a side input.
func one(next func(*[]byte) bool) ([]byte, error) {
	var b []byte
	if !next(&b) {
		return nil, fmt.Errorf("a stage has not been given what the one before works out")
	}
	return b, nil
}
