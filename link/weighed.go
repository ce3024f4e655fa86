package link

import (
	"math"
	"slices"

	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
)

// weighed is a stone with its weighed candidates: records, or rows of the columns. Of a stone whose candidates are rows no more is kept than what learning and sharing out need; the
// stone itself is asked for again when its proposal is told.
type weighed struct {
	subject  *model.Subject // nil where the candidates are rows
	stone    model.StoneID
	register bool // it is a row of a burial register
	standing Standing
	nobody   bool    // a person has said that its man is in none of the records
	prior    float64 // probability that its man is in the rosters, before any of them is looked at
	open     float64 // the same if nobody had decided anything of it
	cands    []model.Candidate
	records  []*model.Record // of the candidates, nil for one that the finder did not bring
	rows     *rows           // nil where the candidates are records
	views    []view          // while the stone is weighed
	company  int             // the rosters' men of the stone's company
	kin      []Kin           // of them, those of its surname
	kinAt    []uint8         // of the candidates: the place of their kin, plus 1; nil for rows
	// regiment is the key of the regiment on the stone, "" for none, and share the part of the rosters' men in it.
	regiment string
	share    float64
}

// rows are candidates that are rows of the columns.
type rows struct {
	columns *weigh.Columns
	another float64          // what it costs to be confirmed for another stone
	absent  []model.RecordID // those of the first candidates, whom a person chose and the index did not bring
	list    []row
}

// row is one candidate: enough to learn from it, to share it out, and to weigh it again when it is told. A survey of millions of stones holds fifty for each.
type row struct {
	bits    float64
	number  uint32 // of the row
	view    int8   // the reading under which it is weighed, noView for one that the index did not bring
	decided verdict
	other   bool   // a person has confirmed it for another stone
	n       uint8  // levels
	file    uint16 // of the columns' files
	levels  [weigh.MostLines]uint8
}

const noView = -1

// verdict is what a person has decided of a candidate.
type verdict uint8

const (
	undecided verdict = iota
	confirmed
	refused
	disputed
)

var verdicts = [...]string{undecided: "", confirmed: string(model.Confirmed), refused: string(model.Refused), disputed: string(ledger.Disputed)}

func (v verdict) String() string { return verdicts[v] }

func verdictOf(decided string) verdict { return verdict(max(0, slices.Index(verdicts[:], decided))) }

// count is the number of candidates.
func (w *weighed) count() int {
	if w.rows != nil {
		return len(w.rows.list)
	}
	return len(w.cands)
}

// id is the record of candidate j.
func (w *weighed) id(j int) model.RecordID {
	switch {
	case w.rows == nil:
		return w.cands[j].Record
	case j < len(w.rows.absent):
		return w.rows.absent[j]
	}
	return w.rows.columns.ID(w.rows.list[j].number)
}

func (w *weighed) bits(j int) float64 {
	if w.rows != nil {
		return w.rows.list[j].bits
	}
	return w.cands[j].Bits
}

func (w *weighed) decided(j int) verdict {
	if w.rows != nil {
		return w.rows.list[j].decided
	}
	return verdictOf(w.cands[j].Decided)
}

// record is the record of candidate j, or what the columns keep of it, in room; nil where it is not known.
func (w *weighed) record(j int, room *model.Record) *model.Record {
	switch {
	case w.rows == nil:
		return w.records[j]
	case w.rows.list[j].view == noView:
		return nil
	}
	w.rows.columns.Record(w.rows.list[j].number, room)
	return room
}

// file is the file that candidate j stands in, "" for one that is not known.
func (w *weighed) file(j int) string {
	switch {
	case w.rows == nil:
		return rosterOf(w.records[j])
	case w.rows.list[j].view == noView:
		return ""
	}
	return w.rows.columns.Files()[w.rows.list[j].file]
}

