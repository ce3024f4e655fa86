package inscription

import "testing"

// TestGains: no step adds more than gains tells, so that nothing is left out that would be kept.
func TestGains(t *testing.T) {
	c := &chart{lex: theLexicon(), w: &theLexicon().weights}
	var most [kinds]float32
	for _, k := range allCases(t) {
		c.own.Split(k.text)
		if n := len(c.own.Words); n == 0 || n > maxWords {
			continue
		}
		c.fill(&c.own, Context{})
		c.search()
		for i := range c.text.Words {
			for j := c.first[i]; j >= 0; j = c.items[j].next {
				it := &c.items[j]
				for _, p := range c.at[i].list {
					s := &c.states[p.state]
					n, limit := *s, c.lex.gains.of[it.kind]
					if it.kind == kUnit && s.unit.Service() {
						limit = c.lex.gains.secondUnit
					}
					if it.kind == kName {
						c.stepName(&n, s, it)
						limit = c.lex.gains.name(s)
					} else if !c.step(&n, s, it) {
						continue
					}
					gain := n.score - s.score - it.score
					most[it.kind] = max(most[it.kind], gain)
					if gain > limit {
						t.Errorf("%s: %s: an item of kind %d gains %v, more than %v", k.where, k.text, it.kind, gain, limit)
					}
				}
			}
		}
	}
	if most[kName] == 0 || most[kUnit] == 0 {
		t.Error("no name and no unit gained anything, which cannot be")
	}
}
