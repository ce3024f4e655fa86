package near

import "math/bits"

// Packed is a folded name, five bits a letter, the first lowest; 0 for one longer than Longest. Signs that are no letters are not told from each other.
type Packed uint64

// other is the code of a sign that is no letter; those of the letters are from 1 on.
const other = 27

// Longest is the most letters that are packed.
const Longest = 12

// Pack packs a folded name.
func Pack(folded string) Packed {
	if len(folded) > Longest {
		return 0
	}
	var p Packed
	for i := range len(folded) {
		code := Packed(other)
		if c := folded[i]; c >= 'a' && c <= 'z' {
			code = Packed(c-'a') + 1
		}
		p |= code << (5 * i)
	}
	return p
}

// Len is the number of letters.
func (p Packed) Len() int { return (bits.Len64(uint64(p)) + 4) / 5 }

// Alike is how many letters two names begin with alike.
func (p Packed) Alike(q Packed) int { return bits.TrailingZeros64(uint64(p^q)) / 5 }

// Differing is in how many places two names of one length differ.
func (p Packed) Differing(q Packed) int { return bits.OnesCount64(groups(uint64(p ^ q))) }

// ones has a 1 for each letter.
const ones = 0x0084210842108421

// groups has a bit for each letter that is not 0.
func groups(x uint64) uint64 {
	return (x | x>>1 | x>>2 | x>>3 | x>>4) & ones
}

// Append appends the name to list, unknown for each sign that is no letter.
func (p Packed) Append(list []byte) []byte {
	for ; p != 0; p >>= 5 {
		if code := byte(p & 31); code == other {
			list = append(list, unknown)
		} else {
			list = append(list, 'a'-1+code)
		}
	}
	return list
}

// unknown is what Append gives for a sign that is no letter.
const unknown = '#'

// Plain reports whether all of it is letters.
func (p Packed) Plain() bool {
	return groups(uint64(p)^other*ones) == ones
}

// Far is what Edits gives for more than two edits.
const Far = 3

// Edits is how many edits two packed names of so many letters are apart, Far for more than two: a letter changed, put in or taken out, or two neighbours that have changed
// places, no letter edited twice. Signs that are no letters are taken for each other: where one of the names is Plain it is exact.
func Edits(p, q Packed, lp, lq int) int {
	if lp < lq {
		p, q, lp, lq = q, p, lq, lp
	}
	switch lp - lq {
	case 0:
		return sameLength(uint64(p), uint64(q))
	case 1:
		return oneLonger(uint64(p), uint64(q), lp)
	case 2:
		return twoLonger(uint64(p), uint64(q), lq)
	}
	return Far
}

// sameLength is Edits for names of one length: letters changed and neighbours swapped; or one letter taken out here and one put in there, so that what stands between them has
// moved by one.
func sameLength(a, b uint64) int {
	differ := groups(a ^ b)
	n := bits.OnesCount64(differ)
	if n <= 1 {
		return n
	}
	if n <= 4 {
		// A swap is told by its first place, and makes two places differ.
		swaps := differ & (differ >> 5) &^ groups(a^b>>5) &^ groups(b^a>>5)
		first := differ & -differ
		second := differ & (differ - 1)
		second &= -second
		switch {
		case n == 2:
			return 2 - bits.OnesCount64(swaps&first)
		case n == 3 && swaps != 0:
			return 2
		case n == 4 && swaps&first != 0:
			if rest := differ &^ (first | first<<5); swaps&rest&-rest != 0 {
				return 2
			}
		}
	}
	first, last := bits.TrailingZeros64(differ), 63-bits.LeadingZeros64(differ)
	mask := uint64(1)<<(last-first) - 1
	if a>>(first+5)&mask == b>>first&mask || b>>(first+5)&mask == a>>first&mask {
		return 2
	}
	return Far
}

// oneLonger is Edits for a name of n letters and another of one letter less: a letter is taken out, and of what stands before it, or of what stands behind it and has moved by one,
// a letter is changed, or two neighbours are swapped.
func oneLonger(a, b uint64, n int) int {
	moved := a>>5 ^ b
	x, y := groups(a^b)&(1<<(5*(n-1))-1), groups(moved) // where the letters differ, and where they do from those moved by one
	first, last := 5*(n-1), 0
	if x != 0 {
		first = bits.TrailingZeros64(x)
	}
	if y != 0 {
		last = 68 - bits.LeadingZeros64(y)
	}
	if last <= first {
		return 1
	}
	before, behind := x&(1<<last-1), y&^(1<<first-1)
	if before&(before-1) == 0 || behind&(behind-1) == 0 || swap(a, b, before) || swap(a>>5, b, behind) {
		return 2
	}
	return Far
}

// swap reports whether the places in which two names differ are two neighbours that have changed places.
func swap(a, b, differ uint64) bool {
	at := bits.TrailingZeros64(differ)
	const neighbours = 1<<5 | 1
	a, b = a>>at&(1<<10-1), b>>at&(1<<10-1)
	return differ>>at == neighbours && a>>5|a<<5&(1<<10-1) == b
}

// twoLonger is Edits for a name of two letters more than b, of n letters: both are taken out; what lies between the two has moved by one, what lies behind them by two.
func twoLonger(a, b uint64, n int) int {
	moved := a>>10 ^ b
	first := min(bits.TrailingZeros64(a^b)/5, n)
	last := (63 - bits.LeadingZeros64(moved)) / 5 // the last letter of b that has not moved by two
	if moved == 0 || last < first || (a>>5^b)>>(5*first)&(uint64(1)<<(5*(last-first+1))-1) == 0 {
		return 2
	}
	return Far
}
