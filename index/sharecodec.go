package index

import (
	"encoding/binary"
	"strings"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
)

// How a text of a record is written: a number, and what the number says.
const (
	noText   = 0 // the empty text
	asIs     = 1 // its length and its bytes follow
	fromCell = 2 // and even numbers from here on: the written cell of that number, without the blanks about it
	fromWord = 3 // and odd numbers from here on: a word of the lexicon
)

// put appends the encoding of a record, whose values have the numbers n.
func (s *sharer) put(b []byte, r *model.Record, n *sharedNumbers) []byte {
	if modelGrew() {
		return recordCodec().encode(b, *r, s.lexicon)
	}
	for _, x := range [...]uint32{n.file, n.columns, n.surname, n.name, n.unit, n.age, n.service, n.born, n.died, n.enlisted, n.in, n.out} {
		b = binary.AppendUvarint(b, uint64(x))
	}
	b = binary.AppendVarint(b, int64(r.Source.Row))
	for i := range r.Written {
		b = literal(b, r.Written[i].Value)
	}
	b = literal(b, string(r.ID))
	p, v := &r.Person, &r.Service
	b = s.putText(b, p.Name.Written, r.Written, false)
	for _, t := range [...]string{r.Source.Subject, p.Birthplace, p.Residence, p.DeathPlace, p.Buried, p.Relation, v.Remarks, v.Written, string(r.Home)} {
		b = s.putText(b, t, r.Written, true)
	}
	return b
}

func literal(b []byte, t string) []byte {
	b = binary.AppendUvarint(b, uint64(len(t)))
	return append(b, t...)
}

// putText appends a text; repeated says that others may have it too.
func (s *sharer) putText(b []byte, t string, cells []model.Cell, repeated bool) []byte {
	if t == "" {
		return append(b, noText)
	}
	// Most texts are cells, and lie where the cell lies.
	at := uintptr(unsafe.Pointer(unsafe.StringData(t)))
	for i := range cells {
		c := cells[i].Value
		if from := uintptr(unsafe.Pointer(unsafe.StringData(c))); at >= from && at+uintptr(len(t)) <= from+uintptr(len(c)) && strings.TrimSpace(c) == t {
			return binary.AppendUvarint(b, uint64(fromCell+2*i))
		}
	}
	if !repeated {
		return literal(append(b, asIs), t)
	}
	if w := s.lexicon.find(t); w > 0 {
		return binary.AppendUvarint(b, fromWord+2*(w-1))
	}
	return literal(append(b, asIs), t)
}

// A recordReader reads a record from its encoding.
type recordReader struct {
	decoder
	cells []model.Cell
}

// get reads a record that put wrote into a zero one. Its texts share the memory of data, lists those of s: neither may be changed.
func (s *shared) get(data string, r *model.Record) error {
	if modelGrew() {
		return recordCodec().decode(data, r, &lexicon{words: s.Words})
	}
	d := recordReader{decoder: decoder{data: data, words: s.Words}}
	r.Source.File = number1(&d, s.Files)
	columns := number1(&d, s.Columns).Names
	p, v := &r.Person, &r.Service
	surname := number1(&d, s.Surnames)
	if name := pick(&d, s.Names); name != nil {
		p.Name = *name
	}
	p.Name.Surname = surname
	unit, age, service := pick(&d, s.Units), pick(&d, s.Ages), pick(&d, s.Services)
	if d.bad {
		return errDamaged
	}
	*v = *service
	v.Unit, p.Age = *unit, *age
	for _, to := range [...]*date.Date{&p.Born, &p.Died, &v.Enlisted, &v.MusteredIn, &v.MusteredOut} {
		if x := pick(&d, s.Dates); x != nil {
			*to = *x
		}
	}
	row := d.uvarint()
	r.Source.Row = int(int64(row>>1) ^ -int64(row&1))
	if len(columns) > 0 {
		d.cells = make([]model.Cell, len(columns))
		for i, c := range columns {
			d.cells[i] = model.Cell{Column: c, Value: d.literal()}
		}
		r.Written = d.cells
	}
	r.ID = model.RecordID(d.literal())
	for _, to := range [...]*string{&p.Name.Written, &r.Source.Subject, &p.Birthplace, &p.Residence, &p.DeathPlace, &p.Buried, &p.Relation, &v.Remarks, &v.Written, (*string)(&r.Home)} {
		*to = d.text()
	}
	if d.bad || len(d.data) > 0 {
		return errDamaged
	}
	return nil
}

// pick reads a number and gives what it names; nil where there is no such.
func pick[T any](d *recordReader, list []T) *T {
	n := d.uvarint()
	if n >= uint64(len(list)) {
		d.bad = true
		return nil
	}
	return &list[n]
}

// number1 is pick, by value.
func number1[T any](d *recordReader, list []T) (v T) {
	if p := pick(d, list); p != nil {
		v = *p
	}
	return v
}

func (d *recordReader) literal() string {
	n := d.uvarint()
	if n > uint64(len(d.data)) {
		d.bad = true
		return ""
	}
	t := d.data[:n]
	d.data = d.data[n:]
	return t
}

func (d *recordReader) text() string {
	n := d.uvarint()
	switch {
	case n == noText:
		return ""
	case n == asIs:
		return d.literal()
	case n%2 == fromCell%2:
		if i := (n - fromCell) / 2; i < uint64(len(d.cells)) {
			return strings.TrimSpace(d.cells[i].Value)
		}
	default:
		if i := (n - fromWord) / 2; i < uint64(len(d.words)) {
			return d.words[i]
		}
	}
	d.bad = true
	return ""
}
