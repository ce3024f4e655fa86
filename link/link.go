// Package link goes from a stone and its candidates to a justified proposal: which service record is the stone's man, with what
// probability, and why.
//
// A stone's man is one of the records or none of them. The posterior follows from the match weights (package weigh) by Bayes'
// rule over those hypotheses; then each record may be at most one stone's (package assign). A link is proposed, never made: a
// person decides.
package link

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"runtime"
	"slices"
	"sync"
	"sync/atomic"

	"musterstone/link/calibrate"
	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab/name"
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
	// Columns are the records packed, and Rows finds which of them may be a stone's man, as Finder does. Where they are set, stones are weighed against
	// rows, no record is read, and Finder is not asked.
	Columns *weigh.Columns
	Rows    func(ctx context.Context, s *model.Subject, limit int) ([]uint32, error)
	// Settled is what people have decided; the zero State has no decisions.
	Settled ledger.State
	// Registers are the stones that are rows of a burial register. Nil where all the survey's subjects are given to Learn, which then sees for itself.
	Registers map[model.StoneID]bool
	// Stones is how many stones the survey has, rows of registers not counted; 0 as with Registers.
	Stones int
	// Moves are those of the survey's men; nil as with Registers.
	Moves *weigh.Moves
	// Surnames are those that the stones' likeliest readings have, by place; nil where each stone is to be asked for its own.
	Surnames []string
	// Precision is the share of proposed links that shall be right, by the posterior's own estimate; 0 means DefaultPrecision.
	Precision float64
	// Candidates is how many records are weighed for a stone; 0 means DefaultCandidates.
	Candidates int
	// Progress, where set, hears how many stones are done, from one goroutine at a time.
	Progress func(done, total int)
	// Explained, where set, hears the same of the explaining and telling that ends the work.
	Explained func(done, total int)
	// Keep, where set, is given what stone i weighs against its rows, whatever people have decided, from several goroutines and in no order; the bytes last until it returns. Kept, where
	// set, gives them, in room where they fit, to a run over the very same stones, rows, counts and moves, which then weighs nothing. They are not trusted: where they cannot be so, all
	// is weighed. Again, where set, gives back what Keep was given in this very run, so that no row is weighed twice.
	Keep  func(i int, weighed []byte)
	Kept  func(i int, room []byte) ([]byte, error)
	Again func(i int, room []byte) ([]byte, error)
	// Stage, where set, hears when a part of the work begins: "weighing", "learning", "sharing out", "explaining and telling".
	Stage func(name string)
}

// Defaults of a Linker.
const (
	DefaultPrecision  = 0.98
	DefaultCandidates = 50
)

// shown is how many candidates a proposal always keeps.
const shown = 10

const (
	// secondStones is the share of men with a second stone in the survey: a cenotaph, a name on a family stone, a replacement. House judgement.
	secondStones = 0.02
	// rosterStones is the share of stones that are of men of the rosters, for the price of a second stone only. House judgement.
	rosterStones = 0.5
	// leastAnother is the least that a second stone costs, in bits, however few the stones are: two stones of one name are two men first. House judgement.
	leastAnother = 2
)

// another is what it costs a candidate, in bits, to have another stone already. That a given stone is a man's second one has the chance of second stones, shared out among
// the stones; that it is his first has the chance that any man of the rosters has for it. Where there is a stone for every man, the first is 1/50 of the second (-5.6 bits); where the
// rosters hold many more men than there are stones, a man known to lie here is about as likely to have a second stone as any other man a first.
func (l *Linker) another() float64 {
	expected := 1.0 // stones a man
	if l.Stones > 0 && l.Counts != nil && l.Counts.N > 0 {
		expected = max(0.1, rosterStones*float64(l.Stones)) / float64(l.Counts.N)
	}
	return min(-leastAnother, math.Log2(secondStones/expected))
}

// Propose makes a proposal for each subject, in their order. The result is the same whatever the number of cores.
func (l *Linker) Propose(ctx context.Context, subjects []*model.Subject) ([]model.Proposal, error) {
	proposals, _, err := l.Learn(ctx, subjects)
	return proposals, err
}

