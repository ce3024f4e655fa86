package rdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
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

// take counts a line.
func (w *written) take(line, subject []byte) []byte {
	w.triples++
	s, rest, _ := bytes.Cut(line, []byte{' '})
	if !bytes.Equal(s, subject) {
		subject = append(subject[:0], s...)
		w.subjects++
	}
	if class, ok := bytes.CutPrefix(rest, typePredicate); ok {
		w.classes[string(class[1:len(class)-len("> .\n")])]++
	}
	return subject
}

// tally counts what a sorter holds.
func tally(s *Sorter) (written, error) {
	w := written{classes: map[string]int{}}
	digest := NewNTriplesWriter(io.Discard)
	var subject []byte
	for line, err := range s.lines() {
		if err != nil {
			return w, err
		}
		subject = w.take(line, subject)
		if err := digest.writeLine(line); err != nil {
			return w, err
		}
	}
	var err error
	w.digest, err = digest.Close()
	return w, err
}

// writeGraph writes a graph as N-Triples, with their digest, and as Turtle: in one file, or in parts where there are more triples than one is to hold.
func (m *mapper) writeGraph(dir, name string, from *Sorter) (written, error) {
	w := written{name: name, classes: map[string]int{}}
	nt, err := os.Create(filepath.Join(dir, name+".nt"))
	if err != nil {
		return w, err
	}
	defer nt.Close()
	lines := NewNTriplesWriter(nt)
	blocks := &parts{mapper: m, dir: dir, name: name, limit: m.data.PartTriples}
	if blocks.limit <= 0 {
		blocks.limit = DefaultPartTriples
	}
	defer blocks.abandon()
	behind := newLineQueue(lines)
	defer behind.close()
	var subject []byte
	for line, err := range from.lines() {
		if err != nil {
			return w, err
		}
		subject = w.take(line, subject)
		behind.line(line)
		if err := blocks.line(line); err != nil {
			return w, err
		}
	}
	if err := behind.close(); err != nil {
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
		return w, fmt.Errorf("%s has %d triples as Turtle and %d as N-Triples", name, blocks.count, lines.Count())
	}
	return w, os.WriteFile(filepath.Join(dir, name+".nt.sha256"), []byte(w.digest+"  "+name+".nt\n"), 0o666)
}

// parts writes a graph as Turtle, a new file when the last is full and a new subject begins. A graph that fits into one file has no number in its name.
type parts struct {
	*mapper
	dir, name string
	limit     int
	file      *os.File
	out       *TurtleWriter
	files     []string
	subject   []byte
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

func (p *parts) line(line []byte) error {
	subject := line[:bytes.IndexByte(line, ' ')]
	if p.out == nil {
		if err := p.open(); err != nil {
			return err
		}
	}
	if p.in >= p.limit && !bytes.Equal(subject, p.subject) {
		if err := p.shut(); err != nil {
			return err
		}
		if err := p.open(); err != nil {
			return err
		}
	}
	p.subject = append(p.subject[:0], subject...)
	p.in++
	return p.out.writeLine(line)
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
