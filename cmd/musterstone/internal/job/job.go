// Package job runs the parts of the whole job on one survey, each when it is first asked for: reading the tables, reading the
// stones, building the index, weighing, the ledger. The commands and the review desk stand on it.
package job

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"musterstone/index"
	"musterstone/index/intake"
	"musterstone/link"
	"musterstone/link/ledger"
	"musterstone/link/unmarked"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab/inscription"
	"musterstone/vocab/marker"
)

// Refused is an input, or a call, that cannot be worked with as it is.
type Refused struct {
	Text string
	Err  error
}

func (r *Refused) Error() string {
	if r.Err != nil {
		return r.Err.Error()
	}
	return r.Text
}

func (r *Refused) Unwrap() error { return r.Err }

// Options say how a job talks while it works.
type Options struct {
	// Program is the program's version, kept with decisions.
	Program string
	// Year is the year by which it is judged who may be living; in the year 0 everybody may.
	Year int
	// Progress, where set, hears how far a stage is; total is 0 where it is not known.
	Progress func(stage string, done, total int)
	// Note, where set, hears what the person should know but need not mend.
	Note func(text string)
}

// Job is one survey being worked on. It is for one goroutine.
type Job struct {
	Survey *intake.Survey

	opts       Options
	complaints []model.Complaint
	told       map[model.Complaint]bool // those complaints
	opening    int                      // how many of them opening the survey came to, which speak of files beside its tables too
	stones     []*model.Stone
	read       bool // the stones have been read
	subjects   []*model.Subject
	looks      map[string]known // of the input files, when the survey was opened
	digests    map[string]string
	known      map[string]known // digests that are still to be kept
	index      *index.Index
	ledger     *ledger.Ledger
	followed   bool // decisions follow their records
	counts     *weigh.Counts
	columns    *weigh.Columns
	timings    timings
	packed     *packed
	packing    *packing         // nil where no stones are being packed
	wanted     bool             // the columns are, as soon as the index is opened
	reading    chan columnsRead // nil where they are not being read
}

// Open opens the survey in a folder. What keeps some table from being read is among the Complaints; a folder in which nothing can be read is
// Refused.
func Open(dir string, opts Options) (*Job, error) {
	if opts.Progress == nil {
		opts.Progress = func(string, int, int) {}
	}
	if opts.Note == nil {
		opts.Note = func(string) {}
	}
	bound(0, 0, 0)
	times := timings{start: time.Now()}
	times.begin("opening the survey")
	if err := intake.Within(dir, index.DerivedFolder); err != nil {
		return nil, &Refused{Err: fmt.Errorf("open survey %q: %s: %w; delete the link: what it leads to is not touched, and all that is kept there can be made again", dir, index.DerivedFolder, err)}
	}
	survey, err := intake.Open(dir)
	times.begin("")
	var faults *intake.Faults
	switch {
	case errors.As(err, &faults) && (survey == nil || len(survey.Tables) == 0):
		return nil, &Refused{Err: err}
	case err != nil && faults == nil:
		return nil, &Refused{Err: err}
	}
	j := &Job{Survey: survey, opts: opts, timings: times, told: map[model.Complaint]bool{}}
	if faults != nil {
		for _, c := range faults.Complaints {
			j.complain(c)
		}
	}
	for _, c := range survey.Notices {
		j.complain(c)
	}
	for _, t := range survey.Tables {
		for _, c := range t.Notices {
			j.complain(c)
		}
	}
	j.opening = len(j.complaints)
	j.looks = j.look()
	return j, nil
}

// complain takes down a complaint, once.
func (j *Job) complain(c model.Complaint) {
	if !j.told[c] {
		j.told[c] = true
		j.complaints = append(j.complaints, c)
	}
}

// Unread reports whether the disk failed while something was read: then nothing that is made of it is kept.
func (j *Job) Unread() bool {
	return slices.ContainsFunc(j.complaints, func(c model.Complaint) bool { return c.Unread })
}

// Complaints are what was found amiss so far, sorted by file and row.
func (j *Job) Complaints() []model.Complaint {
	return slices.SortedStableFunc(slices.Values(j.complaints), func(a, b model.Complaint) int {
		return cmp.Or(cmp.Compare(a.File, b.File), cmp.Compare(a.Row, b.Row))
	})
}

// Stones reads the stones, once.
func (j *Job) Stones() []*model.Stone {
	j.readStones(context.Background())
	return j.stones
}

func (j *Job) readStones(ctx context.Context) error {
	if j.read {
		return nil
	}
	defer j.stage("reading stones")()
	var stones []*model.Stone
	for s := range j.Survey.Stones(j.complain) {
		stones = append(stones, s)
		if len(stones)%1000 == 0 {
			j.opts.Progress("reading stones", len(stones), 0)
		}
		if ctx.Err() != nil {
			return context.Cause(ctx)
		}
	}
	j.stones, j.read = stones, true
	return nil
}

// Subjects are the stones with their readings and what their design implies.
func (j *Job) Subjects() []*model.Subject {
	j.Read(context.Background())
	return j.subjects
}

