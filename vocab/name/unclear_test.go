package name

import (
	"strings"
	"testing"
)

// An unclear letter is marked by a dot below it: Leiden conventions. What it may be is the table worn-glyphs.
func TestFits(t *testing.T) {
	for _, c := range []struct {
		written, folded string
		want            bool
	}{
		{"C\u0323AGE", "gage", true}, {"C\u0323AGE", "cage", true}, {"C\u0323AGE", "page", false}, {"CAGE", "gage", false},
		{"ṂUNN", "nunn", true}, {"ṂUNN", "munn", true}, {"ṂUNN", "dunn", false}, {"MUṆN", "numn", false},
		{"W[..]LIẠM", "william", true}, {"W[..]LỊAM", "wiltlam", false}, {"[---]ṢON", "johnson", true}, {"Ụ[---]", "vance", true},
		{"W[..]LIAM", "william", true}, {"W[..]LIAM", "wiliam", false}, {"", "", true}, {"Ṃ", "", false},
	} {
		if got := Fits(c.written, c.folded); got != c.want {
			t.Errorf("Fits(%q, %q) = %v, want %v", c.written, c.folded, got, c.want)
		}
	}
}

// TestFitsPairs: of every pair of the table each letter, where it is unclear, may be the other, and where it is clear may not.
func TestFitsPairs(t *testing.T) {
	for _, pair := range []string{"CG", "OQ", "OD", "EF", "IL", "IT", "LT", "MN", "UV"} {
		for _, p := range []string{pair, pair[1:] + pair[:1]} {
			other := "a" + strings.ToLower(p[1:]) + "er"
			if !Fits("A"+p[:1]+"\u0323ER", other) {
				t.Errorf("an unclear %s is no %s", p[:1], p[1:])
			}
			if Fits("A"+p[:1]+"ER", other) {
				t.Errorf("a clear %s is a %s", p[:1], p[1:])
			}
		}
	}
}

func FuzzFits(f *testing.F) {
	f.Add("W[..]LỊAM", "william")
	f.Fuzz(func(t *testing.T, written, folded string) {
		folded = Fold(folded)
		if Match(Fold(written), folded) && !Fits(written, folded) {
			t.Errorf("%q matches %q and does not fit", written, folded)
		}
	})
}
