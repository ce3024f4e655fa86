package haven_test

import (
	"maps"
	"math"
	"regexp"
	"slices"
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
	if n := len(read(t, dir, "stones.csv")) + len(read(t, dir, "register.csv")); n != 1000 {
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
	share := func(dir, table, column, pattern string) float64 {
		rows, n, of := read(t, dir, table), 0, 0
		like := regexp.MustCompile(pattern)
		for _, row := range rows {
			if column == "age" && row[column] == "" {
				continue // of the ages that are given
			}
			if of++; like.MatchString(row[column]) {
				n++
			}
		}
		return float64(n) / float64(of)
	}
	for _, tt := range []struct {
		of, table, column, pattern string
		want, give                 float64
	}{
		{"middle names", "roster-state.csv", "name", `, \S+ [A-Z]`, .48, .04},
		{"died", "roster-state.csv", "remarks", `^(Died|Killed)`, .163, .02},
		{"discharged before the end", "roster-state.csv", "remarks", `^(Discharged|Transferred)`, .21, .03},
		{"corporals", "roster-state.csv", "rank_out", `^Corporal$`, .11, .015},
		{"sergeants", "roster-state.csv", "rank_out", `^Sergeant$`, .08, .015},
		{"men of eighteen", "roster-state.csv", "age", `^18$`, .14, .02},
		{"company not in the index", "roster-index.csv", "company", `^$`, .06, .02},
		{"regiment not in the index", "roster-index.csv", "regiment", `^$`, .026, .01},
		{"of the South", "roster-index.csv", "side", `^C`, .075, .03},
		{"of 1812 and Mexico", "roster-wars.csv", "conflict", `1812|Mex`, .055, .03},
		{"government's shields", "stones.csv", "device", `shield$`, .33, .04},
		{"letters lost", "stones.csv", "inscription", `\[`, .145, .03},
		{"wives by their husbands", "stones.csv", "inscription", `(?i)(wife|widow|consort) of`, .04, .015},
	} {
		if got := share(dir, tt.table, tt.column, tt.pattern); math.Abs(got-tt.want) > tt.give {
			t.Errorf("%s: %.3f, want %.3f, give or take %.3f", tt.of, got, tt.want, tt.give)
		}
	}
	if clean, worn := share(dir, "stones.csv", "inscription", `\[`), share(messy, "stones.csv", "inscription", `\[`); worn < 1.5*clean {
		t.Errorf("letters lost on %.3f of a messy survey's stones, %.3f of a clean one's", worn, clean)
	}
	for _, name := range rosters {
		if !slices.EqualFunc(read(t, dir, name), read(t, messy, name), maps.Equal) {
			t.Errorf("%s is another in a messy survey", name)
		}
	}
	// Kin enlist together.
	of := map[string]map[string]int{}
	men, mates := 0, 0
	for _, row := range read(t, dir, "roster-state.csv") {
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
	if got := float64(mates) / float64(men); math.Abs(got-.2) > .05 {
		t.Errorf("%.3f of the men have a man of their surname in their company, want about .2", got)
	}
}

// TestTruth: the rosters have most of the men under the government's shields and not all; who has a stone may stand in several books; and no wife's stone has a record.
func TestTruth(t *testing.T) {
	dir := t.TempDir()
	if err := haven.Make(dir, haven.Options{Seed: 4, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	records := map[string][]string{}
	for _, row := range read(t, dir, "truth.csv") {
		records[row["stone"]] = append(records[row["stone"]], row["record"])
	}
	stones, listed, two := 0, 0, 0
	for _, row := range read(t, dir, "stones.csv") {
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
