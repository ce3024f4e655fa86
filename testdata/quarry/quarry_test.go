package quarry_test

import (
	"strings"
	"testing"

	"musterstone/testdata/quarry"
	"musterstone/testdata/surveytest"
)

func TestMake(t *testing.T) {
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .47, Files: []string{"csv-metadata.json", "register-graves.csv", "roster-1898.csv", "roster-adjutant-general-1866.csv", "roster-gar-posts.csv", "roster-honor-roll.csv",
		"roster-other-states.csv", "roster-pensioners-1883.csv", "roster-regular-army.csv", "roster-world-war.csv", "stones.csv", "truth.csv"}}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return quarry.Make(dir, quarry.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}

// TestShares counts what the package says of its stones and rosters.
func TestShares(t *testing.T) {
	dir := t.TempDir()
	if err := quarry.Make(dir, quarry.Options{Seed: 8, Records: 20000, Stones: 2000}); err != nil {
		t.Fatal(err)
	}
	surveytest.Shares(t, dir, []surveytest.Share{
		{Of: "stones with a recessed shield", Table: "stones.csv", Column: "device", Pattern: "shield", Want: .155, Give: .03},
		{Of: "general and flat stones", Table: "stones.csv", Column: "top", Pattern: "slightly", Want: .08, Give: .02},
		{Of: "flush stones", Table: "stones.csv", Column: "setting", Pattern: "flush", Want: .045, Give: .015},
		{Of: "bronze among them", Table: "stones.csv", Column: "material", Pattern: "bronze", Want: .018, Give: .012},
		{Of: "wives", Table: "stones.csv", Column: "inscription", Pattern: `(?i)\bwife\b`, Want: .13, Give: .04},
		{Of: "stones that name a company", Table: "stones.csv", Column: "inscription", Pattern: `(?i)\b(co|company|troop|btry|batty)\b`, Want: .27, Give: .05},
		{Of: "stones of the World War", Table: "stones.csv", Column: "inscription", Pattern: `(?i)world war\b|a\. e\. f|\b(128|341) inf|field arty|navy`, Want: .1, Give: .03},
		{Of: "stones of 1898", Table: "stones.csv", Column: "inscription", Pattern: `(?i)sp\.? am\.? war|spanish|philippine`, Want: .05, Give: .02},
		{Of: "stones with lost letters", Table: "stones.csv", Column: "inscription", Pattern: `\[`, Want: .12, Give: .03},
		{Of: "graves in the register of which the war is told", Table: "register-graves.csv", Column: "conflict", Pattern: ".", Want: .88, Give: .08},
		{Of: "men of the World War with two outfits", Table: "roster-world-war.csv", Column: "Organizations", Pattern: ";", Want: .27, Give: .04},
		{Of: "serial numbers beside names", Table: "roster-world-war.csv", Column: "Name and Serial", Pattern: `\d`, Want: .44, Give: .04},
		{Of: "men who fell or died in service", Table: "roster-adjutant-general-1866.csv", Column: "Remarks", Pattern: "Killed|Died", Want: .125, Give: .02},
		{Of: "ages", Table: "roster-other-states.csv", Column: "age", Pattern: `\d`, Want: .82, Give: .03},
		{Of: "widows and mothers among pensioners", Table: "roster-pensioners-1883.csv", Column: "Cause for which pensioned", Pattern: "widow|mother", Want: .3, Give: .06},
		{Of: "comrades of whose death the posts knew", Table: "roster-gar-posts.csv", Column: "Date of death", Pattern: `\d`, Want: .55, Give: .06},
	})
	rows := surveytest.Rows(t, dir, "roster-adjutant-general-1866.csv")
	kin := map[string]int{} // men of a surname in a company
	for _, row := range rows {
		surname, _, _ := strings.Cut(row["Name"], ",")
		kin[row["Regiment"]+row["Co."]+surname]++
	}
	mates := 0
	for _, n := range kin {
		if n > 1 {
			mates += n
		}
	}
	if share := float64(mates) / float64(len(rows)); share < .12 || share > .26 {
		t.Errorf("%.3f of the adjutant general's men have a man of their surname in their company, want about .19", share)
	}
	// One man, one stone, but for rows of the register and a second stone.
	stones := map[string]int{}
	for _, row := range surveytest.Rows(t, dir, "truth.csv") {
		stones[row["record"]]++
	}
	twice := 0
	for _, n := range stones {
		if n > 1 {
			twice++
		}
	}
	if share := float64(twice) / float64(len(stones)); share < .01 || share > .06 {
		t.Errorf("%.3f of the records are of two stones, want about .03", share)
	}
}

// TestMessy: a messy survey has the same rosters, the same men under its stones, and more lost letters.
func TestMessy(t *testing.T) {
	clean, messy := t.TempDir(), t.TempDir()
	for dir, of := range map[string]bool{clean: false, messy: true} {
		if err := quarry.Make(dir, quarry.Options{Seed: 8, Records: 3000, Stones: 1000, Messy: of}); err != nil {
			t.Fatal(err)
		}
	}
	surveytest.Messy(t, clean, messy, 2, "roster-1898.csv", "roster-adjutant-general-1866.csv", "roster-gar-posts.csv", "roster-honor-roll.csv", "roster-other-states.csv", "roster-pensioners-1883.csv", "roster-regular-army.csv",
		"roster-world-war.csv", "register-graves.csv", "truth.csv")
}
