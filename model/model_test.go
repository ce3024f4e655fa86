package model

import (
	"fmt"
	"strings"
	"testing"

	"musterstone/model/date"
)

// TestComplaint: what is wrong is told with its place as a spreadsheet counts, and with what to do.
func TestComplaint(t *testing.T) {
	for _, c := range []struct {
		of   Complaint
		want string
	}{
		{Complaint{File: "stones.csv", Row: 14, Column: "width_in", Text: `"a foot" is not a number of inches`, Hint: "write 12 or 12.5"}, `stones.csv:14: column "width_in": "a foot" is not a number of inches; write 12 or 12.5`},
		{Complaint{File: "stones.csv", Row: 14, Text: "the id comes twice"}, "stones.csv:14: the id comes twice"},
		{Complaint{File: "stones.csv", Text: "it is empty"}, "stones.csv: it is empty"},
	} {
		if got := c.of.Error(); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}

// TestBounded: of each weight and file so many complaints pass, then one that says that there are more, then none.
func TestBounded(t *testing.T) {
	told := map[string]int{}
	last := ""
	tell := Bounded(func(c Complaint) { told[fmt.Sprintf("%s %v", c.File, c.Fatal)]++; last = c.Text })
	for range MostTold + 5 {
		tell(Complaint{File: "a.csv", Text: "wrong"})
	}
	if told["a.csv false"] != MostTold+1 || !strings.Contains(last, "10000 have been") {
		t.Errorf("%d were told, the last: %s", told["a.csv false"], last)
	}
	tell(Complaint{File: "a.csv", Fatal: true})
	tell(Complaint{File: "b.csv"})
	if told["a.csv true"] != 1 || told["b.csv false"] != 1 {
		t.Errorf("complaints of another weight and of another file were held back: %v", told)
	}
	Bounded(nil)(Complaint{})
}

// TestBirth: as written; else from the age at enlistment, or at muster where no enlistment is given; else not known.
func TestBirth(t *testing.T) {
	age := date.Age{Years: 21, Known: true}
	enlisted, mustered := date.On(1862, 8, 9), date.On(1862, 9, 10)
	for _, c := range []struct {
		name string
		of   Claim
		want string
	}{
		{"as written", Claim{Person: Person{Born: date.Year(1840), Age: age}, Service: Service{Enlisted: enlisted}}, "1840"},
		{"from the enlistment", Claim{Person: Person{Age: age}, Service: Service{Enlisted: enlisted, MusteredIn: mustered}}, "1840-08-10/1841-08-09"},
		{"from the muster", Claim{Person: Person{Age: age}, Service: Service{MusteredIn: mustered}}, "1840-09-11/1841-09-10"},
		{"an age of no day", Claim{Person: Person{Age: age}}, ""},
		{"a day and no age", Claim{Service: Service{Enlisted: enlisted}}, ""},
	} {
		if got := (&Record{Claim: c.of}).Birth(); got.String() != c.want {
			t.Errorf("%s: %s, want %s", c.name, got, c.want)
		}
	}
}

func TestSourceWords(t *testing.T) {
	for want, s := range map[string]Source{"roster.csv, row 14": {File: "roster.csv", Row: 14}, "roster.ttl, urn:a": {File: "roster.ttl", Subject: "urn:a"}, "roster.csv": {File: "roster.csv"}} {
		if got := s.Words(); got != want {
			t.Errorf("%+v: %q, want %q", s, got, want)
		}
	}
}

// TestSameRegiment: number, kind and whose it is must be given and the same; an arm that one of them leaves out may be the other's.
func TestSameRegiment(t *testing.T) {
	a := Unit{State: "WI", Number: 31, Arm: "infantry", Company: "F"}
	for name, c := range map[string]struct {
		other Unit
		want  bool
	}{
		"another company": {Unit{State: "WI", Number: 31, Arm: "infantry", Company: "K"}, true},
		"no arm":          {Unit{State: "WI", Number: 31}, true},
		"another arm":     {Unit{State: "WI", Number: 31, Arm: "cavalry"}, false},
		"another state":   {Unit{State: "IL", Number: 31, Arm: "infantry"}, false},
		"another number":  {Unit{State: "WI", Number: 13, Arm: "infantry"}, false},
		"a battery":       {Unit{State: "WI", Number: 31, Kind: Battery}, false},
		"nobody's number": {Unit{Number: 31}, false},
	} {
		if a.SameRegiment(c.other) != c.want || c.other.SameRegiment(a) != c.want {
			t.Errorf("%s: want %v both ways", name, c.want)
		}
	}
	if (Unit{Number: 31}).SameRegiment(Unit{Number: 31}) {
		t.Error("a number alone, which is nobody's, is the same regiment")
	}
	if (Unit{}).SameRegiment(Unit{}) {
		t.Error("two units of which nothing is known are the same")
	}
}

// TestZero: of the zero value of each noun nothing is known, and what is asked of it says so.
func TestZero(t *testing.T) {
	if !(Name{}).IsZero() || (Name{}).String() != "" || !(Unit{}).IsZero() || !(Service{}).IsZero() || (Unit{}).Designation() != "" || (Unit{}).HasMark("colored") {
		t.Error("the zero name, unit or service says something")
	}
	if c := (Reading{}).Claim(); !c.Person.Name.IsZero() || !c.Service.IsZero() {
		t.Errorf("a reading that names nobody claims %+v", c)
	}
	if r := new(Subject).Reading(); len(r.People) > 0 {
		t.Errorf("a subject without readings has %+v", r)
	}
	if code, p := (Implication{}).Best(); code != UnknownPattern || p != 0 {
		t.Errorf("a design that implies nothing is %s, %v", code, p)
	}
}

// TestFirst: the first reading, person and pattern are those that count.
func TestFirst(t *testing.T) {
	holden := Claim{Person: Person{Name: Name{Given: "John", Middle: "T", Surname: "Holden", Suffix: "Jr"}}, Service: Service{Unit: Unit{Body: BodyUSCT, State: "OH", Marks: []string{"colored"}}}}
	s := &Subject{Readings: []Reading{{People: []Claim{holden, {}}}, {}}, Implies: Implication{Patterns: []Weighted[PatternCode]{{"civil-war-1873", .7}, {NotGovernment, .3}}}}
	claim := s.Reading().Claim()
	if got := claim.Person.Name.String(); got != "John T Holden Jr" {
		t.Errorf("name %q", got)
	}
	if u := claim.Service.Unit; u.IsZero() || claim.Service.IsZero() || u.Designation() != "usct" || !u.HasMark("colored") || u.HasMark("militia") {
		t.Errorf("unit %+v", u)
	}
	if code, p := s.Implies.Best(); code != "civil-war-1873" || p != .7 {
		t.Errorf("best pattern %s, %v", code, p)
	}
}

func TestAbout(t *testing.T) {
	named := func(given string) Claim { return Claim{Person: Person{Name: Name{Given: given}}} }
	s := &Subject{Readings: []Reading{{People: []Claim{named("Oliver"), named("Isaiah"), named("Amos")}, Tokens: []Token{{Field: "given"}}}, {People: []Claim{named("Olive")}}}}
	for _, tt := range []struct {
		of   *Candidate
		want string
	}{{nil, "OliverIsaiahAmos"}, {&Candidate{}, "OliverIsaiahAmos"}, {&Candidate{Person: 1}, "IsaiahOliverAmos"}, {&Candidate{Person: 2}, "AmosOliverIsaiah"}, {&Candidate{Person: 3}, "OliverIsaiahAmos"}} {
		about, got := s.About(tt.of), ""
		for _, p := range about.Reading().People {
			got += p.Person.Name.Given
		}
		if got != tt.want || about != s && (len(about.Reading().Tokens) > 0 || len(about.Readings) != 2) {
			t.Errorf("about %+v: %s, want %s", tt.of, got, tt.want)
		}
	}
	if s.Reading().People[0].Person.Name.Given != "Oliver" || len(s.Reading().Tokens) == 0 {
		t.Error("the subject itself has changed")
	}
	confirmed := Candidate{Record: "c", Decided: string(Confirmed)}
	for _, tt := range []struct {
		list []Candidate
		want RecordID
	}{{nil, ""}, {[]Candidate{{Record: "a", Probability: .4}}, ""}, {[]Candidate{{Record: "a", Probability: .4}, {Record: "b", Probability: .6}}, "b"}, {[]Candidate{{Record: "a", Probability: .6}, confirmed}, "c"}} {
		p, got := Proposal{Candidates: tt.list}, RecordID("")
		if c := p.Man(); c != nil {
			got = c.Record
		}
		if got != tt.want {
			t.Errorf("the man of %+v is %q, want %q", tt.list, got, tt.want)
		}
	}
}
