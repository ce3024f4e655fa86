package unmarked

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
)

// Three stones give a unit, and two of the men are on the rosters for certain, one of these with a burial; of ten records, two tell of a burial. By hand, with two men's worth
// of first guesses: (2+1)/(3+2) of the ground's men are on the rosters; (1+2·0.2)/(2+2) of those under stones have a burial told, 0.35 against 0.2 of all.
func TestRosters(t *testing.T) {
	w := &world{}
	for i := range 3 {
		w.stone(fmt.Sprint("s", i), 1, soldier("Holden", fmt.Sprint("A", i)))
	}
	w.record("r0", buried(soldier("Holden", "A0"), "Old Mill Cem."))
	w.record("r1", soldier("Holden", "A1"))
	w.record("r2", remarks(soldier("Other", "Amos"), "Died at Nashville; buried there"))
	for i := range 7 {
		w.record(fmt.Sprint("r", 3+i), remarks(soldier("Other", fmt.Sprint("B", i)), "Died at Nashville"))
	}
	w.propose("s0", "r0", 1)
	w.propose("s1", "r1", 1)
	got := newFinder(w.input()).rosters
	for _, x := range []struct {
		what      string
		got, want float64
	}{
		{"share on the rosters", got.have, 0.6},
		{"bits of a burial told", got.buried, math.Log2(0.35 / 0.2)},
		{"bits of none told", got.silent, math.Log2(0.65 / 0.8)},
	} {
		if math.Abs(x.got-x.want) > 1e-9 {
			t.Errorf("%s: %v, by hand %v", x.what, x.got, x.want)
		}
	}
	if got := newFinder(Input{Subjects: w.subjects}).rosters; got != (rosters{}) {
		t.Errorf("without rosters: %+v", got)
	}
}

// On the same survey a plain stone and a record of its name: linking gives 0.8, odds of 4. Two bits for a stone that says nothing leave odds of 1; that the record buries its man in
// this ground makes them 0.35/0.2, that it says nothing of a burial 0.65/0.8.
func TestWeighed(t *testing.T) {
	tests := []struct {
		text string
		want float64
	}{
		{"Old Mill Cem., Alder Co.", 0.35 / 0.2},
		{"", 0.65 / 0.8},
		{"Nashville Nat. Cem.", 1}, // linking has compared the places
	}
	for _, tt := range tests {
		w := &world{}
		s := w.stone("s1", 1, man("Skeels", "Orrin"))
		w.record("r1", buried(soldier("Skeels", "Orrin"), tt.text))
		w.propose("s1", "r1", 0.8)
		f := newFinder(w.input())
		f.rosters = rosters{buried: math.Log2(0.35 / 0.2), silent: math.Log2(0.65 / 0.8)}
		if got := f.weighed(s, f.claims("s1"))[0]; math.Abs(got-tt.want/(1+tt.want)) > 1e-9 {
			t.Errorf("burial %q: %v, by hand %v", tt.text, got, tt.want/(1+tt.want))
		}
	}
}

// By hand: signs that speak with 0.45, rosters that have 9 of 10: 0.045 of such men are veterans whom they lack, 0.55 none, 0.045/0.595.
func TestUnlisted(t *testing.T) {
	for _, tt := range []struct{ p, have, want float64 }{{0.45, 0.9, 0.045 / 0.595}, {0.45, 0, 0.45}, {0.45, 1, 0}, {0, 0.5, 0}} {
		if got := unlisted(tt.p, tt.have); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("unlisted(%v, %v) = %v, by hand %v", tt.p, tt.have, got, tt.want)
		}
	}
}

// Signs that a stone is over no grave are joined as odds. With first odds of o, chances of 0.7 and 0.4 leave 0.7/0.3 · 0.4/0.6 / o.
func TestOverGrave(t *testing.T) {
	o := weight("over-grave") / (1 - weight("over-grave"))
	both := 0.7 / 0.3 * 0.4 / 0.6 / o
	for _, tt := range []struct {
		alone []float64
		want  float64
	}{{nil, 1}, {[]float64{0.7}, 0.7}, {[]float64{0.7, 0.4}, both / (1 + both)}} {
		if got := overGrave(tt.alone...); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("overGrave(%v) = %v, want %v", tt.alone, got, tt.want)
		}
	}
}

func TestYearsApart(t *testing.T) {
	for _, tt := range []struct {
		a, b date.Date
		want bool
	}{
		{date.Year(1890), date.Year(1890), false},
		{date.On(1890, 12, 31), date.Year(1891), false}, // a register may give the burial
		{date.Year(1892), date.On(1890, 1, 2), true},
		{date.Date{}, date.Year(1890), false},
	} {
		if got := yearsApart(tt.a, tt.b); got != tt.want {
			t.Errorf("yearsApart(%v, %v) = %v", tt.a, tt.b, got)
		}
	}
}

// A register's row and a stone of its name that gives another year of death: two men, as far as that goes.
func TestRowAndStoneOfAnotherYear(t *testing.T) {
	p := func(year int) float64 {
		w := &world{}
		c := man("Hoyt", "Nathan")
		c.Person.Died = date.Year(year)
		w.stone("s1", 0, c)
		row := soldier("Hoyt", "Nathan")
		row.Person.Died = date.Year(1891)
		w.register("g1", row)
		for _, x := range Find(Input{Subjects: w.subjects, Least: 0.001}) {
			if x.Stone == model.StoneID("g1") {
				return x.Probability
			}
		}
		return 0
	}
	if same, other := p(1891), p(1904); same > 0.05 || other < 0.75 {
		t.Errorf("a stone of the same year leaves %v, of another %v", same, other)
	}
}

// What linking says of a stone and a record is told as propose tells it, and where it counts for more or for less, that and why.
func TestCountedAs(t *testing.T) {
	for _, tt := range []struct {
		name, buried string
		claim        model.Claim
		bits         float64 // that a burial told is worth
		stone, other string  // what the stone's own finding says of the record, and the record's of the stone
	}{
		{"plain", "", man("Skeels", "Orrin"), 0, "so that the match counts as 50% here", ""},
		{"plain, buried here", "Old Mill Cem., Alder Co.", man("Skeels", "Orrin"), 0, "so that the match counts as 50% here", "s1 with 50% (propose says 80%, but nothing on that stone speaks of service"},
		{"plain, and burials tell much", "Old Mill Cem., Alder Co.", man("Skeels", "Orrin"), 3, "the record buries him in this ground, so that the match counts as 89% here", "s1 with 89% (propose says 80%; the record buries him in that ground besides)"},
		{"a soldier's", "Old Mill Cem., Alder Co.", soldier("Skeels", "Orrin"), 0, "", "s1 with 80%"},
	} {
		w := &world{}
		s := w.stone("s1", 1, tt.claim)
		w.record("r1", buried(soldier("Skeels", "Orrin"), tt.buried))
		w.propose("s1", "r1", 0.8)
		f := newFinder(w.input())
		f.rosters = rosters{buried: tt.bits}
		claims := f.claims("s1")
		weighed := f.weighed(s, claims)
		reasons := strings.Join(f.countedAs(s, claims, 0.8, weighed[0]), "; ")
		if !strings.Contains(reasons, tt.stone) || tt.stone == "" && reasons != "" {
			t.Errorf("%s: the stone's finding says %q, want %q", tt.name, reasons, tt.stone)
		}
		c := claimed{stone: "s1", p: weighed[0], linked: 0.8}
		if got := "s1 with " + c.chance(); !strings.HasPrefix(got, tt.other) {
			t.Errorf("%s: the record's finding says %q, want %q", tt.name, got, tt.other)
		}
	}
}
