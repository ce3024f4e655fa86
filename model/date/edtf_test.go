package date

import (
	"encoding/json"
	"strings"
	"testing"
)

// specExamples are the examples of the Extended Date/Time Format (EDTF) Specification, Library of Congress, 4 February 2019
// (loc.gov/standards/datetime), section by section, taken from memory and checked against the lists of examples that
// open-source readers of the format quote from it. The bounds are ours; outside_test.go sets them beside another reader's.
var specExamples = []struct {
	level      int
	section    string
	in         string
	edtf       string // "" where it is the same as in
	from, to   string // "" is an open or unknown side
	about      bool
	uncertain  bool
	notOutside string // why the other reader's bounds are not compared
}{
	{level: 0, section: "Date", in: "1985-04-12", from: "1985-04-12", to: "1985-04-12"},
	{level: 0, section: "Date", in: "1985-04", from: "1985-04-01", to: "1985-04-30"},
	{level: 0, section: "Date", in: "1985", from: "1985-01-01", to: "1985-12-31"},
	{level: 0, section: "Date and Time", in: "1985-04-12T23:20:30", edtf: "1985-04-12", from: "1985-04-12", to: "1985-04-12", notOutside: "takes it as local time"},
	{level: 0, section: "Date and Time", in: "1985-04-12T23:20:30Z", edtf: "1985-04-12", from: "1985-04-12", to: "1985-04-12"},
	{level: 0, section: "Date and Time", in: "1985-04-12T23:20:30-04", edtf: "1985-04-12", from: "1985-04-12", to: "1985-04-12", notOutside: "moves it to UTC"},
	{level: 0, section: "Date and Time", in: "1985-04-12T23:20:30+04:30", edtf: "1985-04-12", from: "1985-04-12", to: "1985-04-12", notOutside: "moves it to UTC"},
	{level: 0, section: "Time Interval", in: "1964/2008", from: "1964-01-01", to: "2008-12-31"},
	{level: 0, section: "Time Interval", in: "2004-06/2006-08", from: "2004-06-01", to: "2006-08-31"},
	{level: 0, section: "Time Interval", in: "2004-02-01/2005-02-08", from: "2004-02-01", to: "2005-02-08"},
	{level: 0, section: "Time Interval", in: "2004-02-01/2005-02", from: "2004-02-01", to: "2005-02-28"},
	{level: 0, section: "Time Interval", in: "2004-02-01/2005", from: "2004-02-01", to: "2005-12-31"},
	{level: 0, section: "Time Interval", in: "2005/2006-02", from: "2005-01-01", to: "2006-02-28"},

	{level: 1, section: "Letter-prefixed calendar year", in: "Y170000002", from: "Y170000002-01-01", to: "Y170000002-12-31", notOutside: "out of its reach"},
	{level: 1, section: "Letter-prefixed calendar year", in: "Y-170000002", from: "Y-170000002-01-01", to: "Y-170000002-12-31", notOutside: "out of its reach"},
	{level: 1, section: "Seasons", in: "2001-21", from: "2001-03-01", to: "2001-06-21", notOutside: "takes seasons as quarters"},
	{level: 1, section: "Qualification of a date", in: "1984?", from: "1984-01-01", to: "1984-12-31", uncertain: true},
	{level: 1, section: "Qualification of a date", in: "2004-06~", from: "2004-06-01", to: "2004-06-30", about: true},
	{level: 1, section: "Qualification of a date", in: "2004-06-11%", from: "2004-06-11", to: "2004-06-11", about: true, uncertain: true},
	{level: 1, section: "Unspecified digits from the right", in: "201X", from: "2010-01-01", to: "2019-12-31"},
	{level: 1, section: "Unspecified digits from the right", in: "20XX", from: "2000-01-01", to: "2099-12-31"},
	{level: 1, section: "Unspecified digits from the right", in: "2004-XX", from: "2004-01-01", to: "2004-12-31"},
	{level: 1, section: "Unspecified digits from the right", in: "1985-04-XX", from: "1985-04-01", to: "1985-04-30"},
	{level: 1, section: "Unspecified digits from the right", in: "1985-XX-XX", from: "1985-01-01", to: "1985-12-31"},
	{level: 1, section: "Extended interval, open end", in: "1985-04-12/..", from: "1985-04-12"},
	{level: 1, section: "Extended interval, open end", in: "1985-04/..", from: "1985-04-01"},
	{level: 1, section: "Extended interval, open end", in: "1985/..", from: "1985-01-01"},
	{level: 1, section: "Extended interval, open start", in: "../1985-04-12", to: "1985-04-12"},
	{level: 1, section: "Extended interval, open start", in: "../1985-04", to: "1985-04-30"},
	{level: 1, section: "Extended interval, open start", in: "../1985", to: "1985-12-31"},
	{level: 1, section: "Extended interval, unknown end", in: "1985-04-12/", from: "1985-04-12"},
	{level: 1, section: "Extended interval, unknown end", in: "1985-04/", from: "1985-04-01"},
	{level: 1, section: "Extended interval, unknown end", in: "1985/", from: "1985-01-01"},
	{level: 1, section: "Extended interval, unknown start", in: "/1985-04-12", to: "1985-04-12"},
	{level: 1, section: "Extended interval, unknown start", in: "/1985-04", to: "1985-04-30"},
	{level: 1, section: "Extended interval, unknown start", in: "/1985", to: "1985-12-31"},
	{level: 1, section: "Extended interval", in: "1984~/2004-06", from: "1984-01-01", to: "2004-06-30", about: true},
	{level: 1, section: "Extended interval", in: "1984/2004-06~", from: "1984-01-01", to: "2004-06-30", about: true},
	{level: 1, section: "Extended interval", in: "1984~/2004~", from: "1984-01-01", to: "2004-12-31", about: true},
	{level: 1, section: "Extended interval", in: "1984?/2004%", from: "1984-01-01", to: "2004-12-31", about: true, uncertain: true},
	{level: 1, section: "Extended interval", in: "1984-06-02?/2004-08-08~", from: "1984-06-02", to: "2004-08-08", about: true, uncertain: true},
	{level: 1, section: "Negative calendar year", in: "-1985", from: "-1985-01-01", to: "-1985-12-31"},

	{level: 2, section: "Exponential year", in: "Y-17E7", edtf: "Y-170000000", from: "Y-170000000-01-01", to: "Y-170000000-12-31", notOutside: "out of its reach"},
	{level: 2, section: "Significant digits", in: "1950S2", edtf: "19XX", from: "1900-01-01", to: "1999-12-31", notOutside: "leaves the significant digits out of the bounds"},
	{level: 2, section: "Significant digits", in: "Y171010000S3", edtf: "Y171000000/Y171999999", from: "Y171000000-01-01", to: "Y171999999-12-31", notOutside: "out of its reach"},
	{level: 2, section: "Significant digits", in: "Y3388E2S3", edtf: "Y338000/Y338999", from: "Y338000-01-01", to: "Y338999-12-31", notOutside: "out of its reach"},
	{level: 2, section: "Sub-year groupings", in: "2001-34", edtf: "2001-04/2001-06", from: "2001-04-01", to: "2001-06-30"},
	{level: 2, section: "Set, one of", in: "[1667,1668,1670..1672]", edtf: "1667/1672", from: "1667-01-01", to: "1672-12-31", notOutside: "takes the first of the last range for the end"},
	{level: 2, section: "Set, one of", in: "[..1760-12-03]", edtf: "../1760-12-03", to: "1760-12-03"},
	{level: 2, section: "Set, one of", in: "[1760-12..]", edtf: "1760-12/..", from: "1760-12-01"},
	{level: 2, section: "Set, one of", in: "[1760-01,1760-02,1760-12..]", edtf: "1760/..", from: "1760-01-01"},
	{level: 2, section: "Set, one of", in: "[1667,1760-12]", edtf: "1667/1760", from: "1667-01-01", to: "1760-12-31"},
	{level: 2, section: "Set, one of", in: "[..1984]", edtf: "../1984", to: "1984-12-31"},
	{level: 2, section: "Set, all of", in: "{1667,1668,1670..1672}", edtf: "1667/1672", from: "1667-01-01", to: "1672-12-31", notOutside: "takes the first of the last range for the end"},
	{level: 2, section: "Set, all of", in: "{1960,1961-12}", edtf: "1960/1961", from: "1960-01-01", to: "1961-12-31"},
	{level: 2, section: "Set, all of", in: "{..1984}", edtf: "../1984", to: "1984-12-31"},
	{level: 2, section: "Qualification, group", in: "2004-06-11%", from: "2004-06-11", to: "2004-06-11", about: true, uncertain: true},
	{level: 2, section: "Qualification, group", in: "2004-06~-11", edtf: "2004-06-11~", from: "2004-06-11", to: "2004-06-11", about: true},
	{level: 2, section: "Qualification, group", in: "2004?-06-11", edtf: "2004-06-11?", from: "2004-06-11", to: "2004-06-11", uncertain: true},
	{level: 2, section: "Qualification, component", in: "?2004-06-~11", edtf: "2004-06-11%", from: "2004-06-11", to: "2004-06-11", about: true, uncertain: true},
	{level: 2, section: "Qualification, component", in: "2004-%06-11", edtf: "2004-06-11%", from: "2004-06-11", to: "2004-06-11", about: true, uncertain: true},
	{level: 2, section: "Unspecified digit", in: "156X-12-25", edtf: "1560-12-25/1569-12-25", from: "1560-12-25", to: "1569-12-25"},
	{level: 2, section: "Unspecified digit", in: "15XX-12-25", edtf: "1500-12-25/1599-12-25", from: "1500-12-25", to: "1599-12-25"},
	{level: 2, section: "Unspecified digit", in: "XXXX-12-XX", edtf: "0000-12/9999-12", from: "0000-12-01", to: "9999-12-31"},
	{level: 2, section: "Unspecified digit", in: "1XXX-XX", edtf: "1000/1999", from: "1000-01-01", to: "1999-12-31"},
	{level: 2, section: "Unspecified digit", in: "1XXX-12", edtf: "1000-12/1999-12", from: "1000-12-01", to: "1999-12-31"},
	{level: 2, section: "Unspecified digit", in: "1984-1X", edtf: "1984-10/1984-12", from: "1984-10-01", to: "1984-12-31"},
	{level: 2, section: "Interval", in: "2004-06-~01/2004-06-~20", edtf: "2004-06-01~/2004-06-20~", from: "2004-06-01", to: "2004-06-20", about: true},
	{level: 2, section: "Interval", in: "2004-06-XX/2004-07-03", edtf: "2004-06/2004-07-03", from: "2004-06-01", to: "2004-07-03"},
}

