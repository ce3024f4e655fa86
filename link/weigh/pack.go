package weigh

import (
	"math"
	"slices"
	"strings"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
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
	services                                                   map[serviceKey]uint32
	births                                                     []birthOn // those reckoned lately, at a place that follows from date and age

	// What was made of marked values, and of those that the last records had.
	markedSurname, markedUnit, markedDate, markedAge same.Table[uint32]
	markedName                                       same.Table[nameNumbers]
	lastRank                                         [16]met[rankPair]
	lastService                                      [16]met[model.Service]
	lastFile                                         met[string]
}

// nameNumbers are the numbers of a name without its surname.
type nameNumbers struct{ given, middle, suffix uint32 }

// met is a value of a record before, with its number plus 1.
type met[T any] struct {
	value T
	n     uint32
}

// lexicon numbers words in the order in which they come; 0 is "".
type lexicon struct {
	n      map[string]uint32
	values []string
}

func newLexicon() lexicon { return lexicon{n: map[string]uint32{"": 0}, values: []string{""}} }

func (l *lexicon) number(s string) uint32 {
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

// dateText tells one date from another: its days follow from its EDTF.
type dateText struct{ edtf, written string }

// NewPacker starts with no record.
func NewPacker() *Packer {
	p := &Packer{
		surnames: newLexicon(), givens: newLexicon(), middles: newLexicon(), suffixes: newLexicon(), homes: newLexicon(), burials: newLexicon(), files: newLexicon(),
		units: map[unitValue]uint32{{}: 0}, dates: map[dateText]uint32{{}: 0}, ages: map[date.Age]uint32{{}: 0}, ranks: map[rankPair]uint32{{}: 0},
		services: map[serviceKey]uint32{{}: 0}, births: make([]birthOn, 1<<16),
	}
	p.c.units, p.c.dates, p.c.ages, p.c.ranks, p.c.services = make([]model.Unit, 1), make([]date.Date, 1), make([]date.Age, 1), make([]rankPair, 1), make([]model.Service, 1)
	return p
}

// Expect says about how many records will come.
func (p *Packer) Expect(records int) { p.expected = records }

// put adds a row. As long as more are expected there is made room for twice as many as there are: an append makes room for a quarter more, and copies a long list often.
func (p *Packer) put(w *row) {
	rows := p.c.rows
	if n := len(rows); n == cap(rows) {
		room := n + n/4 + 1<<10
		if n < p.expected {
			room = min(2*n+1<<10, p.expected)
		}
		rows = append(make([]row, 0, room), rows...)
	}
	p.c.rows = append(rows, *w)
}

// Add packs one record, whose marks, where they are not nil, tell which of its values were met before. Both may be used again for another one afterwards.
func (p *Packer) Add(r *model.Record, m *same.Marks) {
	who, s := &r.Person, &r.Service
	if m == nil {
		m = &same.Marks{}
	}
	name := p.name(&who.Name, m)
	date := func(mark uint32, d *date.Date) uint32 {
		at := p.markedDate.At(m.Reader, mark)
		if !at.Known {
			at.Value, at.Known = p.date(d), true
		}
		return at.Value
	}
	surname, unit, age := p.markedSurname.At(m.Reader, m.Surname), p.markedUnit.At(m.Reader, m.Unit), p.markedAge.At(m.Reader, m.Age)
	if !surname.Known {
		surname.Value, surname.Known = p.surnames.number(who.Name.Surname), true
	}
	if !unit.Known {
		unit.Value, unit.Known = p.unit(&s.Unit), true
	}
	if !age.Known {
		age.Value, age.Known = p.age(&who.Age), true
	}
	w := row{
		surname: surname.Value, given: name.given, middle: name.middle,
		unit: unit.Value, born: date(m.Born, &who.Born), died: date(m.Died, &who.Died),
		enlisted: date(m.Enlisted, &s.Enlisted), musteredIn: date(m.MusteredIn, &s.MusteredIn), musteredOut: date(m.MusteredOut, &s.MusteredOut),
		home: p.homes.number(who.Residence), burial: p.burials.number(burialText(r)), service: p.service(s), id: uint32(len(p.ids)),
		age: small(age.Value), rank: small(p.rank(rankPair{s.Rank, s.RankOut})),
		suffix: small(name.suffix), file: small(p.file(r.Source.File)),
	}
	w.bornFrom, w.bornTo = p.birth(r, &w)
	p.ids = append(p.ids, r.ID...)
	p.put(&w)
}

func (p *Packer) name(n *model.Name, m *same.Marks) nameNumbers {
	at := p.markedName.At(m.Reader, m.Name)
	if !at.Known {
		at.Value, at.Known = nameNumbers{p.givens.number(n.Given), p.middles.number(n.Middle), p.suffixes.number(n.Suffix)}, true
	}
	return at.Value
}

func (p *Packer) file(f string) uint32 {
	if p.lastFile.n == 0 || p.lastFile.value != f {
		n := p.files.number(f)
		p.lastFile = met[string]{p.files.values[n], n + 1}
	}
	return p.lastFile.n - 1
}

func (p *Packer) rank(k rankPair) uint32 {
	last := &p.lastRank[(len(k.in)*7+len(k.out))%len(p.lastRank)]
	if last.n == 0 || last.value != k {
		*last = met[rankPair]{k, number(p.ranks, &p.c.ranks, k, k) + 1}
	}
	return last.n - 1
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
		*values = append(*values, v)
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
	v.Company, v.Name, v.NumberLost, v.Written, v.Marks = k.company, k.name, k.lost, "", strings.Fields(k.marks)
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

func (p *Packer) service(s *model.Service) uint32 {
	last := &p.lastService[(len(s.Side)*5+len(s.Unit.Body)*3+len(s.Branch))%len(p.lastService)]
	if o := &last.value; len(s.Conflicts) > 0 && last.n > 0 && o.Side == s.Side && o.Branch == s.Branch && o.Unit.Body == s.Unit.Body && slices.Equal(o.Conflicts, s.Conflicts) {
		return last.n - 1
	}
	n := p.newService(s)
	*last = met[model.Service]{p.c.services[n], n + 1}
	return n
}

func (p *Packer) newService(s *model.Service) uint32 {
	k := keyOfService(s)
	if n, ok := p.services[k]; ok {
		return n
	}
	v := model.Service{Side: s.Side, Branch: s.Branch, Unit: model.Unit{Body: s.Unit.Body}}
	for _, c := range s.Conflicts {
		v.Conflicts = append(v.Conflicts, model.ConflictCode(strings.Clone(string(c))))
	}
	if len(s.Conflicts) == 0 {
		v.Enlisted, v.MusteredIn, v.MusteredOut = bare(s.Enlisted), bare(s.MusteredIn), bare(s.MusteredOut)
	}
	return number(p.services, &p.c.services, k, v)
}

// bare is a date without its wording.
func bare(d date.Date) date.Date {
	d.EDTF, d.Written = strings.Clone(d.EDTF), ""
	return d
}

// birth gives the first and the last year in which the record's man can be born, both noYear where one is open.
func (p *Packer) birth(r *model.Record, w *row) (from, to int16) {
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
	y := &p.births[(on*64+uint32(w.age))%uint32(len(p.births))]
	if y.on != on || y.age != w.age {
		*y = birthOn{on: on, age: w.age}
		y.from, y.to = birthYears(r.Birth())
	}
	return y.from, y.to
}

// birthOn is the first and the last year in which a man was born who was of that age, by number, on that date. The men of a roster are of few ages on few days; where there are many of both, a
// place for each pair would take more memory than the roster.
type birthOn struct {
	on       uint32
	age      uint16
	from, to int16
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
