package date

import "testing"

func must(t *testing.T, s string) Date {
	t.Helper()
	if s == "" {
		return Date{}
	}
	d, err := ParseEDTF(s)
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func TestMake(t *testing.T) {
	tests := []struct {
		got  Date
		want string
	}{
		{Year(1864), "1864"},
		{On(1864, 8, 9), "1864-08-09"},
		{On(1863, 2, 29), ""},
		{Between(Day{1862, 1, 1}, Day{1863, 12, 31}), "1862/1863"},
		{Between(Day{1862, 3, 1}, Day{1862, 3, 31}), "1862-03"},
		{Between(Day{1862, 3, 1}, Day{1862, 4, 30}), "1862-03/1862-04"},
		{Between(Day{1862, 3, 1}, Day{1862, 4, 29}), "1862-03-01/1862-04-29"},
		{Between(Day{1860, 1, 1}, Day{1869, 12, 31}), "186X"},
		{Between(Day{1800, 1, 1}, Day{1899, 12, 31}), "18XX"},
		{Between(Day{1865, 1, 1}, Day{1874, 12, 31}), "1865/1874"},
		{Between(Day{}, Day{1869, 12, 31}), "../1869"},
		{Between(Day{1866, 1, 1}, Day{}), "1866/.."},
		{Between(Day{}, Day{}), ""},
		{Between(Day{1866, 1, 1}, Day{1865, 1, 1}), ""},
	}
	for _, test := range tests {
		if test.got.EDTF != test.want {
			t.Errorf("got %q, want %q", test.got.EDTF, test.want)
		}
		if !test.got.IsZero() {
			rereads(t, test.got)
		}
	}
}

func TestYearAndDay(t *testing.T) {
	for _, test := range []struct {
		in   string
		year int
		sure bool
		day  string
	}{
		{"1864-08-09", 1864, true, "1864-08-09"},
		{"1864-08", 1864, true, ""},
		{"1864~", 1864, true, ""},
		{"1862/1863", 0, false, ""},
		{"../1863", 0, false, ""},
		{"1863/..", 0, false, ""},
		{"", 0, false, ""},
	} {
		d := must(t, test.in)
		if y, ok := d.Year(); y != test.year || ok != test.sure {
			t.Errorf("year of %s = %d, %v", test.in, y, ok)
		}
		if day, ok := d.Day(); day.String() != test.day || ok != (test.day != "") {
			t.Errorf("day of %s = %v, %v", test.in, day, ok)
		}
	}
}

func TestRelations(t *testing.T) {
	tests := []struct {
		a, b     string
		overlaps bool
		before   bool // a certainly before b
		union    string
		meet     string // "-" for nothing in common
	}{
		{"1862", "1863", false, true, "1862/1863", "-"},
		{"1862/1864", "1863/1866", true, false, "1862/1866", "1863/1864"},
		{"1862", "1862-08-09", true, false, "1862", "1862-08-09"},
		{"../1865", "1864/..", true, false, "", "1864/1865"},
		{"../1863", "1864/..", false, true, "", "-"},
		{"../1863", "../1870", true, false, "../1870", "../1863"},
		{"1864/..", "1870/..", true, false, "1864/..", "1870/.."},
		{"1862-08-09", "1862-08-09", true, false, "1862-08-09", "1862-08-09"},
		{"1841~", "1841", true, false, "1841~", "1841"},
		{"1841~", "1842?", false, true, "1841%/1842%", "-"},
		{"", "1842", true, false, "", "1842"},
		{"1842", "", true, false, "", "1842"},
		{"", "", true, false, "", ""},
	}
	for _, test := range tests {
		a, b := must(t, test.a), must(t, test.b)
		if got := a.Overlaps(b); got != test.overlaps || b.Overlaps(a) != got {
			t.Errorf("%s overlaps %s: %v", test.a, test.b, got)
		}
		if got := a.Before(b); got != test.before {
			t.Errorf("%s before %s: %v", test.a, test.b, got)
		}
		if b.Before(a) {
			t.Errorf("%s before %s", test.b, test.a)
		}
		for _, u := range []Date{a.Union(b), b.Union(a)} {
			if u.EDTF != test.union {
				t.Errorf("union of %s and %s is %q, want %q", test.a, test.b, u, test.union)
			}
		}
		for _, pair := range [][2]Date{{a, b}, {b, a}} {
			m, ok := pair[0].Intersect(pair[1])
			if ok != (test.meet != "-") || ok && m.EDTF != test.meet {
				t.Errorf("%s and %s have %q in common (%v), want %q", pair[0], pair[1], m, ok, test.meet)
			}
		}
	}
}

func TestWidened(t *testing.T) {
	for _, test := range []struct {
		in    string
		years int
		want  string
	}{
		{"1841", 2, "1839/1843"},
		{"1841~", 1, "1840~/1842~"},
		{"1864-02-29", 1, "1863-02-28/1865-02-28"},
		{"1863-02", 1, "1862-02/1864-02"},
		{"../1841", 3, "../1844"},
		{"1841", 0, "1841"},
		{"1841", -3, "1841"},
		{"", 5, ""},
	} {
		if got := must(t, test.in).Widened(test.years); got.EDTF != test.want {
			t.Errorf("%s widened by %d is %q, want %q", test.in, test.years, got, test.want)
		}
	}
}

func TestLoose(t *testing.T) {
	for in, want := range map[string]string{
		"1841":        "1841",
		"1841?":       "1841?",
		"1841~":       "1838~/1844~",
		"1864-08-09~": "1864-07-30~/1864-08-19~",
		"1864-08~":    "1864-05~/1864-11~",
		"1840~/1841~": "1837~/1844~",
		"186X~":       "1855~/1874~",
		"../1841~":    "../1844~",
	} {
		if got := must(t, in).Loose(); got.EDTF != want {
			t.Errorf("%s loosely is %q, want %q", in, got, want)
		}
	}
}
