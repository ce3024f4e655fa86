package link

import (
	"cmp"
	"maps"
	"math"
	"runtime"
	"slices"
	"sync"

	"musterstone/link/weigh"
)

// Patterns are the comparison patterns of the pairs of some stones, with how many pairs are of each: what the first step of learning needs of the stones, and no more however many there are. Those of other stones can
// be merged into them, in any order.
//
// A pattern is the levels at which a pair agrees or not, its roster, the kind of its stone, and the rest of its odds to half a bit: the weights are value-specific, so that two pairs of the same levels may stand far apart. From
// the patterns EM finds m and the share of matches as Fellegi and Sunter's model has them (Journal of the American Statistical Association 64, 1969; with EM: Winkler, Proceedings of the Section on Survey Research Methods, American Statistical Association, 1988), the u fixed as they were counted, under the very priors of Fit.
//
// In that model each pair is a match or not by itself. But a stone has one man, and namesakes would all be matches at once: counted so, made surveys come to as many as five times the matches that there are. So the pairs of a stone
// count as one together, each as likely as it is by the table's m to be the right one if any is, and all at the odds of the stone that some one is. Where a stone has one candidate that is the model itself.
type Patterns struct {
	Unseen  float64               // see Cases
	Peoples [weigh.People]float64 // likewise
	Stones  [stoneKinds]StoneKind
	Pairs   int                  // that were counted
	Of      map[string][]Pattern // by roster, keys growing
}

// Pattern is one, with its pairs.
type Pattern struct {
	Key  uint64 // its levels, the kind of its stones and the bin of their odds: see ladder.code
	N    men    // the pairs, each as a part of its stone
	Odds men    // of them, the sum of the logarithms to the base 2 of their stones' odds
}

// StoneKind is how many stones of a kind there are, and the veterans' among them.
type StoneKind struct {
	Stones   int
	Veterans men
}

// stoneKinds are stones that tell of a service and the kinds of plain ones, and the same of stones whose surname no record bears.
const stoneKinds = 2 * unlistedFrom

const unlistedFrom = 1 + plainKinds

func (s *Standing) stoneKind() int {
	k := 0
	if s.Plain {
		k = 1 + s.kind()
	}
	if s.Unlisted {
		k += unlistedFrom
	}
	return k
}

// standing is what stones of a kind say in the mean.
func (n *StoneKind) standing(kind int) Standing {
	s := Standing{Veteran: n.Veterans.float() / float64(n.Stones), Unlisted: kind >= unlistedFrom}
	if k := kind % unlistedFrom; k > 0 {
		s.Plain, s.Strange, s.Register = true, k-1 == strangeKind, k-1 == registerKind
	}
	return s
}

const (
	// leastPart is the least part of its stone at which a pair is counted: what is less teaches nothing. House judgement.
	leastPart = 1. / 64
	// leastOdds and mostOdds are the odds, as logarithms to the base 2, beyond which all are alike.
	leastOdds, mostOdds = -40, 60
	// In a key the bin comes first, then the kind, then the levels.
	binBits, kindBits = 8, 4
)

// codes are what each level adds to a pattern's key: of each group of levels, which exclude each other, one digit, 0 where none of them comes about.
func (l *ladder) codes() []uint64 {
	place, next := make([]uint64, l.groups), make([]uint64, l.groups)
	at := uint64(1) << (binBits + kindBits)
	for g, members := range l.members {
		place[g] = at
		at *= uint64(len(members)) + 1
	}
	code := make([]uint64, len(l.levels))
	for k, g := range l.group {
		next[g]++
		code[k] = next[g] * place[g]
	}
	return code
}

// levelsOf adds the levels of a key to a list.
func (l *ladder) levelsOf(key uint64, list []uint8) []uint8 {
	key >>= binBits + kindBits
	for _, members := range l.members {
		n := uint64(len(members)) + 1
		if digit := key % n; digit > 0 {
			list = append(list, members[digit-1])
		}
		key /= n
	}
	return list
}

