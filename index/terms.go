package index

import (
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// A word is one word of a text as it is indexed and searched: lower-case letters or digits, and its bytes in the text.
type word struct {
	folded   string
	from, to int
}

// splitWords splits a text into words, accents, points, apostrophes and marks of damage apart; a lost letter is '?', several of unknown number '*'. The
// recorder's own words in brackets are left out.
func splitWords(text string) []word {
	t := words.Split(text)
	list := make([]word, 0, len(t.Words))
	for i := range t.Words {
		if w := &t.Words[i]; !w.Has(words.Note) {
			list = append(list, word{strings.ToLower(t.Key(i)), w.From, w.To})
		}
	}
	return list
}

// The fields of a document of the word index.
const (
	textField  = "text"  // every word of every cell, with its place
	nameField  = "name"  // surname, given and middle names, and what an abbreviated one may stand for
	rootField  = "root"  // the names that the given name may be a short form of
	soundField = "sound" // how the surname sounds
	unitField  = "unit"  // state or body, number, arm, company: "wi", "31", "infantry", "company-f"
	placeField = "place" // cemetery, county, residence, burial place
	kindField  = "kind"  // "stone" or "record"
)

// A page is one document of the word index: the terms by field.
type page map[string][]string

func (p page) add(field string, terms ...string) {
	for _, t := range terms {
		if t != "" && t != "?" && t != "*" && !slices.Contains(p[field], t) {
			p[field] = append(p[field], t)
		}
	}
}

func (p page) name(n model.Name) {
	for _, part := range append([]string{n.Surname, n.Given, n.Middle}, n.GivenOr...) {
		for _, w := range splitWords(part) {
			p.add(nameField, w.folded)
		}
	}
	surname := name.Fold(n.Surname)
	p.add(nameField, surname)
	if surname != "" && !strings.ContainsAny(surname, "?*") {
		p.add(soundField, name.Sound(surname))
	}
	for _, g := range append([]string{n.Given}, n.GivenOr...) {
		p.add(rootField, roots(name.Fold(g))...)
	}
}

// roots are the folded names that a given name may be a short form of, itself among them.
func roots(folded string) []string {
	if len(folded) < 2 {
		return nil
	}
	var list []string
	for _, f := range name.Roots(folded) {
		list = append(list, f.Name)
	}
	return list
}

func (p page) unit(u model.Unit) {
	p.add(unitField, unitTerms(u)...)
}

// unitTerms are the parts of a unit as terms.
func unitTerms(u model.Unit) []string {
	var terms []string
	add := func(s string) {
		if s != "" {
			terms = append(terms, strings.ToLower(s))
		}
	}
	add(string(u.Body))
	add(string(u.State))
	if u.Number > 0 {
		add(strconv.Itoa(u.Number))
	}
	add(string(u.Arm))
	if u.Company != "" {
		add("company-" + u.Company)
	}
	for _, w := range splitWords(u.Name) {
		add(w.folded)
	}
	return terms
}

func (p page) place(texts ...string) {
	for _, t := range texts {
		for _, w := range splitWords(t) {
			p.add(placeField, w.folded)
		}
	}
}

func (p page) claim(c model.Claim) {
	p.name(c.Person.Name)
	p.unit(c.Service.Unit)
	p.place(c.Person.Residence, c.Person.Buried, c.Person.DeathPlace, c.Person.Birthplace)
}

// wordsOfUnit reads the words of a question about a unit: "31st Wis", "Co. F".
func wordsOfUnit(text string) []string {
	if u, ok := unit.Parse(text); ok && !u.IsZero() {
		return unitTerms(u)
	}
	var terms []string
	for _, w := range splitWords(text) {
		if s, ok := vocab.State(w.folded); ok {
			terms = append(terms, strings.ToLower(string(s)))
			continue
		}
		terms = append(terms, w.folded)
	}
	return terms
}
