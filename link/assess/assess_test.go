package assess

import (
	"fmt"
	"math"
	"testing"

	"musterstone/model"
)

// TestWilson checks the interval against values of Wilson's formula worked out by hand with z = 1.96, to three places.
func TestWilson(t *testing.T) {
	tests := []struct {
		hits, of  int
		low, high float64
	}{
		{95, 100, .888, .979}, {190, 200, .910, .973}, {480, 500, .939, .974}, {9, 10, .596, .982}, {0, 50, 0, .071}, {50, 50, .929, 1},
	}
	for _, tt := range tests {
		r := NewRate(tt.hits, tt.of)
		if math.Abs(r.Low-tt.low) > .0006 || math.Abs(r.High-tt.high) > .0006 {
			t.Errorf("%d of %d: %.4f to %.4f, want %.3f to %.3f", tt.hits, tt.of, r.Low, r.High, tt.low, tt.high)
		}
	}
}

func cand(id string, p float64, proposed bool) model.Candidate {
	return model.Candidate{Record: model.RecordID(id), Probability: p, Proposed: proposed}
}

func ExampleAssess() {
	proposals := []model.Proposal{
		{Stone: "a", None: .1, Candidates: []model.Candidate{cand("1", .9, true)}},
		{Stone: "b", None: .2, Candidates: []model.Candidate{cand("2", .5, true), cand("3", .3, false)}},
		{Stone: "c", None: .9, Candidates: []model.Candidate{cand("4", .1, false)}},
		{Stone: "d", None: 1},
		{Stone: "e", None: .3, Candidates: []model.Candidate{cand("9", .7, true)}},
	}
	r := Assess(proposals, Truth{"a": {"1"}, "b": {"3"}, "c": {"4"}, "d": {"7"}, "e": {Unknown}})
	fmt.Printf("precision %d of %d, recall %d of %d, first %d, found %d\n", r.Precision.Hits, r.Precision.Of, r.Recall.Hits, r.Recall.Of, r.First.Hits, r.Found.Hits)
	for _, e := range r.Errors {
		fmt.Println(e.Stone, e.Kind)
	}
	// Output:
	// precision 1 of 2, recall 1 of 4, first 2, found 3
	// b wrong: cannot be told from the true record
	// c missed: likelier in none of the records
	// d missed: not among the candidates
}

// TestCalibration works the expected calibration error by hand: ten answers at 0.8 of which six are right are 0.2 off.
func TestCalibration(t *testing.T) {
	var ps []model.Proposal
	truth := Truth{}
	for i := range 10 {
		s := model.StoneID(fmt.Sprint(i))
		ps = append(ps, model.Proposal{Stone: s, None: .2, Candidates: []model.Candidate{cand("r", .8, false)}})
		truth[s] = []model.RecordID{"r"}
		if i >= 6 {
			truth[s] = []model.RecordID{"other"}
		}
	}
	r := Assess(ps, truth)
	if math.Abs(r.ECE-.2) > 1e-12 {
		t.Errorf("ECE %v, want 0.2", r.ECE)
	}
	if want := .6*.04 + .4*.64; math.Abs(r.Brier-want) > 1e-12 {
		t.Errorf("Brier %v, want %v", r.Brier, want)
	}
}

// TestBothWays: a man's second stone counts in precision and recall, and does not where only what is marked as proposed counts.
func TestBothWays(t *testing.T) {
	second := cand("1", .9, false)
	second.Second = true
	proposals := []model.Proposal{
		{Stone: "a", Candidates: []model.Candidate{cand("1", 1, true)}}, {Stone: "b", Candidates: []model.Candidate{second}},
		{Stone: "c", Candidates: []model.Candidate{second}}, {Stone: "d", None: 1},
	}
	r := Assess(proposals, Truth{"a": {"1"}, "b": {"1"}, "c": {"2"}, "d": {"3"}})
	for _, tt := range []struct {
		name     string
		got      Rate
		hits, of int
	}{{"precision", r.Precision, 2, 3}, {"recall", r.Recall, 2, 4}, {"second stones", r.Seconds, 1, 2}, {"precision alone", r.AlonePrecision, 1, 1}, {"recall alone", r.AloneRecall, 1, 4}} {
		if tt.got.Hits != tt.hits || tt.got.Of != tt.of {
			t.Errorf("%s: %d of %d, want %d of %d", tt.name, tt.got.Hits, tt.got.Of, tt.hits, tt.of)
		}
	}
}

