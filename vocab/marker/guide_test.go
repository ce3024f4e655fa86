package marker_test

import (
	"strings"
	"testing"

	. "musterstone/vocab/marker"
)

func TestGuide(t *testing.T) {
	g := Guide()
	last := -1
	for _, w := range []string{"1. First the top", "2. Then the device", "3. Then the width", "4. Then the wording", "5. Emblems", "6. Signs", "Where sources disagree", "Please", "Sources"} {
		i := strings.Index(g, w)
		if i <= last {
			t.Errorf("%q is out of order, or missing", w)
		}
		last = i
	}
	for _, p := range Patterns() {
		if p.Government() && !strings.Contains(g, string(p.Code)) {
			t.Errorf("the guide does not tell of %s", p.Code)
		}
	}
	for i, l := range strings.Split(g, "\n") {
		if len([]rune(l)) > 96 || l != strings.TrimRight(l, " ") {
			t.Errorf("line %d: %q", i+1, l)
		}
	}
	for _, w := range []string{"Do not dig", "agency to decide", "[confederate-1906, confederate-1930, reissue-confederate]"} {
		if !strings.Contains(strings.Join(strings.Fields(g), " "), w) {
			t.Errorf("the guide lacks %q", w)
		}
	}
}
