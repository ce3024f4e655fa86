package weigh

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
)

// The file of Columns is a header of 16 bytes (magic, number of rows, CRC-32C of what follows), the rows, rowBytes each, little end first, and the distinct values,
// each list with its length before it.
const (
	columnsMagic = "mscol1\n"
	headerBytes  = 16
)

// errDamaged is told of a file that is not what was written.
var errDamaged = errors.New("damaged: its checksum or its lengths are wrong")

var castagnoli = crc32.MakeTable(crc32.Castagnoli)

// WriteFile writes the columns to a new file.
func (c *Columns) WriteFile(path string) error {
	f, err := os.Create(path)
	if err != nil {
		return fmt.Errorf("write the packed records: %w", err)
	}
	if err := errors.Join(c.writeTo(f), f.Close()); err != nil {
		return fmt.Errorf("write the packed records to %s: %w; look whether the disk is full", path, err)
	}
	return nil
}

func (c *Columns) writeTo(f *os.File) error {
	var header [headerBytes]byte
	copy(header[:], columnsMagic)
	binary.LittleEndian.PutUint32(header[8:], uint32(len(c.rows)))
	if _, err := f.Write(header[:]); err != nil {
		return err
	}
	w := bufio.NewWriterSize(f, 1<<18)
	sum := uint32(0)
	put := func(b []byte) error {
		sum = crc32.Update(sum, castagnoli, b)
		_, err := w.Write(b)
		return err
	}
	b := make([]byte, 0, 1<<16)
	for i := range c.rows {
		b = c.rows[i].append(b)
		if len(b) > 1<<15 || i == len(c.rows)-1 {
			if err := put(b); err != nil {
				return err
			}
			b = b[:0]
		}
	}
	if err := put(c.values(&encoder{}).b); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	binary.LittleEndian.PutUint32(header[12:], sum)
	_, err := f.WriteAt(header[:], 0)
	return err
}

// ReadFile reads what WriteFile wrote.
func ReadFile(path string) (*Columns, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	c, err := readColumns(f)
	if err != nil {
		return nil, fmt.Errorf("read the packed records of %s: %w", path, err)
	}
	return c, nil
}

func readColumns(f *os.File) (*Columns, error) {
	n, values, sum, err := readHeader(f)
	if err != nil {
		return nil, err
	}
	c := &Columns{rows: make([]row, n)}
	rows := uint32(0) // their checksum
	b := make([]byte, 1024*rowBytes)
	for at := int64(0); at < n; at += 1024 {
		part := b[:min(1024, n-at)*rowBytes]
		if _, err := f.ReadAt(part, headerBytes+at*rowBytes); err != nil {
			return nil, err
		}
		rows = crc32.Update(rows, castagnoli, part)
		for i := range len(part) / rowBytes {
			c.rows[at+int64(i)].from((*[rowBytes]byte)(part[i*rowBytes:]))
		}
	}
	if err := c.readValues(f, values, rows, sum); err != nil {
		return nil, err
	}
	if !c.sound() {
		return nil, errDamaged
	}
	return c, nil
}

// readHeader gives the number of rows, how many bytes of values stand after them, and the checksum of all that.
func readHeader(f *os.File) (rows, values int64, sum uint32, err error) {
	info, err := f.Stat()
	if err != nil {
		return 0, 0, 0, err
	}
	var header [headerBytes]byte
	if _, err := f.ReadAt(header[:], 0); err != nil || string(header[:len(columnsMagic)]) != columnsMagic {
		return 0, 0, 0, errDamaged
	}
	rows = int64(binary.LittleEndian.Uint32(header[8:]))
	if values = info.Size() - headerBytes - rows*rowBytes; values < 0 {
		return 0, 0, 0, errDamaged
	}
	return rows, values, binary.LittleEndian.Uint32(header[12:]), nil
}

// readValues reads the values, so many bytes at the end of the file, and holds them and the rows, whose checksum is given, to the file's.
func (c *Columns) readValues(f *os.File, bytes int64, rows, sum uint32) error {
	rest := make([]byte, bytes)
	if _, err := f.Seek(-bytes, io.SeekEnd); err != nil {
		return err
	}
	if _, err := io.ReadFull(f, rest); err != nil {
		return err
	}
	if crc32.Update(rows, castagnoli, rest) != sum {
		return errDamaged
	}
	d := &decoder{s: unsafe.String(unsafe.SliceData(rest), len(rest))} // rest is not written to again
	c.read(d)
	if d.bad || d.s != "" {
		return errDamaged
	}
	return nil
}

// sound reports whether every number in the rows is one of a value.
func (c *Columns) sound() bool {
	id := uint32(0)
	for i := range c.rows {
		w := &c.rows[i]
		if !w.sound(c) || w.id < id {
			return false
		}
		id = w.id
	}
	return true
}

