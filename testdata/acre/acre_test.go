package acre_test

import (
	"reflect"
	"testing"

	"musterstone/model"
	"musterstone/testdata/acre"
)

// TestMake: the same seed makes the same acre, and the truth is of what is there.
func TestMake(t *testing.T) {
	of := map[acre.Kind]int{}
	for seed := range uint64(20) {
		opt := acre.Options{Seed: seed, Uneven: seed%2 == 1}
		a := acre.Make(opt)
		if seed < 2 && !reflect.DeepEqual(a, acre.Make(opt)) {
			t.Errorf("seed %d makes two acres", seed)
		}
		stones, records := map[model.StoneID]*model.Stone{}, map[model.RecordID]bool{}
		for _, s := range a.Stones {
			if stones[s.ID] != nil {
				t.Errorf("seed %d: stone %s twice", seed, s.ID)
			}
			stones[s.ID] = s
		}
		for _, r := range a.Records {
			if records[r.ID] || stones[model.StoneID(r.ID)] != nil {
				t.Errorf("seed %d: record %s twice", seed, r.ID)
			}
			records[r.ID] = true
		}
		private := 0
		for id, kind := range a.Truth {
			stone, record := stones[model.StoneID(id)], records[model.RecordID(id)]
			switch {
			case stone == nil && !record:
				t.Errorf("seed %d: %s is a %s and is not there", seed, id, kind)
			case record && kind != acre.Buried && kind != acre.Abroad:
				t.Errorf("seed %d: record %s is a %s", seed, id, kind)
			case stone != nil && (kind == acre.Buried || kind == acre.Abroad):
				t.Errorf("seed %d: stone %s is a %s", seed, id, kind)
			}
			of[kind]++
			if kind == acre.Signed || kind == acre.Plain {
				private++
			}
		}
		if private > a.Unmarked {
			t.Errorf("seed %d: %d private stones for %d unmarked veterans", seed, private, a.Unmarked)
		}
		for r, s := range a.Same {
			if !records[r] || stones[s] == nil {
				t.Errorf("seed %d: %s and %s are one man and not both there", seed, r, s)
			}
		}
	}
	for _, kind := range []acre.Kind{acre.Signed, acre.Plain, acre.Buried, acre.Row, acre.Empty, acre.Wife, acre.Second, acre.Abroad, acre.Civilian, acre.Marker} {
		if of[kind] == 0 {
			t.Errorf("no %s in twenty acres", kind)
		}
	}
}