// Patterns counts the patterns of the stones' pairs.
func (c *Cases) Patterns() *Patterns { return c.patterns(fitLadder()) }

func (c *Cases) patterns(l *ladder) *Patterns {
	c.numberRegiments()
	parts := max(1, min(runtime.GOMAXPROCS(0), len(c.Stones)/2000))
	out := make([]*Patterns, parts)
	var group sync.WaitGroup
	for k := range parts {
		group.Go(func() { out[k] = c.patternsOf(l, c.Stones[k*len(c.Stones)/parts:(k+1)*len(c.Stones)/parts]) })
	}
	group.Wait()
	for _, p := range out[1:] {
		out[0].Merge(p)
	}
	return out[0]
}

// patternsOf is patterns for some of the stones, whose regiments are numbered.
func (c *Cases) patternsOf(l *ladder, stones []Case) *Patterns {
	f := tableFit(l, c.Rosters)
	e := expecter{f: f, gain: f.Gain, lift: math.Log(float64(c.Records)), shifts: make([]float64, len(c.regiments)+1)}
	code := l.codes()
	tables := make([]patternTable, len(c.Rosters))
	p := &Patterns{Unseen: c.Unseen, Peoples: c.Peoples, Of: map[string][]Pattern{}}
	for i := range stones {
		s := &stones[i]
		kind := s.stoneKind()
		if !s.Unlisted || !s.Nobody {
			p.Stones[kind].Stones++
			p.Stones[kind].Veterans += menOf(s.Veteran)
		}
		e.weigh(s, f.prior(&s.Standing, s.Nobody), false)
		all := e.sum(s, 0)
		if all == 0 {
			continue
		}
		odds := float64(mostOdds)
		if !s.Settled {
			odds = max(leastOdds, min(mostOdds, math.Log2(all)))
		}
		stone := uint64(kind)<<binBits | uint64(math.RoundToEven(2*(odds-leastOdds)))
		for j, x := range e.odds {
			pair := &s.Pairs[j]
			part := x / all * float64(1+pair.Others)
			if part < leastPart {
				continue
			}
			key := stone
			for _, k := range pair.Levels {
				key += code[k]
			}
			tables[pair.Roster].add(Pattern{key, menOf(part), menOf(part * odds)})
			p.Pairs += 1 + int(pair.Others)
		}
	}
	for i := range tables {
		p.Of[c.Rosters[i]] = tables[i].sorted()
	}
	return p
}

// tableFit is a Fit before its first round that knows the rosters.
func tableFit(l *ladder, rosters []string) *Fit {
	f := NewFit()
	f.Rosters = rosters
	f.resetM(l)
	return f
}

// patternTable counts patterns by their keys; a slot without pairs is free.
type patternTable struct {
	slots []Pattern
	n     int
}

func (t *patternTable) add(p Pattern) {
	if 2*t.n >= len(t.slots) {
		old := t.slots
		t.slots, t.n = make([]Pattern, max(1024, 4*len(old))), 0
		for _, p := range old {
			if p.N > 0 {
				t.add(p)
			}
		}
	}
	last := uint64(len(t.slots) - 1)
	at := p.Key * 0x9E3779B97F4A7C15 >> 24 & last
	for t.slots[at].N > 0 && t.slots[at].Key != p.Key {
		at = (at + 1) & last
	}
	s := &t.slots[at]
	if s.N == 0 {
		t.n++
	}
	s.Key, s.N, s.Odds = p.Key, s.N+p.N, s.Odds+p.Odds
}

func (t *patternTable) sorted() []Pattern {
	out := make([]Pattern, 0, t.n)
	for _, p := range t.slots {
		if p.N > 0 {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Pattern) int { return cmp.Compare(a.Key, b.Key) })
	return out
}

