package site

import (
	"cmp"
	"html"
	"io"
	"io/fs"
	"maps"
	"net/http"
	"net/http/httptest"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/model"
	"musterstone/vocab/natural"
	"musterstone/vocab/rdf"
)

const hostile = `</script><script>alert(1)</script><img src=x onerror="alert(2)">"' ]]> {{.}} javascript:alert(3)`

// publication writes a small publication with its site; text is put wherever a source may say something.
func publication(t *testing.T, base, text string) (dir string, pages int) {
	t.Helper()
	dir = filepath.Join(t.TempDir(), "out")
	unit := model.Unit{State: "WI", Number: 31, Arm: "infantry", Company: "F", Written: text}
	claim := model.Claim{Person: model.Person{Name: model.Name{Surname: "Holden", Given: text, Written: text}, Buried: text}, Service: model.Service{Unit: unit, Side: model.Union, Remarks: text}}
	usct := claim
	usct.Service.Unit = model.Unit{Body: model.BodyUSCT, Number: 5, Arm: "infantry"}
	stone := &model.Stone{ID: "A-1", Source: model.Source{File: "stones & more.csv", Row: 2}, Place: model.Place{Cemetery: text, County: "Dane", State: "WI", Plot: text, Position: &model.Position{Latitude: 43, Longitude: -89}},
		Written: []model.Cell{{Column: "id", Value: "A-1"}, {Column: text, Value: text}}, Marker: model.Marker{Inscription: text + "\nCO. F", Motifs: []string{text}}, Notes: text}
	at := time.Date(2025, 11, 22, 16, 40, 0, 0, time.UTC)
	_, err := rdf.Publish(dir, rdf.Dataset{
		Base: base, Title: text, Publisher: text, Licence: "https://creativecommons.org/publicdomain/zero/1.0/", Year: 2025, Program: "musterstone 0", Inputs: map[string]string{"stones & more.csv": strings.Repeat("0a", 32)},
		Subjects: slices.Values([]*model.Subject{{Stone: stone, Readings: []model.Reading{{People: []model.Claim{claim}, Probability: 1, Unread: []string{text},
			Tokens: []model.Token{{Span: model.Span{From: 0, To: len(text)}, Field: "given", Value: text}, {Span: model.Span{From: len(text) + 1, To: len(text) + 6}, Field: "company", Value: "F", Source: text}}}},
			Implies: model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: "civil-war-1873", Probability: 0.9}, {Code: "unknown", Probability: 0.1}}, Services: []model.Weighted[string]{{Code: "civil-war/union", Probability: 1}}}}}),
		Records: slices.Values([]*model.Record{
			{ID: "r1", Source: model.Source{File: "roster.csv", Row: 2}, Written: []model.Cell{{Column: "id", Value: "r1"}}, Claim: claim},
			{ID: "r2", Source: model.Source{File: "roster.csv", Row: 3}, Claim: usct},
		}),
		Proposals: []model.Proposal{{Stone: "A-1", Candidates: []model.Candidate{{Record: "r1", Probability: 1, Evidence: []model.Evidence{{Field: "surname", Level: "same", Stone: text, Record: text, Why: text}}}}}},
		Decisions: []model.Decision{{ID: "d1", At: at, By: text, Stone: "A-1", Record: "r1", As: model.Confirmed, Because: text}},
		Findings:  []model.Finding{{Record: "r2", Kind: model.NoStone, Probability: 0.5, Reasons: []string{text}}},
		JSONLD:    true,
		After: func(folder string) error {
			var err error
			pages, err = Write(folder, Options{Base: base, Title: text, Publisher: text})
			return err
		},
	})
	if err != nil {
		t.Fatal(err)
	}
	return dir, pages
}

var (
	hrefs = regexp.MustCompile(`(?:href|src)="([^"]*)"`)
	ids   = regexp.MustCompile(` id="([^"]*)"`)
)

