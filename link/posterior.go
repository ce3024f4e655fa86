package link

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// veteran is the probability that a stone is a veteran's: what the words say, else what the design implies, else the base rate; plain is set where
// neither the words nor the design speak of a service.
func veteran(s *model.Subject) (p float64, plain bool) {
	r := s.Reading()
	if len(r.People) == 0 {
		return 0, false
	}
	if !r.Claim().Service.IsZero() {
		return sureVeteran, false
	}
	p = baseVeteran
	for _, service := range s.Implies.Services {
		if service.Code == "none" {
			p = min(sureVeteran, max(baseVeteran, 1-service.Probability))
		}
	}
	return p, p < 0.5
}

const (
	// sureVeteran is the prior that a stone that names a service is a veteran's; the rest is misreading. House judgement.
	sureVeteran = 0.98
	// baseVeteran is the prior for a stone that gives no sign at all: in a ground of the period a few plain stones in a hundred are men who
	// served. House judgement; the evidence has to overcome it.
	baseVeteran = 0.04
)

// logOdds are a candidate's prior odds against none times its likelihood ratio, in logarithm to the base e.
func (l *Linker) logOdds(w *weighed, bits float64) float64 {
	return math.Log(w.prior/(1-w.prior)) - math.Log(float64(max(1, l.Counts.N))) + bits*math.Ln2
}

// posterior gives each candidate of a stone its probability, and none of them theirs:
//
//	P(k) = (λ/N) 2^Wk / ((1-λ) + (λ/N) Σ 2^Wj)
//
// with λ the prior that the stone's man is in the rosters and N the number of records: Bayes' rule over the N+1 hypotheses that the stone's man is record k, or none.
// Records that are not among the candidates are taken to weigh nothing. Decided pairs are as they were decided.
func (l *Linker) posterior(w *weighed) model.Proposal {
	p := model.Proposal{Stone: w.subject.Stone.ID, Candidates: append([]model.Candidate{}, w.cands...)}
	if n := len(l.Settled.Confirmed(p.Stone)); n > 0 {
		for i := range p.Candidates {
			if p.Candidates[i].Decided == string(model.Confirmed) {
				p.Candidates[i].Probability = 1 / float64(n)
			}
		}
		drop(&p)
		return p
	}
	top := 0.0 // the log odds of none against itself
	odds := make([]float64, len(p.Candidates))
	for i, c := range p.Candidates {
		odds[i] = l.logOdds(w, c.Bits)
		if c.Decided == string(model.Refused) || w.prior == 0 {
			odds[i] = math.Inf(-1)
		}
		top = max(top, odds[i])
	}
	total := math.Exp(-top)
	for i := range odds {
		odds[i] = math.Exp(odds[i] - top)
		total += odds[i]
	}
	for i := range odds {
		p.Candidates[i].Probability = odds[i] / total
	}
	p.None = math.Exp(-top) / total
	drop(&p)
	return p
}

// drop takes out the candidates that can neither contend for their men nor be among the first when all is settled: undecided ones below contend, but for the best of
// them. Nothing that is told changes; a survey of a hundred thousand stones takes a fifth of the room.
func drop(p *model.Proposal) {
	var weak []int
	for i := range p.Candidates {
		if c := &p.Candidates[i]; c.Probability < contend && c.Decided == "" {
			weak = append(weak, i)
		}
	}
	if len(weak) <= shown {
		return
	}
	slices.SortStableFunc(weak, func(i, k int) int {
		a, b := &p.Candidates[i], &p.Candidates[k]
		return cmp.Or(cmp.Compare(b.Probability, a.Probability), cmp.Compare(b.Bits, a.Bits))
	})
	gone := make([]bool, len(p.Candidates))
	for _, i := range weak[shown:] {
		gone[i] = true
	}
	kept := make([]model.Candidate, 0, len(p.Candidates)-len(weak)+shown)
	for i := range p.Candidates {
		if !gone[i] {
			kept = append(kept, p.Candidates[i])
		}
	}
	p.Candidates = kept
}
