package index

import (
	"musterstone/model/date"
	"musterstone/model/same"
	"musterstone/vocab/name"
	"musterstone/vocab/remarks"
)

// A sharedRoller adds rows by the numbers of values that records share, so that what follows from a value is worked out once.
type sharedRoller struct {
	*roller
	of      *same.Values
	surname []uint32
	names   []nameColumns
	units   []unitColumns
	dates   []dateColumns
	wars    []warColumns // of services
}

type nameColumns struct {
	given  uint32
	middle byte
}

type unitColumns struct {
	unit    uint32
	company byte
}

type warColumns struct {
	conflicts uint16
	side      byte
}

type dateColumns struct {
	from, to, first int16
	known           bool
	newborn         [2]int16 // the years in which a man was born who was not yet one year old then
}

func newSharedRoller(of *same.Values) *sharedRoller {
	return &sharedRoller{roller: newRoller(), of: of}
}

// add adds the row of a record, whose values have the numbers n, and of which that is told.
func (r *sharedRoller) add(n *sharedNumbers, id string, told *remarks.Told) {
	for i := len(r.surname); i < len(r.of.Surnames); i++ {
		folded := name.Fold(r.of.Surnames[i])
		r.surname = append(r.surname, number(r.roller.surname, &r.surnames, folded, folded))
	}
	for i := len(r.names); i < len(r.of.Names); i++ {
		v := &r.of.Names[i]
		r.names = append(r.names, nameColumns{r.givenOf(v), firstLetter(v.Middle)})
	}
	for i := len(r.units); i < len(r.of.Units); i++ {
		v := &r.of.Units[i]
		r.units = append(r.units, unitColumns{r.unitOf(v), firstLetter(v.Company)})
	}
	for i := len(r.dates); i < len(r.of.Dates); i++ {
		v := r.of.Dates[i]
		var c dateColumns
		c.from, c.to = years(v)
		c.first = int16(min(max(v.From.Year, 0), 9999))
		c.known = !v.IsZero()
		c.newborn[0], c.newborn[1] = years(date.BirthSpan(v, date.Age{Known: true}))
		r.dates = append(r.dates, c)
	}
	for i := len(r.wars); i < len(r.of.Services); i++ {
		w := warColumns{side: firstLetter(string(r.of.Services[i].Side))}
		for _, c := range r.of.Services[i].Conflicts {
			w.conflicts |= r.warBit(c)
		}
		r.wars = append(r.wars, w)
	}
	born, died := r.dates[n.born], r.dates[n.died]
	w := row{surname: r.surname[n.surname], given: r.names[n.name].given, middle: r.names[n.name].middle, unit: r.units[n.unit].unit, company: r.units[n.unit].company,
		bornFrom: born.from, bornTo: born.to, diedFrom: died.from, diedTo: died.to, conflicts: r.wars[n.service].conflicts, side: r.wars[n.service].side,
		last: max(r.dates[n.enlisted].first, r.dates[n.in].first, r.dates[n.out].first)}
	if n.born == 0 && n.age != 0 {
		at := n.enlisted // as model.Record.Birth has it
		if !r.dates[at].known {
			at = n.in
		}
		born := r.birth(at, n.age)
		w.bornFrom, w.bornTo = born[0], born[1]
	}
	w.buried, w.home = n.buried, n.home
	r.put(w, id, told, &r.of.Units[n.unit])
}

// birth is the first and the last year in which a man was born who was of that age on that date.
func (r *sharedRoller) birth(on, age uint32) [2]int16 {
	a := &r.of.Ages[age]
	born, ok := a.Before(r.dates[on].newborn)
	if !ok {
		born[0], born[1] = years(date.BirthSpan(r.of.Dates[on], *a))
	}
	return born
}
