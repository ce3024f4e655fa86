package date

import (
	"encoding/csv"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Wording as printed on stones and rosters; common practice, no source.
func TestParse(t *testing.T) {
	tests := []struct{ in, want string }{
		// Day, month, year, in any order.
		{"Aug. 9, 1864", "1864-08-09"},
		{"AUG 9 1864", "1864-08-09"},
		{"August 9th, 1864.", "1864-08-09"},
		{"9 Aug 1864", "1864-08-09"},
		{"9th of August, 1864", "1864-08-09"},
		{"the 9th day of August, A.D. 1864", "1864-08-09"},
		{"1864, Aug. 9", "1864-08-09"},
		{"Tuesday, Aug. 9, 1864", "1864-08-09"},
		{"died Aug. 9, 1864", "1864-08-09"},
		{"Aug 9/1864", "1864-08-09"},
		{"Mch. 4/1894", "1894-03-04"},
		{"9-Aug-1864", "1864-08-09"},
		{"Aug-9-1864", "1864-08-09"},
		{"9Aug1864", "1864-08-09"},
		{"Feb.  16, 1864", "1864-02-16"},
		{"Aug.  17. 1863", "1863-08-17"},
		{"Feb. 29, 1864", "1864-02-29"},
		// Months as abbreviated then.
		{"Jany 4, 1863", "1863-01-04"},
		{"Jan'y 4, 1863", "1863-01-04"},
		{"Jan\u2019y 4th 1863", "1863-01-04"},
		{"Feby 2d, 1865", "1865-02-02"},
		{"Mch 3d 1862", "1862-03-03"},
		{"Apl. 9 1865", "1865-04-09"},
		{"Augt. 1, 1861", "1861-08-01"},
		{"Sept. 11, 1862", "1862-09-11"},
		{"Septr 11, 1862", "1862-09-11"},
		{"Octr 1, 1862", "1862-10-01"},
		{"Novr 25, 1863", "1863-11-25"},
		{"Decr 3, 1863", "1863-12-03"},
		{"7ber 3, 1779", "1779-09-03"},
		{"10br 25, 1776", "1776-12-25"},
		// Figures.
		{"8/9/1864", "1864-08-09"},
		{"08/09/1864", "1864-08-09"},
		{"8-9-1864", "1864-08-09"},
		{"1864/08/09", "1864-08-09"},
		{"1864.08.09", "1864-08-09"},
		{"1864-8-9", "1864-08-09"},
		{"18640809", "1864-08-09"},
		{"08091864", "1864-08-09"},
		{"23/8/1864", "1864-08-23?"},
		{"23.8.1864", "1864-08-23?"},
		{"8.9.1864", "1864-08-09?/1864-09-08?"},
		{"9.9.1864", "1864-09-09"},
		{"02/1835", "1835-02"},
		{"02-1835", "1835-02"},
		{"1835/02", "1835-02"},
		// Less than a day.
		{"June 1864", "1864-06"},
		{"Aug-1864", "1864-08"},
		{"Dec., 1864", "1864-12"},
		{"1864", "1864"},
		{"in the year 1864", "1864"},
		{"early in 1864", "1864"},
		{"May \u2014, 1864", "1864-05"},
		{"May - 1864", "1864-05"},
		{"Aug. ?, 1864", "1864-08"},
		{"186-", "186X"},
		{"186\u2014", "186X"},
		{"186-?", "1860?/1869?"},
		{"186?", "1860?/1869?"},
		{"18--", "18XX"},
		{"18\u2014\u2014", "18XX"},
		{"1860s", "186X"},
		{"1860's", "186X"},
		{"1800s", "18XX"},
		{"spring 1864", "1864-21"},
		{"the fall of 1864", "1864-23"},
		{"winter of 1862", "1862-24"},
		{"winter of 1862-63", "1862-12-01/1863-03-20"},
		{"winter of 1862 & 63", "1862-12-01/1863-03-20"},
		// About, perhaps.
		{"abt. 1841", "1841~"},
		{"ab't 1841", "1841~"},
		{"about 1841", "1841~"},
		{"circa 1841", "1841~"},
		{"ca. 1841", "1841~"},
		{"c. 1841", "1841~"},
		{"c1841", "1841~"},
		{"1841 circa", "1841~"},
		{"about Aug. 9, 1864", "1864-08-09~"},
		{"prob. 1840", "1840?"},
		{"1840 (?)", "1840?"},
		{"probably about 1840", "1840%"},
		{"[1864]", "1864"},
		// Alternatives and spans.
		{"1862 or 63", "1862/1863"},
		{"1862 or '63", "1862/1863"},
		{"1899 or 00", "1899/1900"},
		{"1862 or 1863", "1862/1863"},
		{"1862-63", "1862/1863"},
		{"1862\u201363", "1862/1863"},
		{"1862/63", "1862/1863"},
		{"1862-3", "1862/1863"},
		{"1862 - 1863", "1862/1863"},
		{"1862/1863", "1862/1863"},
		{"1821-22", "1821/1822"}, // by EDTF the summer of 1821, which lies in it
		{"1901-02", "1901-02"},   // EDTF goes first
		{"1861 to 1865", "1861/1865"},
		{"from 1861 to 1865", "1861/1865"},
		{"between 1840 and 1845", "1840/1845"},
		{"bet. 1840 & 1845", "1840/1845"},
		{"between Sept. 1 and Oct. 3, 1864", "1864-09-01/1864-10-03"},
		{"abt 1862 or 63", "1862~/1863~"},
		{"Aug. 9 or 10, 1864", "1864-08-09/1864-08-10"},
		{"9 or 10 Aug. 1864", "1864-08-09/1864-08-10"},
		{"Sept. 10-12, 1863", "1863-09-10/1863-09-12"},
		{"March-April 1864", "1864-03/1864-04"},
		{"Aug. 1862 - Sept. 1863", "1862-08/1863-09"},
		{"Sept. 1864 or 65", "1864-09/1865-09"},
		// Before and after.
		{"before 1870", "../1869"},
		{"bef. 1870", "../1869"},
		{"prior to 1870", "../1869"},
		{"before about 1870", "../1869~"},
		{"before Aug. 9, 1864", "../1864-08-08"},
		{"by 1870", "../1870"},
		{"1870 or before", "../1870"},
		{"on or before Aug. 9, 1864", "../1864-08-09"},
		{"after 1865", "1866/.."},
		{"aft. March 1, 1865", "1865-03-02/.."},
		{"1865 or later", "1865/.."},
		// What spreadsheets and forms make of dates.
		{"1864-08-09T00:00:00", "1864-08-09"},
		{"1864-08-09 00:00:00", "1864-08-09"},
		{"8/9/1864 0:00", "1864-08-09"},
		{"8/9/1864 12:00:00 AM", "1864-08-09"},
		{"1864.0", "1864"},
		{"05/00/1864", "1864-05"},
		{"05/99/1864", "1864-05"},
		{"00/00/1864", "1864"},
		{"xx/xx/1864", "1864"},
		{"--/--/1864", "1864"},
		{"1864-05-00", "1864-05"},
		{"1864-xx-xx", "1864-XX-XX"},
		{"186u", "186X"},
		// Not known.
		{"", ""}, {"  ", ""}, {"unknown", ""}, {"Unk.", ""}, {"n.d.", ""}, {"N/A", ""}, {"?", ""}, {"-", ""}, {"\u2014", ""}, {"not stated", ""},
		{"99/99/9999", ""}, {"99999999", ""}, {"00/00/0000", ""}, {"0000-00-00", ""}, {"9999-12-31", ""}, {"12/31/9999", ""}, {"0", ""}, {"//", ""}, {"xx/xx/xxxx", ""},
	}
	for _, test := range tests {
		d, err := Parse(test.in)
		if err != nil || d.EDTF != test.want || d.Written != test.in {
			t.Errorf("Parse(%q) = %+v, %v, want %q", test.in, d, err, test.want)
			continue
		}
		if !d.IsZero() {
			rereads(t, d)
		}
	}
}

func TestParseErrors(t *testing.T) {
	tests := []struct{ in, want string }{
		{"Feb. 29, 1863", "there is no 29 February 1863: it was no leap year"},
		{"2/29/1863", "there is no 29 February 1863"},
		{"Apr. 31, 1864", "there is no 31 April 1864: the month has 30 days"},
		{"02301864", "there is no 30 February 1864"},
		{"Aug. 32, 1864", "day 32"},
		{"13/13/1864", "month 13"},
		{"8/45/1864", "day 45"},
		{"00/09/1864", "without a month"},
		{"23456", "spreadsheet's day number (23456 would be 1964-03-20)"},
		{"44197.5", "spreadsheet's day number (44197 would be 2021-01-01)"},
		{"1/0/1900", "how spreadsheets print the number 0"},
		{"1900-01-00", "how spreadsheets print the number 0"},
		{"186", "years want four digits"},
		{"Aug. 9, 186", "years want four digits"},
		{"Aug. 9, 18644", "years want four digits"},
		{"080964", "years want four digits"},
		{"Aug. 9, 0864", "out of reach"},
		{"1864 1865", "two years"},
		{"Aug. Sept. 1864", "two months"},
		{"spring Aug. 1864", "a season and a month"},
		{"1862 or", "follows \"or\""},
		{"1862-", "nothing follows the dash"},
		{"1864 or 62", "does not follow 1864"},
		{"1865 to 1861", "before it begins"},
		{"between 1840", "wants two dates"},
		{"1861 or 1862 or 1863", "cannot place \"or\""},
		{"same day", "cannot place \"same\""},
		{"about", "no date in it"},
		{"9th of 1864", "a day (9) without a month"},
		{"1861s", "is no decade"},
		{strings.Repeat("1861 or ", 50), "400 bytes are more than any date takes"},
	}
	for _, test := range tests {
		d, err := Parse(test.in)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("Parse(%q) = %v, %v, want an error with %q", test.in, d, err, test.want)
		}
		if d != (Date{}) {
			t.Errorf("Parse(%q) gives %+v beside an error", test.in, d)
		}
	}
	for _, s := range []string{"Sept. 1, '62", "8/9/64", "'62", "62", "Aug. 64", "winter of 62", "62 or 63"} {
		if _, err := Parse(s); !errors.Is(err, ErrCentury) {
			t.Errorf("Parse(%q): %v, want ErrCentury", s, err)
		}
	}
	for _, s := range []string{"Aug. 10", "Oct. 18,", "Sept. 30, \u2014\u2014", "8/9", "winter", "August"} {
		if _, err := Parse(s); !errors.Is(err, ErrNoYear) {
			t.Errorf("Parse(%q): %v, want ErrNoYear", s, err)
		}
	}
}

