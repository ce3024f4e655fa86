package date

import (
	"testing"
	"time"
)

// Second opinion: package time has the same calendar.
func TestDayAgainstTime(t *testing.T) {
	first := time.Date(1, 1, 1, 0, 0, 0, 0, time.UTC)
	for at, n := first.AddDate(-2, 0, 0), -730; n < 900_000; at, n = at.AddDate(0, 0, 1), n+1 {
		// Year 0 is a leap year: two years before year 1 are 731 days.
		d := Day{at.Year(), int(at.Month()), at.Day()}
		if !d.Valid() {
			t.Fatalf("%v is not valid", d)
		}
		if got := d.Ordinal(); got != n {
			t.Fatalf("ordinal of %v = %d, want %d", d, got, n)
		}
		if got := dayAt(n); got != d {
			t.Fatalf("day %d = %v, want %v", n, got, d)
		}
	}
}

func TestDayOrdinal(t *testing.T) {
	tests := []struct {
		day  Day
		want int
	}{
		{Day{}, 0},
		{Day{1, 1, 1}, 1},
		{Day{2002, 3, 11}, 730920}, // the documentation of Python's datetime, at date.fromordinal
		{Day{2023, 1, 1}, 738521},  // the documentation of pandas, at Timestamp.toordinal
	}
	for _, test := range tests {
		if got := test.day.Ordinal(); got != test.want {
			t.Errorf("ordinal of %v = %d, want %d", test.day, got, test.want)
		}
	}
}

func TestDayArithmetic(t *testing.T) {
	tests := []struct {
		name      string
		got, want Day
	}{
		{"over a leap day", Day{1864, 2, 28}.AddDays(2), Day{1864, 3, 1}},
		{"1900 was no leap year", Day{1900, 2, 28}.AddDays(1), Day{1900, 3, 1}},
		{"2000 was one", Day{2000, 2, 28}.AddDays(1), Day{2000, 2, 29}},
		{"back over new year", Day{1864, 1, 1}.AddDays(-1), Day{1863, 12, 31}},
		{"a zero day stays zero", Day{}.AddDays(7), Day{}},
		{"a month on, clamped", Day{1863, 1, 31}.addMonths(1), Day{1863, 2, 28}},
		{"months back over new year", Day{1864, 1, 15}.addMonths(-2), Day{1863, 11, 15}},
		{"before year 0", Day{0, 1, 15}.addMonths(-1), Day{-1, 12, 15}},
	}
	for _, test := range tests {
		if test.got != test.want {
			t.Errorf("%s: got %v, want %v", test.name, test.got, test.want)
		}
	}
}