// TestSplit works the parts of the Brier score by hand, by Murphy's formula (1973): ten answers at .8 of which six are right and ten at .9, all right. 16 of 20 are right, so uncertainty .16; off by .2 and .1, so
// reliability .5 × .04 + .5 × .01 = .025; shares of .6 and 1 about .8, so resolution .04; the score itself is .5 × (.6 × .04 + .4 × .64) + .5 × .01 = .145.
func TestSplit(t *testing.T) {
	var ps []model.Proposal
	truth := Truth{}
	answer := func(p float64, right bool) {
		s := model.StoneID(fmt.Sprint(len(ps)))
		ps = append(ps, model.Proposal{Stone: s, None: 1 - p, Candidates: []model.Candidate{cand("r", p, false)}})
		truth[s] = []model.RecordID{"other"}
		if right {
			truth[s] = []model.RecordID{"r"}
		}
	}
	for i := range 10 {
		answer(.8, i < 6)
		answer(.9, true)
	}
	r := Assess(ps, truth)
	if got, want := fmt.Sprintf("%.4f %.4f %.4f %.4f", r.Brier, r.Split.Uncertainty, r.Split.Resolution, r.Split.Reliability), "0.1450 0.1600 0.0400 0.0250"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	// Within a bin .82 and .88 differ: the variance within, .0009, comes off the resolution, and twice the covariance with what is right, 2 × .5 × .03, is added to it (Stephenson, Coelho and Jolliffe 2008).
	ps, truth = nil, Truth{}
	answer(.82, false)
	answer(.88, true)
	r = Assess(ps, truth)
	if got, want := fmt.Sprintf("%.4f %.4f %.4f %.4f", r.Brier, r.Split.Uncertainty, r.Split.Resolution, r.Split.Reliability), "0.3434 0.2500 0.0291 0.1225"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestGaveWay: the man who weighs most for a stone may be proposed for another one; where he is marked as having two stones, or is listed twice, nothing gave way.
func TestGaveWay(t *testing.T) {
	weighs := func(id string, bits float64) model.Candidate {
		return model.Candidate{Record: model.RecordID(id), Bits: bits}
	}
	first, second, again := weighs("1", 20), weighs("1", 15), weighs("2", 21)
	first.Proposed, second.Second, again.SameAs = true, true, "1"
	otherRow := weighs("2", 12) // of the man who is proposed for the first stone
	otherRow.SameAs = "1"
	r := Assess([]model.Proposal{
		{Stone: "a", Candidates: []model.Candidate{first, again}},
		{Stone: "b", Candidates: []model.Candidate{weighs("8", 9), weighs("1", 12)}},
		{Stone: "c", Candidates: []model.Candidate{second}},
		{Stone: "d", Candidates: []model.Candidate{weighs("9", 12), weighs("1", 11)}},
		{Stone: "e", Candidates: []model.Candidate{weighs("1", 12)}},
		{Stone: "g", Candidates: []model.Candidate{otherRow, weighs("1", 11)}},
		{Stone: "f", None: 1},
	}, Truth{"a": {"1", "2"}, "b": {"8"}, "c": {"1"}, "e": {"1"}})
	if r.GaveWay.Of != 3 || r.GaveWay.Hits != 2 {
		t.Errorf("%d of %d, want 2 of 3", r.GaveWay.Hits, r.GaveWay.Of)
	}
}