// The day numbers are the examples of DATEVALUE in Office Open XML (Ecma TC45), part 4, "Date Representation", for the 1900 date base system; the last one is out of reach of
// what is taken for a day number.
func TestSpreadsheetDay(t *testing.T) {
	for n, want := range map[int]Day{3687: {1910, 2, 3}, 38749: {2006, 2, 1}, 2958465: {9999, 12, 31}} {
		if got := spreadsheetDay(n); got != want {
			t.Errorf("day number %d is %v, want %v", n, got, want)
		}
	}
}

func TestParseNear(t *testing.T) {
	tests := []struct {
		in   string
		near int
		want string
	}{
		{"Sept. 1, '62", 1863, "1862-09-01"},
		{"Aug. 1, '62.", 1863, "1862-08-01"},
		{"8/9/64", 1863, "1864-08-09"},
		{"'64", 1863, "1864"},
		{"62", 1863, "1862"},
		{"62 or 63", 1863, "1862/1863"},
		{"'63-4", 1863, "1863/1864"},
		{"Aug. 9 64", 1863, "1864-08-09"},
		{"Aug. 9 or 10, '64", 1863, "1864-08-09/1864-08-10"},
		{"winter of '62-63", 1863, "1862-12-01/1863-03-20"},
		{"Nov. 11, '18", 1918, "1918-11-11"},
		{"Nov 11/18", 1918, "1918-11-11"},
		{"Sept. 5/17", 1918, "1917-09-05"},
		{"'62", 1960, "1962"},
		{"'13", 1863, "1813"}, // 50 years either way: the earlier
		{"'14", 1863, "1814"},
		{"'12", 1863, "1912"},
		{"1864", 1963, "1864"},
	}
	for _, test := range tests {
		d, err := ParseNear(test.in, test.near)
		if err != nil || d.EDTF != test.want {
			t.Errorf("ParseNear(%q, %d) = %+v, %v, want %s", test.in, test.near, d, err, test.want)
		}
	}
}

