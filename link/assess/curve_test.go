package assess

import (
	"encoding/xml"
	"errors"
	"fmt"
	"io"
	"math"
	"strings"
	"testing"

	"musterstone/model"
)

// four proposals: right at .9, wrong at .8, right at .7, and a stone whose true record nothing proposes.
func four() ([]model.Proposal, Truth) {
	return []model.Proposal{
		{Stone: "a", None: .1, Candidates: []model.Candidate{cand("1", .9, true)}},
		{Stone: "b", None: .2, Candidates: []model.Candidate{cand("2", .8, true)}},
		{Stone: "c", None: .3, Candidates: []model.Candidate{cand("3", .7, false)}},
		{Stone: "d", None: 1},
	}, Truth{"a": {"1"}, "b": {"9"}, "c": {"3"}, "d": {"4"}}
}

// TestCurve works the curve by hand: recall 1/4, 1/4, 2/4 and precision 1, 1/2, 2/3; the mean of the precisions at the two links found, over four, is 5/12.
func TestCurve(t *testing.T) {
	ps, truth := four()
	recall, precision, average := Curve(ps, truth)
	if got, want := fmt.Sprintf("%.4f %.4f %.4f", recall, precision, average), "[0.2500 0.2500 0.5000] [1.0000 0.5000 0.6667] 0.4167"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	points := Thresholds(ps, truth)
	for _, want := range []struct {
		least                float64
		right, of, f1Hundred int
	}{{.5, 2, 3, 57}, {.8, 1, 2, 33}, {.9, 1, 1, 40}, {.95, 0, 0, 0}} {
		for _, p := range points {
			if p.Least == want.least && (p.Precision.Hits != want.right || p.Precision.Of != want.of || p.Recall.Of != 4 || int(math.Round(100*p.F1)) != want.f1Hundred) {
				t.Errorf("from %v: %+v, want %+v", want.least, p, want)
			}
		}
	}
}

// TestPublishedCurve holds precision and recall at each threshold to what scikit-learn's precision_recall_curve gives for five answers, as printed in the public post
// cnblogs.com/chaimy/p/17371181 (4 May 2023): from the lowest threshold up, precision .6 .5 .3333 .5 1 and recall 1 .6667 .3333 .3333 .3333.
func TestPublishedCurve(t *testing.T) {
	var ps []model.Proposal
	truth := Truth{}
	for i, answer := range []struct {
		p    float64
		true bool
	}{{.1, true}, {.3, true}, {.35, false}, {.6, false}, {.8, true}} {
		stone := model.StoneID(fmt.Sprint(i))
		ps = append(ps, model.Proposal{Stone: stone, Candidates: []model.Candidate{cand("r", answer.p, true)}})
		truth[stone] = nil
		if answer.true {
			truth[stone] = []model.RecordID{"r"}
		}
	}
	recall, precision, _ := Curve(ps, truth)
	if got, want := fmt.Sprintf("%.4f %.4f", recall, precision), "[0.3333 0.3333 0.3333 0.6667 1.0000] [1.0000 0.5000 0.3333 0.5000 0.6000]"; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

func TestRetrieve(t *testing.T) {
	sub := func(id, surname string) *model.Subject {
		return &model.Subject{Stone: &model.Stone{ID: model.StoneID(id)}, Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: surname}}}}}}}
	}
	r := Retrieve([]*model.Subject{sub("a", "Holden"), sub("b", "H[..]den"), sub("c", "Kolb"), sub("d", "Kolb")},
		[][]model.RecordID{{"1", "2"}, {"3"}, {"5"}, nil}, 10, Truth{"a": {"2"}, "b": {"4"}, "c": {"5"}, "d": {Unknown}})
	if r.Completeness.Hits != 2 || r.Completeness.Of != 3 || r.Readable.Hits != 2 || r.Readable.Of != 2 || r.Candidates != 1 || math.Abs(r.Reduction-.9) > 1e-12 {
		t.Errorf("got %+v", r)
	}
}

// TestGroups: a stone is in every group that it is of, and a group without a stone of which the truth is known is not told.
func TestGroups(t *testing.T) {
	sub := func(id, surname, given string, s model.Service) *model.Subject {
		return &model.Subject{Stone: &model.Stone{ID: model.StoneID(id)}, Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: surname, Given: given}}, Service: s}}}}}
	}
	subjects := []*model.Subject{
		sub("a", "Smith", "John", model.Service{Unit: model.Unit{Number: 29, Body: "usct"}}),
		sub("b", "T[..]son", "Amos", model.Service{Branch: "navy"}),
		sub("c", "Quimby", "Zadoc", model.Service{}),
	}
	proposals := []model.Proposal{{Stone: "a", Candidates: []model.Candidate{cand("1", .9, true)}}, {Stone: "b", None: 1}, {Stone: "c", None: 1}}
	told := func(truth Truth) (out string) {
		for _, g := range Groups(subjects, proposals, truth) {
			out += fmt.Sprintf("%s %d %d; ", g.Name, g.Stones, g.Precision.Of)
		}
		return out
	}
	if got, want := told(Truth{}), "with a unit 1 1; without a unit 2 0; damaged surname 1 0; common name 1 1; colored troops 1 1; navy, marines, coast guard 1 0; "; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
	if got, want := told(Truth{"a": {Unknown}, "b": {Unknown}}), "without a unit 1 0; "; got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// TestSaved works the minutes by hand: four stones by hand are 60; two proposals, two lists and a search for the wrong one and for the one that no list has are 3 + 8 + 30.
func TestSaved(t *testing.T) {
	ps, truth := four()
	ps[3].Candidates = []model.Candidate{cand("4", 0, false)}
	r := Assess(ps, truth)
	if got, want := r.Saved(), 60-3-8-15.*2; math.Abs(got-want) > 1e-12 {
		t.Errorf("%v minutes saved a link, want %v", got, want)
	}
}

// TestChance: of a thousand stones given .5, the calibration error that chance alone makes is .8 of a standard deviation of the share, 0.0126.
func TestChance(t *testing.T) {
	var ps []model.Proposal
	for i := range 1000 {
		ps = append(ps, model.Proposal{Stone: model.StoneID(fmt.Sprint(i)), None: .5, Candidates: []model.Candidate{cand("1", .5, false)}})
	}
	if r := Assess(ps, Truth{}); math.Abs(r.ChanceECE-.0126) > .0001 {
		t.Errorf("got %v", r.ChanceECE)
	}
}

// TestDiagrams: both diagrams are well-formed XML and show what they should.
func TestDiagrams(t *testing.T) {
	ps, truth := four()
	r := Assess(ps, truth)
	recall, precision, average := Curve(ps, truth)
	for _, d := range []struct{ text, shows string }{{CurveSVG(r, recall, precision, average), "proposed: precision 0.500, recall 0.250"}, {ReliabilitySVG(r), "2 answers given 0.950 in the mean; 0.500 are right"}} {
		if !strings.Contains(d.text, d.shows) {
			t.Errorf("the diagram does not show %q", d.shows)
		}
		dec := xml.NewDecoder(strings.NewReader(d.text))
		for {
			if _, err := dec.Token(); errors.Is(err, io.EOF) {
				break
			} else if err != nil {
				t.Fatalf("not XML: %v\n%s", err, d.text)
			}
		}
	}
}
