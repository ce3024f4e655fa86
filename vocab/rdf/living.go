package rdf

import (
	"musterstone/model"
	"musterstone/model/date"
)

// MayLive reports whether the person of a claim may be living in a year, by the rule for publication (see LivingYears), so that other output can hold to it
// as well. onStone says that a stone or a burial register claims it: then one without any date counts as dead.
func MayLive(c model.Claim, born date.Date, onStone bool, year int) bool {
	_, may := mayLive(c, born, onStone, year)
	return may
}
