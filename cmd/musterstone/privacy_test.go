package main

import (
	"bytes"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// TestPublishPrivateWar: a war that only private cells tell, by dates or by a side, is published nowhere, neither of the record nor in what is found of it; one that other cells or the metadata tell is.
func TestPublishPrivateWar(t *testing.T) {
	const stones = "id,cemetery,inscription\nM-1,Old Mill,ORRIN PELTRY / DIED 1890\n"
	for _, c := range []struct {
		name, roster, private, virtual string
		out                            bool
	}{
		{"another column", "id,name,enlisted,died,buried\nr1,\"Peltry, Orrin\",\"Aug. 9, 1862\",1890,Old Mill\n", "buried", "", true},
		{"dates", "id,name,enlisted,died,buried\nr1,\"Peltry, Orrin\",\"Aug. 9, 1862\",1890,Old Mill\n", "enlisted", "", false},
		{"one of two dates", "id,name,enlisted,mustered_out,state,died,buried\nr1,\"Peltry, Orrin\",\"Aug. 9, 1862\",\"June 1, 1864\",WI,1890,Old Mill\n", "enlisted", "", true},
		{"a war in a column", "id,name,enlisted,conflict,died,buried\nr1,\"Peltry, Orrin\",\"Aug. 9, 1862\",Civil War,1890,Old Mill\n", "enlisted", "", true},
		{"a war of the whole roster", "id,name,enlisted,died,buried\nr1,\"Peltry, Orrin\",\"Aug. 9, 1862\",1890,Old Mill\n", "enlisted", `, {"virtual": true, "propertyUrl": "ms:conflict", "default": "civil-war"}`, true},
		{"side", "id,name,side,died,buried\nr1,\"Peltry, Orrin\",Union,1890,Old Mill\n", "side", "", false},
		{"a body's side", "id,name,body,died,buried\nr1,\"Peltry, Orrin\",U.S. Colored Troops,1890,Old Mill\n", "body", "", false},
		{"a body's side against a side", "id,name,body,side,died,buried\nr1,\"Peltry, Orrin\",U.S. Colored Troops,Confederate,1890,Old Mill\n", "body", "", false},
		{"a side for the century", "id,name,side,enlisted,died,buried\nr1,\"Peltry, Orrin\",Union,\"Aug. 9, '62\",1890,Old Mill\n", "side", "", false},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, text := range map[string]string{
				"stones.csv": stones, "roster.csv": c.roster,
				"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv"},
 {"url": "roster.csv", "tableSchema": {"columns": [{"titles": "` + c.private + `", "ms:private": true}` + c.virtual + `]}}]}`,
			} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			out := filepath.Join(dir, "out")
			command(t, "publish", "--survey", dir, out)
			record := false
			err := filepath.WalkDir(out, func(path string, d os.DirEntry, err error) error {
				if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), "vocab") || strings.HasPrefix(d.Name(), "shapes") {
					return err
				}
				text, err := os.ReadFile(path)
				record = record || strings.Contains(string(text), "Service record r1")
				told := strings.Contains(string(text), "conflict-civil-war") || strings.Contains(string(text), "side-union") || strings.Contains(string(text), "1862")
				switch rel, _ := filepath.Rel(out, path); {
				case !c.out && told:
					t.Errorf("%s tells the war:\n%s", rel, text)
				case c.out && d.Name() == "dataset.nt" && !strings.Contains(string(text), "conflict-civil-war"):
					t.Errorf("%s does not tell the war", rel)
				}
				return err
			})
			if err != nil || !record {
				t.Fatalf("the record is not published: %v", err)
			}
		})
	}
}

// TestPublishPrivateDefault: what the metadata give to the blank cells of a private column stays at home as its cells do; another column's goes out.
func TestPublishPrivateDefault(t *testing.T) {
	for _, private := range []string{"", `, "ms:private": true`} {
		dir := t.TempDir()
		for name, text := range map[string]string{
			"stones.csv": "id,cemetery,inscription\nM-1,Old Mill,ORRIN PELTRY / DIED 1890\n",
			"roster.csv": "id,name,side,home,birthplace\nr1,\"Peltry, Orrin\",Union,,\nr2,\"Baker, Amos\",Union,Lodi,\n",
			"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv"},
 {"url": "roster.csv", "tableSchema": {"columns": [{"titles": "home", "propertyUrl": "ms:residence", "default": "Tamarack"` + private + `}, {"titles": "birthplace", "default": "Ohio"}]}}]}`,
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		out := filepath.Join(dir, "out")
		command(t, "publish", "--survey", dir, out)
		text, err := os.ReadFile(filepath.Join(out, "dataset.nt"))
		if err != nil {
			t.Fatal(err)
		}
		for _, w := range []string{"Tamarack", "Lodi"} {
			if told := strings.Contains(string(text), w); told != (private == "") {
				t.Errorf("private %q: %s is published: %v", private, w, told)
			}
		}
		if !strings.Contains(string(text), `birthplace> "Ohio"`) {
			t.Errorf("private %q: the default of another column is not published", private)
		}
	}
}

