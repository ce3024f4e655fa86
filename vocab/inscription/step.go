package inscription

import (
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// nameStep is what a name is worth behind the state s, of which n is a copy, as with all that follow.
func (c *chart) nameStep(n, s *state, it *item) {
	first, short := it.name.first, it.name.givenOnly || it.name.oneWord
	if it.name.noSurname {
		n.score += c.w.NoSurname // given names and initials, and no surname
	}
	n.flags &^= fTitle | fRelation
	if it.name.named {
		n.flags |= fNamed
	} else if s.is(fRankFull) && !first && !it.name.known && !c.context.government() {
		n.score += c.w.RankBeforeWord // "PRIVATE WAY": hardly a man
	}
	n.flags &^= fRankFull
	switch {
	case s.is(fWantName):
		n.score += c.w.WantedName
		if short {
			n.score += c.w.WantedShort
		}
		n.flags &^= fWantName
		n.flags |= fOther
	case s.is(fRelation) && s.is(fHead):
		n.score += c.w.RelationName
		if s.is(fMany) && it.to == it.from+1 && lostWord(c.text.Key(it.from)) {
			n.score += c.w.LostAfterRelation // "LYDIA S. / HIS WIFE / [---]": what is lost are her dates
		}
		if it.name.givenOnly {
			n.score += c.w.RelationGiven
		}
		c.newPerson(n)
	case !s.is(fHead):
		n.score += c.w.FirstName
		if s.is(fOther) && it.from > 0 && c.infos[it.from-1].starts&sAnd != 0 {
			n.score += c.w.OtherParent // "DAUGHTER OF JACOB & ROSA FOX"
		}
		if s.is(fOther) && (s.last == kName || s.last == kUnread || s.last == kLabel) && !first {
			n.score += c.w.OtherParent // "WIFE OF / LOUIS M. DRAIYER": his surname
		}
		switch {
		case s.is(fFamily) && it.name.givenOnly:
			n.score += c.w.FamilyGiven
			if s.is(fRelation) {
				n.score += c.w.RelationName + c.w.RelationGiven // "CLARK / FATHER / LEVI B."
			}
		case s.is(fFamily) && c.heads(it):
		case s.is(fFamily):
			n.score += c.w.FamilyOther
		case it.name.givenOnly:
			n.score += c.w.FirstGivenOnly
			if s.is(fRelation) || s.last == kTitle {
				n.score += c.w.FirstGivenAfterTitle
			}
		case it.name.oneWord:
			n.score += c.w.FirstOneWord
		}
		if s.is(fUnknown) {
			n.score += c.w.NameOfUnknown
		}
		n.flags |= fHead
	default:
		n.score += c.w.AnotherName
		switch {
		case s.last == kDate || s.last == kYears || s.last == kAge:
			n.score += c.w.AnotherAfterDates
		case s.last == kName:
			n.score += c.w.NameAfterName
		case s.last == kUnit || s.last == kRank:
			n.score += c.w.NameAfterService
		default:
			n.score += c.w.NameAfterOther
		}
		if !it.name.known {
			n.score += c.w.AnotherNotKnown
		}
		if it.name.noGiven {
			n.score += c.w.AnotherNoGiven // "TRENCH MORTAR": hardly another person
		}
		if s.is(fFamily) && it.name.givenOnly {
			n.score += c.w.AnotherFamilyGiven
		} else if short {
			n.score += c.w.AnotherShort
		}
		c.newPerson(n)
	}
	switch s.last {
	case kRank, kTitle:
		n.score += c.w.NameAfterRank
	}
	if !first {
		switch s.last {
		case kRank, kTitle, kRelation, kRelationOf, kGrave, kMemorial, kSaying, kNone, kNote, kLabel, kBranch:
		case kUnit:
			n.score += c.w.NameInUnitLine
		default:
			n.score += c.w.NameInLine
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
			n.score += c.w.UnitDoubt
			n.flags |= fService | fClosed
		} else if n.is(fNumberLine) && n.unit.Has&^(1<<unit.RoleNumber|1<<unit.RoleState) == 0 {
			n.score += c.w.UnitDoubt + c.w.SoldierOfRegiment + c.w.NumberAndState
			n.flags |= fService | fClosed
		} else {
			n.score += c.w.ClosedUnfinished
		}
		n.unit = unit.State{}
	}
}

// pairStep is the same of a pair.
func (c *chart) pairStep(n, s *state) {
	n.flags &^= fTitle | fRelation
	switch {
	case s.is(fWantName):
		n.score += c.w.WantedPair
		n.flags &^= fWantName
		n.flags |= fOther
	case !s.is(fHead):
		n.score += c.w.FirstPair
		n.flags |= fHead | fMany
	default:
		n.score += c.w.AnotherPair
		c.newPerson(n)
	}
}

// rankStep is the same of a rank.
func (c *chart) rankStep(n, s *state, it *item) {
	if s.is(fRank) && !(it.brevet && s.last == kRank) {
		n.score += c.w.SecondRank
	}
	if !s.is(fHead) {
		n.flags |= fRankFirst
	} else {
		switch s.last {
		case kName, kHome, kLink:
			n.score += c.w.RankAfterName
			if s.last == kName && !c.text.Words[it.from].Has(words.FirstInLine) && it.entry.traits&tFull != 0 {
				n.score += c.w.RankAsSurname // "JONAS SERGEANT": perhaps his surname
				n.flags |= fRankBroken
			}
		case kUnit:
			n.score += c.w.RankAfterUnit
			if !c.text.Words[it.from].Has(words.FirstInLine) {
				n.score += c.w.RankInUnitLine // within a unit's line: COL is colored, not colonel
				if s.unit.WantsMore() {
					n.score += c.w.RankBehindNumber // "2 LIEUT. AIR SERVICE"
				}
			}
		case kRelationOf, kRelation, kBranch, kConflict:
		default:
			n.score += c.w.RankElsewhere
		}
	}
	n.flags |= fRank | fRankAlone
	e := it.entry
	if e.traits&tFull != 0 {
		n.flags |= fRankFull
	}
	if e.traits&(tCivil|tInitials) != 0 && !it.brevet && !it.served {
		if !s.is(fRankCivil) {
			n.score -= c.w.Doubt // given back at the end where the rest speaks of service
		}
		n.flags |= fRankCivil
	}
	n.flags &^= fRankInWar
	if e.traits&tInWar != 0 {
		n.flags |= fRankInWar
	}
	if e.traits&tModern != 0 {
		n.flags |= fModernRank
	}
	if e.traits&tNavy != 0 {
		n.flags |= fNavyRank
	}
}

// unitStep adds a part to the unit, or begins a second one; false where it does neither.
func (c *chart) unitStep(n, s *state, it *item, linked bool) bool {
	p := &c.unitParts[it.ref]
	u, score, ok := s.unit.Add(p)
	if !ok {
		if !c.anotherUnit(s, p) {
			return false
		}
		n.score += s.unit.Close() + c.w.UnitDoubt + c.w.AnotherUnit
		if linked {
			n.score += c.w.UnitLinked
		}
		n.flags |= fService
		if n.unit, score, ok = (unit.State{}).Add(p); !ok {
			return false
		}
		n.score += score - c.w.UnitDoubt
		return true
	}
	n.unit = u
	n.score += score
	if from := it.from - 1; p.Role != unit.RoleNumber && s.unit.Has == 1<<unit.RoleNumber && u.Has&^(1<<unit.RoleNumber|1<<unit.RoleState) == 0 && c.text.Words[from].Has(words.FirstInLine) && c.text.Words[from].Num > 0 && c.text.Words[it.to-1].Has(words.LastInLine) && !lostWord(c.text.Key(it.from)) {
		n.flags |= fNumberLine
	}
	switch {
	case s.unit.IsZero():
		n.score -= c.w.UnitDoubt
		if p.Role == unit.RoleNumber && (s.last == kRank || s.is(fMember) || s.label == lService || s.label == lEnlisted) { // "SURG. 42D WIS.", "SERVED IN THE 5TH VT."
			n.flags |= fRankUnit
		}
		if p.Role == unit.RoleCompany && p.Letter != 0 && c.text.Words[it.from].Has(words.FirstInLine) && c.text.Words[it.to-1].Has(words.LastInLine) {
			n.flags |= fCompanyLine
		}
		if p.Role == unit.RoleState || p.Role == unit.RoleMark {
			n.score += c.w.UnitBeginsWithState
		}
		if s.is(fMany) && !s.is(fRank) && s.last != kRelationOf {
			n.score += c.w.UnitAfterOthers
		}
		if s.is(fClosed) {
			n.score += c.w.SecondUnit
		}
	case s.last != kUnit:
		switch {
		case s.last == kName || s.last == kRank:
			n.score += c.w.UnitGoesOn
			if s.unit.Is(unit.RoleState) && !s.unit.Is(unit.RoleNumber) {
				n.score += c.w.StateAboveName // a state above the name is where the man lived
			}
		case linked:
		default:
			n.score += c.w.UnitBroken
		}
	}
	return true
}

// anotherUnit reports whether a part begins a second unit of the same man: "CO. B 12 WIS. INF. & CO. C 1 WIS. CAV.".
func (c *chart) anotherUnit(s *state, p *unit.Part) bool {
	switch p.Role {
	case unit.RoleCompany, unit.RoleNumber, unit.RoleBody, unit.RoleShip:
		return s.unit.Service()
	}
	return false
}

// serviceStep is the same of a branch, a side, a war or an award.
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
			n.score += c.w.BranchWordAlone // "ARMY" or "NAVY" alone
			n.flags |= fWeakWar
		} else {
			n.flags |= fService
		}
		if e.traits&tNavy != 0 {
			n.flags |= fNavy
		}
		if s.last == kRank {
			n.score += c.w.BranchAfterRank
		}
	case kSide:
		n.flags |= fService
		if e.traits&tNavy != 0 {
			n.flags |= fNavy
		}
	case kConflict:
		if e.traits&tWeak != 0 && !(s.last == kName && c.ownLine(it)) { // but "NOAH WARD / KOREA"
			if !s.is(fService|fRank|fSoldier|fWarDoubt) && s.unit.IsZero() {
				n.score -= c.w.Doubt
				n.flags |= fWarDoubt
			}
			n.flags |= fWeakWar
			if linked {
				n.score += c.w.WeakWarLinked
			}
		} else {
			n.flags |= fService
		}
		if linked {
			n.score += c.w.WarLinked
		}
	case kWarYears:
		if s.label == lService || s.label == lEnlisted {
			n.score += c.w.WarYearsLabelled
			n.label = noLabel
		}
		if s.last == kRank {
			n.flags |= fRankUnit
		}
		n.flags |= fWarYears
	case kAward:
		if e.traits&tModern != 0 {
			n.flags |= fAward
			if !s.is(fModern|fModernRank|fService|fSoldier) && (!s.is(fRank) || s.is(fRankCivil)) && s.unit.IsZero() {
				n.score += c.w.ModernAwardAlone
			}
		} else {
			n.flags |= fService
			n.score += c.w.MedalOfHonor
		}
	}
	return true
}

