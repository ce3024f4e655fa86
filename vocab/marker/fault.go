package marker

import (
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
)

// Fault is something that may be amiss with a government marker: it is contradicted, or it fails.
type Fault struct {
	Text string // in words: "recorded as broken"
	// Chance is how likely the marker is wrong, or past its use, where this alone tells of it.
	Chance float64
}

// FindFault gives the fault that the evidence of a link ("evidence", "unit/one digit"), a contradiction of the design ("rule", "too-young") or the reading of the
// words ("reading", "lost name") tells of.
func FindFault(from, key string) (Fault, bool) {
	f, ok := faultTable().at[[2]string{from, key}]
	return f, ok
}

// FaultsIn gives the faults that a recorder's words for the condition tell of, in the order of the table. Words count whole: what is unbroken is not broken.
func FaultsIn(condition string) []Fault {
	said := strings.FieldsFunc(strings.ToLower(condition), func(r rune) bool { return (r < 'a' || r > 'z') && r != '\'' })
	var out []Fault
	for _, f := range faultTable().conditions {
		if slices.ContainsFunc(f.words, func(w []string) bool { return holds(said, w) }) {
			out = append(out, f.Fault)
		}
	}
	return out
}

// conditionFault is a fault with the words that tell of it.
type conditionFault struct {
	Fault
	words [][]string
}

type faults struct {
	at         map[[2]string]Fault // by where it is seen, and the key there; those of the condition apart
	conditions []conditionFault
}

var faultTable = sync.OnceValue(func() faults {
	t := faults{at: map[[2]string]Fault{}}
	for _, r := range vocab.Rows("marker-faults") {
		f := Fault{Text: r.Get("text"), Chance: r.Float("chance")}
		if r.Get("from") != "condition" {
			t.at[[2]string{r.Get("from"), r.Get("key")}] = f
			continue
		}
		c := conditionFault{Fault: f}
		for _, w := range r.List("key") {
			c.words = append(c.words, strings.Fields(w))
		}
		t.conditions = append(t.conditions, c)
	}
	return t
})

// holds reports whether the words stand in the text, one behind the other.
func holds(text, words []string) bool {
	for i := 0; i+len(words) <= len(text); i++ {
		if slices.Equal(text[i:i+len(words)], words) {
			return true
		}
	}
	return false
}
