package name

import (
	"strings"
	"sync"

	"musterstone/vocab"
)

// wordLists are the small words round names, by what they do there.
type wordLists struct {
	suffix        map[string]string // "junior" is "Jr"
	particle      map[string]bool   // begin surnames: Van, St.
	givenParticle map[string]bool   // begin given names of two words: De Witt
	title         map[string]bool   // stand before a name and are no part of it; ranks are read elsewhere
	degree        map[string]bool   // stand after a comma
	dropped       map[string]bool   // follow a name and are no part of it
	loss          map[string]bool   // are written in brackets for letters that could not be read
	remark        map[string]bool   // are written in parentheses and are no part of the name
	joined        map[string]bool   // are written together with the word after them: Mc
	inner, outer  map[string]bool   // begin the rest of a surname behind another particle, and that one: Van der
	shortGiven    map[string]bool   // given names of two letters that are no initials
	alias         map[string]bool   // say that another name follows
	macStem       map[string]bool   // follow Mac with a capital of their own; others (Mack, Macey, Macomb) have none
}

var lists = sync.OnceValue(func() *wordLists {
	l := &wordLists{suffix: map[string]string{}}
	roles := map[string]*map[string]bool{
		"particle": &l.particle, "given-particle": &l.givenParticle, "title": &l.title, "degree": &l.degree, "dropped": &l.dropped, "loss": &l.loss, "mac-stem": &l.macStem,
		"remark": &l.remark, "joined": &l.joined, "inner-particle": &l.inner, "outer-particle": &l.outer, "short-given": &l.shortGiven, "alias": &l.alias,
	}
	for _, m := range roles {
		*m = map[string]bool{}
	}
	for _, r := range vocab.Rows("name-words") {
		if role := r.Get("role"); role == "suffix" {
			l.suffix[r.Get("word")] = r.Get("value")
		} else {
			(*roles[role])[r.Get("word")] = true
		}
	}
	return l
})

// suffixOf is the suffix that a comma's part is, or "". "S. R." and "J.R." are two initials.
func suffixOf(part string) string {
	if len(part) > 12 || strings.ContainsRune(strings.TrimSpace(part), ' ') || len(part) > 2 && part[1] == '.' {
		return ""
	}
	return lists().suffix[letters(part)]
}
