package weigh

import (
	"runtime"
	"strings"
	"sync/atomic"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// facts are what a record says, made ready to be compared, from a packed row or from the record itself: what follows is one way for both.
type facts struct {
	surname      int32 // number among the surnames that were counted; missing, or strange
	given        int32 // number among the given names that were counted, plus 1; 0 for none of them
	middle       *middleName
	seconds      *secondLines // of the record's file
	unit         *unitParts
	born         [2]int16
	round        uint8 // 1 where the birth follows from an age in round figures
	died         days
	home, burial int32  // numbers of the words on home and burial that were counted; missing, also for a home that names no county, or strange
	homeText     string // as the record has it, where it is strange
	burialText   string
	// Numbers of the columns' values; strange for a record by itself.
	suffixNumber, unitNumber, rankNumber, serviceNumber int32
	// What is seldom asked for is looked up where it is: in the record, or by the row.
	record *model.Record
	packed *packed
	row    *row
}

// days are the first and the last day of a date as numbers that grow with the days, 0 where it is open.
type days struct{ from, to int32 }

func daysOf(d *date.Date) days { return days{dayNumber(d.From), dayNumber(d.To)} }

func dayNumber(d date.Day) int32 { return int32(d.Year*10000 + d.Month*100 + d.Day) }

// service is the record's service, or what of it a marker's design can tell apart.
func (f *facts) service() *model.Service {
	if f.record != nil {
		return &f.record.Service
	}
	return &f.packed.c.services[f.row.service]
}

// death is the record's date of death.
func (f *facts) death() *date.Date {
	if f.record != nil {
		return &f.record.Person.Died
	}
	return &f.packed.c.dates[f.row.died]
}

// bornIn are the years in which the man was born as far as his service says.
func (f *facts) bornIn() bornIn {
	if f.record != nil {
		return bornInOf(&f.record.Service)
	}
	return f.packed.bornIn[f.row.service]
}

// left are the days on which the man was mustered out, enlisted and mustered in.
func (f *facts) left() (out, enlisted, in days) {
	if f.record != nil {
		s := &f.record.Service
		return daysOf(&s.MusteredOut), daysOf(&s.Enlisted), daysOf(&s.MusteredIn)
	}
	d := f.packed.days
	return d[f.row.musteredOut], d[f.row.enlisted], d[f.row.musteredIn]
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
	*f = facts{surname: missing, home: missing, burial: missing, middle: &middle, seconds: w.secondsOf(r.Source.File), unit: &unit, died: daysOf(&r.Person.Died), record: r,
		homeText: r.Person.Residence, burialText: burialText(r), suffixNumber: strange, unitNumber: strange, rankNumber: strange, serviceNumber: strange}
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
	}
	if ofCounty(f.homeText) {
		f.home = find(numbers.homes, strings.ToLower(f.homeText))
	}
	if f.burialText != "" {
		f.burial = find(numbers.burials, f.burialText)
	}
	f.born[0], f.born[1] = birthYears(r.Birth())
	if roundAge(r) {
		f.round = 1
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
	middles          []middleName
	seconds          []*secondLines // by file
	units            []unitParts
	states           []model.State // of the units, by unitParts.stateNumber
	suffixes         []string      // folded
	days             []days
	roundAges        []uint8                  // by age: 1 for one in round figures
	bornIn           []bornIn                 // by number of the service
	wars             []uint16                 // likewise; see wars
	unitTexts        []atomic.Pointer[string] // by number: the unit as evidence has it, once it was asked for
}

func (w *Weigher) newPacked(c *Columns) *packed {
	numbers := w.numbers()
	p := &packed{c: c, middles: make([]middleName, len(c.middles)), units: make([]unitParts, len(c.units)), unitTexts: make([]atomic.Pointer[string], len(c.units))}
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
		p.days = append(p.days, daysOf(&c.dates[i]))
	}
	for _, s := range c.suffixes {
		p.suffixes = append(p.suffixes, name.Fold(s))
	}
	for i := range c.ages {
		p.roundAges = append(p.roundAges, 0)
		if inRoundFigures(&c.ages[i]) {
			p.roundAges[i] = 1
		}
	}
	for i := range c.services {
		p.bornIn = append(p.bornIn, bornInOf(&c.services[i]))
		p.wars = append(p.wars, w.wars().number[p.bornIn[i]])
	}
	for i, m := range c.middles {
		p.middles[i] = newMiddle(m)
	}
	for _, file := range c.files {
		p.seconds = append(p.seconds, w.secondsOf(file))
	}
	inParts(len(c.units), func(from, to int) {
		for i := from; i < to; i++ {
			p.units[i] = w.unitParts(&c.units[i])
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

// facts makes the facts of row i.
func (p *packed) facts(f *facts, i uint32) {
	c := p.c
	w := &c.rows[i]
	f.surname, f.given = p.surnames[w.surname], p.givens[w.given]
	f.middle, f.unit = &p.middles[w.middle], &p.units[w.unit]
	f.seconds = p.seconds[w.file]
	f.suffixNumber, f.unitNumber, f.rankNumber, f.serviceNumber = int32(w.suffix), int32(w.unit), int32(w.rank), int32(w.service)
	f.born = [2]int16{w.bornFrom, w.bornTo}
	f.round = 0
	if w.born == 0 {
		f.round = p.roundAges[w.age]
	}
	f.died = p.days[w.died]
	f.packed, f.row = p, w
	f.home, f.burial = p.homes[w.home], p.burials[w.burial]
	if f.home == strange {
		f.homeText = c.homes[w.home]
	}
	if f.burial == strange {
		f.burialText = c.burials[w.burial]
	}
}
