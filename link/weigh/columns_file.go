package weigh

import (
	"encoding/binary"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"os"
	"slices"
	"unsafe"

	"musterstone/model"
	"musterstone/model/date"
)

// The file of Columns is a header of 16 bytes (magic, number of rows, CRC-32C of what follows), the rows as they lie in memory, and the distinct values,
// each list with its length before it.
const (
	columnsMagic = "mscol2\n"
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
	sum := uint32(0)
	put := func(b []byte) error {
		for part := range slices.Chunk(b, 1<<20) { // summed and written while it is at hand
			sum = crc32.Update(sum, castagnoli, part)
			if _, err := f.Write(part); err != nil {
				return err
			}
		}
		return nil
	}
	var ids encoder // the length of them all: they are written where they lie
	ids.count(len(c.ids))
	for _, b := range [...][]byte{bytesOf(c.rows), ids.b, unsafe.Slice(unsafe.StringData(c.ids), len(c.ids)), c.values(new(encoder)).b} {
		if err := put(b); err != nil {
			return err
		}
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
	at := int64(headerBytes)
	for part := range slices.Chunk(bytesOf(c.rows), 1<<20) {
		if _, err := f.ReadAt(part, at); err != nil {
			return nil, err
		}
		rows = crc32.Update(rows, castagnoli, part)
		at += int64(len(part))
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

// bytesOf gives rows as bytes, where they lie. The file has them so: like the mapped files of the index it is of use to machines whose numbers lie the same way.
func bytesOf(rows []row) []byte {
	return unsafe.Slice((*byte)(unsafe.Pointer(unsafe.SliceData(rows))), len(rows)*rowBytes)
}

var _ = [1]struct{}{}[unsafe.Sizeof(row{})-rowBytes] // a row has no room between its fields

// values writes the distinct values after the ids, read reads ids and values: field by field in one order.
func (c *Columns) values(e *encoder) *encoder {
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
		e.text(s.Remarks)
		e.count(int(c.later[i]))
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
	c.later = make([]uint32, len(c.services))
	for i := range c.services {
		s := &c.services[i]
		s.Side, s.Branch, s.Unit.Body = model.Side(d.text()), model.Branch(d.text()), model.Body(d.text())
		for range d.count() {
			s.Conflicts = append(s.Conflicts, model.ConflictCode(d.text()))
		}
		d.date(&s.Enlisted)
		d.date(&s.MusteredIn)
		d.date(&s.MusteredOut)
		s.Remarks = d.text()
		if later := d.uvarint(); later < uint64(len(c.units)) {
			c.later[i] = uint32(later)
		} else {
			d.fail()
		}
	}
}
