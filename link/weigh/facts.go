package weigh

import (
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// facts are what a record says, made ready to be compared, from a packed row or from the record itself: what follows is one way for both.
type facts struct {
	surname, given int32 // numbers among the surnames and given names that were counted; missing, or strange
	middle         *middleName
	suffix         string
	unit           *unitParts // nil for none
	rank           rankPair
	rankNumber     int32 // of the columns; strange for a record by itself
	born           [2]int16
	round          bool // the birth follows from an age in round figures
	died           *date.Date
	service        *model.Service // its dates, and what a marker's design can tell apart
	serviceNumber  int32
	out, in, on    *date.Date // mustered out, mustered in, enlisted
	home, burial   int32      // numbers of the words on home and burial that were counted
	homeText       string     // as the record has it
	burialText     string
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
	*f = facts{surname: missing, given: missing, home: missing, burial: missing, middle: &middle, suffix: n.Suffix,
		rank: rankPair{r.Service.Rank, r.Service.RankOut}, rankNumber: strange, died: &r.Person.Died, service: &r.Service, serviceNumber: strange,
		out: &r.Service.MusteredOut, in: &r.Service.MusteredIn, on: &r.Service.Enlisted, homeText: r.Person.Residence, burialText: burialText(r)}
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
}

func newPacked(c *Columns, numbers *numbers) *packed {
	p := &packed{c: c, middles: make([]middleName, len(c.middles)), units: make([]unitParts, len(c.units))}
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

// facts makes the facts of row i.
func (p *packed) facts(f *facts, i uint32) {
	c := p.c
	w := &c.rows[i]
	f.surname, f.given = p.surnames[w.surname], p.givens[w.given]
	f.middle = &p.middles[w.middle]
	f.suffix = c.suffixes[w.suffix]
	f.unit = nil
	if w.unit != 0 {
		f.unit = &p.units[w.unit]
	}
	f.rank, f.rankNumber = c.ranks[w.rank], int32(w.rank)
	f.born = [2]int16{w.bornFrom, w.bornTo}
	f.round = w.round(c)
	f.died = &c.dates[w.died]
	f.service, f.serviceNumber = &c.services[w.service], int32(w.service)
	f.out, f.in, f.on = &c.dates[w.musteredOut], &c.dates[w.musteredIn], &c.dates[w.enlisted]
	f.home, f.burial = p.homes[w.home], p.burials[w.burial]
	f.homeText, f.burialText = c.homes[w.home], c.burials[w.burial]
}
