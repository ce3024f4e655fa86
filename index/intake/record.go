package intake

import (
	"iter"

	"musterstone/model"
)

// Records reads the service records of the survey's rosters, in the order of the tables and of their rows, one at a time. What is wrong with
// a row goes to complain, in the same order, when the row is reached: a fatal complaint means that the row was left out. The sequence may be
// run again, and stopped anywhere. complain may be nil.
func (s *Survey) Records(complain func(model.Complaint)) iter.Seq[*model.Record] {
	return func(yield func(*model.Record) bool) {
		m := newMemory()
		for i := range s.Tables {
			if t := &s.Tables[i]; t.Kind.holdsRecords() && !s.records(t, m, complain, yield) {
				return
			}
		}
	}
}

func (s *Survey) records(t *Table, m *memory, complain func(model.Complaint), yield func(*model.Record) bool) bool {
	if complain == nil {
		complain = func(model.Complaint) {}
	}
	if t.graph {
		return s.eachSubject(t, m, complain, func(r *reading) bool {
			rec, ok := r.record()
			return !ok || yield(rec)
		})
	}
	return s.each(t, m, complain, func(r *reading) bool {
		rec, ok := r.record()
		return !ok || yield(rec)
	})
}

// record makes a service record of the row.
func (r *reading) record() (*model.Record, bool) {
	id, ok := r.id()
	if !ok {
		return nil, false
	}
	rec := &model.Record{
		ID:      model.RecordID(id),
		Source:  model.Source{File: r.table.File, Row: r.row, Subject: r.subject},
		Written: r.written,
		Claim:   r.claim(),
	}
	if rec.Person.Died.IsZero() && rec.Service.Remarks != "" {
		rec.Person.Died = r.memory.deathIn(rec.Service.Remarks, r.nearYear())
	}
	if rec.Person.Name.IsZero() {
		r.tell(noTerm, "the row gives no name", "look whether its cells slipped; the row is kept")
	}
	return rec, true
}
