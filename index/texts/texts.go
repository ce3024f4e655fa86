// Package texts numbers texts as they come, each distinct one once.
package texts

import (
	"encoding/binary"
	"runtime"
	"unsafe"
)

// A Book holds distinct texts, numbered from 0 in the order in which they came. It is a hash table by open addressing, over texts that lie one after the other, so that
// millions of them take few bytes beside their own and leave the collector of memory nothing to follow. The zero Book is empty and ready. It is for one goroutine.
type Book struct {
	text    []byte // of all
	entries []entry
	slots   []uint32 // numbers + 1, or 0
}

// An entry is one text: where it ends, its hash, and what the caller noted of it.
type entry struct {
	end        uint64
	hash, note uint32
}

// Len is how many texts there are.
func (b *Book) Len() int { return len(b.entries) }

// Note is what was noted of the text of a number when it was taken up.
func (b *Book) Note(n int) uint32 { return b.entries[n].note }

// At is the text of a number. It is good as long as it is held, whatever becomes of the book.
func (b *Book) At(n int) string {
	from, to := b.span(n)
	return unsafe.String(unsafe.SliceData(b.text[from:to]), to-from) // these bytes are not written to again: see Cut
}

// List gives all texts by their numbers.
func (b *Book) List() []string {
	list := make([]string, b.Len())
	for n := range list {
		list[n] = b.At(n)
	}
	return list
}

func (b *Book) span(n int) (from, to uint64) {
	if n > 0 {
		from = b.entries[n-1].end
	}
	return from, b.entries[n].end
}

// Find is the number of a text with that Hash, where there is one.
func (b *Book) Find(s string, hash uint32) (n int, ok bool) {
	if len(b.slots) == 0 {
		return 0, false
	}
	n, _ = b.look(s, hash)
	return n, n >= 0
}

// look gives the number of a text, or -1 and the slot in which it belongs.
func (b *Book) look(s string, hash uint32) (n int, slot uint32) {
	mask := uint32(len(b.slots) - 1)
	i := hash & mask
	for ; b.slots[i] != 0; i = (i + 1) & mask {
		if n := int(b.slots[i] - 1); b.entries[n].hash == hash && b.At(n) == s {
			return n, i
		}
	}
	return -1, i
}

// Enter is the number of a text with that Hash, which it takes up, with a note of the caller's, where it is new.
func (b *Book) Enter(s string, hash, note uint32) (n int, known bool) {
	if 2*len(b.entries) >= len(b.slots) {
		b.seat(max(1<<10, 2*len(b.slots)))
	}
	n, slot := b.look(s, hash)
	if n >= 0 {
		return n, true
	}
	b.text = append(b.text, s...)
	b.entries = append(b.entries, entry{uint64(len(b.text)), hash, note})
	b.slots[slot] = uint32(len(b.entries))
	return len(b.entries) - 1, false
}

// seat makes a table of so many slots, a power of two.
func (b *Book) seat(slots int) {
	b.slots = make([]uint32, slots)
	mask := uint32(slots - 1)
	for n := range b.entries {
		i := b.entries[n].hash & mask
		for b.slots[i] != 0 {
			i = (i + 1) & mask
		}
		b.slots[i] = uint32(n) + 1
	}
}

// Cut forgets the texts from number n on.
func (b *Book) Cut(n int) {
	if n == b.Len() {
		return
	}
	from, _ := b.span(n)
	b.text = b.text[:from:from] // so that what comes next is not written over texts that At gave
	b.entries = b.entries[:n]
	b.seat(len(b.slots))
}

// Ask asks memory for where texts of these hashes stand, all at once: they lie far apart, and one after the other each would be waited for.
func (b *Book) Ask(hashes []uint32) {
	if len(b.slots) == 0 {
		return
	}
	sum, mask := uint32(0), uint32(len(b.slots)-1)
	for _, h := range hashes {
		sum += b.slots[h&mask]
	}
	runtime.KeepAlive(sum)
}

// Hash is the hash of a text, never 0. It is the same on every machine.
func Hash(s string) uint32 {
	const k = 0x9E3779B97F4A7C15 // 2^64 over the golden ratio
	h := uint64(len(s)) * k
	b := unsafe.Slice(unsafe.StringData(s), len(s))
	for ; len(b) >= 8; b = b[8:] {
		h = (h ^ binary.LittleEndian.Uint64(b)) * k
		h ^= h >> 32
	}
	var rest uint64
	for i, c := range b {
		rest |= uint64(c) << (8 * i)
	}
	h = (h ^ rest) * k
	h ^= h >> 32
	h *= k
	return max(uint32(h>>32), 1)
}
