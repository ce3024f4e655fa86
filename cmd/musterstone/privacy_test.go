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
