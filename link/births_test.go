package link

import (
	"math"
	"testing"

	"musterstone/model"
)

// grounds makes plain stones: sixty of men of a roster whose men were born from 1835 to 1844, whose records agree beyond doubt, and three hundred of others, born in the years given,
// from one of them to the other.
func grounds(from, to int) *trial {
	t := &trial{Fit: NewFit(), ladder: newLadder(nil), cases: &Cases{Records: 1000, Rosters: []string{""}}}
	add := func(year int, pairs ...Pair) {
		s := Case{Standing: Standing{Veteran: .3, Plain: true, Born: year}, Pairs: pairs}
		if year >= 1835 && year < 1845 {
			s.BornShare = .1
		}
		t.cases.Stones = append(t.cases.Stones, s)
	}
	for i := range 60 {
		add(1835+i%10, Pair{Bits: 30, Fixed: -1})
	}
	for i := range 300 {
		add(from + i*(to-from)/300)
	}
	return t
}

// TestBirths: where the others on a ground were born at all times, a birth in the roster's years makes a plain stone a soldier's by as much as such births are commoner in the roster; where they
// were born when its men were, it says nothing.
func TestBirths(t *testing.T) {
	const wide, alike = 100, 10 // years over which the others are born
	f := grounds(1790, 1790+wide)
	f.run(fittedStage)
	b := &f.Births[(&Standing{Veteran: .3}).kind()]
	if got, want := b.times(binOf(1840), .1), float64(wide)/10; math.Abs(got-want) > want/3 {
		t.Errorf("a birth in 1840 is %.2f times likelier a soldier's, want near %.0f", got, want)
	}
	if got := b.times(binOf(1810), 0); got > 2*wrongBirths {
		t.Errorf("a birth in 1810 is %.2f times likelier a soldier's", got)
	}
	if got := f.prior(&Standing{Veteran: .3, Plain: true}, false); math.Abs(got-60./360) > .02 {
		t.Errorf("a stone without a birth has a prior of %.3f, want near %.3f", got, 60./360)
	}
	f = grounds(1835, 1835+alike)
	f.run(fittedStage)
	b = &f.Births[(&Standing{Veteran: .3}).kind()]
	if got := b.times(binOf(1840), .1); math.Abs(got-1) > .1 || b.Alike < .9 {
		t.Errorf("others are born as the roster's men are: a birth is %.2f times likelier a soldier's, %.2f of them are alike", got, b.Alike)
	}
	if got := new(Births).times(binOf(1840), .1); got != 1 {
		t.Errorf("without stones a birth is %v times likelier a soldier's", got)
	}
	if got := f.prior(&Standing{Veteran: .3, Plain: true, Born: 1402}, false); math.IsNaN(got) || got > .05 {
		t.Errorf("a birth in 1402 has a prior of %v", got)
	}
}

// TestNearNames: a surname that no record bears, but which is nearly that of some, is likelier to be a man's of the rosters than one that is like none; and what a ground's women have for
// given names is a kind of its own.
func TestNearNames(t *testing.T) {
	l := fitLadder()
	f := NewFit()
	f.resetM(l)
	s := Standing{Veteran: sureVeteran, Unlisted: true}
	none, two := f.prior(&s, false), s
	two.Near = l.near([]string{"different", "two letters"})
	near := s
	near.Near = l.near([]string{"different", "near"})
	all := s
	all.Near = l.near([]string{"different", "two letters", "near", "worn", "spelling", "sound"})
	if a := f.prior(&all, false); math.Abs(a-none) > 1e-9 || f.prior(&two, false) != none || f.prior(&near, false) < 1.3*none {
		t.Errorf("priors: like no name %.3f, two letters off %.3f, near to one %.3f, near at every level %.3f", none, f.prior(&two, false), f.prior(&near, false), a)
	}
	for veteran, want := range map[float64]int{.04: 0, .1: 1, .3: 2, .4: 3, .9: 3} {
		if got := (&Standing{Veteran: veteran}).kind(); got != want {
			t.Errorf("a stone that is a veteran's with %v is of kind %d, want %d", veteran, got, want)
		}
		if got := (&Standing{Veteran: veteran, Strange: true}).kind(); got != strangeKind {
			t.Errorf("a strange given name makes kind %d", got)
		}
		if got := (&Standing{Veteran: veteran, Register: true}).kind(); got != registerKind {
			t.Errorf("a row of a register makes kind %d", got)
		}
	}
}

// TestSilentRegister: a row of a register that tells of no service is a plain stone however likely its dates make it a veteran's, one that tells of a service is none; what is learned of such rows is their own and
// leaves the stones' where they were.
func TestSilentRegister(t *testing.T) {
	s := subject("g1", "John Doe", "")
	s.Implies.Services = []model.Weighted[string]{{Code: "civil-war/union", Probability: .6}, {Code: "none", Probability: .4}}
	if p, plain := veteran(s); plain || p != .6 {
		t.Errorf("a stone whose design makes it a veteran's: %v, plain %v", p, plain)
	}
	s.Stone.Register = &model.Claim{}
	if p, plain := veteran(s); !plain || p != .6 {
		t.Errorf("a row of a register that tells of no service: %v, plain %v", p, plain)
	}
	told := subject("g2", "John Doe", "Co. F 31 Wis. Inf.")
	told.Stone.Register = &model.Claim{}
	if p, plain := veteran(told); plain || p != sureVeteran {
		t.Errorf("a row that tells of a service: %v, plain %v", p, plain)
	}
	learn := func(rows int) *Fit {
		f := grounds(1835, 1845)
		for range rows { // none of them of a man of the rosters
			f.cases.Stones = append(f.cases.Stones, Case{Standing: Standing{Veteran: .6, Plain: true, Register: true}})
		}
		f.run(fittedStage)
		return f.Fit
	}
	few, many := learn(0), learn(200)
	stone := (&Standing{Veteran: .3, Plain: true}).kind()
	if few.Kinds[registerKind] != 1 || many.Kinds[registerKind] > .05 || math.Abs(few.Kinds[stone]-many.Kinds[stone]) > 1e-9 {
		t.Errorf("rows of a register make their own kind %.3f of 1, and the stones' %.4f of %.4f", many.Kinds[registerKind], many.Kinds[stone], few.Kinds[stone])
	}
}
