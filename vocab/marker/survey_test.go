package marker_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	. "musterstone/vocab/marker"
)

// The surveys below are invented, and their noise is written apart from the model's. It differs in these ways:
//
//   - Errors of measure are even (no normal tails): cutting within 1/8 inch, weather takes up to 1/4 inch off, and the tape is read to the whole inch by
//     half the recorders, by cutting off rather than rounding, and to the half inch by the others. The model has normal errors and rounding.
//   - One measure in 60 is wrong by one to five inches either way. The model spreads blunders over five feet.
//   - A recorder errs on a code by a flat rate, towards one of one or two neighbours. The model has full tables of confusion.
//   - Every tenth recorder is careless and errs three times as often, on all of a stone's fields. The model has the errors independent.
//   - Words are drawn by rules written from the published descriptions of what each inscription holds, not from the model's shares.
//   - How often each pattern occurs is a list of its own, with more government stones than the model's prior has, as in a survey of soldiers' graves.

type truth struct {
	code                             string
	weight                           float64
	top, material, lettering, device string
	setting                          string
	width                            float64
	words                            func(r *rand.Rand) model.Reading
	emblem                           float64
}

var truths = []truth{
	{"civil-war-1873", 8, "slightly rounded", "white marble", "raised", "recessed shield", "upright", 10, unionWords, 0},
	{"civil-war-1903", 14, "rounded", "white marble", "raised", "recessed shield", "upright", 12, unionWords, 0},
	{"spanish-american", 4, "rounded", "white marble", "raised", "recessed shield", "upright", 12, spanishWords, 0},
	{"confederate-1906", 2, "pointed", "white marble", "incised", "none", "upright", 12, southWords, 0},
	{"confederate-1930", 4, "pointed", "white marble", "incised", "confederate cross", "upright", 12, southWords, 0},
	{"unknown-block", 1, "flat", "white marble", "incised", "none", "block", 6, numberWords, 0},
	{"general-1922", 7, "slightly rounded", "white marble", "incised", "none", "upright", 13, firstWarWords, .5},
	{"upright-marble", 7, "slightly rounded", "white marble", "incised", "none", "upright", 13, laterWords, .7},
	{"upright-granite", 2, "slightly rounded", "granite", "incised", "none", "upright", 13, laterWords, .7},
	{"flat-marble", 3, "flat", "white marble", "incised", "none", "flush", 24, laterWords, .6},
	{"flat-granite", 7, "flat", "granite", "incised", "none", "flush", 24, laterWords, .7},
	{"flat-bronze", 8, "flat", "bronze", "raised", "none", "flush", 24, laterWords, .7},
	{"reissue-xa", .5, "rounded", "white marble", "raised", "recessed shield", "upright", 12, unionWords, 0},
	{"reissue-xc", .3, "rounded", "white marble", "raised", "recessed shield", "upright", 10, unionWords, 0},
	{"reissue-confederate", .8, "pointed", "white marble", "incised", "confederate cross", "upright", 13, southWords, 0},
	{"general-shield", .5, "slightly rounded", "white marble", "incised", "outline shield", "upright", 13, unionWords, 0},
	{"medallion", .6, "other", "bronze", "raised", "folded flag", "flush", 3.75, medallionWords, 0},
	{"niche-bronze", .5, "flat", "bronze", "raised", "none", "niche", 8.5, laterWords, .6},
	{"not-government", 33, "", "", "", "", "", 0, privateWords, .05},
}

func pick(r *rand.Rand, list ...string) string { return list[r.IntN(len(list))] }

func unionWords(r *rand.Rand) model.Reading {
	c := model.Claim{Service: model.Service{Unit: model.Unit{State: model.State(pick(r, "OH", "IN", "IL", "NY", "PA", "WI", "MO", "KY")), Number: 1 + r.IntN(150),
		Arm: model.Arm(pick(r, "infantry", "infantry", "infantry", "cavalry")), Company: pick(r, "A", "B", "C", "D", "E", "F", "G", "H", "I", "K")}}}
	if r.IntN(4) == 0 {
		c.Service.Rank = model.Rank(pick(r, "corporal", "sergeant", "musician"))
	}
	if r.IntN(12) == 0 {
		c.Service.Unit = model.Unit{Body: model.BodyUSCT, Number: 1 + r.IntN(120), Arm: "infantry", Company: "B"}
	}
	if r.IntN(8) == 0 {
		c.Person.Died = year(1862 + r.IntN(60))
	}
	out := reading(c)
	if r.IntN(5) == 0 {
		out.GraveNumber = fmt.Sprint(1 + r.IntN(3000))
	}
	return out
}

func spanishWords(r *rand.Rand) model.Reading {
	return reading(model.Claim{Service: model.Service{Unit: model.Unit{State: model.State(pick(r, "OH", "IA", "KS", "NE", "")), Number: 1 + r.IntN(60), Arm: "infantry", Company: "L"},
		Conflicts: []model.ConflictCode{"spanish-american-war"}}})
}

