package index

import (
	"context"
	"fmt"
	"math"
	"slices"
	"sync"

	"musterstone/model"
	"musterstone/vocab/name"
)

const (
	// Fewest and most candidates for a stone.
	defaultLimit = 50
	maxLimit     = 200
	// maxUnitMen is the largest unit whose men are all looked at for a stone that names it.
	maxUnitMen = 20000
	// maxPeople is how many different people of a stone, or readings of its name, are looked up.
	maxPeople = 6
)

// Candidates gives the records that may be the stone's man, likeliest first by a rough measure, at most limit of them (0 means 50, 200 are the
// most). The same stone and records give the same candidates in the same order.
//
// It looks up every reading, and every person on the stone who may have served, by surname (the same spelling, within two or
// three edits, with lost letters, of the same sound) and by unit, so that a man whose name is worn away is found among those of his
// company; and ranks what it finds by how rare what agrees is among the records.
func (x *Index) Candidates(ctx context.Context, s *model.Subject, limit int) ([]*model.Record, error) {
	all, err := x.best(ctx, s, limit)
	if err != nil {
		return nil, err
	}
	records := make([]*model.Record, len(all))
	for i, f := range all {
		r, err := x.record(int(f.at()))
		if err != nil {
			return nil, err
		}
		records[i] = r
	}
	return records, nil
}

// best gives the rows of Candidates.
func (x *Index) best(ctx context.Context, s *model.Subject, limit int) ([]found, error) {
	switch {
	case limit <= 0:
		limit = defaultLimit
	case limit > maxLimit:
		limit = maxLimit
	}
	var all []found
	for i, c := range people(s) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		least := int32(anyScore)
		if len(all) == limit {
			least = all[limit-1].score() - c.cost
		}
		top, err := x.search(s, c.claim, limit, least)
		if err != nil {
			return nil, fmt.Errorf("look for the records of stone %s: %w", stoneID(s), err)
		}
		for _, f := range top {
			all = append(all, newFound(f.at(), f.score()+c.cost))
		}
		if i > 0 {
			// A record that fits several is as good as it fits the best of them.
			slices.Sort(all)
			seen := make(map[uint32]bool, len(all))
			all = slices.DeleteFunc(all, func(f found) bool {
				again := seen[f.at()]
				seen[f.at()] = true
				return again
			})
			all = all[:min(limit, len(all))]
		}
	}
	return all, nil
}

func stoneID(s *model.Subject) model.StoneID {
	if s.Stone == nil {
		return ""
	}
	return s.Stone.ID
}

// anyScore is less than any score.
const anyScore = math.MinInt32 / 2

// found is a record, by its place in the order of the input, and how well it fits, in sixteenths of a bit: the less, the better it fits, and of two that fit as well the
// one that came first is less.
type found uint64

func newFound(at uint32, score int32) found {
	return found(uint64(uint32(math.MaxInt32-score))<<32 | uint64(at))
}

func (f found) at() uint32   { return uint32(f) }
func (f found) score() int32 { return math.MaxInt32 - int32(uint32(f>>32)) }

// wanted is a claim of a stone, and what it costs, in sixteenths of a bit, to be less likely than the stone's likeliest.
type wanted struct {
	claim *model.Claim
	cost  int32
}

// people are the claims of a stone that may be of one who served, each but once: the first person of every reading, and others on the stone
// of whom it says that they served or does not say whose wife or child they were.
func people(s *model.Subject) []wanted {
	type key struct {
		surname, given string
		unit           unitKey
		company        string
	}
	var list []wanted
	var seen []key
	add := func(c *model.Claim, cost float64) {
		k := key{name.Fold(c.Person.Name.Surname), givenKey(c.Person.Name), keyOf(c.Service.Unit), c.Service.Unit.Company}
		if k.surname == "" && k.unit == (unitKey{}) || slices.Contains(seen, k) || len(list) >= maxPeople {
			return
		}
		seen = append(seen, k)
		list = append(list, wanted{c, int32(sixteenths(cost))})
	}
	cost := func(r *model.Reading) float64 {
		if best := s.Reading().Probability; r.Probability < best {
			return math.Log2(r.Probability / best)
		}
		return 0
	}
	for i := range s.Readings {
		if r := &s.Readings[i]; len(r.People) > 0 {
			add(&r.People[0], cost(r))
		}
	}
	for k := range s.Readings {
		r := &s.Readings[k]
		for i := range r.People {
			if c := &r.People[i]; i > 0 && (c.Person.Relation == "" || !c.Service.IsZero()) {
				add(c, cost(r)+anotherPerson)
			}
		}
	}
	// A register's clerk may have put the names the wrong way round.
	if s.Stone != nil && s.Stone.Register != nil && len(list) > 0 {
		c := *list[0].claim
		c.Person.Name.Surname, c.Person.Name.Given, c.Person.Name.GivenOr = c.Person.Name.Given, c.Person.Name.Surname, nil
		c.Person.Name.Middle = ""
		add(&c, wrongWayRound)
	}
	return list
}