func TestParseEDTFSpecification(t *testing.T) {
	for _, test := range specExamples {
		d, err := ParseEDTF(test.in)
		if err != nil {
			t.Errorf("level %d, %s: %v", test.level, test.section, err)
			continue
		}
		want := test.edtf
		if want == "" {
			want = test.in
		}
		if d.EDTF != want || d.From.String() != test.from || d.To.String() != test.to || d.Approximate != test.about || d.Uncertain != test.uncertain || d.Written != test.in {
			t.Errorf("level %d, %s: ParseEDTF(%q) = %+v, want %s from %q to %q, about %v, uncertain %v",
				test.level, test.section, test.in, d, want, test.from, test.to, test.about, test.uncertain)
		}
		rereads(t, d)
	}
}

// rereads fails where the written form of a date does not give the date back.
func rereads(t *testing.T, d Date) {
	t.Helper()
	again, err := ParseEDTF(d.String())
	if err != nil {
		t.Errorf("%q, written %q, does not read again: %v", d.Written, d, err)
		return
	}
	again.Written = d.Written
	if again != d {
		t.Errorf("%q, written %q, reads again as %+v, was %+v", d.Written, d, again, d)
	}
}

func TestParseEDTFMore(t *testing.T) {
	tests := []struct{ in, edtf, from, to string }{
		{"0000", "0000", "0000-01-01", "0000-12-31"},
		{" 1864 ", "1864", "1864-01-01", "1864-12-31"},
		{"1864-02-29", "1864-02-29", "1864-02-29", "1864-02-29"},
		{"18XX?", "18XX?", "1800-01-01", "1899-12-31"},
		{"1862-24", "1862-24", "1861-12-01", "1863-03-20"},
		{"186X-22", "1860-06-01/1869-09-23", "1860-06-01", "1869-09-23"},
		{"1862-22~", "1862-22~", "1862-06-01", "1862-09-23"},
		{"1862-41", "1862-07/1862-12", "1862-07-01", "1862-12-31"},
		{"1862-32", "1862-06-01/1862-09-23", "1862-06-01", "1862-09-23"},
		{"186X/1875-0X", "1860/1875-09", "1860-01-01", "1875-09-30"},
		{"1861-21/1863-22?", "1861-03-01/1863-09-23?", "1861-03-01", "1863-09-23"},
		{"200X-02-29", "2000-02-29/2008-02-29", "2000-02-29", "2008-02-29"},
		{"-156X", "-156X", "-1569-01-01", "-1560-12-31"},
		{"../..", "../..", "", ""},
		{"/", "/", "", ""},
		{"[..1984,1985..]", "../..", "", ""},
		{"[1864]", "1864", "1864-01-01", "1864-12-31"},
	}
	for _, test := range tests {
		d, err := ParseEDTF(test.in)
		if err != nil || d.EDTF != test.edtf || d.From.String() != test.from || d.To.String() != test.to {
			t.Errorf("ParseEDTF(%q) = %+v, %v, want %s from %q to %q", test.in, d, err, test.edtf, test.from, test.to)
			continue
		}
		rereads(t, d)
	}
}

