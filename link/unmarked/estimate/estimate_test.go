package estimate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
)

// twoLists are men of whom n1 are on one list, n2 on another, m of them on both.
func twoLists(n1, n2, m int) []Man {
	var men []Man
	for i := range n1 + n2 - m {
		on := []float64{0, 0}
		if i < n1 {
			on[0] = 1
		}
		if i < m || i >= n1 {
			on[1] = 1
		}
		men = append(men, Man{P: 1, Named: true, On: on})
	}
	return men
}

// Krebs, Ecological Methodology (1989), box 2.1, as others quote it: 948 marked, 421 caught later, 167 of them marked; Chapman's estimate 2383. What was seen of
// it, and where, stands in the table of sources under capture-krebs-1989.
func TestKrebs(t *testing.T) {
	if res := Whole(twoLists(948, 421, 167), 0.9); math.Abs(res.N-2383) > 2 {
		t.Errorf("%v, published 2383", res.N)
	}
}

// Four lists of diabetes patients in an Italian community (Bruno and others, Diabetes Care 17, 1994): 1754, 452, 1135 and 173 names. The published table
// (manual of the R package CARE1, data set Diabetes: source capture-bruno-1994) gives for each pair Petersen's and Chapman's estimates, the standard
// error and Chao's 95% interval (formulas: capture-seber-1982), but not how many names are on both lists: those follow from the lists and Petersen's figure, being whole numbers. With numbers as
// large as these the distribution must come to Chapman's estimate within a tenth of the standard error, and to Chao's interval within two at either end.
func TestDiabetes(t *testing.T) {
	tests := []struct{ n1, n2, petersen, chapman, se, from, to int }{
		{1754, 452, 2353, 2351, 58, 2250, 2478},
		{1754, 1135, 2185, 2185, 22, 2146, 2233},
		{1754, 173, 2264, 2261, 88, 2117, 2468},
		{452, 1135, 2060, 2057, 77, 1922, 2224},
		{452, 173, 806, 803, 47, 725, 913},
		{1135, 173, 1558, 1555, 67, 1445, 1712},
	}
	for _, tt := range tests {
		m := int(math.Round(float64(tt.n1) * float64(tt.n2) / float64(tt.petersen)))
		res := Whole(twoLists(tt.n1, tt.n2, m), 0.95)
		if math.Abs(res.N-float64(tt.chapman)) > 0.1*float64(tt.se) || max(res.From-tt.from, tt.from-res.From, res.To-tt.to, tt.to-res.To) > 2 {
			t.Errorf("%d and %d, %d on both: %.1f (%d to %d), published %d (%d to %d)", tt.n1, tt.n2, m, res.N, res.From, res.To, tt.chapman, tt.from, tt.to)
		}
		if res.Both != float64(m) || res.Found != float64(tt.n1+tt.n2-m) || res.Named != res.Found {
			t.Errorf("both %v, found %v, named %v", res.Both, res.Found, res.Named)
		}
	}
}

// Small numbers, by Bayes' rule: A. B. Downey, Think Bayes, second edition, chapter 15, the problem of the Lincoln index (source capture-downey-2021). One tester finds 20 faults,
// another 15, 3 of them both find; each finds any fault with a chance of his own, uniform; the number of faults is uniform over 32, 37, … 347. The mean is 105.7656 there, with the
// chances on a grid of 51 values; here they are integrated, and our prior 1/N is taken out again.
func TestLincolnIndex(t *testing.T) {
	shares := mixture(twoLists(20, 15, 3), []int{0, 1}, true)
	sum, mean := 0.0, 0.0
	for n := 32; n < 350; n += 5 {
		p := shares[n] * float64(n)
		sum, mean = sum+p, mean+p*float64(n)
	}
	if got := mean / sum; math.Abs(got-105.7656) > 0.05 {
		t.Errorf("mean %.4f, published 105.7656", got)
	}
}

