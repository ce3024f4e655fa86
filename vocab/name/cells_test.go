package name

import "testing"

// TestCells: names as clerks and printers put them into one cell.
func TestCells(t *testing.T) {
	for _, tt := range []struct{ written, given, middle, surname, suffix string }{
		{"Penhallow, H. (Hezekiah)", "Hezekiah", "", "Penhallow", ""},
		{"Nettleton, A. (Alvin)", "Alvin", "", "Nettleton", ""},
		{"Nettleton, A. (Moss)", "A", "Moss", "Nettleton", ""},
		{"Nettleton, Alvin (Abner)", "Alvin", "", "Nettleton", ""},
		{"Hale, John (real name Jacob Hehl)", "John", "", "Hale", ""},
		{"Hale, John (true name Hehl)", "John", "", "Hale", ""},
		{"Hale (Hehl), John", "John", "", "Hale", ""},
		{"Hale, John (colored)", "John", "", "Hale", ""},
		{"Hale, John (his x mark)", "John", "", "Hale", ""},
		{"Hale, John (1st)", "John", "", "Hale", "1st"},
		{"Hale, John, Capt.", "John", "", "Hale", ""},
		{"Hale, Capt. John", "John", "", "Hale", ""},
		{"Capt. John Hale", "John", "", "Hale", ""},
		{"Lieut. J. B. Hale", "J", "B", "Hale", ""},
		{"Hale, Major", "Major", "", "Hale", ""},
	} {
		n := Parse(tt.written)
		if n.Given != tt.given || n.Middle != tt.middle || n.Surname != tt.surname || n.Suffix != tt.suffix {
			t.Errorf("%q: [%s|%s|%s|%s], want [%s|%s|%s|%s]", tt.written, n.Given, n.Middle, n.Surname, n.Suffix, tt.given, tt.middle, tt.surname, tt.suffix)
		}
	}
}
