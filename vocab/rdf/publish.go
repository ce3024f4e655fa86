package rdf

import (
	"bytes"
	"cmp"
	_ "embed"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// shapes is the SHACL file that goes with every publication; it depends on nothing in the data.
//
//go:embed shapes.ttl
var shapes []byte

// Publish writes a dataset into the folder dir:
//
//	dataset.ttl        the data
//	dataset.nt         the same triples as sorted, canonical N-Triples
//	dataset.nt.sha256  their digest, which names this state of the data
//	vocabulary.ttl     the terms, and a concept scheme for each code list
//	shapes.ttl         SHACL shapes that the data conform to
//	about.ttl          what the dataset is: counts, licence, publisher, inputs (VoID, DCAT)
//	README.txt         the same for people, and what was held back
//
// The folder is written under another name beside dir and renamed when it is whole, so that dir is never half written. A folder that
// holds an earlier publication is replaced; any other that is not empty is refused. The same values give the same bytes.
func Publish(dir string, d Dataset) (Summary, error) {
	var sum Summary
	dir, err := filepath.Abs(dir)
	if err != nil {
		return sum, fmt.Errorf("publish: %w", err)
	}
	if err := replaceable(dir); err != nil {
		return sum, fmt.Errorf("publish: %w", err)
	}
	parent := filepath.Dir(dir)
	if err := os.MkdirAll(parent, 0o777); err != nil {
		return sum, fmt.Errorf("publish: %w", err)
	}
	tmp, err := os.MkdirTemp(parent, "."+filepath.Base(dir)+"-new-*")
	if err != nil {
		return sum, fmt.Errorf("publish into %s: %w", dir, err)
	}
	defer os.RemoveAll(tmp)
	if err := os.Chmod(tmp, 0o755); err != nil {
		return sum, fmt.Errorf("publish into %s: %w", dir, err)
	}
	if err := write(tmp, &d, &sum); err != nil {
		return sum, fmt.Errorf("publish into %s: %w", dir, err)
	}
	if err := swap(tmp, dir); err != nil {
		return sum, fmt.Errorf("publish into %s: %w", dir, err)
	}
	return sum, nil
}

// publishedFiles mark a folder as a publication.
var publishedFiles = []string{"about.ttl", "dataset.nt", "dataset.nt.sha256", "dataset.ttl", "README.txt", "shapes.ttl", "vocabulary.ttl"}

// replaceable reports an error unless dir is not there, empty, or holds a publication and nothing else.
func replaceable(dir string) error {
	entries, err := os.ReadDir(dir)
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, e := range entries {
		if !slices.Contains(publishedFiles, e.Name()) {
			return fmt.Errorf("%s holds %s, which is no file of a publication; name an empty folder, or one that does not exist yet", dir, e.Name())
		}
	}
	return nil
}

func swap(tmp, dir string) error {
	old := tmp + "-old"
	err := os.Rename(dir, old)
	switch {
	case errors.Is(err, os.ErrNotExist):
		return os.Rename(tmp, dir)
	case err != nil:
		return err
	}
	if err := os.Rename(tmp, dir); err != nil {
		return errors.Join(err, os.Rename(old, dir))
	}
	return os.RemoveAll(old)
}

// written is what is known of a data file once it is written.
type written struct {
	triples  int
	subjects int
	classes  map[string]int
	digest   string
}

func write(dir string, d *Dataset, sum *Summary) error {
	m, err := build(d, dir, sum)
	if err != nil {
		return err
	}
	defer m.sort.Close()
	w, err := m.writeData(dir)
	if err != nil {
		return err
	}
	// The runs of the sorter lie in the same folder, and must not be in it when it is renamed.
	if err := m.sort.Close(); err != nil {
		return err
	}
	sum.Triples, sum.Digest = w.triples, w.digest

	g := newGraph(dir)
	g.vocabulary()
	if _, err := g.writeTurtle(filepath.Join(dir, "vocabulary.ttl"), g.prefixes()); err != nil {
		return fmt.Errorf("vocabulary: %w", err)
	}
	if err := os.WriteFile(filepath.Join(dir, "shapes.ttl"), shapes, 0o666); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "dataset.nt.sha256"), []byte(w.digest+"  dataset.nt\n"), 0o666); err != nil {
		return err
	}
	if err := m.writeAbout(dir, w); err != nil {
		return fmt.Errorf("description: %w", err)
	}
	m.notes()
	if err := os.WriteFile(filepath.Join(dir, "README.txt"), []byte(m.readme(w)), 0o666); err != nil {
		return err
	}
	entries, err := os.ReadDir(dir)
	if err != nil {
		return err
	}
	for _, e := range entries {
		sum.Files = append(sum.Files, e.Name())
	}
	return nil
}