func TestParseEDTFErrors(t *testing.T) {
	tests := []struct{ in, want string }{
		{"", "it is empty"},
		{"1863-02-29", "there is no 29 February 1863: it was no leap year"},
		{"1900-02-29", "no leap year"},
		{"1864-04-31", "the month has 30 days"},
		{"1864-13", "month \"13\""},
		{"1864-00", "month \"00\""},
		{"1864-42", "month \"42\""},
		{"1864-XX-32", "no month has a day"},
		{"1864-02-3X", "no month has a day"},
		{"64", "year \"64\": want 4 digits"},
		{"186", "want 4 digits"},
		{"18640809", "want 4 digits"},
		{"1864-8-9", "month \"8\": want 2 digits"},
		{"-0000", "no year -0000"},
		{"Y1864", "more than four digits"},
		{"Y1E99", "beyond"},
		{"Y99999999999999999999", "beyond"},
		{"Y", "want digits"},
		{"1865/1864", "ends (1864) before it begins (1865)"},
		{"1864/1865/1866", "more than one"},
		{"1864-08-09T25:00:00", "time \"25:00:00\""},
		{"1864-08T10:00:00", "needs a whole date"},
		{"[1864", "must end in"},
		{"[1864}", "must end in"},
		{"[1864,,1865]", "empty"},
		{"[1864/1865]", "cannot stand in a set"},
		{"[1864]/1865", "must end in"},
		{"1864-08-09-10", "three parts"},
		{"Aug. 9, 1864", "want 4 digits"},
	}
	for _, test := range tests {
		d, err := ParseEDTF(test.in)
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("ParseEDTF(%q) = %v, %v, want an error with %q", test.in, d, err, test.want)
		}
	}
}

