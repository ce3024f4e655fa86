package ferry_test

import (
	"strings"
	"testing"

	"musterstone/testdata/ferry"
	"musterstone/testdata/surveytest"
)

var files = []string{
	"csv-metadata.json", "register-sexton.csv", "register-soldiers-lot.csv", "roster-confederate-cards.csv", "roster-descriptive-lists.csv", "roster-militia.csv", "roster-other-wars.csv",
	"roster-pensions.csv", "roster-printed-rolls.csv", "roster-soldiers-home.csv", "roster-volunteers.csv", "stones.csv", "truth.csv",
}

// TestMake holds the maker to what it promises, clean and messy.
func TestMake(t *testing.T) {
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, surveytest.Promise{Records: 3000, Stones: 600, Known: .42, Files: files}, func(dir string, seed uint64) error {
			return ferry.Make(dir, ferry.Options{Seed: seed, Records: 3000, Stones: 600, Messy: messy})
		})
	}
}

// TestFewMen: of more graves than the rosters have men for, the rest are of others.
func TestFewMen(t *testing.T) {
	dir := t.TempDir()
	if err := ferry.Make(dir, ferry.Options{Seed: 1, Records: 100, Stones: 1000}); err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, name := range []string{"stones.csv", "register-sexton.csv", "register-soldiers-lot.csv"} {
		n += len(surveytest.Rows(t, dir, name))
	}
	if n != 1000 {
		t.Errorf("%d stones and rows of the registers, want 1000", n)
	}
}

// TestShares counts again what the package's comment says, and what makes a survey of this kind.
func TestShares(t *testing.T) {
	dir, messy := t.TempDir(), t.TempDir()
	for of, wet := range map[string]bool{dir: false, messy: true} {
		if err := ferry.Make(of, ferry.Options{Seed: 3, Records: 20000, Stones: 4000, Messy: wet}); err != nil {
			t.Fatal(err)
		}
	}
	surveytest.Shares(t, dir, []surveytest.Share{
		{Of: "middle names", Table: "roster-printed-rolls.csv", Column: "Name", Pattern: `, \S+ [A-Z]`, Want: .42, Give: .06},
		{Of: "initials for a given name on cards", Table: "roster-confederate-cards.csv", Column: "NAME", Pattern: `, [A-Z]\.`, Want: .2, Give: .03},
		{Of: "died in service", Table: "roster-printed-rolls.csv", Column: "Remarks", Pattern: `(?i)\b(died|killed)\b`, Want: .12, Give: .03},
		{Of: "corporals", Table: "roster-printed-rolls.csv", Column: "Rank", Pattern: `^Corp`, Want: .075, Give: .02},
		{Of: "sergeants", Table: "roster-printed-rolls.csv", Column: "Rank", Pattern: `^S(ergt|gt)\.$`, Want: .06, Give: .02},
		{Of: "former owners told of", Table: "roster-descriptive-lists.csv", Column: "Former owner", Pattern: `.`, Want: .37, Give: .06},
		{Of: "two units in a pension", Table: "roster-pensions.csv", Column: "Service", Pattern: ` and |; `, Want: .1, Give: .05},
		{Of: "by a captain's or a colonel's name", Table: "roster-confederate-cards.csv", Column: "ORGANIZATION", Pattern: `'s`, Want: .15, Give: .07},
		{Of: "shields", Table: "stones.csv", Column: "device", Pattern: `shield$`, Want: .2, Give: .06},
		{Of: "pointed stones", Table: "stones.csv", Column: "top", Pattern: `^pointed$`, Want: .028, Give: .02},
		{Of: "letters lost and marked", Table: "stones.csv", Column: "inscription", Pattern: `\[|\?|_|\.\.\.`, Want: .16, Give: .05},
		{Of: "wives by their husbands", Table: "stones.csv", Column: "inscription", Pattern: `(?i)wife of|consort`, Want: .14, Give: .04},
		{Of: "a unit in the sexton's book", Table: "register-sexton.csv", Column: "Service", Pattern: `.`, Want: .08, Give: .05},
	})
	surveytest.Messy(t, dir, messy, 1.4, "roster-confederate-cards.csv", "roster-militia.csv", "roster-other-wars.csv", "roster-pensions.csv", "roster-volunteers.csv")
}

// TestCoverage: the rosters have most of the soldiers under a stone of the government's, and not all.
func TestCoverage(t *testing.T) {
	dir := t.TempDir()
	if err := ferry.Make(dir, ferry.Options{Seed: 4, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	listed := map[string]bool{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		listed[row["stone"]] = true
	}
	all, known := 0, 0
	for _, row := range surveytest.Rows(t, dir, "stones.csv") {
		if row["setting"] == "upright" && (row["device"] == "recessed shield" && !strings.Contains(row["inscription"], "UNKNOWN") || row["top"] == "pointed") {
			if all++; listed[row["id"]] {
				known++
			}
		}
	}
	if share := float64(known) / float64(all); share < .82 || share > .93 {
		t.Errorf("%.3f of %d men under government stones are in the rosters, want .82 to .93", share, all)
	}
}
