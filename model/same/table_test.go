package same

import (
	"math/rand/v2"
	"testing"
)

// TestTable sets the table beside a map: values marked by several readers, with numbers that begin anew far up, asked for in any order.
func TestTable(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 9))
	var table Table[int]
	kept := map[[2]uint32]int{}
	for range 20_000 {
		reader, mark := uint32(r.IntN(3)), uint32(1+r.IntN(40)+r.IntN(4)<<24)
		slot := table.At(reader, mark)
		want, known := kept[[2]uint32{reader, mark}]
		if slot.Known != known || known && slot.Value != want {
			t.Fatalf("reader %d, mark %d: %+v, want %d, %t", reader, mark, *slot, want, known)
		}
		if !known {
			slot.Value, slot.Known = r.Int(), true
			kept[[2]uint32{reader, mark}] = slot.Value
		}
	}
}

// TestTableUnmarked: what has the mark 0 is not known to be the same as anything, and nothing is kept of it.
func TestTableUnmarked(t *testing.T) {
	var table Table[string]
	table.At(1, 0).Known = true
	if slot := table.At(1, 0); slot.Known || slot.Value != "" {
		t.Errorf("the mark 0 is known: %+v", *slot)
	}
	table.At(1, 7).Value = "seven"
	table.At(1, 0).Value = "none"
	if got := table.At(1, 7).Value; got != "seven" {
		t.Errorf("the mark 7 has %q", got)
	}
}
