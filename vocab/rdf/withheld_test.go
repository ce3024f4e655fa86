package rdf

import (
	"errors"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"musterstone/model"
)

// withheldDataset is a dataset of which all ids are private, and all else is not: the records' stand in a column of their own, one stone's does, and the others' were made of their cells, of which one is private.
func withheldDataset() Dataset {
	record := func(id string, row int) *model.Record {
		r := &model.Record{ID: model.RecordID(id), Source: model.Source{File: "roster.csv", Row: row}, Written: []model.Cell{{Column: "Pension", Value: id}, {Column: "surname", Value: "Holden"}, {Column: "regiment", Value: "31"}}}
		r.Person.Name = model.Name{Surname: "Holden", Written: "Holden"}
		r.Service.Side, r.Person.Residence = model.Union, "31"
		return r
	}
	stone := func(id string, row int, cells ...model.Cell) *model.Subject {
		s := &model.Stone{ID: model.StoneID(id), Source: model.Source{File: "stones.csv", Row: row}, Place: model.Place{Row: "31"}, Written: append(cells, model.Cell{Column: "row", Value: "31"})}
		s.Marker.Inscription = "HOLDEN / DIED 1890"
		return &model.Subject{Stone: s, Readings: []model.Reading{{Probability: 1, People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "Holden"}}}}}}}
	}
	at := time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)
	seen := func(stone, record string) *model.Seen {
		return &model.Seen{Proposal: &model.Proposal{Stone: model.StoneID(stone), None: 0.1, Notes: []string{"stone stones-aaaabbbb claims record PN-31 too"}, RunnerUp: &model.RunnerUp{Record: "PN-32"},
			Candidates: []model.Candidate{{Record: model.RecordID(record), Probability: 0.8}, {Record: "PN-32", Probability: 0.1, SameAs: model.RecordID(record)}}}}
	}
	return Dataset{
		Base: "https://data.example.org/", Year: 2025, Private: []string{"Pension", "Grave no", "phone"},
		Tables: []Table{{File: "roster.csv", Columns: []TableColumn{{"Pension", MS + "id"}, {"surname", MS + "surname"}, {"regiment", MS + "regiment"}}},
			{File: "stones.csv", Columns: []TableColumn{{"Grave no", MS + "id"}, {"phone", ""}, {"row", MS + "row"}}}},
		Records:  slices.Values([]*model.Record{record("PN-31", 2), record("PN-32", 3), record("31", 4)}),
		Subjects: slices.Values([]*model.Subject{stone("Plot 7 no 3", 2, model.Cell{Column: "Grave no", Value: "Plot 7 no 3"}), stone("stones-aaaabbbb", 3, model.Cell{Column: "phone", Value: "555 01"}), stone("stones-ccccdddd", 4, model.Cell{Column: "phone", Value: "555 02"})}),
		Proposals: []model.Proposal{{Stone: "Plot 7 no 3", None: 0.1, Notes: []string{"stone stones-aaaabbbb claims record PN-31 too: one of them is another man's", "records PN-31 and PN-32 look like one man, listed twice", "nothing else speaks"},
			Candidates: []model.Candidate{{Record: "PN-31", Probability: 0.8, Evidence: []model.Evidence{{Field: "surname", Stone: "Holden", Record: "Holden", Why: "as PN-32's"}}}, {Record: "PN-32", Probability: 0.1}}}},
		Decisions: []model.Decision{
			{ID: "d1", At: at, By: "Ann", Stone: "Plot 7 no 3", Record: "PN-31", As: model.Confirmed, Seen: seen("Plot 7 no 3", "PN-31")},
			{ID: "d2", At: at, By: "Ann", Stone: "Plot 7 no 9", Record: "PN-99", As: model.Refused, Seen: seen("Plot 7 no 9", "PN-99")}, // both gone from the survey
		},
		Findings: []model.Finding{
			{Stone: "stones-ccccdddd", Stones: []model.StoneID{"Plot 7 no 3"}, Kind: model.SecondMarker, Probability: 0.6, Reasons: []string{"stone Plot 7 no 3, which looks like a government marker too, may be the same man's: both claim service record PN-31", "kin of one name served in one company"}},
			{Stone: "stones-ccccdddd", Stones: []model.StoneID{"stones-aaaabbbb"}, Kind: model.SecondMarker, Probability: 0.7, Reasons: []string{"but stone stones-aaaabbbb (the same name)", "record 31 is another's"}, ToShow: []string{"a decision (the proposed one is PN-31)"}},
			{Record: "PN-32", Kind: model.NoStone, Probability: 0.5, Reasons: []string{"the roster says so"}},
		},
	}
}

