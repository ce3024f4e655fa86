package rdf

import (
	"cmp"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	gocmp "github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// TestParts: a large graph goes out in parts, each a file of its own, which say together what the N-Triples say.
func TestParts(t *testing.T) {
	d := sample(t)
	d.PartTriples = 60
	dir := filepath.Join(t.TempDir(), "out")
	sum, err := Publish(dir, d)
	if err != nil {
		t.Fatal(err)
	}
	files, err := filepath.Glob(filepath.Join(dir, "dataset-part-*.ttl"))
	if err != nil || len(files) < 3 || slices.Contains(sum.Files, "dataset.ttl") {
		t.Fatalf("%v, %v", files, sum.Files)
	}
	var all []Triple
	seen := map[string]string{}
	for _, f := range files {
		part, err := readAll(f, "")
		if err != nil {
			t.Fatal(err)
		}
		for _, tr := range part {
			if at, ok := seen[tr.Subj.String()]; ok && at != f {
				t.Errorf("%s stands in two parts", tr.Subj)
			}
			seen[tr.Subj.String()] = f
		}
		all = append(all, part...)
	}
	whole, err := readAll(filepath.Join(dir, "dataset.nt"), "")
	if err != nil {
		t.Fatal(err)
	}
	if show(all) != show(whole) {
		t.Errorf("the parts have %d triples, the whole has %d", len(all), len(whole))
	}
	about, err := os.ReadFile(filepath.Join(dir, "about.ttl"))
	if err != nil || !strings.Contains(string(about), "dataset-part-001.ttl") {
		t.Errorf("about.ttl does not name the parts: %v", err)
	}
	if _, err := Publish(dir, d); err != nil {
		t.Errorf("over itself: %v", err)
	}
}

// TestChanges: what went and what came since the publication before is told triple by triple, and by person.
func TestChanges(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	first, err := Publish(dir, sample(t))
	if err != nil || first.Changes != nil {
		t.Fatalf("%v %v", first.Changes, err)
	}
	old := show(everything(t, dir))
	d := sample(t)
	d.Decisions[0].Because = "same company, and his pension says so"
	sum, err := Publish(dir, d)
	if err != nil {
		t.Fatal(err)
	}
	if sum.Changes == nil || sum.Changes.Since != first.Digest || sum.Changes.Gone == 0 || sum.Changes.Gone != sum.Changes.New {
		t.Fatalf("%+v", sum.Changes)
	}
	gone, err := readAll(filepath.Join(dir, "changes", "gone.nt"), "")
	if err != nil {
		t.Fatal(err)
	}
	came, err := readAll(filepath.Join(dir, "changes", "new.nt"), "")
	if err != nil {
		t.Fatal(err)
	}
	// The old triples without those gone and with the new are the triples now.
	now := strings.Split(old, "\n")
	now = slices.DeleteFunc(now, func(l string) bool { return l != "" && strings.Contains(show(gone), l+"\n") })
	now = append(now, strings.Split(show(came), "\n")...)
	slices.Sort(now)
	if got := strings.Join(slices.Compact(now), "\n"); strings.TrimSpace(got) != strings.TrimSpace(show(everything(t, dir))) {
		t.Error("old, less gone, plus new, is not what is published now")
	}
	kept, err := os.ReadFile(filepath.Join(dir, "changes", "changes.txt"))
	if err != nil || !strings.Contains(string(kept), first.Digest) || !strings.Contains(string(kept), "pension") && !strings.Contains(string(kept), "decision") {
		t.Errorf("%v\n%s", err, kept)
	}
	// Without a change, the last changes stay told.
	if sum, err = Publish(dir, d); err != nil || sum.Changes != nil {
		t.Fatalf("%v %v", sum.Changes, err)
	}
	if again, err := os.ReadFile(filepath.Join(dir, "changes", "changes.txt")); err != nil || string(again) != string(kept) {
		t.Errorf("%v\n%s", err, again)
	}
	// By person: what a stone says of him changes.
	e := sample(t)
	e.Decisions[0].Because = d.Decisions[0].Because
	e.Subjects = func(yield func(*model.Subject) bool) {
		for s := range sample(t).Subjects {
			if s.Stone.ID == "A-1" {
				s.Stone.Notes = "has been set upright"
			}
			if !yield(s) {
				return
			}
		}
	}
	if sum, err = Publish(dir, e); err != nil {
		t.Fatal(err)
	}
	want := []PersonChange{{IRI: sum.Changes.Persons[0].IRI, Name: "John Holden", Gone: 1, New: 1}}
	if diff := gocmp.Diff(want, sum.Changes.Persons, gocmp.FilterPath(func(p gocmp.Path) bool { return p.String() == "lines" }, gocmp.Ignore())); diff != "" {
		t.Errorf("by person (-want +got):\n%s", diff)
	}
}

// everything gives the triples of data and proposals.
func everything(t *testing.T, dir string) []Triple {
	t.Helper()
	var all []Triple
	for _, f := range []string{"dataset.nt", "proposals.nt"} {
		part, err := readAll(filepath.Join(dir, f), "")
		if err != nil {
			t.Fatal(err)
		}
		all = append(all, part...)
	}
	return all
}

// TestBundle: rows and decisions come back from the published triples as they went, without what was held back.
func TestBundle(t *testing.T) {
	dir, _ := published(t)
	b, err := OpenBundle(dir)
	if err != nil {
		t.Fatal(err)
	}
	defer b.Close()
	var got []BundleRow
	for r, err := range b.Rows() {
		if err != nil {
			t.Fatal(err)
		}
		got = append(got, r)
	}
	slices.SortFunc(got, func(a, b BundleRow) int { return cmp.Or(-cmp.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row)) })
	want := []BundleRow{
		{File: "stones.csv", Row: 2, ID: "A-1", Cells: []model.Cell{{Column: "id", Value: "A-1"}, {Column: "inscription", Value: "1ST SGT.\nJNO. T. HO[..]EN\nCO. F 31 WIS. INF."}, {Column: "odd, (column)", Value: "say \"hi\" . <http://evil.example/s> <p> \"y"}}},
		{File: "stones.csv", Row: 3, ID: "A-2", Cells: []model.Cell{{Column: "id", Value: "A-2"}}},
		{File: "stones.csv", Row: 4, ID: "A-3", Cells: []model.Cell{{Column: "id", Value: "A-3"}, {Column: "inscription", Value: "[---]ELL\n1[.]4 ILL. INF."}}},
		{File: "roster.csv", Row: 2, ID: "r1", Cells: []model.Cell{{Column: "id", Value: "r1"}, {Column: "name", Value: "Holden, Jno. T."}}},
		{File: "roster.csv", Row: 3, ID: "r2", Cells: []model.Cell{{Column: "id", Value: "r2"}, {Column: "name", Value: "Holder, J."}}},
	}
	if diff := gocmp.Diff(want, got); diff != "" {
		t.Errorf("rows (-want +got):\n%s", diff)
	}
	ids := []string{}
	for _, d := range b.Decisions {
		ids = append(ids, d.ID)
	}
	slices.Sort(ids)
	if diff := gocmp.Diff([]string{"d1", "d2", "d3", "d4", "d6", "d7"}, ids); diff != "" {
		t.Errorf("decisions (-want +got):\n%s", diff)
	}
	// Changed data are refused.
	text, err := os.ReadFile(filepath.Join(dir, "dataset.nt"))
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "dataset.nt"), text[:len(text)/2], 0o666); err != nil {
		t.Fatal(err)
	}
	if _, err := OpenBundle(dir); err == nil || !strings.Contains(err.Error(), "is not what its digest says") {
		t.Errorf("%v", err)
	}
	if _, err := OpenBundle(t.TempDir()); err == nil || !strings.Contains(err.Error(), "it is no publication") {
		t.Errorf("%v", err)
	}
}

