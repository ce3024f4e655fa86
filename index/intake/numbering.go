package intake

import (
	"math/bits"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/room"
	"musterstone/model/same"
	"musterstone/vocab"
	"musterstone/vocab/name"
)

// A numbering makes rows into numbers of values. What the cells of a row come to is worked out by the functions that make a claim of them, and remembered by the texts of those cells: of most rows
// nothing is worked out again. What was complained of is never remembered, so that it is told of every row. It is for one goroutine.
type numbering struct {
	*same.Collector
	texts [termCount]*lookup

	surnames, givens []uint32 // by the number of the text: that of a value that is the same beside any other half, and 2; or 1 where there is none
	places, ages     []uint32 // likewise, that of the value and 1
	halves           []string // of names in one cell
	families, firsts *lookup  // both number halves
	halved           []uint32 // by the number of the half: the number of its value and 2, or 1 where it must be read whole
	near             tuples   // war and side
	years            []int32  // by their number: the year near which dates lie
	datesNear        map[int]*[]dateMemo
	lastNear         int
	lastDates        *[]dateMemo
	rank             tuples // ranks at entry and at the end
	ranks            []rankMemo
	whose, said      tuples // the cells of a unit that are of few texts, and those that hardly a roster has
	unit             tuples // all cells of a unit
	units            []unitMemo
	classes          []serviceClass
	wars             []*dated // each as one date of those that lie in the same wars; the first stands for those that lie in none because a day is not known
	service          tuples   // what a service hangs on
	services         []uint32 // by their number: that of the service, and 1
	deaths           [256]deathMemo
}

type (
	dateMemo struct{ date, wars uint32 } // the number of the date, and 1; where it is among wars
	rankMemo struct {
		rank, out     model.Rank
		brevet, known bool
	}
	unitMemo struct{ unit, class uint32 } // the number of the unit, and 1; its class
	// A serviceClass is what a unit's cells say of the service as a whole.
	serviceClass struct {
		branch model.Branch
		side   model.Side
		state  bool
	}
	deathMemo struct {
		remarks string
		near    int
		date    uint32
	}
)

// unitTerms are what a unit and all that follows from it are read from.
var unitTerms = [...]term{tUnitState, tArm, tBranch, tSide, tConflict, tUnit, tRegiment, tCompany}

// numberedTerms are those whose texts are numbered.
var numberedTerms = append([]term{tSurname, tGiven, tRank, tRankOut, tBorn, tDied, tAge, tEnlisted, tMusteredIn, tMusteredOut, tResidence, tBuried}, unitTerms[:]...)

func newNumbering() *numbering {
	q := &numbering{Collector: same.NewCollector(), halves: make([]string, 1), datesNear: map[int]*[]dateMemo{}, wars: []*dated{notDated}}
	q.families, q.firsts = newLookup(&q.halves), newLookup(&q.halves)
	for _, t := range numberedTerms {
		q.texts[t] = newLookup(&q.Cells)
	}
	for _, t := range []term{tDied, tEnlisted, tMusteredIn, tMusteredOut} {
		q.texts[t] = q.texts[tBorn]
	}
	q.texts[tBuried] = q.texts[tResidence]
	return q
}

// mostNumbered bounds what is remembered of each kind; where there is more, all is forgotten. It is less in tests alone.
var mostNumbered = 1 << 18

func (q *numbering) full() bool {
	return max(len(q.Cells), len(q.halves), int(q.whose.n), int(q.said.n), len(q.units), len(q.services), len(q.Names), len(q.Surnames), q.classesOf()) >= mostNumbered
}

// renew begins a numbering where there is none, or it is full: a number of a text has no more than tupleBits in a tuple, and memory has its bound.
func (r *reading) renew() {
	if r.numbering == nil || r.numbering.full() {
		r.numbering, r.shapes = newNumbering(), nil
	}
}

func (q *numbering) classesOf() int { return len(q.classes) + len(q.wars) + len(q.datesNear)<<8 }

// at is the element of a list by its number, for which room is made.
func at[T any](list *[]T, n uint32) *T {
	for uint32(len(*list)) <= n {
		*list = append(room.More(*list), *new(T))
	}
	return &(*list)[n]
}

// entered is the number of a value that is new in a list.
func entered[T any](list *[]T, v T) uint32 {
	*list = append(room.More(*list), v)
	return uint32(len(*list) - 1)
}

