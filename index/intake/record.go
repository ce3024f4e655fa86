package intake

import (
	"bytes"
	"io"
	"iter"
	"os"

	"musterstone/model"
)

// Records reads the service records of the survey's rosters, in the order of the tables and of their rows, one at a time. What is wrong with
// a row goes to complain, in the same order, when the row is reached: a fatal complaint means that the row was left out. The sequence may be
// run again, and stopped anywhere. complain may be nil.
func (s *Survey) Records(complain func(model.Complaint)) iter.Seq[*model.Record] {
	return func(yield func(*model.Record) bool) {
		s.recordTables(s.recordPass(model.Bounded(complain)), func(list []*model.Record) bool {
			for _, r := range list {
				if !yield(r) {
					return false
				}
			}
			return true
		})
	}
}

func (s *Survey) recordTables(p *pass[model.Record], use func([]*model.Record) bool) {
	for i := range s.Tables {
		if t := &s.Tables[i]; t.Kind.holdsRecords() && !rows(s, t, p, use) {
			return
		}
	}
}

func (s *Survey) recordPass(complain func(model.Complaint)) *pass[model.Record] {
	return &pass[model.Record]{survey: s, complain: complain, workers: goroutines(),
		make: (*reading).record, name: func(r *model.Record, id string) { r.ID = model.RecordID(id) }}
}

// rows reads the rows of a roster, be it a table or a graph.
func rows[T any](s *Survey, t *Table, p *pass[T], use func([]*T) bool) bool {
	if t.graph {
		return eachSubject(s, t, p, use)
	}
	return p.table(t, use)
}

// record makes a service record of the row.
func (r *reading) record(rec *model.Record) {
	*rec = model.Record{
		Source:  model.Source{File: r.table.File, Row: r.row, Subject: r.subject},
		Written: r.written,
	}
	r.claim(&rec.Claim)
	if rec.Person.Died.IsZero() && rec.Service.Remarks != "" {
		rec.Person.Died = r.memory.deathIn(rec.Service.Remarks, r.nearYear())
	}
	if rec.Person.Name.IsZero() {
		r.tellNoName()
	}
}

// tellNoName tells of a row without a name, once of a table without a column for names.
func (r *reading) tellNoName() {
	if c := &r.table.bound.columns; !r.table.graph && c[tName] == "" && c[tSurname] == "" && c[tGiven] == "" {
		r.tellOnce(tName, "no column of the table is known to hold names, so that no row gives one", "call it surname and given, or name, or say which it is in "+MetadataFile+", which begin helps with")
		return
	}
	r.tell(noTerm, "the row gives no name", "look whether its cells slipped; the row is kept")
}

// RecordsAbout is about how many records the survey's rosters hold, by their sizes and the lines at their beginnings; 0 where that cannot be told.
func (s *Survey) RecordsAbout() int {
	about := 0
	for i := range s.Tables {
		t := &s.Tables[i]
		if !t.Kind.holdsRecords() || t.graph {
			continue
		}
		f, err := os.Open(s.path(t.File))
		if err != nil {
			continue
		}
		head := make([]byte, 256<<10)
		n, _ := io.ReadFull(f, head)
		lines := max(bytes.Count(head[:n], []byte("\n")), 1)
		if info, err := f.Stat(); err == nil && n > 0 {
			about += int(float64(info.Size()) / float64(n) * float64(lines))
		}
		f.Close()
	}
	return about
}
