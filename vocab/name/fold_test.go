package name

import (
	"strings"
	"testing"
)

// The signs are those of the Leiden conventions as EpiDoc lists them (1931-32; Krummrey and Panciera 1980), and what recorders write in their stead
// (common practice).
func TestFold(t *testing.T) {
	tests := []struct{ in, want string }{
		{"Smith", "smith"}, {"SMITH", "smith"}, {"smith", "smith"}, {"O'Hare", "ohare"}, {"O’Hare", "ohare"}, {"Van Buren", "vanburen"}, {"Smith-Jones", "smithjones"},
		{"St. Clair", "stclair"}, {"Müller", "muller"}, {"MÜLLER", "muller"}, {"Weiß", "weiss"}, {"Ångström", "angstrom"}, {"Muñoz", "munoz"}, {"Dvořák", "dvorak"},
		{"Mu\u0308ller", "muller"}, {"Æsop", "aesop"}, {"J. W.", "jw"}, {"", ""}, {" . ", ""},
		{"W[..]LIAM", "w??liam"}, {"W[. .]LIAM", "w??liam"}, {"SM[...]", "sm???"}, {"[---]SON", "*son"}, {"[- - -]SON", "*son"}, {"[…]SON", "*son"}, {"[ ]SON", "*son"},
		{"SM[I]TH", "smith"}, {"SM[I?]TH", "smith"}, {"J(OH)N", "john"}, {"SMIT<H>", "smith"}, {"SMIT{T}H", "smith"}, {"[[SMITH]]", "smith"}, {"S\u0323MITH", "smith"},
		{"SṂITH", "smith"}, {"SM..H", "sm??h"}, {"SM++H", "sm??h"}, {"SMI?H", "smi?h"}, {"SMI_H", "smi?h"}, {"SM*", "sm*"}, {"SM**", "sm*"}, {"[3]TH", "???th"},
		{"[c. 5]TH", "*th"}, {"[5-7]TH", "*th"}, {"SM[illegible]", "sm*"}, {"[worn]", "*"}, {"SM[?]TH", "sm?th"}, {"SMITH (?)", "smith"}, {"SMYTHE (sic)", "smythe"},
		{"SMYTHE[sic]", "smythe"}, {"SMI[", "smi*"}, {"]TH", "*th"}, {"SMI---", "smi*"}, {"Иванов", "??????"}, {"w??liam", "w??liam"}, {"*son", "*son"},
		{"R1LEY", "r?ley"}, {"Fox 2d", "foxd"},
	}
	for _, tt := range tests {
		if got := Fold(tt.in); got != tt.want {
			t.Errorf("Fold(%q) = %q, want %q", tt.in, got, tt.want)
		}
	}
}

func TestUncertain(t *testing.T) {
	for in, want := range map[string]bool{
		"Smith": false, "J. W. Smith": false, "O'Hare": false, "Smith-Jones": false, "J(oh)n": false, "W[..]liam": true, "SM[I]TH": true, "SMI?H": true, "SM..H": true,
		"S\u0323MITH": true, "SṂITH": true, "SM*": true, "SMI---": true, "…SON": true, "": false,
	} {
		if got := Uncertain(in); got != want {
			t.Errorf("Uncertain(%q) = %v", in, got)
		}
	}
}

func FuzzFold(f *testing.F) {
	for _, s := range []string{"W[..]LIAM", "[---]SON", "O’Hare", "Müller", "SM{[", "[[a]]", "[a?]", "...", "(sic", "\xff\xfe", "a[5-7]b", "ẠḄ", "-----", "[]]["} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		got := Fold(s)
		if strings.Trim(got, "abcdefghijklmnopqrstuvwxyz?*") != "" || strings.Contains(got, "**") {
			t.Errorf("Fold(%q) = %q", s, got)
		}
		if again := Fold(got); again != got {
			t.Errorf("Fold(%q) = %q, and again %q", s, got, again)
		}
		if plainWord(s) && got != strings.ToLower(s) {
			t.Errorf("Fold(%q) = %q", s, got)
		}
		if Fold(strings.ToUpper(s)) != Fold(strings.ToLower(s)) && plainWord(s) {
			t.Errorf("the case of %q changes its fold", s)
		}
	})
}

func plainWord(s string) bool {
	for _, r := range s {
		if (r < 'a' || r > 'z') && (r < 'A' || r > 'Z') {
			return false
		}
	}
	return true
}
