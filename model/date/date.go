// Package date holds uncertain dates: what a stone or a roster says of a day, kept as the earliest and the latest
// day that it can mean.
//
// A [Date] is read from the Extended Date/Time Format with [ParseEDTF] or from period wording with [Parse]:
//
//	d, err := date.Parse("Sept. 1, 1862")  // EDTF "1862-09-01"
//	d, err := date.Parse("abt. 1841")      // EDTF "1841~", Approximate
//	d, err := date.Parse("1862 or 63")     // EDTF "1862/1863"
//
// Whatever was read is kept in Written. Nothing is guessed: a two-digit year without a century, a day that no calendar
// has and a spreadsheet's day number are errors that say what they look like. The calendar is the Gregorian one
// throughout; the change of calendar in 1752 is not dealt with.
package date

// Day is a day of the proleptic Gregorian calendar. The zero Day means "not known" or, as a bound, "open".
type Day struct {
	Year, Month, Day int
}

// Date is a date as far as it is known. It is comparable; the zero Date means that nothing is known.
type Date struct {
	// EDTF is the date in the Extended Date/Time Format, level 1: "1864-08-09", "1841~", "186X", "1862/1863", "../1880".
	EDTF string
	// From and To are the first and the last day that it can be, both included; a zero Day is an open side.
	From, To Day
	// Approximate ("~") widens nothing by itself: see Loose. Uncertain is "?".
	Approximate, Uncertain bool
	// Written is the text it was read from.
	Written string
}

// Age is a span of life as written on a stone or a roster. Known is set where an age was given, so that "0 y" is not nothing.
type Age struct {
	Years, Months, Days int
	// HasMonths and HasDays are set where the writing gives them: "22 y" may be anything up to a day short of 23.
	HasMonths, HasDays bool
	// Approximate is set where the writing says "about", gives weeks or a half, or leaves a choice.
	Approximate bool
	Known       bool
	Written     string
}