// levels are the numbers of the levels of candidate j's evidence, in buf where they fit.
func (w *weighed) levels(j int, buf []uint8) []uint8 {
	buf = buf[:0]
	if w.rows != nil {
		r := &w.rows.list[j]
		return append(buf, r.levels[:r.n]...)
	}
	for _, e := range w.cands[j].Evidence {
		buf = append(buf, weigh.LevelNumber(e.Field, e.Level))
	}
	return buf
}

// otherBits are what it costs candidate j that a person confirmed it for another stone.
func (w *weighed) otherBits(j int) float64 {
	if w.rows != nil {
		if w.rows.list[j].other {
			return w.rows.another
		}
		return 0
	}
	sum := 0.0
	for _, e := range w.cands[j].Evidence {
		if e.Field == "decisions" {
			sum += e.Bits
		}
	}
	return sum
}

// undecided is the stone as it would be if nobody had decided anything.
func (w *weighed) undecided() weighed {
	out := *w
	out.prior, out.nobody = w.open, false
	if w.rows != nil {
		r := *w.rows
		r.list = slices.Clone(r.list)
		for j := range r.list {
			r.list[j].decided = undecided
			r.list[j].bits -= w.otherBits(j)
		}
		out.rows = &r
		return out
	}
	out.cands = slices.Clone(w.cands)
	for j := range out.cands {
		out.cands[j].Decided = ""
		out.cands[j].Bits -= w.otherBits(j)
	}
	return out
}

// only leaves of the candidates those that the choices are of, which then go by their new numbers.
func (w *weighed) only(list []choice) {
	if w.rows == nil {
		return
	}
	told := make([]bool, len(w.rows.list))
	for _, c := range list {
		told[c.cand] = true
	}
	r := rows{columns: w.rows.columns, another: w.rows.another}
	at := make([]uint16, len(told))
	for j, is := range told {
		if !is {
			continue
		}
		at[j] = uint16(len(r.list))
		if j < len(w.rows.absent) {
			r.absent = append(r.absent, w.rows.absent[j])
		}
		r.list = append(r.list, w.rows.list[j])
	}
	r.list = slices.Clip(r.list)
	w.rows = &r
	for k := range list {
		list[k].cand = at[list[k].cand]
	}
}

// weighRows is weighWith for rows of the columns, as if nobody had decided anything: see decide.
func (l *Linker) weighRows(w *weigh.Weigher, s *model.Subject, found []uint32, keep *keeper) weighed {
	if keep != nil {
		keep.begin()
	}
	w.Ask(found)
	out := l.begin(w, s)
	r := &rows{columns: w.Columns(), list: make([]row, 0, len(found))}
	var lines weigh.Lines
	for _, number := range found {
		c := row{number: number, view: noView, bits: math.Inf(-1), file: r.columns.FileNumber(number)}
		for k := range out.views {
			was := c
			c.view = int8(k)
			l.lines(out.views, &c, &lines)
			if lines.Bits <= c.bits {
				c = was
				continue
			}
			c.bits, c.n = lines.Bits, uint8(lines.Levels(&c.levels))
			if keep != nil {
				keep.weighed = lines
			}
		}
		if keep != nil {
			keep.add(&c)
		}
		r.list = append(r.list, c)
		if c.view != noView {
			out.kin, _ = addKin(out.kin, out.views[c.view].stone, c.view, c.levels[:c.n])
		}
	}
	out.rows, out.views, out.subject = r, nil, nil
	return out
}

