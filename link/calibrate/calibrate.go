// Package calibrate learns from what people decided how far a probability is to be believed.
//
// A fit maps a probability to another, never turning the order round: a logistic curve through it (Platt 1999), or as it is. The curve must foretell the decisions that it was
// not fitted to (cross-validation), and by more than its gain is uncertain: the rule of one standard error (L. Breiman and others, Classification and Regression Trees, 1984).
//
// The weights have learned from the very decisions before, and foretell these better than they will others. That a curve would make answers surer tells of that rather than of what is true, so
// that it may take certainty off and add none.
package calibrate

import (
	"math"
)

// Kind is the kind of a map.
type Kind string

// The kinds.
const (
	AsItIs   Kind = "as it is"
	Logistic Kind = "logistic"
)

// Map takes a probability to a calibrated one. The zero Map leaves it as it is.
type Map struct {
	Kind Kind `json:"kind"`
	// A and B are those of the logistic map: log odds to A + B log odds.
	A float64 `json:"a,omitempty"`
	B float64 `json:"b,omitempty"`
	// Decisions is how many it was fitted to; Before and After are the losses in bits a decision, foretold by the probability as it is and by the map.
	Decisions int     `json:"decisions"`
	Before    float64 `json:"before"`
	After     float64 `json:"after"`
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
	before := 0.0
	var saved []float64 // in bits, at each decision
	for k := range folds {
		var train, test []Decided
		for i, d := range list {
			if i%folds == k {
				test = append(test, d)
			} else {
				train = append(train, d)
			}
		}
		m := logistic(train)
		for _, d := range test {
			as := surprise(d.P, d.Yes)
			before += as / float64(len(list))
			saved = append(saved, as-surprise(m.Of(d.P), d.Yes))
		}
	}
	gain, uncertain := meanOf(saved)
	m := none
	if gain > uncertain {
		m = logistic(list)
		m.Decisions = len(list)
	} else {
		gain = 0
	}
	m.Before, m.After = before, before-gain
	return m
}

// meanOf is the mean of some values, and its standard error.
func meanOf(list []float64) (mean, uncertain float64) {
	n, squares := float64(len(list)), 0.0
	for _, x := range list {
		mean += x / n
	}
	for _, x := range list {
		squares += (x - mean) * (x - mean)
	}
	return mean, math.Sqrt(squares/(n-1)) / math.Sqrt(n)
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
	if m.Kind == Logistic {
		return 1 / (1 + math.Exp(-(m.A + m.B*logOdds(p))))
	}
	return p
}

func logOdds(p float64) float64 {
	p = min(1-1e-6, max(1e-6, p))
	return math.Log(p / (1 - p))
}

// logistic fits by Newton's method, held to A = 0 and B = 1 as by a few decisions, B never above.
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
		if b-db > 1 { // B stands at its bound: A alone
			da, db = (ga-hab*(b-1))/haa, b-1
		}
		a, b = a-da, max(0.05, b-db)
		if math.Abs(da)+math.Abs(db) < 1e-9 {
			break
		}
	}
	return Map{Kind: Logistic, A: a, B: b}
}
