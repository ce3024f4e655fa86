package main

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"github.com/urfave/cli/v2"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

// person is what the survey knows of one person, without what is private.
type person struct {
	subjects  []*model.Subject
	records   []*model.Record
	proposals []model.Proposal
	decisions []model.Decision
	findings  []model.Finding
	private   []string // columns that must not leave the survey, in any letter case

	nameRecorders bool
}

// cells are what a row says, without the columns that must not leave the survey, and without who recorded it where he is not to be named.
func (p *person) cells(written []model.Cell, recorder string) []pair {
	var out []pair
	for _, k := range written {
		if recorder != "" && !p.nameRecorders && strings.TrimSpace(k.Value) == strings.TrimSpace(recorder) {
			continue
		}
		if !slices.ContainsFunc(p.private, func(c string) bool { return strings.EqualFold(c, k.Column) }) {
			out = append(out, pair{k.Column, k.Value})
		}
	}
	return out
}

// leastDossier is the probability from which another stone or record is told in a dossier.
const leastDossier = 0.05

// person gathers what is known of the person of a stone or of a record, and cuts the dataset down to it.
func (a *app) person(c *cli.Context, j *job.Job, d *rdf.Dataset, stone model.StoneID, record model.RecordID) (*person, error) {
	x, err := j.Index(c.Context)
	if err != nil {
		return nil, err
	}
	if stone != "" && !slices.ContainsFunc(j.Subjects(), func(s *model.Subject) bool { return s.Stone.ID == stone }) {
		return nil, &job.Refused{Text: fmt.Sprintf("dossier: there is no stone %q in the survey; musterstone find looks for words", stone)}
	}
	if _, ok := x.Record(record); stone == "" && !ok {
		return nil, &job.Refused{Text: fmt.Sprintf("dossier: there is no record %q in the survey; musterstone find looks for words", record)}
	}
	one := cut(d, stone, record)
	year := a.now().Year()
	for _, s := range one.subjects {
		if rdf.LivingOnStone(s, year) {
			return nil, &job.Refused{Text: fmt.Sprintf("stone %s names a person who may be living: there is no dossier of the living", s.Stone.ID)}
		}
	}
	if record != "" && len(one.subjects) == 0 && slices.ContainsFunc(one.records, func(r *model.Record) bool { return rdf.LivingInRecord(r, year) }) {
		return nil, &job.Refused{Text: fmt.Sprintf("the man of record %s may be living: there is no dossier of the living", record)}
	}
	one.holdRecords(year)
	whole := *d
	d.Of, d.Subjects, d.Records, d.Proposals, d.Decisions, d.Findings = &whole, slices.Values(one.subjects), slices.Values(one.records), one.proposals, one.decisions, one.findings
	open, err := rdf.Public(d)
	if err != nil {
		return nil, fmt.Errorf("dossier: %w", err)
	}
	one.subjects, one.records, one.proposals, one.decisions, one.findings = open.Subjects, open.Records, open.Proposals, open.Decisions, open.Findings
	d.Title = strings.TrimPrefix(d.Title+": "+one.name(), ": ")
	return one, x.Err()
}

// cut takes out of a dataset what is known of the person of a stone or of a record.
func cut(d *rdf.Dataset, stone model.StoneID, record model.RecordID) *person {
	stones, records := linkedTo(d, stone, record)
	one := &person{private: slices.Clone(d.Private), nameRecorders: d.NameRecorders}
	if !d.NameRecorders {
		one.private = append(one.private, "recorder")
	}
	for s := range d.Subjects {
		if stones[s.Stone.ID] {
			one.subjects = append(one.subjects, s)
		}
	}
	for r := range d.Records {
		if records[r.ID] {
			one.records = append(one.records, r)
		}
	}
	slices.SortFunc(one.records, func(x, y *model.Record) int { return cmp.Compare(x.ID, y.ID) })
	for _, p := range d.Proposals {
		if stones[p.Stone] {
			p.Candidates = slices.DeleteFunc(slices.Clone(p.Candidates), func(k model.Candidate) bool { return !records[k.Record] })
			one.proposals = append(one.proposals, p)
		}
	}
	for _, e := range d.Decisions {
		told := e.As != model.Noted || d.PublishNotes
		if told && stones[e.Stone] && (e.Record == "" || records[e.Record]) {
			one.decisions = append(one.decisions, e)
		}
	}
	for _, f := range d.Findings {
		if (f.Stone == "" || stones[f.Stone]) && (f.Record == "" || records[f.Record]) {
			one.findings = append(one.findings, f)
		}
	}
	return one
}

