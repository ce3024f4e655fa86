package assess

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"musterstone/model"
)

// agreements are the patterns of fields that agree or do not, as pairs: their weight in bits, and the shares of matches and others that show them.
func agreements(m, u []float64) (list []Pairs) {
	for n := range 1 << len(m) {
		p := Pairs{Matches: 1, Unmatched: 1}
		for i := range m {
			if n>>i&1 == 1 {
				p.Matches, p.Unmatched = p.Matches*m[i], p.Unmatched*u[i]
			} else {
				p.Matches, p.Unmatched = p.Matches*(1-m[i]), p.Unmatched*(1-u[i])
			}
		}
		p.Weight = math.Log2(p.Matches / p.Unmatched)
		list = append(list, p)
	}
	return list
}

// TestDecide parts the eight patterns of three fields, of which m and u are given. Weights and sums, from the heaviest down, follow from them by hand: 8.0959 and .0025 of the false ones, 3.8480 and .0050, 1.8480 and
// .0525, 1.7561 and .0750, -2.3999, -2.4919, -4.4919, -8.7398; of the true ones .0330 weigh -2.3999 and less, .1090 weigh 1.7561 and less.
func TestDecide(t *testing.T) {
	for _, tt := range []struct {
		name        string
		mu, lambda  float64
		link, leave float64
		false, lost float64
	}{
		{"two are linked, two for a person, four left", .0051, .034, 3.8480, -2.3999, .0050, .0330},
		{"just under a boundary it goes to a person", .0049, .0329, 8.0959, -2.4919, .0025, .0240},
		{"nothing may be linked or left", .001, .0005, math.Inf(1), math.Inf(-1), 0, 0},
		{"either would do: what is likelier a match than not is linked", .2, .2, 1.7561, -2.3999, .0750, .0330},
		{"all may be linked and left", 1.1, 1.1, 1.7561, -2.3999, .0750, .0330},
	} {
		r := Decide(agreements([]float64{.9, .8, .95}, []float64{.1, .05, .5}), tt.mu, tt.lambda)
		if got, want := fmt.Sprintf("%.4f %.4f %.4f %.4f", r.Link, r.Leave, r.False, r.Lost), fmt.Sprintf("%.4f %.4f %.4f %.4f", tt.link, tt.leave, tt.false, tt.lost); got != want {
			t.Errorf("%s: %s, want %s", tt.name, got, want)
		}
	}
}

// TestDecideAlike: pairs of one weight are treated alike, and a bound that would part them parts them not.
func TestDecideAlike(t *testing.T) {
	list := []Pairs{{.5, .1, .2}, {.9, .3, .01}, {.5, .2, .1}, {.1, .05, .5}, {.9, .3, .02}, {.1, .05, .17}}
	if r := Decide(list, .2, .07); r.Link != .9 || r.Leave != math.Inf(-1) {
		t.Errorf("got %+v", r)
	}
	if r := Decide([]Pairs{{Weight: 1, Unmatched: 2}, {Weight: 2, Unmatched: 1}}, 0, 0); r != (Rule{Link: math.Inf(1), Leave: 2}) {
		t.Errorf("where nothing matches: %+v", r)
	}
	if r := Decide(nil, .02, .02); r != (Rule{Link: math.Inf(1), Leave: math.Inf(-1)}) {
		t.Errorf("of nothing: %+v", r)
	}
	if r := Decide([]Pairs{{3, 9, .5}, {2, 2, 4}, {1, 1, 30}}, 0, .2); r.Leave != 1 || r.Lost != 1./12 { // bounds are shares: of twelve matches 2.4 may be left
		t.Errorf("got %+v", r)
	}
	if r := Decide([]Pairs{{3, 9, .5}, {2, 2, 4}, {1, 1, 30}}, .2, 0); r.Link != 2 || r.False != 4.5/34.5 {
		t.Errorf("got %+v", r)
	}
	if r := Decide(list, .02, .11); r.Link != math.Inf(1) || r.Leave != .1 {
		t.Errorf("got %+v", r)
	}
}

