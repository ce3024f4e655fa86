package rdf

import (
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// TestPrivateColumns: what a private column says leaves neither as a cell nor as what was understood of it.
func TestPrivateColumns(t *testing.T) {
	rec := &model.Record{
		ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "Remarks", Value: "deserted"}, {Column: "born", Value: "abt 1840"}, {Column: "home", Value: "Alder Creek"}},
		Claim: model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden"}, Born: date.Date{EDTF: "1840~", Written: "abt 1840", To: date.Day{Year: 1840, Month: 12, Day: 31}}, Residence: "Alder Creek"}, Service: model.Service{Remarks: "deserted", Side: model.Union}},
	}
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"remarks", "BORN"}, Records: slices.Values([]*model.Record{rec})}
	sum := says(t, d, nil, "deserted", "1840")
	if sum.PrivateCells != 2 {
		t.Errorf("%d private cells, want 2", sum.PrivateCells)
	}
}

// TestPrivateRemarks: a death that was read out of private remarks stays at home with them; one that a column of its own gives goes out.
func TestPrivateRemarks(t *testing.T) {
	for _, own := range []bool{false, true} {
		rec := &model.Record{ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "remarks", Value: "shot for desertion; died Aug. 1, 1864"}}}
		rec.Service.Remarks, rec.Service.Side = rec.Written[0].Value, model.Union
		rec.Person.Died = date.Date{EDTF: "1864-08-01", Written: "Aug. 1, 1864", From: date.Day{Year: 1864, Month: 8, Day: 1}, To: date.Day{Year: 1864, Month: 8, Day: 1}}
		d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"remarks"}, Records: slices.Values([]*model.Record{rec})}
		if own {
			rec.Written = append(rec.Written, model.Cell{Column: "died", Value: "Aug. 1, 1864"})
			says(t, d, []string{`"1864-08-01"`}, "desertion")
		} else {
			says(t, d, nil, "1864", "desertion")
		}
	}
}

// TestPrivateSpill: what a private cell filled beside its own field stays at home too, however the cell is spaced; what other columns give goes out.
func TestPrivateSpill(t *testing.T) {
	died := date.Date{EDTF: "1864-08-01", Written: "Aug. 1, 1864", From: date.Day{Year: 1864, Month: 8, Day: 1}, To: date.Day{Year: 1864, Month: 8, Day: 1}}
	for _, c := range []struct {
		private string
		cells   []model.Cell
		claim   model.Claim
		out     []string
		never   []string
	}{
		{"rank", []model.Cell{{Column: "rank", Value: "CPL CO D 1ST RI CAV"}}, model.Claim{Service: model.Service{Rank: "corporal", Unit: unit.FromParts(unit.Parts{Unit: "CO D 1ST RI CAV"})}}, nil, []string{"RI CAV", "cavalry", "unit"}},
		{"rank", []model.Cell{{Column: "rank", Value: "Pvt."}, {Column: "unit", Value: "Co. C, 4 Wis. Cav."}}, model.Claim{Service: model.Service{Rank: "private", Unit: unit.FromParts(unit.Parts{Unit: "Co. C, 4 Wis. Cav."})}},
			[]string{"unit-wi-cavalry-4-co-c"}, []string{"private"}},
		{"branch", []model.Cell{{Column: "branch", Value: "Cavalry"}, {Column: "regiment", Value: "4"}}, model.Claim{Service: model.Service{Unit: unit.FromParts(unit.Parts{Regiment: "4", Arm: "Cavalry", State: "WI"})}}, nil, []string{"cavalry", "Cavalry", "unit"}},
		{"branch", []model.Cell{{Column: "branch", Value: "C. S. Army"}}, model.Claim{Service: model.Service{Branch: "army", Side: model.Confederate}}, nil, []string{"side-confederate", "branch-army"}},
		{"branch", []model.Cell{{Column: "branch", Value: "Army"}, {Column: "side", Value: "union"}}, model.Claim{Service: model.Service{Branch: "army", Side: model.Union, Unit: unit.FromParts(unit.Parts{Regiment: "4", Arm: "Cavalry", State: "WI"})}},
			[]string{"side-union", "unit-wi-cavalry-4"}, []string{"branch-army"}},
		{"state", []model.Cell{{Column: "state", Value: "United States Navy"}}, model.Claim{Service: model.Service{Branch: "navy"}}, nil, []string{"branch-navy"}},
		{"unit", []model.Cell{{Column: "unit", Value: "U. S. Navy"}}, model.Claim{Service: model.Service{Branch: "navy"}}, nil, []string{"branch-navy"}},
		{"unit", []model.Cell{{Column: "unit", Value: "1st Bn., U.S.M.C."}}, model.Claim{Service: model.Service{Branch: "marine-corps"}}, nil, []string{"branch-marine"}},
		{"unit", []model.Cell{{Column: "unit", Value: "C.S.N."}}, model.Claim{Service: model.Service{Branch: "navy", Side: model.Confederate}}, nil, []string{"branch-navy", "side-confederate"}},
		{"unit", []model.Cell{{Column: "unit", Value: "C.S.N."}, {Column: "side", Value: "Confederate"}}, model.Claim{Service: model.Service{Branch: "navy", Side: model.Confederate}}, []string{"side-confederate"}, []string{"branch-navy"}},
		// A column that is not known by what it means: what was read out of it is known by its words.
		{"c7", []model.Cell{{Column: "c7", Value: "Aet. 33 y"}}, model.Claim{Person: model.Person{Age: date.Age{Years: 33, Written: "Aet. 33 y"}}}, nil, []string{"#age"}},
		{"c7", []model.Cell{{Column: "c7", Value: "Co. C, 4 Wis. Cav."}}, model.Claim{Service: model.Service{Unit: unit.FromParts(unit.Parts{Unit: "Co. C, 4 Wis. Cav."})}}, nil, []string{"unit-wi-cavalry-4", "Wis. Cav"}},
		// A year of two digits, whose century the private war told.
		{"conflict", []model.Cell{{Column: "conflict", Value: "Civil War"}, {Column: "enlisted", Value: "Aug. 9, '62"}},
			model.Claim{Service: model.Service{Conflicts: []model.ConflictCode{"civil-war"}, Enlisted: date.Date{EDTF: "1862-08-09", Written: "Aug. 9, '62", From: date.Day{Year: 1862, Month: 8, Day: 9}, To: date.Day{Year: 1862, Month: 8, Day: 9}}}},
			[]string{"Aug. 9, '62"}, []string{"1862", "civil-war"}},
		{"ms:remarks", []model.Cell{{Column: "ms:remarks", Value: "died  Aug. 1,  1864"}}, model.Claim{Person: model.Person{Died: died}, Service: model.Service{Remarks: "died  Aug. 1,  1864"}}, nil, []string{"1864-08-01", "Aug. 1"}},
	} {
		c.claim.Person.Name = model.Name{Surname: "Holden"}
		c.claim.Person.Born = date.Year(1840)
		rec := &model.Record{ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: c.cells, Claim: c.claim}
		says(t, Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{c.private}, Records: slices.Values([]*model.Record{rec})}, append(c.out, "Holden"), c.never...)
	}
}

