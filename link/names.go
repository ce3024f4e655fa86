package link

import (
	"math"

	"musterstone/link/weigh"
)

// Names are of what peoples those are whose stones are of no man of the rosters. That a stone bears a name is worth the more the rarer it is in the rosters; but of a ground's other dead more may be Irish than of the rosters' men,
// and of two Irishmen one name is nothing rare. Where the rosters' men fall into peoples with names of their own (package weigh), a surname s and a given name g come together
// among the others so many times as often as they would by chance among the rosters' men:
//
//	w0 + Σ wk S(k) G(k)
//
// with S and G how many times as likely each name makes a man one of people k, wk the share of that people among the others, and w0 the share of those whose names hang
// together by chance only. The shares are learned from the stones, from each according to the probability that its man is in none of the records.
type Names [weigh.People + 1]float64

// priorNames is how many stones the belief is worth that half of the others are named by chance, and the rest as the rosters' peoples are. House judgement.
const priorNames = 20

// Kinds of stones whose others may be of other peoples: veterans and civilians are, and so are those whom a register lists.
const (
	tellingNames = iota
	plainNames
	registerNames
	nameKinds
)

func (s *Standing) nameKind() int {
	switch {
	case !s.Plain:
		return tellingNames
	case s.Register:
		return registerNames
	}
	return plainNames
}

// namesBefore are what Names are before any stone is seen, with these shares of the peoples in the rosters.
func namesBefore(peoples *[weigh.People]float64) (n Names) {
	n[0] = 0.5
	for k, share := range peoples {
		n[k+1] = 0.5 * share
	}
	return n
}

// times is how many times as often as by chance the others bear the stone's surname, its given name, and both.
func (n *Names) times(s *Standing) (surname, given, both float64) {
	surname, given, both = n[0], n[0], n[0]
	for k, w := range n[1:] {
		a, b := s.Surname.Times(k), s.Given.Times(k)
		surname, given, both = surname+w*a, given+w*b, both+w*a*b
	}
	return surname, given, both
}

// How two names of stone and record may agree.
const (
	oneSurname = 1 << iota
	oneGiven
)

// nameBits are what it is worth, in bits, that names agree, by how they do.
type nameBits [4]float64

func (n *Names) bits(s *Standing) nameBits {
	surname, given, both := n.times(s)
	return nameBits{oneSurname: -math.Log2(surname), oneGiven: -math.Log2(given), oneSurname | oneGiven: -math.Log2(both)}
}

// NameSums are the stones of those who are in none of the records, by people.
type NameSums [weigh.People + 1]men

func (s *NameSums) add(n *Names, stone *Standing, p float64) {
	_, _, both := n.times(stone)
	s[0] += menOf(p * n[0] / both)
	for k, w := range n[1:] {
		s[k+1] += menOf(p * w * stone.Surname.Times(k) * stone.Given.Times(k) / both)
	}
}

func (s *NameSums) merge(o *NameSums) {
	for k, n := range o {
		s[k] += n
	}
}

// learn sets what the stones came to, and gives how far the farthest moved.
func (n *Names) learn(s *NameSums, peoples *[weigh.People]float64) float64 {
	before, all, moved := namesBefore(peoples), 0.0, 0.0
	for _, stones := range s {
		all += stones.float()
	}
	for k := range n {
		next := (s[k].float() + priorNames*before[k]) / (all + priorNames)
		moved = max(moved, math.Abs(next-n[k]))
		n[k] = next
	}
	return moved
}

// namesOf is, of a level by its number in package weigh, how names agree at it; 0 for other levels.
func namesOf(field, level string) uint8 {
	switch {
	case field == "surname" && weigh.OneName(level):
		return oneSurname
	case field == "given" && weigh.OneGiven(level):
		return oneGiven
	}
	return 0
}
