package rdf

import (
	"math"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// LivingYears is the rule for privacy: a person without a known death counts as perhaps living until so many years after the last
// day on which he can have been born. It is a choice of this program, meant to be cautious; the law of the place goes before it.
const LivingYears = 110

// YoungestService is the lowest age at which service is thought possible, when a birth is worked out from dates of service: a choice of this program.
const YoungestService = 10

// Held is why something was held back.
type Held string

// The reasons for holding back.
const (
	HeldLiving  Held = "perhaps living: no death known, and born less than 110 years ago or able to have been"
	HeldPrivate Held = "a column marked private says it"
	HeldUndated Held = "perhaps living: no death, birth, date of service or conflict known; the metadata may give a whole roster its conflict"

	heldStone   Held = "its stone is held back"
	heldRecord  Held = "its record is held back"
	heldWithIts Held = "its stone or its record is held back"
	heldNote    Held = "a reviewer's note; the metadata do not say that notes may be published (\"ms:publishNotes\": true)"
)

// mayLive reports whether the person of a claim may be living in a year. A stone's own first person, without any date, counts as dead:
// the stone says that he is buried there.
func mayLive(c model.Claim, born date.Date, onStone bool, year int) (Held, bool) {
	p := c.Person
	if !p.Died.IsZero() || p.DeathPlace != "" || p.Buried != "" {
		return "", false
	}
	if latest, ok := latestBirth(c, born); ok {
		if year-latest < LivingYears {
			return HeldLiving, true
		}
		return "", false
	}
	if onStone {
		return "", false
	}
	return HeldUndated, true
}

// latestBirth is the last year in which the person of a claim can have been born, by the best of what is known: his birth, his dates of service,
// his conflicts, his side or body.
func latestBirth(c model.Claim, born date.Date) (year int, ok bool) {
	if !born.To.IsZero() {
		return born.To.Year, true
	}
	s := c.Service
	for _, d := range []date.Date{s.Enlisted, s.MusteredIn, s.MusteredOut} {
		if !d.To.IsZero() && (!ok || d.To.Year-YoungestService < year) {
			year, ok = d.To.Year-YoungestService, true
		}
	}
	if ok {
		return year, true
	}
	// With several conflicts, the first bounds the birth.
	for _, code := range s.Conflicts {
		w, found := vocab.Conflict(code)
		if !found {
			continue
		}
		last := w.BornTo
		if last == 0 {
			last = math.MaxInt32 // the conflict is not over
		}
		if !ok || last < year {
			year, ok = last, true
		}
	}
	if ok {
		return year, true
	}
	if s.Side != "" || vocab.BodySide(s.Unit.Body) != "" {
		if w, found := vocab.Conflict("civil-war"); found {
			return w.BornTo, true
		}
	}
	return 0, false
}
