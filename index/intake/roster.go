package intake

import (
	"iter"

	"musterstone/model"
	"musterstone/model/same"
)

// RosterTable is one of a survey's rosters, to be read by itself.
type RosterTable struct {
	File string

	table      *Table
	pass       *pass[same.Row]
	heard      **RosterTable // of all rosters, the one that is read
	last       bool          // no roster comes after it
	complaints []model.Complaint
	crossed    bool
}

// Rosters gives the survey's rosters, in the order of the tables, for one reading of all of them. They are to be read, or kept, in that order, each once: an
// id is given but once among them.
func (s *Survey) Rosters() []*RosterTable {
	var hear *RosterTable // the one that is read
	p := s.rowPass(model.Bounded(func(c model.Complaint) { hear.complaints = append(hear.complaints, c) }))
	var list []*RosterTable
	for i := range s.Tables {
		if t := &s.Tables[i]; t.Kind.holdsRecords() {
			list = append(list, &RosterTable{File: t.File, table: t, pass: p, heard: &hear})
		}
	}
	if len(list) > 0 {
		list[len(list)-1].last = true
	}
	return list
}

// rowPass reads records as numbered rows.
func (s *Survey) rowPass(complain func(model.Complaint)) *pass[same.Row] {
	return &pass[same.Row]{survey: s, complain: complain, workers: goroutines(), again: true, make: (*reading).number, name: func(r *same.Row, id string) { r.ID = id }}
}

// finish lets go of what was remembered of all rosters when the last has been read.
func (r *RosterTable) finish() {
	if r.last {
		r.pass.ids, r.pass.memories, r.pass.numberings, r.pass.batch = idBook{}, nil, nil, nil
	}
}

// expect makes room for the ids of all rosters when the first is begun.
func (r *RosterTable) expect() {
	if r.pass.ids.ids.Len() == 0 {
		r.pass.ids.ids.Expect(r.pass.survey.RecordsAbout())
	}
}

// Batches reads the roster's records as Survey.Records does, some hundred at a time. A batch is good until the next is asked for, and lasts no longer but for its Values.
func (r *RosterTable) Batches() iter.Seq[*same.Batch] {
	return func(yield func(*same.Batch) bool) {
		*r.heard, r.complaints, r.pass.crossed = r, nil, false
		r.expect()
		rows(r.pass.survey, r.table, r.pass, func(list []*same.Row) bool {
			r.pass.batch.Rows = list
			return yield(r.pass.batch)
		})
		r.crossed = r.pass.crossed
		r.finish()
	}
}

// Keep takes the ids, with their rows, of a roster that was read before and is not to be read again as given. It does nothing and gives false where one
// of them was given in a roster before this one, or where whole, asked after the last of them, tells that some are missing: then it must be read.
func (r *RosterTable) Keep(ids iter.Seq2[string, int], whole func() bool) bool {
	r.expect()
	kept := r.pass.ids.all(r.table, ids, whole)
	if kept {
		r.finish()
	}
	return kept
}

// Told is what was told of the roster when it was read; alone says that nothing of it hung on what other rosters hold.
func (r *RosterTable) Told() (complaints []model.Complaint, alone bool) {
	return r.complaints, !r.crossed
}
