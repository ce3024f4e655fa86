package landing

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
)

// The books, by who kept them.
const (
	roll       = iota // the state's printed roll: companies as mustered
	enrollment        // the township assessors' list of late soldiers living in 1890, told by the men themselves
	index             // cards of men of other states, of colored troops, of ships, of the other side
	later             // the state's cards of 1898 and 1917
	books
)

// row is what a book says of a man.
type row struct {
	book  int
	man   *man
	id    string
	order string   // by which its book is sorted
	cells []string // after the id
}

var columns = [books][]string{
	roll:       strings.Fields("id name rank_in rank_out company regiment arm state residence age mustered_in mustered_out remarks"),
	enrollment: strings.Fields("id surname given rank_out unit residence enlisted mustered_out remarks"),
	index:      strings.Fields("id surname given rank_in rank_out company regiment unit arm state branch side died death_place remarks"),
	later:      strings.Fields("id surname given born birthplace residence rank_out company regiment arm state conflict enlisted mustered_out died remarks"),
}

// short is how given names are abbreviated.
var short = map[string]string{"William": "Wm.", "John": "Jno.", "James": "Jas.", "George": "Geo.", "Charles": "Chas.", "Thomas": "Thos.", "Joseph": "Jos.", "Samuel": "Saml.", "Robert": "Robt.", "Benjamin": "Benj.", "Daniel": "Danl.", "Andrew": "Andw.", "Alexander": "Alex.", "Frederick": "Fredk.", "Michael": "Michl.", "Patrick": "Patk.", "Edward": "Edwd.", "Richard": "Richd.", "Jonathan": "Jona.", "Nathaniel": "Nathl.", "Henry": "Hy.", "Abraham": "Abrm.", "Albert": "Albt.", "Christian": "Christn.", "Philip": "Phil.", "Jeremiah": "Jer.", "Nicholas": "Nichs."}

// familiar is what a man is called at home.
var familiar = map[string]string{"William": "Will", "Henry": "Harry", "Francis": "Frank", "Franklin": "Frank", "Charles": "Charley", "James": "Jim", "John": "Jack", "Samuel": "Sam", "Thomas": "Tom", "Joseph": "Joe", "Frederick": "Fred", "Benjamin": "Ben", "Daniel": "Dan", "Andrew": "Andy", "Alexander": "Alex", "Alfred": "Fred", "Edward": "Ed", "Lawrence": "Larry", "Robert": "Bob", "Michael": "Mike", "Theodore": "Theo", "Patrick": "Pat", "Augustus": "Gus", "Peter": "Pete"}

type battle struct {
	name string
	on   day
}

var battles = []battle{{"Shiloh", day{1862, 4, 6}}, {"Perryville", day{1862, 10, 8}}, {"Stone's River", day{1862, 12, 28}}, {"Champion Hill", day{1863, 5, 16}}, {"Vicksburg", day{1863, 5, 22}}, {"Chickamauga", day{1863, 9, 19}}, {"Missionary Ridge", day{1863, 11, 25}}, {"Resaca", day{1864, 5, 14}}, {"Kennesaw Mountain", day{1864, 6, 27}}, {"Atlanta", day{1864, 7, 22}}, {"Franklin", day{1864, 11, 28}}, {"Nashville", day{1864, 12, 15}}}

// ranks at the end, in thousandths: six regiments, counted.
var ranks = []struct {
	share int
	rank  string
}{{70, "Corporal"}, {50, "Sergeant"}, {11, "First Sergeant"}, {12, "Musician"}, {5, "Wagoner"}, {10, "Second Lieutenant"}, {10, "First Lieutenant"}, {8, "Captain"}, {824, "Private"}}

func (m *maker) rank(u *unit) string {
	if u.ship != "" {
		return m.any("Landsman", "Landsman", "Seaman", "Ordinary Seaman", "First Class Fireman", "Coal Heaver", "Boy")
	}
	r := m.IntN(1000)
	for _, x := range ranks {
		if r -= x.share; r < 0 {
			return x.rank
		}
	}
	return "Private"
}

