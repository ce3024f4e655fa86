package date

import (
	"encoding/json"
	"math/rand/v2"
	"strings"
	"testing"
)

// Wording as carved and as written on rosters; common practice, no source.
func TestParseAge(t *testing.T) {
	tests := []struct{ in, want string }{
		{"AE. 67 Yrs.", "67 y"},
		{"\u00c6. 67", "67 y"},
		{"\u00c6t. 67 y'rs", "67 y"},
		{"AET 67", "67 y"},
		{"AGED 23", "23 y"},
		{"aged 23 years", "23 y"},
		{"at the age of 23", "23 y"},
		{"23 years old", "23 y"},
		{"23 years of age", "23 y"},
		{"19", "19 y"},
		{"22 Ys. 3 Ms. 4 Ds.", "22 y 3 m 4 d"},
		{"22 Y'rs. 3 Mo's & 4 D's", "22 y 3 m 4 d"},
		{"22y3m4d", "22 y 3 m 4 d"},
		{"22y 3m 4d", "22 y 3 m 4 d"},
		{"22-3-4", "22 y 3 m 4 d"},
		{"22 yrs. 3 mos.", "22 y 3 m"},
		{"22 yrs. 0 mos.", "22 y 0 m"},
		{"22 yrs. 4 ds.", "22 y 4 d"},
		{"1 year, 1 month and 1 day", "1 y 1 m 1 d"},
		{"17 6/12", "17 y 6 m"},
		{"6/12", "6 m"},
		{"5/30", "5 d"},
		{"17\u00bd", "about 17 y 6 m"},
		{"17 1/2 yrs", "about 17 y 6 m"},
		{"18 months", "1 y 6 m"},
		{"5 ds.", "5 d"},
		{"4d", "4 d"},
		{"3 weeks", "about 21 d"},
		{"2 hours", "0 d"},
		{"stillborn", "0 d"},
		{"infant", "about 0 y"},
		{"in the 67th year of his age", "66 y"},
		{"in her 22d year", "21 y"},
		{"twenty-three years", "23 y"},
		{"Sixty seven yrs, two mos.", "67 y 2 m"},
		{"fourteen", "14 y"},
		{"about 40", "about 40 y"},
		{"abt 40 yrs", "about 40 y"},
		{"40?", "about 40 y"},
		{"21 or 22", "about 21 y"},
		{"21-22", "about 21 y"},
		{"0", "0 y"},
		{"", ""}, {"unknown", ""}, {"?", ""}, {"--", ""}, {"99/99", ""}, {"999", ""}, {"000", ""},
	}
	for _, test := range tests {
		a, err := ParseAge(test.in)
		if err != nil || a.String() != test.want || a.Known != (test.want != "") || a.Written != test.in {
			t.Errorf("ParseAge(%q) = %q (%+v), %v, want %q", test.in, a, a, err, test.want)
		}
		if a.Known {
			again, err := ParseAge(a.String())
			again.Written = a.Written
			if err != nil || again != a {
				t.Errorf("%q, written %q, reads again as %+v, %v", test.in, a, again, err)
			}
		}
	}
	for _, test := range []struct{ in, want string }{
		{"foo", "cannot place \"foo\""},
		{"140", "more than anyone has lived"},
		{"1840", "more than anyone has lived"},
		{"22 yrs 13 mos", "at most 11"},
		{"22 yrs 45 days", "at most 31"},
		{"22 3", "3 of what?"},
		{"22 y 23 y", "years twice"},
		{"5/7", "no part of a year"},
		{"aged", "no number"},
		{"67th Ohio", "wants \"year\""},
		{"in the 0th year", "cannot take 0 for the year of a life"},
		{"12345678901", "is no age"},
	} {
		a, err := ParseAge(test.in)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("ParseAge(%q) = %+v, %v, want an error with %q", test.in, a, err, test.want)
		}
		if a.Known || a.Written != test.in {
			t.Errorf("ParseAge(%q) gives %+v beside an error", test.in, a)
		}
	}
}

