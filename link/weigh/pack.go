package weigh

import (
	"math"
	"runtime"
	"slices"
	"strings"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/room"
	"musterstone/model/same"
	"musterstone/vocab/remarks"
)

// A Packer makes Columns of records as they come by. It keeps nothing of a record but what it copies.
type Packer struct {
	c        Columns
	ids      []byte
	expected int // records

	surnames, givens, middles, suffixes, homes, burials, files lexicon
	units                                                      map[unitValue]uint32
	dates                                                      map[dateText]uint32
	ages                                                       map[date.Age]uint32
	ranks                                                      map[rankPair]uint32
	services                                                   map[packedService]uint32

	told      remarks.Memory
	collector *same.Collector // of records that come one by one
	readers   map[int]*renumbered
	bodies    []model.Body // met so far
	newborn   [][2]int16   // by date: the years in which a man was born who was not yet one year old then
}

// renumbered has, by a reader's number of a value, what is here in its place; 0, or a zero value, where it was not met.
type renumbered struct {
	surnames, dates, ages, homes, burials, ranks []uint32 // numbers and 1
	names                                        []nameNumbers
	units                                        []unitNumbers
	services                                     [][]uint32 // by number and body
}

// nameNumbers are the numbers of a name without its surname.
type nameNumbers struct {
	given, middle, suffix uint32
	known                 bool
}

// unitNumbers are a unit's number, and that of its body among bodies.
type unitNumbers struct {
	unit  uint32
	body  uint16
	known bool
}

// lexicon numbers words in the order in which they come; 0 is "".
type lexicon struct {
	n      map[string]uint32
	values []string
}

func newLexicon() lexicon { return lexicon{n: map[string]uint32{"": 0}, values: []string{""}} }

func (l *lexicon) number(s string) uint32 {
	if s == "" {
		return 0
	}
	n, ok := l.n[s]
	if !ok {
		s = strings.Clone(s)
		n = uint32(len(l.values))
		l.n[s] = n
		l.values = append(l.values, s)
	}
	return n
}

// unitValue is a unit that can be a key: without its wording, its marks in one text.
type unitValue struct {
	body             model.Body
	state            model.State
	number, division int
	arm              model.Arm
	kind             model.UnitKind
	company, name    string
	lost, marks      string
}

// packedService tells one service from another, by what its remarks tell of another name and unit of the man too.
type packedService struct {
	serviceKey
	told  string
	later uint32
}

// dateText tells one date from another: its days follow from its EDTF.
type dateText struct{ edtf, written string }

// NewPacker starts with no record.
func NewPacker() *Packer {
	p := &Packer{
		surnames: newLexicon(), givens: newLexicon(), middles: newLexicon(), suffixes: newLexicon(), homes: newLexicon(), burials: newLexicon(), files: newLexicon(),
		readers: map[int]*renumbered{}, units: map[unitValue]uint32{{}: 0}, dates: map[dateText]uint32{{}: 0}, ages: map[date.Age]uint32{{}: 0}, ranks: map[rankPair]uint32{{}: 0},
		services: map[packedService]uint32{{}: 0},
	}
	p.c.units, p.c.dates, p.c.ages, p.c.ranks, p.c.services = make([]model.Unit, 1), make([]date.Date, 1), make([]date.Age, 1), make([]rankPair, 1), make([]model.Service, 1)
	p.c.later = make([]uint32, 1)
	return p
}

// Expect says about how many records will come.
func (p *Packer) Expect(records int) { p.expected = records }

// put adds a row. When some of those that are expected have come, there is made room for all of them: an append makes room for a quarter more, and copies a long list often.
func (p *Packer) put(w *row) {
	rows := p.c.rows
	if n := len(rows); n == cap(rows) {
		more := n + n/4 + 1<<10
		switch {
		case n > p.expected/16 && n < p.expected:
			more = p.expected + p.expected/16
			p.ids = room.For(p.ids, len(p.ids)/n*(more-n)+(more-n)/4) // likewise
		case n < p.expected:
			more = 2*n + 1<<10
		}
		rows = room.For(rows, more-n)
	}
	p.c.rows = append(rows, *w)
}

