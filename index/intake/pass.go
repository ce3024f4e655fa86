package intake

import (
	"fmt"
	"runtime"
	"sync"

	"musterstone/index/texts"
	"musterstone/model"
	"musterstone/model/same"
)

// A pass is one reading of a survey's tables of a kind: stones or records.
//
// One goroutine parts the file into rows, several make values of them, and the caller's takes what they made in the order of the rows: there
// ids are held against each other, and complaints told. What comes out is the same whatever the number of goroutines.
type pass[T any] struct {
	survey     *Survey
	complain   func(model.Complaint)
	make       func(*reading, *T) // makes a value of a row, but for its id
	name       func(*T, string)   // gives a value its id
	workers    int                // goroutines that make values; 1 where a row may depend on those above it
	again      bool               // rows are numbered, and used again: what was handed over is good until the next is asked for
	ids        idBook             // those given so far
	memories   []*memory          // of the goroutines
	numberings []*numbering       // of the goroutines, where rows are numbered
	batch      *same.Batch        // what is handed over beside rows that are numbered
	crossed    bool               // an id of the table that is read had been given in another
}

// blockRows is how many rows are handed from one goroutine to the next at a time.
const blockRows = 512

// A block is a stretch of rows on its way.
type block[T any] struct {
	rows  []row
	spans []span   // of rows, their cells
	cells []string // of all rows
	text  []byte   // the room that the cells stand in
	first int      // the number of the first row below the header

	values []*T   // what was made, one for each row that is not blank or broken
	made   []made // beside them
	told   []told
	batch  same.Batch    // beside values that are numbered rows
	out    []*T          // those that are handed over
	ready  chan struct{} // closed when the values are made
	last   []model.Complaint
}

type span struct{ from, to int }

// made is what there is beside a value that was made of a row.
type made struct {
	row     int
	id      string
	hash    uint32
	derived bool // the id was made from the cells and may have to be told from others
	before  int  // told: complaints up to here come before the id's own
	after   int  // and up to here after it, which are not told of a row that is left out
}

// told is a complaint on its way; once is a term of whose column it is told only once.
type told struct {
	model.Complaint
	once term
}

// table reads one table, and hands what its rows make to use, in their order, until use gives false. It reports whether to go on with the next table.
func (p *pass[T]) table(t *Table, use func([]*T) bool) bool {
	for _, c := range t.Notices {
		p.complain(c)
	}
	r, closer, err := p.survey.rows(t)
	if err != nil {
		p.complain(model.Complaint{File: t.File, Fatal: true, Unread: ofTheDisk(err), Text: "it cannot be read: " + plainError(err), Hint: "it could when the survey was opened; look whether it was moved"})
		return true
	}
	defer closer.Close()
	workers := p.workers
	for i := range t.bound.rules {
		if t.bound.rules[i].ditto {
			workers = 1
		}
	}
	for len(p.memories) < workers {
		p.memories, p.numberings = append(p.memories, newMemory()), append(p.numberings, nil)
	}

	todo, order := make(chan *block[T], workers), make(chan *block[T], 4*workers)
	free := make(chan *block[T], 8*workers)
	stop := make(chan struct{})
	var group sync.WaitGroup
	defer group.Wait()
	defer close(stop)
	group.Go(func() {
		defer close(todo)
		defer close(order)
		p.part(t, r, todo, order, free, stop)
	})
	for i := range workers {
		group.Go(func() {
			in := newReading(t, p.memories[i])
			in.numbering = p.numberings[i]
			for b := range todo {
				if p.again {
					in.renew()
				}
				p.work(in, b)
				close(b.ready)
			}
			p.numberings[i] = in.numbering
		})
	}
	once := [termCount]bool{}
	named := false
	for b := range order {
		<-b.ready
		if !p.commit(t, b, &once, &named, use) {
			return false
		}
		if p.again {
			select {
			case free <- b:
			default:
			}
		}
	}
	return true
}

