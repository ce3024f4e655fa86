package say

import (
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

func TestClaim(t *testing.T) {
	c := model.Claim{Person: model.Person{Name: name.Parse("Holden, John T., Jr."), Born: date.Year(1841), Died: date.On(1864, 8, 9)},
		Service: model.Service{Rank: "first sergeant", Conflicts: []model.ConflictCode{"civil-war"}}}
	c.Service.Unit, _ = unit.Parse("Co. F, 47th Ill. Inf.")
	want := "First sergeant John T Holden Jr, Company F, 47th Illinois Infantry, Civil War, born 1841, died 9 August 1864"
	if got := Claim(c); got != want {
		t.Errorf("got  %s\nwant %s", got, want)
	}
	if got := Claim(model.Claim{}); got != "" {
		t.Errorf("nothing known: %q", got)
	}
}

func TestDate(t *testing.T) {
	tests := []struct{ edtf, want string }{
		{"1864-08-09", "9 August 1864"},
		{"1841", "1841"},
		{"1841~", "about 1841"},
		{"1841?", "perhaps 1841"},
		{"1841%", "perhaps about 1841"},
		{"1864-08", "August 1864"},
		{"1864-02-01/1864-02-29", "February 1864"},
		{"1841-03-05/1842-03-04", "between 5 March 1841 and 4 March 1842"},
		{"1862/1863", "between 1862 and 1863"},
		{"186X", "between 1860 and 1869"},
		{"1862-03/1863-04", "between March 1862 and April 1863"},
		{"1862/1863-04", "between January 1862 and April 1863"},
		{"1862-03-01/1863-04-29", "between 1 March 1862 and 29 April 1863"},
		{"../1880", "in or before 1880"},
		{"../1880-03", "in or before March 1880"},
		{"../1880-03-14", "on or before 14 March 1880"},
		{"1866~/..", "in or after about 1866"},
		{"1864-08-01/..", "in or after August 1864"},
		{"1864-08-09/..", "on or after 9 August 1864"},
		{"../..", "../.."},
	}
	for _, tt := range tests {
		d, err := date.ParseEDTF(tt.edtf)
		if err != nil {
			t.Fatal(err)
		}
		if got := Date(d); got != tt.want {
			t.Errorf("%s: %q, want %q", tt.edtf, got, tt.want)
		}
	}
}

func TestDateUnknown(t *testing.T) {
	if got := Date(date.Date{Written: "unknown"}); got != "" {
		t.Errorf("a date of which nothing is known is %q", got)
	}
}

func TestCapital(t *testing.T) {
	for s, want := range map[string]string{"": "", "first sergeant": "First sergeant", "émile": "Émile", "W[..]liam": "W[..]liam", "…": "…"} {
		if got := Capital(s); got != want {
			t.Errorf("Capital(%q) = %q, want %q", s, got, want)
		}
	}
}

func TestReasons(t *testing.T) {
	pro, contra := Reasons([]model.Evidence{
		{Field: "given", Level: "same", Bits: 2, Stone: "John", Record: "John"},
		{Field: "surname", Level: "near", Bits: 8.2, Stone: "Plunket", Record: "Plunkett"},
		{Field: "unit", Level: "different", Bits: -4.3, Stone: "15th Ohio Infantry", Record: "1st Ohio Cavalry"},
		{Field: "middle", Level: "same", Bits: 0.01},
	})
	if len(pro) != 2 || pro[0] != `surnames nearly the same, "Plunket" and "Plunkett" (+8.2)` || pro[1] != "same given name (+2.0)" {
		t.Errorf("for: %q", pro)
	}
	if len(contra) != 1 || contra[0] != `units differ, "15th Ohio Infantry" and "1st Ohio Cavalry" (-4.3)` {
		t.Errorf("against: %q", contra)
	}
}

// TestEveryLevelHasWords: no level of the weights is shown to a person without words of its own.
func TestEveryLevelHasWords(t *testing.T) {
	for _, r := range vocab.Rows("weights") {
		if r.Get("words") == "" {
			t.Errorf("%s: the level %q of %q has no words", r.Where(), r.Get("level"), r.Get("field"))
		}
	}
}

func TestHeadline(t *testing.T) {
	unknown := &model.Subject{Stone: &model.Stone{}, Readings: []model.Reading{{Unknown: true, GraveNumber: "1742"}}}
	if got := Headline(unknown); got != "unknown dead, grave 1742" {
		t.Errorf("unknown: %q", got)
	}
	if got := Headline(&model.Subject{Stone: &model.Stone{}, Readings: []model.Reading{{}}}); got != "names nobody" {
		t.Errorf("blank: %q", got)
	}
}

func TestPlace(t *testing.T) {
	for want, p := range map[string]model.Place{"": {County: "Alder"}, "Old Mill Cemetery": {Cemetery: "Old Mill Cemetery"}, "Old Mill Cemetery, section A, row 1, plot 2": {Cemetery: "Old Mill Cemetery", Section: "A", Row: "1", Plot: "2"}, "row 1": {Row: "1"}} {
		if got := Place(p); got != want {
			t.Errorf("%+v: %q, want %q", p, got, want)
		}
	}
}

// TestHeadline: whoever may be the man of a stone stands in its headline, and nobody who is said to be his kin.
func TestHeadlineOfSeveral(t *testing.T) {
	man := func(who, relation string) model.Claim {
		return model.Claim{Person: model.Person{Name: name.Parse(who), Relation: relation}}
	}
	for _, tt := range []struct {
		reading model.Reading
		want    string
	}{
		{model.Reading{}, "names nobody"},
		{model.Reading{Unknown: true, GraveNumber: "12", People: []model.Claim{{}, man("Moss, Henry", "")}}, "unknown dead, grave 12"},
		{model.Reading{People: []model.Claim{man("Moss, Henry", "")}}, "Henry Moss"},
		{model.Reading{People: []model.Claim{man("Moss, Henry", ""), man("Moss, Anna", "wife"), man("Moss, Henry, Jr.", "")}}, "Henry Moss; and Henry Moss Jr"},
		{model.Reading{People: []model.Claim{man("Moss, A.", ""), man("Moss, B.", ""), {}, man("Moss, C.", ""), man("Moss, D.", ""), man("Moss, E.", "")}}, "A Moss; and B Moss; and C Moss; and 2 others"},
	} {
		if got := Headline(&model.Subject{Readings: []model.Reading{tt.reading}}); got != tt.want {
			t.Errorf("%q, want %q", got, tt.want)
		}
	}
}