// Merge adds the patterns of other stones.
func (p *Patterns) Merge(o *Patterns) {
	p.Unseen = max(p.Unseen, o.Unseen)
	for k, share := range o.Peoples {
		p.Peoples[k] = max(p.Peoples[k], share)
	}
	for k, n := range o.Stones {
		p.Stones[k].Stones, p.Stones[k].Veterans = p.Stones[k].Stones+n.Stones, p.Stones[k].Veterans+n.Veterans
	}
	p.Pairs += o.Pairs
	if p.Of == nil {
		p.Of = map[string][]Pattern{}
	}
	for roster, list := range o.Of {
		p.Of[roster] = merged(p.Of[roster], list)
	}
}

// merged is two lists of patterns as one, keys growing.
func merged(a, b []Pattern) []Pattern {
	if len(a) == 0 {
		return b
	}
	out := make([]Pattern, 0, len(a)+len(b))
	for len(a) > 0 && len(b) > 0 {
		switch x, y := &a[0], &b[0]; {
		case x.Key < y.Key:
			out, a = append(out, *x), a[1:]
		case x.Key > y.Key:
			out, b = append(out, *y), b[1:]
		default:
			out, a, b = append(out, Pattern{x.Key, x.N + y.N, x.Odds + y.Odds}), a[1:], b[1:]
		}
	}
	return append(append(out, a...), b...)
}

// Len is how many patterns there are.
func (p *Patterns) Len() int {
	n := 0
	for _, list := range p.Of {
		n += len(list)
	}
	return n
}

// fit learns from the patterns alone, in the stages of any Fit, with its safeguards.
func (p *Patterns) fit(l *ladder) *Fit {
	f, c := NewFit(), p.climb(l)
	for !f.Done() {
		f.next(l, c.count(f))
	}
	return f
}

// Begin has a new Fit begin where EM over the patterns of all stones ends. Where that is refused it begins with the table.
func (f *Fit) Begin(p *Patterns) { f.begin(fitLadder(), p) }

func (f *Fit) begin(l *ladder, p *Patterns) {
	f.Pairs, f.Patterns = p.Pairs, p.Len()
	g := p.fit(l)
	if g.Refused != "" || g.Rosters == nil {
		return
	}
	f.Rosters = g.Rosters
	f.resetM(l)
	f.M, f.Gain, f.Near = g.M, g.Gain, g.Near
	f.Coverage, f.Plain, f.Kinds, f.Unlisted = g.Coverage, g.Plain, g.Kinds, g.Unlisted
	f.Before, f.Begun, f.Stage = g.Before, true, learnStage
}

// climb is patterns as EM goes through them: those of the same levels and roster together, so that what was learned of levels is added up but once for all of them.
type climb struct {
	of       *Patterns
	ladder   *ladder
	rosters  []string
	start    *Fit // with which the odds come
	groups   []patternGroup
	levels   []uint8
	patterns []readyPattern
}

// patternGroup is patterns of one roster and the same levels: places in climb, each group's after those of the one before.
type patternGroup struct {
	roster       int
	levels, last int32 // past the end of its levels, and of its patterns
}

type readyPattern struct {
	n    float64 // pairs, in units of men
	odds float64
	kind int
}

// climb makes the patterns ready.
func (p *Patterns) climb(l *ladder) *climb {
	c := &climb{of: p, ladder: l, rosters: slices.Sorted(maps.Keys(p.Of)), patterns: make([]readyPattern, 0, p.Len())}
	c.start = tableFit(l, c.rosters)
	for r, roster := range c.rosters {
		before := ^uint64(0)
		for _, x := range p.Of[roster] {
			if levels := x.Key >> (binBits + kindBits); levels != before {
				before = levels
				c.levels = l.levelsOf(x.Key, c.levels)
				c.groups = append(c.groups, patternGroup{roster: r, levels: int32(len(c.levels))})
			}
			c.patterns = append(c.patterns, readyPattern{n: float64(x.N), odds: math.Exp2(float64(x.Odds) / float64(x.N)), kind: int(x.Key >> binBits & (1<<kindBits - 1))})
			c.groups[len(c.groups)-1].last = int32(len(c.patterns))
		}
	}
	return c
}

