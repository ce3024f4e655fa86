package vocab

import (
	"fmt"
	"strings"
	"testing"
)

// TestWeights: a struct that is not as the table is refused, with what is wrong.
func TestWeights(t *testing.T) {
	var few struct{ Part float32 }
	if got := panics(func() { Weights("unit-weights", &few) }); !strings.HasPrefix(got, "table unit-weights has ") || !strings.HasSuffix(got, ", want 1") {
		t.Errorf("too few fields: %q", got)
	}
	if got, want := parted("SecondRank"), "second-rank"; got != want {
		t.Errorf("%q, want %q", got, want)
	}
}

func panics(f func()) (text string) {
	defer func() { text = fmt.Sprint(recover()) }()
	f()
	return ""
}
