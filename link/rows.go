package link

import (
	"math"
	"slices"

	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
)

// packed is what a weighed stone keeps of candidates that are rows of the columns: enough to weigh them again and to spell the evidence of those that a proposal
// keeps, which is all that is ever told.
type packed struct {
	columns *weigh.Columns
	views   []view
	pairs   []packedPair // of the candidates
	fit     *Fit         // what was learned, once it has been applied
	another float64      // what it costs to be confirmed for another stone
}

// packedPair is one candidate.
type packedPair struct {
	row    uint32
	view   int8  // the reading under which it is weighed, noView for one that the index did not bring
	other  bool  // a person has confirmed it for another stone
	n      uint8 // levels
	levels [14]uint8
}

const noView = -1

// weighRows is weighWith for rows of the columns.
func (l *Linker) weighRows(w *weigh.Weigher, s *model.Subject, rows []uint32) weighed {
	columns := w.Columns()
	out := l.begin(w, s, func(id model.RecordID) bool {
		return slices.ContainsFunc(rows, func(row uint32) bool { return columns.ID(row) == id })
	})
	p := &packed{another: l.another(), columns: columns, views: out.views, pairs: make([]packedPair, len(out.cands), len(out.cands)+len(rows))}
	for i := range p.pairs {
		p.pairs[i].view = noView
	}
	out.packed, out.views, out.records = p, nil, nil
	out.cands = slices.Grow(out.cands, len(rows))
	var lines weigh.Lines
	for _, row := range rows {
		pair := packedPair{row: row, view: noView}
		c := model.Candidate{Record: columns.ID(row), Bits: math.Inf(-1)}
		c.Decided, pair.other = l.said(s.Stone.ID, c.Record)
		for k := range p.views {
			was := pair
			pair.view = int8(k)
			p.lines(&pair, &lines)
			if lines.Bits <= c.Bits {
				pair = was
				continue
			}
			c.Bits, pair.n = lines.Bits, uint8(lines.Len())
			for i := range lines.Len() {
				pair.levels[i] = lines.Level(i)
			}
		}
		out.cands = append(out.cands, c)
		p.pairs = append(p.pairs, pair)
	}
	return out
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
func (l *Linker) told(subjects []*model.Subject) *Linker {
	own := *l
	if own.Registers == nil {
		own.Registers = map[model.StoneID]bool{}
		for _, s := range subjects {
			if s.Stone.Register != nil {
				own.Registers[s.Stone.ID] = true
			}
		}
	}
	if own.Stones == 0 {
		own.Stones = len(subjects) - len(own.Registers)
	}
	return &own
}

// lines weighs a pair under its reading, with what its being another reading costs and what others have decided.
func (p *packed) lines(pair *packedPair, lines *weigh.Lines) {
	v := &p.views[pair.view]
	v.stone.Row(pair.row, lines)
	if v.cost < 0 {
		lines.Add(weigh.LevelNumber("reading", "another reading"), v.cost)
	}
	if pair.other {
		lines.Add(weigh.LevelNumber("decisions", "another stone's man"), p.another)
	}
}

// learned gives the lines' bits with what was learned, and their sum.
func (p *packed) learned(w *weighed, pair *packedPair, lines *weigh.Lines, each func(i int, bits float64)) float64 {
	p.lines(pair, lines)
	ladder, roster := fitLadder(), p.fit.roster(p.columns.File(pair.row))
	sum := 0.0
	for i := range lines.Len() {
		level, bits := lines.Level(i), lines.LevelBits(i)
		if n := ladder.at(level, w.unlisted); n >= 0 && roster >= 0 {
			bits += p.fit.Gain[roster][n]
		}
		if ladder.inRegiment[level] {
			bits += p.fit.Shifts[w.regiment]
		}
		each(i, bits)
		sum += bits
	}
	return sum
}

// spell gives the packed candidates that the proposal keeps their evidence and their namesakes; r is room for a record.
func (l *Linker) spell(w *weighed, proposal *model.Proposal, r *model.Record) {
	var lines weigh.Lines
	p := w.packed
	var told [len(packedPair{}.levels)]float64
	for k := range proposal.Candidates {
		c := &proposal.Candidates[k]
		pair := w.pair(c.Record)
		if pair == nil || pair.view == noView {
			continue
		}
		p.columns.Record(pair.row, r)
		p.learned(w, pair, &lines, func(i int, bits float64) { told[i] = bits })
		c.Evidence = p.views[pair.view].stone.SpellRow(&lines, pair.row, r)
		for n := range c.Evidence {
			e := &c.Evidence[n]
			e.Bits = told[n]
			switch e.Field {
			case "reading":
				e.Why = anotherReading
			case "decisions":
				e.Why = confirmedFor(l.Settled.ConfirmedStones(c.Record)[0])
			}
		}
		c.Namesakes = l.Counts.NamesakesAt(p.columns, pair.row, r)
	}
}

// keep notes the rows of the candidates that the proposal keeps.
func (w *weighed) keep(rows map[model.RecordID]uint32, p *model.Proposal) {
	for k := range p.Candidates {
		if pair := w.pair(p.Candidates[k].Record); pair != nil && pair.view != noView {
			rows[p.Candidates[k].Record] = pair.row
		}
	}
}

// anotherReading says why a candidate is weighed under a reading that is not the likeliest.
const anotherReading = "the stone is likelier to be read otherwise"

func confirmedFor(stone model.StoneID) string { return "confirmed for stone " + string(stone) }

// pair is the packed candidate of that id, nil where there is none.
func (w *weighed) pair(id model.RecordID) *packedPair {
	for j := range w.cands {
		if w.cands[j].Record == id {
			return &w.packed.pairs[j]
		}
	}
	return nil
}

// record is the record of the candidate of that id, or what the columns keep of it; nil where it is not known.
func (w *weighed) record(id model.RecordID) *model.Record {
	for j := range w.cands {
		if w.cands[j].Record != id {
			continue
		}
		if w.packed == nil {
			return w.records[j]
		}
		if w.packed.pairs[j].view == noView {
			return nil
		}
		r := new(model.Record)
		w.packed.columns.Record(w.packed.pairs[j].row, r)
		return r
	}
	return nil
}

// file is the file that candidate j stands in, "" for one that is not known.
func (w *weighed) file(j int) string {
	switch {
	case w.packed == nil:
		return rosterOf(w.records[j])
	case w.packed.pairs[j].view == noView:
		return ""
	}
	return w.packed.columns.File(w.packed.pairs[j].row)
}

// levels are the numbers of the levels of candidate j's evidence, in buf where they fit.
func (w *weighed) levels(j int, buf []uint8) []uint8 {
	buf = buf[:0]
	if w.packed != nil {
		p := &w.packed.pairs[j]
		return append(buf, p.levels[:p.n]...)
	}
	for _, e := range w.cands[j].Evidence {
		buf = append(buf, weigh.LevelNumber(e.Field, e.Level))
	}
	return buf
}

// otherBits are what it costs candidate j that a person confirmed it for another stone.
func (w *weighed) otherBits(j int) float64 {
	if w.packed != nil {
		if w.packed.pairs[j].other {
			return w.packed.another
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