// Add packs one record, which may be used again for another one afterwards.
func (p *Packer) Add(r *model.Record) {
	if p.collector == nil {
		p.collector = same.NewCollector()
	}
	b := p.collector.Take([]*model.Record{r})
	p.Take(b, p.told.Rows(b))
}

// Take packs the records of a batch, of which the remarks of each tell that; both may be used again afterwards.
func (p *Packer) Take(b *same.Batch, told []*remarks.Told) {
	of, file := p.reader(b), small(p.files.number(b.File))
	of.ask(b.Rows)
	for i, r := range b.Rows {
		w := p.row(b, of, r, told[i])
		w.file, w.id = file, uint32(len(p.ids))
		p.ids = append(p.ids, r.ID...)
		p.put(&w)
	}
}

// reader gives what was made of a reader's values, with room for all that it has now.
func (p *Packer) reader(b *same.Batch) *renumbered {
	of := p.readers[b.Reader]
	if of == nil {
		of = new(renumbered)
		p.readers[b.Reader] = of
	}
	v := &b.Values
	of.surnames, of.dates, of.ages = roomFor(of.surnames, len(v.Surnames)), roomFor(of.dates, len(v.Dates)), roomFor(of.ages, len(v.Ages))
	of.homes, of.burials = roomFor(of.homes, len(v.Places)), roomFor(of.burials, len(v.Places))
	of.names, of.units = roomFor(of.names, len(v.Names)), roomFor(of.units, len(v.Units))
	of.ranks, of.services = roomFor(of.ranks, len(v.Services)), roomFor(of.services, len(v.Services))
	return of
}

// ask asks memory for what the values of rows came to, of which there are many, all at once: they lie far apart, and one after the other each would be waited for.
func (of *renumbered) ask(rows []*same.Row) {
	sum := uint32(0)
	for _, r := range rows {
		sum += of.surnames[r.Surname] + of.units[r.Unit].unit + of.names[r.Name].given
	}
	runtime.KeepAlive(sum)
}

// roomFor is a list with room for n elements.
func roomFor[T any](list []T, n int) []T { return append(list, make([]T, n-len(list))...) }

// row is the row of a record, without id and file.
func (p *Packer) row(b *same.Batch, of *renumbered, r *same.Row, told *remarks.Told) row {
	v := &b.Values
	for _, d := range [...]uint32{r.Born, r.Died, r.Enlisted, r.MusteredIn, r.MusteredOut} {
		if n := &of.dates[d]; *n == 0 {
			*n = p.date(&v.Dates[d]) + 1
		}
	}
	if n := &of.surnames[r.Surname]; *n == 0 {
		*n = p.surnames.number(v.Surnames[r.Surname]) + 1
	}
	if n := &of.ages[r.Age]; *n == 0 {
		*n = p.age(&v.Ages[r.Age]) + 1
	}
	if n := &of.homes[r.Residence]; *n == 0 {
		*n = p.homes.number(v.Places[r.Residence]) + 1
	}
	if n := &of.ranks[r.Service]; *n == 0 {
		k := rankPair{v.Services[r.Service].Rank, v.Services[r.Service].RankOut}
		*n = number(p.ranks, &p.c.ranks, k, k) + 1
	}
	names, unit := &of.names[r.Name], &of.units[r.Unit]
	if !names.known {
		n := &v.Names[r.Name]
		*names = nameNumbers{p.givens.number(n.Given), p.middles.number(n.Middle), p.suffixes.number(n.Suffix), true}
	}
	if !unit.known {
		u := &v.Units[r.Unit]
		*unit = unitNumbers{p.unit(u), p.body(u.Body), true}
	}
	w := row{surname: of.surnames[r.Surname] - 1, given: names.given, middle: names.middle, unit: unit.unit,
		born: of.dates[r.Born] - 1, died: of.dates[r.Died] - 1, enlisted: of.dates[r.Enlisted] - 1, musteredIn: of.dates[r.MusteredIn] - 1, musteredOut: of.dates[r.MusteredOut] - 1,
		home: of.homes[r.Residence] - 1, burial: p.burial(b, of, r), service: p.serviceOf(b, of, r, unit, told),
		age: small(of.ages[r.Age] - 1), rank: small(of.ranks[r.Service] - 1), suffix: small(names.suffix)}
	w.bornFrom, w.bornTo = p.birth(&w)
	return w
}

