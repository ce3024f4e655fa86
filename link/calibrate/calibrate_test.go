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
		kinds []Kind
	}{
		{"too few", 199, func(p float64) float64 { return p * p }, []Kind{AsItIs}},
		{"well calibrated", 2000, func(p float64) float64 { return p }, []Kind{AsItIs}},
		{"too sure of itself", 2000, func(p float64) float64 { return 1 / (1 + math.Exp(-0.3*logOdds(p))) }, []Kind{Logistic, Isotonic}},
		{"a step", 2000, func(p float64) float64 {
			if p < .5 {
				return .02
			}
			return .6
		}, []Kind{Isotonic}},
	}
	for _, tt := range tests {
		m := Fit(decided(tt.n, tt.truly))
		ok := false
		for _, k := range tt.kinds {
			ok = ok || m.Kind == k
		}
		if !ok {
			t.Errorf("%s: got %s, want one of %v", tt.name, m.Kind, tt.kinds)
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

// TestPool works the pooling of adjacent violators by hand: yes, no, yes at .2, .4, .6 makes a half, a half, and all but one.
func TestPool(t *testing.T) {
	m := isotonic([]Decided{{.6, true}, {.2, true}, {.4, false}})
	if len(m.Steps) != 2 || math.Abs(m.Steps[0].P-.3) > 1e-12 || m.Steps[0].Is != .5 || m.Steps[1].Is != 1-floor {
		t.Errorf("got %+v", m.Steps)
	}
	if got := m.Of(.45); math.Abs(got-(.5+(1-floor-.5)/2)) > 1e-12 {
		t.Errorf("half way between the steps: %v", got)
	}
}
