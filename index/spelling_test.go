package index

import (
	"maps"
	"math"
	"slices"
	"strconv"
	"strings"
	"testing"

	"musterstone/vocab/name"
)

// TestDistance has distances worked out by hand: letters put in, left out, changed, neighbours swapped; '?' and '*' cost nothing.
func TestDistance(t *testing.T) {
	for _, test := range []struct {
		pattern, s string
		want       int
	}{
		{"smith", "smith", 0}, {"smith", "smyth", 1}, {"smith", "smit", 1}, {"smith", "smiths", 1}, {"smith", "smiht", 1},
		{"smith", "schmidt", 4}, // c and d put in, h moved: no fewer than four
		{"ca", "abc", 3},        // no letter is edited twice
		{"sm?th", "smith", 0}, {"s?????", "smith", 1}, {"sm*", "smith", 0}, {"*th", "smith", 0}, {"*", "", 0}, {"*", "anything", 0},
		{"s*h", "smith", 0}, {"s*k", "smith", 1}, {"w??liam", "william", 0}, {"w??liams", "william", 1}, {"smith", "sm?th", 0}, {"smith", "sm*", 0},
		{"", "abc", 3}, {"abc", "", 3}, {"h?ld*", "holden", 0}, {"h?ld*", "helm", 1},
	} {
		if got := distance(test.pattern, test.s, 9); got != test.want {
			t.Errorf("distance(%q, %q) = %d, want %d", test.pattern, test.s, got, test.want)
		}
		if got := distance(test.pattern, test.s, 1); got != min(test.want, 2) {
			t.Errorf("distance(%q, %q) of at most 1 = %d, want %d", test.pattern, test.s, got, min(test.want, 2))
		}
		if strings.ContainsAny(test.pattern, "?*") && !strings.ContainsAny(test.s, "?*") {
			if got := name.Match(test.pattern, test.s); got != (test.want == 0) {
				t.Errorf("name.Match(%q, %q) = %v, but the distance is %d", test.pattern, test.s, got, test.want)
			}
		}
	}
}

// TestNearSpellings finds the same surnames by going through them with their letters and bits as by comparing one by one.
func TestNearSpellings(t *testing.T) {
	c := newCounty(3, 3000)
	records := c.roster(4000)
	for i := 0; i < len(records); i += 9 { // rosters too have lost letters
		records[i].Person.Name.Surname = leiden(c.wear(records[i].Person.Name.Surname, .2))
	}
	records[5].Person.Name.Surname = "Hol[---]"
	records[6].Person.Name.Surname = "Van der Linden"
	x := open(t, t.TempDir(), inputs(records, "a"))
	compared := 0
	patterns := []string{"*den", "h*n", "hol?*", "vanderlinden", "vanderlindn", "a", "ab", strings.Repeat("abcde", 12), strings.Repeat("abcde", 13)}
	for range 300 {
		patterns = append(patterns, c.wear(c.surnames[c.rng.IntN(len(c.surnames))], .15))
	}
	for _, pattern := range patterns {
		p := newSpellingPattern(pattern)
		for edits := range 4 {
			one := map[uint32]int{}
			for k, s := range x.roll.surnames {
				if d := distance(pattern, s, edits); d <= edits {
					one[uint32(k)] = d
				}
				if want, got := distance(pattern, s, edits), p.distance(s, edits); got != want {
					t.Fatalf("%q and %q: distance %d by bits, %d by the table, of at most %d", pattern, s, got, want, edits)
				}
			}
			scanned := map[uint32]int{}
			x.names.scan(p, edits, func(k uint32, d int) { scanned[k] = d })
			if !maps.Equal(one, scanned) {
				t.Fatalf("within %d of %q: one by one %v, scan %v", edits, pattern, one, scanned)
			}
			compared += len(one)
		}
	}
	if compared < 1000 {
		t.Errorf("only %d names were found", compared)
	}
}

// FuzzDistance holds the distance by bits against the one by a table.
func FuzzDistance(f *testing.F) {
	f.Add("smith", "sm?th", uint8(2))
	f.Add("w??liam", "willaim", uint8(3))
	f.Add("h*n", "holden", uint8(1))
	f.Fuzz(func(t *testing.T, pattern, s string, edits uint8) {
		e := int(edits % 5)
		if got, want := newSpellingPattern(pattern).distance(s, e), distance(pattern, s, e); got != want {
			t.Errorf("%q and %q: %d by bits, %d by the table, of at most %d", pattern, s, got, want, e)
		}
		n, d := newNames(&roll{surnames: []string{s}}, soundOrder{}, soundOrder{}), e+1
		n.scan(newSpellingPattern(pattern), e, func(_ uint32, distance int) { d = distance })
		if want := distance(pattern, s, e); d != want {
			t.Errorf("%q and %q: %d by the scan, %d by the table, of at most %d", pattern, s, d, want, e)
		}
	})
}

// TestOtherSurname: with a bound below which it is no matter, a surname is worth what it is worth, or less than the bound where it is that.
func TestOtherSurname(t *testing.T) {
	c := newCounty(3, 600)
	r := &roll{surnames: append([]string{"", "o connor", "d?yer", "mac*", "abcdefghijklmnop"}, c.surnames...)}
	slices.Sort(r.surnames)
	x := newNames(r, newSoundOrder(r.surnames, name.Sound), soundOrder{})
	ruledOut := 0
	for _, pattern := range append([]string{"smi?h", "o connor", "wal*", "abcdefghijklmnopq"}, c.surnames[:60]...) {
		a := x.find(pattern)
		m := &measure{names: x, pattern: pattern, spelling: a.pattern}
		for n := range r.surnames {
			want := m.otherSurname(uint32(n), math.MinInt32)
			for _, least := range []int32{want - 1, want, want + 1, -80, -16} {
				got := m.otherSurname(uint32(n), least)
				if got != want && (got < want || got >= least) {
					t.Fatalf("%q for %q is worth %d, and %d where less than %d is no matter", r.surnames[n], pattern, want, got, least)
				}
				ruledOut += truth(got != want)
			}
		}
	}
	if ruledOut < 1000 {
		t.Errorf("only %d were ruled out", ruledOut)
	}
}

// TestDigitApart holds the numbers one digit apart to the distance of their figures.
func TestDigitApart(t *testing.T) {
	numbers := []int{1000, 1001, 1010, 9999, 10000, 12345, 12354}
	for n := range 400 {
		numbers = append(numbers, n)
	}
	for _, a := range numbers {
		for _, b := range numbers {
			if want := distance(strconv.Itoa(a), strconv.Itoa(b), 1) == 1; digitApart(a, b) != want {
				t.Fatalf("%d and %d: %v, want %v", a, b, !want, want)
			}
		}
	}
}
