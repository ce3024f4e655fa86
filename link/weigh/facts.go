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
	surname, given int32 // numbers among the surnames and given names that were counted; missing, or strange
	middle         *middleName
	suffix         string // folded
	suffixed       bool
	unit           *unitParts // nil for none
	rankNumber     int32      // of the columns; strange for a record by itself
	born           [2]int16
	round          bool // the birth follows from an age in round figures
	died           days
	serviceNumber  int32  // of the columns; strange for a record by itself
	home, burial   int32  // numbers of the words on home and burial that were counted
	homeText       string // as the record has it
	burialText     string
	ofCounty       bool // the home may name a county
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
	return m
}

// fromRecord makes the facts of a record by itself.
func (w *Weigher) fromRecord(f *facts, r *model.Record) {
	n := &r.Person.Name
	middle, unit := newMiddle(n.Middle), newUnitParts(r.Service.Unit)
	*f = facts{surname: missing, given: missing, home: missing, burial: missing, middle: &middle, suffix: name.Fold(n.Suffix), suffixed: n.Suffix != "",
		rankNumber: strange, died: daysOf(&r.Person.Died), serviceNumber: strange, record: r, homeText: r.Person.Residence, burialText: burialText(r), ofCounty: ofCounty(r.Person.Residence)}
	if !r.Service.Unit.IsZero() {
		f.unit = &unit
	}
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
	if n.Given != "" {
		f.given = find(numbers.givens, name.Fold(n.Given))
	}
	if f.homeText != "" {
		f.home = find(numbers.homes, strings.ToLower(f.homeText))
	}
	if f.burialText != "" {
		f.burial = find(numbers.burials, f.burialText)
	}
	f.born[0], f.born[1] = birthYears(r.Birth())
	f.round = roundAge(r)
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
	surnames, givens []int32 // by number of the columns: the number among those counted
	homes, burials   []int32
	middles          []middleName
	units            []unitParts
	suffixes         []string // folded
	days             []days
	ofCounty         []bool                   // by home: it may name a county
	roundAges        []bool                   // by age: it is in round figures
	unitTexts        []atomic.Pointer[string] // by number: the unit as evidence has it, once it was asked for
}

func newPacked(c *Columns, numbers *numbers) *packed {
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
	p.homes = find(c.homes, numbers.homes, strings.ToLower)
	p.burials = find(c.burials, numbers.burials, func(s string) string { return s })
	for i := range c.dates {
		p.days = append(p.days, daysOf(&c.dates[i]))
	}
	for _, s := range c.suffixes {
		p.suffixes = append(p.suffixes, name.Fold(s))
	}
	for i := range c.ages {
		p.roundAges = append(p.roundAges, c.ages[i].Years%5 == 0)
	}
	for _, h := range c.homes {
		p.ofCounty = append(p.ofCounty, ofCounty(h))
	}
	for i, m := range c.middles {
		p.middles[i] = newMiddle(m)
	}
	inParts(len(c.units), func(from, to int) {
		for i := from; i < to; i++ {
			p.units[i] = newUnitParts(c.units[i])
		}
	})
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
	f.middle = &p.middles[w.middle]
	f.suffix, f.suffixed = p.suffixes[w.suffix], w.suffix != 0
	f.unit = nil
	if w.unit != 0 {
		f.unit = &p.units[w.unit]
	}
	f.rankNumber = int32(w.rank)
	f.born = [2]int16{w.bornFrom, w.bornTo}
	f.round = w.born == 0 && p.roundAges[w.age]
	f.died = p.days[w.died]
	f.serviceNumber = int32(w.service)
	f.packed, f.row = p, w
	f.home, f.burial = p.homes[w.home], p.burials[w.burial]
	f.ofCounty = p.ofCounty[w.home]
	if f.home == strange {
		f.homeText = c.homes[w.home]
	}
	if f.burial == strange {
		f.burialText = c.burials[w.burial]
	}
}
