package unit

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// Change is one redesignation: what a regiment was called before, and after.
type Change struct {
	Before, After model.Unit
	On            date.Date // the zero Date where it is not known
	Note          string
	Sources       []string // keys of the table of sources
}

var changes = sync.OnceValue(func() []Change {
	var all []Change
	for i, r := range vocab.Rows("usct-redesignations") {
		c := Change{Before: renamings()[i].before, After: renamings()[i].later, Note: r.Get("note"), Sources: strings.Fields(r.Get("source"))}
		if on := r.Get("on"); on != "" {
			if d, err := date.ParseEDTF(on); err == nil {
				d.Written = ""
				c.On = d
			}
		}
		all = append(all, c)
	}
	return all
})

// Changes gives the redesignations that the regiment, company apart, has part in, in the order of the table; nil where none is known. As with
// Redesignated, a number that stood for two regiments in turn has the changes of both.
func Changes(u model.Unit) []Change {
	if u.Number == 0 || u.Arm == "" {
		return nil
	}
	var out []Change
	for _, c := range changes() {
		if sameName(u, c.After) || sameName(u, c.Before) {
			out = append(out, c)
		}
	}
	return out
}
