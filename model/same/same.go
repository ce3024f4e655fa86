// Package same carries records from whoever reads them to whoever packs them: what many records share (a surname, a unit, a date) is a number of a list of
// distinct values, so that each value is made, and looked at, but once.
//
// A reader fills a Batch; whoever packs it keeps, for each of the reader's numbers, what the value came to there. Records that were not read so are made into a
// Batch by a Collector, and a Batch gives its records again.
package same

import (
	"strings"

	"musterstone/model"
	"musterstone/model/date"
)

// Values are the distinct values of a reader. Number 0 is the zero value in each list. A list is only appended to, so that whoever was given it may read it while its reader goes on.
type Values struct {
	Shapes   []Shape
	Surnames []string
	Names    []model.Name // without surname and writing
	Units    []model.Unit // with company and writing
	Dates    []date.Date
	Ages     []date.Age
	Services []model.Service // without unit, dates and texts
	Places   []string        // residences and burials
	Cells    []string        // texts of cells
}

// A Shape says which cells a record has and which of its texts are among them.
type Shape struct {
	Columns []string // of the cells
	// Texts has, for each text, the number of the cell, from 1, that it is without the blanks about it; 0 where there is no text.
	Texts [TextCount]uint8
	// Given, where it is not 0, is the cell of the given names, which follow a comma in the writing of the name.
	Given uint8
}

// The texts of a record that are no shared values.
const (
	NameWritten = iota
	Subject
	Birthplace
	Residence
	DeathPlace
	Buried
	Relation
	Remarks
	ServiceWritten
	Home
	TextCount
)

// TextsOf are the texts of a record in their order.
func TextsOf(r *model.Record) [TextCount]*string {
	p, v := &r.Person, &r.Service
	return [...]*string{NameWritten: &p.Name.Written, Subject: &r.Source.Subject, Birthplace: &p.Birthplace, Residence: &p.Residence, DeathPlace: &p.DeathPlace, Buried: &p.Buried,
		Relation: &p.Relation, Remarks: &v.Remarks, ServiceWritten: &v.Written, Home: (*string)(&r.Home)}
}

// A Row is one record: numbers of its reader's Values, and what is its own.
type Row struct {
	ID     string
	Number int // of the row in its file

	Shape, Surname, Name, Unit, Age, Service      uint32
	Born, Died, Enlisted, MusteredIn, MusteredOut uint32
	Residence, Buried                             uint32 // the places that are texts too

	From, To int // its cells
	Own      int // where its texts are not what the shape says, their number in the batch, from 1
}

// A Batch is some hundred records of one file.
type Batch struct {
	File   string
	Reader int // whose Values these are; no two readers have the same number
	Values Values
	Rows   []*Row
	Cells  []string            // of all rows, as they stand in the file
	Known  []uint32            // beside them, the number of a cell's text, 0 where it has none; or nil
	Own    [][TextCount]string // texts of rows that have their own
}

// CellsOf are the cells of a row.
func (b *Batch) CellsOf(r *Row) []string { return b.Cells[r.From:r.To] }

// Text is one of the texts of a row.
func (b *Batch) Text(r *Row, which int) string {
	if r.Own > 0 {
		return b.Own[r.Own-1][which]
	}
	s := &b.Values.Shapes[r.Shape]
	at := s.Texts[which]
	if at == 0 {
		return ""
	}
	t := strings.TrimSpace(b.Cells[r.From+int(at)-1])
	if which == NameWritten && s.Given > 0 {
		t += ", " + strings.TrimSpace(b.Cells[r.From+int(s.Given)-1])
	}
	return t
}

// Record makes the record of a row. Its texts and lists are those of the batch.
func (b *Batch) Record(r *Row) *model.Record {
	v := &b.Values
	rec := &model.Record{ID: model.RecordID(r.ID), Source: model.Source{File: b.File, Row: r.Number}}
	for i, c := range b.CellsOf(r) {
		rec.Written = append(rec.Written, model.Cell{Column: v.Shapes[r.Shape].Columns[i], Value: c})
	}
	p := &rec.Person
	p.Name, p.Age, p.Born, p.Died = v.Names[r.Name], v.Ages[r.Age], v.Dates[r.Born], v.Dates[r.Died]
	p.Name.Surname = v.Surnames[r.Surname]
	s := &rec.Service
	*s = v.Services[r.Service]
	s.Unit, s.Enlisted, s.MusteredIn, s.MusteredOut = v.Units[r.Unit], v.Dates[r.Enlisted], v.Dates[r.MusteredIn], v.Dates[r.MusteredOut]
	for i, t := range TextsOf(rec) {
		*t = b.Text(r, i)
	}
	return rec
}