// TestPrivateUnwritten: what the metadata give to all rows, or make of other cells, can be private though no cell says it.
func TestPrivateUnwritten(t *testing.T) {
	rec := &model.Record{ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "dob", Value: "1840"}},
		Claim: model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden"}, Born: date.On(1840, 1, 1)}, Service: model.Service{Side: model.Union}}}
	for _, private := range []bool{false, true} {
		d := Dataset{Base: "https://data.example.org/", Year: 2025, Records: slices.Values([]*model.Record{rec}), Tables: []Table{{File: "roster.csv", Columns: []TableColumn{{"dob", ""}}}}}
		if private {
			d.Private, d.Tables[0].Private = []string{"dob", "born", "side"}, []string{MS + "born", MS + "side"}
			says(t, d, []string{"Holden"}, "1840", "side-union")
		} else {
			says(t, d, []string{"Holden", "1840-01-01", "side-union"})
		}
	}
}

// TestPrivateFinding: a finding about a stone gives no reasons where a record that may be its man's has something private, since they quote it: by a proposal or by a decision.
func TestPrivateFinding(t *testing.T) {
	rec := &model.Record{ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "surname", Value: "Holden"}, {Column: "company", Value: "F"}},
		Claim: model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden"}}, Service: model.Service{Side: model.Union, Unit: model.Unit{State: "WI", Number: 31, Company: "F"}}}}
	stone := &model.Subject{Stone: &model.Stone{ID: "A-1", Source: model.Source{File: "stones.csv", Row: 2}, Marker: model.Marker{Inscription: "J. H."}},
		Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "H.", Given: "J."}}}}, Probability: 1}}}
	proposals := []model.Proposal{{Stone: "A-1", None: 0.1, Candidates: []model.Candidate{{Record: "r", Probability: 0.9}}}}
	decisions := []model.Decision{{ID: "d1", At: time.Date(2025, 1, 1, 0, 0, 0, 0, time.UTC), By: "A. N.", Stone: "A-1", Record: "r", As: model.Confirmed}}
	for _, c := range []struct {
		private    []string
		proposals  []model.Proposal
		decisions  []model.Decision
		out, never []string
	}{
		{nil, proposals, nil, []string{"is his", "private-stone"}, nil},
		{[]string{"surname"}, proposals, nil, []string{"private-stone"}, []string{"Holden", "is his"}},
		{[]string{"company"}, proposals, nil, []string{"private-stone", "Holden"}, []string{"Company F", "is his"}},
		{[]string{"company"}, nil, decisions, []string{"private-stone", "Holden"}, []string{"Company F", "is his"}},
	} {
		says(t, Dataset{Base: "https://data.example.org/", Year: 2025, Private: c.private, Records: slices.Values([]*model.Record{rec}), Subjects: slices.Values([]*model.Subject{stone}),
			Proposals: c.proposals, Decisions: c.decisions,
			Findings: []model.Finding{{Stone: "A-1", Kind: model.PrivateStone, Probability: 0.9, Reasons: []string{"service record r (Holden, Company F, 31st Wisconsin) is his with a probability of 90%"}}}},
			c.out, c.never...)
	}
}

