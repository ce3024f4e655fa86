package natural

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// TestCompare holds every pair of a list that is in order to that order.
func TestCompare(t *testing.T) {
	want := []string{"", "2", "10", "10a", "A2", "a2", "A10", "b", "bb", "Block 9 lot 2", "Block 9 lot 10", "Block 10 lot 1"}
	for i := range want {
		for j := range want {
			if got, less := Compare(want[i], want[j]), i-j; got < 0 != (less < 0) || got > 0 != (less > 0) {
				t.Errorf("Compare(%q, %q) = %d", want[i], want[j], got)
			}
		}
	}
	if Compare("007", "7") == 0 || Compare("7", "8") != -1 || Compare("007", "8") != -1 {
		t.Error("zeros before a number count for more than the number, or for nothing")
	}
}

// TestCompareOrders: whatever the order in which a list comes, it is put in the same one.
func TestCompareOrders(t *testing.T) {
	list := []string{"1", "01", "001", "1a", "1A", "01a", "a1", "A1", "A01", "a01", "B1", "b1", "", "-", "é1", "É1", "12", "1 2", "1-2"}
	want := slices.SortedFunc(slices.Values(list), Compare)
	r := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		r.Shuffle(len(list), func(i, j int) { list[i], list[j] = list[j], list[i] })
		if got := slices.SortedFunc(slices.Values(list), Compare); !slices.Equal(got, want) {
			t.Fatalf("sorted to %q, and to %q", got, want)
		}
	}
}
