package intake

import (
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// TestQuick holds rows that are parted 64 bytes at a time to those that are parted cell by cell.
func TestQuick(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 1))
	parts := []string{"a", "Aug. 19, 1861", ",", ",", ",", `"`, `""`, `",`, `,"`, `","`, "ü", " ", ";", "the very long remarks of a clerk who had the time", "\x00"}
	quick := 0
	for i := range 200_000 {
		var b strings.Builder
		for range random.IntN(12) {
			b.WriteString(parts[random.IntN(len(parts))])
		}
		text := b.String()
		quote := byte('"')
		if i%8 == 0 {
			quote = 0
		}
		some := splitter{delimiter: ',', quote: quote, cells: []string{"of the row before"}, first: 1}
		all := some
		some.start()
		all.start()
		if !some.quick(text) {
			if len(some.row()) > 0 {
				t.Fatalf("%q: %q are left of it", text, some.row())
			}
			continue
		}
		quick++
		all.careful(text)
		if !slices.Equal(some.row(), all.row()) || all.open || all.stray {
			t.Fatalf("%q: %q, cell by cell %q, open %v, stray %v", text, some.row(), all.row(), all.open, all.stray)
		}
	}
	if quick < 50_000 {
		t.Errorf("%d of 200000 rows are parted quickly", quick)
	}
}
