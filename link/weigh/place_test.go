package weigh

import "testing"

// TestGrounds: a burial ground's name is told by its words, whatever stands between and about them.
func TestGrounds(t *testing.T) {
	for _, tt := range []struct {
		stone, record string
		holds         bool
	}{
		{"St. Mary's Cemetery", "St Marys", true},
		{"St Marys", "buried at St. Mary’s churchyard", true},
		{"Old Mill Cemetery", "Mill Creek", true},
		{"St. Mary's Cemetery", "St. Matthew's", false},
		{"Oak Hill", "Oakhill", false},
	} {
		if got := contains(tt.record, groundWords(tt.stone)); got != tt.holds {
			t.Errorf("%q has the words of %q: %v, want %v", tt.record, tt.stone, got, tt.holds)
		}
	}
}
