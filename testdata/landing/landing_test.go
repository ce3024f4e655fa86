package landing_test

import (
	"maps"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"musterstone/testdata/landing"
	"musterstone/testdata/surveytest"
)

func TestMake(t *testing.T) {
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .42,
		Files: []string{"register.csv", "roster-enrollment.csv", "roster-index.csv", "roster-later.csv", "roster-roll.csv", "stones.csv", "truth.csv"}}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return landing.Make(dir, landing.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}

// TestFewMen: of more graves than the rosters have men for, the rest are of others.
func TestFewMen(t *testing.T) {
	dir := t.TempDir()
	if err := landing.Make(dir, landing.Options{Seed: 1, Records: 100, Stones: 1000}); err != nil {
		t.Fatal(err)
	}
	if n := len(read(t, dir, "stones.csv")) + len(read(t, dir, "register.csv")); n != 1000 {
		t.Errorf("%d stones and rows of the register, want 1000", n)
	}
}

// TestShares counts again what the package's comment says of rosters and stones.
func TestShares(t *testing.T) {
	dir, messy := t.TempDir(), t.TempDir()
	if err := landing.Make(dir, landing.Options{Seed: 3, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	if err := landing.Make(messy, landing.Options{Seed: 3, Records: 20000, Stones: 4000, Messy: true}); err != nil {
		t.Fatal(err)
	}
	share := func(dir, table, column, pattern string) float64 {
		rows, n := read(t, dir, table), 0
		like := regexp.MustCompile(pattern)
		for _, row := range rows {
			if like.MatchString(row[column]) {
				n++
			}
		}
		return float64(n) / float64(len(rows))
	}
	for _, tt := range []struct {
		of, table, column, pattern string
		want, give                 float64
	}{
		{"middle names", "roster-roll.csv", "name", `, \S+ [A-Z]`, .51, .05},
		{"initials for a given name", "roster-roll.csv", "name", `, [A-Z]\.`, .04, .02},
		{"abbreviated", "roster-roll.csv", "name", `, [A-Z][a-z]+\.`, .045, .03},
		{"died", "roster-roll.csv", "remarks", `^(Died|Killed)`, .14, .025},
		{"discharged before the end", "roster-roll.csv", "remarks", `^Discharged`, .2, .03},
		{"corporals", "roster-roll.csv", "rank_out", `^Corporal$`, .07, .01},
		{"sergeants", "roster-roll.csv", "rank_out", `^Sergeant$`, .05, .01},
		{"men of eighteen", "roster-roll.csv", "age", `^18$`, .09, .04}, // of all, half of whose ages are there
		{"government's shields", "stones.csv", "device", `shield$`, .16, .03},
		{"letters lost", "stones.csv", "inscription", `\[`, .11, .03},
		{"wives by their husbands", "stones.csv", "inscription", `(?i)/ wife of /`, .055, .02},
	} {
		if got := share(dir, tt.table, tt.column, tt.pattern); math.Abs(got-tt.want) > tt.give {
			t.Errorf("%s: %.3f, want %.3f, give or take %.3f", tt.of, got, tt.want, tt.give)
		}
	}
	if clean, worn := share(dir, "stones.csv", "inscription", `\[`), share(messy, "stones.csv", "inscription", `\[`); worn < 1.4*clean {
		t.Errorf("letters lost on %.3f of a messy survey's stones, %.3f of a clean one's", worn, clean)
	}
	for _, name := range []string{"roster-roll.csv", "roster-enrollment.csv", "roster-index.csv", "roster-later.csv"} {
		if !slices.EqualFunc(read(t, dir, name), read(t, messy, name), maps.Equal) {
			t.Errorf("%s is another in a messy survey", name)
		}
	}
	// Kin enlist together.
	of := map[string]map[string]int{}
	men, mates := 0, 0
	for _, row := range read(t, dir, "roster-roll.csv") {
		surname, _, _ := strings.Cut(row["name"], ",")
		company := row["arm"] + row["regiment"] + row["company"]
		if of[company] == nil {
			of[company] = map[string]int{}
		}
		of[company][surname]++
		men++
	}
	for _, company := range of {
		for _, n := range company {
			if n > 1 {
				mates += n
			}
		}
	}
	if got := float64(mates) / float64(men); math.Abs(got-.25) > .05 {
		t.Errorf("%.3f of the men have a man of their surname in their company, want about .25", got)
	}
}

// TestCoverage: the rosters have most of the soldiers who have a stone that names a unit, and not all.
func TestCoverage(t *testing.T) {
	dir := t.TempDir()
	if err := landing.Make(dir, landing.Options{Seed: 4, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, row := range read(t, dir, "truth.csv") {
		known[row["stone"]] = true
	}
	stones, listed := 0, 0
	for _, row := range read(t, dir, "stones.csv") {
		if strings.HasSuffix(row["device"], "shield") {
			stones++
			if known[row["id"]] {
				listed++
			}
		}
	}
	if got := float64(listed) / float64(stones); got < .85 || got > .94 {
		t.Errorf("%.3f of the men under shields are in the rosters, want .85 to .94", got)
	}
}
