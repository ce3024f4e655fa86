package intake

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"sync"

	"musterstone/model"
)

// maxInches is more than any grave marker measures; a larger number is taken for a slip.
const maxInches = 600

// inches reads a length in inches.
func (r *reading) inches(t term) model.Inches {
	text := r.terms[t]
	if text == "" {
		return 0
	}
	x, ok := parseInches(text)
	if !ok {
		r.tell(t, fmt.Sprintf("%q is not a number of inches", text), "write 12 or 12.5; a length in centimetres must say cm")
		return 0
	}
	if x > maxInches {
		r.tell(t, fmt.Sprintf("%q is more than any marker measures", text), "look at the number; inches are meant")
		return 0
	}
	return model.Inches(x)
}

const numberForm = `(?:(\d+(?:\.\d*)?|\.\d+)?(?:[ -]*(\d+)/(\d+))?)`

var lengthForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^(?:` + numberForm + `\s*(?:ft|feet|foot|')\.?\s*)?(?:` + numberForm + `\s*(|"|''|in|ins|inch|inches|cm|mm|centimetres?|centimeters?)\.?)?$`)
})

var vulgarFractions = strings.NewReplacer("½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3",
	"″", `"`, "”", `"`, "“", `"`, "′", "'", "’", "'", "\u2044", "/")

// parseInches reads "12", "12.5", "12,5", "12 1/2", "12½", `12"`, "12 in.", "1 ft 2 in", "30 cm". Centimetres and millimetres become inches of
// 2.54 cm. Nothing, nought and less than nought are no length.
func parseInches(text string) (float64, bool) {
	text = pointed(text, 2)
	if x, err := strconv.ParseFloat(text, 64); err == nil && !strings.ContainsAny(text, "eExXpPnNiI_") {
		return x, x > 0
	}
	s := strings.TrimSpace(vulgarFractions.Replace(strings.ToLower(text)))
	m := lengthForm().FindStringSubmatch(s)
	if s == "" || m == nil {
		return 0, false
	}
	feet, ok1 := mixedNumber(m[1], m[2], m[3])
	rest, ok2 := mixedNumber(m[4], m[5], m[6])
	if !ok1 || !ok2 {
		return 0, false
	}
	switch {
	case m[7] == "cm" || strings.HasPrefix(m[7], "centi"):
		rest /= 2.54
	case m[7] == "mm":
		rest /= 25.4
	}
	x := math.Round((feet*12+rest)*1000) / 1000
	return x, x > 0
}

// mixedNumber is a whole or decimal number with a vulgar fraction.
func mixedNumber(whole, over, under string) (float64, bool) {
	x := 0.0
	if whole != "" {
		var err error
		if x, err = strconv.ParseFloat(whole, 64); err != nil {
			return 0, false
		}
	}
	if over != "" {
		a, err1 := strconv.Atoi(over)
		b, err2 := strconv.Atoi(under)
		if err1 != nil || err2 != nil || b == 0 || a >= b {
			return 0, false
		}
		x += float64(a) / float64(b)
	}
	return x, true
}

// position reads latitude and longitude; nil where either is missing or is none.
func (r *reading) position() *model.Position {
	lat, long := r.terms[tLatitude], r.terms[tLongitude]
	if lat == "" && long == "" {
		return nil
	}
	if lat == "" || long == "" {
		t := tLatitude
		if lat == "" {
			t = tLongitude
		}
		r.tell(t, fmt.Sprintf("%q stands alone; a position needs latitude and longitude", r.terms[t]), "give the other, or leave both empty")
		return nil
	}
	a, ok := parseDegrees(lat, 90, "ns")
	if !ok {
		r.tell(tLatitude, fmt.Sprintf("%q is not a latitude", lat), "write degrees with a decimal point, from -90 to 90: 40.4397")
	}
	b, ok2 := parseDegrees(long, 180, "ew")
	if !ok2 {
		r.tell(tLongitude, fmt.Sprintf("%q is not a longitude", long), "write degrees with a decimal point, from -180 to 180, west of Greenwich below nought: -79.9764")
	}
	if !ok || !ok2 {
		return nil
	}
	if a == 0 && b == 0 {
		r.tell(tLatitude, "the position 0, 0 lies in the Gulf of Guinea; it was taken as not known", "leave the cells empty where no position was taken")
		return nil
	}
	if a > 24 && a < 50 && b > 66 && b < 125 { // where the 48 states would be if their longitudes had lost the minus: the middle of Asia
		r.tellOnce(tLongitude, fmt.Sprintf("%q lies in Asia, and would lie in the United States with a minus before it; it was kept, and others in this column likewise", long),
			"look whether the minus was lost: west of Greenwich is below nought")
	}
	return &model.Position{Latitude: a, Longitude: b}
}

var degreesForm = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^([nsew])?\s*(-?\d+(?:\.\d+)?)\s*[°d]?\s*(?:(\d+(?:\.\d+)?)\s*['m]\s*(?:(\d+(?:\.\d+)?)\s*["s]?)?)?\s*([nsew])?$`)
})

// parseDegrees reads decimal degrees, or degrees, minutes and seconds, with or without the letter of the hemisphere.
func parseDegrees(text string, most float64, letters string) (float64, bool) {
	text = pointed(text, 12)
	if x, err := strconv.ParseFloat(text, 64); err == nil {
		return x, math.Abs(x) <= most
	}
	s := strings.ToLower(vulgarFractions.Replace(strings.ReplaceAll(text, "''", `"`)))
	m := degreesForm().FindStringSubmatch(strings.TrimSpace(s))
	if m == nil || m[1] != "" && m[5] != "" {
		return 0, false
	}
	var parts [3]float64
	for i, p := range m[2:5] {
		if p == "" {
			continue
		}
		x, err := strconv.ParseFloat(p, 64)
		if err != nil || i > 0 && x >= 60 {
			return 0, false
		}
		parts[i] = x
	}
	x := math.Abs(parts[0]) + parts[1]/60 + parts[2]/3600
	if strings.HasPrefix(m[2], "-") {
		x = -x
	}
	if letter := m[1] + m[5]; letter != "" {
		i := strings.Index(letters, letter)
		if i < 0 || x < 0 {
			return 0, false
		}
		if i == 1 {
			x = -x
		}
	}
	return x, math.Abs(x) <= most
}

// pointed turns a decimal comma into a point where the text is nothing but such a number, with no more than most figures after the comma.
func pointed(s string, most int) string {
	whole, part, ok := strings.Cut(s, ",")
	if !ok || whole == "" || part == "" || len(part) > most || strings.Trim(part, "0123456789") != "" || strings.Trim(whole, "-0123456789") != "" {
		return s
	}
	return whole + "." + part
}
