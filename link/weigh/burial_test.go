package weigh

import (
	"testing"

	"musterstone/model"
)

// TestBurialText: what a record says of a burial is shown as it was written, and found by the words of the table.
func TestBurialText(t *testing.T) {
	for _, tt := range []struct{ buried, remarks, want string }{
		{"Old Mill Cem., Alder Co.", "buried elsewhere", "Old Mill Cem., Alder Co."},
		{"", "Died at Nashville; Buried in Nat. Cem., Nashville; pension", "Buried in Nat. Cem., Nashville"},
		{"", "d. 1864, INTERRED at Marietta", "INTERRED at Marietta"},
		{"", "d. 1864. Bur. Prairie Rest", "Bur. Prairie Rest"},
		{"", "Int. Prairie Rest; body moved", "Int. Prairie Rest"},
		{"", "was reinterred at Marietta", "reinterred at Marietta"},
		{"", "Burned out at Atlanta; internal injury; buriedly", ""},
		{"", "", ""},
	} {
		r := &model.Record{}
		r.Person.Buried, r.Service.Remarks = tt.buried, tt.remarks
		if got := burialText(r); got != tt.want {
			t.Errorf("%q and %q: %q, want %q", tt.buried, tt.remarks, got, tt.want)
		}
	}
}
