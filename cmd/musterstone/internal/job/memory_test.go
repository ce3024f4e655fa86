package job

import (
	"context"
	"encoding/json"
	"errors"
	"runtime/debug"
	"strings"
	"testing"

	"musterstone/link"
	"musterstone/testdata/county"
)

// TestMemoryBound: the default bound is enough for any survey, and one that is too little is refused before the weighing begins, with what to do.
func TestMemoryBound(t *testing.T) {
	was := debug.SetMemoryLimit(-1)
	defer debug.SetMemoryLimit(was)
	t.Setenv("GOMEMLIMIT", "")
	for _, n := range [][2]int{{0, 0}, {20_000, 200}, {1_000_000, 100_000}, {6_300_000, 10_000}, {100_000_000, 10_000_000}} {
		bound(n[0], n[1], 0)
		if err := enough(n[0], n[1]); err != nil {
			t.Errorf("%d records and %d stones: %v", n[0], n[1], err)
		}
	}
	dir := t.TempDir()
	if err := county.Make(dir, county.Options{Seed: 1, Records: 200, Stones: 1100}); err != nil {
		t.Fatal(err)
	}
	packing, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer packing.Close()
	most := func() int64 { return debug.SetMemoryLimit(-1) }
	// The bound grows with the stones that are packed, and goes on to count them while the records are indexed.
	packing.packStones()
	if want := int64(memoryAtLeast + 1100*memoryPacked); most() != want {
		t.Errorf("with 1,100 stones packed the bound is %d, want %d", most(), want)
	}
	if _, err := packing.Index(context.Background()); err != nil {
		t.Fatal(err)
	}
	if least := int64(memoryAtLeast + 1100*memoryPacked + 200*memoryPerRecord); most() < least {
		t.Errorf("with 1,100 stones packed and 200 records indexed the bound is %d, want %d at least", most(), least)
	}
	t.Setenv("GOMEMLIMIT", "40MiB")
	debug.SetMemoryLimit(40 << 20)
	j, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	err = j.Each(context.Background(), 0, func(*link.Told) func() error {
		t.Error("a proposal is made")
		return func() error { return nil }
	})
	var refused *Refused
	if !errors.As(err, &refused) || !strings.Contains(err.Error(), "GOMEMLIMIT allows 40") {
		t.Errorf("error %v", err)
	}
}

// TestPackedStones: what linking asks for of a stone is the same from a packed one, and what is told is what Propose gives.
func TestPackedStones(t *testing.T) {
	dir := t.TempDir()
	if err := county.Make(dir, county.Options{Seed: 2, Records: 3000, Stones: 600}); err != nil {
		t.Fatal(err)
	}
	j, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	want, err := j.Propose(context.Background(), 0)
	if err != nil {
		t.Fatal(err)
	}
	at := 0
	inOrder := func(told *link.Told) error {
		if told.From != at {
			t.Errorf("a stretch begins at %d, want %d", told.From, at)
		}
		for k := range told.Proposals {
			if got := told.Proposals[k]; said(t, got) != said(t, want[at+k]) {
				t.Fatalf("stone %s:\ngot  %s\nwant %s", got.Stone, said(t, got), said(t, want[at+k]))
			}
			if told.Subjects[k].Stone.ID != want[at+k].Stone {
				t.Errorf("stone %d is %s, want %s", at+k, told.Subjects[k].Stone.ID, want[at+k].Stone)
			}
			for n, c := range told.Proposals[k].Candidates {
				if r := j.Record(told, k, n); r == nil || r.ID != c.Record {
					t.Fatalf("candidate %s of stone %s: record %v", c.Record, want[at+k].Stone, r)
				}
			}
		}
		at += len(told.Proposals)
		return nil
	}
	err = j.Each(context.Background(), 0, func(told *link.Told) func() error { return func() error { return inOrder(told) } })
	if err != nil || at != len(want) {
		t.Errorf("%d proposals, error %v, want %d", at, err, len(want))
	}
}

func said(t *testing.T, p any) string {
	t.Helper()
	b, err := json.Marshal(p)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}
