package main

import (
	"context"
	"slices"

	"musterstone/index"
	"musterstone/link/weigh"
	"musterstone/model"
)

// known is what is counted on all records together: for finding candidates, and for weighing them.
type known struct {
	totals *index.Totals
	counts *weigh.Counts
}

// knownOnWire is how known is written.
type knownOnWire struct {
	Totals *index.Totals
	Counts *weigh.Counts
}

func newKnown() known { return known{&index.Totals{}, &weigh.Counts{}} }

func writeKnown(k known) ([]byte, error) { return pack(knownOnWire{k.totals, k.counts}) }

func readKnown(b []byte) (known, error) {
	var w knownOnWire
	err := unpack(b, &w)
	return known{w.Totals, w.Counts}, err
}

// countRecords is the combiner of known.
type countRecords struct{}

func (countRecords) CreateAccumulator() known { return newKnown() }

func (countRecords) AddInput(k known, in []byte) (known, error) {
	var b recordBlock
	if err := unpack(in, &b); err != nil {
		return k, err
	}
	list := make([]*model.Record, len(b.Records))
	for i := range b.Records {
		list[i] = &b.Records[i]
		k.totals.Add(list[i], uint64(b.Places[i]))
	}
	k.counts.Merge(weigh.Count(slices.Values(list)))
	return k, nil
}

func (countRecords) MergeAccumulators(a, b known) known {
	a.totals.Merge(b.totals)
	a.counts.Merge(b.counts)
	return a
}

func (countRecords) ExtractOutput(k known) ([]byte, error) { return writeKnown(k) }

// moves is what is counted on all stones together: how men moved, and how many stones there are, rows of registers apart.
type moves struct {
	m      *weigh.Moves
	stones int
}

// movesOnWire is how moves is written.
type movesOnWire struct {
	Moves  *weigh.Moves
	Stones int
}

func writeMoves(m moves) ([]byte, error) { return pack(movesOnWire{m.m, m.stones}) }

func readMoves(b []byte) (moves, error) {
	var w movesOnWire
	err := unpack(b, &w)
	return moves{w.Moves, w.Stones}, err
}

// partKnown parts what was counted on the records: what candidates are found by, what they are weighed by, and how many there are.
type partKnown struct{}

// sizes are how many records and stones there are in all.
type sizes struct{ Records, Stones int }

func (partKnown) ProcessElement(ctx context.Context, in []byte, movesSide func(*[]byte) bool, totals, counts, size func([]byte)) error {
	k, err := readKnown(in)
	if err != nil {
		return err
	}
	b, err := one(movesSide)
	if err != nil {
		return err
	}
	m, err := readMoves(b)
	if err != nil {
		return err
	}
	for _, part := range []struct {
		stage string
		value any
		emit  func([]byte)
	}{{"3a surnames, names, units and places told to every worker", k.totals, totals}, {"3b counts told to every worker", k.counts, counts}, {"3c sizes", sizes{k.totals.Records, m.stones}, size}} {
		out, err := pack(part.value)
		if err != nil {
			return err
		}
		tell(ctx, part.stage, k.totals.Records, len(out))
		part.emit(out)
	}
	return nil
}

// countMoves is the combiner of moves.
type countMoves struct{}

func (countMoves) CreateAccumulator() moves { return moves{m: &weigh.Moves{}} }

func (countMoves) AddInput(m moves, in []byte) (moves, error) {
	var b stoneBlock
	if err := unpack(in, &b); err != nil {
		return m, err
	}
	m.m.Merge(weigh.CountMoves(b.Subjects))
	for _, s := range b.Subjects {
		if s.Stone.Register == nil {
			m.stones++
		}
	}
	return m, nil
}

func (countMoves) MergeAccumulators(a, b moves) moves {
	a.m.Merge(b.m)
	a.stones += b.stones
	return a
}

func (countMoves) ExtractOutput(m moves) ([]byte, error) { return writeMoves(m) }
