package index

import (
	"strings"
	"sync"

	"musterstone/vocab/name/near"
)

// maxSpelling is the longest surname, in letters, that is compared letter by letter.
const maxSpelling = 60

// A spellingPattern is a spelling made ready to be compared with many.
type spellingPattern struct {
	text    string
	letters near.Letters
	packed  near.Packed // 0 where letters are lost, or other signs among them
	table   near.Table  // of packed, or of a short name with lost letters
	worn    bool        // it is that of such a name
	lost    int         // letters that may be any
	open    bool        // it has a stretch of unknown length
	at      func() *[256]uint64
	gaps    *gapPattern // where it is open
}

func newSpellingPattern(s string) *spellingPattern {
	p := &spellingPattern{text: s, letters: near.LettersOf(s), lost: strings.Count(s, "?"), open: strings.Contains(s, "*")}
	if p.open && len(s) <= maxSpelling {
		p.gaps = newGapPattern(s)
	}
	if p.open || len(s) > maxSpelling {
		return p
	}
	if packed := near.Pack(s); packed.Plain() {
		p.packed, p.table = packed, near.NewTable(packed)
	}
	if p.lost > 0 {
		p.table, p.worn = near.NewLostTable(s)
	}
	p.at = sync.OnceValue(func() *[256]uint64 { return placesOf(s) }) // hardly ever wanted where the pattern is packed
	return p
}

// placesOf are the places of each letter in a spelling as bits; a lost one may be any.
func placesOf(s string) *[256]uint64 {
	at := new([256]uint64)
	var lost uint64
	for i := range len(s) {
		if s[i] == '?' {
			lost |= 1 << i
		}
		at[s[i]] |= 1 << i
	}
	for c := range at {
		at[c] |= lost
	}
	at['?'] = 1<<len(s) - 1
	return at
}

// distance is the function distance for the pattern.
func (p *spellingPattern) distance(s string, edits int) int {
	m := len(p.text)
	if p.gaps != nil && edits <= mostGapEdits && !strings.ContainsAny(s, "?*") {
		return p.gaps.distance(s[:min(len(s), maxSpelling)], edits)
	}
	if p.open || m == 0 || m > maxSpelling || strings.IndexByte(s, '*') >= 0 {
		return distance(p.text, s, edits)
	}
	if len(s) > maxSpelling {
		s = s[:maxSpelling]
	}
	if apart := len(s) - m; apart > edits || -apart > edits {
		return edits + 1
	}
	return p.bits(s, edits)
}

// bits is distance for a pattern and a spelling without stretches of unknown length, neither longer than maxSpelling nor the pattern empty.
func (p *spellingPattern) bits(s string, edits int) int {
	c, at := near.NewColumn(len(p.text)), p.at()
	for i := range len(s) {
		c.Next(at[s[i]])
	}
	return min(c.Edits, edits+1)
}

// mostGapEdits is the most edits that a gapPattern counts.
const mostGapEdits = 3

// A gapPattern is a spelling with stretches of unknown length as an automaton (Wu and Manber 1992), in which two neighbours may also change places: bit i of row d stands for i of its
// letters having been met with d edits.
type gapPattern struct {
	at      [256]uint64 // for each letter, where it may stand
	gaps    uint64      // before which letters such a stretch is
	letters int
}

func newGapPattern(s string) *gapPattern {
	g := &gapPattern{letters: len(s) - strings.Count(s, "*")}
	g.at = *placesOf(strings.ReplaceAll(s, "*", ""))
	n := 0
	for i := range len(s) {
		if s[i] == '*' {
			g.gaps |= 1 << n
		} else {
			n++
		}
	}
	return g
}

// distance is the function distance of the pattern, for at most mostGapEdits and a spelling of at most maxSpelling letters none of which is lost.
func (g *gapPattern) distance(s string, edits int) int {
	w := newGapWalk(edits)
	for i := 0; i < len(s) && w.now[edits] != 0; i++ {
		w.next(g, g.at[s[i]], edits)
	}
	return w.distance(g, edits)
}

