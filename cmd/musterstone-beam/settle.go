package main

import (
	"context"
	"fmt"
	"maps"
	"slices"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/link"
	"musterstone/link/weigh"
)

// judged opens a block of weighed stones and judges them by what was learned. That takes of all that is counted on the records only how many there are.
type judged struct {
	linker *link.Linker
	fit    *link.Fit
}

func (j *judged) open(in []byte, sizeSide, fitSide func(*[]byte) bool) (*link.Part, error) {
	if j.linker == nil {
		b, err := one(sizeSide)
		if err != nil {
			return nil, err
		}
		var n sizes
		if err := unpack(b, &n); err != nil {
			return nil, err
		}
		if j.fit, err = readFit(fitSide); err != nil {
			return nil, err
		}
		if !j.fit.Done() {
			return nil, fmt.Errorf("the fit is not at its end after the rounds it was given (stage %d, round %d): give more with --rounds, up to %d", j.fit.Stage, j.fit.Round, link.MostRounds)
		}
		j.linker = &link.Linker{Counts: &weigh.Counts{N: n.Records}, Stones: n.Stones}
	}
	part := &link.Part{}
	if err := unpack(in, part); err != nil {
		return nil, err
	}
	j.linker.Judge(part, j.fit)
	return part, nil
}

// claimsOf sends every claim of a stone on a record to the bucket where all claims on the record meet.
type claimsOf struct {
	Buckets int
	judged  judged
}

func (fn *claimsOf) ProcessElement(ctx context.Context, in []byte, sizeSide, fitSide func(*[]byte) bool, emit func(int64, []byte)) error {
	part, err := fn.judged.open(in, sizeSide, fitSide)
	if err != nil {
		return err
	}
	buckets := make([]claimBlock, fn.Buckets)
	for i, records := range part.Claims() {
		for _, id := range records {
			d := digest(string(id))
			b := &buckets[d%uint64(fn.Buckets)]
			b.Stones, b.Records = append(b.Stones, part.Place(i)), append(b.Records, d)
		}
	}
	for n, b := range buckets {
		if len(b.Stones) == 0 {
			continue
		}
		out, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "10 claims", len(b.Stones), len(out))
		emit(int64(n), out)
	}
	return nil
}

// contenders finds the stones that contend for the records of a bucket, and sends on which of them hang together.
type contenders struct{}

func (contenders) ProcessElement(ctx context.Context, _ int64, next func(*[]byte) bool, emit func([]byte)) error {
	claimant := map[uint64]int{}
	f := forest{}
	var in []byte
	for next(&in) {
		var b claimBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		for i, record := range b.Records {
			if first, ok := claimant[record]; ok {
				f.join(first, b.Stones[i])
			} else {
				claimant[record] = b.Stones[i]
			}
		}
	}
	out, err := pack(f)
	if err != nil {
		return err
	}
	tell(ctx, "11 stones that contend", len(f), len(out))
	emit(out)
	return nil
}

// forest says which stones hang together: every stone's parent, the root its own. Of two trees that are joined the lesser root stays.
type forest map[int]int

func (f forest) root(s int) int {
	p, ok := f[s]
	if !ok {
		f[s] = s
		return s
	}
	for p != f[p] {
		f[p] = f[f[p]]
		p = f[p]
	}
	f[s] = p
	return p
}

func (f forest) join(a, b int) {
	a, b = f.root(a), f.root(b)
	if a != b {
		f[max(a, b)] = min(a, b)
	}
}

// trees is a forest as the combiner holds it.
type trees struct{ f forest }

func writeTrees(t trees) ([]byte, error) { return pack(t.f) }

func readTrees(b []byte) (trees, error) {
	t := trees{forest{}}
	return t, unpack(b, &t.f)
}

// joinForests is the combiner of forests, and looks that no component is larger than one worker may be asked to hold.
type joinForests struct{ Most int }

func (joinForests) CreateAccumulator() trees { return trees{forest{}} }

func (joinForests) AddInput(t trees, in []byte) (trees, error) {
	more, err := readTrees(in)
	if err != nil {
		return t, err
	}
	return joinTrees(t, more), nil
}

func joinTrees(t, more trees) trees {
	for s, p := range more.f {
		t.f.join(s, p)
	}
	return t
}

func (joinForests) MergeAccumulators(a, b trees) trees { return joinTrees(a, b) }

func (fn *joinForests) ExtractOutput(t trees) ([]byte, error) {
	size := map[int]int{}
	for s := range t.f {
		size[t.f.root(s)]++
	}
	for root, n := range size {
		if n > fn.Most {
			return nil, fmt.Errorf("%d stones contend with each other, one of them row %d of table %d, and the bound is %d: a larger --component lets them be settled together by one worker, if its memory holds them",
				n, root&(1<<rowBits-1)+1, root>>rowBits+1, fn.Most)
		}
	}
	return writeTrees(t)
}

