package rdf

import (
	"bufio"
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
)

// A run is a file of sorted subjects with what is said of each, for this process alone. A subject is one frame: its length; how many bytes it has in common
// with the subject before, and the rest; how many sayings; and for each the number of its predicate, how many bytes its object has in common
// with the subject, and the rest. Lengths and numbers are varints.

const runBuffer = 128 << 10

// writeRun sorts a set and writes it.
func writeRun(f *os.File, set *blockSet, rank []uint32) error {
	w := bufio.NewWriterSize(f, runBuffer)
	var frame, before, head []byte
	var err error
	set.sorted(rank, func(subject []byte, said []saying) bool {
		n := sharedPrefix(before, subject)
		frame = binary.AppendUvarint(frame[:0], uint64(n))
		frame = binary.AppendUvarint(frame, uint64(len(subject)-n))
		frame = append(frame, subject[n:]...)
		frame = binary.AppendUvarint(frame, uint64(len(said)))
		for _, x := range said {
			o, n := set.object(x), 0
			if o[0] == '<' {
				n = sharedPrefix(o, subject)
			}
			frame = binary.AppendUvarint(frame, uint64(x.pred))
			frame = binary.AppendUvarint(frame, uint64(n))
			frame = binary.AppendUvarint(frame, uint64(len(o)-n))
			frame = append(frame, o[n:]...)
		}
		before = append(before[:0], subject...)
		head = binary.AppendUvarint(head[:0], uint64(len(frame)))
		if _, err = w.Write(head); err == nil {
			_, err = w.Write(frame)
		}
		return err == nil
	})
	if err != nil {
		return err
	}
	return w.Flush()
}

// run is a run that is read back, subject by subject.
type run struct {
	in      *bufio.Reader
	subject []byte
	frame   []byte
	rest    []byte // of the frame: what is said
}

var errRun = errors.New("sort triples: read back what was written aside: it is not as it was written; look at the disk of the temporary folder, or name another in TMPDIR")

// next reads the next subject; false at the end.
func (r *run) next() (bool, error) {
	size, err := binary.ReadUvarint(r.in)
	if err == io.EOF {
		return false, nil
	}
	if err == nil {
		if uint64(cap(r.frame)) < size {
			r.frame = make([]byte, size+size/2)
		}
		r.frame = r.frame[:size]
		_, err = io.ReadFull(r.in, r.frame)
	}
	if err != nil {
		return false, fmt.Errorf("sort triples: read back what was written aside: %w; look at the disk of the temporary folder, or name another in TMPDIR", err)
	}
	r.rest = r.frame
	shared, ok1 := r.number()
	size2, ok2 := r.number()
	if !ok1 || !ok2 || shared > len(r.subject) || size2 > len(r.rest) {
		return false, errRun
	}
	r.subject = append(r.subject[:shared], r.rest[:size2]...)
	r.rest = r.rest[size2:]
	return true, nil
}

func (r *run) number() (int, bool) {
	n, k := binary.Uvarint(r.rest)
	if k <= 0 || n > 1<<31 {
		return 0, false
	}
	r.rest = r.rest[k:]
	return int(n), true
}

// say says of the last block of a set what the run says of its subject.
func (r *run) say(set *blockSet) error {
	n, ok := r.number()
	if !ok {
		return errRun
	}
	for range n {
		pred, ok1 := r.number()
		shared, ok2 := r.number()
		size, ok3 := r.number()
		if !ok1 || !ok2 || !ok3 || shared > len(r.subject) || size > len(r.rest) {
			return errRun
		}
		from := len(set.arena)
		set.arena = append(append(set.arena, r.subject[:shared]...), r.rest[:size]...)
		set.said = append(set.said, saying{uint32(pred), uint32(from), uint32(shared + size)})
		r.rest = r.rest[size:]
	}
	set.blocks[len(set.blocks)-1].end += uint32(n)
	return nil
}

// merge gives what the runs hold in order, each subject whole.
func (s *Sorter) merge(empty func() *blockSet, yield func(*blockSet) bool) error {
	var h runHeap
	for _, f := range s.runs {
		if _, err := f.Seek(0, io.SeekStart); err != nil {
			return fmt.Errorf("sort triples: %w", err)
		}
		r := &run{in: bufio.NewReaderSize(f, runBuffer)}
		ok, err := r.next()
		if err != nil {
			return err
		}
		if ok {
			h = append(h, r)
		}
	}
	for i := len(h)/2 - 1; i >= 0; i-- {
		h.down(i)
	}
	rank := ranks(s.preds.now())
	out := empty()
	for len(h) > 0 {
		out.open(h[0].subject)
		b := &out.blocks[len(out.blocks)-1]
		parts := 0
		for ; len(h) > 0 && bytes.Equal(h[0].subject, out.subject(*b)); parts++ {
			if err := h[0].say(out); err != nil {
				return err
			}
			ok, err := h[0].next()
			if err != nil {
				return err
			}
			if !ok {
				h[0] = h[len(h)-1]
				h = h[:len(h)-1]
			}
			h.down(0)
		}
		if parts > 1 {
			said := out.sortSaid(rank, out.said[b.first:b.end])
			b.end = b.first + uint32(len(said))
			out.said = out.said[:b.end]
		}
		if len(out.arena) >= setBytes {
			if !yield(out) {
				return nil
			}
			out = empty()
		}
	}
	yield(out)
	return nil
}

// runHeap has the run with the least subject first.
type runHeap []*run

func (h runHeap) down(i int) {
	for {
		least := i
		for _, c := range [2]int{2*i + 1, 2*i + 2} {
			if c < len(h) && bytes.Compare(h[c].subject, h[least].subject) < 0 {
				least = c
			}
		}
		if least == i {
			return
		}
		h[i], h[least] = h[least], h[i]
		i = least
	}
}
