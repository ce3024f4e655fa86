package rdf

import (
	"errors"
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"

	"musterstone/model"
)

// stone says what was recorded of a marker, how its words may be read, and what its design implies. Where someone whom it names may be living, only
// the marker itself goes out: neither its words nor the row's cells.
func (m *mapper) stone(sub *model.Subject) error {
	if sub == nil || sub.Stone == nil {
		return errors.New("a subject without its stone")
	}
	sub, err := m.openStone(sub)
	if err != nil {
		return err
	}
	s, words, looks := m.redactStone(sub.Stone)
	m.meetsGround(sub.Stone, s)
	marker, err := m.once("marker", string(s.ID))
	if err != nil {
		return err
	}
	m.sum.Stones++
	held := heldOnStone(sub, m.year)
	if held == "" && words {
		held = HeldPrivate
	}
	m.is(marker, MS+"Marker")
	m.text(marker, dct+"identifier", string(s.ID))
	m.english(marker, rdfs+"label", "Marker "+string(s.ID))
	m.place(marker, s.Place)
	m.observed(marker, s)
	m.origin(marker, s.Source)
	m.implication(marker, sub.Implies, held == "" && !looks)
	f := m.fateOf(sub, words, looks)
	f.held = held != ""
	if held != "" {
		m.hold("stone", string(s.ID), held)
		m.heldBack[marker.String()] = true
		m.markerCells(marker, s)
		m.stones[s.ID] = stoneSeen{marker: marker, fate: f}
		return m.err
	}
	m.cells(marker, s.Source.File, s.Written, s.Recorder)
	m.text(marker, MS+"photo", s.Photo)
	m.text(marker, MS+"note", s.Notes)
	if s.Marker.Inscription != "" {
		m.inscription(marker, s)
	}
	seen := stoneSeen{marker: marker, fate: f, worn: s.Marker.Condition != sub.Stone.Marker.Condition}
	for i, r := range sub.Readings {
		refs := m.reading(marker, s, r, i)
		if i == 0 && len(refs) > 0 {
			seen.refs = refs
			seen.name, seen.wars = r.People[0].Person.Name.String(), r.People[0].Service.Conflicts
		}
	}
	m.stones[s.ID] = seen
	return m.err
}

func (m *mapper) place(marker IRI, p model.Place) {
	if p.Cemetery != "" {
		ground, first := m.slugged("burial-ground", []string{string(p.State), p.County, p.Cemetery})
		if first {
			m.is(ground, MS+"BurialGround", schema+"Cemetery")
			m.text(ground, rdfs+"label", p.Cemetery)
			m.text(ground, schema+"name", p.Cemetery)
			m.text(ground, MS+"county", p.County)
			m.code(ground, MS+"state", "state", string(p.State))
		}
		m.iri(marker, MS+"inBurialGround", ground)
	}
	m.plot(marker, p)
	if p.Position != nil {
		m.decimal(marker, wgs+"lat", p.Position.Latitude, 7)
		m.decimal(marker, wgs+"long", p.Position.Longitude, 7)
		point := m.part(marker, "position")
		m.iri(marker, geo+"hasGeometry", point)
		m.is(point, geo+"Geometry")
		// GeoSPARQL's default is CRS84: longitude before latitude.
		m.typed(point, geo+"asWKT", "POINT("+plainDecimal(p.Position.Longitude, 7)+" "+plainDecimal(p.Position.Latitude, 7)+")", geo+"wktLiteral")
	}
}

