package unit

import (
	"slices"

	"musterstone/model"
)

// State is how far a unit has been put together. It is small and is copied freely; the zero State is a unit of which nothing is known.
type State struct {
	// Has is a bit for every role that is filled: 1<<Role.
	Has   uint16
	last  Role
	trait traits
}

// traits are what the coherence of a unit depends on.
type traits uint32

const (
	artilleryArm traits = 1 << iota
	footOrHorse         // infantry or cavalry
	batteryKind
	battalionKind
	depotKind
	independent
	coloredMark
	batteryWordUsed
	bodyUS
	bodyOther
	firstWorldWar // an arm of the First World War, or a number over 200
	namedStaff
	confederateBody
	numberedCompany
	regimentSaid
	namedDivision // "29 INF DIV", "51 ARTY BRIG": what no civilian has
	squadronMark  // a squadron or a group of the air
	bodyMark      // militia and the like: a body of troops with its state alone
	bandArm       // a band
	weakState     // a state by a form that is another word nearly always: CO, OR
	commanded     // a unit by its commander's name, which may be anybody's
	wornRest      // what stood behind the number is worn away
)

// Key is the whole of the state as a number below 2 to the 48th.
func (s State) Key() uint64 { return uint64(s.Has) | uint64(s.last)<<16 | uint64(s.trait)<<20 }

// Is reports whether a role is filled.
func (s State) Is(r Role) bool { return s.Has&(1<<r) != 0 }

// IsZero reports whether nothing is filled.
func (s State) IsZero() bool { return s.Has == 0 }

// WantsMore reports whether the last part cannot be the unit's end: a bare number.
func (s State) WantsMore() bool { return s.last == RoleNumber }

// Add is the state with one more part, and what that is worth beside the part's own score; ok is false where it does not go.
func (s State) Add(p *Part) (next State, score float32, ok bool) {
	bit := uint16(1) << p.Role
	n := s
	switch p.Role {
	case RoleFiller:
		if p.Form == groupForm && s.trait&squadronMark == 0 {
			return s, 0, false
		}
		if p.Form == wornBefore || p.Form == wornVolunteers || p.Form == wornLine {
			if s.Has&^(1<<RoleCompany) != 0 {
				return s, 0, false
			}
			n.Has |= 1 << RoleNumber
			n.last = RoleFiller
			if p.Form == wornLine {
				n.trait |= wornRest
			}
			return n, 0, true
		}
		if p.Num == 0 && s.last != RoleNumber && s.last != RoleState && s.last != RoleMark && s.last != RoleBody && s.last != RoleArm {
			return s, 0, false
		}
		n.last = RoleFiller
		if p.Form == wornForm {
			n.trait |= wornRest
		}
		if p.Form == brigadeForm || p.Form == corpsForm {
			n.trait |= namedDivision
		}
		if p.Form != nil && p.Form.word == regimentWord {
			n.trait |= regimentSaid
		}
		return n, 0, true
	case RoleMark:
		if s.Has == 0 {
			score += worth.MarkFirst
		}
	case RoleState, RoleBody:
		if s.Has&(1<<RoleState|1<<RoleBody) != 0 || p.Form.Arm != "" && s.Is(RoleArm) {
			return s, 0, false
		}
	case RoleNumber, RoleArm, RoleCompany, RoleKind, RoleDivision, RoleNamed, RoleShip:
		if s.Has&bit != 0 {
			return s, 0, false
		}
	}
	n.Has |= bit
	n.last = p.Role
	n.note(p)
	score += s.order(p)
	return n, score, true
}

