package rdf

import (
	"fmt"
	"iter"
	"os"
	"path/filepath"
	"strings"
)

// ReadFile reads a file of Turtle (.ttl), N-Triples (.nt) or N-Quads (.nq, the triples of all its graphs), by the ending of its name. base is for
// relative IRIs in Turtle; see TurtleOptions. Errors name the file as path has it.
func ReadFile(path, base string) iter.Seq2[Triple, error] {
	return func(yield func(Triple, error) bool) {
		read := readers[ending(path)]
		if read == nil {
			yield(Triple{}, fmt.Errorf("%s: %q is no ending of an RDF file that can be read; want .ttl (Turtle), .nt (N-Triples) or .nq (N-Quads)", path, ending(path)))
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

// reader reads triples from a file; name is for its errors, base for relative IRIs.
type reader func(f *os.File, name, base string) iter.Seq2[Triple, error]

// readers are those of the endings of files.
var readers = map[string]reader{
	".nt": func(f *os.File, name, _ string) iter.Seq2[Triple, error] { return ReadNTriples(f, name) },
	".nq": func(f *os.File, name, _ string) iter.Seq2[Triple, error] { return readLines(f, name, true, alone) },
	".ttl": func(f *os.File, name, base string) iter.Seq2[Triple, error] {
		return ReadTurtle(f, TurtleOptions{Name: name, Base: base})
	},
}

// Readable reports whether ReadFile reads files with the ending of that name.
func Readable(name string) bool { return readers[ending(name)] != nil }

func ending(name string) string { return strings.ToLower(filepath.Ext(name)) }