// packed is distance for a packed name of plain letters.
func (g *gapPattern) packed(p near.Packed, edits int) int {
	w := newGapWalk(edits)
	for ; p != 0 && w.now[edits] != 0; p >>= 5 {
		w.next(g, g.at['a'-1+p&31], edits)
	}
	return w.distance(g, edits)
}

// A gapWalk is the rows of a gapPattern after some letters of a spelling; once the last row is empty all stay so.
type gapWalk struct {
	now, before [mostGapEdits + 1]uint64 // the rows, and those before the last letter
	last        uint64                   // where that may stand
}

func newGapWalk(edits int) (w gapWalk) {
	for d := range edits + 1 {
		w.now[d] = 1<<(d+1) - 1
	}
	return w
}

// next takes a letter that may stand at those places.
func (w *gapWalk) next(g *gapPattern, at uint64, edits int) {
	swap := at & (w.last >> 1) &^ (g.gaps >> 1)
	was, row := uint64(0), uint64(0) // of the row before: as it was, and as it is now
	for d := range edits + 1 {
		now := w.now[d]
		next := now&at<<1 | now&g.gaps // the letter, or one of the stretch
		if d > 0 {
			next |= was | was<<1 | row<<1 | // a letter put in, changed, left out
				w.before[d-1]&swap<<2 // two that have changed places
			w.before[d-1] = was
		}
		w.now[d] = next
		was, row = now, next
	}
	w.last = at
}

func (w *gapWalk) distance(g *gapPattern, edits int) int {
	for d := range edits + 1 {
		if w.now[d]>>g.letters&1 != 0 {
			return d
		}
	}
	return edits + 1
}

// scan gives the surnames within so many edits of the pattern to found, with the distance. '?' in a pattern or in a surname stands for
// one letter, '*' for any number; they cost nothing.
func (n *names) scan(p *spellingPattern, edits int, found func(surname uint32, distance int)) {
	for _, i := range n.lost {
		if d := p.distance(n.roll.surnames[i], edits); d <= edits {
			found(i, d)
		}
	}
	from, to := max(0, len(p.text)-edits), min(maxSpelling, len(p.text)+edits)
	if p.open {
		from, to = 0, maxSpelling
	}
	whole := p.distance
	if p.gaps != nil && edits <= mostGapEdits {
		whole = func(s string, edits int) int { return p.gaps.distance(s[:min(len(s), maxSpelling)], edits) } // those with lost letters have been looked at
	} else if !p.open && p.text != "" && len(p.text) <= maxSpelling {
		whole = func(s string, edits int) int { return p.bits(s[:min(len(s), maxSpelling)], edits) }
	}
	var room [512]int32
	for length := from; length <= to; length++ {
		// Each edit takes one letter of the pattern away, or brings one that it has not; some of them make up for the other length.
		gone, come := edits-max(0, length-len(p.text)), edits-max(0, len(p.text)-length)+p.lost
		if p.open {
			gone, come = edits, 64
		}
		for _, k := range n.sieve.Near(room[:0], n.byLength[length], n.byLength[length+1], p.letters, gone, come) {
			// What lies in memory as a whole name is looked at only where it is not packed.
			i, other, d := n.number[k], n.packed[k], 0
			switch {
			case p.gaps != nil && edits <= mostGapEdits && other != 0 && other.Plain():
				d = p.gaps.packed(other, edits)
			case p.worn && other != 0 && other.Plain():
				d = min(p.table.Edits(other), edits+1)
			case p.packed == 0 || other == 0:
				d = whole(n.roll.surnames[i], edits)
			case edits < near.Far:
				d = near.Edits(p.packed, other, len(p.text), length)
			default:
				d = min(p.table.Edits(other), edits+1)
			}
			if d <= edits {
				found(i, d)
			}
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
