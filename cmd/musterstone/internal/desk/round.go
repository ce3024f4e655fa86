package desk

import (
	"cmp"
	"context"
	"math"
	"slices"
	"time"

	"musterstone/link/ledger"
	"musterstone/model"
)

// round is what was proposed for every stone with the decisions of one moment. It is not changed after it was made.
type round struct {
	proposals []model.Proposal
	state     ledger.State
	revision  string
	entries   int    // how many decisions the ledger had
	last      string // the id of the last of them
	kinds     []kind // how each stone stands with them
	best      []float64
	order     []int                    // all stones, in the order in which they are to be decided
	open      []*model.Proposal        // for each stone, the latest proposal that was made while nothing was decided on it; nil where there was none
	claims    map[model.RecordID][]int // the stones that claim a record
	another   float64                  // what it costs a candidate, in bits, to be another stone's confirmed man
	registers map[model.StoneID]bool   // the stones that are rows of a burial register
}

// claimed is the probability from which a stone counts as claiming a record.
const claimed = 0.05

// makeRound weighs every stone with the decisions as they stand.
func (d *Desk) makeRound(ctx context.Context) error {
	d.working.Lock()
	defer d.working.Unlock()
	start := time.Now()
	revision, state, entries := d.ledger.Revision(), d.ledger.State(), d.ledger.Entries()
	if d.ledger.Revision() != revision { // one was written between; the next round has it
		entries = nil
	}
	proposals, lesson, err := d.job.Learn(ctx, 0, state)
	if err != nil {
		return err
	}
	d.mu.Lock()
	defer d.mu.Unlock()
	r := &round{proposals: proposals, state: state, revision: revision, another: lesson.Another, registers: d.registers, open: make([]*model.Proposal, len(proposals)), claims: map[model.RecordID][]int{}, entries: len(entries)}
	if len(entries) > 0 {
		r.last = entries[len(entries)-1].ID
	}
	for i := range proposals {
		p := &proposals[i]
		if len(state.Voices(p.Stone)) == 0 {
			r.open[i] = p
		} else if d.round != nil {
			r.open[i] = d.round.open[i]
		}
		for _, c := range p.Candidates {
			if c.Probability >= claimed {
				r.claims[c.Record] = append(r.claims[c.Record], i)
			}
		}
	}
	r.kinds, r.best = make([]kind, len(proposals)), make([]float64, len(proposals))
	for i := range proposals {
		r.kinds[i], r.best[i] = d.kindOf(r, state, i)
		r.order = append(r.order, i)
	}
	slices.SortFunc(r.order, r.before)
	d.round, d.took, d.board = r, time.Since(start), nil
	return nil
}

// touched are the stones on which what was decided since the round may bear; all is set where that cannot be told.
func (d *Desk) touched(r *round) (stones map[int]bool, all bool) {
	since := d.ledger.Since(max(0, r.entries-1))
	if r.entries > 0 {
		if len(since) == 0 || since[0].ID != r.last { // the ledger was merged with another
			return nil, true
		}
		since = since[1:]
	}
	stones = map[int]bool{}
	for _, e := range since {
		if i, ok := d.at[e.Stone]; ok {
			stones[i] = true
		}
		for _, i := range r.claims[e.Record] {
			stones[i] = true
		}
	}
	return stones, false
}

// decidedSince has a new round made after a decision: at once where the last one was quick, else in the background once the desk has been left
// alone for a while.
func (d *Desk) decidedSince() {
	d.mu.Lock()
	d.latestAt = time.Now()
	took, waiting := d.took, d.waiting
	if took > quick {
		d.waiting = true
	}
	d.mu.Unlock()
	if took <= quick {
		d.remakeRound()
		return
	}
	if waiting {
		return
	}
	d.group.Go(func() {
		quiet := max(2*time.Second, min(2*took, time.Minute))
		for wait := quiet; wait > 0; {
			select {
			case <-time.After(wait):
			case <-d.ctx.Done():
				return
			}
			d.mu.Lock()
			wait = quiet - time.Since(d.latestAt)
			d.waiting = wait > 0
			d.mu.Unlock()
		}
		d.remakeRound()
	})
}

func (d *Desk) remakeRound() {
	if err := d.makeRound(d.ctx); err != nil && d.ctx.Err() == nil {
		d.opts.Note("the stones could not be weighed anew: " + err.Error())
	}
}

// refresh picks up what other programs have decided.
func (d *Desk) refresh() error {
	before := d.ledger.Revision()
	if err := d.ledger.Refresh(); err != nil {
		return err
	}
	if d.ledger.Revision() != before {
		d.decidedSince()
	}
	return nil
}

