package same

// A Table keeps what was made of marked values. It is for one goroutine.
type Table[V any] struct {
	lists map[key]*[]Slot[V]
	last  key // of the list that was asked for last
	list  *[]Slot[V]
	none  Slot[V]
}

// Slot is where what was made of a value is kept; Known is false until it is.
type Slot[V any] struct {
	Value V
	Known bool
}

// A key is a reader, and the high bits of a mark: numbers of dates begin anew for each year near which they lie, so that most are few.
type key struct{ reader, high uint32 }

// At is the slot of a value that a reader has marked, to be filled where it is not known. It is good until the next is asked for. That of the mark 0 is never known.
func (t *Table[V]) At(reader, mark uint32) *Slot[V] {
	if mark == 0 {
		t.none = Slot[V]{}
		return &t.none
	}
	k := key{reader, mark >> 24}
	if t.last != k || t.list == nil {
		list := t.lists[k]
		if list == nil {
			if t.lists == nil {
				t.lists = map[key]*[]Slot[V]{}
			}
			list = new([]Slot[V])
			t.lists[k] = list
		}
		t.last, t.list = k, list
	}
	i := int(mark & (1<<24 - 1))
	for len(*t.list) <= i {
		*t.list = append(*t.list, Slot[V]{})
	}
	return &(*t.list)[i]
}