// part parts the file into rows and hands them on in blocks.
func (p *pass[T]) part(t *Table, r *rowReader, todo, order, free chan *block[T], stop chan struct{}) {
	header, mayBePlain := t.meta.dialect.header, p.again && t.bound.mayBePlain()
	rows, first, number := 0, 0, 0
	next := func() *block[T] {
		select {
		case b := <-free:
			r.begin(b.text, b.cells)
			b.rows, b.spans = b.rows[:0], b.spans[:0]
			b.made, b.told, b.out, b.last = b.made[:0], b.told[:0], b.out[:0], nil
			b.ready = make(chan struct{})
			return b
		default:
			r.begin(nil, nil)
			return &block[T]{ready: make(chan struct{})}
		}
	}
	send := func(b *block[T]) bool {
		b.first = first
		b.text, b.cells = r.room()
		select {
		case order <- b:
		case <-stop:
			return false
		}
		todo <- b // whoever stops waits until all that is on its way is done
		return true
	}
	b := next()
	for {
		row, ok := r.next()
		if !ok {
			break
		}
		if header {
			header = row.blank() && !row.fatal()
			continue
		}
		number = row.number
		if first == 0 {
			first = row.number
		}
		blank := row.blank()
		if blank && len(row.problems) == 0 {
			continue
		}
		if !blank || row.fatal() {
			rows++
		}
		if mayBePlain {
			row.mask, row.plain = t.bound.plainly(row.cells)
		}
		b.spans = append(b.spans, r.keep())
		b.rows = append(b.rows, row)
		if len(b.rows) == blockRows {
			if !send(b) {
				return
			}
			b = next()
		}
	}
	if err := r.err(); err != nil {
		b.last = append(b.last, model.Complaint{File: t.File, Row: number, Fatal: true, Unread: ofTheDisk(err), Text: "reading broke off after this row: " + plainError(err),
			Hint: "the rows after it are missing; look at the disk and at the file's encoding"})
	} else if rows == 0 {
		b.last = append(b.last, model.Complaint{File: t.File, Text: "there is no row below the header", Hint: "export the table again, or take it out of the folder"})
	}
	send(b)
}

// work makes the values of a block.
func (p *pass[T]) work(in *reading, b *block[T]) {
	in.block, in.keptCells, in.keptNumbers, in.own = b.told, b.batch.Cells[:0], b.batch.Known[:0], b.batch.Own[:0]
	in.first = b.first
	if in.numbering != nil {
		in.numberAhead(b.rows, b.spans, b.cells)
	}
	n := 0
	for i := range b.rows {
		row := &b.rows[i]
		row.cells = b.cells[b.spans[i].from:b.spans[i].to]
		in.row = row.number
		for _, pr := range row.problems {
			c := model.Complaint{File: in.table.File, Row: row.number, Text: pr.text, Hint: pr.hint, Fatal: pr.fatal, Damaged: pr.damaged}
			if pr.cell >= 0 && pr.cell < len(in.table.bound.names) {
				c.Column = in.table.bound.names[pr.cell]
			}
			in.block = append(in.block, told{c, noTerm})
		}
		if row.fatal() || row.blank() {
			continue
		}
		if in.numbers = nil; row.plain {
			in.numbers = &in.ahead[i]
		}
		in.take(*row)
		if n == len(b.values) {
			b.values = append(b.values, nil)
		}
		if !p.again || b.values[n] == nil {
			b.values[n] = new(T)
		}
		m := made{row: row.number, before: len(in.block)}
		m.id, m.derived = in.id()
		m.hash = texts.Hash(m.id)
		p.make(in, b.values[n])
		m.after = len(in.block)
		b.made = append(b.made, m)
		n++
	}
	b.values = b.values[:n:cap(b.values)]
	b.told = in.block
	b.batch = in.batch()
}

