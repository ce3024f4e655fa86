package main

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"musterstone/cmd/musterstone/internal/job"
	"musterstone/index/intake"
	"musterstone/model"
	"musterstone/vocab/rdf"
)

// What stands for what columns marked private say.
const (
	privateReason = "held back: a column marked private would be told; the survey itself has the reasons"
	privateToShow = "Held back: a column marked private would be told. The survey itself has it."
)

// privacy is what the survey keeps from publication: what each table's columns and metadata say, and the names of the private columns.
func privacy(s *intake.Survey) (tables []rdf.Table, private []string, any bool) {
	for _, t := range s.Tables {
		info := rdf.Table{File: t.File, OpenID: t.OpenID}
		for _, col := range t.Columns {
			if !col.Private && col.Default != "" {
				if info.Given == nil {
					info.Given = map[string]string{}
				}
				info.Given[col.Meaning()] = col.Default
			}
			if col.Private && (col.Virtual || col.Default != "" && col.Meaning() != "") { // no cell says it, or not every row's
				info.Private = append(info.Private, col.Meaning())
			}
			if col.Virtual {
				continue
			}
			if col.Private {
				private = append(private, col.Name)
			}
			info.Columns = append(info.Columns, rdf.TableColumn{Name: col.Name, Term: col.Meaning()})
		}
		any = any || len(info.Private) > 0
		tables = append(tables, info)
	}
	return tables, private, any || len(private) > 0
}

// opened is what of a survey may be handed on, and the records of it by the ids that the survey has for them.
type opened struct {
	*rdf.Open
	record map[model.RecordID]*model.Record
}

// handOn takes what columns marked private say, by the rule for publication, out of stones, of what is proposed, decided and found of them, and of the records that these speak of: for what is made to be
// handed on. It gives nil where nothing is marked. Where keep is set, a key that numbers private ids is kept.
func handOn(ctx context.Context, j *job.Job, subjects []*model.Subject, proposals []model.Proposal, findings []model.Finding, keep bool) (*opened, error) {
	tables, private, any := privacy(j.Survey)
	if !any {
		return nil, nil
	}
	d := rdf.Dataset{Tables: tables, Private: private, Subjects: slices.Values(subjects), Proposals: proposals, Findings: findings, IDKey: func() ([]byte, error) { return j.IDKey(keep) }}
	ids := map[model.RecordID]bool{}
	for _, p := range proposals {
		for _, c := range p.Candidates {
			ids[c.Record] = true
		}
	}
	if proposals != nil {
		l, err := j.Ledger()
		if err != nil {
			return nil, err
		}
		d.Decisions = l.History().Decisions
		for _, e := range d.Decisions {
			ids[e.Record] = true
		}
	}
	for _, f := range findings {
		for _, id := range append(slices.Clone(f.Records), f.Record) {
			ids[id] = true
		}
	}
	var records []*model.Record
	if len(ids) > 0 {
		x, err := j.Index(ctx)
		if err != nil {
			return nil, err
		}
		for id := range ids {
			if r, ok := x.Record(id); ok {
				records = append(records, r)
			}
		}
		d.Records = slices.Values(records)
		d.Of = &rdf.Dataset{Subjects: slices.Values(j.Subjects()), Records: x.Records(ctx)} // whose cells may name rows that are not here
	}
	left, err := rdf.Public(&d)
	if err != nil {
		return nil, fmt.Errorf("hold back what is private: %w", err)
	}
	out := &opened{left, map[model.RecordID]*model.Record{}}
	for i, r := range left.Records {
		out.record[records[i].ID] = r
	}
	return out, nil
}

// open takes out of the leads what columns marked private say. The leads keep their numbers.
func (all *leads) open(ctx context.Context, j *job.Job, proposals []model.Proposal) error {
	var found []model.Finding
	for _, l := range all.all {
		found = append(found, l.Finding)
	}
	left, err := handOn(ctx, j, all.subjects, proposals, found, true)
	if err != nil || left == nil {
		return err
	}
	all.guarded = true
	subject := map[model.StoneID]*model.Subject{}
	for i, s := range left.Subjects {
		subject[all.subjects[i].Stone.ID] = s
	}
	closed := all.closedGrounds(left.Subjects)
	all.subjects, all.renamed = left.Subjects, left.WithheldIDs > 0
	n := len(all.all)
	for i, at := range left.From {
		all.all[i] = all.all[at]
	}
	all.all = all.all[:len(left.From)]
	all.leftOut = n - len(all.all)
	for i := range all.all {
		l, f := &all.all[i], left.Findings[i]
		if len(f.Reasons) < len(l.Reasons) {
			f.Reasons = append(slices.Clone(f.Reasons), privateReason)
		}
		l.unshown = len(f.ToShow) < len(l.ToShow)
		l.Finding = f
		whole := l.record
		if whole != nil {
			l.record = left.record[whole.ID]
		}
		switch {
		case l.subject != nil:
			l.subject = subject[l.subject.Stone.ID]
			l.place = l.subject.Stone.Place
		case l.record == nil, l.record.Person.Buried != whole.Person.Buried, l.record.Service.Remarks != whole.Service.Remarks, closed[strings.ToLower(l.place.Cemetery)]:
			l.place.Cemetery = ""
		}
	}
	slices.SortStableFunc(all.all, walking) // by the places that are left
	var grounds []string
	counts := all.counts[:0:0]
	for i, g := range all.grounds {
		if !closed[strings.ToLower(g)] {
			grounds, counts = append(grounds, g), append(counts, all.counts[i])
		}
	}
	all.grounds, all.counts = grounds, counts
	return nil
}

// closedGrounds are the burial grounds, in lower case, that only private cells name. Of some the table of cemeteries alone speaks, which has none.
func (all *leads) closedGrounds(open []*model.Subject) map[string]bool {
	closed := map[string]bool{}
	for _, s := range all.subjects {
		closed[strings.ToLower(s.Stone.Place.Cemetery)] = true
	}
	for _, s := range open {
		delete(closed, strings.ToLower(s.Stone.Place.Cemetery))
	}
	delete(closed, "")
	return closed
}

// heldWords says that columns marked private are held back; "" where none is marked.
func (all *leads) heldWords() string {
	ids := ""
	if all.renamed {
		ids = " What begins with withheld- stands for an ID that is private, and is the same in a publication."
	}
	switch {
	case !all.guarded:
		return ""
	case all.leftOut == 0:
		return "What columns marked private say is held back here, as in a publication: values, and reasons that would tell them. The survey itself has it." + ids
	}
	are, theirs := "are", "theirs"
	if all.leftOut == 1 {
		are, theirs = "is", "its"
	}
	return fmt.Sprintf("What columns marked private say is held back here, as in a publication: values, and reasons that would tell them; %s on a private inscription, register row or condition %s left out, and a number that is missing is %s. The survey itself has it.%s",
		count(all.leftOut, "finding", "findings"), are, theirs, ids)
}

// held is the same as a list of none or one.
func (all *leads) held() []string {
	if !all.guarded {
		return nil
	}
	return []string{all.heldWords()}
}
