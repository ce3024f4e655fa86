package weigh

import (
	"runtime"
	"strings"
	"sync/atomic"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/remarks"
)

// facts are what a record says, made ready to be compared, from a packed row or from the record itself: what follows is one way for both.
type facts struct {
	surname int32 // number among the surnames that were counted; missing, or strange
	given   int32 // number among the given names that were counted, plus 1; 0 for none of them
	// Numbers of the words on home and burial that were counted; missing, also for a home that names no county, or strange.
	home, burial int32
	// Numbers of the columns' values, of a service its kind; strange for a record by itself.
	suffix, unit, rank, service int32
	died                        day
	born                        [2]int16 // years
	bornAs                      uint8    // see birthTable
	told                        uint8    // what the remarks tell: see toldName
	middle                      middleCode
	seconds                     *secondLines // of the record's file
	// What is seldom asked for is looked up where it is: in the record, or by the row.
	record *model.Record
	parts  *unitParts // of the record's unit
	others *others    // what the record's remarks tell
	packed *packed
	row    *row
}

// days are the first and the last day of a date as numbers that grow with the days, 0 where it is open.
type days struct{ from, to int32 }

func daysOf(d *date.Date) days { return days{dayNumber(d.From), dayNumber(d.To)} }

func dayNumber(d date.Day) int32 { return int32(d.Year*10000 + d.Month*100 + d.Day) }

// day is what of a date is compared.
type day struct {
	from        int32 // the first day, 0 where it is open
	month       int32 // year and month, 0 where it does not lie in one
	first, last int16 // years
	as          uint8 // see deathTable
}

func newDay(d *date.Date) day {
	x := daysOf(d)
	out := day{from: x.from, first: int16(x.from / 10000), last: int16(max(x.from, x.to) / 10000)}
	if x.from == 0 || x.to == 0 {
		return out
	}
	out.as = deathGiven
	if x.from == x.to {
		out.as |= deathWhole
	}
	if x.from/100 == x.to/100 {
		out.month = x.from / 100
	}
	return out
}

// service is the record's service, or what of it a marker's design can tell apart.
func (f *facts) serviceOf() *model.Service {
	if f.record != nil {
		return &f.record.Service
	}
	return &f.packed.c.services[f.packed.firsts[f.service]]
}

// death is the record's date of death.
func (f *facts) death() *date.Date {
	if f.record != nil {
		return &f.record.Person.Died
	}
	return &f.packed.c.dates[f.row.died]
}

// bornIn are the years in which the man was born as far as his service says, and the number of his war, 0 where it is not known.
func (f *facts) bornIn(w *Weigher) (born bornIn, war uint16) {
	if f.record != nil {
		born = bornInOf(&f.record.Service)
		return born, w.wars().number[born]
	}
	return f.packed.bornIn[f.service], f.packed.wars[f.service]
}

// left is the first day of the last of the dates on which the man was mustered out, enlisted and mustered in, or that on which his war began.
func (f *facts) left() int32 {
	if f.record != nil {
		s := &f.record.Service
		return max(dayNumber(s.MusteredOut.From), dayNumber(s.Enlisted.From), dayNumber(s.MusteredIn.From), dayNumber(began(s)))
	}
	d := f.packed.days
	return max(d[f.row.musteredOut].from, d[f.row.enlisted].from, d[f.row.musteredIn].from, f.packed.began[f.service])
}

// began is the day on which the first of the wars of a service began, zero where that is not known.
func began(s *model.Service) (first date.Day) {
	for _, code := range s.Conflicts {
		c, ok := vocab.Conflict(code)
		if !ok {
			return date.Day{}
		}
		if first.IsZero() || c.From.Compare(first) < 0 {
			first = c.From
		}
	}
	return first
}

// unitParts are those of the record's unit.
func (f *facts) unitParts() *unitParts {
	if f.record != nil {
		return f.parts
	}
	return &f.packed.units[f.row.unit]
}

// middleName is the record's.
func (f *facts) middleName() *middleName {
	if f.record != nil {
		m := newMiddle(f.record.Person.Name.Middle)
		return &m
	}
	return &f.packed.middleNames[f.row.middle]
}

// homeText and burialText are what the record says of home and burial, as written.
func (f *facts) homeText() string {
	if f.record != nil {
		return f.record.Person.Residence
	}
	return f.packed.c.homes[f.row.home]
}