// Read reads the stones and their inscriptions, once, so that [Job.Subjects] need not. A context that is done ends it with its cause, and none of the subjects is kept.
func (j *Job) Read(ctx context.Context) error {
	if j.subjects != nil {
		return nil
	}
	if err := j.readStones(ctx); err != nil {
		return err
	}
	defer j.stage("reading inscriptions")()
	subjects := make([]*model.Subject, len(j.stones))
	inParallel(len(subjects), func(i int) {
		if ctx.Err() == nil {
			subjects[i] = Subject(j.stones[i])
		}
	}, func(done int) { j.opts.Progress("reading inscriptions", done, len(subjects)) })
	if ctx.Err() != nil {
		return context.Cause(ctx)
	}
	j.subjects = subjects
	return nil
}

// Subject reads one stone.
func Subject(s *model.Stone) *model.Subject {
	readings := inscription.ReadStone(s)
	sub := &model.Subject{Stone: s, Readings: readings}
	sub.Implies = marker.Imply(s, sub.Reading())
	return sub
}

// Counts counts the values of the records, once.
func (j *Job) Counts(ctx context.Context) (*weigh.Counts, error) {
	if j.counts == nil {
		c, err := j.Columns(ctx)
		if err != nil {
			return nil, err
		}
		if j.counts == nil { // else they were counted as they were read
			defer j.stage("counting")()
			j.counts = c.Counts()
		}
	}
	return j.counts, nil
}

// Propose makes a proposal for every subject, in their order, at the precision asked for (0: the default).
func (j *Job) Propose(ctx context.Context, precision float64) ([]model.Proposal, error) {
	l, err := j.Follow(ctx)
	if err != nil {
		return nil, err
	}
	proposals, _, err := j.Learn(ctx, precision, l.State())
	return proposals, err
}

// Learn makes the proposals that follow from the decisions given, and says what was learned from the stones and the decisions on the way.
func (j *Job) Learn(ctx context.Context, precision float64, settled ledger.State) ([]model.Proposal, *link.Lesson, error) {
	linker, err := j.linker(ctx, precision, settled)
	if err != nil {
		return nil, nil, err
	}
	if err := j.Read(ctx); err != nil {
		return nil, nil, err
	}
	subjects := j.Subjects()
	bound(linker.Columns.Len(), 0, len(subjects))
	defer j.stage("weighing")()
	return linker.Learn(ctx, subjects)
}

// Each makes the proposals that follow from the ledger at the precision asked for (0: the default), and gives them some at a time, so that of very many stones few are held at once:
// to tell from several goroutines, and what that returns is called in the order of the stones.
func (j *Job) Each(ctx context.Context, precision float64, tell func(*link.Told) (inOrder func() error)) error {
	defer letGrow()()
	kept := j.openWeighed()
	defer kept.Close()
	if kept == nil {
		defer j.beginPacking()()
	}
	j.wanted = true
	l, err := j.Follow(ctx)
	if err != nil {
		return err
	}
	linker, err := j.linker(ctx, precision, l.State())
	if err != nil {
		return err
	}
	p := j.packStones()
	linker.Registers, linker.Stones, linker.Moves, linker.Surnames = p.registers, p.n-len(p.registers), p.moves, p.surnames
	bound(linker.Columns.Len(), p.n, 0)
	if err := enough(linker.Columns.Len(), p.n); err != nil {
		return err
	}
	keep := kept.use(j, linker, p)
	defer j.stage("weighing")()
	_, err = linker.Each(ctx, p.n, p.at, tell)
	keep.Close(err == nil)
	kept.forget()
	return err
}

// linker is what weighs the survey's stones.
func (j *Job) linker(ctx context.Context, precision float64, settled ledger.State) (*link.Linker, error) {
	x, err := j.Index(ctx)
	if err != nil {
		return nil, err
	}
	counts, err := j.Counts(ctx)
	if err != nil {
		return nil, err
	}
	columns, err := j.Columns(ctx)
	if err != nil {
		return nil, err
	}
	return &link.Linker{Columns: columns, Rows: x.Places, Counts: counts, Settled: settled, Precision: precision,
		Progress:  func(done, total int) { j.opts.Progress("weighing stones", done, total) },
		Explained: func(done, total int) { j.opts.Progress("explaining", done, total) },
		Stage:     func(name string) { j.timings.begin(name) }}, nil
}

// Record is what is known of the record of candidate n of proposal k that was told: all that is compared, from the packed columns; the whole record where it is not among them, nil where it
// is not there.
func (j *Job) Record(t *link.Told, k, n int) *model.Record {
	if row := t.Rows[k][n]; row != link.NoRow {
		r := new(model.Record)
		j.columns.Record(row, r)
		return r
	}
	r, _ := j.index.Record(t.Proposals[k].Candidates[n].Record)
	return r
}

// Progress tells how far a stage of the caller's own is.
func (j *Job) Progress(stage string, done, total int) { j.opts.Progress(stage, done, total) }

// Unmarked finds the veterans with no government marker.
func (j *Job) Unmarked(ctx context.Context, proposals []model.Proposal) ([]model.Finding, error) {
	x, err := j.Index(ctx)
	if err != nil {
		return nil, err
	}
	in, err := j.UnmarkedInput(ctx, proposals)
	if err != nil {
		return nil, err
	}
	found := unmarked.Find(in)
	return found, x.Err()
}

// Check reads every table to its end and takes down every complaint.
func (j *Job) Check() []intake.Tally {
	if _, err := j.listed(); err != nil {
		j.complain(model.Complaint{File: intake.Cemeteries, Text: err.Error(), Hint: "look at the file, its permissions and the disk", Fatal: true})
	}
	return j.Survey.Check(j.complain)
}
