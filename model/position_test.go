package model

import (
	"slices"
	"testing"
)

// TestFarOff: of the stones of a ground, one on another continent is far off, and one at its far end is not; of two, neither can be told from the other.
func TestFarOff(t *testing.T) {
	at := func(latitude, longitude float64) *Position {
		return &Position{Latitude: latitude, Longitude: longitude}
	}
	for _, c := range []struct {
		name string
		at   []*Position
		want []bool
	}{
		{"a minus lost", []*Position{at(42.8, -91.1), at(42.8001, -91.1), nil, at(42.8, 91.1), at(42.8002, -91.1001)}, []bool{false, false, false, true, false}},
		{"a large ground", []*Position{at(42.80, -91.1), at(42.81, -91.1), at(42.82, -91.12)}, []bool{false, false, false}},
		{"ten kilometres and more, north and east", []*Position{at(60, 10), at(60, 10), at(60, 10), at(60.089, 10), at(60.091, 10), at(60, 10.17), at(60, 10.19)}, []bool{false, false, false, false, true, false, true}},
		{"two", []*Position{at(42.8, -91.1), at(42.8, 91.1)}, []bool{false, false}},
		{"none", nil, nil},
	} {
		if got := FarOff(c.at); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", c.name, got, c.want)
		}
	}
}
