package rdf

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// suite is one of the W3C RDF 1.1 test suites (w3c/rdf-tests), in a folder beside the project; it is not part of it.
func suite(t *testing.T, name string) string {
	t.Helper()
	dir := filepath.Join("..", "..", "..", "shared", "data", "w3c-rdf11", name)
	if _, err := os.Stat(dir); err != nil {
		t.Skipf("the W3C suite %s is not here: %v", name, err)
	}
	return dir
}

type w3cTest struct{ name, kind, action, result string }

// manifest reads a suite's own manifest, which is Turtle, with the reader under test.
func manifest(t *testing.T, dir, base string) []w3cTest {
	t.Helper()
	const mf = "http://www.w3.org/2001/sw/DataAccess/tests/test-manifest#"
	byID := map[string]*w3cTest{}
	var order []string
	for tr, err := range ReadFile(filepath.Join(dir, "manifest.ttl"), base+"manifest.ttl") {
		if err != nil {
			t.Fatal(err)
		}
		id := tr.Subj.String()
		c := byID[id]
		if c == nil {
			c = &w3cTest{}
			byID[id] = c
			order = append(order, id)
		}
		file := filepath.Join(dir, strings.TrimPrefix(tr.Obj.String(), base))
		switch tr.Pred.String() {
		case rdfType:
			c.kind = strings.TrimPrefix(tr.Obj.String(), "http://www.w3.org/ns/rdftest#")
		case mf + "name":
			c.name = tr.Obj.String()
		case mf + "action":
			c.action = file
		case mf + "result":
			c.result = file
		}
	}
	var tests []w3cTest
	for _, id := range order {
		if c := byID[id]; c.action != "" {
			tests = append(tests, *c)
		}
	}
	return tests
}

func readAll(path, base string) ([]Triple, error) {
	var all []Triple
	for t, err := range ReadFile(path, base) {
		if err != nil {
			return all, err
		}
		all = append(all, t)
	}
	return all, nil
}

func TestW3CNTriples(t *testing.T) {
	dir := suite(t, "rdf-n-triples")
	tests := manifest(t, dir, "https://w3c.github.io/rdf-tests/rdf/rdf11/rdf-n-triples/")
	if len(tests) != 70 {
		t.Errorf("the manifest has %d tests, want 70", len(tests))
	}
	for _, c := range tests {
		_, err := readAll(c.action, "")
		switch c.kind {
		case "TestNTriplesPositiveSyntax":
			if err != nil {
				t.Errorf("%s: refused: %v", c.name, err)
			}
		case "TestNTriplesNegativeSyntax":
			if err == nil {
				t.Errorf("%s: taken, should be refused", c.name)
			}
		default:
			t.Errorf("%s: unknown kind %q", c.name, c.kind)
		}
	}
}

func TestW3CTurtle(t *testing.T) {
	dir := suite(t, "rdf-turtle")
	const base = "https://w3c.github.io/rdf-tests/rdf/rdf11/rdf-turtle/"
	tests := manifest(t, dir, base)
	if len(tests) != 313 {
		t.Errorf("the manifest has %d tests, want 313", len(tests))
	}
	for _, c := range tests {
		got, err := readAll(c.action, base+filepath.Base(c.action))
		switch c.kind {
		case "TestTurtlePositiveSyntax":
			if err != nil {
				t.Errorf("%s: refused: %v", c.name, err)
			}
		case "TestTurtleNegativeSyntax", "TestTurtleNegativeEval":
			if err == nil {
				t.Errorf("%s: taken, should be refused", c.name)
			}
		case "TestTurtleEval":
			if err != nil {
				t.Errorf("%s: refused: %v", c.name, err)
				continue
			}
			want, err := readAll(c.result, "")
			if err != nil {
				t.Errorf("%s: expected result: %v", c.name, err)
				continue
			}
			if !isomorphic(got, want) {
				t.Errorf("%s: other triples:\n%s\nwant:\n%s", c.name, show(got), show(want))
			}
		default:
			t.Errorf("%s: unknown kind %q", c.name, c.kind)
		}
	}
}

func show(ts []Triple) string {
	var out []string
	for _, t := range ts {
		line, err := AppendTriple(nil, t)
		if err != nil {
			return err.Error()
		}
		out = append(out, string(line))
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), "")
}

// isomorphic compares two graphs up to the names of their blank nodes: first by colours refined from their neighbours, then, where colours
// do not part them, by trying.
func isomorphic(a, b []Triple) bool {
	if show(a) == show(b) {
		return true
	}
	ca, cb := colours(a, nil), colours(b, nil)
	return matchColours(a, b, ca, cb, nil, nil)
}

func matchColours(a, b []Triple, ca, cb map[string]string, fixA, fixB map[string]string) bool {
	count := func(c map[string]string) map[string][]string {
		m := map[string][]string{}
		for n, col := range c {
			m[col] = append(m[col], n)
		}
		return m
	}
	ga, gb := count(ca), count(cb)
	if len(ga) != len(gb) {
		return false
	}
	for col, nodes := range ga {
		if len(gb[col]) != len(nodes) {
			return false
		}
	}
	for col, nodes := range ga {
		if len(nodes) == 1 {
			continue
		}
		slices.Sort(nodes)
		n := nodes[0]
		for _, m := range gb[col] {
			fa, fb := map[string]string{n: fmt.Sprint("fixed", len(fixA))}, map[string]string{m: fmt.Sprint("fixed", len(fixA))}
			for k, v := range fixA {
				fa[k] = v
			}
			for k, v := range fixB {
				fb[k] = v
			}
			if matchColours(a, b, colours(a, fa), colours(b, fb), fa, fb) {
				return true
			}
		}
		return false
	}
	return rename(a, ca) == rename(b, cb)
}

func rename(ts []Triple, colour map[string]string) string {
	var out []string
	for _, t := range ts {
		out = append(out, paint(t.Subj, colour)+" "+paint(t.Pred, colour)+" "+paint(t.Obj, colour))
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), "\n")
}

func paint(t Term, colour map[string]string) string {
	if b, ok := t.(Blank); ok {
		return "_:" + colour[b.String()]
	}
	line, err := appendTerm(nil, t)
	if err != nil {
		return err.Error()
	}
	return string(line)
}

func colours(ts []Triple, fixed map[string]string) map[string]string {
	c := map[string]string{}
	for _, t := range ts {
		for _, x := range []Term{t.Subj, t.Obj} {
			if b, ok := x.(Blank); ok {
				c[b.String()] = "start" + fixed[b.String()]
			}
		}
	}
	for range len(c) {
		seen := map[string][]string{}
		for _, t := range ts {
			if b, ok := t.Subj.(Blank); ok {
				seen[b.String()] = append(seen[b.String()], "> "+paint(t.Pred, c)+" "+paint(t.Obj, c))
			}
			if b, ok := t.Obj.(Blank); ok {
				seen[b.String()] = append(seen[b.String()], "< "+paint(t.Pred, c)+" "+paint(t.Subj, c))
			}
		}
		next := map[string]string{}
		for n, list := range seen {
			slices.Sort(list)
			next[n] = fmt.Sprintf("%x", fnv64(c[n]+"|"+strings.Join(slices.Compact(list), "|")))
		}
		c = next
	}
	return c
}

func fnv64(s string) uint64 {
	h := uint64(14695981039346656037)
	for i := 0; i < len(s); i++ {
		h = (h ^ uint64(s[i])) * 1099511628211
	}
	return h
}
