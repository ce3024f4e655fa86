package weigh

import (
	"slices"
	"testing"

	"musterstone/model"
)

// TestUnseen works it by hand: of five records two bear a surname that is theirs alone.
func TestUnseen(t *testing.T) {
	var records []*model.Record
	for _, surname := range []string{"Adler", "Baker", "Baker", "Baker", "Carver"} {
		r := &model.Record{}
		r.Person.Name.Surname = surname
		records = append(records, r)
	}
	if got := Count(slices.Values(records)).Unseen(); got != .4 {
		t.Errorf("got %v, want 0.4", got)
	}
	if got := (&Counts{}).Unseen(); got != 1 {
		t.Errorf("of no records: %v, want 1", got)
	}
}
