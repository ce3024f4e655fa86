package inscription

import (
	"cmp"
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

	items      []item
	first      []int32 // per word: the first item that starts there, -1 for none
	sense      []float32
	nameScore  []wordScore
	infos      []nameInfo
	units      []unit.Word
	spots      []spot
	whens      []when
	ages       []date.Age
	and, place []uint8 // per word: how far ahead stands what makes a pair of people, and a place
	// afterLabel tells at which words BORN, DIED or the like has just ended, so that a bare word may be a place.
	afterLabel []bool
	unitParts  []unit.Part
	states     []state
	at         []stop // per place, that before each word and that behind the last
	finals     []final
	ranked     [width]place // those of one place, best first
	build      builder
	paths      []uint64 // what the paths built so far tell
	pathOf     []int    // and the reading that each became
	keys       []uint64 // what the readings built so far say
	made       []madeName
	own        words.Text

	hits  []hit         // all forms found, by the word where they start
	found []words.Found // those of one word
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
	if it.kind == kName {
		c.nameBits(&it)
	}
	it.next = c.first[it.from]
	c.items = append(c.items, it)
	c.first[it.from] = int32(len(c.items) - 1)
}

// nameBits notes of a name what every step to it asks.
func (c *chart) nameBits(it *item) {
	w, s, n := &c.text.Words[it.from], &c.nameScore[it.from], &it.name
	n.first = w.Has(words.FirstInLine)
	n.named = s.givenName || s.initial || w.Has(words.CommaAfter)
	n.noGiven = !s.givenName && !s.initial && !w.Has(words.Lost)
	n.noSurname = int(n.surname) == it.to && !n.givenOnly && n.suffix < 0
}

func (c *chart) addWhen(w when) int32 {
	c.whens = append(c.whens, w)
	return int32(len(c.whens) - 1)
}

func (c *chart) addAge(a date.Age) int32 {
	c.ages = append(c.ages, a)
	return int32(len(c.ages) - 1)
}

// fill finds all items of the text.
func (c *chart) fill(t *words.Text, ctx Context) {
	n := len(t.Words)
	c.text, c.context = t, ctx
	c.items, c.whens, c.ages, c.unitParts = c.items[:0], c.whens[:0], c.ages[:0], c.unitParts[:0]
	c.states, c.finals, c.made = c.states[:0], c.finals[:0], c.made[:0]
	c.first, c.sense, c.nameScore = sized(c.first, n), sized(c.sense, n), sized(c.nameScore, n)
	c.infos, c.units, c.spots, c.at = sized(c.infos, n), sized(c.units, n), sized(c.spots, n), sized(c.at, n+1)
	c.afterLabel = sized(c.afterLabel, n+1)
	clear(c.afterLabel)
	post := false // a society's post is named
	for i := range n {
		info := &c.infos[i]
		if p := c.lex.known.Of(t, i); p != nil {
			p.unpack(info)
		} else {
			*info = nameInfo{}
		}
		c.units[i] = info.unit
		post = post || info.starts&sPost != 0
		c.first[i], c.sense[i] = -1, 0
	}
	for i := range c.at {
		at := &c.at[i]
		at.best, at.list = none, at.list[:0]
	}
	c.hits = c.hits[:0]
	for i := range n {
		from := len(c.hits)
		if at := c.infos[i].form; at != 0 || t.Words[i].Has(words.Lost) {
			c.found = c.lex.forms.Find(c.found[:0], t, i, at)
			for k := range c.found {
				f := &c.found[k]
				c.hits = append(c.hits, hit{to: int(f.To), entry: c.lex.forms.Value(f), guessed: int(f.Guessed)})
			}
		}
		s := &c.spots[i]
		*s = spot{from: from, to: len(c.hits)}
		s.find(c.hits[from:], i)
	}
	c.scan.Begin(t, c.units)
	for i := range n {
		if c.scan.Begins(i) {
			c.unitItems(i)
		}
	}
	for i := range n {
		if s := &c.spots[i]; s.from < s.to || t.Words[i].Flags&(words.Note|words.Digits) != 0 || c.infos[i].starts&(sActing|sBrevet) != 0 {
			c.formItems(i)
		}
	}
	for i := range n {
		c.nameScore[i] = c.nameWord(i)
	}
	c.ahead(n)
	for i := range n {
		w, starts := &t.Words[i], c.infos[i].starts
		digits, begins := w.Has(words.Digits), c.mayBegin(i)
		if begins {
			c.nameItems(i)
			if c.and[i] < 8 {
				c.pairItems(i)
			}
		}
		if w.Has(words.FirstInLine) {
			c.familyItems(i)
		}
		if begins && !digits && (c.place[i] < maxPlace || c.spots[i].preposition > 0 || c.labelled(i)) {
			c.placeItems(i)
		}
		if digits || starts&(sCirca|sIn) != 0 || w.Has(words.Lost) || c.spots[i].month > 0 {
			c.dateItems(i)
		}
		if digits {
			c.ageItems(i, false, i)
		}
		if starts&sThe != 0 || w.Has(words.Ordinal) {
			c.yearOfAge(i)
		}
		c.causeItem(i)
		if digits || starts&(sDept|sGrave|sPlot|sPost) != 0 {
			c.graveItems(i)
		}
		if post && begins {
			c.namedPost(i)
		}
		if w.Has(words.FirstInLine) {
			c.verseItems(i)
		}
	}
}