// largest is the name of the count of stones in the components.
const largest = "stones in the largest component"

// components gives, from the forest, the component of each stone that contends with others.
type components struct{ roots forest }

func (c *components) open(ctx context.Context, side func(*[]byte) bool) error {
	if c.roots != nil {
		return nil
	}
	var b []byte
	if !side(&b) {
		c.roots = forest{} // nobody claims anything
		return nil
	}
	t, err := readTrees(b)
	if err != nil {
		return err
	}
	size := map[int]int64{}
	for _, s := range slices.Sorted(maps.Keys(t.f)) {
		size[t.f.root(s)]++
	}
	for _, n := range size {
		beam.NewDistribution(namespace, largest).Update(ctx, n)
	}
	c.roots = t.f
	return nil
}

// partComponents settles the stones that contend with no other where they are, and sends the others to the bucket of their component.
type partComponents struct {
	Buckets    int
	judged     judged
	components components
}

func (fn *partComponents) ProcessElement(ctx context.Context, in []byte, sizeSide, fitSide, forestSide func(*[]byte) bool, alone func([]byte), contending func(int64, []byte)) error {
	if err := fn.components.open(ctx, forestSide); err != nil {
		return err
	}
	part := &link.Part{}
	if err := unpack(in, part); err != nil {
		return err
	}
	buckets := make([][]int, fn.Buckets)
	var single []int
	for i := range part.Len() {
		root, ok := fn.components.roots[part.Place(i)]
		if !ok {
			single = append(single, i)
			continue
		}
		n := uint64(root) * 0x9E3779B97F4A7C15 >> 32 % uint64(fn.Buckets) // multiplied, since roots are places, and those of a table differ in their lowest bits alone
		buckets[n] = append(buckets[n], i)
	}
	for n, stones := range buckets {
		if len(stones) == 0 {
			continue
		}
		out, err := pack(part.Select(stones))
		if err != nil {
			return err
		}
		tell(ctx, "12 contending stones sent to their component", len(stones), len(out))
		contending(int64(n), out)
	}
	if len(single) == 0 {
		return nil
	}
	out, err := pack(part.Select(single))
	if err != nil {
		return err
	}
	return fn.judged.settle(ctx, [][]byte{out}, sizeSide, fitSide, alone)
}

// settle judges the stones of whole components and shares the records out among them.
func (j *judged) settle(ctx context.Context, blocks [][]byte, sizeSide, fitSide func(*[]byte) bool, emit func([]byte)) error {
	var parts []*link.Part
	for _, in := range blocks {
		part, err := j.open(in, sizeSide, fitSide)
		if err != nil {
			return err
		}
		parts = append(parts, part)
	}
	part := link.Join(parts)
	if err := j.linker.Settle(ctx, part); err != nil {
		return err
	}
	out, err := pack(settled{Picks: j.linker.Picks(part), Part: part})
	if err != nil {
		return err
	}
	tell(ctx, "13 stones settled", part.Len(), len(out))
	emit(out)
	return nil
}

// settled is stones that have been settled, and the links that were assigned.
type settled struct {
	Picks []link.Pick
	Part  *link.Part
}

// settleComponents settles the components of a bucket.
type settleComponents struct{ judged judged }

func (fn *settleComponents) ProcessElement(ctx context.Context, _ int64, next func(*[]byte) bool, sizeSide, fitSide func(*[]byte) bool, emit func([]byte)) error {
	var blocks [][]byte
	var in []byte
	for next(&in) {
		blocks = append(blocks, slices.Clone(in))
	}
	return fn.judged.settle(ctx, blocks, sizeSide, fitSide, emit)
}

// settleStones shares the records out among the stones that claim them, component by component.
func settleStones(s beam.Scope, weighed, size, fit beam.PCollection, opt options) beam.PCollection {
	s = s.Scope("settle")
	sides := []beam.Option{beam.SideInput{Input: size}, beam.SideInput{Input: fit}}
	claims := beam.ParDo(s, &claimsOf{Buckets: opt.Buckets}, weighed, sides...)
	trees := beam.Combine(s, &joinForests{Most: opt.Component}, beam.ParDo(s, &contenders{}, beam.GroupByKey(s, claims)))
	alone, contending := beam.ParDo2(s, &partComponents{Buckets: opt.Buckets}, weighed, append(sides, beam.SideInput{Input: trees})...)
	together := beam.ParDo(s, &settleComponents{}, beam.GroupByKey(s, contending), sides...)
	return beam.Flatten(s, alone, together)
}
