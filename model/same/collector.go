package same

import (
	"encoding/binary"
	"slices"
	"strings"
	"sync/atomic"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/room"
)

// A Collector numbers values as they come by: equal ones have one number. It keeps copies, never what it is given. It is for one goroutine.
type Collector struct {
	Values
	reader  int
	numbers [kinds]map[string]uint32
	trusts  bool              // of values other than shapes no table is made: see Trust
	columns map[string]uint32 // the names of columns, each once
	names   []string          // by their numbers
	key     []byte
}

const (
	ofShape = iota
	ofSurname
	ofName
	ofUnit
	ofDate
	ofAge
	ofService
	ofPlace
	kinds
)

var readers atomic.Int64

// NewCollector has the zero values alone.
func NewCollector() *Collector {
	c := &Collector{reader: int(readers.Add(1)), columns: map[string]uint32{}}
	for i := range c.numbers {
		c.numbers[i] = map[string]uint32{}
	}
	c.Values = Values{Shapes: make([]Shape, 1), Surnames: make([]string, 1), Names: make([]model.Name, 1), Units: make([]model.Unit, 1), Dates: make([]date.Date, 1),
		Ages: make([]date.Age, 1), Services: make([]model.Service, 1), Places: make([]string, 1), Cells: make([]string, 1)}
	return c
}

// Trust has the collector take each value for one that it has not had, until Check is called: so it is with the values of a single reader, which has each but once. Shapes are looked for
// all the same. Tables of a hundred thousand values are not made then.
func (c *Collector) Trust() { c.trusts = true }

// Check ends what Trust began.
func (c *Collector) Check() {
	if !c.trusts {
		return
	}
	c.trusts = false
	check(c, ofSurname, c.Surnames, c.ofText)
	check(c, ofName, c.Names, c.ofName)
	check(c, ofUnit, c.Units, c.ofUnit)
	check(c, ofDate, c.Dates, c.ofDate)
	check(c, ofAge, c.Ages, c.ofAge)
	check(c, ofService, c.Services, c.ofService)
	check(c, ofPlace, c.Places, c.ofText)
}

// check makes the table of a kind of values.
func check[T any](c *Collector, kind int, list []T, key func(*T)) {
	for i := 1; i < len(list); i++ {
		key(&list[i])
		c.numbers[kind][string(c.key)] = uint32(i)
	}
}

// Reader is the number of the collector as a reader.
func (c *Collector) Reader() int { return c.reader }

// enter gives the number of a value, of which key puts what tells it from others into c.key; own makes the copy that is kept of a new one.
func enter[T any](c *Collector, kind int, list *[]T, v *T, key func(*T), own func(*T) T) uint32 {
	n := uint32(len(*list))
	if !c.trusts || kind == ofShape {
		key(v)
		if n, ok := c.numbers[kind][string(c.key)]; ok {
			return n
		}
		c.numbers[kind][string(c.key)] = n
	}
	*list = append(room.More(*list), own(v))
	return n
}

func (c *Collector) text(t string) {
	c.key = binary.AppendUvarint(c.key, uint64(len(t)))
	c.key = append(c.key, t...)
}

func (c *Collector) int(n int) { c.key = binary.AppendVarint(c.key, int64(n)) }

func (c *Collector) bool(b bool) {
	if b {
		c.key = append(c.key, 1)
	} else {
		c.key = append(c.key, 0)
	}
}

// texts puts a list into the key; that there is none is another list than an empty one.
func (c *Collector) texts(list []string) {
	c.bool(list == nil)
	c.int(len(list))
	for _, t := range list {
		c.text(t)
	}
}

// Cloned is a list of texts in memory of its own.
func Cloned(list []string) []string {
	if list == nil {
		return nil
	}
	own := make([]string, len(list))
	for i, s := range list {
		own[i] = strings.Clone(s)
	}
	return own
}

