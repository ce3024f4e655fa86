package rdf

import (
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
	"musterstone/model/date"
)

func published(t testing.TB) (dir string, sum Summary) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "out")
	sum, err := Publish(dir, sample(t))
	if err != nil {
		t.Fatal(err)
	}
	return dir, sum
}

func TestPublish(t *testing.T) {
	dir, sum := published(t)
	if diff := cmp.Diff(publishedFilesSorted(), sum.Files); diff != "" {
		t.Errorf("files (-want +got):\n%s", diff)
	}
	if sum.Stones != 3 || sum.Records != 3 || sum.Links != 1 || sum.Persons != 1 || sum.Orphans != 1 || sum.PrivateCells != 1 || sum.Recorders != 1 || sum.DroppedCharacters != 2 {
		t.Errorf("summary: %+v", sum)
	}
	held := []HeldCount{
		{"candidate", "its record is held back", 1},
		{"decision", "its stone or its record is held back", 1},
		{"note", heldNote, 2},
		{"record", HeldLiving, 1},
		{"stone", HeldLiving, 1},
	}
	if diff := cmp.Diff(held, sum.Held); diff != "" {
		t.Errorf("held back (-want +got):\n%s", diff)
	}
	nt, err := readAll(filepath.Join(dir, "dataset.nt"), "")
	if err != nil {
		t.Fatal(err)
	}
	ttl, err := readAll(filepath.Join(dir, "dataset.ttl"), "")
	if err != nil {
		t.Fatal(err)
	}
	if len(nt) != sum.Triples || len(ttl) != sum.Triples || show(nt) != show(ttl) {
		t.Errorf("dataset.nt has %d triples, dataset.ttl %d, the summary says %d", len(nt), len(ttl), sum.Triples)
	}
	all := show(nt)
	for _, secret := range []string{"555 0100", "555 0199", "Vane", "Late, Young", "1931"} {
		if strings.Contains(all, secret) {
			t.Errorf("%q was published", secret)
		}
	}
	for _, want := range []string{
		`<https://data.example.org/alder/column/stones.csv#odd%2C%20%28column%29> "say \"hi\" . <http://evil.example/s> <p> \"y" .`,
		`#identifies> `, `"1862-08~"^^<http://id.loc.gov/datatypes/edtf/EDTF>`, `unit-wi-infantry-31-co-f> <http://www.w3.org/ns/org#subOrganizationOf> <https://data.example.org/alder/id/unit-wi-infantry-31> .`,
		`"Company F, 31st Wisconsin Infantry"@en`, `<https://w3id.org/musterstone/vocab#uncoded> "rank: chief tinker" .`,
		`vocab#widthInches> "10.0"^^<http://www.w3.org/2001/XMLSchema#decimal> .`,
	} {
		if !strings.Contains(all, want) {
			t.Errorf("not published: %s", want)
		}
	}
	for _, never := range []string{"sameAs", "exactMatch", "_:"} {
		if strings.Contains(all, never) {
			t.Errorf("%s was published", never)
		}
	}
}

func publishedFilesSorted() []string {
	return []string{"README.txt", "about.ttl", "context.jsonld", "dataset.nq", "dataset.nt", "dataset.nt.sha256", "dataset.ttl",
		"proposals.nt", "proposals.nt.sha256", "proposals.ttl", "queries/", "shapes.ttl", "vocabulary.html", "vocabulary.ttl"}
}

func TestPublishTwice(t *testing.T) {
	a, _ := published(t)
	b, _ := published(t)
	if _, err := Publish(b, sample(t)); err != nil {
		t.Fatalf("over an earlier publication: %v", err)
	}
	for _, f := range publishedFilesSorted() {
		if f == "README.txt" || f == "about.ttl" || f == "queries/" { // the first two name the changes
			continue
		}
		x, err := os.ReadFile(filepath.Join(a, f))
		if err != nil {
			t.Fatal(err)
		}
		y, err := os.ReadFile(filepath.Join(b, f))
		if err != nil {
			t.Fatal(err)
		}
		if string(x) != string(y) {
			t.Errorf("%s differs between two runs", f)
		}
	}
	if entries, err := os.ReadDir(filepath.Dir(b)); err != nil || len(entries) != 1 {
		t.Errorf("something was left beside the publication: %v %v", entries, err)
	}
}

