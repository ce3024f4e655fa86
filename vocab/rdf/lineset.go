package rdf

import (
	"bufio"
	"bytes"
	"io"
	"slices"
)

// lineSet holds lines of N-Triples, to be sorted.
type lineSet struct {
	arena []byte
	spans []span
	// blocks are stretches of spans that have the same subject, as they came: a writer mostly says all of one thing at a time, and there are far fewer
	// subjects to sort than lines.
	blocks []block
	sorted []span // memory for sort
}

// block is spans[from:to], whose lines begin with the same subject bytes, its blank included.
type block struct{ from, to, subject int }

func (s *lineSet) add(t Triple) error {
	from := len(s.arena)
	arena, err := AppendTriple(s.arena, t)
	if err != nil {
		return err
	}
	s.arena = arena
	s.group(from)
	s.spans = append(s.spans, span{from, len(s.arena)})
	return nil
}

// size is about how much memory the lines take, in bytes.
func (s *lineSet) size() int { return len(s.arena) + 16*len(s.spans) + 24*len(s.blocks) }

func (s *lineSet) reset() { s.arena, s.spans, s.blocks = s.arena[:0], s.spans[:0], s.blocks[:0] }

func (s *lineSet) line(x span) []byte { return s.arena[x.from:x.to] }

// group puts the line that begins at from into the last block, or into a new one.
func (s *lineSet) group(from int) {
	subject := bytes.IndexByte(s.arena[from:], ' ') + 1
	if n := len(s.blocks); n > 0 {
		b := &s.blocks[n-1]
		first := s.spans[b.from].from
		if b.subject == subject && bytes.Equal(s.arena[first:first+subject], s.arena[from:from+subject]) {
			b.to++
			return
		}
	}
	s.blocks = append(s.blocks, block{len(s.spans), len(s.spans) + 1, subject})
}

// sort sorts the lines, and drops repeats. The order of blocks by subject is that of their lines, because a subject with the
// blank after it is never the beginning of another.
func (s *lineSet) sort() {
	if len(s.blocks) == 0 {
		return
	}
	subject := func(b block) []byte {
		from := s.spans[b.from].from
		return s.arena[from : from+b.subject]
	}
	slices.SortStableFunc(s.blocks, func(a, b block) int { return bytes.Compare(subject(a), subject(b)) })
	sorted := slices.Grow(s.sorted[:0], len(s.spans))
	for i := 0; i < len(s.blocks); {
		start := len(sorted)
		first := subject(s.blocks[i])
		for ; i < len(s.blocks) && bytes.Equal(subject(s.blocks[i]), first); i++ {
			sorted = append(sorted, s.spans[s.blocks[i].from:s.blocks[i].to]...)
		}
		group := sorted[start:]
		skip := len(first)
		slices.SortFunc(group, func(a, b span) int { return bytes.Compare(s.line(a)[skip:], s.line(b)[skip:]) })
		group = slices.CompactFunc(group, func(a, b span) bool { return bytes.Equal(s.line(a), s.line(b)) })
		sorted = sorted[:start+len(group)]
	}
	s.spans, s.sorted, s.blocks = sorted, s.spans, s.blocks[:0]
}

// write writes the lines in their order.
func (s *lineSet) write(w io.Writer) error {
	out := bufio.NewWriterSize(w, 256<<10)
	for _, x := range s.spans {
		if _, err := out.Write(s.line(x)); err != nil {
			return err
		}
	}
	return out.Flush()
}
