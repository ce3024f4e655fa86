package index

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search/query"

	"musterstone/vocab"
	"musterstone/vocab/name"
)

// A question is what a person typed to find: words that must all be there. Words in quotation marks must stand together in that
// order; name:, unit:, place: and text: before a word say where to look for it; a '*' at its end stands for any letters, a '?' within it for one.
type question []asked

// asked is one word or phrase of a question.
type asked struct {
	field string   // "" for any
	words []string // folded; more than one for a phrase
	raw   string   // as typed, quotation marks and field apart
	open  bool     // the last word goes on with any letters
}

const (
	maxQuestion     = 1000 // bytes
	maxAsked        = 16   // words and phrases
	maxPhrase       = 12   // words of one phrase
	maxWordLetters  = 48
	minOpenLetters  = 2 // known letters before '*' or '?'
	questionExample = `write words to look for, such as: holden "31 wis" place:dane`
)

// errQuestion is an error in what the user typed.
var errQuestion = errors.New("cannot search")

// ErrQuestion reports whether an error of Find is about the words that were given, and not about the index.
func ErrQuestion(err error) bool { return errors.Is(err, errQuestion) }

// ask reads what a person typed.
func ask(text string) (question, error) {
	if len(text) > maxQuestion {
		return nil, fmt.Errorf("%w: the question has %d characters; use at most %d", errQuestion, utf8.RuneCountInString(text), maxQuestion)
	}
	var q question
	for rest := strings.TrimSpace(text); rest != ""; rest = strings.TrimSpace(rest) {
		var a asked
		for _, f := range [...]string{nameField, unitField, placeField, textField} {
			if len(rest) > len(f) && strings.EqualFold(rest[:len(f)], f) && rest[len(f)] == ':' {
				a.field, rest = f, strings.TrimSpace(rest[len(f)+1:])
				break
			}
		}
		if strings.HasPrefix(rest, `"`) {
			a.raw, rest, _ = strings.Cut(rest[1:], `"`)
		} else if i := strings.IndexAny(rest, " \t\r\n\""); i >= 0 {
			a.raw, rest = rest[:i], rest[i:]
		} else {
			a.raw, rest = rest, ""
		}
		a.open = strings.HasSuffix(a.raw, "*")
		a.raw = strings.TrimRight(a.raw, "*")
		for _, w := range splitWords(a.raw) {
			if w.folded != "" {
				a.words = append(a.words, w.folded)
			}
		}
		if len(a.words) == 0 {
			continue
		}
		if err := a.check(); err != nil {
			return nil, err
		}
		if q = append(q, a); len(q) > maxAsked {
			return nil, fmt.Errorf("%w for more than %d words at once; leave some out", errQuestion, maxAsked)
		}
	}
	if len(q) == 0 {
		return nil, fmt.Errorf("%w: there is no word in %q; %s", errQuestion, text, questionExample)
	}
	return q, nil
}

func (a *asked) check() error {
	if len(a.words) > maxPhrase {
		return fmt.Errorf("%w for %q: a phrase may have %d words; leave some out", errQuestion, a.raw, maxPhrase)
	}
	for i, w := range a.words {
		if len(w) > maxWordLetters {
			return fmt.Errorf("%w for %q: a word may have %d letters; leave some out", errQuestion, w, maxWordLetters)
		}
		lost := strings.IndexAny(w, "?*")
		if lost >= 0 && len(a.words) > 1 {
			return fmt.Errorf("%w for a phrase with lost letters (%q); ask for its words one by one", errQuestion, a.raw)
		}
		if lost >= 0 && lost < minOpenLetters || a.open && i == len(a.words)-1 && len(w) < minOpenLetters {
			return fmt.Errorf("%w for %q: give at least the first %d letters", errQuestion, a.raw, minOpenLetters)
		}
	}
	return nil
}