// muster brings a man into a company, and says what becomes of him there.
func (m *maker) muster(c *company, p *man, again int) {
	s := &service{company: c, man: p, rank: m.rank(c.unit), rankIn: "Private"}
	if c.ship != "" || s.rank == "Musician" || s.rank == "Captain" || m.chance(.04) {
		s.rankIn = s.rank
	}
	s.in = m.on(c.year)
	end := day{1865, 6 + m.IntN(3), 1 + m.IntN(28)}
	switch c.war {
	case 1861:
		if m.chance(.24) && c.year < 1865 && again == 0 {
			s.in = m.on(c.year + 1 + m.IntN(1865-c.year))
		}
		if c.year == 1861 && s.in.y == 1861 && m.chance(.5) {
			end = m.on(1864)
		}
		if c.num >= 132 && c.num <= 139 && c.state == "Indiana" { // a hundred days
			s.in.m = 5
			end = day{1864, 9, s.in.d}
		}
	case 1898:
		s.in.m, end = 4+m.IntN(3), day{1899, 1 + m.IntN(4), 1 + m.IntN(28)}
	default:
		end = day{1919, 1 + m.IntN(7), 1 + m.IntN(28)}
	}
	if end.before(s.in) {
		end = day{s.in.y + 1, s.in.m, s.in.d}
	}
	s.out = end
	dead := .18
	if c.war != 1861 {
		dead = .03
	}
	if c.side == "Confederate" {
		dead = .2
	}
	years := end.y - s.in.y
	switch {
	case m.chance(dead) && years > 0:
		p.at = m.any("Nashville, Tenn.", "Louisville, Ky.", "Murfreesboro, Tenn.", "Chattanooga, Tenn.", "Memphis, Tenn.", "Andersonville, Ga.", "Vicksburg, Miss.", "Corinth, Miss.", "Indianapolis, Ind.", "home")
		p.died = m.on(s.in.y + m.IntN(years+1))
		if p.died.before(s.in) || end.before(p.died) {
			p.died = day{s.in.y + 1, 1, 1 + m.IntN(28)}
		}
		s.remark = "Died at " + p.at + ", " + p.died.String() + "."
		if c.war == 1917 {
			p.at = m.any("France", "France", "Camp Taylor, Ky.", "Camp Shelby, Miss.")
			s.remark = "Died in " + p.at + ", " + p.died.String() + "."
		} else if c.war == 1861 && m.chance(.33) && c.ship == "" {
			if i := slices.IndexFunc(battles, func(b battle) bool { return s.in.before(b.on) && b.on.before(end) }); i >= 0 {
				b := battles[i+m.IntN(min(4, len(battles)-i))]
				if b.on.before(end) {
					p.died, p.at, p.killed = b.on, b.name, true
					s.remark = "Killed at " + b.name + ", " + b.on.String() + "."
				}
			}
		}
		s.out = p.died
	case m.chance(.23):
		s.out = day{s.in.y + 1, 1 + m.IntN(12), 1 + m.IntN(28)}
		if end.before(s.out) {
			s.out = end
		}
		s.remark = m.any("Discharged "+s.out.String()+"; disability.", "Discharged for disability, "+s.out.String()+".", "Discharged "+s.out.String()+".")
	case c.war == 1861 && c.side == "Union" && c.ship == "" && again == 0 && m.chance(.03):
		s.moved = 1 + m.IntN(24)
		s.out = day{min(s.in.y+1+m.IntN(2), 1865), 1 + m.IntN(5), 1 + m.IntN(28)}
		s.remark = "Transferred to Veteran Reserve Corps, " + s.out.String() + "."
	case m.chance(.03):
		s.out = day{}
		s.remark = m.any("Deserted.", "Not accounted for.", "Absent, sick, at muster out.")
	default:
		s.remark = "Mustered out " + end.String() + "."
		if s.rank != s.rankIn && m.chance(.6) {
			s.remark = "Mustered out " + end.String() + " as " + s.rank + "."
		}
	}
	if p.at == "" && p.died.y == 0 {
		p.died = m.on(m.life(p.born.y, end.y+1))
		if m.chance(.012) && c.war == 1861 {
			p.alias = p.house.folk.surname(m)
		}
	}
	age := s.in.y - p.born.y
	switch {
	case age < 18 && c.war < 1917:
		s.said = 18
	case age > 44:
		s.said = 44
	case age == 20 && m.chance(.15):
		s.said = 21
	case m.chance(.1):
		s.said = max(18, (age+2)/5*5)
	default:
		s.said = age
	}
	s.surname, s.given = m.writtenSurname(p, c), m.writtenGiven(p, c)
	p.served = append(p.served, s)
	c.men = append(c.men, s)
}

