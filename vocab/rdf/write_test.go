package rdf

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	knakk "github.com/knakk/rdf"
)

func mustRead(t testing.TB, turtle string) []Triple {
	t.Helper()
	all, err := drain(strings.NewReader(turtle))
	if err != nil {
		t.Fatal(err)
	}
	return all
}

func TestWriteTurtle(t *testing.T) {
	in := mustRead(t, `@prefix a: <http://a.example/> . @prefix x: <http://www.w3.org/2001/XMLSchema#> .
a:z a:q 2, 10, "b"@en, "b", "a\nb\t\"c\"\\" ; a:p a:o ; a a:T, a:S ; <http://b.example/p> a:a\,b, a:\-x, <http://c.example/Company_(A)> .
a:y a:p "1"^^a:dt, "true"^^x:boolean, "2025-11-22T16:40:00Z"^^x:dateTime, 1.50 .
a:z a:q 2 .`)
	const want = `@prefix a: <http://a.example/> .
@prefix xsd: <http://www.w3.org/2001/XMLSchema#> .

a:y a:p "1"^^a:dt, "1.50"^^xsd:decimal, "2025-11-22T16:40:00Z"^^xsd:dateTime, "true"^^xsd:boolean .

a:z a a:S, a:T ;
	a:p a:o ;
	a:q "10"^^xsd:integer, "2"^^xsd:integer, "a\nb\t\"c\"\\", "b", "b"@en ;
	<http://b.example/p> <http://a.example/-x>, <http://a.example/a,b>, <http://c.example/Company_(A)> .
`
	for range 5 {
		rand.Shuffle(len(in), func(i, j int) { in[i], in[j] = in[j], in[i] })
		var b bytes.Buffer
		if err := writeTurtle(&b, []Prefix{{"a", "http://a.example/"}, {"xsd", xsd}}, in); err != nil {
			t.Fatal(err)
		}
		if b.String() != want {
			t.Fatalf("got\n%s\nwant\n%s", b.String(), want)
		}
	}
}

// writeTurtle writes triples in any order.
func writeTurtle(w io.Writer, prefixes []Prefix, triples []Triple) error {
	s := NewSorter("", 0)
	defer s.Close()
	for _, t := range triples {
		if err := s.Add(t); err != nil {
			return err
		}
	}
	return s.writeTurtle(NewTurtleWriter(w, "", prefixes))
}

// write takes one triple.
func (w *ntriplesWriter) write(t Triple) error {
	line, err := AppendTriple(nil, t)
	if err != nil {
		return err
	}
	from := len(w.buf)
	w.buf = append(w.buf, line...)
	return w.take(from, 0)
}

func TestWritersRefuse(t *testing.T) {
	ts := mustRead(t, "<http://a/s> <http://a/p> 1 . <http://a/r> <http://a/p> 1 . <http://a/t> <http://a/p> [] . [] <http://a/p> 1 .")
	var b bytes.Buffer
	w := NewTurtleWriter(&b, "", nil)
	if err := w.Write(ts[0]); err != nil {
		t.Fatal(err)
	}
	if err := w.Write(ts[1]); err == nil {
		t.Error("Turtle: a subject out of order was taken")
	}
	for _, tr := range ts[2:] {
		if err := NewTurtleWriter(&b, "", nil).Write(tr); err == nil {
			t.Errorf("Turtle: a blank node was taken: %v", tr)
		}
	}
	if err := NewTurtleWriter(&b, "", nil).Write(Triple{}); err == nil {
		t.Error("Turtle: an empty triple was taken")
	}
	n := newNTriplesWriter(&b)
	if err := n.write(ts[0]); err != nil {
		t.Fatal(err)
	}
	for _, tr := range ts[:2] {
		if err := n.write(tr); err == nil {
			t.Errorf("N-Triples: taken twice or out of order: %v", tr)
		}
	}
	full := errors.New("the disk is full")
	tw := NewTurtleWriter(failing{full}, "", nil)
	err := errors.Join(tw.Write(ts[0]), tw.Close())
	nw := newNTriplesWriter(failing{full})
	if err := nw.write(ts[0]); err != nil {
		t.Fatal(err)
	}
	if _, closed := nw.Close(); !errors.Is(err, full) || !errors.Is(closed, full) {
		t.Errorf("a full disk: %v, %v", err, closed)
	}
}

type failing struct{ err error }

func (f failing) Write([]byte) (int, error) { return 0, f.err }

