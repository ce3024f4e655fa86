package date

import (
	"cmp"
	"fmt"
	"strconv"
	"time"
)

// Words is the date in words: "9 August 1864", "August 1864", "1841", "about 1840", "perhaps 1840", "between 5 March 1841 and 4 March 1842", "in or before 1869"; as it is written
// where nobody can say more, "" where nothing is known.
func (d Date) Words() string {
	doubt := ""
	switch {
	case d.Approximate && d.Uncertain:
		doubt = "perhaps about "
	case d.Approximate:
		doubt = "about "
	case d.Uncertain:
		doubt = "perhaps "
	}
	from, to := d.From, d.To
	switch {
	case d.IsZero():
		return ""
	case from.IsZero() && to.IsZero():
		return cmp.Or(d.Written, d.String())
	case from.IsZero():
		return bound("before", to, endOf(to), doubt)
	case to.IsZero():
		return bound("after", from, startOf(from), doubt)
	}
	whole := max(startOf(from), endOf(to))
	if a, b := period(from, whole), period(to, whole); a != b {
		return doubt + "between " + a + " and " + b
	}
	return doubt + period(from, whole)
}

// span is how long a stretch of the calendar is.
type span int

const (
	aYear span = iota
	aMonth
	aDay
)

// startOf is the longest span that begins with the day, and endOf the longest that ends with it.
func startOf(d Day) span {
	switch {
	case d.Day != 1:
		return aDay
	case d.Month != 1:
		return aMonth
	}
	return aYear
}

func endOf(d Day) span {
	switch next := d.AddDays(1); {
	case next.Day != 1:
		return aDay
	case next.Month != 1:
		return aMonth
	}
	return aYear
}

// period is the day, or the month or year that it lies in, in words.
func period(d Day, whole span) string {
	switch whole {
	case aYear:
		return strconv.Itoa(d.Year)
	case aMonth:
		return fmt.Sprintf("%s %d", time.Month(d.Month), d.Year)
	}
	return fmt.Sprintf("%d %s %d", d.Day, time.Month(d.Month), d.Year)
}

// bound is a date that is open to one side.
func bound(side string, d Day, whole span, doubt string) string {
	at := "in or "
	if whole == aDay {
		at = "on or "
	}
	return at + side + " " + doubt + period(d, whole)
}