// writtenSurname is how a company's clerk, and the printer after him, have a man's surname.
func (m *maker) writtenSurname(p *man, c *company) string {
	s := p.surname
	if p.alias != "" {
		s = p.alias
	}
	ear, hand := p.house.folk.misheard, .022
	if c.war != 1861 {
		ear, hand = ear/3, .012
	}
	if m.chance(ear) {
		if s = m.heard(s, p.house.folk); m.chance(.12) {
			s = m.heard(s, p.house.folk)
		}
	}
	if m.chance(hand) {
		s = m.copied(s)
	}
	return s
}

// writtenGiven is how he has the rest of a man's name.
func (m *maker) writtenGiven(p *man, c *company) string {
	given, middle := p.given, ""
	switch {
	case c.initials && m.chance(.5), m.chance(.012):
		given = given[:1] + "."
	case c.short && m.chance(.6), m.chance(.012):
		if a := short[given]; a != "" {
			given = a
		}
	case m.chance(.012):
		if a := familiar[given]; a != "" {
			given = a
		}
	case m.chance(.006):
		given = m.copied(given)
	case m.chance(.01) && p.middle != "":
		given = p.middle
	}
	if p.middle != "" && given != p.middle && !m.chance(.15) {
		middle = " " + p.middle[:1] + "."
		if m.chance(.012) {
			middle = " " + string("ABCDEFGHJLMNRSTW"[m.IntN(16)]) + "."
		}
	}
	if p.suffix != "" && m.chance(.3) {
		middle += ", " + p.suffix
	}
	return given + middle
}

// abbreviations of bodies, as cards and stones have them; the first is the most usual.
var abbreviated = map[string][]string{"Indiana": {"Ind.", "Ind.", "Inda."}, "Ohio": {"Ohio", "Ohio", "O."}, "Kentucky": {"Ky."}, "Illinois": {"Ill.", "Ills."}, "Pennsylvania": {"Pa.", "Penna.", "Pa."}, "New York": {"N. Y."}, "West Virginia": {"W. Va."}, "Tennessee": {"Tenn."}, "Missouri": {"Mo."}, "Michigan": {"Mich."}, "Wisconsin": {"Wis."}, "Virginia": {"Va."}, "Georgia": {"Ga."}, "U. S. C. T.": {"U. S. C. T.", "U. S. Col."}, "U. S.": {"U. S."}, "V. R. C.": {"V. R. C."}, "Navy": {"U. S. N."}}

func (m *maker) abbr(state string) string { return m.any(abbreviated[state]...) }

// list puts a company into its book: leaves are torn out of it, and lines left out.
func (m *maker) list(c *company) {
	book := index
	switch {
	case c.war != 1861:
		book = later
	case c.state == "Indiana":
		book = roll
	}
	slices.SortStableFunc(c.men, func(a, b *service) int {
		return cmp.Or(strings.Compare(a.surname, b.surname), strings.Compare(a.given, b.given))
	})
	from, upto := 0, 0
	if n := len(c.men); book == roll && m.chance(.35) {
		from = m.IntN(n)
		upto = from + n/8 + m.IntN(n/6)
	}
	for i, s := range c.men {
		gone := .125
		if book == roll {
			gone = .07
		}
		lost := i >= from && i < upto || m.chance(gone)
		if !lost {
			m.keep(m.entry(book, s))
		}
		if s.moved > 0 {
			vrc := &service{company: &company{unit: &unit{state: "V. R. C.", num: s.moved, war: 1861, year: 1864, side: "Union"}, letter: string("ABCDEFGHIK"[m.IntN(10)])}, man: s.man, rank: "Private", rankIn: "Private", in: s.out, out: day{1865, 11, 1 + m.IntN(28)}}
			vrc.surname, vrc.given = m.writtenSurname(s.man, s.company), m.writtenGiven(s.man, s.company)
			s.man.served = append(s.man.served, vrc)
			if !m.chance(.125) {
				m.keep(m.entry(index, vrc))
			}
		}
	}
}

