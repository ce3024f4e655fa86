package link

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

func record(id, who, company string) *model.Record {
	r := &model.Record{ID: model.RecordID(id)}
	r.Person.Name = name.Parse(who)
	r.Service.Rank = "private"
	r.Service.Unit, _ = unit.Parse(company)
	return r
}

func subject(id, who, company string) *model.Subject {
	c := model.Claim{Person: model.Person{Name: name.Parse(who)}}
	if company != "" {
		c.Service.Unit, _ = unit.Parse(company)
	}
	return &model.Subject{Stone: &model.Stone{ID: model.StoneID(id)}, Readings: []model.Reading{{People: []model.Claim{c}, Probability: 1}}}
}

// company is 200 invented men in ten companies, among them two William Bakers, and one Amos Tillotson.
func company() []*model.Record {
	var out []*model.Record
	for i := range 197 {
		surname := []string{"Adler", "Bower", "Carver", "Dorn", "Eaton", "Fisk", "Gage", "Hale", "Ives", "Judd"}[i%10] + string(rune('a'+i/10%20))
		out = append(out, record(fmt.Sprintf("r%03d", i), surname+", "+[]string{"John", "George", "Henry", "Peter", "Levi"}[i%5], fmt.Sprintf("Co. %c, 31st Wis. Inf.", 'A'+i%8)))
	}
	return append(out, record("b1", "Baker, William", "Co. F, 31st Wis. Inf."), record("b2", "Baker, William", "Co. K, 44th Wis. Inf."), record("t1", "Tillotson, Amos", "Co. F, 31st Wis. Inf."))
}