// TestSorter: with little memory, in many runs, the lines come out as they do from one sort in memory.
func TestSorter(t *testing.T) {
	iri := func(format string, args ...any) IRI {
		t.Helper()
		x, err := NewIRI(fmt.Sprintf(format, args...))
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	p := iri("http://a.example/p")
	text := func(s string) Literal {
		t.Helper()
		l, err := NewLiteral(s)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	// Names that are the beginnings of others, objects that begin as their subjects do, and blank nodes, whose lines sort before the names'.
	blanks := mustRead(t, "[] <http://a.example/p> 1 . [] <http://a.example/p> 2 . [] <http://a.example/p> [] .")
	var want []string
	dir := t.TempDir()
	small, large := NewSorter(dir, 4000), NewSorter(dir, 0)
	for range 3000 {
		n := rand.IntN(500)
		var s Subject = iri("http://a.example/%d%s", n, [...]string{"", "#a", "#a-b", "/x", "-y"}[rand.IntN(5)])
		p := iri("http://a.example/%s", [...]string{"p", "pp", "p#", "b", "z-z"}[rand.IntN(5)])
		var o Object
		switch rand.IntN(4) {
		case 0:
			o = text(strings.Repeat("ü\n", rand.IntN(4)))
		case 1:
			o = iri("http://a.example/%d#b", n)
		case 2:
			o = text(strings.Repeat("long ", 100*rand.IntN(3)))
		default:
			b := blanks[rand.IntN(len(blanks))]
			s, o = b.Subj, b.Obj
		}
		tr := Triple{Subj: s, Pred: p, Obj: o}
		line, err := AppendTriple(nil, tr)
		if err != nil {
			t.Fatal(err)
		}
		want = append(want, string(line))
		if err := errors.Join(small.Add(tr), large.Add(tr)); err != nil {
			t.Fatal(err)
		}
	}
	slices.Sort(want)
	want = slices.Compact(want)
	if len(small.runs) < 10 || len(large.runs) != 0 {
		t.Errorf("%d and %d runs", len(small.runs), len(large.runs))
	}
	for _, s := range []*Sorter{small, large, small} {
		var got []string
		for tr, err := range s.Triples() {
			if err != nil {
				t.Fatal(err)
			}
			line, err := AppendTriple(nil, tr)
			if err != nil {
				t.Fatal(err)
			}
			got = append(got, string(line))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d lines, want %d, or others", len(got), len(want))
		}
		for range s.Triples() {
			break
		}
	}
	if err := small.Add(Triple{}); err == nil {
		t.Error("a triple was added after the reading, and would be lost")
	}
	lost := NewSorter(filepath.Join(dir, "none"), 100)
	var told error
	for i := 0; i < 10 && told == nil; i++ {
		told = lost.Add(Triple{Subj: p, Pred: p, Obj: p})
	}
	if !errors.Is(told, os.ErrNotExist) {
		t.Errorf("a folder that is not there: %v", told)
	}
	runs := len(small.runs)
	if err := errors.Join(small.Close(), large.Close()); err != nil {
		t.Errorf("closing %d runs: %v", runs, err)
	}
}

// TestCanonicalEscapes has the escapes of canonical N-Quads in RDF Dataset Canonicalization (RDFC-1.0, W3C Recommendation 21 May 2024;
// memory-sure): \b \t \n \f \r \" \\ by letter, other controls and DEL by \u with capital digits, everything else as it is.
func TestCanonicalEscapes(t *testing.T) {
	got := string(appendQuoted(nil, "\x00\x07\b\t\n\v\f\r\x1b\"\\'\x7f\u0080ü\ufeff\U0001FAA6"))
	const want = `"\u0000\u0007\b\t\n\u000B\f\r\u001B\"\\'\u007F` + "\u0080ü\ufeff\U0001FAA6\""
	if got != want {
		t.Errorf("got %s, want %s", got, want)
	}
}

// roundTrip writes triples by every writer and reads them back by every reader, the library's decoder of N-Triples among them.
func roundTrip(t *testing.T, triples []Triple) {
	t.Helper()
	want := show(triples)
	var turtle bytes.Buffer
	if err := writeTurtle(&turtle, prefixes(), triples); err != nil {
		t.Fatal(err)
	}
	back, err := drain(bytes.NewReader(turtle.Bytes()))
	if err != nil || show(back) != want {
		t.Fatalf("Turtle: %v\n%s\nwant\n%s\nwritten\n%s", err, show(back), want, turtle.String())
	}
	back = nil
	for tr, err := range ReadNTriples(strings.NewReader(want), "x") {
		if err != nil {
			t.Fatal(err)
		}
		back = append(back, tr)
	}
	if show(back) != want {
		t.Fatalf("N-Triples: %s\nwant\n%s", show(back), want)
	}
	library, err := knakk.NewTripleDecoder(strings.NewReader(want), knakk.NTriples).DecodeAll()
	if err != nil || show(library) != want {
		t.Fatalf("the library reads our N-Triples otherwise: %v\n%s\nwant\n%s", err, show(library), want)
	}
}

func TestRoundTrip(t *testing.T) {
	roundTrip(t, mustRead(t, `@prefix a: <http://a.example/> .
a:s a:p "x", "x"@en, "x"@zh-Hans-CN, 1, 1.5, true, "a\tb\n\r\f\b\\\"' ü \U0001FAA6", <urn:x:y>, <http://a.example/Co.>, <http://a.example/O'Brien>, <http://a.example/x?id=5>, <http://a.example/a[1]>, <http://a.example/~a@b>, a:, "1\" . <http://e/s> <http://e/p> \"2"^^a:dt .`))
}