// rowNumbers are the numbers of a row's texts, and of those that are looked at together.
type rowNumbers struct {
	texts         [termCount - tSurname + 1]uint32 // of terms from the surname on, and 0
	family, first uint32                           // of the halves of a name in one cell, 0 where it has none
	rank          uint32                           // of ranks at entry and at the end
	whose, unit   uint32                           // of the cells of a unit that are of few texts, of all its cells
}

func (n *rowNumbers) of(t term) uint32 { return n.texts[t-tSurname] }

// numberAhead numbers the texts of a block's plain rows, one column after the other: what is looked up for a column lies nearer together than what is for a row, and what lies far apart is waited for once for many rows.
func (r *reading) numberAhead(rows []row, spans []span, cells []string) {
	q := r.numbering
	r.plain = r.plain[:0]
	for k := range rows {
		if rows[k].plain {
			r.plain = append(r.plain, k)
		}
	}
	if len(r.plain) == 0 {
		return
	}
	if len(r.ahead) < len(rows) {
		r.ahead = make([]rowNumbers, max(len(rows), blockRows))
	}
	name, suffix := -1, -1
	for c := range r.table.bound.rules {
		t := r.table.bound.rules[c].term
		switch {
		case t == tName:
			name = c
		case t == tSuffix:
			suffix = c
		case t > tSurname-1 && q.texts[t] != nil:
			of := q.texts[t]
			for _, k := range r.plain {
				r.ahead[k].texts[t-tSurname] = of.number(cells[spans[k].from+c])
			}
		}
	}
	if name >= 0 {
		for _, k := range r.plain {
			n := &r.ahead[k]
			n.family, n.first = 0, 0
			if n.of(tSurname)|n.of(tGiven) == 0 && (suffix < 0 || cells[spans[k].from+suffix] == "") {
				q.numberHalves(n, cells[spans[k].from+name])
			}
		}
	}
	for _, k := range r.plain {
		n := &r.ahead[k]
		n.rank = q.numberRanks(n)
		n.whose, n.unit = q.numberWhose(n)
	}
	for _, k := range r.plain {
		n := &r.ahead[k]
		n.unit = q.unit.number(three(n.whose, n.of(tRegiment), n.of(tCompany)), n.unit)
	}
}

// numberAlone numbers the texts of a row that is not plain.
func (r *reading) numberAlone() *rowNumbers {
	q, n := r.numbering, &r.alone
	*n = rowNumbers{}
	for _, t := range r.numbered {
		n.texts[t-tSurname] = q.texts[t].number(r.terms[t])
	}
	if r.terms[tSurname] == "" && r.terms[tGiven] == "" && r.terms[tSuffix] == "" {
		q.numberHalves(n, r.terms[tName])
	}
	n.rank = q.numberRanks(n)
	whose, said := q.numberWhose(n)
	n.unit = q.unit.number(three(whose, n.of(tRegiment), n.of(tCompany)), said)
	return n
}

// numberHalves numbers what stands before and after the comma of a name in one cell.
func (q *numbering) numberHalves(n *rowNumbers, name string) {
	if family, first, ok := strings.Cut(name, ", "); ok {
		n.family, n.first = q.families.number(family), q.firsts.number(first)
	}
}

func (q *numbering) numberRanks(n *rowNumbers) uint32 {
	return q.rank.number(three(n.of(tRank), n.of(tRankOut), 0), 0)
}

func (q *numbering) numberWhose(n *rowNumbers) (whose, said uint32) {
	return q.whose.number(three(n.of(tUnitState), n.of(tArm), n.of(tBranch)), 0), q.said.number(three(n.of(tUnit), n.of(tSide), n.of(tConflict)), 0)
}

// number makes a row of what was taken: what claim makes a record of, in the same order. Ahead are its numbers where they were found before.
func (r *reading) number(out *same.Row) {
	q := r.numbering
	*out = same.Row{Number: r.row}
	if r.numbers == nil {
		r.numbers = r.numberAlone()
	}
	if len(r.keptNumbers) < len(r.keptCells) {
		r.keepNumbers()
	}
	near := r.numberNear()
	written, whole := r.numberName(out)
	var wars [4]uint32 // of enlistment, muster-in and -out, death
	out.Died, wars[3] = r.numberDate(tDied, near)
	out.Born, _ = r.numberDate(tBorn, near)
	out.Age = r.numberAge()
	out.Residence, out.Buried = r.numberPlace(tResidence), r.numberPlace(tBuried)
	s, class, rank := r.numberUnit(out)
	out.Enlisted, wars[0] = r.numberDate(tEnlisted, near)
	out.MusteredIn, wars[1] = r.numberDate(tMusteredIn, near)
	out.MusteredOut, wars[2] = r.numberDate(tMusteredOut, near)
	if died := r.numbering.wars[wars[3]]; len(died.within) > 0 {
		wars[3] = r.numbering.warsOf(died, vocab.DeathTells(died.within, &r.numbering.Dates[out.Born]))
	}
	out.Service = r.numberService(out, s, class, rank, wars)
	if remarks := r.terms[tRemarks]; remarks != "" && q.Dates[out.Died].IsZero() {
		out.Died = r.numberDeath(remarks, near)
	}
	if n := &q.Names[out.Name]; out.Surname == 0 && n.Given == "" && n.Middle == "" && n.Suffix == "" {
		r.tellNoName()
	}
	r.shape(out, written, whole)
}

