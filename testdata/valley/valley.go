// Package valley makes surveys with known truth of a third kind, other than those of county and parish: a valley of long-settled families, whose graveyards
// are full of civilians of the very surnames that stand on the rosters; rosters that list a man again when he enlists again, keep the letter that his company had before it
// was renamed, and the regiment that he was in before two of them were made one; substitutes who served under another name; names written down by ear; dates
// that a daughter remembered; and a burial register that copies the stones. It was written whole before the program was run on it once; since
// then two weights were changed after a look at what it showed. All persons are invented; every rate is a judgement of this package, taken from nowhere.
//
// It shares no code with the program's reading or weighing, nor with the other makers: what it writes is text, as clerks and volunteers would.
package valley

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
	Records int // rows of the rosters
	Stones  int // stones and rows of the register together
	Messy   bool
	// Wars adds rosters and stones of the wars of 1898 and 1917, whose men often bear the names of their grandfathers.
	Wars bool
}

type day struct{ y, m, d int }

// row is a row of a roster, of one man.
type row struct {
	id                              string
	surname                         string // as the clerk heard it
	company, arm, state             string
	regiment                        int
	rankIn, rankOut, remark         string
	enlisted, out                   day
	age                             int
	died                            day
	given, middle, suffix, conflict string
}

type man struct {
	war                            int // 0 that of 1861, 1 that of 1898, 2 that of 1917
	surname, given, middle, suffix string
	born, died                     day
	place                          string
	rows                           []row
	// later is the unit that his family remembers, where it is not that of his last row.
	later *row
}

type maker struct {
	*rand.Rand
	opt   Options
	cumul []float64
	names []string
	men   []*man
	hurt  float64 // letters lost or misread, each
}

// Make writes stones.csv, register.csv, roster-state.csv, roster-other-wars.csv where there are other wars, and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 0x5A11E4)), opt: opt, hurt: .009}
	if opt.Messy {
		m.hurt = .026
	}
	m.families()
	state := [][]string{strings.Split("id,surname,given,rank_in,rank_out,company,regiment,arm,state,enlisted,mustered_out,age,residence,died,remarks", ",")}
	others := [][]string{strings.Split("id,name,rank,unit,conflict,enlisted,mustered_out,born,residence,died", ",")}
	for n := 0; n < opt.Records; {
		p := m.man(n)
		m.men = append(m.men, p)
		for _, r := range p.rows {
			if n++; p.war == 0 {
				state = append(state, m.stateRow(p, r))
			} else {
				others = append(others, m.otherRow(p, r))
			}
		}
	}
	stones, register, truth := m.graves()
	files := map[string][][]string{"roster-state.csv": state, "stones.csv": stones, "register.csv": register, "truth.csv": truth}
	if opt.Wars {
		files["roster-other-wars.csv"] = others
	}
	for name, rows := range files {
		if err := table.Write(filepath.Join(dir, name), rows); err != nil {
			return err
		}
	}
	return nil
}

func (m *maker) one(words ...string) string { return words[m.IntN(len(words))] }

// rate is true at one of two rates, the second for a messy survey.
func (m *maker) rate(clean, messy float64) bool {
	if m.opt.Messy {
		clean = messy
	}
	return m.Float64() < clean
}

var stems = strings.Fields(`Wright Rhodes Boone Snyder Bowman Knight Baird Reid Pearce Clark Hughes Tyler Moore Cole Burke Kerr Beecham Haynes Shaw Lowry
	Phillips Cochran Gaither Leigh Doherty Loughlin Maguire Rafferty Tyrrell Vaughan Llewellyn Pugh Bevan Probert Rees Yost Kuntz Stouffer Bixler Hershey Eby Zook
	Swartz Kistler Fasnacht Rupp Dietz Auchincloss Galbraith Colquhoun Dalrymple Kirkpatrick Buchanan Menzies Urquhart Farquhar Drummond Haldane Imrie Lachlan
	Ashby Birdsall Catlin Dunham Eames Fitch Gorham Hoyt Ingalls Jewett Ketchum Loomis Mead Northrup Olmstead Peck Quimby Rowley Sayles Tripp Upham Wadsworth Yale`)
var starts = strings.Fields("Al Ash Bark Bed Blen Brad Bram Cald Chal Clay Crad Dar Dun Ed Ell Fair Farn Glen Gran Hal Hart Hem Hol Kend Kirk Lang Lath Mal Mark Nor Oak Pem Pres Rad Red Rush Sed Shel Stan Strat Thorn Tis Up Wal War Wes Whit Win Wood")
var ends = strings.Fields("ard beck berry bourne bury cliff combe cott croft dale field ford gate grave ham hurst land leigh low man mere more ner ridge rick shaw ster ston thorpe tree wall way well wick wood worth")

