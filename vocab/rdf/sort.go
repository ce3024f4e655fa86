package rdf

import (
	"bufio"
	"bytes"
	"container/heap"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
)

// DefaultSortMemory is how many bytes of lines a Sorter holds before it writes a run to disk. While one run is sorted and written, the next
// fills as much again.
const DefaultSortMemory = 32 << 20

// Sorter takes triples in any order and gives them back in byte order of their canonical N-Triples lines, each once. What does not
// fit in its memory goes to temporary files, sorted in runs, which are merged at the end. Its methods are called by one goroutine at a time; Close
// ends the one that it keeps itself.
type Sorter struct {
	dir    string
	limit  int
	held   lineSet
	spare  lineSet
	behind chan spilled // of the run that is being written; nil where none is
	runs   []*os.File
	added  int
	sealed bool // the lines were asked for
}

// spilled is what becomes of a run: its memory, to be used again, and whether it could be written.
type spilled struct {
	set lineSet
	err error
}

// NewSorter makes a Sorter whose runs go to files in dir ("" for the system's folder for temporary files); memory is in bytes, 0 for the
// default.
func NewSorter(dir string, memory int) *Sorter {
	if memory <= 0 {
		memory = DefaultSortMemory
	}
	return &Sorter{dir: dir, limit: memory}
}

// Add takes a triple.
func (s *Sorter) Add(t Triple) error {
	if s.sealed {
		return errors.New("sort triples: one was added after they were asked for")
	}
	if err := s.held.add(t); err != nil {
		return err
	}
	s.added++
	if s.held.size() >= s.limit {
		return s.spill()
	}
	return nil
}

// Added is the number of triples taken, repeats counted.
func (s *Sorter) Added() int { return s.added }

// spill has the lines held sorted and written behind the caller's back, after the run before them.
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
	s.held, s.spare = s.spare, lineSet{}
	behind := make(chan spilled, 1)
	s.behind = behind
	go func() {
		full.sort()
		err := full.write(f)
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

// Triples gives the triples in order, each once. It may be ranged over more than once; nothing can be added after.
func (s *Sorter) Triples() iter.Seq2[Triple, error] {
	return func(yield func(Triple, error) bool) {
		for line, err := range s.lines() {
			if err != nil {
				yield(Triple{}, err)
				return
			}
			p := lineParser{s: string(bytes.TrimSuffix(line, []byte("\n")))}
			t, _, err := p.triple()
			if err != nil {
				err = fmt.Errorf("sort triples: a line that was written does not read back: %w", err)
			}
			if !yield(t, err) || err != nil {
				return
			}
		}
	}
}

// lines gives the lines, line feed included; each is good until the next.
func (s *Sorter) lines() iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		s.sealed = true
		if len(s.runs) == 0 {
			s.held.sort()
			for _, x := range s.held.spans {
				if !yield(s.held.line(x), nil) {
					return
				}
			}
			return
		}
		if len(s.held.spans) > 0 {
			if err := s.spill(); err != nil {
				yield(nil, err)
				return
			}
		}
		if err := s.wait(); err != nil {
			yield(nil, err)
			return
		}
		s.merge(yield)
	}
}

func (s *Sorter) merge(yield func([]byte, error) bool) {
	var h runHeap
	for _, f := range s.runs {
		if _, err := f.Seek(0, io.SeekStart); err != nil {
			yield(nil, fmt.Errorf("sort triples: %w", err))
			return
		}
		r := &run{in: bufio.NewReaderSize(f, 256<<10)}
		if ok, err := r.next(); err != nil {
			yield(nil, err)
			return
		} else if ok {
			h = append(h, r)
		}
	}
	heap.Init(&h)
	var last []byte
	for len(h) > 0 {
		r := h[0]
		if !bytes.Equal(r.line, last) {
			last = append(last[:0], r.line...)
			if !yield(last, nil) {
				return
			}
		}
		ok, err := r.next()
		switch {
		case err != nil:
			yield(nil, err)
			return
		case ok:
			heap.Fix(&h, 0)
		default:
			heap.Pop(&h)
		}
	}
}

// Close removes the temporary files.
func (s *Sorter) Close() error {
	errs := []error{s.wait()}
	for _, f := range s.runs {
		errs = append(errs, f.Close(), os.Remove(f.Name()))
	}
	s.runs, s.held, s.spare = nil, lineSet{}, lineSet{}
	return errors.Join(errs...)
}

type run struct {
	in   *bufio.Reader
	line []byte
}

// next reads the run's next line; false at its end.
func (r *run) next() (bool, error) {
	r.line = r.line[:0]
	for {
		part, err := r.in.ReadSlice('\n')
		r.line = append(r.line, part...)
		switch {
		case err == nil:
			return true, nil
		case errors.Is(err, bufio.ErrBufferFull):
		case err == io.EOF && len(r.line) == 0:
			return false, nil
		default:
			return false, fmt.Errorf("sort triples: read back a run: %w", err)
		}
	}
}

type runHeap []*run

func (h runHeap) Len() int           { return len(h) }
func (h runHeap) Less(i, j int) bool { return bytes.Compare(h[i].line, h[j].line) < 0 }
func (h runHeap) Swap(i, j int)      { h[i], h[j] = h[j], h[i] }
func (h *runHeap) Push(x any)        { *h = append(*h, x.(*run)) }
func (h *runHeap) Pop() any {
	old := *h
	x := old[len(old)-1]
	*h = old[:len(old)-1]
	return x
}