// batch is what there is beside the rows of a block that were numbered.
func (r *reading) batch() same.Batch {
	b := same.Batch{File: r.table.File, Cells: r.keptCells, Known: r.keptNumbers, Own: r.own}
	if r.numbering != nil {
		b.Reader, b.Values = r.numbering.Reader(), r.numbering.Values
	}
	return b
}

// commit settles the ids of a block, tells its complaints and hands over its values: all at once where they are used again, else one by one, each when
// the complaints about its row have been told.
func (p *pass[T]) commit(t *Table, b *block[T], once *[termCount]bool, named *bool, use func([]*T) bool) bool {
	at := 0
	tell := func(to int) {
		for ; at < to; at++ {
			if o := b.told[at].once; o != noTerm {
				if once[o] {
					continue
				}
				once[o] = true
			}
			p.complain(b.told[at].Complaint)
		}
	}
	p.ids.ask(b.made)
	for i, m := range b.made {
		tell(m.before)
		id, ok := p.settle(t, &m, named)
		if !ok {
			at = m.after
			continue
		}
		tell(m.after)
		p.name(b.values[i], id)
		if p.again {
			b.out = append(b.out, b.values[i])
		} else if !use(b.values[i : i+1]) {
			return false
		}
	}
	tell(len(b.told))
	for _, c := range b.last {
		p.complain(c)
	}
	p.batch = &b.batch
	return len(b.out) == 0 || use(b.out)
}

// settle gives a row its id, or refuses it where its id was given before.
func (p *pass[T]) settle(t *Table, m *made, named *bool) (id string, ok bool) {
	here := place{t, m.row}
	about := func(text, hint string, fatal bool) {
		p.complain(model.Complaint{File: t.File, Row: m.row, Column: t.bound.columns[tID], Text: text, Hint: hint, Fatal: fatal})
	}
	if m.derived {
		if t.bound.has(tID) && !t.graph && *named {
			about("the row gives no id where others do, and got one made from its cells", "give it one, or take the row out if it is a total or a heading", false)
		}
		id, crossed := p.ids.derive(m.id, here)
		p.crossed = p.crossed || crossed
		return id, true
	}
	if first, taken := p.ids.take(m.id, m.hash, here); taken {
		hint := "give every row an id of its own"
		if first.table != t {
			p.crossed = true
			hint = `make the ids of the files differ, or say "aboutUrl": "` + stem(t.File) + `-{id}" for one of them in ` + MetadataFile
		}
		about(fmt.Sprintf("the id %q was given before, at %s; the row was left out", m.id, first), hint, true)
		return "", false
	}
	*named = true
	if shortened(m.id) {
		about(fmt.Sprintf("the id %q is a long number that the spreadsheet shortened", m.id), "make the column text in the spreadsheet and put the ids in again", false)
	}
	return m.id, true
}

// one settles a single value, of a graph, and hands it over.
func (p *pass[T]) one(in *reading, use func([]*T) bool) bool {
	b := &block[T]{values: []*T{new(T)}}
	in.keptCells, in.keptNumbers, in.own, in.keptFrom = nil, nil, nil, 0
	if in.numbering != nil {
		in.keepCells(in.written)
	}
	m := made{row: in.row, before: len(in.block)}
	m.id, m.derived = in.id()
	m.hash = texts.Hash(m.id)
	in.numbers = nil
	p.make(in, b.values[0])
	m.after = len(in.block)
	b.told, b.made, b.batch = in.block, []made{m}, in.batch()
	named := false
	more := p.commit(in.table, b, &in.once, &named, use)
	in.block = in.block[:0]
	return more
}

// goroutines is how many make values of rows at once. One core has enough to do with parting the file and with what becomes of the records; and each of these goroutines has a memory of its
// own, so that two of them on two cores took a fifth longer than one.
func goroutines() int { return max(1, runtime.GOMAXPROCS(0)-1) }
