package index

import (
	"encoding/binary"
	"strings"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/same"
)

// How a cell of a record is written: a number, and what the number says.
const (
	theID   = 0 // the record's id
	aWord   = 1 // and odd numbers from here on: a word of the lexicon
	itsText = 2 // and even numbers from here on: so many bytes, which follow
)

// How a text of a record is written: a number, and what the number says.
const (
	noText   = 0 // the empty text
	asIs     = 1 // its length and its bytes follow
	fromCell = 2 // and even numbers from here on: the cell of that number, without the blanks about it
	fromWord = 3 // and odd numbers from here on: a word of the lexicon; of the writing of a name, two cells with a comma between them: see cellPair
)

// A record in the store is the numbers of its values, its row, its id, its cells and its texts, in this order.
const recordNumbers = 12

// put appends the numbers as they stand at the beginning of a record.
func (n *sharedNumbers) put(b []byte) []byte {
	for _, x := range [recordNumbers]uint32{n.file, n.columns, n.surname, n.name, n.unit, n.age, n.service, n.born, n.died, n.enlisted, n.in, n.out} {
		b = appendUvarint(b, x)
	}
	return b
}

// appendUvarint is binary.AppendUvarint, quicker for the small numbers that nearly all are.
func appendUvarint(b []byte, x uint32) []byte {
	switch {
	case x < 1<<7:
		return append(b, byte(x))
	case x < 1<<14:
		return append(b, byte(x)|1<<7, byte(x>>7))
	}
	return binary.AppendUvarint(b, uint64(x))
}

// put appends the encoding of a record, whose values have the numbers n.
func (s *sharer) put(b []byte, batch *same.Batch, of *renumbered, r *same.Row, n *sharedNumbers) []byte {
	b = n.put(b)
	b = binary.AppendVarint(b, int64(r.Number))
	b = literal(b, r.ID)
	cells, known := batch.CellsOf(r), batch.Known
	if known != nil {
		known = known[r.From:r.To]
	}
	shape := &batch.Values.Shapes[r.Shape]
	pairs := s.pairs != 0 && n.columns == s.pairs
	if pairs {
		b = binary.AppendUvarint(b, uint64(len(cells)))
	}
	for i, c := range cells {
		if pairs {
			b = cellWord(b, s.keep(shape.Columns[i]), shape.Columns[i])
		}
		word := uint32(noWord)
		if i < len(known) && known[i] != 0 {
			if word = of.cells[known[i]]; word == 0 {
				word = s.keep(c)
				of.cells[known[i]] = word
			}
		}
		if n := aWord + 2*(word-1); word < 1<<13 { // cellWord, of those that nearly all are
			if n < 1<<7 {
				b = append(b, byte(n))
			} else {
				b = append(b, byte(n)|1<<7, byte(n>>7))
			}
			continue
		}
		if word == noWord && c == r.ID {
			b = append(b, theID)
		} else {
			b = cellWord(b, word, c)
		}
	}
	each := uint8(1) // cells to one
	if pairs {
		each = 2
		both := make([]string, 0, 2*len(cells))
		for i, c := range cells {
			both = append(both, shape.Columns[i], c)
		}
		cells = both
	}
	if r.Own > 0 {
		for i, t := range batch.Own[r.Own-1] {
			b = s.putText(b, t, cells, i != same.NameWritten)
		}
		return b
	}
	for i, cell := range shape.Texts {
		switch {
		case cell == 0:
			b = append(b, noText)
		case i == same.NameWritten && shape.Given > 0:
			b = binary.AppendUvarint(b, cellPair(each*cell-1, each*shape.Given-1))
		default:
			b = binary.AppendUvarint(b, uint64(fromCell+2*int(each*cell-1)))
		}
	}
	return b
}

// cellWord appends a cell that is a word, of that number and 1, or noWord.
func cellWord(b []byte, word uint32, cell string) []byte {
	if word != noWord {
		return appendUvarint(b, aWord+2*(word-1))
	}
	return append(binary.AppendUvarint(b, itsText+2*uint64(len(cell))), cell...)
}

// textWord appends a text that is a word, of that number and 1, or noWord.
func textWord(b []byte, word uint32, text string) []byte {
	if word != noWord {
		return binary.AppendUvarint(b, fromWord+2*(uint64(word)-1))
	}
	return literal(append(b, asIs), text)
}

// cellPair is how the writing of a name is written that stands in two cells.
func cellPair(family, given uint8) uint64 { return fromWord + 2*(uint64(family)<<8|uint64(given)) }

func literal(b []byte, t string) []byte {
	b = binary.AppendUvarint(b, uint64(len(t)))
	return append(b, t...)
}

// putText appends a text; repeated says that others may have it too.
func (s *sharer) putText(b []byte, t string, cells []string, repeated bool) []byte {
	if t == "" {
		return append(b, noText)
	}
	// Most texts are cells, and lie where the cell lies.
	at := uintptr(unsafe.Pointer(unsafe.StringData(t)))
	for i, c := range cells {
		if from := uintptr(unsafe.Pointer(unsafe.StringData(c))); at >= from && at+uintptr(len(t)) <= from+uintptr(len(c)) && strings.TrimSpace(c) == t {
			return binary.AppendUvarint(b, uint64(fromCell+2*i))
		}
	}
	if !repeated {
		return literal(append(b, asIs), t)
	}
	if w := s.lexicon.number(t); w > 0 {
		return binary.AppendUvarint(b, fromWord+2*(w-1))
	}
	return literal(append(b, asIs), t)
}