// TestPublishedThresholds: thresholds and the share of the boundary are as printed in N. Mukhopadhyay, Probability and Statistical Inference, p. 411, Table 8.3.2 (values of k and gamma in the
// Bernoulli case), and p. 412, Table 8.3.3 (the Poisson case), for most powerful tests at a bound alpha. The upper cut of Fellegi and Sunter is that test: pairs are taken by falling weight while the false ones
// stay within the bound, and the theory fills it with a share of those on the boundary. Here weight grows with a number, of fields that agree each with the same u, or of a Poisson distribution: what is above k is
// linked, and the share of k that would fill the bound is gamma (printed to three digits, some rounded and some cut).
func TestPublishedThresholds(t *testing.T) {
	binomial := func(n int, p float64) func(int) float64 {
		return func(k int) float64 {
			all, _ := math.Lgamma(float64(n + 1))
			in, _ := math.Lgamma(float64(k + 1))
			out, _ := math.Lgamma(float64(n - k + 1))
			return math.Exp(all-in-out) * math.Pow(p, float64(k)) * math.Pow(1-p, float64(n-k))
		}
	}
	poisson := func(mean float64) func(int) float64 {
		return func(k int) float64 {
			of, _ := math.Lgamma(float64(k + 1))
			return math.Exp(float64(k)*math.Log(mean) - mean - of)
		}
	}
	for _, tt := range []struct {
		table    string
		n        int
		bound, u float64
		k        int
		gamma    float64
	}{
		{"8.3.2", 10, .10, .2, 4, .763}, {"8.3.2", 10, .10, .4, 6, .406}, {"8.3.2", 10, .05, .2, 4, .195}, {"8.3.2", 10, .05, .6, 8, .030},
		{"8.3.2", 20, .05, .3, 9, .031}, {"8.3.2", 20, .05, .5, 14, .792}, {"8.3.2", 25, .10, .5, 16, .757}, {"8.3.2", 25, .10, .6, 18, .330},
		{"8.3.3", 10, .10, .15, 3, .274}, {"8.3.3", 10, .10, .30, 5, .160}, {"8.3.3", 10, .05, .15, 4, .668}, {"8.3.3", 10, .05, .35, 7, .604},
		{"8.3.3", 20, .05, .40, 13, .534}, {"8.3.3", 20, .05, .50, 15, .037}, {"8.3.3", 25, .10, .28, 10, .021}, {"8.3.3", 25, .10, .40, 14, .317},
	} {
		for _, m := range []float64{tt.u + .05, .95} { // whatever the alternative, the threshold is the same
			most, pu, pm := tt.n, binomial(tt.n, tt.u), binomial(tt.n, m)
			if tt.table == "8.3.3" {
				most, pu, pm = 80, poisson(float64(tt.n)*tt.u), poisson(float64(tt.n)*m)
			}
			var list []Pairs
			for k := range most + 1 {
				list = append(list, Pairs{Weight: math.Log2(pm(k) / pu(k)), Matches: pm(k), Unmatched: pu(k)})
			}
			byNumber := slices.Clone(list)
			// The lower bound is nothing, so that no pair may be both linked and left.
			r := Decide(list, tt.bound, 0)
			k := slices.IndexFunc(byNumber, func(p Pairs) bool { return p.Weight == r.Link }) - 1
			if gamma := (tt.bound - r.False) / pu(k); k != tt.k || math.Abs(gamma-tt.gamma) > .001 {
				t.Errorf("table %s, n %d, %v, alternative %v, bound %v: boundary %d, share %.3f, want %d, %.3f", tt.table, tt.n, tt.u, m, tt.bound, k, gamma, tt.k, tt.gamma)
			}
			// By the other cut the same: of the matches, turned round, as many are left.
			for i := range list {
				list[i].Weight, list[i].Matches, list[i].Unmatched = -list[i].Weight, list[i].Unmatched, list[i].Matches
			}
			if turned := Decide(list, 0, tt.bound); turned.Leave != -r.Link || math.Abs(turned.Lost-r.False) > 1e-12 {
				t.Errorf("table %s, n %d, %v: turned round %+v, want %+v", tt.table, tt.n, tt.u, turned, r)
			}
		}
	}
}

// TestReview works the cuts of four stones and ten records by hand. The probabilities foretell .99 + .9 + .6 + .02 = 2.51 matches; with a precision of .8 as many as .502 false links may be made and .502 matches left. The false ones
// come to .01, .11 and .51 with the third, which a person gets; those that are left to .02, and with the third to .62.
func TestReview(t *testing.T) {
	proposals := []model.Proposal{
		{Stone: "a", None: .01, Candidates: []model.Candidate{{Record: "1", Probability: .5}, {Record: "2", Probability: .49, SameAs: "1"}}},
		{Stone: "b", None: .1, Candidates: []model.Candidate{cand("3", .9, true)}},
		{Stone: "c", None: .38, Candidates: []model.Candidate{cand("4", .6, false), cand("5", .02, false)}},
		{Stone: "d", None: 1},
		{Stone: "e", None: .1, Candidates: []model.Candidate{cand("6", .9, true)}}, // of which nothing is known
	}
	c := Review(proposals, Truth{"a": {"2"}, "b": {"9"}, "c": {"4"}, "d": {"7"}, "e": {Unknown}}, 10, .8)
	if math.Abs(c.Lambda-.2) > 1e-12 || math.Abs(c.Mu-.2*2.51/(40-2.51)) > 1e-12 {
		t.Errorf("bounds %v, %v", c.Mu, c.Lambda)
	}
	for _, tt := range []struct {
		name string
		got  Part
		want Part
	}{{"linked", c.Linked, Part{.9, 2, 1.89, 1}}, {"for a person", c.Review, Part{.6, 1, .6, 1}}, {"left", c.Left, Part{0, 37, .02, 2}}} {
		if tt.got.From != tt.want.From || tt.got.Pairs != tt.want.Pairs || tt.got.Right != tt.want.Right || math.Abs(tt.got.Expected-tt.want.Expected) > 1e-12 {
			t.Errorf("%s: %+v, want %+v", tt.name, tt.got, tt.want)
		}
	}
	if c.Unseen != 2 {
		t.Errorf("%d unseen, want 2", c.Unseen)
	}
	// A man who is listed again, in a row that nobody knows to be his, is one true link: that of the likelier row.
	for _, list := range [][]model.Candidate{{cand("1", .3, false), cand("2", .6, false)}, {cand("2", .6, false), cand("1", .3, false)}} {
		if c := Review([]model.Proposal{{Stone: "a", None: .1, Candidates: list}}, Truth{"a": {"1", "2"}}, 5, .5); c.Linked.Right != 1 || c.Linked.From != .6 || c.Review.Right+c.Left.Right != 0 {
			t.Errorf("listed twice: %+v", c)
		}
	}
	if c := Review(nil, nil, 0, .98); c.Linked.Pairs != 0 || c.Left.Pairs != 0 || c.Mu != 0 {
		t.Errorf("of nothing: %+v", c)
	}
}
