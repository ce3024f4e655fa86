package index

import (
	"context"
	"maps"
	"slices"
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

// TestNearSpellings finds the same surnames by the term dictionary's automata, by the scan that shares first letters, and one by one.
func TestNearSpellings(t *testing.T) {
	c := newCounty(3, 3000)
	x := openMany(t, t.TempDir(), inputs(c.roster(4000), "a"))
	compared := 0
	for i := range 150 {
		pattern := c.wear(c.surnames[c.rng.IntN(len(c.surnames))], .15)
		for edits := range 4 {
			one := map[uint32]int{}
			for k, s := range x.roll.surnames {
				if d := distance(pattern, s, edits); d <= edits {
					one[uint32(k)] = d
				}
			}
			scanned := map[uint32]int{}
			x.names.scan(pattern, edits, func(k uint32, d int) { scanned[k] = d })
			if !maps.Equal(one, scanned) {
				t.Fatalf("%d: within %d of %q: one by one %v, scan %v", i, edits, pattern, one, scanned)
			}
			if edits == 0 || edits > 2 || strings.ContainsAny(pattern, "?*") {
				continue
			}
			near, err := x.names.near(pattern, edits)
			if err != nil {
				t.Fatal(err)
			}
			slices.Sort(near)
			if want := slices.Sorted(maps.Keys(one)); !slices.Equal(near, want) {
				t.Fatalf("within %d of %q: one by one %v, term dictionary %v", edits, pattern, want, near)
			}
			compared += len(near)
		}
	}
	if compared == 0 {
		t.Error("nothing was compared")
	}
}

// TestAutomataFindTheSame looks up stones with and without the index of spellings.
func TestAutomataFindTheSame(t *testing.T) {
	c := newCounty(4, 2000)
	records := c.roster(4000)
	few, many := open(t, t.TempDir(), inputs(records, "a")), openMany(t, t.TempDir(), inputs(records, "a"))
	if few.names.index != nil || many.names.index == nil {
		t.Fatal("the index of spellings is not where it must be")
	}
	for i := range 100 {
		s := c.stone(i, records[c.rng.IntN(len(records))], .05)
		a, err := few.Candidates(context.Background(), s, 30)
		if err != nil {
			t.Fatal(err)
		}
		b, err := many.Candidates(context.Background(), s, 30)
		if err != nil {
			t.Fatal(err)
		}
		if !slices.Equal(ids(a), ids(b)) {
			t.Errorf("%v: by scan %v, by automata %v", s.Readings[0].People[0].Person.Name, ids(a), ids(b))
		}
	}
}

// openMany opens with an index of spellings, however few there are.
func openMany(t testing.TB, dir string, in Inputs) *Index {
	t.Helper()
	x, err := Open(context.Background(), dir, in, Options{many: 1})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { x.Close() })
	return x
}