// families makes the surnames: some eighty that are everywhere in the valley, others that came and went.
func (m *maker) families() {
	seen := map[string]bool{}
	m.names = append(m.names, stems...)
	for tries := 0; len(m.names) < len(stems)+m.opt.Records/9 && tries < m.opt.Records; tries++ {
		w := starts[m.IntN(len(starts))]
		if m.IntN(4) == 0 {
			w += m.one("a", "e", "in", "er", "i")
		}
		w += ends[m.IntN(len(ends))]
		if !seen[w] {
			seen[w] = true
			m.names = append(m.names, w)
		}
	}
	total := 0.0
	for i := range m.names {
		total += 1 / math.Pow(float64(i+4), .82)
		m.cumul = append(m.cumul, total)
	}
}

func (m *maker) family() string {
	i, _ := slices.BinarySearch(m.cumul, m.Float64()*m.cumul[len(m.cumul)-1])
	return m.names[i]
}

var firsts = strings.Fields(`John John John William William William James James George George Thomas Thomas Samuel Samuel David Joseph Joseph Charles Charles Henry Henry
	Robert Robert Andrew Jacob Daniel Daniel Isaac Abraham Benjamin Jonathan Solomon Enoch Elias Levi Moses Aaron Noah Jesse Josiah Hugh Archibald Duncan Malcolm Alexander Alexander
	Edward Edward Francis Frederick Michael Peter Philip Adam Martin Simon Matthew Luke Mark Nathan Nathaniel Ephraim Reuben Eli Amos Asa Calvin Lemuel Silas Tobias Uriah Zachariah Christian Valentine Conrad`)
var brief = map[string][]string{"William": {"WM.", "WILL", "BILL"}, "John": {"JNO.", "JACK"}, "James": {"JAS.", "JIM"}, "George": {"GEO."}, "Thomas": {"THOS.", "TOM"}, "Samuel": {"SAML.", "SAM"}, "Joseph": {"JOS.", "JOE"},
	"Charles": {"CHAS.", "CHARLEY"}, "Henry": {"HY.", "HARRY"}, "Robert": {"ROBT.", "BOB"}, "Andrew": {"ANDW.", "ANDY"}, "Daniel": {"DANL.", "DAN"}, "Benjamin": {"BENJ.", "BEN"}, "Alexander": {"ALEX.", "SANDY"},
	"Edward": {"EDWD.", "NED"}, "Francis": {"FRANK"}, "Frederick": {"FREDK.", "FRED"}, "Michael": {"MICHL.", "MIKE"}, "Nathaniel": {"NATHL.", "NAT"}, "Abraham": {"ABRM.", "ABE"}, "Matthew": {"MATT"}, "Jacob": {"JAKE"},
	"Jonathan": {"JONN."}, "Archibald": {"ARCHD."}, "Zachariah": {"ZACH."}, "Christian": {"CHRIST."}}
var villages = strings.Fields("Millrace Coldspring Hollins Bethesda Crossroads Sugarcamp Furnace Tannery Forks Deepdale")
var yards = []string{"Coldspring Meeting House", "Bethesda Presbyterian", "Forks Union Cemetery", "Old Furnace Burying Ground", "Valley View Cemetery", "St. Brendan's"}

func (m *maker) on(year int) day { return day{year, 1 + m.IntN(12), 1 + m.IntN(28)} }

