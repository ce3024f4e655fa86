package model

import "slices"

// Subject is a stone with what was made of it: what linking starts from.
type Subject struct {
	Stone *Stone
	// Readings are the ways to read its words, likeliest first; never empty.
	Readings []Reading
	Implies  Implication
}

// Reading is the likeliest reading.
func (s *Subject) Reading() Reading {
	if len(s.Readings) == 0 {
		return Reading{}
	}
	return s.Readings[0]
}

// About is the subject with the man of a candidate before the others whom its likeliest reading names; the subject itself where he is the first, or there is no candidate. Its tokens are left out: they tell the others by their places.
func (s *Subject) About(c *Candidate) *Subject {
	if c == nil || c.Person == 0 || c.Person >= len(s.Reading().People) {
		return s
	}
	about := *s
	about.Readings = slices.Clone(s.Readings)
	r := &about.Readings[0]
	r.Tokens = nil
	r.People = append([]Claim{r.People[c.Person]}, slices.Delete(slices.Clone(r.People), c.Person, c.Person+1)...)
	return &about
}
