package inscription

import (
	"sync"

	"musterstone/model/date"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// chart holds all that the words of one inscription may be, and the ways to lay that end to end. A chart is used again and again; what
// it holds is good until it is.
type chart struct {
	lex     *lexicon
	w       *weights
	text    *words.Text
	context Context

	items     []item
	first     []int32 // per word: the first item that starts there, -1 for none
	sense     []float32
	nameScore []wordScore
	infos     []*nameInfo
	spots     []spot
	whens     []when
	ages      []date.Age
	// afterLabel tells at which words BORN, DIED or the like has just ended, so that a bare word may be a place.
	afterLabel []bool
	unitParts  []unit.Part
	states     []state
	at         [][]place // per place: states
	finals     []final
	best       []float32 // per place: the best score so far
	build      builder
	paths      []uint64 // what the paths built so far tell
	pathOf     []int    // and the reading that each became
	keys       []uint64 // what the readings built so far say
	made       []madeName
	own        words.Text

	hits  []words.Hit[entry] // all forms found, by the word where they start
	parts []unit.Part
	scan  unit.Scanner
}

var charts = sync.Pool{New: func() any { return &chart{lex: theLexicon(), w: &theLexicon().weights} }}

// final is a state at the end of the text, with the whole score. Where swapped is not negative, the path has item swapped in place of
// item swap: a form of the same words that tells something else.
type final struct {
	state         int32
	score         float32
	swap, swapped int32
}

// maxWords is how many words of an inscription are read; what follows is left unread.
const maxWords = 300

func (c *chart) add(it item) {
	if it.to > len(c.text.Words) || it.to <= it.from {
		return
	}
	it.next = c.first[it.from]
	c.items = append(c.items, it)
	c.first[it.from] = int32(len(c.items) - 1)
}

func (c *chart) addWhen(w when) int32 {
	c.whens = append(c.whens, w)
	return int32(len(c.whens) - 1)
}

func (c *chart) addAge(a date.Age) int32 {
	c.ages = append(c.ages, a)
	return int32(len(c.ages) - 1)
}

func (c *chart) addPart(p unit.Part) int32 {
	c.unitParts = append(c.unitParts, p)
	return int32(len(c.unitParts) - 1)
}

// fill finds all items of the text.
func (c *chart) fill(t *words.Text, ctx Context) {
	n := len(t.Words)
	c.text, c.context = t, ctx
	c.items, c.whens, c.ages, c.unitParts = c.items[:0], c.whens[:0], c.ages[:0], c.unitParts[:0]
	c.states, c.finals, c.made = c.states[:0], c.finals[:0], c.made[:0]
	c.first, c.sense, c.nameScore = c.first[:0], c.sense[:0], c.nameScore[:0]
	c.infos, c.spots = c.infos[:0], c.spots[:0]
	for i := range n {
		n := c.lex.names.Of(t, i)
		if n == nil {
			n = &noName
		}
		c.infos = append(c.infos, n)
		c.first = append(c.first, -1)
		c.sense = append(c.sense, 0)
	}
	for len(c.at) <= n {
		c.at = append(c.at, nil)
		c.best = append(c.best, 0)
	}
	for i := range n + 1 {
		c.at[i] = c.at[i][:0]
		c.best[i] = -1e30
	}
	c.hits = c.hits[:0]
	for i := range n {
		from := len(c.hits)
		c.hits = c.lex.forms.Find(c.hits, t, i)
		c.spots = append(c.spots, findSpot(c.hits[from:], i))
		c.spots[i].from, c.spots[i].to = from, len(c.hits)
	}
	c.afterLabel = append(c.afterLabel[:0], make([]bool, n+1)...)
	for i := range n {
		c.unitItems(i)
	}
	for i := range n {
		c.formItems(i)
	}
	for i := range n {
		c.nameScore = append(c.nameScore, c.nameWord(i))
	}
	for i := range n {
		c.nameItems(i)
		c.familyItems(i)
		c.placeItems(i)
		c.dateItems(i)
		c.ageItems(i, false, i)
		c.yearOfAge(i)
		c.graveItems(i)
		if c.mayBegin(i) {
			c.namedPost(i)
		}
		c.verseItems(i)
	}
}

// width is how many states are kept at one place, and reach by how much a state may be worse than the best there.
const (
	width = 10
	reach = 6
)

// gain is more than the step from a state adds to the score of an item of a kind.
func (s *state) gain(k kind) float32 {
	switch {
	case k == kUnit:
		return 0.7
	case k != kName:
		return 5
	case !s.unit.IsZero() || s.flags&(fWantName|fRelation) != 0:
		return 7
	case s.flags&fHead == 0:
		return 4.5
	}
	return 2
}

// unreadReach is by how much a state may be worse than the best there and still leave a word unread.
const unreadReach = 5

// search lays the items end to end, and leaves the ends in finals, best first.
func (c *chart) search() {
	n := len(c.text.Words)
	c.states = append(c.states, state{back: -1, item: -1})
	c.at[0] = append(c.at[0], place{0, 0})
	for i := range n {
		list := c.prune(c.at[i])
		for k := c.first[i]; k >= 0; k = c.items[k].next {
			it := &c.items[k]
			for _, p := range list {
				c.push(p.state, k, it)
			}
		}
		cost := c.unread(i)
		for _, p := range list {
			if c.states[p.state].score <= c.best[i]-unreadReach {
				break
			}
			c.pushUnread(p.state, i, cost)
		}
	}
	list := c.prune(c.at[n])
	for _, p := range list {
		c.finals = append(c.finals, final{p.state, c.states[p.state].score + c.end(&c.states[p.state]), -1, -1})
	}
	c.sortFinals()
	c.variants()
}

func (c *chart) sortFinals() {
	for i := 1; i < len(c.finals); i++ { // few, and nearly sorted
		for j := i; j > 0 && c.finals[j].score > c.finals[j-1].score; j-- {
			c.finals[j], c.finals[j-1] = c.finals[j-1], c.finals[j]
		}
	}
}

// variants adds to the best end those in which one form tells something else in the same place: "I. V. I." is of Illinois, of Indiana or of Iowa.
func (c *chart) variants() {
	best := c.finals[0]
	n := len(c.finals)
	for k := best.state; c.states[k].back >= 0; k = c.states[k].back {
		at := c.states[k].item
		if at < 0 {
			continue
		}
		it := &c.items[at]
		if it.kind != kUnit && it.kind != kRank {
			continue
		}
		for j := c.first[it.from]; j >= 0; j = c.items[j].next {
			o := &c.items[j]
			if j != at && o.kind == it.kind && o.to == it.to && o.score-it.score > -4 && c.tellsElse(it, o) {
				c.finals = append(c.finals, final{best.state, best.score + min(o.score-it.score, 0), at, j})
			}
		}
	}
	if len(c.finals) > n {
		c.sortFinals()
	}
}

// tellsElse reports whether two items of one kind on the same words tell different things in the same role.
func (c *chart) tellsElse(a, b *item) bool {
	if a.kind == kRank {
		return a.entry.code != b.entry.code && a.brevet == b.brevet
	}
	p, q := &c.unitParts[a.ref], &c.unitParts[b.ref]
	return p.Role == q.Role && p.Form != nil && q.Form != nil && p.Form != q.Form && p.Num == q.Num && p.Letter == q.Letter &&
		(p.Form.State != q.Form.State || p.Form.Arm != q.Form.Arm || p.Form.Body != q.Form.Body || p.Form.Kind != q.Form.Kind)
}

// prune keeps the best states of a place, best first.
func (c *chart) prune(list []place) []place {
	for i := 1; i < len(list); i++ {
		for j := i; j > 0 && c.states[list[j].state].score > c.states[list[j-1].state].score; j-- {
			list[j], list[j-1] = list[j-1], list[j]
		}
	}
	if len(list) > width {
		list = list[:width]
	}
	for len(list) > 1 && c.states[list[len(list)-1].state].score < c.states[list[0].state].score-reach {
		list = list[:len(list)-1]
	}
	return list
}

func (c *chart) push(from, k int32, it *item) {
	s := &c.states[from]
	if s.score+it.score+s.gain(it.kind) < c.best[it.to]-reach {
		return
	}
	next := *s
	if !c.step(&next, s, it) || next.score < c.best[it.to]-reach {
		return
	}
	next.back, next.item = from, k
	c.keep(it.to, &next)
}

// unread is what leaving word i unread costs, whatever stands before it.
func (c *chart) unread(i int) float32 {
	w := &c.text.Words[i]
	switch {
	case w.Has(words.Note):
		return -0.5
	case w.Has(words.Digits):
		return -2.6
	case lostWord(c.text.Key(i)):
		return -0.6
	case c.joins(i):
		return -1.3
	case c.text.Len(i) == 1:
		return -2
	}
	return -2.8
}

func (c *chart) pushUnread(from int32, i int, cost float32) {
	if c.states[from].score+cost+0.3 < c.best[i+1]-reach {
		return
	}
	next := c.states[from]
	if next.last == kRelation && c.joins(i) {
		cost -= 2.5 // "SON" and then "OF"
	}
	if !c.joins(i) && !c.text.Words[i].Has(words.FirstInLine) && !lostWord(c.text.Key(i)) {
		switch next.last {
		case kConflict, kBranch, kSide, kSociety, kAward: // "CIVIL WAR HISTORIAN"
			cost -= 2
		case kUnit:
			if !next.unit.Is(unit.RoleState) && !next.unit.Is(unit.RoleBody) {
				cost -= 2 // "10 CAV. ST."
				if next.flags&(fUnitBroken|fRank|fService|fSoldier) == 0 && next.unit.Has == bareUnit {
					cost -= c.w.DoubtBroken
					next.flags |= fUnitBroken
				}
			}
		}
	}
	if next.label == lKilled && !c.joins(i) {
		next.label = lDied // "KILLED BY LIGHTNING AT ANTIETAM"
	}
	if next.last == kUnread {
		cost += 0.3
	}
	if next.flags&fRankAlone != 0 {
		cost -= 2
		next.flags &^= fRankAlone
		next.flags |= fRankBroken
	}
	next.score += cost
	next.back, next.item = from, -int32(i)-2
	next.last = kUnread
	next.flags &^= fTitle
	c.keep(i+1, &next)
}

// bareUnit is a unit with a number and an arm and no more.
const bareUnit = 1<<unit.RoleNumber | 1<<unit.RoleArm

// joins reports whether word i only joins others; "A." is an initial.
func (c *chart) joins(i int) bool {
	return c.infos[i].function && !(c.text.Len(i) == 1 && c.text.Words[i].Has(words.DotAfter))
}

// lostWord reports whether nothing of a word is left.
func lostWord(key string) bool {
	for k := range len(key) {
		if key[k] != '?' && key[k] != '*' {
			return false
		}
	}
	return true
}

// keep adds a state at a place, or betters the one that is alike.
func (c *chart) keep(to int, s *state) {
	switch {
	case s.score < c.best[to]-reach:
		return
	case s.score > c.best[to]:
		c.best[to] = s.score
	}
	list, sign := c.at[to], s.sign()
	for k := range list {
		if list[k].sign != sign {
			continue
		}
		o := &c.states[list[k].state]
		if o.flags == s.flags && o.unit == s.unit && o.last == s.last && o.label == s.label {
			if s.score > o.score {
				*o = *s
			}
			return
		}
	}
	c.states = append(c.states, *s)
	c.at[to] = append(list, place{int32(len(c.states) - 1), sign})
}

// place is a state at a place, and its sign.
type place struct {
	state int32
	sign  uint32
}

// sign is a hash of all that tells a state from another but its score and the way to it.
func (s *state) sign() uint32 {
	h := uint64(s.flags)*0x9E3779B97F4A7C15 ^ (s.unit.Key()+uint64(s.last)<<56+uint64(s.label)<<48)*0xC2B2AE3D27D4EB4F
	return uint32(h >> 32)
}
