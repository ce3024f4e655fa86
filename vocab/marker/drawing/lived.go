package drawing

import (
	"musterstone/model"
	"musterstone/model/date"
)

// inService is how many years after he came a man who died is taken to have died in the service, where nothing tells that he left it: house judgement.
const inService = 5

// Lived is what a stone and the record of its man tell together of his years, for the picture of time: the stone's word goes first. taken says whether the record told any
// on which the stone is silent.
func Lived(c model.Claim, r *model.Record) (both model.Claim, taken bool) {
	fill := func(to *date.Date, from date.Date) {
		if to.IsZero() && !from.IsZero() {
			*to, taken = from, true
		}
	}
	if c.Person.Age.IsZero() { // else the birth follows from it
		fill(&c.Person.Born, r.Birth())
	}
	fill(&c.Person.Died, r.Person.Died)
	s := &c.Service
	fill(&s.Enlisted, r.Service.Enlisted)
	fill(&s.MusteredIn, r.Service.MusteredIn)
	fill(&s.MusteredOut, r.Service.MusteredOut)
	if came, died := came(*s), r.Person.Died; !came.IsZero() && !died.IsZero() && died.To.Year-came.From.Year < inService {
		fill(&s.MusteredOut, died)
	}
	if len(s.Conflicts) == 0 && len(r.Service.Conflicts) > 0 {
		s.Conflicts, taken = r.Service.Conflicts, true
	}
	return c, taken
}

// came is when a man entered the service: when he enlisted, or else was mustered in.
func came(s model.Service) date.Date {
	if s.Enlisted.IsZero() {
		return s.MusteredIn
	}
	return s.Enlisted
}
