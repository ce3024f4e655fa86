package model

import (
	"strconv"
	"strings"
)

// Complaint is something wrong with an input, told so that it can be found and mended.
type Complaint struct {
	File   string // as named in the survey folder
	Row    int    // as a spreadsheet counts, header = 1; 0 where the whole file is meant
	Column string // the column's name in the file; "" where the whole row is meant
	Text   string // what is wrong, lower case, the offending text quoted
	Hint   string // what to do about it
	// Fatal is set where the file, or the row, was left out because of it; otherwise only the cell counts as not known.
	Fatal bool
	// Damaged is set where the file cannot be what it should be (bytes of zero, a line without end): the other rows still count, but the input
	// is refused as wrong.
	Damaged bool
	// Unread is set where the disk failed: another reading may find what is missing, so nothing that was made of this one is to be kept.
	Unread bool
}

// Error makes a Complaint an error: `stones.csv:14: column "width_in": "a foot" is not a number of inches; write 12 or 12.5`.
func (c *Complaint) Error() string {
	var b strings.Builder
	b.WriteString(c.File)
	if c.Row > 0 {
		b.WriteString(":" + strconv.Itoa(c.Row))
	}
	b.WriteString(": ")
	if c.Column != "" {
		b.WriteString("column " + strconv.Quote(c.Column) + ": ")
	}
	b.WriteString(c.Text)
	if c.Hint != "" {
		b.WriteString("; " + c.Hint)
	}
	return b.String()
}

// MostTold is how many complaints of one weight are told of one file: a damaged file can have one in every row, and each takes more memory than the row.
const MostTold = 10_000

// Bounded passes on up to MostTold complaints of one weight about one file, and says once that there are more. Complain may be nil.
func Bounded(complain func(Complaint)) func(Complaint) {
	if complain == nil {
		return func(Complaint) {}
	}
	type kind struct {
		file                   string
		fatal, damaged, unread bool
	}
	n := map[kind]int{}
	return func(c Complaint) {
		k := kind{c.File, c.Fatal, c.Damaged, c.Unread}
		switch n[k]++; {
		case n[k] <= MostTold:
			complain(c)
		case n[k] == MostTold+1:
			complain(Complaint{File: c.File, Row: c.Row, Text: "from here on problems of this weight are not told: " + strconv.Itoa(MostTold) + " have been", Hint: "mend those, and look again"})
		}
	}
}