// keepNumbers keeps the numbers of the row's cells, of those whose text is a term's.
func (r *reading) keepNumbers() {
	if r.wide != nil || r.odd {
		r.keptNumbers = append(r.keptNumbers, make([]uint32, len(r.keptCells)-len(r.keptNumbers))...)
		return
	}
	for m := r.mask; m != 0; m &= m - 1 {
		i := bits.TrailingZeros64(m)
		n := uint32(0)
		if t := r.columnTerms[i]; t != noTerm && len(r.cells[i]) == len(r.terms[t]) {
			n = r.numbers.of(t)
		}
		r.keptNumbers = append(r.keptNumbers, n)
	}
}

// columnTerms gives for each column the numbered term whose value is its cell and nothing else, or noTerm.
func columnTerms(t *Table) []term {
	list := make([]term, len(t.bound.names))
	for i, f := range t.bound.fills {
		alone := f.column >= 0 && slices.Contains(numberedTerms, f.term)
		for k, o := range t.bound.fills {
			alone = alone && (k == i || o.term != f.term)
		}
		if alone {
			list[f.column] = f.term
		}
	}
	return list
}

// numberNear is nearYear.
func (r *reading) numberNear() int {
	q := r.numbering
	war, side := r.numbers.of(tConflict), r.numbers.of(tSide)
	if war|side == 0 {
		return 0
	}
	const known = 1 << 20
	year := at(&q.years, q.near.number(three(war, side, 0), 0))
	if *year == 0 {
		*year = int32(r.nearYear()) + known
	}
	return int(*year) - known
}

// numberName numbers surname and name. Written is the writing of a name that was looked at as a whole, which may be other than that of its cells.
func (r *reading) numberName(out *same.Row) (written string, whole bool) {
	q := r.numbering
	if s, g := r.numbers.of(tSurname), r.numbers.of(tGiven); s != 0 && g != 0 && r.terms[tSuffix] == "" {
		surname, given := at(&q.surnames, s), at(&q.givens, g)
		if *surname == 0 {
			v := surnameAlone(q.Cells[s])
			*surname = q.surnameOf(v.name, v.plain)
		}
		if *given == 0 {
			v := givenAlone(q.Cells[g])
			*given = q.nameOf(v.name, v.plain)
		}
		if *surname > 1 && *given > 1 {
			out.Surname, out.Name = *surname-2, *given-2
			return "", false
		}
	}
	if f, g := r.numbers.family, r.numbers.first; f|g != 0 {
		family := at(&q.halved, f)
		if *family == 0 {
			*family = q.surnameOf(name.Family(q.halves[f]))
		}
		given := at(&q.halved, g)
		if *given == 0 {
			*given = q.nameOf(name.Given(q.halves[g]))
		}
		if family = &q.halved[f]; *family > 1 && *given > 1 {
			out.Surname, out.Name = *family-2, *given-2
			return r.terms[tName], true
		}
	}
	n, _ := r.name()
	out.Surname, out.Name = q.Surname(n.Surname), q.Name(&n)
	return n.Written, true
}

// surnameOf and nameOf number half of a name, as halves are remembered. What is remembered by its cell comes but once, and need not be held against other values.
func (q *numbering) surnameOf(surname string, ok bool) uint32 {
	if !ok {
		return 1
	}
	return entered(&q.Surnames, surname) + 2
}

func (q *numbering) nameOf(n model.Name, ok bool) uint32 {
	if !ok {
		return 1
	}
	n.Surname, n.Written = "", ""
	return entered(&q.Names, n) + 2
}