func TestAgeJSON(t *testing.T) {
	for _, s := range []string{`"22 y 3 m 4 d"`, `"67 y"`, `"about 40 y"`, `""`} {
		var a Age
		if err := json.Unmarshal([]byte(s), &a); err != nil {
			t.Fatal(err)
		}
		if b, err := json.Marshal(a); err != nil || string(b) != s {
			t.Errorf("%s comes back as %s, %v", s, b, err)
		}
	}
	var a Age
	if err := json.Unmarshal([]byte(`67`), &a); err == nil {
		t.Error("a number was read")
	}
	if err := json.Unmarshal([]byte(`"foo"`), &a); err == nil {
		t.Error("foo was read")
	}
}

// Worked by hand on the calendar.
func TestBirthFrom(t *testing.T) {
	tests := []struct {
		died, age, from, to string
		why                 string
	}{
		{"1864-08-09", "67", "1796-08-10", "1797-08-09", "67 on the last day at least, 68 the day after at most"},
		{"1864", "23", "1840-01-02", "1841-12-31", "from the first day of the year to the last"},
		{"1864-08", "23 y 4 m", "1841-03-02", "1841-04-30", "a month, from either end of August"},
		{"1864-08-09", "23 y 4 m", "1841-03-10", "1841-04-09", ""},
		{"1864-03-15", "23 y 4 m", "1840-10-16", "1840-11-15", "over new year"},
		{"1864-02-29", "20", "1843-03-01", "1844-02-29", "on a leap day"},
		{"1863-02-28", "19", "1843-03-01", "1844-02-29", "born on a leap day, 19 on 28 February"},
		{"1863-02-28", "18", "1844-02-29", "1845-02-28", "born on a leap day, not 19 before 1 March"},
		{"1864-08-09", "22 y 3 m 4 d", "1842-05-04", "1842-05-06", "9 August less 22 y 3 m 4 d is 5 May 1842, a day of slack"},
		{"1864-03-02", "22 y 3 m 4 d", "1841-11-26", "1841-11-29", "days first 27 November, months first 28 November, by months of 30 days 28 November"},
		{"1864-08-09", "5 d", "1864-08-03", "1864-08-05", ""},
		{"1864-08-09", "0 d", "1864-08-08", "1864-08-10", ""},
		{"../1864-08-09", "67", "", "1797-08-09", "an open side stays open"},
		{"1864/..", "67", "1796-01-02", "", ""},
		{"1864-08-09", "", "", "", "no age"},
	}
	for _, test := range tests {
		died, err := ParseEDTF(test.died)
		if err != nil {
			t.Fatal(err)
		}
		age, err := ParseAge(test.age)
		if err != nil {
			t.Fatal(err)
		}
		got := BirthFrom(died, age)
		if got.From.String() != test.from || got.To.String() != test.to {
			t.Errorf("BirthFrom(%s, %s) = %s to %s, want %s to %s (%s)", test.died, age, got.From, got.To, test.from, test.to, test.why)
		}
		if !got.IsZero() {
			rereads(t, got)
		}
	}
	about := BirthFrom(On(1864, 8, 9), Age{Years: 40, Known: true, Approximate: true})
	if !about.Approximate || about.EDTF != "1823-08-10~/1824-08-09~" {
		t.Errorf("about 40 gives %+v", about)
	}
	if !BirthFrom(Date{}, Age{Years: 40, Known: true}).IsZero() {
		t.Error("an age on no day gives a birth")
	}
}

// agesOf counts the age at death as it may have been counted: forward from the birth with the month's end held or run over, back from
// the death, and as a subtraction on paper with months of 30 days.
func agesOf(born, died Day) []Age {
	var ages []Age
	add := func(y, m, d int) {
		ages = append(ages, Age{Years: y, Months: m, Days: d, HasMonths: true, HasDays: true, Known: true})
	}
	forward := func(step func(k int) Day) {
		k := 0
		for step(k+1).Compare(died) <= 0 {
			k++
		}
		add(k/12, k%12, died.Ordinal()-step(k).Ordinal())
	}
	forward(func(k int) Day { return born.addMonths(k) })
	forward(func(k int) Day { // the 31st of a short month is the 1st of the next
		first := Day{born.Year, born.Month, 1}.addMonths(k)
		if born.Day > daysIn(first.Year, first.Month) {
			return first.addMonths(1)
		}
		return Day{first.Year, first.Month, born.Day}
	})
	k := 0
	for died.addMonths(-k-1).Compare(born) >= 0 {
		k++
	}
	add(k/12, k%12, died.addMonths(-k).Ordinal()-born.Ordinal())
	y, m, d := died.Year-born.Year, died.Month-born.Month, died.Day-born.Day
	if d < 0 {
		d, m = d+30, m-1
	}
	if m < 0 {
		m, y = m+12, y-1
	}
	if y >= 0 && d >= 0 {
		add(y, m, d)
	}
	return ages
}

