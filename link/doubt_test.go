package link

import (
	"math"
	"testing"

	"musterstone/link/weigh"
	"musterstone/model"
)

// TestDoubt holds the doubt of an m to the variance of the logarithm of a Gamma distribution, which is 1/n and a little more of n pairs, and to what a single roster adds to all.
func TestDoubt(t *testing.T) {
	for _, tt := range []struct {
		name             string
		all, common, own float64
		want             float64
	}{
		{"nothing is believed and nothing was seen", 0, 0, 0, 0},
		{"seen often, by all and here", 4000, 100, 900, math.Log1p(1./1000 + .01/4000)},
		{"seen by others only: theirs, and the roster's own distance from them", 100, 2, 0, math.Log1p(1./2 + 1./100)},
		{"seen once", .5, .01, 1, math.Log1p(1/1.01 + .01*.01/1.01/1.01/.5)},
	} {
		if got := doubt(tt.all, tt.common, tt.own); math.Abs(got-tt.want) > 1e-12 {
			t.Errorf("%s: %v, want %v", tt.name, got, tt.want)
		}
	}
}

// TestAveraged holds the mean over sixteen quantiles to the integral over the normal law in small steps, and to what must be so: never above the odds, nothing without doubt.
func TestAveraged(t *testing.T) {
	for _, odds := range []float64{1e-6, .01, .3, 1, 9, 99, 1e5} {
		if got := averaged(odds, 0); got != odds {
			t.Errorf("odds of %v without doubt become %v", odds, got)
		}
		for _, variance := range []float64{.01, .3, 1} {
			yes, all := 0.0, 0.0
			deviation := math.Sqrt(variance)
			for z := -8.; z <= 8; z += .001 {
				x := odds * math.Exp(deviation*z-variance/2)
				density := math.Exp(-z * z / 2)
				yes, all = yes+density*x/(1+x), all+density
			}
			got := averaged(odds, variance)
			p, want := got/(1+got), yes/all
			if math.Abs(p-want) > (.005+.035*variance)*want {
				t.Errorf("odds of %v with a variance of %v: %.5f, want %.5f", odds, variance, p, want)
			}
			if got > odds*(1+1e-12) {
				t.Errorf("odds of %v with a variance of %v become greater: %v", odds, variance, got)
			}
		}
	}
}

// TestDoubtTold: two stones whose men have the same odds, one by a level that was seen in two pairs and one by a level that was seen in thousands: the first is told with less.
func TestDoubtTold(t *testing.T) {
	ladder := fitLadder()
	rare, common := ladder.number[[2]string{"unit", "one digit"}], ladder.number[[2]string{"unit", "company"}]
	f := NewFit()
	f.Coverage, f.Rosters, f.Stage = .5, []string{""}, learnStage
	f.resetM(ladder)
	f.Seen[0][common], f.Seen[0][rare] = 3000, 2
	f.maximise(ladder)
	if f.Doubt[0][rare] < .2 || f.Doubt[0][common] > .002 {
		t.Fatalf("the doubt of a level seen twice is %v, of one seen three thousand times %v", f.Doubt[0][rare], f.Doubt[0][common])
	}
	told := func(level string) float64 {
		l := &Linker{Counts: &weigh.Counts{N: 100}}
		bits := 8 - f.Gain[0][ladder.number[[2]string{"unit", level}]]
		all := []weighed{{standing: Standing{Veteran: .98, Plain: true}, records: []*model.Record{{}},
			cands: []model.Candidate{{Record: "a", Bits: bits, Evidence: []model.Evidence{{Field: "unit", Level: level, Bits: bits}}}}}}
		l.apply(f, all)
		return 1 - l.posterior(&all[0]).none
	}
	a, b := told("one digit"), told("company")
	if odds := b / (1 - b); a > b-.005 || math.Abs(odds-averaged(odds, f.Doubt[0][common])) > .01*odds {
		t.Errorf("a man known by a level seen twice is told with %.4f, by one seen three thousand times with %.4f", a, b)
	}
	f.Refused = "for a test"
	if a, b := told("one digit"), told("company"); math.Abs(a-b) > 1e-9 {
		t.Errorf("what was learned is refused, and a level counts at %.4f, another at %.4f", a, b)
	}
}

// TestTimesAsMany holds the share of a kind of plain stones to where the slope of the logarithm of its chance is 0, and to what it must do with few stones and with many.
func TestTimesAsMany(t *testing.T) {
	for _, tt := range []struct {
		name               string
		in, want, believed float64
		least, most        float64
	}{
		{"no stone", 0, 0, 1.7, 1.7, 1.7},
		{"as many as there were to be", 12, 12, 1, 1, 1},
		{"few are not taken for many", 0, .3, 1, .75, .85},
		{"three times as many, and a dozen of them", 12, 4, 1, 2.6, 3},
		{"a third, and a dozen to be", 4, 12, 1, 1. / 3, .42},
		{"many count as they are", 3000, 1000, 1, 2.99, 3},
		{"none of many", 0, 400, 1, 0, .02},
	} {
		got := timesAsMany(tt.in, tt.want, tt.believed)
		if got < tt.least-1e-9 || got > tt.most+1e-9 {
			t.Errorf("%s: %v, want %v to %v", tt.name, got, tt.least, tt.most)
		}
		if slope := tt.in - tt.want*got - math.Log(got/tt.believed)/(plainSpread*plainSpread); math.Abs(slope) > 1e-6*(1+tt.in) {
			t.Errorf("%s: the slope at %v is %v", tt.name, got, slope)
		}
	}
}
