package model

import (
	"fmt"

	"musterstone/model/date"
)

// Cell is one cell of a table as it stands in the file: the column's name there and the text in it.
type Cell struct {
	Column string `json:"column"`
	Value  string `json:"value"`
}

// Source says where a row came from. Row counts as a person does in a spreadsheet: the header is row 1. Rows of a
// graph (Turtle, N-Triples) have Row 0 and the subject's IRI in Subject.
type Source struct {
	File    string `json:"file"`
	Row     int    `json:"row,omitempty"`
	Subject string `json:"subject,omitempty"`
}

// Words are the place in words: the file, and in it the row or the subject.
func (s Source) Words() string {
	switch {
	case s.Row > 0:
		return fmt.Sprintf("%s, row %d", s.File, s.Row)
	case s.Subject != "":
		return s.File + ", " + s.Subject
	}
	return s.File
}

// Inches is a length in inches; 0 means not measured.
type Inches float64

// Position is a WGS84 position in decimal degrees.
type Position struct {
	Latitude, Longitude float64
}

// Place is where a stone stands. State is the two-letter code where the text could be understood.
type Place struct {
	Cemetery, County   string
	State              State
	Section, Row, Plot string
	Position           *Position // nil where not recorded
}

// Marker is what a person saw and measured of a marker, before anything is made of it. The fields with examples hold one of the values of the table
// "observations" of package vocab, or "" where nothing, or nothing known, was recorded.
type Marker struct {
	Inscription string // lines parted by "\n", Leiden marks as written; "" for a register row or a blank stone
	Top         string // "rounded", "slightly rounded", "pointed", "flat", "square", "oval", "other"
	Material    string // "white marble", "marble", "granite", "bronze", "iron", …
	Lettering   string // "raised", "incised"
	Device      string // "recessed shield", "outline shield", "confederate cross", "none", …
	Emblem      string // emblem of belief: its number or its name, as recorded
	Motifs      []string
	Setting     string // "upright", "flush", "niche", "post", "block"
	Condition   string

	Width, Thickness Inches
	Height           Inches // above ground
	Length           Inches // the whole stone, where known
}

// Stone is one row of a stones table or of a burial register.
type Stone struct {
	ID      StoneID
	Source  Source
	Written []Cell // every cell that is not empty, in column order
	Place   Place
	Marker  Marker
	// Register is what a burial register says someone has already read. Nil where there is a stone to read.
	Register *Claim

	Photo, Recorder, Notes string
	Recorded               date.Date
}
