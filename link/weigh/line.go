package weigh

import "musterstone/model"

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

// Lines are what a stone and a record came to, in the order of the fields, with their sum: set and Add are the only ways in, so that the two cannot part. The zero
// value has none. Evidence is spelled from them by Stone.Spell.
type Lines struct {
	Bits float64
	n    int
	at   [MostLines]line
}

// set makes them the lines of the fields; those that are none are left out, without a branch that the processor would have to guess.
func (l *Lines) set(fields *[fieldLines]line) {
	n, sum := uint(0), 0.0
	for i := range fields {
		x := fields[i]
		sum += x.bits
		l.at[n] = x
		n += (uint(x.level) + 255) >> 8
	}
	l.n, l.Bits = int(n), sum
}

// Len is the number of lines.
func (l *Lines) Len() int { return l.n }

// Level is the number of line i's level: see LevelAt.
func (l *Lines) Level(i int) uint8 { return l.at[i].level }

// LevelBits are the bits of line i.
func (l *Lines) LevelBits(i int) float64 { return l.at[i].bits }

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
