package link

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/link/weigh"
	"musterstone/model"
)

// trial is a fit over made pairs.
type trial struct {
	*Fit
	ladder *ladder
	cases  *Cases
}

// latent makes the pairs of stones in four fields that agree or differ: matches agree with the chances m, others with u; where third is not 0, others
// that agree in the third field agree in the fourth with that chance. The pairs are as many of each pattern as are expected, so that nothing hangs on luck. All m start at 0.9.
func latent(pairs int, share, third float64) *trial {
	m, u := [4]float64{.95, .90, .85, .80}, [4]float64{.02, .10, .09, .05}
	var levels []weigh.Level
	for _, field := range []string{"surname", "given", "middle", "birth"} {
		levels = append(levels, weigh.Level{Group: field, Name: "same", Start: .9}, weigh.Level{Group: field, Name: "different", Start: .1})
	}
	t := &trial{Fit: NewFit(), ladder: newLadder(levels), cases: &Cases{Records: 1, Rosters: []string{""}}}
	for pattern := range 16 {
		pm, pu, w := 1.0, 1.0, 0.0
		var levels []uint8
		for i := range 4 {
			agree := pattern>>i&1 == 1
			chance := u[i]
			if third != 0 && i == 3 && pattern>>2&1 == 1 {
				chance = third
			}
			if agree {
				pm, pu, w = pm*m[i], pu*chance, w+math.Log2(.9/u[i])
				levels = append(levels, uint8(2*i))
			} else {
				pm, pu, w = pm*(1-m[i]), pu*(1-chance), w+math.Log2(.1/(1-u[i]))
				levels = append(levels, uint8(2*i+1))
			}
		}
		for range int(math.Round(float64(pairs) * (share*pm + (1-share)*pu))) {
			t.cases.Stones = append(t.cases.Stones, Case{Standing: Standing{Veteran: 1}, Pairs: []Pair{{Bits: w, Levels: levels, Fixed: -1}}})
		}
	}
	return t
}

// run goes on to a stage.
func (t *trial) run(stage int) {
	t.cases.numberRegiments()
	for t.Stage < stage {
		t.next(t.ladder, t.cases.count(t.Fit, len(t.ladder.levels), t.cases.Stones))
	}
}

// runPatterns is run by the patterns of the pairs.
func (t *trial) runPatterns(stage int) {
	climb := t.cases.patterns(t.ladder).climb(t.ladder)
	for t.Stage < stage {
		t.next(t.ladder, climb.count(t.Fit))
	}
}

// TestLearnsM: the four fields of a published kind of trial of the latent class model (four agreements, independent within a class), at shares of matches where plain EM does
// well. With u fixed, the share and the m come out.
func TestLearnsM(t *testing.T) {
	for _, share := range []float64{.05, .01} {
		for how, run := range map[string]func(*trial, int){"pairs": (*trial).run, "patterns": (*trial).runPatterns} {
			f := latent(40_000, share, 0)
			run(f, fittedStage)
			if math.Abs(f.Coverage-share) > share/20 {
				t.Errorf("share %v, by %s: learned %v", share, how, f.Coverage)
			}
			for i, want := range []float64{.95, .90, .85, .80} {
				if got := f.M[0][2*i]; math.Abs(got-want) > .012 {
					t.Errorf("share %v, by %s: the m of field %d is %.4f, want near %.2f", share, how, i, got, want)
				}
			}
			if f.Refused != "" {
				t.Errorf("share %v, by %s: refused: %s", share, how, f.Refused)
			}
		}
	}
}

// TestRefusesWrongClass: non-matches that agree in the third field agree in the fourth four times in five. EM then takes the pairs that hang together so for its class, and matches
// that do not agree on the surname (Winkler's caution). That is refused.
func TestRefusesWrongClass(t *testing.T) {
	for _, share := range []float64{.01, .001} {
		f := latent(40_000, share, .8)
		f.run(trialStage)
		if f.Coverage < 3*share {
			t.Errorf("share %v: EM learns %v and is not led astray: the case shows nothing", share, f.Coverage)
		}
		learned := f.M[0]
		if f.run(fittedStage); f.Refused == "" {
			t.Errorf("share %v: EM learns m %v, and that is not refused", share, learned)
		}
	}
}

// TestRounds: a round counted in parts, in any order, comes to the same to the bit as one counted in one go.
func TestRounds(t *testing.T) {
	whole, parted := latent(5_000, .05, 0), latent(5_000, .05, 0)
	for _, t := range []*trial{whole, parted} {
		for i := range t.cases.Stones {
			t.cases.Stones[i].Regiment, t.cases.Stones[i].Share = [...]string{"", "31", "42"}[i%3], .001
			t.cases.Stones[i].Plain, t.cases.Stones[i].Born, t.cases.Stones[i].BornShare = i%2 == 0, 1800+i%50, .02
		}
		t.cases.numberRegiments()
	}
	for whole.Stage < fittedStage {
		whole.next(whole.ladder, whole.cases.count(whole.Fit, 8, whole.cases.Stones))
		sums := newSums()
		all := parted.cases.Stones
		for _, at := range []int{3, 0, 4, 1, 2} {
			sums.Merge(parted.cases.count(parted.Fit, 8, all[at*len(all)/5:(at+1)*len(all)/5]))
		}
		parted.next(parted.ladder, sums)
		if diff := cmp.Diff(whole.Fit, parted.Fit); diff != "" {
			t.Fatalf("stage %d, round %d: (-whole +parted)\n%s", whole.Stage, whole.Round, diff)
		}
	}
	if len(whole.Shifts) != 2 || whole.Births[designKinds-1].Known == 0 {
		t.Errorf("shifts of %v, births of %v stones", whole.Shifts, whole.Births[designKinds-1].Known)
	}
}

