package model

import (
	"strings"

	"musterstone/model/date"
)

// Name is a personal name as understood, part by part, in ordinary capitals ("McNeil", "John"), abbreviations of given names
// written out. Lost and unclear letters keep their Leiden marks: "W[..]liam".
type Name struct {
	Surname string
	Given   string
	Middle  string // names or initials, parted by spaces, without full stops
	Suffix  string // "Jr", "Sr", "II", …
	// GivenOr has the other given names that the writing may stand for, likeliest first: "Jno." is John, or Jonathan.
	GivenOr []string
	// Other are the words by which the writing itself tells another name of the person, worded as remarks would have them: of "Smith alias Brown, John" they are "alias Brown".
	Other string
	// Written is the name as it stood.
	Written string
}

// IsZero reports whether nothing of the name is known.
func (n Name) IsZero() bool {
	return n.Surname == "" && n.Given == "" && n.Middle == "" && n.Suffix == ""
}

// String gives the name in reading order: "John T Holden Jr".
func (n Name) String() string {
	var parts []string
	for _, p := range []string{n.Given, n.Middle, n.Surname, n.Suffix} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	return strings.Join(parts, " ")
}

// Person is what one source says of one person, service apart.
type Person struct {
	Name       Name
	Born, Died date.Date
	// Age is the age at death on a stone or in a register, and the age at enlistment on a roster.
	Age        date.Age
	Birthplace string
	Residence  string
	DeathPlace string
	Buried     string // the roster's own burial remark
	// Relation is set for those named on a stone who are not its veteran: "wife", "son", "daughter", "father", …
	Relation string
}

// Service is what one source says of one person's service.
type Service struct {
	Rank    Rank // on a roster, the rank at entry
	RankOut Rank // on a roster, the last rank
	Brevet  bool // Rank is a brevet
	Unit    Unit
	Branch  Branch
	Side    Side
	// Conflicts are those that the source names or that follow from its words alone; sorted by their dates.
	Conflicts                         []ConflictCode
	Enlisted, MusteredIn, MusteredOut date.Date
	Awards                            []string
	Remarks                           string
	// Written holds the words about rank and service as they stood, where they stood apart.
	Written string
}

// IsZero reports whether the source says nothing of any service.
func (s Service) IsZero() bool {
	return s.Rank == "" && s.RankOut == "" && s.Unit.IsZero() && s.Branch == "" && s.Side == "" && len(s.Conflicts) == 0 &&
		s.Enlisted.IsZero() && s.MusteredIn.IsZero() && s.MusteredOut.IsZero() && len(s.Awards) == 0
}

// Claim is what a source says of one person: who he was and how he served.
type Claim struct {
	Person  Person
	Service Service
	// Home is the state that heads a General stone: the man's residence, never his unit's state.
	Home State
}

// Record is one service record: one row of a roster.
type Record struct {
	ID      RecordID
	Source  Source
	Written []Cell // every cell that is not empty, in column order
	Claim
}

// Birth is when the man of a record was born: as written, or worked out from his age at enlistment.
func (r *Record) Birth() date.Date {
	if !r.Person.Born.IsZero() || r.Person.Age.IsZero() {
		return r.Person.Born
	}
	at := r.Service.Enlisted
	if at.IsZero() {
		at = r.Service.MusteredIn
	}
	if at.IsZero() {
		return date.Date{}
	}
	return date.BirthFrom(at, r.Person.Age)
}
