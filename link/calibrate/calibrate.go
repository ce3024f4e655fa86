// Package calibrate learns from what people decided how far a probability is to be believed.
//
// A fit maps a probability to another, never turning the order round. Three are tried: the probability as it is, a logistic curve through
// it (Platt 1999), and the isotonic fit, the non-decreasing steps nearest to what was decided (Ayer and others 1955). The one that foretells best the decisions that it was
// not fitted to (cross-validation) is used.
package calibrate

import (
	"cmp"
	"math"
	"slices"
)

// Kind is the kind of a map.
type Kind string

// The kinds.
const (
	AsItIs   Kind = "as it is"
	Logistic Kind = "logistic"
	Isotonic Kind = "isotonic"
)

// Map takes a probability to a calibrated one. The zero Map leaves it as it is.
type Map struct {
	Kind Kind `json:"kind"`
	// A and B are those of the logistic map: log odds to A + B log odds.
	A float64 `json:"a,omitempty"`
	B float64 `json:"b,omitempty"`
	// Steps are those of the isotonic map, by probability; between two of them it goes straight.
	Steps []Step `json:"steps,omitempty"`
	// Decisions is how many it was fitted to; Before and After are the losses in bits a decision, foretold by the probability as it is and by the map.
	Decisions int     `json:"decisions"`
	Before    float64 `json:"before"`
	After     float64 `json:"after"`
}

// Step says what a probability comes to.
type Step struct {
	P, Is float64
}

// Decided is a probability that was given, and whether a person then said yes.
type Decided struct {
	P   float64
	Yes bool
}

const (
	// Least is how many decisions there must be, of both kinds together: common practice, no source.
	Least = 200
	// folds is into how many parts the decisions are cut for cross-validation.
	folds = 5
	// floor bounds a probability that is learned from a few hundred decisions, on both sides.
	floor = 0.002
	// gain is how many bits a decision a map must save to be used.
	gain = 0.002
)

// Fit learns a Map. With fewer than Least decisions, or with only one answer among them, it is the map that leaves a probability as it is. The order of
// the decisions matters for the cutting into parts only: every fifth goes into one.
func Fit(list []Decided) Map {
	none := Map{Kind: AsItIs, Decisions: len(list)}
	yes := 0
	for _, d := range list {
		if d.Yes {
			yes++
		}
	}
	if len(list) < Least || yes == 0 || yes == len(list) {
		return none
	}
	loss := map[Kind]float64{}
	for k := range folds {
		var train, test []Decided
		for i, d := range list {
			if i%folds == k {
				test = append(test, d)
			} else {
				train = append(train, d)
			}
		}
		for _, m := range []Map{{Kind: AsItIs}, logistic(train), isotonic(train)} {
			for _, d := range test {
				loss[m.Kind] += surprise(m.Of(d.P), d.Yes) / float64(len(list))
			}
		}
	}
	best := none
	best.Before, best.After = loss[AsItIs], loss[AsItIs]
	for _, m := range []Map{logistic(list), isotonic(list)} {
		if loss[m.Kind] < best.After-gain {
			m.Decisions, m.Before, m.After = len(list), loss[AsItIs], loss[m.Kind]
			best = m
		}
	}
	return best
}

// surprise is the loss of a probability by what was decided, in bits.
func surprise(p float64, yes bool) float64 {
	if !yes {
		p = 1 - p
	}
	return -math.Log2(max(p, 1e-6))
}

// Of maps a probability.
func (m Map) Of(p float64) float64 {
	switch m.Kind {
	case Logistic:
		return 1 / (1 + math.Exp(-(m.A + m.B*logOdds(p))))
	case Isotonic:
		i, exact := slices.BinarySearchFunc(m.Steps, p, func(s Step, p float64) int { return cmp.Compare(s.P, p) })
		switch {
		case exact:
			return m.Steps[i].Is
		case i == 0:
			return m.Steps[0].Is
		case i == len(m.Steps):
			return m.Steps[i-1].Is
		}
		a, b := m.Steps[i-1], m.Steps[i]
		return a.Is + (b.Is-a.Is)*(p-a.P)/(b.P-a.P)
	}
	return p
}

func logOdds(p float64) float64 {
	p = min(1-1e-6, max(1e-6, p))
	return math.Log(p / (1 - p))
}

// logistic fits by Newton's method, held to A = 0 and B = 1 as by a few decisions.
func logistic(list []Decided) Map {
	const hold = 2.0
	a, b := 0.0, 1.0
	for range 50 {
		ga, gb := hold*a, hold*(b-1)
		haa, hab, hbb := hold, 0.0, hold
		for _, d := range list {
			x := logOdds(d.P)
			p := 1 / (1 + math.Exp(-(a + b*x)))
			y := 0.0
			if d.Yes {
				y = 1
			}
			ga += p - y
			gb += (p - y) * x
			w := p * (1 - p)
			haa += w
			hab += w * x
			hbb += w * x * x
		}
		det := haa*hbb - hab*hab
		da, db := (hbb*ga-hab*gb)/det, (haa*gb-hab*ga)/det
		a, b = a-da, max(0.05, b-db)
		if math.Abs(da)+math.Abs(db) < 1e-9 {
			break
		}
	}
	return Map{Kind: Logistic, A: a, B: b}
}

// isotonic pools neighbours that stand the wrong way round until none does.
func isotonic(list []Decided) Map {
	sorted := slices.Clone(list)
	slices.SortStableFunc(sorted, func(a, b Decided) int { return cmp.Compare(a.P, b.P) })
	type pool struct{ p, yes, n float64 }
	var pools []pool
	for i := 0; i < len(sorted); {
		q := pool{}
		for p := sorted[i].P; i < len(sorted) && sorted[i].P == p; i++ {
			q.p += sorted[i].P
			q.n++
			if sorted[i].Yes {
				q.yes++
			}
		}
		pools = append(pools, q)
		for n := len(pools); n > 1 && pools[n-2].yes*pools[n-1].n >= pools[n-1].yes*pools[n-2].n; n = len(pools) {
			a, b := pools[n-2], pools[n-1]
			pools = append(pools[:n-2], pool{a.p + b.p, a.yes + b.yes, a.n + b.n})
		}
	}
	m := Map{Kind: Isotonic}
	for _, q := range pools {
		m.Steps = append(m.Steps, Step{P: q.p / q.n, Is: min(1-floor, max(floor, q.yes/q.n))})
	}
	return m
}
