package marker

import (
	"fmt"
	"math"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// negligible is how many bits are not worth a sentence.
const negligible = .05

// Fits is what the design of a stone says of a service record: log2 of how much likelier the stone would look so if the record's man
// lay there than if the man of an average record did. bits is 0 where the record tells neither conflict nor side nor death; it is bounded
// to about -5.6 by the share of wrong lists and stones (wrong-list in marker-weights.csv). died is the record's date of death, zero where it gives none. why is a sentence, "" where bits is 0.
//
// The average record is that of service-classes.csv, column base: it takes all wars. Where a survey's rosters are of one war, every
// record of that war gains alike, so the order of candidates does not change; only their odds against "none of them" do.
// Whether the stone is of a soldier at all is not weighed here: that a stone is private speaks against none of the records in particular.
func Fits(imp model.Implication, s model.Service, died date.Date) (bits float64, why string) {
	t := compiled()
	class, label := t.fitsClass(&imp, &s, true)
	era, eraWhy := t.fitsDeath(&imp, years(died), true)
	bits = class + era
	if math.Abs(bits) < negligible {
		return 0, ""
	}
	switch {
	case math.Abs(class) < negligible:
		return bits, eraWhy
	case math.Abs(era) < negligible:
		return bits, label
	}
	return bits, label + "; " + eraWhy
}

// FitsBits is Fits without the sentence.
func FitsBits(imp *model.Implication, s *model.Service, died date.Date) float64 {
	t := compiled()
	class, _ := t.fitsClass(imp, s, false)
	era, _ := t.fitsDeath(imp, years(died), false)
	if bits := class + era; math.Abs(bits) >= negligible {
		return bits
	}
	return 0
}

// Classes are the kinds of service that a record's may be, by numbers that FitsClasses knows: of the services of a million men there are but few such lists.
func Classes(s *model.Service) []int { return compiled().recordClasses(nil, s) }

// FitsClasses is FitsBits for a service of those classes and a man whose death is not known.
func FitsClasses(imp *model.Implication, classes []int) float64 {
	bits, _ := compiled().fitsClasses(imp, classes, false)
	if math.Abs(bits) >= negligible {
		return bits
	}
	return 0
}

// fitsClass gives the sentence only where it is to say why.
func (t *tables) fitsClass(imp *model.Implication, s *model.Service, why bool) (float64, string) {
	if len(imp.Services) == 0 {
		return 0, ""
	}
	var room [8]int
	return t.fitsClasses(imp, t.recordClasses(room[:0], s), why)
}

func (t *tables) fitsClasses(imp *model.Implication, mine []int, why bool) (float64, string) {
	if len(mine) == 0 {
		return 0, ""
	}
	served, hit, base := 0., 0., 0.
	best, bestP := "", 0.
	for i := range imp.Services {
		w := &imp.Services[i]
		if w.Code == "none" {
			continue
		}
		served += w.Probability
		for _, c := range mine {
			if t.classes[c].code == w.Code {
				hit += w.Probability
			}
		}
		if w.Probability > bestP {
			best, bestP = w.Code, w.Probability
		}
	}
	for _, c := range mine {
		base += t.classes[c].base
	}
	if served < 1e-6 || base == 0 {
		return 0, ""
	}
	q := hit / served
	bits := math.Log2(q/base*(1-t.WrongList) + t.WrongList)
	if !why {
		return bits, ""
	}
	label := t.classes[mine[0]].label
	if bits < 0 {
		return bits, fmt.Sprintf("the stone speaks of %s, the record of %s", vocab.Label("service", best), label)
	}
	return bits, "the stone and the record both speak of " + label
}

// recordClasses appends to out, which is empty, the classes that a record's service may be: by its conflicts and side, or by its dates.
func (t *tables) recordClasses(out []int, s *model.Service) []int {
	side := sideOf(s)
	if len(s.Conflicts) > 0 {
		for i := range t.classes {
			if k := &t.classes[i]; k.ofSide(side) && k.fights(s.Conflicts) {
				out = append(out, i)
			}
		}
		return out
	}
	for i := range t.classes {
		if side != "" && t.classes[i].side == side {
			out = append(out, i)
		}
	}
	if len(out) > 0 {
		return out
	}
	for _, d := range [...]*date.Date{&s.Enlisted, &s.MusteredIn, &s.MusteredOut} {
		y := years(*d)
		if y.from == 0 || y.to == 0 || y.to-y.from > 3 {
			continue
		}
		for i := range t.classes {
			k := &t.classes[i]
			// The Indian wars lasted eighty years, so that a date within them tells nothing.
			if k.conflict != "" && k.conflict != "indian-wars" && y.to >= k.from && y.from <= k.to {
				out = append(out, i)
			}
		}
		if len(out) > 0 {
			return out
		}
	}
	return nil
}

// fitsDeath weighs the year of death against the years of the patterns: a stone is not made, and then dated, before a death.
func (t *tables) fitsDeath(imp *model.Implication, d span, why bool) (float64, string) {
	y := d.year()
	if y == 0 {
		return 0, ""
	}
	like, weight := 0., 0.
	odd, oddest := model.PatternCode(""), 0. // the pattern that the death speaks against most
	for _, w := range imp.Patterns {
		follows := 1.
		if i, ok := t.at[w.Code]; ok && i != t.private {
			follows = t.follows(i, y)
		}
		like += w.Probability * follows
		weight += w.Probability
		if x := w.Probability * (1 - follows); x > oddest {
			odd, oddest = w.Code, x
		}
	}
	if weight == 0 {
		return 0, ""
	}
	bits := math.Log2(like/weight*(1-t.WrongList) + t.WrongList)
	if bits > -negligible {
		return 0, ""
	}
	if !why {
		return bits, ""
	}
	p, _ := Find(odd)
	return bits, fmt.Sprintf("the record's man died in %d, and %s was issued %s", y, p.Short, issuedText(p))
}

func issuedText(p Pattern) string {
	switch f, l := p.From(), p.To(); {
	case f != 0 && l != 0:
		return fmt.Sprintf("from %d to %d", f, l)
	case f != 0:
		return fmt.Sprintf("from %d", f)
	}
	return "in years that were not found"
}
