package inscription

// gains are more than steps add to the scores of items: what is too low with that need not be tried. They follow from the weights, and TestGains holds them to what the
// steps do.
type gains struct {
	of [kinds]float32 // but for names and a man's second unit
	// Of a part that begins a second unit.
	secondUnit float32
	// Of names: the first, one that is waited for, a relation's, and another's by the kind before it; and what closing the unit of the person before adds.
	first, wanted, relation, closing float32
	another                          [kinds]float32
}

// slack is more than the order of a sum changes it.
const slack = 0.01

// anyGain is more than the step to any item but a name adds.
const anyGain = 5

// unitGain is more than the step to a part of a unit adds, which Add gives.
const unitGain = 0.7

// gains works the bounds out.
func (w *weights) gains() gains {
	gain := func(all ...float32) float32 { // the sum of what adds
		sum := float32(slack)
		for _, x := range all {
			sum += max(x, 0)
		}
		return sum
	}
	var g gains
	for k := range g.of {
		g.of[k] = anyGain
	}
	g.of[kUnit] = unitGain
	g.secondUnit = unitGain + mostClosing + w.AnotherUnit + gain(w.UnitLinked)
	g.of[kDate] = gain(w.YearAfterWords, max(w.DateBorn, w.DateDied, w.DateService))
	g.of[kYears] = gain(w.YearsLabelled)
	g.of[kPlace] = gain(w.PlaceLabelled)
	always := gain(w.NoSurname, w.RankBeforeWord, w.NameAfterRank, w.NameInUnitLine, w.NameInLine)
	g.first = w.FirstName + always + gain(w.FamilyGiven, w.RelationName, w.RelationGiven, w.FamilyOther, w.FirstGivenOnly, w.FirstGivenAfterTitle, w.FirstOneWord, w.NameOfUnknown)
	g.wanted = w.WantedName + always + gain(w.WantedShort)
	g.relation = w.RelationName + always + gain(w.RelationGiven)
	g.closing = mostClosing + gain(w.UnitDoubt, w.ClosedUnfinished)
	for k := range kinds {
		after := w.NameAfterOther
		switch k {
		case kDate, kYears, kAge:
			after = w.AnotherAfterDates
		case kName:
			after = w.NameAfterName
		case kUnit, kRank:
			after = w.NameAfterService
		}
		g.another[k] = w.AnotherName + after + always + gain(w.AnotherNotKnown, w.AnotherNoGiven, w.AnotherFamilyGiven, w.AnotherShort)
	}
	return g
}

// mostClosing is the most that unit.State.Close gives.
const mostClosing = 4

// name is more than the step from a state adds to the score of a name.
func (g *gains) name(s *state) float32 {
	var most float32
	switch {
	case s.flags&fWantName != 0:
		return g.wanted
	case s.flags&fHead == 0:
		return g.first
	case s.flags&fRelation != 0:
		most = g.relation
	default:
		most = g.another[s.last]
	}
	if !s.unit.IsZero() {
		most += g.closing
	}
	return most
}