// body numbers the bodies of troops.
func (p *Packer) body(b model.Body) uint16 {
	n := slices.Index(p.bodies, b)
	if n < 0 {
		n = len(p.bodies)
		p.bodies = append(p.bodies, b)
	}
	return uint16(n)
}

// burial is the number of what a record says of the burial.
func (p *Packer) burial(b *same.Batch, of *renumbered, r *same.Row) uint32 {
	if r.Buried == 0 {
		if t := b.Text(r, same.Remarks); t != "" {
			return p.burials.number(burialIn("", t))
		}
		return 0
	}
	if n := &of.burials[r.Buried]; *n == 0 {
		*n = p.burials.number(burialIn(b.Values.Places[r.Buried], "")) + 1
	}
	return of.burials[r.Buried] - 1
}

// serviceOf is the number of what a marker's design can tell of the service: of one whose wars are not known, its dates; and of what the remarks tell of another name and unit.
func (p *Packer) serviceOf(b *same.Batch, of *renumbered, r *same.Row, in *unitNumbers, told *remarks.Told) uint32 {
	v, body := &b.Values, in.body
	if list := of.services[r.Service]; int(body) < len(list) && list[body] != 0 && told.IsZero() { // of most records, which have a service that others had
		return list[body] - 1
	}
	s := model.Service{Side: v.Services[r.Service].Side, Branch: v.Services[r.Service].Branch, Conflicts: v.Services[r.Service].Conflicts}
	s.Unit.Body = p.bodies[body]
	later := uint32(0)
	if !told.IsZero() {
		told := toldBy(told, &v.Units[r.Unit])
		s.Remarks = told.text
		if told.changed {
			later = p.unit(&told.unit)
		}
	}
	if len(s.Conflicts) == 0 {
		s.Enlisted, s.MusteredIn, s.MusteredOut = v.Dates[r.Enlisted], v.Dates[r.MusteredIn], v.Dates[r.MusteredOut]
	}
	if len(s.Conflicts) == 0 || s.Remarks != "" {
		return p.service(&s, later)
	}
	list := &of.services[r.Service]
	*list = roomFor(*list, max(len(*list), int(body)+1))
	if n := &(*list)[body]; *n == 0 {
		*n = p.service(&s, 0) + 1
	}
	return (*list)[body] - 1
}

// small is a number that a column of two bytes holds. Files, ranks, suffixes and ages are never so many; those beyond are as good as not given.
func small(n uint32) uint16 {
	if n > math.MaxUint16 {
		return 0
	}
	return uint16(n)
}

// number is the number of the key among the values, which it enters where it is new.
func number[K comparable, V any](m map[K]uint32, values *[]V, k K, v V) uint32 {
	n, ok := m[k]
	if !ok {
		n = uint32(len(*values))
		m[k] = n
		*values = append(room.More(*values), v)
	}
	return n
}

