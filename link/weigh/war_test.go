package weigh

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/unit"
)

// wartimes are 950 men of the civil war, born from 1830 to 1839, and fifty of 1917, born from 1890 to 1899, five of them in 1893.
func wartimes(t *testing.T) []*model.Record {
	var out []*model.Record
	for i := range 1000 {
		r := record(t, fmt.Sprint("r", i), "Smith, John", "private", "Co. G, 31st Wis. Inf.")
		year, war := 1830+i%10, model.ConflictCode("civil-war")
		if i >= 950 {
			year, war = 1890+i%10, "world-war-i"
			r.Service.Unit, _ = unit.Parse("Co. G, 151st US Inf.")
		}
		r.Person.Born, _ = date.Parse(fmt.Sprint(year))
		r.Service.Conflicts = []model.ConflictCode{war}
		out = append(out, r)
	}
	return out
}

// TestWarOnce: where unit or design have said the war already, a birth is set beside those of the war's men, five of fifty, and where the stone tells of no war beside those of all, five of a thousand; half a man is taken off and twenty of the
// table's share of .08 are added. A unit's number says the war as its state and number do, so that the design adds nothing to it.
func TestWarOnce(t *testing.T) {
	records := wartimes(t)
	w := New(Count(slices.Values(records)), nil)
	m := start("birth", "same").m
	general := model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: "general-1922", Probability: 1}},
		Services: []model.Weighted[string]{{Code: "world-war-i", Probability: .98}, {Code: "civil-war/union", Probability: .01}, {Code: "none", Probability: .01}}}
	private := model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: model.NotGovernment, Probability: 1}}, Services: []model.Weighted[string]{{Code: "none", Probability: 1}}}
	for _, tt := range []struct {
		name, unit string
		implies    model.Implication
		u          float64
		design     bool
	}{
		{"tells of no war", "", private, (5 - .5 + 20*.08) / 1020, false},
		{"the design tells", "", general, (5 - .5 + 20*.08) / 70, true},
		{"number and company tell", "Co. G, 151st Inf.", general, (5 - .5 + 20*.08) / 70, false},
		{"the number tells", "151st Inf.", general, (5 - .5 + 20*.08) / 70, false},
		{"the regiment tells", "Co. G, 151st US Inf.", general, (5 - .5 + 20*.08) / 70, false},
	} {
		var c model.Claim
		c.Person.Born, _ = date.Parse("1893")
		if tt.unit != "" {
			c.Service.Unit, _ = unit.Parse(tt.unit)
		}
		_, evidence := w.Stone(&model.Subject{Stone: &model.Stone{}, Implies: tt.implies}, c).Against(records[953])
		birth, design := math.NaN(), false
		for _, e := range evidence {
			switch e.Field {
			case "birth":
				birth = e.Bits
			case "design":
				design = true
			}
		}
		if want := math.Log2(m / tt.u); math.Abs(birth-want) > 1e-9 || design != tt.design {
			t.Errorf("%s: a birth in 1893 is worth %.3f bits, want %.3f; a line of the design %v, want %v", tt.name, birth, want, design, tt.design)
		}
	}
}

// TestFarOff: of the men of a war hardly any was born far from a stone's year of birth, and still a birth that is far off does not speak for one.
func TestFarOff(t *testing.T) {
	records := wartimes(t)
	levels := map[string]bool{}
	for _, year := range []string{"1805", "1815", "1822", "1845", "1850"} {
		r := record(t, "x"+year, "Smith, John", "private", "Co. G, 31st Wis. Inf.")
		r.Person.Born, _ = date.Parse(year)
		r.Service.Conflicts = []model.ConflictCode{"civil-war"}
		records = append(records, r)
	}
	w := New(Count(slices.Values(records)), nil)
	var c model.Claim
	c.Person.Born, _ = date.Parse("1835")
	c.Service.Unit, _ = unit.Parse("Co. G, 31st Wis. Inf.")
	for _, r := range records[1000:] {
		_, evidence := w.Stone(&model.Subject{Stone: &model.Stone{}}, c).Against(r)
		for _, e := range evidence {
			if e.Field == "birth" {
				levels[e.Level] = true
				if e.Bits > 0 {
					t.Errorf("born in 1835, the record in %s: %s %+.1f", r.Person.Born, e.Level, e.Bits)
				}
			}
		}
	}
	if !levels["far"] || !levels["another generation"] {
		t.Errorf("levels %v", levels)
	}
}