// ahead works out how far ahead of each word the next AND is, and the next word that makes a place of the words before it; far where there is none.
func (c *chart) ahead(n int) {
	c.and, c.place = sized(c.and, n), sized(c.place, n)
	and, place := far, far
	for i := n - 1; i >= 0; i-- {
		w, s := &c.text.Words[i], &c.spots[i]
		and, place = min(and+1, far), min(place+1, far)
		switch {
		case w.Flags&(words.Digits|words.Note) != 0:
			place = far
		case s.fullState > 0 || s.state > 0 || s.country > 0 || s.battle:
			place = 0
		}
		if c.infos[i].starts&sAnd != 0 {
			and = 0
		}
		c.and[i], c.place[i] = uint8(and), uint8(place)
	}
}

// far is farther than anything looks ahead.
const far = 100

// sized is room for n, used again where there is enough.
func sized[T any](room []T, n int) []T {
	if n > cap(room) {
		return append(room[:cap(room)], make([]T, n-cap(room)+16)...)[:n]
	}
	return room[:n]
}

// none is the score of a place that nothing leads to.
const none = -1e30

// width is how many states are kept at one place, and reach by how much a state may be worse than the best there.
const (
	width = 10
	reach = 6
)

// unreadReach is by how much a state may be worse than the best there and still leave a word unread.
const unreadReach = 5

// search lays the items end to end, and leaves the ends in finals, best first.
func (c *chart) search() {
	n := len(c.text.Words)
	c.states = append(c.states, state{back: -1, item: -1})
	c.at[0].list, c.at[0].best = append(c.at[0].list, kept{}), 0
	for i := range n {
		list := c.bestOf(&c.at[i])
		for k := c.first[i]; k >= 0; k = c.items[k].next {
			c.push(list, k)
		}
		c.leave(list, i, c.at[i].best-unreadReach)
	}
	for _, p := range c.bestOf(&c.at[n]) {
		c.finals = append(c.finals, final{p.state, p.score + c.end(&c.states[p.state]), -1, -1})
	}
	c.sortFinals()
	c.variants()
}

