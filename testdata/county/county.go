// Package county makes surveys with known truth, for tests and benchmarks: rosters of invented men, stones of some of them worn and abbreviated as
// stones are, stones of veterans whom the rosters lack, and civilians' stones. All persons are invented; the shares of surnames are those of
// the program's own table (US Census Bureau, 1990), the given names and their weights and every rate of damage are a judgement of this package.
//
// It shares no code with the program's reading or weighing: what it writes is text, as a volunteer would type it.
package county

import (
	"fmt"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/testdata/table"
	"musterstone/vocab"
)

// Options say what to make; all rates are from 0 to 1.
type Options struct {
	Seed    uint64
	Records int // men on the roster
	Stones  int
	Messy   bool // more wear, more misreading, fewer units and dates
}

type man struct {
	id, surname, given, middle, suffix string
	state, arm, company                string
	regiment, born                     int
	rank                               string
	enlisted, out, died                [3]int
	county                             string
}

type maker struct {
	*rand.Rand
	opt      Options
	surnames []string
	cumul    []float64
}

// Make writes stones.csv, roster-made.csv and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 77)), opt: opt}
	total := 0.0
	for _, r := range vocab.Rows("surname-shares") {
		total += r.Float("percent") / 100
		m.surnames = append(m.surnames, title(r.Get("surname")))
		m.cumul = append(m.cumul, total)
	}
	roster := m.roster()
	stones, truth := m.stones(roster)
	if err := table.Write(filepath.Join(dir, "roster-made.csv"), append([][]string{rosterHead}, rosterRows(roster)...)); err != nil {
		return err
	}
	if err := table.Write(filepath.Join(dir, "stones.csv"), append([][]string{stoneHead}, stones...)); err != nil {
		return err
	}
	return table.Write(filepath.Join(dir, "truth.csv"), append([][]string{{"stone", "record"}}, truth...))
}

func title(s string) string { return strings.ToUpper(s[:1]) + strings.ToLower(s[1:]) }

var syllables = strings.Fields("ba ber bran cor dal den dor el fen gar gol ham har hol ing kel kin lar len lin mar mel mor nel nor os pel per quin rad ren ros sal sen sol tan tel tor ul van ver wal wen wil yar zim")
var endings = strings.Fields("son ton ley man er ard ing ford wick stead burg mann sen ski berg by ham well worth ett")

func (m *maker) surname() string {
	x := m.Float64() / 0.92 // the names of the table come 0.92 times as often as there, and all others are made up
	if x < m.cumul[len(m.cumul)-1] {
		i, _ := slices.BinarySearch(m.cumul, x)
		return m.surnames[i]
	}
	s := syllables[m.IntN(len(syllables))]
	if m.IntN(2) == 0 {
		s += syllables[m.IntN(len(syllables))]
	}
	return title(s + endings[m.IntN(len(endings))])
}

// weightedWord is a word of several, each with a weight.
type weightedWord struct {
	words  []string
	weight []int
	total  int
}

// weighted reads words and weights: "John 100 William 90".
func weighted(s string) *weightedWord {
	w := &weightedWord{}
	f := strings.Fields(s)
	for i := 0; i < len(f); i += 2 {
		n := 0
		fmt.Sscan(f[i+1], &n)
		w.words, w.weight = append(w.words, f[i]), append(w.weight, n)
		w.total += n
	}
	return w
}

func (m *maker) pick(w *weightedWord) string {
	x := m.IntN(w.total)
	for i, n := range w.weight {
		if x -= n; x < 0 {
			return w.words[i]
		}
	}
	return w.words[0]
}

