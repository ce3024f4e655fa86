package inscription

import (
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// state is how an inscription stands after some of its items.
type state struct {
	score float32
	back  int32
	item  int32 // the item that led here; -1 at the start, -2-i for word i left unread
	last  kind  // the last item that is no joining word
	label label
	flags flags
	unit  unit.State
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
	lBattle // "WOUNDED AT"
)

var labels = map[string]label{
	"born": lBorn, "died": lDied, "killed": lKilled, "enlisted": lEnlisted, "mustered-in": lMusteredIn, "mustered-out": lMusteredOut, "service": lService,
	"married": lMarried, "battle": lBattle,
}

// flags are what has been read so far.
type flags uint64

const (
	fHead     flags = 1 << iota // someone is named
	fMany                       // more than one is
	fFamily                     // a surname heads the stone
	fWantName                   // "WIFE OF" waits for its name
	fRelation                   // "HIS WIFE" has just been read
	fTitle                      // a title waits for its name
	fRank
	fRankCivil // the rank may be a civilian's title
	fRankAlone // the rank waits for a name or a unit
	fService   // words that tell of service without any doubt
	fWeakWar   // a war that is a place or a word too
	fWarYears
	fOld    // of the civil war
	fModern // of the First World War or later
	fModernRank
	fNavy // a sea service
	fNavyRank
	fBorn
	fDied
	fAge
	fEarly // a date of death before 1917
	fLate  // a date of death from 1917 on
	fHome
	fGrave
	fUnknown
	fMemorial
	fAward        // an award of the twentieth century
	fLink         // a joining word has just been read
	fClosed       // a unit has been read and closed
	fRankFirst    // the rank stood before the name
	fShortService // a pair of years too near for a life
	fSoldier      // "SOLDIER" or "VETERAN"
	fMilTitle     // a title that is a rank elsewhere
	fCompanyLine  // a company alone on its line
	fWarDoubt     // a war that is a place or a word too, and no word of service before it
	fMember       // "MEMBER OF" or the like has just been read
	fUnitBroken   // words that nothing can be made of stand right behind a unit without a state
	fRankBroken   // words that nothing can be made of follow a rank
	fNamed        // someone is named by a given name or an initial
	fRankFull     // a rank written out waits for its name
	fVeteran      // a member of a society of veterans
	fOther        // someone is named behind "SON OF" or the like
	fRankUnit     // a unit's number, or the years of a war, stands right behind the rank
	fRankInWar    // the rank is an occupation that beside years of a war is service
	fNumberLine   // a regiment's number, with a state or what is left of it, is a line of its own
)

func (s *state) is(f flags) bool { return s.flags&f != 0 }

// keepsRelation has a bit for each kind that may stand between "HIS WIFE" and her name.
const keepsRelation = 1<<kRelation | 1<<kName | 1<<kNote | 1<<kTitle | 1<<kRank | 1<<kLink

// drops are the flags that an item of a kind ends.
var drops = func() (all [kinds]flags) {
	for k := range kinds {
		all[k] = fLink
		if k != kLink {
			all[k] |= fMember
		}
		if keepsRelation&(1<<k) == 0 {
			all[k] |= fRelation
		}
	}
	return all
}()

// stepName is step of a name, which may stand anywhere.
func (c *chart) stepName(n, s *state, it *item) {
	n.score += it.score
	if n.label != noLabel || n.flags&(fTitle|fWantName|fRankAlone) != 0 {
		c.waiting(n, kName)
	}
	n.flags &^= drops[kName]
	n.last = kName
	c.nameStep(n, s, it)
}

// step lays one more item, other than a name, behind state s, of which n is a copy; false where it cannot stand there.
func (c *chart) step(n, s *state, it *item) bool {
	n.score += it.score
	if n.label != noLabel || n.flags&(fTitle|fWantName|fRankAlone) != 0 {
		c.waiting(n, it.kind)
	}
	linked := n.is(fLink)
	n.flags &^= drops[it.kind]
	if it.kind != kNote && it.kind != kLink {
		n.last = it.kind
	}
	ok := true
	switch it.kind {
	case kPair:
		c.pairStep(n, s)
	case kAgain:
		if ok = s.is(fMany); ok {
			c.newPerson(n)
		}
	case kFamily:
		ok = !s.is(fHead|fFamily|fRank) && s.unit.IsZero() && s.last != kUnread
		n.flags |= fFamily
	case kRank:
		c.rankStep(n, s, it)
	case kTitle:
		n.flags |= fTitle
		if it.entry.traits&tRankElsewhere != 0 {
			n.flags |= fMilTitle
		}
		if s.is(fHead) && s.last == kName {
			n.score += c.w.TitleAfterName
		}
	case kDegree:
		if s.last != kName {
			ok = false
		}
	case kUnit:
		ok = c.unitStep(n, s, it, linked)
	case kBranch, kSide, kConflict, kWarYears, kAward:
		ok = c.serviceStep(n, s, it, linked)
	case kLabel:
		n.label = it.entry.label
		if s.label != noLabel && s.label != lBattle {
			n.score += c.w.LabelAfterLabel
		}
		if n.label >= lEnlisted && n.label <= lService && c.text.Len(it.from) > 2 {
			n.score += c.w.LabelOfService
		}
		if !s.is(fHead|fFamily|fUnknown) && s.last != kRelation {
			n.score += c.w.LabelOfNobody
		}
	case kDate, kYears:
		c.dateStep(n, s, it)
	case kAge:
		if s.is(fAge) {
			n.score += c.w.AgeAgain
		}
		n.flags |= fAge
		n.label = noLabel
		if !s.is(fHead | fFamily | fUnknown) {
			n.score += c.w.AgeOfNobody
		}
	case kMemorial:
		if s.is(fHead) {
			n.score += c.w.MemorialLate
		}
		n.flags |= fMemorial
	case kUnknown:
		if s.is(fHead) {
			n.score += c.w.UnknownNamed
		}
		n.flags |= fUnknown
	case kGrave:
		if s.is(fGrave) {
			n.score += c.w.GraveAgain
		}
		n.flags |= fGrave
	case kHome:
		ok = c.homeStep(n, s)
	case kPlace:
		c.placeStep(n, s, it)
	case kSociety:
		if it.entry.traits&tVeterans != 0 {
			n.flags |= fVeteran
		}
	case kLink:
		n.flags |= fLink
		if it.entry.traits&tWeak == 0 {
			n.flags |= fMember
		}
		if s.last == kRelation {
			n.score += c.w.LinkAfterRelation
		}
		if it.entry.traits&tHead != 0 {
			n.flags |= fSoldier
		}
	case kRelationOf:
		n.flags |= fWantName
		if !s.is(fHead) {
			n.score += c.w.RelationOfFirst
		}
		if s.last == kFamily {
			n.score += c.w.HeadingBeforeRelation // "PHEBE / WIFE OF": her name, whatever it is
		}
		if it.from == 0 {
			n.score += c.w.RelationBegins // her own name was above, or never cut
		}
		if s.last == kName || s.last == kDate || s.last == kAge || s.last == kYears {
			n.score += c.w.RelationOfAfterName
		}
	case kRelation:
		n.flags |= fRelation
		if s.last == kRelation {
			n.score += c.w.RelationAgain
		}
		if s.last == kUnread && s.is(fHead) {
			n.score += c.w.RelationAfterUnread // "J. BAIRD / HANNAH / HIS WIFE": hers who is named right before
		}
		if s.last == kName && s.is(fMany) {
			n.score += c.w.RelationAfterName // "CATHARINE / HIS WIFE"
		}
		if it.entry.traits&tHead != 0 && !c.text.Words[it.from].Has(words.FirstInLine) {
			n.score += c.w.RelationInLine
		}
		if !s.is(fHead) {
			if it.entry.traits&tHead == 0 {
				n.score += c.w.RelationFirst
			}
		}
	}
	return ok
}

// waiting settles what the state waits for and the next item does not bring.
func (c *chart) waiting(s *state, k kind) {
	if s.flags&fTitle != 0 && k != kName && k != kPair && k != kTitle && k != kNote && k != kRank {
		s.score += c.w.TitleOfNobody
		s.flags &^= fTitle
	}
	if s.flags&fWantName != 0 && k != kName && k != kPair && k != kRank && k != kTitle && k != kNote && k != kLink {
		if k != kConflict && k != kSide && k != kBranch { // "SON OF A REVOLUTIONARY SOLDIER"
			s.score += c.w.WantedNobody
		}
		s.flags &^= fWantName
	}
	if s.label != noLabel {
		switch k {
		case kDate, kYears, kPlace, kLink, kNote, kAge, kLabel:
		case kName:
			if s.label != lMarried {
				s.score += c.w.LabelBeforeName
			}
			s.label = noLabel
		default:
			s.score += c.w.LabelWithout
			if s.label == lService {
				s.score += c.w.ServedWithout
			}
			s.label = noLabel
		}
	}
	if s.flags&fRankAlone != 0 {
		switch k {
		case kName, kUnit, kBranch, kTitle, kLink, kNote, kHome, kSide:
		case kGrave, kPlace, kSaying, kFraternal, kSociety:
			s.score += c.w.RankBeforeWords
			s.flags |= fRankBroken
		default:
			s.score += c.w.RankBeforeOther
		}
		if k != kLink && k != kNote {
			s.flags &^= fRankAlone
		}
	}
}
