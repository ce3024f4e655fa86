package unit

import (
	"testing"

	"musterstone/model"
)

// TestChanges: a colored regiment knows when it was renamed, and a white one of the same number does not.
func TestChanges(t *testing.T) {
	usct := Changes(model.Unit{Body: model.BodyUSCT, Number: 5, Arm: "infantry"})
	if len(usct) != 1 || usct[0].Before.State != "OH" || usct[0].Before.Number != 127 || usct[0].On.EDTF != "1863" || len(usct[0].Sources) == 0 {
		t.Errorf("5th USCT: %+v", usct)
	}
	if c := Changes(model.Unit{State: "SC", Number: 1, Arm: "infantry"}); c != nil {
		t.Errorf("1st South Carolina Infantry, not colored: %+v", c)
	}
	if c := Changes(model.Unit{State: "SC", Number: 1, Arm: "infantry", Marks: []string{"colored"}}); len(c) != 1 || c[0].After.Number != 33 {
		t.Errorf("1st South Carolina Colored Infantry: %+v", c)
	}
}
