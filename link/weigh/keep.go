package weigh

import (
	"fmt"
	"hash/crc32"
	"io"
	"os"
)

// Earlier is a file of Columns whose rows a Packer may take over. It holds the distinct values and the ids, and reads the rows from the file.
type Earlier struct {
	file *os.File
	c    Columns // without rows
	n    int

	// By the number of a value here, that in the Packer and 1, where it is known.
	surnames, givens, middles, suffixes, homes, burials, files []uint32
	units, dates, ages, ranks, services                        []uint32
}

// OpenEarlier opens a file that WriteFile wrote, having read it through once.
func OpenEarlier(path string) (*Earlier, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	e := &Earlier{file: f}
	if err := e.read(); err != nil {
		f.Close()
		return nil, fmt.Errorf("read the packed records of %s: %w", path, err)
	}
	return e, nil
}

func (e *Earlier) read() error {
	n, values, sum, err := readHeader(e.file)
	if err != nil {
		return err
	}
	h := crc32.New(castagnoli)
	if _, err := io.Copy(h, io.NewSectionReader(e.file, headerBytes, n*rowBytes)); err != nil {
		return err
	}
	if err := e.c.readValues(e.file, values, h.Sum32(), sum); err != nil {
		return err
	}
	c := &e.c
	e.n = int(n)
	for _, l := range []struct {
		list *[]uint32
		n    int
	}{{&e.surnames, len(c.surnames)}, {&e.givens, len(c.givens)}, {&e.middles, len(c.middles)}, {&e.suffixes, len(c.suffixes)}, {&e.homes, len(c.homes)},
		{&e.burials, len(c.burials)}, {&e.files, len(c.files)}, {&e.units, len(c.units)}, {&e.dates, len(c.dates)}, {&e.ages, len(c.ages)}, {&e.ranks, len(c.ranks)},
		{&e.services, len(c.services)}} {
		*l.list = make([]uint32, l.n)
	}
	return nil
}

// Close closes the file.
func (e *Earlier) Close() error { return e.file.Close() }

// Len is the number of records.
func (e *Earlier) Len() int { return e.n }

// Keep packs the records of an earlier file from one number up to another, as Add would have, had it been given them. After an error the Packer is of no use.
func (p *Packer) Keep(e *Earlier, from, to int) error {
	const stretch = 1024
	list := make([]row, stretch+1)
	for ; from < to; from += stretch {
		rows := min(stretch, to-from)
		part := list[:min(rows+1, e.n-from)] // with the row after, where the last id ends
		if _, err := e.file.ReadAt(bytesOf(part), headerBytes+int64(from)*rowBytes); err != nil {
			return err
		}
		for i := range rows {
			w, next := part[i], row{id: uint32(len(e.c.ids))}
			if i+1 < len(part) {
				next.id = part[i+1].id
			}
			if !w.sound(&e.c) || next.id < w.id || int(next.id) > len(e.c.ids) {
				return errDamaged
			}
			id := e.c.ids[w.id:next.id]
			p.keep(e, &w)
			w.id = uint32(len(p.ids))
			p.ids = append(p.ids, id...)
			p.put(&w)
		}
	}
	return nil
}

// keep gives the row the numbers that its values have in the Packer.
func (p *Packer) keep(e *Earlier, w *row) {
	c := &e.c
	text := func(of []uint32, values []string, l *lexicon, n *uint32) {
		renumber(of, n, func(old uint32) uint32 { return l.number(values[old]) })
	}
	short := func(of []uint32, n *uint16, work func(uint32) uint32) {
		long := uint32(*n)
		renumber(of, &long, work)
		*n = small(long)
	}
	text(e.surnames, c.surnames, &p.surnames, &w.surname)
	text(e.givens, c.givens, &p.givens, &w.given)
	text(e.middles, c.middles, &p.middles, &w.middle)
	text(e.homes, c.homes, &p.homes, &w.home)
	text(e.burials, c.burials, &p.burials, &w.burial)
	renumber(e.units, &w.unit, func(old uint32) uint32 { return p.unit(&c.units[old]) })
	for _, d := range [...]*uint32{&w.born, &w.died, &w.enlisted, &w.musteredIn, &w.musteredOut} {
		renumber(e.dates, d, func(old uint32) uint32 { return p.date(&c.dates[old]) })
	}
	renumber(e.services, &w.service, func(old uint32) uint32 {
		s := c.services[old]
		if len(s.Conflicts) == 0 {
			// Of several men whose dates are of the same years the first stands for all: here this one, whoever it was there.
			s.Enlisted, s.MusteredIn, s.MusteredOut = p.c.dates[w.enlisted], p.c.dates[w.musteredIn], p.c.dates[w.musteredOut]
		}
		later := uint32(0)
		if n := c.later[old]; n > 0 {
			later = p.unit(&c.units[n])
		}
		return p.service(&s, later)
	})
	short(e.ages, &w.age, func(old uint32) uint32 { return p.age(&c.ages[old]) })
	short(e.ranks, &w.rank, func(old uint32) uint32 { return number(p.ranks, &p.c.ranks, c.ranks[old], c.ranks[old]) })
	short(e.suffixes, &w.suffix, func(old uint32) uint32 { return p.suffixes.number(c.suffixes[old]) })
	short(e.files, &w.file, func(old uint32) uint32 { return p.files.number(c.files[old]) })
}

// renumber puts in place of an old number the new one, which work makes where it is not known.
func renumber(of []uint32, n *uint32, work func(old uint32) uint32) {
	to := &of[*n]
	if *to == 0 {
		*to = work(*n) + 1
	}
	*n = *to - 1
}
