package calibrate

import (
	"math"
	"math/rand/v2"
	"testing"
)

// decided draws n probabilities and answers yes as often as truly(p) says.
func decided(n int, truly func(p float64) float64) []Decided {
	r := rand.New(rand.NewPCG(1, 2))
	out := make([]Decided, n)
	for i := range out {
		p := r.Float64()
		out[i] = Decided{p, r.Float64() < truly(p)}
	}
	return out
}

func TestFit(t *testing.T) {
	tests := []struct {
		name  string
		n     int
		truly func(p float64) float64
		kind  Kind
	}{
		{"too few", 199, func(p float64) float64 { return p * p }, AsItIs},
		{"well calibrated", 2000, func(p float64) float64 { return p }, AsItIs},
		{"too sure of itself", 2000, func(p float64) float64 { return 1 / (1 + math.Exp(-0.3*logOdds(p))) }, Logistic},
	}
	for _, tt := range tests {
		m := Fit(decided(tt.n, tt.truly))
		if m.Kind != tt.kind {
			t.Errorf("%s: got %s, want %s", tt.name, m.Kind, tt.kind)
			continue
		}
		if m.Kind == AsItIs {
			continue
		}
		last := 0.0
		for p := 0.01; p < 1; p += 0.01 {
			q := m.Of(p)
			if q < last-1e-12 || q <= 0 || q >= 1 {
				t.Errorf("%s: %v is mapped to %v, after %v", tt.name, p, q, last)
			}
			last = q
			if p > .1 && p < .9 && math.Abs(p-.5) > .06 && math.Abs(q-tt.truly(p)) > .15 {
				t.Errorf("%s: %v is mapped to %v, want near %v", tt.name, p, q, tt.truly(p))
			}
		}
		if m.After >= m.Before {
			t.Errorf("%s: the loss goes from %v to %v", tt.name, m.Before, m.After)
		}
	}
}

// TestBounds: a curve takes certainty off and adds none, and what a few decisions make of chance is no reason for one.
func TestBounds(t *testing.T) {
	if m := logistic(decided(2000, func(p float64) float64 { return 1 / (1 + math.Exp(-3*logOdds(p))) })); m.B != 1 || math.Abs(m.A) > .3 {
		t.Errorf("decisions surer than what was foretold: A %v, B %v, want near 0, and 1", m.A, m.B)
	}
	// Too sure of yes by 1.5: A by itself, as the least of the loss that it is.
	list := decided(2000, func(p float64) float64 { return 1 / (1 + math.Exp(1.5-logOdds(p))) })
	m := logistic(list)
	if math.Abs(m.A+1.5) > .2 || m.B > 1 || m.B < .85 {
		t.Errorf("too sure of yes: A %v, B %v, want near -1.5 and 1", m.A, m.B)
	}
	taken := 0
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 5))
		var list []Decided
		for range 250 {
			p := 1 / (1 + math.Exp(-6*r.NormFloat64()))
			list = append(list, Decided{p, r.Float64() < p})
		}
		if Fit(list).Kind != AsItIs {
			taken++
		}
	}
	if taken > 20 {
		t.Errorf("of 200 lists whose probabilities are true %d were mapped", taken)
	}
	t.Log("mapped though true:", taken, "of 200")
}
