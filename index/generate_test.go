package index

import (
	"fmt"
	"iter"
	"math/rand/v2"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
)

// A county is an invented survey with a known truth: men of skewed surnames in regiments and companies, and damaged stones of some of them.
type county struct {
	seed     uint64
	rng      *rand.Rand
	surnames []string
	zipf     *rand.Zipf
	states   []model.State
}

var (
	onsets = strings.Fields("b br c ch cl d dr f fl g gr h j k l m mc n p pr r s sch sh sm st t th tr v w wh y")
	vowels = strings.Fields("a e i o u ai ea ee oo ou")
	codas  = strings.Fields("l ll n nd ng r rd rn rt s sh sk st t ck m mp p x ke ne te ley ton man son ford er field berg well")
	givens = strings.Fields("john john john john william william william william james james james george george george charles charles henry henry " +
		"thomas thomas joseph joseph samuel david robert edward peter frederick albert daniel andrew michael francis jacob benjamin isaac elijah " +
		"nathaniel ezekiel orrin lucius josiah levi amos silas jasper hiram")
)

func newCounty(seed uint64, surnames int) *county {
	c := &county{seed: seed, rng: rand.New(rand.NewPCG(seed, 1864)), states: []model.State{"OH", "NY", "PA", "IL", "IN", "WI", "MI", "IA", "MO", "KY"}}
	c.zipf = rand.NewZipf(c.rng, 1.15, 12, uint64(surnames-1))
	seen := map[string]bool{}
	for len(c.surnames) < surnames {
		s := c.pick(onsets) + c.pick(vowels) + c.pick(codas)
		if c.rng.IntN(3) == 0 {
			s += c.pick(vowels) + c.pick(codas)
		}
		if !seen[s] && len(s) > 3 {
			seen[s] = true
			c.surnames = append(c.surnames, s)
		}
	}
	return c
}

func (c *county) pick(list []string) string { return list[c.rng.IntN(len(list))] }

func title(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// record is the man of that number.
func (c *county) record(i int) *model.Record {
	state := c.states[min(c.rng.IntN(len(c.states)), c.rng.IntN(len(c.states)))]
	arm := model.Arm("infantry")
	number := 1 + c.rng.IntN(150)
	if c.rng.IntN(6) == 0 {
		arm, number = "cavalry", 1+c.rng.IntN(15)
	}
	born := 1815 + c.rng.IntN(32)
	r := &model.Record{ID: model.RecordID(fmt.Sprintf("R%07d", i)), Source: model.Source{File: "roster.csv", Row: i + 2}}
	r.Person.Name = model.Name{Surname: title(c.surnames[c.zipf.Uint64()]), Given: title(c.pick(givens))}
	if c.rng.IntN(3) == 0 {
		r.Person.Name.Middle = string(rune('A' + c.rng.IntN(23)))
	}
	r.Person.Name.Written = r.Person.Name.Surname + ", " + r.Person.Name.Given
	r.Person.Born = year(born)
	r.Service.Unit = model.Unit{State: state, Number: number, Arm: arm, Company: string("ABCDEFGHIK"[c.rng.IntN(10)])}
	r.Service.Unit.Written = fmt.Sprintf("Co. %s, %d %s %s", r.Service.Unit.Company, number, state, arm)
	r.Service.Rank, r.Service.Conflicts, r.Service.Side = "private", []model.ConflictCode{"civil-war"}, model.Union
	r.Service.Enlisted = year(1861 + c.rng.IntN(4))
	r.Written = []model.Cell{{Column: "id", Value: string(r.ID)}, {Column: "name", Value: r.Person.Name.Written}, {Column: "unit", Value: r.Service.Unit.Written},
		{Column: "born", Value: fmt.Sprint(born)}}
	return r
}

func (c *county) roster(n int) []*model.Record {
	list := make([]*model.Record, n)
	for i := range list {
		list[i] = c.record(i)
	}
	return list
}

func year(y int) date.Date {
	return date.Date{EDTF: fmt.Sprint(y), From: date.Day{Year: y, Month: 1, Day: 1}, To: date.Day{Year: y, Month: 12, Day: 31}}
}

// lookAlikes are capitals that wear alike, by eye.
var lookAlikes = map[byte]string{'c': "go", 'o': "cq", 'e': "f", 'f': "ep", 'i': "lt", 'l': "it", 'n': "hm", 'h': "n", 'm': "n", 'r': "pk", 'p': "r", 's': "b", 'b': "r", 'u': "v", 'v': "u", 'd': "o", 't': "i", 'g': "c"}

// wear damages each letter of a word with that probability: half are lost, the others misread, left out, put in or swapped.
func (c *county) wear(s string, p float64) string {
	var b []byte
	for i := 0; i < len(s); i++ {
		ch := s[i]
		switch {
		case c.rng.Float64() >= p:
			b = append(b, ch)
		case c.rng.IntN(2) == 0:
			b = append(b, '?')
		default:
			switch k := c.rng.IntN(6); {
			case k < 3 && lookAlikes[ch|0x20] != "":
				a := lookAlikes[ch|0x20]
				b = append(b, a[c.rng.IntN(len(a))])
			case k == 3:
			case k == 4:
				b = append(b, ch, ch)
			case k == 5 && i+1 < len(s):
				b = append(b, s[i+1], ch)
				i++
			default:
				b = append(b, byte('a'+c.rng.IntN(26)))
			}
		}
	}
	return string(b)
}

// stone is the damaged stone of a man: letters worn with probability p, the given name an initial for a quarter, the unit unknown for two in five, the
// birth within two years for half.
func (c *county) stone(i int, r *model.Record, p float64) *model.Subject {
	claim := model.Claim{}
	claim.Person.Name.Surname = leiden(c.wear(r.Person.Name.Surname, p))
	if g := r.Person.Name.Given; c.rng.IntN(4) == 0 {
		claim.Person.Name.Given = g[:1]
	} else {
		claim.Person.Name.Given = leiden(c.wear(g, p))
	}
	if c.rng.IntN(5) >= 2 {
		claim.Service.Unit = r.Service.Unit
		if c.rng.IntN(8) == 0 {
			claim.Service.Unit.Company = ""
		}
	}
	if c.rng.IntN(2) == 0 {
		claim.Person.Born = year(r.Person.Born.From.Year + c.rng.IntN(5) - 2)
	}
	return subject(fmt.Sprintf("S%05d", i), claim)
}

// leiden writes lost letters as a recorder does.
func leiden(s string) string { return strings.ReplaceAll(s, "?", "[.]") }

func subject(id string, claims ...model.Claim) *model.Subject {
	s := &model.Subject{Stone: &model.Stone{ID: model.StoneID(id)}}
	s.Stone.Place.State = "WI"
	for _, c := range claims {
		s.Readings = append(s.Readings, model.Reading{People: []model.Claim{c}, Probability: 1 / float64(len(claims))})
	}
	return s
}

func inputs(records []*model.Record, digest string) Inputs {
	return Inputs{Rosters: digest, Records: slices.Values(records)}
}

// generated gives n records without holding them.
func generated(seed uint64, surnames, n int) iter.Seq[*model.Record] {
	return func(yield func(*model.Record) bool) {
		c := newCounty(seed, surnames)
		for i := range n {
			if !yield(c.record(i)) {
				return
			}
		}
	}
}
