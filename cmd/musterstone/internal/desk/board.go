package desk

import (
	"cmp"
	"slices"
	"strings"

	"musterstone/link/ledger"
	"musterstone/model"
	"musterstone/vocab"
)

// kind is how a stone stands.
type kind string

// The kinds, in the order in which they are listed.
const (
	toDecide kind = "open"
	leftOpen kind = "unsure"
	disputed kind = "disputed"
	settled  kind = "settled"
	nobody   kind = "none"
	nothing  kind = "quiet"
)

// kinds are the kinds with their names for people.
var kinds = []struct {
	Kind kind
	Name string
	Long string
}{
	{toDecide, "to decide", "a record comes near and nobody has decided"},
	{leftOpen, "left unsure", "somebody looked and left it for later"},
	{disputed, "disputed", "people decided differently"},
	{settled, "man found", "a record is confirmed"},
	{nobody, "none of them", "somebody holds that no record is his"},
	{nothing, "nothing near", "no record comes near"},
}

// Name is the kind's name for people.
func (k kind) Name() string {
	for _, x := range kinds {
		if x.Kind == k {
			return x.Name
		}
	}
	return string(k)
}

// facets are what stones are sorted by in lists.
type facets struct {
	cemetery, conflict, pattern string
}

// sureOfConflict is how likely the implied conflict must be for a stone that names none to be listed under it.
const sureOfConflict = 0.5

func facetsOf(s *model.Subject) facets {
	f := facets{cemetery: s.Stone.Place.Cemetery}
	if code, _ := s.Implies.Best(); s.Stone.Register == nil {
		f.pattern = vocab.Label("pattern", string(code))
	} else {
		f.pattern = "a register's row"
	}
	if cs := s.Reading().Claim().Service.Conflicts; len(cs) > 0 {
		f.conflict = vocab.Label("conflict", string(cs[0]))
	} else if len(s.Implies.Services) > 0 && s.Implies.Services[0].Probability >= sureOfConflict {
		code, _, _ := strings.Cut(s.Implies.Services[0].Code, "/")
		if code != "none" {
			f.conflict = vocab.Label("conflict", code)
		}
	}
	return f
}

// board is how every stone stands, with the queue of those to decide. It is not changed after it was made.
type board struct {
	round    *round
	revision string
	kinds    []kind
	counts   map[kind]int
	queue    []int // the stones to decide, surest first
	best     []float64
}

// standings gives the board of this moment.
func (d *Desk) standings() *board {
	r, state := d.current()
	revision := d.ledger.Revision()
	d.mu.Lock()
	b := d.board
	d.mu.Unlock()
	if b != nil && b.round == r && b.revision == revision {
		return b
	}
	b = &board{round: r, revision: revision, kinds: slices.Clone(r.kinds), counts: map[kind]int{}, best: slices.Clone(r.best)}
	touched, all := d.touched(r)
	for i := range d.subjects {
		if all || touched[i] {
			b.kinds[i], b.best[i] = d.kindOf(r, state, i)
		}
		b.counts[b.kinds[i]]++
	}
	for _, i := range r.order {
		if b.kinds[i] == toDecide {
			b.queue = append(b.queue, i)
		}
	}
	d.mu.Lock()
	d.board = b
	d.mu.Unlock()
	return b
}

// before orders the queue: what is surest first, so that an evening begins with many and ends with the hard ones.
func (r *round) before(i, j int) int {
	return cmp.Or(-cmp.Compare(r.rank(i), r.rank(j)), cmp.Compare(i, j))
}

// rank is the chance by which the round ranks a stone, which does not change while it is being decided on.
func (r *round) rank(i int) float64 {
	p := &r.proposals[i]
	if r.open[i] != nil {
		p = r.open[i]
	}
	if c := likeliest(p.Candidates); c != nil {
		return c.Probability
	}
	return 0
}

// after is the next stone to decide behind stone i, or the first; -1 where none is left.
func (b *board) after(i int) int {
	for _, q := range b.queue {
		if q != i && b.round.before(i, q) < 0 {
			return q
		}
	}
	for _, q := range b.queue {
		if q != i {
			return q
		}
	}
	return -1
}

// ahead is the stone to decide before stone i, or the last; -1 where none is left.
func (b *board) ahead(i int) int {
	for _, q := range slices.Backward(b.queue) {
		if q != i && b.round.before(q, i) < 0 {
			return q
		}
	}
	for _, q := range slices.Backward(b.queue) {
		if q != i {
			return q
		}
	}
	return -1
}

// kindOf is how stone i stands with what was decided, and the chance of its likeliest man.
func (d *Desk) kindOf(r *round, state ledger.State, i int) (kind, float64) {
	id := d.subjects[i].Stone.ID
	p := r.proposals[i]
	if !r.same(&p, state) {
		p, _ = r.now(i, state)
	}
	best, proposed := 0.0, false
	if c := likeliest(p.Candidates); c != nil {
		best, proposed = c.Probability, c.Proposed
	}
	switch {
	case state.DisputedStone(id) || twoMen(d.subjects[i], state):
		return disputed, best
	case len(state.Confirmed(id)) > 0:
		return settled, best
	case state.NoneOf(id):
		return nobody, best
	case state.UnsureOf(id):
		return leftOpen, best
	case proposed || best >= claimed:
		return toDecide, best
	}
	return nothing, best
}

// twoMen reports whether people confirmed different records for a stone that names one man, and none of them both.
func twoMen(s *model.Subject, state ledger.State) bool {
	ids := state.Confirmed(s.Stone.ID)
	if len(ids) < 2 || len(s.Reading().People) > 1 {
		return false
	}
	for _, v := range state.Of(s.Stone.ID, ids[0]).Voices {
		all := true
		for _, id := range ids[1:] {
			all = all && slices.ContainsFunc(state.Of(s.Stone.ID, id).Voices, func(w model.Decision) bool { return w.By == v.By })
		}
		if all {
			return false
		}
	}
	return true
}

// bears are the other stones that claim the likeliest record of stone i: deciding it bears on them.
func (d *Desk) bears(b *board, i int) []int {
	var out []int
	if c := likeliest(b.round.proposals[i].Candidates); c != nil {
		for _, o := range b.round.claims[c.Record] {
			if o != i {
				out = append(out, o)
			}
		}
	}
	return out
}