// plot says in which plot a marker stands: a thing of its own, since several markers may stand in one.
func (m *mapper) plot(marker IRI, p model.Place) {
	if p.Section == "" && p.Row == "" && p.Plot == "" {
		return
	}
	plot := m.id("plot", string(p.State), p.County, p.Cemetery, p.Section, p.Row, p.Plot)
	m.iri(marker, MS+"inPlot", plot)
	if _, ok := m.seen[plot.String()]; ok {
		return
	}
	m.seen[plot.String()] = plot.String()
	m.is(plot, MS+"Plot")
	label := ""
	for _, x := range []struct{ word, value string }{{"section", p.Section}, {"row", p.Row}, {"plot", p.Plot}} {
		if x.value != "" {
			label += ", " + x.word + " " + x.value
		}
	}
	m.text(plot, rdfs+"label", strings.TrimPrefix(label, ", "))
	if p.Cemetery != "" {
		ground, _ := m.slugged("burial-ground", []string{string(p.State), p.County, p.Cemetery})
		m.iri(plot, MS+"inBurialGround", ground)
	}
	m.text(plot, MS+"section", p.Section)
	m.text(plot, MS+"plotRow", p.Row)
	m.text(plot, MS+"plotNumber", p.Plot)
}

// aboutMarker reports whether a column of a term speaks of a marker and its place, and not of anybody.
func aboutMarker(term string) bool { return term == "id" || markerFields(&model.Stone{}, term) != nil }

// markerCells says the cells of a stone whose words are held back, as far as their columns are known to speak of the marker alone.
func (m *mapper) markerCells(marker IRI, s *model.Stone) {
	m.cells(marker, s.Source.File, m.ofMarker(s), s.Recorder)
}

// ofMarker are the cells of a stone whose columns are known to speak of the marker alone.
func (g *guard) ofMarker(s *model.Stone) (cells []model.Cell) {
	for _, c := range s.Written {
		if term, ok := strings.CutPrefix(g.tables[s.Source.File][c.Column].term, MS); ok && aboutMarker(term) {
			cells = append(cells, c)
		}
	}
	return cells
}

func (m *mapper) observed(marker IRI, s *model.Stone) {
	k := s.Marker
	for _, f := range []struct{ predicate, value string }{
		{"top", k.Top}, {"material", k.Material}, {"lettering", k.Lettering}, {"device", k.Device},
		{"emblem", k.Emblem}, {"setting", k.Setting}, {"condition", k.Condition},
	} {
		m.text(marker, MS+f.predicate, f.value)
	}
	m.texts(marker, MS+"motif", k.Motifs)
	for _, f := range []struct {
		predicate string
		value     model.Inches
	}{{"width", k.Width}, {"thickness", k.Thickness}, {"height", k.Height}, {"length", k.Length}} {
		if f.value != 0 {
			m.decimal(marker, MS+f.predicate+"Inches", float64(f.value), 3)
		}
	}
	m.date(marker, MS+"recordedOn", s.Recorded)
	if m.data.NameRecorders {
		m.iri(marker, prov+"wasAttributedTo", m.agent(s.Recorder))
	} else if s.Recorder != "" {
		m.sum.Recorders++
	}
}

func (m *mapper) inscription(marker IRI, s *model.Stone) {
	ins := m.part(marker, "inscription")
	m.is(ins, MS+"Inscription")
	m.iri(ins, MS+"inscribedOn", marker)
	m.text(ins, MS+"transcription", s.Marker.Inscription)
	for i, words := range strings.Split(s.Marker.Inscription, "\n") {
		line := m.part(marker, "line-"+strconv.Itoa(i+1))
		m.is(line, MS+"InscriptionLine")
		m.iri(line, MS+"lineOf", ins)
		m.integer(line, MS+"lineNumber", i+1)
		m.text(line, MS+"transcription", words)
	}
}