// TestEverythingResolves serves the site as a plain file host does, and asks for every IRI under the base in any file of the publication, and for every
// link on every page, with its fragment.
func TestEverythingResolves(t *testing.T) {
	mux := http.NewServeMux()
	server := httptest.NewServer(mux)
	defer server.Close()
	base := server.URL + "/alder/"
	dir, pages := publication(t, base, "Old Mill")
	mux.Handle("/alder/", http.StripPrefix("/alder/", http.FileServer(http.Dir(dir))))
	anchors := map[string]map[string]bool{}
	resolve := func(from, iri string) {
		t.Helper()
		u, err := url.Parse(iri)
		if err != nil {
			t.Errorf("%s: %v", from, err)
			return
		}
		fragment := u.EscapedFragment()
		u.Fragment, u.RawFragment = "", ""
		page := u.String()
		if anchors[page] == nil {
			r, err := http.Get(page)
			if err != nil {
				t.Fatal(err)
			}
			defer r.Body.Close()
			if r.StatusCode != http.StatusOK {
				t.Errorf("%s: %s is %s", from, page, r.Status)
			}
			found := map[string]bool{"": true}
			var b strings.Builder
			if _, err := io.Copy(&b, r.Body); err != nil {
				t.Fatal(err)
			}
			for _, m := range ids.FindAllStringSubmatch(b.String(), -1) {
				found[html.UnescapeString(m[1])] = true
			}
			anchors[page] = found
		}
		if !anchors[page][fragment] {
			t.Errorf("%s: %s has no place %q", from, page, fragment)
		}
	}
	iris, links, seen := 0, 0, 0
	for tr, err := range rdf.Described(dir) {
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range []rdf.Term{tr.Subj, tr.Pred, tr.Obj} {
			if i, ok := x.(rdf.IRI); ok && strings.HasPrefix(i.String(), base) {
				iris++
				resolve(tr.Subj.String(), i.String())
			}
		}
	}
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || e.IsDir() || filepath.Ext(path) != ".html" {
			return err
		}
		seen++
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(dir, path)
		if err != nil {
			return err
		}
		here, err := url.Parse(base + filepath.ToSlash(rel))
		if err != nil {
			return err
		}
		for _, m := range hrefs.FindAllStringSubmatch(string(text), -1) {
			to, err := here.Parse(html.UnescapeString(m[1]))
			if err != nil {
				t.Errorf("%s: %v", rel, err)
				continue
			}
			if strings.HasPrefix(to.String(), base) {
				links++
				resolve(rel, to.String())
			} else if to.Scheme != "http" && to.Scheme != "https" {
				t.Errorf("%s: a link to %s", rel, to)
			}
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if seen != pages+1 { // the page of the vocabulary comes with every publication
		t.Errorf("%d pages are there, %d were told", seen, pages)
	}
	if iris < 200 || links < 100 {
		t.Errorf("only %d IRIs and %d links were looked at", iris, links)
	}
}

// TestHostile: whatever a source says is text on every page, and closes nothing.
func TestHostile(t *testing.T) {
	dir, _ := publication(t, "https://data.example.org/", hostile)
	n := 0
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Ext(path) != ".html" {
			return err
		}
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		page := string(text)
		for _, bad := range []string{"<script>alert", "<img", "onerror=\"", `href="javascript`} {
			if strings.Contains(page, bad) {
				t.Errorf("%s holds %s", path, bad)
			}
		}
		if strings.Count(page, "</script>") > 1 {
			t.Errorf("%s: a script element is closed by what a source says", path)
		}
		if strings.Contains(page, "alert(2)") {
			n++
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 5 {
		t.Errorf("the hostile text stands on %d pages only", n)
	}
}

// TestPagesOfData: what stands beside the pages as Turtle is all that the publication says, and no more.
func TestPagesOfData(t *testing.T) {
	const base = "https://data.example.org/"
	dir, _ := publication(t, base, "Old \"Mill\"")
	var got []string
	err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
		if err != nil || filepath.Base(path) != "index.ttl" {
			return err
		}
		for tr, err := range rdf.ReadFile(path, "") {
			got = append(got, canonicalLine(t, tr, err))
		}
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	slices.Sort(got)
	if want := said(t, dir); !slices.Equal(got, want) {
		t.Errorf("%d triples beside the pages, %d in the publication", len(got), len(want))
	}
}

// TestSameBytes: one processor and two write the same bytes into every file of a publication, its pages and JSON-LD among them.
func TestSameBytes(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	var want map[string]string
	for _, n := range []int{1, 2} {
		runtime.GOMAXPROCS(n)
		dir, pages := publication(t, "https://data.example.org/alder/", hostile)
		got := map[string]string{}
		err := filepath.WalkDir(dir, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			text, err := os.ReadFile(path)
			got[strings.TrimPrefix(path, dir)] = string(text)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
		if got["/dataset.jsonld"] == "" || got["/vocabulary.html"] == "" || pages < 10 || len(got) < 2*pages {
			t.Fatalf("%d pages, %d files: not the whole publication", pages, len(got))
		}
		if want == nil {
			want = got
			continue
		}
		for _, file := range slices.Sorted(maps.Keys(want)) {
			if text, ok := got[file]; !ok || text != want[file] {
				t.Errorf("%s differs with two processors", file)
			}
		}
		if len(got) != len(want) {
			t.Errorf("%d files with one processor, %d with two", len(want), len(got))
		}
	}
}

// TestPagesForPeople: a page says nothing twice, speaks no vocabulary's jargon, and a decision's opens with who decided what and why.
func TestPagesForPeople(t *testing.T) {
	dir, _ := publication(t, "https://data.example.org/alder/", "Old Mill")
	pages := map[string]string{}
	for _, kind := range []string{"decision", "person", "unit", "marker", "burial-ground"} {
		found, err := filepath.Glob(filepath.Join(dir, "id", kind+"-*", "index.html"))
		if err != nil || len(found) == 0 {
			t.Fatalf("no page of a %s: %v", kind, err)
		}
		for _, f := range found {
			text, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			pages[kind] += string(text)
		}
		for _, jargon := range []string{"pref label", "was generated by", "was associated with", "sub organization of", "has geometry", ">lat<", ">label<", "person-1-service)", "(person 1", "(person service"} {
			if strings.Contains(pages[kind], jargon) {
				t.Errorf("the page of a %s says %q", kind, jargon)
			}
		}
	}
	dataset, err := os.ReadFile(filepath.Join(dir, "dataset", "index.html"))
	if err != nil {
		t.Fatal(err)
	}
	pages["dataset"] = string(dataset)
	for _, c := range []struct{ kind, want string }{
		{"marker", `<h2>Person 1 on marker A-1 <a`},
		{"marker", `<h2>Lines of the inscription</h2>`},
		{"marker", `<tr id="line-2"><td>`},
		{"marker", `>candidate match: Service record r1, Old Mill Holden <a`},
		{"marker", `-evidence-1"><td><div>surname</div></td>`},
		{"marker", `>a run of the program</a>`},
		{"marker", `<th scope="row">probability</th><td><div>over 99%</div></td>`},
		{"marker", `>Service record r1, Old Mill Holden, over 99%</a>`},
		{"dataset", `">grave marker: 1</a>`},
		{"decision", `<p class="caution">Old Mill: confirmed, 22 November 2025. The reason given: Old Mill</p>`},
		{"decision", "<details><summary>entry in the ledger, for programs</summary>"},
		{"unit", "<h3>Who served in it</h3>"},
		{"unit", `<th scope="row">part of</th>`},
		{"burial-ground", "<h3>What stands or lies here</h3>"},
		{"person", "<h3>The link that says so</h3>"},
	} {
		if !strings.Contains(pages[c.kind], c.want) {
			t.Errorf("the page of a %s does not say %s", c.kind, c.want)
		}
	}
}

// TestGrids: parts of one class stand in one table, a line each to which its name leads, with what each says; of a match and a reading under that, and no part is lost.
func TestGrids(t *testing.T) {
	dir, _ := publication(t, "https://data.example.org/alder/", "Old Mill")
	found, err := filepath.Glob(filepath.Join(dir, "id", "marker-*", "index.html"))
	if err != nil || len(found) == 0 {
		t.Fatalf("no page of a marker: %v", err)
	}
	lines := 0
	for _, f := range found {
		page, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		turtle, err := os.ReadFile(strings.TrimSuffix(f, "html") + "ttl")
		if err != nil {
			t.Fatal(err)
		}
		for _, m := range regexp.MustCompile(`#([a-z0-9-]+-(?:evidence|token)-[0-9]+|line-[0-9]+|(?:pattern|implies)-[a-z0-9-]+)>`).FindAllSubmatch(turtle, -1) {
			if n := strings.Count(string(page), ` id="`+string(m[1])+`"`); n != 1 {
				t.Errorf("%s has %s %d times", f, m[1], n)
			}
			lines++
		}
		for _, whole := range strings.Split(string(page), "<section")[1:] {
			if grids := strings.Count(whole, `class="grid"`); grids > 1 || grids == 1 && strings.Contains(whole, "-evidence-") && !strings.HasPrefix(whole, ` id="match-`) {
				t.Errorf("%s has a section with %d grids, or one of evidence that is no match's: %.200s", f, grids, whole)
			}
		}
	}
	if lines < 8 {
		t.Errorf("%d lines, want more: the test tries too little", lines)
	}
}

// TestLists: a company stands in the list behind its regiment.
func TestLists(t *testing.T) {
	names := []string{"Company B, 9th Iowa Infantry", "22nd Iowa Infantry", "Company A, 22nd Iowa Infantry", "9th Iowa Infantry", "Company A, 9th Iowa Infantry", "9th Iowa Infantry (Colored)"}
	slices.SortFunc(names, func(a, b string) int { return cmp.Or(natural.Compare(regiment(a), regiment(b)), natural.Compare(a, b)) })
	want := []string{"9th Iowa Infantry", "9th Iowa Infantry (Colored)", "Company A, 9th Iowa Infantry", "Company B, 9th Iowa Infantry", "22nd Iowa Infantry", "Company A, 22nd Iowa Infantry"}
	if !slices.Equal(names, want) {
		t.Errorf("the order is %q", names)
	}
}

// TestLabelOfSeveral: a stone is called by all who may be its man, and by nobody's wife.
func TestLabelOfSeveral(t *testing.T) {
	iri := func(s string) rdf.IRI {
		x, err := rdf.NewIRI(s)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	var triples []rdf.Triple
	say := func(part, property, text string) {
		l, err := rdf.NewLiteral(text)
		if err != nil {
			t.Fatal(err)
		}
		triples = append(triples, rdf.Triple{Subj: iri("https://a.example/m" + part), Pred: iri(property), Obj: l})
	}
	say("", rdf.RDFS+"label", "Marker 7")
	if got := labelOf("https://a.example/m", triples); got != "Marker 7" {
		t.Errorf("of nobody: %q", got)
	}
	for part, given := range map[string]string{"#person-1": "Henry", "#person-2": "Anna", "#person-3": "Ezra"} {
		say(part, rdf.Schema+"givenName", given)
		say(part, rdf.Schema+"familyName", "Moss")
	}
	say("#person-2", rdf.MS+"relation", "wife")
	say("#person-3", rdf.MS+"middleName", "B")
	if got := labelOf("https://a.example/m", triples); got != "Marker 7, Henry Moss and Ezra B Moss" {
		t.Errorf("of three: %q", got)
	}
}

// TestNaturalOrder: where things are listed, stone 2 comes before stone 10.
func TestNaturalOrder(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "out")
	var subjects []*model.Subject
	for _, id := range []model.StoneID{"10", "2", "1", "11"} {
		subjects = append(subjects, &model.Subject{Stone: &model.Stone{ID: id, Source: model.Source{File: "stones.csv", Row: 2}, Place: model.Place{Cemetery: "Old Mill", State: "WI"}}})
	}
	_, err := rdf.Publish(dir, rdf.Dataset{Base: "https://data.example.org/", Year: 2025, Subjects: slices.Values(subjects), Records: slices.Values([]*model.Record{}),
		After: func(folder string) error {
			_, err := Write(folder, Options{Base: "https://data.example.org/"})
			return err
		}})
	if err != nil {
		t.Fatal(err)
	}
	grounds, _ := filepath.Glob(filepath.Join(dir, "id", "burial-ground-*", "index.html"))
	for _, page := range append(grounds, filepath.Join(dir, "markers.html")) {
		text, err := os.ReadFile(page)
		if err != nil {
			t.Fatal(err)
		}
		var got []string
		for _, m := range regexp.MustCompile(`>Marker ([0-9]+)<`).FindAllSubmatch(text, -1) {
			got = append(got, string(m[1]))
		}
		if want := []string{"1", "2", "10", "11"}; !slices.Equal(got, want) {
			t.Errorf("%s lists %q, want %q", page, got, want)
		}
	}
	if len(grounds) != 1 {
		t.Errorf("pages of grounds: %q", grounds)
	}
}