// Every date of the open rosters and burial lists reads, but for those that lack their year.
func TestParseRosters(t *testing.T) {
	data := filepath.Join("..", "..", "..", "shared", "data")
	tests := []struct {
		file, column string
		near         int
		least        int // dates that must have been read
		most         int // failures other than a missing year: a heading run into the column, a cut-off year
	}{
		{"rosters/oh124_roster.csv", "date_entering", 0, 1300, 0},
		{"rosters/oh124_roll_of_honor_burials.csv", "died", 0, 180, 0},
		{"rosters/six_regiments.csv", "enlisted", 1863, 3500, 12},
		{"va_burials/va_burials_to_ww1.csv", "birth", 0, 1500, 0},
		{"va_burials/va_burials_to_ww1.csv", "death", 0, 4800, 1},
	}
	for _, test := range tests {
		f, err := os.Open(filepath.Join(data, test.file))
		if err != nil {
			t.Skipf("no open data beside the project: %v", err)
		}
		rows, err := csv.NewReader(f).ReadAll()
		f.Close()
		if err != nil {
			t.Fatal(err)
		}
		at := -1
		for i, name := range rows[0] {
			if name == test.column {
				at = i
			}
		}
		if at < 0 {
			t.Fatalf("%s has no column %q", test.file, test.column)
		}
		read, failed, noYear := 0, 0, 0
		for _, row := range rows[1:] {
			d, err := ParseNear(row[at], test.near)
			switch {
			case errors.Is(err, ErrNoYear):
				noYear++
			case err != nil:
				failed++
				if failed <= 5 {
					t.Logf("%s: %v", test.file, err)
				}
			case !d.IsZero():
				read++
			}
		}
		if read < test.least || failed > test.most {
			t.Errorf("%s, %s: read %d (want %d), failed %d (at most %d)", test.file, test.column, read, test.least, failed, test.most)
		}
		t.Logf("%s, %s: %d read, %d without a year, %d failed", test.file, test.column, read, noYear, failed)
	}
}

func FuzzParse(f *testing.F) {
	for _, s := range []string{"Aug. 9 or 10, 1864", "abt. 1841", "winter of 1862-63", "186-?", "'62", "9-Aug-1864", "99/99/9999", "7ber 3", "1860's", "8.9.1864", "44197.5", "before about 1870"} {
		f.Add(s, 1863)
	}
	f.Fuzz(func(t *testing.T, s string, near int) {
		near = 1700 + (near%300+300)%300
		for _, n := range []int{0, near} {
			d, err := ParseNear(s, n)
			if err != nil || d.IsZero() {
				continue
			}
			rereads(t, d)
			if !d.From.IsZero() && !d.From.Valid() || !d.To.IsZero() && !d.To.Valid() || !d.From.IsZero() && !d.To.IsZero() && d.To.Before(d.From) {
				t.Fatalf("%q gives bounds %v to %v", s, d.From, d.To)
			}
		}
	})
}

func BenchmarkParse(b *testing.B) {
	for _, s := range []string{"1864-08-09", "Sept. 11, 1862", "8/9/1864", "abt. 1841", "186-"} {
		b.Run(s, func(b *testing.B) {
			for b.Loop() {
				if _, err := Parse(s); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
