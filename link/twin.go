package link

import (
	"slices"
	"strings"
	"sync"

	"musterstone/link/compare"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
)

// twins is the probability of the other choices that are the same man as one of them, listed twice, as rosters do with those who were transferred, and as two books of one
// regiment do with all their men; the answer keeps which they are. Another book lists him once: of its rows that can be his by that alone, the likeliest is. Mine and other are room
// for two records.
func (w *weighed) twins(a *answer, k int, mine, other *model.Record) float64 {
	var first *model.Record
	sum := 0.0
	var books []string // of which a row was taken
	for i := range a.list {
		c := &a.list[i]
		if i == k || c.p < contend || w.decided(int(c.cand)) != undecided {
			continue
		}
		if first == nil {
			if first = w.record(int(a.list[k].cand), mine); first == nil {
				return 0
			}
		}
		second := w.record(int(c.cand), other)
		if !twin(first, second) {
			if !otherBook(first, second) || slices.Contains(books, second.Source.File) {
				continue
			}
			books = append(books, second.Source.File)
		}
		sum += c.p
		a.twins = append(a.twins, [2]uint16{uint16(k), uint16(i)})
	}
	return sum
}

// twin reports whether two records look like one man listed twice: one surname, or one sound of it, and given name, and nothing against it in middle initial, suffix or
// age; and either one day of enlistment to the day, or a term in the same regiment that begins where the other ends.
func twin(a, b *model.Record) bool {
	if a == nil || b == nil || !sameMan(a.Person.Name, b.Person.Name) {
		return false
	}
	day := a.Service.Enlisted
	if !day.IsZero() && day.From == day.To && b.Service.Enlisted.From == day.From && b.Service.Enlisted.To == day.To {
		x, y := a.Person.Age, b.Person.Age
		return x.IsZero() || y.IsZero() || max(x.Years-y.Years, y.Years-x.Years) <= 1
	}
	return again(a, b) || again(b, a)
}

// otherBook reports whether two rows of two books look like one man: in one company or on one ship (see oneBody), under one name however either clerk spelt it, and nothing against it in birth, death
// or the day of enlistment.
func otherBook(a, b *model.Record) bool {
	if a == nil || b == nil || a.Source.File == b.Source.File {
		return false
	}
	if !oneBody(&a.Service, &b.Service) && !atSea(a, b) {
		return false
	}
	m, n := a.Person.Name, b.Person.Name
	if s, t := name.Fold(m.Surname), name.Fold(n.Surname); s != "" && t != "" && compare.OSA(s, t) <= 1 {
		n.Surname = m.Surname
	}
	if g, h := name.Fold(m.Given), name.Fold(n.Given); min(len(g), len(h)) >= 4 && compare.OSA(g, h) <= 1 && !(name.KnownGiven(g) && name.KnownGiven(h)) {
		n.Given = m.Given // "Pcter"
	}
	return sameMan(m, n) && within(a.Birth(), b.Birth(), mostTold) && within(a.Person.Died, b.Person.Died, 0) && within(a.Service.Enlisted, b.Service.Enlisted, 0)
}

// oneBody reports whether the units of two men, as two clerks had them, are one company, battery or ship, or one regiment of which one left out the company. Of a company with its regiment's number one may have left out the
// state (Co. K, 11th Cav.) or the arm (Co. K, 85th N. Y. Vols.) as well.
func oneBody(s, t *model.Service) bool {
	u, v := &s.Unit, &t.Unit
	if u.Kind == model.Ship || v.Kind == model.Ship {
		return u.Name != "" && u.Name == v.Name && u.Kind == v.Kind // whose ship it is one clerk says and another does not
	}
	if u.Number != v.Number || u.Name != v.Name {
		return false
	}
	nobodys := u.Designation() == "" && v.Designation() == "" // whose regiment it is neither says
	if nobodys && (u.Number == 0 || !nationWide(s) && !nationWide(t)) {
		return false
	}
	if u.Number != 0 && u.Company != "" && u.Company == v.Company {
		return either(u.Designation(), v.Designation()) && either(string(u.Arm), string(v.Arm))
	}
	if u.Designation() != v.Designation() || u.Arm != v.Arm {
		return false
	}
	if u.Company+v.Company == "" { // a body without companies
		return u.Number != 0 && (u.Kind == model.Battery || v.Kind == model.Battery || nobodys && u.Kind == v.Kind && u.Kind != "")
	}
	regiment := u.Number != 0 || u.Name != "" // of all men of a state's infantry a company alone tells too little
	return !nobodys && (u.Company == v.Company || regiment && (u.Company == "" || v.Company == ""))
}

// either reports whether two parts of a unit are the same, or one is left out.
func either(a, b string) bool { return a == b || a == "" || b == "" }