// By hand: one man on list 1, one other on list 2, nobody on both, uniform priors: P(N) ∝ 1/N · N(N-1) · ((N-1)!/(N+1)!)² = (N-1)/(N(N+1))² for N ≥ 2:
// 1/36, 2/144, 3/400, … Here each is compared to the next.
func TestWholeByHand(t *testing.T) {
	shares := mixture([]Man{{P: 1, On: []float64{1, 0}}, {P: 1, On: []float64{0, 1}}}, []int{0, 1}, true)
	if shares[0] != 0 || shares[1] != 0 || math.Abs(shares[2]/shares[3]-2) > 1e-9 || math.Abs(shares[3]/shares[4]-(2./144)/(3./400)) > 1e-9 {
		t.Errorf("%v", shares[:6])
	}
}

// One list says nothing of men who are on none.
func TestOneList(t *testing.T) {
	res := Whole([]Man{{P: 0.5, On: []float64{1}}, {P: 1, On: []float64{1}, Named: true}}, 0.9)
	if res.Estimated || res.From != 1 || res.To != 2 || res.Found != 1.5 || res.Named != 1 {
		t.Errorf("%+v", res)
	}
	if res := Whole(nil, 0.9); res.Estimated || res.N != 0 || res.To != 0 {
		t.Errorf("of nobody: %+v", res)
	}
}

// The interval holds the truth about as often as it says where its assumptions hold, over small and large grounds.
func TestCoverage(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	held, all := 0, 0
	for range 400 {
		n := 15 + random.IntN(80)
		p := []float64{0.25 + 0.5*random.Float64(), 0.25 + 0.5*random.Float64()}
		var men []Man
		for range n {
			on := []float64{0, 0}
			seen := false
			for i := range p {
				if random.Float64() < p[i] {
					on[i], seen = 1, true
				}
			}
			if seen {
				men = append(men, Man{P: 1, On: on})
			}
		}
		res := Whole(men, 0.9)
		if !res.Estimated {
			continue
		}
		all++
		if res.From <= n && n <= res.To {
			held++
		}
	}
	if share := float64(held) / float64(all); share < 0.87 || share > 0.95 {
		t.Errorf("the 90%% interval holds the truth in %.1f%% of %d", 100*share, all)
	}
}

// Where some men are on every list and others on none, the figure falls short, and the interval misses the truth on that side alone.
func TestUnevenFallsShort(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	short, over, ratio := 0, 0, 0.0
	for range 200 {
		const n = 100
		var men []Man
		for range n {
			p := 0.1 + 0.8*float64(random.IntN(2)) // nine in ten, or one
			on := []float64{0, 0}
			for i := range on {
				if random.Float64() < p {
					on[i] = 1
				}
			}
			if on[0]+on[1] > 0 {
				men = append(men, Man{P: 1, On: on})
			}
		}
		res := Whole(men, 0.9)
		ratio += res.N / n / 200
		switch {
		case res.To < n:
			short++
		case res.From > n:
			over++
		}
	}
	// By hand: half of the men with 0.9 and half with 0.1 for each list: n1 = n2 = 50, m = 50·0.81 + 50·0.01 = 41, and 50·50/41 = 61.
	if math.Abs(ratio-0.61) > 0.02 || short < 190 || over > 0 {
		t.Errorf("the figure is %.3f of the truth; below it %d times, above it %d times", ratio, short, over)
	}
}

func ExampleWhole() {
	var men []Man
	for i := range 20 {
		men = append(men, Man{P: 0.95, Named: true, On: []float64{float64(min(1, i%3)), float64(i % 2)}})
	}
	res := Whole(men, 0.9)
	fmt.Printf("about %.0f, %.0f%% interval %d to %d; %.0f of them named\n", res.N, 100*res.Level, res.From, res.To, res.Named)
	// Output:
	// about 21, 90% interval 18 to 28; 19 of them named
}

func BenchmarkWhole(b *testing.B) {
	var men []Man
	for i := range 200 {
		men = append(men, Man{P: 0.9, On: []float64{float64(i % 2), float64(i % 3 / 2)}})
	}
	for b.Loop() {
		Whole(men, 0.9)
	}
}