// sound reports whether every number in a row is one of a value.
func (w *row) sound(c *Columns) bool {
	return int(w.surname) < len(c.surnames) && int(w.given) < len(c.givens) && int(w.middle) < len(c.middles) && int(w.unit) < len(c.units) &&
		int(max(w.born, w.died, w.enlisted, w.musteredIn, w.musteredOut)) < len(c.dates) && int(w.home) < len(c.homes) &&
		int(w.burial) < len(c.burials) && int(w.service) < len(c.services) && int(w.age) < len(c.ages) && int(w.rank) < len(c.ranks) &&
		int(w.suffix) < len(c.suffixes) && int(w.file) < len(c.files) && int(w.id) <= len(c.ids)
}

func (w *row) append(b []byte) []byte {
	le := binary.LittleEndian
	for _, x := range [...]uint32{w.surname, w.given, w.middle, w.unit, w.born, w.died, w.enlisted, w.musteredIn, w.musteredOut, w.home, w.burial, w.service, w.id} {
		b = le.AppendUint32(b, x)
	}
	for _, x := range [...]uint16{uint16(w.bornFrom), uint16(w.bornTo), w.age, w.rank, w.suffix, w.file} {
		b = le.AppendUint16(b, x)
	}
	return b
}

func (w *row) from(b *[rowBytes]byte) {
	le := binary.LittleEndian
	w.surname, w.given, w.middle, w.unit = le.Uint32(b[0:]), le.Uint32(b[4:]), le.Uint32(b[8:]), le.Uint32(b[12:])
	w.born, w.died, w.enlisted, w.musteredIn = le.Uint32(b[16:]), le.Uint32(b[20:]), le.Uint32(b[24:]), le.Uint32(b[28:])
	w.musteredOut, w.home, w.burial, w.service, w.id = le.Uint32(b[32:]), le.Uint32(b[36:]), le.Uint32(b[40:]), le.Uint32(b[44:]), le.Uint32(b[48:])
	w.bornFrom, w.bornTo = int16(le.Uint16(b[52:])), int16(le.Uint16(b[54:]))
	w.age, w.rank, w.suffix, w.file = le.Uint16(b[56:]), le.Uint16(b[58:]), le.Uint16(b[60:]), le.Uint16(b[62:])
}

// values writes the distinct values, read reads them: field by field in one order.
func (c *Columns) values(e *encoder) *encoder {
	e.text(c.ids)
	for _, list := range [...][]string{c.surnames, c.givens, c.middles, c.suffixes, c.homes, c.burials, c.files} {
		e.texts(list)
	}
	e.count(len(c.units))
	for i := range c.units {
		e.unit(&c.units[i])
	}
	e.count(len(c.dates))
	for i := range c.dates {
		e.date(&c.dates[i])
	}
	e.count(len(c.ages))
	for i := range c.ages {
		a := &c.ages[i]
		e.ints(a.Years, a.Months, a.Days)
		e.flags(a.HasMonths, a.HasDays, a.Approximate, a.Known)
		e.text(a.Written)
	}
	e.count(len(c.ranks))
	for _, r := range c.ranks {
		e.text(string(r.in))
		e.text(string(r.out))
	}
	e.count(len(c.services))
	for i := range c.services {
		s := &c.services[i]
		e.text(string(s.Side))
		e.text(string(s.Branch))
		e.text(string(s.Unit.Body))
		e.count(len(s.Conflicts))
		for _, k := range s.Conflicts {
			e.text(string(k))
		}
		e.date(&s.Enlisted)
		e.date(&s.MusteredIn)
		e.date(&s.MusteredOut)
	}
	return e
}

func (c *Columns) read(d *decoder) {
	c.ids = d.text()
	for _, list := range [...]*[]string{&c.surnames, &c.givens, &c.middles, &c.suffixes, &c.homes, &c.burials, &c.files} {
		*list = d.texts()
	}
	c.units = make([]model.Unit, d.count())
	for i := range c.units {
		d.unit(&c.units[i])
	}
	c.dates = make([]date.Date, d.count())
	for i := range c.dates {
		d.date(&c.dates[i])
	}
	c.ages = make([]date.Age, d.count())
	for i := range c.ages {
		a := &c.ages[i]
		a.Years, a.Months, a.Days = d.int(), d.int(), d.int()
		d.flags(&a.HasMonths, &a.HasDays, &a.Approximate, &a.Known)
		a.Written = d.text()
	}
	c.ranks = make([]rankPair, d.count())
	for i := range c.ranks {
		c.ranks[i] = rankPair{model.Rank(d.text()), model.Rank(d.text())}
	}
	c.services = make([]model.Service, d.count())
	for i := range c.services {
		s := &c.services[i]
		s.Side, s.Branch, s.Unit.Body = model.Side(d.text()), model.Branch(d.text()), model.Body(d.text())
		for range d.count() {
			s.Conflicts = append(s.Conflicts, model.ConflictCode(d.text()))
		}
		d.date(&s.Enlisted)
		d.date(&s.MusteredIn)
		d.date(&s.MusteredOut)
	}
}
