package haven_test

import (
	"regexp"
	"strings"
	"testing"

	"musterstone/testdata/haven"
	"musterstone/testdata/surveytest"
)

func TestMake(t *testing.T) {
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .47,
		Files: []string{"register.csv", "roster-home.csv", "roster-index.csv", "roster-navy.csv", "roster-state.csv", "roster-wars.csv", "stones.csv", "truth.csv"}}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return haven.Make(dir, haven.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}

// TestFewMen: of more graves than the rosters have men for, the rest are of others.
func TestFewMen(t *testing.T) {
	dir := t.TempDir()
	if err := haven.Make(dir, haven.Options{Seed: 1, Records: 100, Stones: 1000}); err != nil {
		t.Fatal(err)
	}
	if n := len(surveytest.Rows(t, dir, "stones.csv")) + len(surveytest.Rows(t, dir, "register.csv")); n != 1000 {
		t.Errorf("%d stones and rows of the register, want 1000", n)
	}
}

var rosters = []string{"roster-home.csv", "roster-index.csv", "roster-navy.csv", "roster-state.csv", "roster-wars.csv"}

// TestShares counts again what the package's comment says.
func TestShares(t *testing.T) {
	dir, messy := t.TempDir(), t.TempDir()
	if err := haven.Make(dir, haven.Options{Seed: 3, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	if err := haven.Make(messy, haven.Options{Seed: 3, Records: 20000, Stones: 4000, Messy: true}); err != nil {
		t.Fatal(err)
	}
	surveytest.Shares(t, dir, []surveytest.Share{
		{"middle names", "roster-state.csv", "name", `, \S+ [A-Z]`, .48, .04, false},
		{"died", "roster-state.csv", "remarks", `^(Died|Killed)`, .163, .02, false},
		{"discharged before the end", "roster-state.csv", "remarks", `^(Discharged|Transferred)`, .21, .03, false},
		{"corporals", "roster-state.csv", "rank_out", `^Corporal$`, .11, .015, false},
		{"sergeants", "roster-state.csv", "rank_out", `^Sergeant$`, .08, .015, false},
		{"men of eighteen", "roster-state.csv", "age", `^18$`, .14, .02, true},
		{"company not in the index", "roster-index.csv", "company", `^$`, .06, .02, false},
		{"regiment not in the index", "roster-index.csv", "regiment", `^$`, .026, .01, false},
		{"of the South", "roster-index.csv", "side", `^C`, .075, .03, false},
		{"of 1812 and Mexico", "roster-wars.csv", "conflict", `1812|Mex`, .055, .03, false},
		{"government's shields", "stones.csv", "device", `shield$`, .33, .04, false},
		{"letters lost", "stones.csv", "inscription", `\[`, .145, .03, false},
		{"wives by their husbands", "stones.csv", "inscription", `(?i)(wife|widow|consort) of`, .04, .015, false},
	})
	surveytest.Messy(t, dir, messy, 1.5, rosters...)
	surveytest.Mates(t, dir, "roster-state.csv", .2)
}

// TestTruth: the rosters have most of the men under the government's shields and not all; who has a stone may stand in several books; and no wife's stone has a record.
func TestTruth(t *testing.T) {
	dir := t.TempDir()
	if err := haven.Make(dir, haven.Options{Seed: 4, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	records := map[string][]string{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		records[row["stone"]] = append(records[row["stone"]], row["record"])
	}
	stones, listed, two := 0, 0, 0
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		if strings.HasSuffix(row["device"], "shield") {
			stones++
			if of := records[row["id"]]; of != nil {
				listed++
				if len(of) > 1 {
					two++
				}
			}
		}
		if regexp.MustCompile(`(?i)(wife|widow|consort|son|dau\.?|daughter) of`).MatchString(row["inscription"]) && records[row["id"]] != nil {
			t.Errorf("%s, of a wife or a child, has the record %q", row["id"], records[row["id"]])
		}
	}
	if got := float64(listed) / float64(stones); got < .85 || got > .92 {
		t.Errorf("%.3f of the men under shields are in the rosters, want .85 to .92", got)
	}
	if got := float64(two) / float64(listed); got < .6 || got > .9 {
		t.Errorf("%.3f of them stand in two books or more, want .6 to .9", got)
	}
}
