package name

import (
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/vocab"
)

// TestQuick: the quick way gives what the careful way gives, or leaves the name to it; and it takes most names.
func TestQuick(t *testing.T) {
	var all []string
	for _, table := range []struct{ name, column string }{{"given-shares", "given"}, {"surname-shares", "surname"}, {"given-abbreviations", "form"},
		{"given-roots", "form"}, {"name-words", "word"}} {
		for _, r := range vocab.Rows(table.name) {
			if w := strings.ToUpper(letters(r.Get(table.column))); w != "" {
				all = append(all, w)
			}
		}
	}
	all = append(all, "XYLOPH", "QQ", "MCNEIL", "MACDONALD", "OHARE", "A", "B", "T", "V", "J", "O", "D", "M", "MD", "VANDERPOOL", "OR", "ALIAS")
	r := rand.New(rand.NewPCG(3, 4))
	taken := 0
	const rounds = 60000
	for range rounds {
		var words []string
		for range 1 + r.IntN(4) {
			w := all[r.IntN(len(all))]
			if r.IntN(3) == 0 {
				w = string(rune('A' + r.IntN(26)))
			}
			if r.IntN(3) == 0 {
				w += "."
			}
			words = append(words, w)
		}
		s := strings.Join(words, " ")
		if n, ok := quickParse(s); ok {
			taken++
			if d := cmp.Diff(carefulParse(s), n); d != "" {
				t.Fatalf("%q: %s", s, d)
			}
		}
		surname := words[len(words)-1]
		if r.IntN(4) == 0 {
			surname = ""
		}
		given := strings.Join(words[:len(words)-1], " ")
		if n, ok := quickParts(surname, given); ok {
			if d := cmp.Diff(carefulParts(surname, given), n); d != "" {
				t.Fatalf("%q, %q: %s", surname, given, d)
			}
		}
	}
	if taken < rounds/3 {
		t.Errorf("the quick way took %d of %d names", taken, rounds)
	}
}
