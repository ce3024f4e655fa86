package name

import (
	"slices"
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

// TestMisreadFor: a short word that is no given name is those that look like it, and a name is none but itself.
func TestMisreadFor(t *testing.T) {
	for _, c := range []struct{ word, want string }{
		{"dle", "Ole"}, {"theq", "Theodore Theophilus"}, {"sanl", "Samuel"}, {"gfo", "George"},
		{"ole", ""}, {"theo", ""}, {"jno", ""}, {"will", ""}, // names, and short for some
		{"olai", ""}, {"xq", ""}, {"d?e", ""}, {"willirm", ""}, {"johm", ""}, // like none, too short, damaged, long enough to be like its own
	} {
		got := MisreadFor(c.word)
		slices.Sort(got)
		want := strings.Fields(c.want)
		slices.Sort(want)
		if !slices.Equal(got, want) {
			t.Errorf("%s: %q, want %q", c.word, got, want)
		}
	}
}