// TestDossierPrivate: a private column is in no file of a dossier, neither as it stands nor as it was understood, in a reason, in what was found, or in the name; what other columns say is.
func TestDossierPrivate(t *testing.T) {
	roster := []string{"id,surname,given,rank_in,company,regiment,arm,state,enlisted,born,residence,died,buried", `r1,Peltry,Orrin,farrier,M,73,Cav.,Ohio,"Feb. 13, 1863",1829,Tamarack,1899,Old Mill lot 9`}
	stones := []string{"id,cemetery,section,inscription,material,condition", "M-1,Old Mill,Zs,O. PELTRY / CO. M 73 OHIO CAV. / DIED 1899,granite,broken off"}
	register := []string{"id,cemetery,surname,given,company,regiment,state,died", "g1,Old Mill,Peltry,O.,M,73,Ohio,1899"}
	for _, c := range []struct {
		file, private string
		out, never    []string
	}{
		{"roster.csv", "", []string{"13 February 1863", "farrier", "Tamarack", "Orrin", "lot 9"}, nil},
		{"roster.csv", "enlisted", []string{"farrier"}, []string{"1863"}},
		{"roster.csv", "rank_in", []string{"13 February 1863"}, []string{"farrier", "Farrier"}},
		{"roster.csv", "given", []string{"farrier", "Peltry"}, []string{"Orrin"}},
		{"roster.csv", "born", []string{"farrier"}, []string{"1829"}},
		{"roster.csv", "residence", []string{"farrier"}, []string{"Tamarack"}},
		{"roster.csv", "buried", []string{"farrier"}, []string{"lot 9"}},
		{"stones.csv", "inscription", []string{"farrier", "granite"}, []string{"O. PELTRY"}},
		{"stones.csv", "section", []string{"granite", "O. PELTRY"}, []string{"Zs"}},
		{"stones.csv", "condition", []string{"granite", "O. PELTRY"}, []string{"broken off"}},
	} {
		t.Run(c.private, func(t *testing.T) {
			dir := t.TempDir()
			tables := `{"url": "stones.csv"}, {"url": "register.csv"}, {"url": "roster.csv"}`
			if c.private != "" {
				tables = strings.Replace(tables, `"`+c.file+`"`, `"`+c.file+`", "tableSchema": {"columns": [{"titles": "`+c.private+`", "ms:private": true}]}`, 1)
			}
			for name, text := range map[string]string{
				"stones.csv": strings.Join(stones, "\n"), "roster.csv": strings.Join(roster, "\n"), "register.csv": strings.Join(register, "\n"),
				"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [` + tables + `]}`,
			} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text+"\n"), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			for _, about := range [][2]string{{"--stone", "M-1"}, {"--record", "r1"}} {
				out := filepath.Join(dir, "out"+about[0])
				command(t, "dossier", "--survey", dir, about[0], about[1], out)
				var all strings.Builder
				err := filepath.WalkDir(out, func(path string, d os.DirEntry, err error) error {
					if err != nil || d.IsDir() || strings.HasPrefix(d.Name(), "vocab") || strings.HasPrefix(d.Name(), "shapes") {
						return err
					}
					text, err := os.ReadFile(path)
					for _, w := range c.never {
						if strings.Contains(string(text), w) {
							t.Errorf("%s: %s tells %s", about, d.Name(), w)
						}
					}
					if strings.HasPrefix(d.Name(), "dossier.") {
						all.Write(text)
					}
					return err
				})
				if err != nil {
					t.Fatal(err)
				}
				for _, w := range c.out {
					if strings.Count(all.String(), w) < 2 { // in page and table
						t.Errorf("%s: the dossier does not tell %s", about, w)
					}
				}
			}
		})
	}
}

