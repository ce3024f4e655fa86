// Package intake reads the tables of a survey folder, and the rosters among them that are RDF, into the values of model, and
// tells everything that it could not make sense of with file, row and column.
//
//	survey, err := intake.Open(dir)
//	for stone := range survey.Stones(complain) { … }
//	for record := range survey.Records(complain) { … }
//
// # What is a table, and of what
//
// With a csv-metadata.json (W3C Metadata Vocabulary for Tabular Data, CSVW, 17 December 2015) the tables are those that it lists; without
// one, the files that end in .csv, .tsv or .tab and, where they are named roster…, in .ttl, .nt or .nq. A virtual column rdf:type says what the rows are
// (ms:Marker or ms:ServiceRecord); else the file's name does (stones…, register…, roster…); else a column inscription or cemetery makes it a
// table of stones. A table of stones with names and without inscriptions is a burial register.
//
// A column means what its propertyUrl says, a term of the vocabulary or one of the standard synonyms; else what its name says, if
// that is a default column name, whatever its letter case, blanks, hyphens and underscores. Where the metadata give a term, columns that happen to be
// named like it are kept without that meaning. Two described columns of one term are joined by a blank (first and middle
// name). Columns without a meaning are kept in Written.
//
// Of CSVW these are read: tables, url, tableSchema, columns, titles, name, propertyUrl, virtual, null, default, separator (for motifs), aboutUrl (which
// gives the ids: "#stone-{grave}"; a column with an aboutUrl of its own speaks of another thing and is only kept), valueUrl of virtual columns, suppressOutput (of a table: it is left out; of a column: it is private), and of
// the dialect delimiter, quoteChar, encoding, header, headerRowCount, skipRows, skipInitialSpace, trim, commentPrefix. Files named by a schema or dialect are
// not read, and nothing is ever fetched. Lines that begin with # are no comments unless the dialect says so. Our own are "ms:base" (the base IRI of the survey's data; "@base" of the context serves too), "ms:private" and
// "ms:ditto" of a column, and "ms:value" of a virtual one: a text with references to columns, "{month}/{day}/{year}"; what is made of a private column is private too. What is meant to be private is kept back however it is
// said ("private": "yes"), and told; of a table or of all of them it is refused.
//
// "ms:nameRecorders": true of the whole group says that those who recorded the stones agreed to be named in what is published, "ms:publishNotes": true that the notes which reviewers made on stones may be. Of a roster in Turtle, N-Triples or N-Quads the
// columns are a mapping: "titles" is a property of the file, "propertyUrl" what it means; such a property can be private too.
//
// A virtual column with a default or valueUrl says the same of every row ("ms:conflict", "default": "civil-war") that does not say otherwise itself.
//
// # Rows
//
// Row numbers are those of a spreadsheet: the header is row 1 (a line "sep=;" above it, which only names the delimiter, is none), blank rows and skipped rows count, and a row whose cell has line breaks inside
// quotes counts once. A row that cannot be parted into cells (a quote mark that is never closed, a line of more than 1 MiB) is left out, reading
// goes on at the next line, and it counts as one row; the complaint names the line of the file where that differs.
//
// A row is left out only for that, for holding nothing but NUL bytes, and for an id that was given before. Anything else that is not understood is told, counts as not known, and stays as
// it was in Written. A row without an id gets one that is derived from the name of the file and the cells.
//
// Ditto marks are not guessed at unless the metadata say "ms:ditto": true of the column, since a table that was sorted or cut since it was
// printed has another row above. Years of two digits are read near the war that the row or the metadata name (or near 1863 where a side is
// given), or else near another date of the row that has its century (who was born in 1844 enlisted on "Aug. 14, '62" in 1862), and else not at all.
//
// # What is concluded
//
// Of side and war, no more than this: a side given, or a body that was on one (US Colored Troops, Veteran Reserve Corps), is of the
// civil war; and a record that names neither side nor war was of the wars in whose official dates the whole date of enlistment
// or muster-in lies, the Indian wars only where there is no other. Of a man of a state's regiment they are never concluded; where he enlisted before a
// war had begun, the dates of his muster-out and death are looked at.
//
// Where a roster has no date of death, one that its remarks tell ("Died of wounds at Chattanooga, Tenn., Dec. 3, 1863") is taken, by the words of the
// table remark-words; the remarks stay as they are.
//
// Everything is read in a stream: of a table, some thousand rows are in memory, besides the ids and a bounded number of cells that came before. One
// goroutine parts a file into rows and several make sense of them; what comes out, and the order of what is told, is the same whatever their number.
package intake
