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
	p := model.Proposal{Stone: w.subject.Stone.ID}
	odds := make([]float64, len(w.cands))
	if n := len(l.Settled.Confirmed(p.Stone)); n > 0 {
		for i := range w.cands {
			if w.cands[i].Decided == string(model.Confirmed) {
				odds[i] = 1 / float64(n)
			}
		}
		p.Candidates = kept(w.cands, odds)
		return p
	}
	top := 0.0 // the log odds of none against itself
	for i := range w.cands {
		c := &w.cands[i]
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
		odds[i] /= total
	}
	p.None = math.Exp(-top) / total
	p.Candidates = kept(w.cands, odds)
	return p
}

// kept copies the candidates, each with its probability, but for those that can neither contend for their men nor be among the first when all is settled: undecided ones below
// contend, beyond the best of them. Nothing that is told changes; a survey of a hundred thousand stones takes a fifth of the room.
func kept(cands []model.Candidate, probability []float64) []model.Candidate {
	weak := make([]int, 0, len(cands))
	for i := range cands {
		if probability[i] < contend && cands[i].Decided == "" {
			weak = append(weak, i)
		}
	}
	gone := make([]bool, len(cands))
	n := len(cands)
	if len(weak) > shown {
		slices.SortStableFunc(weak, func(a, b int) int {
			return cmp.Or(cmp.Compare(probability[b], probability[a]), cmp.Compare(cands[b].Bits, cands[a].Bits))
		})
		for _, i := range weak[shown:] {
			gone[i] = true
			n--
		}
	}
	out := make([]model.Candidate, 0, n)
	for i := range cands {
		if !gone[i] {
			out = append(out, cands[i])
			out[len(out)-1].Probability = probability[i]
		}
	}
	return out
}
