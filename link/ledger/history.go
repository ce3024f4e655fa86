package ledger

import (
	"slices"

	"musterstone/model"
)

// History is everything that was decided and noted, and what still speaks.
type History struct {
	// Decisions are all that count, sorted by time, then id, each on the record that it is on today.
	Decisions []model.Decision
	// Stands has the ids of those that speak today, notes among them, withdrawals not.
	Stands map[string]bool
	// Astray has the ids of those whose record's id is another man's today. They link nothing, and name the id that they were made on.
	Astray map[string]bool
}

// History gives the whole ledger, for who publishes it.
func (l *Ledger) History() History {
	l.mu.Lock()
	defer l.mu.Unlock()
	h := History{Decisions: l.followed(), Stands: l.stateNow().speaking(), Astray: map[string]bool{}}
	for i, d := range h.Decisions {
		if l.strayed(i, d) {
			h.Astray[d.ID] = true
			h.Decisions[i].Record = l.log.Entries[i].Record
		}
	}
	slices.SortFunc(h.Decisions, compare)
	return h
}
