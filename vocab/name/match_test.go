package name

import (
	"regexp"
	"slices"
	"strings"
	"testing"
)

func TestMatch(t *testing.T) {
	tests := []struct {
		pattern, name string
		want          bool
	}{
		{"smith", "smith", true}, {"smith", "smyth", false}, {"sm?th", "smith", true}, {"sm?th", "smyth", true}, {"sm?th", "smth", false}, {"w??liam", "william", true},
		{"*son", "johnson", true}, {"*son", "son", true}, {"*son", "sons", false}, {"j*n", "john", true}, {"j*n*", "johnny", true}, {"*", "", true}, {"?", "", false}, {"", "", true}, {"", "a", false},
		{"*a*b*", "xxaxxbxx", true}, {"*a*b*", "xxbxxaxx", false}, {"sm*", "sm?th", true}, {"sm?th", "s?ith", true}, {"sm?th", "s?ath", true}, {"smi?h", "smo?h", false},
		{"a*c", "*bc", true}, {"ab*", "*cd", true}, {"ab", "*cd", false}, {"*", "*", true}, {"?", "*", true}, {"??", "?", false},
	}
	for _, tt := range tests {
		if got := Match(tt.pattern, tt.name); got != tt.want {
			t.Errorf("Match(%q, %q) = %v", tt.pattern, tt.name, got)
		}
		if wild(tt.name) && Match(tt.name, tt.pattern) != tt.want {
			t.Errorf("Match(%q, %q) is not the same turned round", tt.name, tt.pattern)
		}
	}
	// A pattern that makes a backtracking matcher try for ever.
	if Match(strings.Repeat("*a", 30)+"*b", strings.Repeat("a", 4000)) {
		t.Error("a name without b fits a pattern with b")
	}
}

// FuzzMatch sets Match beside the regular expressions of the standard library, which take linear time.
func FuzzMatch(f *testing.F) {
	f.Add("w??liam", "william")
	f.Add("*a*b", "aaab")
	f.Add("[---]son", "j?nson")
	f.Fuzz(func(t *testing.T, a, b string) {
		if len(a) > 60 || len(b) > 60 {
			t.Skip()
		}
		pattern, name := Fold(a), Fold(b)
		if !Match(pattern, pattern) {
			t.Errorf("%q does not fit itself", pattern)
		}
		if Match(pattern, name) != Match(name, pattern) && wild(name) {
			t.Errorf("Match(%q, %q) is not the same turned round", pattern, name)
		}
		if wild(name) {
			return
		}
		re := regexp.MustCompile("^" + strings.NewReplacer("?", ".", "*", ".*").Replace(pattern) + "$")
		if got, want := Match(pattern, name), re.MatchString(name); got != want {
			t.Errorf("Match(%q, %q) = %v, a regular expression says %v", pattern, name, got, want)
		}
	})
}

// The groups are the general knowledge of epigraphers and indexers; no published table of gravestones was found.
func TestWorn(t *testing.T) {
	for _, p := range []string{"CG", "GC", "OQ", "OD", "EF", "IL", "IT", "MN", "UV", "17", "38", "56", "B8", "0O", "KR", "PR", "S5", "Z2", "A4", "cg"} {
		if x := Worn(p[0], p[1]); x <= 0 || x >= 1 || x != Worn(p[1], p[0]) {
			t.Errorf("Worn(%c, %c) = %g", p[0], p[1], x)
		}
	}
	for _, p := range []string{"AO", "MS", "WZ", "12", "E9", "A\xff"} {
		if x := Worn(p[0], p[1]); x != 0 {
			t.Errorf("Worn(%c, %c) = %g, want 0", p[0], p[1], x)
		}
	}
	if Worn('a', 'A') != 1 || Worn('7', '7') != 1 {
		t.Error("a letter does not look like itself")
	}
}

// Frequencies of the census of 1990: SMITH 1.006 percent is the first line of the file of surnames, JAMES 3.318 and JOHN 3.271 of that of men.
func TestShares(t *testing.T) {
	near := func(got, want float64) bool { return got > want*0.999 && got < want*1.001 }
	if p := SurnameShare("smith"); !near(p, 0.01006) {
		t.Errorf("SurnameShare(smith) = %g, want 0.01006", p)
	}
	if p := GivenShare("john"); !near(p, 0.98*0.03271+0.02*0.00035) && !near(p, 0.98*0.03271) {
		t.Errorf("GivenShare(john) = %g, want %g", p, 0.98*0.03271)
	}
	if p := SurnameShare("nosuchname"); p != rareSurname {
		t.Errorf("an unknown surname has %g", p)
	}
	if p := GivenShare("nosuchname"); p != rareGiven {
		t.Errorf("an unknown given name has %g", p)
	}
	// What is lost tells nothing: the fewer letters, the more people.
	last := 0.0
	for _, s := range []string{"smith", "sm?th", "sm???", "s????", "s*", "*"} {
		p := SurnameShare(s)
		if p <= last || p > 1 {
			t.Errorf("SurnameShare(%q) = %g after %g", s, p, last)
		}
		last = p
	}
	if last < 0.999 {
		t.Errorf("anyone is called *, but the share is %g", last)
	}
}

// TestMiscounted: a gap may have held half as many letters more or fewer.
func TestMiscounted(t *testing.T) {
	for _, c := range []struct {
		pattern, name string
		want          bool
	}{
		{"isa????", "isaac", true}, {"isa??", "isaac", false}, {"isa???", "isaac", true}, {"isa??????", "isaac", false}, {"????othy", "timothy", true}, {"ch?s", "charles", false},
		{"isa????", "isbel", false}, {"j??n", "jon", true}, {"j??n", "jn", false}, {"j??n", "joann", true}, {"j??n", "johannn", false}, {"j??n??", "john", false}, {"john", "john", false}, {"", "", false},
	} {
		if got := slices.ContainsFunc(Miscounted(c.pattern), func(p string) bool { return Match(p, c.name) }); got != c.want {
			t.Errorf("%s, %s: %v", c.pattern, c.name, got)
		}
	}
}
