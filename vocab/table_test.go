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

// TestTables reads every embedded table and finds what a table may not have.
func TestTables(t *testing.T) {
	known := map[string]bool{}
	for _, r := range Rows("sources") {
		known[r.Get("key")] = true
	}
	for _, name := range tableNames(t) {
		seen := map[string]bool{}
		for _, r := range Rows(name) {
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
