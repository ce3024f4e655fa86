package link

import (
	"cmp"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab/name"
)

// reserve is the part of the error allowed that is kept for what the posteriors do not know. Published checks of linked files found more errors than the posteriors
// named (Belin and Rubin 1995, Journal of the American Statistical Association 90:694-707); how much more differs, and three tenths is house judgement.
const reserve = 0.3

// leastSure is how many times the error allowed a single link may be in doubt and still be proposed: at a precision of 0.98, a fifth. House judgement.
const leastSure = 10

// Pick is an assigned link: a candidate of a stone, with the probability that its man is the stone's. A man listed twice has that of both rows.
type Pick struct {
	Stone, Candidate int // places: the stone's in the survey, the candidate's in its proposal
	P                float64
	Confirmed        bool // by a person
}

// compare puts the surest first, and of two as sure the one that comes first.
func (p Pick) compare(q Pick) int {
	return cmp.Or(cmp.Compare(q.P, p.P), cmp.Compare(p.Stone, q.Stone), cmp.Compare(p.Candidate, q.Candidate))
}

// Cut is where the proposed links end: the first pick that is not proposed, where there is one.
type Cut struct {
	Pick  Pick
	There bool
}

// proposes reports whether a pick is proposed: one that a person confirmed always is.
func (c Cut) proposes(p Pick) bool { return !c.There || p.Confirmed || p.compare(c.Pick) < 0 }

// propose marks the links to ask a person about first: the assigned ones, surest first, as long as the mean of their
// probabilities stays at the precision asked for, with the reserve, and none of them is in too much doubt by itself.
func (l *Linker) propose(all []weighed, answers []answer) {
	picks := l.picks(all, answers)
	l.mark(all, answers, picks, l.Cut(picks))
}

// picks are the links that were assigned.
func (l *Linker) picks(all []weighed, answers []answer) []Pick {
	of := make([][]Pick, len(answers))
	inParts(len(answers), func(from, to int) {
		var mine, other model.Record
		for i := from; i < to; i++ {
			a := &answers[i]
			for k := range a.list {
				if c := &a.list[k]; c.proposed || c.second {
					of[i] = append(of[i], Pick{Stone: i, Candidate: k, P: c.p + all[i].twins(a, k, &mine, &other), Confirmed: all[i].decided(int(c.cand)) == confirmed})
				}
			}
		}
	})
	return slices.Concat(of...)
}

// mark takes the picks that fall behind the cut out of what is proposed, as a man's first stone or his second. Where the first falls and
// the second does not, it stands alone.
func (l *Linker) mark(all []weighed, answers []answer, picks []Pick, c Cut) {
	for _, p := range picks {
		if !c.proposes(p) {
			answers[p.Stone].list[p.Candidate].proposed, answers[p.Stone].list[p.Candidate].second = false, false
		}
	}
	l.promote(all, answers)
}

// promote proposes those who were second to a stone that is not proposed itself.
func (l *Linker) promote(all []weighed, answers []answer) {
	records, taken := number(all), map[int32]bool{}
	each := func(do func(w *weighed, c *choice)) {
		for i := range answers {
			for k := range answers[i].list {
				do(&all[i], &answers[i].list[k])
			}
		}
	}
	each(func(w *weighed, c *choice) {
		if c.proposed {
			taken[records.at(w, int(c.cand))] = true
		}
	})
	each(func(w *weighed, c *choice) {
		if !c.second {
			return
		}
		n := records.at(w, int(c.cand))
		if !taken[n] && len(l.Settled.ConfirmedStones(w.id(int(c.cand)))) == 0 {
			c.proposed, c.second, taken[n] = true, false, true
		}
	})
}

// Cut finds where the proposed links end, among all that were assigned; it sorts them.
func (l *Linker) Cut(picks []Pick) Cut {
	want := l.Precision
	if want == 0 {
		want = DefaultPrecision
	}
	least := 1 - leastSure*(1-want)
	want = 1 - (1-want)*(1-reserve)
	slices.SortFunc(picks, Pick.compare)
	total := 0.0
	for n, p := range picks {
		total += p.P
		if !p.Confirmed && (p.P < least || total/float64(n+1) < want) {
			return Cut{Pick: p, There: true}
		}
	}
	return Cut{}
}

// twins is the probability of the other choices that are the same man as one of them, listed twice, as rosters do with those who were transferred; the
// answer keeps which they are. Mine and other are room for two records.
func (w *weighed) twins(a *answer, k int, mine, other *model.Record) float64 {
	var first *model.Record
	sum := 0.0
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
		if twin(first, w.record(int(c.cand), other)) {
			sum += c.p
			a.twins = append(a.twins, [2]uint16{uint16(k), uint16(i)})
		}
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
	return y.From.Year-x.To.Year <= mostYears && x.From.Year-y.To.Year <= mostYears
}

// termWords are words of a roster for a man who has another row: common practice, no source.
var termWords = []string{"veteran", "vet.", "re-enl", "reenl", "transf", "trans.", "second term"}

// saysTerm reports whether remarks say that the man has another row.
func saysTerm(remarks string) bool {
	lower := strings.ToLower(remarks)
	return slices.ContainsFunc(termWords, func(w string) bool { return strings.Contains(lower, w) })
}

// sameMan reports whether two names of records can be one man's.
func sameMan(m, n model.Name) bool {
	if s, t := name.Fold(m.Surname), name.Fold(n.Surname); s == "" || s != t && (name.Sound(s) == "" || name.Sound(s) != name.Sound(t)) {
		return false
	}
	g, h := name.Fold(m.Given), name.Fold(n.Given)
	if g == "" || h == "" || g != h && !(len(g) == 1 && strings.HasPrefix(h, g)) && !(len(h) == 1 && strings.HasPrefix(g, h)) {
		return false
	}
	if i, j := name.Fold(m.Middle), name.Fold(n.Middle); i != "" && j != "" && i[0] != j[0] {
		return false
	}
	return m.Suffix == n.Suffix || m.Suffix == "" || n.Suffix == ""
}
