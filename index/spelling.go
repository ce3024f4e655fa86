package index

import "strings"

// maxSpelling is the longest surname, in letters, that is compared letter by letter.
const maxSpelling = 60

// scan goes through the sorted surnames and gives those within so many edits of the pattern to found, with the distance. '?' in a pattern
// or in a surname stands for one letter, '*' for any number; they cost nothing. Letters that a surname shares with the one before are not worked
// out again, and surnames that begin with letters that are too far already are passed over.
func (n *names) scan(pattern string, edits int, found func(surname uint32, distance int)) {
	if strings.Contains(pattern, "*") {
		n.scanOpen(pattern, edits, found)
		return
	}
	for _, i := range n.open {
		if d := distance(pattern, n.roll.surnames[i], edits); d <= edits {
			found(i, d)
		}
	}
	// Only the cells of the table within so many of the diagonal can count; those at their edges are set to far.
	const far = maxSpelling + 2
	var t [maxSpelling + 1][maxSpelling + 2]uint8
	m := len(pattern)
	for j := range min(m, edits) + 1 {
		t[0][j] = uint8(j)
	}
	t[0][min(m, edits)+1] = far
	dead := far // the number of first letters that are too far already
	for at, i := range n.closed {
		from := int(n.shared[at])
		if from >= dead {
			continue
		}
		dead = far
		s := n.roll.surnames[i]
		if len(s) > maxSpelling {
			s = s[:maxSpelling]
		}
		for k := from; k < len(s); k++ {
			r := k + 1
			lo, hi := max(1, r-edits), min(m, r+edits)
			if lo > m {
				dead = r
				break
			}
			c := s[k]
			prev, cur := &t[k], &t[r]
			left := uint8(far)
			if r <= edits {
				left = uint8(r)
			}
			cur[lo-1] = left
			least := left
			for j := lo; j <= hi; j++ {
				p := pattern[j-1]
				d := prev[j-1]
				if p != c && p != '?' && c != '?' {
					d++
				}
				d = min(d, prev[j]+1, left+1)
				if r > 1 && j > 1 && p == s[k-1] && pattern[j-2] == c {
					d = min(d, t[k-1][j-2]+1)
				}
				cur[j] = d
				left = d
				least = min(least, d)
			}
			cur[hi+1] = far
			if int(least) > edits {
				dead = r
				break
			}
		}
		if dead == far && m-len(s) <= edits && int(t[len(s)][m]) <= edits {
			found(i, int(t[len(s)][m]))
		}
	}
}

// scanOpen is scan for a pattern with a stretch of unknown length.
func (n *names) scanOpen(pattern string, edits int, found func(surname uint32, distance int)) {
	for i, s := range n.roll.surnames {
		if d := distance(pattern, s, edits); d <= edits {
			found(uint32(i), d)
		}
	}
}

// distance is the number of edits (a letter put in, left out, changed, or two neighbours swapped, no letter edited twice) between a
// pattern and a surname, or edits+1 where there are more.
func distance(pattern, s string, edits int) int {
	if len(pattern) > maxSpelling {
		return edits + 1
	}
	if len(s) > maxSpelling {
		s = s[:maxSpelling]
	}
	if apart := len(s) - len(pattern); (apart > edits || -apart > edits) && !strings.Contains(pattern, "*") && !strings.Contains(s, "*") {
		return edits + 1
	}
	var t spellingTable
	t.begin(pattern)
	for k := range len(s) {
		if t.step(pattern, s, k) > edits {
			return edits + 1
		}
	}
	return min(int(t[len(s)][len(pattern)]), edits+1)
}

// A spellingTable has the distances between the first letters of a surname (rows) and of a pattern (columns).
type spellingTable [maxSpelling + 1][maxSpelling + 1]uint8

func (t *spellingTable) begin(pattern string) {
	for j := range len(pattern) {
		t[0][j+1] = t[0][j] + 1
		if pattern[j] == '*' {
			t[0][j+1] = t[0][j]
		}
	}
}

// step works out the row of the first k+1 letters of s, and gives its least distance: no surname that begins with them has a lesser.
func (t *spellingTable) step(pattern, s string, k int) int {
	c := s[k]
	prev, cur := &t[k], &t[k+1]
	cur[0] = prev[0] + 1
	if c == '*' {
		cur[0] = prev[0]
	}
	least := cur[0]
	for j := range len(pattern) {
		p := pattern[j]
		d := prev[j]
		if p != c && p != '?' && c != '?' {
			d++
		}
		gone, extra := prev[j+1]+1, cur[j]+1
		if p == '*' || c == '*' {
			gone, extra, d = gone-1, extra-1, prev[j]
		}
		d = min(d, gone, extra)
		if k > 0 && j > 0 && p == s[k-1] && pattern[j-1] == c {
			d = min(d, t[k-1][j-1]+1)
		}
		cur[j+1] = d
		least = min(least, d)
	}
	return int(least)
}
