package rdf

import (
	"bytes"
	"cmp"
	"encoding/binary"
	"slices"
)

// blockSet holds what is said of subjects, the sayings of one subject together: each subject once, predicates by number, objects in the form of
// N-Triples.
type blockSet struct {
	arena  []byte
	said   []saying
	blocks []block
	order  sortMemory
}

// saying is a predicate and an object, arena[from:from+size].
type saying struct{ pred, from, size uint32 }

// block is a subject, arena[from:from+size] in the form of N-Triples, and its sayings, said[first:end].
type block struct{ from, size, first, end uint32 }

// predicates numbers the predicates in use, and keeps them in the form of N-Triples.
type predicates struct {
	number map[string]uint32
	texts  [][]byte
}

func newPredicates() *predicates { return &predicates{number: map[string]uint32{}} }

func (p *predicates) of(iri string) uint32 {
	n, ok := p.number[iri]
	if !ok {
		n = uint32(len(p.texts))
		p.number[iri] = n
		p.texts = append(p.texts, appendIRI(nil, iri))
	}
	return n
}

// now is the list as it stands; what is added later does not touch it, so that another goroutine can read it.
func (p *predicates) now() [][]byte { return p.texts[:len(p.texts):len(p.texts)] }

// ranks gives the place of each predicate in byte order.
func ranks(texts [][]byte) []uint32 {
	order := make([]uint32, len(texts))
	for i := range order {
		order[i] = uint32(i)
	}
	slices.SortFunc(order, func(a, b uint32) int { return bytes.Compare(texts[a], texts[b]) })
	rank := make([]uint32, len(texts))
	for i, n := range order {
		rank[n] = uint32(i)
	}
	return rank
}

func (b *blockSet) reset() {
	b.arena, b.said, b.blocks = b.arena[:0], b.said[:0], b.blocks[:0]
}

// size is about how much memory the sayings take, in bytes.
func (b *blockSet) size() int { return len(b.arena) + 12*len(b.said) + 40*len(b.blocks) }

func (b *blockSet) subject(x block) []byte { return b.arena[x.from : x.from+x.size] }

func (b *blockSet) object(s saying) []byte { return b.arena[s.from : s.from+s.size] }

// open begins a block.
func (b *blockSet) open(subject []byte) {
	from, n := len(b.arena), len(b.said)
	b.arena = append(b.arena, subject...)
	b.blocks = append(b.blocks, block{uint32(from), uint32(len(subject)), uint32(n), uint32(n)})
}

// say adds a saying to the last block.
func (b *blockSet) say(pred uint32, object []byte) {
	b.said = append(b.said, saying{pred, uint32(len(b.arena)), uint32(len(object))})
	b.arena = append(b.arena, object...)
	b.blocks[len(b.blocks)-1].end++
}

// appendLine appends a saying as a line of canonical N-Triples.
func (b *blockSet) appendLine(line []byte, texts [][]byte, x block, s saying) []byte {
	line = append(append(line, b.subject(x)...), ' ')
	line = append(append(line, texts[s.pred]...), ' ')
	return append(append(line, b.object(s)...), " .\n"...)
}

// sortMemory is what sorting needs, to be used again.
type sortMemory struct {
	keys []blockKey
	said []saying
}

// blockKey is eight bytes of a subject and the number of its block.
type blockKey struct {
	key   uint64
	block uint32
}

// sorted goes through the subjects in byte order of their lines of N-Triples, and gives what is said of each, sorted and each once. A subject in angle
// brackets is never the beginning of another, and one that is a blank node is followed by a blank in its line, so the order of the subjects is that
// of the lines. What is given is good until the next.
func (b *blockSet) sorted(rank []uint32, yield func(subject []byte, said []saying) bool) {
	keys := slices.Grow(b.order.keys[:0], len(b.blocks))
	for i := range b.blocks {
		keys = append(keys, blockKey{block: uint32(i)})
	}
	b.sortKeys(keys, 0)
	b.order.keys = keys
	for i := 0; i < len(keys); {
		first := b.blocks[keys[i].block]
		subject := b.subject(first)
		said := append(b.order.said[:0], b.said[first.first:first.end]...)
		for i++; i < len(keys) && bytes.Equal(subject, b.subject(b.blocks[keys[i].block])); i++ {
			more := b.blocks[keys[i].block]
			said = append(said, b.said[more.first:more.end]...)
		}
		said = b.sortSaid(rank, said)
		b.order.said = said
		if len(said) > 0 && !yield(subject, said) { // a subject whose object was refused has none
			return
		}
	}
}

// sortSaid sorts sayings by predicate and object, and drops repeats.
func (b *blockSet) sortSaid(rank []uint32, said []saying) []saying {
	compare := func(x, y saying) int {
		if x.pred != y.pred {
			return cmp.Compare(rank[x.pred], rank[y.pred])
		}
		return bytes.Compare(b.object(x), b.object(y))
	}
	slices.SortFunc(said, compare)
	return slices.CompactFunc(said, func(x, y saying) bool { return x.pred == y.pred && bytes.Equal(b.object(x), b.object(y)) })
}

// sortKeys sorts blocks by their subjects, whose first depth bytes are the same: eight bytes at a time, and those that are alike by the eight after.
func (b *blockSet) sortKeys(keys []blockKey, depth int) {
	depth += b.shared(keys, depth)
	for i := range keys {
		keys[i].key = keyAt(b.subject(b.blocks[keys[i].block]), depth)
	}
	slices.SortFunc(keys, func(x, y blockKey) int {
		if x.key != y.key {
			if x.key < y.key {
				return -1
			}
			return 1
		}
		return cmp.Compare(x.block, y.block)
	})
	for i := 0; i < len(keys); {
		j := i + 1
		for j < len(keys) && keys[j].key == keys[i].key {
			j++
		}
		// A key with a zero byte in the last place is the end of its subjects: they are all the same.
		if j-i > 1 && keys[i].key&0xFF != 0 {
			b.sortKeys(keys[i:j], depth+8)
		}
		i = j
	}
}

// shared is how many bytes after the first depth all subjects have in common.
func (b *blockSet) shared(keys []blockKey, depth int) int {
	if len(keys) == 0 {
		return 0
	}
	first := b.subject(b.blocks[keys[0].block])[depth:]
	n := len(first)
	for _, k := range keys[1:] {
		n = sharedPrefix(first[:n], b.subject(b.blocks[k.block])[depth:])
	}
	return n
}

// sharedPrefix is how many bytes two texts have in common at their beginning.
func sharedPrefix(a, b []byte) int {
	n := min(len(a), len(b))
	i := 0
	for i+8 <= n && binary.LittleEndian.Uint64(a[i:]) == binary.LittleEndian.Uint64(b[i:]) {
		i += 8
	}
	for i < n && a[i] == b[i] {
		i++
	}
	return i
}

// keyAt is eight bytes of a subject from depth on, zeros where it ends; no subject holds a zero byte.
func keyAt(subject []byte, depth int) uint64 {
	if depth+8 <= len(subject) {
		return binary.BigEndian.Uint64(subject[depth:])
	}
	var b [8]byte
	if depth < len(subject) {
		copy(b[:], subject[depth:])
	}
	return binary.BigEndian.Uint64(b[:])
}
