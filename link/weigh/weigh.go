package weigh

import (
	"strings"
	"sync"

	"musterstone/model"
)

// Weigher weighs stones against the records that were counted. It is safe for concurrent use.
type Weigher struct {
	counts *Counts
	moves  *Moves
	// What one value is worth is worked out once: names and places repeat.
	surnames, givens, buried, homes sync.Map
	spellings                       func() []spelling
}

// New makes a Weigher over the counts of the records, and over how men moved, nil where that is not known.
func New(c *Counts, m *Moves) *Weigher {
	return &Weigher{counts: c, moves: m, spellings: sync.OnceValue(c.spellings)}
}

// Stone is one claim of a stone made ready to be weighed against many records.
type Stone struct {
	w       *Weigher
	subject *model.Subject
	claim   model.Claim
	surname *surnameView
	given   *givenView
	unit    unitView
	birth   birthView
	death   deathView
	place   placeView
	// designChance is how well the rosters' men fit the marker's design in the mean, in bits.
	designChance float64
}

// Stone makes a subject's claim ready: usually its likeliest reading's first person.
func (w *Weigher) Stone(s *model.Subject, claim model.Claim) *Stone {
	v := &Stone{w: w, subject: s, claim: claim}
	v.surname = w.surnameView(claim.Person.Name.Surname)
	v.given = w.givenView(claim.Person.Name)
	v.unit = w.unitView(legible(claim.Service.Unit))
	v.birth = w.birthView(claim.Person)
	v.death = w.deathView(claim.Person.Died)
	v.place = w.placeView(s.Stone.Place, claim)
	v.designChance = w.designChance(s.Implies)
	return v
}

// legible leaves out a company letter that is lost: it says nothing.
func legible(u model.Unit) model.Unit {
	if len(u.Company) != 1 || u.Company[0] < 'A' || u.Company[0] > 'Z' {
		u.Company = ""
	}
	return u
}

// sum is evidence with its total; add is the only way in, so that the two cannot part.
type sum struct {
	bits     float64
	evidence []model.Evidence
}

func (s *sum) add(e model.Evidence) {
	s.bits += e.Bits
	s.evidence = append(s.evidence, e)
}

// weight adds one level of a field at its bits.
func (s *sum) weight(field, name string, m, u float64, stone, record, why string) {
	s.add(model.Evidence{Field: field, Level: name, Bits: bits(m, u), Stone: stone, Record: record, Why: why})
}

// Against weighs the stone against a record: the total in bits, and what it is made of, in the order of the fields. Fields that one side
// does not give are left out: they say nothing.
func (v *Stone) Against(r *model.Record) (float64, []model.Evidence) {
	s := &sum{evidence: make([]model.Evidence, 0, 8)}
	sameSurname := v.surname.against(s, r)
	if !v.given.against(s, r) {
		v.middle(s, r)
	}
	v.suffix(s, r)
	unit := v.unit.against(s, r)
	kin := unit == "company" && sameSurname
	if kin {
		v.kin(s)
	}
	v.rank(s, r)
	v.birth.against(s, r)
	v.death.against(s, r)
	v.place.against(s, r, kin || unit == "regiment" && sameSurname)
	v.design(s, r, unit)
	return s.bits, s.evidence
}

// middle compares middle names by their first initials.
func (v *Stone) middle(s *sum, r *model.Record) {
	a, b := initials(v.claim.Person.Name.Middle), initials(r.Person.Name.Middle)
	if a == "" || b == "" {
		return
	}
	c := v.w.counts
	u := chance("middle", "same", 0, float64(c.middles.n[a[:1]]), float64(c.middle))
	if a[0] == b[0] {
		s.weight("middle", "same", start("middle", "same").m, u, v.claim.Person.Name.Middle, r.Person.Name.Middle, "")
		return
	}
	s.weight("middle", "different", start("middle", "different").m, 1-u, v.claim.Person.Name.Middle, r.Person.Name.Middle, "")
}

// suffix compares Jr, Sr and numerals where both sides have one.
func (v *Stone) suffix(s *sum, r *model.Record) {
	a, b := v.claim.Person.Name.Suffix, r.Person.Name.Suffix
	if a == "" || b == "" {
		return
	}
	name := "different"
	if strings.EqualFold(a, b) {
		name = "same"
	}
	l := start("suffix", name)
	s.weight("suffix", name, l.m, l.u, a, b, "")
}
