package unmarked

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

func surveyed() []Cemetery {
	return []Cemetery{
		{Name: "Old Mill Cemetery", Former: []string{"Harlan Burying Ground"}, County: "Alder", State: "WI"},
		{Name: "St. Boniface Churchyard", County: "Alder County", State: "WI"},
		{Name: "Mt. Hope Cemetery", County: "Alder", State: "WI"},
		{Name: "Lone Pine Cemetery", State: "MI"}, // its county is not known
	}
}

// The wordings are made up in the manner of printed rosters and adjutant generals' remarks.
func TestMention(t *testing.T) {
	f := &finder{grounds: grounds(surveyed())}
	tests := []struct {
		text string
		cell bool // a cell that holds nothing but burial places
		want string
		p    float64
	}{
		{"Old Mill Cem., Alder Co.", true, "Old Mill Cemetery", 0.97},
		{"Old Mill Cemetery, Alder County, Wisconsin", true, "Old Mill Cemetery", 0.97},
		{"OLD MILL CEM., ALDER CO., WIS.", true, "Old Mill Cemetery", 0.97},
		{"Alder Co., Old Mill Cem.", true, "Old Mill Cemetery", 0.97},
		{"Old Mill Cem.", true, "Old Mill Cemetery", 0.92},
		{"Oldmill Cemetery", true, "Old Mill Cemetery", 0.92},
		{"Old Mill Cem., Wis.", true, "Old Mill Cemetery", 0.92},
		{"Old Mill", true, "Old Mill Cemetery", 0.6},
		{"Lone Pine Cem., Mich.", true, "Lone Pine Cemetery", 0.97},
		{"Lone Pine, Mich.", true, "Lone Pine Cemetery", 0.6}, // or the town
		{"Harlan Bury. Gr., Alder Co.", true, "Old Mill Cemetery", 0.97},
		{"Old Mill, Alder Co.", true, "Old Mill Cemetery", 0.97},
		{"Old Mill Cem., lot 14", true, "Old Mill Cemetery", 0.92},
		{"Cemetery of Old Mill", true, "Old Mill Cemetery", 0.92},
		{"Harlan Burying Ground", true, "Old Mill Cemetery", 0.92},
		{"Old Mill Cem., Stony Ford", true, "Old Mill Cemetery", 0.6},
		{"Died of disease at Nashville, Tenn., Feb. 3, 1863. Buried in Old Mill Cem.", false, "Old Mill Cemetery", 0.92},
		{"Died in Knox Co., Ill. Buried in Old Mill Cem., Alder Co.", false, "Old Mill Cemetery", 0.97},
		{"interred at Old Mill Cemetery, Feb. 3, 1863", false, "Old Mill Cemetery", 0.92},
		{"Disch. May 1, 1864; bur. Mount Hope, Alder Co., Wis.", false, "Mt. Hope Cemetery", 0.97},
		{"Body removed to Old Mill Cem., Alder Co.", false, "Old Mill Cemetery", 0.97},
		{"Bur. St. Boniface Ch. Yd.", false, "St. Boniface Churchyard", 0.92},
		{"bur. Saint Boniface churchyard", false, "St. Boniface Churchyard", 0.92},
		{"Buried in Old Mill Cem.; removed to Nashville Nat. Cem. 1867", false, "Old Mill Cemetery", 0.046},
		{"Co. F, 31st Wis.; buried in Old Mill Cem.", false, "Old Mill Cemetery", 0.92},
		// grounds of like name, and no grounds at all
		{"Old Mill Cem., Knox Co., Ill.", true, "", 0},
		{"Old Mill Cem., Knox Co.", true, "", 0},
		{"Knox Co., Old Mill Cem.", true, "", 0},
		{"Old Mill Cem., Iowa", true, "", 0},
		{"Old Mill Cemetery, Alder Co., Iowa", true, "", 0},
		{"Not buried in Old Mill Cem.", false, "", 0},
		{"West Old Mill Cem., Alder Co.", true, "", 0},
		{"Old Mill Church Cemetery", true, "", 0},
		{"Old Mill Creek", true, "", 0},
		{"Mill Cem., Alder Co.", true, "", 0},
		{"Deserted near Old Mill Creek, Tenn.", false, "", 0},
		{"wounded at Old Mill, Va.", false, "", 0},
		{"Hope Cemetery, Alder Co.", true, "", 0},
		{"Nashville Nat. Cem., sec. E, grave 412", true, "", 0},
		{"", true, "", 0},
		{"., ;", true, "", 0},
	}
	for _, tt := range tests {
		m := f.mention(tt.text, tt.cell, nil)
		if m.ground.Name != tt.want || !near(m.chance, tt.p) {
			t.Errorf("%q: %q with %.3f (%s), want %q with %.3f", tt.text, m.ground.Name, m.chance, m.why, tt.want, tt.p)
		}
	}
}

func near(a, b float64) bool { return a-b < 1e-9 && b-a < 1e-9 }

func TestCemeteries(t *testing.T) {
	at := func(name, county string) *model.Subject {
		return &model.Subject{Stone: &model.Stone{Place: model.Place{Cemetery: name, County: county, State: "WI"}}}
	}
	got := Cemeteries([]*model.Subject{at("B", "X"), at("A", "X"), at("B", "X"), at("B", "Y"), at("", "X")})
	want := []Cemetery{{Name: "A", County: "X", State: "WI"}, {Name: "B", County: "X", State: "WI"}, {Name: "B", County: "Y", State: "WI"}}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Error(diff)
	}
}

func FuzzMention(f *testing.F) {
	for _, s := range []string{"Old Mill Cem., Alder Co.", "Buried in Old Mill Cem. Pens. 1890", "co co. County", "St. Boniface, Co. F", "’'(,"} {
		f.Add(s, true)
	}
	finder := &finder{grounds: grounds(surveyed())}
	f.Fuzz(func(t *testing.T, text string, cell bool) {
		if m := finder.mention(text, cell, nil); m.chance < 0 || m.chance > 1 || m.chance > 0 && m.ground.Name == "" {
			t.Errorf("%q: %v", text, m)
		}
	})
}