var givens = weighted("John 100 William 90 James 62 George 55 Charles 44 Henry 40 Thomas 34 Joseph 30 Samuel 24 David 20 Robert 20 Edward 17 Albert 14 Daniel 14 Andrew 12 Peter 12 Frank 11 Benjamin 11 Jacob 11 Michael 10 Isaac 8 Francis 8 Frederick 9 Levi 6 Stephen 7 Alexander 7 Patrick 8 Nathan 4 Richard 6 Hiram 5 Philip 5 Lewis 6 Christopher 3 Nicholas 3 Josiah 3 Jonathan 3 Nathaniel 3 Abraham 4 Ezra 2 Amos 3 Elijah 2 Oscar 3 Martin 4 Matthew 3 Cornelius 2 August 3 Silas 2 Timothy 2 Harvey 2 Luther 2 Warren 2 Horace 2 Edwin 4 Chauncey 1 Orlando 1 Leander 1 Alonzo 2 Marcus 1 Simeon 1 Rufus 1 Theodore 2 Gottlieb 1 Ole 2 Nels 1 Anton 1")
var states = weighted("Ohio 30 Illinois 26 Indiana 20 Wisconsin 12 Michigan 11 Iowa 9 Missouri 10 Pennsylvania 30 New_York 34 Kentucky 7 Minnesota 3 Kansas 3 Massachusetts 12 Maine 6 Vermont 4")
var stoneStates = map[string][]string{"Ohio": {"OHIO", "O."}, "Illinois": {"ILL.", "ILLS."}, "Indiana": {"IND."}, "Wisconsin": {"WIS."}, "Michigan": {"MICH."}, "Iowa": {"IOWA", "IA."}, "Missouri": {"MO."},
	"Pennsylvania": {"PA.", "PENNA."}, "New York": {"N. Y."}, "Kentucky": {"KY."}, "Minnesota": {"MINN."}, "Kansas": {"KANS."}, "Massachusetts": {"MASS."}, "Maine": {"ME.", "MAINE"}, "Vermont": {"VT."}}
var stoneArms = map[string][]string{"Infantry": {"INF."}, "Cavalry": {"CAV."}, "Heavy Artillery": {"H. ART.", "H. A."}}
var ranks = weighted("Private 84 Corporal 8 Sergeant 4 First_Sergeant 1 Second_Lieutenant 1 First_Lieutenant 1 Captain 1")
var stoneRanks = map[string][]string{"Corporal": {"CORPL.", "CORP."}, "Sergeant": {"SERGT.", "SGT."}, "First Sergeant": {"1 SERGT."}, "Second Lieutenant": {"2 LIEUT."}, "First Lieutenant": {"1 LIEUT."}, "Captain": {"CAPT."}}
var counties = []string{"Alder", "Birch", "Cedar", "Dogwood", "Elm", "Fir", "Hazel", "Juniper", "Larch", "Maple"}
var months = []string{"Jan.", "Feb.", "Mar.", "Apr.", "May", "June", "July", "Aug.", "Sept.", "Oct.", "Nov.", "Dec."}
var abbreviated = map[string]string{"William": "WM.", "John": "JNO.", "James": "JAS.", "George": "GEO.", "Charles": "CHAS.", "Thomas": "THOS.", "Joseph": "JOS.", "Samuel": "SAML.", "Robert": "ROBT.", "Edward": "EDWD.",
	"Daniel": "DANL.", "Andrew": "ANDW.", "Benjamin": "BENJ.", "Michael": "MICHL.", "Frederick": "FREDK.", "Alexander": "ALEXR.", "Patrick": "PATK.", "Richard": "RICHD.", "Nathaniel": "NATHL."}
var diminutives = map[string]string{"Henry": "HARRY", "Francis": "FRANK", "John": "JACK", "William": "WILL", "Charles": "CHARLEY", "Edward": "NED", "Samuel": "SAM", "Benjamin": "BEN", "Daniel": "DAN", "Frederick": "FRED"}

// man makes a man, of the surname and the company of his kin where he has one before him.
func (m *maker) man(kin *man) *man {
	p := &man{surname: m.surname(), given: m.pick(givens), rank: under(m.pick(ranks)), state: under(m.pick(states))}
	if kin != nil {
		p.surname, p.state, p.arm, p.regiment, p.company, p.county = kin.surname, kin.state, kin.arm, kin.regiment, kin.company, kin.county
	} else {
		p.arm = []string{"Infantry", "Infantry", "Infantry", "Infantry", "Infantry", "Infantry", "Infantry", "Cavalry", "Cavalry", "Heavy Artillery"}[m.IntN(10)]
		p.regiment = 1 + m.IntN(map[string]int{"Infantry": 120, "Cavalry": 14, "Heavy Artillery": 4}[p.arm])
		letters := "ABCDEFGHIK"
		if p.arm != "Infantry" {
			letters = "ABCDEFGHIKLM"
		}
		p.company = string(letters[m.IntN(len(letters))])
		p.county = counties[m.IntN(len(counties))]
	}
	if m.IntN(2) == 0 {
		p.middle = string("ABCDEFGHJLMNOPRSTW"[m.IntN(18)])
	}
	if m.IntN(60) == 0 {
		p.suffix = "Jr."
	}
	age := 18 + int(math.Abs(m.NormFloat64())*7)
	year := 1861 + m.IntN(4)
	p.born = year - age
	p.enlisted = [3]int{year, 1 + m.IntN(12), 1 + m.IntN(28)}
	p.out = [3]int{1865, 6 + m.IntN(3), 1 + m.IntN(28)}
	if m.IntN(8) == 0 {
		p.died = [3]int{min(1865, year+m.IntN(3)), 1 + m.IntN(12), 1 + m.IntN(28)}
		if p.died[0] == year && p.died[1] <= p.enlisted[1] {
			p.died[0]++
		}
		p.out = [3]int{}
	} else {
		p.died = [3]int{1870 + m.IntN(55), 1 + m.IntN(12), 1 + m.IntN(28)}
	}
	return p
}

