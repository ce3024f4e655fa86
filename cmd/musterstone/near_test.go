package main

import "testing"

// TestNearGrounds: of a name that no ground has, the nearest are told, or else the first few and how many there are.
func TestNearGrounds(t *testing.T) {
	county := []string{"Bethel Chapel", "Old Mill Cemetery", "Old Settlers Cemetery", "Prairie Rest", "St. Boniface Churchyard", "Union Hill", "Zion"}
	for _, tt := range []struct {
		grounds []string
		want    string
		says    string
	}{
		{county, "Old Mil Cemetary", `the nearest is "Old Mill Cemetery", of 7 burial grounds in all`},
		{county, "old", `the nearest are "Old Mill Cemetery", "Old Settlers Cemetery", of 7 burial grounds in all`},
		{county, "boniface", `the nearest is "St. Boniface Churchyard", of 7 burial grounds in all`},
		{county, "Quorn", `the burial grounds are "Bethel Chapel", "Old Mill Cemetery", "Old Settlers Cemetery", "Prairie Rest", "St. Boniface Churchyard" and 2 more`},
		{county[:2], "Quorn", `the burial grounds are "Bethel Chapel", "Old Mill Cemetery"`},
		{county[:1], "Quorn", `the burial ground is "Bethel Chapel"`},
		{county[:1], "bethel", `the nearest is "Bethel Chapel"`},
		{nil, "Quorn", "no stone names a burial ground"},
	} {
		if got := nearGrounds(tt.grounds, tt.want); got != tt.says {
			t.Errorf("%q among %d: %s; want %s", tt.want, len(tt.grounds), got, tt.says)
		}
	}
}
