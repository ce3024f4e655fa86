// Package link goes from a stone and its candidates to a justified proposal: which service record is the stone's man, with what
// probability, and why.
//
// A stone's man is one of the records or none of them. The posterior follows from the match weights (package weigh) by Bayes'
// rule over those hypotheses; then each record may be at most one stone's (package assign). A link is proposed, never made: a
// person decides.
package link

import (
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"

	"musterstone/link/calibrate"
	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
)

// Finder finds the records that may be a stone's man, the likeliest to be the right ones first, at most limit. The full-text
// index is one; Scan is another.
type Finder interface {
	Candidates(ctx context.Context, s *model.Subject, limit int) ([]*model.Record, error)
}

// Linker makes proposals. Its fields are set once, before use.
type Linker struct {
	Finder Finder
	Counts *weigh.Counts
	// Settled is what people have decided; the zero State has no decisions.
	Settled ledger.State
	// Precision is the share of proposed links that shall be right, by the posterior's own estimate; 0 means DefaultPrecision.
	Precision float64
	// Candidates is how many records are weighed for a stone; 0 means DefaultCandidates.
	Candidates int
	// Progress, where set, hears how many stones are done, from one goroutine at a time.
	Progress func(done, total int)
}

// Defaults of a Linker.
const (
	DefaultPrecision  = 0.98
	DefaultCandidates = 50
)

// shown is how many candidates a proposal always keeps.
const shown = 10

// anotherStone is what it costs a candidate, in bits, to be confirmed for another stone: some men have two (a cenotaph, a name on a family
// stone, a replacement), about one in fifty. House judgement.
const anotherStone = -5.6

// weighed is a stone with its weighed candidates.
type weighed struct {
	subject *model.Subject
	veteran float64 // probability that the stone is a veteran's at all, by its words and design
	nobody  bool    // a person has said that its man is in none of the records
	plain   bool    // neither words nor design speak of a service
	prior   float64 // probability that its man is in the rosters, before any of them is looked at
	cands   []model.Candidate
	records []*model.Record // of the candidates, nil for one that the finder did not bring
	// regiment is the key of the regiment on the stone, "" for none, and share the part of the rosters' men in it.
	regiment string
	share    float64
}

// Propose makes a proposal for each subject, in their order. The result is the same whatever the number of cores.
func (l *Linker) Propose(ctx context.Context, subjects []*model.Subject) ([]model.Proposal, error) {
	proposals, _, err := l.Learn(ctx, subjects)
	return proposals, err
}

// Learn is Propose, and says what was learned from the stones on the way.
func (l *Linker) Learn(ctx context.Context, subjects []*model.Subject) ([]model.Proposal, *Lesson, error) {
	all, err := l.weighAll(ctx, subjects)
	if err != nil {
		return nil, nil, err
	}
	lesson := l.fit(all)
	proposals := l.answer(all)
	lesson.Calibration = calibrate.Fit(l.decided(all))
	l.calibrated(proposals, lesson.Calibration)
	l.propose(all, proposals)
	l.explain(all, proposals)
	return proposals, lesson, nil
}

// answer gives the posteriors of all stones, each man shared out among the stones that claim him.
func (l *Linker) answer(all []weighed) []model.Proposal {
	proposals := make([]model.Proposal, len(all))
	for i := range all {
		proposals[i] = l.posterior(&all[i])
	}
	l.settle(all, proposals)
	return proposals
}

// weighAll finds and weighs the candidates of every subject.
func (l *Linker) weighAll(ctx context.Context, subjects []*model.Subject) ([]weighed, error) {
	w := weigh.New(l.Counts, weigh.CountMoves(subjects))
	all := make([]weighed, len(subjects))
	limit := l.Candidates
	if limit == 0 {
		limit = DefaultCandidates
	}
	next := make(chan int)
	workers := runtime.GOMAXPROCS(0)
	errs := make([]error, workers)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var group sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for k := range workers {
		group.Go(func() {
			for i := range next {
				var err error
				all[i], err = l.weighOne(ctx, w, subjects[i], limit)
				if err != nil {
					errs[k] = fmt.Errorf("find candidates for stone %s: %w", subjects[i].Stone.ID, err)
					cancel()
					return
				}
				if l.Progress != nil {
					mu.Lock()
					done++
					l.Progress(done, len(subjects))
					mu.Unlock()
				}
			}
		})
	}
feed:
	for i := range subjects {
		select {
		case next <- i:
		case <-ctx.Done():
			break feed
		}
	}
	close(next)
	group.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return all, context.Cause(ctx)
}

// weighOne weighs the candidates of one subject, under each of its readings: a record counts under the reading that speaks most for it, less
// what that reading's own improbability costs.
func (l *Linker) weighOne(ctx context.Context, w *weigh.Weigher, s *model.Subject, limit int) (weighed, error) {
	out := weighed{subject: s}
	out.veteran, out.plain = veteran(s)
	out.nobody = l.Settled.NoneOf(s.Stone.ID)
	records, err := l.Finder.Candidates(ctx, s, limit)
	if err != nil {
		return out, err
	}
	for _, id := range l.Settled.Confirmed(s.Stone.ID) {
		if !slices.ContainsFunc(records, func(r *model.Record) bool { return r.ID == id }) {
			// A person chose a record that the finder did not bring: it stands, without evidence.
			out.cands = append(out.cands, model.Candidate{Record: id, Decided: string(model.Confirmed)})
			out.records = append(out.records, nil)
		}
	}
	views := claims(w, s)
	if len(views) > 0 {
		out.regiment, out.share = views[0].stone.Regiment()
	}
	for _, r := range records {
		best := model.Candidate{Record: r.ID, Bits: math.Inf(-1)}
		for _, v := range views {
			bits, evidence := v.stone.Against(r)
			if v.cost < 0 {
				bits += v.cost
				evidence = append(evidence, model.Evidence{Field: "reading", Level: "another reading", Bits: v.cost, Why: "the stone is likelier to be read otherwise"})
			}
			if bits > best.Bits {
				best.Bits, best.Evidence = bits, evidence
			}
		}
		switch as := l.Settled.Of(s.Stone.ID, r.ID).As; as {
		case ledger.Confirmed, ledger.Refused, ledger.Disputed:
			best.Decided = string(as)
		}
		if best.Decided != string(ledger.Confirmed) {
			if others := l.Settled.ConfirmedStones(r.ID); len(others) > 0 {
				e := model.Evidence{Field: "decisions", Level: "another stone's man", Bits: anotherStone, Why: "confirmed for stone " + string(others[0])}
				best.Bits += e.Bits
				best.Evidence = append(best.Evidence, e)
			}
		}
		out.cands = append(out.cands, best)
		out.records = append(out.records, r)
	}
	return out, nil
}

// view is one reading of a stone that names somebody, with what it costs in bits to be less likely than the likeliest one.
type view struct {
	stone *weigh.Stone
	cost  float64
}

// claims are the readings of a stone that name somebody.
func claims(w *weigh.Weigher, s *model.Subject) []view {
	var out []view
	best := s.Reading().Probability
	for _, r := range s.Readings {
		if len(r.People) == 0 {
			continue
		}
		v := view{stone: w.Stone(s, r.Claim())}
		if r.Probability < best {
			v.cost = math.Log2(r.Probability / best)
		}
		out = append(out, v)
	}
	return out
}
