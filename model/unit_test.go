package model

import "testing"

func TestNumberFits(t *testing.T) {
	for _, c := range []struct {
		unit Unit
		n    int
		want bool
	}{
		{Unit{Number: 31}, 31, true}, {Unit{Number: 31}, 32, false}, {Unit{}, 0, false}, {Unit{}, 1, false},
		{Unit{NumberLost: "1?4"}, 124, true}, {Unit{NumberLost: "1?4"}, 125, false}, {Unit{NumberLost: "1?4"}, 14, false}, {Unit{NumberLost: "??"}, 31, true},
		{Unit{NumberLost: "1*"}, 1, true}, {Unit{NumberLost: "1*"}, 124, true}, {Unit{NumberLost: "1*"}, 24, false}, {Unit{NumberLost: "*4"}, 124, true},
	} {
		if got := c.unit.NumberFits(c.n); got != c.want {
			t.Errorf("%+v fits %d: %v, want %v", c.unit, c.n, got, c.want)
		}
	}
}
