package index

import (
	"math"
	"slices"
	"strconv"

	"musterstone/model"
)

// unitCounts are how many records there are of each unit, and of each state or body.
type unitCounts struct {
	men   []int
	whose map[string]int
}

func countUnits(r *roll) unitCounts {
	c := unitCounts{men: make([]int, len(r.units)), whose: map[string]int{}}
	for i := range r.units {
		c.men[i] = int(r.unitAt[i+1] - r.unitAt[i])
		c.whose[r.units[i].Designation()] += c.men[i]
	}
	return c
}

// unitWanted is the unit on a stone, and where there is none the state that the man may have served from.
type unitWanted struct {
	key  unitKey
	home model.State
}

// A unitTable is what each unit of the records is worth for a stone's, and which of them are the same.
type unitTable struct {
	bits []int16
	same []uint32
}

func (s *scorer) unitTable(w unitWanted, u model.Unit) unitTable {
	counts := s.units()
	t := unitTable{bits: make([]int16, len(counts.men))}
	all := float64(len(s.roll.rows)) + 1
	forms := unitForms(u)
	for i, v := range s.roll.units {
		if i == 0 {
			continue
		}
		best := math.Inf(-1)
		for _, f := range forms {
			b, same := unitBits(f, v, counts, i, all)
			if same && !slices.Contains(t.same, uint32(i)) {
				t.same = append(t.same, uint32(i))
			}
			best = max(best, b)
		}
		if w.home != "" && u.Designation() == "" && v.State != "" {
			if v.State == w.home {
				best += homeState
			} else {
				best += otherHome
			}
		}
		t.bits[i] = sixteenths(best)
	}
	return t
}

// unitBits is what unit v of the records is worth for unit u of a stone, and whether it is the same.
func unitBits(u, v model.Unit, counts unitCounts, i int, all float64) (bits float64, same bool) {
	chance := func(men int) float64 { return (float64(men) + 0.5) / all }
	if u.IsZero() || v.IsZero() {
		return 0, false
	}
	if u.Name != "" && v.Name != "" && keyOf(u).name == keyOf(v).name {
		return math.Log2(sameRegiment / chance(counts.men[i])), true
	}
	a, b := u.Designation(), v.Designation()
	arms := u.Arm == "" || v.Arm == "" || u.Arm == v.Arm
	switch {
	case a == "" && u.Number != 0 && v.Number == u.Number && arms:
		// A regiment's number alone, or with its arm: some state's.
		return 3, true
	case a == "" && u.Number != 0 && v.Number != 0:
		return otherRegiment, false
	case a == "" || b == "":
		return 0, false
	case a != b:
		if u.Number != 0 && u.Number == v.Number && arms {
			return otherState + 2, false
		}
		return otherState, false
	case u.SameRegiment(v):
		return math.Log2(sameRegiment / chance(counts.men[i])), true
	case u.Number != 0 && u.Number == v.Number:
		return digitRegiment - 1, true
	case u.Number != 0 && v.Number != 0 && arms && digitApart(u.Number, v.Number):
		return digitRegiment, false
	case u.Number != 0 && v.Number != 0:
		return otherRegiment, false
	}
	// One of them gives the state only, or state and arm.
	state := math.Log2(.9 / chance(counts.whose[b]))
	if !arms {
		state -= 3
	}
	return state, false
}

// digitApart reports whether two numbers differ in one digit, by one digit more, or by two digits swapped.
func digitApart(a, b int) bool {
	return distance(strconv.Itoa(a), strconv.Itoa(b), 1) == 1
}
