package intake

import (
	"strings"
	"sync"

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

// dateAt reads a date at the head of the words: month, day and year, or month and year. It begins with a word, so that no regiment is taken
// for a day.
func (m *memory) dateAt(words []string, near int) (date.Date, bool) {
	if c := words[0][0]; c >= '0' && c <= '9' || c == '\'' {
		return date.Date{}, false
	}
	for n := min(3, len(words)); n >= 2; n-- {
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