var withheldIDs = []string{"PN-31", "PN-32", "PN-99", "Plot 7 no 3", "Plot 7 no 9", "stones-aaaabbbb", "stones-ccccdddd", "31"}

// TestPrivateIDs: an id that is private, or was made of private cells, is published nowhere, nor as a digest that whoever tries all ids could find; what stands for it is one thing in all files, the same with the
// same key and another with another.
func TestPrivateIDs(t *testing.T) {
	publish := func(key string) (map[string]map[string][]string, string) {
		d := withheldDataset()
		d.IDKey = func() ([]byte, error) { return []byte(key), nil }
		var sum Summary
		m, err := build(&d, t.TempDir(), &sum)
		if err != nil {
			t.Fatal(err)
		}
		defer m.Close()
		about, all := map[string]map[string][]string{}, strings.Builder{}
		for _, sorter := range []*Sorter{m.sort, m.opinion} {
			for x, err := range sorter.Triples() {
				if err != nil {
					t.Fatal(err)
				}
				s := x.Subj.String()
				if about[s] == nil {
					about[s] = map[string][]string{}
				}
				about[s][x.Pred.String()] = append(about[s][x.Pred.String()], x.Obj.String())
				all.WriteString(s + " " + x.Pred.String() + " " + x.Obj.String() + "\n")
			}
		}
		if sum.WithheldIDs != 8 { // those of six things, and of two that are gone
			t.Errorf("%d ids are withheld, want 8", sum.WithheldIDs)
		}
		return about, all.String()
	}
	about, text := publish("a key of thirty-two bytes or so..")
	for _, id := range withheldIDs {
		for _, never := range []string{id, digest("marker", id), digest("record", id)} {
			if id == "31" && never == id {
				continue // a regiment, a row
			}
			if strings.Contains(text, never) {
				t.Errorf("%q is published as %q: %.300s", id, never, text[max(0, strings.Index(text, never)-200):])
			}
		}
	}
	// What another thing is said to be about is there, with the type it must have.
	classes := map[string]string{MS + "marker": MS + "Marker", MS + "record": MS + "ServiceRecord", MS + "candidate": MS + "CandidateMatch"}
	n := 0
	for s, said := range about {
		for predicate, class := range classes {
			for _, o := range said[predicate] {
				n++
				if !slices.Contains(about[o][rdfns+"type"], class) {
					t.Errorf("%s says %s %s, which is no %s", s, predicate, o, class)
				}
			}
		}
	}
	links, seconds := 0, 0
	for s, said := range about {
		if slices.Contains(said[rdfns+"type"], MS+"ConfirmedLink") {
			links++
		}
		if strings.Contains(s, "finding-second-marker") {
			seconds++
			if len(said[MS+"probability"]) != 1 {
				t.Errorf("%s has probabilities %q: two findings are one thing", s, said[MS+"probability"])
			}
		}
	}
	if n < 10 || links != 1 || seconds != 2 {
		t.Errorf("%d references, %d confirmed links, %d second markers; want 10 or more, 1 and 2", n, links, seconds)
	}
	for _, w := range []string{"nothing else speaks", "stone withheld-", "claims record withheld-", "service record withheld-", "kin of one name served in one company", "the roster says so", "(the proposed one is withheld-", "HOLDEN", `"stone":"withheld-`, `"record":"withheld-`, "Service record withheld-", "Marker withheld-", "#residence 31\n"} {
		if !strings.Contains(text, w) {
			t.Errorf("%q is not published", w)
		}
	}
	if strings.Contains(text, "another's") {
		t.Error("a sentence goes out in which a bare number may be an id")
	}
	if _, again := publish("a key of thirty-two bytes or so.."); again != text {
		t.Error("with the same key something else is published")
	}
	if _, other := publish("another key"); other == text {
		t.Error("with another key the same is published")
	}
}

