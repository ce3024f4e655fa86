package index

import (
	"encoding/binary"
	"slices"
	"strings"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
)

// shared are the values that many records share, each once; a record in the store names them by number. Number 0 is the zero value in each list.
type shared struct {
	Files    []string
	Columns  []columnList    // the columns of the written cells of a record
	Surnames []string        // as the records have them
	Names    []model.Name    // without surname and writing
	Units    []model.Unit    // with company and writing
	Dates    []date.Date     // all of a record's
	Ages     []date.Age      //
	Services []model.Service // without unit, dates and texts
	Words    []string        // of texts that are not among the written cells
}

type columnList struct{ Names []string }

// A sharer numbers the values of records as they come by, and writes records.
type sharer struct {
	shared
	lexicon *lexicon
	numbers [sharedKinds]map[string]uint32
	key     []byte
	names   []string // room for those of columns

	// What was made of marked values.
	markedSurname, markedName, markedUnit, markedDate, markedAge same.Table[uint32]

	lastColumns columnsMet
	lastService [16]serviceMet

	// What was met lately, by where its text lies: the reader of a table gives the same value with the same text.
	recentSurname [recents]recent[string]
	recentName    [recents]recent[model.Name]
	recentUnit    [recents]recent[model.Unit]
	recentDate    [recents]recent[date.Date]
}

const recents = 1 << 12

type recent[T any] struct {
	value T
	n     uint32
}

const (
	sharedFile = iota
	sharedColumns
	sharedSurname
	sharedName
	sharedUnit
	sharedDate
	sharedAge
	sharedService
	sharedKinds
)

// sharedNumbers are the numbers of one record's values.
type sharedNumbers struct {
	file, columns, surname, name, unit, age, service uint32
	born, died, enlisted, in, out                    uint32
}

func newSharer() *sharer {
	s := &sharer{lexicon: new(lexicon)}
	for i := range s.numbers {
		s.numbers[i] = map[string]uint32{}
	}
	s.Files, s.Columns, s.Surnames, s.Names = []string{""}, []columnList{{}}, []string{""}, []model.Name{{}}
	s.Units, s.Dates, s.Ages, s.Services = []model.Unit{{}}, []date.Date{{}}, []date.Age{{}}, []model.Service{{}}
	return s
}

// enter gives the number of the key in s.key, entering the value that own gives where it is new.
func enter[T any](s *sharer, kind int, list *[]T, own func() T) uint32 {
	if n, ok := s.numbers[kind][string(s.key)]; ok {
		return n
	}
	n := uint32(len(*list))
	*list = append(*list, own())
	s.numbers[kind][string(s.key)] = n
	return n
}

// slot is where a value whose text lies there is remembered.
func slot(text string) int {
	return int((uintptr(unsafe.Pointer(unsafe.StringData(text))) >> 4 * 0x9E3779B1 >> 12) % recents)
}

func (s *sharer) text(t string) {
	s.key = binary.AppendUvarint(s.key, uint64(len(t)))
	s.key = append(s.key, t...)
}

func (s *sharer) int(n int) { s.key = binary.AppendVarint(s.key, int64(n)) }

func (s *sharer) bool(b bool) {
	if b {
		s.key = append(s.key, 1)
	} else {
		s.key = append(s.key, 0)
	}
}

func (s *sharer) texts(list []string) {
	s.int(len(list))
	for _, t := range list {
		s.text(t)
	}
}

func cloned(list []string) []string {
	if list == nil {
		return nil
	}
	c := make([]string, len(list))
	for i, s := range list {
		c[i] = strings.Clone(s)
	}
	return c
}

func (s *sharer) file(f string) uint32 {
	if n := len(s.Files) - 1; f == "" || s.Files[n] == f { // none, or the last one
		return uint32(n) * min(1, uint32(len(f)))
	}
	s.key = append(s.key[:0], f...)
	return enter(s, sharedFile, &s.Files, func() string { return strings.Clone(f) })
}

// columnsMet are lists of columns met before, by where the names of the columns lie.
type columnsMet [64]struct {
	hash  uintptr
	names []string
	n     uint32
}

func (s *sharer) columns(cells []model.Cell) uint32 {
	if len(cells) == 0 {
		return 0
	}
	var h uintptr
	for i := range cells {
		h = h*31 + uintptr(unsafe.Pointer(unsafe.StringData(cells[i].Column)))
	}
	met := &s.lastColumns[(h>>4^h>>12)%uintptr(len(s.lastColumns))]
	if met.n > 0 && met.hash == h && len(met.names) == len(cells) {
		same := true
		for i := range cells {
			same = same && met.names[i] == cells[i].Column
		}
		if same {
			return met.n
		}
	}
	n := s.newColumns(cells)
	met.hash, met.n, met.names = h, n, s.Columns[n].Names
	return n
}

