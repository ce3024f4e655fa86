// Package near finds, among many names, those that are few letters off another one. It looks at which letters occur, tells edits from where two packed names differ, and leaves
// little for a comparison letter by letter, which it has too; it never rules out a name that is near.
package near

import (
	"cmp"
	"math/bits"
	"slices"
)

// Letters is which letters a name has: a bit for each kind of letter, as the caller numbers them.
type Letters = uint64

// LettersOf is which letters a folded name has: for each a bit for one and another for more; '?' and '*' have none. An edit takes away one of them at most, and brings one.
func LettersOf(s string) Letters {
	var l Letters
	for i := range len(s) {
		var b Letters
		switch c := s[i]; {
		case c >= 'a' && c <= 'z':
			b = 1 << (2 * (c - 'a'))
		case c == '?' || c == '*':
			continue
		default:
			b = 1 << 52 << (2 * (c % 6)) // blanks and what else there may be
		}
		if l&b != 0 {
			b <<= 1
		}
		l |= b
	}
	return l
}

// Places gives names places by their lengths, of which the longest is given, those of n letters from byLength[n] on; and puts among these beside each other, for the Sieve, those that
// have the same of the letters that about half of all have.
func Places(lengths []int, longest int, sets []Letters) (place, byLength []int) {
	var with [64]int
	for _, l := range sets {
		for ; l != 0; l &= l - 1 {
			with[bits.TrailingZeros64(l)]++
		}
	}
	const kinds = 8
	var half [64]int // the kinds, those that about half of the names have first
	for k := range half {
		half[k] = k
	}
	off := func(k int) int { return max(2*with[k]-len(sets), len(sets)-2*with[k]) }
	slices.SortStableFunc(half[:], func(a, b int) int { return cmp.Compare(off(a), off(b)) })
	group := func(i int) int {
		g := lengths[i]
		for _, k := range half[:kinds] {
			g = g<<1 | int(sets[i]>>k&1)
		}
		return g
	}
	next := make([]int, (longest+1)<<kinds+1)
	for i := range sets {
		next[group(i)+1]++
	}
	for g := range len(next) - 1 {
		next[g+1] += next[g]
	}
	for n := range longest + 2 {
		byLength = append(byLength, next[n<<kinds])
	}
	place = make([]int, len(sets))
	for i := range sets {
		at := &next[group(i)]
		place[i] = *at
		*at++
	}
	return place, byLength
}

// A Sieve holds the letters of many names so that those are found quickly which lack few of another's letters and have few that it lacks. For each kind of letter it
// has a plane with a bit for every name, so that a word of it tells of 64 names at once.
type Sieve struct {
	sets     []Letters
	planes   [64][]uint64
	common   []int     // the kinds that occur, the commonest first
	any, all []Letters // of each word, the letters that some of its names have, and that all have
}

// NewSieve makes a Sieve of the names' letters. It keeps the list.
func NewSieve(sets []Letters) *Sieve {
	s := &Sieve{sets: sets}
	var men [64]int
	s.any, s.all = make([]Letters, (len(sets)+63)/64), make([]Letters, (len(sets)+63)/64)
	for w := range s.all {
		s.all[w] = ^Letters(0)
	}
	for i, l := range sets {
		s.any[i/64] |= l
		s.all[i/64] &= l
		for ; l != 0; l &= l - 1 {
			k := bits.TrailingZeros64(l)
			if s.planes[k] == nil {
				s.planes[k] = make([]uint64, (len(sets)+63)/64)
				s.common = append(s.common, k)
			}
			s.planes[k][i/64] |= 1 << (i % 64)
			men[k]++
		}
	}
	for i := 1; i < len(s.common); i++ { // few, and nearly sorted
		for k := i; k > 0 && men[s.common[k]] > men[s.common[k-1]]; k-- {
			s.common[k], s.common[k-1] = s.common[k-1], s.common[k]
		}
	}
	return s
}

// Near appends to list the names from number from up to to, which is left out, that lack at most gone of the letters and have at most come that are not among them.
func (s *Sieve) Near(list []int32, from, to int, has Letters, gone, come int) []int32 {
	if from >= to || gone < 0 || come < 0 {
		return list
	}
	var missing, extra [most][]uint64
	m, e := 0, 0
	nobody := has // letters that no name has
	for _, k := range s.common {
		switch {
		case has>>k&1 == 0:
			if e < mostNew && come <= mostCounted {
				extra[e] = s.planes[k]
				e++
			}
		default:
			nobody &^= 1 << k
			if m < most && gone <= mostCounted {
				missing[m] = s.planes[k]
				m++
			}
		}
	}
	lacked := gone - bits.OnesCount64(nobody)
	if lacked < 0 {
		return list
	}
	first, last := from/64, (to-1)/64
	for w := first; w <= last; w++ {
		if bits.OnesCount64(has&^s.any[w]) > gone || bits.OnesCount64(s.all[w]&^has) > come {
			continue
		}
		var n counted
		for _, p := range missing[:m] {
			n.add(^p[w])
		}
		pass := n.atMost(lacked)
		if w == first {
			pass &^= 1<<(from%64) - 1
		}
		if w == last {
			pass &= ^uint64(0) >> (63 - (to-1)%64)
		}
		if pass == 0 {
			continue
		}
		n = counted{}
		for _, p := range extra[:e] {
			n.add(p[w])
		}
		for pass &= n.atMost(come); pass != 0; pass &= pass - 1 {
			i := w*64 + bits.TrailingZeros64(pass)
			if l := s.sets[i]; bits.OnesCount64(has&^l) <= gone && bits.OnesCount64(l&^has) <= come {
				list = append(list, int32(i))
			}
		}
	}
	return list
}

// The kinds of letters that are looked at in planes: of another's letters nearly all, of those that it lacks the few that rule out most.
const most, mostNew = 12, 6

// mostCounted is up to how many are counted.
const mostCounted = 3

// counted are 64 counts up to mostCounted, in bits; those in more are above it.
type counted struct{ one, two, more uint64 }

func (c *counted) add(x uint64) {
	carry := c.one & x
	c.one ^= x
	c.more |= c.two & carry
	c.two ^= carry
}

// atMost has the bits of the counts that are not above n.
func (c *counted) atMost(n int) uint64 {
	switch n {
	case 0:
		return ^(c.one | c.two | c.more)
	case 1:
		return ^(c.two | c.more)
	case 2:
		return ^(c.one&c.two | c.more)
	case mostCounted:
		return ^c.more
	}
	return ^uint64(0)
}
