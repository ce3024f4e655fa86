package link

import (
	"encoding/csv"
	"os"
	"testing"

	"musterstone/link/assess"
	"musterstone/model"
)

// readTruth reads a table of the columns stone and record.
func readTruth(t testing.TB, path string) assess.Truth {
	t.Helper()
	f, err := os.Open(path)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	truth := assess.Truth{}
	for _, r := range rows[1:] {
		truth[model.StoneID(r[0])] = append(truth[model.StoneID(r[0])], model.RecordID(r[1]))
	}
	return truth
}
