package model

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
