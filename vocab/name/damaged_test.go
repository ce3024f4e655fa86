package name

import (
	"strings"
	"testing"
)

// TestDamagedAbbreviation: a damaged given name may be the abbreviation of another, with its point lost among its letters.
func TestDamagedAbbreviation(t *testing.T) {
	for _, c := range []struct{ written, given, or string }{
		{"W[..] SMITH", "W[..]", "William"},
		{"W[.]. SMITH", "W[.]", "William"},
		{"CH[...] FOX", "Ch[...]", "Charles Christopher Christian"},
		{"JN[---] HULL", "Jn[---]", "Jonathan John"},
		{"GE[.]. LANG", "Ge[.]", "George"},
		{"ROB[...] FOX", "Rob[...]", ""}, // ROBERT fits
		{"W[---] FOX", "W[---]", ""},     // anything
		{"[---]S FOX", "[---]s", ""},
		{"W[.] FOX", "W", ""}, // the point is lost
		{"[.] FOX", "[.]", ""},
	} {
		n := Parse(c.written)
		if or := strings.Join(n.GivenOr, " "); n.Given != c.given || or != c.or || n.Surname == "" {
			t.Errorf("%s: %q or %q %q, want %q or %q", c.written, n.Given, or, n.Surname, c.given, c.or)
		}
	}
	for _, s := range []string{"J. W[.] FOX", "J[.]W. FOX"} {
		if n := Parse(s); n.Given != "J" || n.Middle != "W" || n.Surname != "Fox" {
			t.Errorf("%s: %q %q %q", s, n.Given, n.Middle, n.Surname)
		}
	}
	if n := Parse("J[.]M FOX"); n.Given != "J[.]m" { // JIM
		t.Errorf("J[.]M FOX: %q %q", n.Given, n.Middle)
	}
}
