package landing_test

import (
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
	if n := len(surveytest.Rows(t, dir, "stones.csv")) + len(surveytest.Rows(t, dir, "register.csv")); n != 1000 {
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
	surveytest.Shares(t, dir, []surveytest.Share{
		{"middle names", "roster-roll.csv", "name", `, \S+ [A-Z]`, .51, .05, false},
		{"initials for a given name", "roster-roll.csv", "name", `, [A-Z]\.`, .04, .02, false},
		{"abbreviated", "roster-roll.csv", "name", `, [A-Z][a-z]+\.`, .045, .03, false},
		{"died", "roster-roll.csv", "remarks", `^(Died|Killed)`, .14, .025, false},
		{"discharged before the end", "roster-roll.csv", "remarks", `^Discharged`, .2, .03, false},
		{"corporals", "roster-roll.csv", "rank_out", `^Corporal$`, .07, .01, false},
		{"sergeants", "roster-roll.csv", "rank_out", `^Sergeant$`, .05, .01, false},
		{"men of eighteen", "roster-roll.csv", "age", `^18$`, .09, .04, false}, // of all, half of whose ages are there
		{"government's shields", "stones.csv", "device", `shield$`, .16, .03, false},
		{"letters lost", "stones.csv", "inscription", `\[`, .11, .03, false},
		{"wives by their husbands", "stones.csv", "inscription", `(?i)/ wife of /`, .055, .02, false},
	})
	surveytest.Messy(t, dir, messy, 1.4, "roster-roll.csv", "roster-enrollment.csv", "roster-index.csv", "roster-later.csv")
	surveytest.Mates(t, dir, "roster-roll.csv", .25)
}

// TestCoverage: the rosters have most of the soldiers who have a stone that names a unit, and not all.
func TestCoverage(t *testing.T) {
	dir := t.TempDir()
	if err := landing.Make(dir, landing.Options{Seed: 4, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	known := map[string]bool{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		known[row["stone"]] = true
	}
	stones, listed := 0, 0
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
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