// Whatever the birth and the death, the age as written gives an interval that holds the birth.
func TestBirthFromHoldsTheBirth(t *testing.T) {
	r := rand.New(rand.NewPCG(1861, 1865))
	longest := 0
	for range 15_000 {
		born := Day{1780, 1, 1}.AddDays(r.IntN(60_000))
		died := born.AddDays(r.IntN(36_000))
		on := On(died.Year, died.Month, died.Day)
		for i, age := range agesOf(born, died) {
			for _, written := range []Age{
				age,
				{Years: age.Years, Months: age.Months, HasMonths: true, Known: true},
				{Years: age.Years, Known: true},
			} {
				if i == 3 && !written.HasDays {
					continue // a subtraction on paper may be a month off at the end of February
				}
				got := BirthFrom(on, written)
				if born.Before(got.From) || got.To.Before(born) {
					t.Fatalf("born %v, died %v, written %v (way %d): %s does not hold the birth", born, died, written, i, got)
				}
				days := got.To.Ordinal() - got.From.Ordinal() + 1
				if written.HasDays {
					longest = max(longest, days)
				}
				if most := 366 + 1; days > most || written.HasMonths && days > 31+3 || written.HasDays && days > 3+2*slackDays+3 {
					t.Fatalf("born %v, died %v, written %v: %s is %d days long", born, died, written, got, days)
				}
			}
		}
	}
	t.Logf("the longest interval for an age to the day: %d days", longest)
}

func FuzzParseAge(f *testing.F) {
	for _, s := range []string{"AE. 67 Yrs.", "22 Ys. 3 Ms. 4 Ds.", "17 6/12", "22-3-4", "in the 67th year of his age", "twenty-three", "21 or 22", "4d", "\u00bd"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		a, err := ParseAge(s)
		if err != nil || a.IsZero() {
			return
		}
		if a.Years < 0 || a.Years > maxAge || a.Months < 0 || a.Months > 11 || a.Days < 0 {
			t.Fatalf("%q gives %+v", s, a)
		}
		if a.Days <= 31 { // more can only be written alone
			again, err := ParseAge(a.String())
			again.Written = a.Written
			if err != nil || again != a {
				t.Fatalf("%q, written %q, reads again as %+v, %v", s, a, again, err)
			}
		}
		on := On(1864, 8, 9)
		if b := BirthFrom(on, a); b.IsZero() {
			t.Fatalf("%q gives no birth", s)
		}
	})
}

// TestBefore: for an age in whole years the short way comes to the years of the long one, on days, months and years of every kind; where it says no, the long one has them.
func TestBefore(t *testing.T) {
	years := func(d Date) [2]int16 { return [2]int16{int16(d.From.Year), int16(d.To.Year)} }
	for _, text := range []string{"1863-02-13", "1864-02-29", "1863-02", "1863", "1863-12-31", "1863-01-01", "1900", "0612"} {
		on := must(t, text)
		newborn := years(BirthSpan(on, Age{Known: true}))
		for n := range 100 {
			age := Age{Known: true, Years: n}
			if got, ok := age.Before(newborn); !ok || got != years(BirthSpan(on, age)) {
				t.Errorf("%d years on %s: %v %v, want %v", n, text, got, ok, years(BirthSpan(on, age)))
			}
		}
		for _, age := range []Age{{}, {Known: true, Years: 3, Months: 2, HasMonths: true}, {Known: true, Days: 3, HasDays: true}, {Known: true, Years: 600}} {
			if got, ok := age.Before(newborn); ok {
				t.Errorf("%+v on %s: %v, want no", age, text, got)
			}
		}
	}
	if got, ok := (&Age{Known: true, Years: 3}).Before([2]int16{-1, -1}); ok {
		t.Errorf("of a birth that is not known: %v", got)
	}
}
