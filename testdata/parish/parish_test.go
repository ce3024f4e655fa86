package parish_test

import (
	"testing"

	"musterstone/testdata/parish"
	"musterstone/testdata/surveytest"
)

func TestMake(t *testing.T) {
	p := surveytest.Promise{Records: 2000, Stones: 600, Known: .45, Files: []string{"register.csv", "roster-adjutant.csv", "roster-history.csv", "stones.csv", "truth.csv"}}
	for _, messy := range []bool{false, true} {
		surveytest.Check(t, p, func(dir string, seed uint64) error {
			return parish.Make(dir, parish.Options{Seed: seed, Records: p.Records, Stones: p.Stones, Messy: messy})
		})
	}
}