func (c *chart) sortFinals() {
	slices.SortStableFunc(c.finals, func(a, b final) int { return cmp.Compare(b.score, a.score) })
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
			if j != at && o.kind == it.kind && o.to == it.to && o.score-it.score > c.w.Variant && c.tellsElse(it, o) {
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
		(p.Form.State != q.Form.State || p.Form.Arm != q.Form.Arm || p.Form.Body != q.Form.Body) && p.Form.Kind == q.Form.Kind // kinds are told apart by the state already
}

// bestOf gives the best states of a place, best first; they are good until it is called again.
func (c *chart) bestOf(at *stop) []place {
	list := c.ranked[:0]
	for i := range at.list {
		p := at.list[i].place
		if len(list) == width && p.score <= list[width-1].score || p.score < at.best-reach {
			continue
		}
		if len(list) < width {
			list = append(list, p)
		}
		j := len(list) - 1
		for ; j > 0 && p.score > list[j-1].score; j-- {
			list[j] = list[j-1]
		}
		list[j] = p
	}
	return list
}

// push lays item k behind each of the states of a place, which are best first.
func (c *chart) push(list []place, k int32) {
	c.room(len(list))
	it := &c.items[k]
	at := &c.at[it.to]
	if it.kind == kName {
		c.pushName(list, k, it, at)
		return
	}
	states, n := c.states[:cap(c.states)], len(c.states)
	gain := c.lex.gains.of[it.kind]
	for i := range list {
		p := &list[i]
		s, next := &states[p.state], &states[n]
		if p.score+it.score+gain < at.best-reach && (it.kind != kUnit || p.score+it.score+c.lex.gains.secondUnit < at.best-reach || !s.unit.Service()) {
			continue
		}
		*next = *s
		if c.step(next, s, it) && next.score >= at.best-reach {
			next.back, next.item = p.state, k
			if at.keep(states, n) {
				n++
			}
		}
	}
	c.states = c.states[:n]
}

// pushName is push of a name: nearly half of all that is pushed, and what it gains differs much from state to state.
func (c *chart) pushName(list []place, k int32, it *item, at *stop) {
	states, n := c.states[:cap(c.states)], len(c.states)
	g := &c.lex.gains
	for i := range list {
		p := &list[i]
		s, next := &states[p.state], &states[n]
		if p.score+it.score+g.name(s) < at.best-reach {
			continue
		}
		*next = *s
		c.stepName(next, s, it)
		if next.score >= at.best-reach {
			next.back, next.item = p.state, k
			if at.keep(states, n) {
				n++
			}
		}
	}
	c.states = c.states[:n]
}

// room makes room for n more states, so that those there stay where they are while these are added.
func (c *chart) room(n int) {
	if cap(c.states)-len(c.states) < n {
		c.states = slices.Grow(c.states, max(n, 64))
	}
}

// unread is what leaving word i unread costs, whatever stands before it.
func (c *chart) unread(i int) float32 {
	w := &c.text.Words[i]
	switch {
	case w.Has(words.Note):
		return c.w.UnreadNote
	case w.Has(words.Digits):
		return c.w.UnreadNumber
	case lostWord(c.text.Key(i)):
		return c.w.UnreadLost
	case c.joins(i):
		return c.w.UnreadJoins
	case c.text.Len(i) == 1:
		return c.w.UnreadLetter
	}
	return c.w.Unread
}

// leave leaves word i unread behind the states of a place, which are best first, as far as they are better than least.
func (c *chart) leave(list []place, i int, least float32) {
	at := &c.at[i+1]
	cost := c.unread(i)
	joins := c.joins(i)
	within := !joins && !c.text.Words[i].Has(words.FirstInLine) && !lostWord(c.text.Key(i))
	c.room(len(list))
	states, n := c.states[:cap(c.states)], len(c.states)
	for k := range list {
		p := &list[k]
		if p.score <= least || p.score+cost+c.w.UnreadAgain < at.best-reach {
			break
		}
		next := &states[n]
		*next = states[p.state]
		next.leave(c.w, cost, joins, within)
		if states[p.state].last == kUnit && lostWord(c.text.Key(i)) {
			next.flags |= fRankUnit // "18 WIS. [---]": the arm is lost
		}
		next.back, next.item = p.state, -int32(i)-2
		if next.score >= at.best-reach && at.keep(states, n) {
			n++
		}
	}
	c.states = c.states[:n]
}

// leave leaves a word unread at a cost: one that joins others, or one within its line of which something is left.
func (s *state) leave(w *weights, cost float32, joins, within bool) {
	if joins && s.last == kRelation {
		cost += w.JoinsAfterRelation
	}
	if within {
		switch s.last {
		case kConflict, kBranch, kSide, kSociety, kAward:
			cost += w.UnreadAfterService
		case kUnit:
			if !s.unit.Is(unit.RoleState) && !s.unit.Is(unit.RoleBody) {
				cost += w.UnreadAfterUnit
				s.flags &^= fRankUnit // "MEMBER OF 12TH LEGISLATURE OF WIS."
				if s.flags&(fUnitBroken|fRank|fService|fSoldier) == 0 && s.unit.Has == bareUnit {
					cost -= w.DoubtBroken
					s.flags |= fUnitBroken
				}
			}
		}
	}
	if s.label == lKilled && !joins {
		s.label = lDied // "KILLED BY LIGHTNING AT ANTIETAM"
	}
	if s.last == kUnread {
		cost += w.UnreadAgain
	}
	if s.flags&fRankAlone != 0 {
		cost += w.UnreadAfterRank
		s.flags &^= fRankAlone
		s.flags |= fRankBroken
	}
	s.score += cost
	s.last = kUnread
	s.flags &^= fTitle
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

// stop is a place between words: the states that stand there, and the best score so far.
type stop struct {
	list []kept
	best float32
}

// place is a state at a place.
type place struct {
	state int32
	score float32
}

// kept is a place with what tells its state from another there, but for the score and the way to it.
type kept struct {
	place
	told, parts uint64 // parts are those of the unit
}

// keep takes state n in, or betters the one that is alike: then n may be used again.
func (at *stop) keep(states []state, n int) bool {
	s := &states[n]
	if s.score > at.best {
		at.best = s.score
	}
	told, parts := uint64(s.flags)|uint64(s.last)<<48|uint64(s.label)<<56, s.unit.Key()
	list := at.list
	for k := range list {
		p := &list[k]
		if p.told != told || p.parts != parts {
			continue
		}
		if s.score > p.score {
			states[p.state], p.score = *s, s.score
		}
		return false
	}
	at.list = append(at.list, kept{place{int32(n), s.score}, told, parts})
	return true
}
