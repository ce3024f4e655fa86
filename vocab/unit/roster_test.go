package unit

import (
	"encoding/csv"
	"errors"
	"io"
	"io/fs"
	"os"
	"testing"
)

// TestRealRoster reads the unit cells of an open roster of six regiments of Ohio, Massachusetts and Illinois, where it is at hand.
func TestRealRoster(t *testing.T) {
	f, err := os.Open("../../../shared/data/rosters/six_regiments.csv")
	if errors.Is(err, fs.ErrNotExist) {
		t.Skip("no roster at hand")
	}
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	r := csv.NewReader(f)
	header, err := r.Read()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, h := range header {
		column[h] = i
	}
	rows := 0
	for {
		row, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatal(err)
		}
		p := Parts{Company: row[column["company"]], Regiment: row[column["regiment"]], State: row[column["state"]], Branch: row[column["branch"]]}
		u := FromParts(p)
		if u.Number == 0 || u.State == "" || u.Arm != "infantry" || len(p.Company) == 1 && u.Company != p.Company {
			t.Errorf("%+v reads %s", p, show(u))
		}
		rows++
	}
	if rows < 6000 {
		t.Errorf("%d rows, want 6000 or more", rows)
	}
}