func southWords(r *rand.Rand) model.Reading {
	c := model.Claim{Service: model.Service{Unit: model.Unit{State: model.State(pick(r, "GA", "TN", "VA", "AR", "LA", "NC")), Number: 1 + r.IntN(60), Arm: "infantry", Company: "C"}}}
	if r.IntN(3) > 0 {
		c.Service.Side, c.Service.Conflicts = model.Confederate, []model.ConflictCode{"civil-war"}
	}
	return reading(c)
}

func numberWords(r *rand.Rand) model.Reading {
	return model.Reading{GraveNumber: fmt.Sprint(1 + r.IntN(2000)), Unknown: true, Probability: 1}
}

func firstWarWords(r *rand.Rand) model.Reading {
	c := model.Claim{Home: model.State(pick(r, "OH", "GA", "IA", "MN")), Person: model.Person{Died: year(1922 + r.IntN(22))},
		Service: model.Service{Rank: "private", Unit: model.Unit{Number: 101 + r.IntN(260), Arm: "infantry", Division: 26 + r.IntN(60)}}}
	if r.IntN(3) > 0 {
		c.Service.Conflicts = []model.ConflictCode{"world-war-i"}
	}
	return reading(c)
}

func laterWords(r *rand.Rand) model.Reading {
	war, born := "world-war-ii", 1910+r.IntN(17)
	switch r.IntN(8) {
	case 0:
		war, born = "korea", 1928+r.IntN(8)
	case 1:
		war, born = "vietnam", 1940+r.IntN(12)
	case 2, 3:
		war, born = "world-war-i", 1888+r.IntN(12)
	}
	died := born + 35 + r.IntN(50)
	if died < 1950 {
		died = 1950 + r.IntN(15)
	}
	c := model.Claim{Person: model.Person{Born: year(born), Died: year(died)},
		Service: model.Service{Rank: "private", Branch: model.Branch(pick(r, "army", "navy")), Conflicts: []model.ConflictCode{model.ConflictCode(war)}}}
	if r.IntN(2) == 0 && died < 1975 {
		c.Home = "OH"
	}
	return reading(c)
}

func medallionWords(r *rand.Rand) model.Reading {
	return model.Reading{People: []model.Claim{{Service: model.Service{Branch: model.Branch(pick(r, "army", "navy"))}}}, Probability: 1}
}

// privateWords are those of a private stone: one in ten of a veteran.
func privateWords(r *rand.Rand) model.Reading {
	born := 1790 + r.IntN(150)
	c := model.Claim{Person: model.Person{Born: year(born), Died: year(min(born+20+r.IntN(65), 2015))}}
	if r.IntN(4) == 0 {
		c.Person.Born = date.Date{}
	}
	if r.IntN(10) == 0 && born > 1825 && born < 1848 {
		c.Service.Unit = model.Unit{State: "OH", Number: 1 + r.IntN(190), Arm: "infantry", Company: "A"}
	}
	if r.IntN(3) == 0 {
		c.Person.Relation = pick(r, "wife", "son", "daughter")
	}
	out := reading(c)
	if r.IntN(3) == 0 {
		out.People = append(out.People, model.Claim{Person: model.Person{Name: named("Holden"), Relation: "wife"}})
	}
	return out
}

// look records a code with the recorder's error rate, towards a neighbour.
func look(r *rand.Rand, rate float64, value string, neighbours ...string) string {
	if r.Float64() < rate && len(neighbours) > 0 {
		return pick(r, neighbours...)
	}
	return value
}

func tape(r *rand.Rand, x float64) model.Inches {
	x += (r.Float64()*2 - 1) / 8 // the cutting
	if x > 5 {
		x -= r.Float64() / 4 // the weather
	}
	if r.IntN(60) == 0 {
		x += float64(1+r.IntN(5)) * float64(1-2*r.IntN(2))
	}
	if x > 2 {
		if r.IntN(2) == 0 {
			x = math.Floor(x + .35)
		} else {
			x = math.Floor(x*2+.6) / 2
		}
	} else {
		x = math.Floor(x*8+.5) / 8
	}
	return model.Inches(math.Max(x, .125))
}