// TestPrivateEvidence: of a candidate whose record or stone lost something to a private column the fields are told that were compared, and not what they say; a private date alone is enough.
func TestPrivateEvidence(t *testing.T) {
	died := date.Year(1890)
	died.Written = "in the fall of 1890"
	rec := &model.Record{ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "c5", Value: died.Written}, {Column: "seen", Value: "x"}},
		Claim: model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden"}, Died: died}, Service: model.Service{Side: model.Union}}}
	stone := &model.Stone{ID: "A-1", Source: model.Source{File: "stones.csv", Row: 2}, Written: []model.Cell{{Column: "words", Value: "JOHN HOLDEN / A SECRET"}}, Marker: model.Marker{Inscription: "JOHN HOLDEN / A SECRET"}}
	for _, c := range []struct {
		private    []string
		out, never []string
	}{
		{[]string{"seen"}, []string{"the stone's words", "the record's words", "why it counts"}, nil},
		{[]string{"c5"}, []string{`"near"`}, []string{"the stone's words", "the record's words", "why it counts"}},
		{[]string{"words"}, nil, []string{"the stone's words", "the record's words", "why it counts"}},
	} {
		says(t, Dataset{Base: "https://data.example.org/", Year: 2025, Private: c.private, Records: slices.Values([]*model.Record{rec}),
			Subjects:  slices.Values([]*model.Subject{{Stone: stone, Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "Holden"}}}}, Probability: 1}}}}),
			Proposals: []model.Proposal{{Stone: "A-1", Candidates: []model.Candidate{{Record: "r", Probability: 0.9, Evidence: []model.Evidence{{Field: "death", Level: "near", Stone: "the stone's words", Record: "the record's words", Why: "why it counts"}}}}}}},
			c.out, c.never...)
	}
}

// TestHeldFinding: of a stone or a record that is held back no finding goes out.
func TestHeldFinding(t *testing.T) {
	claim := func(born int) model.Claim {
		return model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden"}, Born: date.Year(born)}, Service: model.Service{Side: model.Union}}
	}
	for _, c := range []struct {
		name          string
		stone, record int // born
		out           bool
	}{{"both are dead", 1840, 1840, true}, {"the stone's may be living", 1950, 1840, false}, {"the record's may be living", 1840, 1950, false}} {
		stone := &model.Subject{Stone: &model.Stone{ID: "A-1", Source: model.Source{File: "stones.csv", Row: 2}, Marker: model.Marker{Inscription: "J. H."}}, Readings: []model.Reading{{People: []model.Claim{claim(c.stone)}, Probability: 1}}}
		rec := &model.Record{ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Claim: claim(c.record)}
		out, never := []string(nil), []string{"the reason", "private-stone"}
		if c.out {
			out, never = never, nil
		}
		says(t, Dataset{Base: "https://data.example.org/", Year: 2025, Records: slices.Values([]*model.Record{rec}), Subjects: slices.Values([]*model.Subject{stone}),
			Findings: []model.Finding{{Stone: "A-1", Record: "r", Kind: model.PrivateStone, Probability: 0.9, Reasons: []string{"the reason"}}}}, out, never...)
	}
}

