package surveytest

import (
	"encoding/csv"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// Rows reads a table of a survey, each row by its columns.
func Rows(t testing.TB, dir, name string) (all []map[string]string) {
	t.Helper()
	f, err := os.Open(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	for _, row := range rows[1:] {
		cells := map[string]string{}
		for i, title := range rows[0] {
			cells[title] = row[i]
		}
		all = append(all, cells)
	}
	return all
}

// Share is what share of a table's rows a pattern is true of, in one column. It has no name of its own, so that a test can list shares line by line.
type Share = struct {
	Of, Table, Column, Pattern string
	Want, Give                 float64
	Given                      bool // of the rows that give the column
}

// Shares counts shares of a survey, and holds them to what is wanted, give or take.
func Shares(t testing.TB, dir string, list []Share) {
	t.Helper()
	for _, s := range list {
		if got := share(t, dir, s); math.Abs(got-s.Want) > s.Give {
			t.Errorf("%s: %.3f, want %.3f, give or take %.3f", s.Of, got, s.Want, s.Give)
		}
	}
}

func share(t testing.TB, dir string, s Share) float64 {
	t.Helper()
	like, n, of := regexp.MustCompile(s.Pattern), 0, 0
	for _, row := range Rows(t, dir, s.Table) {
		if s.Given && row[s.Column] == "" {
			continue
		}
		if of++; like.MatchString(row[s.Column]) {
			n++
		}
	}
	return float64(n) / float64(of)
}

// Messy holds a messy survey to a clean one of the same seed: letters are lost on so many times as many stones, and the rosters are the same.
func Messy(t testing.TB, clean, messy string, times float64, rosters ...string) {
	t.Helper()
	lost := Share{Table: "stones.csv", Column: "inscription", Pattern: `\[`}
	if few, many := share(t, clean, lost), share(t, messy, lost); many < times*few {
		t.Errorf("letters lost on %.3f of a messy survey's stones, %.3f of a clean one's", many, few)
	}
	for _, name := range rosters {
		if !slices.EqualFunc(Rows(t, clean, name), Rows(t, messy, name), maps.Equal) {
			t.Errorf("%s is another in a messy survey", name)
		}
	}
}

// Mates counts the men of a roster with a man of their surname in their company: kin enlist together. It holds their share to within a twentieth.
func Mates(t testing.TB, dir, roster string, want float64) {
	t.Helper()
	of := map[[2]string]int{} // men by company and surname
	men, mates := 0, 0
	for _, row := range Rows(t, dir, roster) {
		surname, _, _ := strings.Cut(row["name"], ",")
		of[[2]string{row["arm"] + row["regiment"] + row["company"], surname}]++
		men++
	}
	for _, n := range of {
		if n > 1 {
			mates += n
		}
	}
	if got := float64(mates) / float64(men); math.Abs(got-want) > .05 {
		t.Errorf("%.3f of the men have a man of their surname in their company, want about %.2f", got, want)
	}
}
