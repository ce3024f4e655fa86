package inscription

import (
	"musterstone/model"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// state is how an inscription stands after some of its items.
type state struct {
	score float32
	back  int32
	item  int32 // the item that led here; -1 at the start, -2-i for word i left unread
	unit  unit.State
	flags flags
	last  kind // the last item that is no joining word
	label label
}

// label is the label that waits for its date.
type label uint8

const (
	noLabel label = iota
	lBorn
	lDied
	lKilled
	lEnlisted
	lMusteredIn
	lMusteredOut
	lService
	lMarried
)

var labels = map[string]label{
	"born": lBorn, "died": lDied, "killed": lKilled, "enlisted": lEnlisted, "mustered-in": lMusteredIn, "mustered-out": lMusteredOut, "service": lService,
	"married": lMarried,
}

// flags are what has been read so far.
type flags uint64

const (
	fHead         flags = 1 << iota // someone is named
	fMany                           // more than one is
	fFamily                         // a surname heads the stone
	fWantName                       // "WIFE OF" waits for its name
	fRelation                       // "HIS WIFE" has just been read
	fTitle                          // a title waits for its name
	fRank                           //
	fRankCivil                      // the rank may be a civilian's title
	fRankAlone                      // the rank waits for a name or a unit
	fService                        // words that tell of service without any doubt
	fWeakWar                        // a war that is a place or a word too
	fWarYears                       //
	fOld                            // of the civil war
	fModern                         // of the First World War or later
	fModernRank                     //
	fNavy                           // a sea service
	fNavyRank                       //
	fBorn                           //
	fDied                           //
	fAge                            //
	fEarly                          // a date of death before 1917
	fLate                           // a date of death from 1917 on
	fHome                           //
	fGrave                          //
	fUnknown                        //
	fMemorial                       //
	fAward                          // an award of the twentieth century
	fLink                           // a joining word has just been read
	fClosed                         // a unit has been read and closed
	fRankFirst                      // the rank stood before the name
	fShortService                   // a pair of years too near for a life
	fSoldier                        // "SOLDIER" or "VETERAN"
	fMilTitle                       // a title that is a rank elsewhere
	fCompanyLine                    // a company alone on its line
)

func (s *state) is(f flags) bool { return s.flags&f != 0 }

// step lays one more item behind a state; ok is false where it cannot stand there.
func (c *chart) step(s *state, it *item) (state, bool) {
	n := *s
	n.score += it.score
	if !n.waiting(it.kind) {
		return n, false
	}
	linked := n.is(fLink)
	n.flags &^= fLink
	ok := true
	switch it.kind {
	case kName:
		c.nameStep(&n, s, it)
	case kPair:
		c.pairStep(&n, s)
	case kFamily:
		ok = !s.is(fHead|fFamily|fRank) && s.unit.IsZero() && s.last != kUnread
		n.flags |= fFamily
	case kRank:
		c.rankStep(&n, s, it)
	case kTitle:
		n.flags |= fTitle
		if civilTitle[it.entry.code] {
			n.flags |= fMilTitle
		}
		if s.is(fHead) && s.last == kName {
			n.score -= 1
		}
	case kDegree:
		if s.last != kName {
			ok = false
		}
	case kUnit:
		ok = c.unitStep(&n, s, it, linked)
	case kBranch, kSide, kConflict, kWarYears, kAward:
		ok = c.serviceStep(&n, s, it, linked)
	case kLabel:
		n.label = labels[it.entry.code]
		if s.label != noLabel {
			n.score -= 2.5
		}
		if n.label >= lEnlisted && n.label <= lService && c.text.Len(it.from) > 2 {
			n.score += 0.3
		}
		if !s.is(fHead|fFamily|fUnknown) && s.last != kRelation {
			n.score -= 0.6
		}
	case kDate, kYears:
		c.dateStep(&n, s, it)
	case kAge:
		if s.is(fAge) {
			n.score -= 2.5
		}
		n.flags |= fAge
		n.label = noLabel
		if !s.is(fHead | fFamily | fUnknown) {
			n.score -= 1
		}
	case kMemorial:
		if s.is(fHead) {
			n.score -= 2
		}
		n.flags |= fMemorial
	case kUnknown:
		if s.is(fHead) {
			n.score -= 3
		}
		n.flags |= fUnknown
	case kGrave:
		if s.is(fGrave) {
			n.score -= 1.5
		}
		n.flags |= fGrave
	case kHome:
		ok = c.homeStep(&n, s)
	case kPlace:
		c.placeStep(&n, s, it)
	case kLink:
		n.flags |= fLink
		if it.entry.traits&tHead != 0 {
			n.flags |= fSoldier
		}
		n.last = s.last
		return n, true
	case kRelationOf:
		n.flags |= fWantName
		if !s.is(fHead) {
			n.score -= 1.2
		}
		if s.last == kName || s.last == kDate || s.last == kAge || s.last == kYears {
			n.score += 0.4
		}
	case kRelation:
		n.flags |= fRelation
		if it.entry.traits&tHead != 0 && !c.text.Words[it.from].Has(words.FirstInLine) {
			n.score -= 0.8
		}
		if !s.is(fHead) {
			if it.entry.traits&tHead == 0 {
				n.score -= 1.5
			}
		}
	}
	if it.kind != kRelation && it.kind != kName && it.kind != kNote && it.kind != kTitle && it.kind != kRank {
		n.flags &^= fRelation
	}
	if it.kind != kNote {
		n.last = it.kind
	}
	return n, ok
}

// waiting settles what the state waits for and the next item does not bring.
func (s *state) waiting(k kind) bool {
	if s.flags&fTitle != 0 && k != kName && k != kPair && k != kTitle && k != kNote && k != kRank {
		s.score -= 2
		s.flags &^= fTitle
	}
	if s.flags&fWantName != 0 && k != kName && k != kPair && k != kRank && k != kTitle && k != kNote && k != kLink {
		s.score -= 2.5
		s.flags &^= fWantName
	}
	if s.label != noLabel {
		switch k {
		case kDate, kYears, kPlace, kLink, kNote, kAge, kLabel:
		case kName:
			if s.label != lMarried {
				s.score -= 3
			}
			s.label = noLabel
		default:
			s.score -= 2.8
			if s.label == lService {
				s.score += 2.4
			}
			s.label = noLabel
		}
	}
	if s.flags&fRankAlone != 0 {
		switch k {
		case kName, kUnit, kBranch, kTitle, kLink, kNote, kHome, kSide:
		default:
			s.score -= 1
		}
		s.flags &^= fRankAlone
	}
	return true
}

func (c *chart) nameStep(n, s *state, it *item) {
	first := c.text.Words[it.from].Has(words.FirstInLine)
	short := it.name.givenOnly || it.name.oneWord
	if int(it.name.surname) == it.to && !it.name.givenOnly && it.name.suffix < 0 {
		n.score -= 0.8 // given names and initials, and no surname
	}
	n.flags &^= fTitle | fRelation
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
		case s.is(fFamily):
			n.score -= 1.2
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

// newPerson closes what belongs to the one before.
func (c *chart) newPerson(n *state) {
	n.flags |= fMany | fHead
	n.flags &^= fBorn | fDied | fAge
	if !n.unit.IsZero() {
		n.score += n.unit.Close()
		if n.unit.Service() {
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
		if e.score < -0.5 && e.words == 1 && s.last != kRank && !linked && !s.is(fRank) {
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
		n.score -= 2
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
	if it.to == len(c.text.Words) {
		n.label = noLabel
	}
	if c.text.Words[it.to-1].Has(words.LastInLine) && s.label == lKilled {
		n.label = s.label
	}
}

// end is what the whole stone is worth beside its items.
func (c *chart) end(s *state) float32 {
	t := *s
	t.waiting(kNone)
	score := t.score - s.score
	score += s.unit.Close()
	strong := s.unit.Service() || s.is(fService)
	if s.is(fMilTitle) && (strong || c.context.government()) {
		score -= 3
	}
	if !s.unit.IsZero() && !s.unit.Service() {
		switch {
		case s.is(fService) && (s.unit.Has == 1<<unit.RoleBody || s.is(fRank)):
			score -= 1
		case s.unit.Has == 1<<unit.RoleCompany && s.is(fCompanyLine):
			score += 1 // "CO. D" on a line of its own, and no more
		default:
			score -= 3.5
		}
	}
	government := c.context.government()
	if s.is(fRankCivil) && (strong || government || s.is(fHome)) {
		score += doubt
	}
	if s.is(fRank) && !strong {
		switch {
		case government || s.is(fHome):
		case s.is(fRankCivil):
			score -= 5
		default:
			score -= 1.3
		}
	}
	evidence := strong || s.is(fRank|fSoldier)
	if s.is(fHome) && !evidence && !government {
		score -= 3.5
	}
	if s.is(fHome) && evidence && (s.is(fModern|fLate|fModernRank) || s.unit.Modern()) {
		score += 1
	}
	if s.is(fWeakWar) && !evidence {
		score -= 5
	}
	if s.is(fWarYears) {
		if !strong && !s.is(fSoldier) {
			score -= 4
		} else if !s.is(fBorn | fDied) {
			score -= 0.3
		}
	}
	if s.is(fShortService) && (strong || s.is(fSoldier)) {
		score -= 3
	}
	if s.is(fAward) && !evidence {
		score -= 4
	}
	if s.is(fAward) && !(s.is(fModern|fModernRank) || s.unit.Modern() || strong && s.is(fLate)) {
		score -= 3
	}
	modern := s.is(fModern|fModernRank) || s.unit.Modern()
	if modern && (s.is(fOld) || s.is(fEarly) || c.context.diedBefore(1917)) {
		score -= 2.5
	}
	if s.is(fNavyRank) && !s.unit.IsZero() && !s.unit.Is(unit.RoleShip) {
		score -= 1.5
	}
	if s.is(fNavyRank) && s.is(fNavy) {
		score += 0.5
	}
	if s.unit.Is(unit.RoleShip) && s.is(fRank) && !s.is(fNavyRank) {
		score -= 0.5
	}
	if !s.is(fHead) && !s.is(fUnknown) {
		if s.is(fGrave) && s.last == kGrave && s.flags&^(fGrave|fRankFirst) == 0 {
			score -= 0.2
		} else {
			score -= 1.5
		}
	}
	return score
}

// government reports whether the marker is one that the government furnished.
func (x Context) government() bool {
	switch x.Pattern {
	case "", model.NotGovernment, model.UnknownPattern, "medallion":
		return false
	}
	return true
}

func (x Context) diedBefore(year int) bool {
	return !x.Died.To.IsZero() && x.Died.To.Year < year
}
