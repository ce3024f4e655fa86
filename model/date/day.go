package date

import (
	"cmp"
	"fmt"
)

// IsZero reports whether the day is not known.
func (d Day) IsZero() bool { return d == Day{} }

// Valid reports whether the calendar has the day.
func (d Day) Valid() bool {
	return d.Month >= 1 && d.Month <= 12 && d.Day >= 1 && d.Day <= daysIn(d.Year, d.Month)
}

// Compare is negative where d is before e, 0 where they are the same, positive where d is after e.
func (d Day) Compare(e Day) int {
	return cmp.Or(cmp.Compare(d.Year, e.Year), cmp.Compare(d.Month, e.Month), cmp.Compare(d.Day, e.Day))
}

// Before reports whether d is before e.
func (d Day) Before(e Day) bool { return d.Compare(e) < 0 }

// Ordinal numbers the days: 1 January of year 1 is 1, and every next day one more. That of the zero Day is 0.
func (d Day) Ordinal() int {
	if d.IsZero() {
		return 0
	}
	// Years are counted from 1 March, so that the leap day comes last.
	y, m := d.Year, d.Month-3
	if m < 0 {
		y, m = y-1, m+12
	}
	return 365*y + floorDiv(y, 4) - floorDiv(y, 100) + floorDiv(y, 400) + (153*m+2)/5 + d.Day - 306
}

// dayAt is the day of an ordinal.
func dayAt(n int) Day {
	n += 305 // days since 1 March of year 0
	era := floorDiv(n, 146097)
	doe := n - era*146097
	yoe := (doe - doe/1460 + doe/36524 - doe/146096) / 365
	doy := doe - (365*yoe + yoe/4 - yoe/100)
	m := (5*doy + 2) / 153
	d := Day{Year: yoe + era*400, Month: m + 3, Day: doy - (153*m+2)/5 + 1}
	if d.Month > 12 {
		d.Year, d.Month = d.Year+1, d.Month-12
	}
	return d
}

// AddDays is the day n days later, or earlier for a negative n. A zero Day stays zero.
func (d Day) AddDays(n int) Day {
	if d.IsZero() {
		return d
	}
	if to := d.Day + n; 0 < to && to <= 28 { // every month has that day
		d.Day = to
		return d
	}
	return dayAt(d.Ordinal() + n)
}

// addMonths is the same day n months later; where that month is too short, its last day.
func (d Day) addMonths(n int) Day {
	if d.IsZero() {
		return d
	}
	months := d.Year*12 + d.Month - 1 + n
	y := floorDiv(months, 12)
	m := months - 12*y + 1
	return Day{y, m, min(d.Day, daysIn(y, m))}
}

func (d Day) lastOfMonth() bool { return d.Day == daysIn(d.Year, d.Month) }

// String is the day in ISO 8601 form, "1864-08-09"; "" for the zero Day.
func (d Day) String() string {
	if d.IsZero() {
		return ""
	}
	return fmt.Sprintf("%s-%02d-%02d", yearText(d.Year), d.Month, d.Day)
}

func leap(y int) bool { return y%4 == 0 && (y%100 != 0 || y%400 == 0) }

func daysIn(y, m int) int {
	switch m {
	case 4, 6, 9, 11:
		return 30
	case 2:
		if leap(y) {
			return 29
		}
		return 28
	}
	return 31
}

func floorDiv(a, b int) int {
	q := a / b
	if a%b != 0 && (a < 0) != (b < 0) {
		q--
	}
	return q
}

// yearText writes a year as EDTF wants it: four digits, or "Y" and more.
func yearText(y int) string {
	switch {
	case y > 9999 || y < -9999:
		return fmt.Sprintf("Y%d", y)
	case y < 0:
		return fmt.Sprintf("-%04d", -y)
	}
	return fmt.Sprintf("%04d", y)
}
