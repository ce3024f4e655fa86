package rdf

import (
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/model"
	"musterstone/model/date"
)

// TestChangesClosed: where a publication takes the place of one that told what stays at home today, it tells that nowhere, its changes included; else it tells what is gone.
func TestChangesClosed(t *testing.T) {
	at := time.Date(2026, 3, 4, 5, 6, 7, 0, time.UTC)
	make := func() Dataset {
		rec := &model.Record{ID: "PN-1", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "file", Value: "PN-1"}, {Column: "Home of kin", Value: "Tamarack"}}}
		rec.Person.Name, rec.Person.Died, rec.Person.Residence = model.Name{Surname: "Holden"}, date.Year(1890), "Tamarack"
		other := &model.Record{ID: "PN-2", Source: model.Source{File: "roster.csv", Row: 3}, Written: []model.Cell{{Column: "file", Value: "PN-2"}}}
		other.Person.Name, other.Person.Died = model.Name{Surname: "Quorn"}, date.Year(1990)
		s := &model.Stone{ID: "M-1", Source: model.Source{File: "stones.csv", Row: 2}, Recorder: "Ulla Zimt", Written: []model.Cell{{Column: "id", Value: "M-1"}}}
		s.Marker.Inscription, s.Marker.Material = "HOLDEN / DIED 1890", "granite"
		sub := &model.Subject{Stone: s, Readings: []model.Reading{{Probability: 1, People: []model.Claim{{Person: model.Person{Name: model.Name{Surname: "Holden"}, Died: date.Year(1890)}}}}}}
		return Dataset{Base: "https://data.example.org/", Year: 2025, NameRecorders: true, PublishNotes: true, IDKey: func() ([]byte, error) { return []byte("a key"), nil },
			Tables:  []Table{{File: "roster.csv", Columns: []TableColumn{{"file", MS + "id"}, {"Home of kin", MS + "residence"}}}, {File: "stones.csv", Columns: []TableColumn{{"id", MS + "id"}}}},
			Records: slices.Values([]*model.Record{rec, other}), Subjects: slices.Values([]*model.Subject{sub}),
			Decisions: []model.Decision{{ID: "d1", At: at, By: "Ann", Stone: "M-1", Record: "PN-1", As: model.Confirmed}, {ID: "d2", At: at, By: "Ann", Stone: "M-1", As: model.Noted, Because: "asked the widow"}}}
	}
	for _, c := range []struct {
		name   string
		change func(d *Dataset)
		never  []string
		closed bool
	}{
		{"nothing private", func(d *Dataset) {
			d.Subjects = slices.Values([]*model.Subject{{Stone: &model.Stone{ID: "M-1", Source: model.Source{File: "stones.csv", Row: 2}}}})
		}, nil, false},
		{"a column", func(d *Dataset) { d.Private = []string{"home of kin"} }, []string{"Tamarack"}, true},
		{"the ids", func(d *Dataset) { d.Private = []string{"file"} }, []string{"PN-1", "PN-2", digest("record", "PN-1")}, true},
		{"a man who may be living", func(d *Dataset) {
			for r := range d.Records {
				if r.ID == "PN-2" {
					r.Person.Died, r.Person.Born = date.Date{}, date.Year(1980)
				}
			}
		}, []string{"Quorn"}, true},
		{"somebody on a stone", func(d *Dataset) {
			for s := range d.Subjects {
				s.Readings[0].People[0].Person.Died, s.Readings[0].People[0].Person.Born = date.Date{}, date.Year(1980)
			}
		}, []string{"HOLDEN"}, true},
		{"who recorded", func(d *Dataset) { d.NameRecorders = false }, []string{"Ulla"}, true},
		{"notes", func(d *Dataset) { d.PublishNotes = false }, []string{"widow"}, true},
		{"what the metadata give", func(d *Dataset) { d.Tables[0].Private = []string{MS + "residence"} }, nil, true},
	} {
		t.Run(c.name, func(t *testing.T) {
			out := filepath.Join(t.TempDir(), "out")
			if _, err := Publish(out, make()); err != nil {
				t.Fatal(err)
			}
			d := make()
			c.change(&d)
			sum, err := Publish(out, d)
			if err != nil {
				t.Fatal(err)
			}
			if sum.Changes == nil || sum.Changes.Closed != c.closed || sum.Changes.Gone == 0 {
				t.Errorf("changes %+v, want closed %v", sum.Changes, c.closed)
			}
			if _, err := os.Stat(filepath.Join(out, "changes", "gone.nt")); (err != nil) != c.closed {
				t.Errorf("what is gone is told: %v", err == nil)
			}
			text, err := os.ReadFile(filepath.Join(out, "changes", "changes.txt"))
			if err != nil || strings.Contains(string(text), "only the number is told") != c.closed {
				t.Errorf("changes.txt, %v:\n%s", err, text)
			}
			err = filepath.WalkDir(out, func(path string, e fs.DirEntry, err error) error {
				if err != nil || e.IsDir() {
					return err
				}
				b, err := os.ReadFile(path)
				for _, w := range c.never {
					if i := strings.Index(string(b), w); i >= 0 {
						t.Errorf("%s tells %q: %.200s", path, w, string(b)[max(0, i-100):])
					}
				}
				return err
			})
			if err != nil {
				t.Fatal(err)
			}
			if !c.closed {
				return
			}
			// Changes that an earlier version told are not kept on.
			changes := filepath.Join(out, "changes")
			told := "<https://data.example.org/id/record-" + digest("record", "PN-2") + "> <" + dct + "identifier> \"PN-2\" .\n" +
				"<https://data.example.org/id/record-" + digest("record", "PN-1") + "> <https://data.example.org/column/roster.csv#Home%20of%20kin> \"Tamarack\" .\n" +
				"<https://data.example.org/id/marker-" + digest("marker", "M-1") + "> <" + prov + "wasAttributedTo> <https://data.example.org/id/agent-x> .\n" +
				"<https://data.example.org/id/marker-" + digest("marker", "M-1") + "#inscription> <" + MS + "transcription> \"HOLDEN\" .\n" +
				"<https://data.example.org/id/decision-" + digest("decision", "d2") + "> <" + MS + "rationale> \"asked the widow\" .\n"
			if err := os.WriteFile(filepath.Join(changes, "gone.nt"), []byte(told), 0o666); err != nil {
				t.Fatal(err)
			}
			d = make()
			c.change(&d)
			if _, err := Publish(out, d); err != nil {
				t.Fatal(err)
			}
			if _, err := os.Stat(changes); c.name != "what the metadata give" && err == nil {
				t.Error("changes that tell what is private are kept on")
			}
		})
	}
}