func (s *sharer) newColumns(cells []model.Cell) uint32 {
	s.names = s.names[:0]
	for i := range cells {
		s.names = append(s.names, cells[i].Column)
	}
	return s.columnNames(s.names)
}

func (s *sharer) columnNames(names []string) uint32 {
	s.key = s.key[:0]
	for _, n := range names {
		s.text(n)
	}
	return enter(s, sharedColumns, &s.Columns, func() columnList { return columnList{cloned(names)} })
}

func (s *sharer) surname(t string) uint32 {
	if t == "" {
		return 0
	}
	r := &s.recentSurname[slot(t)]
	if r.n != 0 && r.value == t {
		return r.n
	}
	s.key = append(s.key[:0], t...)
	n := enter(s, sharedSurname, &s.Surnames, func() string { return strings.Clone(t) })
	r.value, r.n = t, n
	return n
}

// sameList reports whether two lists are one, or both empty.
func sameList[T any](a, b []T) bool {
	return len(a) == len(b) && unsafe.SliceData(a) == unsafe.SliceData(b) && (a == nil) == (b == nil)
}

func (s *sharer) name(m *model.Name) uint32 {
	r := &s.recentName[slot(m.Given)^slot(m.Middle)]
	if v := &r.value; r.n != 0 && v.Given == m.Given && v.Middle == m.Middle && v.Suffix == m.Suffix && sameList(v.GivenOr, m.GivenOr) {
		return r.n
	}
	s.key = s.key[:0]
	s.text(m.Given)
	s.text(m.Middle)
	s.text(m.Suffix)
	s.bool(m.GivenOr == nil)
	s.texts(m.GivenOr)
	if len(s.key) == 5 && m.GivenOr == nil { // all of it empty
		return 0
	}
	n := enter(s, sharedName, &s.Names, func() model.Name {
		c := *m
		c.Surname, c.Written = "", ""
		c.Given, c.Middle, c.Suffix, c.GivenOr = strings.Clone(m.Given), strings.Clone(m.Middle), strings.Clone(m.Suffix), cloned(m.GivenOr)
		return c
	})
	r.value, r.n = *m, n
	return n
}

func (s *sharer) unit(u *model.Unit) uint32 {
	r := &s.recentUnit[slot(u.Written)]
	if v := &r.value; r.n != 0 && v.Written == u.Written && v.Number == u.Number && v.NumberLost == u.NumberLost && v.Company == u.Company && v.State == u.State &&
		v.Body == u.Body && v.Arm == u.Arm && v.Kind == u.Kind && v.Name == u.Name && v.Division == u.Division && sameList(v.Marks, u.Marks) {
		return r.n
	}
	s.key = s.key[:0]
	for _, t := range [...]string{string(u.Body), string(u.State), u.NumberLost, string(u.Arm), string(u.Kind), u.Company, u.Name, u.Written} {
		s.text(t)
	}
	s.int(u.Number)
	s.int(u.Division)
	s.bool(u.Marks == nil)
	s.texts(u.Marks)
	if u.IsZero() && u.Written == "" && u.Marks == nil {
		return 0
	}
	n := enter(s, sharedUnit, &s.Units, func() model.Unit {
		c := *u
		for _, t := range [...]*string{&c.NumberLost, &c.Company, &c.Name, &c.Written, (*string)(&c.Body), (*string)(&c.State), (*string)(&c.Arm), (*string)(&c.Kind)} {
			*t = strings.Clone(*t)
		}
		c.Marks = cloned(u.Marks)
		return c
	})
	r.value, r.n = *u, n
	return n
}

func (s *sharer) date(d *date.Date) uint32 {
	if d.Written == "" && *d == (date.Date{}) {
		return 0
	}
	r := &s.recentDate[slot(d.Written)]
	if r.n != 0 && r.value == *d {
		return r.n
	}
	s.key = s.key[:0]
	s.text(d.Written)
	s.text(d.EDTF)
	for _, day := range [...]date.Day{d.From, d.To} {
		s.int(day.Year)
		s.int(day.Month)
		s.int(day.Day)
	}
	s.bool(d.Approximate)
	s.bool(d.Uncertain)
	n := enter(s, sharedDate, &s.Dates, func() date.Date {
		c := *d
		c.Written, c.EDTF = strings.Clone(d.Written), strings.Clone(d.EDTF)
		return c
	})
	r.value, r.n = *d, n
	return n
}

