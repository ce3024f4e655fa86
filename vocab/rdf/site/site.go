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
	"runtime"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab/rdf"
)

// Options say what the site is of.
type Options struct {
	Base                      string // ends in a slash
	Title, Publisher, Licence string
}

// Write adds the pages to the publication in the folder dir, and says how many there are. It goes through the publication twice: once for what things are
// called and what names them, which it holds in memory and in sorted files, and once to write a page when all of its thing has gone by.
func Write(dir string, opt Options) (pages int, err error) {
	opt.Title = cmp.Or(opt.Title, rdf.DefaultTitle)
	s := &site{Options: opt, dir: dir, labels: map[string]string{}}
	defer func() {
		if err != nil {
			err = fmt.Errorf("write the site: %w", err)
		}
	}()
	named := rdf.NewSorter("", 0)
	defer named.Close()
	if err := s.collect(named); err != nil {
		return 0, err
	}
	if pages, err = s.writePages(named); err != nil {
		return pages, err
	}
	n, err := s.writeLists()
	return pages + n, err
}

type site struct {
	Options
	dir    string
	labels map[string]string // of the things that have a page
	lists  lists
}

// writePages writes the page of each document, several at a time.
func (s *site) writePages(named *rdf.Sorter) (pages int, err error) {
	var (
		work   sync.WaitGroup
		once   sync.Once
		broken error
		stop   = make(chan struct{})
		todo   = make(chan document)
	)
	for range runtime.GOMAXPROCS(0) {
		work.Go(func() {
			for d := range todo {
				if err := s.write(d); err != nil {
					once.Do(func() { broken = fmt.Errorf("%s: %w", d.iri, err); close(stop) })
				}
			}
		})
	}
	for d, err := range s.documents(named) {
		if err != nil {
			close(todo)
			work.Wait()
			return pages, err
		}
		s.lists.take(d)
		select {
		case todo <- d:
			pages++
			continue
		case <-stop:
		}
		break
	}
	close(todo)
	work.Wait()
	return pages, broken
}

// document is all that one page is about: a thing, its parts, and what names it.
type document struct {
	iri     string
	triples []rdf.Triple
	inward  []inward
}

// inward are the things that name the document's by one property.
type inward struct {
	property string
	things   []naming
	more     int // beyond mostInward
}

// naming is a thing that names another.
type naming struct{ iri, label string }

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
				block = nil
			}
			block = append(block, t)
		}
		if len(block) > 0 {
			yield(block, nil)
		}
	}
}

// inbound is the property under which what names a document is sorted; it leaves this process nowhere.
const inbound = "urn:site:named"

// collect learns what things are called, and what names each.
func (s *site) collect(named *rdf.Sorter) error {
	property, err := rdf.NewIRI(inbound)
	if err != nil {
		return err
	}
	for block, err := range s.grouped() {
		if err != nil {
			return err
		}
		from := documentOf(block[0].Subj.String())
		if !s.own(from) {
			continue
		}
		label := labelOf(from, block)
		s.labels[from] = label
		for _, t := range block {
			o, ok := t.Obj.(rdf.IRI)
			if !ok || !s.own(o.String()) || documentOf(o.String()) == from {
				continue
			}
			target, err := rdf.NewIRI(documentOf(o.String()))
			if err != nil {
				return err
			}
			text, err := rdf.NewLiteral(t.Pred.String() + "\n" + t.Subj.String() + "\n" + label)
			if err != nil {
				return err
			}
			if err := named.Add(rdf.Triple{Subj: target, Pred: property, Obj: text}); err != nil {
				return err
			}
		}
	}
	return nil
}

// documents gives each document with what names it. Both come in the order of their IRIs.
func (s *site) documents(named *rdf.Sorter) iter.Seq2[document, error] {
	return func(yield func(document, error) bool) {
		next, stop := iter.Pull2(named.Triples())
		defer stop()
		t, err, more := next()
		for block, err2 := range s.grouped() {
			if err := cmp.Or(err, err2); err != nil {
				yield(document{}, err)
				return
			}
			d := document{iri: documentOf(block[0].Subj.String()), triples: block}
			if !s.own(d.iri) {
				continue
			}
			// What is named and of which nothing is said has no page.
			for more && err == nil && "<"+t.Subj.String()+">" <= "<"+d.iri+">" {
				if t.Subj.String() == d.iri {
					d.name(t.Obj.String())
				}
				t, err, more = next()
			}
			if !yield(d, nil) {
				return
			}
		}
		if err != nil {
			yield(document{}, err)
		}
	}
}

// name takes down what names the document; the namings come sorted by property.
func (d *document) name(text string) {
	parts := strings.SplitN(text, "\n", 3)
	if n := len(d.inward); n == 0 || d.inward[n-1].property != parts[0] {
		d.inward = append(d.inward, inward{property: parts[0]})
	}
	g := &d.inward[len(d.inward)-1]
	if len(g.things) == mostInward {
		g.more++
		return
	}
	g.things = append(g.things, naming{parts[1], parts[2]})
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
