package site

import (
	"strings"

	"musterstone/vocab/rdf"
)

// schema is what search engines read of a page (schema.org, as JSON-LD); nil where that has no words for the thing.
func (s *site) schema(d document, class string) any {
	node := map[string]any{"@context": "https://schema.org", "@id": d.iri, "url": d.iri, "name": labelOf(d.iri, d.triples)}
	get := func(subject, property string) string { return value(d.triples, subject, property) }
	put := func(name, text string) {
		if text != "" {
			node[name] = text
		}
	}
	switch class {
	case "Person":
		node["@type"] = "Person"
	case "Marker":
		node["@type"] = "CreativeWork"
		node["additionalType"] = rdf.MS + "Marker"
		put("text", get(d.iri+"#inscription", rdf.MS+"transcription"))
		put("identifier", get(d.iri, rdf.DCTerms+"identifier"))
		if place := get(d.iri, rdf.MS+"inBurialGround"); place != "" {
			node["contentLocation"] = map[string]any{"@type": "Cemetery", "@id": place, "name": s.labels[place]}
		}
	case "Unit":
		node["@type"] = "Organization"
		if whole := get(d.iri, rdf.ORG+"subOrganizationOf"); whole != "" {
			node["parentOrganization"] = map[string]any{"@type": "Organization", "@id": whole, "name": s.labels[whole]}
		}
	case "BurialGround":
		node["@type"] = "Cemetery"
		var where []string
		for _, p := range []string{get(d.iri, rdf.MS+"county"), rdf.LabelOf(get(d.iri, rdf.MS+"state"))} {
			if p != "" {
				where = append(where, p)
			}
		}
		put("address", strings.Join(where, ", "))
	case "ServiceRecord":
		node["@type"] = "ArchiveComponent"
		put("identifier", get(d.iri, rdf.DCTerms+"identifier"))
	default:
		if d.iri != s.Base+"dataset" {
			return nil
		}
		node["@type"] = "Dataset"
		put("description", get(d.iri, rdf.DCTerms+"description"))
		put("license", get(d.iri, rdf.DCTerms+"license"))
		put("version", get(d.iri, rdf.DCAT+"version"))
	}
	return node
}
