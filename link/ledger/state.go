package ledger

import (
	"cmp"
	"iter"
	"maps"
	"slices"

	"musterstone/model"
)

// Pair is a stone and a record that someone decided on.
type Pair struct {
	Stone  model.StoneID
	Record model.RecordID
}

func (p Pair) compare(q Pair) int {
	return cmp.Or(cmp.Compare(p.Stone, q.Stone), cmp.Compare(p.Record, q.Record))
}

// Standing is what people hold of a pair, all decisions taken together.
type Standing string

// How a pair may stand. Undecided is a pair on which nobody decided; Withdrawn one on which everybody who did has withdrawn.
const (
	Undecided Standing = ""
	Confirmed Standing = "confirmed" // at least one person confirmed it and nobody refuses it
	Refused   Standing = "refused"   // at least one person refused it and nobody confirms it
	Disputed  Standing = "disputed"  // one confirmed and another refused it
	Withdrawn Standing = "withdrawn"
)

// State is what the decisions of a ledger come to. The zero State is one with no decisions. It is not changed after it was made
// and may be read by many at once.
type State struct {
	pairs   map[Pair]Held
	stones  map[model.StoneID][]model.RecordID // confirmed, sorted
	records map[model.RecordID][]model.StoneID // confirmed, sorted
}

// Held is how a pair stands, and the decision by which each person holds to it, sorted by the person's name.
type Held struct {
	As     Standing
	Voices []model.Decision
}

// StateOf works out the state from decisions in any order. Of one person's decisions on a pair, that one stands which no other of
// them supersedes; of several, the latest, and of the same second, the one of the greater id. So a clock that was put back does
// not raise an older decision over the newer one that names it.
func StateOf(decisions iter.Seq[model.Decision]) State {
	type voice struct {
		Pair
		by string
	}
	all := map[voice][]model.Decision{}
	for d := range decisions {
		v := voice{Pair{d.Stone, d.Record}, d.By}
		all[v] = append(all[v], d)
	}
	s := State{pairs: map[Pair]Held{}, stones: map[model.StoneID][]model.RecordID{}, records: map[model.RecordID][]model.StoneID{}}
	for v, ds := range all {
		h := s.pairs[v.Pair]
		h.Voices = append(h.Voices, standing(ds))
		s.pairs[v.Pair] = h
	}
	for p, h := range s.pairs {
		slices.SortFunc(h.Voices, func(a, b model.Decision) int { return cmp.Compare(a.By, b.By) })
		h.As = together(h.Voices)
		s.pairs[p] = h
		if h.As == Confirmed {
			s.stones[p.Stone] = append(s.stones[p.Stone], p.Record)
			s.records[p.Record] = append(s.records[p.Record], p.Stone)
		}
	}
	for _, v := range s.stones {
		slices.Sort(v)
	}
	for _, v := range s.records {
		slices.Sort(v)
	}
	return s
}

// standing picks the decision that stands of those of one person on one pair.
func standing(ds []model.Decision) model.Decision {
	replaced := map[string]bool{}
	for _, d := range ds {
		if d.Supersedes != d.ID {
			replaced[d.Supersedes] = true
		}
	}
	live := slices.DeleteFunc(slices.Clone(ds), func(d model.Decision) bool { return replaced[d.ID] })
	if len(live) == 0 { // they replace one another in a ring, which only a hand can have written
		live = ds
	}
	return slices.MaxFunc(live, compare)
}

func together(voices []model.Decision) Standing {
	var yes, no bool
	for _, d := range voices {
		yes = yes || d.As == model.Confirmed
		no = no || d.As == model.Refused
	}
	switch {
	case yes && no:
		return Disputed
	case yes:
		return Confirmed
	case no:
		return Refused
	}
	return Withdrawn
}

// compare orders decisions by time, then id.
func compare(a, b model.Decision) int {
	return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID))
}

// Of is how the pair stands; the zero Held where nobody decided.
func (s State) Of(stone model.StoneID, record model.RecordID) Held {
	return s.pairs[Pair{stone, record}]
}

// Confirmed gives the records that are confirmed for the stone, sorted. More than one is possible: a family stone names several.
func (s State) Confirmed(stone model.StoneID) []model.RecordID { return slices.Clone(s.stones[stone]) }

// ConfirmedStones gives the stones for which the record is confirmed, sorted.
func (s State) ConfirmedStones(record model.RecordID) []model.StoneID {
	return slices.Clone(s.records[record])
}

// Refused reports whether the pair is refused, undisputed.
func (s State) Refused(stone model.StoneID, record model.RecordID) bool {
	return s.Of(stone, record).As == Refused
}

// Disputed reports whether people disagree on the pair.
func (s State) Disputed(stone model.StoneID, record model.RecordID) bool {
	return s.Of(stone, record).As == Disputed
}

// Pairs gives every pair that somebody decided on, sorted by stone, then record.
func (s State) Pairs() []Pair { return slices.SortedFunc(maps.Keys(s.pairs), Pair.compare) }

// Count says how many pairs stand so.
func (s State) Count(as Standing) int {
	n := 0
	for _, h := range s.pairs {
		if h.As == as {
			n++
		}
	}
	return n
}