// keep has a row stand in its book, as long as there is room.
func (m *maker) keep(r *row) {
	if m.rows == m.records {
		return
	}
	m.books[r.book] = append(m.books[r.book], r)
	r.man.rows = append(r.man.rows, r)
	m.rows++
}

// entry is a row of the roll, the index or the later cards.
func (m *maker) entry(book int, s *service) *row {
	p, c := s.man, s.company
	num := ""
	if c.num > 0 {
		num = strconv.Itoa(c.num)
	}
	if len(num) > 1 && m.chance(.004) { // a figure drops out in print, as in the list of Andersonville's dead
		num = num[:len(num)-1]
	}
	letter := c.letter
	if letter != "" && m.chance(.008) {
		letter = string("ABCDEFGHIK"[m.IntN(10)])
	} else if m.chance(.012) {
		letter = ""
	}
	r := &row{book: book, man: p}
	home := p.house.town
	switch book {
	case roll:
		var residence, age, out string
		if m.chance(.78) {
			residence = home.name
		}
		if c.ages && m.chance(.95) {
			age = strconv.Itoa(s.said)
		}
		if s.out.y > 0 && p.at == "" && m.chance(.9) {
			out = s.out.String()
		}
		r.cells = []string{s.surname + ", " + s.given, s.rankIn, s.rank, letter, num, c.arm, "Indiana", residence, age, s.in.String(), out, s.remark}
		r.order = c.arm + strconv.Itoa(1000+c.num) + c.letter + s.surname + s.given
	case index:
		arm, state, unit, branch := c.arm, m.abbr(c.state), "", ""
		if c.state == "U. S. C. T." {
			state = c.state
		}
		if c.ship != "" {
			arm, state, unit, branch = "", "", "U. S. S. "+c.ship, "Navy"
		}
		var died, place, remark string
		if p.at != "" && m.chance(.5) {
			died, place = p.died.String(), p.at
		} else if p.at == "" && p.died.y > 1880 && c.side == "Union" && m.chance(.3) { // a pensioner
			died = m.recalled(p.died, .06).String()
			if p.came && m.chance(.8) {
				place = "Marl Landing, Ind."
			}
		}
		if c.old != "" && m.chance(.5) {
			remark = "Formerly " + c.old + "."
		}
		if p.alias != "" && m.chance(.5) {
			remark = "Alias " + p.given + " " + p.surname + "."
		}
		r.cells = []string{s.surname, s.given, s.rankIn, s.rank, letter, num, unit, arm, state, branch, c.side, died, place, remark}
		r.order = s.surname + ", " + s.given
	case later:
		state, war, born, birthplace := c.state, "Spanish-American War", "", ""
		if c.war == 1917 {
			state, war, birthplace = "U. S.", "World War I", home.name+", Ind."
			if m.chance(.9) {
				born = p.born.String()
			}
		} else if m.chance(.5) {
			born = strconv.Itoa(s.in.y - s.said)
		}
		var out, died, remark string
		if p.at != "" {
			died, remark = p.died.String(), s.remark
		} else if s.out.y > 0 {
			out = s.out.String()
		}
		r.cells = []string{s.surname, s.given, born, birthplace, home.name, s.rank, letter, num, c.arm, state, war, s.in.String(), out, died, remark}
		r.order = strconv.Itoa(c.war) + s.surname + s.given
	}
	return r
}

