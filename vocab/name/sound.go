package name

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
)

// rule turns letters of a folded surname into key letters.
type rule struct {
	letters string
	where   byte   // 's' at the start, 'e' at the end, 0 anywhere
	before  string // one of these letters must follow; "" for any or none
	key     string // "" for silent letters, "^" to pass over one letter and begin again
}

// soundRules are the rules by the first letter they begin with, the ones to be tried first at the head: longer before shorter, start and
// end before anywhere, those that look at the letter after before those that do not.
var soundRules = sync.OnceValue(func() *[26][]rule {
	var m [26][]rule
	for _, r := range vocab.Rows("surname-sounds") {
		x := rule{letters: r.Get("letters"), before: r.Get("before"), key: strings.TrimPrefix(r.Get("key"), "-")}
		switch r.Get("where") {
		case "start":
			x.where = 's'
		case "end":
			x.where = 'e'
		}
		i := x.letters[0] - 'a'
		m[i] = append(m[i], x)
	}
	for i := range m {
		slices.SortStableFunc(m[i], func(a, b rule) int {
			return cmp.Or(cmp.Compare(len(b.letters), len(a.letters)), cmp.Compare(b.where, a.where), cmp.Compare(len(b.before), len(a.before)))
		})
	}
	return &m
})

// soundLength is the most letters that a key has.
const soundLength = 6

// Sound is a key of this program for how a surname sounds, from the table of spelling classes: names that clerks took for each other by ear
// mostly share it, where Soundex parts them by their first letter (Klausen, Clausen; Knight, Night; Vogel, Fogel) or by a silent one. It is made
// for finding, not for judging: those who share a key are many. A lost letter breaks it off, and it is "" where the first
// letter is lost.
func Sound(s string) string {
	f := Fold(s)
	if i := strings.IndexAny(f, "?*"); i >= 0 {
		f = f[:i]
	}
	if len(f) > 2 && f[0] == 'o' && len(s) > 2 && (s[1] == '\'' || strings.HasPrefix(s[1:], "’")) {
		f = f[1:] // O'Hare with its apostrophe; without, the table knows the stems
	}
	rules := soundRules()
	var key [soundLength]byte
	n, at := 0, 0 // letters of the key; where the name, its prefix passed over, begins
	last := byte(0)
	for i := 0; i < len(f) && n < soundLength; {
		if vowel(f[i]) && !(f[i] == 'y' && i == at) {
			if x, ok := find(rules[f[i]-'a'], f, i, at); ok {
				if x.key == "^" {
					i++
					at = i
					continue
				}
				if x.where == 'e' || i == at {
					n, last = emit(&key, n, last, x.key)
					i += len(x.letters)
					continue
				}
			}
			if n == 0 {
				key[0], n = 'a', 1
			}
			last = 0
			i++
			continue
		}
		x, ok := find(rules[f[i]-'a'], f, i, at)
		if !ok {
			i++
			continue
		}
		n, last = emit(&key, n, last, x.key)
		i += len(x.letters)
	}
	return string(key[:n])
}

// emit adds key letters, equal neighbours once.
func emit(key *[soundLength]byte, n int, last byte, letters string) (int, byte) {
	for i := 0; i < len(letters) && n < soundLength; i++ {
		if letters[i] != last {
			key[n] = letters[i]
			n++
		}
		last = letters[i]
	}
	return n, last
}

// find is the first of the rules that holds at letter i; at is where the name begins.
func find(rules []rule, f string, i, at int) (rule, bool) {
	for _, x := range rules {
		if !strings.HasPrefix(f[i:], x.letters) {
			continue
		}
		end := i + len(x.letters)
		switch {
		case x.where == 's' && i != at:
		case x.where == 'e' && (end != len(f) || i <= at+1):
		case x.before != "" && (end == len(f) || strings.IndexByte(x.before, f[end]) < 0):
		default:
			return x, true
		}
	}
	return rule{}, false
}

func vowel(c byte) bool {
	switch c {
	case 'a', 'e', 'i', 'o', 'u', 'y':
		return true
	}
	return false
}

// Rendering is another surname that one was turned into.
type Rendering struct {
	Name string // folded
	// Translated is set where the name was translated (Koch, Cook) and not only spelled anew (Schmidt, Smith).
	Translated bool
}

var renderings = sync.OnceValue(func() map[string][]Rendering {
	m := map[string][]Rendering{}
	for _, r := range vocab.Rows("surname-renderings") {
		a, b, translated := r.Get("surname"), r.Get("other"), r.Get("kind") == "translation"
		m[a] = append(m[a], Rendering{b, translated})
		m[b] = append(m[b], Rendering{a, translated})
	}
	for _, list := range m {
		slices.SortFunc(list, func(a, b Rendering) int { return strings.Compare(a.Name, b.Name) })
	}
	return m
})

// Renderings gives the folded surnames that a folded surname of a German, French or other immigrant was turned into, or came from, sorted. They are
// a weak hint: most men called Cook were never called Koch.
func Renderings(folded string) []Rendering { return slices.Clone(renderings()[folded]) }
