package junction_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"testing"

	"musterstone/testdata/junction"
	"musterstone/testdata/surveytest"
)

func TestMake(t *testing.T) {
	// The rows of a veteran and of a civilian: a second stone, a row of the register.
	const veteran, civilian = .07 + .93*1.14, .07 + .93*1.05
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .36 * veteran / (.48*veteran + .52*civilian),
		Files: []string{"register.csv", "roster-adjutant.csv", "roster-cards.csv", "roster-histories.csv", "roster-later.csv", "stones.csv", "truth.csv"}}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return junction.Make(dir, junction.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}

// TestFewMen: of more graves than the rosters have men for, the rest are of others.
func TestFewMen(t *testing.T) {
	if err := junction.Make(t.TempDir(), junction.Options{Seed: 1, Records: 100, Stones: 1000}); err != nil {
		t.Error(err)
	}
}

// TestShares counts again what the package's comment says of rosters and stones.
func TestShares(t *testing.T) {
	dir := t.TempDir()
	if err := junction.Make(dir, junction.Options{Seed: 3, Records: 20000, Stones: 4000}); err != nil {
		t.Fatal(err)
	}
	tables := map[string][][]string{}
	for _, name := range []string{"roster-adjutant.csv", "roster-histories.csv", "stones.csv"} {
		f, err := os.Open(filepath.Join(dir, name))
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if tables[name], err = csv.NewReader(f).ReadAll(); err != nil {
			t.Fatal(err)
		}
	}
	for _, tt := range []struct {
		of, table, column, pattern string
		want, give                 float64
	}{
		{"middle names", "roster-adjutant.csv", "given", `^\S+ [A-Z]`, .51, .1},
		{"initials for a given name", "roster-adjutant.csv", "given", `^[A-Z]\.`, .03, .01},
		{"abbreviated", "roster-adjutant.csv", "given", `^[A-Z][a-z]+\.`, .03, .01},
		{"men of eighteen", "roster-adjutant.csv", "age", `^18$`, .13, .02}, // .145 of the nine tenths whose age is there
		{"died", "roster-adjutant.csv", "remarks", `^(Died|Killed)`, .15, .02},
		{"transferred", "roster-adjutant.csv", "remarks", `^Transferred`, .04, .02}, // half of those who served again
		{"discharged before the end", "roster-adjutant.csv", "remarks", `^Discharged`, .24, .02},
		{"government's shields", "stones.csv", "device", `^recessed shield$`, .17, .03},
		{"letters lost", "stones.csv", "inscription", `\[`, .1, .03},
	} {
		rows := tables[tt.table]
		at, n := slices.Index(rows[0], tt.column), 0
		for _, row := range rows[1:] {
			if regexp.MustCompile(tt.pattern).MatchString(row[at]) {
				n++
			}
		}
		if got := float64(n) / float64(len(rows)-1); math.Abs(got-tt.want) > tt.give {
			t.Errorf("%s: %.3f, want %.2f, give or take %.2f", tt.of, got, tt.want, tt.give)
		}
	}
}
