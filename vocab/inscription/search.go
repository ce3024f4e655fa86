// This file lays the items of a chart end to end, and keeps the best ways.

package inscription

import (
	"cmp"
	"slices"

	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// final is a state at the end of the text, with the whole score. Where swapped is not negative, the path has item swapped in place of
// item swap: a form of the same words that tells something else.
type final struct {
	state         int32
	score         float32
	swap, swapped int32
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
		if it.kind != kUnit && it.kind != kRank && (it.kind != kName || !c.parts) {
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
	if a.kind == kName {
		p, q := a.name, b.name
		p.part, q.part = 0, 0
		return a.name.part != b.name.part && p == q
	}
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
		if p.score+it.score+g.name(s) < at.best-reach || it.name.below && s.flags&(fFamily|fHead) != fFamily && !(it.name.dated && s.flags&fFamily != 0) {
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
	case w.Line < 2 && w.Has(words.FirstInLine|words.LastInLine|words.Lost) && c.context.government() && c.nameBelow(i+1) && leftOf(c.text.Key(i)) < 3:
		return c.w.UnreadLost // what is left of a rank
	}
	return c.w.Unread
}

// bareUnit is a unit with a number and an arm and no more.
const bareUnit = 1<<unit.RoleNumber | 1<<unit.RoleArm

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
