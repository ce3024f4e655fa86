package link

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/link/calibrate"
	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// TestExplains: two William Bakers in two companies, and a stone with the name and one of the companies' regiment.
func TestExplains(t *testing.T) {
	ps := propose(t, []*model.Subject{subject("one", "William Baker", "44 Wis. Inf."), subject("two", "W. Baker", "")}, ledger.State{})
	p := ps[0]
	if n := p.Candidates[0].Namesakes; n == nil || n.Name != "William Baker" || n.Men != 2 || n.Company != "Company K" || n.InCompany != 1 {
		t.Errorf("namesakes: %+v, want 2 men named William Baker, 1 in Company K", n)
	}
	r := p.RunnerUp
	if r == nil || r.Record != "b1" {
		t.Fatalf("runner-up: %+v, want b1", r)
	}
	sum := 0.0
	for _, e := range r.By {
		sum += e.Bits
	}
	if math.Abs(sum-r.Behind) > 1e-9 || math.Abs(r.Behind-(p.Candidates[0].Bits-p.Candidates[1].Bits)) > 1e-9 {
		t.Errorf("the differences add up to %v, the runner-up is %v behind, the bits differ by %v", sum, r.Behind, p.Candidates[0].Bits-p.Candidates[1].Bits)
	}
	if r.By[0].Field != "unit" {
		t.Errorf("what parts them most is the %s, want the unit", r.By[0].Field)
	}
	if all := strings.Join(ps[1].WouldChange, "\n"); !strings.Contains(all, "regiment") {
		t.Errorf("nothing says that the regiment would settle stone two: %q", all)
	}
}

// TestWouldChange: the field without which the runner-up would stand first is named as people call it.
func TestWouldChange(t *testing.T) {
	candidate := func(id string, p, given float64) model.Candidate {
		return model.Candidate{Record: model.RecordID(id), Probability: p, Bits: 9 + given,
			Evidence: []model.Evidence{{Field: "surname", Level: "same", Bits: 9}, {Field: "given", Level: "same", Bits: given}}}
	}
	q := model.Proposal{Candidates: []model.Candidate{candidate("b1", 0.7, 4), candidate("b2", 0.2, 1)}}
	q.RunnerUp = runnerUp(&q.Candidates[0], &q.Candidates[1])
	if got := wouldChange(&model.Subject{Stone: &model.Stone{}}, &q); len(got) == 0 || got[0] != "without the given name, b2 would stand first" {
		t.Errorf("what would change it: %q", got)
	}
}

// TestSettlingFields: what a person is asked to look for is a field that is compared.
func TestSettlingFields(t *testing.T) {
	compared := map[string]bool{}
	for n := range 256 {
		if field, _, ok := weigh.LevelAt(uint8(n)); ok {
			compared[field] = true
		}
	}
	for _, s := range settles() {
		if !compared[s.field] || s.ask == "" {
			t.Errorf("%+v", s)
		}
	}
}

// TestNext: a stone in even doubt between two namesakes comes before a settled one, and a decided one does not come at all.
func TestNext(t *testing.T) {
	cand := func(id string, p float64, decided string) model.Candidate {
		return model.Candidate{Record: model.RecordID(id), Probability: p, Proposed: p > .9, Decided: decided}
	}
	var a Asking
	for _, p := range []model.Proposal{
		{Stone: "sure", None: .01, Candidates: []model.Candidate{cand("1", .99, "")}},
		{Stone: "surest", None: .001, Candidates: []model.Candidate{cand("5", .999, "")}},
		{Stone: "even", None: .1, Candidates: []model.Candidate{cand("2", .45, ""), cand("3", .45, "")}},
		{Stone: "decided", Candidates: []model.Candidate{cand("4", 1, "confirmed")}},
		{Stone: "hopeless", None: 1},
		{Stone: "alone", None: .5, Candidates: []model.Candidate{cand("6", .5, "")}},
		{Stone: "claimed", None: .5, Candidates: []model.Candidate{cand("7", .5, "")}},
		{Stone: "claimed too", None: .55, Candidates: []model.Candidate{cand("7", .45, "")}},
	} {
		a.Add(&p)
	}
	got := a.Next()
	want := []model.StoneID{"even", "claimed", "claimed too", "alone", "sure", "surest", "hopeless"}
	if !slices.Equal(got, want) {
		t.Errorf("got %v, want %v", got, want)
	}
}

