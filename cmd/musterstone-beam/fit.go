package main

import (
	"context"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/link"
)

func writeSums(s *link.Sums) ([]byte, error) { return pack(s) }

func readSums(b []byte) (*link.Sums, error) {
	s := &link.Sums{}
	return s, unpack(b, s)
}

// patterns is the comparison patterns of some stones' pairs.
type patterns struct{ p *link.Patterns }

func writePatterns(p patterns) ([]byte, error) { return pack(p.p) }

func readPatterns(b []byte) (patterns, error) {
	p := &link.Patterns{}
	return patterns{p}, unpack(b, p)
}

// countPatterns counts the patterns of a block's stones.
type countPatterns struct{}

func (countPatterns) ProcessElement(ctx context.Context, in []byte, emit func([]byte)) error {
	var c link.Cases
	if err := unpack(in, &c); err != nil {
		return err
	}
	p := c.Patterns()
	out, err := writePatterns(patterns{p})
	if err != nil {
		return err
	}
	tell(ctx, "8a patterns of pairs", p.Len(), len(out))
	emit(out)
	return nil
}

// addPatterns is the combiner of patterns.
type addPatterns struct{}

func (addPatterns) CreateAccumulator() patterns { return patterns{&link.Patterns{}} }

func (addPatterns) AddInput(a patterns, in []byte) (patterns, error) {
	b, err := readPatterns(in)
	if err != nil {
		return a, err
	}
	a.p.Merge(b.p)
	return a, nil
}

func (addPatterns) MergeAccumulators(a, b patterns) patterns {
	a.p.Merge(b.p)
	return a
}

func (addPatterns) ExtractOutput(a patterns) ([]byte, error) { return writePatterns(a) }

// beginFit learns from the patterns of all stones.
type beginFit struct{}

func (beginFit) ProcessElement(in []byte, emit func([]byte)) error {
	p, err := readPatterns(in)
	if err != nil {
		return err
	}
	f := link.NewFit()
	f.Begin(p.p)
	out, err := pack(f)
	if err != nil {
		return err
	}
	emit(out)
	return nil
}

// sums is a round's counts on some stones.
type sums struct{ s *link.Sums }

func writeRound(s sums) ([]byte, error) { return writeSums(s.s) }

func readRound(b []byte) (sums, error) {
	s, err := readSums(b)
	return sums{s}, err
}

// countCases counts a block's stones by what has been learned so far. It reads none where there is nothing left to learn.
type countCases struct{ fit *link.Fit }

func (fn *countCases) ProcessElement(ctx context.Context, in []byte, side func(*[]byte) bool, emit func([]byte)) error {
	if fn.fit == nil {
		var err error
		if fn.fit, err = readFit(side); err != nil {
			return err
		}
	}
	if fn.fit.Done() {
		out, err := writeSums(&link.Sums{})
		if err != nil {
			return err
		}
		emit(out) // of nothing the engine's combiner makes nothing
		return nil
	}
	var c link.Cases
	if err := unpack(in, &c); err != nil {
		return err
	}
	out, err := writeSums(c.Count(fn.fit))
	if err != nil {
		return err
	}
	tell(ctx, "9 counts of the fit", len(c.Stones), len(out))
	emit(out)
	return nil
}

func readFit(side func(*[]byte) bool) (*link.Fit, error) {
	b, err := one(side)
	if err != nil {
		return nil, err
	}
	f := &link.Fit{}
	return f, unpack(b, f)
}

// addSums is the combiner of a round's counts.
type addSums struct{}

func (addSums) CreateAccumulator() sums { return sums{&link.Sums{}} }

func (addSums) AddInput(a sums, in []byte) (sums, error) {
	s, err := readSums(in)
	if err != nil {
		return a, err
	}
	a.s.Merge(s)
	return a, nil
}

func (addSums) MergeAccumulators(a, b sums) sums {
	a.s.Merge(b.s)
	return a
}

func (addSums) ExtractOutput(a sums) ([]byte, error) { return writeSums(a.s) }

// nextFit learns from a round's counts.
type nextFit struct{}

func (nextFit) ProcessElement(ctx context.Context, in []byte, side func(*[]byte) bool, emit func([]byte)) error {
	f, err := readFit(side)
	if err != nil {
		return err
	}
	if !f.Done() {
		s, err := readSums(in)
		if err != nil {
			return err
		}
		f.Next(s)
		beam.NewCounter(namespace, "rounds of the fit").Inc(ctx, 1)
	}
	out, err := pack(f)
	if err != nil {
		return err
	}
	emit(out)
	return nil
}

// fitRounds learns from the cases of all stones, first from their patterns, then in so many rounds: Beam has no loops, so every round is a stage of its own, which has nothing to do once all is learned.
func fitRounds(s beam.Scope, cases beam.PCollection, rounds int) beam.PCollection {
	s = s.Scope("fit")
	fit := beam.ParDo(s, &beginFit{}, beam.Combine(s, &addPatterns{}, beam.ParDo(s, &countPatterns{}, cases)))
	for range rounds {
		counted := beam.ParDo(s, &countCases{}, cases, beam.SideInput{Input: fit})
		sum := beam.Combine(s, &addSums{}, counted)
		fit = beam.ParDo(s, &nextFit{}, sum, beam.SideInput{Input: fit})
	}
	return fit
}