// TestPublishMeantPrivate: a column that somebody meant to keep back is not published, however he said so; where that cannot be done nothing is.
func TestPublishMeantPrivate(t *testing.T) {
	const stones, roster = "id,cemetery,inscription\nM-1,Old Mill,ORRIN PELTRY / DIED 1890\n", "id,surname,given,died,informant\nr1,Peltry,Orrin,1890,ASTRID QUORN\n"
	column := func(says string) string {
		return `{"url": "roster.csv", "tableSchema": {"columns": [{"titles": "informant"` + says + `}]}}`
	}
	for _, c := range []struct {
		name, table    string
		out, published bool // that the informant is published, and that anything is: of a roster that is refused the stones are
		told           string
	}{
		{"nothing said", column(""), true, true, ""},
		{"not private", column(`, "ms:private": false, "private": false`), true, true, ""},
		{"private", column(`, "ms:private": true`), false, true, ""},
		{"as a text", column(`, "ms:private": "yes"`), false, true, `["ms:private"]: it is a text, not true or false; it was taken as true`},
		{"as a number", column(`, "ms:private": 1`), false, true, "it is a number, not true or false"},
		{"without the prefix", column(`, "private": true`), false, true, `it was taken as ms:private; write "ms:private": true`},
		{"in capitals", column(`, "ms:Private": true`), false, true, "it was taken as ms:private"},
		{"as an IRI", column(`, "https://w3id.org/musterstone/vocab#private": true`), false, true, "it was taken as ms:private"},
		{"suppressed, as a text", column(`, "suppressOutput": "true"`), false, true, "it is a text, not true or false"},
		{"the whole table", `{"url": "roster.csv", "ms:private": true}`, false, true, "only a column can be private"},
		{"the schema", `{"url": "roster.csv", "tableSchema": {"private": true, "columns": []}}`, false, true, "only a column can be private"},
		{"the whole survey", `{"url": "roster.csv"}], "ms:private": true, "notes": [`, false, false, "only a column can be private"},
		{"a table left out, as a text", `{"url": "roster.csv", "suppressOutput": "yes"}`, false, true, "it was taken as true"},
	} {
		t.Run(c.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, text := range map[string]string{"stones.csv": stones, "roster.csv": roster,
				"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv"}, ` + c.table + `]}`} {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
					t.Fatal(err)
				}
			}
			out := filepath.Join(dir, "out")
			var o, e bytes.Buffer
			code := run(t.Context(), []string{"musterstone", "publish", "--survey", dir, out}, strings.NewReader(""), &o, &e)
			if (code == exitWrong) != strings.Contains(c.told, "only a column") || !strings.Contains(e.String(), c.told) {
				t.Errorf("status %d, want %q told:\n%s", code, c.told, e.String())
			}
			anything, informant := false, false
			filepath.WalkDir(out, func(path string, d os.DirEntry, err error) error {
				if err == nil && !d.IsDir() {
					text, err := os.ReadFile(path)
					if err != nil {
						t.Fatal(err)
					}
					anything, informant = true, informant || strings.Contains(string(text), "QUORN")
				}
				return nil
			})
			if anything != c.published || informant != c.out {
				t.Errorf("published %v, and the informant %v; want %v and %v", anything, informant, c.published, c.out)
			}
		})
	}
}

// TestLeadsPrivate: what is written of the veterans without a marker to be handed on does not tell what private columns say, in no value, reason, title or plan; the list and the JSON of
// the person's own screen do.
func TestLeadsPrivate(t *testing.T) {
	files := map[string]string{
		"roster.csv": `id,surname,given,rank_in,company,regiment,arm,state,enlisted,born,residence,died,buried
r1,Peltry,Orrin,farrier,M,73,Cav.,Ohio,"Feb. 13, 1863",1829,Tamarack,1899,Old Mill
r2,Quorn,Ansel,private,C,31,Inf.,Wis.,"Mar. 4, 1862",1840,Bellweather,1911,Old Mill lot 9
r3,Sedge,Barnaby,private,B,31,Inf.,Wis.,"Mar. 4, 1862",1841,Lodi,1880,Old Mill
r4,Thrale,Lucian,private,B,31,Inf.,Wis.,"Mar. 4, 1862",1842,Lodi,1881,
r5,Umber,Corwin,private,B,31,Inf.,Wis.,"Mar. 4, 1862",1843,Lodi,1882,Old Mill
`,
		"stones.csv": `id,cemetery,section,row,plot,inscription,material,condition,latitude,longitude,width_in,thickness_in,height_in
M-1,Old Mill,Zs,1,1,ORRIN PELTRY / CO. M 73 OHIO CAV. / DIED 1899,granite,sound,43.51234,-87.04321,31,14,47
M-2,Old Mill,Zs,2,1,BARNABY SEDGE / CO. B / 31 WIS. INF.,white marble,broken off,43.51235,-87.04322,,,
M-3,Old Mill,Zs,2,2,UNKNOWN,white marble,sound,43.51236,-87.04323,,,
M-4,Old Mill,Zs,2,3,CORWIN UMBER / CO. B / 31 WIS. INF.,white marble,sound,43.51237,-87.04324,,,
`,
		"register.csv": `id,cemetery,surname,given,company,regiment,state,died,plot
g1,Old Mill,Vosper,Hiram,M,73,Ohio,1899,Yx7
`,
	}
	lay := func(t *testing.T, columns map[string]string) string {
		dir := t.TempDir()
		var tables []string
		for _, name := range slices.Sorted(maps.Keys(files)) {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(files[name]), 0o666); err != nil {
				t.Fatal(err)
			}
			tables = append(tables, `{"url": "`+name+`", "tableSchema": {"columns": [`+columns[name]+`]}}`)
		}
		metadata := `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Dell", "tables": [` + strings.Join(tables, ", ") + `]}`
		if err := os.WriteFile(filepath.Join(dir, "csv-metadata.json"), []byte(metadata), 0o666); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	forms := []string{"csv", "geojson", "html"}
	open, all := lay(t, nil), ""
	for _, form := range forms {
		text := command(t, "unmarked", "--survey", open, "--as", form)
		if all += text; strings.Contains(text, "marked private") {
			t.Errorf("%s says that something was held back, and nothing is private", form)
		}
	}
	for _, c := range []struct {
		name, says string
		columns    map[string][]string // that are private, by file
		never      []string
		own        string // what the list or the JSON tells all the same
	}{
		{"enlisted", `"ms:private": true`, map[string][]string{"roster.csv": {"enlisted"}}, []string{"4 March 1862"}, ""},
		{"rank", `"ms:private": true`, map[string][]string{"roster.csv": {"rank_in"}}, []string{"arrier"}, ""},
		{"given names", `"ms:private": true`, map[string][]string{"roster.csv": {"given"}}, []string{"Ansel", "Lucian"}, "Ansel"},
		{"surnames", `"ms:private": true`, map[string][]string{"roster.csv": {"surname"}}, []string{"Quorn", "Thrale"}, "Lucian Thrale"},
		{"births", `"ms:private": true`, map[string][]string{"roster.csv": {"born"}}, []string{"1829", "1840"}, ""},
		{"residence", `"ms:private": true`, map[string][]string{"roster.csv": {"residence"}}, []string{"Tamarack", "Bellweather"}, ""},
		{"residence, a synonym", `"suppressOutput": true`, map[string][]string{"roster.csv": {"residence"}}, []string{"Tamarack", "Bellweather"}, ""},
		{"residence, another", `"private": "yes"`, map[string][]string{"roster.csv": {"residence"}}, []string{"Tamarack", "Bellweather"}, ""},
		{"burials", `"ms:private": true`, map[string][]string{"roster.csv": {"buried"}}, []string{"lot 9"}, "lot 9"},
		{"company", `"ms:private": true`, map[string][]string{"roster.csv": {"company"}}, []string{"Company C"}, "Company C"},
		{"words", `"ms:private": true`, map[string][]string{"stones.csv": {"inscription"}}, []string{"ORRIN PELTRY", "DIED 1899"}, ""},
		{"section", `"ms:private": true`, map[string][]string{"stones.csv": {"section"}}, []string{"Zs"}, "Zs"},
		{"condition", `"ms:private": true`, map[string][]string{"stones.csv": {"condition"}}, []string{"broken off", "failing-marker"}, "broken off"},
		{"position", `"ms:private": true`, map[string][]string{"stones.csv": {"latitude", "longitude"}}, []string{"43.5123", "87.0432"}, ""},
		{"material", `"ms:private": true`, map[string][]string{"stones.csv": {"material"}}, []string{"granite"}, ""},
		{"ground", `"ms:private": true`, map[string][]string{"stones.csv": {"cemetery"}, "register.csv": {"cemetery"}, "roster.csv": {"buried"}}, []string{"Old Mill"}, "Old Mill"},
		{"ground, not in the roster", `"ms:private": true`, map[string][]string{"stones.csv": {"cemetery"}, "register.csv": {"cemetery"}}, []string{"Plan of Old Mill", "is a burial ground of this survey"}, "Old Mill"},
		{"the register's names", `"ms:private": true`, map[string][]string{"register.csv": {"surname"}}, []string{"Vosper"}, "Vosper"},
		{"the register's plots", `"ms:private": true`, map[string][]string{"register.csv": {"plot"}}, []string{"Yx7"}, ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			columns := map[string]string{}
			for file, names := range c.columns {
				var list []string
				for _, n := range names {
					list = append(list, `{"titles": "`+n+`", `+c.says+`}`)
				}
				columns[file] = strings.Join(list, ", ")
			}
			dir := lay(t, columns)
			for _, form := range leadForms {
				out := filepath.Join(t.TempDir(), "leads")
				told := run3(t, "unmarked", "--survey", dir, "--as", form, "--out", out)
				b, err := os.ReadFile(out)
				if err != nil {
					t.Fatal(err)
				}
				text := string(b)
				if slices.Contains(forms, form) && run3(t, "unmarked", "--survey", dir, "--as", form) != text {
					t.Errorf("%s: printed it is not what it is in a file", form)
				}
				for _, w := range c.never {
					if !strings.Contains(all, w) {
						t.Errorf("%s is told nowhere, were it not private", w)
					}
					if strings.Contains(told+text, w) {
						t.Errorf("%s tells %s:\n%s", form, w, text)
					}
				}
				if form != "csv" && !strings.Contains(text, "marked private") {
					t.Errorf("%s does not say that anything was held back", form)
				}
			}
			if own := run3(t, "unmarked", "--survey", dir, "--json") + run3(t, "unmarked", "--survey", dir, "--as", "list"); !strings.Contains(own, c.own) {
				t.Errorf("the person's own list does not tell %s:\n%s", c.own, own)
			}
		})
	}
}

