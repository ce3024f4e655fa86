package intake_test

import (
	"testing"

	"musterstone/model"
)

// TestBranchInUnit: a branch of service that stands in the column of the unit is the branch, and nothing to complain of.
func TestBranchInUnit(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "roster-a.csv", []byte("id,surname,given,unit\n1,Abel,John,U. S. Navy\n2,Bell,John,U.S.M.C.\n3,Cole,John,U. S. Marine Corps\n4,Dunn,John,USN\n5,Eck,John,\"Co. F, 31st Wis. Inf.\"\n"))
	_, records, complaints := read(t, dir)
	want := []model.Branch{"navy", "marine-corps", "marine-corps", "navy", ""}
	if len(records) != len(want) || len(complaints) > 0 {
		t.Fatalf("%d records, complaints %q; want %d and none", len(records), complaints, len(want))
	}
	for i, r := range records {
		if r.Service.Branch != want[i] {
			t.Errorf("%q: branch %q, want %q", r.Service.Unit.Written, r.Service.Branch, want[i])
		}
	}
}
