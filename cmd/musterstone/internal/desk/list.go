package desk

import (
	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
)

// listed is a stone in a list.
type listed struct {
	ID       model.StoneID
	Headline string
	Kind     kind
	Chance   float64
	Place    string
	Cells    []hitCell
}

func (d *Desk) listed(b *board, i int) listed {
	return listed{ID: d.subjects[i].Stone.ID, Headline: say.Headline(d.subjects[i]), Kind: b.kinds[i], Chance: b.best[i], Place: say.Place(d.subjects[i].Stone.Place)}
}
