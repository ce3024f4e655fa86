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
	births  map[uint64][2]int16 // by age, and date of enlistment or muster
	wars    []uint16            // of services
}

type nameColumns struct {
	given  uint32
	middle byte
}

type unitColumns struct {
	unit    uint32
	company byte
}

type dateColumns struct {
	from, to, first int16
	known           bool
}

func newSharedRoller(of *shared) *sharedRoller {
	return &sharedRoller{roller: newRoller(), of: of, births: map[uint64][2]int16{}}
}

func (r *sharedRoller) add(rec *model.Record, n *sharedNumbers) {
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
		var w uint16
		for _, c := range r.of.Services[i].Conflicts {
			w |= r.warBit(c)
		}
		r.wars = append(r.wars, w)
	}
	born, died := r.dates[n.born], r.dates[n.died]
	w := row{surname: r.surname[n.surname], given: r.names[n.name].given, middle: r.names[n.name].middle, unit: r.units[n.unit].unit, company: r.units[n.unit].company,
		bornFrom: born.from, bornTo: born.to, diedFrom: died.from, diedTo: died.to, conflicts: r.wars[n.service],
		last: max(r.dates[n.enlisted].first, r.dates[n.in].first, r.dates[n.out].first)}
	if n.born == 0 && n.age != 0 {
		at := n.enlisted // as model.Record.Birth has it
		if !r.dates[at].known {
			at = n.in
		}
		k := uint64(n.age)<<32 | uint64(at)
		b, ok := r.births[k]
		if !ok {
			b[0], b[1] = years(rec.Birth())
			r.births[k] = b
		}
		w.bornFrom, w.bornTo = b[0], b[1]
	}
	r.put(w, rec)
}
