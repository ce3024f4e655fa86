package weigh

import (
	"iter"

	"musterstone/model"
)

// line is one level of a field at its weight: a line of evidence before it is spelled.
type line struct {
	level uint8 // its number in the table; 0 is no line
	bits  float64
}

// lineOf is the line of a level at log2(m/u).
func lineOf(field, name string, m, u float64) line {
	return line{levelNumber(field, name), bits(m, u)}
}

// MostLines is how many lines there can be: one or two a field, and two of what is known beside the record.
const MostLines = 14

// The places of a record's lines, in their order.
const (
	surnameAt = iota
	givenAt
	middleAt
	suffixAt
	unitAt
	kinAt
	rankAt
	birthAt
	deathAt
	burialAt
	homeAt
	designAt
	fieldLines
)

// Lines are what a stone and a record came to, in the order of the fields, with their sum: Stone.Row, Stone.Record and Add are the only ways in, so that the two cannot part.
// The zero value has none. Evidence is spelled from them by Stone.Spell.
type Lines struct {
	Bits float64
	n    int // places taken; of a field that says nothing there is none in its place
	at   [MostLines]line
}

// sum makes the lines in the places of the fields those that there are.
func (l *Lines) sum() {
	x := &l.at
	l.Bits = x[surnameAt].bits + x[givenAt].bits + x[middleAt].bits + x[suffixAt].bits + x[unitAt].bits + x[kinAt].bits +
		x[rankAt].bits + x[birthAt].bits + x[deathAt].bits + x[burialAt].bits + x[homeAt].bits + x[designAt].bits
	l.n = fieldLines
}

// All gives the number of each line's level (see LevelAt) and its bits.
func (l *Lines) All() iter.Seq2[uint8, float64] {
	return func(yield func(uint8, float64) bool) {
		for i := range l.n {
			if x := &l.at[i]; x.level > 0 && !yield(x.level, x.bits) {
				return
			}
		}
	}
}

// Levels puts the numbers of the lines' levels into to, and says how many there are.
func (l *Lines) Levels(to *[MostLines]uint8) (n int) {
	for level := range l.All() {
		to[n] = level
		n++
	}
	return n
}

// Add adds a line of what is known beside the record.
func (l *Lines) Add(level uint8, bits float64) {
	l.Bits += bits
	l.at[l.n] = line{level, bits}
	l.n++
}

// evidence is the line's evidence without what either side says.
func (x line) evidence() model.Evidence {
	r := &table().rows[x.level]
	return model.Evidence{Field: r.field, Level: r.name, Bits: x.bits}
}
