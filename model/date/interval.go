package date

import (
	"encoding/json"
	"fmt"
	"strings"
)

// IsZero reports whether nothing is known.
func (d Date) IsZero() bool { return d.EDTF == "" }

// String is the EDTF form; "" for the zero Date.
func (d Date) String() string { return d.EDTF }

// Year is the date that is known to the year and no closer.
func Year(y int) Date { return Between(Day{y, 1, 1}, Day{y, 12, 31}) }

// On is a single day. It is the zero Date where the calendar has no such day.
func On(y, m, d int) Date {
	day := Day{y, m, d}
	if !day.Valid() {
		return Date{}
	}
	return Between(day, day)
}

// Between is some day from from to to, both included; a zero Day leaves that side open. Two zero Days, and a to before from, give the
// zero Date.
func Between(from, to Day) Date { return between(from, to, false, false) }

func between(from, to Day, approximate, uncertain bool) Date {
	if from.IsZero() && to.IsZero() || !from.IsZero() && !to.IsZero() && to.Before(from) {
		return Date{}
	}
	return Date{EDTF: render(from, to, mark(approximate, uncertain)), From: from, To: to, Approximate: approximate, Uncertain: uncertain}
}

func mark(approximate, uncertain bool) string {
	switch {
	case approximate && uncertain:
		return "%"
	case approximate:
		return "~"
	case uncertain:
		return "?"
	}
	return ""
}

// render writes bounds in EDTF level 1, as shortly as they allow.
func render(from, to Day, marks string) string {
	wholeYears := (from.IsZero() || from.Month == 1 && from.Day == 1) && (to.IsZero() || to.Month == 12 && to.Day == 31)
	wholeMonths := (from.IsZero() || from.Day == 1) && (to.IsZero() || to.lastOfMonth())
	// Level 1 has no month or day in a year of more than four digits.
	long := func(d Day) bool { return d.Year > 9999 || d.Year < -9999 }
	side := func(d Day) string {
		switch {
		case d.IsZero():
			return ".."
		case wholeYears || long(d):
			return yearText(d.Year) + marks
		case wholeMonths:
			return d.String()[:len(d.String())-3] + marks
		}
		return d.String() + marks
	}
	if from.IsZero() || to.IsZero() {
		return side(from) + "/" + side(to)
	}
	a, b := side(from), side(to)
	if a == b {
		return a
	}
	// Unspecified digits, "186X" and "18XX", are one date; with a mark they would be more than level 1 has.
	if wholeYears && marks == "" && from.Year >= 0 && to.Year <= 9999 {
		switch {
		case from.Year%100 == 0 && to.Year == from.Year+99:
			return a[:2] + "XX"
		case from.Year%10 == 0 && to.Year == from.Year+9:
			return a[:3] + "X"
		}
	}
	return a + "/" + b
}

// Year gives the year where it is certain which one it is.
func (d Date) Year() (int, bool) {
	if d.From.IsZero() || d.To.IsZero() || d.From.Year != d.To.Year {
		return 0, false
	}
	return d.From.Year, true
}

// Day gives the day where it is certain which one it is.
func (d Date) Day() (Day, bool) {
	if d.From.IsZero() || d.From != d.To {
		return Day{}, false
	}
	return d.From, true
}

// Overlaps reports whether both can be the same day. A date of which nothing is known overlaps every date.
func (d Date) Overlaps(e Date) bool { return !d.Before(e) && !e.Before(d) }

// Before reports whether d is certainly before e: the last day of d is before the first day of e. An open side is certain of nothing.
func (d Date) Before(e Date) bool {
	return !d.To.IsZero() && !e.From.IsZero() && d.To.Before(e.From)
}

// Union is the shortest interval that holds both. Where nothing is known of either, nothing is known of it.
func (d Date) Union(e Date) Date {
	if d.IsZero() || e.IsZero() {
		return Date{}
	}
	from, to := d.From, d.To
	if e.From.IsZero() || !from.IsZero() && e.From.Before(from) {
		from = e.From
	}
	if e.To.IsZero() || !to.IsZero() && to.Before(e.To) {
		to = e.To
	}
	return between(from, to, d.Approximate || e.Approximate, d.Uncertain || e.Uncertain)
}

// Intersect is what both allow, and false where they have no day in common. Where nothing is known of one, it is the other.
func (d Date) Intersect(e Date) (Date, bool) {
	switch {
	case d.IsZero():
		return e, true
	case e.IsZero():
		return d, true
	case !d.Overlaps(e):
		return Date{}, false
	}
	from, to := d.From, d.To
	if from.IsZero() || !e.From.IsZero() && from.Before(e.From) {
		from = e.From
	}
	if to.IsZero() || !e.To.IsZero() && e.To.Before(to) {
		to = e.To
	}
	if from == d.From && to == d.To && d.Approximate == e.Approximate && d.Uncertain == e.Uncertain {
		return d, true
	}
	return between(from, to, d.Approximate && e.Approximate, d.Uncertain && e.Uncertain), true
}

// Widened moves both sides out by so many years. It keeps the marks and the writing.
func (d Date) Widened(years int) Date { return d.widened(12*max(years, 0), 0) }

// The slack that "about" leaves on either side: to a day, to a month or a season, to a year, to a decade or a longer span.
// A house choice, no source.
const (
	circaDays   = 10
	circaMonths = 3
	circaYears  = 3
	circaDecade = 5
)

// Loose is the interval that a date may be meant to cover: with an approximate one's slack. A date that is not Approximate is left as it is.
func (d Date) Loose() Date {
	if !d.Approximate {
		return d
	}
	span := 366
	if !d.From.IsZero() && !d.To.IsZero() {
		span = d.To.Ordinal() - d.From.Ordinal() + 1
	}
	switch {
	case span < 28:
		return d.widened(0, circaDays)
	case span < 200:
		return d.widened(circaMonths, 0)
	case span <= 5*366:
		return d.widened(12*circaYears, 0)
	}
	return d.widened(12*circaDecade, 0)
}

func (d Date) widened(months, days int) Date {
	if months == 0 && days == 0 || d.IsZero() {
		return d
	}
	from := d.From.addMonths(-months).AddDays(-days)
	to := d.To.addMonths(months).AddDays(days)
	if months > 0 && d.To.lastOfMonth() {
		to.Day = daysIn(to.Year, to.Month)
	}
	w := between(from, to, d.Approximate, d.Uncertain)
	w.Written = d.Written
	return w
}

// MarshalJSON gives the EDTF string.
func (d Date) MarshalJSON() ([]byte, error) { return json.Marshal(d.EDTF) }

// UnmarshalJSON reads an EDTF string. Written stays empty; "" and null give the zero Date.
func (d *Date) UnmarshalJSON(b []byte) error {
	var s string
	if err := json.Unmarshal(b, &s); err != nil {
		return fmt.Errorf("read date %s: %w (want an EDTF string)", b, err)
	}
	*d = Date{}
	if strings.TrimSpace(s) == "" {
		return nil
	}
	read, err := ParseEDTF(s)
	if err != nil {
		return err
	}
	read.Written = ""
	*d = read
	return nil
}
