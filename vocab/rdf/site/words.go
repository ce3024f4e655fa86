package site

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"musterstone/vocab/rdf"
)

// propertyWords are plain words for the properties of other vocabularies, whose names were not made for readers.
var propertyWords = map[string]string{
	"http://purl.org/dc/terms/subject":                 "about",
	"http://purl.org/dc/terms/source":                  "by the rule",
	"http://www.opengis.net/ont/geosparql#asWKT":       "point (longitude, latitude)",
	"http://www.opengis.net/ont/geosparql#hasGeometry": "position",
	"http://www.w3.org/2003/01/geo/wgs84_pos#lat":      "latitude",
	"http://www.w3.org/2003/01/geo/wgs84_pos#long":     "longitude",
	"http://www.w3.org/ns/org#changedBy":               "renamed by",
	"http://www.w3.org/ns/org#member":                  "who served",
	"http://www.w3.org/ns/org#organization":            "served in",
	"http://www.w3.org/ns/org#originalOrganization":    "before",
	"http://www.w3.org/ns/org#resultingOrganization":   "after",
	"http://www.w3.org/ns/org#subOrganizationOf":       "part of",
	"http://www.w3.org/ns/prov#endedAtTime":            "when",
	"http://www.w3.org/ns/prov#used":                   "rests on",
	"http://www.w3.org/ns/prov#wasAssociatedWith":      "by",
	"http://www.w3.org/ns/prov#wasDerivedFrom":         "from the file",
	"http://www.w3.org/ns/prov#wasGeneratedBy":         "brought about by",
	"http://www.w3.org/2000/01/rdf-schema#label":       "called",
	"http://www.w3.org/2004/02/skos/core#prefLabel":    "called",
	"http://rdfs.org/ns/void#classPartition":           "parts by class",
	"http://rdfs.org/ns/void#dataDump":                 "files",
	"http://rdfs.org/ns/void#uriSpace":                 "names of things begin with",
	"http://www.w3.org/ns/dcat#distribution":           "forms in which it is given out",
	"http://www.w3.org/ns/sosa/hasFeatureOfInterest":   "observed on",
}

// inwardWords head the lists of things that name another by a property.
var inwardWords = map[string]string{
	rdf.MS + "inBurialGround":                        "What stands or lies here",
	rdf.MS + "inPlot":                                "What stands here",
	rdf.MS + "identifies":                            "The link that says so",
	rdf.MS + "supersedes":                            "The decision that took its place",
	rdf.MS + "record":                                "Where this record is set beside a stone",
	rdf.MS + "recordReference":                       "Links that rest on what this record says",
	"http://www.w3.org/ns/org#organization":          "Who served in it",
	"http://www.w3.org/ns/org#subOrganizationOf":     "Its parts",
	"http://www.w3.org/ns/org#originalOrganization":  "How it lost this name",
	"http://www.w3.org/ns/org#resultingOrganization": "How it came to this name",
	"http://www.w3.org/ns/prov#used":                 "What rests on it",
	"http://www.w3.org/ns/prov#wasAssociatedWith":    "What they did",
	"http://www.w3.org/ns/prov#wasDerivedFrom":       "What was read from it",
	"http://www.w3.org/ns/prov#wasGeneratedBy":       "What it brought about",
}

// names are the properties that only repeat what the heading of a page says.
var names = []string{rdfsLabel, prefLabel, dctTitle, foafName, "http://schema.org/name"}

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
	if label := value(triples, subject, rdfsLabel); label != "" {
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
	const void = "http://rdfs.org/ns/void#"
	if class := value(d.triples, iri, void+"class"); class != "" {
		return cmp.Or(rdf.LabelOf(class), class) + ": " + value(d.triples, iri, void+"entities")
	}
	if record := value(d.triples, iri, rdf.MS+"record"); record != "" && s.labels[record] != "" {
		text := s.labels[record]
		if p := value(d.triples, iri, rdf.MS+"probability"); p != "" {
			text += ", probability " + p
		}
		return text
	}
	if field := value(d.triples, iri, rdf.MS+"field"); field != "" {
		return strings.TrimSuffix(field+": "+value(d.triples, iri, rdf.MS+"level"), ": ")
	}
	for _, p := range append(slices.Clone(names), "http://www.w3.org/ns/dcat#downloadURL") {
		if name := value(d.triples, iri, p); name != "" {
			return name
		}
	}
	_, fragment, _ := strings.Cut(iri, "#")
	return cmp.Or(partWords(fragment), rdf.LabelOf(rdf.MS+classOf(d.triples, iri)), strings.ReplaceAll(fragment, "-", " "))
}

// decided says in a sentence who decided what, when and why.
func (s *site) decided(d document) string {
	get := func(property string) string { return value(d.triples, d.iri, property) }
	text := cmp.Or(s.labels[get("http://www.w3.org/ns/prov#wasAssociatedWith")], "Somebody") + ": " + rdf.LabelOf(get(rdf.MS+"verdict"))
	if at, err := time.Parse(time.RFC3339, get("http://www.w3.org/ns/prov#endedAtTime")); err == nil {
		text += ", " + at.UTC().Format("2 January 2006")
	}
	if why := get(rdf.MS + "rationale"); why != "" {
		text += ". The reason given: " + why
	}
	return text
}