// prefixes are those of the namespaces in use.
func (g *graph) prefixes(more ...Prefix) []Prefix {
	var out []Prefix
	for _, p := range append(prefixes(), more...) {
		if g.ns[p.Namespace] {
			out = append(out, p)
		}
	}
	slices.SortFunc(out, func(a, b Prefix) int { return cmp.Compare(a.Name, b.Name) })
	return out
}

// ownPrefixes are those of the dataset itself: one for its things, and one for the columns of each file.
func (m *mapper) ownPrefixes() []Prefix {
	m.ns[m.base+"id/"] = true
	own := []Prefix{{"id", m.base + "id/"}}
	var columns []string
	for ns := range m.ns {
		if strings.HasPrefix(ns, m.base+"column/") {
			columns = append(columns, ns)
		}
	}
	slices.Sort(columns)
	for i, ns := range columns {
		own = append(own, Prefix{"col" + strconv.Itoa(i+1), ns})
	}
	return own
}

func (m *mapper) writeData(dir string) (written, error) {
	w := written{classes: map[string]int{}}
	nt, err := os.Create(filepath.Join(dir, "dataset.nt"))
	if err != nil {
		return w, err
	}
	defer nt.Close()
	ttl, err := os.Create(filepath.Join(dir, "dataset.ttl"))
	if err != nil {
		return w, err
	}
	defer ttl.Close()
	lines := NewNTriplesWriter(nt)
	blocks := NewTurtleWriter(ttl, m.prefixes(m.ownPrefixes()...))
	behind := newLineQueue(lines)
	defer behind.close()
	var subject []byte
	for line, err := range m.sort.lines() {
		if err != nil {
			return w, err
		}
		s, rest, _ := bytes.Cut(line, []byte{' '})
		if !bytes.Equal(s, subject) {
			subject = append(subject[:0], s...)
			w.subjects++
		}
		if class, ok := bytes.CutPrefix(rest, typePredicate); ok {
			w.classes[string(class[1:len(class)-len("> .\n")])]++
		}
		behind.line(line)
		if err := blocks.writeLine(line); err != nil {
			return w, err
		}
	}
	if err := behind.close(); err != nil {
		return w, err
	}
	if w.digest, err = lines.Close(); err != nil {
		return w, err
	}
	if err := errors.Join(blocks.Close(), nt.Close(), ttl.Close()); err != nil {
		return w, err
	}
	w.triples = lines.Count()
	if n := blocks.Count(); n != w.triples {
		return w, fmt.Errorf("dataset.ttl has %d triples and dataset.nt %d", n, w.triples)
	}
	return w, nil
}

// writeTurtle writes a small graph, and says how many triples it has.
func (g *graph) writeTurtle(path string, prefixes []Prefix) (int, error) {
	defer g.sort.Close()
	if g.err != nil {
		return 0, g.err
	}
	f, err := os.Create(path)
	if err != nil {
		return 0, err
	}
	defer f.Close()
	w := NewTurtleWriter(f, prefixes)
	for line, err := range g.sort.lines() {
		if err != nil {
			return 0, err
		}
		if err := w.writeLine(line); err != nil {
			return 0, err
		}
	}
	return w.Count(), errors.Join(w.Close(), f.Close())
}
