package rdf

import "musterstone/model"

// LivingOnStone reports whether somebody whom a stone or a row of a burial register names may be living in a year, by the rule for publication (see LivingYears): then its
// words are held back. Other output asks here too, so that there is one rule.
func LivingOnStone(s *model.Subject, year int) bool { return heldOnStone(s, year) != "" }

// LivingInRecord reports whether the man of a service record may be living in a year, by the same rule: then the record is held back.
func LivingInRecord(r *model.Record, year int) bool {
	_, held := mayLive(r.Claim, r.Birth(), false, year)
	return held
}

// heldOnStone gives the reason why a stone's words must be held back; "" where they need not. A birth that is too late counts in any reading. Someone
// of whom no date is known counts in the likeliest reading only, and not where the stone's first person died so long ago that those who are named with
// him, born at the latest in the year after, are dead too.
func heldOnStone(sub *model.Subject, year int) Held {
	for index, r := range sub.Readings {
		died := r.Claim().Person.Died.To
		longAgo := !died.IsZero() && year-(died.Year+1) >= LivingYears
		for i, c := range r.People {
			why, held := mayLive(c, c.Person.Born, i == 0, year)
			if held && (why != HeldUndated || index == 0 && !longAgo) {
				return why
			}
		}
	}
	return ""
}