func (f *facts) burialText() string {
	if f.record != nil {
		return burialText(f.record)
	}
	return f.packed.c.burials[f.row.burial]
}

const (
	missing = -1 // the record does not give it
	strange = -2 // it is none of the values that were counted
)

// middleName is a middle name made ready.
type middleName struct {
	given  bool   // there is anything of it
	letter byte   // the first letter of the first word, 0 for none
	second string // the first word, folded, where it is more than a letter
}

func newMiddle(s string) middleName {
	var m middleName
	if i := initials(s); i != "" {
		m.letter = i[0]
	}
	if f := name.Fold(strings.SplitN(s+" ", " ", 2)[0]); len(f) > 1 {
		m.second = f
	}
	m.given = m.letter != 0 || m.second != ""
	return m
}

// fromRecord makes the facts of a record by itself.
func (w *Weigher) fromRecord(f *facts, r *model.Record) {
	n := &r.Person.Name
	middle, unit := newMiddle(n.Middle), w.unitParts(&r.Service.Unit)
	*f = facts{surname: missing, home: missing, burial: missing, middle: middle.code(), seconds: w.secondsOf(r.Source.File), died: newDay(&r.Person.Died), record: r, parts: &unit,
		suffix: strange, unit: strange, rank: strange, service: strange}
	numbers := w.numbers()
	find := func(of map[string]int32, key string) int32 {
		if k, ok := of[key]; ok {
			return k
		}
		return strange
	}
	if n.Surname != "" {
		f.surname = find(numbers.surnames, name.Fold(n.Surname))
	}
	if k, ok := numbers.givens[name.Fold(n.Given)]; ok && n.Given != "" {
		f.given = k + 1
	} else {
		f.middle |= noGiven
	}
	if home := f.homeText(); ofCounty(home) {
		f.home = find(numbers.homes, strings.ToLower(home))
	}
	if burial := f.burialText(); burial != "" {
		f.burial = find(numbers.burials, burial)
	}
	f.born[0], f.born[1] = birthYears(r.Birth())
	if roundAge(r) {
		f.bornAs |= bornRound
	}
	if f.born[0] == noYear {
		f.bornAs |= bornNever
	}
	if t := toldIn(remarks.Beside(r.Person.Name.Other, r.Service.Unit.Other, r.Service.Remarks), &r.Service.Unit); t.text != "" {
		f.others = w.othersOf(&t)
		f.told = f.others.told()
	}
}

// numbers are the places of counted values in their tallies.
type numbers struct{ surnames, givens, homes, burials map[string]int32 }

func numberAll(values []string) map[string]int32 {
	m := make(map[string]int32, len(values))
	for i, v := range values {
		m[v] = int32(i)
	}
	return m
}

// packed is what of the columns' values is made ready once for all rows.
type packed struct {
	c                *Columns
	surnames, givens []int32 // by number of the columns: what facts have
	homes, burials   []int32
	middles          []middleCode
	middleNames      []middleName
	seconds          []*secondLines // by file
	units            []unitParts
	states           []model.State // of the units, by unitParts.stateNumber
	suffixes         []string      // folded
	days             []day
	ages             []uint8                  // by age: bornRound for one in round figures
	kinds            []int32                  // by number of the service: its kind, as far as birth and design can tell; see keyOfService
	firsts           []uint32                 // by kind: the first service of it
	bornIn           []bornIn                 // likewise
	wars             []uint16                 // likewise; see wars
	began            []int32                  // likewise: the day on which its war began, 0 where that is not known
	told             []uint8                  // by number of the service; see toldName
	others           []*others                // likewise, nil where nothing is told
	unitTexts        []atomic.Pointer[string] // by number: the unit as evidence has it, once it was asked for
}

