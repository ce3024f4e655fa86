package same

import "testing"

// TestTable: each reader's marks have slots of their own, also those whose numbers begin anew in the high bits, and the mark 0 is never known.
func TestTable(t *testing.T) {
	var table Table[string]
	marks := []struct{ reader, mark uint32 }{{0, 1}, {1, 1}, {0, 7}, {0, 1<<24 | 1}, {1 << 31, 3}}
	for i, m := range marks {
		at := table.At(m.reader, m.mark)
		if at.Known {
			t.Errorf("reader %d, mark %d is known before it was filled", m.reader, m.mark)
		}
		at.Value, at.Known = string(rune('a'+i)), true
	}
	for i, m := range marks {
		if at := table.At(m.reader, m.mark); !at.Known || at.Value != string(rune('a'+i)) {
			t.Errorf("reader %d, mark %d has %q, want %q", m.reader, m.mark, at.Value, string(rune('a'+i)))
		}
	}
	for range 2 {
		at := table.At(0, 0)
		if at.Known {
			t.Error("the mark 0 is known")
		}
		at.Value, at.Known = "x", true
	}
	if table.At(0, 2).Known || table.At(2, 1).Known {
		t.Error("a mark is known that was never filled")
	}
}
