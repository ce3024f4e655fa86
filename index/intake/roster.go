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
	pass       *pass[model.Record]
	heard      **RosterTable // of all rosters, the one that is read
	last       bool          // no roster comes after it
	complaints []model.Complaint
	crossed    bool
}

// Rosters gives the survey's rosters, in the order of the tables, for one reading of all of them. They are to be read, or kept, in that order, each once: an
// id is given but once among them.
func (s *Survey) Rosters() []*RosterTable {
	var hear *RosterTable // the one that is read
	p := s.recordPass(model.Bounded(func(c model.Complaint) { hear.complaints = append(hear.complaints, c) }), true)
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

// finish lets go of what was remembered of all rosters when the last has been read.
func (r *RosterTable) finish() {
	if r.last {
		r.pass.ids, r.pass.memories, r.pass.marks = idBook{}, nil, nil
	}
}

// Batches reads the roster's records as Survey.Records does, some hundred at a time, and uses them again: a batch and what is in it is good until the next is asked for. Only its
// strings last. With each batch come marks, one for each record, that tell which values of theirs are the same.
func (r *RosterTable) Batches() iter.Seq2[[]*model.Record, []same.Marks] {
	return func(yield func([]*model.Record, []same.Marks) bool) {
		*r.heard, r.complaints, r.pass.crossed = r, nil, false
		r.pass.survey.records(r.table, r.pass, func(list []*model.Record) bool { return yield(list, r.pass.marks) })
		r.crossed = r.pass.crossed
		r.finish()
	}
}

// Keep takes the ids, with their rows, of a roster that was read before and is not to be read again as given. It does nothing and gives false where one
// of them was given in a roster before this one, or where whole, asked after the last of them, tells that some are missing: then it must be read.
func (r *RosterTable) Keep(ids iter.Seq2[string, int], whole func() bool) bool {
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