// numberDate numbers a date, and gives the place among wars of those in which it lies.
func (r *reading) numberDate(t term, near int) (number, wars uint32) {
	k := r.numbers.of(t)
	if k == 0 {
		return 0, 0
	}
	q := r.numbering
	list := q.lastDates
	if list == nil || q.lastNear != near {
		if list = q.datesNear[near]; list == nil {
			list = new([]dateMemo)
			q.datesNear[near] = list
		}
		q.lastNear, q.lastDates = near, list
	}
	if m := at(list, k); m.date != 0 {
		return m.date - 1, m.wars
	}
	told := len(r.block)
	r.byLife = false
	d := r.date(t, near)
	number, wars = q.Date(&d.date), q.warsOf(d, d.conflictsHolding())
	if len(r.block) == told && !r.byLife {
		*at(list, k) = dateMemo{number + 1, wars}
	}
	return number, wars
}

// warsOf numbers the wars that a date tells.
func (q *numbering) warsOf(d *dated, within []model.ConflictCode) uint32 {
	if d.date.From.IsZero() || d.date.To.IsZero() {
		return 0
	}
	for i, w := range q.wars {
		if i > 0 && slices.Equal(w.within, within) {
			return uint32(i)
		}
	}
	q.wars = append(q.wars, &dated{date: d.date, within: within, looked: true})
	return uint32(len(q.wars) - 1)
}

func (r *reading) numberAge() uint32 {
	k := r.numbers.of(tAge)
	if k == 0 {
		return 0
	}
	m := at(&r.numbering.ages, k)
	if *m != 0 {
		return *m - 1
	}
	told := len(r.block)
	a := r.age()
	n := r.numbering.Age(&a)
	if len(r.block) == told {
		*m = n + 1
	}
	return n
}

func (r *reading) numberPlace(t term) uint32 {
	k := r.numbers.of(t)
	if k == 0 {
		return 0
	}
	m := at(&r.numbering.places, k)
	if *m == 0 {
		*m = r.numbering.Place(r.terms[t]) + 1
	}
	return *m - 1
}

// numberUnit numbers the unit and gives the class and the ranks of the service; or the service itself, where something was complained of.
func (r *reading) numberUnit(out *same.Row) (s *model.Service, class, rank uint32) {
	q := r.numbering
	rank = r.numbers.rank
	of, ranks := at(&q.units, r.numbers.unit), at(&q.ranks, rank)
	if of.unit != 0 && ranks.known {
		out.Unit = of.unit - 1
		return nil, of.class, rank
	}
	told := len(r.block)
	s = new(model.Service)
	r.service(s)
	if len(r.block) > told {
		out.Unit = q.Unit(&s.Unit)
		return s, 0, 0
	}
	out.Unit = entered(&q.Units, s.Unit)
	// Without a complaint neither the ranks' cells told anything of the unit, nor the other way round.
	c := serviceClass{s.Branch, s.Side, s.Unit.State != ""}
	is := slices.Index(q.classes, c)
	if is < 0 {
		is = len(q.classes)
		q.classes = append(q.classes, c)
	}
	*of = unitMemo{out.Unit + 1, uint32(is)}
	*ranks = rankMemo{s.Rank, s.RankOut, s.Brevet, true}
	return nil, of.class, rank
}

// numberService numbers the service: s, or that of a class and of ranks, with the wars that the row names or that the dates tell (of the death, with the birth).
func (r *reading) numberService(out *same.Row, s *model.Service, class, rank uint32, wars [4]uint32) uint32 {
	q := r.numbering
	var memo *uint32
	if s == nil && max(wars[0], wars[1], wars[2], wars[3]) < 1<<8 {
		k := q.service.number(three(rank, class+1, r.numbers.of(tConflict)), wars[0]|wars[1]<<8|wars[2]<<16|wars[3]<<24)
		if memo = at(&q.services, k); *memo != 0 {
			return *memo - 1
		}
	}
	if s == nil {
		c, ranks := q.classes[class], q.ranks[rank]
		s = &model.Service{Rank: ranks.rank, RankOut: ranks.out, Brevet: ranks.brevet, Branch: c.branch, Side: c.side, Unit: q.Units[out.Unit]}
	}
	told := len(r.block)
	enlisted, in, mustered, died := q.wars[wars[0]], q.wars[wars[1]], q.wars[wars[2]], q.wars[wars[3]]
	s.Enlisted, s.MusteredIn, s.MusteredOut = enlisted.date, in.date, mustered.date
	s.Conflicts = r.conflicts(s, &q.Dates[out.Born], enlisted, in, mustered, died)
	n := q.Service(s)
	if memo != nil && len(r.block) == told {
		*memo = n + 1
	}
	return n
}