// note notes the traits of a part.
func (s *State) note(p *Part) {
	switch p.Role {
	case RoleNumber:
		if p.Form == regimentForm {
			s.trait |= regimentSaid
		}
		if p.Num > 200 {
			s.trait |= firstWorldWar
		}
		if p.Form != nil {
			s.trait |= p.Form.traits
			s.Has |= p.Form.fills
		}
	case RoleDivision:
		if p.To-p.From > 2 {
			s.trait |= namedDivision
		}
	case RoleCompany:
		if p.Form != nil && p.Form.word == batteryWord {
			s.trait |= batteryWordUsed
		}
		if p.Num > 0 {
			s.trait |= numberedCompany
		}
		if p.Form != nil {
			s.trait |= p.Form.traits
			s.Has |= p.Form.fills
		}
	default:
		if f := p.Form; f != nil {
			s.trait |= f.traits
			s.Has |= f.fills
		}
	}
}

// special is a form that is in no table.
func special(f Form) *Form {
	f.settle()
	return &f
}

// settle works out what a part that rests on the form does to a State, and what it tells, once for all. Traits that the form has already it keeps.
func (f *Form) settle() {
	for k, told := range [...]string{string(f.Body), string(f.State), string(f.Arm), string(f.Kind), f.Name} {
		f.tell(k, told)
	}
	for _, m := range f.Marks {
		f.tell(5, m)
	}
	if f.Role == RoleState && f.weight < -3 {
		f.traits |= weakState
	}
	if f.Arm != "" {
		if f.Role == RoleBody || f.Role == RoleState || f.Role == RoleNamed {
			f.fills |= 1 << RoleArm
		}
		switch {
		case f.Arm == "band":
			f.traits |= bandArm
		case isKind(f.Arm, "artillery"):
			f.traits |= artilleryArm
		case isKind(f.Arm, "infantry"), isKind(f.Arm, "cavalry"), isKind(f.Arm, "engineers"):
			f.traits |= footOrHorse
		}
		if arms()[f.Arm].modern {
			f.traits |= firstWorldWar
		}
	}
	switch f.Kind {
	case model.Battery:
		f.traits |= batteryKind
	case model.Battalion:
		f.traits |= battalionKind
	case model.Depot:
		f.traits |= depotKind | firstWorldWar
	case model.Staff, model.Designated:
		f.traits |= namedStaff
	}
	switch f.Body {
	case "":
	case model.BodyRegulars:
		f.traits |= bodyUS
	case "confederate":
		f.traits |= confederateBody
	case model.BodyVRC:
		f.traits |= bodyOther | footOrHorse
	default:
		f.traits |= bodyOther
	}
	for _, m := range f.Marks {
		switch m {
		case "independent":
			f.traits |= independent
		case "volunteers":
			if f.Role == RoleBody {
				f.traits |= bodyMark // "U. S. VOLUNTEERS"
			}
		case "colored":
			f.traits |= coloredMark
		case "squadron", "group":
			f.traits |= squadronMark
		}
		if slices.ContainsFunc(marks(), func(r markRow) bool { return r.code == m && r.troops }) {
			f.traits |= bodyMark
		}
	}
}

// tell adds a hash (FNV-1a, 64 bits) of what is told of a kind.
func (f *Form) tell(kind int, told string) {
	if told == "" {
		return
	}
	h := 14695981039346656037 ^ uint64(kind+1)
	for k := range len(told) {
		h = (h ^ uint64(told[k])) * 1099511628211
	}
	f.tells += h
}

