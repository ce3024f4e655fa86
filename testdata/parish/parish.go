// Package parish makes surveys with known truth of another kind than package county does: a settlement of immigrants with few surnames among
// many men, rosters by two clerks of whom each has his own way, a burial register beside the stones, letters damaged one by one. It was long held out: the
// program was tuned on county and only measured on parish, until parish was looked at too. All persons are invented; every name's weight and every rate is a judgement of this
// package, taken from nowhere.
//
// It shares no code with the program's reading or weighing, nor with county: what it writes is text, as clerks and volunteers would.
package parish

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"musterstone/testdata/table"
)

// Options say what to make.
type Options struct {
	Seed    uint64
	Records int // rows of both rosters together
	Stones  int // stones and rows of the burial register together
	Messy   bool
}

type day struct{ year, month, date int }

type man struct {
	surname, given, second, suffix string
	state, arm, company            string
	regiment                       int
	rankIn, rankOut                string
	born, enlisted, out, died      day
	inService                      bool // died in it
	town                           string
	grave                          string  // the ground where he lies
	rows                           []entry // of the rosters
}

// entry is a row of a roster: a clerk's own writing of the man.
type entry struct {
	id    string
	clerk int
}

type maker struct {
	*rand.Rand
	opt      Options
	surnames *skewed
	givens   *skewed
	damage   float64 // per letter of a stone
	men      []*man
}

// Make writes stones.csv, register.csv, roster-adjutant.csv, roster-history.csv and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 0xC0FFEE)), opt: opt, damage: 0.012}
	if opt.Messy {
		m.damage = 0.03
	}
	m.surnames = m.coin(opt.Records)
	m.givens = newSkewed(givens, 0.85)
	adjutant, history := m.rosters()
	stones, register, truth := m.graves()
	for _, t := range []struct {
		name string
		rows [][]string
	}{{"roster-adjutant.csv", adjutant}, {"roster-history.csv", history}, {"stones.csv", stones}, {"register.csv", register}, {"truth.csv", truth}} {
		if err := table.Write(filepath.Join(dir, t.name), t.rows); err != nil {
			return err
		}
	}
	return nil
}

// skewed draws words nearly by Zipf's law: the n-th word has weight 1/(n+2)^s.
type skewed struct {
	words []string
	cumul []float64
}

func newSkewed(words []string, s float64) *skewed {
	k := &skewed{words: words}
	total := 0.0
	for i := range words {
		total += 1 / math.Pow(float64(i+3), s)
		k.cumul = append(k.cumul, total)
	}
	return k
}

func (m *maker) draw(k *skewed) string {
	i, _ := slices.BinarySearch(k.cumul, m.Float64()*k.cumul[len(k.cumul)-1])
	return k.words[i]
}

func (m *maker) oneOf(words ...string) string { return words[m.IntN(len(words))] }

// often is true at one of two rates, the second for a messy survey.
func (m *maker) often(clean, messy float64) bool {
	if m.opt.Messy {
		return m.Float64() < messy
	}
	return m.Float64() < clean
}

var common = strings.Fields(`Olson Johnson Anderson Schmidt Meyer Peterson Larson Mueller Nelson Hanson Kelly Murphy Weber Wagner Schultz
	Sullivan Becker Hoffman Knutson Halvorson Gunderson McCarthy O'Brien Krueger Zimmerman Schroeder Evenson Thompson Jones Williams Davies Evans
	Roberts Hughes LeBlanc Beaudoin Dufresne Novak Dvorak Svoboda Kowalski VanderMeer DeVries McGuire McMahon Fitzgerald Donovan Baumgartner
	Steinbach Ellefson Torgerson Tollefson Swenson Carlson Erickson Christianson Lindquist Bergstrom Nygaard Haugen Bakke Lund Dahl Berg`)
