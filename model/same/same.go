// Package same says which values of a record are the very ones that an earlier record had, so that whoever packs records need look at each value but once.
package same

// Marks are numbers of the values of one record, given by the reader who read it. Two records of one reader with the same number, not 0, have the same
// value there; of other numbers nothing is said.
type Marks struct {
	Reader  uint32
	Surname uint32
	Name    uint32 // the name without the surname and without the writing
	Unit    uint32
	Age     uint32

	Born, Died, Enlisted, MusteredIn, MusteredOut uint32 // one numbering for all of these
}
