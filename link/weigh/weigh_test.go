package weigh

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// record makes a roster's row from its words.
func record(t testing.TB, id, who, rank, company string) *model.Record {
	t.Helper()
	r := &model.Record{ID: model.RecordID(id)}
	r.Person.Name = name.Parse(who)
	r.Service.Rank = model.Rank(rank)
	if company != "" {
		u, ok := unit.Parse(company)
		if !ok {
			t.Fatalf("%q is no unit", company)
		}
		r.Service.Unit = u
	}
	return r
}

// roster is a hundred invented men: fifty Smiths of Company F, 31st Wisconsin, and fifty others of Company A, 44th Wisconsin, each with a surname of his own.
func roster(t testing.TB) []*model.Record {
	t.Helper()
	var out []*model.Record
	for i := range 50 {
		out = append(out, record(t, fmt.Sprintf("s%02d", i), "Smith, "+[]string{"John", "William", "George", "Henry", "Peter"}[i%5], "private", "Co. F, 31st Wis. Inf."))
	}
	for i := range 50 {
		surname := "Quill" + string(rune('a'+i%26)) + string(rune('a'+i/26)) + "ck"
		out = append(out, record(t, fmt.Sprintf("q%02d", i), surname+", "+[]string{"Amos", "Levi"}[i%2], "private", "Co. A, 44th Wis. Inf."))
	}
	return out
}

func weigh(t *testing.T, records []*model.Record, claim model.Claim, r *model.Record) (float64, map[string]model.Evidence) {
	t.Helper()
	w := New(Count(slices.Values(records)), nil)
	bits, evidence := w.Stone(&model.Subject{Stone: &model.Stone{}}, claim).Against(r)
	by := map[string]model.Evidence{}
	total := 0.0
	for _, e := range evidence {
		by[e.Field] = e
		total += e.Bits
	}
	if math.Abs(total-bits) > 1e-9 {
		t.Errorf("evidence adds up to %v, but the weight is %v", total, bits)
	}
	return bits, by
}

// TestValueSpecific works the surname's weight by hand: log2(m/u), with m from the table and u the share of the roster's men of that name, half a man taken
// off, together with 200 men of the public table's share (Newcombe 1959; Fellegi and Sunter 1969, method I, smoothed).
func TestValueSpecific(t *testing.T) {
	records := roster(t)
	m := start("surname", "same").m
	rare := records[50].Person.Name.Surname
	for _, tt := range []struct {
		who  string
		r    *model.Record
		bits float64
	}{
		{"John Smith", records[0], math.Log2(m / ((49.5 + 200*0.01006) / 300))}, // Smith has 1.006% (US Census Bureau, 1990)
		{"Amos " + rare, records[50], math.Log2(m / ((0.5 + 200*name.SurnameShare(name.Fold(rare))) / 300))},
	} {
		_, by := weigh(t, records, model.Claim{Person: model.Person{Name: name.Parse(tt.who)}}, tt.r)
		if got := by["surname"].Bits; math.Abs(got-tt.bits) > 1e-9 {
			t.Errorf("%s: surname %v bits, want %v", tt.who, got, tt.bits)
		}
	}
}

// TestLostLetters: what a name with lost letters is worth is log2(m / the summed share of all names that fit it): fifty rare names that fit are worth about as
// much as one that half the roster bears.
func TestLostLetters(t *testing.T) {
	records := roster(t)
	m := start("surname", "fits").m
	for _, tt := range []struct {
		given, surname string
		r              *model.Record
	}{{"John", "Sm[..]h", records[0]}, {"Amos", "Quill[..]ck", records[50]}} {
		_, by := weigh(t, records, model.Claim{Person: model.Person{Name: model.Name{Given: tt.given, Surname: tt.surname}}}, tt.r)
		e := by["surname"]
		want := math.Log2(m / ((49.5 + 200*name.SurnameShare(name.Fold(tt.surname))) / 300))
		if e.Level != "fits" || math.Abs(e.Bits-want) > 1e-9 {
			t.Errorf("%s: got %+v, want fits at %v bits", tt.surname, e, want)
		}
		if e.Bits > 3 {
			t.Errorf("%s fits half the roster and is worth %v bits", tt.surname, e.Bits)
		}
	}
}

