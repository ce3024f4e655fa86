package haven

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
)

const (
	rollBook = iota
	indexBook
	navyBook
	warsBook
	homeBook
	bookCount
)

// listed is the share of all who served whom the rosters know; of a man's rows but the last that is left, some are lost.
const (
	listed = .885
	kept   = .92
)

// clerk is how a book was kept: how often a name is misheard of one who can spell it, misread when copied, mistyped or misprinted; how given names are shortened.
type clerk struct {
	ear, eye, slip                   float64
	short, called, initials          float64
	middleInitial, middleFull        float64 // the rest of middle names is left out
	letter, figure, body, blank, air float64 // a wrong company, a wrong number, a wrong state, no company, a better rank
}

var clerks = [bookCount]clerk{
	rollBook:  {.012, .006, .004, .03, .004, .03, .72, .1, .004, .004, .0005, .006, 0},
	indexBook: {.014, .008, .003, .02, .004, .06, .74, .04, .004, .005, .001, .055, .01},
	navyBook:  {.016, .008, .003, .05, .01, .04, .5, .05, 0, 0, 0, 0, .02},
	warsBook:  {.01, .005, .004, .02, .012, .02, .75, .14, .003, .003, .001, .02, .01},
	homeBook:  {.016, .008, .004, .09, .02, .02, .62, .03, .025, .022, .006, .06, .05},
}

type row struct {
	p     *man
	s     *stint
	cells []string
	key   string
}

func (m *maker) spell(p *man, alias bool, c clerk) (string, string) {
	surname, given, middle := p.surname, p.given, p.middle
	if alias && p.alias != nil {
		surname, given, middle = p.alias[0], p.alias[1], ""
	}
	ear := c.ear
	switch {
	case p.unlettered:
		ear *= 7
	case p.foreign:
		ear *= 2.5
	}
	if m.chance(ear) {
		surname = m.ear(surname)
	}
	if m.chance(c.eye) {
		surname = m.eye(surname)
	}
	if m.chance(c.slip) {
		surname = m.slip(surname)
	}
	switch n := m.Float64(); {
	case n < .005:
		given = m.draw(m.bags["given 1861"])
	case n < .01:
		given = m.ear(given)
	case n < .018 && middle != "":
		given, middle = middle, given // he went by his middle name
	}
	first := given
	switch n := m.Float64(); {
	case n < c.initials:
		first = given[:1] + "."
	case n < c.initials+c.short && short[given] != "":
		first = short[given] + "."
	case n < c.initials+c.short+c.called && called[given] != "":
		first = called[given]
	}
	if middle != "" {
		switch n := m.Float64(); {
		case n < c.middleInitial:
			first += " " + middle[:1] + "."
		case n < c.middleInitial+c.middleFull:
			first += " " + middle
		}
	}
	return surname, first
}

// write is what a clerk puts down of a man and a service of his.
func (m *maker) write(p *man, s *stint, rank string, c clerk, alias bool) written {
	w := written{rank: rank, ship: s.ship}
	w.surname, w.given = m.spell(p, alias, c)
	if s.company == nil {
		return w
	}
	w.unit = s.unit
	if w.unit.letter != "" {
		if m.chance(c.letter) {
			w.unit.letter = m.any(words(confused[w.unit.letter])...)
		}
		w.blank = m.chance(c.blank)
	}
	if w.unit.number > 0 && m.chance(c.figure) {
		w.unit.number = m.misnumber(w.unit.number)
	}
	if m.chance(c.body) && len(w.unit.body) == 2 && w.unit.body != "US" {
		w.unit.body = m.any("OH", "IN", "IL", "NY", "PA", "MI", "WI")
	}
	if w.unit.arm != "nurse" && m.chance(c.air) {
		w.rank = m.any("corporal", "sergeant", "private", "captain")
	}
	return w
}

var confused = map[string]string{"A": "H", "B": "D E", "C": "G E", "D": "B", "E": "F C", "F": "E H", "G": "C", "H": "K A", "I": "F G", "K": "H", "L": "I C", "M": "H K"}

// misnumber loses a figure of a number, or changes one.
func (m *maker) misnumber(n int) int {
	s := []byte(strconv.Itoa(n))
	k := m.IntN(len(s))
	if len(s) > 1 && m.chance(.35) {
		s = slices.Delete(s, k, k+1)
	} else if s[k] = byte('0' + (int(s[k]-'0')+m.any2(1, 9, 3, 6))%10); s[0] == '0' {
		s[0] = '1'
	}
	return max(1, atoi(string(s)))
}

