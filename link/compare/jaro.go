package compare

import "math/bits"

// Jaro's measure, and Winkler's: Jaro 1989; Winkler 1990. Of two names a and b, m letters match that are the same and no farther apart than
// max(|a|,|b|)/2 - 1 places, each used once, from left to right; of these k are out of order, and t = k/2. On two things programs
// differ, and the published tables do not tell:
//
//   - an odd k is halved down here: saturday and sunday come to 0.7528, where halving to a fraction gives 0.7194;
//   - the prefix counts here only where Jaro's measure is above 0.7: wilson and wikeman stay at 0.6429, and do not rise to 0.7143.
//
// Which name goes first makes no difference: for each letter, going along either name pairs the same places.
const (
	prefixWeight = 0.1
	prefixMost   = 4
	boostAbove   = 0.7
)

// JaroWinkler gives J + 0.1 L (1-J), J being Jaro's measure, (m/|a| + m/|b| + (m-t)/m) / 3, and L the length of the beginning that both share, at most 4; J itself where it is not above
// 0.7. It is symmetric, from 0 for nothing in common to 1 for the same name. An empty name gives 0.
func JaroWinkler(a, b string) float64 {
	j, prefix := jaro(a, b)
	if j <= boostAbove {
		return j
	}
	return j + float64(prefix)*prefixWeight*(1-j)
}

// jaro gives Jaro's measure, and how much of the beginning is shared, at most prefixMost.
func jaro(a, b string) (j float64, prefix int) {
	if a == "" || b == "" {
		return 0, 0
	}
	if len(a) > len(b) {
		a, b = b, a
	}
	if a == b {
		return 1, prefixMost
	}
	if len(b) <= 8 { // as most names are
		x, y := word(a), word(b)
		if (x|y)&highs == 0 {
			return jaroWords(x, y, len(a), len(b))
		}
		return jaroRunes(a, b)
	}
	return jaroLong(a, b)
}

// jaroWords compares names of up to eight letters, a letter a byte; the second is not the shorter.
func jaroWords(x, y uint64, nx, ny int) (j float64, prefix int) {
	prefix = min(bits.TrailingZeros64(x^y)/8, nx, prefixMost)
	window := max(0, ny/2-1)
	var order, used uint64
	around := low(2*window+1) << (8 - window) // the places within reach of place i, moved up by 8-i
	ends := low(ny)
	m := 0
	for i := range nx {
		c := x >> (8 * i) & 0xff
		free := equalBytes(y^c*ones) & (around << i >> 8) & ends &^ used
		used |= free & -free
		hit := (free | -free) >> 63 // 1 where there is one
		order |= c * hit << (8 * m)
		m += int(hit)
	}
	if m == 0 {
		return 0, prefix
	}
	var other uint64
	for k, left := 0, used; left != 0; k, left = k+8, left&(left-1) {
		other |= y >> (8 * bits.TrailingZeros64(left)) & 0xff << k
	}
	out := m - bits.OnesCount64(equalBytes(order^other)&low(m))
	return measure(m, out, nx, ny), prefix
}

// jaroLong compares names of up to most letters, a bit for each place; the second is not the shorter.
func jaroLong(a, b string) (j float64, prefix int) {
	var x, y letters
	if !x.load(a) || !y.load(b) {
		return jaroRunes(a, b)
	}
	prefix = min(bits.TrailingZeros64(x.words[0]^y.words[0])/8, x.n, prefixMost)
	window := max(0, y.n/2-1)
	var used uint64
	var inA [most]byte
	m := 0
	for i := range x.n {
		c := x.at(i)
		free := y.eq(c) & low(min(i+window+1, y.n)) &^ low(max(0, i-window)) &^ used
		if free == 0 {
			continue
		}
		used |= free & -free
		inA[m] = c
		m++
	}
	if m == 0 {
		return 0, prefix
	}
	out := 0
	for k, left := 0, used; left != 0; k, left = k+1, left&(left-1) {
		if y.at(bits.TrailingZeros64(left)) != inA[k] {
			out++
		}
	}
	return measure(m, out, x.n, y.n), prefix
}

// measure is Jaro's formula for m matches of which out are out of order.
func measure(m, out, a, b int) float64 {
	f := float64(m)
	return (f/float64(a) + f/float64(b) + (f-float64(out/2))/f) / 3
}

// jaroRunes compares names in the textbook way, character by character: those that are not ASCII, or too long for bits.
func jaroRunes(s, t string) (j float64, prefix int) {
	var bufA, bufB [most]rune
	a, b := runes(s, &bufA), runes(t, &bufB)
	if len(a) > len(b) {
		a, b = b, a
	}
	for prefix < min(len(a), prefixMost) && a[prefix] == b[prefix] {
		prefix++
	}
	window := max(0, len(b)/2-1)
	var bufUsed [most]bool
	used := bufUsed[:]
	if len(b) > most {
		used = make([]bool, len(b))
	}
	var bufMatched [most]rune
	matched := bufMatched[:0]
	for i, c := range a {
		for k := max(0, i-window); k < min(i+window+1, len(b)); k++ {
			if !used[k] && b[k] == c {
				used[k] = true
				matched = append(matched, c)
				break
			}
		}
	}
	if len(matched) == 0 {
		return 0, prefix
	}
	out, k := 0, 0
	for i, c := range b {
		if used[i] {
			if matched[k] != c {
				out++
			}
			k++
		}
	}
	return measure(len(matched), out, len(a), len(b)), prefix
}
