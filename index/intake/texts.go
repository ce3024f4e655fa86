package intake

import (
	"hash/maphash"
	"strings"
)

// texts is a cache whose keys are texts: a hash table with the hashes beside the entries, so that a text is looked for in few places. The zero texts are
// empty and ready.
type texts[V any] struct {
	slots []textSlot[V]
	used  int
	n     uint32
}

type textSlot[V any] struct {
	hash  uint64
	entry *entry[V]
}

// textSeed is of this run. What is found does not depend on it.
var textSeed = maphash.MakeSeed()

// get gives what the text came to, working it out where it is not remembered.
func (c *texts[V]) get(text string, work func(string) V) *entry[V] {
	h := maphash.String(textSeed, text)
	if e := find(c, h, text); e != nil {
		return e
	}
	return c.enter(h, strings.Clone(text), work)
}

// bytes is get for a text in a buffer that is used again.
func (c *texts[V]) bytes(text []byte, work func(string) V) *entry[V] {
	h := maphash.Bytes(textSeed, text)
	if e := find(c, h, text); e != nil {
		return e
	}
	return c.enter(h, string(text), work)
}

func find[V any, T string | []byte](c *texts[V], h uint64, text T) *entry[V] {
	if len(c.slots) == 0 {
		return nil
	}
	mask := uint64(len(c.slots) - 1)
	for i := h & mask; ; i = (i + 1) & mask {
		s := &c.slots[i]
		if s.entry == nil {
			return nil
		}
		if s.hash == h && s.entry.text == string(text) {
			return s.entry
		}
	}
}

func (c *texts[V]) enter(h uint64, text string, work func(string) V) *entry[V] {
	if c.used >= cacheSize {
		c.slots, c.used = nil, 0
	}
	if 4*(c.used+1) > 3*len(c.slots) {
		old := c.slots
		c.slots = make([]textSlot[V], max(64, 2*len(old)))
		for _, s := range old {
			if s.entry != nil {
				c.put(s)
			}
		}
	}
	c.n++
	e := &entry[V]{v: work(text), n: c.n, text: text}
	c.put(textSlot[V]{h, e})
	c.used++
	return e
}

// put puts an entry that is not there into the first free slot.
func (c *texts[V]) put(s textSlot[V]) {
	mask := uint64(len(c.slots) - 1)
	i := s.hash & mask
	for c.slots[i].entry != nil {
		i = (i + 1) & mask
	}
	c.slots[i] = s
}
