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
	side, branch, body, conflicts string
	years                         [6]int // of the dates of service, first and last, where no conflict is named
}

// serviceCount is a kind of service, shown by one man's, and how many men had it.
type serviceCount struct {
	of  model.Service
	men int
}

func (c *Counts) countServices(s *model.Service, men int) {
	key := serviceKey{side: string(s.Side), branch: string(s.Branch), body: string(s.Unit.Body)}
	switch len(s.Conflicts) {
	case 0:
		for i, d := range [...]date.Date{s.Enlisted, s.MusteredIn, s.MusteredOut} {
			key.years[2*i], key.years[2*i+1] = d.From.Year, d.To.Year
		}
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
		c.services = append(c.services, serviceCount{of: *s})
	}
	c.services[i].men += men
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

// designView is what a stone's marker implies, and how records fit it.
type designView struct {
	implies *model.Implication
	silent  bool // a private stone that says nothing of service implies its conflict by its dates alone; those are weighed as birth and death
	dated   bool // the stone gives the death: what the marker's age says of it is no matter of the record's
	chance  float64
	w       *Weigher
	known   []float64 // by number of the columns' services: the bits of their fit without a death, NaN for none, infinite where not asked yet
	died    *[designs]struct {
		key designKey
		fit float64
	} // the same of some services with a year of death
}

// designs is how many services with a year of death are kept in mind.
const designs = 64

// designKey is a number of the columns' services and a year of death.
type designKey struct{ service, year int32 }

func (w *Weigher) designView(s *model.Subject, claim *model.Claim) designView {
	return designView{implies: &s.Implies, silent: claim.Service.IsZero() && private(s.Implies), dated: !claim.Person.Died.IsZero(),
		chance: w.designChance(s.Implies), w: w}
}

// fit is how a service fits the marker, in bits, NaN for not at all one way or the other; with the sentence that says why.
func (v *designView) fit(service *model.Service, died *date.Date) (float64, string) {
	d := date.Date{}
	if !v.dated {
		d = *died
	}
	bits, why := marker.Fits(*v.implies, *service, d)
	if why == "" {
		return math.NaN(), ""
	}
	return bits, why
}

// against is the line of what the marker's design, and the conflict that the words name, say of the record's service. Where the unit already agrees down
// to the regiment, the conflict goes with it and only what speaks against it still counts.
func (v *designView) against(f *facts, unit int) line {
	if v.silent {
		return line{}
	}
	fit := v.fitOf(f)
	if math.IsNaN(fit) {
		return line{}
	}
	fit -= v.chance
	if math.Abs(fit) < leastDesign {
		return line{}
	}
	if fit > 0 {
		switch unit {
		case unitCompany, unitWornCompany, unitOtherCompany, unitRegiment, unitRedesignated:
			return line{}
		}
		return line{v.w.fixed.fits, fit}
	}
	return line{v.w.fixed.fitsNot, fit}
}

// fitOf is fit, worked out once for a service that the columns number and a year of death.
func (v *designView) fitOf(f *facts) float64 {
	n := f.serviceNumber
	if n < 0 {
		fit, _ := v.fit(f.service(), f.death())
		return fit
	}
	year := int32(0)
	if !v.dated {
		if year = f.died.to / 10000; year == 0 { // as Fits has it
			year = f.died.from / 10000
		}
	}
	if year == 0 {
		if v.known == nil {
			v.known = make([]float64, len(v.w.packed.c.services))
			for i := range v.known {
				v.known[i] = math.Inf(1)
			}
		}
		if math.IsInf(v.known[n], 1) {
			v.known[n], _ = v.fit(f.service(), f.death())
		}
		return v.known[n]
	}
	if v.died == nil {
		v.died = new([designs]struct {
			key designKey
			fit float64
		})
	}
	key := designKey{n, year}
	at := &v.died[uint32(n*29+year)%designs]
	if at.key != key {
		at.key = key
		at.fit, _ = v.fit(f.service(), f.death())
	}
	return at.fit
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