// order is what the place of a part among the others is worth.
func (s State) order(p *Part) float32 {
	score := worth.Part // every part that fits makes the whole likelier
	switch p.Role {
	case RoleNumber:
		switch s.last {
		case RoleState, RoleBody:
			score += worth.NumberAfterState
		case RoleArm:
			score += worth.NumberAfterArm
		}
	case RoleState, RoleBody:
		if s.Is(RoleDivision) && p.Role == RoleState {
			score += worth.StateAfterDivision // "127 INF 32 DIV / WISCONSIN": where the man lived
		}
		if !s.Is(RoleNumber) && !s.Is(RoleKind) && !s.Is(RoleNamed) {
			score += worth.StateFirst
		}
		if s.last == RoleMark && p.Role == RoleState && s.trait&independent == 0 {
			score += worth.StateAfterMark
		}
	case RoleMark:
		if len(p.Form.Marks) > 0 && p.Form.Marks[0] == "colored" && !s.Is(RoleState) && !s.Is(RoleBody) {
			score += worth.ColoredFirst
		}
		if p.Form.single && s.last != RoleState && s.last != RoleBody {
			score += worth.MarkLetters
		}
		if p.To-p.From == 1 && len(p.Form.Marks) > 0 && p.Form.Marks[0] == "line" && s.last != RoleState && s.last != RoleBody {
			score += worth.LineAlone // "12TH ST. CAR LINE"
		}
	case RoleCompany:
		if s.Is(RoleNumber) && s.last == RoleNumber {
			score += worth.CompanyAfterNumber
		}
	case RoleDivision:
		if !s.Is(RoleNumber) && !s.Is(RoleArm) {
			score += worth.DivisionAlone
			if p.To-p.From > 2 {
				score += worth.DivisionNamed // "29 INF DIV" can be nothing else
			}
		}
	case RoleArm:
		if p.Form.single && s.last != RoleState && s.last != RoleBody && s.last != RoleMark && s.last != RoleNumber && s.last != RoleKind {
			score += worth.ArmLetters
		}
	case RoleKind:
		if p.Form.Kind == model.Battery && s.trait&footOrHorse != 0 {
			score += worth.BatteryOfFoot
		}
	}
	return score
}

// Close is what the unit as a whole is worth: whether its parts go together, and whether anything is missing.
func (s State) Close() float32 {
	if s.Has == 0 {
		return 0
	}
	var score float32
	if s.last == RoleNumber && s.trait&wornRest == 0 {
		score += worth.EndsWithNumber // a number of nothing
	}
	hasWhose := s.Has&(1<<RoleState|1<<RoleBody) != 0
	hasWhat := s.Has&(1<<RoleArm|1<<RoleKind|1<<RoleNamed) != 0 || s.trait&(bodyOther|bodyMark|squadronMark) != 0
	switch {
	case s.Is(RoleShip):
		if s.Has&^(1<<RoleShip) != 0 {
			score += worth.ShipWithMore
		}
		return score
	case s.Is(RoleNumber) && hasWhose && hasWhat:
		score += worth.NumberWhoseWhat
	case s.Is(RoleNumber) && s.trait&independent != 0 && s.trait&batteryKind != 0:
		score += worth.IndependentBattery // a numbered independent battery, whose state the stone leaves out
	case s.Is(RoleNumber) && hasWhat:
		score += worth.NumberWhat
		if s.trait&firstWorldWar == 0 {
			score += worth.NumberWhatOld
		}
	case s.Is(RoleNumber) && hasWhose && s.Is(RoleMark):
		score += worth.NumberWhoseMark
	case s.Is(RoleNumber) && hasWhose:
		score += worth.NumberWhose
		if s.trait&regimentSaid != 0 {
			score += worth.RegimentSaid
		} else if !s.Is(RoleCompany) && s.trait&wornRest == 0 {
			score += worth.NoCompany
		}
	case s.Is(RoleNumber) && s.trait&wornRest != 0:
		score += worth.NumberWorn
	case s.Is(RoleNumber):
		score += worth.NumberOnly
	case s.Is(RoleNamed):
		score += worth.Named
	case s.Has == 1<<RoleDivision && s.trait&namedDivision != 0:
		score += worth.DivisionOnly
	case s.trait&bandArm != 0 && s.trait&namedDivision != 0:
		score += worth.BrigadeBand // "BAND 2 BRIG."
	case hasWhat && hasWhose:
		score += worth.WhoseWhat
	case s.Is(RoleCompany) && hasWhat && s.trait&numberedCompany != 0:
		score += worth.NumberedCompany // "1 CO. COAST ARTY. CORPS"
	case s.Has&(1<<RoleCompany) != 0 && hasWhat:
		score += worth.CompanyWhat
	case s.Has == 1<<RoleCompany:
		score += worth.CompanyOnly
		if s.trait&numberedCompany != 0 {
			score += worth.CompanyNumberOnly
		}
	case s.Has == 1<<RoleState:
		score += worth.StateOnly
	case s.Has == 1<<RoleBody:
		score += worth.BodyOnly
		if s.trait&bodyUS != 0 {
			score += worth.RegularsOnly
		}
	case s.Has&^(1<<RoleMark|1<<RoleFiller) == 0 && s.trait&bodyMark != 0:
		score += worth.TroopsOnly // "CONTL. LINE"
	case s.Has&^(1<<RoleMark|1<<RoleFiller) == 0:
		score += worth.MarkOnly
	case s.Has&(1<<RoleArm) != 0:
		score += worth.ArmOnly
	default:
		score += worth.Otherwise
	}
	switch {
	case s.trait&batteryKind != 0 && s.trait&footOrHorse != 0:
		score += worth.BatteryFoot
	case s.trait&battalionKind != 0 && s.trait&artilleryArm != 0:
		score += worth.BattalionArtillery
	case s.trait&batteryKind != 0 && s.trait&artilleryArm != 0:
		score += worth.BatteryArtillery
	}
	if s.trait&batteryWordUsed != 0 && s.trait&footOrHorse != 0 {
		score += worth.BatteryWordFoot
	}
	if s.trait&independent != 0 {
		if s.trait&(batteryKind|battalionKind|batteryWordUsed) == 0 {
			score += worth.IndependentOther
		} else if s.Is(RoleState) {
			score += worth.IndependentState
		}
	}
	if s.trait&weakState != 0 && !s.Is(RoleArm) {
		score += worth.WordNoArm // "2 CO. LINE ROAD"
	}
	if s.trait&coloredMark != 0 && !hasWhose {
		score += worth.ColoredNobodys
	}
	if s.trait&(batteryKind|depotKind) != 0 && s.Is(RoleKind) && !s.Is(RoleNumber) {
		score += worth.BatteryNoNumber
	}
	if s.Is(RoleKind) && s.Is(RoleCompany) && s.trait&batteryKind != 0 {
		score += worth.BatteryCompany
	}
	return score
}

