package rdf

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/iotest"
)

func TestReadErrorsNameTheirPlace(t *testing.T) {
	for _, c := range []struct{ file, in, want string }{
		{"a.nt", "<http://a/s> <http://a/p> <http://a/o> .\n<http://a/s> <http://a/p> ü .\n", `a.nt:2:27: want an IRI in <>, a blank node or a literal in double quotes as object, found 'ü'`},
		{"a.nt", "<http://a/s> <http://a/p> \"ü\" <", `a.nt:1:31: want a full stop after the triple, found '<'`},
		{"a.nt", "<s> <http://a/p> \"x\" .", `a.nt:1:1: IRI <s> is not absolute`},
		{"a.nt", "<http://a/s> <http://a/p> \"x\n", `a.nt:1:27: a literal that does not end: no closing double quote before the end of the line`},
		{"a.nt", "<http://a/s> <http://a/p> \"\xff\" .\n", `a.nt:1:27: text "\xff" is not UTF-8`},
		{"a.nt", "<http://a/s> <http://a/p> \"x\" . <http://a/s>", `a.nt:1:33: want the end of the line, or a comment, found '<'`},
		{"a.nt", "\x00\n", `a.nt:1:1: want an IRI in <> or a blank node as subject, found '\x00'`},
		{"a.ttl", "@prefix a: <http://a/> .\n\na:s a:p \"x\" ;\n\tb:q 1 .\n", `a.ttl:4:2: prefix "b:" is used, but not declared before`},
		{"a.ttl", "<s> <p> 1 .", `a.ttl:1:4: IRI <s> is relative, and the file sets no @base`},
		{"a.ttl", "<http://a/s> <http://a/p> 'x\n' .", `a.ttl:1:27: a text that does not end: no closing ' before the end of the line`},
		{"a.ttl", "<http://a/s> <http://a/p> '''x\n", `a.ttl:1:27: a text that does not end: no closing ''' before the end of the file`},
		{"a.ttl", "<http://a/s> <http://a/p> (1 [ <http://a/q> ((2)) ]", `a.ttl:1:52: want an object: an IRI, a blank node, a literal, a number, true, false, [ or (, found the end of the file`},
		{"a.ttl", "@prefix a: <http://a/> .\na:s a:p a:\xff .\n", `a.ttl:2:11: byte 0xFF in a name is not UTF-8`},
		{"a.csv", "", `a.csv: ".csv" is no ending of an RDF file that can be read; want .ttl (Turtle), .nt (N-Triples) or .nq (N-Quads)`},
	} {
		dir := t.TempDir()
		path := filepath.Join(dir, c.file)
		if err := os.WriteFile(path, []byte(c.in), 0o666); err != nil {
			t.Fatal(err)
		}
		_, err := readAll(path, "")
		if err == nil {
			t.Errorf("%q was taken", c.in)
		} else if got := strings.ReplaceAll(err.Error(), dir+string(filepath.Separator), ""); got != c.want {
			t.Errorf("%q:\n got %s\nwant %s", c.in, got, c.want)
		}
	}
	if _, err := readAll(t.TempDir(), ""); err == nil {
		t.Error("a folder was read as a file")
	}
	if _, err := readAll(filepath.Join(t.TempDir(), "none.ttl"), ""); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a file that is not there: %v", err)
	}
}

// endless gives one byte for ever: no reader may hold it all.
type endless byte

func (e endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(e)
	}
	return len(p), nil
}

func TestReadLimits(t *testing.T) {
	start := func(s string, b byte) io.Reader { return io.MultiReader(strings.NewReader(s), endless(b)) }
	for name, in := range map[string]io.Reader{
		"text":     start(`<http://a/s> <http://a/p> "`, 'x'),
		"IRI":      start(`<http://a/`, 'x'),
		"name":     start("@prefix a: <http://a/> . a:", 'x'),
		"prefix":   start("@prefix ", 'x'),
		"label":    start("_:", 'x'),
		"number":   start("<http://a/s> <http://a/p> ", '7'),
		"brackets": start("<http://a/s> <http://a/p> ", '('),
		"nested":   start("", '['),
		"tag":      start(`<http://a/s> <http://a/p> "x"@`, 'a'),
	} {
		_, err := drain(in)
		var syntax *SyntaxError
		if !errors.As(err, &syntax) {
			t.Errorf("endless %s: %v", name, err)
		}
	}
	for _, err := range ReadNTriples(start("<http://a/s> <http://a/p> \"", 'x'), "x") {
		var syntax *SyntaxError
		if !errors.As(err, &syntax) || !strings.Contains(err.Error(), "longer than") {
			t.Errorf("endless line: %v", err)
		}
	}
}

func drain(r io.Reader) ([]Triple, error) {
	var all []Triple
	for t, err := range ReadTurtle(r, TurtleOptions{Name: "x"}) {
		if err != nil {
			return all, err
		}
		all = append(all, t)
	}
	return all, nil
}

// TestReadByteByByte: where the reader's pieces end makes no difference.
func TestReadByteByByte(t *testing.T) {
	const in = "\ufeff@prefix a: <http://a/> . # note\r\na:s a a:C ; a:p 'x'@en-GB, \"\"\"y\n#\"z\"\"\", 1.5, 1., -2e3, true .\n[ a:q ( 1 [] ) ] a:r _:b.c .\nPREFIX a:<http://b/>\na:s a:p a:a.b.c\\,d%20 .\n"
	in1 := strings.Replace(in, "1., ", "1, ", 1)
	want, err := drain(strings.NewReader(in1))
	if err != nil {
		t.Fatal(err)
	}
	got, err := drain(iotest.OneByteReader(strings.NewReader(in1)))
	if err != nil || show(got) != show(want) || len(want) != 14 {
		t.Errorf("byte by byte: %v\n%s\nat once (%d):\n%s", err, show(got), len(want), show(want))
	}
	nt := "\ufeff" + show(want) + "# end"
	back := 0
	for _, err := range ReadNTriples(iotest.OneByteReader(strings.NewReader(nt)), "x") {
		if err != nil {
			t.Fatal(err)
		}
		back++
	}
	if back != len(want) {
		t.Errorf("%d of %d triples come back through N-Triples", back, len(want))
	}
}

// TestReadFile: one triple in each form that a file may have, by the ending of its name in any case; another ending is refused with what is wanted.
func TestReadFile(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"a.ttl": "@prefix a: <http://a.example/> . a:s a:p 'x' .", "b.NT": "<http://a.example/s> <http://a.example/p> \"x\" .\n",
		"c.nq": "<http://a.example/s> <http://a.example/p> \"x\" <http://a.example/g> .\n",
	} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
		all, err := readAll(path, "")
		if want := "<http://a.example/s> <http://a.example/p> \"x\" .\n"; err != nil || show(all) != want || !Readable(name) {
			t.Errorf("%s: %q, %v", name, show(all), err)
		}
	}
	for _, name := range []string{"a.rdf", "a.csv", "ttl"} {
		if _, err := readAll(name, ""); Readable(name) || err == nil || !strings.Contains(err.Error(), "want .ttl") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
