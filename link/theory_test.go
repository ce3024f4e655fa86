package link

import (
	"math"
	"testing"

	"musterstone/link/weigh"
)

// published is Table 1 of an article in BMC Medical Research Methodology 2017, 17:23 (doi 10.1186/s12874-017-0306-8): pairs of records by whether they agree on date of birth, sex
// and postcode, how many of them are matches, and how many are not. Pairs that agree on nothing, or on the sex alone, are left out of it.
var published = []struct {
	birth, sex, postcode bool
	matches, others      float64
	printed              float64 // the match probability as printed
	traditional          float64 // the match weight as printed, without dependence
}{
	{false, false, true, 1, 259, .0039, 5.3},
	{true, false, false, 21, 414307, .0001, -1.0},
	{false, true, true, 18, 248, .0726, 9.6},
	{true, false, true, 12, 4, .7500, 14.9},
	{true, true, false, 15924, 415888, .0369, 8.6},
	{true, true, true, 14009, 10, .9993, 23.7},
}

// TestPublishedProbabilities works out the table's match probabilities to the digits printed. By its note they are matches over all pairs. Four cells are; two, those of
// the patterns 001 and 011, are matches over non-matches (1/259 and 18/248), and would be .0038 and .0677.
func TestPublishedProbabilities(t *testing.T) {
	for _, p := range published {
		of := p.matches + p.others
		if !p.birth {
			of = p.others
		}
		if got := p.matches / of; math.Abs(got-p.printed) > .00005 {
			t.Errorf("%v %v %v: %.4f, want %.4f", p.birth, p.sex, p.postcode, got, p.printed)
		}
	}
}

// TestPublishedWeightsNotAdditive: the table's traditional weights cannot be worked out from m and u: these are not printed, and no three of them give the column, for it is
// not the sum of three fields' weights. From four of the cells follow the other two, 14.1 for 101 and 0.0 for 001, where 14.9 and 5.3 are printed.
func TestPublishedWeightsNotAdditive(t *testing.T) {
	w := map[[3]bool]float64{}
	for _, p := range published {
		w[[3]bool{p.birth, p.sex, p.postcode}] = p.traditional
	}
	sex := w[[3]bool{true, true, false}] - w[[3]bool{true, false, false}]
	postcode := w[[3]bool{true, true, true}] - w[[3]bool{true, true, false}]
	birth := w[[3]bool{true, true, true}] - w[[3]bool{false, true, true}]
	for _, tt := range []struct {
		pattern       [3]bool
		sum, residual float64
	}{
		{[3]bool{true, false, true}, w[[3]bool{true, false, false}] + postcode, .8},
		{[3]bool{false, false, true}, w[[3]bool{true, true, true}] - sex - birth, 5.3},
	} {
		if got := w[tt.pattern] - tt.sum; math.Abs(got-tt.residual) > .01 {
			t.Errorf("%v: printed %.1f, a sum of fields' weights would be %.1f", tt.pattern, w[tt.pattern], tt.sum)
		}
	}
}

// TestPublishedPatterns gives EM the table's pairs without what they are, in tenths, with the u that its non-matches have, and has it find m and the share of matches. Birth and postcode
// hang together among non-matches, for pairs that agree on neither were left out: they are one field of three levels here, as fields that hang together are in
// this program. Matches are 29,985 of 860,701 pairs (.0348); of them 99.89% agree on the sex, and 46.76% on birth and postcode.
// To the very digits it cannot come: among the table's non-matches sex and place hang together a little (.501 of those of one birthday are of one sex, .489 of those of one
// postcode), and the model takes them for independent.
func TestPublishedPatterns(t *testing.T) {
	matches, others := 0.0, 0.0
	for _, p := range published {
		matches, others = matches+p.matches, others+p.others
	}
	level := func(birth, postcode bool) int {
		switch {
		case birth && postcode:
			return 0
		case birth:
			return 1
		}
		return 2
	}
	var place, sexes [3]float64 // u
	var trueSex, truePlace float64
	for _, p := range published {
		place[level(p.birth, p.postcode)] += p.others / others
		if p.sex {
			sexes[0] += p.others / others
			trueSex += p.matches / matches
		} else {
			sexes[1] += p.others / others
		}
		if p.birth && p.postcode {
			truePlace += p.matches / matches
		}
	}
	levels := []weigh.Level{{Group: "surname", Name: "same", Start: .6}, {Group: "surname", Name: "birth only", Start: .35}, {Group: "surname", Name: "postcode only", Start: .05},
		{Group: "sex", Name: "same", Start: .996}, {Group: "sex", Name: "different", Start: .004}}
	for how, run := range map[string]func(*trial, int){"pairs": (*trial).run, "patterns": (*trial).runPatterns} {
		f := &trial{Fit: NewFit(), ladder: newLadder(levels), cases: &Cases{Records: 1, Rosters: []string{""}}}
		for _, p := range published {
			k, s := level(p.birth, p.postcode), 1
			if p.sex {
				s = 0
			}
			bits := math.Log2(levels[k].Start/place[k]) + math.Log2(levels[3+s].Start/sexes[s])
			for range int(math.Round((p.matches + p.others) / 10)) {
				f.cases.Stones = append(f.cases.Stones, Case{Standing: Standing{Veteran: 1}, Pairs: []Pair{{Bits: bits, Levels: []uint8{uint8(k), uint8(3 + s)}, Fixed: -1}}})
			}
		}
		run(f, trialStage)
		t.Logf("by %s: share %.4f, m of the sex %.4f, of birth and postcode %.4f", how, f.Coverage, f.M[0][3], f.M[0][0])
		for _, tt := range []struct {
			name              string
			got, want, within float64
		}{{"share of matches", f.Coverage, matches / (matches + others), .002}, {"m of the sex", f.M[0][3], trueSex, .01}, {"m of birth and postcode", f.M[0][0], truePlace, .03}} {
			if math.Abs(tt.got-tt.want) > tt.within {
				t.Errorf("by %s: %s: %.4f, want %.4f within %v", how, tt.name, tt.got, tt.want, tt.within)
			}
		}
	}
}
