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

// TestCells: cells of rolls in ways in which they are written.
func TestCells(t *testing.T) {
	for _, tt := range []struct {
		parts Parts
		want  string
	}{
		{Parts{Unit: "U.S.M.C., Co. A"}, "Company A"},
		{Parts{Unit: "U.S. Marine Corps, 1st Bn."}, "1st Battalion"},
		{Parts{Regiment: "U.S.M.C."}, ""},
		{Parts{Regiment: "U.S. Marine Corps", Company: "B"}, "Company B"},
		{Parts{State: "US", Regiment: "12"}, "12th US"},
		{Parts{Unit: "Hospital Steward, U.S.A."}, "US"},
		{Parts{Unit: "Co. A, U.S.A."}, "Company A, US"},
		{Parts{Unit: "31 Wis. F"}, "Company F, 31st Wisconsin"},
		{Parts{Unit: "31 Wis. I"}, "Company I, 31st Wisconsin"},
		{Parts{Unit: "54th Co., C.A.C."}, "Company 54, Coast Artillery"},
		{Parts{Unit: "54th Colo. Cav."}, "54th Colorado Cavalry"},
		{Parts{Unit: "F&S 31 Wis."}, "31st Wisconsin"},
		{Parts{Unit: "F 31 Wis."}, "Company F, 31st Wisconsin"},
		{Parts{Unit: "Co. M 317 Inf. to disch."}, "Company M, 317th Infantry"},
		{Parts{Unit: "Co. A 1st Mo. Engrs. and Mech."}, "Company A, 1st Missouri Engineers and Mechanics"},
		{Parts{Company: "I", Regiment: "12", Arm: "V. R. C.", State: "U. S."}, "Company I, 12th Veteran Reserve Corps"},
		{Parts{Unit: "8th & 9th Tenn. Cav."}, "9th Tennessee Cavalry"},
		{Parts{Unit: "21st Tenn. Cav. (Barteau's)"}, "21st Tennessee Cavalry"},
	} {
		if got := Format(FromParts(tt.parts)); got != tt.want {
			t.Errorf("%+v: %q, want %q", tt.parts, got, tt.want)
		}
	}
}

func TestOfBranch(t *testing.T) {
	for _, tt := range []struct{ cell, branch, rest string }{
		{"U S Navy to Disch", "navy", ""},
		{"U.S. Marine Corps to discharge.", "marine-corps", ""},
		{"U. S. Navy, 1st Bn.", "navy", " 1st Bn."},
		{"Co. M 317 Inf. to disch.", "", "Co. M 317 Inf. to disch."},
		{"U. S. Army to disch.", "", "U. S. Army to disch."}, // which may be more than that: it is read as a unit
	} {
		if branch, rest := OfBranch(tt.cell); string(branch) != tt.branch || rest != tt.rest {
			t.Errorf("%q: %q, %q, want %q, %q", tt.cell, branch, rest, tt.branch, tt.rest)
		}
	}
}