func TestTwin(t *testing.T) {
	row := func(who, company, enlisted, age string) *model.Record {
		r := record("x", who, company)
		r.Service.Enlisted, _ = date.Parse(enlisted)
		r.Person.Age, _ = date.ParseAge(age)
		return r
	}
	again := func(who, company, enlisted, age, remarks string) *model.Record {
		r := row(who, company, enlisted, age)
		r.Service.Remarks = remarks
		return r
	}
	a := row("Kolb, Henry J.", "Co. A, 31st Wis. Inf.", "Aug. 9, 1862", "22")
	a.Service.MusteredOut, _ = date.Parse("Dec. 30, 1863")
	for _, tt := range []struct {
		b    *model.Record
		twin bool
	}{
		{row("Kolb, Henry", "Co. C, 44th Wis. Inf.", "Aug. 9, 1862", "22"), true},
		{row("Kolb, H.", "Co. C, 44th Wis. Inf.", "Aug. 9, 1862", ""), true},
		{row("Kolb, Henry", "Co. A, 31st Wis. Inf.", "Aug. 9, 1862", "41"), false},
		{row("Kolb, Henry", "Co. A, 31st Wis. Inf.", "Aug. 12, 1862", "22"), false},
		{row("Kolb, Henry P.", "Co. A, 31st Wis. Inf.", "Aug. 9, 1862", "22"), false},
		{row("Kolb, Peter", "Co. A, 31st Wis. Inf.", "Aug. 9, 1862", "22"), false},
		{again("Kolb, Henry", "Co. A, 31st Wis. Inf.", "Feb. 1, 1864", "24", ""), true},
		{again("Kolb, Henry", "Co. A, 31st Wis. Inf.", "Feb. 1, 1863", "23", ""), false}, // while he still served
		{again("Kolb, Henry", "Co. A, 31st Wis. Inf.", "Feb. 1, 1864", "31", ""), false},
		{again("Kolb, Henry", "Co. B, 44th Wis. Inf.", "Feb. 1, 1864", "24", ""), false},
		{again("Kolb, Henry", "Co. B, 44th Wis. Inf.", "Feb. 1, 1864", "24", "Veteran"), true},
		{again("Kolb, Henry", "Co. B, 44th Ill. Inf.", "Feb. 1, 1864", "24", "Veteran"), false},
	} {
		if got := twin(a, tt.b); got != tt.twin {
			t.Errorf("%s: twin %v", tt.b.Person.Name.Written, got)
		}
	}
}