// search gives the best rows for one claim, of those that are worth so much at least.
func (x *Index) search(s *model.Subject, c *model.Claim, limit int, least int32) ([]found, error) {
	g := gathers.Get().(*gathering)
	defer gathers.Put(g)
	m := &g.measure
	if err := x.measure(m, s, c); err != nil {
		return nil, err
	}
	g.top = ranking{limit: limit, heap: make([]found, 0, limit), least: least}
	g.mark(len(x.roll.surnames), m.surnames, true)
	defer g.mark(len(x.roll.surnames), m.surnames, false)
	// Those that can be worth most are looked at first, so that few of the others are looked at closely: of the likeliest surnames and of the stone's unit that is found out, and
	// of the many men of other surnames, who come last, most are passed by at once.
	hits := g.gather(x.roll, m, enough*limit)
	likely := g.bits.likely(2 * limit)
	later := g.list[:0]
	for _, h := range g.list {
		if h.most >= likely {
			g.add(x, m, h)
		} else {
			later = append(later, h)
		}
	}
	g.look(x, m)
	for _, h := range hits {
		from := x.roll.first[h.surname]
		for i, head := range x.roll.heads[from:x.roll.first[h.surname+1]] {
			if most := int32(h.bits) + m.most(head); most >= g.top.least {
				g.add(x, m, gathered{from + uint32(i), int16(most), h.bits})
			}
		}
	}
	for _, h := range later {
		if int32(h.most) >= g.top.least {
			g.add(x, m, h)
		}
	}
	for _, run := range g.runs {
		if int32(run.most) >= g.top.least {
			g.eachOf(x.roll, m, run, func(row uint32, most int32) {
				if most >= g.top.least {
					g.add(x, m, gathered{row, int16(most), notLooked})
				}
			})
		}
	}
	g.look(x, m)
	return g.top.sorted(), nil
}

// mark sets the bits of the surnames, or takes them away again.
func (g *gathering) mark(surnames int, list []surnameHit, as bool) {
	if n := surnames/64 + 1; len(g.hit) != n {
		g.hit = make([]uint64, n) // of another index
	}
	for _, h := range list {
		g.hit[h.surname/64] &^= 1 << (h.surname % 64)
		if as {
			g.hit[h.surname/64] |= 1 << (h.surname % 64)
		}
	}
}

// enough is of how many rows, for each candidate that is wanted, the likely ones are found out.
const enough = 10

// A gathering is the rows that are gone through for one claim. It is used again for the next.
type gathering struct {
	list    []gathered
	bits    bitCounts
	runs    []unitRun // of the stone's unit, whose men are not in the list
	top     ranking
	measure measure
	hit     []uint64 // a bit for each surname that is the stone's

	waiting [16]gathered // those to be looked at closely, so many of them
	n       int
	asked   uint32 // see look
}

// gathered is a row and the most that it can be worth.
type gathered struct {
	row  uint32
	most int16
	bits int16 // of its surname; notLooked for a row of the stone's unit
}

// unitRun is rows of byUnit of one given name, and the most that any of them can be worth.
type unitRun struct {
	from, to uint32
	most     int16
}

// bitCounts is how many rows can be worth each whole number of bits, from leastGathered on.
type bitCounts [gatheredBits]int32

func (b *bitCounts) count(most int32, rows int) {
	b[min(max(most>>4-leastGathered, 0), gatheredBits-1)] += int32(rows)
}

// likely is what at least so many of the rows can be worth, where there are so many.
func (b *bitCounts) likely(rows int) int16 {
	n := 0
	for k := gatheredBits - 1; k > 0; k-- {
		if n += int(b[k]); n >= rows {
			return int16(k+leastGathered) << 4
		}
	}
	return math.MinInt16
}

const (
	gatheredBits  = 128
	leastGathered = -64
	notLooked     = math.MinInt16
)

var gathers = sync.Pool{New: func() any { return new(gathering) }}

// gather takes the men of the stone's unit with the likeliest given names, and those of the likeliest surnames up to so many; it gives the surnames that are left, and leaves the
// other men of the unit in runs.
func (g *gathering) gather(r *roll, m *measure, rows int) (left []surnameHit) {
	g.list, g.runs, g.bits = g.list[:0], g.runs[:0], bitCounts{}
	put := func(row uint32, most int32, bits int16) {
		g.list = append(g.list, gathered{row, int16(most), bits})
		g.bits.count(most, 1)
	}
	g.gatherUnits(r, m, g.top.limit, put)
	left = m.surnames
	for n := 0; len(left) > 0 && n < rows; left = left[1:] {
		from, to := r.first[left[0].surname], r.first[left[0].surname+1]
		for i, head := range r.heads[from:to] {
			put(from+uint32(i), int32(left[0].bits)+m.most(head), left[0].bits)
		}
		n += int(to - from)
	}
	return left
}

