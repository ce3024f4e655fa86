package link

import (
	"math"

	"musterstone/link/weigh"
	"musterstone/model"
)

// veteran is the probability that a stone is a veteran's: what the words say, else what the design implies, else the base rate.
func veteran(s *model.Subject) float64 {
	r := s.Reading()
	if len(r.People) == 0 {
		return 0
	}
	if !r.Claim().Service.IsZero() {
		return sureVeteran
	}
	for _, service := range s.Implies.Services {
		if service.Code == "none" {
			return min(sureVeteran, max(baseVeteran, 1-service.Probability))
		}
	}
	return baseVeteran
}

const (
	// sureVeteran is the prior that a stone that names a service is a veteran's; the rest is misreading. House judgement.
	sureVeteran = 0.98
	// baseVeteran is the prior for a stone that gives no sign at all: in a ground of the period a few plain stones in a hundred are men who
	// served. House judgement; the evidence has to overcome it.
	baseVeteran = 0.04
)

// fit learns from all the stones together, by EM, what no single one can tell: which part of the veterans on the stones the rosters hold (the
// coverage, which it returns), and how the regiments of those whom they lack are spread. A stone's man is in the rosters as surely as its
// posterior says, which in turn depends on both.
//
// The second matters where a roster is of a few regiments and the stones are of many. That a stone and a record agree on a
// regiment is worth log2(m/u) with u the chance of that regiment among the men who are not in the rosters: a stone of the very regiment that the
// roster is of is likelier to be in it. The weights come with u counted on the rosters; fit shifts the bits of those who agree on the regiment by log2 of
// the roster's share over the share among the others.
func (l *Linker) fit(all []weighed) float64 {
	coverage := 0.5
	shifts := map[string]float64{}
	for range 50 {
		veterans, in := 0.0, 0.0
		lacking := map[string]float64{} // regiment: stones whose men the rosters lack
		lackingAll := 0.0
		for i := range all {
			w := &all[i]
			none := l.posteriorNone(w, coverage, shifts[w.regiment])
			in += 1 - none
			veterans += w.veteran
			if w.regiment != "" {
				n := w.veteran * none
				lacking[w.regiment] += n
				lackingAll += n
			}
		}
		next := min(0.99, (in+priorIn)/(veterans+priorIn+priorOut))
		moved := math.Abs(next - coverage)
		coverage = next
		for i := range all {
			if w := &all[i]; w.regiment != "" {
				others := (lacking[w.regiment] + priorStones*(w.share+1/priorRegiments)/2) / (lackingAll + priorStones)
				shift := math.Log2(w.share / others)
				moved = max(moved, math.Abs(shift-shifts[w.regiment])/100)
				shifts[w.regiment] = shift
			}
		}
		if moved < 1e-6 {
			break
		}
	}
	for i := range all {
		if w := &all[i]; w.regiment != "" {
			w.shiftUnit(shifts[w.regiment])
		}
	}
	return coverage
}

const (
	// priorIn and priorOut are the stones on which the coverage rests before any is seen: two men of four.
	priorIn, priorOut = 2, 2
	// priorStones are the stones on which the spread of the regiments that the rosters lack rests before any is seen: half of them spread as
	// the rosters' own, half evenly over priorRegiments. House judgement; Dyer's Compendium has about two thousand Union regiments.
	priorStones    = 10
	priorRegiments = 2000
)

// inRegiment reports whether the candidate's unit agrees down to the stone's regiment.
func inRegiment(c *model.Candidate) bool {
	for _, e := range c.Evidence {
		if e.Field == "unit" {
			return weigh.InRegiment(e.Level)
		}
	}
	return false
}

// shiftUnit adds bits to the candidates that agree on the regiment, and to their evidence for it.
func (w *weighed) shiftUnit(bits float64) {
	for i := range w.cands {
		c := &w.cands[i]
		for j := range c.Evidence {
			if e := &c.Evidence[j]; e.Field == "unit" && weigh.InRegiment(e.Level) {
				e.Bits += bits
				c.Bits += bits
			}
		}
	}
	sortCandidates(w.cands)
}

// posteriorNone is the probability that a stone's man is in none of the records, with the given bits added for those who agree on the regiment.
func (l *Linker) posteriorNone(w *weighed, coverage, shift float64) float64 {
	if len(l.Settled.Confirmed(w.subject.Stone.ID)) > 0 {
		return 0
	}
	if w.veteran == 0 {
		return 1
	}
	sum := 0.0
	for i := range w.cands {
		c := &w.cands[i]
		if c.Decided == string(model.Refused) {
			continue
		}
		bits := c.Bits
		if w.inReg[i] {
			bits += shift
		}
		sum += math.Exp(min(700, l.logOdds(w, bits, coverage)))
	}
	return 1 / (1 + sum)
}

// logOdds are a candidate's prior odds against none times its likelihood ratio, in logarithm to the base e.
func (l *Linker) logOdds(w *weighed, bits, coverage float64) float64 {
	prior := w.veteran * coverage
	return math.Log(prior/(1-prior)) - math.Log(float64(max(1, l.Counts.N))) + bits*math.Ln2
}

// posterior gives each candidate of a stone its probability, and none of them theirs:
//
//	P(k) = (λ/N) 2^Wk / ((1-λ) + (λ/N) Σ 2^Wj)
//
// with λ the prior that the stone's man is in the rosters and N the number of records: Bayes' rule over the N+1 hypotheses that the stone's man is record k, or none.
// Records that are not among the candidates are taken to weigh nothing. Decided pairs are as they were decided.
func (l *Linker) posterior(w *weighed, coverage float64) model.Proposal {
	p := model.Proposal{Stone: w.subject.Stone.ID, Candidates: append([]model.Candidate{}, w.cands...)}
	if n := len(l.Settled.Confirmed(p.Stone)); n > 0 {
		for i := range p.Candidates {
			if p.Candidates[i].Decided == string(model.Confirmed) {
				p.Candidates[i].Probability = 1 / float64(n)
			}
		}
		return p
	}
	top := 0.0 // the log odds of none against itself
	odds := make([]float64, len(p.Candidates))
	for i, c := range p.Candidates {
		odds[i] = l.logOdds(w, c.Bits, coverage)
		if c.Decided == string(model.Refused) || w.veteran == 0 {
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
	return p
}
