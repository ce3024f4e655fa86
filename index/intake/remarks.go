package intake

import (
	"strings"
	"sync"
	"unicode/utf8"

	"musterstone/model/date"
	"musterstone/vocab"
)

// deathWords are the words of a roster's remarks that tell a death, each with whether its date must follow at once.
var deathWords = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("remark-words") {
		m[r.Get("word")] = strings.HasSuffix(r.Get("word"), ".")
	}
	return m
})

// furthest is how many words may stand between the word that tells a death and its date: "Died of wounds at Chattanooga, Tenn., Dec. 3, 1863".
const furthest = 12

// deathIn finds the day or month of a death in a roster's remarks; the zero Date where they tell none. Written is the date's own words.
func (m *memory) deathIn(remarks string, near int) date.Date {
	if !mayTellDeath(remarks) {
		return date.Date{}
	}
	words := strings.Fields(remarks)
	for i, w := range words {
		word := strings.TrimRight(w, ",;")
		atOnce, ok := deathWords()[strings.ToLower(word)]
		if !ok || atOnce && word != strings.ToLower(word) { // "Co. D. Jan. 1, 1863"
			continue
		}
		last := i + 1 + furthest
		if atOnce {
			last = i + 1
		}
		for j := i + 1; j <= last && j < len(words); j++ {
			if d, ok := m.dateAt(words[j:], near); ok {
				return d
			}
			if strings.HasSuffix(words[j], ";") {
				break
			}
		}
	}
	return date.Date{}
}

// deathHeads has, for each first letter of a word that tells a death, a bit for the second.
var deathHeads = sync.OnceValue(func() *[32]uint32 {
	var heads [32]uint32
	for word := range deathWords() {
		heads[word[0]&31] |= 1 << (word[1] & 31)
	}
	return &heads
})

// mayTellDeath reports whether a word of the remarks tells a death: of most none does, and they need not be parted into words.
func mayTellDeath(remarks string) bool {
	heads, begins := deathHeads(), true
	for i := 0; i < len(remarks); i++ {
		c := remarks[i]
		if c >= utf8.RuneSelf {
			return true // it may be a blank, or a letter that is a plain one when small
		}
		if begins && i+1 < len(remarks) && heads[c&31]>>(remarks[i+1]&31)&1 != 0 {
			w := remarks[i:]
			if end := strings.IndexAny(w, " \t\n\v\f\r"); end >= 0 {
				w = w[:end]
			}
			w = strings.TrimRight(w, ",;")
			for word := range deathWords() {
				if strings.EqualFold(w, word) {
					return true
				}
			}
		}
		begins = c <= ' '
	}
	return false
}

// dateAt reads a date at the head of the words: month, day and year, or month and year. It begins with a word, so that no regiment is taken
// for a day, or with a day before its month's name ("21 Dec. 1862"), or is one word of figures ("12/21/1862").
func (m *memory) dateAt(words []string, near int) (date.Date, bool) {
	most, least := min(3, len(words)), 2
	if c := words[0][0]; c >= '0' && c <= '9' || c == '\'' {
		switch w := strings.TrimRight(words[0], ".,;:)"); {
		case strings.Count(w, "/") == 2, strings.Count(w, "-") == 2:
			most, least = 1, 1
		case len(w) < 3 && len(words) > 2 && monthWord(words[1]) && len(strings.TrimRight(words[2], ".,;:)")) == 4:
			most, least = 3, 3
		default:
			return date.Date{}, false
		}
	}
	for n := most; n >= least; n-- {
		if !strings.ContainsAny(words[n-1], "0123456789") {
			continue
		}
		text := strings.TrimRight(strings.Join(words[:n], " "), ".,;:)")
		found := m.date(text, near)
		if found.problem != nil {
			continue
		}
		if d := &found.date; !d.From.IsZero() && !d.To.IsZero() && d.To.Ordinal()-d.From.Ordinal() < 31 {
			return *d, true
		}
	}
	return date.Date{}, false
}

// monthWord reports whether a word is a month's name or a short form of it.
func monthWord(word string) bool {
	word = strings.TrimRight(word, ".,")
	for name := range date.Months() {
		if strings.EqualFold(name, word) {
			return true
		}
	}
	return false
}