// man makes a man with his rows; n is how many rows there are before them.
func (m *maker) man(n int) *man {
	p := &man{given: firsts[m.IntN(len(firsts))], surname: m.family()}
	if m.opt.Wars {
		if k := m.IntN(10); k >= 6 {
			p.war = 1 + (k-6)/3
		}
		if p.war > 0 && len(m.men) > 0 && m.IntN(4) == 0 { // named for his grandfather
			old := m.men[m.IntN(len(m.men))]
			p.surname, p.given, p.middle = old.surname, old.given, old.middle
		}
	}
	if p.middle == "" && m.IntN(100) < 34 {
		p.middle = firsts[m.IntN(len(firsts))]
	}
	r := row{id: fmt.Sprintf("V%06d", n+1), given: p.given, middle: p.middle, rankIn: "Private", rankOut: "Private"}
	var kin *man
	if len(m.men) > 0 && m.IntN(9) == 0 {
		kin = m.men[len(m.men)-1-m.IntN(min(4, len(m.men)))]
	}
	if kin != nil && kin.war == p.war {
		k := kin.rows[0]
		p.surname, p.place, r.company, r.regiment, r.arm, r.state = kin.surname, kin.place, k.company, k.regiment, k.arm, k.state
		if m.IntN(8) == 0 && kin.suffix == "" { // the elder's name
			p.given, r.given, p.suffix = kin.given, kin.given, "Jr."
		}
	} else {
		p.place = villages[m.IntN(len(villages))]
		m.raise(p.war, &r)
	}
	r.surname, r.suffix = m.byEar(p.surname), p.suffix
	switch k := m.IntN(100); {
	case k < 11:
		r.rankOut = "Corporal"
	case k < 18:
		r.rankOut = "Sergeant"
	case k < 20:
		r.rankOut = "First Sergeant"
	case k < 23:
		r.rankIn, r.rankOut = "Second Lieutenant", m.one("First Lieutenant", "Captain")
	case k < 25:
		r.rankIn, r.rankOut = "Drummer", "Drummer"
	}
	first, last := 1861, 1864
	switch p.war {
	case 1:
		first, last = 1898, 1899
	case 2:
		first, last = 1917, 1918
	}
	year := first + m.IntN(last-first+1)
	age := 17 + int(math.Abs(m.NormFloat64())*6)
	p.born = m.on(year - age)
	r.enlisted, r.age = m.on(year), m.said(age)
	r.out = m.on(min(year+1+m.IntN(3), last+1))
	p.died = m.on(p.born.y + 40 + m.IntN(45))
	if p.died.y <= last+1 {
		p.died = m.on(last + 2 + m.IntN(20))
	}
	if m.IntN(9) == 0 {
		p.died = m.on(r.out.y)
		r.died, r.out = p.died, day{}
		r.remark = m.one("Died of typhoid fever", "Killed in action", "Died of wounds", "Died at general hospital")
	}
	r.conflict = []string{"Civil War", "Spanish-American War", "World War"}[p.war]
	if m.IntN(70) == 0 && r.died.y == 0 { // a substitute, or a boy who ran away: he served as another
		r.surname, r.given, r.middle = m.family(), firsts[m.IntN(len(firsts))], ""
		r.remark = m.one("Substitute", "Alias on some rolls")
	}
	p.rows = []row{r}
	if p.war == 0 && r.died.y == 0 {
		m.more(p)
	}
	return p
}

// raise gives a row its unit.
func (m *maker) raise(war int, r *row) {
	r.company = string("ABCDEFGHIK"[m.IntN(10)])
	r.arm, r.state = "Infantry", m.one("Pennsylvania", "Pennsylvania", "Pennsylvania", "Pennsylvania", "Maryland", "Ohio", "West Virginia")
	switch war {
	case 0:
		r.regiment = 1 + m.IntN(map[string]int{"Pennsylvania": 215, "Maryland": 13, "Ohio": 120, "West Virginia": 17}[r.state])
		if m.IntN(7) == 0 {
			r.arm, r.regiment = "Cavalry", 1+m.IntN(map[string]int{"Pennsylvania": 22, "Maryland": 3, "Ohio": 13, "West Virginia": 7}[r.state])
		} else if m.IntN(20) == 0 {
			r.arm, r.regiment = "Heavy Artillery", 1+m.IntN(3)
		}
	case 1:
		r.regiment = 1 + m.IntN(18)
	case 2:
		r.state, r.regiment = "US", 300+m.IntN(40)
	}
}

// more gives a man of 1861 what came after: he enlisted again, his regiment was made one with another, his company was renamed.
func (m *maker) more(p *man) {
	r := p.rows[0]
	switch k := m.IntN(100); {
	case k < 6 && r.enlisted.y < 1864: // again, for another term
		again := r
		again.id += "-2"
		again.enlisted, again.out = m.on(1864), m.on(1865)
		again.age = r.age + again.enlisted.y - r.enlisted.y
		again.rankIn = r.rankOut
		again.surname = m.byEar(p.surname)
		again.remark = "Veteran"
		if m.IntN(3) == 0 {
			m.raise(0, &again)
			again.state = r.state
			again.regiment = 1 + (again.regiment-1)%12
		}
		p.rows[0].out = m.on(max(r.enlisted.y, 1863))
		p.rows = append(p.rows, again)
	case k < 10: // two regiments made one: the roster has the old, the stone the new
		later := r
		later.regiment = 1 + (r.regiment*7)%90
		later.company = string("ABCDEFGHIK"[(strings.Index("ABCDEFGHIK", r.company)+3)%10])
		p.later = &later
		if m.IntN(3) > 0 {
			p.rows[0].remark = fmt.Sprintf("Transferred to Co. %s, %s Regiment", later.company, nth(later.regiment))
		}
	case k < 13: // the company was given another letter
		later := r
		later.company = string("ABCDEFGHIK"[m.IntN(10)])
		p.later = &later
	}
}

