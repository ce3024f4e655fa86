// Package model holds the nouns of the job: the grave marker as a person recorded it, the service record as a
// roster gives it, what the words of either claim, the evidence that sets one beside the other, and what a
// person decided.
//
// A Stone and a Record are references: what one source says of one man. They are kept apart from the man
// himself, and nothing in this package joins them; a Decision made by a person does.
//
// Everything a source said is kept as written (Written, on Stone, Record, Name, Unit and date.Date) beside what
// was understood of it. The zero value of every field means "not known" and is never an answer.
//
// The package has no input or output, no clock and no global state, and imports only the standard library. It
// knows no tables: what a word means is the business of the vocab packages.
package model
