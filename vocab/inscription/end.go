package inscription

import (
	"musterstone/model"
	"musterstone/vocab/unit"
)

// end is what the whole stone is worth beside its items.
func (c *chart) end(s *state) float32 {
	t := *s
	c.waiting(&t, kNone)
	score := t.score - s.score
	score += s.unit.Close()
	staff := s.is(fRankUnit|fWarYears) && !s.is(fUnitBroken) && s.unit.Is(unit.RoleNumber) && s.unit.Is(unit.RoleState) && !s.unit.Service() // "SURG. 42D WIS."
	// "HOSPITAL MATRON / 1861-1865": a trade and the years of the war right behind it, which are no child's life; of the parent's trade on a child's stone they may be, unless others are of a life
	trade := s.is(fWarYears) && s.is(fRankCivil) && s.is(fRankUnit) && (s.is(fBorn|fDied) || !s.is(fMany|fOther))
	line := s.is(fNumberLine) && s.is(fNamed|fFamily) && s.unit.Has&^(1<<unit.RoleNumber|1<<unit.RoleState) == 0 // "53D WIS.", "33 I[---]" on a line of its own
	strong := s.unit.Service() || s.is(fService) || staff || trade || line && !s.unit.IsZero()
	if s.is(fMilTitle) && (strong || c.context.government()) {
		score += c.w.TitleOfSoldier
	}
	if s.unit.Service() {
		score += c.w.UnitDoubt
	}
	if !s.unit.IsZero() && !s.unit.Service() {
		switch {
		case staff:
			score += c.w.UnitDoubt + c.w.SoldierOfRegiment
		case line:
			score += c.w.UnitDoubt + c.w.SoldierOfRegiment + c.w.NumberAndState
		case s.unit.Has == 1<<unit.RoleDivision && s.is(fRank|fService):
			score += c.w.UnitDoubt // "PRIVATE FIRST CLASS, 32ND DIVISION"
		case s.unit.Troops() && s.is(fService):
			score += c.w.UnitDoubt // "CONTL. LINE / REV. WAR"
		case (s.is(fService) || s.is(fRank) && c.context.government()) && s.unit.Has == 1<<unit.RoleArm:
			score += c.w.UnitDoubt + c.w.ArmOfBranch // "SIGNAL CORPS U. S. A."
		case s.unit.Is(unit.RoleNamed) && s.is(fService|fRank|fSoldier):
			score += c.w.UnitDoubt // "LT. COL. BALDWIN'S ARTIFICERS / REV. WAR"
		case s.is(fService) && (s.unit.Has == 1<<unit.RoleBody || s.is(fRank)):
			score += c.w.UnitDoubt + c.w.BodyOfRank
		case s.is(fService|fSoldier) && s.unit.Is(unit.RoleNumber) && s.unit.Is(unit.RoleState):
			score += c.w.UnitDoubt + c.w.SoldierOfRegiment // "A SOLDIER OF THE 36 WIS."
		case c.context.government() && s.unit.Is(unit.RoleNumber) && s.unit.Is(unit.RoleState):
			score += c.w.UnitDoubt + c.w.SoldierOfRegiment + c.w.NumberAndState // "50 OHIO" on a stone for a soldier
		case (s.unit.Worn() || s.unit.Is(unit.RoleCompany) && s.unit.Is(unit.RoleState)) && c.context.government():
			score += c.w.UnitDoubt + c.w.SoldierOfRegiment // "10TH [---]", "CO. [---] MICH. [...]" on a stone for a soldier
		case s.unit.Has == 1<<unit.RoleCompany && s.is(fCompanyLine) && (s.is(fNamed) || c.context.government()):
			score += c.w.UnitDoubt + c.w.CompanyLine // "CO. D" on a line of its own, and no more
		default:
			score += c.w.UnitUnfinished
		}
	}
	if s.is(fUnitBroken) && (s.unit.Has != bareUnit || s.is(fRank|fService|fSoldier)) && !s.is(fRankFirst) {
		score += c.w.DoubtBroken // the words behind "10 CAV." were something after all
	}
	government := c.context.government()
	if s.is(fRankCivil) && (strong || government || s.is(fHome)) {
		score += c.w.Doubt
	}
	if s.is(fRank) && !strong {
		switch {
		case government || s.is(fHome):
		case s.is(fRankCivil):
			score += c.w.CivilRankAlone
		default:
			score += c.w.RankAloneAtEnd
			if s.is(fRankBroken) {
				score += c.w.RankOfWords // "PRIVATE CEMETERY"
			}
		}
	}
	evidence := strong || s.is(fRank|fSoldier)
	numbered := s.is(fHome) && s.is(fGrave) && s.is(fNamed) && s.last == kHome && s.flags&^(fHome|fGrave|fNamed|fHead) == 0 // the stones of 1873: number, name, state
	if numbered {
		score += c.w.GraveNameState
	}
	if s.is(fHome) && !evidence && !government {
		score += c.w.HomeAlone
	}
	if s.is(fHome) && evidence && (s.is(fModern|fLate|fModernRank) || s.unit.Modern()) {
		score += c.w.HomeModern
	}
	switch {
	case s.is(fWeakWar) && !evidence:
		score += c.w.WeakWarAlone
	case s.is(fWarDoubt):
		score += c.w.Doubt
	}
	if s.is(fWarYears) {
		if !strong && !s.is(fSoldier|fVeteran) && (!s.is(fRank) || s.is(fRankCivil)) {
			score += c.w.WarYearsAlone
		} else if strong {
			score += c.w.WarYearsOfService
		}
	}
	if s.is(fShortService) && s.is(fSoldier|fVeteran) && !strong {
		score += c.w.ShortLife
	}
	if s.is(fAward) && !evidence {
		score += c.w.AwardAlone
	}
	if s.is(fAward) && !(s.is(fModern|fModernRank) || s.unit.Modern() || strong && s.is(fLate)) {
		score += c.w.AwardTooEarly
	}
	modern := s.is(fModern|fModernRank) || s.unit.Modern()
	if modern && (s.is(fOld) || s.is(fEarly) || c.context.diedBefore(1917)) {
		score += c.w.ModernTooEarly
	}
	if s.is(fNavyRank) && !s.unit.IsZero() && !s.unit.Is(unit.RoleShip) {
		score += c.w.NavyRankWithUnit
	}
	if s.is(fNavyRank) && s.is(fNavy) {
		score += c.w.NavyRankOfNavy
	}
	if s.unit.Is(unit.RoleShip) && s.is(fRank) && !s.is(fNavyRank) {
		score += c.w.ShipWithRank
	}
	if !s.is(fHead) && !s.is(fUnknown) {
		if s.is(fGrave) && s.last == kGrave && s.flags&^(fGrave|fRankFirst) == 0 {
			score += c.w.GraveAlone
		} else {
			score += c.w.Nobody
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

// diedBefore reports whether something other than the inscription tells that the man died before the year.
func (x Context) diedBefore(year int) bool {
	return !x.Died.To.IsZero() && x.Died.To.Year < year
}