// TestOtherBook: two books of one company list one man each once, as each clerk spelt him; two rows of one book are two men.
func TestOtherBook(t *testing.T) {
	row := func(file, who, company, enlisted string) *model.Record {
		r := record("x", who, company)
		r.Source.File = file
		r.Service.Enlisted, _ = date.Parse(enlisted)
		return r
	}
	a := row("rolls.csv", "Kolb, Henry J.", "Co. A, 31st Wis. Inf.", "Aug. 9, 1862")
	dead, later := row("history.csv", "Kolb, Henry", "Co. A, 31st Wis. Inf.", ""), row("rolls.csv", "Kolb, Henry", "Co. A, 31st Wis. Inf.", "")
	dead.Person.Died, _ = date.Parse("1864")
	later.Person.Died, _ = date.Parse("1902")
	born := func(year string) *model.Record {
		r := row("home.csv", "Kolb, Henry", "Co. A, 31st Wis. Inf.", "")
		r.Person.Born, _ = date.Parse(year)
		return r
	}
	of1917 := func(file, who, company string, war model.ConflictCode) *model.Record {
		r := row(file, who, company, "")
		r.Service.Conflicts = []model.ConflictCode{war}
		return r
	}
	younger := row("rolls.csv", "Kolb, Henry", "Co. A, 31st Wis. Inf.", "")
	younger.Person.Born, _ = date.Parse("1843")
	for _, tt := range []struct {
		a, b *model.Record
		same bool
	}{
		{younger, born("1847"), true},
		{younger, born("1849"), false},
		{row("navy.csv", "Kolb, Henry", "U.S.S. Kearsarge", ""), row("home.csv", "Kolb, Henry", "U.S.S. Kearsarge", ""), true},
		{row("navy.csv", "Kolb, Henry", "U.S.S. Kearsarge", ""), row("home.csv", "Kolb, Henry", "U.S.S. Monitor", ""), false},
		{row("navy.csv", "Kolb, Henry", "U.S.S. Kearsarge", ""), row("home.csv", "Kolb, Henry", "U. S. Navy, U.S.S. Kearsarge", ""), true},
		{row("rolls.csv", "Kolb, Henry", "31st Wis. Inf.", ""), row("home.csv", "Kolb, Henry", "31st Wis. Inf.", ""), false},
		{a, row("home.csv", "Kolb, Henry J.", "31st Wis. Inf.", ""), true},
		{a, row("home.csv", "Kolb, Henry J.", "32nd Wis. Inf.", ""), false},
		{row("rolls.csv", "Kolb, Henry J.", "Co. A, Wis. Inf.", ""), row("home.csv", "Kolb, Henry J.", "Wis. Inf.", ""), false},
		{a, row("history.csv", "Kolb, Henry J.", "Co. A, 31st Wis. Inf.", ""), true},
		{a, row("history.csv", "Kolbe, Heinrich", "Co. A, 31st Wis. Inf.", ""), true},
		{a, row("history.csv", "Kolb, H.", "Co. A, 31st Wis. Inf.", "1862"), true},
		{a, row("rolls.csv", "Kolb, Henry J.", "Co. A, 31st Wis. Inf.", ""), false},
		{a, row("history.csv", "Kolb, Henry J.", "Co. B, 31st Wis. Inf.", ""), false},
		{a, row("history.csv", "Kolb, Henry P.", "Co. A, 31st Wis. Inf.", ""), false},
		{a, row("history.csv", "Kolb, Peter", "Co. A, 31st Wis. Inf.", ""), false},
		{a, row("history.csv", "Kolb, Hcnry", "Co. A, 31st Wis. Inf.", ""), true},
		{row("rolls.csv", "Kolb, Albert", "Co. A, 31st Wis. Inf.", ""), row("history.csv", "Kolb, Elbert", "Co. A, 31st Wis. Inf.", ""), false},
		{a, row("history.csv", "Kolb, Henry J.", "Co. A, 31st Wis. Inf.", "1864"), false},
		{dead, later, false},
		{of1917("state.csv", "Kolb, Henry", "Co. D, 107th Engrs.", "world-war-i"), of1917("honor.csv", "Kolb, Henry J.", "Co. D, 107th Engrs.", "world-war-i"), true},
		{of1917("state.csv", "Kolb, Henry", "Co. D, 107th Engrs.", "world-war-i"), of1917("honor.csv", "Kolb, Henry", "Co. E, 107th Engrs.", "world-war-i"), false},
		{of1917("state.csv", "Kolb, Henry", "Co. D, 107th Engrs.", "world-war-i"), of1917("honor.csv", "Kolb, Henry", "107th Engrs.", "world-war-i"), false},
		{of1917("state.csv", "Kolb, Henry", "163rd Depot Brigade", "world-war-i"), row("honor.csv", "Kolb, Henry", "163rd Depot Brigade", ""), true},
		{of1917("state.csv", "Kolb, Henry", "163rd Depot Brigade", "world-war-i"), row("honor.csv", "Kolb, Henry", "161st Depot Brigade", ""), false},
		{a, row("pensions.csv", "Kolb, Henry J.", "Co. A, 31st Inf.", ""), true},
		{a, row("pensions.csv", "Kolb, Henry J.", "Co. A, 31st Wis. Vols.", ""), true},
		{a, row("pensions.csv", "Kolb, Henry J.", "Co. A, 31st Wis. Cav.", ""), false},
		{a, row("pensions.csv", "Kolb, Henry J.", "Co. B, 31st Inf.", ""), false},
		{a, row("pensions.csv", "Kolb, Henry J.", "Co. A, 31st Ohio Inf.", ""), false},
		{row("rolls.csv", "Kolb, Henry", "1st Battery, Ind. Lt. Art.", ""), row("home.csv", "Kolb, Henry", "1st Ind. Lt. Art.", ""), true},
		{row("rolls.csv", "Kolb, Henry", "1st Battery, Ind. Lt. Art.", ""), row("home.csv", "Kolb, Henry", "2nd Ind. Lt. Art.", ""), false},
		{of1917("state.csv", "Kolb, Henry", "Co. D, 31st Inf.", "civil-war"), of1917("honor.csv", "Kolb, Henry", "Co. D, 31st Inf.", "civil-war"), false},
	} {
		if got := otherBook(tt.a, tt.b); got != tt.same {
			t.Errorf("%s in %s and %s in %s: %v", tt.a.Person.Name.Written, tt.a.Source.File, tt.b.Person.Name.Written, tt.b.Source.File, got)
		}
	}
}

