package marker

import (
	"strings"
	"sync"

	"musterstone/vocab"
)

// condition is a row of marker-conditions.csv: a state that a stone may be in, and what of it that hides.
type condition struct {
	key   string
	hides []string
}

type conditions struct {
	list  []condition
	words wordings
}

var conditionTable = sync.OnceValue(func() conditions {
	t := conditions{words: wordings{}}
	for _, r := range vocab.Rows("marker-conditions") {
		for _, w := range r.List("words") {
			t.words.add(len(t.list), strings.Fields(w))
		}
		t.list = append(t.list, condition{r.Get("key"), r.List("hides")})
	}
	return t
})

// conditionsIn gives the states that a recorder's words for the condition tell of, in the order of the table.
func conditionsIn(text string) []condition {
	if text == "" {
		return nil
	}
	t := conditionTable()
	var out []condition
	for _, i := range t.words.find(strings.Fields(plain(text))) {
		out = append(out, t.list[i])
	}
	return out
}

// Conditions gives the keys of marker-conditions.csv that a recorder's words for the condition tell of, in the table's order: "top-lost", "leaning".
func Conditions(text string) []string {
	var keys []string
	for _, c := range conditionsIn(text) {
		keys = append(keys, c.key)
	}
	return keys
}

// hidden gives what the condition of a stone hides: a look or a measurement by its name, and "device-none" where the lack of a device tells nothing.
func hidden(text string) []string {
	var out []string
	for _, c := range conditionsIn(text) {
		out = append(out, c.hides...)
	}
	return out
}
