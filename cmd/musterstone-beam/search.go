package main

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"musterstone/index"
	"musterstone/link"
	"musterstone/model"
)

// parting is the shards of the records, worked out from what was counted, once for each copy of a stage that a worker has.
type parting struct {
	Size   int // records in a shard
	shards *index.Shards
}

func (p *parting) open(side func(*[]byte) bool) error {
	if p.shards != nil {
		return nil
	}
	b, err := one(side)
	if err != nil {
		return err
	}
	t := &index.Totals{}
	if err := unpack(b, t); err != nil {
		return err
	}
	p.shards = index.NewShards(t, p.Size)
	return nil
}

// dealRecords sends each record to the shards that must have it: one by its surname, one by its unit.
type dealRecords struct{ Parting parting }

func (fn *dealRecords) ProcessElement(ctx context.Context, in []byte, side func(*[]byte) bool, emit func(int64, []byte)) error {
	if err := fn.Parting.open(side); err != nil {
		return err
	}
	var b recordBlock
	if err := unpack(in, &b); err != nil {
		return err
	}
	out := map[int]*recordBlock{}
	for i := range b.Records {
		for _, n := range fn.Parting.shards.Hold(&b.Records[i]) {
			if out[n] == nil {
				out[n] = &recordBlock{}
			}
			out[n].Places, out[n].Records = append(out[n].Places, b.Places[i]), append(out[n].Records, b.Records[i])
		}
	}
	for n, b := range out {
		packed, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "4 records dealt to shards", len(b.Records), len(packed))
		emit(int64(n), packed)
	}
	return nil
}

// dealStones sends each stone to the shards in which there may be a candidate for it.
type dealStones struct{ Parting parting }

func (fn *dealStones) ProcessElement(ctx context.Context, in []byte, side func(*[]byte) bool, emit func(int64, []byte)) error {
	if err := fn.Parting.open(side); err != nil {
		return err
	}
	var b stoneBlock
	if err := unpack(in, &b); err != nil {
		return err
	}
	out := map[int]*stoneBlock{}
	for i, s := range b.Subjects {
		shards, err := fn.Parting.shards.ShardsOf(s)
		if err != nil {
			return err
		}
		bare := sought(s)
		for _, n := range shards {
			if out[n] == nil {
				out[n] = &stoneBlock{Block: b.Block}
			}
			out[n].Places, out[n].Subjects = append(out[n].Places, b.Places[i]), append(out[n].Subjects, bare)
		}
	}
	for n, b := range out {
		packed, err := pack(b)
		if err != nil {
			return err
		}
		tell(ctx, "5 stones dealt to shards", len(b.Subjects), len(packed))
		emit(int64(n), packed)
	}
	return nil
}

// sought is what of a stone candidates are looked for by.
func sought(s *model.Subject) *model.Subject {
	stone := &model.Stone{ID: s.Stone.ID, Place: s.Stone.Place, Register: s.Stone.Register}
	out := &model.Subject{Stone: stone, Implies: model.Implication{Services: s.Implies.Services}}
	for _, r := range s.Readings {
		out.Readings = append(out.Readings, model.Reading{People: r.People, Probability: r.Probability})
	}
	return out
}

// search finds the candidates of stones in one shard, and sends them to the blocks of the stones.
type search struct{ Parting parting }

func (fn *search) ProcessElement(ctx context.Context, _ int64, records, stones func(*[]byte) bool, side func(*[]byte) bool, emit func(int64, []byte)) error {
	if err := fn.Parting.open(side); err != nil {
		return err
	}
	var all recordBlock
	var in []byte
	for records(&in) {
		var b recordBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		all.Places, all.Records = append(all.Places, b.Places...), append(all.Records, b.Records...)
	}
	order := make([]int, len(all.Places))
	for i := range order {
		order[i] = i
	}
	slices.SortFunc(order, func(a, b int) int { return cmp.Compare(all.Places[a], all.Places[b]) })
	// A record that was sent here both by its surname and by its unit is one.
	order = slices.CompactFunc(order, func(a, b int) bool { return all.Places[a] == all.Places[b] })
	list := make([]*model.Record, len(order))
	for i, at := range order {
		list[i] = &all.Records[at]
	}
	shard, err := fn.Parting.shards.Shard(list)
	if err != nil {
		return err
	}
	for stones(&in) {
		var b stoneBlock
		if err := unpack(in, &b); err != nil {
			return err
		}
		var out candidateBlock
		number := map[int]int{} // of the records of out, by their place in the shard
		n := 0
		for i, s := range b.Subjects {
			hits, err := shard.Candidates(ctx, s, link.DefaultCandidates)
			if err != nil {
				return err
			}
			if len(hits) == 0 {
				continue
			}
			f := found{Place: b.Places[i]}
			for _, h := range hits {
				k, ok := number[h.At]
				if !ok {
					k = len(out.Records)
					number[h.At] = k
					out.Places, out.Records = append(out.Places, all.Places[order[h.At]]), append(out.Records, *list[h.At])
				}
				f.At, f.Score = append(f.At, k), append(f.Score, h.Score)
			}
			n += len(hits)
			out.Stones = append(out.Stones, f)
		}
		packed, err := pack(out)
		if err != nil {
			return err
		}
		tell(ctx, "6 candidates found", n, len(packed))
		emit(b.Block, packed)
	}
	return nil
}

// best puts together what the shards found for the stones of a block: for each, the records that an index of the whole would give, in its order.
func best(b *stoneBlock, next func(*[]byte) bool) ([][]*model.Record, error) {
	type hit struct {
		place, score int
		record       *model.Record
	}
	hits := map[int][]hit{}
	var in []byte
	for next(&in) {
		var c candidateBlock
		if err := unpack(in, &c); err != nil {
			return nil, err
		}
		for _, f := range c.Stones {
			for k, at := range f.At {
				hits[f.Place] = append(hits[f.Place], hit{c.Places[at], f.Score[k], &c.Records[at]})
			}
		}
	}
	out := make([][]*model.Record, len(b.Places))
	for i, p := range b.Places {
		list := hits[p]
		delete(hits, p)
		slices.SortFunc(list, func(a, b hit) int { return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.place, b.place)) })
		list = slices.CompactFunc(list, func(a, b hit) bool { return a.place == b.place })
		for _, h := range list[:min(len(list), link.DefaultCandidates)] {
			out[i] = append(out[i], h.record)
		}
	}
	if len(hits) > 0 {
		return nil, fmt.Errorf("candidates came for %d stones that are not of block %d", len(hits), b.Block)
	}
	return out, nil
}
