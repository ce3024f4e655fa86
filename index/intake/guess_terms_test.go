package intake

import "testing"

// TestGuessTerm: column names as volunteers write them.
func TestGuessTerm(t *testing.T) {
	tests := []struct {
		header  string
		records bool
		want    string
	}{
		{"Stone No", false, "id"},
		{"Words on stone", false, "inscription"},
		{"Shape", false, "top"},
		{"Stone kind", false, "material"},
		{"Thick", false, "thickness_in"},
		{"St", true, "state"},
		{"St", false, "state"},
		{"Enlist Date", true, "enlisted"},
		{"Last Name", true, "surname"},
		{"Co", true, "company"},
		{"Regt", true, "regiment"},
		{"Coy.", true, "company"},
		{"Soldier's name", true, "name"},
		{"Ht", false, "height_in"},
		{"Remarks / notes", false, "notes"},
		{"Remarks / Notes", true, "remarks"},
		{"Co./Regt", true, ""},
		{"Favourite colour", true, ""},
	}
	for _, tt := range tests {
		got := ""
		if g := guessTerm(tt.header, tt.records); g != noTerm {
			got = nameIn(g, tt.records)
		}
		if got != tt.want {
			t.Errorf("%q on a roster %v: %q, want %q", tt.header, tt.records, got, tt.want)
		}
	}
}

// TestTermOfValues: what cells alone tell.
func TestTermOfValues(t *testing.T) {
	tests := []struct {
		values  []string
		records bool
		want    string
	}{
		{[]string{"JOHN DOE / CO. F", "A / B", "C / D", "E / F", "G\nH"}, false, "inscription"},
		{[]string{"rounded", "pointed", "Rounded", "slightly rounded", "flat"}, false, "top"},
		{[]string{"marble", "granite", "white marble", "bronze", "marble"}, false, "material"},
		{[]string{"Wis.", "Ohio", "Ill.", "Wisconsin", "Ind."}, true, "state"},
		{[]string{"Private", "Corp.", "Sergt.", "Private", "Capt."}, true, "rank_in"},
		{[]string{"rounded", "pointed"}, false, ""}, // too few to tell
		{[]string{"a", "b", "c", "d", "e"}, false, ""},
	}
	for _, tt := range tests {
		got := ""
		if g, _ := termOfValues(tt.values, tt.records); g != noTerm {
			got = nameIn(g, tt.records)
		}
		if got != tt.want {
			t.Errorf("%q on a roster %v: %q, want %q", tt.values, tt.records, got, tt.want)
		}
	}
}