func under(s string) string { return strings.ReplaceAll(s, "_", " ") }

func (m *maker) roster() []*man {
	var all []*man
	for len(all) < m.opt.Records {
		var kin *man
		if len(all) > 0 && m.IntN(12) == 0 {
			kin = all[len(all)-1]
		}
		p := m.man(kin)
		p.id = fmt.Sprintf("m%06d", len(all)+1)
		all = append(all, p)
	}
	return all
}

var rosterHead = strings.Split("id,surname,given,rank_in,rank_out,company,regiment,arm,state,enlisted,mustered_out,age,residence,died,remarks", ",")

func rosterRows(all []*man) [][]string {
	var rows [][]string
	for i, p := range all {
		given := p.given
		switch i % 20 {
		case 3:
			given = p.given[:1] + "."
		case 7, 11:
			if a, ok := abbreviated[p.given]; ok {
				given = title(strings.ToLower(a))
			}
		}
		if p.middle != "" && i%4 != 1 {
			given += " " + p.middle + "."
		}
		if p.suffix != "" {
			given += ", " + p.suffix
		}
		died, remarks := "", ""
		if p.out[0] == 0 {
			died = day(p.died)
			remarks = "Died of disease"
		}
		age := ""
		if i%10 != 4 {
			age = fmt.Sprint(p.enlisted[0] - p.born + []int{0, 0, 0, 0, 0, 0, 1, -1, 0, 2}[(i*7)%10])
		}
		home := ""
		if i%3 != 0 {
			home = p.county + " Co."
		}
		rows = append(rows, []string{p.id, p.surname, given, "Private", p.rank, p.company, fmt.Sprint(p.regiment), p.arm, p.state, day(p.enlisted), day(p.out), age, home, died, remarks})
	}
	return rows
}

func day(d [3]int) string {
	if d[0] == 0 {
		return ""
	}
	return fmt.Sprintf("%s %d, %d", months[d[1]-1], d[2], d[0])
}

var stoneHead = strings.Split("id,cemetery,county,state,row,inscription,top,material,width_in,thickness_in,height_in,lettering,device,setting,condition", ",")

// stones makes the stones: six in ten of a man of the roster, two of veterans whom it lacks, two of civilians.
func (m *maker) stones(roster []*man) (rows, truth [][]string) {
	used := map[int]bool{}
	for i := range m.opt.Stones {
		id := fmt.Sprintf("s%05d", i+1)
		var p *man
		kind := m.IntN(10)
		switch {
		case kind < 6 && len(used) < len(roster):
			k := m.IntN(len(roster))
			for used[k] {
				k = m.IntN(len(roster))
			}
			used[k] = true
			p = roster[k]
			truth = append(truth, []string{id, p.id})
		default:
			p = m.man(nil)
		}
		rows = append(rows, m.stone(id, p, kind >= 8))
	}
	return rows, truth
}

// chance is true at one of two rates, the second for a messy survey.
func (m *maker) chance(clean, messy float64) bool {
	if m.opt.Messy {
		return m.Float64() < messy
	}
	return m.Float64() < clean
}

