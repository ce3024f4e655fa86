// This file finds the numbers of graves and of the posts of societies, which are worded alike.

package inscription

import (
	"strings"

	"musterstone/vocab/words"
)

// graveItems adds a number that may be a grave's.
func (c *chart) graveItems(i int) {
	t := c.text
	w := &t.Words[i]
	if w.Has(words.Digits) && w.Num > 0 && !w.Has(words.Ordinal) {
		if w.Has(words.FirstInLine) && w.Has(words.LastInLine) {
			it := item{from: i, to: i + 1, kind: kGrave, score: c.w.GraveNumber}
			if w.Line == 0 {
				it.score = c.w.GraveNumberFirst
			}
			if w.Num >= 1800 && w.Num < 2035 && w.Line > 0 {
				it.score += c.w.GraveNumberYear
			}
			if len(t.Words) == 1 && w.Num >= 1830 && w.Num < 2000 && !c.context.government() {
				it.score += c.w.NumberOrYear // of the numbers on blocks few are such, of years alone nearly all
			}
			c.add(it)
		}
		return
	}
	if w.Flags&(words.Digits|words.Lost|words.FirstInLine|words.LastInLine|words.Ordinal) == words.Digits|words.Lost|words.FirstInLine|words.LastInLine && w.Line == 0 && len(t.Words) > 1 {
		if key := t.Key(i); strings.IndexByte(key, '*') < 0 && strings.Trim(key, "0123456789?") == "" {
			c.add(item{from: i, to: i + 1, kind: kGrave, score: c.w.GraveNumberFirst}) // "255[.]"
		}
		return
	}
	if to := c.departmentOf(i); to > i {
		c.add(item{from: i, to: to, kind: kFraternal, score: c.w.Department})
	}
	if c.infos[i].starts&(sGrave|sPlot|sPost) != 0 {
		if k := c.numero(i + 1); k < len(t.Words) && t.Words[k].Num > 0 {
			c.add(item{from: i, to: k + 1, kind: kGrave, score: c.w.GraveWord})
		}
	}
}

// numero is the word after NO. at word i, or i.
func (c *chart) numero(i int) int {
	if i < len(c.text.Words) && c.text.Key(i) == "NO" {
		return i + 1
	}
	return i
}

// departmentOf is the word after "DEPT. OF ILL.", of a society, at word i, or i.
func (c *chart) departmentOf(i int) int {
	if i+2 < len(c.text.Words) && c.infos[i].starts&sDept != 0 && c.text.Key(i+1) == "OF" && c.spots[i+2].state > 0 {
		return c.spots[i+2].state
	}
	return i
}

// postAt is the word after POST with its number at word i, or i.
func (c *chart) postAt(i int) int {
	if i >= len(c.text.Words) || c.infos[i].starts&sPost == 0 {
		return i
	}
	i = c.numero(i + 1)
	if i < len(c.text.Words) && c.text.Words[i].Has(words.Digits) {
		i++
	}
	return i
}

// namedPost adds a society with its post before it: "JOHN WOOD POST NO. 96, DEPT. OF ILL., G. A. R.".
func (c *chart) namedPost(i int) {
	t := c.text
	k := i
	for k < len(t.Words) && k < i+4 && c.infos[k].starts&sPost == 0 && !t.Words[k].Has(words.Digits) && !t.Words[k].Has(words.LastInLine) {
		k++
	}
	to := c.postAt(k)
	if to == k {
		return
	}
	if k = c.departmentOf(to); k >= len(t.Words) {
		return
	}
	for _, h := range c.hits[c.spots[k].from:c.spots[k].to] {
		if h.entry.kind == kSociety {
			c.add(item{from: i, to: h.to, kind: kSociety, entry: h.entry, score: c.w.NamedPost + c.w.NamedPostWord*float32(k-i)})
		}
	}
}

// post adds a society with the number of its post: "G. A. R. POST NO. 12".
func (c *chart) post(it item) {
	if to := c.postAt(it.to); to > it.to {
		it.to = to
		it.score += c.w.Post
		c.add(it)
	}
}