func atoi(s string) int      { n, _ := strconv.Atoi(s); return n }
func number(n int) string    { return strconv.Itoa(n) }
func upper1(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// enter writes a man's services down in their books, as they were kept: who is lost is written too, for stones may be cut from what is lost to us.
func (m *maker) enter(p *man) int {
	alias := p.alias != nil
	var rows []*row
	for i, s := range p.stints {
		rank := s.rank[1]
		s.wrote = m.write(p, s, rank, clerks[s.book], alias && i == 0)
		if r := m.line(p, s); p.listed && (m.chance(kept) || i == len(p.stints)-1 && len(rows) == 0) {
			rows = append(rows, r)
			m.books[s.book] = append(m.books[s.book], r)
			m.count[s.book]++
		}
	}
	return len(rows)
}

var stateNames = pairsOf("MI:Michigan OH:Ohio NY:New York IL:Illinois PA:Pennsylvania IN:Indiana MA:Massachusetts WI:Wisconsin MO:Missouri IA:Iowa KY:Kentucky NJ:New Jersey ME:Maine CT:Connecticut MD:Maryland " +
	"NH:New Hampshire WV:West Virginia VT:Vermont MN:Minnesota KS:Kansas TN:Tennessee DE:Delaware RI:Rhode Island VA:Virginia GA:Georgia NC:North Carolina AL:Alabama MS:Mississippi US:U.S. usct:U.S.C.T. vrc:V.R.C.")

func pairsOf(s string) map[string]string {
	all := map[string]string{}
	key := ""
	for _, w := range words(s) {
		if k, v, ok := strings.Cut(w, ":"); ok {
			key = k
			all[key] = v
		} else {
			all[key] += " " + w
		}
	}
	return all
}

var arms = map[string][3]string{ // in a printed book, in a clerk's hand, on a stone
	"inf":   {"Infantry", "Inf.", "INF."},
	"cav":   {"Cavalry", "Cav.", "CAV."},
	"art":   {"Artillery", "Arty.", "ARTY."},
	"ha":    {"Heavy Artillery", "H. A.", "H.A."},
	"lbat":  {"Light Artillery", "Lt. Arty.", "L.A."},
	"bat":   {"Independent Battery, Light Artillery", "Batty.", "BATTY."},
	"fa":    {"Field Artillery", "F. A.", "F.A."},
	"eng":   {"Engineers", "Engrs.", "ENGRS."},
	"mg":    {"Machine Gun Battalion", "M. G. Bn.", "M.G. BN."},
	"mil":   {"Militia", "Militia", "MILITIA"},
	"nurse": {"Nurse Corps", "Nurse Corps", "NURSE CORPS"},
}

var handStates = pairsOf("MI:Mich. OH:Ohio NY:N. Y. IL:Ill. PA:Penna. IN:Ind. MA:Mass. WI:Wis. MO:Mo. IA:Iowa KY:Ky. NJ:N. J. ME:Me. CT:Conn. MD:Md. NH:N. H. WV:W. Va. VT:Vt. MN:Minn. KS:Kan. TN:Tenn. DE:Del. RI:R. I. VA:Va. GA:Ga. NC:N. C. AL:Ala. MS:Miss. US:U. S.")

func ordinal(n int) string {
	switch {
	case n%100 > 10 && n%100 < 14:
		return number(n) + "th"
	case n%10 == 1:
		return number(n) + "st"
	case n%10 == 2:
		return number(n) + "d"
	case n%10 == 3:
		return number(n) + "d"
	}
	return number(n) + "th"
}

var months = words("Jan. Feb. Mar. Apr. May June July Aug. Sept. Oct. Nov. Dec.")

func (d day) printed() string {
	return fmt.Sprintf("%s %d, %d", months[d.month()-1], d.dom(), d.year())
}
func (d day) iso() string { return fmt.Sprintf("%d-%02d-%02d", d.year(), d.month(), d.dom()) }
func (d day) hand() string {
	return fmt.Sprintf("%d %s %d", d.dom(), strings.TrimSuffix(months[d.month()-1], "."), d.year())
}

var printedRanks = pairsOf("private:Private corporal:Corporal sergeant:Sergeant musician:Musician wagoner:Wagoner captain:Captain nurse:Nurse landsman:Landsman seaman:Seaman fireman:Fireman boy:Boy quartermaster:Quartermaster yeoman:Yeoman " +
	"ordinary-seaman:Ordinary Seaman coal-heaver:Coal Heaver gunner's-mate:Gunner's Mate machinist's-mate:Machinist's Mate")

func ranked(r string) string {
	if p := printedRanks[r]; p != "" {
		return p
	}
	parts := words(r)
	for i := range parts {
		parts[i] = upper1(parts[i])
	}
	return strings.Join(parts, " ")
}

// told is an age as a man gives it: the unlettered like round ones, boys and old men make themselves fit to serve.
func (m *maker) toldAge(p *man, when day, serving bool) int {
	age := p.born.age(when)
	if p.unlettered && m.chance(.4) {
		age = (age + 2) / 5 * 5
	} else if m.chance(.15) {
		age += m.any2(-1, 1, 1, 2)
	}
	if serving && when.year() < 1866 {
		if age < 18 && m.chance(.85) {
			age = 18
		} else if age > 44 {
			age = 44
		} else if age < 21 && m.chance(.1) {
			age = 21
		}
	}
	return age
}

// line is a row of a book, but for its number.
func (m *maker) line(p *man, s *stint) *row {
	w, r := s.wrote, &row{p: p, s: s}
	co := w.unit.letter
	if w.blank {
		co = ""
	}
	reg := ""
	if w.unit.number > 0 {
		reg = number(w.unit.number)
	}
	age := ""
	if m.chance(.62) {
		age = number(m.toldAge(p, s.in, true))
	}
	switch s.book {
	case rollBook:
		name := w.surname + ", " + w.given
		if p.suffix != "" && m.chance(.4) {
			name += ", Jr."
		}
		remarks, died, out := "", "", ""
		switch {
		case p.fell != "" && s.out == p.dies:
			died = s.out.printed()
			remarks = m.any("Died of disease at ", "Died at ", "Killed in action at ", "Died of wounds at ") + p.fell + ", " + died + "."
		case s.out < s.company.to-60 && m.chance(.9):
			remarks = m.any("Discharged for disability ", "Discharged by order ", "Transferred to V. R. C. ", "Discharged ") + s.out.printed() + "."
		case m.chance(.85):
			out = s.out.printed()
		}
		home := ""
		if m.chance(.55) {
			home = p.town
		}
		in := s.in.printed()
		if m.chance(.04) {
			in = ""
		}
		r.cells = []string{name, ranked(s.rank[0]), ranked(w.rank), co, reg, arms[w.unit.arm][0], "Michigan", age, home, in, out, died, remarks}
		r.key = fmt.Sprintf("%s %03d %s %s", w.unit.arm, w.unit.number, w.unit.letter, name)
	case indexBook:
		side := "Union"
		if s.south {
			side = "Confederate"
		}
		if m.chance(.026) {
			reg = ""
		}
		r.cells = []string{w.surname, strings.ReplaceAll(w.given, ".", ""), side, stateNames[w.unit.body], co, reg, arms[w.unit.arm][0], ranked(s.rank[0]), ranked(w.rank)}
		r.key = w.surname + " " + w.given
	case navyBook:
		from := ""
		if m.chance(.75) {
			from = p.birthplace
		}
		r.cells = []string{w.surname + ", " + w.given, ranked(w.rank), "U.S.S. " + strings.ReplaceAll(w.ship, "-", " "), "Navy", age, from, number(s.in.year())}
		r.key = w.surname + " " + w.given
	case warsBook:
		war := map[string]string{"1812": "War of 1812", "mexican": "Mexican War", "indian": "Indian Wars", "1898": "Spanish-American War", "1917": "World War"}[s.war]
		arm, state := arms[w.unit.arm][0], stateNames[w.unit.body]
		branch := "Army"
		if w.unit.arm == "nurse" {
			arm, state = "", ""
		}
		if w.ship != "" {
			branch = "Navy"
		}
		home, born, died := "", "", ""
		if m.chance(.7) && p.state == "MI" {
			home = p.town + ", Mich."
		}
		if s.war == "1917" && m.chance(.7) {
			born = p.born.iso()
			if m.chance(.04) {
				born = (p.born + 372).iso()
			}
			age = ""
		}
		if p.fell != "" && m.chance(.9) {
			died = p.dies.iso()
		}
		r.cells = []string{w.surname, w.given, war, branch, ranked(w.rank), co, reg, arm, state, home, age, born, s.in.iso(), died}
		r.key = war + w.surname + " " + w.given
	}
	return r
}

// inmate writes a man into the Home's register, as he tells it, years after; and its row, if that leaf is left.
func (m *maker) inmate(p *man) {
	h := p.home
	h.wrote = m.write(p, h.stint, h.stint.rank[1], clerks[homeBook], p.alias != nil && m.chance(.3))
	h.age = m.toldAge(p, h.admitted, false)
	if h.wrote.unit.arm == "mil" || h.wrote.unit.arm == "nurse" {
		h.wrote.unitless = true
	}
	if !p.listed || !m.chance(kept) {
		return
	}
	w, s := h.wrote, h.stint
	name := w.surname + ", " + w.given
	war, remarks := "", ""
	if m.chance(.8) {
		war = map[string]string{"1812": "War of 1812", "mexican": "Mexican War", "indian": "Indian Wars", "1898": "Spanish-American War", "1917": "World War", "1861": "Civil War"}[s.war]
		if s.south {
			remarks = "Confederate soldier. "
		}
	}
	from, home, died := p.birthplace, "", ""
	if m.chance(.06) {
		from = ""
	}
	if m.chance(.8) {
		home = p.town
		if st := handStates[p.state]; st != "" && st != "U. S." {
			home += ", " + st
		}
	}
	born := ""
	if m.chance(.85) {
		born = number(h.admitted.year() - h.age)
	}
	if h.died {
		if m.chance(.95) {
			died = p.dies.hand()
			if m.chance(.02) {
				died = (p.dies + 372).hand()
			}
		}
	} else {
		remarks += m.any("Disch. ", "Disch. own request ", "Dropped ", "Absent since ") + h.left.hand()
	}
	m.books[homeBook] = append(m.books[homeBook], &row{p, s, []string{name, ranked(w.rank), handUnit(w), war, number(h.age), born, from, home, h.admitted.hand(), died, remarks}, fmt.Sprintf("%08d %s", int(h.admitted), name)})
	m.count[homeBook]++
	m.rows++
}

// handUnit is a unit as the Home's clerk wrote it.
func handUnit(w written) string {
	u := w.unit
	switch {
	case w.ship != "":
		return "U. S. Navy, U.S.S. " + strings.ReplaceAll(w.ship, "-", " ")
	case u.arm == "nurse":
		return "Army Nurse Corps"
	case w.unitless || u.number == 0:
		return ""
	}
	co := ""
	if u.letter != "" && !w.blank {
		co = "Co. " + u.letter + ", "
		if u.arm == "lbat" || u.arm == "fa" || u.arm == "art" {
			co = "Batt. " + u.letter + ", "
		}
	}
	switch u.body {
	case "usct":
		return co + ordinal(u.number) + " U. S. C. " + arms[u.arm][1]
	case "vrc":
		return co + ordinal(u.number) + " V. R. C."
	}
	return co + ordinal(u.number) + " " + handStates[u.body] + " " + arms[u.arm][1]
}

var (
	bookNames = [bookCount]string{"roster-state.csv", "roster-index.csv", "roster-navy.csv", "roster-wars.csv", "roster-home.csv"}
	heads     = [bookCount]string{
		"id name rank_in rank_out company regiment arm state age residence enlisted mustered_out died remarks",
		"id surname given side state company regiment arm rank_in rank_out",
		"id name rank_in unit branch age birthplace enlisted",
		"id surname given conflict branch rank_out company regiment arm state residence age born enlisted died",
		"id name rank_out unit conflict age_admitted born birthplace residence admitted died remarks",
	}
)

// bind sorts a book and numbers its rows.
func (m *maker) bind(book int) [][]string {
	rows := m.books[book]
	slices.SortStableFunc(rows, func(a, b *row) int { return cmp.Compare(a.key, b.key) })
	out := [][]string{words(heads[book])}
	for i, r := range rows {
		id := string("MFNWH"[book]) + number(i+1)
		r.p.records = append(r.p.records, id)
		out = append(out, append([]string{id}, r.cells...))
	}
	return out
}
