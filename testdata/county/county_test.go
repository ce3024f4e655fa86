package county_test

import (
	"testing"

	"musterstone/testdata/county"
	"musterstone/testdata/surveytest"
)

func TestMake(t *testing.T) {
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .6, Files: []string{"roster-made.csv", "stones.csv", "truth.csv"}}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return county.Make(dir, county.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}
