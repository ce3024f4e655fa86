package near

import "math/bits"

// Packed is a folded name, five bits a letter, the first lowest; 0 for one longer than Longest. Signs that are no letters are not told from each other.
type Packed uint64

// Longest is the most letters that are packed.
const Longest = 12

// Pack packs a folded name.
func Pack(folded string) Packed {
	if len(folded) > Longest {
		return 0
	}
	var p Packed
	for i := range len(folded) {
		code := Packed(27)
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

// groups has a bit for each letter that is not 0.
func groups(x uint64) uint64 {
	return (x | x>>1 | x>>2 | x>>3 | x>>4) & 0x0084210842108421
}

// OneOut reports whether a name is another with one letter taken out: all behind it has moved.
func OneOut(longer, shorter Packed) bool {
	first := longer.Alike(shorter)
	return longer>>(5*first+5) == shorter>>(5*first)
}

// TwoOff reports whether two names, of so many letters, can be two edits apart or less: a letter changed, put in or taken out, or two neighbours that have changed places.
func TwoOff(p, q Packed, lp, lq int) bool {
	if lp < lq {
		p, q, lp, lq = q, p, lq, lp
	}
	switch lp - lq {
	case 0:
		return twoOff(uint64(p), uint64(q))
	case 1:
		return oneLonger(uint64(p), uint64(q), lp)
	case 2:
		return twoLonger(uint64(p), uint64(q), lq)
	}
	return false
}

// twoOff is TwoOff for names of one length. Four letters that differ make two swaps; more than that is a letter taken out here and one put in there, so that what stands between
// them has moved by one.
func twoOff(a, b uint64) bool {
	differ := groups(a ^ b)
	if bits.OnesCount64(differ) <= 4 {
		return true
	}
	first, last := bits.TrailingZeros64(differ), 63-bits.LeadingZeros64(differ)
	mask := uint64(1)<<(last-first) - 1
	return a>>(first+5)&mask == b>>first&mask || b>>(first+5)&mask == a>>first&mask
}

// oneLonger is TwoOff for a name of n letters and another of one letter less: one letter is taken out, and what stands before it or after it up to where the two agree to the end
// differs by one more edit, two letters at most.
func oneLonger(a, b uint64, n int) bool {
	x := a ^ b
	first := min(bits.TrailingZeros64(x)/5, n-1)
	shifted := a>>5 ^ b                                       // where a's letters from the second on differ from b's
	last := (63 - bits.LeadingZeros64(groups(shifted)|1)) / 5 // the last place where they do
	if last < first {
		return true
	}
	region := (uint64(1)<<(5*(last+1)) - 1) &^ (uint64(1)<<(5*first) - 1)
	return bits.OnesCount64(groups(x)&region) <= 2 || bits.OnesCount64(groups(shifted)&region) <= 2
}

// twoLonger is TwoOff for a name of two letters more than b, of n letters: both are taken out; what lies between the two has moved by one, what lies behind them by two.
func twoLonger(a, b uint64, n int) bool {
	first := min(bits.TrailingZeros64(a^b)/5, n)
	last := (63 - bits.LeadingZeros64(a>>10^b)) / 5 // the last letter of b that has not moved by two
	if a>>10 == b || last < first {
		return true
	}
	return (a>>5^b)>>(5*first)&(uint64(1)<<(5*(last-first+1))-1) == 0
}