func (m *maker) stone(id string, p *man, civilian bool) []string {
	county := p.county
	if m.Float64() < 0.3 {
		county = counties[m.IntN(len(counties))]
	}
	row := map[string]string{"id": id, "cemetery": county + " Center Cemetery", "county": county, "state": "WI", "row": fmt.Sprint(1 + m.IntN(20))}
	given := strings.ToUpper(p.given)
	if a, ok := abbreviated[p.given]; ok && m.chance(.35, .4) {
		given = a
	} else if d, ok := diminutives[p.given]; ok && m.chance(.05, .08) {
		given = d
	} else if m.chance(.12, .25) {
		given = given[:1] + "."
	}
	if p.middle != "" && !m.chance(.25, .4) {
		given += " " + p.middle + "."
	}
	surname := m.wear(strings.ToUpper(p.surname))
	who := given + " " + surname
	if p.suffix != "" {
		who += " JR."
	}
	var lines []string
	dates := ""
	if m.chance(.45, .35) {
		dates = fmt.Sprintf("DIED %s", strings.ToUpper(day(p.died)))
		if m.IntN(2) == 0 {
			dates = fmt.Sprintf("%d - %d", p.born+m.slip(), p.died[0])
		}
	}
	switch {
	case civilian:
		lines = []string{who, fmt.Sprintf("%d - %d", p.born, p.died[0])}
		row["top"], row["material"], row["width_in"] = "flat", "granite", fmt.Sprint(18+m.IntN(20))
	case m.chance(.75, .6): // a government stone
		if r, ok := stoneRanks[p.rank]; ok {
			lines = append(lines, r[m.IntN(len(r))])
		}
		lines = append(lines, who)
		lines = append(lines, m.unit(p)...)
		if dates != "" && m.IntN(4) == 0 {
			lines = append(lines, dates)
		}
		row["top"], row["material"], row["device"], row["lettering"], row["width_in"], row["thickness_in"] = "rounded", "white marble", "recessed shield", "raised", []string{"10", "12"}[m.IntN(2)], "4"
		row["setting"] = "upright"
	default: // a private stone, with or without his service
		lines = []string{who}
		if dates == "" {
			dates = fmt.Sprintf("%d - %d", p.born+m.slip(), p.died[0])
		}
		lines = append(lines, dates)
		if !m.chance(.35, .5) {
			lines = append(lines, m.unit(p)...)
		}
		row["top"], row["material"], row["width_in"] = "square", "marble", fmt.Sprint(15+m.IntN(15))
	}
	row["inscription"] = strings.Join(lines, " / ")
	out := make([]string, len(stoneHead))
	for i, h := range stoneHead {
		out[i] = row[h]
	}
	return out
}

// slip is how far a year on a stone is off.
func (m *maker) slip() int {
	if m.chance(.25, .4) {
		return m.IntN(5) - 2
	}
	return 0
}

// unit is the unit as carved, wrong now and then, or without its company.
func (m *maker) unit(p *man) []string {
	number := p.regiment
	if m.chance(.02, .06) {
		number = m.misread(number)
	}
	company := p.company
	if m.chance(.03, .06) {
		company = string("ABCDEFGHIK"[m.IntN(10)])
	}
	state := stoneStates[p.state]
	arm := stoneArms[p.arm]
	regiment := fmt.Sprintf("%d %s %s", number, state[m.IntN(len(state))], arm[m.IntN(len(arm))])
	if m.chance(.06, .15) {
		return []string{regiment}
	}
	return []string{"CO. " + company + ".", regiment}
}

// misread changes one digit, or drops the first.
func (m *maker) misread(n int) int {
	s := []byte(fmt.Sprint(n))
	if len(s) > 1 && m.IntN(3) == 0 {
		s = s[1:]
	} else {
		s[m.IntN(len(s))] = byte('1' + m.IntN(9))
	}
	v := 0
	fmt.Sscan(string(s), &v)
	return max(1, v)
}

var wearsAs = map[byte]string{'C': "GO", 'G': "C", 'O': "QD", 'Q': "O", 'D': "O", 'E': "FB", 'F': "E", 'I': "LT", 'L': "I", 'T': "I", 'M': "N", 'N': "MH", 'U': "V", 'V': "U", 'R': "PK", 'P': "R", 'B': "ER", 'H': "N", 'S': "Z", 'K': "R"}

// wear damages a surname as wear, the carver and the roster clerk do.
func (m *maker) wear(s string) string {
	if m.chance(.06, .12) { // spelt otherwise
		for _, c := range [][2]string{{"IE", "EI"}, {"EY", "Y"}, {"LL", "L"}, {"NN", "N"}, {"TT", "T"}, {"SON", "SEN"}, {"ER", "AR"}, {"CK", "K"}, {"EA", "EE"}, {"Y", "IE"}, {"PH", "F"}} {
			if i := strings.Index(s, c[0]); i > 0 {
				s = s[:i] + c[1] + s[i+len(c[0]):]
				break
			}
		}
	}
	b := []byte(s)
	if m.chance(.04, .10) { // misread
		i := m.IntN(len(b))
		if alike := wearsAs[b[i]]; alike != "" {
			b[i] = alike[m.IntN(len(alike))]
		}
	}
	s = string(b)
	if m.chance(.03, .08) && len(s) > 3 { // lost letters, marked so
		i := 1 + m.IntN(len(s)-2)
		n := 1 + m.IntN(2)
		s = s[:i] + "[" + strings.Repeat(".", n) + "]" + s[min(len(s), i+n):]
	}
	return s
}