// recalled is a day as one has it who may have it wrong.
func (m *maker) recalled(d day, wrong float64) day {
	if m.chance(wrong) {
		switch m.IntN(4) {
		case 0:
			d.y += 1 - 2*m.IntN(2)
		case 1:
			d.m = 1 + m.IntN(12)
		default:
			d.d = 1 + (d.d+m.IntN(6))%28
		}
	}
	return d
}

// enroll has the township's assessor write down a man who lives in 1890, as he tells it.
func (m *maker) enroll(p *man, town string) {
	f := p.house.folk
	surname := p.surname
	if m.chance(f.misheard * .6) {
		surname = m.heard(surname, f)
	}
	if m.chance(.022) {
		surname = m.copied(surname)
	}
	given, middle := p.given, ""
	if p.middle != "" && !m.chance(.15) {
		middle = " " + p.middle[:1] + "."
	}
	switch {
	case m.chance(.1):
		given = given[:1] + "."
	case m.chance(.1) && short[given] != "":
		given = short[given]
	case m.chance(.035) && familiar[given] != "":
		given = familiar[given]
	}
	s := p.served[m.IntN(len(p.served))]
	num, letter := s.num, s.letter
	if m.chance(.03) && num > 9 {
		num += []int{-1, 1, 10, 2, -2}[m.IntN(5)]
	}
	if letter != "" && m.chance(.04) {
		letter = string("ABCDEFGHIK"[m.IntN(10)])
	}
	unit := m.unitText(s.unit, num, letter)
	rank, in, out, remark := s.rank, "", "", ""
	if rank == "Private" && m.chance(.5) {
		rank = ""
	}
	if m.chance(.7) {
		in = m.recalled(s.in, .15).String()
	}
	if m.chance(.6) && s.out.y > 0 {
		out = m.recalled(s.out, .15).String()
	}
	if p.alias != "" && m.chance(.5) {
		remark = "Enlisted as " + p.given + " " + p.alias + "."
	} else if m.chance(.3) {
		remark = m.any("Rheumatism.", "Gunshot wound in leg.", "Chronic diarrhea.", "Lost left eye.", "Deaf.", "Heart trouble.", "Prisoner at Andersonville.", "Draws pension.")
	}
	r := &row{book: enrollment, man: p, cells: []string{surname, given + middle, rank, unit, town, in, out, remark}}
	r.order = town + strconv.Itoa(100000+m.IntN(800000))
	m.keep(r)
}

// unitText is a unit in a man's own words.
func (m *maker) unitText(u *unit, num int, letter string) string {
	if u.ship != "" {
		return "U. S. S. " + u.ship
	}
	state, n := m.abbr(u.state), strconv.Itoa(num)
	if u.arm == "Light Artillery" {
		return m.any(n+ordinal(num)+" "+state+" Battery", n+" "+state+" Batty.", n+ordinal(num)+" Battery, "+state+" L. A.")
	}
	arm := map[string]string{"Infantry": "Inf.", "Cavalry": "Cav.", "Heavy Artillery": "H. A."}[u.arm]
	text := m.any(n+" "+state+" "+arm, n+ordinal(num)+" "+state+" "+arm, n+ordinal(num)+" Regt. "+state+" "+arm)
	if letter != "" {
		text = "Co. " + letter + m.any(" ", ", ") + text
	}
	return strings.TrimSpace(text)
}

func ordinal(n int) string {
	switch {
	case n%100 > 10 && n%100 < 14:
		return "th"
	case n%10 == 1:
		return "st"
	case n%10 == 2:
		return "d"
	case n%10 == 3:
		return "d"
	}
	return "th"
}

// bind sorts a book, numbers its rows and makes it a table.
func (m *maker) bind(book int) [][]string {
	rows := m.books[book]
	slices.SortStableFunc(rows, func(a, b *row) int { return strings.Compare(a.order, b.order) })
	out := [][]string{columns[book]}
	for i, r := range rows {
		r.id = string("REXL"[book]) + strconv.Itoa(i+1)
		out = append(out, append([]string{r.id}, r.cells...))
	}
	return out
}