func (w *Weigher) newPacked(c *Columns) *packed {
	numbers := w.numbers()
	p := &packed{c: c, middles: make([]middleCode, len(c.middles)), middleNames: make([]middleName, len(c.middles)), units: make([]unitParts, len(c.units)), unitTexts: make([]atomic.Pointer[string], len(c.units))}
	find := func(values []string, of map[string]int32, key func(string) string) []int32 {
		out := make([]int32, len(values))
		out[0] = missing
		inParts(len(values), func(from, to int) {
			for i := max(1, from); i < to; i++ {
				k, ok := of[key(values[i])]
				if !ok {
					k = strange
				}
				out[i] = k
			}
		})
		return out
	}
	p.surnames, p.givens = find(c.surnames, numbers.surnames, name.Fold), find(c.givens, numbers.givens, name.Fold)
	for i, k := range p.givens {
		p.givens[i] = max(k+1, 0)
	}
	p.homes = find(c.homes, numbers.homes, strings.ToLower)
	for i, home := range c.homes {
		if !ofCounty(home) {
			p.homes[i] = missing
		}
	}
	p.burials = find(c.burials, numbers.burials, func(s string) string { return s })
	for i := range c.dates {
		p.days = append(p.days, newDay(&c.dates[i]))
	}
	for _, s := range c.suffixes {
		p.suffixes = append(p.suffixes, name.Fold(s))
	}
	for i := range c.ages {
		p.ages = append(p.ages, 0)
		if inRoundFigures(&c.ages[i]) {
			p.ages[i] = bornRound
		}
	}
	p.kinds = make([]int32, len(c.services))
	kinds := map[serviceKey]uint32{}
	for i := range c.services {
		s := &c.services[i]
		k := number(kinds, &p.firsts, keyOfService(s), uint32(i))
		p.kinds[i] = int32(k)
		if int(k) == len(p.bornIn) {
			p.bornIn = append(p.bornIn, bornInOf(s))
			p.wars = append(p.wars, w.wars().number[p.bornIn[k]])
			p.began = append(p.began, dayNumber(began(s)))
		}
	}
	for i, m := range c.middles {
		p.middleNames[i] = newMiddle(m)
		p.middles[i] = p.middleNames[i].code()
	}
	for _, file := range c.files {
		p.seconds = append(p.seconds, w.secondsOf(file))
	}
	inParts(len(c.units), func(from, to int) {
		for i := from; i < to; i++ {
			p.units[i] = w.unitParts(&c.units[i])
		}
	})
	p.told, p.others = make([]uint8, len(c.services)), make([]*others, len(c.services))
	inParts(len(c.services), func(from, to int) {
		for i := from; i < to; i++ {
			if text := c.services[i].Remarks; text != "" {
				t := told{text: text, name: name.OtherIn(text), unit: c.units[c.later[i]], changed: c.later[i] > 0}
				p.others[i] = w.othersOf(&t)
				p.told[i] = p.others[i].told()
			}
		}
	})
	p.states = []model.State{""}
	of := map[model.State]uint32{"": 0}
	for i := range p.units {
		u := &p.units[i]
		u.stateNumber = number(of, &p.states, u.state, u.state)
	}
	return p
}

// ask asks memory for the rows all at once: they lie far apart, and one after the other each would be waited for.
func (p *packed) ask(rows []uint32) {
	sum := uint32(0)
	for _, i := range rows {
		sum += p.c.rows[i].unit
	}
	for _, i := range rows {
		w := &p.c.rows[i]
		sum += uint32(p.units[w.unit].figure) + uint32(p.homes[w.home]) + uint32(p.surnames[w.surname])
	}
	runtime.KeepAlive(sum)
}

// bit is 1 for what is so, without a branch.
func bit(is bool) uint8 {
	if is {
		return 1
	}
	return 0
}

// facts makes the facts of row i, without a branch that the processor would have to guess.
func (p *packed) facts(f *facts, i uint32) {
	w := &p.c.rows[i]
	f.packed, f.row = p, w
	f.surname, f.given = p.surnames[w.surname], p.givens[w.given]
	f.middle, f.seconds = p.middles[w.middle]|bit(f.given == 0)*noGiven, p.seconds[w.file]
	f.suffix, f.unit, f.rank, f.service = int32(w.suffix), int32(w.unit), int32(w.rank), p.kinds[w.service]
	f.born = [2]int16{w.bornFrom, w.bornTo}
	f.bornAs = p.ages[w.age]*bit(w.born == 0) | bit(w.bornFrom == noYear)*bornNever
	f.died = p.days[w.died]
	f.home, f.burial = p.homes[w.home], p.burials[w.burial]
	f.told = p.told[w.service]
}