func (s *sharer) age(a *date.Age) uint32 {
	if *a == (date.Age{}) {
		return 0
	}
	s.key = s.key[:0]
	s.text(a.Written)
	s.int(a.Years)
	s.int(a.Months)
	s.int(a.Days)
	for _, b := range [...]bool{a.HasMonths, a.HasDays, a.Approximate, a.Known} {
		s.bool(b)
	}
	return enter(s, sharedAge, &s.Ages, func() date.Age {
		c := *a
		c.Written = strings.Clone(a.Written)
		return c
	})
}

// serviceMet is a service met before.
type serviceMet struct {
	value model.Service
	n     uint32
}

// service numbers what there is of a service beside unit, dates and texts.
func (s *sharer) service(v *model.Service) uint32 {
	met := &s.lastService[(len(v.Rank)*7+len(v.RankOut))%len(s.lastService)]
	if o := &met.value; met.n > 0 && o.Rank == v.Rank && o.RankOut == v.RankOut && o.Branch == v.Branch && o.Side == v.Side && o.Brevet == v.Brevet &&
		sameList(o.Conflicts, v.Conflicts) && sameList(o.Awards, v.Awards) {
		return met.n
	}
	n := s.newService(v)
	met.value, met.n = *v, n
	return n
}

func (s *sharer) newService(v *model.Service) uint32 {
	s.key = s.key[:0]
	for _, t := range [...]string{string(v.Rank), string(v.RankOut), string(v.Branch), string(v.Side)} {
		s.text(t)
	}
	s.bool(v.Brevet)
	s.bool(v.Conflicts == nil)
	s.int(len(v.Conflicts))
	for _, c := range v.Conflicts {
		s.text(string(c))
	}
	s.bool(v.Awards == nil)
	s.texts(v.Awards)
	return enter(s, sharedService, &s.Services, func() model.Service {
		c := model.Service{Rank: v.Rank, RankOut: v.RankOut, Brevet: v.Brevet, Branch: v.Branch, Side: v.Side, Conflicts: slices.Clone(v.Conflicts), Awards: cloned(v.Awards)}
		for _, t := range [...]*string{(*string)(&c.Rank), (*string)(&c.RankOut), (*string)(&c.Branch), (*string)(&c.Side)} {
			*t = strings.Clone(*t)
		}
		for i := range c.Conflicts {
			c.Conflicts[i] = model.ConflictCode(strings.Clone(string(c.Conflicts[i])))
		}
		return c
	})
}

// share numbers the values of a record, of which m, where it is not nil, tells which were met before.
func (s *sharer) share(r *model.Record, m *same.Marks) sharedNumbers {
	p, v := &r.Person, &r.Service
	if m != nil {
		return sharedNumbers{file: s.file(r.Source.File), columns: s.columns(r.Written), service: s.service(v),
			surname:  met(&s.markedSurname, m.Reader, m.Surname, func() uint32 { return s.surname(p.Name.Surname) }),
			name:     met(&s.markedName, m.Reader, m.Name, func() uint32 { return s.name(&p.Name) }),
			unit:     met(&s.markedUnit, m.Reader, m.Unit, func() uint32 { return s.unit(&v.Unit) }),
			age:      met(&s.markedAge, m.Reader, m.Age, func() uint32 { return s.age(&p.Age) }),
			born:     met(&s.markedDate, m.Reader, m.Born, func() uint32 { return s.date(&p.Born) }),
			died:     met(&s.markedDate, m.Reader, m.Died, func() uint32 { return s.date(&p.Died) }),
			enlisted: met(&s.markedDate, m.Reader, m.Enlisted, func() uint32 { return s.date(&v.Enlisted) }),
			in:       met(&s.markedDate, m.Reader, m.MusteredIn, func() uint32 { return s.date(&v.MusteredIn) }),
			out:      met(&s.markedDate, m.Reader, m.MusteredOut, func() uint32 { return s.date(&v.MusteredOut) })}
	}
	return sharedNumbers{file: s.file(r.Source.File), columns: s.columns(r.Written), surname: s.surname(p.Name.Surname), name: s.name(&p.Name), unit: s.unit(&v.Unit),
		age: s.age(&p.Age), service: s.service(v), born: s.date(&p.Born), died: s.date(&p.Died), enlisted: s.date(&v.Enlisted), in: s.date(&v.MusteredIn), out: s.date(&v.MusteredOut)}
}

// sharedShape is a digest of the types whose values are shared and of the record that they make up.
func sharedShape() string { return newCodec(shared{}).shape() + newCodec(model.Record{}).shape() }

// met gives the number of a value that a reader has marked, and works it out where the mark is new, or none.
func met(t *same.Table[uint32], reader, mark uint32, work func() uint32) uint32 {
	at := t.At(reader, mark)
	if !at.Known {
		at.Value, at.Known = work(), true
	}
	return at.Value
}