func TestDateJSON(t *testing.T) {
	type row struct {
		Born Date `json:"born"`
	}
	for _, s := range []string{`{"born":"1841~"}`, `{"born":"1862/1863"}`, `{"born":""}`} {
		var r row
		if err := json.Unmarshal([]byte(s), &r); err != nil {
			t.Fatal(err)
		}
		b, err := json.Marshal(r)
		if err != nil || string(b) != s {
			t.Errorf("%s comes back as %s, %v", s, b, err)
		}
	}
	var d Date
	if err := json.Unmarshal([]byte(`"1864-08-09"`), &d); err != nil || d != On(1864, 8, 9) {
		t.Errorf("got %+v, %v", d, err)
	}
	if err := json.Unmarshal([]byte(`null`), &d); err != nil || !d.IsZero() {
		t.Errorf("null gives %+v, %v", d, err)
	}
	if err := json.Unmarshal([]byte(`"1863-02-29"`), &d); err == nil {
		t.Error("an impossible day was read")
	}
	if err := json.Unmarshal([]byte(`1864`), &d); err == nil {
		t.Error("a number was read")
	}
}

func FuzzParseEDTF(f *testing.F) {
	for _, e := range specExamples {
		f.Add(e.in)
	}
	f.Fuzz(func(t *testing.T, s string) {
		d, err := ParseEDTF(s)
		if err != nil {
			return
		}
		if d.IsZero() {
			t.Fatalf("%q gives nothing and no error", s)
		}
		rereads(t, d)
	})
}
