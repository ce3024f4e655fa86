package index

import "musterstone/model/same"

// met gives the number of a value that a reader has marked, and works it out where the mark is new, or none.
func met(t *same.Table[uint32], reader, mark uint32, work func() uint32) uint32 {
	at := t.At(reader, mark)
	if !at.Known {
		at.Value, at.Known = work(), true
	}
	return at.Value
}