func TestPublishRefuses(t *testing.T) {
	here := t.TempDir()
	occupied := filepath.Join(here, "occupied")
	if err := os.Mkdir(occupied, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(occupied, "stones.csv"), []byte("id\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(here, "file")
	if err := os.WriteFile(file, nil, 0o666); err != nil {
		t.Fatal(err)
	}
	alone := filepath.Join(here, "alone")
	if err := os.Mkdir(alone, 0o777); err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(alone, "dataset.nt"), nil, 0o666); err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(here, "out")
	for _, c := range []struct {
		name, dir string
		change    func(*Dataset)
		want      string
	}{
		{"a folder with other files", occupied, nil, "occupied holds stones.csv, which is no file of a publication"},
		{"a file", file, nil, "not a directory"},
		{"no base", out, func(d *Dataset) { d.Base = "" }, "the survey has no base IRI"},
		{"a relative base", out, func(d *Dataset) { d.Base = "data/" }, "is not absolute"},
		{"a base with a fragment", out, func(d *Dataset) { d.Base = "https://a.example/x#" }, "neither ? nor #"},
		{"no year", out, func(d *Dataset) { d.Generated = time.Time{} }, "the year is not given"},
		{"a file that is like one of ours", alone, nil, "alone holds dataset.nt and no about.ttl"},
		{"a record twice", out, func(d *Dataset) {
			r := &model.Record{ID: "r1", Claim: model.Claim{Service: model.Service{Side: model.Union}}}
			d.Records = slices.Values([]*model.Record{r, r})
		}, `the record "r1" comes twice`},
		{"a proposal for no stone", out, func(d *Dataset) { d.Proposals[0].Stone = "none" }, `a proposal is about stone "none"`},
		{"a candidate that is no record", out, func(d *Dataset) { d.Proposals[0].Candidates[0].Record = "none" }, `names record "none"`},
		{"a probability that is none", out, func(d *Dataset) { d.Proposals[0].None = math.NaN() }, "NaN is not a number that can be published"},
		{"a finding about nothing", out, func(d *Dataset) { d.Findings[0].Record = "none" }, `a finding is about stone "" and record "none"`},
		{"a date that is none", out, func(d *Dataset) {
			r := &model.Record{ID: "r1", Claim: model.Claim{Person: model.Person{Died: date.Date{EDTF: "abt. 1840"}}}}
			d.Records = slices.Values([]*model.Record{r})
		}, `"abt. 1840" is not a value of http://id.loc.gov/datatypes/edtf/EDTF`},
		{"a digest that is none", out, func(d *Dataset) { d.Inputs["roster.csv"] = "sha256:" }, `is not a value of http://www.w3.org/2001/XMLSchema#hexBinary`},
	} {
		d := sample(t)
		if c.change != nil {
			c.change(&d)
		}
		_, err := Publish(c.dir, d)
		if err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", c.name, err, c.want)
		}
		if entries, err := os.ReadDir(here); err != nil || len(entries) != 3 {
			t.Fatalf("%s: something was left: %v %v", c.name, entries, err)
		}
	}
}

func TestSlugs(t *testing.T) {
	for in, want := range map[string]string{
		"Alder Creek": "alder-creek", "Cobb's Legion": "cobbs-legion", "St. Mary’s": "st-marys", "Größe": "gro-e", "São João": "sao-joao", "  a -- b ": "a-b", "": "",
	} {
		if got := slug(in); got != want {
			t.Errorf("slug(%q) = %q, want %q", in, got, want)
		}
	}
	m := &mapper{graph: testGraph("https://a.example/"), seen: map[string]string{}}
	a, _ := m.slugged("burial-ground", []string{"WI", "Dane", "Größe"})
	b, _ := m.slugged("burial-ground", []string{"WI", "Dane", "Groe"})
	again, first := m.slugged("burial-ground", []string{"WI", "", "Dane", "Größe"})
	if a == b || a != again || first || m.err != nil {
		t.Errorf("%s, %s, %s, %v, %v", a, b, again, first, m.err)
	}
	m.slugged("burial-ground", []string{"a b", "c"})
	m.slugged("burial-ground", []string{"a", "b c"})
	if m.err == nil {
		t.Error("two burial grounds under one name went unnoticed")
	}
}

// TestIRIsStay: the IRI of a thing depends on what its source calls it, not on where its row stands or how it is spelt.
func TestIRIsStay(t *testing.T) {
	if a, b := digest("marker", "A-1"), digest("marker", "A-1"); a != b || len(a) != idLength {
		t.Errorf("%s, %s", a, b)
	}
	// Pinned: a change here breaks every link to data already published.
	if got := digest("marker", "A-1"); got != "2pmqkhof3oy4rfhnyda2" {
		t.Errorf("digest of marker A-1 is now %s", got)
	}
	if digest("marker", "a\u0308") != digest("marker", "\u00e4") {
		t.Error("one id in two normal forms has two IRIs")
	}
	if digest("marker", "ab", "c") == digest("marker", "a", "bc") {
		t.Error("keys run together")
	}
}
