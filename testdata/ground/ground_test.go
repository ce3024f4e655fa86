package ground_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/testdata/ground"
)

// TestMake: the same seed makes the same ground, the truth is of what is there, and over many grounds the shares are those that are drawn from.
func TestMake(t *testing.T) {
	of := map[ground.Class]int{}
	unmarked := 0
	for seed := range uint64(16) {
		g := ground.Make(ground.Options{Seed: seed, Roster: 50})
		if seed < 2 {
			if diff := cmp.Diff(g, ground.Make(ground.Options{Seed: seed, Roster: 50})); diff != "" {
				t.Errorf("seed %d twice: %s", seed, diff)
			}
			if cmp.Equal(g.Records, ground.Make(ground.Options{Seed: seed + 1, Roster: 50}).Records) {
				t.Errorf("seeds %d and %d make the same records", seed, seed+1)
			}
		}
		there := map[string]bool{}
		for _, s := range g.Stones {
			if there[string(s.ID)] {
				t.Errorf("seed %d: stone %s twice", seed, s.ID)
			}
			there[string(s.ID)] = true
		}
		records := map[model.RecordID]bool{}
		for _, r := range g.Records {
			if records[r.ID] || there[string(r.ID)] {
				t.Errorf("seed %d: record %s twice", seed, r.ID)
			}
			records[r.ID] = true
		}
		for id, class := range g.Truth {
			if record := records[model.RecordID(id)]; !record && !there[id] {
				t.Errorf("seed %d: %s is a %s and is not there", seed, id, class)
			} else if record && class != ground.Buried && class != ground.Decoy {
				t.Errorf("seed %d: record %s is a %s", seed, id, class)
			}
			of[class]++
		}
		for r, s := range g.Twins {
			if g.Truth[string(r)] != ground.Buried || g.Truth[string(s)] != ground.Row {
				t.Errorf("seed %d: twins %s and %s are a %s and a %s", seed, r, s, g.Truth[string(r)], g.Truth[string(s)])
			}
		}
		if g.Named > g.Unmarked || g.Unmarked < 25 || g.Unmarked > 75 {
			t.Errorf("seed %d: %d of %d unmarked veterans are named", seed, g.Named, g.Unmarked)
		}
		unmarked += g.Unmarked
	}
	for class, want := range map[ground.Class]float64{ground.Signed: .4, ground.Plain: .175} {
		if share := float64(of[class]) / float64(unmarked); math.Abs(share-want) > .06 {
			t.Errorf("%.3f of the unmarked veterans have a %s, want about %.3f", share, class, want)
		}
	}
	if g := ground.Make(ground.Options{Seed: 1, Unmarked: 12, Roster: 1}); g.Unmarked != 12 {
		t.Errorf("%d unmarked veterans, want the 12 asked for", g.Unmarked)
	}
}
