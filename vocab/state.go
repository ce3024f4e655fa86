package vocab

import (
	"slices"
	"sync"

	"musterstone/model"
)

// stateForms are the ways in which states have been written. What a form means today or on most stones comes first: no end before what has an end, then file order.
var stateForms = sync.OnceValue(func() map[string][]Row {
	m := forms("state-forms")
	for _, list := range m {
		slices.SortStableFunc(list, func(a, b Row) int { return afterwards(a) - afterwards(b) })
	}
	return m
})

// afterwards is 1 for a meaning of the early lists of the post office, 0 for any other.
func afterwards(form Row) int {
	if to := form.Int("to"); form.Get("kind") == "post-office" && to != 0 && to < 1850 {
		return 1
	}
	return 0
}

// State finds the state that a postal code, a name or an abbreviation of any period means, whatever its case and points:
// "Ill's", "PENNA.", "N. Y.", "WI". Where a form has meant several states the commonest on stones is given.
func State(text string) (model.State, bool) {
	list := stateForms()[Key(text)]
	if list == nil {
		return "", false
	}
	return model.State(list[0].Get("state")), true
}

// StateName is the full name of a state or territory, or "" where the code is not known.
func StateName(code model.State) string {
	r, ok := stateRows()[string(code)]
	if !ok {
		return ""
	}
	return r.Get("name")
}

var stateRows = sync.OnceValue(func() map[string]Row { return codes("states", "code") })