// TestOpenIDs: what is written beside the triples has the ids that the triples have.
func TestOpenIDs(t *testing.T) {
	d := withheldDataset()
	d.IDKey = func() ([]byte, error) { return []byte("a key"), nil }
	open, err := Public(&d)
	if err != nil {
		t.Fatal(err)
	}
	if open.WithheldIDs != 8 || len(open.Findings) != 3 || !slices.Equal(open.From, []int{0, 1, 2}) {
		t.Errorf("%d ids withheld, findings %v from %v", open.WithheldIDs, open.Findings, open.From)
	}
	ids := map[string]bool{}
	for _, s := range open.Subjects {
		ids[string(s.Stone.ID)] = true
	}
	for _, r := range open.Records {
		ids[string(r.ID)] = true
	}
	p := open.Proposals[0]
	for _, id := range []string{string(p.Stone), string(p.Candidates[0].Record), string(p.Candidates[1].Record), string(open.Decisions[0].Stone), string(open.Decisions[0].Record), string(open.Decisions[0].Seen.Proposal.RunnerUp.Record),
		string(open.Findings[0].Stone), string(open.Findings[0].Stones[0]), string(open.Findings[2].Record)} {
		if !ids[id] {
			t.Errorf("%q is no stone and no record of %v", id, ids)
		}
	}
	d = withheldDataset()
	d.IDKey = func() ([]byte, error) { return nil, errors.New("no disk") }
	if _, err := Public(&d); err == nil || !strings.Contains(err.Error(), "no disk") {
		t.Errorf("without a key: %v", err)
	}
}

// TestOpenIDsStay: where something else is private, an id that a column of its own gives, or the metadata make of such, is published as it is, and so is the name of a thing in a graph.
func TestOpenIDsStay(t *testing.T) {
	for _, c := range []struct {
		name   string
		source model.Source
		cells  []model.Cell
		openID func(string) bool
		stays  bool
	}{
		{"its own column", model.Source{File: "r.csv", Row: 2}, []model.Cell{{Column: "id", Value: "r7"}, {Column: "phone", Value: "555"}}, nil, true},
		{"made of its cells", model.Source{File: "r.csv", Row: 2}, []model.Cell{{Column: "surname", Value: "Holden"}, {Column: "phone", Value: "555"}}, nil, false},
		{"made of cells that are open", model.Source{File: "r.csv", Row: 2}, []model.Cell{{Column: "surname", Value: "Holden"}, {Column: "phone", Value: "555"}}, func(id string) bool { return id == "r7" }, true},
		{"nothing private in the row", model.Source{File: "r.csv", Row: 2}, []model.Cell{{Column: "surname", Value: "Holden"}}, nil, true},
		{"a thing of a graph", model.Source{File: "r.ttl", Subject: "https://example.org/r7"}, []model.Cell{{Column: "ms:surname", Value: "Holden"}, {Column: "phone", Value: "555"}}, nil, true},
	} {
		rec := &model.Record{ID: "r7", Source: c.source, Written: c.cells}
		rec.Service.Side = model.Union
		d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"phone"}, Records: slices.Values([]*model.Record{rec}), Tables: []Table{{File: c.source.File, OpenID: c.openID}}}
		if c.stays {
			says(t, d, []string{`"r7"`, digest("record", "r7")}, "withheld-")
		} else {
			says(t, d, []string{`"withheld-`}, `"r7"`, digest("record", "r7"))
		}
	}
}

// TestPrivateSubject: the name that a record has in a graph goes with its id where that is private, for it mostly has the id in it; and a stone and a record of one id have different numbers, for the same would tell that they have one.
func TestPrivateSubject(t *testing.T) {
	rec := &model.Record{ID: "QX-7", Source: model.Source{File: "r.ttl", Subject: "https://example.org/men/QX-7"}, Written: []model.Cell{{Column: "ms:id", Value: "QX-7"}, {Column: "ms:surname", Value: "Holden"}}}
	rec.Service.Side = model.Union
	stone := &model.Stone{ID: "QX-7", Source: model.Source{File: "s.csv", Row: 2}, Written: []model.Cell{{Column: "ms:id", Value: "QX-7"}, {Column: "row", Value: "3"}}}
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"ms:id"}, Tables: []Table{{File: "r.ttl"}, {File: "s.csv"}},
		Records: slices.Values([]*model.Record{rec}), Subjects: slices.Values([]*model.Subject{{Stone: stone}})}
	says(t, d, []string{`"withheld-`}, "QX-7")
	open, err := Public(&d)
	if err != nil {
		t.Fatal(err)
	}
	if r := open.Records[0]; r.Source.Subject != "" || !strings.HasPrefix(string(r.ID), withheldPrefix) || string(r.ID) == string(open.Subjects[0].Stone.ID) {
		t.Errorf("the record is handed on as %q of %q, the stone of the same id as %q", r.ID, r.Source.Subject, open.Subjects[0].Stone.ID)
	}
}

