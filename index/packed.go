package index

import (
	"cmp"
	"encoding/binary"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// A row is what the search for candidates needs of one record, in 44 bytes. Surnames, given names, units and places are
// numbers of the distinct ones; number 0 is "not known" in each. Years are 0 where not known.
type row struct {
	surname, given, unit uint32
	buried, home         uint32 // places: the burial remark, the residence
	at                   uint32 // the record's place in the store, in the order of the input
	id                   uint32 // hash of the record's id
	bornFrom, bornTo     int16
	diedFrom, diedTo     int16
	last                 int16 // year of the last date of service
	conflicts            uint16
	middle, company      byte // first letter of the middle names, and of the company; 0 where there is none
	side                 byte
}

const rowBytes = 7*4 + 6*2 + 3

// A roll is the packed columns of all records, sorted by surname and then as they came, with the distinct values.
type roll struct {
	rows     []row
	surnames []string // folded, sorted; surnames[0] is ""
	givens   []string // given name and what else it may stand for, parted by "|"
	units    []model.Unit
	places   []string // as written
	wars     []model.ConflictCode

	first  []uint32 // where the rows of each surname begin, and at the end the number of rows
	byUnit []uint32 // rows by unit
	unitAt []uint32 // where the rows of each unit begin in byUnit
}

const (
	maxPlaces      = 1 << 18
	maxPlaceLength = 96
)

// A roller makes a roll of records as they come by.
type roller struct {
	roll
	rawSurname map[string]uint32 // by the surname as written, so that each is folded once
	surname    map[string]uint32
	given      map[string]uint32
	unit       map[unitKey]uint32
	place      map[string]uint32
	war        map[model.ConflictCode]uint16
}

// unitKey is a unit without its company and its wording.
type unitKey struct {
	body   model.Body
	state  model.State
	number int
	arm    model.Arm
	kind   model.UnitKind
	name   string
}

func keyOf(u model.Unit) unitKey {
	return unitKey{u.Body, u.State, u.Number, u.Arm, u.Kind, name.Fold(u.Name)}
}

func newRoller() *roller {
	r := &roller{
		rawSurname: map[string]uint32{"": 0}, surname: map[string]uint32{"": 0}, given: map[string]uint32{"": 0},
		unit: map[unitKey]uint32{{}: 0}, place: map[string]uint32{"": 0}, war: map[model.ConflictCode]uint16{},
	}
	r.surnames, r.givens, r.places, r.units = []string{""}, []string{""}, []string{""}, []model.Unit{{}}
	return r
}

// number is the number of the key in the table, which it enters where it is new.
func number[K comparable, V any](m map[K]uint32, table *[]V, k K, v V) uint32 {
	n, ok := m[k]
	if !ok {
		n = uint32(len(*table))
		m[k] = n
		*table = append(*table, v)
	}
	return n
}

func (r *roller) add(rec *model.Record) {
	p, s := &rec.Person, &rec.Service
	n, ok := r.rawSurname[p.Name.Surname]
	if !ok {
		folded := name.Fold(p.Name.Surname)
		n = number(r.surname, &r.surnames, folded, folded)
		r.rawSurname[strings.Clone(p.Name.Surname)] = n
	}
	w := row{surname: n, at: uint32(len(r.rows)), id: hash32(string(rec.ID))}
	g := givenKey(p.Name)
	w.given = number(r.given, &r.givens, g, g)
	w.middle = firstLetter(p.Name.Middle)
	u := s.Unit
	w.company = firstLetter(u.Company)
	k := keyOf(u)
	w.unit = number(r.unit, &r.units, k, model.Unit{Body: u.Body, State: u.State, Number: u.Number, Arm: u.Arm, Kind: u.Kind, Name: strings.Clone(u.Name)})
	w.buried, w.home = r.placeNumber(p.Buried), r.placeNumber(p.Residence)
	w.bornFrom, w.bornTo = years(rec.Birth())
	w.diedFrom, w.diedTo = years(p.Died)
	w.last = lastYear(s)
	w.side = firstLetter(string(s.Side))
	for _, c := range s.Conflicts {
		w.conflicts |= r.warBit(c)
	}
	r.rows = append(r.rows, w)
}

func (r *roller) placeNumber(s string) uint32 {
	if len(s) > maxPlaceLength || len(r.places) >= maxPlaces {
		return 0
	}
	if n, ok := r.place[s]; ok {
		return n
	}
	s = strings.Clone(s)
	return number(r.place, &r.places, s, s)
}

// warBit gives each conflict a bit, in the order in which they are met; those after the fifteenth share the last.
func (r *roller) warBit(c model.ConflictCode) uint16 {
	b, ok := r.war[c]
	if !ok {
		b = 1 << min(len(r.wars), 15)
		r.war[c] = b
		r.wars = append(r.wars, c)
	}
	return b
}

// finish sorts the rows and the surnames.
func (r *roller) finish() *roll {
	order := make([]uint32, len(r.surnames))
	for i := range order {
		order[i] = uint32(i)
	}
	slices.SortFunc(order, func(a, b uint32) int { return cmp.Compare(r.surnames[a], r.surnames[b]) })
	rank := make([]uint32, len(order))
	sorted := make([]string, len(order))
	for i, n := range order {
		rank[n] = uint32(i)
		sorted[i] = r.surnames[n]
	}
	r.surnames = sorted
	for i := range r.rows {
		r.rows[i].surname = rank[r.rows[i].surname]
	}
	// A counting sort keeps the order of the input among the men of one surname.
	next := starts(r.rows, len(sorted), func(w *row) uint32 { return w.surname })
	rows := make([]row, len(r.rows))
	for _, w := range r.rows {
		rows[next[w.surname]] = w
		next[w.surname]++
	}
	r.rows = rows
	r.post()
	return &r.roll
}

// starts counts the rows of each key and gives where each key's begin, with the number of rows at the end.
func starts(rows []row, keys int, key func(*row) uint32) []uint32 {
	at := make([]uint32, keys+1)
	for i := range rows {
		at[key(&rows[i])+1]++
	}
	for i := range keys {
		at[i+1] += at[i]
	}
	return at
}

// post makes the postings of surnames and units from the rows.
func (r *roll) post() {
	r.first = starts(r.rows, len(r.surnames), func(w *row) uint32 { return w.surname })
	unit := func(w *row) uint32 { return w.unit }
	r.unitAt = starts(r.rows, len(r.units), unit)
	next := slices.Clone(r.unitAt)
	r.byUnit = make([]uint32, len(r.rows))
	for i := range r.rows {
		u := r.rows[i].unit
		r.byUnit[next[u]] = uint32(i)
		next[u]++
	}
}

// count is how many records have the surname of that number.
func (r *roll) count(surname uint32) int { return int(r.first[surname+1] - r.first[surname]) }

// surnameNumber is the number of the folded surname.
func (r *roll) surnameNumber(folded string) (uint32, bool) {
	i, ok := slices.BinarySearch(r.surnames, folded)
	return uint32(i), ok
}

// sound reports whether every number in the rows is one that the tables have.
func (r *roll) sound() bool {
	last := uint32(0)
	for i := range r.rows {
		w := &r.rows[i]
		if int(w.surname) >= len(r.surnames) || int(w.given) >= len(r.givens) || int(w.unit) >= len(r.units) ||
			int(w.buried) >= len(r.places) || int(w.home) >= len(r.places) || int(w.at) >= len(r.rows) || w.surname < last {
			return false
		}
		last = w.surname
	}
	return slices.IsSorted(r.surnames)
}

func (w *row) append(b []byte) []byte {
	le := binary.LittleEndian
	for _, x := range [...]uint32{w.surname, w.given, w.unit, w.buried, w.home, w.at, w.id} {
		b = le.AppendUint32(b, x)
	}
	for _, x := range [...]int16{w.bornFrom, w.bornTo, w.diedFrom, w.diedTo, w.last, int16(w.conflicts)} {
		b = le.AppendUint16(b, uint16(x))
	}
	return append(b, w.middle, w.company, w.side)
}

func rowFrom(b []byte) row {
	le := binary.LittleEndian
	u := func(i int) uint32 { return le.Uint32(b[4*i:]) }
	y := func(i int) int16 { return int16(le.Uint16(b[28+2*i:])) }
	return row{
		surname: u(0), given: u(1), unit: u(2), buried: u(3), home: u(4), at: u(5), id: u(6),
		bornFrom: y(0), bornTo: y(1), diedFrom: y(2), diedTo: y(3), last: y(4), conflicts: uint16(y(5)),
		middle: b[40], company: b[41], side: b[42],
	}
}

// givenKey is the given name with the others that its writing may stand for: "john|jonathan".
func givenKey(n model.Name) string {
	g := name.Fold(n.Given)
	for _, o := range n.GivenOr {
		g += "|" + name.Fold(o)
	}
	return g
}

// firstLetter is the first letter of s in lower case, or 0.
func firstLetter(s string) byte {
	for i := range len(s) {
		if c := s[i] | 0x20; 'a' <= c && c <= 'z' {
			return c
		}
	}
	return 0
}

// years are the first and last year that a date can mean; where one side is open, a span of a lifetime.
func years(d date.Date) (from, to int16) {
	a, b := d.From.Year, d.To.Year
	switch {
	case a == 0 && b == 0:
		return 0, 0
	case a == 0:
		a = b - 70
	case b == 0:
		b = a + 70
	}
	if a < -9999 || b > 9999 {
		return 0, 0
	}
	return int16(a), int16(b)
}

// lastYear is the year of the last date of the service that is certain, or 0.
func lastYear(s *model.Service) int16 {
	last := 0
	for _, d := range [...]date.Date{s.Enlisted, s.MusteredIn, s.MusteredOut} {
		last = max(last, d.From.Year)
	}
	return int16(min(last, 9999))
}
