package intake

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab/rdf"
)

// graphBinding names the terms for complaints about a graph, which has properties where a table has columns.
func graphBinding() binding {
	var b binding
	for _, n := range termNames {
		if n.on&onRecords != 0 && b.columns[n.term] == "" {
			b.columns[n.term] = "ms:" + n.name
		}
	}
	return b
}

// graphMapping is the small table by which a roster that others published comes in: each described column has a property of the file as its title or
// name (whole, or with a known prefix), and what it means as its propertyUrl.
func graphMapping(meta tableMeta) map[string]term {
	m := map[string]term{}
	for _, c := range meta.columns {
		if c.virtual || c.other {
			continue
		}
		meaning, _ := termOf(c.property, true)
		if meaning == noTerm {
			continue
		}
		for _, name := range append([]string{c.name}, c.titles...) {
			if iri, ok := Expand(name); ok {
				m[iri] = meaning
			}
		}
	}
	return m
}

// describedProperties are the properties of a graph that the metadata keep from publication, named as its cells are, and those that the metadata give to every record. A name without a prefix is one of ours,
// and stands for all properties that mean the same, as a propertyUrl does that stands alone.
func describedProperties(meta tableMeta) []Column {
	var out []Column
	for _, c := range meta.columns {
		if c.virtual && (c.private || !c.other && c.fallback != "") {
			meaning, _ := termOf(c.property, true)
			out = append(out, Column{Name: c.label(), Term: termName(meaning), Property: c.property, Virtual: true, Private: c.private, Default: c.fallback})
		}
		if c.virtual || !c.private {
			continue
		}
		keep := func(iri string, alone bool) {
			meaning, _ := termOf(c.property, true)
			if meaning == noTerm {
				meaning, _ = termOf(iri, true)
			}
			all := []string{iri}
			if alone {
				all = append(all, propertiesOf(meaning)...)
				for theirs, of := range graphMapping(meta) {
					if of == meaning {
						all = append(all, theirs)
					}
				}
				slices.Sort(all[1:])
			}
			for _, iri := range all {
				if name := short(iri); !slices.ContainsFunc(out, func(c Column) bool { return c.Name == name }) {
					out = append(out, Column{Name: name, Term: termName(meaning), Property: c.property, Private: true})
				}
			}
		}
		named := false
		for _, name := range append([]string{c.name}, c.titles...) {
			if name == "" {
				continue
			}
			iri, ok := Expand(name)
			if !ok {
				iri = vocabulary + name
			}
			named = true
			keep(iri, !ok)
		}
		if !named && c.property != "" {
			keep(c.property, true)
		}
	}
	return out
}

// eachSubject reads a roster of Turtle, N-Triples or N-Quads and hands over each subject that is a service record, as if it were a row, in the
// order of their IRIs whatever the order of the file. Many triples are sorted outside of memory. It reports whether to go on with the next table.
func eachSubject[T any](s *Survey, t *Table, p *pass[T], use func([]*T) bool) bool {
	complain := p.complain
	for _, c := range t.Notices {
		complain(c)
	}
	fault := func(err error, text, hint string) {
		complain(model.Complaint{File: t.File, Text: text, Hint: hint, Fatal: true, Unread: ofTheDisk(err)})
	}
	sorter := rdf.NewSorter("", 0)
	defer sorter.Close()
	broken := s.sortTriples(t, sorter, fault)
	r := newReading(t, newMemory())
	var triples []rdf.Triple
	records := 0
	finish := func() bool {
		if len(triples) == 0 || triples[0].Subj.String() == broken || !r.statements(triples) {
			return true
		}
		records++
		if p.again {
			r.renew()
		}
		return p.one(r, use)
	}
	for triple, err := range sorter.Triples() {
		if err != nil {
			fault(err, "its statements cannot be sorted: "+err.Error(), "make room in the folder for temporary files")
			return true
		}
		if len(triples) > 0 && triple.Subj.String() != triples[0].Subj.String() {
			if !finish() {
				return false
			}
			triples = triples[:0]
		}
		triples = append(triples, triple)
	}
	if !finish() {
		return false
	}
	if records == 0 {
		fault(nil, "it holds no service record", "give its subjects the type ms:ServiceRecord, or describe the file in "+MetadataFile+" with that type")
	}
	return true
}

