package restore

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
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

	// One that breaks off leaves nothing: here a table is to lie below another.
	path := filepath.Join(out, "survey-metadata.json")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(path, bytes.Replace(text, []byte(`"tables": [`), []byte(`"tables": [{"url": "stones.csv/more.csv"}, `), 1), 0o644); err != nil {
		t.Fatal(err)
	}
	empty, parent := t.TempDir(), t.TempDir()
	for _, dir := range []string{empty, filepath.Join(parent, "a", "b")} {
		if _, err := Restore(out, dir); err == nil || !strings.Contains(err.Error(), "stones.csv") {
			t.Errorf("a table below another: %v", err)
		}
	}
	if _, err := os.Stat(empty); err != nil {
		t.Errorf("the folder that was there is gone: %v", err)
	}
	for _, dir := range []string{empty, parent} {
		if left, err := os.ReadDir(dir); err != nil || len(left) > 0 {
			t.Errorf("left over: %v, %v", left, err)
		}
	}
}

// TestRowFarBehind: a row that is said to lie behind more blank ones than any table has is refused before one of them is written.
func TestRowFarBehind(t *testing.T) {
	var written bytes.Buffer
	w := bufio.NewWriter(&written)
	o := &file{table: &table{columns: []string{"id"}, id: -1}, w: w, csv: csv.NewWriter(w), last: 1}
	cells := []model.Cell{{Column: "id", Value: "a"}}
	if err := o.row(rdf.BundleRow{Row: 4, Cells: cells}); err != nil {
		t.Fatal(err)
	}
	if err := o.row(rdf.BundleRow{Row: mostBlank + 6, Cells: cells}); err == nil || !strings.Contains(err.Error(), "blank ones") {
		t.Errorf("a row far behind: %v", err)
	}
	o.csv.Flush()
	if err := w.Flush(); err != nil || written.String() != "\n\na\n" {
		t.Errorf("wrote %q, %v", written.String(), err)
	}
}