var heads = strings.Fields("Acker Birk Blanken Brock Clap Cress Dorn Ebers Eich Fal Feld Gers Grün Hag Hartl Hollen Kall Kirsch Krans Lach Lang Lind Mans Mor Neu Ober Oster Pfann Quast Rau Reich Rose Sand Schön Stein Stroh Tann Thal Uhl Wald Weis Win Wolf Zell Aas Bjorn Fjel Hjel Kvam Nord Sol Stor Ved Arm Bal Crof Dun Ferg Gil Kil Lough Mac Kin Tul Ard Pen Tre Llan")
var tails = strings.Fields("mann berger bach haus heim hof stad strom gaard land rud vik nes dal ley more nan gan ney van ter ner ler auer ing hardt wald holt feldt stein brecht horn kamp eau ard ette ois")

// coin makes the surnames of a settlement: sixty that half the men share, and a long tail, longer the more men there are.
func (m *maker) coin(records int) *skewed {
	seen := map[string]bool{}
	words := append([]string{}, common...)
	for tries := 0; len(words) < len(common)+records/12 && tries < records; tries++ {
		w := strings.ReplaceAll(strings.ReplaceAll(m.oneOf(heads...), "ü", "ue"), "ö", "oe")
		if m.IntN(3) == 0 {
			w += m.oneOf("e", "el", "en", "er", "i", "o", "a")
		}
		w += m.oneOf(tails...)
		if !seen[w] {
			seen[w] = true
			words = append(words, w)
		}
	}
	return newSkewed(words, 0.9)
}

var givens = strings.Fields(`John William Ole Henry Charles Peter Andrew Frederick Nels Thomas James August Christian Michael George Hans Lars
	Joseph Patrick Knud Jacob Adam Herman Anton Carl Gottfried Daniel David Edward Louis Martin Philip Samuel Robert Francis Albert Theodore
	Erick Halvor Iver Gustav Nicholas Matthias Conrad Valentine Bernard Dennis Cornelius Jeremiah Timothy Hugh Owen Evan Griffith Benjamin
	Stephen Simon Adolph Rudolph Emil Oscar Ferdinand Ludwig Leonard Lorenz Casper Balthasar Wenzel Frank Elias Ezekiel Orrin Lyman Alvin`)
var short = map[string][]string{"William": {"Wm.", "Will", "Billy"}, "John": {"Jno.", "Johnny"}, "Charles": {"Chas.", "Charlie"}, "Frederick": {"Fredk.", "Fred", "Fritz"}, "Henry": {"Hy.", "Harry"}, "Andrew": {"Andw.", "Andy"},
	"Thomas": {"Thos.", "Tom"}, "James": {"Jas.", "Jim"}, "Michael": {"Michl.", "Mike"}, "George": {"Geo."}, "Joseph": {"Jos.", "Joe"}, "Patrick": {"Patk."}, "Jacob": {"Jac.", "Jake"}, "Daniel": {"Danl.", "Dan"},
	"Edward": {"Edwd.", "Ed"}, "Samuel": {"Saml.", "Sam"}, "Robert": {"Robt.", "Bob"}, "Nicholas": {"Nick"}, "Benjamin": {"Benj.", "Ben"}, "Christian": {"Chris"}, "Matthias": {"Matt"}, "Theodore": {"Theo."}, "Cornelius": {"Corn."}, "Jeremiah": {"Jerry"}}

// raising has for each state its weight, and how many regiments its rosters know.
var raising = []struct {
	state             string
	weight            int
	infantry, cavalry int
}{{"Wisconsin", 50, 53, 4}, {"Minnesota", 18, 11, 2}, {"Iowa", 12, 48, 9}, {"Illinois", 14, 156, 17}, {"Ohio", 6, 190, 13}}

