package rdf

import (
	"bufio"
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// jsonPrefixes are those of the JSON-LD context, longest namespace first. The same context serves every file of a publication.
func jsonPrefixes(base string) []Prefix {
	all := append(prefixes(), Prefix{"edtf", strings.TrimSuffix(EDTF, "EDTF")}, Prefix{"id", base + "id/"})
	slices.SortFunc(all, func(a, b Prefix) int {
		if n := len(b.Namespace) - len(a.Namespace); n != 0 {
			return n
		}
		return strings.Compare(a.Name, b.Name)
	})
	return all
}

// Context is the JSON-LD 1.1 context for the data of a base: its prefixes, and nothing that could change what a term means.
func Context(base string) ([]byte, error) {
	all := jsonPrefixes(base)
	slices.SortFunc(all, func(a, b Prefix) int { return strings.Compare(a.Name, b.Name) })
	var b bytes.Buffer
	b.WriteString("{\n  \"@context\": {\n    \"@version\": 1.1")
	for _, p := range all {
		ns, err := jsonText(p.Namespace)
		if err != nil {
			return nil, err
		}
		fmt.Fprintf(&b, ",\n    %q: %s", p.Name, ns)
	}
	b.WriteString("\n  }\n}\n")
	return b.Bytes(), nil
}

// jsonText is a text in JSON, with "<" and "&" as they are.
func jsonText(s string) (string, error) {
	var b strings.Builder
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(s)
	return strings.TrimSuffix(b.String(), "\n"), err
}

// JSONWriter writes triples as JSON-LD: one object a subject, in the order in which they come, one a line. The triples of a subject come together.
type JSONWriter struct {
	w        *bufio.Writer
	prefixes []Prefix
	subject  string
	block    []Triple
	nodes    int
	err      error
}

// NewJSONWriter starts a document whose context stands at an address, absolute or relative to the document; base is that of the data.
func NewJSONWriter(w io.Writer, base, context string) *JSONWriter {
	j := &JSONWriter{w: bufio.NewWriterSize(w, 16<<10), prefixes: jsonPrefixes(base)}
	j.print(`{"@context": `, j.quote(context), `, "@graph": [`)
	return j
}

func (j *JSONWriter) print(texts ...string) {
	for _, t := range texts {
		if _, err := j.w.WriteString(t); err != nil && j.err == nil {
			j.err = err
		}
	}
}

func (j *JSONWriter) quote(s string) string {
	t, err := jsonText(s)
	if err != nil && j.err == nil {
		j.err = err
	}
	return t
}

// name is a compact IRI where a prefix fits, else the IRI.
func (j *JSONWriter) name(iri string) string {
	for _, p := range j.prefixes {
		if local, ok := strings.CutPrefix(iri, p.Namespace); ok && local != "" && !strings.HasPrefix(local, "//") {
			return p.Name + ":" + local
		}
	}
	return iri
}

// Write takes one triple. Blank nodes are refused.
func (j *JSONWriter) Write(t Triple) error {
	if _, ok := t.Subj.(IRI); !ok {
		return fmt.Errorf("write JSON-LD: %v has no name; published data have no blank nodes", t.Subj)
	}
	if s := t.Subj.String(); s != j.subject {
		j.flush()
		j.subject = s
	}
	j.block = append(j.block, t)
	return j.err
}

func (j *JSONWriter) flush() {
	if len(j.block) == 0 {
		return
	}
	if j.nodes > 0 {
		j.print(",")
	}
	j.nodes++
	j.print("\n{\"@id\": ", j.quote(j.name(j.subject)))
	var predicate string
	open := false
	shut := func() {
		if open {
			j.print("]")
		}
		open = false
	}
	for _, t := range j.block {
		p := t.Pred.String()
		if !open || p != predicate {
			shut()
			key := j.name(p)
			if p == rdfType {
				key = "@type"
			}
			j.print(", ", j.quote(key), ": [")
			open, predicate = true, p
		} else {
			j.print(", ")
		}
		j.object(t.Obj, p == rdfType)
	}
	shut()
	j.print("}")
	j.block = j.block[:0]
}

func (j *JSONWriter) object(o Object, class bool) {
	switch o := o.(type) {
	case IRI:
		if class {
			j.print(j.quote(j.name(o.String())))
		} else {
			j.print(`{"@id": `, j.quote(j.name(o.String())), "}")
		}
	case Literal:
		switch dt := o.DataType.String(); {
		case o.Lang() != "":
			j.print(`{"@value": `, j.quote(o.String()), `, "@language": `, j.quote(o.Lang()), "}")
		case dt == "" || dt == xsd+"string":
			j.print(j.quote(o.String()))
		default:
			j.print(`{"@value": `, j.quote(o.String()), `, "@type": `, j.quote(j.name(dt)), "}")
		}
	default:
		if j.err == nil {
			j.err = fmt.Errorf("write JSON-LD: a blank node; published data have none")
		}
	}
}

// graph begins a named graph, which holds what comes until end.
func (j *JSONWriter) graph(iri string) {
	j.flush()
	if j.nodes > 0 {
		j.print(",")
	}
	j.print("\n{\"@id\": ", j.quote(iri), `, "@graph": [`)
	j.nodes, j.subject = 0, ""
}

func (j *JSONWriter) end() {
	j.flush()
	j.print("\n]}")
	j.nodes, j.subject = 1, ""
}

// Close ends the document. The underlying writer stays open.
func (j *JSONWriter) Close() error {
	j.flush()
	j.print("\n]}\n")
	return errors.Join(j.err, j.w.Flush())
}

func (m *mapper) writeContext(dir string) error {
	text, err := Context(m.base)
	if err != nil {
		return fmt.Errorf("context: %w", err)
	}
	return os.WriteFile(filepath.Join(dir, "context.jsonld"), text, 0o666)
}

// writeDatasetJSON writes both graphs as JSON-LD, where that is asked for.
func (m *mapper) writeDatasetJSON(dir string) error {
	if !m.data.JSONLD {
		return nil
	}
	f, err := os.Create(filepath.Join(dir, "dataset.jsonld"))
	if err != nil {
		return err
	}
	defer f.Close()
	w := NewJSONWriter(f, m.base, "context.jsonld")
	all := func(from iter.Seq2[[]byte, error]) error {
		for line, err := range from {
			if err != nil {
				return err
			}
			t, err := parseLine(line)
			if err != nil {
				return err
			}
			if err := w.Write(t); err != nil {
				return err
			}
		}
		return nil
	}
	if err := all(fileLines(filepath.Join(dir, "dataset.nt"))); err != nil {
		return fmt.Errorf("JSON-LD: %w", err)
	}
	w.graph(m.base + "proposals")
	if err := all(fileLines(filepath.Join(dir, "proposals.nt"))); err != nil {
		return fmt.Errorf("JSON-LD: %w", err)
	}
	w.end()
	return errors.Join(w.Close(), f.Close())
}
