package weigh

import (
	"cmp"
	"math"
	"slices"
	"testing"
)

// TestPublishedWeights works out the weights of the Australian Bureau of Statistics, Information Paper: Linking Death Registrations to the 2011 Census
// (3302.0.55.004), Appendix C, Table C.1, first pass: m and u are as printed there, for agreement, disagreement and a missing value.
func TestPublishedWeights(t *testing.T) {
	agree := 0.0
	for _, tt := range []struct {
		field                    string
		m, u                     [3]float64
		agree, disagree, missing float64
	}{
		{"first name", [3]float64{.839, .158, .003}, [3]float64{.006, .989, .005}, 7.1276, -2.6460, -.7370},
		{"surname", [3]float64{.954, .041, .006}, [3]float64{.007, .987, .007}, 7.0905, -4.5894, -.2224},
		{"sex", [3]float64{.966, .017, .017}, [3]float64{.512, .476, .012}, .9159, -4.8074, .5025},
		{"day of birth", [3]float64{.903, .039, .058}, [3]float64{.030, .890, .080}, 4.9117, -4.5123, -.4639},
		{"month of birth", [3]float64{.923, .019, .058}, [3]float64{.077, .844, .080}, 3.5834, -5.4732, -.4639},
		{"age", [3]float64{.975, .019, .006}, [3]float64{.051, .942, .007}, 4.2568, -5.6317, -.2224},
		{"street number", [3]float64{.751, .047, .202}, [3]float64{.112, .595, .293}, 2.7453, -3.6622, -.5365},
		{"street name", [3]float64{.881, .118, .001}, [3]float64{.389, .573, .038}, 1.1794, -2.2797, -5.2479},
		{"birthplace", [3]float64{.900, .015, .085}, [3]float64{.525, .414, .061}, .7776, -4.7866, .4787},
		{"year of arrival", [3]float64{.079, .020, .901}, [3]float64{.002, .036, .962}, 5.3038, -.8480, -.0945},
		{"marital status", [3]float64{.879, .069, .052}, [3]float64{.293, .534, .173}, 1.5850, -2.9522, -1.7342},
	} {
		for i, want := range []float64{tt.agree, tt.disagree, tt.missing} {
			if got := bits(tt.m[i], tt.u[i]); math.Abs(got-want) > .00006 {
				t.Errorf("%s, outcome %d: %.4f bits, want %.4f", tt.field, i, got, want)
			}
		}
		agree += bits(tt.m[0], tt.u[0])
	}
	if math.Abs(agree-39.4769) > .0001 {
		t.Errorf("all that agree add up to %.4f bits, want 39.4769", agree)
	}
}

// TestDecisionRule orders the eight patterns of three fields by their weights and cuts them by the rule of Fellegi and Sunter (1969): link while the false ones, summed
// from the top, stay within their bound, and leave from the bottom while the true ones lost do. The values follow from m and u by the rule, worked by hand.
func TestDecisionRule(t *testing.T) {
	m, u := [3]float64{.9, .8, .95}, [3]float64{.1, .05, .5}
	type pattern struct {
		name             string
		weight, pm, pu   float64
		sumU, notLinkedM float64
	}
	var list []pattern
	for n := range 8 {
		p := pattern{pm: 1, pu: 1}
		for i := range 3 {
			if n>>(2-i)&1 == 1 {
				p.name, p.weight, p.pm, p.pu = p.name+"1", p.weight+bits(m[i], u[i]), p.pm*m[i], p.pu*u[i]
			} else {
				p.name, p.weight, p.pm, p.pu = p.name+"0", p.weight+bits(1-m[i], 1-u[i]), p.pm*(1-m[i]), p.pu*(1-u[i])
			}
		}
		list = append(list, p)
	}
	slices.SortFunc(list, func(a, b pattern) int { return cmp.Compare(b.weight, a.weight) })
	falseOnes, left := 0.0, 1.0
	for i := range list {
		falseOnes += list[i].pu
		left -= list[i].pm
		list[i].sumU, list[i].notLinkedM = falseOnes, left
	}
	const falseBound, lostBound = .0051, .034
	decision := func(p pattern) string {
		switch {
		case p.sumU <= falseBound:
			return "link"
		case p.notLinkedM+p.pm <= lostBound:
			return "leave"
		}
		return "look"
	}
	for i, want := range []struct {
		name               string
		weight, sumU, left float64
		decision           string
	}{
		{"111", 8.0959, .0025, .3160, "link"}, {"110", 3.8480, .0050, .2800, "link"}, {"101", 1.8480, .0525, .1090, "look"}, {"011", 1.7561, .0750, .0330, "look"},
		{"100", -2.3999, .1225, .0240, "leave"}, {"010", -2.4919, .1450, .0200, "leave"}, {"001", -4.4919, .5725, .0010, "leave"}, {"000", -8.7398, 1, 0, "leave"},
	} {
		p := list[i]
		if p.name != want.name || math.Abs(p.weight-want.weight) > .00006 || math.Abs(p.sumU-want.sumU) > .00006 || math.Abs(p.notLinkedM-want.left) > .00006 || decision(p) != want.decision {
			t.Errorf("place %d: got %s %.4f %.4f %.4f %s, want %+v", i, p.name, p.weight, p.sumU, p.notLinkedM, decision(p), want)
		}
	}
}

