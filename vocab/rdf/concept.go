package rdf

import (
	"cmp"
	"strings"
	"sync"

	"musterstone/vocab"
)

// scheme is a list of codes, published as a SKOS concept scheme.
type scheme struct {
	kind, class, title string
	concepts           []concept
}

type concept struct {
	code, label, broader string
	definition, note     string
	from, to             string // days, of conflicts
	sources              []string
}

// name is what people call the concept; one without a label goes by its code.
func (c concept) name() string { return cmp.Or(c.label, c.code) }

// schemes are the code lists, from the same tables that reading and matching use.
var schemes = sync.OnceValue(func() []scheme {
	return []scheme{
		fromTable("arm", "Arm", "Arms of service", "arms", "", "broader"),
		fromTable("body", "Body", "Bodies of troops", "bodies", "note", ""),
		fromTable("branch", "Branch", "Branches of the armed forces", "branches", "note", ""),
		conflictScheme(),
		fromLabels("finding", "FindingKind", "Kinds of finding"),
		fromTable("pattern", "Pattern", "Marker patterns", "patterns", "tell", ""),
		rankScheme(),
		serviceScheme(),
		fromTable("side", "Side", "Sides of the Civil War", "sides", "", ""),
		fromTable("state", "State", "States, territories and possessions", "states", "note", ""),
		fromLabels("verdict", "Verdict", "Verdicts"),
	}
})

// fromTable makes a scheme of a table with the columns code and name, and perhaps a note and a broader code; codes of the same kind that only
// have a label come with it.
func fromTable(kind, class, title, table, note, broader string) scheme {
	s := scheme{kind: kind, class: class, title: title}
	seen := map[string]bool{}
	for _, r := range vocab.Rows(table) {
		c := concept{code: r.Get("code"), label: r.Get("name"), sources: strings.Fields(r.Get("source"))}
		if note != "" {
			c.note = r.Get(note)
		}
		if broader != "" {
			c.broader = r.Get(broader)
		}
		define(kind, &c, r)
		seen[c.code] = true
		s.concepts = append(s.concepts, c)
	}
	s.others(seen)
	return s
}

// others adds the codes of the scheme's kind that have nothing but a label.
func (s *scheme) others(seen map[string]bool) {
	for _, c := range fromLabels(s.kind, "", "").concepts {
		if !seen[c.code] {
			s.concepts = append(s.concepts, c)
		}
	}
}

func fromLabels(kind, class, title string) scheme {
	s := scheme{kind: kind, class: class, title: title}
	for _, r := range vocab.Rows("labels") {
		if r.Get("kind") == kind {
			c := concept{code: r.Get("code"), label: r.Get("label"), sources: strings.Fields(r.Get("source"))}
			define(kind, &c, r)
			s.concepts = append(s.concepts, c)
		}
	}
	return s
}

func conflictScheme() scheme {
	s := fromTable("conflict", "Conflict", "Conflicts", "conflicts", "note", "")
	for i, r := range vocab.Rows("conflicts") {
		s.concepts[i].from, s.concepts[i].to = r.Get("from"), r.Get("to")
	}
	return s
}

// rankScheme has each rank once; the table may give it a row for each branch.
func rankScheme() scheme {
	s := scheme{kind: "rank", class: "Rank", title: "Ranks and rates"}
	at := map[string]int{}
	for _, r := range vocab.Rows("ranks") {
		code := r.Get("rank")
		i, ok := at[code]
		if !ok {
			i = len(s.concepts)
			at[code] = i
			s.concepts = append(s.concepts, concept{code: code, label: vocab.Label("rank", code)})
		}
		c := &s.concepts[i]
		first := c.definition
		define("rank", c, r)
		if first != "" && first != c.definition {
			c.definition = first + " " + c.definition
		}
		c.sources = append(c.sources, strings.Fields(r.Get("source"))...)
	}
	return s
}

func serviceScheme() scheme {
	s := scheme{kind: "service", class: "ServiceClass", title: "Service that a marker may imply"}
	seen := map[string]bool{}
	for _, r := range vocab.Rows("service-classes") {
		c := concept{code: r.Get("code"), label: r.Get("label"), sources: strings.Fields(r.Get("source"))}
		define("service", &c, r)
		seen[c.code] = true
		s.concepts = append(s.concepts, c)
	}
	s.others(seen)
	return s
}

// codeKey is a kind of code and a code of it.
type codeKey struct{ kind, code string }

// conceptName is the local name of a code's concept: "conflict-civil-war", "rank-first-sergeant", "state-wi".
func conceptName(kind, code string) string { return kind + "-" + slug(code) }

// known tells which codes have a concept.
var known = sync.OnceValue(func() map[codeKey]bool {
	m := map[codeKey]bool{}
	for _, s := range schemes() {
		for _, c := range s.concepts {
			m[codeKey{s.kind, c.code}] = true
		}
	}
	return m
})
