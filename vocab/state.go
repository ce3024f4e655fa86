package vocab

import (
	"slices"
	"sync"

	"musterstone/model"
)

// StateForm is one way in which a state has been written.
type StateForm struct {
	Form  string
	State model.State
	// From and To are the years in which the form meant that state; 0 where open.
	From, To int
	// Kind is "name", "postal", "post-office" (an official list before 1963), "stone", "territory" or "code".
	Kind string
	// Also are codes of what else the form may mean: "colored", "colonel", "light-artillery", "independent", "initial", …
	Also []string
	// Note is a sentence on how to tell, Source the keys of its sources.
	Note, Source string
}

type stateTable struct {
	rows  []StateForm
	byKey map[string][]StateForm
}

var states = sync.OnceValue(func() stateTable {
	t := stateTable{byKey: map[string][]StateForm{}}
	for _, r := range Rows("state-forms") {
		f := StateForm{
			Form: r.Get("form"), State: model.State(r.Get("state")), From: r.Int("from"), To: r.Int("to"),
			Kind: r.Get("kind"), Also: r.List("also"), Note: r.Get("note"), Source: r.Get("source"),
		}
		t.rows = append(t.rows, f)
		k := Key(f.Form)
		t.byKey[k] = append(t.byKey[k], f)
	}
	// What a form means today or on most stones comes first: no end before what has an end, then file order.
	for _, list := range t.byKey {
		slices.SortStableFunc(list, func(a, b StateForm) int { return rankForm(a) - rankForm(b) })
	}
	return t
})

func rankForm(f StateForm) int {
	if f.Kind == "post-office" && f.To != 0 && f.To < 1850 {
		return 1
	}
	return 0
}

// State finds the state that a postal code, a name or an abbreviation of any period means, whatever its case and points:
// "Ill's", "PENNA.", "N. Y.", "WI". Where a form has meant several states the commonest on stones is given.
func State(text string) (model.State, bool) {
	list := states().byKey[Key(text)]
	if list == nil {
		return "", false
	}
	return list[0].State, true
}

// AllStateForms are all the forms that the program knows, in the order of the table.
func AllStateForms() []StateForm { return slices.Clone(states().rows) }

// StateName is the full name of a state or territory, or "" where the code is not known.
func StateName(code model.State) string {
	r, ok := stateRows()[string(code)]
	if !ok {
		return ""
	}
	return r.Get("name")
}

var stateRows = sync.OnceValue(func() map[string]Row { return codes("states", "code") })
