package marker

import (
	"slices"
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

// FaultsIn gives the faults that a recorder's words for the condition tell of, in the order of the table.
func FaultsIn(condition string) []Fault {
	states := Conditions(condition)
	if states == nil {
		return nil
	}
	var out []Fault
	for _, f := range faultTable().conditions {
		if slices.ContainsFunc(f.keys, func(key string) bool { return slices.Contains(states, key) }) {
			out = append(out, f.Fault)
		}
	}
	return out
}

// conditionFault is a fault with the keys of the conditions that tell of it.
type conditionFault struct {
	Fault
	keys []string
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
		t.conditions = append(t.conditions, conditionFault{f, r.List("key")})
	}
	return t
})
