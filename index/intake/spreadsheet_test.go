package intake

import "testing"

func TestSerialDate(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		// The count begins so that day 61 is 1 March 1900 (ECMA-376, part 1, on serial date-times; from memory), which puts day 0 on 30 December 1899.
		{"45066", "2023-05-20?"},
		{"45066.75", "2023-05-20?"},
		{"10000", "1927-05-18?"},
		{"-13652", "1862-08-14?"},
		{"9999", ""}, {"1864", ""}, {"60000", ""}, {"-999", ""}, {"+45066", ""}, {"45066,5", ""}, {"", ""}, {"4506x", ""}, {"45066.x", ""},
	} {
		d, ok := serialDate(tt.text)
		if ok != (tt.want != "") || d.EDTF != tt.want {
			t.Errorf("serialDate(%q) = %q, %v, want %q", tt.text, d.EDTF, ok, tt.want)
		}
	}
}

func TestMadeDate(t *testing.T) {
	for text, want := range map[string]bool{
		"3-Jan": true, "12-Dec": true, "Mar-01": true, "Oct-12": true,
		"3-1": false, "A-3": false, "Jan": false, "Mar-": false, "-Mar": false, "123-Jan": false, "3-Jax": false, "3-anF": false, "": false,
	} {
		if got := madeDate(text); got != want {
			t.Errorf("madeDate(%q) = %v", text, got)
		}
	}
}

func TestOneSlip(t *testing.T) {
	for _, tt := range []struct {
		a, b string
		want bool
	}{
		{"cemetery", "cemetary", true}, {"latitude", "lattitude", true}, {"inscription", "incsription", true}, {"surname", "surnam", true}, {"regiment", "regiment", true},
		{"cemetery", "cemetaryy", false}, {"enlisted", "unlisted", true}, {"residence", "presidents", false}, {"ab", "", false}, {"abcd", "badc", false},
	} {
		if got := oneSlip(tt.a, tt.b); got != tt.want || oneSlip(tt.b, tt.a) != got {
			t.Errorf("oneSlip(%q, %q) = %v", tt.a, tt.b, got)
		}
	}
}

func TestObservationWithin(t *testing.T) {
	for _, tt := range []struct{ feature, text, want string }{
		{"material", "polished black granite", "granite"},
		{"material", "marble (white marble, stained)", ""}, // marble, and white marble: two
		{"material", "bronze plaque on granite", ""},
		{"material", "granite?", ""},
		{"material", "looks like marble", ""},
		{"top", "slightly rounded, chipped", "slightly rounded"},
		{"top", "not rounded", ""},
		{"device", "none seen", ""},
	} {
		if got := observationWithin(tt.feature, tt.text); got != tt.want {
			t.Errorf("observationWithin(%q, %q) = %q, want %q", tt.feature, tt.text, got, tt.want)
		}
	}
}
