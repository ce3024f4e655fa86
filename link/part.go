package link

import (
	"bytes"
	"context"
	"encoding/gob"
	"fmt"
	"slices"

	"musterstone/link/weigh"
	"musterstone/model"
)

// Part is some of the stones of a survey on their way to proposals, for a run that is parted over many machines. The steps are those of Learn, and the functions
// the same:
//
//	p := l.Weigh(...)        // stones with the records found for them
//	c := l.Cases(p)          // what Fit begins with (its Patterns), and then counts in rounds, over all parts
//	l.Judge(p, fit)          // posteriors
//	p.Claims()               // which records a stone contends for
//	l.Settle(ctx, p)              // a part that holds the whole of each of its components of stones and records that contend
//	l.Cut(picks)             // of the Picks of all parts
//	l.Finish(p, picks, cut)  // the proposals
//
// It can be written to bytes between any two of them.
type Part struct {
	places  []int // of the stones in the survey, growing
	all     []weighed
	answers []answer // nil before Judge
}

// Len is the number of stones.
func (p *Part) Len() int { return len(p.all) }

// Place is where stone i of the part stands in the survey.
func (p *Part) Place(i int) int { return p.places[i] }

// Weigh weighs subjects, each against the records found for it, best first. Places says where the subjects stand in the survey, and grows.
func (l *Linker) Weigh(w *weigh.Weigher, places []int, subjects []*model.Subject, records [][]*model.Record) *Part {
	p := &Part{places: places, all: make([]weighed, len(subjects))}
	for i, s := range subjects {
		p.all[i] = l.weighWith(w, s, records[i])
	}
	return p
}

// Cases are the part's stones as Fit sees them.
func (l *Linker) Cases(p *Part) *Cases { return l.cases(p.all) }

// Judge gives the part's stones their posteriors by what was learned.
func (l *Linker) Judge(p *Part, f *Fit) {
	l.apply(f, p.all)
	p.answers = make([]answer, len(p.all))
	for i := range p.all {
		p.answers[i] = l.posterior(&p.all[i])
	}
}

// Claims are the records for which each stone contends, in the order of its candidates. Stones that contend for one record, directly or by others, are a component,
// and are to be settled together.
func (p *Part) Claims() [][]model.RecordID {
	out := make([][]model.RecordID, len(p.answers))
	for i := range p.answers {
		for _, c := range p.answers[i].list {
			if c.p >= contend {
				out[i] = append(out[i], p.all[i].id(int(c.cand)))
			}
		}
	}
	return out
}

// Settle shares out the records among the part's stones. A context that is done ends it with its cause.
func (l *Linker) Settle(ctx context.Context, p *Part) error { return l.settle(ctx, p.all, p.answers) }

// Picks are the links that were assigned.
func (l *Linker) Picks(p *Part) []Pick {
	picks := l.picks(p.all, p.answers)
	for i := range picks {
		picks[i].Stone = p.places[picks[i].Stone]
	}
	return picks
}

// Finish gives the part's proposals, those behind the cut no longer proposed. Picks are the part's own.
func (l *Linker) Finish(p *Part, picks []Pick, c Cut) []model.Proposal {
	for _, pick := range picks {
		if !c.proposes(pick) {
			i, _ := slices.BinarySearch(p.places, pick.Stone)
			choice := &p.answers[i].list[pick.Candidate]
			choice.proposed, choice.second = false, false
		}
	}
	l.promote(p.all, p.answers)
	told := make([]model.Proposal, len(p.all))
	for i := range p.all {
		l.tellOne(nil, nil, p.all, i, &p.answers[i], p.all[i].subject, &told[i], nil)
	}
	return told
}

// Select gives a part of some of the stones, by their numbers in the part, which grow.
func (p *Part) Select(stones []int) *Part {
	out := &Part{}
	for _, i := range stones {
		out.take(p, i)
	}
	return out
}

func (p *Part) take(from *Part, i int) {
	p.places = append(p.places, from.places[i])
	p.all = append(p.all, from.all[i])
	if from.answers != nil {
		p.answers = append(p.answers, from.answers[i])
	}
}

// Join gives one part of several that have been through the same steps, its stones in the order of the survey.
func Join(parts []*Part) *Part {
	type stone struct{ part, at int }
	var order []stone
	for k, p := range parts {
		for i := range p.all {
			order = append(order, stone{k, i})
		}
	}
	slices.SortFunc(order, func(a, b stone) int { return parts[a.part].places[a.at] - parts[b.part].places[b.at] })
	out := &Part{}
	for _, s := range order {
		out.take(parts[s.part], s.at)
	}
	return out
}

