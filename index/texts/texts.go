// Package texts numbers texts as they come, each distinct one once.
package texts

import (
	"encoding/binary"
	"runtime"
	"slices"
	"unsafe"

	"musterstone/model/room"
)

// A Book holds distinct texts, numbered from 0 in the order in which they came. It is a hash table by open addressing, over texts that lie one after the other, so that
// millions of them take few bytes beside their own and leave the collector of memory nothing to follow. The zero Book is empty and ready. It is for one goroutine.
type Book struct {
	text  []byte   // of all
	ends  []uint64 // where each text ends
	notes []uint32 // what the caller noted of it
	slots []slot

	expected int
}

// A slot has the number of a text and 1, or 0, and its hash, so that texts of other hashes need not be looked at, which lie far apart.
type slot struct{ hash, number uint32 }

// Expect says about how many texts will come. When some of them have, there is made room for all.
func (b *Book) Expect(texts int) { b.expected = texts }

// more makes room for more texts.
func (b *Book) more() {
	slots := max(1<<10, 2*len(b.slots))
	if n := len(b.ends); n > b.expected/16 && n < b.expected {
		for slots < 2*b.expected {
			slots *= 2
		}
		rest := b.expected + b.expected/16 - n // some more may come
		b.ends, b.notes = room.For(b.ends, rest), room.For(b.notes, rest)
		b.text = room.For(b.text, len(b.text)/n*rest+rest/4)
	}
	b.seat(slots)
}

// Len is how many texts there are.
func (b *Book) Len() int { return len(b.ends) }

// Note is what was noted of the text of a number when it was taken up.
func (b *Book) Note(n int) uint32 { return b.notes[n] }

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
		from = b.ends[n-1]
	}
	return from, b.ends[n]
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
func (b *Book) look(s string, hash uint32) (n int, at uint32) {
	mask := uint32(len(b.slots) - 1)
	i := hash & mask
	for ; b.slots[i].number != 0; i = (i + 1) & mask {
		if n := int(b.slots[i].number - 1); b.slots[i].hash == hash && b.At(n) == s {
			return n, i
		}
	}
	return -1, i
}

// Enter is the number of a text with that Hash, which it takes up, with a note of the caller's, where it is new.
func (b *Book) Enter(s string, hash, note uint32) (n int, known bool) {
	if 2*len(b.ends) >= len(b.slots) {
		b.more()
	}
	n, at := b.look(s, hash)
	if n >= 0 {
		return n, true
	}
	if len(b.text)+len(s) > cap(b.text) {
		b.text = slices.Grow(b.text, max(len(b.text), len(s))) // an append makes room for a quarter more, and copies them all often
	}
	b.text = append(b.text, s...)
	b.ends, b.notes = append(b.ends, uint64(len(b.text))), append(b.notes, note)
	b.slots[at] = slot{hash, uint32(len(b.ends))}
	return len(b.ends) - 1, false
}

// seat makes a table of so many slots, a power of two, for the texts that there are.
func (b *Book) seat(slots int) {
	old := b.slots
	b.slots = make([]slot, slots)
	mask := uint32(slots - 1)
	for _, o := range old {
		if o.number == 0 || int(o.number) > len(b.ends) {
			continue
		}
		i := o.hash & mask
		for b.slots[i].number != 0 {
			i = (i + 1) & mask
		}
		b.slots[i] = o
	}
}

// Cut forgets the texts from number n on.
func (b *Book) Cut(n int) {
	if n == b.Len() {
		return
	}
	from, _ := b.span(n)
	b.text = b.text[:from:from] // so that what comes next is not written over texts that At gave
	b.ends, b.notes = b.ends[:n], b.notes[:n]
	b.seat(len(b.slots))
}

// Ask asks memory for where texts of these hashes stand, all at once: they lie far apart, and one after the other each would be waited for.
func (b *Book) Ask(hashes []uint32) {
	if len(b.slots) == 0 {
		return
	}
	sum, mask := uint32(0), uint32(len(b.slots)-1)
	for _, h := range hashes {
		sum += b.slots[h&mask].number
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
