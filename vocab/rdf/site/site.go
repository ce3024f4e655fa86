// Package site makes a publication browsable from any host of plain files: a page for each thing that has a name of its own, with the same as Turtle and
// JSON-LD beside it.
//
// An IRI such as BASE/id/marker-x leads to the folder id/marker-x and its index.html; the parts of a thing, whose IRIs have a fragment, have an
// anchor of that name on its page. Everything that a source says is text to be escaped, whatever it looks like.
package site

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"iter"
	"net/url"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/vocab/rdf"
)

// Options say what the site is of.
type Options struct {
	Base                      string // ends in a slash
	Title, Publisher, Licence string
}

// Write adds the pages to the publication in the folder dir, and says how many there are.
func Write(dir string, opt Options) (pages int, err error) {
	s := &site{Options: opt, dir: dir, labels: map[string]string{}}
	defer func() {
		if err != nil {
			err = fmt.Errorf("write the site: %w", err)
		}
	}()
	if err := s.collect(); err != nil {
		return 0, err
	}
	for d, err := range s.documents() {
		if err != nil {
			return pages, err
		}
		if err := s.write(d); err != nil {
			return pages, fmt.Errorf("%s: %w", d.iri, err)
		}
		pages++
	}
	n, err := s.writeLists()
	return pages + n, err
}

type site struct {
	Options
	dir    string
	labels map[string]string // of things that others name
	lists  lists
}

// document is all that one page is about: a thing, its parts, and what names it.
type document struct {
	iri     string
	triples []rdf.Triple
	inward  []inward
}

// inward is a thing that names the document's.
type inward struct{ property, iri, label string }

// documentOf is an IRI without its fragment.
func documentOf(iri string) string {
	d, _, _ := strings.Cut(iri, "#")
	return d
}

// own reports whether an IRI is one of the base, and of a thing that has a page: not a file of the publication.
func (s *site) own(iri string) bool {
	path, ok := strings.CutPrefix(documentOf(iri), s.Base)
	return ok && (strings.HasPrefix(path, "id/") || strings.HasPrefix(path, "column/") || path == "dataset" || path == "proposals")
}

// grouped gives the triples of each document of the publication together. Those of a thing and of its parts are neighbours in the order of subjects, since no
// name of a thing that has parts is the beginning of another.
func (s *site) grouped() iter.Seq2[[]rdf.Triple, error] {
	return func(yield func([]rdf.Triple, error) bool) {
		var block []rdf.Triple
		for t, err := range rdf.Described(s.dir) {
			if err != nil {
				yield(nil, err)
				return
			}
			if len(block) > 0 && documentOf(block[0].Subj.String()) != documentOf(t.Subj.String()) {
				if !yield(block, nil) {
					return
				}
				block = block[:0]
			}
			block = append(block, t)
		}
		if len(block) > 0 {
			yield(block, nil)
		}
	}
}

// collect learns the labels of the things that others name.
func (s *site) collect() error {
	named := map[string]bool{}
	for t, err := range rdf.Described(s.dir) {
		if err != nil {
			return err
		}
		if o, ok := t.Obj.(rdf.IRI); ok && s.own(o.String()) {
			if d := documentOf(o.String()); d != documentOf(t.Subj.String()) {
				named[d] = true
			}
		}
	}
	for block, err := range s.grouped() {
		if err != nil {
			return err
		}
		if d := documentOf(block[0].Subj.String()); named[d] {
			s.labels[d] = labelOf(d, block)
		}
	}
	return nil
}

// The names under which what goes out from a document, and what comes in, are sorted together; they leave this process nowhere.
const (
	outward = "urn:site:1"
	inbound = "urn:site:2"
)

