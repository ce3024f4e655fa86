package index

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

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
		r, err := x.record(int(f.at))
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
	best := map[uint32]int32{} // row to its best score
	for _, c := range people(s) {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		top, err := x.search(s, c, limit)
		if err != nil {
			return nil, fmt.Errorf("look for the records of stone %s: %w", stoneID(s), err)
		}
		for _, f := range top {
			if old, ok := best[f.row]; !ok || f.score > old {
				best[f.row] = f.score
			}
		}
	}
	all := make([]found, 0, len(best))
	for r, score := range best {
		all = append(all, found{row: r, at: x.roll.rows[r].at, score: score})
	}
	slices.SortFunc(all, found.compare)
	return all[:min(limit, len(all))], nil
}

func stoneID(s *model.Subject) model.StoneID {
	if s.Stone == nil {
		return ""
	}
	return s.Stone.ID
}

// found is a row and how well it fits, in sixteenths of a bit.
type found struct {
	row, at uint32
	score   int32
}

// compare puts the better first, and of two as good the one that came first.
func (f found) compare(g found) int {
	return cmp.Or(cmp.Compare(g.score, f.score), cmp.Compare(f.at, g.at))
}

// people are the claims of a stone that may be of one who served, each but once: the first person of every reading, and others on the stone
// of whom it says that they served or does not say whose wife or child they were.
func people(s *model.Subject) []model.Claim {
	type key struct {
		surname, given string
		unit           unitKey
		company        string
	}
	var list []model.Claim
	seen := map[key]bool{}
	add := func(c model.Claim) {
		k := key{name.Fold(c.Person.Name.Surname), givenKey(c.Person.Name), keyOf(c.Service.Unit), c.Service.Unit.Company}
		if k.surname == "" && k.unit == (unitKey{}) || seen[k] || len(list) >= maxPeople {
			return
		}
		seen[k] = true
		list = append(list, c)
	}
	for _, r := range s.Readings {
		if len(r.People) > 0 {
			add(r.People[0])
		}
	}
	for _, r := range s.Readings {
		for i, c := range r.People {
			if i > 0 && (c.Person.Relation == "" || !c.Service.IsZero()) {
				add(c)
			}
		}
	}
	// A register's clerk may have put the names the wrong way round.
	if s.Stone != nil && s.Stone.Register != nil && len(list) > 0 {
		c := list[0]
		c.Person.Name.Surname, c.Person.Name.Given, c.Person.Name.GivenOr = c.Person.Name.Given, c.Person.Name.Surname, nil
		c.Person.Name.Middle = ""
		add(c)
	}
	return list
}

// search gives the best rows for one claim.
func (x *Index) search(s *model.Subject, c model.Claim, limit int) ([]found, error) {
	m, err := x.measure(s, c)
	if err != nil {
		return nil, err
	}
	// What a row can be worth at most is held against the worst that is kept, so that few are looked at closely.
	top := ranking{limit: limit, least: math.MinInt32 / 2}
	most := m.most()
	given, unit := m.given, m.unit.bits
	for _, h := range m.surnames {
		from := x.roll.first[h.surname]
		for i, head := range x.roll.heads[from:x.roll.first[h.surname+1]] {
			score := int32(h.bits) + int32(given[uint32(head)]) + int32(unit[head>>32])
			if score+most < top.least {
				continue
			}
			r := from + uint32(i)
			w := &x.roll.rows[r]
			top.offer(found{r, w.at, score + m.more(w)})
		}
	}
	for _, u := range m.units {
		if x.roll.ofUnit[u] > maxUnitMen {
			continue
		}
		for _, p := range x.roll.byUnit[x.roll.unitAt[u]:x.roll.unitAt[u+1]] {
			score := int32(given[p>>32]) + int32(unit[u])
			if score+most+mostOther < top.least {
				continue
			}
			r := uint32(p)
			w := &x.roll.rows[r]
			if m.bySurname(w.surname) {
				continue
			}
			score += m.more(w)
			// The letters of the surname are compared only where they can still matter.
			if score+mostOther < top.least {
				continue
			}
			top.offer(found{r, w.at, m.otherSurname(w.surname) + score})
		}
	}
	return top.sorted(), nil
}

// A ranking keeps the best of what it is offered.
type ranking struct {
	limit int
	heap  []found // the worst first
	least int32   // the score of the worst, where so many are kept as may be; else less than any
}

func (t *ranking) offer(f found) {
	if len(t.heap) < t.limit {
		t.heap = append(t.heap, f)
		for i := len(t.heap) - 1; i > 0; {
			up := (i - 1) / 2
			if t.heap[i].compare(t.heap[up]) <= 0 {
				break
			}
			t.heap[i], t.heap[up] = t.heap[up], t.heap[i]
			i = up
		}
		if len(t.heap) == t.limit {
			t.least = t.heap[0].score
		}
		return
	}
	if f.score < t.least || f.compare(t.heap[0]) >= 0 {
		return
	}
	t.heap[0] = f
	for i := 0; ; {
		worst := i
		for k := 2*i + 1; k <= 2*i+2 && k < len(t.heap); k++ {
			if t.heap[k].compare(t.heap[worst]) > 0 {
				worst = k
			}
		}
		if worst == i {
			break
		}
		t.heap[i], t.heap[worst] = t.heap[worst], t.heap[i]
		i = worst
	}
	t.least = t.heap[0].score
}

func (t *ranking) sorted() []found {
	slices.SortFunc(t.heap, found.compare)
	return t.heap
}

// sixteenths gives bits as a whole number of sixteenths of a bit, within bounds that a table holds.
func sixteenths(bits float64) int16 {
	return int16(math.Round(16 * max(-60, min(60, bits))))
}