// nationWide reports whether a man served in a war whose regiments were numbered in one row for the whole nation, as they were from 1917 on: common practice, no source.
func nationWide(s *model.Service) bool {
	return slices.ContainsFunc(s.Conflicts, func(c model.ConflictCode) bool {
		war, ok := vocab.Conflict(c)
		return ok && war.From.Year >= 1917
	})
}

// atSea reports whether two men served afloat, of one branch, were born in one year as far as both books say, and one of the books names no ship: nothing of their service tells them apart, and men of one whole name and
// year are few where all men afloat are.
func atSea(a, b *model.Record) bool {
	x, y := a.Birth(), b.Birth()
	return vocab.Afloat(a.Service.Branch) && a.Service.Branch == b.Service.Branch && (shipless(&a.Service.Unit) || shipless(&b.Service.Unit)) &&
		!x.From.IsZero() && !x.To.IsZero() && !y.From.IsZero() && !y.To.IsZero() && within(x, y, mostYears) &&
		len(name.Fold(a.Person.Name.Given)) > 1 && len(name.Fold(b.Person.Name.Given)) > 1
}

func shipless(u *model.Unit) bool { return u.Name == "" && u.Number == 0 && u.Company == "" }

// within reports whether two dates can be no more than so many years apart.
func within(a, b date.Date, years int) bool {
	if a.From.IsZero() || a.To.IsZero() || b.From.IsZero() || b.To.IsZero() {
		return true
	}
	return b.From.Year-a.To.Year <= years && a.From.Year-b.To.Year <= years
}

// mostTold is how many years apart a man's births may be in two books that asked him at two times of his life: who was too young for the service had made himself older. House judgement.
const mostTold = 5

// mostBetween is how many years may lie between two terms of service of one man; mostYears how far his births by two ages may be apart. House judgement.
const mostBetween, mostYears = 2, 1

// again reports whether the second record is a later term of the first one's man: in the same regiment, or in another of its state where the roster says that he
// was transferred or enlisted again, begun after the first had ended, by a man as old.
func again(a, b *model.Record) bool {
	out, in := a.Service.MusteredOut, b.Service.Enlisted
	said := saysTerm(a.Service.Remarks) || saysTerm(b.Service.Remarks)
	switch {
	case a.Service.Enlisted.IsZero() || in.IsZero() || !a.Service.Enlisted.Before(in):
		return false
	case !a.Person.Died.IsZero() && a.Person.Died.Before(in):
		return false
	case out.IsZero() && !said, !out.IsZero() && in.Before(out), !out.IsZero() && in.From.Year-out.To.Year > mostBetween:
		return false
	}
	u, v := a.Service.Unit, b.Service.Unit
	if u.Designation() == "" || u.Designation() != v.Designation() || (u.Number != v.Number || u.Arm != v.Arm) && !said {
		return false
	}
	x, y := a.Birth(), b.Birth()
	if x.From.IsZero() || x.To.IsZero() || y.From.IsZero() || y.To.IsZero() {
		return u.Company == v.Company && u.Number == v.Number
	}
	return within(x, y, mostYears)
}

// termWords are words of a roster for a man who has another row.
var termWords = sync.OnceValue(func() []string {
	var out []string
	for _, r := range vocab.Rows("second-term-words") {
		out = append(out, r.Get("word"))
	}
	return out
})

// saysTerm reports whether remarks say that the man has another row.
func saysTerm(remarks string) bool {
	lower := strings.ToLower(remarks)
	return slices.ContainsFunc(termWords(), func(w string) bool { return strings.Contains(lower, w) })
}

// oneRoot reports whether two given names can be forms of one.
func oneRoot(g, h string) bool {
	if len(g) == 1 || len(h) == 1 {
		return false
	}
	roots := name.Roots(h)
	return slices.ContainsFunc(name.Roots(g), func(f name.Form) bool {
		return slices.ContainsFunc(roots, func(o name.Form) bool { return o.Name == f.Name })
	})
}

// sameMan reports whether two names of records can be one man's.
func sameMan(m, n model.Name) bool {
	if s, t := name.Fold(m.Surname), name.Fold(n.Surname); s == "" || s != t && (name.Sound(s) == "" || name.Sound(s) != name.Sound(t)) {
		return false
	}
	g, h := name.Fold(m.Given), name.Fold(n.Given)
	if g == "" || h == "" || g != h && !(len(g) == 1 && strings.HasPrefix(h, g)) && !(len(h) == 1 && strings.HasPrefix(g, h)) && !oneRoot(g, h) {
		return false
	}
	if i, j := name.Fold(m.Middle), name.Fold(n.Middle); i != "" && j != "" && i[0] != j[0] {
		return false
	}
	return m.Suffix == n.Suffix || m.Suffix == "" || n.Suffix == ""
}
