package model

import "musterstone/model/date"

// Conflict is a war or campaign in which a person may have served.
type Conflict struct {
	Code ConflictCode
	Name string
	// From and To are its official first and last day.
	From, To date.Day
	// BornFrom and BornTo are the years of birth of those who plausibly served.
	BornFrom, BornTo int
	Source           string
}
