package inscription

import "musterstone/model/date"

// hit is a form of the tables found in a text, from some word to word to-1.
type hit struct {
	to, guessed int
	entry       *entry
}

// item is a piece of an inscription: words from to to-1, and what they may be. The score is what they are worth alone.
type item struct {
	from, to int
	next     int32 // the next item that starts at the same word, -1 for none
	ref      int32 // kUnit: in parts; kDate and kYears: in whens; kAge: in ages; kAgain: the word where the name stood before
	kind     kind
	brevet   bool // kRank
	served   bool // kRank: a trade that is told as a soldier's (see shortTrade)
	score    float32
	entry    *entry
	name     nameSpan // kName, kPair, kFamily
}

// nameSpan says where the parts of a name stand.
type nameSpan struct {
	suffix    int16 // the word of the suffix, or -1
	surname   int16 // the first word of the surname; the word after the name where there is none
	and       int16 // the word AND of a pair, or -1
	gap       int16 // where what stands behind the gap begins that parts the one word into a given name and a surname, 0 where none does
	part      int16 // the word after the one that is parted into an initial and what the gap beside it has left, 0 for none
	or        int16 // the word OR before another reading of the surname, 0 for none
	givenOnly bool
	oneWord   bool
	breaks    bool // goes on over a line break
	ownLine   bool
	known     bool // a word of it stands in the tables of names
	first     bool // begins a line
	named     bool // has a given name or an initial first, or a comma behind its first word
	noGiven   bool // its first word is no given name and no initial
	noSurname bool // given names and initials, and no surname
	below     bool // stands for the first name below the surname that heads the stone, and nowhere else but
	dated     bool // where numbers follow it in its line: years of another of the family
}

// when is one date, or two years of a pair, as read: the dates are made only for readings.
type when struct {
	one, other moment
	until      [2]int // of both, the last of several years that the figures allow, 0 for none
	circa      bool
	serves     bool // behind FROM: years of service
	war        bool // two years within one war, but for those that are its name
	open       bool // a year with a dash and nothing behind it, or a century: of birth
	// made are the dates once made.
	madeOne, madeOther date.Date
}

// moment is a date's parts: words from to to-1. What is not known is 0; yearText and dayText hold what damage left.
type moment struct {
	from, to         int
	year, month, day int
	yearText         string
	dayText          string
}