func TestUnitLevels(t *testing.T) {
	records := roster(t)
	records = append(records, record(t, "x1", "Ames, John", "private", "Co. B, 79th U.S.C.I."), record(t, "x2", "Bell, John", "private", "Co. C, 3rd Ohio Cav."),
		record(t, "x3", "Cole, John", "private", "Co. F, 31st Ohio Inf."))
	tests := []struct {
		stone, roster, level string
		forIt                bool
	}{
		{"CO. F 31 WIS. INF.", "Co. F, 31st Wis. Inf.", "company", true},
		{"CO. K 31 WIS. INF.", "Co. F, 31st Wis. Inf.", "other company", false},
		{"31 WIS. INF.", "Co. F, 31st Wis. Inf.", "regiment", true},
		{"CO. E 31 WIS. INF.", "Co. F, 31st Wis. Inf.", "worn company", false},
		{"CO. F 37 WIS. INF.", "Co. F, 31st Wis. Inf.", "worn digit", false},
		{"CO. F 34 WIS. INF.", "Co. F, 31st Wis. Inf.", "one digit", false},
		{"CO. B 1 KANS. COL. INF.", "Co. B, 79th U.S.C.I.", "redesignated", true},
		{"CO. F 31 OHIO INF.", "Co. F, 31st Wis. Inf.", "different", false},
		{"CO. C 3 OHIO CAV.", "Co. F, 31st Ohio Inf.", "different", false},
		{"31 INF.", "Co. F, 31st Wis. Inf.", "number", true},
		{"CO. C 366 INF.", "Co. C, 365th Inf.", "worn digit", true}, // of no state, as those of 1917 were
		{"CO. C 366 INF.", "Co. D, 365th Inf.", "different", false},
		{"CO. C 366 INF.", "Co. C, 311th Inf.", "different", false},
		{"CO. C 366 INF.", "Co. C, 361st Inf.", "one digit", true},
		{"CO. C 366 INF.", "Co. C, 365th Wis. Inf.", "different", false},
		{"CO. G / 2D V. R. C.", "Co. F, 31st Wis. Inf.", "transferred", false},
		{"CO. G / 2D V. R. C.", "Co. F, 2nd V. R. C.", "other company", true},
	}
	for _, tt := range tests {
		u, ok := unit.Parse(tt.stone)
		if !ok {
			t.Fatalf("%q is no unit", tt.stone)
		}
		_, by := weigh(t, records, model.Claim{Service: model.Service{Unit: u}}, record(t, "r", "Ames, John", "private", tt.roster))
		e := by["unit"]
		if e.Level != tt.level || (e.Bits > 0) != tt.forIt {
			t.Errorf("%s with %s: %s at %+.2f bits, want %s, speaking for it %v", tt.stone, tt.roster, e.Level, e.Bits, tt.level, tt.forIt)
		}
	}
}

