package marker

import (
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// The kinds of ground, by which the prior differs.
const (
	county = iota
	national
	confederate
	overseas
	grounds
)

var groundNames = [grounds]string{"county", "national", "confederate", "overseas"}

// groundKind is a row of ground-kinds.csv: the kind of the grounds whose names hold its words. away is set where that holds only for grounds without a state or county, as for
// "American Cemetery".
type groundKind struct {
	kind int
	away bool
}

type groundKinds struct {
	list  []groundKind
	words wordings
}

var groundTable = sync.OnceValue(func() groundKinds {
	t := groundKinds{words: wordings{}}
	for _, r := range vocab.Rows("ground-kinds") {
		kind := slices.Index(groundNames[:], r.Get("kind"))
		if kind < 0 {
			panic(r.Where() + ": no kind of ground " + r.Get("kind"))
		}
		for _, w := range r.List("words") {
			t.words.add(len(t.list), strings.Fields(w))
		}
		t.list = append(t.list, groundKind{kind, r.Get("at_home") == "no"})
	}
	return t
})

// groundOf is the kind of a burial ground by its name, the first of the table that fits; an ordinary one where nothing in the name says otherwise.
func groundOf(p model.Place) int {
	if p.Cemetery == "" {
		return county
	}
	t := groundTable()
	for _, i := range t.words.find(strings.Fields(plain(p.Cemetery))) {
		if g := t.list[i]; !g.away || p.State == "" && p.County == "" {
			return g.kind
		}
	}
	return county
}