// Learn is Propose, and says what was learned from the stones on the way.
func (l *Linker) Learn(ctx context.Context, subjects []*model.Subject) ([]model.Proposal, *Lesson, error) {
	proposals := make([]model.Proposal, 0, len(subjects))
	lesson, err := l.Each(ctx, len(subjects), func(i int) *model.Subject { return subjects[i] }, func(t *Told) func() error {
		return func() error {
			proposals = append(proposals, t.Proposals...)
			return nil
		}
	})
	if err != nil {
		return nil, nil, err
	}
	return proposals, lesson, nil
}

// Told is a stretch of stones with their proposals.
type Told struct {
	From      int // the first one's place
	Subjects  []*model.Subject
	Proposals []model.Proposal
	// Rows are the rows of each proposal's candidates, NoRow for one that is none of the Columns.
	Rows [][]uint32
}

// NoRow is the row of a candidate that is none of the Columns.
const NoRow = math.MaxUint32

// stretch is how many stones are told at once: the proposals of a few stretches, with all evidence, are all that is held of such.
const stretch = 64

// Each is Learn for as many stones as there may be. Tell hears of them some at a time, as they are explained: of several stretches at once, in several goroutines. What it returns is called
// in the order of the stones, one at a time, and what tell was given lasts no longer than that. Subject gives the stone at a place, from several goroutines; it is asked for it again
// and again, and the Linker keeps none where the candidates are rows.
func (l *Linker) Each(ctx context.Context, n int, subject func(i int) *model.Subject, tell func(*Told) (inOrder func() error)) (*Lesson, error) {
	of := subjects{n, subject}
	l = l.told(of)
	l.stage("weighing")
	w := l.weigher(of)
	all, err := l.weighOrRead(ctx, w, of)
	if err != nil {
		return nil, err
	}
	if l.Columns != nil {
		l.decide(all)
	}
	l.stage("learning")
	fit := l.fit(all)
	lesson := fit.Lesson()
	lesson.Another = l.another()
	if err := context.Cause(ctx); err != nil {
		return nil, err
	}
	l.stage("sharing out")
	answers, err := l.answer(ctx, all)
	if err != nil {
		return nil, err
	}
	decided, err := l.decided(ctx, all)
	if err != nil {
		return nil, err
	}
	lesson.Calibration = calibrate.Fit(decided)
	l.calibrated(all, answers, lesson.Calibration)
	l.propose(all, answers)
	for i := range all {
		all[i].only(answers[i].list)
	}
	if err := context.Cause(ctx); err != nil {
		return nil, err
	}
	l.stage("explaining and telling")
	err = inOrder((n+stretch-1)/stretch, func(k int) func() error {
		if ctx.Err() != nil {
			return func() error { return context.Cause(ctx) }
		}
		told := l.tell(w, of, fit, all, answers, k*stretch, min(n, (k+1)*stretch))
		next := tell(told)
		return func() error {
			if err := next(); err != nil {
				return err
			}
			if l.Explained != nil {
				l.Explained(told.From+len(told.Proposals), n)
			}
			return nil
		}
	})
	if err != nil {
		return nil, err
	}
	return lesson, nil
}

// subjects are stones that are asked for by their places.
type subjects struct {
	n  int
	at func(i int) *model.Subject
}

func (l *Linker) stage(name string) {
	if l.Stage != nil {
		l.Stage(name)
	}
}

// answer gives the posteriors of all stones, each man shared out among the stones that claim him.
func (l *Linker) answer(ctx context.Context, all []weighed) ([]answer, error) {
	answers := make([]answer, len(all))
	inParts(len(all), func(from, to int) {
		for i := from; i < to; i++ {
			answers[i] = l.posterior(&all[i])
		}
	})
	return answers, l.settle(ctx, all, answers)
}

// atOnce is how many stones, one after the other by surname, are weighed by one goroutine.
const atOnce = 32

// bySurname are the places of the subjects in the order of their surnames: what the last stone has read from memory, and what was worked out for its surname, serves the next.
func (l *Linker) bySurname(of subjects) []int32 {
	order, surnames := make([]int32, of.n), l.Surnames
	for i := range order {
		order[i] = int32(i)
	}
	if len(surnames) != of.n {
		surnames = make([]string, of.n)
		inParts(of.n, func(from, to int) {
			for i := from; i < to; i++ {
				surnames[i] = of.at(i).Reading().Claim().Person.Name.Surname
			}
		})
	}
	slices.SortFunc(order, func(a, b int32) int { return cmp.Compare(surnames[a], surnames[b]) })
	return order
}

