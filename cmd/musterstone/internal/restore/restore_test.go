package restore

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/cmd/musterstone/internal/job"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

// TestRestore publishes the demo survey and makes a survey of the publication again: the same stones and records, cell by cell, but for those held back.
func TestRestore(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "alder")
	if err := demo.Lay(dir); err != nil {
		t.Fatal(err)
	}
	before, err := job.Open(dir, job.Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	defer before.Close()
	x, err := before.Index(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	metadata, err := before.Survey.Describe()
	if err != nil {
		t.Fatal(err)
	}
	d := rdf.Dataset{Base: "https://example.org/alder/", Year: 2026, Metadata: metadata, NameRecorders: true, Subjects: slices.Values(before.Subjects()), Records: x.Records(context.Background())}
	for _, table := range before.Survey.Tables {
		info := rdf.Table{File: table.File}
		for _, c := range table.Columns {
			if !c.Virtual {
				info.Columns = append(info.Columns, rdf.TableColumn{Name: c.Name, Term: c.Meaning()})
			}
		}
		d.Tables = append(d.Tables, info)
	}
	out := filepath.Join(t.TempDir(), "published")
	if _, err := rdf.Publish(out, d); err != nil {
		t.Fatal(err)
	}

	again := filepath.Join(t.TempDir(), "again")
	n, err := Restore(out, again)
	if err != nil {
		t.Fatal(err)
	}
	after, err := job.Open(again, job.Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	defer after.Close()
	y, err := after.Index(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	if n.Rows < 400 {
		t.Errorf("%d rows were written", n.Rows)
	}
	stones := map[model.StoneID][]model.Cell{}
	for _, s := range before.Stones() {
		stones[s.ID] = s.Written
	}
	same := 0
	for _, s := range after.Stones() {
		if slices.Equal(s.Written, stones[s.ID]) {
			same++
		} else {
			t.Logf("stone %s: %v\nwas %v", s.ID, s.Written, stones[s.ID])
		}
	}
	// A stone that names somebody who may be living goes out without its words.
	if len(after.Stones()) != len(stones) || same < len(stones)-5 {
		t.Errorf("%d stones, %d of them cell by cell the same; there were %d", len(after.Stones()), same, len(stones))
	}
	records := 0
	for r := range y.Records(context.Background()) {
		old, ok := x.Record(r.ID)
		if !ok || !slices.Equal(r.Written, old.Written) {
			t.Errorf("record %s is not as it was", r.ID)
		}
		records++
	}
	if records < x.Len()-5 {
		t.Errorf("%d records, of %d", records, x.Len())
	}
	if _, err := Restore(out, again); err == nil {
		t.Error("a folder that is not empty was written into")
	}
	if _, err := os.Stat(filepath.Join(again, "csv-metadata.json")); err != nil {
		t.Error(err)
	}
}
