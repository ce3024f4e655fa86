package rdf

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"time"

	"musterstone/model/date"
)

// graph collects the triples of one file. Its methods make terms through the constructors of this package; the first error stays, and
// what comes after it is passed over. Empty texts and zero values give no triple.
type graph struct {
	sort    *Sorter
	err     error
	terms   map[string]term
	ns      map[string]bool // namespaces in use, for the prefixes
	dropped int             // characters that Clean took out
	base    string          // of the file, "" for none
}

func newGraph(dir string) *graph {
	return &graph{sort: NewSorter(dir, 0), terms: map[string]term{}, ns: map[string]bool{}}
}

func (g *graph) fail(err error) {
	if g.err == nil {
		g.err = err
	}
}

// term is an IRI of a fixed vocabulary, with its number as a predicate.
type term struct {
	iri  IRI
	pred uint32
}

// term makes an IRI of a fixed vocabulary, once.
func (g *graph) term(s string) IRI {
	if t, ok := g.terms[s]; ok {
		return t.iri
	}
	return g.newTerm(s).iri
}

func (g *graph) newTerm(s string) term {
	iri, err := NewIRI(s)
	if err != nil {
		g.fail(err)
	}
	t := term{iri, g.sort.preds.of(s)}
	g.terms[s] = t
	g.use(s)
	return t
}

// use notes the namespace of an IRI.
func (g *graph) use(iri string) { g.ns[namespaceOf(iri)] = true }

// pred gives the number of a predicate.
func (g *graph) pred(predicate string) uint32 {
	p, ok := g.terms[predicate]
	if !ok {
		p = g.newTerm(predicate)
	}
	return p.pred
}

// below mints an IRI that is another's with a name behind it.
func (g *graph) below(of IRI, sign, name string) IRI {
	mint := trustedIRI
	if !isPlainName(name) {
		mint = NewIRI
	}
	t, err := mint(of.String() + sign + name)
	if err != nil {
		g.fail(err)
	}
	return t
}

// part mints the IRI of a part of a thing: the thing's own, with a fragment. A page about the thing so answers for its parts too.
func (g *graph) part(of IRI, name string) IRI {
	return g.below(of, "#", name)
}

// also mints the IRI of a part of a part.
func (g *graph) also(part IRI, name string) IRI {
	return g.below(part, "-", name)
}

func (g *graph) said(s IRI, err error) {
	if err != nil {
		g.fail(fmt.Errorf("%s: %w", s, err))
	}
}

// is says of which classes a thing is.
func (g *graph) is(s IRI, classes ...string) {
	for _, c := range classes {
		g.iri(s, rdfType, g.term(c))
	}
}

func (g *graph) iri(s IRI, predicate string, o IRI) {
	if o.String() == "" || g.err != nil {
		return
	}
	g.said(s, g.sort.addIRI(s, g.pred(predicate), o))
}

// text says a text from outside: what cannot stand in a literal is dropped and counted.
func (g *graph) text(s IRI, predicate, text string) { g.plain(s, predicate, text, "") }

// plain says a text, with "" or a language tag with its @ behind it.
func (g *graph) plain(s IRI, predicate, text, tag string) {
	if text == "" || g.err != nil {
		return
	}
	if tag != "" {
		if err := checkLang(tag[1:]); err != nil {
			g.fail(fmt.Errorf("%s, %s: %w", s, predicate, err))
			return
		}
	}
	clean, n := Clean(text)
	g.dropped += n
	g.said(s, g.sort.addText(s, g.pred(predicate), clean, tag))
}

func (g *graph) texts(s IRI, predicate string, texts []string) {
	for _, t := range texts {
		g.text(s, predicate, t)
	}
}

// english says a text of this program or its tables.
func (g *graph) english(s IRI, predicate, text string) { g.plain(s, predicate, text, "@en") }

func (g *graph) typed(s IRI, predicate, lexical, datatype string) {
	g.term(datatype) // its namespace is in use
	if g.err != nil {
		return
	}
	err := checkText(lexical)
	if err == nil {
		err = CheckLexical(lexical, datatype)
	}
	if err != nil {
		g.fail(fmt.Errorf("%s, %s: %w", s, predicate, err))
		return
	}
	g.said(s, g.sort.addTyped(s, g.pred(predicate), lexical, datatype))
}

func (g *graph) integer(s IRI, predicate string, n int) {
	g.typed(s, predicate, strconv.Itoa(n), xsd+"integer")
}

func (g *graph) boolean(s IRI, predicate string, v bool) {
	g.typed(s, predicate, strconv.FormatBool(v), xsd+"boolean")
}

// yes says that something is so; where it is not, nothing is said.
func (g *graph) yes(s IRI, predicate string, v bool) {
	if v {
		g.boolean(s, predicate, v)
	}
}

// instant says a moment, to the second, in universal time.
func (g *graph) instant(s IRI, predicate string, t time.Time) {
	g.typed(s, predicate, t.UTC().Format("2006-01-02T15:04:05Z"), xsd+"dateTime")
}

// decimal says a number with at most the given digits after the point, in the canonical form of xsd:decimal as XML Schema 1.0 has it: at
// least one digit on each side.
func (g *graph) decimal(s IRI, predicate string, x float64, digits int) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		g.fail(fmt.Errorf("%s, %s: %v is not a number that can be published", s, predicate, x))
		return
	}
	g.typed(s, predicate, plainDecimal(x, digits), xsd+"decimal")
}

// plainDecimal is a number with at most so many digits after the point, and at least one.
func plainDecimal(x float64, digits int) string {
	t := strconv.FormatFloat(x, 'f', digits, 64)
	if strings.Contains(t, ".") {
		t = strings.TrimRight(t, "0")
		if strings.HasSuffix(t, ".") {
			t += "0"
		}
	} else {
		t += ".0"
	}
	if t == "-0.0" {
		t = "0.0"
	}
	return t
}

func (g *graph) gYear(s IRI, predicate string, year int) {
	if year > 0 {
		g.typed(s, predicate, fmt.Sprintf("%04d", year), xsd+"gYear")
	}
}

// date says a date four ways: as EDTF, its first and last day, and as it stood.
func (g *graph) date(s IRI, predicate string, d date.Date) {
	if d.Written != "" {
		g.text(s, predicate+"Written", d.Written)
	}
	if d.IsZero() {
		return
	}
	g.typed(s, predicate, d.EDTF, EDTF)
	for _, b := range []struct {
		suffix string
		day    date.Day
	}{{"Earliest", d.From}, {"Latest", d.To}} {
		if !b.day.IsZero() {
			g.typed(s, predicate+b.suffix, dayText(b.day), xsd+"date")
		}
	}
}

func dayText(d date.Day) string {
	if d.Year < 0 {
		return fmt.Sprintf("-%04d-%02d-%02d", -d.Year, d.Month, d.Day)
	}
	return fmt.Sprintf("%04d-%02d-%02d", d.Year, d.Month, d.Day)
}