// dateStep is the same of a date or of two years.
func (c *chart) dateStep(n, s *state, it *item) {
	w := &c.whens[it.ref]
	died, lbl := w.one.year, s.label
	n.label = noLabel
	if it.kind == kYears {
		died = w.other.year
		switch {
		case w.serves:
			return
		case w.war && s.is(fRankInWar) && s.last == kRank: // "TEAMSTER 1862-1865"
			n.score += c.w.YearsOfWar
			n.flags |= fWarYears | fRankUnit
			return
		case w.war && s.is(fLink) && s.is(fSoldier): // "SOLDIER 1862-1865"
			n.score += c.w.YearsOfWar
			n.flags |= fWarYears
			return
		case lbl >= lEnlisted && lbl <= lService:
			n.score += c.w.YearsLabelled
			if w.one.year > 0 && w.other.year > w.one.year+30 {
				n.score += c.w.YearsTooFar // a life, not a service
			}
			return
		case lbl == lBorn && !s.is(fBorn|fDied):
			n.flags |= fBorn | fDied
		case lbl != noLabel:
			n.score += c.w.YearsOtherLabel
		case !s.is(fBorn | fDied):
			n.flags |= fBorn | fDied
			if w.one.year > 0 && w.other.year > 0 && w.other.year-w.one.year < 12 {
				n.flags |= fShortService // a child's life, or a soldier's service
			}
		default:
			n.score += c.w.YearsAgain
		}
		c.era(n, died)
		if !s.is(fHead | fFamily | fUnknown) {
			n.score += c.w.YearsOfNobody
		}
		return
	}
	if !s.is(fHead|fFamily|fUnknown) && s.last != kRelation {
		n.score += c.w.DateOfNobody
	}
	if lbl == noLabel && w.one.month == 0 && !c.text.Words[it.from].Has(words.FirstInLine) && (s.last == kUnread || it.from > 0 && c.text.Key(it.from-1) == "OF") {
		n.score += c.w.YearAfterWords // "MEMBER OF ASSEMBLY 1870", "A PIONEER OF 1849"
	}
	if lbl == noLabel && w.open && !s.is(fBorn) {
		n.flags |= fBorn
		return
	}
	switch lbl {
	case lBorn:
		n.score += c.w.DateBorn
		if s.is(fBorn) {
			n.score += c.w.BornTwice
		}
		n.flags |= fBorn
		return
	case lDied, lKilled:
		n.score += c.w.DateDied
		if s.is(fDied) {
			n.score += c.w.DiedTwice
		}
		n.flags |= fDied
	case lEnlisted, lMusteredIn, lMusteredOut, lService, lMarried, lBattle:
		n.score += c.w.DateService
		return
	default:
		switch {
		case !s.is(fDied):
			n.flags |= fDied
		case !s.is(fBorn):
			n.flags |= fBorn
		default:
			n.score += c.w.DateAgain
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

// homeStep is the same of a state alone; false where it cannot be a residence.
func (c *chart) homeStep(n, s *state) bool {
	if s.is(fHome) || s.is(fMany) {
		return false
	}
	if !s.unit.IsZero() {
		n.score += c.w.HomeAfterUnit
	}
	if s.unit.Is(unit.RoleState) || s.is(fService) {
		n.score += c.w.HomeAfterService
	}
	if s.last == kDate || s.last == kYears || s.label != noLabel {
		n.score += c.w.HomeAfterDate
	}
	n.flags |= fHome
	return true
}

// placeStep is the same of a place.
func (c *chart) placeStep(n, s *state, it *item) {
	n.label = s.label
	if s.last == kPlace {
		n.score += c.w.PlaceAfterPlace
	}
	switch {
	case s.label == lBattle:
		n.score += c.w.PlaceLabelled
		n.flags |= fSoldier
	case s.label == lBorn || s.label == lDied || s.label == lKilled:
		n.score += c.w.PlaceLabelled
	case s.last == kDate || s.last == kAge:
		n.score += c.w.PlaceAfterDate
	case s.last == kName:
		n.score += c.w.PlaceAfterName
	default:
		n.score += c.w.PlaceElsewhere
	}
	if !s.is(fHead | fFamily | fUnknown) {
		n.score += c.w.PlaceOfNobody
	}
	if it.to == len(c.text.Words) || s.label == lBattle && c.text.Words[it.to-1].Has(words.LastInLine) {
		n.label = noLabel
	}
	if c.text.Words[it.to-1].Has(words.LastInLine) && s.label == lKilled {
		n.label = s.label
	}
}