// TestRefusalKeepsTheTable: after a refusal the weights are those of the table, and it is said.
func TestRefusalKeepsTheTable(t *testing.T) {
	var all []weighed
	for i := range 400 { // stones that agree with some record on company and county, and hardly ever on the surname
		w := weighed{subject: subject(fmt.Sprint("s", i), "John Doe", "Co. F 31 Wis. Inf."), standing: Standing{Veteran: .98}, records: []*model.Record{{ID: "r"}}}
		surname := model.Evidence{Field: "surname", Level: "different", Bits: -4}
		if i%4 == 0 {
			surname = model.Evidence{Field: "surname", Level: "same", Bits: 9}
		}
		w.cands = []model.Candidate{{Record: "r", Evidence: []model.Evidence{surname, {Field: "given", Level: "same", Bits: 5}, {Field: "unit", Level: "company", Bits: 14}}}}
		for _, e := range w.cands[0].Evidence {
			w.cands[0].Bits += e.Bits
		}
		all = append(all, w)
	}
	l := &Linker{Counts: &weigh.Counts{N: 1000}}
	lesson := l.fit(all).Lesson()
	if !strings.Contains(lesson.Refused, "surname") {
		t.Fatalf("not refused: %+v", lesson)
	}
	for _, level := range lesson.Levels {
		if level.After != level.Before {
			t.Errorf("%s %s: %v became %v although it was refused", level.Field, level.Level, level.Before, level.After)
		}
	}
	for _, e := range all[0].cands[0].Evidence {
		if e.Field == "surname" && e.Bits != 9 {
			t.Errorf("the surname's weight is %v after the refusal, want 9", e.Bits)
		}
	}
}

// TestChurchyard: forty stones move the weights of the table, but not out of all reason: no agreement loses or wins more than a bit.
func TestChurchyard(t *testing.T) {
	records := company()
	var subjects []*model.Subject
	for i := range 40 {
		r := records[i*4]
		subjects = append(subjects, subject(fmt.Sprint("s", i), r.Person.Name.Given+" "+r.Person.Name.Surname, r.Service.Unit.Written))
	}
	_, lesson := proposeLearned(t, records, subjects)
	if lesson.Refused != "" {
		t.Fatal(lesson.Refused)
	}
	for _, v := range lesson.Levels {
		if d := math.Log2(v.After / v.Before); v.Before > .5 && math.Abs(d) > 1 {
			t.Errorf("%s %s: %.3f became %.3f on forty stones", v.Field, v.Level, v.Before, v.After)
		}
	}
}

// TestMixed: Newton's step comes to rest where EM does, in a few steps where EM takes dozens; its slope is that of the chance of all men.
func TestMixed(t *testing.T) {
	type man struct{ first, second float64 } // the chances of what he is in either part
	for _, tt := range []struct {
		name string
		men  []man
	}{
		{"nearly alike", slices.Concat(slices.Repeat([]man{{.030, .020}}, 60), slices.Repeat([]man{{.020, .021}}, 100))},
		{"far apart", slices.Concat(slices.Repeat([]man{{.9, .01}}, 30), slices.Repeat([]man{{.02, .7}}, 10))},
		{"all of the first", slices.Repeat([]man{{.5, .001}}, 500)},
		{"all of the second, nearly alike", slices.Repeat([]man{{.010, .012}}, 5000)},
		{"nobody", nil},
	} {
		at := func(a float64) (in, curve, chance float64) {
			for _, m := range tt.men {
				both := a*m.first + (1-a)*m.second
				in, curve, chance = in+a*m.first/both, curve+bend(m.first, m.second, both), chance+math.Log(both)
			}
			return in, curve, chance + priorIn*math.Log(a) + priorOut*math.Log(1-a)
		}
		rest := func(step func(a float64) float64) (a float64, steps int) {
			for a = .5; steps < 100_000; steps++ {
				next := step(a)
				if math.Abs(next-a) < 1e-12 {
					break
				}
				a = next
			}
			return a, steps
		}
		em, slow := rest(func(a float64) float64 {
			in, _, _ := at(a)
			return (in + priorIn) / (float64(len(tt.men)) + priorIn + priorOut)
		})
		got, steps := rest(func(a float64) float64 {
			in, curve, _ := at(a)
			return mixed(a, in, float64(len(tt.men)), curve)
		})
		t.Logf("%s: %.6f in %d steps, by EM in %d", tt.name, got, steps, slow)
		if math.Abs(got-em) > 1e-8 || steps > 12 {
			t.Errorf("%s: comes to rest at %v in %d steps, EM at %v in %d", tt.name, got, steps, em, slow)
		}
		const d = 1e-6
		_, _, before := at(got - d)
		_, _, there := at(got)
		_, _, after := at(got + d)
		if before > there || after > there {
			t.Errorf("%s: the chance of all men is %v at %v, and %v and %v beside it", tt.name, there, got, before, after)
		}
	}
}

// TestPriorOdds: a weight of 10 bits against a prior of one in a thousand is even, or a little better: worked by hand.
func TestPriorOdds(t *testing.T) {
	l := &Linker{Counts: &weigh.Counts{N: 1}}
	for _, tt := range []struct{ bits, prior, want float64 }{{10, 1e-3, .506179}, {13.2877, 1e-4, .500023}} {
		p := l.posterior(&weighed{subject: subject("x", "", ""), prior: tt.prior, cands: []model.Candidate{{Record: "a", Bits: tt.bits}}})
		if got := p.list[0].p; math.Abs(got-tt.want) > 1e-6 {
			t.Errorf("%v bits, prior %v: %v, want %v", tt.bits, tt.prior, got, tt.want)
		}
	}
}
