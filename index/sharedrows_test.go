package index

import (
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
	"musterstone/vocab/remarks"
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
		switch { // long ago, and ages that go back no whole number of years
		case i%11 == 3:
			rec.Service.Enlisted.From.Year, rec.Service.Enlisted.To.Year = i%700, i%700
		case i%7 == 2:
			rec.Person.Age.HasMonths, rec.Person.Age.Months = true, i%12
		case i%13 == 5:
			rec.Service.Enlisted.To = date.Day{}
		}
		if i%5 == 0 {
			rec.Service.MusteredIn, rec.Service.Enlisted = rec.Service.Enlisted, date.Date{}
		}
		batch := collector.Take([]*model.Record{&rec})
		n := s.share(batch, s.reader(batch), batch.Rows[0], 0)
		r.add(&n, "", new(remarks.Told))
		from, to := years(rec.Birth())
		if w := &r.rows[len(r.rows)-1]; w.bornFrom != from || w.bornTo != to {
			t.Fatalf("a man of %d on %s was born from %d to %d, want %d to %d", rec.Person.Age.Years, day, w.bornFrom, w.bornTo, from, to)
		}
	}
}
