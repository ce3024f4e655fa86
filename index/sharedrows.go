package index

import "musterstone/model"

// A sharedRoller adds rows by the numbers of values that records share, so that what follows from a value is worked out once.
type sharedRoller struct {
	*roller
	of      *shared
	surname []uint32
	names   []nameColumns
	units   []unitColumns
	dates   []dateColumns
	births  []birthYears // those reckoned lately, at a place that follows from date and age
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
}

func newSharedRoller(of *shared) *sharedRoller {
	return &sharedRoller{roller: newRoller(), of: of, births: make([]birthYears, 1<<16)}
}

// add adds the row of a record, whose values have the numbers n.
func (r *sharedRoller) add(n *sharedNumbers, id, buried, home string) {
	for i := len(r.surname); i < len(r.of.Surnames); i++ {
		r.surname = append(r.surname, r.surnameOf(r.of.Surnames[i]))
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
		b := r.birth(at, n.age)
		w.bornFrom, w.bornTo = b[0], b[1]
	}
	r.put(w, id, buried, home)
}

// birthYears are the first and the last year in which a man was born who was of that age, by number, on that date.
type birthYears struct {
	on, age uint32
	years   [2]int16
}

// birth is the first and the last year in which a man was born who was of that age, which is not 0, on that date. The men of a roster are of few ages on few days; where there are many of
// both, a place for each pair would take more memory than the roster.
func (r *sharedRoller) birth(on, age uint32) [2]int16 {
	b := &r.births[(on*64+age)%uint32(len(r.births))]
	if b.on != on || b.age != age {
		var rec model.Record
		rec.Person.Age, rec.Service.Enlisted = r.of.Ages[age], r.of.Dates[on]
		b.on, b.age = on, age
		b.years[0], b.years[1] = years(rec.Birth())
	}
	return b.years
}