// stone draws a stone as recorded. what says which fields are seen: "shape", "width", "lettering".
func (t truth) stone(r *rand.Rand, what string) (*model.Stone, model.Reading) {
	var m model.Marker
	rate := .04
	if r.IntN(10) == 0 {
		rate = .12
	}
	if t.code == "not-government" {
		t.top, t.material = pick(r, "rounded", "slightly rounded", "pointed", "flat", "square", "square", "other", "oval"), pick(r, "marble", "white marble", "granite", "granite", "granite", "sandstone", "slate", "zinc")
		t.lettering, t.device, t.setting = pick(r, "incised", "incised", "raised"), pick(r, "none", "none", "none", "none", "none", "none", "other"), pick(r, "upright", "upright", "upright", "flush")
		t.width = 8 + r.Float64()*30
	}
	if t.code == "civil-war-1873" && r.IntN(10) < 4 {
		t.top = "rounded" // the letter of 1873 says slightly curved; later bidders cut the half-round
	}
	if strings.Contains(what, "shape") {
		switch t.top {
		case "rounded":
			m.Top = look(r, rate*2, t.top, "slightly rounded", "oval")
		case "slightly rounded":
			m.Top = look(r, rate*3, t.top, "rounded", "flat")
		case "flat", "square":
			m.Top = look(r, rate*3, t.top, "square", "flat", "slightly rounded")
		default:
			m.Top = look(r, rate/2, t.top, "rounded", "other")
		}
		m.Material = t.material
		if t.material == "white marble" {
			m.Material = look(r, .4, "white marble", "marble")
			m.Material = look(r, rate, m.Material, "granite", "sandstone", "concrete")
		} else {
			m.Material = look(r, rate, m.Material, "granite", "marble", "other")
		}
		switch t.device {
		case "recessed shield":
			m.Device = look(r, rate, t.device, "outline shield", "none")
		case "confederate cross":
			m.Device = look(r, rate*2, t.device, "none", "other")
		default:
			m.Device = look(r, rate, t.device, "other")
		}
		m.Setting = look(r, rate/2, t.setting, "upright", "flush", "block")
	}
	if strings.Contains(what, "width") {
		m.Width = tape(r, t.width)
	}
	if strings.Contains(what, "lettering") {
		m.Lettering = look(r, rate, t.lettering, "incised", "raised")
	}
	if r.Float64() < t.emblem {
		m.Emblem = "01"
	}
	if t.code == "medallion" {
		m.Inscription = "VETERAN\nARMY"
	}
	return &model.Stone{Marker: m}, t.words(r)
}

func draw(r *rand.Rand) truth {
	sum := 0.
	for _, t := range truths {
		sum += t.weight
	}
	x := r.Float64() * sum
	for _, t := range truths {
		if x -= t.weight; x < 0 {
			return t
		}
	}
	return truths[0]
}

func TestInventedSurveys(t *testing.T) {
	const stones = 6000
	for _, c := range []struct {
		what string
		want float64
	}{
		{"shape width lettering", .97},
		{"shape", .85},
	} {
		t.Run(c.what, func(t *testing.T) {
			r := rand.New(rand.NewPCG(1873, 1903))
			right := 0.
			var hits, sums, count [10]float64
			wrong := map[string]int{}
			for range stones {
				k := draw(r)
				s, words := k.stone(r, c.what)
				imp := Imply(s, words)
				code, p := imp.Best()
				bin := min(int(p*10), 9)
				count[bin]++
				sums[bin] += p
				if string(code) == k.code {
					right++
					hits[bin]++
				} else {
					wrong[k.code+" as "+string(code)]++
				}
			}
			ece := 0.
			for b := range count {
				ece += math.Abs(hits[b]-sums[b]) / stones
			}
			t.Logf("%s: %.4f right of %d, calibration error %.4f", c.what, right/stones, stones, ece)
			for b := range count {
				t.Logf("  told %.2f, right %.2f, of %.0f", sums[b]/count[b], hits[b]/count[b], count[b])
			}
			for k, n := range wrong {
				if n > 10 {
					t.Logf("  %s: %d", k, n)
				}
			}
			if right/stones < c.want {
				t.Errorf("%.4f right, want %.2f", right/stones, c.want)
			}
			if ece > .03 {
				t.Errorf("calibration error %.4f, want at most .03", ece)
			}
		})
	}
}

// TestPrivateStones asks that no civilian's stone passes for a government one.
func TestPrivateStones(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	private := truths[len(truths)-1]
	for _, what := range []string{"shape width lettering", "shape"} {
		worst := 0.
		for n := 0; n < 500; {
			s, words := private.stone(r, what)
			if !words.Claim().Service.IsZero() {
				continue
			}
			n++
			imp := Imply(s, words)
			gov := 1 - probability(imp, "not-government") - probability(imp, "unknown")
			worst = math.Max(worst, gov)
			if gov > .5 {
				t.Errorf("%s: a civilian's stone passes for a government one with %.3f: %+v %+v\n%v", what, gov, s.Marker, words, imp.Patterns)
			}
		}
		t.Logf("%s: worst of 500 is %.4f", what, worst)
	}
}

func BenchmarkImply(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	type pair struct {
		s *model.Stone
		w model.Reading
	}
	var list []pair
	for range 500 {
		k := draw(r)
		s, w := k.stone(r, "shape width lettering")
		if s.Marker.Inscription == "" {
			s.Marker.Inscription = "CORPL\nJNO. T. HOLDEN\nCO. F\n47 ILLS. INF.\nJUNE 4 1901" // as long as most, for the cost of looking through it
		}
		list = append(list, pair{s, w})
	}
	Imply(list[0].s, list[0].w)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		p := list[i%len(list)]
		i++
		Imply(p.s, p.w)
	}
	b.ReportMetric(float64(b.N)/b.Elapsed().Seconds(), "markers/s")
}
