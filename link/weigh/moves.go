package weigh

import "musterstone/model"

// Moves says how men moved between the state for which they served and the one in which they lie, counted on the stones that give a unit: no link is needed
// for that. Nil knows nothing of it.
type Moves struct {
	lie  map[model.State]int    // stones that give a state's unit, by the state in which they stand
	from map[[2]model.State]int // of them, by both: where they stand, whose the unit is
}

const (
	// stayedStones and spreadStones are the stones that the table's share of those who stayed, and the rosters' spread of the others over the states, are
	// worth. House judgement.
	stayedStones, spreadStones = 20, 5
)

// CountMoves goes once over the stones.
func CountMoves(subjects []*model.Subject) *Moves {
	m := &Moves{lie: map[model.State]int{}, from: map[[2]model.State]int{}}
	for _, s := range subjects {
		m.Add(s)
	}
	return m
}

// Add counts one more stone.
func (m *Moves) Add(s *model.Subject) {
	here, unit := s.Stone.Place.State, s.Reading().Claim().Service.Unit.State
	if here != "" && unit != "" {
		m.lie[here]++
		m.from[[2]model.State{here, unit}]++
	}
}

// chance is the probability that a man who lies in one state served for the other: stayed is the table's that the two are the same, hereShare and unitShare
// the parts of the rosters' men that are the two states'.
func (m *Moves) chance(here, unit model.State, stayed, hereShare, unitShare float64) float64 {
	all, same, both := 0.0, 0.0, 0.0
	if m != nil {
		all, same, both = float64(m.lie[here]), float64(m.from[[2]model.State{here, here}]), float64(m.from[[2]model.State{here, unit}])
	}
	stay := (same + stayedStones*stayed) / (all + stayedStones)
	if here == unit {
		return stay
	}
	spread := unitShare / max(1-hereShare, unitShare)
	return (1 - stay) * (both + spreadStones*spread) / (all - same + spreadStones)
}