// partOnWire and weighedOnWire are how a Part is written.
type partOnWire struct {
	Places  []int
	All     []weighedOnWire
	Answers []answerOnWire
}

type weighedOnWire struct {
	Subject  *model.Subject
	Standing Standing
	Nobody   bool
	Prior    float64
	Open     float64
	Cands    []model.Candidate
	Records  []recordOnWire
	Regiment string
	Share    float64
	Company  int
	Kin      []Kin
	KinAt    []uint8
}

// recordOnWire is a record, or none: an element of a list may not be nil.
type recordOnWire struct{ *model.Record }

type answerOnWire struct {
	None   float64
	List   []choiceOnWire
	Rivals []rivalOnWire
	Twins  [][2]uint16
}

type choiceOnWire struct {
	P                float64
	Cand             uint16
	Proposed, Second bool
}

type rivalOnWire struct {
	Choice uint16
	Stone  int32
}

// MarshalBinary writes the part.
func (p *Part) MarshalBinary() ([]byte, error) {
	w := partOnWire{Places: p.places, All: make([]weighedOnWire, len(p.all)), Answers: make([]answerOnWire, len(p.answers))}
	for i := range p.all {
		a := &p.all[i]
		w.All[i] = weighedOnWire{Subject: a.subject, Standing: a.standing, Nobody: a.nobody, Prior: a.prior, Open: a.open, Cands: a.cands,
			Regiment: a.regiment, Share: a.share, Company: a.company, Kin: a.kin, KinAt: a.kinAt, Records: make([]recordOnWire, len(a.records))}
		for k, r := range a.records {
			w.All[i].Records[k].Record = r
		}
		if p.answers != nil {
			w.Answers[i] = w.All[i].answered(&p.answers[i])
		}
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(w); err != nil {
		return nil, fmt.Errorf("write %d weighed stones: %w", len(p.all), err)
	}
	return b.Bytes(), nil
}

// answered is the answer as it is written; of the candidates it leaves those that have a choice in it.
func (w *weighedOnWire) answered(a *answer) answerOnWire {
	out := answerOnWire{None: a.none, Twins: a.twins}
	cands, records := w.Cands, w.Records
	w.Kin, w.KinAt = nil, nil // what was learned is in the bits
	w.Cands, w.Records = make([]model.Candidate, len(a.list)), make([]recordOnWire, len(a.list))
	for k, c := range a.list {
		w.Cands[k], w.Records[k] = cands[c.cand], records[c.cand]
		out.List = append(out.List, choiceOnWire{P: c.p, Cand: uint16(k), Proposed: c.proposed, Second: c.second})
	}
	for _, r := range a.rivals {
		out.Rivals = append(out.Rivals, rivalOnWire{r.choice, r.stone})
	}
	return out
}

// UnmarshalBinary reads what MarshalBinary wrote.
func (p *Part) UnmarshalBinary(b []byte) error {
	var w partOnWire
	if err := gob.NewDecoder(bytes.NewReader(b)).Decode(&w); err != nil {
		return fmt.Errorf("read weighed stones: %w; weigh them anew", err)
	}
	*p = Part{places: w.Places, all: make([]weighed, len(w.All))}
	for i := range w.All {
		a := &w.All[i]
		p.all[i] = weighed{subject: a.Subject, stone: a.Subject.Stone.ID, register: a.Subject.Stone.Register != nil, standing: a.Standing, nobody: a.Nobody,
			prior: a.Prior, open: a.Open, cands: a.Cands, regiment: a.Regiment, share: a.Share, company: a.Company, kin: a.Kin, kinAt: a.KinAt,
			records: make([]*model.Record, len(a.Records))}
		for k := range a.Records {
			p.all[i].records[k] = a.Records[k].Record
		}
		whole(a.Cands, p.all[i].records)
	}
	for _, a := range w.Answers {
		out := answer{none: a.None, twins: a.Twins}
		for _, c := range a.List {
			out.list = append(out.list, choice{p: c.P, cand: c.Cand, proposed: c.Proposed, second: c.Second})
		}
		for _, r := range a.Rivals {
			out.rivals = append(out.rivals, rival{r.Choice, r.Stone})
		}
		p.answers = append(p.answers, out)
	}
	return nil
}

// whole gives back the empty lists that are not written.
func whole(cands []model.Candidate, records []*model.Record) {
	for i := range cands {
		if cands[i].Evidence == nil && (i >= len(records) || records[i] != nil) {
			cands[i].Evidence = []model.Evidence{}
		}
	}
}
