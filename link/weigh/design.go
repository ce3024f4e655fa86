package weigh

import (
	"math"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/marker"
)

// serviceKey is what of a service a marker's design can tell apart: see marker.Fits.
type serviceKey struct {
	side, branch, body, conflicts string
	years                         [6]int // of the dates of service, first and last, where no conflict is named
}

func keyOfService(s *model.Service) serviceKey {
	key := serviceKey{side: string(s.Side), branch: string(s.Branch), body: string(s.Unit.Body)}
	switch len(s.Conflicts) {
	case 0:
		for i, d := range [...]*date.Date{&s.Enlisted, &s.MusteredIn, &s.MusteredOut} {
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
	return key
}

// serviceCount is a kind of service, shown by one man's, and how many men had it.
type serviceCount struct {
	of  model.Service
	men int
}

func (c *Counts) countServices(s *model.Service, men int) {
	key := keyOfService(s)
	i, ok := c.service[key]
	if !ok {
		i = len(c.services)
		c.service[key] = i
		of := *s
		of.Remarks = ""
		c.services = append(c.services, serviceCount{of: of})
	}
	c.services[i].men += men
}

// designChance is log2 of how much better than by the marker's own reckoning the rosters' men fit it in the mean: where all of them served in the war
// of which the marker speaks, that a record fits says nothing.
func (w *Weigher) designChance(m *model.Implication) float64 {
	kinds := w.serviceKinds()
	var room [16]float64
	times := append(room[:0], make([]float64, len(kinds.classes))...)
	for i, classes := range kinds.classes {
		times[i] = math.Exp2(marker.FitsClasses(m, classes))
	}
	sum, men := 0.0, 0.0
	for i := range w.counts.services {
		s := &w.counts.services[i]
		sum += float64(s.men) * times[kinds.of[i]]
		men += float64(s.men)
	}
	if men == 0 || sum == 0 {
		return 0
	}
	return math.Log2(sum / men)
}

// serviceKinds are the services that were counted, those together that a marker cannot tell apart.
type serviceKinds struct {
	classes [][]int // see marker.Classes
	of      []int   // of each service, its place in classes
}

func newServiceKinds(c *Counts) *serviceKinds {
	k := &serviceKinds{}
	for i := range c.services {
		mine := marker.Classes(&c.services[i].of)
		at := slices.IndexFunc(k.classes, func(other []int) bool { return slices.Equal(other, mine) })
		if at < 0 {
			at = len(k.classes)
			k.classes = append(k.classes, mine)
		}
		k.of = append(k.of, at)
	}
	return k
}

// designView is what a stone's marker implies, and how records fit it.
type designView struct {
	implies *model.Implication
	silent  bool // a private stone that says nothing of service implies its conflict by its dates alone; those are weighed as birth and death
	dated   bool // the stone gives the death: what the marker's age says of it is no matter of the record's
	chance  float64
	w       *Weigher
	known   *[knownDesigns]knownDesign // nil where it is silent
}

// knownDesigns is how many services with a year of death are kept in mind.
const knownDesigns = 64

// knownDesign is what a service of the columns, and a year of death, 0 for none, come to.
type knownDesign struct {
	service int32 // its kind plus 1
	year    int16
	lines   designLines
}

// designLines are the lines of a service: where the unit agrees down to the regiment, and where it does not.
type designLines [2]line

// ofRegiment is 1 for the levels of the unit that agree down to the regiment, or to its number: a number, too, goes with a war.
var ofRegiment = [unitRoom]uint8{unitNumberCompany: 1, unitNumber1: 1, unitCompany: 1, unitWornCompany: 1, unitOtherCompany: 1, unitRegiment: 1, unitRedesignated: 1, unitLaterCompany: 1, unitLaterRegiment: 1, unitLaterOther: 1, unitLaterWorn: 1}

func (w *Weigher) designView(s *model.Subject, claim *model.Claim) designView {
	v := designView{implies: &s.Implies, silent: claim.Service.IsZero() && private(s.Implies), dated: !claim.Person.Died.IsZero(),
		chance: w.designChance(&s.Implies), w: w}
	if !v.silent {
		v.known = new([knownDesigns]knownDesign)
	}
	return v
}

// why is the sentence that says how a service fits the marker.
func (v *designView) why(service *model.Service, died *date.Date) string {
	_, why := marker.Fits(*v.implies, *service, v.death(died))
	return why
}

// death is what of a record's death counts.
func (v *designView) death(died *date.Date) date.Date {
	if v.dated {
		return date.Date{}
	}
	return *died
}

// against is the line of what the marker's design, and the conflict that the words name, say of the record's service. Where the unit already agrees down
// to the regiment or its number, the conflict goes with it and only what speaks against it still counts.
func (v *designView) against(f *facts, unit uint8) *line {
	if v.known == nil {
		return &noLine
	}
	year := int16(0)
	if !v.dated {
		year = f.died.last
	}
	at := &v.known[uint32(f.service*29+int32(year))%knownDesigns]
	if at.service != f.service+1 || at.year != year {
		*at = knownDesign{max(f.service+1, 0), year, v.lines(f)} // of a strange one nothing is kept in mind
	}
	return &at.lines[ofRegiment[unit%unitRoom]]
}

// lines works out what the record's service comes to.
func (v *designView) lines(f *facts) (l designLines) {
	fit := marker.FitsBits(v.implies, f.serviceOf(), v.death(f.death()))
	if fit == 0 {
		return l // not at all one way or the other
	}
	fit -= v.chance
	switch {
	case math.Abs(fit) < leastDesign:
	case fit > 0:
		l[0] = line{v.w.fixed.fits, fit}
	default:
		l[0] = line{v.w.fixed.fitsNot, fit}
		l[1] = l[0]
	}
	return l
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