// run3 is a command's output, whether all was well or problems were told.
func run3(t *testing.T, args ...string) string {
	t.Helper()
	var o, e bytes.Buffer
	if code := run(t.Context(), append([]string{"musterstone"}, args...), strings.NewReader(""), &o, &e); code != exitDone && code != exitProblems {
		t.Fatalf("%v: status %d\n%s", args, code, e.String())
	}
	return o.String()
}

// TestLeadsPrivateApart: of two findings of one kind on one stone, each keeps its own reasons, and only those are held back of which a private column would be told.
func TestLeadsPrivateApart(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"stones.csv": "id,cemetery,inscription,material,condition,width_in,thickness_in,height_in\n" +
			"M-1,Old Mill,BARNABY SEDGE / CO. B / 31 WIS. INF.,white marble,broken off,12,4,24\nM-2,Old Mill,BARNABY SEDGE / CO. B / 31 WIS. INF.,white marble,,12,4,24\nM-3,Old Mill,BARNABY SEDGE / CO. B / 31 WIS. INF.,white marble,,12,4,24\n",
		"roster.csv":        "id,surname,given,company,regiment,arm,state\nr1,Quorn,Ansel,C,31,Inf.,Wis.\n",
		"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "dc:title": "Dell", "tables": [{"url": "stones.csv", "tableSchema": {"columns": [{"titles": "condition", "ms:private": true}]}}, {"url": "roster.csv"}]}`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	text := command(t, "unmarked", "--survey", dir, "--as", "csv")
	for what, want := range map[string]int{"second-marker,": 3, privateReason: 2, "failing-marker": 0, "stone M-2, which looks like": 1, "stone M-1, which looks like": 0} {
		if got := strings.Count(text, what); got != want {
			t.Errorf("%q is told %d times, want %d:\n%s", what, got, want, text)
		}
	}
}

