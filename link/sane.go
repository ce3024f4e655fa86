package link

import (
	"slices"

	"musterstone/link/weigh"
)

// matches is how many stones have their man in the rosters, as far as can be told.
func (f *fitter) matches() float64 {
	n := 0.0
	for i := range f.cases {
		n += 1 - f.expect(&f.cases[i], false)
	}
	return n
}

// The range in which the share of matches may move when m is learned, times what it was with the table's m: common practice, no source.
const leastMoved, mostMoved = 0.2, 5.0

// leastSurname is the least m of an equal surname, of all levels of its group: lists of one set of men agree on more than half the surnames.
const leastSurname = 0.5

// insane says why what was learned is not to be used, or "".
func (f *fitter) insane(before float64) string {
	after := f.matches()
	if before > 0 && (after < leastMoved*before || after > mostMoved*before) {
		return "the stones' share with a man in the rosters would move too far"
	}
	for r := range f.rosters {
		for k, level := range f.levels {
			if level.Group == "surname" && level.Name == "same" && f.m[r][k] < leastSurname {
				return "men taken for the same would not agree on their surname"
			}
		}
	}
	return ""
}

// apply puts what was learned into the candidates' evidence, best first.
func (f *fitter) apply() {
	number := map[[2]string]int{}
	for i, level := range f.levels {
		number[[2]string{level.Group, level.Name}] = i
	}
	for i := range f.cases {
		w := f.cases[i].w
		for j := range w.cands {
			c := &w.cands[j]
			r, _ := slices.BinarySearch(f.rosters, rosterOf(w.records[j]))
			sum := 0.0
			for k := range c.Evidence {
				e := &c.Evidence[k]
				if group, name, ok := weigh.Learns(*e); ok {
					n := number[[2]string{group, name}]
					e.Bits += f.gain[r][n]
				}
				if e.Field == "unit" && weigh.InRegiment(e.Level) {
					e.Bits += f.shifts[w.regiment]
				}
				sum += e.Bits
			}
			c.Bits = sum
		}
	}
}
