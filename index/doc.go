// Package index finds, for a grave stone, the service records that may be its man, and words in stones and records for a person who looks for them.
//
// It proposes and never decides: Candidates are chosen so that the true man is among them, and ranked only as far as that needs; to weigh them is the
// work of package link. Find gives reasons in kind: the words that it found, where they stand.
//
//	x, err := index.Open(ctx, "survey", index.Inputs{Rosters: digest, Records: records, Graves: otherDigest, Stones: stones}, index.Options{})
//	candidates, err := x.Candidates(ctx, subject, 50)
//	results, err := x.Find(ctx, `holden "31st wis"`, index.FindOptions{})
//
// What is kept on disk, below the survey's folder DerivedFolder, can be made again from the survey's files and is made again when they change:
//
//   - records-…: every record in a packed store, in which values that many records share stand once; columns of about 70 bytes a record for ranking,
//     postings and ids; and the distinct surnames, given names, units and places. The files are mapped and read where they lie. A search goes over the
//     distinct surnames and then over the men who bear those that are like; and over the men of the stone's unit, so that a ruined name is found by its
//     company.
//   - words-…: a bleve index (scorch) of the words of whole records and stones, made when Find is first asked, and the stones.
//
// Of several rosters those that have not changed are kept when another has: the index is made again by file, not by row (Inputs.Parts).
//
// Each of these folders is there whole or not at all: it is built aside and renamed, and its manifest holds the sizes and checksums of its files.
package index