// Service reports whether the words, with nothing beside them, say that someone served: a numbered unit of an arm, a company of a
// numbered unit, a body of troops, a ship of the Navy.
func (s State) Service() bool {
	arm := s.Is(RoleArm) || s.Is(RoleKind) || s.Is(RoleNamed) || s.trait&squadronMark != 0
	whose := s.Is(RoleState) && s.trait&weakState == 0 || s.Is(RoleBody)
	switch {
	case s.Is(RoleNamed) && s.trait&commanded != 0 && s.Has&(1<<RoleNumber|1<<RoleState|1<<RoleBody|1<<RoleCompany) == 0:
		return false // "GOD'S COMMAND"
	case s.Is(RoleShip), s.Is(RoleNamed), s.trait&bodyOther != 0:
		return true
	case s.trait&namedDivision != 0:
		return true
	case s.Is(RoleNumber):
		return arm || whose && s.Worn() || (whose || s.Worn()) && (s.Is(RoleCompany) || s.Is(RoleMark) || s.trait&regimentSaid != 0)
	case s.Is(RoleCompany):
		return arm && (whose || s.trait&numberedCompany != 0) || s.Is(RoleBody)
	}
	return s.Is(RoleBody) && (arm || s.Is(RoleMark)) || whose && s.trait&bodyMark != 0
}

// Worn reports whether there is a regiment's number, and what stood behind it is worn away.
func (s State) Worn() bool { return s.Is(RoleNumber) && s.trait&wornRest != 0 }

// Troops reports whether the parts name militia, reserves, a Line or the like.
func (s State) Troops() bool { return s.trait&bodyMark != 0 }

// Modern reports whether the parts are of the First World War or later.
func (s State) Modern() bool {
	return s.trait&firstWorldWar != 0 && !s.Is(RoleBody) || s.Is(RoleDivision)
}