// weighAll finds and weighs the candidates of every subject.
func (l *Linker) weighAll(ctx context.Context, w *weigh.Weigher, of subjects) ([]weighed, error) {
	all := make([]weighed, of.n)
	limit := l.Candidates
	if limit == 0 {
		limit = DefaultCandidates
	}
	order := l.bySurname(of)
	var next atomic.Int64
	workers := runtime.GOMAXPROCS(0)
	errs := make([]error, workers)
	ctx, cancel := context.WithCancel(ctx)
	defer cancel()
	var group sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for k := range workers {
		group.Go(func() {
			var keep *keeper
			if l.Keep != nil {
				keep = new(keeper)
			}
			for to := int(next.Add(atOnce)); to-atOnce < of.n; to = int(next.Add(atOnce)) {
				for _, i := range order[to-atOnce : min(to, of.n)] {
					if ctx.Err() != nil {
						return
					}
					var err error
					s := of.at(int(i))
					all[i], err = l.weighOne(ctx, w, s, limit, keep)
					if err != nil {
						errs[k] = fmt.Errorf("find candidates for stone %s: %w", s.Stone.ID, err)
						cancel()
						return
					}
					if keep != nil && l.Columns != nil {
						l.Keep(int(i), keep.end(&all[i]))
					}
					if l.Progress != nil {
						mu.Lock()
						done++
						l.Progress(done, of.n)
						mu.Unlock()
					}
				}
			}
		})
	}
	group.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	return all, context.Cause(ctx)
}

func (l *Linker) weigher(of subjects) *weigh.Weigher {
	m := l.Moves
	if m == nil {
		m = weigh.CountMoves(nil)
		for i := range of.n {
			m.Add(of.at(i))
		}
	}
	if l.Columns != nil {
		return weigh.NewPacked(l.Counts, m, l.Columns)
	}
	return weigh.New(l.Counts, m)
}

// weighOne finds and weighs the candidates of one subject, and has keep, where it is not nil, take down the rows.
func (l *Linker) weighOne(ctx context.Context, w *weigh.Weigher, s *model.Subject, limit int, keep *keeper) (weighed, error) {
	if l.Columns != nil {
		rows, err := l.Rows(ctx, s, limit)
		if err != nil {
			return weighed{}, err
		}
		return l.weighRows(w, s, rows, keep), nil
	}
	records, err := l.Finder.Candidates(ctx, s, limit)
	if err != nil {
		return weighed{}, err
	}
	return l.weighWith(w, s, records), nil
}

// begin makes a weighed stone without candidates.
func (l *Linker) begin(w *weigh.Weigher, s *model.Subject) weighed {
	out := weighed{subject: s, stone: s.Stone.ID, register: s.Stone.Register != nil, views: claims(w, s, w.Person, nil)}
	out.standing.Veteran, out.standing.Plain = veteran(s)
	out.standing.Register, out.standing.Mention = out.register, s.Reading().Mention
	surname := s.Reading().Claim().Person.Name.Surname
	out.standing.Unlisted = surname != "" && !name.Uncertain(surname) && l.Counts.Surnames(surname) == 0
	if len(out.views) > 0 {
		out.regiment, out.share = out.views[0].stone.Regiment()
		out.company = out.views[0].stone.Company()
		if out.standing.Unlisted {
			out.standing.Near = fitLadder().near(out.views[0].stone.SurnameLevels())
		}
		out.standing.Surname, out.standing.Given = out.views[0].stone.Leaning()
		out.standing.Strange = out.views[0].stone.StrangeGiven()
		out.standing.Born, out.standing.BornShare = out.views[0].stone.Born()
		for _, v := range out.views { // of several men the stone is as likely one of the rosters' men's as it is for the likeliest
			if v.person == 0 {
				continue
			}
			if born, share := v.stone.Born(); out.standing.Strange || out.standing.Born != 0 && (born == 0 || share > out.standing.BornShare) {
				out.standing.Born, out.standing.BornShare = born, share
			}
			out.standing.Strange = false
		}
	}
	return out
}

