package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestDossierRecorder: who recorded a stone is in no file of a dossier, whatever the column is called, unless the metadata say that he agreed.
func TestDossierRecorder(t *testing.T) {
	for _, agreed := range []bool{false, true} {
		dir := t.TempDir()
		more := ""
		if agreed {
			more = `"ms:nameRecorders": true, `
		}
		for name, text := range map[string]string{
			"stones.csv":        "id,cemetery,inscription,written down by\nM-1,Old Mill,ORRIN PELTRY / CO. D 12 WIS. INF. / DIED 1890,Ulla Zimt \n",
			"roster.csv":        "id,surname,given,company,regiment,arm,state,died\nr1,Peltry,Orrin,D,12,Inf.,Wis.,1890\n",
			"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", ` + more + `"ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv", "tableSchema": {"columns": [{"titles": "written down by", "propertyUrl": "ms:recorder"}]}}, {"url": "roster.csv"}]}`,
		} {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		out := filepath.Join(dir, "out")
		command(t, "dossier", "--survey", dir, "--stone", "M-1", out)
		for _, name := range []string{"dossier.csv", "dossier.html", "dataset.nt"} {
			text, err := os.ReadFile(filepath.Join(out, name))
			if err != nil {
				t.Fatal(err)
			}
			if told := strings.Contains(string(text), "Ulla"); told != agreed {
				t.Errorf("agreed %v: %s names the recorder: %v", agreed, name, told)
			}
		}
	}
}

// TestDossierNone: a stone of which somebody said that none of the records is its man's is in no dossier of another's, though all its candidates are refused by that; one of which the very record was
// refused is, with the decision.
func TestDossierNone(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"stones.csv":        "id,cemetery,inscription\nM-1,Old Mill,ORRIN PELTRY / CO. D 12 WIS. INF.\nM-2,Old Mill,W. DRAKELY / CO. D 12 WIS. INF.\nM-3,Old Mill,ORRIN PELTREE / CO. D 12 WIS. INF.\n",
		"roster.csv":        "id,surname,given,company,regiment,arm,state,died\nr1,Peltry,Orrin,D,12,Inf.,Wis.,1890\nr2,Drakely,William,D,12,Inf.,Wis.,1874\nr3,Osgood,Peter,D,12,Inf.,Wis.,1899\n",
		"csv-metadata.json": `{"@context": "http://www.w3.org/ns/csvw", "ms:base": "https://data.example.org/", "dc:title": "Old Mill", "tables": [{"url": "stones.csv"}, {"url": "roster.csv"}]}`,
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	command(t, "decide", "--survey", dir, "--stone", "M-2", "--as", "none", "--by", "Ina")
	command(t, "decide", "--survey", dir, "--stone", "M-3", "--record", "r1", "--as", "refused", "--by", "Ina")
	out := filepath.Join(dir, "out")
	command(t, "dossier", "--survey", dir, "--record", "r1", out)
	text, err := os.ReadFile(filepath.Join(out, "dossier.csv"))
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]bool{"stone,M-1,": true, "stone,M-2,": false, "stone,M-3,": true} {
		if got := strings.Contains(string(text), id); got != want {
			t.Errorf("%s is in the dossier: %v, want %v", id, got, want)
		}
	}
}
