package weigh

import (
	"math"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/marker"
)

// serviceKey is what of a service a marker's design can tell apart.
type serviceKey struct {
	side, branch, conflicts string
	year                    int // of enlistment, where no conflict is named
}

// serviceCount is a kind of service, shown by one man's, and how many men had it.
type serviceCount struct {
	of  model.Service
	men int
}

func (c *Counts) countService(r *model.Record) {
	s := r.Service
	key := serviceKey{side: string(s.Side), branch: string(s.Branch)}
	switch len(s.Conflicts) {
	case 0:
		key.year = max(s.Enlisted.From.Year, s.MusteredIn.From.Year)
	case 1:
		key.conflicts = string(s.Conflicts[0])
	default:
		var b strings.Builder
		for _, code := range s.Conflicts {
			b.WriteString(string(code) + " ")
		}
		key.conflicts = b.String()
	}
	i, ok := c.service[key]
	if !ok {
		i = len(c.services)
		c.service[key] = i
		c.services = append(c.services, serviceCount{of: s})
	}
	c.services[i].men++
}

// designChance is log2 of how much better than by the marker's own reckoning the rosters' men fit it in the mean: where all of them served in the war
// of which the marker speaks, that a record fits says nothing.
func (w *Weigher) designChance(m model.Implication) float64 {
	sum, men := 0.0, 0.0
	for i := range w.counts.services {
		s := &w.counts.services[i]
		bits, _ := marker.Fits(m, s.of, date.Date{})
		sum += float64(s.men) * math.Exp2(bits)
		men += float64(s.men)
	}
	if men == 0 || sum == 0 {
		return 0
	}
	return math.Log2(sum / men)
}

// design adds what the marker's design, and the conflict that the words name, say of the record's service. Where the unit already agrees down
// to the regiment, the conflict goes with it and only what speaks against it still counts.
//
// A private stone that says nothing of service implies its conflict by its dates alone; those are weighed as birth and death.
func (v *Stone) design(s *sum, r *model.Record, unit string) {
	if v.claim.Service.IsZero() && private(v.subject.Implies) {
		return
	}
	died := r.Person.Died
	if !v.claim.Person.Died.IsZero() {
		died = date.Date{} // what the marker's age says of a death that the stone itself gives is no matter of the record's
	}
	bits, why := marker.Fits(v.subject.Implies, r.Service, died)
	if why == "" {
		return
	}
	bits -= v.designChance
	if math.Abs(bits) < leastDesign || bits > 0 && (InRegiment(unit) || unit == "redesignated") {
		return
	}
	level := "fits"
	if bits < 0 {
		level = "does not fit"
	}
	s.add(model.Evidence{Field: "design", Level: level, Bits: bits, Why: why})
}

// leastDesign is the least that is worth a line of evidence, in bits.
const leastDesign = 0.05

// private reports whether a marker is likelier not the government's, or cannot be told.
func private(m model.Implication) bool {
	sum := 0.0
	for _, p := range m.Patterns {
		if p.Code == model.NotGovernment || p.Code == model.UnknownPattern {
			sum += p.Probability
		}
	}
	return sum >= 0.5
}
