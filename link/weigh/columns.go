package weigh

import (
	"musterstone/model"
	"musterstone/model/date"
)

// Columns are the records packed for weighing: what is compared of each, as numbers of the distinct values, in rowBytes a record, in the order in which the
// records came. Number 0 is "not given" in every column. A stone is weighed against a row without the record being read; the evidence is spelled from
// the values that the rows number. Columns are safe for concurrent use.
type Columns struct {
	rows []row
	ids  string // of all records, one after the other; each ends where the next begins

	surnames, givens, middles, suffixes, homes, burials, files []string // as written; burials as burialText gives them
	units                                                      []model.Unit
	dates                                                      []date.Date
	ages                                                       []date.Age
	ranks                                                      []rankPair
	services                                                   []model.Service // what a marker's design can tell apart; of the remarks, what they tell of another name and unit
	later                                                      []uint32        // by service, the unit that the remarks tell; 0 for none
}

// row is one record.
type row struct {
	surname, given, middle, unit      uint32
	born, died                        uint32 // dates; born as the record gives it
	enlisted, musteredIn, musteredOut uint32 // dates
	home, burial, service             uint32
	id                                uint32 // where it begins in ids
	bornFrom, bornTo                  int16  // the years of birth, given or reckoned from the age; noYear where one of them is open
	age, rank, suffix, file           uint16
}

// rowBytes is what a record takes, without its id and its share of the distinct values: a line of memory.
const rowBytes = 13*4 + 6*2

// noYear stands for a year that is not known.
const noYear = -32768

// rankPair is a rank at entry and a last one.
type rankPair struct{ in, out model.Rank }

// round reports whether the man gave an age in round figures and no date of birth.
func (w *row) round(c *Columns) bool { return w.born == 0 && inRoundFigures(&c.ages[w.age]) }

// Len is the number of records.
func (c *Columns) Len() int { return len(c.rows) }

// ID is the id of record i.
func (c *Columns) ID(i uint32) model.RecordID {
	to := uint32(len(c.ids))
	if int(i)+1 < len(c.rows) {
		to = c.rows[i+1].id
	}
	return model.RecordID(c.ids[c.rows[i].id:to])
}

// Files are the files that the records stand in.
func (c *Columns) Files() []string { return c.files }

// FileNumber says which of Files record i stands in.
func (c *Columns) FileNumber(i uint32) uint16 { return c.rows[i].file }

// Record fills r with what the columns keep of record i: its id and file and, of its claim, what is compared and told. The wordings of the source and what no
// field compares are not among it.
func (c *Columns) Record(i uint32, r *model.Record) {
	w := &c.rows[i]
	r.ID, r.Source.File = c.ID(i), c.files[w.file]
	p, s := &r.Person, &r.Service
	p.Name = model.Name{Surname: c.surnames[w.surname], Given: c.givens[w.given], Middle: c.middles[w.middle], Suffix: c.suffixes[w.suffix]}
	p.Born, p.Died, p.Age = c.dates[w.born], c.dates[w.died], c.ages[w.age]
	p.Residence, p.Buried = c.homes[w.home], c.burials[w.burial]
	*s = c.services[w.service]
	s.Unit = c.units[w.unit]
	s.Rank, s.RankOut = c.ranks[w.rank].in, c.ranks[w.rank].out
	s.Enlisted, s.MusteredIn, s.MusteredOut = c.dates[w.enlisted], c.dates[w.musteredIn], c.dates[w.musteredOut]
}

// SameNameAndUnit reports whether two rows have the same surname, given name and unit, as written.
func (c *Columns) SameNameAndUnit(i, j uint32) bool {
	a, b := &c.rows[i], &c.rows[j]
	return a.surname == b.surname && a.given == b.given && a.unit == b.unit
}
