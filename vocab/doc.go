// Package vocab holds the known things of the trade as tables: states, arms, bodies, ranks, conflicts, name forms, marker
// patterns, each row with its source. Reading, matching and the published concept schemes all rest on these tables and on no
// other, so that a thing is known once.
//
// The tables are CSV files in the data folder, embedded in the program: UTF-8, a header row, one fact a row, and a "source" column that
// names one or more keys of sources.csv, parted by blanks. They are parsed when first used.
//
// The look-ups of this package (State, Rank, Branch, Side, ConflictOf) take a form of any period, whatever its case and points, and give the commonest
// meaning; the tables have every meaning, with the years in which it held and what else the form may be. A table says what a form can mean, not what it means in a
// line: that is for the packages that read.
package vocab