// TestLeadsPrivateElsewhere: a private cell is told neither by the place of a lead whose burial it alone tells, nor by the reasons of another's, nor by the names of grounds.
func TestLeadsPrivateElsewhere(t *testing.T) {
	files := map[string]string{
		"stones.csv": "id,cemetery,inscription,material,condition,row,plot,width_in,thickness_in,height_in\nM-2,Old Mill,BARNABY SEDGE / CO. B / 31 WIS. INF.,white marble,sound,2,1,12,4,24\nM-3,Old Mill,UNKNOWN,white marble,sound,2,2,12,4,24\n" +
			"M-4,Old Mill,CORWIN UMBER / CO. B / 31 WIS. INF.,white marble,sound,2,3,12,4,24\nM-6,Gooseneck,O. PELTRY / CO. M 73 OHIO CAV. / DIED 1899,granite,sound,1,1,31,14,47\n",
		"roster.csv": "id,surname,given,company,regiment,arm,state,born,died,buried,remarks\nr1,Peltry,Orrin,M,73,Cav.,Ohio,1829,1899,,\nr3,Sedge,Barnaby,B,31,Inf.,Wis.,1841,1880,,\nr4,Thrale,Lucian,B,31,Inf.,Wis.,1842,1881,,\n" +
			"r5,Thrupp,Ezekiel,B,31,Inf.,Wis.,1842,1881,,\nr6,Umber,Corwin,B,31,Inf.,Wis.,1843,1882,,\nr7,Vail,Ansel,C,31,Inf.,Wis.,1843,1883,Old Mill,\nr8,Wray,Hosea,C,31,Inf.,Wis.,1844,1884,,buried in Old Mill\n",
	}
	write := func(t *testing.T, table string, private ...string) string {
		dir := t.TempDir()
		var columns []string
		for _, name := range private {
			columns = append(columns, `{"titles": "`+name+`", "ms:private": true}`)
		}
		var tables []string
		for _, name := range slices.Sorted(maps.Keys(files)) {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(files[name]), 0o666); err != nil {
				t.Fatal(err)
			}
			of := ""
			if name == table {
				of = strings.Join(columns, ", ")
			}
			tables = append(tables, `{"url": "`+name+`", "tableSchema": {"columns": [`+of+`]}}`)
		}
		if err := os.WriteFile(filepath.Join(dir, "csv-metadata.json"), []byte(`{"@context": "http://www.w3.org/ns/csvw", "dc:title": "Dell", "tables": [`+strings.Join(tables, ", ")+`]}`), 0o666); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	leads := func(t *testing.T, dir string) (text string) {
		for _, form := range leadForms {
			out := filepath.Join(t.TempDir(), "leads")
			text += run3(t, "unmarked", "--survey", dir, "--as", form, "--out", out)
			b, err := os.ReadFile(out)
			if err != nil {
				t.Fatal(err)
			}
			text += string(b)
		}
		return text
	}
	open := leads(t, write(t, ""))
	for _, tt := range []struct {
		name, table string
		private     []string
		never       []string
	}{
		{"a burial", "roster.csv", []string{"buried"}, []string{",Old Mill,,,,,,,,no-stone,0.6,likelier than not,,r7,"}},
		{"remarks", "roster.csv", []string{"remarks"}, []string{",Old Mill,,,,,,,,no-stone,0.6,likelier than not,,r8,"}},
		{"others of a row, and the men of stones", "roster.csv", []string{"given"}, []string{"Lucian", "Ezekiel", "Orrin"}},
		{"grounds", "stones.csv", []string{"cemetery"}, []string{"Gooseneck"}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			text := leads(t, write(t, tt.table, tt.private...))
			for _, w := range tt.never {
				if !strings.Contains(open, w) {
					t.Errorf("%q is told nowhere, were it not private", w)
				}
				if i := strings.Index(text, w); i >= 0 {
					t.Errorf("%q is told: %s", w, text[max(0, i-200):i+100])
				}
			}
		})
	}
}

