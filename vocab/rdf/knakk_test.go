package rdf

import (
	"bytes"
	"errors"
	"io"
	"os"
	"os/exec"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	knakk "github.com/knakk/rdf"
)

// The tests of this file pin the faults of github.com/knakk/rdf v0.0.0-20190304171630 that this package works round. One that fails says that the library has
// changed, and that the guard behind it may be looked at again.

const childInput = "MUSTERSTONE_TEST_DECODE"

func TestMain(m *testing.M) {
	if in, ok := os.LookupEnv(childInput); ok {
		format := knakk.Turtle
		if rest, nt := strings.CutPrefix(in, "nt:"); nt {
			format, in = knakk.NTriples, rest
		}
		_, err := knakk.NewTripleDecoder(strings.NewReader(in), format).DecodeAll()
		time.Sleep(200 * time.Millisecond) // the lexer may be the slower of the two
		if err != nil {
			os.Exit(3)
		}
		os.Exit(0)
	}
	os.Exit(m.Run())
}

// TestLibraryCrashes shows that the library's lexer ends the process, from a goroutine of its own, and that our readers refuse the same bytes.
func TestLibraryCrashes(t *testing.T) {
	exe, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	for _, in := range []string{".5\n", "nt:.4:\n", "<p:><p:e>''''' '\n", `nt:<http://a/s> <http://a/p> <\u0053\` + "\n"} {
		cmd := exec.Command(exe, "-test.run=^$")
		cmd.Env = append(os.Environ(), childInput+"="+in)
		var stderr bytes.Buffer
		cmd.Stderr = &stderr
		err := cmd.Run()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != 2 || !strings.Contains(stderr.String(), "panic: ") {
			t.Errorf("the library no longer crashes on %q: %v", in, err)
		}
		text, nt := strings.CutPrefix(in, "nt:")
		read := ReadTurtle(strings.NewReader(text), TurtleOptions{Name: "x"})
		if nt {
			read = ReadNTriples(strings.NewReader(text), "x")
		}
		refused := false
		for _, err := range read {
			var syntax *SyntaxError
			refused = errors.As(err, &syntax)
		}
		if !refused {
			t.Errorf("%q: our reader does not refuse it with its place", in)
		}
	}
}

func libraryTurtle(s string) ([]Triple, error) {
	return knakk.NewTripleDecoder(strings.NewReader(s), knakk.Turtle).DecodeAll()
}

// TestLibraryDecoderFaults has inputs that the library reads wrongly, what it makes of them (nothing where it refuses), and what they say.
func TestLibraryDecoderFaults(t *testing.T) {
	const one = `<http://a/s> <http://a/p> "1"^^<http://www.w3.org/2001/XMLSchema#integer> .` + "\n"
	for _, c := range []struct{ name, in, library, ours string }{
		{"a line of a long text that begins with a hash", "<http://a/s> <http://a/p> \"\"\"line one\n# note\nline three\"\"\" .\n",
			`<http://a/s> <http://a/p> "line three" .` + "\n", `<http://a/s> <http://a/p> "line one\n# note\nline three" .` + "\n"},
		{"an unclosed collection", "<http://a/s> <http://a/p> (1 2", "taken", "refused"},
		{"a number before a line feed", "<http://a/s> <http://a/p> 1\n.\n", "refused", one},
		{"a number before a tab", "<http://a/s> <http://a/p> 1\t.\n", "refused", one},
		{"a decimal that begins with its point", "<http://a/s> <http://a/p> -.5 .\n", "refused", `<http://a/s> <http://a/p> "-.5"^^<http://www.w3.org/2001/XMLSchema#decimal> .` + "\n"},
		{"a before a line feed", "<http://a/s> a\n<http://a/o> .\n", "refused", `<http://a/s> <` + rdfType + `> <http://a/o> .` + "\n"},
		{"a prefix named like a word", "@prefix true: <http://a/> .\ntrue:s true:p true:o .\n", "refused", "<http://a/s> <http://a/p> <http://a/o> .\n"},
		{"a surrogate", `<http://a/s> <http://a/p> "\uD800" .` + "\n", `<http://a/s> <http://a/p> "` + "\ufffd" + `" .` + "\n", "refused"},
		{"a base", "@base <http://a/x/y> .\n<z> <#p> <../q> .\n", "<http://a/x/yz> <http://a/x/y#p> <http://a/x/y../q> .\n", "<http://a/x/z> <http://a/x/y#p> <http://a/q> .\n"},
		{"a label that is also the first made-up one", "_:b1 <http://a/p> [] .\n", "_:b1 <http://a/p> _:b1 .\n", "_:lb1 <http://a/p> _:a1 .\n"},
	} {
		t.Run(c.name, func(t *testing.T) {
			lib, err := libraryTurtle(c.in)
			got := show(lib)
			switch {
			case err != nil:
				got = "refused"
			case c.library == "taken":
				got = "taken"
			}
			if got != c.library {
				t.Errorf("the library makes %q of it (%v), no longer %q", got, err, c.library)
			}
			own, err := drain(strings.NewReader(c.in))
			got = show(own)
			if err != nil {
				got = "refused"
			}
			if got != c.ours {
				t.Errorf("we make %q of it (%v), want %q", got, err, c.ours)
			}
		})
	}
}

// TestLibraryHidesReadErrors: a stream that breaks off looks whole to the library.
func TestLibraryHidesReadErrors(t *testing.T) {
	broken := errors.New("the disk is gone")
	const in = "<http://a/s> <http://a/p> <http://a/o> .\n"
	stream := func() io.Reader { return io.MultiReader(strings.NewReader(in), iotest.ErrReader(broken)) }
	if _, err := knakk.NewTripleDecoder(stream(), knakk.NTriples).DecodeAll(); err != nil {
		t.Errorf("the library now tells a read error: %v", err)
	}
	for name, read := range map[string]func() error{
		"N-Triples": func() (last error) {
			for _, err := range ReadNTriples(stream(), "x") {
				last = err
			}
			return last
		},
		"Turtle": func() (last error) {
			for _, err := range ReadTurtle(stream(), TurtleOptions{Name: "x"}) {
				last = err
			}
			return last
		},
	} {
		if err := read(); !errors.Is(err, broken) {
			t.Errorf("%s: we tell %v, want the read error", name, err)
		}
	}
}

// TestLibraryLeaks: a decoder that is left early keeps its goroutine; our readers have none.
func TestLibraryLeaks(t *testing.T) {
	in := strings.Repeat("<http://a/s> <http://a/p> <http://a/o> .\n", 100)
	grown := func(f func()) int {
		before := runtime.NumGoroutine()
		for range 50 {
			f()
		}
		time.Sleep(50 * time.Millisecond)
		return runtime.NumGoroutine() - before
	}
	if n := grown(func() {
		if _, err := knakk.NewTripleDecoder(strings.NewReader(in), knakk.NTriples).Decode(); err != nil {
			t.Fatal(err)
		}
	}); n < 40 {
		t.Errorf("50 decoders left early keep %d goroutines; the library may have been mended", n)
	}
	if n := grown(func() {
		for range ReadNTriples(strings.NewReader(in), "x") {
			break
		}
		for range ReadTurtle(strings.NewReader(in), TurtleOptions{Name: "x"}) {
			break
		}
		if _, err := langLiteral("x", "zh-Hans-CN"); err != nil {
			t.Fatal(err)
		}
	}); n > 0 {
		t.Errorf("our readers left early keep %d goroutines", n)
	}
}

func libraryEncodes(t *testing.T, triples ...Triple) string {
	t.Helper()
	var b bytes.Buffer
	enc := knakk.NewTripleEncoder(&b, knakk.Turtle)
	for _, tr := range triples {
		if err := enc.Encode(tr); err != nil {
			t.Fatal(err)
		}
	}
	if err := enc.Close(); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// TestLibraryEncoderFaults has triples whose Turtle by the library says something else, or nothing that can be read.
func TestLibraryEncoderFaults(t *testing.T) {
	iri := func(s string) IRI {
		t.Helper()
		x, err := knakk.NewIRI(s)
		if err != nil {
			t.Fatal(err)
		}
		return x
	}
	typed := func(s, dt string) Literal { return knakk.NewTypedLiteral(s, iri(dt)) }
	s, p := iri("http://a/s"), iri("http://a/p")
	for _, c := range []struct {
		name string
		o    Object
	}{
		{"triples smuggled in by a datatype of one's own", typed(`x" . <http://evil/s> <http://evil/p> "y`, "http://a/dt")},
		{"triples smuggled in as a number", typed(`1 . <http://evil/s> <http://evil/p> 2`, xsd+"integer")},
		{"triples smuggled in as a time", typed(`x" . <http://evil/s> <http://evil/p> "y`, xsd+"dateTime")},
		{"a decimal that becomes an integer", typed("5", xsd+"decimal")},
		{"a local name with a comma", iri("http://a/a,b")},
		{"a local name with brackets", iri("http://a/Company_(A)")},
		{"rdf:type as object", iri(rdfType)},
	} {
		t.Run(c.name, func(t *testing.T) {
			want := Triple{Subj: s, Pred: p, Obj: c.o}
			back, err := drain(strings.NewReader(libraryEncodes(t, want)))
			if err == nil && show(back) == show([]Triple{want}) {
				t.Errorf("the library now writes it well")
			}
			var b bytes.Buffer
			if err := writeTurtle(&b, prefixes(), []Triple{want}); err != nil {
				t.Fatal(err)
			}
			back, err = drain(bytes.NewReader(b.Bytes()))
			if err != nil || show(back) != show([]Triple{want}) {
				t.Errorf("we write it as\n%s\nwhich reads back as %q, %v", b.String(), show(back), err)
			}
		})
	}
	t.Run("EncodeAll drops what differs in datatype only", func(t *testing.T) {
		var b bytes.Buffer
		enc := knakk.NewTripleEncoder(&b, knakk.Turtle)
		two := []Triple{{Subj: s, Pred: p, Obj: typed("1864", xsd+"gYear")}, {Subj: s, Pred: p, Obj: typed("1864", xsd+"integer")}}
		if err := errors.Join(enc.EncodeAll(two), enc.Close()); err != nil {
			t.Fatal(err)
		}
		if n := strings.Count(b.String(), "1864"); n != 1 {
			t.Errorf("the library now writes %d of 2", n)
		}
	})
}

// TestLibraryConstructors: what the library takes as a term, and ours do not.
func TestLibraryConstructors(t *testing.T) {
	for _, s := range []string{"relative", "http://a/%zz", "http://a/\u0085", "http://a/\xff", "http://a/[x]"} {
		if _, err := knakk.NewIRI(s); err != nil {
			t.Errorf("the library now refuses IRI %q: %v", s, err)
		}
		if _, err := NewIRI(s); err == nil {
			t.Errorf("we take IRI %q", s)
		}
	}
	if _, err := knakk.NewLangLiteral("x", "zh-Hans-CN"); err == nil {
		t.Errorf("the library now takes the tag zh-Hans-CN; langLiteral can do without its detour")
	}
	if l, err := langLiteral("a \"b\"\n\\c\tü", "zh-Hans-CN"); err != nil || l.Lang() != "zh-Hans-CN" || l.String() != "a \"b\"\n\\c\tü" {
		t.Errorf("langLiteral with three subtags: %v, %v", l, err)
	}
	func() {
		defer func() {
			if recover() == nil {
				t.Errorf("the library no longer panics on an empty tag")
			}
		}()
		_, _ = knakk.NewLangLiteral("x", "")
	}()
	if err := checkLang(""); err == nil {
		t.Errorf("we take an empty tag")
	}
}