func TestGivenLevels(t *testing.T) {
	tests := []struct{ stone, roster, level string }{
		{"John Doe", "Doe, John", "same"},
		{"JNO. DOE", "Doe, John", "same"},
		{"JNO. DOE", "Doe, Jonathan", "short form"},
		{"Harry Doe", "Doe, Henry", "written out"},
		{"Harry Doe", "Doe, Harry", "same short"},
		{"Harry Doe", "Doe, Peter", "not short for"},
		{"Billy Doe", "Doe, Will", "other short"},
		{"Henry Doe", "Doe, Harry", "short form"},
		{"Billy Doe", "Doe, W.", "initial"},
		{"W. DOE", "Doe, Billy", "initial"},
		{"J. DOE", "Doe, John", "initial"},
		{"John Doe", "Doe, J.", "initial"},
		{"John Doe", "Doe, K.", "other initial"},
		{"Jonas Doe", "Doe, Peter", "different"},
		{"Louisa Doe", "Doe, Louis", "near"},
		{"Frederico Doe", "Doe, Frederick", "misread"},
		{"Johm Doe", "Doe, John", "misread"},
		{"Johm Doe", "Doe, Peter", "unlike"},
		{"Isa[..] Doe", "Doe, Isaac", "same"},
		{"Isa[...] Doe", "Doe, Isaac", "near"},
		{"Isa[....] Doe", "Doe, Isaac", "near"},
		{"Isa[......] Doe", "Doe, Isaac", "different"},
		{"Albert Doe", "Doe, Peter A.", "middle initial"},
		{"Albert Doe", "Doe, Peter Albert", "middle"},
		{"Albert Doe", "Doe, Peter B.", "different"},
		{"Bert Doe", "Doe, Peter B.", "middle initial"},
		{"Albert C. Doe", "Doe, Peter A.", "different"},
		{"A. DOE", "Doe, Peter A.", "other initial"},
		{"Mary Doe", "Doe, Peter", "other sex"},
		{"Peter Doe", "Doe, Mary", "other sex"},
		{"Betsy Doe", "Doe, Peter", "other sex"},
		{"Mary Doe", "Doe, Peter M.", "other sex"},
		{"Mary Doe", "Doe, Mary", "same"},
		{"[---] Doe", "Doe, Peter", ""},
		{"[...] Doe", "Doe, Peter", ""},
		{"Mary Doe", "Doe, P.", "other initial"},
		{"Marion Doe", "Doe, Peter", "different"},
		{"Marie Joseph Doe", "Doe, Joseph", "middle"},
		{"Josephine Doe", "Doe, Joseph", "near"},
		{"Albert Doe", "Doe, P. A.", "other initial"},
	}
	for _, tt := range tests {
		records := append(roster(t), record(t, "d", tt.roster, "", ""))
		_, by := weigh(t, records, model.Claim{Person: model.Person{Name: name.Parse(tt.stone)}}, records[100])
		if got := by["given"].Level; got != tt.level {
			t.Errorf("%s with %s: %q, want %q", tt.stone, tt.roster, got, tt.level)
		}
	}
}

// TestOtherSex: that a woman's name and a man's differ speaks twelve times as much against the pair as that two men's do.
func TestOtherSex(t *testing.T) {
	records := append(roster(t), record(t, "d", "Doe, Peter", "", ""))
	bitsOf := func(stone string) float64 {
		_, by := weigh(t, records, model.Claim{Person: model.Person{Name: name.Parse(stone)}}, records[100])
		return by["given"].Bits
	}
	if got, want := bitsOf("Timothy Doe")-bitsOf("Mary Doe"), math.Log2(12); math.Abs(got-want) > .01 {
		t.Errorf("Mary for Peter is %.3f bits less than Timothy for Peter, want %.3f", got, want)
	}
}

