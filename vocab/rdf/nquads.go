package rdf

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
	"path/filepath"
)

// Quad is a triple and the graph that it stands in: an IRI, a Blank, or nil for the default graph.
type Quad struct {
	Triple
	Graph Term
}

// ReadNQuads reads RDF 1.1 N-Quads as ReadNTriples reads N-Triples, after the grammar of section 6 of the recommendation.
func ReadNQuads(r io.Reader, name string) iter.Seq2[Quad, error] {
	return readLines(r, name, true, func(t Triple, graph Term) Quad { return Quad{t, graph} })
}

// inGraph puts the triples of our own lines into a named graph.
func inGraph(lines iter.Seq2[[]byte, error], graph string) iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		var buf []byte
		for line, err := range lines {
			if err == nil {
				buf = append(buf[:0], line[:len(line)-len(".\n")]...)
				buf = append(appendIRI(buf, graph), " .\n"...)
			}
			if !yield(buf, err) {
				return
			}
		}
	}
}

// writeQuads writes both graphs into one file, sorted: the data as the default graph, the proposals as a named one.
func writeQuads(dir, graph string) error {
	f, err := os.Create(filepath.Join(dir, "dataset.nq"))
	if err != nil {
		return err
	}
	defer f.Close()
	w := bufio.NewWriterSize(f, 256<<10)
	data, proposals := fileLines(filepath.Join(dir, "dataset.nt")), fileLines(filepath.Join(dir, "proposals.nt"))
	var last []byte
	for line, err := range merged(data, inGraph(proposals, graph)) {
		if err != nil {
			return fmt.Errorf("N-Quads: %w", err)
		}
		if bytes.Compare(last, line) >= 0 {
			return fmt.Errorf("N-Quads: the line %s is out of order", shorten(string(line)))
		}
		last = append(last[:0], line...)
		if _, err := w.Write(line); err != nil {
			return err
		}
	}
	return errors.Join(w.Flush(), f.Close())
}
