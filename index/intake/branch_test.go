package intake_test

import (
	"reflect"
	"testing"

	"musterstone/model"
)

// TestBranchInUnit: a branch of service that stands in the column of the unit is the branch, and nothing to complain of; its letters are no company, and no unit.
func TestBranchInUnit(t *testing.T) {
	dir := t.TempDir()
	write(t, dir, "roster-a.csv", []byte("id,surname,given,unit\n1,Abel,John,U. S. Navy\n2,Bell,John,U.S.M.C.\n3,Cole,John,U. S. Marine Corps\n4,Dunn,John,USN\n5,Eck,John,\"Co. F, 31st Wis. Inf.\"\n"+
		"6,Fay,John,U. S. M. C.\n7,Gow,John,U.S.A.\n8,Hay,John,\"1st Bn., U.S.M.C.\"\n9,Ide,John,\"Co. M, USMC\"\n10,Jay,John,C.S.N.\n11,Kay,John,U.S.C.T.\n12,Lee,John,\"Co. F, 31st Inf., U.S.A.\"\n"))
	_, records, complaints := read(t, dir)
	want := []struct {
		branch model.Branch
		unit   model.Unit // but for what was written
		side   model.Side
	}{
		{branch: "navy"}, {branch: "marine-corps"}, {branch: "marine-corps"}, {branch: "navy"}, {unit: model.Unit{Company: "F", Number: 31, State: "WI", Arm: "infantry"}},
		{branch: "marine-corps"}, {branch: "army", unit: model.Unit{Body: model.BodyRegulars}}, {branch: "marine-corps", unit: model.Unit{Number: 1, Kind: "battalion"}},
		{branch: "marine-corps", unit: model.Unit{Company: "M"}}, {branch: "navy", side: model.Confederate}, {branch: "army", unit: model.Unit{Body: "usct"}, side: model.Union},
		{unit: model.Unit{Company: "F", Number: 31, Arm: "infantry", Body: model.BodyRegulars}},
	}
	if len(records) != len(want) || len(complaints) > 0 {
		t.Fatalf("%d records, complaints %q; want %d and none", len(records), complaints, len(want))
	}
	for i, r := range records {
		written := r.Service.Unit.Written
		r.Service.Unit.Written, r.Service.Unit.Marks = "", nil
		if s := r.Service; s.Branch != want[i].branch || s.Side != want[i].side || !reflect.DeepEqual(s.Unit, want[i].unit) {
			t.Errorf("%q: %q, %q, %+v; want %+v", written, s.Branch, s.Side, s.Unit, want[i])
		}
	}
}