// TestTranslated: a name and its translation are one man's oftener than by chance, and what that is worth hangs on the commoner of the two, whichever stands on the stone.
func TestTranslated(t *testing.T) {
	records := roster(t)
	for i := range 12 {
		records = append(records, record(t, fmt.Sprintf("t%02d", i), []string{"Fox", "Fox", "Fox", "Fuchs"}[i%4]+", Adam", "", ""))
	}
	of := func(stone, id string) model.Evidence {
		for _, r := range records {
			if string(r.ID) == id {
				_, by := weigh(t, records, model.Claim{Person: model.Person{Name: name.Parse(stone)}}, r)
				return by["surname"]
			}
		}
		t.Fatal("no record", id)
		return model.Evidence{}
	}
	a, b := of("Adam Fuchs", "t00"), of("Adam Fox", "t03")
	if a.Level != "translated" || b.Level != "translated" || math.Abs(a.Bits-b.Bits) > .1 {
		t.Errorf("Fuchs on the stone: %s %.3f; Fox: %s %.3f; want the same of both", a.Level, a.Bits, b.Level, b.Bits)
	}
	if same := of("Adam Fox", "t00").Bits; a.Bits >= same-4 {
		t.Errorf("translated is worth %.3f bits, the same name %.3f", a.Bits, same)
	}
	// No record bears Vogel, and one man is a Bird.
	records = append(records, record(t, "bird", "Bird, Adam", "", ""))
	if got := of("Adam Vogel", "bird"); got.Level != "translated" || got.Bits < a.Bits+3 {
		t.Errorf("Vogel, whom no record has, for Bird: %s %.3f bits, want more than %.3f for Fuchs", got.Level, got.Bits, a.Bits+3)
	}
	if got := of("Adam Schmidt", "s00"); got.Level != "spelling" {
		t.Errorf("Schmidt for Smith: %s", got.Level)
	}
}

// TestSuffix: a suffix on one side only speaks against the pair a little, and where the rosters give none at all it says nothing.
func TestSuffix(t *testing.T) {
	many := roster(t)
	for i := range 4 {
		many[i].Person.Name.Suffix = "Jr."
	}
	none := roster(t)
	for _, tt := range []struct {
		records       []*model.Record
		stone, roster string
		level         string
		low, high     float64
	}{
		{many, "Jr.", "Jr.", "same", 3, 8},
		{many, "Jr.", "Sr.", "different", -2.1, -1.9},
		{many, "Jr.", "", "stone only", -1.1, -.7},
		{many, "", "Jr.", "record only", -1.3, -1},
		{many, "", "", "", 0, 0},
		{none, "Jr.", "", "stone only", -.6, 0},
	} {
		r := record(t, "r", "Doe, John", "", "")
		r.Person.Name.Suffix = tt.roster
		_, by := weigh(t, tt.records, model.Claim{Person: model.Person{Name: model.Name{Surname: "Doe", Given: "John", Suffix: tt.stone}}}, r)
		if e := by["suffix"]; e.Level != tt.level || e.Bits < tt.low || e.Bits > tt.high {
			t.Errorf("%q with %q: %q at %+.2f bits, want %q from %v to %v", tt.stone, tt.roster, e.Level, e.Bits, tt.level, tt.low, tt.high)
		}
	}
}

func TestLife(t *testing.T) {
	r := record(t, "r", "Smith, John", "private", "")
	r.Person.Age, _ = date.ParseAge("22")
	r.Service.Enlisted, _ = date.Parse("Aug. 9, 1862")
	r.Service.MusteredOut, _ = date.Parse("July 8, 1865")
	records := append(roster(t), r)
	tests := []struct{ born, died, field, level string }{
		{"1840", "1891", "birth", "same"},
		{"1839", "", "birth", "same"}, // born between August 1839 and August 1840
		{"1838", "", "birth", "one year"},
		{"1845", "", "birth", "near"},
		{"1828", "", "birth", "far"},
		{"1820", "", "birth", "another generation"},
		{"1860", "", "birth", "another generation"},
		{"", "May 1, 1863", "service", "died in it"},
	}
	for _, tt := range tests {
		c := model.Claim{}
		if tt.born != "" {
			c.Person.Born, _ = date.Parse(tt.born)
		}
		if tt.died != "" {
			c.Person.Died, _ = date.Parse(tt.died)
		}
		_, by := weigh(t, records, c, r)
		if got := by[tt.field].Level; got != tt.level {
			t.Errorf("born %q died %q: %s %q, want %q", tt.born, tt.died, tt.field, got, tt.level)
		}
	}
	r.Service = model.Service{Conflicts: []model.ConflictCode{"civil-war"}} // which began with the fire on Fort Sumter: table conflicts
	for died, want := range map[string]string{"1829": "died in it", "Apr. 11, 1861": "died in it", "1861": "", "1862": ""} {
		c := model.Claim{}
		c.Person.Died, _ = date.Parse(died)
		_, by := weigh(t, records, c, r)
		if e := by["service"]; e.Level != want || want != "" && e.Record != "1861-04-12" {
			t.Errorf("a man of the war without dates, and one who died %s: %+v, want %q", died, e, want)
		}
	}
}

