package index

import (
	"math"
	"slices"
	"strconv"

	"musterstone/model"
	"musterstone/vocab/unit"
)

// unitCounts are how many records there are of each unit, and of each state or body, and which units are whose, and of which number and name.
type unitCounts struct {
	men      []int
	whose    map[string]int
	of       map[string][]uint32 // by state or body; "" for those that give none
	numbered map[int][]uint32
	named    map[string][]uint32 // by folded name
}

func countUnits(r *roll) *unitCounts {
	c := &unitCounts{men: make([]int, len(r.units)), whose: map[string]int{}, of: map[string][]uint32{}, numbered: map[int][]uint32{}, named: map[string][]uint32{}}
	for i := range r.units {
		u := &r.units[i]
		c.men[i] = int(r.ofUnit[i])
		d := u.Designation()
		c.whose[d] += c.men[i]
		c.of[d] = append(c.of[d], uint32(i))
		if u.Number != 0 {
			c.numbered[u.Number] = append(c.numbered[u.Number], uint32(i))
		}
		if u.Name != "" {
			k := keyOf(*u).name
			c.named[k] = append(c.named[k], uint32(i))
		}
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
	forms := unitForms(u)
	if u.Designation() == "" {
		s.allUnits(&t, w, forms)
		return t
	}
	// Nearly all units are another state's, of another number. The men of a body that was drawn from regiments stand with these on most rosters.
	other := sixteenths(otherState)
	if unit.Transferred(u) {
		other = 0
	}
	for i := range t.bits {
		t.bits[i] = other
	}
	for _, i := range counts.of[""] {
		t.bits[i] = 0
	}
	done := make([]bool, len(t.bits))
	look := func(list []uint32) {
		for _, i := range list {
			if !done[i] && i > 0 {
				done[i] = true
				t.bits[i] = sixteenths(s.bestUnit(&t, forms, i))
			}
		}
	}
	for i := range forms {
		f := &forms[i]
		look(counts.of[f.Designation()])
		look(counts.numbered[f.Number])
		if f.NumberLost != "" {
			for n, list := range counts.numbered {
				if f.NumberFits(n) {
					look(list)
				}
			}
		}
		if f.Name != "" {
			look(counts.named[keyOf(*f).name])
		}
	}
	slices.Sort(t.same)
	return t
}

// allUnits fills the table by looking at each unit, for a stone that does not tell whose its unit is.
func (s *scorer) allUnits(t *unitTable, w unitWanted, forms []model.Unit) {
	// Where few of the rosters' men served for the burial ground's state, that one served for another says little.
	here := (float64(s.units().whose[string(w.home)]) + .5) / (float64(s.roll.men) + 1)
	elsewhere := math.Log2(1 / (1 - here + homeOdds*here))
	for i := 1; i < len(s.roll.units); i++ {
		v := &s.roll.units[i]
		best := s.bestUnit(t, forms, uint32(i))
		if w.home != "" && v.State != "" {
			best += elsewhere
			if v.State == w.home {
				best += math.Log2(homeOdds)
			}
		}
		t.bits[i] = sixteenths(best)
	}
}

// bestUnit is the most that a unit of the records is worth for a stone's, by any of its names; where it is the same, it is put into t.same.
func (s *scorer) bestUnit(t *unitTable, forms []model.Unit, i uint32) float64 {
	best, counts := math.Inf(-1), s.units()
	all := float64(s.roll.men) + 1
	for k := range forms {
		b, same := unitBits(&forms[k], &s.roll.units[i], counts, int(i), all)
		if same && !slices.Contains(t.same, i) {
			t.same = append(t.same, i)
		}
		best = max(best, b)
	}
	return best
}

// unitBits is what unit v of the records is worth for unit u of a stone, and whether it is the same.
func unitBits(u, v *model.Unit, counts *unitCounts, i int, all float64) (bits float64, same bool) {
	chance := func(men int) float64 { return (float64(men) + 0.5) / all }
	if u.IsZero() || v.IsZero() {
		return 0, false
	}
	if u.Name != "" && v.Name != "" && keyOf(*u).name == keyOf(*v).name {
		return math.Log2(sameRegiment / chance(counts.men[i])), true
	}
	a, b := u.Designation(), v.Designation()
	arms := u.Arm == "" || v.Arm == "" || u.Arm == v.Arm
	numbers := (u.Number != 0 || u.NumberLost != "") && (v.Number != 0 || v.NumberLost != "")
	number := numbers && numbersFit(u, v)
	switch {
	case a == "" && number && arms:
		// A regiment's number alone, or with its arm: some state's.
		return 3, true
	case a == "" && numbers:
		return otherRegiment, false
	case a == "" || b == "":
		return 0, false
	case a != b && unit.Transferred(*u):
		return 0, false
	case a != b:
		if number && arms {
			return otherState + 2, false
		}
		return otherState, false
	case u.SameRegiment(*v):
		return math.Log2(sameRegiment / chance(counts.men[i])), true
	case number && arms && u.Kind == v.Kind && u.Number != v.Number:
		return lostRegiment, true
	case number:
		return digitRegiment - 1, true
	case numbers && arms && u.Number != 0 && v.Number != 0 && digitApart(u.Number, v.Number):
		return digitRegiment, false
	case numbers:
		return otherRegiment, false
	}
	// One of them gives the state only, or state and arm.
	state := math.Log2(.9 / chance(counts.whose[b]))
	if !arms {
		state -= 3
	}
	return state, false
}

// numbersFit reports whether two regiments' numbers are the same, or may have been before digits were lost.
func numbersFit(u, v *model.Unit) bool {
	switch {
	case v.Number != 0:
		return u.NumberFits(v.Number)
	case u.Number != 0:
		return v.NumberFits(u.Number)
	}
	return u.NumberLost == v.NumberLost
}

// digitApart reports whether two numbers differ in one digit, by one digit more, or by two digits swapped.
func digitApart(a, b int) bool {
	if a < b {
		a, b = b, a
	}
	var room [2][20]byte
	x, y := strconv.AppendInt(room[0][:0], int64(a), 10), strconv.AppendInt(room[1][:0], int64(b), 10)
	if len(x) > len(y)+1 {
		return false
	}
	// What they begin and end with alike is left out.
	for len(y) > 0 && x[0] == y[0] {
		x, y = x[1:], y[1:]
	}
	for len(y) > 0 && x[len(x)-1] == y[len(y)-1] {
		x, y = x[:len(x)-1], y[:len(y)-1]
	}
	return len(x) == 1 || len(x) == 2 && len(y) == 2 && x[0] == y[1] && x[1] == y[0]
}
