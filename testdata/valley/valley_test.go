package valley_test

import (
	"testing"

	"musterstone/testdata/surveytest"
	"musterstone/testdata/valley"
)

func TestMake(t *testing.T) {
	// Half of what is drawn is a man of the rosters, and he may have more than one stone or row: (1 + 1/30 + 1/8) / (2 + 1/30 + 1/8) of all.
	const more = 1./30 + 1./8
	for _, wars := range []bool{false, true} {
		p := surveytest.Promise{Records: 2000, Stones: 600, Known: (1 + more) / (2 + more), Files: []string{"register.csv", "roster-state.csv", "stones.csv", "truth.csv"}}
		if wars {
			p.Files = []string{"register.csv", "roster-other-wars.csv", "roster-state.csv", "stones.csv", "truth.csv"}
		}
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return valley.Make(dir, valley.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: wars, Wars: wars})
		})
	}
}
