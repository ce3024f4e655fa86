package inscription

import "musterstone/vocab/words"

// verseItems adds the whole line that word i begins as verse, by how many of its words are those of epitaphs.
func (c *chart) verseItems(i int) {
	t := c.text
	common, others := 0, 0
	k := i
	for ; k < len(t.Words) && t.Words[k].Line == t.Words[i].Line; k++ {
		if c.infos[k].common {
			common++
		}
	}
	if common < 2 {
		return
	}
	common, k = 0, i
	for ; k < len(t.Words) && t.Words[k].Line == t.Words[i].Line; k++ {
		w := &t.Words[k]
		for _, h := range c.hits[c.spots[k].from:c.spots[k].to] {
			switch h.entry.kind {
			case kConflict, kAward, kBranch, kSide, kSociety:
				if h.to-k > 1 {
					return // "AND OF THE WAR FOR THE UNION", "PURPLE HEART"
				}
			case kPlace:
				if h.to-k > 1 && (h.entry.place == battle || h.entry.place == prison) {
					return // "AT COLD HARBOR"
				}
			}
		}
		switch {
		case w.Has(words.Digits):
			others += 3
		case c.infos[k].common && c.sense[k] < 1.4:
			common++
		case t.Len(k) == 1, c.sense[k] >= 1:
			others += 2
		default:
			others++
		}
	}
	if common < 2 || common+others < 3 && (others > 0 || c.sense[i] > 0 || c.infos[i].named) || others > common {
		return
	}
	c.add(item{from: i, to: k, kind: kSaying, score: c.w.VerseWord*float32(common) + c.w.VerseOther*float32(others)})
}