// TestChangesRepeat: an earlier publication in which a row's words, or a decision's, name what is a private id today is not told again; one in which a column says a bare number of another row is.
func TestChangesRepeat(t *testing.T) {
	record := func(id string) *model.Record {
		r := &model.Record{ID: model.RecordID(id), Source: model.Source{File: "lists/roster.csv", Row: 2}, Written: []model.Cell{{Column: "file", Value: id}}}
		r.Service.Side = model.Union
		return r
	}
	d := Dataset{Base: "https://data.example.org/", Year: 2025, Private: []string{"file"}, IDKey: func() ([]byte, error) { return []byte("a key"), nil },
		Tables: []Table{{File: "lists/roster.csv", Columns: []TableColumn{{"file", MS + "id"}, {"see", ""}, {"remarks", MS + "remarks"}, {"unit", MS + "unit"}, {"plot", MS + "plot"}}},
			{File: "b.csv", Columns: []TableColumn{{"see", MS + "unit"}}}},
		Records: slices.Values([]*model.Record{record("771"), record("PN-1"), record("772")})}
	var sum Summary
	m, err := build(&d, t.TempDir(), &sum)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Close()
	const roster = "https://data.example.org/column/lists~roster.csv#"
	for _, c := range []struct {
		of, predicate, value string
		closed               bool
	}{
		{"771", roster + "see", "PN-1", true}, {"771", roster + "see", "with PN-1", true}, {"771", roster + "see", "771", true}, {"771", roster + "see", "772", false}, {"771", roster + "see", "PN-9", false},
		{"771", roster + "remarks", "see PN-1.", true}, {"771", roster + "remarks", "see PN-10", false}, {"771", roster + "unit", "PN-1", false}, {"PN-1", roster + "plot", "PN-1", true}, {"771", roster + "plot", "PN-1", false},
		{"771", "https://data.example.org/column/b.csv#see", "PN-1", false}, {"771", MS + "remarks", "pn-1", true}, {"771", MS + "rationale", "as PN-1", true}, {"771", MS + "company", "PN-1", false},
	} {
		line := "<" + m.id("record", string(m.withheld.records[model.RecordID(c.of)])).String() + "> <" + c.predicate + "> \"" + c.value + "\" .\n"
		if got := m.closesLine([]byte(line)); got != c.closed {
			t.Errorf("%s: closed %v, want %v", line, got, c.closed)
		}
	}
}
