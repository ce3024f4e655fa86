package inscription

import "testing"

// TestBelowHeading: below a surname that heads the stone, initials and a single word before a date are given names, in no table or not.
func TestBelowHeading(t *testing.T) {
	for _, tt := range []struct{ text, given, middle, surname string }{
		{"MEYER / B. F. 1840 - 1880 / CO. H / 38 IND. INF. / AUGUSTA HIS WIFE 1840 - 1919", "B", "F", "Meyer"},
		{"ROBINSON / P 1825 - 1897 / 15 WIS. INF.", "P", "", "Robinson"},
		{"OLSON / TORSTEIN 1840 - 1907 / CO. C / 160 OHIO INF.", "Torstein", "", "Olson"},
		{"FISHER / J. FRANK 1838 - 1911", "J", "Frank", "Fisher"},
		{"WAGNER / PVT. J. H. MEYER / CO. K / 9 ILL. INF.", "J", "H", "Meyer"},
		{"J. H. MEYER / CO. K / 9 ILL. INF.", "J", "H", "Meyer"},
	} {
		n := Read(tt.text, Context{})[0].People[0].Person.Name
		if n.Given != tt.given || n.Middle != tt.middle || n.Surname != tt.surname {
			t.Errorf("%s: %q %q %q", tt.text, n.Given, n.Middle, n.Surname)
		}
	}
}
