package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/link"
)

// picks is the links that were assigned to some stones.
type picks struct{ list []link.Pick }

func writePicks(p picks) ([]byte, error) { return pack(p.list) }

func readPicks(b []byte) (picks, error) {
	var p picks
	return p, unpack(b, &p.list)
}

// findCut is the combiner that finds where the proposed links end.
type findCut struct{ Precision float64 }

func (findCut) CreateAccumulator() picks { return picks{} }

func (findCut) AddInput(p picks, in []byte) (picks, error) {
	var s settled
	if err := unpack(in, &s); err != nil {
		return p, err
	}
	p.list = append(p.list, s.Picks...)
	return p, nil
}

func (findCut) MergeAccumulators(a, b picks) picks { return picks{append(a.list, b.list...)} }

func (fn *findCut) ExtractOutput(p picks) ([]byte, error) {
	return pack((&link.Linker{Precision: fn.Precision}).Cut(p.list))
}

// finish takes what lies behind the cut out of the proposals, explains them, and prints them for the file in which they belong.
type finish struct {
	Stones int // in a file
	scales scales
	cut    *link.Cut
}

func (fn *finish) ProcessElement(ctx context.Context, in []byte, side, cutSide func(*[]byte) bool, emit func(int64, []byte)) error {
	if err := fn.scales.open(side); err != nil {
		return err
	}
	if fn.cut == nil {
		b, err := one(cutSide)
		if err != nil {
			return err
		}
		fn.cut = &link.Cut{}
		if err := unpack(b, fn.cut); err != nil {
			return err
		}
	}
	var s settled
	if err := unpack(in, &s); err != nil {
		return err
	}
	part := s.Part
	files := map[int64]*lineBlock{}
	for i, p := range fn.scales.linker.Finish(part, s.Picks, *fn.cut) {
		var b bytes.Buffer
		enc := json.NewEncoder(&b)
		enc.SetEscapeHTML(false)
		if err := enc.Encode(p); err != nil {
			return fmt.Errorf("print the proposal for stone %s: %w", p.Stone, err)
		}
		place := part.Place(i)
		n := blockOf(int64(place>>rowBits), place&(1<<rowBits-1)/fn.Stones)
		if files[n] == nil {
			files[n] = &lineBlock{}
		}
		files[n].Places, files[n].Lines = append(files[n].Places, place), append(files[n].Lines, b.Bytes())
	}
	for n, b := range files {
		out, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "14 proposals", len(b.Lines), len(out))
		emit(n, out)
	}
	return nil
}

// writeProposals writes a file of proposals, one a line, in the order of the stones.
type writeProposals struct{ Out string }

func (fn *writeProposals) ProcessElement(n int64, next func(*[]byte) bool, emit func(string)) (err error) {
	var all lineBlock
	var in []byte
	for next(&in) {
		var b lineBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		all.Places, all.Lines = append(all.Places, b.Places...), append(all.Lines, b.Lines...)
	}
	order := make([]int, len(all.Places))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(all.Places[a], all.Places[b]) })
	name := filepath.Join(fn.Out, fmt.Sprintf("proposals-%03d-%05d.jsonl", n>>blockBits+1, n&(1<<blockBits-1)+1))
	// A worker that dies is followed by another that does its work again: the file is there whole or not at all.
	f, err := os.CreateTemp(fn.Out, ".proposals-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	defer func() {
		if err != nil {
			os.Remove(f.Name())
		}
	}()
	for _, at := range order {
		if _, err := f.Write(all.Lines[at]); err != nil {
			f.Close()
			return fmt.Errorf("write %s: %w", name, err)
		}
	}
	if err := f.Chmod(0o644); err != nil {
		f.Close()
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := f.Close(); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	if err := os.Rename(f.Name(), name); err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	emit(name)
	return nil
}

// propose makes the proposals of settled stones and writes them.
func propose(s beam.Scope, settled, counts beam.PCollection, opt options) {
	s = s.Scope("propose")
	cut := beam.Combine(s, &findCut{Precision: opt.Precision}, settled)
	lines := beam.ParDo(s, &finish{Stones: opt.FileStones}, settled, beam.SideInput{Input: counts}, beam.SideInput{Input: cut})
	beam.ParDo(s, &writeProposals{Out: opt.Out}, beam.GroupByKey(s, lines))
}