// TestPrivateMeanings: a private column is known by what it is read as, though what was understood is worded otherwise than the cell, and its header is the survey's own.
func TestPrivateMeanings(t *testing.T) {
	rec := &model.Record{
		ID: "r", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "id", Value: "r"}, {Column: "grade", Value: "Pvt."}, {Column: "co", Value: "f"}, {Column: "came from", Value: "Ohio"}},
		Claim: model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden"}, Residence: "Ohio"}, Service: model.Service{Rank: "private", Side: model.Union, Unit: model.Unit{State: "WI", Number: 31, Arm: "infantry", Company: "F"}}},
	}
	stone := &model.Stone{
		ID: "A-1", Source: model.Source{File: "stones.csv", Row: 2}, Written: []model.Cell{{Column: "id", Value: "A-1"}, {Column: "epitaph", Value: "JOHN HOLDEN / A SECRET"}, {Column: "gps n", Value: "43.5 N"}, {Column: "across", Value: "13 in"}, {Column: "outline", Value: "arched"}},
		Place:  model.Place{Cemetery: "Alder Creek", Position: &model.Position{Latitude: 43.5, Longitude: -89}},
		Marker: model.Marker{Inscription: "JOHN HOLDEN\nA SECRET", Top: "rounded", Material: "marble", Width: 13},
	}
	table := func(file string, columns ...TableColumn) Table { return Table{File: file, Columns: columns} }
	for _, c := range []struct {
		private []string
		out     []string // what else goes out
		never   []string
	}{
		{nil, []string{"rank-private", "regiment", "A SECRET", "43.5", `"13.0"`, `#top> "rounded"`, "its sentence"}, nil},
		{[]string{"grade"}, []string{"A SECRET", "regiment"}, []string{"rank-private", "Pvt"}},
		{[]string{"co"}, []string{"rank-private"}, []string{"regiment", "co-f"}},
		{[]string{"came from"}, []string{"rank-private"}, []string{"Ohio"}},
		{[]string{"epitaph"}, []string{`"13.0"`, "43.5"}, []string{"SECRET", "HOLDEN"}},
		{[]string{"gps n"}, []string{"A SECRET", `"13.0"`}, []string{"43.5", "-89"}},
		{[]string{"across"}, []string{"A SECRET", `#top> "rounded"`}, []string{`"13.0"`, "13 in", "its sentence"}},
		{[]string{"outline"}, []string{"A SECRET", `"13.0"`}, []string{`#top> "rounded"`, "arched", "its sentence"}},
	} {
		d := Dataset{
			Base: "https://data.example.org/", Year: 2025, Private: c.private, Records: slices.Values([]*model.Record{rec}),
			Subjects: slices.Values([]*model.Subject{{Stone: stone, Readings: []model.Reading{{People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "HOLDEN"}}}}, Probability: 1}}, Implies: model.Implication{Because: []string{"its sentence"}}}}),
			Tables: []Table{
				table("roster.csv", TableColumn{"id", MS + "id"}, TableColumn{"grade", MS + "rank_in"}, TableColumn{"co", MS + "company"}, TableColumn{"came from", MS + "residence"}),
				table("stones.csv", TableColumn{"id", MS + "id"}, TableColumn{"epitaph", MS + "inscription"}, TableColumn{"gps n", MS + "latitude"}, TableColumn{"across", MS + "width_in"}, TableColumn{"outline", MS + "top"}),
			},
		}
		t.Run(strings.Join(c.private, ","), func(t *testing.T) { says(t, d, c.out, c.never...) })
	}
}

// says asks for what the triples of a dataset must say and what they never may.
func says(t *testing.T, d Dataset, out []string, never ...string) (sum Summary) {
	t.Helper()
	m, err := build(&d, t.TempDir(), &sum)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	var all strings.Builder
	for _, sorter := range []*Sorter{m.sort, m.opinion} {
		for line, err := range sorter.lines() {
			if err != nil {
				t.Fatal(err)
			}
			all.Write(line)
		}
	}
	for _, w := range out {
		if !strings.Contains(all.String(), w) {
			t.Errorf("not published: %s", w)
		}
	}
	for _, w := range never {
		if strings.Contains(all.String(), w) {
			t.Errorf("published: %s", w)
		}
	}
	return sum
}

// TestEveryMeaningCanBePrivate: each meaning of a column fills fields that a private column of it takes away; the id, which names the row, and the words of a stone are kept
// back otherwise.
func TestEveryMeaningCanBePrivate(t *testing.T) {
	for _, r := range vocab.Rows("ontology") {
		term := r.Get("term")
		if r.Get("kind") != "column" || term == "id" || term == "inscription" {
			continue
		}
		if claimFields(&model.Claim{}, term) == nil && stoneFields(&model.Stone{}, term) == nil {
			t.Errorf("%s: a private column of ms:%s takes nothing away", r.Where(), term)
		}
	}
}