// sortTriples reads the file into the sorter. Where it breaks off, that is told, and the subject is given in which it did.
func (s *Survey) sortTriples(t *Table, sorter *rdf.Sorter, fault func(err error, text, hint string)) (broken string) {
	for triple, err := range rdf.ReadFile(s.path(t.File), s.Base) {
		var syntax *rdf.SyntaxError
		switch {
		case errors.As(err, &syntax):
			fault(err, fmt.Sprintf("line %d, column %d: %s; the subject in which that stands was left out, and what follows was not read", syntax.Line, syntax.Column, syntax.Text),
				"mend the file there")
			return broken
		case err != nil:
			fault(err, "it cannot be read to its end: "+plainError(err), "look at the disk and at its permissions")
			return broken
		}
		broken = triple.Subj.String()
		if err := sorter.Add(triple); err != nil {
			fault(err, "a statement cannot be held: "+err.Error(), "look at its characters")
		}
	}
	return ""
}

// statements makes the values of terms of what is said of one subject. It reports whether the subject is a service record: it has that
// type, or the metadata say that all subjects are and it has some known property.
func (r *reading) statements(triples []rdf.Triple) bool {
	r.terms = [termCount]string{}
	r.written = nil
	r.row = 0
	r.subject = ""
	subject := triples[0].Subj
	if _, ok := subject.(rdf.IRI); ok {
		r.subject = subject.String()
	}
	typed, known := false, false
	var twice []term
	for _, t := range triples {
		property := t.Pred.String()
		value := t.Obj.String()
		if property == typeIRI {
			typed = typed || value == vocabulary+"ServiceRecord"
			continue
		}
		if !isBlank(value) {
			if _, blank := t.Obj.(rdf.Blank); !blank {
				r.written = append(r.written, model.Cell{Column: short(property), Value: value})
			}
		}
		meaning, mapped := r.table.mapping[property]
		if !mapped {
			meaning, _ = termOf(property, true)
		}
		if meaning == noTerm {
			continue
		}
		if _, iri := t.Obj.(rdf.IRI); iri {
			value = localName(value)
		}
		known = true
		if value = strings.TrimSpace(value); r.terms[meaning] == "" {
			r.terms[meaning] = value
		} else if value != "" {
			twice = append(twice, meaning)
		}
	}
	for t := range termCount {
		r.bound(t)
	}
	if !typed && !(known && r.table.meta.kind.holdsRecords()) {
		return false
	}
	// What the metadata say of every record ("ms:conflict", "default": "civil-war") stands where the graph does not say otherwise.
	for i := range r.table.meta.columns {
		c := &r.table.meta.columns[i]
		if !c.virtual || c.other || c.fallback == "" {
			continue
		}
		if meaning, _ := termOf(c.property, true); meaning != noTerm && r.terms[meaning] == "" {
			r.terms[meaning] = c.fallback
		}
	}
	for _, t := range twice {
		r.tell(t, fmt.Sprintf("<%s> gives it more than once; %q was taken", r.subject, r.terms[t]), "give it once")
	}
	return true
}

// localName is the last part of an IRI.
func localName(iri string) string {
	iri = strings.TrimRight(iri, "/#")
	return iri[strings.LastIndexAny(iri, "#/:")+1:]
}

// short writes an IRI with a prefix where one of those known fits.
func short(iri string) string {
	for _, p := range []string{"ms", "schema", "foaf", "geo", "dcterms", "dc11", "rdfs", "skos", "prov", "org"} {
		if local, ok := strings.CutPrefix(iri, prefixes[p]); ok && local != "" && !strings.ContainsAny(local, "/#") {
			return p + ":" + local
		}
	}
	return iri
}
