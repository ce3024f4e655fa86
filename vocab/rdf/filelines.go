package rdf

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"
)

// fileLines gives the lines of a file of our own N-Triples, line feeds included; each is good until the next. A file that is not there has none.
func fileLines(path string) iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		f, err := os.Open(path)
		if errors.Is(err, os.ErrNotExist) {
			return
		}
		if err != nil {
			yield(nil, err)
			return
		}
		defer f.Close()
		r := &lineReader{in: bufio.NewReaderSize(f, 256<<10)}
		for {
			ok, err := r.next()
			if err != nil {
				yield(nil, fmt.Errorf("read %s: %w", path, err))
				return
			}
			if !ok || !yield(r.line, nil) {
				return
			}
		}
	}
}

// side says in which of two sorted files a line stands.
type side int

const (
	left side = 1 << iota
	right
)

// together goes through two sorted sequences of lines side by side, and says of each line which of them has it.
func together(a, b iter.Seq2[[]byte, error]) iter.Seq2[side, lineOrError] {
	return func(yield func(side, lineOrError) bool) {
		nextA, stopA := iter.Pull2(a)
		defer stopA()
		nextB, stopB := iter.Pull2(b)
		defer stopB()
		x, errA, okA := nextA()
		y, errB, okB := nextB()
		for okA || okB {
			if err := errors.Join(errA, errB); err != nil {
				yield(0, lineOrError{err: err})
				return
			}
			var s side
			line := x
			switch c := bytes.Compare(x, y); {
			case !okB, okA && c < 0:
				s = left
			case !okA, c > 0:
				s, line = right, y
			default:
				s = left | right
			}
			if !yield(s, lineOrError{line: line}) {
				return
			}
			if s&left != 0 {
				x, errA, okA = nextA()
			}
			if s&right != 0 {
				y, errB, okB = nextB()
			}
		}
	}
}

type lineOrError struct {
	line []byte
	err  error
}

// merged gives the lines of two sorted files in one order, each once.
func merged(a, b iter.Seq2[[]byte, error]) iter.Seq2[[]byte, error] {
	return func(yield func([]byte, error) bool) {
		for _, l := range together(a, b) {
			if !yield(l.line, l.err) || l.err != nil {
				return
			}
		}
	}
}

// parseLine reads a line of our own.
func parseLine(line []byte) (Triple, error) {
	p := lineParser{s: string(bytes.TrimSuffix(line, []byte("\n")))}
	t, ok, err := p.triple()
	if err == nil && !ok {
		err = io.ErrUnexpectedEOF
	}
	if err != nil {
		return t, fmt.Errorf("line %s: %w", shorten(string(line)), err)
	}
	return t, nil
}

// lineReader reads lines of any length; each is good until the next.
type lineReader struct {
	in   *bufio.Reader
	line []byte
}

// next reads the next line; false at the end.
func (r *lineReader) next() (bool, error) {
	part, err := r.in.ReadSlice('\n')
	if err == nil {
		r.line = part
		return true, nil
	}
	long := append([]byte(nil), part...)
	for errors.Is(err, bufio.ErrBufferFull) {
		part, err = r.in.ReadSlice('\n')
		long = append(long, part...)
	}
	r.line = long
	if err == io.EOF && len(long) == 0 {
		return false, nil
	}
	return err == nil, err
}
