package marker

import (
	"strings"
	"testing"
)

// TestFaultsIn: words for a condition are found whole, in any case, several at once.
func TestFaultsIn(t *testing.T) {
	for condition, want := range map[string]string{
		"":                                 "",
		"good; unbroken":                   "",
		"worn, not broken":                 "recorded as worn",
		"not illegible, not stolen":        "",
		"Broken in two":                    "recorded as broken",
		"half buried, leaning":             "recorded as sunk, recorded as leaning",
		"no longer legible":                "recorded as illegible",
		"legible":                          "",
		"face sugared; mended with cement": "recorded as cracked or mended, recorded as worn",
		"top missing":                      "recorded as broken",
		"missing":                          "recorded as missing",
		"top damaged":                      "",
	} {
		var got []string
		for _, f := range FaultsIn(condition) {
			got = append(got, f.Text)
			if f.Chance <= 0 || f.Chance >= 1 {
				t.Errorf("%q: %v is no chance", f.Text, f.Chance)
			}
		}
		if s := strings.Join(got, ", "); s != want {
			t.Errorf("%q: %q, want %q", condition, s, want)
		}
	}
}

func TestFindFault(t *testing.T) {
	if f, ok := FindFault("evidence", "unit/one digit"); !ok || !strings.Contains(f.Text, "one digit off") {
		t.Errorf("%+v, %v", f, ok)
	}
	for _, none := range [][2]string{{"evidence", "unit/company"}, {"condition", "leaning"}, {"rule", "later-stone"}} {
		if f, ok := FindFault(none[0], none[1]); ok {
			t.Errorf("%v: %+v", none, f)
		}
	}
}
