package index

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"path/filepath"
	"sync"

	"musterstone/model"
	"musterstone/model/same"
	"musterstone/vocab/remarks"
)

// The kinds of values that a carrier gives other numbers.
const (
	carriedFile = iota
	carriedColumns
	carriedSurname
	carriedName
	carriedUnit
	carriedDate
	carriedAge
	carriedService
	carriedKinds
)

// A carrier takes records out of an earlier index into the one that is built, as they were written there: only the numbers of values that records share are others now. What follows from
// a value is worked out once, so that a record costs a third of what it does to read it.
type carrier struct {
	b     *recordsBuilder
	old   *earlier
	of    [carriedKinds][]uint32 // by the old number of a value, its number here and 1, where it is known
	words []uint32               // by the old number of a word, that here and 1, or noWord; 0 where it is not known
	// Room for one record.
	one   []byte
	cells []model.Cell
}

func newCarrier(b *recordsBuilder, old *earlier) *carrier {
	c := &carrier{b: b, old: old}
	if old == nil {
		return c
	}
	s := &old.tables.shared
	for kind, n := range [carriedKinds]int{carriedFile: len(s.Files), carriedColumns: len(s.Columns), carriedSurname: len(s.Surnames), carriedName: len(s.Names),
		carriedUnit: len(s.Units), carriedDate: len(s.Dates), carriedAge: len(s.Ages), carriedService: len(s.Services)} {
		c.of[kind] = make([]uint32, n)
	}
	c.words = make([]uint32, len(s.Words))
	return c
}

// part takes all records of a part.
func (c *carrier) part(ctx context.Context, made *partMade) error {
	c.b.shared.Check() // what was kept and what is read may have the same values
	var beside error
	var both sync.WaitGroup
	both.Go(func() { beside = c.beside(ctx, made) })
	stored := storeReader{store: c.old.records}
	var failed error
	for i := made.From; i < made.To && failed == nil; i++ {
		var data string
		if data, failed = stored.look(i); failed == nil {
			failed = c.record(data)
		}
		if i%stretch == 0 {
			failed = cmp.Or(failed, ctx.Err())
			c.b.x.progress("records", c.b.roller.n, max(c.b.x.in.About, c.b.roller.n))
		}
	}
	both.Wait()
	err := cmp.Or(failed, beside)
	if errors.Is(err, errDamaged) {
		err = fmt.Errorf("keep the records of %s from an earlier index: %w; delete the folder %s and run again", made.File, err, filepath.Dir(c.old.folder))
	}
	return err
}

// beside has what was made beside the earlier index taken over too, or else gives it the records one by one.
func (c *carrier) beside(ctx context.Context, made *partMade) error {
	kept, err := c.b.beside.Keep(c.old.folder, made.From, made.To)
	if kept || err != nil {
		return err
	}
	stored := storeReader{store: c.old.records}
	collector, told := same.NewCollector(), new(remarks.Memory)
	var list []*model.Record
	for i := made.From; i < made.To && err == nil; i++ {
		var data string
		r := new(model.Record)
		if data, err = stored.read(i); err == nil {
			_, err = c.old.tables.shared.get(data, r)
		}
		list = append(list, r)
		if err == nil && (len(list) == stretch || i == made.To-1) {
			batch := collector.Take(list)
			err = cmp.Or(c.b.beside.Add(batch, told.Rows(batch)), ctx.Err())
			list = list[:0]
		}
	}
	return err
}

// record takes one record.
func (c *carrier) record(data string) error {
	d := recordReader{decoder: decoder{data: data, words: c.old.tables.shared.Words}, cells: c.cells[:0]}
	s, old := c.b.shared, &c.old.tables.shared
	number := func(kind int, work func(old uint32) uint32) uint32 {
		at := d.uvarint()
		if at >= uint64(len(c.of[kind])) {
			d.bad = true
			return 0
		}
		to := &c.of[kind][at]
		if *to == 0 {
			*to = work(uint32(at)) + 1
		}
		return *to - 1
	}
	date := func(o uint32) uint32 { return s.Date(&old.Dates[o]) }
	n := sharedNumbers{
		file:     number(carriedFile, func(o uint32) uint32 { return s.file(old.Files[o]) }),
		columns:  number(carriedColumns, func(o uint32) uint32 { return s.carried(&old.Columns[o]) }),
		surname:  number(carriedSurname, func(o uint32) uint32 { return s.Surname(old.Surnames[o]) }),
		name:     number(carriedName, func(o uint32) uint32 { return s.Name(&old.Names[o]) }),
		unit:     number(carriedUnit, func(o uint32) uint32 { return s.Unit(&old.Units[o]) }),
		age:      number(carriedAge, func(o uint32) uint32 { return s.Age(&old.Ages[o]) }),
		service:  number(carriedService, func(o uint32) uint32 { return s.Service(&old.Services[o]) }),
		born:     number(carriedDate, date),
		died:     number(carriedDate, date),
		enlisted: number(carriedDate, date),
		in:       number(carriedDate, date),
		out:      number(carriedDate, date),
	}
	c.one = n.put(c.one[:0])
	rest := d.data // what is no word is written as it stands there
	d.row()
	id := d.literal()
	// put copies what stands before a word, and what that is here.
	put := func(before string, is func([]byte) []byte) {
		c.one = is(append(c.one, rest[:len(rest)-len(before)]...))
		rest = d.data
	}
	for range d.cellsOf(&columnList{s.Shapes[n.columns].Columns, s.pairs != 0 && n.columns == s.pairs}) {
		before := d.data
		word, t := d.cell(id)
		d.cells = append(d.cells, model.Cell{Value: t})
		if word > 0 {
			put(before, func(b []byte) []byte { return cellWord(b, c.word(word-1), t) })
		}
	}
	c.cells = d.cells
	var home, buried, said string
	for i := range same.TextCount {
		if i == same.NameWritten {
			d.name()
			continue
		}
		before := d.data
		word, t := d.word()
		if word > 0 {
			put(before, func(b []byte) []byte { return textWord(b, c.word(word-1), t) })
		}
		switch i {
		case same.Residence:
			home = t
		case same.Buried:
			buried = t
		case same.Remarks:
			said = t
		}
	}
	if d.bad || len(d.data) > 0 {
		return fmt.Errorf("record %d: %w", c.b.roller.n+1, errDamaged)
	}
	c.one = append(c.one, rest...)
	n.buried, n.home = c.b.roller.placeNumber(buried), c.b.roller.placeNumber(home)
	c.b.roller.add(&n, id, c.b.told.Read(remarks.Beside(s.Names[n.name].Other, s.Units[n.unit].Other, said)))
	return c.b.store.add(func(b []byte) []byte { return append(b, c.one...) })
}

// word is the number here of a word of the earlier index, or noWord.
func (c *carrier) word(old uint64) uint32 {
	n := &c.words[old]
	if *n == 0 {
		*n = c.b.shared.keep(c.old.tables.shared.Words[old])
	}
	return *n
}

// idAndRow reads of a record where it stands and its id.
func idAndRow(data string) (id string, row int, err error) {
	d := recordReader{decoder: decoder{data: data}}
	for range recordNumbers {
		d.uvarint()
	}
	row, id = d.row(), d.literal()
	if d.bad {
		return "", 0, errDamaged
	}
	return id, row, nil
}
