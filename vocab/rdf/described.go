package rdf

import (
	"iter"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
)

// Described gives every triple of a publication, data, proposals and description, sorted by subject, each once.
func Described(dir string) iter.Seq2[Triple, error] {
	return func(yield func(Triple, error) bool) {
		about := NewSorter("", 0)
		defer about.Close()
		for t, err := range ReadFile(filepath.Join(dir, "about.ttl"), "") {
			if err == nil {
				err = about.Add(t)
			}
			if err != nil {
				yield(Triple{}, err)
				return
			}
		}
		for line, err := range merged(both(dir), about.lines()) {
			var t Triple
			if err == nil {
				t, err = parseLine(line)
			}
			if !yield(t, err) || err != nil {
				return
			}
		}
	}
}

// Prefixes are the prefixes of the published files that the triples have use for, that of the base's own things among them.
func Prefixes(base string, triples []Triple) []Prefix {
	used := map[string]bool{}
	use := func(iri string) { used[namespaceOf(iri)] = true }
	for _, t := range triples {
		use(t.Subj.String())
		use(t.Pred.String())
		switch o := t.Obj.(type) {
		case IRI:
			use(o.String())
		case Literal:
			use(o.DataType.String())
		}
	}
	return slices.DeleteFunc(append(prefixes(), Prefix{"id", base + "id/"}), func(p Prefix) bool { return !used[p.Namespace] })
}

// LabelOf is the label of a term of our vocabulary, or of a concept of it, in plain words; "" where it has none.
func LabelOf(iri string) string {
	name, ok := strings.CutPrefix(iri, MS)
	if !ok {
		return ""
	}
	return termLabels()[name]
}

var termLabels = sync.OnceValue(func() map[string]string {
	m := map[string]string{}
	for _, r := range vocab.Rows("ontology") {
		m[r.Get("term")] = r.Get("label")
	}
	for _, s := range schemes() {
		for _, c := range s.concepts {
			m[conceptName(s.kind, c.code)] = c.name()
		}
	}
	return m
})
