package main

import (
	"os"
	"path/filepath"
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