// TestAtSea: two books may list one man of the navy and name no ship; that he was born in one year in both is asked for, and a whole name.
func TestAtSea(t *testing.T) {
	row := func(file, who, ship string, branch model.Branch, born string) *model.Record {
		r := record("x", who, ship)
		r.Source.File, r.Service.Branch = file, branch
		r.Person.Born, _ = date.Parse(born)
		return r
	}
	a := row("rolls.csv", "Kolb, Walter", "", "navy", "1924")
	for _, tt := range []struct {
		b    *model.Record
		same bool
	}{
		{row("county.csv", "Kolb, Walter", "", "navy", "1924"), true},
		{row("county.csv", "Kolb, Walter", "USS Essex", "navy", "May 1, 1925"), true},
		{row("rolls.csv", "Kolb, Walter", "", "navy", "1924"), false},
		{row("county.csv", "Kolb, Walter", "", "marine-corps", "1924"), false},
		{row("county.csv", "Kolb, Walter", "", "navy", "1920"), false},
		{row("county.csv", "Kolb, Walter", "", "navy", ""), false},
		{row("county.csv", "Kolb, W.", "", "navy", "1924"), false},
		{row("county.csv", "Kolb, Peter", "", "navy", "1924"), false},
	} {
		if got := otherBook(a, tt.b); got != tt.same {
			t.Errorf("%s of %s in %s, born %s, unit %v: %v", tt.b.Person.Name.Written, tt.b.Service.Branch, tt.b.Source.File, tt.b.Person.Born, tt.b.Service.Unit, got)
		}
	}
	soldier := row("rolls.csv", "Kolb, Walter", "", "army", "1924")
	if otherBook(soldier, row("county.csv", "Kolb, Walter", "", "army", "1924")) {
		t.Error("two soldiers without a unit are one man")
	}
}

// TestNamesakesOfOtherBook: of two namesakes in the company's other book one is the man of this book, the likelier, and not both.
func TestNamesakesOfOtherBook(t *testing.T) {
	w := &weighed{cands: make([]model.Candidate, 4)}
	for _, file := range []string{"rolls.csv", "history.csv", "history.csv", "cards.csv"} {
		r := record("x", "Kolb, Henry J.", "Co. A, 31st Wis. Inf.")
		r.Source.File = file
		w.records = append(w.records, r)
	}
	a := &answer{list: []choice{{p: .4, cand: 0}, {p: .25, cand: 1}, {p: .2, cand: 2}, {p: .1, cand: 3}}}
	var mine, other model.Record
	if got, want := a.list[0].p+w.twins(a, 0, &mine, &other), .4+.25+.1; math.Abs(got-want) > 1e-12 {
		t.Errorf("the man has %.3f, want %.3f", got, want)
	}
	if want := [][2]uint16{{0, 1}, {0, 3}}; !slices.Equal(a.twins, want) {
		t.Errorf("told as one man: %v, want %v", a.twins, want)
	}
}

