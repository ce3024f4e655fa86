package link

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
