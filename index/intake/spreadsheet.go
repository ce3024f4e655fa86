package intake

import (
	"fmt"
	"strconv"
	"strings"

	"musterstone/model/date"
)

// What spreadsheets do to a table between the hand that typed it and the file: they count dates in days, make dates of plot numbers, shorten
// long numbers, and leave the name of an error where a text began like a formula.

// lostCell reports whether a cell holds a spreadsheet's error instead of what was typed: "#NAME?" where an inscription began with = or -, a row
// of # where a column was too narrow when it was printed to a file.
func lostCell(s string) bool {
	switch s {
	case "#NAME?", "#REF!", "#VALUE!", "#N/A", "#DIV/0!", "#NUM!", "#NULL!", "#SPILL!", "#CALC!":
		return true
	}
	if number, ok := strings.CutPrefix(s, "Err:"); ok {
		_, err := strconv.Atoi(number)
		return err == nil
	}
	return len(s) >= 3 && strings.Trim(s, "#") == ""
}

// lostHint says what to do about such a cell.
func lostHint(s string) string {
	switch {
	case strings.Trim(s, "#") == "":
		return "widen the column in the spreadsheet and export again"
	case s == "#NAME?":
		return "make the column text and type it again, with an apostrophe before a text that begins with = + or -"
	}
	return "mend the formula there, or write the value out, and export again"
}

// The day numbers that are taken for dates. Spreadsheets count from 30 December 1899, so that these are the days from 1927 to 2063, and, in
// those that count backwards too, from 1735 to 1897. What lies between would have four figures or fewer, as years have.
const (
	serialFirst, serialLast   = 10000, 59999
	serialBefore, serialBegin = -1000, -60000
)

// serialDate reads a spreadsheet's day number, marked uncertain: some spreadsheets counted from 1904.
func serialDate(s string) (date.Date, bool) {
	whole, fraction, _ := strings.Cut(s, ".")
	n, err := strconv.Atoi(whole)
	if err != nil || strings.Trim(fraction, "0123456789") != "" || strings.HasPrefix(whole, "+") {
		return date.Date{}, false
	}
	if (n < serialFirst || n > serialLast) && (n > serialBefore || n < serialBegin) {
		return date.Date{}, false
	}
	d, err := date.Parse(date.Day{Year: 1899, Month: 12, Day: 30}.AddDays(n).String() + "?")
	d.Written = s
	return d, err == nil
}

// serial reads a date cell that holds a day number, and tells of the first one in each column.
func (r *reading) serial(t term, text string) (date.Date, bool) {
	d, ok := serialDate(text)
	if !ok {
		return date.Date{}, false
	}
	r.tellOnce(t, fmt.Sprintf("%q is a date that the spreadsheet turned into a count of days; it was read as %s, and others in this column likewise", text, d.From),
		"compare one with the spreadsheet; better show the column there as dates, 1864-08-09, and export again")
	return d, true
}

// madeDate reports whether a cell looks like a date that a spreadsheet made of two numbers, "3-1" or "1/3": "3-Jan", "Mar-01".
func madeDate(s string) bool {
	first, second, ok := strings.Cut(s, "-")
	if !ok || len(s) > 6 {
		return false
	}
	if isMonth(first) {
		first, second = second, first
	}
	if first == "" || len(first) > 2 || !isMonth(second) {
		return false
	}
	_, err := strconv.Atoi(first)
	return err == nil
}

func isMonth(s string) bool {
	const months = "JanFebMarAprMayJunJulAugSepOctNovDec"
	return len(s) == 3 && strings.Index(months, s)%3 == 0
}

// place gives a cell that says where a stone stands, and tells of one that a spreadsheet has spoiled.
func (r *reading) place(t term) string {
	text := r.terms[t]
	if text != "" && madeDate(text) {
		r.tell(t, fmt.Sprintf("%q looks like a date that the spreadsheet made of two numbers, such as 3-1; it was kept as it stands", text),
			"make the column text in the spreadsheet, then type it again")
	}
	return text
}

// shortened reports whether an id is a long number that a spreadsheet shortened: "1.23457E+11".
func shortened(s string) bool {
	digits, power, ok := strings.Cut(s, "E+")
	if !ok {
		return false
	}
	_, err1 := strconv.ParseFloat(digits, 64)
	_, err2 := strconv.Atoi(power)
	return err1 == nil && err2 == nil
}
