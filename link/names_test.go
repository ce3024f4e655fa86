package link

import (
	"context"
	"fmt"
	"math"
	"slices"
	"testing"

	"musterstone/link/weigh"
	"musterstone/model"
)

// strangers makes plain stones whose men are in none of the records, so many in a hundred named as the first of two peoples are, each half of the rosters' men, and the rest by chance: each people has surnames and given names of its own,
// and by chance surname and given name come together as if there were none.
func strangers(ofFirst int) *trial {
	t := &trial{Fit: NewFit(), ladder: newLadder(nil), cases: &Cases{Records: 1000, Rosters: []string{""}}}
	t.cases.Peoples[0], t.cases.Peoples[1] = .5, .5
	var first, second weigh.Leaning
	for k := range first {
		first[k], second[k] = -1, -1
	}
	first[0], second[1] = 1, 1
	for i := range 600 {
		s := Case{Standing: Standing{Veteran: .04, Plain: true, Surname: first, Given: first}}
		if i%100 >= ofFirst {
			if i%2 == 0 {
				s.Surname = second
			}
			if i%4 < 2 {
				s.Given = second
			}
		}
		t.cases.Stones = append(t.cases.Stones, s)
	}
	return t
}

// TestNames: of what people the others on a ground are comes out, and with it how often their names come together; where they are named by chance, agreement on both names is worth what it is without.
func TestNames(t *testing.T) {
	for _, tt := range []struct {
		ofFirst              int
		surname, given, both float64 // times as often as by chance
	}{
		{0, 1, 1, 1},
		{40, 1.4, 1.4, .6*1 + .4*4},
		{80, 1.8, 1.8, .2*1 + .8*4},
	} {
		f := strangers(tt.ofFirst)
		f.run(fittedStage)
		n, s := f.Names[plainNames], &f.cases.Stones[0].Standing
		surname, given, both := n.times(s)
		if math.Abs(surname-tt.surname) > .1 || math.Abs(given-tt.given) > .1 || math.Abs(both-tt.both) > .2 {
			t.Errorf("%d of a hundred: surname %.2f, given name %.2f, both %.2f times as often as by chance, want %.2f, %.2f, %.2f", tt.ofFirst, surname, given, both, tt.surname, tt.given, tt.both)
		}
		b := n.bits(s)
		if got := -b[oneSurname|oneGiven]; math.Abs(got-math.Log2(both)) > 1e-9 || b[0] != 0 {
			t.Errorf("agreement on both names costs %v bits, want %v; none %v", got, math.Log2(both), b[0])
		}
	}
	n := namesBefore(&[weigh.People]float64{.5, .5})
	if b := n.bits(&Standing{}); b != (nameBits{}) {
		t.Errorf("names that say nothing are worth %v bits", b)
	}
	if got, want := (&Standing{Plain: true, Register: true}).nameKind(), registerNames; got != want || (&Standing{Register: true}).nameKind() != tellingNames {
		t.Error("a row of a register that tells of no service is a kind by itself")
	}
}

// TestNamesOfManyParts: a round counted in parts, in any order, comes to the same to the bit.
func TestNamesOfManyParts(t *testing.T) {
	whole, parted := strangers(40), strangers(40)
	whole.run(fittedStage)
	parted.cases.numberRegiments()
	for parted.Stage < fittedStage {
		sums := newSums()
		for part := range slices.Values([]int{2, 0, 1}) {
			sums.Merge(parted.cases.count(parted.Fit, 0, parted.cases.Stones[part*200:part*200+200]))
		}
		parted.next(parted.ladder, sums)
	}
	if whole.Names != parted.Names {
		t.Errorf("learned %v in one go and %v in parts", whole.Names, parted.Names)
	}
}

// TestNamesakesOfOnePeople: a ground on which many others are of one people of the rosters. A stone of it that tells of no service is given to its namesake with less than one of a name as rare that is no people's; the evidence
// says so in the fields of the names, and adds up.
func TestNamesakesOfOnePeople(t *testing.T) {
	var records []*model.Record
	add := func(who string) {
		n := len(records)
		records = append(records, record(fmt.Sprint("r", n), who, fmt.Sprintf("Co. %c, %d Wis. Inf.", 'A'+n%9, 11+n/60)))
	}
	norse, others := []string{"Olson", "Larson", "Hanson", "Knudson", "Halvorson"}, []string{"Baker", "Fisk", "Gage", "Carver", "Dorn", "Eaton", "Hale", "Ives", "Judd", "Lamb"}
	for i := range 300 {
		add(norse[i%5] + ", " + []string{"Ole", "Knut", "Torger", "Halvor"}[i/5%4])
		add(others[i%10] + ", " + []string{"Amos", "Levi", "Enoch", "Silas"}[i/10%4])
		add(others[i%7] + ", " + []string{"Amos", "Levi", "Enoch", "Silas"}[i/7%4])
	}
	var subjects []*model.Subject
	for i := range 120 { // other Norsemen, of given names that they have at home
		subjects = append(subjects, subject(fmt.Sprint("s", i), []string{"Ole", "Knut", "Torger", "Halvor"}[i%4]+" "+norse[i/4%5], ""))
	}
	counts := weigh.Count(slices.Values(records))
	l := &Linker{Finder: &Scan{Records: records, Counts: counts}, Counts: counts}
	proposals, err := l.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	bits := 0.0
	for _, c := range proposals[0].Candidates[:1] {
		sum := 0.0
		for _, e := range c.Evidence {
			sum += e.Bits
			if e.Field == "surname" || e.Field == "given" {
				bits += e.Bits
			}
		}
		if sum != c.Bits {
			t.Errorf("evidence adds up to %v, bits are %v", sum, c.Bits)
		}
	}
	// By chance one man in 900 would be an Ole Olson, and 15 are.
	w := l.weigher(listed(subjects))
	by, _ := w.Person(subjects[0], &subjects[0].Readings[0].People[0]).Against(records[0])
	if bits > by-1.5 {
		t.Errorf("both names are worth %.1f bits to an Ole Olson, and %.1f by chance: want less", bits, by)
	}
}