// documents gives each document with what names it, sorted by IRI. Any number goes through files, not memory.
func (s *site) documents() iter.Seq2[document, error] {
	return func(yield func(document, error) bool) {
		sorter := rdf.NewSorter("", 0)
		defer sorter.Close()
		if err := s.fill(sorter); err != nil {
			yield(document{}, err)
			return
		}
		var d document
		for t, err := range sorter.Triples() {
			if err != nil {
				yield(document{}, err)
				return
			}
			if iri := t.Subj.String(); iri != d.iri {
				if len(d.triples) > 0 && !yield(d, nil) {
					return
				}
				d = document{iri: iri}
			}
			text := t.Obj.String()
			if t.Pred.String() == inbound {
				parts := strings.SplitN(text, "\n", 3)
				d.inward = append(d.inward, inward{parts[0], parts[1], parts[2]})
				continue
			}
			for triple, err := range rdf.ReadNTriples(strings.NewReader(text), "line") {
				if err != nil {
					yield(document{}, err)
					return
				}
				d.triples = append(d.triples, triple)
			}
		}
		if len(d.triples) > 0 {
			yield(d, nil)
		}
	}
}

// fill puts every triple under the name of its document, and every naming of another under that one's.
func (s *site) fill(sorter *rdf.Sorter) error {
	add := func(document, way, text string) error {
		subject, err := rdf.NewIRI(document)
		if err != nil {
			return err
		}
		property, err := rdf.NewIRI(way)
		if err != nil {
			return err
		}
		value, err := rdf.NewLiteral(text)
		if err != nil {
			return err
		}
		return sorter.Add(rdf.Triple{Subj: subject, Pred: property, Obj: value})
	}
	var line []byte
	for block, err := range s.grouped() {
		if err != nil {
			return err
		}
		from := documentOf(block[0].Subj.String())
		if !s.own(from) {
			continue
		}
		label := labelOf(from, block)
		for _, t := range block {
			if line, err = rdf.AppendTriple(line[:0], t); err != nil {
				return err
			}
			if err := add(from, outward, string(line)); err != nil {
				return err
			}
			o, ok := t.Obj.(rdf.IRI)
			if !ok || !s.own(o.String()) || documentOf(o.String()) == from {
				continue
			}
			text := t.Pred.String() + "\n" + t.Subj.String() + "\n" + label
			if err := add(documentOf(o.String()), inbound, text); err != nil {
				return err
			}
		}
	}
	return nil
}

// folder is where the page of a document lies, and the way from there to the root of the site.
func (s *site) folder(iri string) (path, root string, err error) {
	rel := strings.TrimPrefix(iri, s.Base)
	path, err = url.PathUnescape(rel)
	if err != nil {
		return "", "", err
	}
	if !filepath.IsLocal(filepath.FromSlash(path)) {
		return "", "", fmt.Errorf("%q would lie outside the site", path)
	}
	return filepath.Join(s.dir, filepath.FromSlash(path)), strings.Repeat("../", strings.Count(rel, "/")+1), nil
}

// write writes the page of a document, and the same as Turtle and JSON-LD.
func (s *site) write(d document) error {
	folder, root, err := s.folder(d.iri)
	if err != nil {
		return err
	}
	if err := os.MkdirAll(folder, 0o777); err != nil {
		return err
	}
	var ttl, jsonld bytes.Buffer
	t := rdf.NewTurtleWriter(&ttl, s.Base, rdf.Prefixes(s.Base, d.triples))
	j := rdf.NewJSONWriter(&jsonld, s.Base, root+"context.jsonld")
	sorted := slices.Clone(d.triples)
	slices.SortStableFunc(sorted, func(a, b rdf.Triple) int { return cmp.Compare("<"+a.Subj.String()+">", "<"+b.Subj.String()+">") })
	for _, x := range sorted {
		if err := errors.Join(t.Write(x), j.Write(x)); err != nil {
			return err
		}
	}
	if err := errors.Join(t.Close(), j.Close()); err != nil {
		return err
	}
	html, err := s.page(d, root)
	if err != nil {
		return err
	}
	return errors.Join(
		os.WriteFile(filepath.Join(folder, "index.ttl"), ttl.Bytes(), 0o666),
		os.WriteFile(filepath.Join(folder, "index.jsonld"), jsonld.Bytes(), 0o666),
		os.WriteFile(filepath.Join(folder, "index.html"), html, 0o666),
	)
}
