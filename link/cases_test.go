package link

import (
	"math/rand/v2"
	"reflect"
	"testing"

	"musterstone/link/weigh"
)

// TestOrder: candidates with the very same evidence come to the same to the bit, counted as one pair or each by itself, whatever stands between them, decided or not.
func TestOrder(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	levels := len(weigh.Levels())
	apart := &Cases{Records: 1000, Rosters: []string{"a.csv", "b.csv"}}
	together := &Cases{Records: 1000, Rosters: apart.Rosters}
	for n := range 400 {
		one := Case{Regiment: "31", Share: 0.01}
		one.Veteran, one.Answered, one.Settled = 0.9, n%3 == 0, n%9 == 0
		other := one
		for range 1 + r.IntN(6) {
			p := Pair{Bits: 8 + 6*r.Float64(), Roster: uint16(r.IntN(2)), InReg: r.IntN(2) == 0, Fixed: int8(r.IntN(3) - 1)}
			for range r.IntN(5) {
				p.Levels = append(p.Levels, uint8(r.IntN(levels)))
			}
			other.Pairs = append(other.Pairs, p)
		}
		for i := range other.Pairs {
			other.Order = append(other.Order, uint16(i))
		}
		for range r.IntN(20) {
			k := r.IntN(len(other.Pairs))
			other.Order = append(other.Order, uint16(k))
			other.Pairs[k].Others++
		}
		for _, k := range other.Order {
			p := other.Pairs[k]
			p.Others = 0
			one.Pairs = append(one.Pairs, p)
		}
		apart.Stones, together.Stones = append(apart.Stones, one), append(together.Stones, other)
	}
	f := NewFit()
	for round := range 5 {
		want, got := apart.Count(f), together.Count(f)
		if !reflect.DeepEqual(want, got) {
			t.Fatalf("round %d: each by itself %+v, together %+v", round, want, got)
		}
		if want.Matches == 0 || want.Foretold == nil {
			t.Fatalf("round %d: nothing was counted: %+v", round, want)
		}
		f.Next(want)
	}
}
