// Package name reads personal names as stones and rosters write them, and says which writings may be one name: abbreviations, diminutives,
// spellings, lost and unclear letters, sound, and how common a name is.
//
// What is compared is the folded form of a name (Fold): lower-case letters only, "?" for a lost letter and "*" for so many that nobody knows. What is shown is
// the model.Name that Parse gives, in ordinary capitals, with its Leiden marks. The tables that this package rests on are those of
// package vocab; the strength with which a short form points to a name is a judgement of this program, and no
// published figure. The frequencies are those of the census of 1990, a modern stand-in for those of the men who
// served: a matcher should learn better ones from the rosters it reads.
package name
