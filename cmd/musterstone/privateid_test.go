package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/vocab/rdf"
)

// privateIDs lays down a survey whose rosters' ids are private, and of whose stones one column is, so that the ids of those that have none are made of it too.
func privateIDs(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	for name, text := range map[string]string{
		"stones.csv": "grave,cemetery,row,plot,inscription,material,width_in,thickness_in,height_in,owner phone,tag,his paper,see too,photo,notes\nQX-1,Old Mill,1,1,ORRIN PELTRY / CO. D 12 WIS. INF. / DIED 1890,granite,31,14,47,555 0101,QX-1,PN-771,PN-775,photos/QX-1a.jpg,\"the same hand as QX-2, see PN-774\"\n" +
			"QX-2,Old Mill,1,2,WILLIAM DRAKELY / CO. D / 12 WIS. INF.,white marble,12,4,24,555 0102,QX-2,,QX-4,,\nQX-3,Old Mill,1,3,WILLIAM DRAKELY / CO. D / 12 WIS. INF.,white marble,12,4,24,555 0103,,,,,\n" +
			"QX-4,Old Mill,1,4,WILLIAM DRAKELY / CO. D / 12 WIS. INF.,white marble,12,4,24,555 0104,new,,,,\n,Old Mill,2,4,P. OSGOOD / CO. D 12 WIS. INF.,granite,31,14,47,555 0105,,PN-773,,,\n",
		"roster.csv":        "file no,surname,given,company,regiment,arm,state,died,buried,copy of number,remarks\nPN-771,Peltry,Orrin,D,12,Inf.,Wis.,1890,Old Mill,PN-771,brother of PN-772; not pn-775\nPN-772,Drakely,William,D,12,Inf.,Wis.,1874,,,\nPN-773,Osgood,Peter,D,12,Inf.,Wis.,1899,,none,\nPN-774,Quorn,Ansel,D,12,Inf.,Wis.,1899,\"Old Mill, with PN-775\",PN-774,see PN-773\nPN-775,Vail,Hosea,D,12,Inf.,Wis.,,,,\n",
		"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "ms:publishNotes": true, "tables": [{"url": "stones.csv", "tableSchema": {"columns": [{"titles": "grave", "propertyUrl": "ms:id", "ms:private": true}, {"titles": "owner phone", "ms:private": true}]}}, {"url": "roster.csv", "tableSchema": {"columns": [{"titles": "file no", "propertyUrl": "ms:id", "ms:private": true}]}}]}`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	command(t, "decide", "--survey", dir, "--stone", "QX-1", "--record", "PN-771", "--as", "confirmed", "--by", "Ina", "--because", "the same year, as on QX-2 and PN-772's paper")
	return dir
}

// TestPrivateIDsStayHome: ids of private columns are in nothing that is handed on, and what stands for them is the same in all of it; the person's own screens have the ids, and a publication makes a survey
// again with its decisions.
func TestPrivateIDsStayHome(t *testing.T) {
	dir := privateIDs(t)
	screen := command(t, "publish", "--survey", dir, "--dry-run")
	if _, err := os.Stat(filepath.Join(dir, job.IDKeyFile)); err == nil {
		t.Error("a dry run has kept a key")
	}
	out, about, leads := filepath.Join(dir, "out"), filepath.Join(dir, "about"), t.TempDir()
	var o, told bytes.Buffer
	if code := run(t.Context(), []string{"musterstone", "publish", "--survey", dir, out}, strings.NewReader(""), &o, &told); code != exitDone || !strings.Contains(told.String(), job.IDKeyFile) || !strings.Contains(told.String(), "from a copy of the survey") {
		t.Fatalf("status %d: %s", code, told.String())
	}
	command(t, "dossier", "--survey", dir, "--record", "PN-771", about)
	for _, form := range leadForms {
		command(t, "unmarked", "--survey", dir, "--as", form, "--out", filepath.Join(leads, "leads."+form))
	}
	files := map[string]string{}
	for _, folder := range []string{out, about, leads} {
		err := filepath.WalkDir(folder, func(path string, e fs.DirEntry, err error) error {
			if err != nil || e.IsDir() {
				return err
			}
			b, err := os.ReadFile(path)
			files[path] = string(b)
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	key, err := os.ReadFile(filepath.Join(dir, job.IDKeyFile))
	if err != nil {
		t.Fatal(err)
	}
	for path, text := range files {
		for _, id := range []string{"QX-", "PN-77", "pn-77", "555 01", string(key[:64])} {
			if i := strings.Index(path+"\n"+text, id); i >= 0 {
				t.Errorf("%s tells %q: %s", path, id, (path + "\n" + text)[max(0, i-100):i+20])
			}
		}
	}
	if held := "What begins with withheld- stands for an ID that is private"; !strings.Contains(files[filepath.Join(leads, "leads.html")], held) || !strings.Contains(files[filepath.Join(leads, "leads.geojson")], held) {
		t.Errorf("report and map do not say %q", held)
	}
	dataset := files[filepath.Join(out, "dataset.nt")]
	for _, name := range []string{filepath.Join(about, "dossier.csv"), filepath.Join(about, "dossier.html"), filepath.Join(leads, "leads.csv"), filepath.Join(leads, "leads.list"), filepath.Join(leads, "leads.html")} {
		n := 0
		for _, part := range strings.Split(files[name], "withheld-")[1:] {
			if strings.HasPrefix(part, " stands for") {
				continue
			}
			if n++; !strings.Contains(dataset, `"withheld-`+part[:16]+`"`) {
				t.Errorf("%s has withheld-%s, which the publication has not", name, part[:16])
			}
		}
		if n == 0 {
			t.Errorf("%s names nothing", name)
		}
	}
	// A column of the survey's own that repeats the id has what stands for it, and so has one that names a record; anything else in it is as it came.
	value := func(line string) string {
		_, v, _ := strings.Cut(line, "> \"")
		v, _, _ = strings.Cut(v, "\"")
		return v
	}
	ids, repeats := map[string]string{}, 0
	for line := range strings.Lines(dataset) {
		if subject, _, _ := strings.Cut(line, " "); strings.Contains(line, "terms/identifier> ") {
			ids[subject] = value(line)
		}
	}
	for line := range strings.Lines(dataset) {
		subject, _, _ := strings.Cut(line, " ")
		switch {
		case strings.Contains(line, " <https://data.example.org/column/stones.csv#tag> ") && !strings.Contains(line, `"new"`), strings.Contains(line, " <https://data.example.org/column/roster.csv#copy%20of%20number> ") && !strings.Contains(line, `"none"`):
			if repeats++; value(line) != ids[subject] || !strings.HasPrefix(value(line), "withheld-") {
				t.Errorf("%s repeats an id otherwise than %q", line, ids[subject])
			}
		case strings.Contains(line, " <https://data.example.org/column/stones.csv#his%20paper> "):
			if repeats++; !slices.Contains(slices.Collect(maps.Values(ids)), value(line)) || !strings.HasPrefix(value(line), "withheld-") {
				t.Errorf("%s names no record", line)
			}
		}
	}
	for _, words := range []string{"brother of withheld-", "not withheld-", "the same hand as withheld-", "as on withheld-", "photos/withheld-", "with withheld-"} {
		if !strings.Contains(dataset, words) {
			t.Errorf("the publication does not say %q", words)
		}
	}
	if repeats != 6 || !strings.Contains(dataset, `stones.csv#tag> "new"`) || !strings.Contains(dataset, `"none"`) {
		t.Errorf("%d cells repeat an id, want 6, and two others as they came", repeats)
	}
	if !strings.Contains(screen, "PN-775") {
		t.Errorf("a dry run does not tell by the survey's own ids what is held back:\n%s", screen)
	}
	if own := command(t, "unmarked", "--survey", dir, "--json") + command(t, "propose", "--survey", dir); !strings.Contains(own, "PN-774") || !strings.Contains(own, "QX-1") {
		t.Errorf("the person's own screens lack ids:\n%s", own)
	}

	// Published again it is the same, and from the publication comes a survey whose decision stands and which is published under the same names.
	command(t, "publish", "--survey", dir, filepath.Join(dir, "again"))
	if b, _ := os.ReadFile(filepath.Join(dir, "again", "dataset.nt")); string(b) != dataset {
		t.Error("published again it is another")
	}
	restored := filepath.Join(t.TempDir(), "restored")
	command(t, "begin", "--from", out, restored)
	command(t, "publish", "--survey", restored, filepath.Join(restored, "out"))
	b, _ := os.ReadFile(filepath.Join(restored, "out", "dataset.nt"))
	links := func(text string) (list []string) {
		for line := range strings.Lines(text) {
			if strings.Contains(line, "#ConfirmedLink>") {
				list = append(list, line)
			}
		}
		return list
	}
	if got, want := links(string(b)), links(dataset); len(want) != 1 || !slices.Equal(got, want) {
		t.Errorf("the restored survey is published with the links %q, want %q", got, want)
	}

	if err := os.WriteFile(filepath.Join(dir, job.IDKeyFile), []byte("spilt\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	o.Reset()
	if code := run(t.Context(), []string{"musterstone", "check", "--survey", dir}, strings.NewReader(""), &o, &o); code != exitProblems || !strings.Contains(o.String(), job.IDKeyFile) {
		t.Errorf("check ends with %d, and says of a key that is spilt:\n%s", code, o.String())
	}
	o.Reset()
	if code := run(t.Context(), []string{"musterstone", "publish", "--survey", dir, out}, strings.NewReader(""), &o, &o); code != exitWrong || !strings.Contains(o.String(), "copy of the survey") {
		t.Errorf("publish ends with %d, and says of a key that is spilt:\n%s", code, o.String())
	}
}

// TestPrivateIDsOrder: what is alike in place and chance stays in the order of the person's own list, whatever stands for its id.
func TestPrivateIDsOrder(t *testing.T) {
	dir := privateIDs(t)
	text := "file no,surname,given,company,regiment,arm,state,died,buried\n"
	for i := range 12 {
		text += fmt.Sprintf("PN-%d,Quorn%c,Ansel,D,12,Inf.,Wis.,1899,Old Mill\n", 100+i, 'a'+i)
	}
	if err := os.WriteFile(filepath.Join(dir, "roster.csv"), []byte(text), 0o666); err != nil {
		t.Fatal(err)
	}
	rows := strings.Split(strings.TrimSpace(command(t, "unmarked", "--survey", dir, "--as", "csv")), "\n")[1:]
	if len(rows) < 12 {
		t.Fatalf("%d leads, want 12 and more", len(rows))
	}
	for i, row := range rows {
		if number, _, _ := strings.Cut(row, ","); number != strconv.Itoa(i+1) {
			t.Errorf("lead %d has the number %s", i+1, number)
		}
	}
}

// TestLeadsMapIDs: no two features of the map have one id, of a stone that is the second of two others either.
func TestLeadsMapIDs(t *testing.T) {
	var all struct {
		Features []struct {
			ID string `json:"id"`
		} `json:"features"`
	}
	if err := json.Unmarshal([]byte(command(t, "unmarked", "--survey", privateIDs(t), "--as", "geojson")), &all); err != nil {
		t.Fatal(err)
	}
	ids := map[string]int{}
	for _, f := range all.Features {
		ids[f.ID]++
	}
	seconds := 0
	for _, id := range slices.Sorted(maps.Keys(ids)) {
		if ids[id] > 1 {
			t.Errorf("%d features have the id %s", ids[id], id)
		}
		if strings.HasPrefix(id, "second-marker/") {
			seconds++
		}
	}
	if seconds != 3 {
		t.Errorf("%d second markers, want 3: %v", seconds, ids)
	}
}

// TestHandedOnPrivate: the sheet to decide on and the drawings do not tell what private columns say; the sheet has the ids all the same, and is taken back. Where nothing is private, both are as ever, and
// nothing is said of it.
func TestHandedOnPrivate(t *testing.T) {
	lay := func(stones, roster string) string {
		dir := t.TempDir()
		for name, text := range map[string]string{
			"stones.csv": "id,cemetery,row,inscription,material,width_in,thickness_in,height_in\nM-1,Old Mill,Zs,ORRIN PELTRY / CO. D 12 WIS. INF. / DIED 1890,granite,31,14,47\n",
			"roster.csv": "id,surname,given,rank_in,company,regiment,arm,state,born,died\nr1,Peltry,Orrin,farrier,D,12,Inf.,Wis.,1829,1890\nr2,Peltry,Ozias,private,C,12,Inf.,Wis.,1840,1891\n",
			"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv", "tableSchema": {"columns": [` + stones + `]}},
 {"url": "roster.csv", "tableSchema": {"columns": [` + roster + `]}}]}`,
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		return dir
	}
	hand := func(dir string) (sheet, drawn, told string) {
		var o, e bytes.Buffer
		if code := run(t.Context(), []string{"musterstone", "propose", "--survey", dir, "--csv"}, strings.NewReader(""), &o, &e); code != exitDone {
			t.Fatalf("status %d: %s", code, e.String())
		}
		sheet = o.String()
		folder := t.TempDir()
		if code := run(t.Context(), []string{"musterstone", "read", "--survey", dir, "--drawings", folder}, strings.NewReader(""), &o, &e); code != exitDone {
			t.Fatalf("status %d: %s", code, e.String())
		}
		files, err := filepath.Glob(filepath.Join(folder, "*.svg"))
		if err != nil || len(files) != 2 {
			t.Fatalf("drawings %q, %v", files, err)
		}
		for _, name := range files {
			b, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			drawn += filepath.Base(name) + string(b)
		}
		return sheet, drawn, e.String()
	}
	private := func(names ...string) string {
		var list []string
		for _, n := range names {
			list = append(list, `{"titles": "`+n+`", "ms:private": true}`)
		}
		return strings.Join(list, ", ")
	}
	openSheet, openDrawn, told := hand(lay("", ""))
	if strings.Contains(told, "private") {
		t.Errorf("nothing is private, and it is said: %s", told)
	}
	for _, c := range []struct {
		name           string
		stones, roster []string
		sheet, drawn   []string // what is told in them of an open survey, and of this never
	}{
		{"a roster's rank", nil, []string{"rank_in"}, []string{"arrier"}, nil},
		{"a roster's given names", nil, []string{"given"}, []string{"Ozias", "Orrin"}, nil},
		{"the words", []string{"inscription"}, nil, []string{"ORRIN PELTRY"}, []string{"ORRIN PELTRY", "1890"}},
		{"the row", []string{"row"}, nil, []string{"Zs"}, nil},
		{"the ids", []string{"id"}, nil, nil, []string{"M-1"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := lay(private(c.stones...), private(c.roster...))
			sheet, drawn, told := hand(dir)
			for _, w := range c.sheet {
				if !strings.Contains(openSheet, w) || strings.Contains(sheet, w) {
					t.Errorf("%q is told in the open sheet: %v, in this: %v\n%s", w, strings.Contains(openSheet, w), strings.Contains(sheet, w), sheet)
				}
			}
			for _, w := range c.drawn {
				if !strings.Contains(openDrawn, w) || strings.Contains(drawn, w) {
					t.Errorf("%q is told in the open drawings: %v, in these: %v", w, strings.Contains(openDrawn, w), strings.Contains(drawn, w))
				}
			}
			if !strings.Contains(told, "a sheet is made to be handed on") || !strings.Contains(told, "held back in the drawings") {
				t.Errorf("it is not said that anything is held back: %s", told)
			}
			if !strings.Contains(sheet, ",M-1,r1,") || !strings.Contains(sheet, ",M-1,r2,") {
				t.Errorf("the sheet lacks ids:\n%s", sheet)
			}
			filled := filepath.Join(dir, "sheet.csv.txt")
			if err := os.WriteFile(filled, []byte(strings.Replace(sheet, ",,M-1,r1,", "confirmed,,M-1,r1,", 1)), 0o666); err != nil {
				t.Fatal(err)
			}
			if text := command(t, "decide", "--survey", dir, "--from", filled, "--by", "Ina"); !strings.Contains(text, "M-1") {
				t.Errorf("the sheet was taken back with %q", text)
			}
		})
	}
}

// TestHeldRows: what is held back is counted in words that fit the number.
func TestHeldRows(t *testing.T) {
	got := heldRows(rdf.Summary{Held: []rdf.HeldCount{{What: "candidate", Why: "so", N: 2}, {What: "record", Why: "so", N: 1}}})
	if want := [][]string{{"held back", "2 candidates: so"}, {"held back", "1 record: so"}}; !slices.EqualFunc(got, want, slices.Equal[[]string]) {
		t.Errorf("%q, want %q", got, want)
	}
}