// numberDeath numbers the date of a death that the remarks tell.
func (r *reading) numberDeath(remarks string, near int) uint32 {
	q := r.numbering
	m := &q.deaths[(len(remarks)*31+int(remarks[0])*7+int(remarks[len(remarks)-1]))%len(q.deaths)]
	if m.remarks != remarks || m.near != near {
		d := r.memory.deathIn(remarks, near)
		*m = deathMemo{strings.Clone(remarks), near, q.Date(&d)}
	}
	return m.date
}

// textColumns says which column each of the texts of a record is a cell of: noColumn where the table does not have it, madeText where it is put together or given by the metadata.
type textColumns [len(textTerms)]int

// textTerms are the terms whose texts a record keeps, each with what it is there; the name stands in up to three cells.
var textTerms = [...]struct {
	term term
	text int
}{{tSurname, same.NameWritten}, {tGiven, same.NameWritten}, {tName, same.NameWritten}, {tBirthplace, same.Birthplace}, {tResidence, same.Residence},
	{tDeathPlace, same.DeathPlace}, {tBuried, same.Buried}, {tRemarks, same.Remarks}}

const (
	noColumn = -1
	madeText = -2
)

func newTextColumns(t *Table) textColumns {
	var columns textColumns
	for i, x := range textTerms {
		columns[i] = noColumn
		for _, f := range t.bound.fills {
			switch {
			case f.term != x.term:
			case columns[i] == noColumn && f.column >= 0 && f.column < maskBits:
				columns[i] = f.column
			default:
				columns[i] = madeText
			}
		}
		if t.graph {
			columns[i] = madeText
		}
	}
	return columns
}

// maskBits is how many columns there may be for a row's filled ones to be bits of a number.
const maskBits = 62

// shape settles how the row's texts are told: by its shape, or by texts of its own.
func (r *reading) shape(out *same.Row, written string, whole bool) {
	out.From, out.To = r.keptFrom, len(r.keptCells)
	own := r.odd || r.wide != nil || whole && !r.writtenPlainly(written)
	for i, x := range textTerms {
		own = own || r.textColumns[i] == madeText && r.terms[x.term] != ""
	}
	if own {
		out.Own = r.ownTexts(written, whole)
	}
	if r.wide != nil {
		out.Shape = r.numbering.Shape(&same.Shape{Columns: r.wide})
		return
	}
	key := r.mask
	if own {
		key |= 1 << maskBits
	}
	if r.lastKey != key || r.shapes == nil {
		n, known := r.shapes[key]
		if !known {
			n = r.newShape(own)
		}
		r.lastKey, r.lastShape = key, n
	}
	out.Shape = r.lastShape
}

func (r *reading) newShape(own bool) uint32 {
	var s same.Shape
	cell := [maskBits]uint8{} // the number of a column's cell
	for i, name := range r.table.bound.names {
		if r.mask&(1<<i) != 0 {
			s.Columns = append(s.Columns, name)
			cell[i] = uint8(len(s.Columns))
		}
	}
	for i, x := range textTerms {
		if own || r.textColumns[i] < 0 || cell[r.textColumns[i]] == 0 {
			continue
		}
		n := cell[r.textColumns[i]]
		switch {
		case x.term == tGiven && s.Texts[same.NameWritten] != 0:
			s.Given = n
		case x.term == tName && s.Texts[same.NameWritten] != 0:
		default:
			s.Texts[x.text] = n
		}
	}
	n := r.numbering.Shape(&s)
	if r.shapes == nil {
		r.shapes = map[uint64]uint32{}
	}
	key := r.mask
	if own {
		key |= 1 << maskBits
	}
	r.shapes[key] = n
	return n
}

// writtenPlainly reports whether a name's writing is that of its cells.
func (r *reading) writtenPlainly(written string) bool {
	surname, given := r.terms[tSurname], r.terms[tGiven]
	switch {
	case r.terms[tSuffix] != "":
		return false
	case surname != "" && given != "":
		rest, ok := strings.CutPrefix(written, surname)
		return ok && len(rest) == len(", ")+len(given) && strings.HasPrefix(rest, ", ") && strings.HasSuffix(rest, given)
	case surname != "" || given != "":
		return written == surname+given
	}
	return written == r.terms[tName]
}

// ownTexts keeps the texts of a row for itself, and gives their number.
func (r *reading) ownTexts(written string, whole bool) int {
	var texts [same.TextCount]string
	for _, x := range textTerms[3:] {
		texts[x.text] = r.terms[x.term]
	}
	if !whole {
		written = r.terms[tSurname] + ", " + r.terms[tGiven]
	}
	texts[same.NameWritten], texts[same.Subject] = written, r.subject
	r.own = append(r.own, texts)
	return len(r.own)
}