func nth(n int) string {
	switch {
	case n%100 >= 11 && n%100 <= 13:
		return strconv.Itoa(n) + "th"
	case n%10 == 1:
		return strconv.Itoa(n) + "st"
	case n%10 == 2 || n%10 == 3:
		return strconv.Itoa(n) + "d"
	}
	return strconv.Itoa(n) + "th"
}

// said is the age that a man gave: boys made themselves eighteen, old men forty-four, others were a year out.
func (m *maker) said(age int) int {
	switch k := m.IntN(12); {
	case age < 18:
		return 18 + m.IntN(2)
	case age > 45:
		return 43 + m.IntN(3)
	case k == 0:
		return age + 1
	case k == 1:
		return age - 1
	case k == 2:
		return (age + 2) / 5 * 5
	}
	return age
}

// ear are ways in which one name is heard as another.
var ear = [][2]string{{"Wr", "R"}, {"Kn", "N"}, {"Rho", "Ro"}, {"Ph", "F"}, {"gh", ""}, {"aigh", "ay"}, {"ai", "ay"}, {"ea", "ee"}, {"oo", "u"}, {"ow", "au"}, {"ie", "y"}, {"ey", "y"}, {"sch", "sh"},
	{"Sch", "Sh"}, {"tz", "ts"}, {"ck", "k"}, {"ll", "l"}, {"rr", "r"}, {"ss", "s"}, {"tt", "t"}, {"quh", "k"}, {"qu", "k"}, {"our", "er"}, {"ough", "ock"}, {"leigh", "ly"}, {"er", "ar"}, {"ard", "ert"}, {"ham", "um"},
	{"ston", "son"}, {"well", "le"}, {"worth", "th"}, {"bourne", "burn"}, {"hurst", "hust"}, {"Mac", "Mc"}, {"Ma", "Mc"}, {"Ll", "L"}, {"e", "a"}, {"i", "e"}, {"d", "t"}, {"b", "p"}}

// byEar is a surname as a clerk wrote it who heard it: one in eleven otherwise, one in sixty in two places.
func (m *maker) byEar(s string) string {
	if m.IntN(11) != 0 {
		return s
	}
	out := m.heard(s)
	if m.IntN(6) == 0 {
		out = m.heard(out)
	}
	return out
}

func (m *maker) heard(s string) string {
	for range 12 {
		e := ear[m.IntN(len(ear))]
		if i := strings.LastIndex(s, e[0]); i >= 0 && len(s)-len(e[0])+len(e[1]) > 2 {
			out := s[:i] + e[1] + s[i+len(e[0]):]
			return strings.ToUpper(out[:1]) + strings.ToLower(out[1:])
		}
	}
	return s
}

var monthsOf = strings.Fields("Jan. Feb. March April May June July Aug. Sept. Oct. Nov. Dec.")

func (d day) text() string {
	if d.y == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d, %d", monthsOf[d.m-1], d.d, d.y)
}

// stateRow is a row of the state's roster.
func (m *maker) stateRow(p *man, r row) []string {
	given := r.given
	switch k := m.IntN(25); {
	case k == 0:
		given = given[:1] + "."
	case k <= 2 && brief[given] != nil:
		b := brief[given][0]
		given = b[:1] + strings.ToLower(b[1:])
	}
	if r.middle != "" && m.IntN(5) > 0 {
		given += " " + r.middle[:1] + "."
	}
	if r.suffix != "" && m.IntN(3) > 0 {
		given += " " + r.suffix
	}
	age, home := strconv.Itoa(r.age), p.place
	if m.IntN(11) == 0 {
		age = ""
	}
	if m.IntN(2) == 0 {
		home = ""
	}
	out := r.out.text()
	if m.IntN(6) == 0 {
		out = ""
	}
	return []string{r.id, r.surname, given, r.rankIn, r.rankOut, r.company, strconv.Itoa(r.regiment), r.arm, r.state, r.enlisted.text(), out, age, home, r.died.text(), r.remark}
}

// otherRow is a row of the roster of the later wars.
func (m *maker) otherRow(p *man, r row) []string {
	name := r.surname + ", " + r.given
	if r.middle != "" {
		name += " " + r.middle[:1] + "."
	}
	unit := fmt.Sprintf("Co. %s, %s %s Infantry", r.company, nth(r.regiment), map[bool]string{true: "U. S.", false: r.state}[r.state == "US"])
	born := strconv.Itoa(p.born.y)
	if m.IntN(5) == 0 {
		born = ""
	}
	return []string{r.id, name, r.rankOut, unit, r.conflict, r.enlisted.text(), r.out.text(), born, p.place, r.died.text()}
}