// TestRepeatedIDs: a column of no known meaning that says a private id has what stands for it, be it of the row itself, of one that comes later, of another table or of a stone; a bare number only in its own row.
func TestRepeatedIDs(t *testing.T) {
	record := func(file, id, own, see string) *model.Record {
		r := &model.Record{ID: model.RecordID(id), Source: model.Source{File: file, Row: 2}, Written: []model.Cell{{Column: own, Value: id}, {Column: "see", Value: see}}}
		r.Service.Side = model.Union
		return r
	}
	stone := func(id, see string) *model.Subject {
		return &model.Subject{Stone: &model.Stone{ID: model.StoneID(id), Source: model.Source{File: "stones.csv", Row: 2}, Written: []model.Cell{{Column: "grave", Value: id}, {Column: "see", Value: see}}}}
	}
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"pension", "grave"}, IDKey: func() ([]byte, error) { return []byte("a key"), nil },
		Tables: []Table{{File: "a.csv", Columns: []TableColumn{{"pension", MS + "id"}, {"see", ""}}}, {File: "b.csv", Columns: []TableColumn{{"no", MS + "id"}, {"see", ""}}}, {File: "stones.csv", Columns: []TableColumn{{"grave", MS + "id"}, {"see", ""}}}},
		Records: slices.Values([]*model.Record{record("b.csv", "B-1", "no", "PN-1"), record("b.csv", "B-2", "no", "31"), record("a.csv", "PN-1", "pension", "PN-2"), record("a.csv", "PN-2", "pension", "QX-1"),
			record("a.csv", "31", "pension", "31"), record("a.csv", "PN-3", "pension", "B-1")}),
		Subjects: slices.Values([]*model.Subject{stone("QX-1", "QX-2"), stone("QX-2", "PN-3"), stone("QX-3", "QX-4")})}
	says(t, d, []string{`#see> "31"`, `#see> "B-1"`, `#see> "QX-4"`}, `"PN-`, `"QX-1`, `"QX-2`, `"QX-3`)
	open, err := Public(&d)
	if err != nil {
		t.Fatal(err)
	}
	id := map[string]string{"B-1": "B-1", "31": "31", "QX-4": "QX-4"}
	for i, own := range []string{"B-1", "B-2", "PN-1", "PN-2", "the row of 31", "PN-3"} {
		id[own] = string(open.Records[i].ID)
	}
	for i, own := range []string{"QX-1", "QX-2", "QX-3"} {
		id[own] = string(open.Subjects[i].Stone.ID)
	}
	for i, want := range []string{"PN-1", "31", "PN-2", "QX-1", "the row of 31", "B-1"} {
		if got := open.Records[i].Written[1].Value; got != id[want] {
			t.Errorf("record %d says %q, want %q, what stands for %s", i, got, id[want], want)
		}
	}
	// A part of a dataset keeps the ids of the whole private, and counts those that are told.
	part := d
	part.Of, part.Records, part.Subjects = &d, slices.Values([]*model.Record{record("b.csv", "B-1", "no", "PN-1"), record("a.csv", "PN-2", "pension", "B-9")}), nil
	if with, err := Public(&part); err != nil || with.Records[0].Written[1].Value != id["PN-1"] || with.WithheldIDs != 2 {
		t.Errorf("of a part %+v is handed on, %d ids withheld: %v", with.Records[0].Written, with.WithheldIDs, err)
	}
	for i, want := range []string{"QX-2", "PN-3", "QX-4"} {
		if got := open.Subjects[i].Stone.Written[1].Value; got != id[want] {
			t.Errorf("stone %d says %q, want %q, what stands for %s", i, got, id[want], want)
		}
	}
}