// linkedTo are the stones and records that may be of one person: the stone or the record itself, the records that come near the stone, and the stones that may be the
// man's of the record, or of the likeliest one.
func linkedTo(d *rdf.Dataset, stone model.StoneID, record model.RecordID) (stones map[model.StoneID]bool, records map[model.RecordID]bool) {
	stones, records = map[model.StoneID]bool{}, map[model.RecordID]bool{}
	decided := map[[2]string]bool{} // by a decision on that very record: where none of a stone's records is its man, all of them are refused
	for _, e := range d.Decisions {
		decided[[2]string{string(e.Stone), string(e.Record)}] = true
	}
	near := func(stone model.StoneID, k model.Candidate) bool {
		return k.Probability >= leastDossier || k.Decided != "" && decided[[2]string{string(stone), string(k.Record)}]
	}
	proposals := d.Proposals
	man := record
	if record != "" {
		records[record] = true
	} else {
		stones[stone] = true
	}
	for _, p := range proposals {
		if p.Stone != stone {
			continue
		}
		for _, k := range p.Candidates {
			if near(stone, k) {
				records[k.Record] = true
			}
		}
		if len(p.Candidates) > 0 && p.Candidates[0].Probability >= 0.5 {
			man = p.Candidates[0].Record
		}
	}
	for _, p := range proposals {
		for _, k := range p.Candidates {
			if man != "" && k.Record == man && near(p.Stone, k) {
				stones[p.Stone] = true
			}
		}
	}
	return stones, records
}

// holdRecords takes out the records of men who may be living, who may be others than the dossier's man, with the proposals, decisions and findings that name them.
func (p *person) holdRecords(year int) {
	held := map[model.RecordID]bool{}
	for _, r := range p.records {
		held[r.ID] = rdf.LivingInRecord(r, year)
	}
	p.records = slices.DeleteFunc(p.records, func(r *model.Record) bool { return held[r.ID] })
	for i := range p.proposals {
		p.proposals[i].Candidates = slices.DeleteFunc(p.proposals[i].Candidates, func(k model.Candidate) bool { return held[k.Record] })
	}
	p.decisions = slices.DeleteFunc(p.decisions, func(e model.Decision) bool { return held[e.Record] })
	p.findings = slices.DeleteFunc(p.findings, func(f model.Finding) bool { return held[f.Record] })
}

// name is the person's, by the stone or else by the record.
func (p *person) name() string {
	for _, s := range p.subjects {
		if n := p.about(s).Reading().Claim().Person.Name.String(); n != "" {
			return n
		}
	}
	for _, r := range p.records {
		if n := r.Person.Name.String(); n != "" {
			return n
		}
	}
	return "a person without a name"
}

// about is a stone as it speaks of the dossier's man, where it names several.
func (p *person) about(s *model.Subject) *model.Subject {
	for i := range p.proposals {
		if p.proposals[i].Stone == s.Stone.ID {
			return s.About(p.proposals[i].Man())
		}
	}
	return s
}

// probability is that of a record for a stone.
func (p *person) probability(stone model.StoneID, record model.RecordID) float64 {
	for _, g := range p.proposals {
		for _, k := range g.Candidates {
			if g.Stone == stone && k.Record == record {
				return k.Probability
			}
		}
	}
	return 0
}
