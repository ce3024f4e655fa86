package unmarked_test

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// one is a survey of one private stone and one record of Amos Fry, Company B, 84th Pennsylvania, among men of other names.
func one(t *testing.T, inscription string, change func(*model.Record)) unmarked.Input {
	t.Helper()
	stone := &model.Stone{ID: "s1", Place: model.Place{Cemetery: "Old Mill Cemetery", County: "Alder", State: "PA"},
		Marker: model.Marker{Inscription: inscription, Top: "square", Material: "granite", Width: 28, Thickness: 10, Height: 40, Lettering: "incised", Device: "none", Setting: "upright"}}
	var records []*model.Record
	for i, n := range []string{"Fry", "Musser", "Lichty", "Groff", "Rohrer", "Kreider", "Witmer", "Skiles"} {
		r := &model.Record{ID: model.RecordID(fmt.Sprintf("r%d", i)), Source: model.Source{File: "roster.csv", Row: i + 2}}
		r.Person.Name = name.FromParts(n, "Amos")
		r.Service.Unit = unit.FromParts(unit.Parts{Company: "B", Regiment: "84", Arm: "Inf.", State: "Pa."})
		r.Service.Conflicts = []model.ConflictCode{"civil-war"}
		records = append(records, r)
	}
	if change != nil {
		change(records[0])
	}
	return worked(t, []*model.Stone{stone}, records)
}

// A private stone that gives a unit is a finding, but not where the man lies elsewhere for all that the stone and the lists say.
func TestAway(t *testing.T) {
	for _, c := range []struct {
		name, inscription string
		change            func(*model.Record)
		from, to          float64
		reason            string
	}{
		{"his own stone", "AMOS FRY\nCO. B 84 PA. INF.\n1840 - 1900", nil, 0.9, 1, ""},
		{"his own, with his wife", "AMOS FRY\nCO. B 84 PA. INF.\n1840 - 1900\nMARY HIS WIFE\n1844 - 1920", nil, 0.9, 1, ""},
		{"his wife's", "HANNAH\nWIFE OF\nAMOS FRY\nCO. B 84 PA. INF.\nDIED 1874\nAGED 36 YEARS", nil, 0.2, 0.45, "the stone is over somebody else"},
		{"over an empty grave", "AMOS FRY\nCO. B 84 PA. INF.\nDIED AT ANDERSONVILLE, GA.\nAPRIL 19, 1864", nil, 0.2, 0.45, `he died in the war, at "ANDERSONVILLE, GA."`},
		{"the record knows where he fell", "AMOS FRY\nCO. B 84 PA. INF.\nDIED APRIL 19, 1864", func(r *model.Record) {
			r.Person.Died, r.Person.DeathPlace = date.On(1864, 4, 19), "Andersonville, Ga."
		}, 0.2, 0.45, "he died in the war"},
		{"brought home, a list says", "AMOS FRY\nCO. B 84 PA. INF.\nDIED AT ANDERSONVILLE, GA.\nAPRIL 19, 1864", func(r *model.Record) {
			r.Person.Buried = "Old Mill Cem., Alder Co."
		}, 0.9, 1, ""},
		{"died at home after the war", "AMOS FRY\nCO. B 84 PA. INF.\nDIED AT TYRONE, PA.\nAPRIL 19, 1884", nil, 0.9, 1, ""},
	} {
		found := unmarked.Find(one(t, c.inscription, c.change))
		i := slices.IndexFunc(found, func(f model.Finding) bool { return f.Stone == "s1" && f.Kind == model.PrivateStone })
		if i < 0 {
			t.Errorf("%s: not found", c.name)
			continue
		}
		f := found[i]
		told := strings.Join(f.Reasons, "\n")
		if f.Probability < c.from || f.Probability > c.to || !strings.Contains(told, c.reason) || c.reason == "" && strings.Contains(told, "but ") {
			t.Errorf("%s: %.4f, want %.2f to %.2f: %s", c.name, f.Probability, c.from, c.to, told)
		}
	}
}

// Reasons do not name a man of another record who may be living.
func TestLivingUntold(t *testing.T) {
	in := one(t, "AMOS FRY\nCO. B 84 PA. INF.\n1840 - 1900", nil)
	said := func() string {
		var all []string
		for _, f := range unmarked.Find(in) {
			all = append(all, strings.Join(slices.Concat(f.Reasons, f.ToShow), "\n"))
		}
		return strings.Join(all, "\n")
	}
	if s := said(); !strings.Contains(s, "r0") {
		t.Errorf("nothing of the record: %s", s)
	}
	in.LivingRecord = func(*model.Record) bool { return true }
	if s := said(); strings.Contains(s, "r0") || strings.Contains(s, "Fry") || !strings.Contains(s, "held back: he may be living") {
		t.Errorf("told of one who may be living: %s", s)
	}
}
