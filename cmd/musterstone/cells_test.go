package main

import (
	"strings"
	"testing"
)

// Which characters begin a formula: OWASP, "CSV Injection" (owasp.org/www-community/attacks/CSV_Injection): equals, plus, minus, at, tab, carriage return, line
// feed, and full-width forms of the first four.
func TestNeutral(t *testing.T) {
	for _, tt := range []struct{ cell, want string }{
		{"=1+1", "'=1+1"}, {"+49", "'+49"}, {"-5", "-5"}, {"-87.01", "-87.01"}, {"-5-1", "'-5-1"}, {"-x", "'-x"}, {"-", "'-"}, {"-.5", "'-.5"}, {"[---]MANN", "[---]MANN"}, {"--", "'--"}, {"@SUM(A1)", "'@SUM(A1)"}, {"\tx", "'\tx"}, {"\rx", "'\rx"}, {"\nx", "'\nx"}, {"＝1", "'＝1"}, {"＠a", "'＠a"},
		{"", ""}, {"O'Hara", "O'Hara"}, {"'Tis", "'Tis"}, {"a=b", "a=b"}, {" =1", " =1"}, {"'=1", "''=1"}, {"''=1", "'''=1"}, {"'", "'"}, {"Ø", "Ø"},
	} {
		if got := neutral(tt.cell); got != tt.want {
			t.Errorf("neutral(%q) = %q, want %q", tt.cell, got, tt.want)
		}
		if got := plainCell(neutral(tt.cell)); got != tt.cell {
			t.Errorf("%q comes back as %q", tt.cell, got)
		}
	}
}

func FuzzNeutral(f *testing.F) {
	for _, s := range []string{"=1", "'=1", "''@", "'", "x", "＋", "\t", "'\xff"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		n := neutral(s)
		if formula(n) && !strings.HasPrefix(n, "'") {
			t.Errorf("%q is still a formula", n)
		}
		if got := plainCell(n); got != s {
			t.Errorf("%q comes back as %q", s, got)
		}
	})
}
