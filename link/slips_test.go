package link

import (
	"math"
	"testing"

	"musterstone/link/weigh"
	"musterstone/model"
)

// TestSlips: slips are counted by field, over all rosters and groups of it, and a few pairs are not taken for many.
func TestSlips(t *testing.T) {
	levels := []weigh.Level{
		{Field: "surname", Group: "surname", Name: "same"}, {Field: "surname", Group: "surname", Name: "different", Slip: true},
		{Field: "unlisted surname", Group: unlistedSurname, Name: "near"}, {Field: "unlisted surname", Group: unlistedSurname, Name: "different", Slip: true},
		{Field: "birth", Group: "birth", Name: "same"}, {Field: "birth", Group: "birth", Name: "far"},
		{Field: "unit", Group: "unit", Name: "company"}, {Field: "unit", Group: "unit", Name: "different", Slip: true},
	}
	for _, tt := range []struct {
		name        string
		seen        [][]float64
		slips, odds float64 // what odds of 16 to 1 become
	}{
		{"nothing was learned", nil, 0, 16},
		{"no slips, and births that are far off are none", [][]float64{{80, 0, 0, 0, 50, 30, 80, 0}}, 0, 16},
		{"one surname in a hundred, one unit in ten", [][]float64{{79, 1, 0, 0, 0, 0, 162, 18}}, .01 + .09, math.Pow(16, 1/1.6)},
		{"two rosters, and surnames that no record bears", [][]float64{{60, 0, 0, 0, 0, 0, 0, 0}, {0, 0, 10, 10, 0, 0, 0, 0}}, .1, math.Pow(16, 1/1.6)},
		{"a single pair is no measure", [][]float64{{0, 1, 0, 0, 0, 0, 0, 0}}, 1. / 21, math.Pow(16, 1/(1+6./21))},
	} {
		f, l := &Fit{Seen: tt.seen}, newLadder(levels)
		if got := f.slips(l); math.Abs(got-tt.slips) > 1e-12 {
			t.Errorf("%s: %v slips a pair, want %v", tt.name, got, tt.slips)
		}
		told, _ := f.powers(l)
		prior := temper(.5, 16, told)
		if got := prior / (1 - prior) * 16; math.Abs(got-tt.odds) > 1e-9 {
			t.Errorf("%s: odds of 16 become %v, want %v", tt.name, got, tt.odds)
		}
	}
}

// TestSlipsTold: odds for and against the rosters' men both come nearer to even where stones and records of one man slip; a stone's candidates keep their order and their shares of each other, a refused one does not
// count, one that only names its man is left as it was, and so is a plain stone but for slips of names, for it shows no unit.
func TestSlipsTold(t *testing.T) {
	pairs := func(slip, names float64) []float64 {
		seen := make([]float64, len(fitLadder().levels))
		for k, level := range fitLadder().levels {
			switch {
			case level.Group == "unit" && level.Slip:
				seen[k] = slip / 2 // there are two of them
			case level.Group == "unit" && level.Name == "company":
				seen[k] = 180 - slip
			case level.Group == "given" && level.Name == "different":
				seen[k] = names
			case level.Group == "given" && level.Name == "same":
				seen[k] = 180 - names
			}
		}
		return seen
	}
	for _, tt := range []struct {
		name     string
		standing Standing
		bits     []float64
		refused  int // of the candidates, -1 for none
		slip     float64
		names    float64 // slips of given names
		want     float64 // how many times nearer the log odds come to even
	}{
		{"no slips", Standing{Veteran: .98}, []float64{9, 8}, -1, 0, 0, 1},
		{"for a man", Standing{Veteran: .98}, []float64{9, 8}, -1, 50, 0, 2.5},
		{"for none", Standing{Veteran: .98}, []float64{-3, -4}, -1, 50, 0, 2.5},
		{"a row of a register without a service", Standing{Veteran: .04, Plain: true, Register: true}, []float64{9, 8}, -1, 50, 0, 2.5},
		{"a refused candidate", Standing{Veteran: .98}, []float64{30, 8, 7}, 0, 50, 0, 2.5},
		{"a plain stone", Standing{Veteran: .3, Plain: true}, []float64{9, 8}, -1, 50, 0, 1},
		{"a plain stone, and slips of names", Standing{Veteran: .3, Plain: true}, []float64{9, 8}, -1, 50, 20, 1.6},
		{"slips of both", Standing{Veteran: .98}, []float64{9, 8}, -1, 50, 20, 3.1},
	} {
		l := &Linker{Counts: &weigh.Counts{N: 2}}
		stone := func() weighed {
			w := weighed{standing: tt.standing}
			for k, bits := range tt.bits {
				c := model.Candidate{Record: model.RecordID(rune('a' + k)), Bits: bits}
				if k == tt.refused {
					c.Decided = string(model.Refused)
				}
				w.cands, w.records = append(w.cands, c), append(w.records, nil)
			}
			return w
		}
		answers := func(slip, names float64) (none float64, list []choice) {
			f := NewFit()
			f.Coverage, f.Rosters = .5, []string{"roster"}
			f.resetM(fitLadder())
			f.Seen[0] = pairs(slip, names)
			all := []weighed{stone()}
			l.apply(f, all)
			a := l.posterior(&all[0])
			return a.none, a.list
		}
		none, list := answers(0, 0)
		after, then := answers(tt.slip, tt.names)
		if got := math.Log((1-none)/none) / math.Log((1-after)/after); math.Abs(got-tt.want) > .01 {
			t.Errorf("%s: none is %.6f and becomes %.6f, the log odds %.3f times nearer to even, want %v times", tt.name, none, after, got, tt.want)
		}
		first := max(0, tt.refused+1)
		if a, b := list[first].p/list[first+1].p, then[first].p/then[first+1].p; math.Abs(a-b) > 1e-6 {
			t.Errorf("%s: the first candidate was %.4f times as likely as the second, and becomes %.4f times", tt.name, a, b)
		}
	}
}
