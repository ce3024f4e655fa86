package name

import (
	"cmp"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
)

// Form is a name that a writing may stand for, and how strongly.
type Form struct {
	Name string
	P    float64 // share among the forms; they sum to 1
}

var abbreviations = sync.OnceValue(func() map[string][]Form {
	m := map[string][]Form{}
	for _, r := range vocab.Rows("given-abbreviations") {
		k := strings.ToLower(r.Get("form"))
		m[k] = append(m[k], Form{r.Get("name"), r.Float("p")})
	}
	for _, list := range m {
		slices.SortStableFunc(list, likelier)
	}
	return m
})

func likelier(a, b Form) int { return cmp.Compare(b.P, a.P) }

var givenRoots = sync.OnceValue(func() map[string][]Form {
	m := map[string][]Form{}
	for _, r := range vocab.Rows("given-roots") {
		k := r.Get("form")
		m[k] = append(m[k], Form{r.Get("root"), r.Float("p")})
	}
	for k, list := range m {
		rest := 1.0
		for _, f := range list {
			rest -= f.P
		}
		if rest > 1e-9 {
			list = append(list, Form{k, rest})
		}
		slices.SortStableFunc(list, likelier)
		m[k] = list
	}
	return m
})

// Roots gives the folded names that a given name may stand for, itself among them, likeliest first: "Harry" is henry .6, harold .2
// or harry .2; "Friedrich" is frederick .8 or friedrich .2; a name without another root is only itself. An abbreviation gives
// the roots of what it stands for. Two given names may be one where they share a root.
func Roots(given string) []Form {
	k := Fold(given)
	if list, ok := givenRoots()[k]; ok {
		return slices.Clone(list)
	}
	if short := abbreviations()[k]; short != nil {
		var list []Form
		for _, f := range short {
			list = append(list, Form{Fold(f.Name), f.P})
		}
		return list
	}
	if k == "" {
		return nil
	}
	return []Form{{k, 1}}
}