// TestPublishedThresholds: thresholds and the share of the boundary are as printed in N. Mukhopadhyay, Probability and Statistical Inference, p. 411, Table 8.3.2
// (values of k and gamma in the Bernoulli case), for most powerful tests at a bound alpha. The upper threshold of Fellegi and Sunter (1969) is that test: patterns are taken by falling
// m/u while the false ones, summed from the top, stay within the bound, and of the pattern on the boundary as large a share as fills it. Here n fields agree with the same u each, so
// that a pattern's weight grows with the number of fields that agree: more than k are linked, and of those with k the share gamma (printed to three digits, some rounded and some cut).
func TestPublishedThresholds(t *testing.T) {
	for _, tt := range []struct {
		n        int
		bound, u float64
		k        int
		gamma    float64
	}{
		{10, .10, .2, 4, .763}, {10, .10, .4, 6, .406}, {10, .05, .2, 4, .195}, {10, .05, .6, 8, .030},
		{20, .05, .3, 9, .031}, {20, .05, .5, 14, .792}, {25, .10, .5, 16, .757}, {25, .10, .6, 18, .330},
	} {
		for _, m := range []float64{tt.u + .05, .95} { // whatever the alternative, the threshold is the same
			type pattern struct {
				agree      int
				weight, pu float64
			}
			var list []pattern
			for agree := range tt.n + 1 {
				a, d := float64(agree), float64(tt.n-agree)
				ways, _ := math.Lgamma(float64(tt.n + 1))
				in, _ := math.Lgamma(a + 1)
				out, _ := math.Lgamma(d + 1)
				list = append(list, pattern{agree, a*bits(m, tt.u) + d*bits(1-m, 1-tt.u), math.Exp(ways-in-out) * math.Pow(tt.u, a) * math.Pow(1-tt.u, d)})
			}
			slices.SortFunc(list, func(a, b pattern) int { return cmp.Compare(b.weight, a.weight) })
			falseOnes, i := 0.0, 0
			for ; falseOnes+list[i].pu <= tt.bound; i++ {
				falseOnes += list[i].pu
			}
			if gamma := (tt.bound - falseOnes) / list[i].pu; list[i].agree != tt.k || math.Abs(gamma-tt.gamma) > .001 {
				t.Errorf("%d fields, u %v, m %v, bound %v: boundary %d, share %.3f, want %d, %.3f", tt.n, tt.u, m, tt.bound, list[i].agree, gamma, tt.k, tt.gamma)
			}
		}
	}
}

// TestFrequencyWeight: with m .954 a surname that one man in ninety-one bears weighs 6.4384 bits, one in a million 19.8636 (Newcombe and others 1959: the rarer
// the name, the more its agreement says).
func TestFrequencyWeight(t *testing.T) {
	for _, tt := range []struct{ share, want float64 }{{.0110, 6.4384}, {1e-6, 19.8636}} {
		if got := bits(.954, tt.share); math.Abs(got-tt.want) > .00006 {
			t.Errorf("share %v: %.4f bits, want %.4f", tt.share, got, tt.want)
		}
	}
}
