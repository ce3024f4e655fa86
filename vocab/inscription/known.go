// This file gathers what the tables of names, and the rules, know of single words.

package inscription

import (
	"math"
	"strings"

	"musterstone/vocab"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// nameInfo is what the tables of names say of a word.
type nameInfo struct {
	given, surname float32 // natural logarithm of the share; 0 where not in the table
	form           int32   // where the forms that begin with the word start; 0 for none
	starts         starts
	unit           unit.Word
	abbreviation   bool
	diminutive     bool
	woman          bool // borne by women alone, or nearly
	prefix, suffix bool // of surnames, of generations
	never          bool // ends a name: no one bears it
	function       bool // joins other words and tells nothing: "OF", "THE"
	common         bool // a word of epitaphs
	named          bool // stands in a table of names
	borne          bool // of one that ends a name: some bear it all the same
	noState        bool // known to units, and behind a number a state misread: "33 NO. INF." is of Missouri
}

// packedName is a nameInfo of 24 bytes: with its word it lies within one line of the processor's cache, and all of them take little of it.
type packedName struct {
	given, surname float32
	form           int32
	unit           unit.Word
	bits           uint32 // starts, and from bit 16 on what else is so
}

// anyName is the bit of a word that stands in a table of names.
const anyName = 1 << 24

// packed packs n; unpack is the way back.
func (n *nameInfo) packed() packedName {
	p := packedName{n.given, n.surname, n.form, n.unit, uint32(n.starts)}
	for k, is := range [...]bool{n.abbreviation, n.diminutive, n.woman, n.prefix, n.suffix, n.never, n.function, n.common, n.named, n.borne, n.noState} {
		if is {
			p.bits |= 1 << (16 + k)
		}
	}
	return p
}

// unpack fills in n.
func (p *packedName) unpack(n *nameInfo) {
	n.given, n.surname, n.form, n.unit, n.starts = p.given, p.surname, p.form, p.unit, starts(p.bits)
	b := p.bits
	n.abbreviation, n.diminutive, n.woman = b&(1<<16) != 0, b&(1<<17) != 0, b&(1<<18) != 0
	n.prefix, n.suffix, n.never = b&(1<<19) != 0, b&(1<<20) != 0, b&(1<<21) != 0
	n.function, n.common, n.named = b&(1<<22) != 0, b&(1<<23) != 0, b&(1<<24) != 0
	n.borne, n.noState = b&(1<<25) != 0, b&(1<<26) != 0
}

// starts says which items of set words may start at a word, so that the rules look only where they can find something.
type starts uint16

const (
	sPost starts = 1 << iota
	sCirca
	sIn
	sThe
	sAnd
	sActing
	sBrevet
	sClass      // of a rate: goes behind a number
	sVolunteers // goes behind "U. S."
	sDept
	sGrave
	sPlot       // a lot, a section, a row
	sDayArticle // stands before a day in German: "DEN 4TEN MAI"
	sShortArm   // an arm's short form that is known with a letter lost, though two are left
)

// startKinds are the kinds of stone-words.csv whose words only tell a rule where to look.
var startKinds = map[string]starts{
	"circa": sCirca, "day-article": sDayArticle, "post": sPost, "acting": sActing, "brevet": sBrevet, "class": sClass, "of-volunteers": sVolunteers, "department": sDept, "grave": sGrave, "plot": sPlot, "short-arm": sShortArm,
}

// loadStarts adds the words that the rules themselves name.
func (l *lexicon) loadStarts() {
	for s, list := range map[starts]string{sIn: "IN ON FROM", sThe: "IN THE", sAnd: "AND"} {
		for _, word := range strings.Fields(list) {
			l.names.At(word).starts |= s
		}
	}
}

// info is what is known of a word.
func (l *lexicon) info(word string) *nameInfo {
	if n := l.names.Get(word); n != nil {
		return n
	}
	return &nameInfo{}
}

// mark changes what is known of a word.
func (l *lexicon) mark(word string, f func(*nameInfo)) {
	f(l.names.At(word))
}

// loadStops loads the words that end a name, those that begin a surname, and those that stand for a state misread.
func (l *lexicon) loadStops() {
	for _, r := range vocab.Rows("name-stops") {
		switch role := r.Get("role"); role {
		case "stop":
			l.mark(r.Get("word"), func(n *nameInfo) { n.never = true })
		case "stop or surname":
			l.mark(r.Get("word"), func(n *nameInfo) { n.never, n.borne = true, true })
		case "function":
			l.mark(r.Get("word"), func(n *nameInfo) { n.function, n.never = true, len(r.Get("word")) > 1 })
		case "prefix":
			l.mark(r.Get("word"), func(n *nameInfo) { n.prefix = true })
		default:
			panic(r.Where() + ": unknown role " + role)
		}
	}
	for _, r := range vocab.Rows("unit-words") {
		if r.Get("role") == "misread-state" {
			l.mark(r.Get("word"), func(n *nameInfo) { n.noState = true })
		}
	}
}

// loadNames loads the tables of names.
func (l *lexicon) loadNames() {
	set := func(name string, f func(*nameInfo)) {
		n := l.names.At(words.Letters(name))
		n.named = true
		f(n)
	}
	for _, r := range vocab.Rows("given-shares") {
		set(r.Get("given"), func(n *nameInfo) { n.given = logShare(r.Float("percent"), n.given) })
	}
	men := map[string]float64{}
	for _, r := range vocab.Rows("given-shares") {
		if r.Get("sex") == "m" {
			men[r.Get("given")] = r.Float("percent")
		}
	}
	for _, r := range vocab.Rows("given-shares") {
		if r.Get("sex") == "f" && r.Float("percent") > 10*men[r.Get("given")] {
			set(r.Get("given"), func(n *nameInfo) { n.woman = true })
		}
	}
	for _, r := range vocab.Rows("surname-shares") {
		set(r.Get("surname"), func(n *nameInfo) { n.surname = logShare(r.Float("percent"), n.surname) })
	}
	for _, r := range vocab.Rows("given-abbreviations") {
		set(r.Get("form"), func(n *nameInfo) { n.abbreviation = true })
	}
	for _, r := range vocab.Rows("given-roots") {
		set(r.Get("form"), func(n *nameInfo) { n.diminutive = true })
		set(r.Get("root"), func(n *nameInfo) { n.diminutive = true })
	}
}

// logShare is the logarithm of a share given in percent, or the one before where that is the larger.
func logShare(percent float64, before float32) float32 {
	s := float32(math.Log(max(percent, 1e-4) / 100))
	if before != 0 && before > s {
		return before
	}
	return s
}

// isName reports whether a form is a given name or surname of the tables.
func (l *lexicon) isName(form string) bool {
	n := l.names.Get(words.Letters(form))
	return n != nil && (n.given > -9.3 && n.given != 0 || n.surname > -9.3 && n.surname != 0)
}
