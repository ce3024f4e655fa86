package index

import (
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
)

// TestSharedBirths: the years in which men of many ages on many days were born are those of their records, in whatever order they come.
func TestSharedBirths(t *testing.T) {
	s, collector := newSharer(), same.NewCollector()
	r := s.roller
	for i := range 20_000 {
		var rec model.Record
		day := date.Day{Year: 1861 + i%1700/360, Month: 1 + i%1700/30%12, Day: 1 + i%28}
		rec.Service.Enlisted = date.Date{From: day, To: day, Written: day.String(), EDTF: day.String()}
		rec.Person.Age = date.Age{Years: 15 + i*i%89, Known: true}
		if i%5 == 0 {
			rec.Service.MusteredIn, rec.Service.Enlisted = rec.Service.Enlisted, date.Date{}
		}
		batch := collector.Take([]*model.Record{&rec})
		n := s.share(batch, s.reader(batch), batch.Rows[0], 0)
		r.add(&n, "")
		from, to := years(rec.Birth())
		if w := &r.rows[len(r.rows)-1]; w.bornFrom != from || w.bornTo != to {
			t.Fatalf("a man of %d on %s was born from %d to %d, want %d to %d", rec.Person.Age.Years, day, w.bornFrom, w.bornTo, from, to)
		}
	}
}
