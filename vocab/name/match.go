package name

import "strings"

// Match reports whether a folded name fits a pattern, which is the Fold of a damaged name: "?" is any one letter, "*" any
// number of letters. The name may itself have lost letters; then it fits where some name fits both. The time taken grows with the
// length of the one times the other at most, never with the number of ways to fit.
func Match(pattern, folded string) bool {
	if !wild(pattern) && !wild(folded) {
		return pattern == folded
	}
	if wild(folded) {
		return meet(pattern, folded)
	}
	return along(pattern, folded, nil)
}

// along reports whether a name without lost letters fits a pattern; also, if not nil, says which letters of the pattern may be which others.
//
// It is greedy: only the last "*" ever needs another try, since an earlier one could only give what a later one takes up.
func along(pattern, folded string, also func(p, t int) bool) bool {
	p, t, star, mark := 0, 0, -1, 0
	for t < len(folded) {
		switch {
		case p < len(pattern) && pattern[p] == '*':
			star, mark = p, t
			p++
		case p < len(pattern) && (pattern[p] == '?' || pattern[p] == folded[t] || also != nil && also(p, t)):
			p++
			t++
		case star >= 0:
			mark++
			p, t = star+1, mark
		default:
			return false
		}
	}
	return strings.Trim(pattern[p:], "*") == ""
}

// meet reports whether some name fits both patterns. Row by row: can[j] says whether what is left of a, and b from j, can meet.
func meet(a, b string) bool {
	can := make([]bool, len(b)+1)
	next := make([]bool, len(b)+1)
	can[len(b)] = true
	for j := len(b) - 1; j >= 0; j-- {
		can[j] = can[j+1] && b[j] == '*'
	}
	for i := len(a) - 1; i >= 0; i-- {
		next[len(b)] = a[i] == '*' && can[len(b)]
		for j := len(b) - 1; j >= 0; j-- {
			if a[i] == '*' || b[j] == '*' {
				next[j] = can[j] || next[j+1] // the star takes nothing more of its side, or one sign more of the other
			} else {
				next[j] = can[j+1] && (a[i] == b[j] || a[i] == '?' || b[j] == '?')
			}
		}
		can, next = next, can
	}
	return can[0]
}

// Miscounted are the patterns that a pattern may have been if the lost letters of one of its gaps were miscounted: half as many more or fewer. How many letters a gap held is guessed from its width; by
// how much the guesses err, house judgement.
func Miscounted(pattern string) []string {
	var list []string
	for i := 0; i < len(pattern); {
		n := 0
		for i+n < len(pattern) && pattern[i+n] == '?' {
			n++
		}
		if n == 0 {
			i++
			continue
		}
		for held := n - n/2; held <= n+n/2; held++ {
			if held != n {
				list = append(list, pattern[:i]+strings.Repeat("?", held)+pattern[i+n:])
			}
		}
		i += n
	}
	return list
}
