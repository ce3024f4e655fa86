package weigh

import (
	"math"
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

// TestFrequencyWeight: with m .954 a surname that one man in ninety-one bears weighs 6.4384 bits, one in a million 19.8636 (Newcombe and others 1959: the rarer
// the name, the more its agreement says).
func TestFrequencyWeight(t *testing.T) {
	for _, tt := range []struct{ share, want float64 }{{.0110, 6.4384}, {1e-6, 19.8636}} {
		if got := bits(.954, tt.share); math.Abs(got-tt.want) > .00006 {
			t.Errorf("share %v: %.4f bits, want %.4f", tt.share, got, tt.want)
		}
	}
}
