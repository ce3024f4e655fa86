package main

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/link/unmarked"
	"musterstone/link/unmarked/estimate"
	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/natural"
	"musterstone/vocab/rdf"
)

// lead is a finding with what it is about, ready to be put on paper.
type lead struct {
	model.Finding
	subject  *model.Subject // nil where no stone and no register's row is known
	record   *model.Record  // the record that it is about, or the likeliest; nil where none is likelier than not
	decided  bool           // a person confirmed the record
	place    model.Place
	withheld bool // the man may be living
	unshown  bool // a column marked private keeps back what is to be shown
	number   int  // in walking order, from 1
	rank     int  // in the order of the findings, likeliest first, from 0
}

// leads are findings with the estimates for the grounds they are in.
type leads struct {
	all      []lead // in walking order
	grounds  []string
	counts   []estimate.Result // of each ground
	total    estimate.Result
	subjects []*model.Subject
	title    string
	guarded  bool // what columns marked private say is held back
	leftOut  int  // findings that are left out for it
	renamed  bool // numbers stand for ids
}

// certainty is the probability that the intervals hold the truth with.
const certainty = 0.9

// leads finds the veterans with no government marker and everything that a report on them needs. cemetery restricts them to a ground; "" is all. Where open is set, what columns
// marked private say is not in them.
func (a *app) leads(ctx context.Context, j *job.Job, cemetery string, open bool) (*leads, error) {
	proposals, err := j.Propose(ctx, 0)
	if err != nil {
		return nil, err
	}
	in, err := j.UnmarkedInput(ctx, proposals)
	if err != nil {
		return nil, err
	}
	x, err := j.Index(ctx)
	if err != nil {
		return nil, err
	}
	out := &leads{subjects: j.Subjects(), title: j.Survey.Title}
	byID := map[model.StoneID]*model.Subject{}
	for _, s := range in.Subjects {
		byID[s.Stone.ID] = s
	}
	best := map[model.StoneID]model.Candidate{}
	for _, p := range proposals {
		if len(p.Candidates) > 0 && p.Candidates[0].Probability >= 0.5 {
			best[p.Stone] = p.Candidates[0]
		}
	}
	men := unmarked.Men(in)
	at := map[model.RecordID]string{}
	for _, m := range men {
		at[m.Record] = m.Cemetery
		out.meet(m.Cemetery)
	}
	for i, f := range unmarked.Find(in) {
		l := lead{Finding: f, subject: byID[f.Stone], rank: i}
		id := f.Record
		if l.subject != nil {
			l.place = l.subject.Stone.Place
			if c, ok := best[f.Stone]; ok {
				id, l.decided = c.Record, c.Decided == string(model.Confirmed)
			}
		} else {
			l.place.Cemetery = at[f.Record]
		}
		if r, ok := x.Record(id); ok {
			l.record = r
		}
		l.hold(a.now().Year())
		out.all = append(out.all, l)
		out.meet(l.place.Cemetery)
	}
	slices.Sort(out.grounds)
	if cemetery != "" {
		known := out.grounds
		out.grounds = slices.DeleteFunc(slices.Clone(known), func(g string) bool { return !strings.EqualFold(g, cemetery) })
		switch {
		case len(known) == 0:
			return nil, &job.Refused{Text: fmt.Sprintf("nothing is found in a cemetery %q, nor in any other; leave --cemetery out to see what lies in none", cemetery)}
		case len(out.grounds) == 0:
			return nil, &job.Refused{Text: fmt.Sprintf("nothing is found in a cemetery %q; where something is found, %s", cemetery, nearGrounds(known, cemetery))}
		}
		out.all = slices.DeleteFunc(out.all, func(l lead) bool { return !strings.EqualFold(l.place.Cemetery, cemetery) })
	}
	for _, g := range out.grounds {
		out.counts = append(out.counts, unmarked.Count(men, g, certainty))
	}
	out.total = unmarked.Count(men, cemetery, certainty)
	slices.SortStableFunc(out.all, walking)
	for i := range out.all {
		out.all[i].number = i + 1
	}
	if open {
		if err := out.open(ctx, j, proposals); err != nil {
			return nil, err
		}
	}
	return out, x.Err()
}