// current gives the round and the decisions as they stand.
func (d *Desk) current() (*round, ledger.State) {
	d.mu.Lock()
	defer d.mu.Unlock()
	return d.round, d.ledger.State()
}

// now is the proposal for stone i with what was decided since the round. Fresh is false where the chances must wait for the next round.
func (r *round) now(i int, state ledger.State) (p model.Proposal, fresh bool) {
	base := &r.proposals[i]
	if r.same(base, state) {
		return clone(base), true
	}
	fresh = true
	if len(r.state.Voices(base.Stone)) > 0 {
		// What the round knows was made with a decision that may no longer stand.
		if r.open[i] != nil {
			base = r.open[i]
		} else {
			fresh = false
		}
	}
	p = clone(base)
	confirmed := state.Confirmed(p.Stone)
	for _, id := range confirmed {
		if !slices.ContainsFunc(p.Candidates, func(c model.Candidate) bool { return c.Record == id }) {
			p.Candidates = append(p.Candidates, model.Candidate{Record: id})
		}
	}
	p.RunnerUp, p.WouldChange = nil, nil
	total := p.None
	for k := range p.Candidates {
		c := &p.Candidates[k]
		c.Decided = standing(state.Of(p.Stone, c.Record).As)
		before, after := r.elsewhere(r.state, p.Stone, c.Record), r.elsewhere(state, p.Stone, c.Record)
		shift := 0.0
		switch {
		case after != "" && before == "":
			shift = r.another
			c.Evidence = append(c.Evidence, model.Evidence{Field: "decisions", Level: "another stone's man", Bits: shift, Why: "confirmed for stone " + string(after)})
		case after == "" && before != "":
			shift = -r.another
			c.Evidence = slices.DeleteFunc(c.Evidence, func(e model.Evidence) bool { return e.Field == "decisions" })
		}
		c.Bits += shift
		c.Probability *= math.Exp2(shift)
		if c.Decided == string(model.Refused) {
			c.Probability = 0
		}
		total += c.Probability
	}
	for k := range p.Candidates {
		c := &p.Candidates[k]
		switch {
		case len(confirmed) > 0:
			c.Probability = 0
			if c.Decided == string(model.Confirmed) {
				c.Probability = 1 / float64(len(confirmed))
			}
			c.Proposed = c.Probability > 0
		case total > 0:
			c.Probability /= total
			c.Proposed = c.Proposed && c.Probability >= 0.5
		}
	}
	switch {
	case len(confirmed) > 0:
		p.None = 0
	case total > 0:
		p.None /= total
	default:
		p.None = 1
	}
	refused := func(c model.Candidate) int {
		if c.Decided == string(model.Refused) {
			return 1
		}
		return 0
	}
	slices.SortStableFunc(p.Candidates, func(a, b model.Candidate) int {
		return cmp.Or(cmp.Compare(refused(a), refused(b)), cmp.Compare(b.Probability, a.Probability))
	})
	return p, fresh
}

// same reports whether nothing was decided since the round that bears on the proposal.
func (r *round) same(p *model.Proposal, state ledger.State) bool {
	if !slices.Equal(r.state.Confirmed(p.Stone), state.Confirmed(p.Stone)) {
		return false
	}
	for _, c := range p.Candidates {
		if r.state.Of(p.Stone, c.Record).As != state.Of(p.Stone, c.Record).As || r.elsewhere(r.state, p.Stone, c.Record) != r.elsewhere(state, p.Stone, c.Record) {
			return false
		}
	}
	return true
}

// elsewhere is another stone of the same list of graves for which the record is confirmed, where it is not for this one too; "" for none. It is what package link holds
// against a candidate.
func (r *round) elsewhere(s ledger.State, stone model.StoneID, record model.RecordID) model.StoneID {
	if s.Of(stone, record).As == ledger.Confirmed {
		return ""
	}
	for _, id := range s.ConfirmedStones(record) {
		if id != stone && r.registers[id] == r.registers[stone] {
			return id
		}
	}
	return ""
}

// standing is how a pair stands as a proposal tells it.
func standing(as ledger.Standing) string {
	switch as {
	case ledger.Confirmed, ledger.Refused, ledger.Disputed:
		return string(as)
	}
	return ""
}

func clone(p *model.Proposal) model.Proposal {
	q := *p
	q.Candidates = slices.Clone(p.Candidates)
	for i := range q.Candidates {
		q.Candidates[i].Evidence = slices.Clone(q.Candidates[i].Evidence)
	}
	q.Notes = slices.Clone(p.Notes)
	return q
}