// A recordReader reads a record from its encoding.
type recordReader struct {
	decoder
	cells []model.Cell
}

// get reads a record that put wrote into a zero one, and gives the numbers of its values. Its texts share the memory of data, lists those of s: neither may be changed.
func (s *shared) get(data string, r *model.Record) (n sharedNumbers, err error) {
	d := recordReader{decoder: decoder{data: data, words: s.Words}}
	p, v := &r.Person, &r.Service
	if file := pick(&d, &n.file, s.Files); file != nil {
		r.Source.File = *file
	}
	columns := pick(&d, &n.columns, s.Columns)
	surname := pick(&d, &n.surname, s.Surnames)
	name := pick(&d, &n.name, s.Names)
	unit, age, service := pick(&d, &n.unit, s.Units), pick(&d, &n.age, s.Ages), pick(&d, &n.service, s.Services)
	if d.bad {
		return n, errDamaged
	}
	p.Name, *v = *name, *service
	p.Name.Surname, v.Unit, p.Age = *surname, *unit, *age
	for _, to := range [...]struct {
		number *uint32
		date   *date.Date
	}{{&n.born, &p.Born}, {&n.died, &p.Died}, {&n.enlisted, &v.Enlisted}, {&n.in, &v.MusteredIn}, {&n.out, &v.MusteredOut}} {
		if x := pick(&d, to.number, s.Dates); x != nil {
			*to.date = *x
		}
	}
	r.Source.Row = d.row()
	r.ID = model.RecordID(d.literal())
	count := d.cellsOf(columns)
	if count > 0 {
		d.cells = make([]model.Cell, count)
		for i := range d.cells {
			_, cell := d.cell(string(r.ID))
			d.cells[i].Value = cell
			if !columns.Pairs {
				d.cells[i].Column = columns.Names[i]
			}
		}
		if r.Written = d.cells; columns.Pairs {
			r.Written = make([]model.Cell, count/2)
			for i := range r.Written {
				r.Written[i] = model.Cell{Column: d.cells[2*i].Value, Value: d.cells[2*i+1].Value}
			}
		}
	}
	for i, to := range same.TextsOf(r) {
		if i == same.NameWritten {
			family, given, text := d.name()
			if *to = text; family != "" {
				*to = family + ", " + given
			}
		} else {
			_, *to = d.word()
		}
	}
	if d.bad || len(d.data) > 0 {
		return n, errDamaged
	}
	return n, nil
}

// cellsOf is how many cells follow: of pairs their number does, and the names are cells too.
func (d *recordReader) cellsOf(columns *columnList) int {
	if !columns.Pairs {
		return len(columns.Names)
	}
	n := d.uvarint()
	if n > uint64(len(d.data))/2 {
		d.bad = true
		return 0
	}
	return 2 * int(n)
}

// pick reads a number and gives what it names; nil where there is no such.
func pick[T any](d *recordReader, number *uint32, list []T) *T {
	n := d.uvarint()
	if n >= uint64(len(list)) {
		d.bad = true
		return nil
	}
	*number = uint32(n)
	return &list[n]
}

func (d *recordReader) row() int {
	n := d.uvarint()
	return int(int64(n>>1) ^ -int64(n&1))
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

// cell reads a cell, and gives the number of the word plus 1 where it is one of the lexicon.
func (d *recordReader) cell(id string) (word uint64, t string) {
	switch n := d.uvarint(); {
	case n == theID:
		return 0, id
	case n%2 == aWord:
		if i := (n - aWord) / 2; i < uint64(len(d.words)) {
			return i + 1, d.words[i]
		}
	default:
		if n = (n - itsText) / 2; n <= uint64(len(d.data)) {
			t, d.data = d.data[:n], d.data[n:]
			return 0, t
		}
	}
	d.bad = true
	return 0, ""
}

// name reads the writing of a name: of two cells, or all of it in text.
func (d *recordReader) name() (family, given, text string) {
	n := d.uvarint()
	if n < fromWord || n%2 == fromCell%2 {
		_, text = d.textOf(n)
		return "", "", text
	}
	f, g := (n-fromWord)/2>>8, (n-fromWord)/2&0xff
	if f >= uint64(len(d.cells)) || g >= uint64(len(d.cells)) {
		d.bad = true
		return "", "", ""
	}
	return strings.TrimSpace(d.cells[f].Value), strings.TrimSpace(d.cells[g].Value), ""
}

// word reads a text, and gives the number of the word plus 1 where it is one of the lexicon.
func (d *recordReader) word() (word uint64, t string) { return d.textOf(d.uvarint()) }

// textOf is word after its number.
func (d *recordReader) textOf(n uint64) (word uint64, t string) {
	switch {
	case n == noText:
		return 0, ""
	case n == asIs:
		return 0, d.literal()
	case n%2 == fromCell%2:
		if i := (n - fromCell) / 2; i < uint64(len(d.cells)) {
			return 0, strings.TrimSpace(d.cells[i].Value)
		}
	default:
		if i := (n - fromWord) / 2; i < uint64(len(d.words)) {
			return i + 1, d.words[i]
		}
	}
	d.bad = true
	return 0, ""
}