// climbSums are what some groups of patterns came to.
type climbSums struct {
	seen [][]men // by roster and level
	in   [stoneKinds]men
}

// count is what the patterns come to by what has been learned so far: Cases.Count of the stones, as far as patterns can tell.
func (c *climb) count(f *Fit) *Sums {
	var times [stoneKinds]float64 // the odds that a stone's man is in the rosters, against those at the start
	for k := range c.of.Stones {
		if n := &c.of.Stones[k]; n.Stones > 0 {
			s := n.standing(k)
			now, before := f.share(&s), c.start.share(&s)
			times[k] = now / (1 - now) * (1 - before) / before
		}
	}
	learned := make([][]float64, len(c.rosters)) // the same by what was learned of each level
	for r, roster := range c.rosters {
		learned[r] = slices.Repeat([]float64{1}, len(c.ladder.levels))
		if at := f.roster(roster); at >= 0 {
			for k := range learned[r] {
				learned[r][k] = math.Exp2(f.Gain[at][k] - c.start.Gain[r][k])
			}
		}
	}
	parts := max(1, min(runtime.GOMAXPROCS(0), len(c.patterns)/4000))
	sums := make([]climbSums, parts)
	var group sync.WaitGroup
	for k := range parts {
		group.Go(func() {
			sums[k].seen = make([][]men, len(c.rosters))
			for r := range c.rosters {
				sums[k].seen[r] = make([]men, len(c.ladder.levels))
			}
			c.sum(&sums[k], k*len(c.groups)/parts, (k+1)*len(c.groups)/parts, learned, &times)
		})
	}
	group.Wait()
	for _, o := range sums[1:] {
		for r, seen := range o.seen {
			plus(sums[0].seen[r], seen)
		}
		for k, n := range o.in {
			sums[0].in[k] += n
		}
	}
	s := newSums()
	s.Unseen, s.Peoples = c.of.Unseen, c.of.Peoples
	for r, roster := range c.rosters {
		s.Seen[roster] = sums[0].seen[r]
	}
	for k, in := range sums[0].in {
		n := &c.of.Stones[k]
		if n.Stones == 0 {
			continue
		}
		standing := n.standing(k)
		s.Matches += in
		switch {
		case standing.Unlisted:
			standing.Unlisted = false
			s.UnlistedWant += men(n.Stones) * menOf(f.share(&standing))
			s.UnlistedIn += in
		case standing.Plain:
			kind := standing.kind()
			s.PlainWant[kind] += men(n.Stones) * menOf(standing.Veteran*f.Coverage)
			s.PlainIn[kind] += in
		default:
			s.In += in
			s.Veterans += n.Veterans
		}
	}
	return s
}

// sum counts some of the groups.
func (c *climb) sum(s *climbSums, from, to int, learned [][]float64, times *[stoneKinds]float64) {
	levels, at := int32(0), int32(0)
	if from > 0 {
		levels, at = c.groups[from-1].levels, c.groups[from-1].last
	}
	for _, g := range c.groups[from:to] {
		own, by, all := c.levels[levels:g.levels], 1.0, men(0)
		for _, k := range own {
			by *= learned[g.roster][k]
		}
		for i := range c.patterns[at:g.last] {
			p := &c.patterns[at+int32(i)]
			odds := p.odds * by * times[p.kind]
			in := men(math.RoundToEven(p.n * (odds / (1 + odds))))
			s.in[p.kind] += in
			all += in
		}
		seen := s.seen[g.roster]
		for _, k := range own {
			seen[k] += all
		}
		levels, at = g.levels, g.last
	}
}