// walking is the order in which one walks. What has its number already keeps to it where nothing else tells.
func walking(p, q lead) int {
	return cmp.Or(natural.Compare(p.place.Cemetery, q.place.Cemetery), placedFirst(p, q), natural.Compare(p.place.Section, q.place.Section), natural.Compare(p.place.Row, q.place.Row), natural.Compare(p.place.Plot, q.place.Plot),
		cmp.Compare(q.Probability, p.Probability), cmp.Compare(p.Kind, q.Kind), cmp.Compare(p.number, q.number), cmp.Compare(p.Stone, q.Stone), cmp.Compare(p.Record, q.Record))
}

// meet takes up a ground that is not among the grounds yet.
func (all *leads) meet(ground string) {
	if ground != "" && !slices.ContainsFunc(all.grounds, func(g string) bool { return strings.EqualFold(g, ground) }) {
		all.grounds = append(all.grounds, ground)
	}
}

// ranked are the leads in the order of the findings.
func (all *leads) ranked() []lead {
	return slices.SortedStableFunc(slices.Values(all.all), func(p, q lead) int { return cmp.Compare(p.rank, q.rank) })
}

// placedFirst puts those of whom no place in the ground is known last.
func placedFirst(p, q lead) int {
	known := func(l lead) int {
		if l.subject == nil {
			return 1
		}
		return 0
	}
	return cmp.Compare(known(p), known(q))
}

// hold holds back, by the rule for publication, what names a man who may be living: the lead where its stone or its record does, else the record alone.
func (l *lead) hold(year int) {
	living := l.record != nil && rdf.LivingInRecord(l.record, year)
	if l.subject != nil {
		l.withheld = rdf.LivingOnStone(l.subject, year)
	} else {
		l.withheld = living
	}
	if living && l.subject != nil {
		l.record = nil
		l.Record = ""
	}
}

// told is the finding without what is held back.
func (l *lead) told() model.Finding {
	f := l.Finding
	if l.withheld {
		f.Record, f.Reasons = "", []string{withheldReason}
	}
	return f
}

// claim is what the stone or the row says, or else the record.
func (l *lead) claim() model.Claim {
	if l.subject != nil && len(l.subject.Reading().People) > 0 {
		return l.subject.Reading().Claim()
	}
	if l.record != nil && l.subject == nil {
		return l.record.Claim
	}
	return model.Claim{}
}

// What stands for the name of a man who may be living, and for the reasons of a lead to him.
const (
	withheldName   = "(name held back: he may be living)"
	withheldReason = "held back: somebody who is named there may be living; the survey itself has the rest"
)

// name is the man's name, or what there is instead.
func (l *lead) name() string {
	if l.withheld {
		return withheldName
	}
	n := l.claim().Person.Name.String()
	switch {
	case n != "":
		return n
	case l.subject != nil:
		return headline(l.subject)
	}
	return "a man without a name"
}

// what names the stone, the row of a register or the record that a lead is about.
func (l *lead) what() string {
	switch {
	case l.subject == nil && l.withheld:
		return "record (number held back)"
	case l.subject == nil:
		return "record " + string(l.Record)
	case l.subject.Stone.Register != nil:
		return "register row " + string(l.Stone)
	}
	return "stone " + string(l.Stone)
}

// unit is the unit of the record, or as the stone has it.
func (l *lead) unit() string {
	if l.record != nil && !l.record.Service.Unit.IsZero() && l.Kind != model.WrongMarker {
		return unitWords(l.record.Service.Unit)
	}
	return unitWords(l.claim().Service.Unit)
}

