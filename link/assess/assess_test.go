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
