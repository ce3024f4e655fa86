package intake

import (
	"fmt"
	"runtime"
)

// An idBook holds the ids that were given, and where. The zero book is empty and ready.
type idBook struct {
	text   []byte // of all ids, one after the other
	ends   []uint64
	hashes []uint32
	rows   []int32
	tables []*Table // the tables, each with the number of ids that were given before it
	from   []int
	slots  []uint32 // a hash table of the ids: their numbers + 1, or 0
}

// ask asks memory for where ids of these hashes belong, all at once: they lie far apart, and one after the other each would be waited for.
func (b *idBook) ask(list []made) {
	if len(b.slots) == 0 {
		return
	}
	sum, mask := uint32(0), uint32(len(b.slots)-1)
	for i := range list {
		sum += b.slots[list[i].hash&mask]
	}
	runtime.KeepAlive(sum)
}

// has reports whether an id was given.
func (b *idBook) has(id string) bool {
	if len(b.slots) == 0 {
		return false
	}
	h := hashOf(id)
	mask := uint32(len(b.slots) - 1)
	for i := h & mask; b.slots[i] != 0; i = (i + 1) & mask {
		n := int(b.slots[i] - 1)
		if from, to := b.span(n); b.hashes[n] == h && string(b.text[from:to]) == id {
			return true
		}
	}
	return false
}

// take enters an id. Where it was given before, taken is set and first says where.
func (b *idBook) take(id string, at place) (first place, taken bool) {
	if 2*len(b.ends) >= len(b.slots) {
		b.grow()
	}
	h := hashOf(id)
	mask := uint32(len(b.slots) - 1)
	i := h & mask
	for ; b.slots[i] != 0; i = (i + 1) & mask {
		n := int(b.slots[i] - 1)
		if from, to := b.span(n); b.hashes[n] == h && string(b.text[from:to]) == id {
			return b.place(n), true
		}
	}
	if k := len(b.tables); k == 0 || b.tables[k-1] != at.table {
		b.tables, b.from = append(b.tables, at.table), append(b.from, len(b.ends))
	}
	b.text = append(b.text, id...)
	b.ends, b.hashes, b.rows = append(b.ends, uint64(len(b.text))), append(b.hashes, h), append(b.rows, int32(at.row))
	b.slots[i] = uint32(len(b.ends))
	return place{}, false
}

// derive enters an id that was made from the cells, with a count where it was given before; crossed says that another table had given it.
func (b *idBook) derive(id string, at place) (unique string, crossed bool) {
	unique = id
	for n := 2; ; n++ {
		first, taken := b.take(unique, at)
		if !taken {
			return unique, crossed
		}
		crossed = crossed || first.table != at.table
		unique = fmt.Sprintf("%s-%d", id, n)
	}
}

// span is where the id of that number stands in the text.
func (b *idBook) span(n int) (from, to uint64) {
	if n > 0 {
		from = b.ends[n-1]
	}
	return from, b.ends[n]
}

func (b *idBook) place(n int) place {
	k := len(b.from) - 1
	for k > 0 && b.from[k] > n {
		k--
	}
	return place{b.tables[k], int(b.rows[n])}
}

func (b *idBook) grow() {
	b.slots = make([]uint32, max(1<<10, 2*len(b.slots)))
	mask := uint32(len(b.slots) - 1)
	for n, h := range b.hashes {
		i := h & mask
		for b.slots[i] != 0 {
			i = (i + 1) & mask
		}
		b.slots[i] = uint32(n) + 1
	}
}

// hashOf is FNV-1a with its bits stirred once more.
func hashOf(s string) uint32 {
	h := uint32(2166136261)
	for i := range len(s) {
		h = (h ^ uint32(s[i])) * 16777619
	}
	h ^= h >> 15
	h *= 0x2c1b3c6d
	return h ^ h>>12
}