// Shape numbers a shape.
func (c *Collector) Shape(s *Shape) uint32 {
	if s.isZero() {
		return 0
	}
	return enter(c, ofShape, &c.Shapes, s, c.ofShape, func(s *Shape) Shape {
		own := Shape{Texts: s.Texts, Given: s.Given}
		if s.Columns != nil {
			own.Columns = make([]string, len(s.Columns))
		}
		for i, name := range s.Columns {
			own.Columns[i] = c.names[c.columns[name]]
		}
		return own
	})
}

// KnownShape is the number of a shape that has one.
func (c *Collector) KnownShape(s *Shape) (n uint32, ok bool) {
	if s.isZero() {
		return 0, true
	}
	c.ofShape(s)
	n, ok = c.numbers[ofShape][string(c.key)]
	return n, ok
}

func (s *Shape) isZero() bool { return len(s.Columns) == 0 && s.Texts == [TextCount]uint8{} }

// ofShape makes the key of a shape. Names of columns are in it by numbers, since there may be as many shapes as records.
func (c *Collector) ofShape(s *Shape) {
	c.key = append(append(c.key[:0], s.Texts[:]...), s.Given)
	for _, name := range s.Columns {
		n, ok := c.columns[name]
		if !ok {
			n = uint32(len(c.names))
			name = strings.Clone(name)
			c.columns[name], c.names = n, append(c.names, name)
		}
		c.key = binary.AppendUvarint(c.key, uint64(n))
	}
}

// Surname numbers a surname.
func (c *Collector) Surname(t string) uint32 { return c.plain(ofSurname, &c.Surnames, t) }

// Place numbers a residence or a place of burial.
func (c *Collector) Place(t string) uint32 { return c.plain(ofPlace, &c.Places, t) }

func (c *Collector) plain(kind int, list *[]string, t string) uint32 {
	if t == "" {
		return 0
	}
	return enter(c, kind, list, &t, c.ofText, func(t *string) string { return strings.Clone(*t) })
}

func (c *Collector) ofText(t *string) { c.key = append(c.key[:0], *t...) }

// Name numbers a name without its surname and its writing.
func (c *Collector) Name(m *model.Name) uint32 {
	if m.Given == "" && m.Middle == "" && m.Suffix == "" && m.GivenOr == nil && m.Other == "" {
		return 0
	}
	return enter(c, ofName, &c.Names, m, c.ofName, func(m *model.Name) model.Name {
		return model.Name{Given: strings.Clone(m.Given), Middle: strings.Clone(m.Middle), Suffix: strings.Clone(m.Suffix), GivenOr: Cloned(m.GivenOr), Other: strings.Clone(m.Other)}
	})
}

func (c *Collector) ofName(m *model.Name) {
	c.key = c.key[:0]
	c.text(m.Given)
	c.text(m.Middle)
	c.text(m.Suffix)
	c.texts(m.GivenOr)
	c.text(m.Other)
}

// Unit numbers a unit.
func (c *Collector) Unit(u *model.Unit) uint32 {
	if u.IsZero() && u.Other == "" && u.Written == "" && u.Marks == nil {
		return 0
	}
	return enter(c, ofUnit, &c.Units, u, c.ofUnit, func(u *model.Unit) model.Unit {
		own := *u
		for _, t := range [...]*string{&own.NumberLost, &own.Company, &own.Name, &own.Other, &own.Written, (*string)(&own.Body), (*string)(&own.State), (*string)(&own.Arm), (*string)(&own.Kind)} {
			*t = strings.Clone(*t)
		}
		own.Marks = Cloned(u.Marks)
		return own
	})
}

func (c *Collector) ofUnit(u *model.Unit) {
	c.key = c.key[:0]
	for _, t := range [...]string{string(u.Body), string(u.State), u.NumberLost, string(u.Arm), string(u.Kind), u.Company, u.Name, u.Other, u.Written} {
		c.text(t)
	}
	c.int(u.Number)
	c.int(u.Division)
	c.texts(u.Marks)
}

// Date numbers a date.
func (c *Collector) Date(d *date.Date) uint32 {
	if *d == (date.Date{}) {
		return 0
	}
	return enter(c, ofDate, &c.Dates, d, c.ofDate, func(d *date.Date) date.Date {
		own := *d
		own.Written, own.EDTF = strings.Clone(d.Written), strings.Clone(d.EDTF)
		return own
	})
}

