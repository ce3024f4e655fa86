package weigh

import (
	"strconv"

	"musterstone/model"
	"musterstone/model/date"
)

// birthView is when a stone's man was born, and how the rosters' men compare.
type birthView struct {
	w        *Weigher
	born     date.Date // as evidence has it; zero where it is not known
	from, to int       // the years, from 0 where it is not known
	line     [7]line   // by birthLevels
}

// birthLevels are the levels of a birth in the order of their numbers here.
var birthLevels = [...]string{"same", "one year", "near", "far", "round same", "round near", "round far"}

func (w *Weigher) birthView(p *model.Person) birthView {
	v := birthView{w: w, born: p.Born}
	if v.born.IsZero() && !p.Age.IsZero() && !p.Died.IsZero() {
		v.born = date.BirthFrom(p.Died, p.Age)
	}
	if v.born.From.IsZero() || v.born.To.IsZero() {
		v.born = date.Date{}
		return v
	}
	v.from, v.to = v.born.From.Year, v.born.To.Year
	n, all := [len(birthLevels)]int{}, [2]int{} // men at each level, and of either kind of birth
	for key, k := range w.counts.births {
		from, to, round := birthOf(key)
		level := birthLevel(yearsApart(v.born.From.Year, v.born.To.Year, from, to), round)
		n[level] += k
		all[kindOfBirth(level)] += k
	}
	for i, level := range birthLevels {
		v.line[i] = lineOf("birth", level, start("birth", level).m, chance("birth", level, 0, float64(n[i]), float64(all[kindOfBirth(i)])))
	}
	return v
}

// firstRound is the first of birthLevels that are of ages in round figures.
const firstRound = 4

// kindOfBirth is 1 for the levels of ages in round figures.
func kindOfBirth(level int) int {
	if level >= firstRound {
		return 1
	}
	return 0
}

// birthCount is a span of years in which men were born, and whether it follows from an age in round figures, as one number to count by.
func birthCount(from, to int16, round bool) int {
	key := (int(from)<<14 | int(to)) << 1
	if round {
		key++
	}
	return key
}

// birthOf is the span of a birthCount, and whether the age was round.
func birthOf(key int) (from, to int, round bool) {
	return key >> 15, key >> 1 & (1<<14 - 1), key&1 == 1
}

// roundAge reports whether the record's man gave an age in round figures and no date of birth.
func roundAge(r *model.Record) bool {
	return r.Person.Born.IsZero() && r.Person.Age.Years%5 == 0
}

// yearsApart is how many years lie between two spans; 0 where they overlap or touch in a year.
func yearsApart(aFrom, aTo, bFrom, bTo int) int {
	switch {
	case aTo < bFrom:
		return bFrom - aTo
	case bTo < aFrom:
		return aFrom - bTo
	}
	return 0
}

// birthLevel is the level of so many years between two births, a number of birthLevels; round where one of them follows from an age in round figures.
func birthLevel(years int, round bool) int {
	switch {
	case round && years == 0:
		return firstRound
	case round && years <= 3:
		return firstRound + 1
	case round:
		return firstRound + 2
	case years == 0:
		return 0
	case years == 1:
		return 1
	case years <= 5:
		return 2
	}
	return 3
}

func (v *birthView) against(f *facts) line {
	if v.from == 0 || f.born[0] == noYear {
		return line{}
	}
	return v.line[birthLevel(yearsApart(v.from, v.to, int(f.born[0]), int(f.born[1])), f.round)]
}

// deathView is when a stone's man died.
type deathView struct {
	w    *Weigher
	died date.Date
	days days    // of the death, both 0 where one of them is not known
	line [6]line // by deathLevels
}

// deathLevels are the levels of a death in the order of their numbers here.
var deathLevels = [...]string{"same day", "same month", "same year", "one year", "ten years", "different"}

func (w *Weigher) deathView(died date.Date) deathView {
	v := deathView{w: w, died: died}
	if died.From.IsZero() || died.To.IsZero() {
		v.died = date.Date{}
		return v
	}
	v.days = daysOf(&v.died)
	c := w.counts
	k := map[string]float64{}
	if died.From == died.To {
		k["same day"] = float64(c.deathDays.n[died.From.String()])
	}
	for y, n := range c.deaths {
		switch yearsApart(died.From.Year, died.To.Year, y, y) {
		case 0:
			k["same year"] += float64(n)
		case 1:
			k["one year"] += float64(n)
		case 10:
			k["ten years"] += float64(n)
		}
	}
	k["same month"] = k["same year"] / 12
	k["different"] = float64(c.died) - k["same year"] - k["one year"] - k["ten years"]
	for i, level := range deathLevels {
		v.line[i] = lineOf("death", level, start("death", level).m, chance("death", level, 0, k[level], float64(c.died)))
	}
	return v
}

// level is how far two deaths agree, a number of deathLevels.
func (v *deathView) level(other days) int {
	a := v.days
	switch {
	case a.from == a.to && other.from == other.to && a.from == other.from:
		return 0
	case a.from/100 == a.to/100 && other.from/100 == a.from/100 && other.to/100 == a.to/100: // year and month
		return 1
	}
	switch yearsApart(int(a.from/10000), int(a.to/10000), int(other.from/10000), int(other.to/10000)) {
	case 0:
		return 2
	case 1:
		return 3
	case 10:
		return 4
	}
	return 5
}

func (v *deathView) against(f *facts) line {
	if v.days.from == 0 {
		return line{}
	}
	if f.died.from != 0 && f.died.to != 0 {
		return v.line[v.level(f.died)]
	}
	if out, enlisted, in := f.left(); v.before(out) || v.before(enlisted) || v.before(in) {
		return v.w.fixed.diedInIt
	}
	return line{}
}

// before reports whether the stone's man was dead before that day.
func (v *deathView) before(last days) bool { return last.from != 0 && v.days.to < last.from }

// beforeLeaving is the first of the days of a record's service before which the stone's man was dead; nil where he was not.
func (v *deathView) beforeLeaving(s *model.Service) *date.Date {
	for _, last := range [...]*date.Date{&s.MusteredOut, &s.Enlisted, &s.MusteredIn} {
		if v.before(daysOf(last)) {
			return last
		}
	}
	return nil
}

// spell is a date as it stood, or in EDTF where it was worked out.
func spell(d date.Date) string {
	if d.Written != "" {
		return d.Written
	}
	if d.From.Year == d.To.Year || d.From.IsZero() || d.To.IsZero() {
		return d.String()
	}
	if d.To.Year-d.From.Year == 1 {
		return strconv.Itoa(d.From.Year) + " or " + strconv.Itoa(d.To.Year)
	}
	return d.String()
}