func (m *maker) newMan(kin *man) *man {
	p := &man{given: m.draw(m.givens), rankIn: "Private"}
	if m.Float64() < 0.22 {
		p.second = m.draw(m.givens)
	}
	if kin != nil {
		p.surname, p.state, p.arm, p.regiment, p.town = kin.surname, kin.state, kin.arm, kin.regiment, kin.town
		p.company = kin.company
		if m.IntN(6) == 0 { // father and son
			p.given, p.suffix, kin.suffix = kin.given, "Jr.", "Sr."
		}
	} else {
		p.surname = m.draw(m.surnames)
		n := m.IntN(100)
		for _, r := range raising {
			if n -= r.weight; n < 0 {
				p.state, p.arm, p.regiment = r.state, "Infantry", 1+m.IntN(r.infantry)
				if m.IntN(8) == 0 {
					p.arm, p.regiment = "Cavalry", 1+m.IntN(r.cavalry)
				}
				break
			}
		}
		p.company = string("ABCDEFGHIK"[m.IntN(10)])
		p.town = m.oneOf(towns...)
	}
	switch n := m.IntN(100); {
	case n < 14:
		p.rankOut = "Corporal"
	case n < 22:
		p.rankOut = "Sergeant"
	case n < 25:
		p.rankOut = m.oneOf("First Sergeant", "Second Lieutenant", "First Lieutenant", "Captain")
	case n < 28:
		p.rankIn = m.oneOf("Musician", "Wagoner")
		p.rankOut = p.rankIn
	default:
		p.rankOut = "Private"
	}
	year := 1861 + m.IntN(4)
	p.born = m.dayIn(year - 17 - min(m.IntN(14), m.IntN(30)))
	p.enlisted = m.dayIn(year)
	if m.IntN(7) == 0 {
		p.inService = true
		p.died = m.dayIn(min(1865, year+1))
	} else {
		p.out = m.dayIn(1864 + m.IntN(2))
		if p.out.year == year {
			p.out.year++
		}
		p.died = m.dayIn(1868 + m.IntN(60))
	}
	p.grave = m.oneOf(grounds...)
	return p
}

var towns = strings.Fields("Ashwick Bellmont Corrigan Drayfield Elderon Fallbrook Glenwick Harmony Ironton Josephine Koshka Lindhaven")
var grounds = []string{"St. Olaf's Churchyard", "Oak Knoll Cemetery", "Our Redeemer Lutheran", "Holy Cross Catholic Cemetery", "Fallbrook Union Cemetery"}

func (m *maker) dayIn(year int) day { return day{year, 1 + m.IntN(12), 1 + m.IntN(28)} }

// heaped is an age as men give it: often the nearest five, the youngest eighteen and the oldest forty-four.
func (m *maker) heaped(age int) int {
	switch {
	case age < 18:
		return 18
	case age > 44:
		return 44
	case m.IntN(3) == 0:
		return (age + 2) / 5 * 5
	case m.IntN(6) == 0:
		return age + m.IntN(3) - 1
	}
	return age
}

// rosters makes the men and what two clerks wrote of them: the adjutant general's clerk has columns for everything, the regimental historians have
// a name, a unit and remarks. A man transferred may stand in both.
func (m *maker) rosters() (adjutant, history [][]string) {
	adjutant = [][]string{strings.Split("id,surname,given,rank_in,rank_out,company,regiment,arm,state,enlisted,mustered_out,age,residence,died,remarks", ",")}
	history = [][]string{strings.Split("id,name,rank,unit,enlisted,remarks", ",")}
	for n := 0; n < m.opt.Records; {
		var kin *man
		if len(m.men) > 0 && m.IntN(5) == 0 {
			kin = m.men[len(m.men)-1-m.IntN(min(3, len(m.men)))]
		}
		p := m.newMan(kin)
		m.men = append(m.men, p)
		clerk := 0
		if p.regiment%3 == 0 {
			clerk = 1
		}
		for {
			n++
			e := entry{id: fmt.Sprintf("%s%d", []string{"AG-", "RH-"}[clerk], n), clerk: clerk}
			p.rows = append(p.rows, e)
			if clerk == 0 {
				adjutant = append(adjutant, m.adjutantRow(e, p))
			} else {
				history = append(history, m.historyRow(e, p))
			}
			if len(p.rows) == 2 || m.IntN(70) != 0 {
				break
			}
			clerk = 1 - clerk
		}
	}
	return adjutant, history
}

