package link

import (
	"cmp"
	"slices"

	"musterstone/model"
)

// reserve is the part of the error allowed that is kept for what the posteriors do not know. Published checks of linked files found more errors than the posteriors
// named (Belin and Rubin 1995, Journal of the American Statistical Association 90:694-707); how much more differs, and three twentieths is house judgement.
const reserve = 0.15

// leastSure is how many times the error allowed a single link may be in doubt and still be proposed: at a precision of 0.98, twenty-three in a hundred. House judgement.
const leastSure = 11.5

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
