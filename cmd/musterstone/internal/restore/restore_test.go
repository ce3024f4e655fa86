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
	"time"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/cmd/musterstone/internal/job"
	"musterstone/index/intake"
	"musterstone/link/ledger"
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
	d := rdf.Dataset{Base: "https://example.org/alder/", Year: 2026, Metadata: metadata, NameRecorders: true, Subjects: slices.Values(before.Subjects()), Records: x.Records(context.Background()), Tables: tables(before)}
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

// tables are a survey's tables as they are published.
func tables(j *job.Job) (out []rdf.Table) {
	for _, table := range j.Survey.Tables {
		info := rdf.Table{File: table.File}
		for _, c := range table.Columns {
			if !c.Virtual {
				info.Columns = append(info.Columns, rdf.TableColumn{Name: c.Name, Term: c.Meaning()})
			}
		}
		out = append(out, info)
	}
	return out
}

// written lays down a survey of a few files and publishes it.
func written(t *testing.T, files map[string]string, decisions ...model.Decision) (dir, out string) {
	t.Helper()
	dir, out = t.TempDir(), filepath.Join(t.TempDir(), "published")
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	j, err := job.Open(dir, job.Options{Program: "test", Year: 2026})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	x, err := j.Index(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	metadata, err := j.Survey.Describe()
	if err != nil {
		t.Fatal(err)
	}
	if _, err := rdf.Publish(out, rdf.Dataset{Base: "https://example.org/x/", Year: 2026, Metadata: metadata, NameRecorders: true, Subjects: slices.Values(j.Subjects()),
		Records: x.Records(t.Context()), Tables: tables(j), Decisions: decisions}); err != nil {
		t.Fatal(err)
	}
	return dir, out
}

// TestRestoreFiles: what of a table is not its cells comes back too: where the rows stood, between others that are held back, two columns of one name, ids that no cell gave, a table without a header, and the ledger.
func TestRestoreFiles(t *testing.T) {
	const stones = "id,cemetery,inscription,note,note\n" +
		"A-1,Old Mill,AMOS FENTRESS / DIED 1890,first,second\n" +
		"A-2,Old Mill,JOHN HOLDEN / DIED 1891,,only the second\n" +
		",Old Mill,EZRA PECK / BORN 1950,,\n" // its words are held back, and an id made of what is left would be another
	const roster = "r1,Fentress,Amos,1839\nr2,Quimby,Hugh,1950\nr3,Quimby,Lee,1951\nr4,Holden,John,1838\n"
	const metadata = `{"@context": "http://www.w3.org/ns/csvw", "tables": [{"url": "stones.csv"}, {"url": "roster.csv", "dialect": {"header": false}, "tableSchema": {"columns": [
 {"titles": "id", "propertyUrl": "ms:id"}, {"titles": "surname", "propertyUrl": "ms:surname"}, {"titles": "given", "propertyUrl": "ms:given"}, {"titles": "born", "propertyUrl": "ms:born"}]}}]}`
	decision := model.Decision{ID: "20260301T100000Z-aaaaaaaaaa", At: time.Date(2026, 3, 1, 10, 0, 0, 0, time.UTC), By: "Ann", Stone: "A-1", Record: "r1", As: model.Confirmed, Because: "the family Bible"}
	dir, out := written(t, map[string]string{"stones.csv": stones, "roster.csv": roster, intake.MetadataFile: metadata}, decision)
	again := filepath.Join(t.TempDir(), "again")
	n, err := Restore(out, again)
	if err != nil {
		t.Fatal(err)
	}
	if want := (Count{Tables: 2, Rows: 5, Decisions: 1}); n != want {
		t.Errorf("restored %+v, want %+v", n, want)
	}
	read := func(file string) string {
		text, err := os.ReadFile(filepath.Join(again, file))
		if err != nil {
			t.Fatal(err)
		}
		return string(text)
	}
	if got, want := read("roster.csv"), "r1,Fentress,Amos,1839\n\n\nr4,Holden,John,1838\n"; got != want {
		t.Errorf("the roster is\n%s\nwant\n%s", got, want)
	}
	ids := func(dir string) (out []string) {
		j, err := job.Open(dir, job.Options{Program: "test", Year: 2026})
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		for _, s := range j.Stones() {
			out = append(out, string(s.ID))
		}
		return out
	}
	if got, want := ids(again), ids(dir); !slices.Equal(got, want) || len(got) != 3 {
		t.Errorf("the stones are %q, and were %q", got, want)
	}
	if got := read("stones.csv"); !strings.HasPrefix(got, strings.Join(strings.SplitAfter(stones, "\n")[:2], "")) {
		t.Errorf("the stones are\n%s", got)
	}
	l, err := ledger.Open(filepath.Join(again, ledger.FileName))
	if err != nil || len(l.Decisions()) != 1 || l.State().Confirmed("A-1") == nil || l.Decisions()[0].Because != decision.Because {
		t.Errorf("the ledger: %v, %v", l, err)
	}
}

// TestRestoreGraph: a roster that was a graph comes back as one, its words as words, though they look like an address, and its addresses as addresses.
func TestRestoreGraph(t *testing.T) {
	const graph = `<https://rolls.example.org/man/7> <http://www.w3.org/1999/02/22-rdf-syntax-ns#type> <https://w3id.org/musterstone/vocab#ServiceRecord> .
<https://rolls.example.org/man/7> <https://w3id.org/musterstone/vocab#surname> "Tillotson" .
<https://rolls.example.org/man/7> <https://w3id.org/musterstone/vocab#died> "1890" .
<https://rolls.example.org/man/7> <https://rolls.example.org/terms#page> <https://rolls.example.org/page/3> .
<https://rolls.example.org/man/7> <https://rolls.example.org/terms#company> "urn:F" .
<https://rolls.example.org/man/7> <https://w3id.org/musterstone/vocab#remarks> "line \"one\"" .
`
	_, out := written(t, map[string]string{"roster.nt": graph, "stones.csv": "id,inscription\nA-1,AMOS FENTRESS\n"})
	again := filepath.Join(t.TempDir(), "again")
	if _, err := Restore(out, again); err != nil {
		t.Fatal(err)
	}
	text, err := os.ReadFile(filepath.Join(again, "roster.nt"))
	if err != nil {
		t.Fatal(err)
	}
	lines := func(s string) []string { return slices.Sorted(strings.Lines(s)) }
	if got, want := lines(string(text)), lines(graph); !slices.Equal(got, want) {
		t.Errorf("the graph is\n%s\nwant\n%s", strings.Join(got, ""), strings.Join(want, ""))
	}
}

// TestRestoreOutside: a publication that has a table lie outside the survey is refused, and nothing is written there.
func TestRestoreOutside(t *testing.T) {
	_, out := written(t, map[string]string{"stones.csv": "id,inscription\nA-1,AMOS FENTRESS\n"})
	path := filepath.Join(out, "survey-metadata.json")
	text, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	for _, evil := range []string{"../evil.csv", "%2e%2e/evil.csv", "/tmp/evil.csv", "a/../../evil.csv"} {
		if err := os.WriteFile(path, bytes.Replace(text, []byte(`"tables": [`), []byte(`"tables": [{"url": "`+evil+`"}, `), 1), 0o666); err != nil {
			t.Fatal(err)
		}
		parent := t.TempDir()
		if _, err := Restore(out, filepath.Join(parent, "again")); err == nil || !strings.Contains(err.Error(), "is no file of a survey") {
			t.Errorf("%s: %v", evil, err)
		}
		if left, _ := os.ReadDir(parent); len(left) > 0 {
			t.Errorf("%s: left %v", evil, left)
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
