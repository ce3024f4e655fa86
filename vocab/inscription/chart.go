package inscription

import (
	"slices"
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
	found []words.Hit[int32] // those of one word
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
	post := false // a society's post is named
	for i := range n {
		n := c.lex.names.Of(t, i)
		if n == nil {
			n = &noName
		}
		c.infos = append(c.infos, n)
		post = post || t.Key(i) == "POST"
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
		c.found = c.lex.forms.FindFrom(c.found[:0], t, i, c.infos[i].form)
		for k := range c.found {
			f := &c.found[k]
			c.hits = append(c.hits, words.Hit[entry]{To: f.To, Value: &c.lex.entries[*f.Value], Guessed: f.Guessed})
		}
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
		if post && c.mayBegin(i) {
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
	c.at[0] = append(c.at[0], place{})
	for i := range n {
		list := prune(c.at[i])
		for k := c.first[i]; k >= 0; k = c.items[k].next {
			c.push(list, k)
		}
		cost := c.unread(i)
		for _, p := range list {
			if p.score <= c.best[i]-unreadReach {
				break
			}
			c.pushUnread(p.state, i, cost)
		}
	}
	for _, p := range prune(c.at[n]) {
		c.finals = append(c.finals, final{p.state, p.score + c.end(&c.states[p.state]), -1, -1})
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
func prune(list []place) []place {
	for i := 1; i < len(list); i++ {
		p, j := list[i], i
		for ; j > 0 && p.score > list[j-1].score; j-- {
			list[j] = list[j-1]
		}
		list[j] = p
	}
	if len(list) > width {
		list = list[:width]
	}
	for len(list) > 1 && list[len(list)-1].score < list[0].score-reach {
		list = list[:len(list)-1]
	}
	return list
}

// push lays item k behind each of the states of a place, which are best first.
func (c *chart) push(list []place, k int32) {
	it := &c.items[k]
	best := &c.best[it.to]
	for _, p := range list {
		s := &c.states[p.state]
		if p.score+it.score+s.gain(it.kind) < *best-reach {
			if it.kind == kName {
				continue
			}
			return // the gain is the same for all, and those that follow are no better
		}
		next := c.room()
		s = &c.states[p.state]
		*next = *s
		if c.step(next, s, it) && next.score >= *best-reach {
			next.back, next.item = p.state, k
			c.keep(it.to, next)
		} else {
			c.states = c.states[:len(c.states)-1]
		}
	}
}

// room is one more state, to be kept or given back.
func (c *chart) room() *state {
	if len(c.states) == cap(c.states) {
		c.states = slices.Grow(c.states, 64)
	}
	c.states = c.states[:len(c.states)+1]
	return &c.states[len(c.states)-1]
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
	next := c.room()
	*next = c.states[from]
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
	c.keep(i+1, next)
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

// keep takes the last of the states, s, in at a place, or betters the one that is alike.
func (c *chart) keep(to int, s *state) {
	last := len(c.states) - 1
	switch best := &c.best[to]; {
	case s.score < *best-reach:
		c.states = c.states[:last]
		return
	case s.score > *best:
		*best = s.score
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
				list[k].score = s.score
			}
			c.states = c.states[:last]
			return
		}
	}
	c.at[to] = append(list, place{int32(last), sign, s.score})
}

// place is a state at a place, with its sign and score.
type place struct {
	state int32
	sign  uint32
	score float32
}

// sign is a hash of all that tells a state from another but its score and the way to it.
func (s *state) sign() uint32 {
	h := uint64(s.flags)*0x9E3779B97F4A7C15 ^ (s.unit.Key()+uint64(s.last)<<56+uint64(s.label)<<48)*0xC2B2AE3D27D4EB4F
	return uint32(h >> 32)
}
