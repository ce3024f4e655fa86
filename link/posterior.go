package link

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// veteran is the probability that a stone is a veteran's: what the words say, else what the design implies, else the base rate; plain is set where
// neither the words nor the design speak of a service, and for a row of a register whose words do not: no design speaks for it.
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
	return p, p < 0.5 || s.Stone.Register != nil
}

const (
	// sureVeteran is the prior that a stone that names a service is a veteran's; the rest is misreading. House judgement.
	sureVeteran = 0.98
	// baseVeteran is the prior for a stone that gives no sign at all: in a ground of the period a few plain stones in a hundred are men who
	// served. House judgement; the evidence has to overcome it.
	baseVeteran = 0.04
	// marks is the share of stones naming a veteran only as another's husband or father under which he lies too: most men have a stone of their own. House judgement.
	marks = 0.1
)

// logOdds are a candidate's prior odds against none times its likelihood ratio, in logarithm to the base e.
func (l *Linker) logOdds(w *weighed, bits float64) float64 {
	return math.Log(w.prior/(1-w.prior)) - math.Log(float64(max(1, l.Counts.N))) + bits*math.Ln2
}

// reconsider turns the priors of a stone into others by its odds: what its candidates come to together against none. Of those that make nearly all of them doubt is asked, and the mean of it given too.
func (l *Linker) reconsider(w *weighed, doubt func(candidate int) float64, turn func(prior, odds, doubt float64) float64) {
	const little = 1e-3 // of the odds
	var room [64]float64
	of := append(room[:0], make([]float64, w.count())...)
	turned := func(prior float64, open bool) float64 {
		if prior == 0 {
			return 0
		}
		at, odds := *w, 0.0
		at.prior = prior
		for i := range of {
			of[i] = 0
			if open || w.decided(i) != refused {
				of[i] = math.Exp(min(600, l.logOdds(&at, w.bits(i))))
			}
			odds += of[i]
		}
		if odds == 0 {
			return prior
		}
		sum, told := 0.0, 0.0
		for i, x := range of {
			if x > little*odds {
				sum, told = sum+x*doubt(i), told+x
			}
		}
		if told > 0 {
			sum /= told
		}
		return turn(prior, odds, sum)
	}
	same := w.open == w.prior
	for i := range of {
		same = same && w.decided(i) != refused
	}
	w.prior = turned(w.prior, false)
	if same {
		w.open = w.prior
	} else {
		w.open = turned(w.open, true)
	}
}

// answer is what becomes of a stone before it is told: the probability of none, and of each candidate that matters.
type answer struct {
	none   float64
	list   []choice
	rivals []rival     // claims of other stones that are told
	twins  [][2]uint16 // choices that look like one man: an assigned one, and another
}

// choice is a candidate of a stone with its probability.
type choice struct {
	p                float64
	cand             uint16
	proposed, second bool
}

// rival is another stone that claims the record of a choice.
type rival struct {
	choice uint16
	stone  int32
}

// posterior gives each candidate of a stone its probability, and none of them theirs:
//
//	P(k) = (λ/N) 2^Wk / ((1-λ) + (λ/N) Σ 2^Wj)
//
// with λ the prior that the stone's man is in the rosters and N the number of records: Bayes' rule over the N+1 hypotheses that the stone's man is record k, or none.
// Records that are not among the candidates are taken to weigh nothing. Decided pairs are as they were decided.
func (l *Linker) posterior(w *weighed) answer {
	var a answer
	odds := make([]float64, w.count())
	if n := len(l.Settled.Confirmed(w.stone)); n > 0 {
		for i := range odds {
			if w.decided(i) == confirmed {
				odds[i] = 1 / float64(n)
			}
		}
		a.list = w.kept(odds)
		return a
	}
	top := 0.0 // the log odds of none against itself
	for i := range odds {
		odds[i] = l.logOdds(w, w.bits(i))
		if w.decided(i) == refused || w.prior == 0 {
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
	a.none = math.Exp(-top) / total
	a.list = w.kept(odds)
	return a
}

// kept gives the choices among the candidates: all but those that can neither contend for their men nor be among the first when all is settled, undecided ones below contend,
// beyond the best of them. Nothing that is told changes.
func (w *weighed) kept(probability []float64) []choice {
	var buf [64]int
	weak := buf[:0]
	for i, p := range probability {
		if p < contend && w.decided(i) == undecided {
			weak = append(weak, i)
		}
	}
	n := len(probability)
	var gone []bool
	if len(weak) > shown {
		slices.SortStableFunc(weak, func(a, b int) int {
			return cmp.Or(cmp.Compare(probability[b], probability[a]), cmp.Compare(w.bits(b), w.bits(a)))
		})
		gone = make([]bool, n)
		for _, i := range weak[shown:] {
			gone[i] = true
			n--
		}
	}
	out := make([]choice, 0, n)
	for i, p := range probability {
		if gone == nil || !gone[i] {
			out = append(out, choice{p: p, cand: uint16(i)})
		}
	}
	return out
}