// state is how certain a lead is, in the words that reports count by.
func (l *lead) state() string {
	switch {
	case l.Kind == model.UnknownLead || l.Probability < 0.5:
		return states[3]
	case l.decided:
		return states[0]
	case math.Round(100*l.Probability) >= 90: // as it is printed
		return states[1]
	}
	return states[2]
}

// states are the states of certainty, surest first.
var states = []string{"record confirmed by a person", "nine in ten or more", "likelier than not", "a lead only"}

// kinds are the kinds of finding, in the order in which reports count them.
var kinds = []string{model.PrivateStone, model.NoStone, model.WrongMarker, model.FailingMarker, model.SecondMarker, model.UnknownLead}

// kindWords are the words for a kind of finding: for the commonest two, shorter ones than the vocabulary's, for lists.
func kindWords(kind string) string {
	switch kind {
	case model.PrivateStone:
		return "private stone"
	case model.NoStone:
		return "no stone"
	}
	return vocab.Label("finding", kind)
}

// pattern is what the marker looks like.
func (l *lead) pattern() string {
	if l.subject == nil || l.subject.Stone.Register != nil {
		return "no stone recorded"
	}
	code, _ := l.subject.Implies.Best()
	return vocab.Label("pattern", string(code))
}

// sentence is the estimate in a sentence: "about 34 veterans lie here without a government marker, 90% interval 27 to 41; 12 of them named".
func sentence(r estimate.Result) string {
	if found := int(math.RoundToEven(r.Found)); !r.Estimated {
		return fmt.Sprintf("%s without a government marker %s found here (%.0f%% interval %d to %d, %.0f of them named); how many more lie here whom nothing names cannot be said from fewer than two lists",
			count(found, "veteran", "veterans"), isAre(found), 100*r.Level, r.From, r.To, r.Named)
	}
	if math.RoundToEven(r.N) == 1 {
		return fmt.Sprintf("about 1 veteran lies here without a government marker, %.0f%% interval %d to %d; %.0f of them named", 100*r.Level, r.From, r.To, r.Named)
	}
	return fmt.Sprintf("about %.0f veterans lie here without a government marker, %.0f%% interval %d to %d; %.0f of them named", r.N, 100*r.Level, r.From, r.To, r.Named)
}

// figures is the estimate for a line under others of its kind: "about 14, 90% interval 10 to 30; 10 of them named".
func figures(r estimate.Result) string {
	how := "about"
	n := r.N
	if !r.Estimated {
		how, n = "found", r.Found
	}
	return fmt.Sprintf("%s %.0f, %.0f%% interval %d to %d; %.0f of them named", how, n, 100*r.Level, r.From, r.To, r.Named)
}

// foundOnly says what "found" means in place of "about".
const foundOnly = "Where only those found are given, fewer than two lists tell of the ground, and how many more lie there whom nothing names cannot be said."

// someFoundOnly reports whether the figures of a ground are of those found alone.
func (all *leads) someFoundOnly() bool {
	return slices.ContainsFunc(all.counts, func(r estimate.Result) bool { return !r.Estimated })
}

// assumptions are what the estimate rests on, in sentences.
func (all *leads) assumptions() []string {
	if len(all.grounds) < 2 {
		return assumed
	}
	return append(slices.Clone(assumed), "All grounds together are counted as one ground, with longer lists; the middles of lopsided distributions do not add up, so that the figures of the grounds need not.")
}

var assumed = []string{
	"The figure is by capture and recapture: the fewer of the men on one list are found on another, the more there must be whom no list names.",
	"It takes the lists (stones that tell of service, rosters' burial remarks, burial registers) to be independent, each to name every man with one chance of its own, and all to speak of the same ground. Lists copied from each other make it too small; lists that leave gaps to each other make it too large.",
	"Where some men are remembered by every list and others by none, as the well-to-do and the poor often are, it is too small as well: then take it for a least.",
}
