package weigh

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// TestSecondNames: that a man has a middle name at all is his, in a file that gives them for some of its men; in one that gives none, nothing.
func TestSecondNames(t *testing.T) {
	var records []*model.Record
	for i := range 200 {
		given := "John"
		if i%2 == 0 {
			given = "John " + string(rune('A'+i/2%20))
		}
		a, b := record(t, fmt.Sprint("a", i), "Smith, "+given, "private", ""), record(t, fmt.Sprint("b", i), "Smith, John", "private", "")
		a.Source.File, b.Source.File = "adjutant.csv", "cards.csv"
		records = append(records, a, b)
	}
	half := (100 - .5 + .4*20) / (200 + 20) // of the men of adjutant.csv, by the table weight-priors
	for _, tt := range []struct {
		stone, roster, file, level string
		m, u                       float64
	}{
		{"John C.", "John", "adjutant.csv", "stone only", .24, 1 - half},
		{"John", "John C.", "adjutant.csv", "record only", .17, half},
		{"John", "John", "adjutant.csv", "neither", .83, 1 - half},
		{"John C.", "John C.", "adjutant.csv", "same", .70, half * (5 - .5 + .06*50) / (100 + 50)},
		{"John C.", "John D.", "adjutant.csv", "different", .06, half * (1 - (5-.5+.06*50)/(100+50))},
		{"John C.", "John C.", "cards.csv", "same", .70 / .76, (5 - .5 + .06*50) / (100 + 50)},
		{"John C.", "John", "cards.csv", "", 1, 1},
		{"John", "John", "cards.csv", "", 1, 1},
		{"John", "John C.", "cards.csv", "", 1, 1},
		{"C.", "John", "adjutant.csv", "neither", .83, 1 - half},
		{"[---]", "John C.", "adjutant.csv", "", 1, 1},
		{"J[---]", "John", "adjutant.csv", "", 1, 1},
		{"J[.]hn", "John", "adjutant.csv", "neither", .83, 1 - half},
	} {
		claim := model.Claim{Person: model.Person{Name: name.FromParts("Smith", tt.stone)}}
		r := record(t, "r", "Smith, "+tt.roster, "private", "")
		r.Source.File = tt.file
		_, by := weigh(t, records, claim, r)
		if e := by["middle"]; e.Level != tt.level || math.Abs(e.Bits-math.Log2(tt.m/tt.u)) > 1e-9 {
			t.Errorf("%s with %s of %s: %q at %+.3f bits, want %q at %+.3f", tt.stone, tt.roster, tt.file, e.Level, e.Bits, tt.level, math.Log2(tt.m/tt.u))
		}
	}
	// A name that stands in the other's place is no second one.
	for _, tt := range []struct{ stone, roster, given string }{{"Calvin", "John C.", "middle initial"}, {"Calvin", "John Calvin", "middle"}, {"Calvin John", "John", "middle"}} {
		r := record(t, "r", "Smith, "+tt.roster, "private", "")
		r.Source.File = "adjutant.csv"
		_, by := weigh(t, records, model.Claim{Person: model.Person{Name: name.FromParts("Smith", tt.stone)}}, r)
		if by["given"].Level != tt.given || by["middle"].Level != "" {
			t.Errorf("%s with %s: given %q, middle %q, want %q and nothing", tt.stone, tt.roster, by["given"].Level, by["middle"].Level, tt.given)
		}
	}
}

// TestSecondsCounted: men with a middle name are counted by file, one way from records and from columns, and through merging and writing.
func TestSecondsCounted(t *testing.T) {
	records := roster(t)
	for i, r := range records {
		r.Source.File = fmt.Sprintf("%d.csv", i%2)
		if i%3 == 0 {
			r.Person.Name.Middle = "B"
		}
	}
	whole := Count(slices.Values(records))
	merged := Count(slices.Values(records[:3]))
	merged.Merge(Count(slices.Values(records[3:])))
	data, err := merged.MarshalBinary()
	if err != nil {
		t.Fatal(err)
	}
	var read Counts
	if err := read.UnmarshalBinary(data); err != nil {
		t.Fatal(err)
	}
	packed := pack(records).Counts()
	for _, file := range []string{"0.csv", "1.csv"} {
		if whole.named.n[file] == 0 || whole.second.n[file] == 0 {
			t.Fatalf("%s: %d men named, %d with a middle name", file, whole.named.n[file], whole.second.n[file])
		}
		for what, c := range map[string]*Counts{"merged and read": &read, "packed": packed} {
			if c.named.n[file] != whole.named.n[file] || c.second.n[file] != whole.second.n[file] {
				t.Errorf("%s, %s: %d named and %d with a middle name, want %d and %d", what, file, c.named.n[file], c.second.n[file], whole.named.n[file], whole.second.n[file])
			}
		}
	}
}

// TestDeathOfFew: rosters that give the deaths of those who died in the service say much with them: one man in fifty of all died that year, however many of those whose deaths are given.
func TestDeathOfFew(t *testing.T) {
	var records []*model.Record
	for i := range 1000 {
		r := record(t, fmt.Sprint("d", i), "Smith, John", "private", "")
		if i < 100 {
			r.Person.Died, _ = date.Parse(fmt.Sprintf("July %d, 186%d", 1+i%20, 3+i/50))
		}
		records = append(records, r)
	}
	c := model.Claim{}
	c.Person.Died, _ = date.Parse("1863")
	_, by := weigh(t, records, c, records[0])
	among := (50 - .5 + .02*20) / (100 + 20) // of those whose deaths are given, by the table weight-priors; they are a tenth of all
	if e, want := by["death"], math.Log2(.88/(.1*among)); e.Level != "year agrees" || math.Abs(e.Bits-want) > 1e-9 {
		t.Errorf("%q at %+.2f bits, want the year at %+.2f: 50 of a thousand men died in it", e.Level, e.Bits, want)
	}
	for i, r := range records { // where all deaths are given, it is the share among them
		r.Person.Died, _ = date.Parse(fmt.Sprintf("July 1, %d", 1863+i%10))
	}
	if _, by = weigh(t, records, c, records[0]); math.Abs(by["death"].Bits-math.Log2(.88/.1)) > .1 {
		t.Errorf("%+.2f bits, want %+.2f: a tenth of all men died in that year", by["death"].Bits, math.Log2(.88/.1))
	}
}