// TestOfAge: a record that gives no birth says by its war, or by its dates, when its man was born; a stone that tells of a service has told the war itself.
func TestOfAge(t *testing.T) {
	tests := []struct {
		born, enlisted string
		conflicts      []model.ConflictCode
		tells          bool
		level          string
	}{
		{"1840", "", []model.ConflictCode{"civil-war"}, false, "of age"},
		{"1840", "", []model.ConflictCode{"civil-war"}, true, ""},
		{"1894", "", []model.ConflictCode{"civil-war"}, false, "not of age"},
		{"1894", "", []model.ConflictCode{"civil-war"}, true, "not of age"},
		{"1894", "", []model.ConflictCode{"civil-war", "world-war-i"}, false, "of age"},
		{"1894", "June 1, 1862", nil, false, "not of age"},
		{"1840", "June 1, 1862", nil, false, "of age"},
		{"1840", "", nil, false, ""},
	}
	for _, tt := range tests {
		r := record(t, "r", "Smith, John", "private", "")
		r.Service.Enlisted, _ = date.Parse(tt.enlisted)
		r.Service.Conflicts = tt.conflicts
		c := model.Claim{}
		c.Person.Born, _ = date.Parse(tt.born)
		if tt.tells {
			c.Service.Rank = "private"
		}
		_, by := weigh(t, append(roster(t), r), c, r)
		e := by["birth"]
		if e.Level != tt.level || e.Level == "not of age" && e.Bits > -3 {
			t.Errorf("born %s, enlisted %q, %v: %q at %+.1f bits, want %q", tt.born, tt.enlisted, tt.conflicts, e.Level, e.Bits, tt.level)
		}
	}
}

// TestDeath: where one side gives no more than a year, the year is all that can agree; that the day does not is no sign against the pair.
func TestDeath(t *testing.T) {
	for _, tt := range []struct{ stone, roster, level string }{
		{"May 1, 1863", "May 1, 1863", "same day"},
		{"May 1, 1863", "May 9, 1863", "same month"},
		{"May 1, 1863", "July 9, 1863", "same year"},
		{"May 1, 1863", "July 9, 1864", "one year"},
		{"May 1, 1863", "July 9, 1873", "ten years"},
		{"May 1, 1863", "July 9, 1870", "different"},
		{"1863", "July 9, 1863", "year agrees"},
		{"July 9, 1863", "1863", "year agrees"},
		{"1864", "July 9, 1863", "next year"},
		{"1873", "July 9, 1863", "another year"},
	} {
		r := record(t, "r", "Smith, John", "private", "")
		r.Person.Died, _ = date.Parse(tt.roster)
		c := model.Claim{}
		c.Person.Died, _ = date.Parse(tt.stone)
		_, by := weigh(t, append(roster(t), r), c, r)
		if e := by["death"]; e.Level != tt.level || e.Level == "year agrees" && e.Bits < 2 {
			t.Errorf("%q with %q: %q at %+.2f bits, want %q", tt.stone, tt.roster, e.Level, e.Bits, tt.level)
		}
	}
}

