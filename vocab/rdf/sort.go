package rdf

import (
	"errors"
	"fmt"
	"iter"
	"os"
)

// DefaultSortMemory is how many bytes of triples a Sorter holds before it writes a run to disk. While one run is sorted and written, the next
// fills as much again.
const DefaultSortMemory = 32 << 20

// Sorter takes triples in any order and gives them back in byte order of their canonical N-Triples lines, each once. What does not
// fit in its memory goes to temporary files, sorted in runs, which are merged at the end. Its methods are called by one goroutine at a time; Close
// ends the one that it keeps itself.
type Sorter struct {
	dir    string
	limit  int
	preds  *predicates
	held   blockSet
	last   string // the IRI of the last block; "" where it has none
	spare  blockSet
	behind chan spilled // of the run that is being written; nil where none is
	runs   []*os.File
	added  int
	sealed bool // the triples were asked for
	buf    []byte
}

// spilled is what becomes of a run: its memory, to be used again, and whether it could be written.
type spilled struct {
	set blockSet
	err error
}

// NewSorter makes a Sorter whose runs go to files in dir ("" for the system's folder for temporary files); memory is in bytes, 0 for the
// default.
func NewSorter(dir string, memory int) *Sorter {
	if memory <= 0 {
		memory = DefaultSortMemory
	}
	return &Sorter{dir: dir, limit: memory, preds: newPredicates()}
}

// Add takes a triple.
func (s *Sorter) Add(t Triple) error {
	if t.Pred == nil || t.Pred.String() == "" {
		return errors.New("predicate: no term")
	}
	return s.add(t.Subj, s.preds.of(t.Pred.String()), t.Obj)
}

// add takes a triple whose predicate has a number.
func (s *Sorter) add(subject Subject, pred uint32, o Object) error {
	if iri, ok := subject.(IRI); ok {
		if err := s.subject(iri); err != nil {
			return err
		}
	} else {
		text, err := appendTerm(nil, subject)
		if err != nil {
			return fmt.Errorf("subject: %w", err)
		}
		if err := s.open(text, ""); err != nil {
			return err
		}
	}
	arena, err := appendTerm(s.held.arena, o)
	if err != nil {
		return fmt.Errorf("object: %w", err)
	}
	return s.object(pred, arena)
}

// addIRI takes a triple whose object is an IRI.
func (s *Sorter) addIRI(subject IRI, pred uint32, o IRI) error {
	if err := s.subject(subject); err != nil {
		return err
	}
	return s.object(pred, appendIRI(s.held.arena, o.String()))
}

// addText takes a triple whose object is a text that was checked, with a language tag and its @, or "".
func (s *Sorter) addText(subject IRI, pred uint32, text, tag string) error {
	if err := s.subject(subject); err != nil {
		return err
	}
	return s.object(pred, append(appendQuoted(s.held.arena, text), tag...))
}

// addTyped takes a triple whose object is a value of a datatype that is not xsd:string; both were checked.
func (s *Sorter) addTyped(subject IRI, pred uint32, lexical, datatype string) error {
	if err := s.subject(subject); err != nil {
		return err
	}
	return s.object(pred, appendIRI(append(appendQuoted(s.held.arena, lexical), "^^"...), datatype))
}

// subject begins what is said of a subject, if it is not the last one.
func (s *Sorter) subject(subject IRI) error {
	iri := subject.String()
	if iri == s.last && iri != "" {
		return nil
	}
	if iri == "" {
		return errors.New("subject: an IRI is empty")
	}
	s.buf = appendIRI(s.buf[:0], iri)
	return s.open(s.buf, iri)
}

func (s *Sorter) open(text []byte, iri string) error {
	if s.sealed {
		return errors.New("sort triples: one was added after they were asked for")
	}
	s.held.open(text)
	s.last = iri
	return nil
}

