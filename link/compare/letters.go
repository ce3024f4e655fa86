package compare

import "encoding/binary"

// most is how many letters the fast ways take: one bit each.
const most = 64

// letters is a name of up to most ASCII letters, eight to a word.
type letters struct {
	words [most / 8]uint64
	n     int // letters
	used  int // words
}

const (
	lows  = 0x7f7f7f7f7f7f7f7f
	highs = 0x8080808080808080
	ones  = 0x0101010101010101
)

// load packs a name; false where it is too long or not ASCII.
func (l *letters) load(s string) bool {
	l.n, l.used = len(s), (len(s)+7)/8
	if l.n > most {
		return false
	}
	var all uint64
	i := 0
	for ; len(s)-i >= 8; i += 8 {
		w := binary.LittleEndian.Uint64([]byte(s[i : i+8]))
		l.words[i/8] = w
		all |= w
	}
	if i < len(s) {
		w := tail(s[i:])
		l.words[i/8] = w
		all |= w
	}
	return all&highs == 0
}

// word packs one to eight letters.
func word(s string) uint64 {
	if len(s) == 8 {
		return binary.LittleEndian.Uint64([]byte(s))
	}
	return tail(s)
}

// tail packs one to seven letters.
func tail(s string) uint64 {
	n := len(s)
	if n >= 4 {
		lo := uint64(s[0]) | uint64(s[1])<<8 | uint64(s[2])<<16 | uint64(s[3])<<24
		t := s[n-4:]
		hi := uint64(t[0]) | uint64(t[1])<<8 | uint64(t[2])<<16 | uint64(t[3])<<24
		return lo | hi<<(8*(n-4)) // the letters that both hold are the same
	}
	return uint64(s[0]) | uint64(s[n/2])<<(8*(n/2)) | uint64(s[n-1])<<(8*(n-1))
}

// eq has bit i set where letter i is c. Where the name has ended it may have bits set if c is 0.
func (l *letters) eq(c byte) uint64 {
	splat := uint64(c) * ones
	mask := equalBytes(l.words[0] ^ splat)
	for k := 1; k < l.used; k++ {
		mask |= equalBytes(l.words[k]^splat) << (8 * k)
	}
	return mask
}

// equalBytes has bit i set where byte i of x is zero.
func equalBytes(x uint64) uint64 {
	zero := ^((x&lows + lows) | x | lows) // the top bit of each zero byte; no carry crosses a byte
	return zero * 0x0002040810204081 >> 56
}

// at is letter i.
func (l *letters) at(i int) byte { return byte(l.words[i>>3] >> (8 * (i & 7))) }

// low has the lowest n bits set.
func low(n int) uint64 {
	if n >= 64 {
		return ^uint64(0)
	}
	return 1<<n - 1
}

// runes gives the characters of s, in buf where they fit.
func runes(s string, buf *[most]rune) []rune {
	out := buf[:0]
	for _, r := range s {
		out = append(out, r)
	}
	return out
}
