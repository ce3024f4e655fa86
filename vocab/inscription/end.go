package inscription

import (
	"musterstone/model"
	"musterstone/vocab/unit"
)

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
	if s.unit.Service() {
		score += unitDoubt
	}
	if !s.unit.IsZero() && !s.unit.Service() {
		switch {
		case s.is(fService) && s.unit.Has == 1<<unit.RoleArm:
			score += unitDoubt + 1 // "SIGNAL CORPS U. S. A."
		case s.is(fService) && (s.unit.Has == 1<<unit.RoleBody || s.is(fRank)):
			score += unitDoubt - 1
		case s.is(fService|fSoldier) && s.unit.Is(unit.RoleNumber) && s.unit.Is(unit.RoleState):
			score += unitDoubt - 0.5 // "A SOLDIER OF THE 36 WIS."
		case s.unit.Has == 1<<unit.RoleCompany && s.is(fCompanyLine) && s.is(fNamed):
			score += unitDoubt + 1 // "CO. D" on a line of its own, and no more
		default:
			score -= 3.5
		}
	}
	if s.is(fUnitBroken) && (s.unit.Has != bareUnit || s.is(fRank|fService|fSoldier)) && !s.is(fRankFirst) {
		score += doubtBroken // the words behind "10 CAV." were something after all
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
			if s.is(fRankBroken) {
				score -= 4 // "PRIVATE CEMETERY"
			}
		}
	}
	evidence := strong || s.is(fRank|fSoldier)
	if s.is(fHome) && !evidence && !government {
		score -= 3.5
	}
	if s.is(fHome) && evidence && (s.is(fModern|fLate|fModernRank) || s.unit.Modern()) {
		score += 1
	}
	switch {
	case s.is(fWeakWar) && !evidence:
		score -= 5
	case s.is(fWarDoubt):
		score += doubt
	}
	if s.is(fWarYears) {
		if !strong && !s.is(fSoldier) && (!s.is(fRank) || s.is(fRankCivil)) {
			score -= 4
		} else if strong {
			score += 2
		}
	}
	if s.is(fShortService) && s.is(fSoldier) && !strong {
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