func (m *maker) adjutantRow(e entry, p *man) []string {
	given := p.given
	if s := short[given]; s != nil && m.IntN(12) == 0 {
		given = s[0]
	}
	if p.second != "" && m.IntN(3) > 0 {
		given += " " + p.second[:1] + "."
	}
	if p.suffix != "" && m.IntN(2) == 0 {
		given += ", " + p.suffix
	}
	died, remarks, residence := "", "", ""
	switch {
	case p.inService:
		died, remarks = written(p.died), m.oneOf("Died of fever", "Killed in action", "Died of wounds")
	case m.IntN(25) == 0:
		remarks = "Buried at " + p.grave
	}
	if m.IntN(4) > 0 {
		residence = p.town
	}
	age := strconv.Itoa(m.heaped(p.enlisted.year - p.born.year))
	if m.IntN(8) == 0 {
		age = ""
	}
	return []string{e.id, m.clerkSpells(p.surname), given, p.rankIn, p.rankOut, p.company, strconv.Itoa(p.regiment), p.arm, p.state, written(p.enlisted), written(p.out), age, residence, died, remarks}
}

func (m *maker) historyRow(e entry, p *man) []string {
	given := p.given
	switch {
	case m.IntN(10) == 0:
		given = given[:1] + "."
		if p.second != "" {
			given += " " + p.second[:1] + "."
		}
	case p.second != "" && m.IntN(2) == 0:
		given += " " + p.second
	}
	n := m.clerkSpells(p.surname) + ", " + given
	if p.suffix != "" {
		n += ", " + p.suffix
	}
	remarks := "Mustered out " + written(p.out)
	if p.inService {
		remarks = "Died " + written(p.died)
	}
	return []string{e.id, n, p.rankOut, fmt.Sprintf("Co. %s, %s %s %s.", p.company, nth(p.regiment), stateShort[p.state], map[string]string{"Infantry": "Inf", "Cavalry": "Cav"}[p.arm]), written(p.enlisted), remarks}
}

// clerkSpells is a surname as a clerk heard it: one in fifteen otherwise than the family.
func (m *maker) clerkSpells(s string) string {
	if m.IntN(15) != 0 {
		return s
	}
	for _, i := range m.Perm(len(heard)) {
		if h := heard[i]; strings.Contains(s[1:], h[0]) {
			return s[:1] + strings.Replace(s[1:], h[0], h[1], 1)
		}
	}
	return s
}

var heard = [][2]string{{"son", "sen"}, {"ei", "ie"}, {"mann", "man"}, {"ck", "k"}, {"dt", "tt"}, {"oe", "o"}, {"ue", "u"}, {"er", "ar"}, {"ll", "l"}, {"tz", "ts"}, {"v", "w"}, {"sch", "sh"}, {"aa", "o"}, {"eau", "o"}, {"f", "ph"}, {"nn", "n"}}
var stateShort = map[string]string{"Wisconsin": "Wis.", "Minnesota": "Minn.", "Iowa": "Iowa", "Illinois": "Ill.", "Ohio": "Ohio"}
var monthNames = strings.Fields("January February March April May June July August September October November December")

func written(d day) string {
	if d.year == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d, %d", monthNames[d.month-1], d.date, d.year)
}

func nth(n int) string {
	switch {
	case n%10 == 1 && n%100 != 11:
		return strconv.Itoa(n) + "st"
	case n%10 == 2 && n%100 != 12:
		return strconv.Itoa(n) + "nd"
	case n%10 == 3 && n%100 != 13:
		return strconv.Itoa(n) + "rd"
	}
	return strconv.Itoa(n) + "th"
}
