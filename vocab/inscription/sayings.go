package inscription

import "musterstone/vocab/words"

// verseItems adds a whole line as verse, by how many of its words are those of epitaphs.
func (c *chart) verseItems(i int) {
	t := c.text
	if !t.Words[i].Has(words.FirstInLine) {
		return
	}
	common, others := 0, 0
	k := i
	for ; k < len(t.Words) && t.Words[k].Line == t.Words[i].Line; k++ {
		w := &t.Words[k]
		switch {
		case w.Has(words.Digits):
			others += 3
		case c.infos[k].common:
			common++
		case t.Len(k) == 1, c.sense[k] >= 1:
			others += 2
		default:
			others++
		}
	}
	if common < 2 || common+others < 3 || others > common {
		return
	}
	c.add(item{from: i, to: k, kind: kSaying, score: 0.75*float32(common) - 0.9*float32(others)})
}
