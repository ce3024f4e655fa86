package rdf

import (
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// code says a code: its concept where a table has it, else the code as it is, so that nothing is lost.
func (m *mapper) code(s IRI, predicate, kind, code string) {
	if code == "" {
		return
	}
	key := codeKey{kind, code}
	concept, ok := m.concepts[key]
	if !ok {
		if known()[key] {
			concept = m.term(MS + conceptName(kind, code))
		}
		m.concepts[key] = concept
	}
	if concept.String() == "" {
		m.text(s, MS+"uncoded", kind+": "+code)
		return
	}
	m.iri(s, predicate, concept)
}

// reference says what one source says of one person, and of his service where it says anything.
func (m *mapper) reference(ref, in, reading IRI, order int, c model.Claim, label string) {
	m.is(ref, MS+"PersonReference")
	m.english(ref, rdfs+"label", label)
	m.iri(ref, MS+"mentionedIn", in)
	m.iri(ref, MS+"accordingTo", reading)
	if order > 0 {
		m.integer(ref, MS+"order", order)
	}
	p := c.Person // schema.org names no domain that a reasoner would draw from; foaf:familyName would make a foaf:Person of every mention
	m.text(ref, schema+"familyName", p.Name.Surname)
	m.text(ref, schema+"givenName", p.Name.Given)
	m.text(ref, MS+"middleName", p.Name.Middle)
	m.text(ref, MS+"nameSuffix", p.Name.Suffix)
	m.texts(ref, MS+"givenNameOr", p.Name.GivenOr)
	m.text(ref, MS+"nameWritten", p.Name.Written)
	m.date(ref, MS+"born", p.Born)
	m.date(ref, MS+"died", p.Died)
	m.text(ref, MS+"age", p.Age.Written)
	if !p.Age.IsZero() {
		m.integer(ref, MS+"ageYears", p.Age.Years)
	}
	m.text(ref, MS+"birthplace", p.Birthplace)
	m.text(ref, MS+"residence", p.Residence)
	m.text(ref, MS+"deathPlace", p.DeathPlace)
	m.text(ref, MS+"buried", p.Buried)
	m.text(ref, MS+"relation", p.Relation)
	m.code(ref, MS+"homeState", "state", string(c.Home))
	if !c.Service.IsZero() || c.Service.Remarks != "" || c.Service.Written != "" || c.Service.Unit.Written != "" {
		m.service(m.also(ref, "service"), ref, c.Service)
	}
}

func (m *mapper) service(svc, ref IRI, s model.Service) {
	m.is(svc, MS+"Service", org+"Membership")
	m.iri(svc, MS+"serviceOf", ref)
	m.iri(svc, org+"member", ref)
	m.code(svc, MS+"rank", "rank", string(s.Rank))
	m.code(svc, MS+"rankOut", "rank", string(s.RankOut))
	m.yes(svc, MS+"brevet", s.Brevet)
	m.code(svc, MS+"branch", "branch", string(s.Branch))
	m.code(svc, MS+"side", "side", string(s.Side))
	for _, c := range s.Conflicts {
		m.code(svc, MS+"conflict", "conflict", string(c))
	}
	m.date(svc, MS+"enlisted", s.Enlisted)
	m.date(svc, MS+"musteredIn", s.MusteredIn)
	m.date(svc, MS+"musteredOut", s.MusteredOut)
	m.texts(svc, MS+"award", s.Awards)
	m.text(svc, MS+"remarks", s.Remarks)
	m.text(svc, MS+"serviceWritten", s.Written)
	m.text(svc, MS+"unitWritten", s.Unit.Written)
	if body, ok := m.unit(s.Unit, s.Side); ok {
		m.iri(svc, org+"organization", body)
	} else {
		m.unitParts(svc, s.Unit)
	}
}

// unitParts says what is known of a unit.
func (m *mapper) unitParts(s IRI, u model.Unit) {
	m.code(s, MS+"body", "body", string(u.Body))
	m.code(s, MS+"state", "state", string(u.State))
	m.code(s, MS+"arm", "arm", string(u.Arm))
	if u.Number != 0 {
		m.integer(s, MS+"regiment", u.Number)
	}
	m.text(s, MS+"regimentLost", u.NumberLost)
	m.text(s, MS+"unitKind", string(u.Kind))
	m.text(s, MS+"company", u.Company)
	m.text(s, MS+"unitName", u.Name)
	if u.Division != 0 {
		m.integer(s, MS+"division", u.Division)
	}
	m.texts(s, MS+"unitMark", u.Marks)
}

// unit gives the IRI of a unit, which it describes the first time; false for one that the source does not tell from others: without a number or a
// name, or without a state or body.
func (m *mapper) unit(u model.Unit, side model.Side) (IRI, bool) {
	if u.Number == 0 && u.Name == "" || u.Name == "" && u.Designation() == "" {
		return IRI{}, false
	}
	key := unitKey{u.Body, u.State, u.Arm, u.Kind, side, u.Company, u.Name, strings.Join(u.Marks, "\x00"), u.Number, u.Division}
	if iri, ok := m.units[key]; ok {
		return iri, true
	}
	iri, first := m.slugged("unit", unitNames(u, side))
	m.units[key] = iri
	if first {
		m.describeUnit(iri, u, side)
	}
	return iri, true
}

// unitKey is what tells units apart.
type unitKey struct {
	body                 model.Body
	state                model.State
	arm                  model.Arm
	kind                 model.UnitKind
	side                 model.Side
	company, name, marks string
	number, division     int
}

// unitNames are the parts of the readable name of a unit.
func unitNames(u model.Unit, side model.Side) []string {
	parts := []string{}
	if side == model.Confederate && u.Designation() != string(side) {
		parts = append(parts, string(side))
	}
	parts = append(parts, u.Designation(), string(u.Arm))
	if u.Number != 0 {
		parts = append(parts, strconv.Itoa(u.Number))
	}
	parts = append(parts, string(u.Kind), u.Name)
	if u.Division != 0 {
		parts = append(parts, "division-"+strconv.Itoa(u.Division))
	}
	parts = append(parts, u.Marks...)
	if u.Company != "" {
		parts = append(parts, "co-"+u.Company)
	}
	return parts
}

func (m *mapper) describeUnit(iri IRI, u model.Unit, side model.Side) {
	m.is(iri, MS+"Unit", org+"OrganizationalUnit")
	m.english(iri, skos+"prefLabel", unitLabel(u, side))
	m.unitParts(iri, u)
	m.code(iri, MS+"side", "side", string(side))
	if u.Company != "" {
		whole := u
		whole.Company, whole.Written = "", ""
		if parent, ok := m.unit(whole, side); ok {
			m.iri(iri, org+"subOrganizationOf", parent)
		}
	} else {
		m.renamed(iri, u, side)
	}
}

// renamed says by which changes of designation a regiment came to its name or lost it (org:ChangeEvent), as far as the table of them tells.
func (m *mapper) renamed(iri IRI, u model.Unit, side model.Side) {
	for _, c := range unit.Changes(u) {
		before, ok1 := m.unit(c.Before, side)
		after, ok2 := m.unit(c.After, side)
		if !ok1 || !ok2 {
			continue
		}
		event := m.id("change", before.String(), after.String(), c.On.EDTF)
		m.iri(iri, org+"changedBy", event)
		if _, seen := m.seen[event.String()]; seen {
			continue
		}
		m.seen[event.String()] = event.String()
		m.is(event, MS+"Redesignation", org+"ChangeEvent")
		m.english(event, rdfs+"label", "Redesignation of "+unitLabel(c.Before, side)+" as "+unitLabel(c.After, side))
		m.iri(event, org+"originalOrganization", before)
		m.iri(event, org+"resultingOrganization", after)
		m.date(event, MS+"when", c.On)
		m.text(event, MS+"note", c.Note)
		for _, key := range c.Sources {
			m.cite(event, key)
		}
	}
}

// unitLabel is the unit in plain words: "Company F, 31st Wisconsin Infantry".
func unitLabel(u model.Unit, side model.Side) string {
	label := unit.Format(u)
	if word := vocab.Label("side", string(model.Confederate)); side == model.Confederate && !strings.Contains(label, word) {
		label += " (" + word + ")"
	}
	return label
}
