package compare

import (
	"math/bits"

	"musterstone/vocab/name/near"
)

// Prepared is a name made ready to be compared with many others: the same figures as the functions give, in about half the time. The zero value is the empty name. It is
// large: keep it and Set it anew. It may be used by several goroutines at once as long as none of them sets it.
type Prepared struct {
	name  string
	plain bool        // of at most most ASCII letters
	eq    [128]uint64 // for each letter, where it stands
	head  uint32      // the first four letters
}

// Set makes the name ready in the place of the one before.
func (p *Prepared) Set(name string) {
	if p.plain {
		for i := range len(p.name) {
			p.eq[p.name[i]] = 0
		}
	}
	p.name, p.plain = name, len(name) <= most && ascii(name)
	if !p.plain {
		return
	}
	for i := range len(name) {
		p.eq[name[i]] |= 1 << i
	}
	p.head = head(name)
}

// head is up to four first letters.
func head(s string) uint32 {
	if len(s) >= 4 {
		return uint32(s[0]) | uint32(s[1])<<8 | uint32(s[2])<<16 | uint32(s[3])<<24
	}
	var h uint32
	for i := range len(s) {
		h |= uint32(s[i]) << (8 * i)
	}
	return h
}

// within is the most letters for which a window can be shifted along without falling off.
const within = 32

// JaroWinkler is JaroWinkler(p's name, b).
func (p *Prepared) JaroWinkler(b string) float64 {
	na, nb := len(p.name), len(b)
	if na == 0 || nb == 0 {
		return 0
	}
	if !p.plain || max(na, nb) > within {
		return JaroWinkler(p.name, b)
	}
	window := max(0, max(na, nb)/2-1)
	var used, hits, all uint64
	around := low(2*window + 1) // the places of p's name within reach of b's letter j, moved up by window-j
	for j := range nb {
		c := b[j]
		all |= uint64(c)
		free := p.eq[c&0x7f] & (around << j >> window) &^ used
		used |= free & -free
		hits |= (free | -free) >> 63 << j
	}
	if all&0x80 != 0 {
		return JaroWinkler(p.name, b)
	}
	m := bits.OnesCount64(used)
	if m == 0 {
		return 0
	}
	out := m
	for u, h := used, hits; h != 0; u, h = u&(u-1), h&(h-1) {
		out -= bits.OnesCount64(p.eq[b[bits.TrailingZeros64(h)]] & u & -u)
	}
	short, long := na, nb
	if short > long {
		short, long = long, short
	}
	j := measure(m, out, short, long)
	if j <= boostAbove {
		return j
	}
	prefix := min(bits.TrailingZeros32(p.head^head(b))/8, short, prefixMost)
	return j + float64(prefix)*prefixWeight*(1-j)
}

// OSA is OSA(p's name, b).
func (p *Prepared) OSA(b string) int {
	n := len(p.name)
	if !p.plain || n == 0 {
		return OSA(p.name, b)
	}
	var all byte
	c := near.NewColumn(n)
	for i := range len(b) {
		all |= b[i]
		c.Next(p.eq[b[i]&0x7f])
	}
	if all&0x80 != 0 {
		return OSA(p.name, b)
	}
	return c.Edits
}