// TestIDsInWords: what stands for a private id is put wherever a row's writer, or whoever decided, names it, of his own row or another, in whatever words and letter case. What is read as a unit, a date or a name keeps its
// letters and numbers, and a bare number stands as it is; of a column that has nothing but such, it is told.
func TestIDsInWords(t *testing.T) {
	var private []*model.Record
	for i, id := range []string{"PN-7", "PN-71", "Plot 7 no 3", "3-4", "#5", "772", "K12"} {
		private = append(private, &model.Record{ID: model.RecordID(id), Source: model.Source{File: "a.csv", Row: i + 2}, Written: []model.Cell{{Column: "pension", Value: id}}})
	}
	tables := []Table{{File: "a.csv", Columns: []TableColumn{{"pension", MS + "id"}}},
		{File: "b.csv", Columns: []TableColumn{{"no", MS + "id"}, {"remarks", MS + "remarks"}, {"of", ""}, {"see", ""}, {"pension", ""}, {"unit", MS + "unit"}, {"plot", MS + "plot"}, {"place", MS + "buried"}}},
		{File: "other.csv", Columns: []TableColumn{{"see", MS + "regiment"}}}}
	records := func(column, value string) Dataset {
		r := &model.Record{ID: "B-1", Source: model.Source{File: "b.csv", Row: 2}, Written: []model.Cell{{Column: "no", Value: "B-1"}, {Column: column, Value: value}}}
		switch column {
		case "remarks":
			r.Service.Remarks = value
		case "place":
			r.Person.Buried = value
		}
		return Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"Pension"}, IDKey: func() ([]byte, error) { return []byte("a key"), nil }, Tables: tables,
			Records: slices.Values(append(slices.Clone(private), r))}
	}
	for _, c := range []struct{ column, value, want string }{
		{"remarks", "same man as PN-7, or PN-71.", "same man as [PN-7], or [PN-71]."},
		{"remarks", "PN-7's brother\nsee pn-71  (Pn-7)", "[PN-7]'s brother\nsee [PN-71]  ([PN-7])"},
		{"remarks", "PN-712, XPN-7, PN-7a", "PN-712, XPN-7, [PN-7]a"},
		{"remarks", "lies in Plot 7 no 3 beside plot 7 no 31", "lies in [Plot 7 no 3] beside plot 7 no 31"},
		{"remarks", "died 3-4-1864, file 3-4; 1-3-4", "died 3-4-1864, file [3-4]; 1-3-4"},
		{"remarks", "file #5, not #55 and not 5", "file [#5], not #55 and not 5"},
		{"remarks", "see 772", "see 772"},
		{"remarks", "https://example.org/men/PN-71#me", "https://example.org/men/[PN-71]#me"},
		{"of", "PN-7;PN-71/K12", "[PN-7];[PN-71]/[K12]"},
		{"see", "PN-7", "[PN-7]"},
		{"place", "with K12", "with [K12]"},
		{"unit", "Co. K12", "Co. K12"},
		{"plot", "K12", "K12"}, // another row's
	} {
		d := records(c.column, c.value)
		open, err := Public(&d)
		if err != nil {
			t.Fatal(err)
		}
		want := c.want
		for i, r := range private {
			want = strings.ReplaceAll(want, "["+string(r.ID)+"]", string(open.Records[i].ID))
		}
		last := open.Records[len(private)]
		if got := last.Written[1].Value; got != want {
			t.Errorf("%s %q is handed on as %q, want %q", c.column, c.value, got, want)
		}
		if got := last.Service.Remarks + last.Person.Buried; c.column == "remarks" && got != want || c.column == "place" && got != want {
			t.Errorf("%s %q is understood as %q, want %q", c.column, c.value, got, want)
		}
		if got := records(c.column, c.value); c.want != c.value {
			says(t, got, nil, ` "`+strings.ReplaceAll(c.value, "\n", `\n`)+`"`)
		}
	}
	// A stone: its photo, its notes, its plot where that is its id, what a burial register says, and what was decided of it.
	claim := &model.Claim{Service: model.Service{Remarks: "as QX-2"}}
	stone := &model.Subject{Stone: &model.Stone{ID: "QX-1", Source: model.Source{File: "s.csv", Row: 2}, Photo: "photos/QX-1b.jpg", Notes: "leans on QX-2", Place: model.Place{Row: "2", Plot: "QX-1", Section: "QX-2"}, Register: claim,
		Written: []model.Cell{{Column: "grave", Value: "QX-1"}, {Column: "photo", Value: "photos/QX-1b.jpg"}, {Column: "plot", Value: "QX-1"}, {Column: "section", Value: "QX-2"}, {Column: "remarks", Value: "as QX-2"}}},
		Readings: []model.Reading{{Probability: 1, People: []model.Claim{*claim}}}}
	other := &model.Subject{Stone: &model.Stone{ID: "QX-2", Source: model.Source{File: "s.csv", Row: 3}, Written: []model.Cell{{Column: "grave", Value: "QX-2"}}}}
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"grave"}, PublishNotes: true, IDKey: func() ([]byte, error) { return []byte("a key"), nil }, Subjects: slices.Values([]*model.Subject{stone, other}),
		Tables:    []Table{{File: "s.csv", Columns: []TableColumn{{"grave", MS + "id"}, {"photo", MS + "photo"}, {"plot", MS + "plot"}, {"section", MS + "section"}, {"remarks", MS + "remarks"}}}},
		Decisions: []model.Decision{{ID: "d1", At: time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC), By: "Ann", Stone: "QX-1", As: model.Noted, Because: "the same hand as qx-2"}}}
	says(t, d, []string{`photo> "photos/withheld-`, `note> "leans on withheld-`, `rationale> "the same hand as withheld-`, `remarks> "as withheld-`, `plotNumber> "withheld-`, `section> "QX-2"`}, "QX-1", "leans on QX-2", "as QX-2", "qx-2")
	if stone.Stone.Photo != "photos/QX-1b.jpg" || claim.Service.Remarks != "as QX-2" || stone.Readings[0].People[0].Service.Remarks != "as QX-2" {
		t.Error("what is handed on has changed the survey's own")
	}
}

