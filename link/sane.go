package link

import "musterstone/link/weigh"

// The range in which the share of matches may move when m is learned, times what it was with the table's m: common practice, no source.
const leastMoved, mostMoved = 0.2, 5.0

// leastSurname is the least m of an equal surname, of all levels of its group: lists of one set of men agree on more than half the surnames.
const leastSurname = 0.5

// insane says why what was learned is not to be used, or ""; after is how many stones now have their man in the rosters, as far as can be told.
func (f *Fit) insane(l *ladder, after float64) string {
	before := f.Before.Matches
	if before > 0 && (after < leastMoved*before || after > mostMoved*before) {
		return "the stones' share with a man in the rosters would move too far"
	}
	for r := range f.Rosters {
		for k, level := range l.levels {
			if level.Group == "surname" && level.Name == "same" && f.M[r][k] < leastSurname {
				return "men taken for the same would not agree on their surname"
			}
		}
	}
	return ""
}

// apply puts what was learned into the stones' priors and their candidates' evidence.
func (f *Fit) apply(all []weighed) {
	inParts(len(all), func(from, to int) {
		for i := from; i < to; i++ {
			w := &all[i]
			w.prior, w.open = f.prior(w.veteran, w.plain, w.unlisted, w.nobody), f.prior(w.veteran, w.plain, w.unlisted, false)
			if w.packed != nil {
				f.applyPacked(w)
				continue
			}
			for j := range w.cands {
				c := &w.cands[j]
				r := f.roster(rosterOf(w.records[j]))
				sum := 0.0
				for k := range c.Evidence {
					e := &c.Evidence[k]
					if n, ok := fitLadder().of(e, w.unlisted); ok && r >= 0 {
						e.Bits += f.Gain[r][n]
					}
					if e.Field == "unit" && weigh.InRegiment(e.Level) {
						e.Bits += f.Shifts[w.regiment]
					}
					sum += e.Bits
				}
				c.Bits = sum
			}
		}
	})
}

// applyPacked does the same for packed candidates: their lines are weighed again.
func (f *Fit) applyPacked(w *weighed) {
	w.packed.fit = f
	var lines weigh.Lines
	for j := range w.packed.pairs {
		if pair := &w.packed.pairs[j]; pair.view != noView {
			w.cands[j].Bits = w.packed.learned(w, pair, &lines, func(int, float64) {})
		}
	}
}
