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
	whole   map[model.StoneID][]model.Decision // by whom the stone as a whole is held to be so; sorted by the person's name
	notes   map[model.StoneID][]model.Decision // sorted by time
	named   map[model.StoneID][]model.RecordID // those that somebody decided on, sorted
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
//
// Who says none of these of a stone refuses every record of it on which he says nothing else. A decision that another of the same person's on
// the same stone sets aside (Instead) no longer speaks.
func StateOf(decisions iter.Seq[model.Decision]) State {
	type voice struct {
		Pair
		by string
	}
	type person struct {
		stone model.StoneID
		by    string
	}
	all := map[voice][]model.Decision{}
	aside := map[person]map[string]bool{}
	notes := map[string]model.Decision{}
	gone := map[string]bool{} // notes that were replaced or withdrawn
	for d := range decisions {
		if len(d.Instead) > 0 {
			p := person{d.Stone, d.By}
			if aside[p] == nil {
				aside[p] = map[string]bool{}
			}
			for _, id := range d.Instead {
				aside[p][id] = true
			}
		}
		if d.As == model.Noted {
			notes[d.ID] = d
			gone[d.Supersedes] = true
			continue
		}
		v := voice{Pair{d.Stone, d.Record}, d.By}
		all[v] = append(all[v], d)
	}
	s := State{pairs: map[Pair]Held{}, whole: map[model.StoneID][]model.Decision{}, notes: map[model.StoneID][]model.Decision{},
		named: map[model.StoneID][]model.RecordID{}, stones: map[model.StoneID][]model.RecordID{}, records: map[model.RecordID][]model.StoneID{}}
	for v, ds := range all {
		ds = slices.DeleteFunc(ds, func(d model.Decision) bool { // a note's withdrawal
			_, note := notes[d.Supersedes]
			gone[d.Supersedes] = gone[d.Supersedes] || note
			return note
		})
		if len(ds) == 0 {
			continue
		}
		d, speaks := standing(ds, aside[person{v.Stone, v.by}])
		if v.Record == "" {
			if speaks {
				s.whole[v.Stone] = append(s.whole[v.Stone], d)
			}
			continue
		}
		h := s.pairs[v.Pair]
		if speaks {
			h.Voices = append(h.Voices, d)
		}
		s.pairs[v.Pair] = h
	}
	for _, ds := range s.whole {
		slices.SortFunc(ds, byPerson)
	}
	for p, h := range s.pairs {
		slices.SortFunc(h.Voices, byPerson)
		h.As = together(s.withWhole(p.Stone, h.Voices))
		s.pairs[p] = h
		s.named[p.Stone] = append(s.named[p.Stone], p.Record)
		if h.As == Confirmed {
			s.stones[p.Stone] = append(s.stones[p.Stone], p.Record)
			s.records[p.Record] = append(s.records[p.Record], p.Stone)
		}
	}
	for _, v := range s.named {
		slices.Sort(v)
	}
	for _, v := range s.stones {
		slices.Sort(v)
	}
	for _, v := range s.records {
		slices.Sort(v)
	}
	for id, n := range notes {
		if !gone[id] {
			s.notes[n.Stone] = append(s.notes[n.Stone], n)
		}
	}
	for _, ns := range s.notes {
		slices.SortFunc(ns, compare)
	}
	return s
}

// speaking has the ids of the decisions that speak today, notes among them, withdrawals not.
func (s State) speaking() map[string]bool {
	ids := map[string]bool{}
	add := func(ds []model.Decision) {
		for _, d := range ds {
			if d.As != model.Withdrawn {
				ids[d.ID] = true
			}
		}
	}
	for _, h := range s.pairs {
		add(h.Voices)
	}
	for _, ds := range s.whole {
		add(ds)
	}
	for _, ds := range s.notes {
		add(ds)
	}
	return ids
}

func byPerson(a, b model.Decision) int { return cmp.Compare(a.By, b.By) }

// withWhole adds to the voices on a pair those who say none of these of the whole stone, and nothing of the pair.
func (s State) withWhole(stone model.StoneID, voices []model.Decision) []model.Decision {
	for _, d := range s.whole[stone] {
		if d.As == model.NoneOfThese && !slices.ContainsFunc(voices, func(v model.Decision) bool { return v.By == d.By && v.As != model.Withdrawn }) {
			voices = append(slices.Clip(voices), d)
		}
	}
	return voices
}

// standing picks the decision that stands of those of one person on one pair; false where all that might were set aside.
func standing(ds []model.Decision, aside map[string]bool) (model.Decision, bool) {
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
	live = slices.DeleteFunc(slices.Clone(live), func(d model.Decision) bool { return aside[d.ID] })
	if len(live) == 0 {
		return model.Decision{}, false
	}
	return slices.MaxFunc(live, compare), true
}

func together(voices []model.Decision) Standing {
	var yes, no bool
	for _, d := range voices {
		yes = yes || d.As == model.Confirmed
		no = no || d.As == model.Refused || d.As == model.NoneOfThese
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

// Of is how the pair stands; the zero Held where nobody decided. A none-of-these of the stone is among the voices.
func (s State) Of(stone model.StoneID, record model.RecordID) Held {
	h := s.pairs[Pair{stone, record}]
	if voices := s.withWhole(stone, h.Voices); len(voices) > len(h.Voices) {
		return Held{together(voices), voices}
	}
	return h
}

// Whole gives the decisions on the stone as a whole that stand, none of these and unsure, sorted by the person's name.
func (s State) Whole(stone model.StoneID) []model.Decision {
	return slices.DeleteFunc(slices.Clone(s.whole[stone]), func(d model.Decision) bool { return d.As == model.Withdrawn })
}

// NoneOf reports whether somebody holds that none of the records is the stone's man and nobody has confirmed one.
func (s State) NoneOf(stone model.StoneID) bool {
	return len(s.stones[stone]) == 0 && !s.DisputedStone(stone) &&
		slices.ContainsFunc(s.whole[stone], func(d model.Decision) bool { return d.As == model.NoneOfThese })
}

// UnsureOf reports whether somebody left the stone unsure and nobody has settled it since.
func (s State) UnsureOf(stone model.StoneID) bool {
	return len(s.stones[stone]) == 0 && !s.NoneOf(stone) && !s.DisputedStone(stone) &&
		slices.ContainsFunc(s.whole[stone], func(d model.Decision) bool { return d.As == model.Unsure })
}

// DisputedStone reports whether people disagree on any record of the stone.
func (s State) DisputedStone(stone model.StoneID) bool {
	for _, r := range s.named[stone] {
		if s.pairs[Pair{stone, r}].As == Disputed {
			return true
		}
	}
	return false
}

// Notes gives the notes on the stone that stand, the oldest first.
func (s State) Notes(stone model.StoneID) []model.Decision { return slices.Clone(s.notes[stone]) }

// Voices gives every decision on the stone that stands, withdrawals and notes apart, sorted by record, then the person's name.
func (s State) Voices(stone model.StoneID) []model.Decision {
	out := s.Whole(stone)
	for _, r := range s.named[stone] {
		for _, v := range s.pairs[Pair{stone, r}].Voices {
			if v.As != model.Withdrawn {
				out = append(out, v)
			}
		}
	}
	return out
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

// Silent reports whether nobody has decided anything of any pair or stone.
func (s State) Silent() bool { return len(s.pairs) == 0 && len(s.whole) == 0 }

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