// object takes the object at the end of the arena.
func (s *Sorter) object(pred uint32, arena []byte) error {
	if s.sealed {
		return errors.New("sort triples: one was added after they were asked for")
	}
	h := &s.held
	from := len(h.arena)
	h.arena = arena
	h.said = append(h.said, saying{pred, uint32(from), uint32(len(arena) - from)})
	h.blocks[len(h.blocks)-1].end++
	s.added++
	if h.size() >= s.limit {
		return s.spill()
	}
	return nil
}

// Added is the number of triples taken, repeats counted.
func (s *Sorter) Added() int { return s.added }

// spill has what is held sorted and written behind the caller's back, after the run before it.
func (s *Sorter) spill() error {
	if err := s.wait(); err != nil {
		return err
	}
	f, err := os.CreateTemp(s.dir, "triples-*.run")
	if err != nil {
		return fmt.Errorf("sort triples: %w", err)
	}
	s.runs = append(s.runs, f)
	full := s.held
	s.held, s.spare, s.last = s.spare, blockSet{}, ""
	behind := make(chan spilled, 1)
	s.behind = behind
	rank := ranks(s.preds.now())
	go func() {
		err := writeRun(f, &full, rank)
		full.reset()
		behind <- spilled{full, err}
	}()
	return nil
}

// wait lets the run that is being written come to its end.
func (s *Sorter) wait() error {
	if s.behind == nil {
		return nil
	}
	done := <-s.behind
	s.behind, s.spare = nil, done.set
	if done.err != nil {
		return fmt.Errorf("sort triples: %w", done.err)
	}
	return nil
}

// setBytes is about how much a set holds that is handed on.
const setBytes = 256 << 10

// sets gives everything in order, each subject whole, in sets that it gets from empty. It ends early where yield says no.
func (s *Sorter) sets(empty func() *blockSet, yield func(*blockSet) bool) error {
	s.sealed = true
	if len(s.runs) > 0 {
		if len(s.held.blocks) > 0 {
			if err := s.spill(); err != nil {
				return err
			}
		}
		if err := s.wait(); err != nil {
			return err
		}
		// Their memory is needed no more.
		s.held, s.spare = blockSet{}, blockSet{}
		return s.merge(empty, yield)
	}
	out := empty()
	more := true
	s.held.sorted(ranks(s.preds.now()), func(subject []byte, said []saying) bool {
		out.open(subject)
		for _, x := range said {
			out.say(x.pred, s.held.object(x))
		}
		if len(out.arena) >= setBytes {
			if more = yield(out); more {
				out = empty()
			}
		}
		return more
	})
	if more {
		yield(out)
	}
	return nil
}

// lines gives the lines, line feed included; each is good until the next.
func (s *Sorter) lines() iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		var set blockSet
		var line []byte
		texts := s.preds.now()
		err := s.sets(func() *blockSet { set.reset(); return &set }, func(set *blockSet) bool {
			for _, b := range set.blocks {
				for _, x := range set.said[b.first:b.end] {
					line = set.appendLine(line[:0], texts, b, x)
					if !yield(line, nil) {
						return false
					}
				}
			}
			return true
		})
		if err != nil {
			yield(nil, err)
		}
	}
}

// Triples gives the triples in order, each once. It may be ranged over more than once; nothing can be added after.
func (s *Sorter) Triples() iter.Seq2[Triple, error] {
	return func(yield func(Triple, error) bool) {
		for line, err := range s.lines() {
			var t Triple
			if err == nil {
				if t, err = parseLine(line); err != nil {
					err = fmt.Errorf("sort triples: a line that was written does not read back: %w", err)
				}
			}
			if !yield(t, err) || err != nil {
				return
			}
		}
	}
}

// Close removes the temporary files.
func (s *Sorter) Close() error {
	errs := []error{s.wait()}
	for _, f := range s.runs {
		errs = append(errs, f.Close(), os.Remove(f.Name()))
	}
	s.runs, s.held, s.spare = nil, blockSet{}, blockSet{}
	return errors.Join(errs...)
}
