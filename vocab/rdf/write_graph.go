package rdf

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"sync/atomic"
)

// written is what is known of a graph once it is written.
type written struct {
	name     string
	triples  int
	subjects int
	classes  map[string]int
	digest   string
	turtle   []string // names of its files of Turtle
	changes  bool     // there is a publication before it
}

// take counts what a set holds.
func (w *written) take(set *blockSet, texts [][]byte) {
	w.triples += len(set.said)
	w.subjects += len(set.blocks)
	for _, x := range set.said {
		if string(texts[x.pred]) == typePredicate {
			o := set.object(x)
			w.classes[string(o[1:len(o)-1])]++
		}
	}
}

const typePredicate = "<" + rdfType + ">"

// tally counts what a sorter holds.
func tally(s *Sorter) (written, error) {
	w := written{classes: map[string]int{}}
	digest := newNTriplesWriter(io.Discard)
	texts := s.preds.now()
	var set blockSet
	var failed error
	err := s.sets(func() *blockSet { set.reset(); return &set }, func(set *blockSet) bool {
		w.take(set, texts)
		failed = digest.writeSet(set, texts)
		return failed == nil
	})
	if err = errors.Join(err, failed); err != nil {
		return w, err
	}
	w.digest, err = digest.Close()
	return w, err
}

// setsUnderway is how many sets are filled or being written at one time.
const setsUnderway = 8

// writeGraph writes a graph as N-Triples, with their digest, and as Turtle: in one file, or in parts where there are more triples than one is to hold.
// Merging, N-Triples and Turtle each go on in a goroutine of their own.
func (m *mapper) writeGraph(dir, name string, from *Sorter) (written, error) {
	w := written{name: name, classes: map[string]int{}}
	nt, err := os.Create(filepath.Join(dir, name+".nt"))
	if err != nil {
		return w, err
	}
	defer nt.Close()
	lines := newNTriplesWriter(nt)
	blocks := &parts{mapper: m, dir: dir, name: name, limit: m.data.PartTriples}
	if blocks.limit <= 0 {
		blocks.limit = DefaultPartTriples
	}
	defer blocks.abandon()
	texts := from.preds.now()
	free := make(chan *blockSet, setsUnderway)
	for range setsUnderway {
		free <- &blockSet{}
	}
	asLines := startWriter(func(set *blockSet) error { return lines.writeSet(set, texts) })
	asBlocks := startWriter(func(set *blockSet) error {
		w.take(set, texts)
		return blocks.set(set, texts)
	})
	err = from.sets(func() *blockSet { return <-free }, func(set *blockSet) bool {
		x := &shared{set: set, free: free}
		x.users.Store(2)
		asLines.sets <- x
		asBlocks.sets <- x
		return !asLines.failed.Load() && !asBlocks.failed.Load()
	})
	if err := errors.Join(err, asLines.end(), asBlocks.end()); err != nil {
		return w, err
	}
	if w.digest, err = lines.Close(); err != nil {
		return w, err
	}
	if w.turtle, err = blocks.close(); err != nil {
		return w, err
	}
	if err := nt.Close(); err != nil {
		return w, err
	}
	if w.triples != lines.Count() || w.triples != blocks.count {
		return w, fmt.Errorf("%s has %d triples as Turtle and %d as N-Triples: a fault of the program or of the disk; nothing was published, try again", name, blocks.count, lines.Count())
	}
	return w, os.WriteFile(filepath.Join(dir, name+".nt.sha256"), []byte(w.digest+"  "+name+".nt\n"), 0o666)
}

// shared is a set that several writers read; the last one gives it back.
type shared struct {
	set   *blockSet
	users atomic.Int32
	free  chan *blockSet
}

func (x *shared) done() {
	if x.users.Add(-1) == 0 {
		x.set.reset()
		x.free <- x.set
	}
}

// setWriter writes sets in a goroutine of its own. After a fault it only gives them back.
type setWriter struct {
	sets   chan *shared
	failed atomic.Bool
	err    chan error
}

func startWriter(write func(*blockSet) error) *setWriter {
	w := &setWriter{sets: make(chan *shared, setsUnderway), err: make(chan error, 1)}
	go func() {
		var err error
		for x := range w.sets {
			if err == nil {
				if err = write(x.set); err != nil {
					w.failed.Store(true)
				}
			}
			x.done()
		}
		w.err <- err
	}()
	return w
}

// end waits until all is written.
func (w *setWriter) end() error {
	close(w.sets)
	return <-w.err
}

// parts writes a graph as Turtle, a new file when the last is full and a new subject begins. A graph that fits into one file has no number in its name.
type parts struct {
	*mapper
	dir, name string
	limit     int
	file      *os.File
	out       *TurtleWriter
	files     []string
	in, count int // triples in the file, and before it
}

func partName(name string, n int) string { return fmt.Sprintf("%s-part-%03d.ttl", name, n) }

var partNames = regexp.MustCompile(`^(dataset|proposals)-part-[0-9]{3,}\.ttl$`)

// isPart reports whether a file is a part of a large graph.
func isPart(name string) bool { return partNames.MatchString(name) }

func (p *parts) open() error {
	name := p.name + ".ttl"
	if len(p.files) > 0 {
		name = partName(p.name, len(p.files)+1)
	}
	f, err := os.Create(filepath.Join(p.dir, name))
	if err != nil {
		return err
	}
	p.file, p.in = f, 0
	p.files = append(p.files, name)
	p.out = NewTurtleWriter(f, p.base, p.prefixes(p.ownPrefixes()...))
	return nil
}

func (p *parts) set(set *blockSet, texts [][]byte) error {
	for _, b := range set.blocks {
		if p.out != nil && p.in >= p.limit {
			if err := p.shut(); err != nil {
				return err
			}
			p.out = nil
		}
		if p.out == nil {
			if err := p.open(); err != nil {
				return err
			}
		}
		p.in += int(b.end - b.first)
		if err := p.out.writeBlock(set, texts, b); err != nil {
			return err
		}
	}
	return nil
}

func (p *parts) shut() error {
	err := p.out.Close()
	p.count += p.out.Count()
	return errors.Join(err, p.file.Close())
}

// close ends the last file. Where there are several, the first gets its number too.
func (p *parts) close() ([]string, error) {
	if p.out == nil {
		if err := p.open(); err != nil {
			return nil, err
		}
	}
	err := p.shut()
	p.file = nil
	if err == nil && len(p.files) > 1 {
		first := partName(p.name, 1)
		err = os.Rename(filepath.Join(p.dir, p.files[0]), filepath.Join(p.dir, first))
		p.files[0] = first
	}
	return p.files, err
}

func (p *parts) abandon() {
	if p.file != nil {
		p.file.Close()
	}
}