func (p *Packer) unit(u *model.Unit) uint32 {
	k := unitValue{body: u.Body, state: u.State, number: u.Number, division: u.Division, arm: u.Arm, kind: u.Kind, company: u.Company, name: u.Name, lost: u.NumberLost}
	if len(u.Marks) > 0 {
		k.marks = strings.Join(u.Marks, " ")
	}
	if n, ok := p.units[k]; ok {
		return n
	}
	k.company, k.name, k.lost = strings.Clone(k.company), strings.Clone(k.name), strings.Clone(k.lost)
	v := *u
	v.Company, v.Name, v.NumberLost, v.Other, v.Written, v.Marks = k.company, k.name, k.lost, "", "", strings.Fields(k.marks)
	return number(p.units, &p.c.units, k, v)
}

func (p *Packer) date(d *date.Date) uint32 {
	if d.EDTF == "" {
		return 0
	}
	if n, ok := p.dates[dateText{d.EDTF, d.Written}]; ok {
		return n
	}
	v := *d
	v.EDTF, v.Written = strings.Clone(d.EDTF), strings.Clone(d.Written)
	return number(p.dates, &p.c.dates, dateText{v.EDTF, v.Written}, v)
}

func (p *Packer) age(a *date.Age) uint32 {
	if !a.Known {
		return 0
	}
	if n, ok := p.ages[*a]; ok {
		return n
	}
	v := *a
	v.Written = strings.Clone(a.Written)
	return number(p.ages, &p.c.ages, v, v)
}

func (p *Packer) service(s *model.Service, later uint32) uint32 {
	k := packedService{keyOfService(s), s.Remarks, later}
	if n, ok := p.services[k]; ok {
		return n
	}
	k.told = strings.Clone(s.Remarks)
	v := model.Service{Side: s.Side, Branch: s.Branch, Unit: model.Unit{Body: s.Unit.Body}, Remarks: k.told}
	for _, c := range s.Conflicts {
		v.Conflicts = append(v.Conflicts, model.ConflictCode(strings.Clone(string(c))))
	}
	if len(s.Conflicts) == 0 {
		v.Enlisted, v.MusteredIn, v.MusteredOut = bare(s.Enlisted), bare(s.MusteredIn), bare(s.MusteredOut)
	}
	p.c.later = append(p.c.later, later)
	return number(p.services, &p.c.services, k, v)
}

// bare is a date without its wording.
func bare(d date.Date) date.Date {
	d.EDTF, d.Written = strings.Clone(d.EDTF), ""
	return d
}

// birth gives the first and the last year in which the record's man can be born, both noYear where one is open.
func (p *Packer) birth(w *row) (from, to int16) {
	if w.born != 0 {
		return birthYears(p.c.dates[w.born])
	}
	if w.age == 0 {
		return noYear, noYear
	}
	on := w.enlisted
	if on == 0 {
		on = w.musteredIn
	}
	for int(on) >= len(p.newborn) {
		from, to := birthYears(date.BirthSpan(p.c.dates[len(p.newborn)], date.Age{Known: true}))
		p.newborn = append(p.newborn, [2]int16{from, to})
	}
	a := &p.c.ages[w.age]
	if born, ok := a.Before(p.newborn[on]); ok {
		return born[0], born[1]
	}
	return birthYears(date.BirthSpan(p.c.dates[on], *a))
}

// birthYears are the years of a birth, where both are known.
func birthYears(d date.Date) (from, to int16) {
	if d.From.IsZero() || d.To.IsZero() || d.From.Year < 0 || d.To.Year > 9999 {
		return noYear, noYear
	}
	return int16(d.From.Year), int16(d.To.Year)
}

// Columns are those of the records packed so far. The Packer must not be used after.
func (p *Packer) Columns() *Columns {
	c := new(Columns)
	*c = p.c                                                   // so that the packer's own tables can go
	c.ids = unsafe.String(unsafe.SliceData(p.ids), len(p.ids)) // not written to again
	c.surnames, c.givens, c.middles, c.suffixes, c.homes, c.burials, c.files =
		p.surnames.values, p.givens.values, p.middles.values, p.suffixes.values, p.homes.values, p.burials.values, p.files.values
	return c
}
