package prairie_test

import (
	"regexp"
	"testing"

	"musterstone/testdata/prairie"
	"musterstone/testdata/surveytest"
)

var rosters = []string{"roster-enrolled.csv", "roster-illinois.csv", "roster-index.csv", "roster-iowa.csv", "roster-regulars.csv", "roster-wars.csv"}

func TestMake(t *testing.T) {
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .41, Files: append(append([]string{}, rosters...), "stones.csv", "truth.csv")}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return prairie.Make(dir, prairie.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}

// TestFewMen: of more graves than the rosters have men for, the rest are of others.
func TestFewMen(t *testing.T) {
	dir := t.TempDir()
	if err := prairie.Make(dir, prairie.Options{Seed: 1, Records: 100, Stones: 1000}); err != nil {
		t.Fatal(err)
	}
	if n := len(surveytest.Rows(t, dir, "stones.csv")); n != 1000 {
		t.Errorf("%d stones, want 1000", n)
	}
}

// TestShares counts again what the package's comment says, and that no wife's or child's stone has a record.
func TestShares(t *testing.T) {
	dir, messy := t.TempDir(), t.TempDir()
	for of, wet := range map[string]bool{dir: false, messy: true} {
		if err := prairie.Make(of, prairie.Options{Seed: 3, Records: 20000, Stones: 4000, Messy: wet}); err != nil {
			t.Fatal(err)
		}
	}
	surveytest.Shares(t, dir, []surveytest.Share{
		{"men of eighteen", "roster-iowa.csv", "age", `^18$`, .135, .03, true},
		{"died", "roster-iowa.csv", "remarks", `^(Died|Killed)`, .155, .03, false},
		{"corporals", "roster-iowa.csv", "rank_out", `^Corporal$`, .11, .03, false},
		{"sergeants", "roster-iowa.csv", "rank_out", `^Sergeant$`, .08, .025, false},
		{"of the South", "roster-index.csv", "side", `^C`, .055, .02, false},
		{"letters lost", "stones.csv", "inscription", `\[`, .26, .04, false},
		{"wives by their husbands", "stones.csv", "inscription", `(?i)wife of`, .09, .03, false},
	})
	surveytest.Messy(t, dir, messy, 1.5, rosters...)
	surveytest.Mates(t, dir, "roster-iowa.csv", .24)
	known := map[string]bool{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		known[row["stone"]] = true
	}
	kin, shields, listed := regexp.MustCompile(`(?i)\b(wife|son) of\b`), 0, 0
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		if kin.MatchString(row["inscription"]) && known[row["id"]] {
			t.Errorf("%s, of a wife or a child, has a record", row["id"])
		}
		if row["device"] == "recessed shield" {
			if shields++; known[row["id"]] {
				listed++
			}
		}
	}
	if got := float64(listed) / float64(shields); got < .8 || got > .93 {
		t.Errorf("%.3f of the men under shields are in the rosters, want .8 to .93", got)
	}
}
