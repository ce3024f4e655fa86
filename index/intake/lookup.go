package intake

import (
	"encoding/binary"
	"math/bits"
	"strings"
	"unsafe"

	"musterstone/index/texts"
	"musterstone/model/room"
)

// A lookup numbers texts, each distinct one once: by their places in a list that several lookups may share, of which the first is the empty text. A text of at most 16 bytes stands in its slot
// whole, so that a look at one line of memory tells it from others.
type lookup struct {
	slots []textSlot
	n     int // how many it has
	texts *[]string
}

func newLookup(list *[]string) *lookup { return &lookup{texts: list} }

// A textSlot is a text: its first and its last eight bytes, its length; of a longer one a hash in place of them.
type textSlot struct {
	head, tail uint64
	size, n    uint32
}

const golden = 0x9E3779B97F4A7C15 // 2^64 over the golden ratio

// word gives a text as it stands in a slot.
func (s *textSlot) word(t string) {
	s.size = uint32(len(t))
	b := unsafe.Slice(unsafe.StringData(t), len(t))
	switch n := len(b); {
	case n > 16:
		s.head, s.tail = uint64(texts.Hash(t)), uint64(b[n/2])
	case n >= 8:
		s.head, s.tail = binary.LittleEndian.Uint64(b), binary.LittleEndian.Uint64(b[n-8:])
	case n >= 4:
		s.head = uint64(binary.LittleEndian.Uint32(b)) | uint64(binary.LittleEndian.Uint32(b[n-4:]))<<32
	case n > 0:
		s.head = uint64(b[0]) | uint64(b[n/2])<<8 | uint64(b[n-1])<<16
	}
}

// number is the number of a text, which is entered where it is new.
func (l *lookup) number(t string) uint32 {
	if t == "" {
		return 0
	}
	if 4*l.n >= 3*len(l.slots) {
		l.grow()
	}
	var s textSlot
	s.word(t)
	for i := l.home(&s); ; i = (i + 1) & (len(l.slots) - 1) {
		o := &l.slots[i]
		if o.n == 0 {
			return l.enter(o, s, t)
		}
		if o.head == s.head && o.tail == s.tail && o.size == s.size && (s.size <= 16 || (*l.texts)[o.n] == t) {
			return o.n
		}
	}
}

// home is the slot in which the text is looked for first.
func (l *lookup) home(s *textSlot) int {
	h := (s.head ^ bits.RotateLeft64(s.tail, 29) ^ uint64(s.size)) * golden
	return int(h >> bits.LeadingZeros64(uint64(len(l.slots)-1)))
}

func (l *lookup) enter(o *textSlot, s textSlot, t string) uint32 {
	l.n++
	s.n = uint32(len(*l.texts))
	*o = s
	*l.texts = append(room.More(*l.texts), strings.Clone(t))
	return s.n
}

func (l *lookup) grow() {
	old := l.slots
	l.slots = make([]textSlot, max(64, 2*len(old)))
	for k := range old {
		if old[k].n == 0 {
			continue
		}
		i := l.home(&old[k])
		for l.slots[i].n != 0 {
			i = (i + 1) & (len(l.slots) - 1)
		}
		l.slots[i] = old[k]
	}
}

// tuples numbers tuples of numbers from 1, each distinct one once, but for that of noughts alone, which has the number 0. The zero tuples are empty and ready.
type tuples struct {
	slots []tupleSlot
	n     uint32
}

type tupleSlot struct {
	three  uint64
	one, n uint32
}

// three puts three numbers of texts or tuples, which are below 1<<tupleBits, into one.
func three(a, b, c uint32) uint64 { return uint64(a) | uint64(b)<<tupleBits | uint64(c)<<(2*tupleBits) }

const tupleBits = 21

// number is the number of the tuple of three numbers and one more, which is entered where it is new.
func (p *tuples) number(three uint64, one uint32) uint32 {
	if three == 0 && one == 0 {
		return 0
	}
	if 4*int(p.n) >= 3*len(p.slots) {
		p.grow()
	}
	for i := p.home(three, one); ; i = (i + 1) & (len(p.slots) - 1) {
		o := &p.slots[i]
		if o.n == 0 {
			p.n++
			*o = tupleSlot{three, one, p.n}
			return p.n
		}
		if o.three == three && o.one == one {
			return o.n
		}
	}
}

func (p *tuples) home(three uint64, one uint32) int {
	h := (three ^ uint64(one)<<31) * golden
	return int((h ^ h>>29) * golden >> bits.LeadingZeros64(uint64(len(p.slots)-1)))
}

func (p *tuples) grow() {
	old := p.slots
	p.slots = make([]tupleSlot, max(64, 2*len(old)))
	for _, o := range old {
		if o.n == 0 {
			continue
		}
		i := p.home(o.three, o.one)
		for p.slots[i].n != 0 {
			i = (i + 1) & (len(p.slots) - 1)
		}
		p.slots[i] = o
	}
}
