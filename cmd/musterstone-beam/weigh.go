package main

import (
	"context"
	"fmt"

	"musterstone/link"
	"musterstone/link/weigh"
)

// scales is what stones are weighed with, opened once for each copy of a stage that a worker has.
type scales struct{ linker *link.Linker }

func (s *scales) open(side func(*[]byte) bool) error {
	if s.linker != nil {
		return nil
	}
	b, err := one(side)
	if err != nil {
		return err
	}
	c := &weigh.Counts{}
	if err := unpack(b, c); err != nil {
		return err
	}
	s.linker = &link.Linker{Counts: c}
	return nil
}

// weighStones weighs the stones of a block against their candidates. What it sends on is the stones weighed, and the same as the fit sees them.
type weighStones struct {
	scales  scales
	weigher *weigh.Weigher
}

func (fn *weighStones) ProcessElement(ctx context.Context, block int64, stones, candidates func(*[]byte) bool, side, movesSide func(*[]byte) bool, emit, cases func([]byte)) error {
	if err := fn.scales.open(side); err != nil {
		return err
	}
	if fn.weigher == nil {
		b, err := one(movesSide)
		if err != nil {
			return err
		}
		m, err := readMoves(b)
		if err != nil {
			return err
		}
		fn.weigher = weigh.New(fn.scales.linker.Counts, m.m)
	}
	var in []byte
	if !stones(&in) {
		return fmt.Errorf("candidates came for block %d, which is not there", block)
	}
	var b stoneBlock
	if err := unpack(in, &b); err != nil {
		return err
	}
	records, err := best(&b, candidates)
	if err != nil {
		return err
	}
	part := fn.scales.linker.Weigh(fn.weigher, b.Places, b.Subjects, records)
	out, err := pack(part)
	if err != nil {
		return err
	}
	tell(ctx, "7 stones weighed", part.Len(), len(out))
	emit(out)
	c, err := pack(fn.scales.linker.Cases(part))
	if err != nil {
		return err
	}
	tell(ctx, "8 cases for the fit", part.Len(), len(c))
	cases(c)
	return nil
}
