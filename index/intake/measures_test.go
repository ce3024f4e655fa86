package intake

import (
	"math"
	"testing"
)

func TestParseInches(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64 // 0: not a length
	}{
		{"12", 12}, {"12.5", 12.5}, {"12.", 12}, {".5", 0.5}, {"12 1/2", 12.5}, {"12-1/2", 12.5}, {"12½", 12.5}, {"½", 0.5}, {"3/4", 0.75}, {"3 ⁄ 4", 0},
		{`12"`, 12}, {"12”", 12}, {"12''", 12}, {"12 in", 12}, {"12in.", 12}, {"12 inches", 12}, {"12 1/2 in.", 12.5}, {"8 1/2\"", 8.5},
		{"1 ft", 12}, {"1'", 12}, {"2 ft 1 in", 25}, {"2' 1\"", 25}, {"2'1½\"", 25.5}, {"1.5 feet", 18},
		{"2.54 cm", 1}, {"30.48cm", 12}, {"254 mm", 10}, {"30 centimetres", 11.811},
		{"", 0}, {"a foot", 0}, {"12-13", 0}, {"12 x 4", 0}, {"-3", 0}, {"0", 0}, {"NaN", 0}, {"Inf", 0}, {"1e3", 0}, {"12 3/2", 0}, {"12 1/0", 0}, {"12,5", 12.5}, {"1,250", 0}, {"12,", 0}, {"?", 0}, {"12 m", 0},
	} {
		got, ok := parseInches(tt.text)
		if ok != (tt.want != 0) || ok && math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("parseInches(%q) = %v, %v, want %v", tt.text, got, ok, tt.want)
		}
	}
}

func TestParseDegrees(t *testing.T) {
	for _, tt := range []struct {
		text, letters string
		most          float64
		want          float64
		ok            bool
	}{
		{"40.8051", "ns", 90, 40.8051, true}, {"-79.9764", "ew", 180, -79.9764, true}, {"0", "ns", 90, 0, true},
		{"40.8 N", "ns", 90, 40.8, true}, {"N40.8", "ns", 90, 40.8, true}, {"40.8° S", "ns", 90, -40.8, true}, {"79.9764W", "ew", 180, -79.9764, true},
		{`40° 26' 46" N`, "ns", 90, 40.44611111, true}, {`79°58′56″W`, "ew", 180, -79.98222222, true}, {"40° 30'", "ns", 90, 40.5, true},
		{"91", "ns", 90, 0, false}, {"-180.1", "ew", 180, 0, false}, {"40.8 E", "ns", 90, 0, false}, {"-40.8 S", "ns", 90, 0, false}, {"40° 61' N", "ns", 90, 0, false},
		{"NaN", "ns", 90, 0, false}, {"Inf", "ns", 90, 0, false}, {"north", "ns", 90, 0, false}, {"", "ns", 90, 0, false},
	} {
		got, ok := parseDegrees(tt.text, tt.most, tt.letters)
		if ok != tt.ok || ok && math.Abs(got-tt.want) > 1e-6 {
			t.Errorf("parseDegrees(%q) = %v, %v, want %v, %v", tt.text, got, ok, tt.want, tt.ok)
		}
	}
}

func TestInscriptionLines(t *testing.T) {
	for _, tt := range []struct{ text, want string }{
		{"JOHN SMITH / CO. F.", "JOHN SMITH\nCO. F."},
		{"JOHN SMITH\r\nCO. F.\r\n", "JOHN SMITH\nCO. F."},
		{" A  /  B ", "A\nB"},
		{"A / / B", "A\nB"},
		{"A /", "A"},
		{"AGED 17 6/12", "AGED 17 6/12"},
		{"CO. A/B", "CO. A/B"},
		{"", ""},
	} {
		if got := Inscription(tt.text); got != tt.want {
			t.Errorf("Inscription(%q) = %q, want %q", tt.text, got, tt.want)
		}
	}
}

func TestTemplate(t *testing.T) {
	header := []string{"m", "d", "y"}
	for _, tt := range []struct {
		text   string
		values []string
		want   string
	}{
		{"{m}/{d}/{y}", []string{"8", "9", "1864"}, "8/9/1864"},
		{"{m}/{d}/{y}", []string{"8", "", "1864"}, "8/1864"},
		{"{m}/{d}/{y}", []string{"", "", "1864"}, "1864"},
		{"{m}/{d}/{y}", []string{"8", "9", ""}, "8/9"},
		{"{m}/{d}/{y}", []string{"", "", ""}, ""},
		{"Co. {m}, {d}", []string{"A", "5", ""}, "Co. A, 5"},
		{"Co. {m}", []string{"", "", ""}, ""},
		{"#grave-{d}", []string{"", "7", ""}, "#grave-7"},
		{"{m} (of {d})", []string{"A", "B", ""}, "A (of B)"},
		{"row-{_row} of {_sourceRow}", []string{"", "", ""}, "row-4 of 5"},
		{"always", []string{"", "", ""}, "always"},
	} {
		b := &binder{table: &Table{}, note: nil}
		if got := b.template("", tt.text, header).fill(tt.values, 5, 2); got != tt.want {
			t.Errorf("%q with %q = %q, want %q", tt.text, tt.values, got, tt.want)
		}
	}
}