func proposeLearned(t *testing.T, records []*model.Record, subjects []*model.Subject) ([]model.Proposal, *Lesson) {
	t.Helper()
	counts := weigh.Count(slices.Values(records))
	l := &Linker{Finder: &Scan{Records: records, Counts: counts}, Counts: counts}
	ps, lesson, err := l.Learn(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	return ps, lesson
}

func propose(t *testing.T, subjects []*model.Subject, settled ledger.State) []model.Proposal {
	t.Helper()
	records := company()
	counts := weigh.Count(slices.Values(records))
	l := &Linker{Finder: &Scan{Records: records, Counts: counts}, Counts: counts, Settled: settled}
	ps, err := l.Propose(context.Background(), subjects)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range ps {
		sum := p.None
		for _, c := range p.Candidates {
			sum += c.Probability
			bits := 0.0
			for _, e := range c.Evidence {
				bits += e.Bits
			}
			if len(c.Evidence) > 0 && math.Abs(bits-c.Bits) > 1e-9 {
				t.Errorf("stone %s record %s: evidence adds up to %v, bits are %v", p.Stone, c.Record, bits, c.Bits)
			}
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("stone %s: the probabilities and none sum to %v", p.Stone, sum)
		}
	}
	return ps
}

func probability(p model.Proposal, id model.RecordID) float64 {
	for _, c := range p.Candidates {
		if c.Record == id {
			return c.Probability
		}
	}
	return 0
}

func TestPropose(t *testing.T) {
	ps := propose(t, []*model.Subject{
		subject("one", "Wm. Baker", "Co. K 44 Wis. Inf."),
		subject("two", "William Baker", ""),
		subject("three", "Amos Tillotson", "Co. F 31 Wis. Inf."),
		subject("four", "Ignatz Quackenbush", "Co. B 12 Ohio Cav."),
	}, ledger.State{})
	if c := ps[0].Candidates[0]; c.Record != "b2" || !c.Proposed {
		t.Errorf("the unit tells the namesakes apart: got %s, proposed %v", c.Record, c.Proposed)
	}
	if p := probability(ps[1], "b2"); p > 0.5 {
		t.Errorf("record b2 is stone one's man, yet stone two is given him with %v", p)
	}
	if c := ps[2].Candidates[0]; c.Record != "t1" || !c.Proposed {
		t.Errorf("a rare name and the company: got %s, proposed %v", c.Record, c.Proposed)
	}
	if ps[3].None < 0.9 {
		t.Errorf("nobody in the rosters is like stone four, yet none has only %v", ps[3].None)
	}
}

// TestOneManOneStone: a whole name and a worn one, both of his company, claim one man. He may have two stones, but is proposed for one, and both
// are told.
func TestOneManOneStone(t *testing.T) {
	ps := propose(t, []*model.Subject{subject("whole", "Amos Tillotson", "Co. F 31 Wis. Inf."), subject("worn", "Am[..] Til[---]", "Co. F 31 Wis. Inf.")}, ledger.State{})
	alone := propose(t, []*model.Subject{subject("worn", "Am[..] Til[---]", "Co. F 31 Wis. Inf.")}, ledger.State{})
	if both, one := probability(ps[1], "t1"), probability(alone[0], "t1"); both >= one {
		t.Errorf("the worn stone has %v of him alone, and %v beside the whole one", one, both)
	}
	for _, p := range ps {
		if len(p.Notes) == 0 {
			t.Errorf("stone %s is not told of the other's claim", p.Stone)
		}
	}
	if ps[0].Candidates[0].Proposed && ps[1].Candidates[0].Proposed && ps[0].Candidates[0].Record == ps[1].Candidates[0].Record {
		t.Error("one man is proposed for two stones")
	}
}

// TestNamesakes: two equal namesakes get at most a half each, whatever the evidence for the name.
func TestNamesakes(t *testing.T) {
	ps := propose(t, []*model.Subject{subject("one", "William Baker", "")}, ledger.State{})
	a, b := probability(ps[0], "b1"), probability(ps[0], "b2")
	if a > 0.5 || b > 0.5 {
		t.Errorf("namesakes have %v and %v", a, b)
	}
	if ps[0].Candidates[0].Proposed {
		t.Error("one of two equal namesakes is proposed")
	}
}

func TestDecisionsAreRespected(t *testing.T) {
	at := time.Date(2025, 6, 1, 12, 0, 0, 0, time.UTC)
	state := ledger.StateOf(slices.Values([]model.Decision{
		{ID: "1", At: at, By: "Ann", Stone: "two", Record: "b1", As: model.Confirmed},
		{ID: "2", At: at, By: "Ann", Stone: "three", Record: "t1", As: model.Refused},
	}))
	ps := propose(t, []*model.Subject{subject("two", "William Baker", ""), subject("three", "Amos Tillotson", "Co. F 31 Wis. Inf."), subject("six", "William Baker", "")}, state)
	if c := ps[0].Candidates[0]; c.Record != "b1" || c.Probability != 1 || c.Decided != "confirmed" || !c.Proposed {
		t.Errorf("confirmed: %+v", c)
	}
	if p := probability(ps[1], "t1"); p != 0 {
		t.Errorf("refused, yet given %v", p)
	}
	if last := ps[1].Candidates[len(ps[1].Candidates)-1]; last.Decided != "refused" {
		t.Errorf("the refused record is not kept at the end: %+v", last)
	}
	if a, b := probability(ps[2], "b1"), probability(ps[2], "b2"); a >= b {
		t.Errorf("b1 is confirmed for stone two, yet stone six is given him with %v, and b2 with %v", a, b)
	}
}

// TestPosterior works the posterior of a stone with two candidates by hand.
func TestPosterior(t *testing.T) {
	l := &Linker{Counts: &weigh.Counts{N: 1000}}
	s := subject("x", "William Baker", "Co. K 44 Wis. Inf.")
	w := &weighed{subject: s, prior: 0.4, cands: []model.Candidate{{Record: "a", Bits: 10}, {Record: "b", Bits: 8}}}
	p := l.posterior(w)
	lambda := 0.4
	a, b, none := lambda/1000*1024, lambda/1000*256, 1-lambda
	for _, tt := range []struct{ got, want float64 }{{p.list[0].p, a / (a + b + none)}, {p.list[1].p, b / (a + b + none)}, {p.none, none / (a + b + none)}} {
		if math.Abs(tt.got-tt.want) > 1e-12 {
			t.Errorf("got %v, want %v", tt.got, tt.want)
		}
	}
}

// TestSameWithAnyCores: the proposals are the same however many cores there are.
func TestSameWithAnyCores(t *testing.T) {
	subjects := []*model.Subject{subject("one", "Wm. Baker", "Co. K 44 Wis. Inf."), subject("two", "William Baker", ""), subject("three", "Amos Tillotson", "")}
	said := func(cores int) string {
		defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(cores))
		text, err := json.Marshal(propose(t, subjects, ledger.State{}))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	a := said(1)
	for _, cores := range []int{2, 3, 8} {
		if b := said(cores); a != b {
			t.Fatalf("with one core\n%s\nwith %d\n%s", a, cores, b)
		}
	}
}

// TestAnother: where there is a stone for every man, one in fifty has a second; where the rosters hold many more men than there are stones, it costs little.
func TestAnother(t *testing.T) {
	for _, tt := range []struct {
		stones, records int
		want            float64
	}{{0, 1000, -5.64}, {2000, 1000, -5.64}, {1000, 1000, -4.64}, {1000, 20_000, -2}, {1000, 4000, -2.64}} {
		l := &Linker{Stones: tt.stones, Counts: &weigh.Counts{N: tt.records}}
		if got := l.another(); math.Abs(got-tt.want) > .01 {
			t.Errorf("%d stones, %d records: %.2f bits, want %.2f", tt.stones, tt.records, got, tt.want)
		}
	}
}

// TestSecondStone: of two stones of one man, the one that speaks more strongly of him is proposed and the other marked as his second; a row of a register is
// second to a stone, and where the stone is not there, it is proposed itself.
func TestSecondStone(t *testing.T) {
	row := subject("row", "Amos Tillotson", "Co. F 31 Wis. Inf.")
	claim := row.Reading().Claim()
	row.Stone.Register = &claim
	stone, family := subject("stone", "Amos Tillotson", "Co. F 31 Wis. Inf."), subject("family", "A. Tillotson", "Co. F 31 Wis. Inf.")
	for _, tt := range []struct {
		subjects []*model.Subject
		want     string
	}{
		{[]*model.Subject{family, stone}, "second proposed"}, {[]*model.Subject{row, stone}, "second proposed"}, {[]*model.Subject{row}, "proposed"}, {[]*model.Subject{row, family, stone}, "second second proposed"},
	} {
		var got []string
		for _, p := range propose(t, tt.subjects, ledger.State{}) {
			switch c := p.Candidates[0]; {
			case c.Record != "t1":
				got = append(got, string(c.Record))
			case c.Proposed && !c.Second:
				got = append(got, "proposed")
			case c.Second:
				got = append(got, "second")
			default:
				got = append(got, "neither")
			}
		}
		if s := strings.Join(got, " "); s != tt.want {
			t.Errorf("%d stones: %s, want %s", len(tt.subjects), s, tt.want)
		}
	}
}

// TestMention: a wife's stone that names a soldier and his company has his record first, but marks him with one in ten at most, and takes nothing from his own.
// TestAnotherMan: of two men on one stone, of whom it does not say that they served, either may be the rosters'; a wife, and who has served, bring nobody beside them, nor does a name that no soldier bears.
func TestAnotherMan(t *testing.T) {
	with := func(first, second *model.Subject) *model.Subject {
		first.Readings[0].People = append(first.Readings[0].People, second.Readings[0].People...)
		return first
	}
	wife := subject("", "Amos Tillotson", "")
	wife.Readings[0].People[0].Person.Relation = "wife"
	for _, tt := range []struct {
		name    string
		stone   *model.Subject
		another bool
	}{
		{"father and son", with(subject("s", "Ignatz Tillotson", ""), subject("", "Amos Tillotson", "")), true},
		{"the son first", with(subject("s", "Amos Tillotson", ""), subject("", "Ignatz Tillotson", "")), false},
		{"his wife", with(subject("s", "Ignatz Tillotson", ""), wife), false},
		{"the first served", with(subject("s", "Ignatz Tillotson", "Co. B 12 Ohio Cav."), subject("", "Amos Tillotson", "")), false},
		{"a woman's name", with(subject("s", "Ignatz Tillotson", ""), subject("", "Wilhelmina Tillotson", "")), false},
	} {
		p := propose(t, []*model.Subject{tt.stone}, ledger.State{})[0]
		another := slices.ContainsFunc(p.Candidates, func(c model.Candidate) bool {
			return slices.ContainsFunc(c.Evidence, func(e model.Evidence) bool { return e.Level == "another man" && e.Bits == afterFirst && e.Why != "" })
		})
		if another != tt.another {
			t.Errorf("%s: another man %v, want %v: %+v", tt.name, another, tt.another, p.Candidates)
		}
		if tt.another && (p.Candidates[0].Record != "t1" || p.None > .5) {
			t.Errorf("%s: %s with %v, none with %v", tt.name, p.Candidates[0].Record, p.Candidates[0].Probability, p.None)
		}
	}
}

// TestStandingOfTwo: a stone of two men stands as the one of them does who is likelier one of the rosters': by his birth, and by a name that is no stranger to them.
func TestStandingOfTwo(t *testing.T) {
	records := company()
	for i, r := range records {
		r.Person.Born, _ = date.Parse(fmt.Sprint(1838 + i%10))
	}
	counts := weigh.Count(slices.Values(records))
	l := &Linker{Counts: counts}
	w := weigh.New(counts, nil)
	man := func(who, born string) *model.Subject {
		s := subject("s", who, "")
		s.Readings[0].People[0].Person.Born, _ = date.Parse(born)
		return s
	}
	for _, tt := range []struct {
		name          string
		first, second *model.Subject
		born          int
		strange       bool
	}{
		{"the father alone", man("Ignatz Tillotson", "1809"), nil, 1809, true},
		{"father and son", man("Peter Tillotson", "1809"), man("Amos Tillotson", "1844"), 1844, false},
		{"the son first", man("Amos Tillotson", "1844"), man("Peter Tillotson", "1809"), 1844, false},
		{"his birth is not known", man("Peter Tillotson", "1809"), man("Amos Tillotson", ""), 0, false},
		{"a woman first", man("Wilhelmina Tillotson", "1843"), man("Amos Tillotson", "1838"), 1838, false},
		{"a woman second", man("Peter Tillotson", "1809"), man("Wilhelmina Tillotson", "1844"), 1809, false},
	} {
		if tt.second != nil {
			tt.first.Readings[0].People = append(tt.first.Readings[0].People, tt.second.Readings[0].People...)
		}
		if s := l.begin(w, tt.first).standing; s.Born != tt.born || s.Strange != tt.strange {
			t.Errorf("%s: born %d, strange %v; want %d, %v", tt.name, s.Born, s.Strange, tt.born, tt.strange)
		}
	}
}

func TestMention(t *testing.T) {
	wife := subject("wife", "Amos Tillotson", "Co. F 31 Wis. Inf.")
	wife.Readings[0].Mention = true
	alone := propose(t, []*model.Subject{wife}, ledger.State{})[0]
	if c := alone.Candidates[0]; c.Record != "t1" || c.Proposed || c.Probability > marks || c.Probability < marks/2 {
		t.Errorf("alone: %s with %v, proposed %v; want t1 with a little less than %v, not proposed", c.Record, c.Probability, c.Proposed, marks)
	}
	if len(alone.WouldChange) == 0 || !strings.Contains(alone.WouldChange[0], "husband or father") {
		t.Errorf("not told why: %q", alone.WouldChange)
	}
	ps := propose(t, []*model.Subject{wife, subject("own", "Amos Tillotson", "Co. F 31 Wis. Inf.")}, ledger.State{})
	if c := ps[1].Candidates[0]; c.Record != "t1" || !c.Proposed || c.Probability < .95 || ps[0].Candidates[0].Second {
		t.Errorf("beside his own: %s with %v, proposed %v; the wife's a second: %v", c.Record, c.Probability, c.Proposed, ps[0].Candidates[0].Second)
	}
	settled := ledger.StateOf(slices.Values([]model.Decision{{ID: "1", At: time.Date(2025, 6, 1, 12, 0, 0, 0, time.UTC), By: "Ann Novak", Stone: "wife", Record: "t1", As: model.Confirmed}}))
	if c := propose(t, []*model.Subject{wife}, settled)[0].Candidates[0]; c.Decided != "confirmed" || c.Probability != 1 {
		t.Errorf("confirmed: %s with %v", c.Decided, c.Probability)
	}
}
