package name

import (
	"sync"

	"musterstone/vocab"
)

// What a name that the tables lack is taken to be borne by. For surnames it is one in a hundred thousand, the last step that the
// census list prints; for given names one in ten thousand, near the mean of the rarer names of that list. Both are choices of this program.
const (
	rareSurname = 1e-5
	rareGiven   = 1e-4
)

type shares struct {
	of    map[string]float64
	names []string // in the order of the table, so that sums come out the same
	rest  float64  // share of the people whose name the table lacks
}

// add adds a share of a name, which may have several.
func (s *shares) add(name string, p float64) {
	if _, ok := s.of[name]; !ok {
		s.names = append(s.names, name)
	}
	s.of[name] += p
	s.rest -= p
}

// women is the part of those who served whom the given-name shares take to be women: a choice of this program.
const women = 0.02

var surnameShares = sync.OnceValue(func() shares {
	s := shares{of: map[string]float64{}, rest: 1}
	for _, r := range vocab.Rows("surname-shares") {
		s.add(r.Get("surname"), r.Float("percent")/100)
	}
	return s
})

var givenShares = sync.OnceValue(func() shares {
	s := shares{of: map[string]float64{}, rest: 1}
	for _, r := range vocab.Rows("given-shares") {
		p := r.Float("percent") / 100
		if r.Get("sex") == "f" {
			p *= women
		} else {
			p *= 1 - women
		}
		s.add(r.Get("given"), p)
	}
	return s
})

// SurnameShare is the share of people in the United States who bore the surname in 1990, never 0. For a name with lost letters it is the
// share of all the names that fit.
func SurnameShare(folded string) float64 { return surnameShares().share(folded, rareSurname) }

// GivenShare is the share of people who bore the given name in 1990, men and women weighted as they served, never 0. It is a modern
// stand-in: names that have gone out of use since are commoner on rosters than it says. For a name with lost letters it is the
// share of all the names that fit.
func GivenShare(folded string) float64 { return givenShares().share(folded, rareGiven) }

// KnownGiven reports whether a folded name is a given name of the tables: of those common in 1990, or a form or a root of another.
func KnownGiven(folded string) bool {
	if _, ok := givenShares().of[folded]; ok {
		return true
	}
	return knownRoots()[folded]
}

var knownRoots = sync.OnceValue(func() map[string]bool {
	known := map[string]bool{}
	for form, list := range givenRoots() {
		known[form] = true
		for _, f := range list {
			known[f.Name] = true
		}
	}
	for form, list := range abbreviations() {
		known[form] = true
		for _, f := range list {
			known[Fold(f.Name)] = true
		}
	}
	return known
})

// share is the share of a folded name, or of all that fit one with lost letters; rare for a name that the table lacks.
func (s shares) share(folded string, rare float64) float64 {
	if !wild(folded) {
		if p, ok := s.of[folded]; ok {
			return max(p, rare)
		}
		return rare
	}
	// The names that the table lacks are taken to fit as often as those that it has.
	sum, fit := 0.0, 0
	for _, name := range s.names {
		if Match(folded, name) {
			sum += s.of[name]
			fit++
		}
	}
	return min(1, max(rare, sum+s.rest*float64(fit)/float64(len(s.names))))
}