// TestCounts: what about.ttl says of the numbers of triples, subjects and things of each class is what the files hold.
func TestCounts(t *testing.T) {
	dir, sum := published(t)
	about, err := readAll(filepath.Join(dir, "about.ttl"), "")
	if err != nil {
		t.Fatal(err)
	}
	say := map[string]map[string]string{}
	parts := map[string][]string{}
	for _, tr := range about {
		s := tr.Subj.String()
		if say[s] == nil {
			say[s] = map[string]string{}
		}
		say[s][tr.Pred.String()] = tr.Obj.String()
		if tr.Pred.String() == void+"classPartition" {
			parts[s] = append(parts[s], tr.Obj.String())
		}
	}
	for name, triples := range map[string]int{"dataset": sum.Triples, "proposals": sum.Proposed} {
		all, err := readAll(filepath.Join(dir, name+".ttl"), "")
		if err != nil {
			t.Fatal(err)
		}
		subjects, classes := map[string]bool{}, map[string]int{}
		for _, tr := range all {
			subjects[tr.Subj.String()] = true
			if tr.Pred.String() == rdfType {
				classes[tr.Obj.String()]++
			}
		}
		set := say["https://data.example.org/alder/"+name]
		for _, c := range []struct {
			what string
			want int
		}{{"triples", len(all)}, {"triples", triples}, {"distinctSubjects", len(subjects)}, {"entities", len(subjects)}} {
			if got := set[void+c.what]; got != strconv.Itoa(c.want) {
				t.Errorf("%s: %s is told as %s, and is %d", name, c.what, got, c.want)
			}
		}
		told := map[string]int{}
		for _, p := range parts["https://data.example.org/alder/"+name] {
			n, err := strconv.Atoi(say[p][void+"entities"])
			if err != nil {
				t.Error(err)
			}
			told[say[p][void+"class"]] = n
		}
		if diff := gocmp.Diff(classes, told); diff != "" {
			t.Errorf("%s: classes (-held +told):\n%s", name, diff)
		}
	}
}