// TestStanding: what a stone tells by itself of its man's being in the rosters.
func TestStanding(t *testing.T) {
	records := roster(t)
	for i, r := range records {
		r.Person.Born, _ = date.Parse(fmt.Sprint(1838 + i%10))
	}
	w := New(Count(slices.Values(records)), nil)
	stone := func(who, born string) *Stone {
		c := model.Claim{Person: model.Person{Name: name.Parse(who)}}
		c.Person.Born, _ = date.Parse(born)
		return w.Stone(&model.Subject{Stone: &model.Stone{}}, c)
	}
	for who, strange := range map[string]bool{"Martha Smith": true, "Amos Smith": false, "Billy Smith": false, "M. Smith": false, "[...] Smith": false, "Mar[.]ha Smith": false, "Smith": false} {
		if got := stone(who, "").StrangeGiven(); got != strange {
			t.Errorf("%s: strange given name %v, want %v", who, got, strange)
		}
	}
	// Of thirty thousand men one is called like any woman; of a few hundred he is one of them.
	one := slices.Clone(records)
	martha := *records[0]
	martha.Person.Name = name.Parse("Martha Adams")
	one = append(one, &martha)
	for men, strange := range map[int]bool{len(one): false, 29_999: false, 30_000: true} {
		c := Count(slices.Values(one))
		c.N = men
		claim := model.Claim{Person: model.Person{Name: name.Parse("Martha Smith")}}
		if got := New(c, nil).Stone(&model.Subject{Stone: &model.Stone{}}, claim).StrangeGiven(); got != strange {
			t.Errorf("Martha, of %d men one: strange given name %v, want %v", men, got, strange)
		}
	}
	for born, want := range map[string]float64{"1842": .1, "1837": .04, "1800": 0} {
		if year, share := stone("Amos Smith", born).Born(); fmt.Sprint(year) != born || math.Abs(share-want) > 1e-6 {
			t.Errorf("born %s: share %.4f of the men a year, want %v", born, share, want)
		}
	}
	if year, _ := stone("Amos Smith", "").Born(); year != 0 {
		t.Errorf("born in %d, and the stone does not say it", year)
	}
	if got := stone("Amos Smyth", "").SurnameLevels(); !slices.Equal(got, []string{"different", "spelling"}) {
		t.Errorf("Smyth agrees with names at %v", got)
	}
}

// TestEveryLevelHasARow finds a level that the code gives and the table lacks: start would panic on it.
func TestEveryLevelHasARow(t *testing.T) {
	for k, l := range table().rows[1:] {
		if !(l.m > 0 && l.m <= 1) {
			t.Errorf("%v: m %v is not a probability", k, l.m)
		}
	}
	for field, levels := range map[string][]string{ // start panics where a row is missing
		"surname":          {"same", "spelling", "worn", "near", "two letters", "sound", "translated", "different", "fits", "nearly fits", "does not fit"},
		"unlisted surname": {"translated"},
		"given":            {"same", "short form", "near", "middle", "middle initial", "different", "initial", "other initial", "written out", "same short", "other short", "not short for", "other sex"},
		"suffix":           {"same", "different", "stone only", "record only"},
		"death":            {"same day", "same month", "same year", "one year", "ten years", "different", "year agrees", "next year", "another year"},
		"unit":             {"company", "worn company", "other company", "worn digit", "one digit", "state and arm", "different", "regiment", "number", "number and company", "part", "redesignated"},
	} {
		for _, l := range levels {
			start(field, l)
		}
	}
	// The levels that can come about between two whole surnames are exclusive and exhaustive: their m sum to 1.
	sum := 0.0
	for _, l := range []string{"same", "spelling", "worn", "near", "two letters", "sound", "different"} {
		sum += start("surname", l).m
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("the m of the surname's levels sum to %v, want 1", sum)
	}
}

// TestKinHome works the chance by hand: of two men of one company who bear a name that one man in a thousand bears, 1.7 of 2.7 are kin, and live where he does as surely as he.
func TestKinHome(t *testing.T) {
	if got, want := kinHome(.45, .1, .001), (1.7*.45+.1)/2.7; math.Abs(got-want) > 1e-12 {
		t.Errorf("got %v, want %v", got, want)
	}
}
