package site

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"sync"
	"time"

	"musterstone/vocab"
	"musterstone/vocab/rdf"
)

// words are what pages call a property: label where a thing has it, "" for ours, which the vocabulary labels; inward over the list of the things that have it with
// another thing as value, "" where the label serves.
type words struct{ label, inward string }

// propertyWords are those of property-words.csv, by IRI: the names of other vocabularies were not made for readers.
var propertyWords = sync.OnceValue(func() map[string]words {
	m := map[string]words{}
	for _, r := range vocab.Rows("property-words") {
		iri, err := rdf.Expand(r.Get("property"))
		if err != nil {
			panic(fmt.Sprintf("%s: %v", r.Where(), err)) // a fault of the program, which the tests find
		}
		m[iri] = words{r.Get("label"), r.Get("inward")}
	}
	return m
})

// names are the properties that only repeat what the heading of a page says.
var names = []string{rdf.RDFS + "label", rdf.SKOS + "prefLabel", rdf.DCTerms + "title", rdf.FOAF + "name", rdf.Schema + "name"}

// told reports whether a reader has a statement before him already: the name in the heading, or the bounds and the wording of a date that is a day or a year
// and written as it is shown. The page's Turtle and JSON-LD have them all.
func told(triples []rdf.Triple, t rdf.Triple, heading string) bool {
	property, text := t.Pred.String(), t.Obj.String()
	if slices.Contains(names, property) {
		return heading != "" && strings.HasPrefix(heading, text)
	}
	for _, end := range []string{"Earliest", "Latest", "Written"} {
		if of, ok := strings.CutSuffix(property, end); ok && strings.HasPrefix(of, rdf.MS) {
			whole := value(triples, t.Subj.String(), of)
			return text == whole || len(whole) == len("1842") && (end == "Earliest" && text == whole+"-01-01" || end == "Latest" && text == whole+"-12-31")
		}
	}
	return false
}

// partTitle heads the section of a part: its own name, or what it is, with its number where it has one.
func (s *site) partTitle(triples []rdf.Triple, subject, fragment string) string {
	if label := value(triples, subject, rdf.RDFS+"label"); label != "" {
		return label
	}
	title := rdf.LabelOf(rdf.MS + classOf(triples, subject))
	if record := value(triples, subject, rdf.MS+"record"); record != "" && s.labels[record] != "" {
		return title + ": " + s.labels[record]
	}
	if title == "" {
		return strings.ReplaceAll(fragment, "-", " ")
	}
	if number := fragment[strings.LastIndexByte(fragment, '-')+1:]; number != "" && strings.Trim(number, "0123456789") == "" {
		title += " " + number
	}
	return title
}

// partWords are what a part of a thing is called behind the thing's name; "" for what a reader takes for granted, the person whom a record or stone names first
// and his service.
func partWords(fragment string) string {
	words := strings.Split(fragment, "-")
	switch words[0] {
	case "link":
		return "link"
	case "person":
		words = slices.DeleteFunc(words, func(w string) bool { return w == "service" })
		if len(words) == 1 || words[1] == "1" {
			return ""
		}
	}
	return strings.Join(words, " ")
}

// ownPart is what a part of a page's own thing is called on that page: by its name where it has one, a part by class by that class and how many are of it.
func (s *site) ownPart(d document, iri string) string {
	if class := value(d.triples, iri, rdf.VOID+"class"); class != "" {
		return cmp.Or(rdf.LabelOf(class), class) + ": " + value(d.triples, iri, rdf.VOID+"entities")
	}
	if record := value(d.triples, iri, rdf.MS+"record"); record != "" && s.labels[record] != "" {
		text := s.labels[record]
		if p := value(d.triples, iri, rdf.MS+"probability"); p != "" {
			text += ", " + percent(p)
		}
		return text
	}
	if field := value(d.triples, iri, rdf.MS+"field"); field != "" {
		return strings.TrimSuffix(field+": "+value(d.triples, iri, rdf.MS+"level"), ": ")
	}
	for _, p := range append(slices.Clone(names), rdf.DCAT+"downloadURL") {
		if name := value(d.triples, iri, p); name != "" {
			return name
		}
	}
	_, fragment, _ := strings.Cut(iri, "#")
	return cmp.Or(partWords(fragment), rdf.LabelOf(rdf.MS+classOf(d.triples, iri)), strings.ReplaceAll(fragment, "-", " "))
}

// chances are the properties whose numbers are told to readers as percentages.
var chances = []string{rdf.MS + "probability", rdf.MS + "noneProbability", rdf.MS + "seenProbability", rdf.MS + "seenNone"}

// percent is a probability as a percentage; what is no number stays as it is.
func percent(text string) string {
	if p, err := strconv.ParseFloat(text, 64); err == nil && p >= 0 && p <= 1 {
		return vocab.Percent(p)
	}
	return text
}

// decided says in a sentence who decided what, when and why.
func (s *site) decided(d document) string {
	get := func(property string) string { return value(d.triples, d.iri, property) }
	text := cmp.Or(s.labels[get(rdf.PROV+"wasAssociatedWith")], "Somebody") + ": " + rdf.LabelOf(get(rdf.MS+"verdict"))
	if at, err := time.Parse(time.RFC3339, get(rdf.PROV+"endedAtTime")); err == nil {
		text += ", " + at.UTC().Format("2 January 2006")
	}
	if why := get(rdf.MS + "rationale"); why != "" {
		text += ". The reason given: " + why
	}
	return text
}