// reading says one way to read a stone, and gives the references to the people in it.
func (m *mapper) reading(marker IRI, s *model.Stone, r model.Reading, index int) []IRI {
	name := "reading-" + strconv.Itoa(index+1)
	reading := m.part(marker, name)
	m.is(reading, MS+"Reading")
	m.iri(reading, MS+"readingOf", marker)
	m.integer(reading, MS+"order", index+1)
	m.decimal(reading, MS+"probability", r.Probability, 6)
	m.yes(reading, MS+"unknownDead", r.Unknown)
	m.yes(reading, MS+"memorial", r.Memorial)
	m.text(reading, MS+"graveNumber", r.GraveNumber)
	m.texts(reading, MS+"society", r.Society)
	m.texts(reading, MS+"unread", r.Unread)
	m.texts(reading, MS+"note", r.Notes)
	var refs []IRI
	for i, c := range r.People {
		// The first reading's people are the stone's, whichever reading that is; those of the others belong to their reading.
		person := "person-" + strconv.Itoa(i+1)
		if index > 0 {
			person = name + "-" + person
		}
		ref := m.part(marker, person)
		m.reference(ref, marker, reading, i+1, c, fmt.Sprintf("Person %d on marker %s", i+1, s.ID))
		refs = append(refs, ref)
	}
	m.tokens(reading, s.Marker.Inscription, r.Tokens, refs)
	return refs
}

// tokens says which letters a reading rests on. Stretches are told in characters, as a person counts them.
func (m *mapper) tokens(reading IRI, text string, tokens []model.Token, refs []IRI) {
	if text == "" {
		return
	}
	at, chars := 0, 0
	offset := func(b int) (int, bool) {
		if b < at || b > len(text) {
			return 0, false
		}
		chars += utf8.RuneCountInString(text[at:b])
		at = b
		return chars, true
	}
	for i, t := range tokens {
		if t.Field == "" {
			continue
		}
		from, ok1 := offset(t.From)
		to, ok2 := offset(t.To)
		if !ok1 || !ok2 || t.To < t.From {
			m.fail(fmt.Errorf("token %d of %s: bytes %d to %d are not a stretch of its inscription", i+1, reading, t.From, t.To))
			return
		}
		tok := m.also(reading, "token-"+strconv.Itoa(i+1))
		m.is(tok, MS+"Token")
		m.iri(tok, MS+"tokenOf", reading)
		m.integer(tok, MS+"start", from)
		m.integer(tok, MS+"end", to)
		m.text(tok, MS+"words", text[t.From:t.To])
		m.text(tok, MS+"field", t.Field)
		m.text(tok, MS+"value", t.Value)
		m.text(tok, dct+"source", t.Source)
		if t.Person >= 0 && t.Person < len(refs) {
			m.iri(tok, dct+"subject", refs[t.Person])
		}
	}
}

// implication says what the design implies. Its sentences may tell of the person and of the looks, and go out only where both do.
func (m *mapper) implication(marker IRI, x model.Implication, sentences bool) {
	for i, p := range x.Patterns {
		a := m.part(marker, "pattern-"+slug(string(p.Code)))
		m.is(a, MS+"PatternAttribution")
		m.iri(a, MS+"marker", marker)
		m.code(a, MS+"pattern", "pattern", string(p.Code))
		m.decimal(a, MS+"probability", p.Probability, 6)
		m.integer(a, MS+"order", i+1)
		m.iri(a, prov+"wasGeneratedBy", m.run)
	}
	if sentences {
		for i, s := range x.Services {
			a := m.part(marker, "implies-"+slug(s.Code))
			m.is(a, MS+"ServiceAttribution")
			m.iri(a, MS+"marker", marker)
			m.code(a, MS+"serviceClass", "service", s.Code)
			m.decimal(a, MS+"probability", s.Probability, 6)
			m.integer(a, MS+"order", i+1)
			m.iri(a, prov+"wasGeneratedBy", m.run)
		}
		for _, c := range x.Contradictions {
			m.text(marker, MS+"contradiction", c.Text)
		}
		m.texts(marker, MS+"because", x.Because)
		m.text(marker, MS+"nextLook", x.Next)
	}
	m.gYear(marker, MS+"madeFrom", x.From)
	m.gYear(marker, MS+"madeTo", x.To)
}
