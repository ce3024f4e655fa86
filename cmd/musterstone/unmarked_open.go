package main

import (
	"fmt"
	"slices"
	"strings"

	"musterstone/index"
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
		info := rdf.Table{File: t.File}
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

// open takes out of the leads what columns marked private say, by the rule for publication: for what is made to be handed on. The leads keep their numbers.
func (all *leads) open(s *intake.Survey, x *index.Index, proposals []model.Proposal, decisions []model.Decision) {
	tables, private, any := privacy(s)
	if !any {
		return
	}
	all.guarded = true
	d := rdf.Dataset{Tables: tables, Private: private, Subjects: slices.Values(all.subjects), Proposals: proposals, Decisions: decisions}
	ids := map[model.RecordID]bool{}
	for _, p := range proposals {
		for _, c := range p.Candidates {
			ids[c.Record] = true
		}
	}
	for _, e := range decisions {
		ids[e.Record] = true
	}
	for _, l := range all.all {
		d.Findings = append(d.Findings, l.Finding)
		for _, id := range append(slices.Clone(l.Records), l.Record) {
			ids[id] = true
		}
	}
	d.Records = func(yield func(*model.Record) bool) {
		for id := range ids {
			if r, ok := x.Record(id); ok && !yield(r) {
				return
			}
		}
	}
	subjects, records, _, findings := rdf.Public(&d)
	subject, record := map[model.StoneID]*model.Subject{}, map[model.RecordID]*model.Record{}
	for _, s := range subjects {
		subject[s.Stone.ID] = s
	}
	for _, r := range records {
		record[r.ID] = r
	}
	closed := all.closedGrounds(subjects)
	all.subjects = subjects
	n, next := len(all.all), 0
	all.all = slices.DeleteFunc(all.all, func(l lead) bool { // what is left of them stands in the same order: several of one kind may be of one stone
		if next < len(findings) && findings[next].Stone == l.Stone && findings[next].Record == l.Record && findings[next].Kind == l.Kind {
			next++
			return false
		}
		return true
	})
	all.leftOut = n - len(all.all)
	for i := range all.all {
		l, f := &all.all[i], findings[i]
		if len(f.Reasons) < len(l.Reasons) {
			f.Reasons = []string{privateReason}
		}
		l.unshown = len(f.ToShow) < len(l.ToShow)
		l.Finding = f
		whole := l.record
		if whole != nil {
			l.record = record[whole.ID]
		}
		switch {
		case l.subject != nil:
			l.subject = subject[l.Stone]
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
	switch {
	case !all.guarded:
		return ""
	case all.leftOut == 0:
		return "What columns marked private say is held back here, as in a publication: values, and reasons that would tell them. The survey itself has it."
	}
	are, theirs := "are", "theirs"
	if all.leftOut == 1 {
		are, theirs = "is", "its"
	}
	return fmt.Sprintf("What columns marked private say is held back here, as in a publication: values, and reasons that would tell them; %s on a private inscription, register row or condition %s left out, and a number that is missing is %s. The survey itself has it.",
		count(all.leftOut, "finding", "findings"), are, theirs)
}

// held is the same as a list of none or one.
func (all *leads) held() []string {
	if !all.guarded {
		return nil
	}
	return []string{all.heldWords()}
}
