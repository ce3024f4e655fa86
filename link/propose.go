package link

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab/name"
)

// reserve is the part of the error allowed that is kept for what the posteriors do not know. Published checks of linked files found more errors than the posteriors
// named (Belin and Rubin 1995, Journal of the American Statistical Association 90:694-707); how much more differs, and three tenths is house judgement.
const reserve = 0.3

// leastSure is how many times the error allowed a single link may be in doubt and still be proposed: at a precision of 0.98, a quarter. House judgement.
const leastSure = 12.5

// pick is an assigned link: a candidate of a stone, with the probability that its man is the stone's. A man listed twice has that of both rows.
type pick struct {
	stone, cand int
	p           float64
}

// propose marks the links to ask a person about first: the assigned ones, surest first, as long as the mean of their
// probabilities stays at the precision asked for, with the reserve, and none of them is in too much doubt by itself.
func (l *Linker) propose(all []weighed, proposals []model.Proposal) {
	want := l.Precision
	if want == 0 {
		want = DefaultPrecision
	}
	least := 1 - leastSure*(1-want)
	want = 1 - (1-want)*(1-reserve)
	var picks []pick
	for i := range proposals {
		p := &proposals[i]
		for j := range p.Candidates {
			if p.Candidates[j].Proposed {
				picks = append(picks, pick{i, j, p.Candidates[j].Probability + l.twins(&all[i], p, j)})
			}
		}
	}
	at := func(p pick) *model.Candidate { return &proposals[p.stone].Candidates[p.cand] }
	slices.SortStableFunc(picks, func(a, b pick) int { return cmp.Compare(b.p, a.p) })
	total := 0.0
	for n, p := range picks {
		c := at(p)
		total += p.p
		if c.Decided != string(model.Confirmed) && (p.p < least || total/float64(n+1) < want) {
			for _, q := range picks[n:] { // a decided one after it still stands
				at(q).Proposed = at(q).Decided == string(model.Confirmed)
			}
			return
		}
	}
}

// twins is the probability of the other candidates that are the same man as one of them, listed twice, as rosters do with those who were transferred; the
// proposal is told so.
func (l *Linker) twins(w *weighed, p *model.Proposal, cand int) float64 {
	record := func(id model.RecordID) *model.Record {
		for i := range w.cands {
			if w.cands[i].Record == id {
				return w.records[i]
			}
		}
		return nil
	}
	mine := record(p.Candidates[cand].Record)
	sum := 0.0
	for i := range p.Candidates {
		c := &p.Candidates[i]
		if i == cand || c.Decided != "" || c.Probability < contend {
			continue
		}
		if twin(mine, record(c.Record)) {
			sum += c.Probability
			p.Notes = append(p.Notes, fmt.Sprintf("records %s and %s look like one man, listed twice", p.Candidates[cand].Record, c.Record))
		}
	}
	return sum
}

// twin reports whether two records look like one man listed twice: one surname, or one sound of it, and given name, one day of enlistment to the day, and nothing
// against it in middle initial, suffix or age.
func twin(a, b *model.Record) bool {
	if a == nil || b == nil {
		return false
	}
	m, n := a.Person.Name, b.Person.Name
	day := a.Service.Enlisted
	if day.IsZero() || day.From != day.To || b.Service.Enlisted.From != day.From || b.Service.Enlisted.To != day.To {
		return false
	}
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
	if m.Suffix != n.Suffix && m.Suffix != "" && n.Suffix != "" {
		return false
	}
	x, y := a.Person.Age, b.Person.Age
	return x.IsZero() || y.IsZero() || max(x.Years-y.Years, y.Years-x.Years) <= 1
}
