package weigh

import (
	"strconv"

	"musterstone/model"
	"musterstone/model/date"
)

// birthView is when a stone's man was born, and how the rosters' men compare.
type birthView struct {
	w    *Weigher
	born date.Date
	u    map[string]float64
}

func (w *Weigher) birthView(p model.Person) birthView {
	v := birthView{w: w, born: p.Born}
	if v.born.IsZero() && !p.Age.IsZero() && !p.Died.IsZero() {
		v.born = date.BirthFrom(p.Died, p.Age)
	}
	if v.born.From.IsZero() || v.born.To.IsZero() {
		v.born = date.Date{}
		return v
	}
	n := map[string]int{}
	for year, k := range w.counts.births {
		apart := yearsApart(v.born, date.Year(year))
		n[birthLevel(apart, false)] += k
		n[birthLevel(apart, true)] += k
	}
	v.u = map[string]float64{}
	for _, level := range []string{"same", "one year", "near", "far", "round same", "round near", "round far"} {
		v.u[level] = chance("birth", level, 0, float64(n[level]), float64(w.counts.born))
	}
	return v
}

// yearsApart is how many years lie between two spans; 0 where they overlap or touch in a year.
func yearsApart(a, b date.Date) int {
	switch {
	case a.To.Year < b.From.Year:
		return b.From.Year - a.To.Year
	case b.To.Year < a.From.Year:
		return a.From.Year - b.To.Year
	}
	return 0
}

// birthLevel is the level of so many years between two births; round where one of them follows from an age in round figures.
func birthLevel(years int, round bool) string {
	switch {
	case round && years == 0:
		return "round same"
	case round && years <= 3:
		return "round near"
	case round:
		return "round far"
	case years == 0:
		return "same"
	case years == 1:
		return "one year"
	case years <= 5:
		return "near"
	}
	return "far"
}

func (v *birthView) against(s *sum, r *model.Record) {
	if v.born.IsZero() {
		return
	}
	other := r.Birth()
	if other.From.IsZero() || other.To.IsZero() {
		return
	}
	age := r.Person.Age
	level := birthLevel(yearsApart(v.born, other), r.Person.Born.IsZero() && age.Years%5 == 0)
	s.weight("birth", level, start("birth", level).m, v.u[level], spell(v.born), spell(other), "")
}

// deathView is when a stone's man died.
type deathView struct {
	w    *Weigher
	died date.Date
	u    map[string]float64
}

func (w *Weigher) deathView(died date.Date) deathView {
	v := deathView{w: w, died: died}
	if died.From.IsZero() || died.To.IsZero() {
		v.died = date.Date{}
		return v
	}
	c := w.counts
	k := map[string]float64{}
	if died.From == died.To {
		k["same day"] = float64(c.deathDays.n[died.From.String()])
	}
	for y, n := range c.deaths {
		switch yearsApart(died, date.Year(y)) {
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
	v.u = map[string]float64{}
	for _, level := range []string{"same day", "same month", "same year", "one year", "ten years", "different"} {
		v.u[level] = chance("death", level, 0, k[level], float64(c.died))
	}
	return v
}

func (v *deathView) level(other date.Date) string {
	a := v.died
	switch {
	case a.From == a.To && other.From == other.To && a.From == other.From:
		return "same day"
	case a.From.Year == other.From.Year && a.To.Year == other.To.Year && a.From.Year == a.To.Year && a.From.Month == other.From.Month && a.To.Month == other.To.Month &&
		a.From.Month == a.To.Month:
		return "same month"
	}
	switch yearsApart(a, other) {
	case 0:
		return "same year"
	case 1:
		return "one year"
	case 10:
		return "ten years"
	}
	return "different"
}

func (v *deathView) against(s *sum, r *model.Record) {
	if v.died.IsZero() {
		return
	}
	other := r.Person.Died
	if !other.From.IsZero() && !other.To.IsZero() {
		level := v.level(other)
		s.weight("death", level, start("death", level).m, v.u[level], spell(v.died), spell(other), "")
		return
	}
	for _, last := range []date.Date{r.Service.MusteredOut, r.Service.Enlisted, r.Service.MusteredIn} {
		if !last.IsZero() && v.died.Before(last) {
			l := start("service", "died in it")
			s.weight("service", "died in it", l.m, l.u, spell(v.died), spell(last), "the stone's man was dead before the record's man had entered or left the service")
			return
		}
	}
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
