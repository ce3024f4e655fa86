package main

import (
	"bytes"
	"cmp"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/link/unmarked/estimate"
	"musterstone/model"
	"musterstone/model/date"
)

// leadsOf runs the command on the invented survey.
func leadsOf(t *testing.T, args ...string) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "alder")
	if err := demo.Lay(dir); err != nil {
		t.Fatal(err)
	}
	return command(t, append([]string{"unmarked", "--survey", dir}, args...)...)
}

// The page loads nothing, names no id twice, and has a sheet for each finding.
func TestLeadsPage(t *testing.T) {
	text := leadsOf(t, "--as", "html")
	findings := strings.Count(leadsOf(t, "--json"), "\n")
	if n := strings.Count(text, `<section class="sheet">`); n != findings || n < 20 {
		t.Errorf("%d sheets, %d findings", n, findings)
	}
	seen := map[string]bool{}
	for _, m := range regexp.MustCompile(`\bid="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		if seen[m[1]] {
			t.Errorf("the id %q twice", m[1])
		}
		seen[m[1]] = true
	}
	for _, m := range regexp.MustCompile(`aria-labelledby="([^"]*)"`).FindAllStringSubmatch(text, -1) {
		for _, id := range strings.Fields(m[1]) {
			if !seen[id] {
				t.Errorf("nothing has the id %q", id)
			}
		}
	}
	if m := regexp.MustCompile(`(?i)<(script|link|img|iframe|object|base|form)\b|\b(src|href|srcset)=|url\(|@import`).FindString(text); m != "" {
		t.Errorf("the page may load something: %q", m)
	}
	for _, m := range regexp.MustCompile(`https?://[^"\s<]*`).FindAllString(text, -1) {
		if m != "http://www.w3.org/2000/svg" {
			t.Errorf("an address: %s", m)
		}
	}
	for _, want := range []string{"About ", "90% interval", "@page", "Plan of Old Mill Cemetery", "by war", "Still to be shown", "Notes", "decided by the agency", "nine in ten or more"} {
		if !strings.Contains(text, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
}

// The sentence on how many lie there stands once, however many grounds there are; each has its own figures.
func TestLeadsSentence(t *testing.T) {
	for _, as := range []string{"list", "html"} {
		text := leadsOf(t, "--as", as)
		if n := strings.Count(text, "lie here without a government marker"); n != 1 {
			t.Errorf("%s: the sentence stands %d times", as, n)
		}
		for _, ground := range []string{"Old Mill Cemetery", "Prairie Rest Cemetery", "St. Boniface Churchyard"} {
			if !regexp.MustCompile(ground + `(: |</td><td class="n">)about [0-9]+`).MatchString(text) {
				t.Errorf("%s: no figures of %s", as, ground)
			}
		}
		if !strings.Contains(text, "how likely ") {
			t.Errorf("%s: does not say what the chances are of", as)
		}
	}
	if text := leadsOf(t, "--as", "html", "--cemetery", "Old Mill Cemetery"); strings.Contains(text, "<th>Ground</th>") {
		t.Error("a table of grounds where there is one, which the sentence above speaks of")
	}
}

// A run that was killed leaves its unfinished file; the next one removes it, unless another run may be writing it still, and leaves files that are none of its own.
func TestLeadsLeftovers(t *testing.T) {
	dir := t.TempDir()
	var want []string
	for _, x := range []struct {
		name string
		age  time.Duration
		stay bool
	}{{".leads.csv-1870", 2 * time.Hour, false}, {".leads.csv-1871", time.Minute, true}, {".leads.csv", 2 * time.Hour, true}, {"leads.csv-1870", 2 * time.Hour, true}} {
		path, then := filepath.Join(dir, x.name), time.Now().Add(-x.age)
		if err := errors.Join(os.WriteFile(path, []byte("number,cem"), 0o644), os.Chtimes(path, then, then)); err != nil {
			t.Fatal(err)
		}
		if x.stay {
			want = append(want, x.name)
		}
	}
	leadsOf(t, "--as", "csv", "--out", filepath.Join(dir, "leads.csv"))
	want = append(want, "leads.csv")
	entries, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, e := range entries {
		got = append(got, e.Name())
	}
	slices.Sort(want)
	if !slices.Equal(got, want) {
		t.Errorf("the folder holds %q, want %q", got, want)
	}
}

// The table is whole: as many cells in each row, the columns named, as many rows as findings.
func TestLeadsTable(t *testing.T) {
	rows, err := csv.NewReader(strings.NewReader(leadsOf(t, "--as", "csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	if !slices.Equal(rows[0], leadColumns) || len(rows)-1 != strings.Count(leadsOf(t, "--json"), "\n") {
		t.Errorf("%d rows, columns %v", len(rows), rows[0])
	}
}

func TestLeadsMap(t *testing.T) {
	text := leadsOf(t, "--as", "geojson")
	var c struct {
		Type     string
		Features []struct {
			Type     string
			Geometry *struct {
				Type        string
				Coordinates []float64
			}
			Properties map[string]any
		}
	}
	if err := json.Unmarshal([]byte(text), &c); err != nil {
		t.Fatal(err)
	}
	placed := 0
	for _, f := range c.Features {
		if f.Geometry != nil {
			placed++
			if x := f.Geometry.Coordinates; x[0] > -86 || x[0] < -88 || x[1] < 43 || x[1] > 44 { // longitude first
				t.Errorf("%v: %v", f.Properties["stone"], x)
			}
		}
	}
	if c.Type != "FeatureCollection" || placed < 5 || placed == len(c.Features) {
		t.Errorf("%s, %d of %d with a place", c.Type, placed, len(c.Features))
	}
}

// An outside validator of RFC 7946 takes the map, and refuses it with a fault in it.
func TestOutsideGeoJSON(t *testing.T) {
	node := outside(t, "node")
	folder := os.Getenv("MUSTERSTONE_NODE")
	if folder == "" {
		lack(t, "MUSTERSTONE_NODE does not name the folder with node_modules")
	}
	script, err := os.ReadFile("testdata/geojson.mjs")
	if err != nil {
		t.Fatal(err)
	}
	check := func(text string) string {
		file := filepath.Join(t.TempDir(), "leads.geojson")
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		ctx, cancel := context.WithTimeout(t.Context(), time.Minute)
		defer cancel()
		cmd := exec.CommandContext(ctx, node, "--input-type=module", "-", file)
		cmd.Dir, cmd.Stdin = folder, bytes.NewReader(script)
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v: %s", err, out)
		}
		return string(out)
	}
	text := leadsOf(t, "--as", "geojson")
	if told := check(text); told != "" {
		t.Errorf("the validator says: %s", told)
	}
	for _, fault := range [][2]string{{`"type":"Point"`, `"type":"Pint"`}, {`"coordinates":[-`, `"coordinates":["-`}, {`"type":"FeatureCollection"`, `"type":"Features"`}, {`"properties":{`, `"props":{`}} {
		bad := strings.Replace(text, fault[0], fault[1], 1)
		if bad == text {
			t.Fatalf("nothing to break at %s", fault[0])
		}
		if strings.HasPrefix(fault[1], `"coordinates"`) {
			bad = strings.Replace(bad, `"coordinates":["-`, `"coordinates":["west",-`, 1)
		}
		if check(bad) == "" {
			t.Errorf("the validator takes %s", fault[1])
		}
	}
}

// Chromium prints the report on two pages, and each sheet of the invented survey on one, on letter and on A4. It runs where Chromium and pdftotext are.
func TestOutsidePDF(t *testing.T) {
	if testing.Short() {
		t.Skip("starts a browser")
	}
	browser, reader := outside(t, "chromium"), outside(t, "pdftotext") // the latter of poppler-utils
	text := leadsOf(t, "--as", "html")
	for _, size := range []string{"letter", "A4"} {
		dir := t.TempDir()
		file := filepath.Join(dir, "leads.html")
		if err := os.WriteFile(file, []byte(strings.Replace(text, "@page {", "@page { size: "+size+";", 1)), 0o644); err != nil {
			t.Fatal(err)
		}
		pdf := filepath.Join(dir, "leads.pdf")
		ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
		defer cancel()
		cmd := exec.CommandContext(ctx, browser, "--headless", "--no-sandbox", "--disable-gpu", "--user-data-dir="+filepath.Join(dir, "profile"), "--no-pdf-header-footer", "--print-to-pdf="+pdf, "file://"+file)
		if out, err := cmd.CombinedOutput(); err != nil {
			t.Fatalf("chromium does not print: %v\n%s", err, out)
		}
		out, err := exec.CommandContext(ctx, reader, "-layout", pdf, "-").Output()
		if err != nil {
			t.Fatal(err)
		}
		pages := strings.Split(strings.TrimSuffix(string(out), "\f"), "\f")
		sheets := strings.Count(text, `<section class="sheet">`)
		if !strings.Contains(pages[0], "Veterans with no government marker") || !strings.Contains(pages[1], "Plan") || !strings.Contains(pages[1], "Before anything is done") ||
			!strings.Contains(pages[2], "Work list") {
			t.Errorf("%s: the report is not the first two pages", size)
		}
		whole := 0
		for _, p := range pages {
			if strings.Contains(p, "State:") && strings.Contains(p, "Still to be shown") && strings.Contains(p, "A lead for people, not a verdict") {
				whole++
			}
		}
		if whole != sheets {
			t.Errorf("%s: %d of %d sheets are whole on one page, of %d pages", size, whole, sheets, len(pages))
		}
	}
}

// The report stays on its two pages however many grounds and patterns there are.
func TestReportShort(t *testing.T) {
	var grounds []groundLine
	for i := range 40 {
		grounds = append(grounds, groundLine{Name: fmt.Sprintf("Ground %02d", i), Leads: i % 20})
	}
	kept, more := most(grounds)
	if len(kept) != mostGrounds || more != 40-mostGrounds || !slices.IsSortedFunc(kept, func(a, b groundLine) int { return strings.Compare(a.Name, b.Name) }) ||
		slices.ContainsFunc(kept, func(g groundLine) bool { return g.Leads < 14 }) {
		t.Errorf("%d kept, %d more: %v", len(kept), more, kept)
	}
	if kept, more := most(grounds[:3]); len(kept) != 3 || more != 0 {
		t.Errorf("of three: %v, %d more", kept, more)
	}
	var list []tally
	for i := range 11 {
		list = append(list, tally{Name: fmt.Sprint(i), States: []int{i, 0, 0, 1}, All: i + 1})
	}
	short := shortened(list)
	all := 0
	for _, x := range short {
		all += x.All
	}
	if last := short[len(short)-1]; len(short) != mostPatterns || all != 66 || last.Name != "4 other patterns" || last.States[0] != 0+1+2+3 || last.States[3] != 4 || short[0].All != 11 {
		t.Errorf("%+v", short)
	}
	if got := shortened(list[:4]); len(got) != 4 || got[0].All != 1 {
		t.Errorf("of four: %+v", got)
	}
}

// TestReportSaysOnce: what is true of all burial grounds is said once, and not in the line of each: that no estimate can be made, of all of them or of some; and of one ground there is no table.
func TestReportSaysOnce(t *testing.T) {
	head := "id,cemetery,county,state,material,width_in,thickness_in,inscription\n"
	stones := func(ground string, n int) (rows string) {
		for i := range n {
			rows += fmt.Sprintf("%s-%d,%s,Alder,WI,granite,30,10,AMOS FENT%cESS / CO. F 31 WIS. INF. / DIED 18%d\n", ground, i, ground, 'A'+i, 80+i)
		}
		return rows
	}
	roster := "id,surname,given,company,regiment,state,arm,buried\n"
	for i := range 3 {
		roster += fmt.Sprintf("r%d,Fent%cess,Amos,F,31,WI,inf,Old Mill\n", i, 'a'+i)
	}
	const unsaid = "cannot be said"
	for _, c := range []struct {
		name, stones, roster string
		unsaid, tables       int
	}{
		{"no ground has two lists", head + stones("Old Mill", 3) + stones("New Hope", 3) + stones("Low Fen", 3), "", 1, 1},
		{"one ground has two", head + stones("Old Mill", 3) + stones("New Hope", 3) + stones("Low Fen", 3), roster, 1, 1},
		{"one ground", head + stones("Old Mill", 3), "", 1, 0},
		{"one ground that has two", head + stones("Old Mill", 3), roster, 0, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, text := range map[string]string{"stones.csv": c.stones, "roster.csv": cmp.Or(c.roster, "id,surname,given\nx,Nobody,Known\n")} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			out := filepath.Join(dir, "report.html")
			command(t, "unmarked", "--survey", dir, "--as", "html", "--out", out)
			text, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			page, _, _ := strings.Cut(string(text), "<h2>What was found")
			if n, tables := strings.Count(page, unsaid), strings.Count(page, "<th>Ground</th>"); n != c.unsaid || tables != c.tables {
				t.Errorf("%q %d times, %d tables of grounds; want %d and %d\n%s", unsaid, n, tables, c.unsaid, c.tables, page[strings.Index(page, "<h1>"):])
			}
		})
	}
}

// TestPlanBy: a plan says what it is drawn by.
func TestPlanBy(t *testing.T) {
	at := &model.Position{Latitude: 43.5, Longitude: -87}
	for _, tt := range []struct {
		place model.Place
		says  string
	}{
		{model.Place{Position: at, Row: "1"}, "by position, north above"},
		{model.Place{Row: "1"}, "by row and plot, not to scale"},
		{model.Place{Plot: "7"}, "by row and plot, not to scale"},
		{model.Place{}, "in the order of the table: neither row nor plot is told"},
	} {
		all := &leads{grounds: []string{"Old Mill"}}
		for _, id := range []model.StoneID{"a", "b"} {
			place := tt.place
			place.Cemetery = "Old Mill"
			all.subjects = append(all.subjects, &model.Subject{Stone: &model.Stone{ID: id, Place: place}})
		}
		if svg := plan(all, "Old Mill", 0, 300); !strings.Contains(svg, ">"+tt.says+"<") {
			t.Errorf("%+v: the plan does not say %q", tt.place, tt.says)
		}
	}
}

// TestPlanSquare: four stones at the corners of a square of a hundred metres stand at the corners of one on the plan too, wherever on earth.
func TestPlanSquare(t *testing.T) {
	const north, east = 43.5, -87.0
	const up, over = 100. / 111_320, 100. / 111_320 / 0.72537 // 0.72537: the cosine of 43.5 degrees
	all := &leads{grounds: []string{"Old Mill"}}
	for i, at := range [][2]float64{{north, east}, {north + up, east}, {north + up, east + over}, {north, east + over}} {
		all.subjects = append(all.subjects, &model.Subject{Stone: &model.Stone{ID: model.StoneID(rune('a' + i)), Place: model.Place{Cemetery: "Old Mill", Position: &model.Position{Latitude: at[0], Longitude: at[1]}}}})
	}
	list, _ := spots(all, "Old Mill")
	if len(list) != 4 {
		t.Fatalf("%d stones, want 4", len(list))
	}
	for i, want := range [][2]float64{{0, 0}, {0, -100}, {100, -100}, {100, 0}} {
		if x, y := list[i].x-list[0].x, list[i].y-list[0].y; math.Abs(x-want[0]) > .5 || math.Abs(y-want[1]) > .5 {
			t.Errorf("corner %d is drawn %.1f m over and %.1f down, want %v", i, x, y, want)
		}
	}
}

// TestPlanFarOff: a stone whose position lies on another continent does not shrink the plan of the others to a point; it is said that it is not drawn.
func TestPlanFarOff(t *testing.T) {
	all := &leads{grounds: []string{"Old Mill"}}
	for i, longitude := range []float64{-87, -87.0001, -87.0002, -87.0003, 87, -87.0004, -87.0005, -87.0006, -87.0007, -87.0008} {
		all.subjects = append(all.subjects, &model.Subject{Stone: &model.Stone{ID: model.StoneID(rune('a' + i)), Place: model.Place{Cemetery: "Old Mill", Position: &model.Position{Latitude: 43.5, Longitude: longitude}}}})
	}
	svg := plan(all, "Old Mill", 0, 300)
	if says := "by position, north above; not drawn: 1 stone more than ten kilometres off"; !strings.Contains(svg, ">"+says+"<") || !strings.Contains(svg, "10 metres") {
		t.Errorf("the plan does not say %q, or has no scale:\n%s", says, svg)
	}
	if n := strings.Count(svg, "<circle "); n != 9 {
		t.Errorf("%d stones are drawn, want 9", n)
	}
}

// TestLifeOfRecord: of a man whom a roster alone tells, the age is that at which he came, and his life is not drawn as if he had died at it.
func TestLifeOfRecord(t *testing.T) {
	must := func(text string) date.Date {
		d, err := date.Parse(text)
		if err != nil {
			t.Fatal(err)
		}
		return d
	}
	r := &model.Record{ID: "r1"}
	r.Person.Age, r.Person.Died, r.Service.Enlisted = date.Age{Known: true, Years: 22}, must("1899"), must("Oct. 9, 1861")
	l := lead{record: r, Finding: model.Finding{Record: "r1", Kind: model.NoStone}}
	if c := life(&l); c.Person.Born.From.Year != 1838 || !c.Person.Age.IsZero() {
		t.Errorf("born %v, age %v; want born 1838 or 1839 and no age at death", c.Person.Born, c.Person.Age)
	}
	r.Service.Enlisted = date.Date{} // not known, or kept back
	if svg := string(newSheet(&l).Time); strings.Contains(svg, "1877") {
		t.Errorf("his life is drawn from 1877:\n%s", svg)
	}
}

// TestEstimateSentence: one veteran is told of as one.
func TestEstimateSentence(t *testing.T) {
	for _, c := range []struct {
		r    estimate.Result
		want string
	}{
		{estimate.Result{Found: 0.98, Level: 0.9, From: 0, To: 1, Named: 0.98}, "1 veteran without a government marker is found here (90% interval 0 to 1, 1 of them named)"},
		{estimate.Result{Found: 57.6, Level: 0.9, From: 53, To: 63, Named: 58}, "58 veterans without a government marker are found here (90% interval 53 to 63, 58 of them named)"},
		{estimate.Result{Estimated: true, N: 1.2, Level: 0.9, From: 1, To: 3, Named: 1}, "about 1 veteran lies here without a government marker, 90% interval 1 to 3; 1 of them named"},
		{estimate.Result{Estimated: true, N: 34, Level: 0.9, From: 27, To: 41, Named: 12}, "about 34 veterans lie here without a government marker, 90% interval 27 to 41; 12 of them named"},
	} {
		if got := sentence(c.r); !strings.HasPrefix(got, c.want) {
			t.Errorf("%q, want %q", got, c.want)
		}
	}
}
