package inscription

import (
	"testing"

	"musterstone/vocab/words"
)

// TestGuards: fill calls a rule only at words where it may find something. Called at every word, the rules find nothing else. A rule that now starts at one more word needs
// that word in loadStarts, or its condition in fill.
func TestGuards(t *testing.T) {
	type piece struct {
		from, to int
		kind     kind
	}
	c := &chart{lex: theLexicon(), w: &theLexicon().weights}
	calls := 0
	for _, k := range allCases(t) {
		c.own.Split(k.text)
		n := min(len(c.own.Words), maxWords)
		c.own.Words = c.own.Words[:n]
		c.fill(&c.own, Context{})
		found := map[piece]bool{}
		for i := range c.items {
			found[piece{c.items[i].from, c.items[i].to, c.items[i].kind}] = true
		}
		for i := range n {
			first := len(c.items)
			digits, begins := c.text.Words[i].Has(words.Digits), c.mayBegin(i)
			c.unitItems(i)
			c.formItems(i)
			if begins {
				c.pairItems(i)
			}
			if begins && !digits {
				c.placeItems(i)
			}
			c.dateItems(i)
			c.ageItems(i, false, i)
			c.yearOfAge(i)
			c.graveItems(i)
			for _, it := range c.items[first:] {
				calls++
				if !found[piece{it.from, it.to, it.kind}] {
					t.Errorf("%s: %s: words %d to %d as kind %d are not found, though a rule finds them", k.where, k.text, it.from, it.to-1, it.kind)
				}
			}
		}
	}
	if calls == 0 {
		t.Error("the rules found nothing at all")
	}
}
