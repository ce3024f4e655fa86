package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"
)

// hostile is what may stand in a cell or in the name of a file: an escape sequence that clears the screen, one that names the window, a carriage return, a bell,
// a mark that turns the writing round, a line separator, and a line that looks like one of the program's own.
const hostile = "x\x1b[2Jx\x1b]0;x\x07x\rx\u202ex\u2028x\u009bx\nFORGED"

// TestTerminal runs the commands on a survey in which everything is hostile: what they print for people holds no byte that a terminal obeys, and no line
// of another's making.
func TestTerminal(t *testing.T) {
	t.Chdir(t.TempDir())
	table := func(dir, name string, rows ...[]string) {
		t.Helper()
		var b bytes.Buffer
		w := csv.NewWriter(&b)
		if err := w.WriteAll(rows); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, name), b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	for _, dir := range []string{"alder", "elm"} {
		table(dir, "stones "+hostile+".csv",
			[]string{"id", "cemetery", "county", "state", "section", "inscription", "top", "material", "width_in", "emblem", "condition", "recorder", "recorded", "notes", hostile},
			[]string{"M-1" + hostile, "Alder" + hostile, hostile, "Wis" + hostile, hostile, "JOHN " + hostile + " SMITH\nCO. F\n31 WIS. INF.\nDIED 1870", hostile, "granite", hostile, hostile, hostile, hostile, hostile, hostile, hostile},
			[]string{"M-2", "Alder" + hostile, "", "", "", "JOHN SMITH / CO. F / 31 WIS. INF. / DIED 1870", "", "granite", "", "", "", "", "", "", ""})
		table(dir, "roster "+hostile+".csv",
			[]string{"id", "surname", "given", "company", "regiment", "state", "arm", "rank_in", "died", "buried", "remarks", "Last\x1b[2JName"},
			[]string{"r1" + hostile, "Smith", "John" + hostile, "F", "31", "Wis.", hostile, hostile, hostile, "Alder" + hostile, hostile, hostile},
			[]string{"r2", "Smith", "John", "F", "31", "Wis.", "Infantry", "Private", "1870", "", "", ""})
		table(dir, "odd"+hostile+".csv", []string{hostile, hostile}, []string{"1", "2"})
		table(dir, hostile+".xlsx")
	}
	table(".", "truth.csv", []string{"stone", "record"}, []string{"M-1" + hostile, "r1" + hostile}, []string{"M-9" + hostile, "r9"})
	table(".", "sheet.csv", []string{"as", "stone", "record", "because"}, []string{hostile, hostile, hostile, hostile})
	for _, args := range [][]string{
		{"check", "--survey", "alder"},
		{"read", "--survey", "alder"},
		{"propose", "--survey", "alder"},
		{"propose", "--survey", "alder", "--stone", hostile},
		{"find", "--survey", "alder", "smith"},
		{"find", "--survey", "alder", hostile},
		{"unmarked", "--survey", "alder"},
		{"unmarked", "--survey", "alder", "--as", "list"},
		{"decide", "--survey", "alder", "--stone", "M-1" + hostile, "--record", "r1" + hostile, "--as", "confirmed", "--by", "Ann"},
		{"decide", "--survey", "alder", "--stone", hostile, "--as", "unsure", "--by", "Ann"},
		{"decide", "--survey", "alder", "--from", "sheet.csv", "--by", "Ann"},
		{"decide", "--survey", "alder", "--from", hostile, "--by", "Ann"},
		{"propose", "--survey", "alder"},
		{"dossier", "--survey", "alder", "--stone", "M-1" + hostile, "out" + hostile},
		{"changes", "--survey", "alder", "elm"},
		{"merge", "alder" + hostile, "elm"},
		{"assess", "--survey", "alder", "truth.csv"},
		{"publish", "--survey", "alder", "--dry-run", "out"},
		{"publish", "--survey", "alder", "pub" + hostile},
		{"begin", "alder"},
		{"begin", hostile},
		{"check", "--survey", "alder"},
		{"demo", "alder"},
		{"check", "--survey", hostile},
		{hostile},
		{"check", "--" + hostile},
	} {
		var out, errs bytes.Buffer
		run(context.Background(), append([]string{"musterstone"}, args...), strings.NewReader(""), &out, &errs)
		for name, text := range map[string]string{"standard output": out.String(), "standard error": errs.String()} {
			for i, line := range strings.Split(text, "\n") {
				if at := strings.IndexFunc(line, func(r rune) bool {
					return unicode.IsControl(r) || unicode.In(r, unicode.Bidi_Control, unicode.Zl, unicode.Zp)
				}); at >= 0 {
					t.Errorf("%.60q: %s, line %d holds %q", args, name, i+1, line[max(0, at-30):min(len(line), at+10)])
				}
				if strings.HasPrefix(strings.TrimSpace(line), "FORGED") {
					t.Errorf("%.60q: %s, line %d is of another's making: %.80q", args, name, i+1, line)
				}
			}
		}
	}
}

// TestFormulas: no cell of the tables that are printed begins like a formula, whatever the survey holds.
func TestFormulas(t *testing.T) {
	t.Chdir(t.TempDir())
	if err := os.Mkdir("alder", 0o755); err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"stones.csv": "id,cemetery,inscription,material,latitude,longitude\n=1,@Alder,+JOHN SMITH / CO. F / 31 WIS. INF. / DIED 1870,granite,43.1,-90.2\n-2,=A,-HIRAM COLE- / CO. F / 31 WIS. INF.,granite,43.1,-90.3\n",
		"roster.csv": "id,surname,given,company,regiment,state,buried\n=HYPERLINK(1),Smith,John,F,31,Wis.,@Alder\n+2,Cole,Hiram,F,31,Wis.,\n",
	} {
		if err := os.WriteFile(filepath.Join("alder", name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	command(t, "dossier", "--survey", "alder", "--stone", "=1", "one")
	dossier, err := os.ReadFile("one/dossier.csv")
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{
		"propose --csv":     command(t, "propose", "--survey", "alder", "--csv"),
		"unmarked --as csv": command(t, "unmarked", "--survey", "alder", "--as", "csv"),
		"dossier.csv":       string(dossier),
	} {
		rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		quoted := 0
		for _, r := range rows {
			for _, c := range r {
				if strings.HasPrefix(c, "'") {
					quoted++
				} else if formula(c) {
					t.Errorf("%s: a spreadsheet would run %q", name, c)
				}
			}
		}
		if quoted == 0 {
			t.Errorf("%s: nothing hostile came through to be made harmless", name)
		}
	}
}