// weighWith weighs a subject against the records found for it, under each of its readings: a record counts under the reading that speaks most for it, less
// what that reading's own improbability costs.
func (l *Linker) weighWith(w *weigh.Weigher, s *model.Subject, records []*model.Record) weighed {
	out := l.begin(w, s)
	out.nobody = l.Settled.NoneOf(s.Stone.ID)
	for _, id := range l.Settled.Confirmed(s.Stone.ID) {
		if !slices.ContainsFunc(records, func(r *model.Record) bool { return r.ID == id }) { // it stands, without evidence
			out.cands = append(out.cands, model.Candidate{Record: id, Decided: string(model.Confirmed)})
			out.records = append(out.records, nil)
			out.kinAt = append(out.kinAt, 0)
		}
	}
	for _, r := range records {
		best := model.Candidate{Record: r.ID, Bits: math.Inf(-1)}
		view := noView
		for k, v := range out.views {
			bits, evidence := v.stone.Against(r)
			if v.cost < 0 {
				bits += v.cost
				evidence = append(evidence, model.Evidence{Field: "reading", Level: v.level(), Bits: v.cost, Why: whyReading[v.level()]})
			}
			if bits > best.Bits {
				best.Bits, best.Evidence, best.Person = bits, evidence, v.person
				view = k
			}
		}
		var other bool
		if best.Decided, other = l.said(s.Stone.ID, r.ID); other {
			e := model.Evidence{Field: "decisions", Level: "another stone's man", Bits: l.another(), Why: confirmedFor(l.elsewhere(s.Stone.ID, r.ID))}
			best.Bits += e.Bits
			best.Evidence = append(best.Evidence, e)
		}
		out.cands = append(out.cands, best)
		out.records = append(out.records, r)
		kin := uint8(0)
		if view != noView {
			var levels []uint8
			for _, e := range best.Evidence {
				levels = append(levels, weigh.LevelNumber(e.Field, e.Level))
			}
			out.kin, kin = addKin(out.kin, out.views[view].stone, int8(view), levels)
		}
		out.kinAt = append(out.kinAt, kin)
	}
	out.views = nil
	return out
}

// view is a man whom a stone may be of: the first person of one of its readings, with what it costs in bits to be less likely than the likeliest one, or a further man whom it names.
type view struct {
	stone  *weigh.Stone
	cost   float64
	person int // his place among those whom the likeliest reading names, for a further man; 0 for others
}

// level is the level at which the cost stands among the evidence.
func (v *view) level() string {
	if v.person > 0 {
		return "another man"
	}
	return "another reading"
}

// afterFirst is the cost in bits of a man whom a stone names after another one, where it says of neither that he served. House judgement: the first is twice as likely to be one of the rosters' men.
const afterFirst = -1

// claims are the men whom a stone may be of, each as ready makes him ready, where he is wanted; nil wants all. They are the first person of every reading, and of the likeliest one, where it tells of no service, the
// others who are not said to be somebody's wife or child and whose given names are not strange to the rosters: father and son share many a stone, and either may have served.
func claims(w *weigh.Weigher, s *model.Subject, ready func(s *model.Subject, claim *model.Claim) *weigh.Stone, wanted func(view int) bool) []view {
	var out []view
	add := func(v view, claim *model.Claim) {
		if wanted == nil || wanted(len(out)) {
			v.stone = ready(s, claim)
		}
		out = append(out, v)
	}
	best := s.Reading().Probability
	for i := range s.Readings {
		if r := &s.Readings[i]; len(r.People) > 0 {
			var v view
			if r.Probability < best {
				v.cost = math.Log2(r.Probability / best)
			}
			add(v, &r.People[0])
		}
	}
	if people := s.Reading().People; len(people) > 1 && people[0].Service.IsZero() {
		for i := range people[1:] {
			if c := &people[1+i]; c.Person.Relation == "" && c.Service.IsZero() && c.Person.Name.Given != "" && !w.StrangeGiven(c.Person.Name) && len(out) < mostViews {
				add(view{cost: afterFirst, person: 1 + i}, c)
			}
		}
	}
	return out
}

// mostViews is how many men a stone may be of at most: their numbers are kept in seven bits.
const mostViews = 100
