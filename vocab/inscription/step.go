package inscription

import (
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

func (c *chart) nameStep(n, s *state, it *item) {
	first := c.text.Words[it.from].Has(words.FirstInLine)
	short := it.name.givenOnly || it.name.oneWord
	if int(it.name.surname) == it.to && !it.name.givenOnly && it.name.suffix < 0 {
		n.score -= 0.8 // given names and initials, and no surname
	}
	n.flags &^= fTitle | fRelation
	w := &c.nameScore[it.from]
	if w.givenName || w.initial || c.text.Words[it.from].Has(words.CommaAfter) {
		n.flags |= fNamed
	} else if s.is(fRankFull) && !first && !it.name.known && !c.context.government() {
		n.score -= 2 // "PRIVATE WAY": hardly a man
	}
	n.flags &^= fRankFull
	switch {
	case s.is(fWantName):
		n.score += 1.2
		if short {
			n.score += 0.4
		}
		n.flags &^= fWantName
	case s.is(fRelation) && s.is(fHead):
		n.score += 1
		if it.name.givenOnly {
			n.score += 1.1
		}
		c.newPerson(n)
	case !s.is(fHead):
		n.score += 2
		switch {
		case s.is(fFamily) && it.name.givenOnly:
			n.score += 1.2
		case s.is(fFamily) && c.heads(it):
		case s.is(fFamily):
			n.score -= 2.2
		case it.name.givenOnly:
			n.score -= 1
			if s.is(fRelation) || s.last == kTitle {
				n.score += 0.5
			}
		case it.name.oneWord:
			n.score -= 0.4
		}
		if s.is(fUnknown) {
			n.score -= 2
		}
		n.flags |= fHead
	default:
		n.score -= 1.9
		switch {
		case s.last == kDate || s.last == kYears || s.last == kAge:
			n.score += 1.2
		case s.last == kName:
			n.score -= 2
		case s.last == kUnit || s.last == kRank:
			n.score -= 1.5
		default:
			n.score -= 1
		}
		if !it.name.known {
			n.score -= 2
		}
		if !w.givenName && !w.initial && !c.text.Words[it.from].Has(words.Lost) {
			n.score -= 2 // "TRENCH MORTAR": hardly another person
		}
		if s.is(fFamily) && it.name.givenOnly {
			n.score += 1.4
		} else if short {
			n.score -= 1.8
		}
		c.newPerson(n)
	}
	switch s.last {
	case kRank, kTitle:
		n.score += 1
	}
	if !first {
		switch s.last {
		case kRank, kTitle, kRelation, kRelationOf, kGrave, kMemorial, kSaying, kNone, kNote, kLabel, kBranch:
		case kUnit:
			n.score -= 1.5
		default:
			n.score -= 1.2
		}
	}
}

// heads reports whether the surname of a name heads the stone.
func (c *chart) heads(it *item) bool {
	t := c.text
	if int(it.name.surname) >= it.to {
		return true
	}
	for j := range it.from {
		if t.Words[j].Has(words.FirstInLine) && t.Key(j) == t.Key(int(it.name.surname)) {
			return true
		}
	}
	return false
}

// newPerson closes what belongs to the one before.
func (c *chart) newPerson(n *state) {
	n.flags |= fMany | fHead
	n.flags &^= fBorn | fDied | fAge
	if !n.unit.IsZero() {
		n.score += n.unit.Close()
		if n.unit.Service() {
			n.score += unitDoubt
			n.flags |= fService | fClosed
		} else {
			n.score -= 3
		}
		n.unit = unit.State{}
	}
}

func (c *chart) pairStep(n, s *state) {
	n.flags &^= fTitle | fRelation
	switch {
	case s.is(fWantName):
		n.score += 2
		n.flags &^= fWantName
	case !s.is(fHead):
		n.score += 0.6
		n.flags |= fHead | fMany
	default:
		n.score -= 2
		c.newPerson(n)
	}
}

// doubt is what a rank costs that may be a civilian's title, until the rest of the stone speaks of service.
const doubt = 3

// unitDoubt is what a unit costs until enough of it is read to speak of service.
const unitDoubt = 2

func (c *chart) rankStep(n, s *state, it *item) {
	if s.is(fRank) {
		n.score -= 2
	}
	if !s.is(fHead) {
		n.flags |= fRankFirst
	} else {
		switch s.last {
		case kName, kHome, kLink:
			n.score += 0.8
			if s.last == kName && !c.text.Words[it.from].Has(words.FirstInLine) && it.entry.traits&tFull != 0 {
				n.score -= 1.5 // "JONAS SERGEANT": perhaps his surname
				n.flags |= fRankBroken
			}
		case kUnit:
			n.score -= 0.5
			if !c.text.Words[it.from].Has(words.FirstInLine) {
				n.score -= 1.5 // within a unit's line: COL is colored, not colonel
			}
		case kRelationOf, kRelation, kBranch, kConflict:
		default:
			n.score -= 0.6
		}
	}
	n.flags |= fRank | fRankAlone
	e := it.entry
	if e.traits&tFull != 0 {
		n.flags |= fRankFull
	}
	if e.traits&(tCivil|tInitials) != 0 && !it.brevet {
		if !s.is(fRankCivil) {
			n.score -= doubt // given back at the end where the rest speaks of service
		}
		n.flags |= fRankCivil
	}
	if e.traits&tModern != 0 {
		n.flags |= fModernRank
	}
	if e.traits&tNavy != 0 {
		n.flags |= fNavyRank
	}
}

func (c *chart) unitStep(n, s *state, it *item, linked bool) bool {
	p := &c.unitParts[it.ref]
	u, score, ok := s.unit.Add(p)
	if !ok {
		return false
	}
	n.unit = u
	n.score += score
	switch {
	case s.unit.IsZero():
		n.score -= unitDoubt
		if p.Role == unit.RoleCompany && p.Letter != 0 && c.text.Words[it.from].Has(words.FirstInLine) && c.text.Words[it.to-1].Has(words.LastInLine) {
			n.flags |= fCompanyLine
		}
		if p.Role == unit.RoleState || p.Role == unit.RoleMark {
			n.score -= 0.8
		}
		if s.is(fMany) && !s.is(fRank) && s.last != kRelationOf {
			n.score -= 0.3
		}
		if s.is(fClosed) {
			n.score -= 1
		}
	case s.last != kUnit:
		switch {
		case s.last == kName || s.last == kRank:
			n.score -= 0.6
			if s.unit.Is(unit.RoleState) && !s.unit.Is(unit.RoleNumber) {
				n.score -= 2.2 // a state above the name is where the man lived
			}
		case linked:
		default:
			n.score -= 1.3
		}
	}
	return true
}

func (c *chart) serviceStep(n, s *state, it *item, linked bool) bool {
	e := it.entry
	if e.traits&tModern != 0 {
		n.flags |= fModern
	}
	if e.traits&tOld != 0 {
		n.flags |= fOld
	}
	switch it.kind {
	case kBranch:
		if e.score < -0.5 && e.words == 1 && s.last != kRank && !s.is(fMember) && !s.is(fRank) {
			n.score -= 2 // "ARMY" or "NAVY" alone
			n.flags |= fWeakWar
		} else {
			n.flags |= fService
		}
		if e.traits&tNavy != 0 {
			n.flags |= fNavy
		}
		if s.last == kRank {
			n.score += 0.5
		}
	case kSide:
		n.flags |= fService
		if e.traits&tNavy != 0 {
			n.flags |= fNavy
		}
	case kConflict:
		if e.traits&tWeak != 0 {
			if !s.is(fService|fRank|fSoldier|fWarDoubt) && s.unit.IsZero() {
				n.score -= doubt
				n.flags |= fWarDoubt
			}
			n.flags |= fWeakWar
			if linked {
				n.score += 0.5
			}
		} else {
			n.flags |= fService
		}
		if linked {
			n.score += 0.5
		}
	case kWarYears:
		if s.label == lService || s.label == lEnlisted {
			n.score += 0.5
			n.label = noLabel
		}
		n.flags |= fWarYears
	case kAward:
		if e.traits&tModern != 0 {
			n.flags |= fAward
			if !s.is(fModern|fModernRank|fService|fSoldier) && (!s.is(fRank) || s.is(fRankCivil)) && s.unit.IsZero() {
				n.score -= 3
			}
		} else {
			n.flags |= fService
			n.score += 1
		}
	}
	return true
}

func (c *chart) dateStep(n, s *state, it *item) {
	w := &c.whens[it.ref]
	died, lbl := w.one.year, s.label
	n.label = noLabel
	if it.kind == kYears {
		died = w.other.year
		switch {
		case lbl >= lEnlisted && lbl <= lService:
			n.score += 0.5
			if w.one.year > 0 && w.other.year > w.one.year+30 {
				n.score -= 4 // a life, not a service
			}
			return
		case lbl == lBorn && !s.is(fBorn|fDied):
			n.flags |= fBorn | fDied
		case lbl != noLabel:
			n.score -= 2.5
		case !s.is(fBorn | fDied):
			n.flags |= fBorn | fDied
			if w.one.year > 0 && w.other.year > 0 && w.other.year-w.one.year < 12 {
				n.flags |= fShortService // a child's life, or a soldier's service
			}
		default:
			n.score -= 2.5
		}
		c.era(n, died)
		if !s.is(fHead | fFamily | fUnknown) {
			n.score -= 1.2
		}
		return
	}
	if !s.is(fHead|fFamily|fUnknown) && s.last != kRelation {
		n.score -= 1.2
	}
	switch lbl {
	case lBorn:
		n.score += 1
		if s.is(fBorn) {
			n.score -= 2.5
		}
		n.flags |= fBorn
		return
	case lDied, lKilled:
		n.score += 1
		if s.is(fDied) {
			n.score -= 2.5
		}
		n.flags |= fDied
	case lEnlisted, lMusteredIn, lMusteredOut, lService, lMarried:
		n.score += 1
		return
	default:
		switch {
		case !s.is(fDied):
			n.flags |= fDied
		case !s.is(fBorn):
			n.flags |= fBorn
		default:
			n.score -= 2.5
		}
	}
	c.era(n, died)
}

// era notes when the man died.
func (c *chart) era(n *state, year int) {
	switch {
	case year == 0:
	case year < 1917:
		n.flags |= fEarly
		n.flags &^= fLate
	default:
		n.flags |= fLate
		n.flags &^= fEarly
	}
}

func (c *chart) homeStep(n, s *state) bool {
	if s.is(fHome) || s.is(fMany) {
		return false
	}
	if !s.unit.IsZero() {
		n.score -= 2
	}
	if s.unit.Is(unit.RoleState) || s.is(fService) {
		n.score -= 1.5
	}
	if s.last == kDate || s.last == kYears || s.label != noLabel {
		n.score -= 2
	}
	n.flags |= fHome
	return true
}

func (c *chart) placeStep(n, s *state, it *item) {
	n.label = s.label
	if s.last == kPlace {
		n.score -= 3.5
	}
	switch {
	case s.label == lBorn || s.label == lDied || s.label == lKilled:
		n.score += 1
	case s.last == kDate || s.last == kAge:
		n.score -= 0.2
	case s.last == kName:
		n.score -= 0.6
	default:
		n.score -= 1.2
	}
	if !s.is(fHead | fFamily | fUnknown) {
		n.score -= 2
	}
	if it.to == len(c.text.Words) {
		n.label = noLabel
	}
	if c.text.Words[it.to-1].Has(words.LastInLine) && s.label == lKilled {
		n.label = s.label
	}
}
