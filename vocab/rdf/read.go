package rdf

import (
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"strings"
)

// ReadFile reads a file of Turtle (.ttl) or N-Triples (.nt), by the ending of its name. base is for relative IRIs in Turtle; see
// TurtleOptions. Errors name the file as path has it.
func ReadFile(path, base string) iter.Seq2[Triple, error] {
	return func(yield func(Triple, error) bool) {
		read, err := readerFor(path)
		if err != nil {
			yield(Triple{}, err)
			return
		}
		f, err := os.Open(path)
		if err != nil {
			yield(Triple{}, err)
			return
		}
		defer f.Close()
		for t, err := range read(f, path, base) {
			if !yield(t, err) {
				return
			}
		}
	}
}

func readerFor(path string) (func(*os.File, string, string) iter.Seq2[Triple, error], error) {
	switch ext := strings.ToLower(filepath.Ext(path)); ext {
	case ".nt":
		return func(f *os.File, name, _ string) iter.Seq2[Triple, error] { return ReadNTriples(f, name) }, nil
	case ".ttl":
		return func(f *os.File, name, base string) iter.Seq2[Triple, error] {
			return ReadTurtle(f, TurtleOptions{Name: name, Base: base})
		}, nil
	default:
		return nil, fmt.Errorf("%s: %q is no ending of an RDF file that can be read; want .ttl (Turtle) or .nt (N-Triples)", path, ext)
	}
}
