package weigh

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// nations makes men of two peoples, in companies of both: of each a hundred surnames and ten given names, the first commoner than the last; two in five men have a given name that is common to both. With
// mixed, the names of both are drawn for every man.
func nations(men int, mixed bool) []*model.Record {
	r := rand.New(rand.NewPCG(5, 6))
	skewed := func(n int) int { return int(float64(n) * math.Pow(r.Float64(), 2)) }
	var out []*model.Record
	for i := range men {
		s, g := r.IntN(2), 0
		if g = s; mixed {
			g = r.IntN(2)
		}
		rec := &model.Record{ID: model.RecordID(fmt.Sprint("r", i))}
		rec.Person.Name = model.Name{Surname: fmt.Sprintf("%c%s", "BK"[s], word(skewed(100))), Given: fmt.Sprintf("%c%s", "AO"[g], word(skewed(10)))}
		if r.IntN(5) < 2 {
			rec.Person.Name.Given = "I" + word(skewed(10))
		}
		rec.Service.Unit = model.Unit{State: "WI", Number: 1 + i/1000, Arm: "infantry", Company: string(rune('A' + i/100%10))}
		out = append(out, rec)
	}
	return out
}

// word is a made name.
func word(i int) string {
	return string("aeiou"[i%5]) + string("lmnrst"[i/5%6]) + string("aeiou"[i/30%5]) + "n"
}

// TestPeoples: of a roster of two peoples, that a man bears a surname and a given name of one of them is about twice as common as by chance, and one of each as good as unheard of; where names are mixed, both are as by chance.
func TestPeoples(t *testing.T) {
	together := func(p *peoples, surname, given string) float64 {
		s, g, sum := p.surnames[surname], p.given[given], 0.0
		for k, share := range p.share {
			sum += share * s.Times(k) * g.Times(k)
		}
		return sum
	}
	for _, tt := range []struct {
		name           string
		mixed          bool
		surname, given string
		least, most    float64
	}{
		{"one people", false, "balan", "aalan", 1.6, 2.2},
		{"the other", false, "kalan", "oalan", 1.6, 2.2},
		{"one of each", false, "balan", "oalan", 0, .4},
		{"a name common to both", false, "balan", "ialan", .8, 1.2},
		{"a surname that no one bears", false, "quux", "oalan", .8, 1.2},
		{"mixed", true, "balan", "oalan", .85, 1.15},
		{"mixed, a rarer surname", true, "kesen", "aalan", .7, 1.3},
	} {
		c := Count(slices.Values(nations(6000, tt.mixed)))
		p := c.learnedPeoples()
		if got := together(p, tt.surname, tt.given); got < tt.least || got > tt.most {
			t.Errorf("%s: %s %s is %.2f times as common as by chance, want from %v to %v", tt.name, tt.given, tt.surname, got, tt.least, tt.most)
		}
		sum := 0.0
		for _, share := range p.share {
			sum += share
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%s: the shares of the peoples sum to %v", tt.name, sum)
		}
	}
	if p := (&Counts{}).learnedPeoples(); math.Abs(together(p, "balan", "aalan")-1) > 1e-9 {
		t.Error("of no men a name leans")
	}
}

// TestSample: of many men some twenty thousand are sampled, the same of records, of the columns and of parts in any order, and one who stands in two books once.
func TestSample(t *testing.T) {
	records := nations(60_000, false)
	all := Count(slices.Values(records))
	want := all.men()
	if n := len(want); n < peopleMen/3 || n > peopleMen*3/2 {
		t.Errorf("%d men are sampled of %d", n, len(records))
	}
	if d := cmp.Diff(want, pack(records).Counts().men()); d != "" {
		t.Errorf("(- of records, + of columns)\n%s", d)
	}
	parted := &Counts{}
	for _, part := range [][]*model.Record{records[50_000:], records[:100], records[100:50_000]} {
		parted.Merge(Count(slices.Values(part)))
	}
	if d := cmp.Diff(want, parted.men()); d != "" {
		t.Errorf("(- in one go, + in parts)\n%s", d)
	}
	few := nations(500, false)
	once := len(Count(slices.Values(few)).men())
	if twice := len(Count(slices.Values(append(few, few...))).men()); twice != once || once < 400 {
		t.Errorf("%d men in one book, %d in two", once, twice)
	}
}