// TestDecisionsTeachTheM: one stone in three spells the surname otherwise than the roster, and a person confirms it: a near name is then worth more than before. What the decisions say of the u
// is told with what was foretold and what was right, and nothing is told where nobody has decided.
func TestDecisionsTeachTheM(t *testing.T) {
	records := company()
	var subjects []*model.Subject
	var decisions []model.Decision
	for i := range 60 {
		r := records[i*3]
		surname := r.Person.Name.Surname
		if i%3 == 0 {
			surname = surname[:2] + "x" + surname[2:]
		}
		s := subject(fmt.Sprint("s", i), r.Person.Name.Given+" "+surname, "")
		subjects = append(subjects, s)
		if i%3 == 0 {
			decisions = append(decisions, model.Decision{ID: fmt.Sprint(i), At: time.Date(2025, 6, 1, 12, i, 0, 0, time.UTC), By: "Ann", Stone: s.Stone.ID, Record: r.ID, As: model.Confirmed})
		}
	}
	near := func(settled ledger.State) float64 {
		counts := weigh.Count(slices.Values(records))
		l := &Linker{Finder: &Scan{Records: records, Counts: counts}, Counts: counts, Settled: settled}
		_, lesson, err := l.Learn(t.Context(), subjects)
		if err != nil {
			t.Fatal(err)
		}
		decided := len(settled.Pairs()) > 0
		if (len(lesson.Chances) > 0) != decided {
			t.Errorf("%d decisions, chances %+v", len(settled.Pairs()), lesson.Chances)
		}
		for _, v := range lesson.Chances {
			if v.Field == unlistedSurname && v.Level == "near" && (math.Abs(v.Right-20) > 1e-6 || (v.Times < 1) != (v.Foretold < v.Right)) {
				t.Errorf("twenty near surnames were confirmed: %+v", v)
			}
		}
		for _, v := range lesson.Levels {
			if v.Field == unlistedSurname && v.Level == "near" { // no record bears a name with such an x
				return v.After
			}
		}
		return 0
	}
	if before, after := near(ledger.State{}), near(ledger.StateOf(slices.Values(decisions))); after < before+.01 {
		t.Errorf("m of a near surname: %.3f without decisions, %.3f with twenty that confirm such", before, after)
	}
}

// TestCalibrated: the best candidate gets the mapped probability, and the whole still sums to 1.
func TestCalibrated(t *testing.T) {
	l := &Linker{}
	all := []weighed{{stone: "a", cands: []model.Candidate{{Record: "1"}, {Record: "2"}}}}
	answers := []answer{{none: .1, list: []choice{{p: .8}, {p: .1, cand: 1}}}}
	l.calibrated(all, answers, calibrate.Map{Kind: calibrate.Logistic, A: 0, B: .5})
	c, none := answers[0].list, answers[0].none
	if want := 2. / 3; math.Abs(c[0].p-want) > 1e-9 { // the square root of the odds of 4 to 1
		t.Errorf("got %v, want %v", c[0].p, want)
	}
	if sum := none + c[0].p + c[1].p; math.Abs(sum-1) > 1e-12 || math.Abs(c[1].p-none) > 1e-12 {
		t.Errorf("they sum to %v", sum)
	}
}

func TestWeighsOtherSpellings(t *testing.T) {
	records := append(company(), record("z", "Schmidt, Peter", "Co. F, 31st Wis. Inf."))
	w := weigh.New(weigh.Count(slices.Values(records)), nil)
	for _, tt := range []struct{ stone, level string }{{"Peter Schmidt", "same"}, {"Peter Schmitt", "spelling"}, {"Peter Smith", "spelling"}, {"Peter Quackenbush", "different"}} {
		s := w.Stone(&model.Subject{Stone: &model.Stone{}}, model.Claim{Person: model.Person{Name: name.Parse(tt.stone)}})
		_, evidence := s.Against(records[len(records)-1])
		if evidence[0].Field != "surname" || evidence[0].Level != tt.level {
			t.Errorf("%s with Schmidt: %s %s, want %s", tt.stone, evidence[0].Field, evidence[0].Level, tt.level)
		}
	}
}