func (c *Collector) ofDate(d *date.Date) {
	c.key = c.key[:0]
	c.text(d.Written)
	c.text(d.EDTF)
	for _, day := range [...]date.Day{d.From, d.To} {
		c.int(day.Year)
		c.int(day.Month)
		c.int(day.Day)
	}
	c.bool(d.Approximate)
	c.bool(d.Uncertain)
}

// Age numbers an age.
func (c *Collector) Age(a *date.Age) uint32 {
	if *a == (date.Age{}) {
		return 0
	}
	return enter(c, ofAge, &c.Ages, a, c.ofAge, func(a *date.Age) date.Age {
		own := *a
		own.Written = strings.Clone(a.Written)
		return own
	})
}

func (c *Collector) ofAge(a *date.Age) {
	c.key = c.key[:0]
	c.text(a.Written)
	c.int(a.Years)
	c.int(a.Months)
	c.int(a.Days)
	for _, b := range [...]bool{a.HasMonths, a.HasDays, a.Approximate, a.Known} {
		c.bool(b)
	}
}

// Service numbers what there is of a service beside unit, dates and texts.
func (c *Collector) Service(v *model.Service) uint32 {
	if v.Rank == "" && v.RankOut == "" && v.Branch == "" && v.Side == "" && !v.Brevet && v.Conflicts == nil && v.Awards == nil {
		return 0
	}
	return enter(c, ofService, &c.Services, v, c.ofService, func(v *model.Service) model.Service {
		own := model.Service{Rank: v.Rank, RankOut: v.RankOut, Brevet: v.Brevet, Branch: v.Branch, Side: v.Side, Conflicts: slices.Clone(v.Conflicts), Awards: Cloned(v.Awards)}
		for _, t := range [...]*string{(*string)(&own.Rank), (*string)(&own.RankOut), (*string)(&own.Branch), (*string)(&own.Side)} {
			*t = strings.Clone(*t)
		}
		for i := range own.Conflicts {
			own.Conflicts[i] = model.ConflictCode(strings.Clone(string(own.Conflicts[i])))
		}
		return own
	})
}

func (c *Collector) ofService(v *model.Service) {
	c.key = c.key[:0]
	for _, t := range [...]string{string(v.Rank), string(v.RankOut), string(v.Branch), string(v.Side)} {
		c.text(t)
	}
	c.bool(v.Brevet)
	c.bool(v.Conflicts == nil)
	c.int(len(v.Conflicts))
	for _, w := range v.Conflicts {
		c.text(string(w))
	}
	c.texts(v.Awards)
}

// Take makes a batch of records of one file. It is good until the next is made; its texts are those of the records.
func (c *Collector) Take(records []*model.Record) *Batch {
	b := &Batch{Reader: c.reader, Rows: make([]*Row, len(records)), Own: make([][TextCount]string, len(records))}
	for i, rec := range records {
		b.File = rec.Source.File
		p, s := &rec.Person, &rec.Service
		r := &Row{ID: string(rec.ID), Number: rec.Source.Row, Surname: c.Surname(p.Name.Surname), Name: c.Name(&p.Name), Unit: c.Unit(&s.Unit), Age: c.Age(&p.Age),
			Service: c.Service(s), Born: c.Date(&p.Born), Died: c.Date(&p.Died), Enlisted: c.Date(&s.Enlisted), MusteredIn: c.Date(&s.MusteredIn), MusteredOut: c.Date(&s.MusteredOut),
			Residence: c.Place(p.Residence), Buried: c.Place(p.Buried), From: len(b.Cells), Own: i + 1}
		var shape Shape
		for _, cell := range rec.Written {
			shape.Columns = append(shape.Columns, cell.Column)
			b.Cells = append(b.Cells, cell.Value)
		}
		r.Shape, r.To = c.Shape(&shape), len(b.Cells)
		for k, t := range TextsOf(rec) {
			b.Own[i][k] = *t
		}
		b.Rows[i] = r
	}
	b.Values = c.Values
	return b
}