// TestPlotOfOwnNumber: a plot that has the stone's own private number is left, since plots are numbered, and one that has its private id of letters too is not.
func TestPlotOfOwnNumber(t *testing.T) {
	for id, kept := range map[string]bool{"12": true, "QX-12": false} {
		stone := &model.Stone{ID: model.StoneID(id), Source: model.Source{File: "s.csv", Row: 2}, Place: model.Place{Plot: id}, Written: []model.Cell{{Column: "grave", Value: id}, {Column: "plot", Value: id}}}
		d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"grave"}, IDKey: func() ([]byte, error) { return []byte("a key"), nil }, Subjects: slices.Values([]*model.Subject{{Stone: stone}}),
			Tables: []Table{{File: "s.csv", Columns: []TableColumn{{"grave", MS + "id"}, {"plot", MS + "plot"}}}}}
		open, err := Public(&d)
		if err != nil {
			t.Fatal(err)
		}
		if got := open.Subjects[0].Stone; (got.Written[1].Value == id) != kept || (got.Place.Plot == id) != kept {
			t.Errorf("of the stone %s the plot is handed on as %q, understood as %q; kept is to be %v", id, got.Written[1].Value, got.Place.Plot, kept)
		}
	}
}

// TestBareIDsTold: a column that has nothing but bare numbers which are private ids too goes out as it is, and whoever publishes is told of it.
func TestBareIDsTold(t *testing.T) {
	record := func(id, see, depth string) *model.Record {
		r := &model.Record{ID: model.RecordID(id), Source: model.Source{File: "a.csv", Row: 2}, Written: []model.Cell{{Column: "pension", Value: id}, {Column: "see", Value: see}, {Column: "depth", Value: depth}}}
		r.Service.Side = model.Union
		return r
	}
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"pension"}, Tables: []Table{{File: "a.csv", Columns: []TableColumn{{"pension", MS + "id"}, {"see", ""}, {"depth", ""}}}},
		Records: slices.Values([]*model.Record{record("771", "772", "772"), record("772", "771", "6 ft"), record("773", "", "6 ft")})}
	sum, err := Try(d)
	if err != nil {
		t.Fatal(err)
	}
	told := func(column string) bool {
		return slices.ContainsFunc(sum.Notes, func(n string) bool {
			return strings.Contains(n, `a.csv, column "`+column+`": 2 cells are nothing but`) && strings.Contains(n, "ms:private")
		})
	}
	if !told("see") || told("depth") {
		t.Errorf("the notes are %q, want one of the column see alone", sum.Notes)
	}
}

func BenchmarkOpenText(b *testing.B) {
	d := Dataset{Private: []string{"pension"}}
	m := &mapper{guard: newGuard(&d), data: &d}
	for i := range 100_000 {
		if _, err := m.standInOfRecord(model.RecordID("PN-" + strconv.Itoa(i))); err != nil {
			b.Fatal(err)
		}
	}
	for b.Loop() {
		m.openText("Vet. vol. Feb. 3, 1864; wounded at Stone's River; trans. to V. R. C., see PN-4711; M. O. July 18, 1865")
	}
}
