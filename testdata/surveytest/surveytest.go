// Package surveytest holds the makers of surveys to what they promise: the same seed makes the same bytes and another seed others, every id stands once, the
// truth is of stones and records that are there, and as many stones as asked for have their man on a roster. It knows nothing of how they are made.
package surveytest

import (
	"encoding/csv"
	"maps"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// Promise is what a maker promises of a survey.
type Promise struct {
	Records int      // rows of all rosters, at least; men come whole, with all their rows
	Stones  int      // stones and rows of registers together
	Known   float64  // the share of them whose man is on a roster
	Files   []string // the names of all files, sorted; those of rosters begin with "roster"
}

// Check makes surveys by a seed and holds them to the promise.
func Check(t testing.TB, p Promise, maker func(dir string, seed uint64) error) {
	t.Helper()
	made := func(seed uint64) map[string]string {
		dir := t.TempDir()
		if err := maker(dir, seed); err != nil {
			t.Fatal(err)
		}
		files := map[string]string{}
		entries, err := os.ReadDir(dir)
		if err != nil {
			t.Fatal(err)
		}
		for _, e := range entries {
			b, err := os.ReadFile(filepath.Join(dir, e.Name()))
			if err != nil {
				t.Fatal(err)
			}
			files[e.Name()] = string(b)
		}
		return files
	}
	one, again, other := made(7), made(7), made(8)
	if names := slices.Sorted(maps.Keys(one)); !slices.Equal(names, p.Files) {
		t.Errorf("files %q, want %q", names, p.Files)
	}
	for name, text := range one {
		if again[name] != text {
			t.Errorf("%s: the same seed does not make the same bytes", name)
		}
		if other[name] == text {
			t.Errorf("%s: another seed makes the same bytes", name)
		}
	}
	stones, records := map[string]bool{}, map[string]bool{}
	for name, text := range one {
		if name == "truth.csv" || filepath.Ext(name) != ".csv" {
			continue
		}
		ids := stones
		if strings.HasPrefix(name, "roster") {
			ids = records
		}
		for _, id := range column(t, name, text, "id") {
			if id == "" || ids[id] {
				t.Errorf("%s: id %q is empty or comes twice", name, id)
			}
			ids[id] = true
		}
	}
	if len(stones) != p.Stones {
		t.Errorf("%d stones and rows of registers, want %d", len(stones), p.Stones)
	}
	if n := len(records); n < p.Records || n > p.Records+4 {
		t.Errorf("%d records, want %d, or a few more", n, p.Records)
	}
	known, pairs := map[string]bool{}, map[[2]string]bool{}
	of := column(t, "truth.csv", one["truth.csv"], "record")
	for i, stone := range column(t, "truth.csv", one["truth.csv"], "stone") {
		if !stones[stone] || !records[of[i]] {
			t.Errorf("truth pairs %s with %s, which are not both there", stone, of[i])
		}
		if pair := [2]string{stone, of[i]}; pairs[pair] {
			t.Errorf("truth pairs %q twice", pair)
		} else {
			pairs[pair] = true
		}
		known[stone] = true
	}
	share, spread := float64(len(known))/float64(p.Stones), math.Sqrt(p.Known*(1-p.Known)/float64(p.Stones))
	if math.Abs(share-p.Known) > 5*spread {
		t.Errorf("%.3f of the stones have their man on a roster, want about %.3f (give or take %.3f)", share, p.Known, spread)
	}
}

// column is a column of a table, whose rows all have as many cells as its header.
func column(t testing.TB, name, text, title string) []string {
	t.Helper()
	rows, err := csv.NewReader(strings.NewReader(text)).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	at := slices.Index(rows[0], title)
	if at < 0 {
		t.Fatalf("%s has no column %s", name, title)
	}
	var cells []string
	for _, row := range rows[1:] {
		cells = append(cells, row[at])
	}
	return cells
}