// query is the question for the word index. A near question also takes names one edit away.
func (q question) query(near bool) allOfThese {
	var all allOfThese
	for _, a := range q {
		all = append(all, a.query(near))
	}
	return all
}

// How much more a word counts where it is found in its own right.
const (
	nameBoost, textBoost, placeBoost, unitBoost = 3.0, 1.5, 1.5, 2.0
	rootBoost, soundBoost, nearBoost            = 0.8, 0.5, 0.3
)

func (a asked) query(near bool) query.Query {
	either := bleve.NewDisjunctionQuery()
	in := func(field string) bool { return a.field == "" || a.field == field }
	if len(a.words) > 1 {
		if in(textField) {
			either.AddQuery(a.phrase())
		}
		if in(unitField) {
			either.AddQuery(allOf(unitField, wordsOfUnit(a.raw), unitBoost))
		}
		for _, f := range [...]struct {
			field string
			boost float64
		}{{nameField, nameBoost}, {placeField, placeBoost}} {
			if a.field == f.field {
				either.AddQuery(allOf(f.field, a.words, f.boost))
			}
		}
		return either
	}
	w := a.words[0]
	for _, f := range [...]struct {
		field string
		boost float64
	}{{nameField, nameBoost}, {textField, textBoost}, {placeField, placeBoost}} {
		if in(f.field) {
			either.AddQuery(oneWord(f.field, w, a.open, f.boost))
		}
	}
	whole := !a.open && !strings.ContainsAny(w, "?*")
	if in(nameField) && whole {
		for _, r := range roots(w) {
			either.AddQuery(term(rootField, r, rootBoost))
		}
		if len(w) >= 3 && !digits(w) {
			either.AddQuery(term(soundField, name.Sound(w), soundBoost))
		}
		if near && len(w) >= 4 && !digits(w) {
			f := bleve.NewFuzzyQuery(w)
			f.SetField(nameField)
			f.SetFuzziness(1)
			f.SetBoost(nearBoost)
			either.AddQuery(f)
		}
	}
	if in(unitField) && whole {
		terms := []string{w}
		if a.field == unitField {
			terms = wordsOfUnit(a.raw)
		} else if s, ok := vocab.State(w); ok && len(w) > 2 {
			terms = []string{strings.ToLower(string(s))}
		}
		either.AddQuery(allOf(unitField, terms, unitBoost))
	}
	return either
}

func (a asked) phrase() query.Query {
	if a.open {
		// The words before the open one together, and a word that begins so.
		all := bleve.NewConjunctionQuery()
		if n := len(a.words) - 1; n > 1 {
			all.AddQuery(bleve.NewPhraseQuery(a.words[:n], textField))
		} else {
			all.AddQuery(term(textField, a.words[0], textBoost))
		}
		all.AddQuery(oneWord(textField, a.words[len(a.words)-1], true, textBoost))
		return all
	}
	p := bleve.NewPhraseQuery(a.words, textField)
	p.SetBoost(textBoost)
	return p
}

func term(field, w string, boost float64) query.Query {
	t := bleve.NewTermQuery(w)
	t.SetField(field)
	t.SetBoost(boost)
	return t
}

func oneWord(field, w string, open bool, boost float64) query.Query {
	switch {
	case strings.ContainsAny(w, "?*"):
		if open {
			w += "*"
		}
		q := bleve.NewWildcardQuery(w)
		q.SetField(field)
		q.SetBoost(boost)
		return q
	case open:
		q := bleve.NewPrefixQuery(w)
		q.SetField(field)
		q.SetBoost(boost)
		return q
	}
	return term(field, w, boost)
}

func allOf(field string, terms []string, boost float64) query.Query {
	if len(terms) == 1 {
		return term(field, terms[0], boost)
	}
	all := bleve.NewConjunctionQuery()
	for _, t := range terms {
		all.AddQuery(term(field, t, boost))
	}
	return all
}

func digits(w string) bool { return w != "" && w[0] >= '0' && w[0] <= '9' }