// decide lays what people have decided over weighed rows. Those that a person chose for a stone and that were not found for it come first, without evidence.
func (l *Linker) decide(all []weighed) {
	another := l.another()
	inParts(len(all), func(from, to int) {
		for i := from; i < to; i++ {
			w := &all[i]
			w.rows.another = another
			if l.Settled.Silent() {
				continue
			}
			w.nobody = l.Settled.NoneOf(w.stone)
			for j := range w.rows.list {
				c := &w.rows.list[j]
				var decided string
				decided, c.other = l.said(w.stone, w.rows.columns.ID(c.number))
				c.decided = verdictOf(decided)
				if c.other && c.view != noView {
					c.bits += another
					c.levels[c.n] = weigh.LevelNumber("decisions", "another stone's man")
					c.n++
				}
			}
			for _, id := range l.Settled.Confirmed(w.stone) {
				if !slices.ContainsFunc(w.rows.list, func(c row) bool { return w.rows.columns.ID(c.number) == id }) {
					w.rows.absent = append(w.rows.absent, id)
				}
			}
			if n := len(w.rows.absent); n > 0 {
				list := make([]row, n, n+len(w.rows.list))
				for k := range list {
					list[k] = row{view: noView, decided: confirmed}
				}
				w.rows.list = append(list, w.rows.list...)
			}
		}
	})
}

// lines weighs a row under its reading, with what its being another reading costs and what others have decided.
func (l *Linker) lines(views []view, r *row, lines *weigh.Lines) {
	v := &views[r.view]
	v.stone.Row(r.number, lines)
	if v.cost < 0 {
		lines.Add(weigh.LevelNumber("reading", v.level()), v.cost)
	}
	if r.other {
		lines.Add(weigh.LevelNumber("decisions", "another stone's man"), l.another())
	}
}

// said is what a person has decided of stone and record, and whether the record is confirmed for another stone, of the same list of graves, and not for this one.
func (l *Linker) said(stone model.StoneID, record model.RecordID) (decided string, other bool) {
	switch as := l.Settled.Of(stone, record).As; as {
	case ledger.Confirmed, ledger.Refused, ledger.Disputed:
		decided = string(as)
	}
	return decided, decided != string(ledger.Confirmed) && l.elsewhere(stone, record) != ""
}

// elsewhere is the first stone for which a record is confirmed, of those that stand in the same list of graves as the stone; "" for none. A row of a register and a stone may
// be one grave, and that the one is confirmed speaks in no way against the other.
func (l *Linker) elsewhere(stone model.StoneID, record model.RecordID) model.StoneID {
	for _, other := range l.Settled.ConfirmedStones(record) {
		if other != stone && l.Registers[other] == l.Registers[stone] {
			return other
		}
	}
	return ""
}

// told is the Linker that knows which of the subjects are rows of a register, and how many are not.
func (l *Linker) told(of subjects) *Linker {
	own := *l
	if own.Registers == nil {
		own.Registers = map[model.StoneID]bool{}
		for i := range of.n {
			if s := of.at(i).Stone; s.Register != nil {
				own.Registers[s.ID] = true
			}
		}
	}
	if own.Stones == 0 {
		own.Stones = of.n - len(own.Registers)
	}
	return &own
}

// records numbers the records of weighed stones, so that one has the same number wherever it is a candidate.
type records struct {
	of map[model.RecordID]int32 // records, and candidates that no row was found for
	n  int                      // the numbers are below it
}

// number starts numbering the candidates of the stones: rows keep their numbers, but for what a person chose and the index did not bring for the stone: it may be another's row.
func number(all []weighed) *records {
	x := &records{of: map[model.RecordID]int32{}}
	absent := false
	for i := range all {
		if r := all[i].rows; r != nil {
			x.n = max(x.n, r.columns.Len())
			for _, id := range r.absent {
				x.of[id], absent = -1, true
			}
		}
	}
	if absent {
		for i := range all {
			for j := range all[i].count() {
				if id := all[i].id(j); j >= len(all[i].rows.absent) && x.of[id] < 0 {
					x.of[id] = int32(all[i].rows.list[j].number)
				}
			}
		}
	}
	return x
}

// at is the number of candidate j's record.
func (x *records) at(w *weighed, j int) int32 {
	if w.rows != nil && j >= len(w.rows.absent) {
		return int32(w.rows.list[j].number)
	}
	id := w.id(j)
	n, ok := x.of[id]
	if !ok || n < 0 {
		n = int32(x.n)
		x.of[id] = n
		x.n++
	}
	return n
}