// TestLeadsPrivateOrder: what is made to be handed on stands in the order of the places that are told, under the numbers of the person's own list; where what is still to be shown would tell what is
// private, the report says that it is held back.
func TestLeadsPrivateOrder(t *testing.T) {
	lay := func(stones, roster string) string {
		dir := t.TempDir()
		for name, text := range map[string]string{
			"stones.csv": "id,cemetery,section,row,inscription,material,width_in,thickness_in,height_in\nM-1,Old Mill,B,1,ORRIN PELTRY / CO. D 12 WIS. INF. / DIED 1890,granite,31,14,47\nM-2,Old Mill,A,2,P. OSGOOD / CO. D 12 WIS. INF.,granite,31,14,47\n" +
				"M-3,Old Mill,A,3,ANSEL QUORN / DIED 1885,granite,31,14,47\n",
			"roster.csv": "id,surname,given,company,regiment,arm,state,enlisted,died,buried\nr1,Peltry,Orrin,D,12,Inf.,Wis.,\"Aug. 9, 1862\",1890,Old Mill\nr2,Osgood,Peter,D,12,Inf.,Wis.,\"Aug. 9, 1862\",1899,\nr3,Quorn,Ansel,,,,,\"Aug. 9, 1862\",1885,Old Mill\n",
			"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "dc:title": "Old Mill", "tables": [{"url": "stones.csv", "tableSchema": {"columns": [` + stones + `]}},
 {"url": "roster.csv", "tableSchema": {"columns": [` + roster + `]}}]}`,
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		return dir
	}
	order := func(dir string) (list []string) {
		for _, line := range strings.Split(run3(t, "unmarked", "--survey", dir, "--as", "csv"), "\n")[1:] {
			if cells := strings.SplitN(line, ",", 4); len(cells) == 4 {
				for _, id := range []string{"M-1", "M-2", "M-3"} {
					if strings.Contains(cells[3], ","+id+",") {
						list = append(list, cells[0]+" "+id)
					}
				}
			}
		}
		return list
	}
	if got := order(lay("", "")); !slices.Equal(got, []string{"1 M-2", "2 M-3", "3 M-1"}) {
		t.Errorf("the open survey stands as %q", got)
	}
	if got := order(lay(`{"titles": "section", "ms:private": true}`, "")); !slices.Equal(got, []string{"3 M-1", "1 M-2", "2 M-3"}) {
		t.Errorf("with private sections it stands as %q", got)
	}
	for _, c := range []struct {
		roster string
		says   bool
	}{{"", false}, {`{"titles": "enlisted", "ms:private": true}`, true}} {
		page := run3(t, "unmarked", "--survey", lay("", c.roster), "--as", "html")
		if says := strings.Contains(page, privateToShow); says != c.says {
			t.Errorf("private %q: what is to be shown is said to be held back: %v", c.roster, says)
		}
	}
}
