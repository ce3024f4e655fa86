package vocab

import (
	"io/fs"
	"strings"
	"testing"
	"unicode/utf8"
)

// cells are all cells of the row.
func (r Row) cells() []string {
	all := make([]string, len(r.table.columns))
	for i := range all {
		all[i] = r.table.cell(int(r.row), i)
	}
	return all
}

// tableNames lists the embedded tables.
func tableNames(t *testing.T) (names []string) {
	entries, err := fs.ReadDir(data, "data")
	if err != nil {
		t.Fatal(err)
	}
	for _, e := range entries {
		names = append(names, strings.TrimSuffix(e.Name(), ".csv"))
	}
	return names
}

// oncePer are the columns whose values together stand only once in a table.
var oncePer = map[string][]string{
	"arms": {"code"}, "bodies": {"code"}, "branches": {"code"}, "brevet-forms": {"form"}, "conflict-forms": {"form"}, "conflicts": {"code"}, "definitions": {"kind", "code"}, "epitaph-words": {"word"},
	"given-abbreviations": {"form", "name"}, "given-roots": {"form", "root"}, "given-sexes": {"given"}, "given-shares": {"given", "sex"}, "labels": {"kind", "code"}, "name-stops": {"word"},
	"name-words": {"role", "word"}, "patterns": {"code"}, "place-words": {"word"}, "rank-forms": {"form", "rank"}, "reading-kinds": {"kind"}, "reading-weights": {"weight"}, "recorder-notes": {"words"},
	"relations": {"relation"}, "sources": {"key"}, "states": {"code"}, "stone-words": {"form", "kind"}, "surname-shares": {"surname"}, "unit-forms": {"form", "role", "body", "state", "arm", "mark", "kind", "name"},
	"unit-implies": {"what", "code"}, "unit-marks": {"code"}, "unit-weights": {"weight"}, "unit-words": {"word", "role"}, "units-named": {"form"}, "worn-glyphs": {"glyphs"},
}

// TestTables reads every embedded table and finds what a table may not have.
func TestTables(t *testing.T) {
	known := map[string]bool{}
	for _, r := range Rows("sources") {
		known[r.Get("key")] = true
	}
	for _, name := range tableNames(t) {
		seen, facts := map[string]bool{}, map[string]bool{}
		for _, r := range Rows(name) {
			if columns := oncePer[name]; columns != nil {
				fact := ""
				for _, c := range columns {
					fact += r.Get(c) + "\x00"
				}
				if facts[fact] {
					t.Errorf("%s: what it tells of %q is told before", r.Where(), strings.TrimRight(fact, "\x00"))
				}
				facts[fact] = true
			}
			all := strings.Join(r.cells(), "\x00")
			if seen[all] {
				t.Errorf("%s: the same row twice", r.Where())
			}
			seen[all] = true
			for _, c := range r.cells() {
				if c != strings.TrimSpace(c) {
					t.Errorf("%s: blanks round %q", r.Where(), c)
				}
				if !utf8.ValidString(c) {
					t.Errorf("%s: %q is not UTF-8", r.Where(), c)
				}
			}
			if name == "sources" {
				continue
			}
			keys := strings.Fields(r.Get("source"))
			if len(keys) == 0 {
				t.Errorf("%s: no source", r.Where())
			}
			for _, k := range keys {
				if !known[k] {
					t.Errorf("%s: unknown source %q", r.Where(), k)
				}
			}
		}
	}
}