func (g *gathering) gatherUnits(r *roll, m *measure, rows int, put func(row uint32, most int32, bits int16)) {
	var counts bitCounts
	for _, u := range m.units {
		if r.ofUnit[u] > maxUnitMen {
			continue
		}
		from, most := r.unitAt[u], int32(m.unit.bits[u])+m.mostLetters
		for _, of := range r.runs[r.runAt[u]:r.runAt[u+1]] {
			one := unitRun{from, of.end, int16(most + int32(m.given[of.given&maxDistinct]) + int32(m.known[of.given>>someKnown&(1<<knownBits-1)]))}
			if of.given&someNameless == 0 {
				one.most += int16(m.mostOther)
			}
			g.runs = append(g.runs, one)
			counts.count(int32(one.most), int(of.end-from))
			from = of.end
		}
	}
	likely, later := counts.likely(rows), g.runs[:0]
	for _, one := range g.runs {
		if one.most < likely {
			later = append(later, one)
			continue
		}
		g.eachOf(r, m, one, func(row uint32, most int32) { put(row, most, notLooked) })
	}
	g.runs = later
}

// eachOf calls each for the rows of a run, with the most that each can be worth.
func (g *gathering) eachOf(r *roll, m *measure, of unitRun, each func(row uint32, most int32)) {
	nameless := r.first[1]
	for i, head := range r.unitHeads[of.from:of.to] {
		row, most := r.byUnit[of.from+uint32(i)], m.most(head)
		if row >= nameless {
			most += m.mostOther
		}
		each(row, most)
	}
}

// add puts a row among those that are to be looked at closely.
func (g *gathering) add(x *Index, m *measure, h gathered) {
	g.waiting[g.n] = h
	if g.n++; g.n == len(g.waiting) {
		g.look(x, m)
	}
}

// look looks closely at the rows that wait for it. They lie all over the memory: asked for together they are waited for but once.
func (g *gathering) look(x *Index, m *measure) {
	list := g.waiting[:g.n]
	for i := range list {
		w := &x.roll.rows[list[i].row]
		g.asked += w.surname + uint32(w.side)
	}
	for i := range list {
		if h := &list[i]; int32(h.most) >= g.top.least {
			g.lookAt(x, m, h)
		}
	}
	g.n = 0
}

// lookAt looks at a row closely.
func (g *gathering) lookAt(x *Index, m *measure, h *gathered) {
	top := &g.top
	w := &x.roll.rows[h.row]
	score := int32(m.given[w.given]) + int32(m.unit.bits[w.unit])
	if h.bits != notLooked {
		top.offer(w, int32(h.bits)+score+m.more(w))
		return
	}
	if g.hit[w.surname/64]&(1<<(w.surname%64)) != 0 {
		return // he comes by his surname
	}
	score += m.more(w)
	if told := w.otherName(); told != otherNone { // his names may be none of the stone's man
		top.offer(w, max(score+m.otherSurname(w.surname, math.MinInt32/2), score-int32(m.given[w.given])+otherNames[told]))
		return
	}
	// The letters of the surname are compared only where they can still matter.
	most := score
	if w.surname != 0 {
		most += m.mostOther
	}
	if most >= top.least {
		if score += m.otherSurname(w.surname, top.least-score); score >= top.least {
			top.offer(w, score)
		}
	}
}

// A ranking keeps the best of what it is offered.
type ranking struct {
	limit int
	heap  []found // the worst first
	least int32   // the score of the worst, where so many are kept as may be; else the least that is asked for
}

// offer takes the record of a row, at its best row's score.
func (t *ranking) offer(w *row, score int32) {
	h, f := t.heap, newFound(w.at, score)
	if w.other&severalRows != 0 {
		if i := slices.IndexFunc(h, func(g found) bool { return g.at() == w.at }); i >= 0 {
			if f < h[i] { // it goes down, where the better ones are
				h[i] = f
				t.sink(i)
			}
			return
		}
	}
	if len(h) < t.limit {
		h = append(h, f)
		for i := len(h) - 1; i > 0; {
			up := (i - 1) / 2
			if h[i] <= h[up] {
				break
			}
			h[i], h[up] = h[up], h[i]
			i = up
		}
		if t.heap = h; len(h) == t.limit {
			t.least = max(t.least, h[0].score())
		}
		return
	}
	if f >= h[0] {
		return
	}
	h[0] = f
	t.sink(0)
}

// sink puts the one at i, which has become better, in its place.
func (t *ranking) sink(i int) {
	h := t.heap
	for {
		worst := i
		for k := 2*i + 1; k <= 2*i+2 && k < len(h); k++ {
			if h[k] > h[worst] {
				worst = k
			}
		}
		if worst == i {
			break
		}
		h[i], h[worst] = h[worst], h[i]
		i = worst
	}
	if len(h) == t.limit {
		t.least = max(t.least, h[0].score())
	}
}

func (t *ranking) sorted() []found {
	slices.Sort(t.heap)
	return t.heap
}

// sixteenths gives bits as a whole number of sixteenths of a bit, within bounds that a table holds.
func sixteenths(bits float64) int16 {
	return int16(math.Round(16 * max(-60, min(60, bits))))
}
