package index

import (
	"bytes"
	"context"
	"encoding/gob"
	"fmt"
	"slices"
	"testing"

	"musterstone/model"
)

// parted makes shards of records that are counted in several parts, merged out of order and written down between.
func parted(t *testing.T, records []*model.Record, size int) (*Shards, [][]*model.Record) {
	t.Helper()
	totals := &Totals{}
	const parts = 7
	for _, k := range []int{3, 6, 0, 5, 1, 4, 2} {
		part := &Totals{}
		for i := k * len(records) / parts; i < (k+1)*len(records)/parts; i++ {
			part.Add(records[i], uint64(i))
		}
		var b bytes.Buffer
		if err := gob.NewEncoder(&b).Encode(part); err != nil {
			t.Fatal(err)
		}
		part = &Totals{}
		if err := gob.NewDecoder(&b).Decode(part); err != nil {
			t.Fatal(err)
		}
		totals.Merge(part)
	}
	s := NewShards(totals, size)
	held := make([][]*model.Record, s.Len())
	for _, r := range records {
		for _, n := range s.Hold(r) {
			held[n] = append(held[n], r)
		}
	}
	return s, held
}

// TestShards: the best candidates of the shards together are, in order, those of the index of the whole, whatever the size of the shards; the largest surname is dealt out.
func TestShards(t *testing.T) {
	const limit = 50
	c := newCounty(11, 300)
	records := c.roster(4000)
	for i := range records { // places, conflicts and units of every kind
		switch p := &records[i].Person; i % 5 {
		case 0:
			p.Buried = title(c.pick(onsets)+c.pick(vowels)) + " Cemetery"
		case 1:
			p.Residence = title(c.pick(onsets)+c.pick(codas)) + " County"
		case 2:
			records[i].Service.Conflicts = []model.ConflictCode{"mexican-war", "civil-war"}
		}
		switch p, s := &records[i].Person, &records[i].Service; i % 11 {
		case 0:
			s.Remarks = "Alias " + title(c.pick(givens)) + " " + title(c.surnames[c.rng.IntN(len(c.surnames))])
		case 1:
			s.Remarks = "Transferred to Co. " + string("ABCDEFGHIK"[c.rng.IntN(10)]) + ", " + fmt.Sprint(1+c.rng.IntN(150)) + "th Regiment"
		case 2:
			s.Remarks = "Alias on some rolls; transferred to Co. B, 9th Ohio Cav."
		case 3:
			s.Remarks = "Substitute"
		case 4:
			p.Name.Other = "alias " + title(c.pick(givens)) + " " + title(c.surnames[c.rng.IntN(len(c.surnames))])
		case 5:
			s.Unit.Other = "trans. from Co. " + string("ABCDEFGHIK"[c.rng.IntN(10)]) + ", " + fmt.Sprint(1+c.rng.IntN(150)) + "th Ohio Inf."
		}
	}
	place := map[model.RecordID]int{}
	for i, r := range records {
		place[r.ID] = i
	}
	x := open(t, t.TempDir(), inputs(records, "a"))
	var stones []*model.Subject
	for i := range 150 {
		s := c.stone(i, records[c.rng.IntN(len(records))], .08)
		s.Stone.Place.Cemetery, s.Stone.Place.County = "Bo Cemetery", "Bry County"
		stones = append(stones, s)
	}
	ctx := context.Background()
	for _, size := range []int{40, 1000, 100_000} {
		s, held := parted(t, records, size)
		shards := make([]*Shard, len(held))
		split := false
		for n, list := range held {
			var err error
			if shards[n], err = s.Shard(list); err != nil {
				t.Fatal(err)
			}
			if size > 500 && len(list) > 2*size {
				t.Errorf("shard %d of %d has %d records, want about %d", n, len(held), len(list), size)
			}
			split = split || slices.ContainsFunc(s.byName, func(sp span) bool { return sp.n > 1 })
		}
		if size == 40 && !split {
			t.Error("no surname is dealt out over several shards: the case shows nothing")
		}
		for _, stone := range stones {
			want, err := x.Candidates(ctx, stone, limit)
			if err != nil {
				t.Fatal(err)
			}
			in, err := s.ShardsOf(stone)
			if err != nil {
				t.Fatal(err)
			}
			var all []found
			for _, n := range in {
				list, err := shards[n].Candidates(ctx, stone, limit)
				if err != nil {
					t.Fatal(err)
				}
				for _, f := range list {
					all = append(all, newFound(uint32(place[held[n][f.At].ID]), int32(f.Score)))
				}
			}
			slices.Sort(all)
			all = slices.Compact(all)
			all = all[:min(limit, len(all))]
			var got []model.RecordID
			for _, f := range all {
				got = append(got, records[f.at()].ID)
			}
			if !slices.Equal(got, ids(want)) {
				t.Fatalf("shards of %d, stone %s: %v, want %v", size, stone.Stone.ID, got, ids(want))
			}
		}
	}
}

// TestShardRefuses: records that were not counted are told, not numbered anew.
func TestShardRefuses(t *testing.T) {
	c := newCounty(12, 50)
	records := c.roster(200)
	s, _ := parted(t, records, 100)
	stranger := c.record(900)
	stranger.Person.Name.Given = "Zebulon"
	if _, err := s.Shard([]*model.Record{stranger}); err == nil {
		t.Error("a record that was not counted is taken into a shard")
	}
	if _, err := s.Shard(records); err != nil {
		t.Error(err)
	}
}
