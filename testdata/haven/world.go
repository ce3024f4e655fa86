package haven

import (
	"cmp"
	"math"
	"slices"
	"strings"
)

// day is a day of years of 12 months of 31 days; no day is after the 28th. 0 is not known.
type day int

func on(y, m, d int) day    { return day(y*372 + (m-1)*31 + d - 1) }
func (d day) year() int     { return int(d) / 372 }
func (d day) month() int    { return int(d)%372/31 + 1 }
func (d day) dom() int      { return min(int(d)%31+1, 28) }
func (d day) at(y int) int  { return y - d.year() }
func (d day) age(t day) int { return (int(t) - int(d)) / 372 }

// within is a day of some years.
func (m *maker) within(first, last int) day {
	return on(first+m.IntN(last-first+1), 1+m.IntN(12), 1+m.IntN(28))
}

type man struct {
	surname, given, middle, suffix string
	alias                          *[2]string // surname and given name that he served under
	woman, unlettered, foreign     bool
	born, dies                     day
	birthplace, town, state        string
	father                         *man
	brothers                       []*man
	stints                         []*stint
	listed                         bool
	fell                           string // where he died in service
	home                           *stay
	records                        []string
}

// unit is what a company belongs to.
type unit struct {
	body   string // a state's postal code, US, usct, vrc
	arm    string // as in arms
	number int
	letter string
}

type company struct {
	unit
	from, to day
	room     int
}

// stint is one service of a man, and as the book of its kind has it.
type stint struct {
	*company
	war     string
	ship    string
	in, out day
	rank    [2]string // when he came, when he went
	book    int
	south   bool
	wrote   written
}

// written is a man as a clerk wrote him down.
type written struct {
	surname, given string
	rank           string
	unit           unit
	ship           string
	blank          bool // no company
	unitless       bool
}

// stay is a man's time in the Home, with what its clerk wrote.
type stay struct {
	admitted, left day
	died           bool
	wrote          written
	age            int
	stint          *stint
}

// force is what a state sent: how many units of each arm, counted in W. F. Fox, Regimental Losses, 1898; those of the South from memory. near is how likely its men are to come to the Home, less than nothing for the South's.
type force struct {
	state             string
	inf, cav, bat, ha int
	near              float64
}

var forces = []force{
	{"OH", 192, 13, 24, 2, 3}, {"NY", 181, 24, 33, 13, 3}, {"IL", 155, 17, 12, 0, 2}, {"PA", 143, 21, 11, 4, 1.6}, {"IN", 122, 13, 26, 1, 2.5}, {"MA", 59, 5, 16, 4, .7}, {"WI", 53, 3, 13, 1, 2},
	{"MO", 47, 27, 2, 0, .5}, {"IA", 45, 9, 4, 0, .7}, {"KY", 43, 17, 3, 0, .4}, {"NJ", 33, 3, 5, 0, .6}, {"ME", 30, 2, 7, 1, .5}, {"CT", 27, 1, 3, 2, .5}, {"MD", 17, 4, 1, 0, .2}, {"NH", 17, 1, 1, 1, .5},
	{"WV", 16, 7, 1, 0, .3}, {"VT", 16, 1, 3, 1, 1}, {"MN", 11, 2, 3, 1, .7}, {"KS", 7, 9, 3, 0, .5}, {"TN", 6, 10, 1, 0, .1}, {"DE", 9, 1, 1, 0, .2}, {"RI", 8, 3, 8, 2, .4},
}

var south = []force{{"VA", 61, 20, 0, 0, -1}, {"GA", 64, 12, 0, 0, -1}, {"TN", 62, 20, 0, 0, -1}, {"NC", 70, 6, 0, 0, -1}, {"AL", 60, 9, 0, 0, -1}, {"MS", 48, 12, 0, 0, -1}, {"KY", 9, 12, 0, 0, -1}}

var (
	homeForce = force{"MI", 34, 11, 14, 0, 6}
	ships     = words("Allouez Brantmere Calderon Dunmarrow Eskadale Fairholt Grenada-Belle Harpooner Ibex Juniata-Star Kestrel Larkspur Meridian Nansemond-Rose Orchard Petrel Quadrant Raritan-Queen Sandpiper Tansy Undine Valiant Wanderer Yarrow")
	yeomen    = words("landsman landsman landsman landsman landsman seaman seaman seaman ordinary-seaman ordinary-seaman fireman coal-heaver boy quartermaster gunner's-mate")
	towns     = words("Ansel Ansel Ansel Ansel Ansel Berrow Colmere Dunnick Eastlow Fallwick Garner Holm Iverton Junco Kettle Lorne Marrick Norvell Ormsby Pellow")
	nations   = []*people{yankee, teuton, irish, dutch, canuck, cornish, norse}
	mixes     = map[string][]int{"MI": {58, 13, 9, 7, 6, 4, 3}, "NY": {62, 15, 18, 3, 1, 1, 0}, "PA": {60, 26, 11, 1, 0, 2, 0}, "WI": {42, 30, 9, 2, 2, 4, 11}, "MN": {45, 20, 10, 1, 3, 1, 20}, "": {70, 14, 11, 1, 2, 1, 1}}
)

// household is a father and his sons, and who of them went to war; the father is born in one of some years.
func (m *maker) household(f *force, first, last int, head *man) (all []*man) {
	later := first > 1830
	var of *people
	surname := ""
	if head == nil {
		mix := mixes[f.state]
		if mix == nil {
			mix = mixes[""]
		}
		n := m.IntN(100)
		for i, share := range mix {
			if of = nations[i]; n < share {
				break
			}
			n -= share
		}
		if f.state == "usct" {
			of = freed
		}
		surname = m.surname(of, later)
		head = m.birth(surname, m.within(first, last), f, of, nil)
	} else {
		surname, of = head.surname, yankee
	}
	all = append(all, head)
	town := head.town
	taken := map[string]bool{}
	for range 1 + m.IntN(6) {
		son := m.birth(surname, m.within(head.born.year()+21, head.born.year()+44), f, of, head)
		son.town, son.father = town, head
		if m.chance(.18) && !taken[head.given] {
			son.given = head.given
			if m.chance(.5) {
				son.middle = ""
			}
			if m.chance(.3) {
				son.suffix = "Jr"
			}
		}
		if taken[son.given] {
			continue
		}
		taken[son.given] = true
		if of.foreign && !m.chance(.6) {
			son.birthplace, son.unlettered = stateNames[f.state], m.chance(.06)
		}
		all = append(all, son)
	}
	for _, a := range all {
		for _, b := range all[1:] {
			if a != b && a != head {
				a.brothers = append(a.brothers, b)
			}
		}
	}
	return all
}

func (m *maker) birth(surname string, born day, f *force, of *people, father *man) *man {
	p := &man{surname: surname, born: born, state: f.state, father: father, unlettered: m.chance(of.unlettered), foreign: of.foreign}
	late := born.year() > 1868
	bag, middles := m.bags["given 1861"], .66
	if late {
		bag, middles = m.bags["given 1917"], .77
	}
	p.given = m.draw(bag)
	switch { // a nation's own favourites
	case late || !m.chance(.4):
	case of == teuton:
		p.given = m.any("John", "Frederick", "Henry", "August", "Charles", "Herman", "Jacob", "Peter", "Christian", "William", "Philip", "Adam")
	case of == irish:
		p.given = m.any("Patrick", "John", "Michael", "Thomas", "James", "William", "Daniel", "Dennis", "Timothy", "Peter", "Hugh")
	case of == dutch:
		p.given = m.any("Jan", "John", "Peter", "Cornelius", "Derk", "Gerrit", "Hendrik", "Jacob", "Klaas", "Arie")
	case of == canuck:
		p.given = m.any("Joseph", "Louis", "Peter", "John", "Antoine", "Francis", "Charles", "Alexander", "Oliver", "Moses")
	case of == norse:
		p.given = m.any("Ole", "Peter", "Hans", "Andrew", "John", "Nels", "Charles", "Lars", "Christian")
	}
	if m.chance(middles) && (of != irish || m.chance(.4)) {
		if p.middle = m.draw(bag); m.chance(.35) {
			p.middle = m.draw(m.bags["surname 1861"])
		}
	}
	if p.middle == p.given {
		p.middle = ""
	}
	p.birthplace = stateNames[f.state]
	switch {
	case of.lands != nil:
		p.birthplace = m.any(of.lands...)
	case m.chance(.45):
		p.birthplace = m.any("New York", "New York", "Ohio", "Pennsylvania", "Vermont", "Massachusetts", "Connecticut", "Canada", "Indiana", "England", "Virginia", "Kentucky")
	}
	if p.birthplace == "" {
		p.birthplace = "Ohio"
	}
	p.town = m.any(m.towns...)
	if f.state == "MI" {
		p.town = m.any(towns...)
	}
	p.dies = m.death(born, born+20*372)
	return p
}

// death is when one dies who lives at a day: Gompertz's law, with a hazard that doubles in nine years and a quarter.
func (m *maker) death(born, alive day) day {
	a, b := .00022, .075
	x := float64(alive-born) / 372
	t := math.Log(1-math.Log(1-m.Float64())*b/(a*math.Exp(b*x))) / b
	return alive + day(t*372) + 1
}

// raise gives the company that a man goes to: the one that is being raised that year in his town, or as often in another, until it is full.
func (m *maker) raise(f *force, town, war string, when day) *company {
	key := f.state + war + number(when.year())
	if f.near < 0 {
		war += "south" // of a state that sent men to both sides
		key += "south"
	}
	if f.state != "MI" {
		key += number(m.IntN(m.places))
	} else if m.chance(.55) {
		key += town
	} else {
		key += m.any(towns...)
	}
	c := m.raising[key]
	if c != nil && c.room > 0 {
		c.room--
		return c
	}
	c = &company{from: when, room: 8 + m.IntN(83)}
	if f.state == "MI" {
		c.room = 60 + m.IntN(60)
	}
	for try := range 60 {
		c.unit = m.unit(f, strings.TrimSuffix(war, "south"), when)
		if at := war + c.body + c.arm + c.letter + number(c.number); !m.raised[at] || try == 59 {
			m.raised[at] = true
			break
		}
	}
	c.to = min(c.from+3*372, on(1865, 7, 10))
	m.raising[key] = c
	return c
}

// unit draws a unit of a state; later ones have higher numbers.
func (m *maker) unit(f *force, war string, when day) unit {
	letter := string("ABCDEFGHIK"[m.IntN(10)])
	switch war {
	case "1812":
		return unit{f.state, "mil", 0, ""}
	case "mexican":
		return unit{f.state, "inf", 1 + m.IntN(2), letter}
	case "1898":
		if m.chance(.15) {
			return unit{"US", "inf", 1 + m.IntN(25), letter}
		}
		return unit{f.state, "inf", 31 + m.IntN(5), string("ABCDEFGHIKLM"[m.IntN(12)])}
	case "1917":
		switch m.IntN(10) {
		case 0, 1:
			return unit{"US", "fa", 300 + m.IntN(50), letter}
		case 2:
			return unit{"US", "eng", 10 + m.IntN(310), letter}
		case 3:
			return unit{"US", "mg", 119 + m.IntN(30), letter}
		case 4, 5, 6:
			return unit{"US", "inf", m.any2(125, 126, 128, 338, 339, 340), letter}
		}
		return unit{"US", "inf", 1 + m.IntN(370), letter}
	case "indian":
		if m.chance(.4) {
			return unit{"US", "cav", 1 + m.IntN(10), string("ABCDEFGHIKLM"[m.IntN(12)])}
		}
		return unit{"US", "inf", 1 + m.IntN(25), letter}
	}
	if f.state == "usct" {
		if m.chance(.12) {
			return unit{"usct", "ha", 3 + m.IntN(11), letter}
		}
		return unit{"usct", "inf", 1 + m.IntN(138), letter}
	}
	if f.state == "US" {
		return unit{"US", m.any("inf", "inf", "inf", "cav", "art"), 1 + m.IntN(19), letter}
	}
	n := m.IntN(f.inf + f.cav*12/10 + (f.bat+9)/10 + f.ha)
	progress := min(max(float64(when-on(1861, 4, 1))/float64(4*372), 0), 1)
	place := func(most int) int { // about as far in the run of numbers as the war has run
		x := math.Abs(progress + .5*(m.Float64()-.5))
		if x > 1 {
			x = 2 - x
		}
		return 1 + min(most-1, int(float64(most)*x))
	}
	switch {
	case n < f.inf:
		return unit{f.state, "inf", place(f.inf), letter}
	case n < f.inf+f.cav*12/10:
		return unit{f.state, "cav", place(f.cav), string("ABCDEFGHIKLM"[m.IntN(12)])}
	case n < f.inf+f.cav*12/10+f.ha:
		return unit{f.state, "ha", 1 + m.IntN(f.ha), string("ABCDEFGHIKLM"[m.IntN(12)])}
	case f.state == "MI":
		return unit{f.state, "lbat", 1, string("ABCDEFGHIKLM"[m.IntN(12)])}
	}
	return unit{f.state, "bat", 1 + m.IntN(max(f.bat, 1)), ""}
}

// enlist says who of a household serves in the war of 1861, and where; a brother goes with his brother about every fourth time, if he does not anyway come to the company of their town.
func (m *maker) enlist(all []*man, f *force, confederate bool) {
	for _, p := range all {
		if !m.chance(.5) {
			continue
		}
		year := m.any2(1861, 1861, 1862, 1862, 1862, 1862, 1863, 1864, 1864, 1864, 1865)
		in := on(year, 3+m.IntN(9), 1+m.IntN(28))
		if year == 1865 {
			in = on(year, 1+m.IntN(3), 1+m.IntN(28))
		}
		if age := p.born.age(in); age < 15 || age > 46 || age > 38 && !m.chance(.4) || age > 28 && !m.chance(.75) {
			continue
		}
		var c *company
		for _, b := range p.brothers {
			if len(b.stints) > 0 && b.stints[0].war == "1861" && b.stints[0].company != nil && m.chance(.22) && p.born.age(b.stints[0].in) > 15 {
				c, in = b.stints[0].company, b.stints[0].in
			}
		}
		lakes := .015
		if f.state == "MI" {
			lakes = .03
		}
		if c == nil && !confederate && f.state != "usct" && m.chance(lakes) {
			s := &stint{war: "1861", ship: m.any(ships...), in: in, out: in + day(372+m.IntN(372)), book: navyBook}
			r := m.any(yeomen...)
			s.rank = [2]string{r, r}
			p.stints = append(p.stints, s)
			m.enrolled(p)
			continue
		}
		if c == nil {
			c = m.raise(f, p.town, "1861", in)
		}
		s := &stint{company: c, war: "1861", in: in, out: c.to, south: confederate, book: m.bookOf(f.state, confederate)}
		s.rank = m.ranks()
		p.stints = append(p.stints, s)
		switch {
		case m.chance(.163):
			s.out = min(in+day(30+m.IntN(800)), on(1865, 6, 1))
			p.dies, p.fell = s.out, m.fell(s.out)
		case m.chance(.34):
			s.out = min(in+day(100+m.IntN(500)), on(1865, 6, 1))
			fallthrough
		default:
			p.dies = m.death(p.born, on(1865, 8, 1))
			if s.in < on(1864, 1, 1) && !confederate && m.chance(.09) {
				m.again(p, s, f)
			}
			if p.fell == "" && !confederate && f.state != "usct" && p.born.year() > 1838 && m.chance(.012) {
				y := 1866 + m.IntN(12)
				r := &stint{company: m.raise(&force{state: "US"}, "fort", "indian", on(y, 1, 1)), war: "indian", in: m.within(y, y), book: warsBook}
				r.out = r.in + 5*372
				if r.rank = m.ranks(); r.out < p.dies {
					p.stints = append(p.stints, r)
				}
			}
		}
		m.enrolled(p)
	}
}

// fell is a place of battle, prison or hospital where men died in a year.
func (m *maker) fell(when day) string {
	places := map[int][]string{
		1862: {"Shiloh, Tenn.", "Antietam, Md.", "Fredericksburg, Va.", "Corinth, Miss."},
		1863: {"Gettysburg, Pa.", "Murfreesboro, Tenn.", "Vicksburg, Miss.", "Chickamauga, Ga.", "Knoxville, Tenn."},
		1864: {"Andersonville, Ga.", "Andersonville, Ga.", "Wilderness, Va.", "Cold Harbor, Va.", "Petersburg, Va.", "Atlanta, Ga."},
		1865: {"Petersburg, Va.", "Bentonville, N. C.", "Salisbury, N. C."},
	}[when.year()]
	return m.any(append(places, "Nashville, Tenn.", "Louisville, Ky.", "Washington, D. C.", "Memphis, Tenn.", "Chattanooga, Tenn.")...)
}

// again is a second service: a veteran's in another company of his state, an invalid's in the Reserve Corps, or with the regulars.
func (m *maker) again(p *man, first *stint, f *force) {
	in := max(first.out+60, on(1863, 9, 1))
	if in > on(1865, 3, 1) {
		in = on(1864, 2, 10)
		first.out = in - 20
	}
	s := &stint{war: "1861", in: in, out: on(1865, 7+m.IntN(5), 1+m.IntN(28)), rank: m.ranks()}
	switch {
	case m.chance(.25):
		s.company = &company{unit: unit{"vrc", "inf", 1 + m.IntN(24), string("ABCDEFGHIK"[m.IntN(10)])}}
	case m.chance(.12):
		s.company = m.raise(&force{state: "US"}, p.town, "1861", in)
	default:
		s.company = m.raise(f, m.any(p.town, m.any(m.towns...)), "1861", in)
	}
	s.book = m.bookOf(s.body, false)
	if p.dies < s.out {
		p.dies = m.death(p.born, s.out)
	}
	p.stints = append(p.stints, s)
}

func (m *maker) bookOf(body string, confederate bool) int {
	if body == "MI" && !confederate {
		return rollBook
	}
	return indexBook
}

// ranks are those of six regiments, counted: sergeants .08, corporals .11, officers .035 and so on.
func (m *maker) ranks() [2]string {
	r := "private"
	switch n := m.IntN(1000); {
	case n < 110:
		r = "corporal"
	case n < 190:
		r = "sergeant"
	case n < 203:
		r = "first sergeant"
	case n < 223:
		r = "musician"
	case n < 231:
		r = "wagoner"
	case n < 239:
		r = "second lieutenant"
	case n < 253:
		r = "first lieutenant"
	case n < 266:
		r = "captain"
	}
	from := r
	if r != "musician" && r != "wagoner" && m.chance(.6) {
		from = "private"
	}
	return [2]string{from, r}
}

// enrolled takes a man among those who served: some of them under another name; and the rosters have heard of him or they have not.
func (m *maker) enrolled(p *man) {
	p.listed = m.chance(listed)
	if m.chance(.02) {
		p.alias = &[2]string{m.draw(m.bags["surname 1861"]), m.any(p.given, p.given, m.draw(m.bags["given 1861"]))}
	}
	m.served = append(m.served, p)
	m.rows += m.enter(p)
}

// otherWars are those before and after: fathers in 1812 and Mexico, sons of soldiers and of newcomers in 1898 and 1917, and nurses.
func (m *maker) otherWars(all []*man, f *force) {
	for _, p := range all {
		var war string
		var in day
		switch age := p.born.at; {
		case len(p.stints) > 0:
			continue
		case age(1813) > 17 && age(1813) < 38 && m.chance(.3):
			war, in = "1812", m.within(1812, 1814)
		case age(1847) > 18 && age(1847) < 36 && p.born.year() < 1829 && m.chance(.08):
			war, in = "mexican", m.within(1846, 1847)
		case age(1898) > 17 && age(1898) < 40 && m.chance(.13):
			war, in = "1898", on(1898, 4+m.IntN(4), 1+m.IntN(28))
		case age(1917) > 19 && age(1917) < 33 && m.chance(.45):
			war, in = "1917", m.within(1917, 1918)
		default:
			continue
		}
		if p.dies < in+372 {
			p.dies = m.death(p.born, in+2*372)
		}
		s := &stint{war: war, in: in, out: in + day(150+m.IntN(400)), rank: m.ranks(), book: warsBook}
		if (war == "1898" || war == "1917") && m.chance(.04) {
			p.woman, p.given, p.middle, p.suffix = true, m.draw(m.bags["women"]), m.any("", p.middle), ""
			s.rank, s.company = [2]string{"nurse", "nurse"}, &company{unit: unit{"US", "nurse", 0, ""}}
		} else if (war == "1898" || war == "1917") && m.chance(.1) {
			r := m.any("seaman", "fireman", "landsman", "yeoman", "machinist's-mate")
			s.rank, s.ship = [2]string{r, r}, m.any(ships...)
		} else {
			s.company = m.raise(f, p.town, war, in)
			if war == "1917" && s.rank[1] == "private" && m.chance(.25) {
				s.rank[1] = "private first class"
			}
			if m.chance(.06) {
				p.fell = m.any("in France", "at Camp", "in hospital")
				p.dies, s.out = in+day(60+m.IntN(300)), in+400
			}
		}
		p.stints = append(p.stints, s)
		m.enrolled(p)
	}
}

// people fills the books but the Home's, which takes its men from the others.
func (m *maker) populate(rows int) {
	total := 0
	for _, f := range forces {
		total += f.inf + f.cav + f.bat + f.ha
	}
	share := [5]float64{.40, .435, .025, .14}
	m.places = 1 + rows/40000
	for range 12 + rows/1500 {
		m.towns = append(m.towns, m.any(yankee.heads...)+m.any("ton", "field", "ville", " Creek", "bury", " Falls"))
	}
	for m.rows < rows {
		have := float64(m.rows) + 40
		lag := func(book int) float64 { return share[book]*have - float64(m.count[book]) }
		switch later, index := lag(warsBook), lag(indexBook); {
		case later > 0 && later >= index:
			f := &homeForce
			if m.chance(.3) {
				f = &forces[m.IntN(9)]
			}
			if fathers := len(m.served); fathers > 60 && m.chance(.15) {
				if p := m.served[m.IntN(fathers)]; p.state == "MI" && p.fell == "" && p.stints[0].war == "1861" && p.born.year() > 1830 {
					kids := m.household(&homeForce, 1831, 1850, p)
					m.otherWars(kids[1:], f)
					m.neighbours(kids[1:])
					continue
				}
			}
			switch n := m.IntN(100); {
			case n < 9:
				m.otherWars(m.household(f, 1778, 1796, nil), f)
			default:
				all := m.household(f, 1840, 1872, nil)
				m.otherWars(all, f)
				m.neighbours(all)
			}
		case index > 0:
			f, confederate := (*force)(nil), false
			switch n := m.IntN(1000); {
			case n < 75:
				f, confederate = &south[m.IntN(len(south))], true
			case n < 125:
				f = &force{state: "usct"}
			case n < 155:
				f = &force{state: "US"}
			default:
				k := m.IntN(total)
				for i := range forces {
					f = &forces[i]
					if k -= f.inf + f.cav + f.bat + f.ha; k < 0 {
						break
					}
				}
			}
			m.enlist(m.household(f, 1788, 1830, nil), f, confederate)
		default:
			all := m.household(&homeForce, 1788, 1830, nil)
			m.enlist(all, &homeForce, false)
			m.neighbours(all)
		}
	}
}

// neighbours keeps those of the state who did not serve, for they die too.
func (m *maker) neighbours(all []*man) {
	for _, p := range all {
		if len(p.stints) == 0 && len(m.civil) < 40000 {
			m.civil = append(m.civil, p)
		}
	}
}

// lot orders those who may come to a place by chance, those with more weight sooner (Efraimidis and Spirakis 2006).
func (m *maker) lot(men []*man, weight func(*man) float64) []*man {
	type ticket struct {
		p  *man
		at float64
	}
	var all []ticket
	for _, p := range men {
		if w := weight(p); w > 0 {
			all = append(all, ticket{p, -math.Log(1-m.Float64()) / w})
		}
	}
	slices.SortStableFunc(all, func(a, b ticket) int { return cmp.Compare(a.at, b.at) })
	out := make([]*man, len(all))
	for i, t := range all {
		out[i] = t.p
	}
	return out
}

func nearness(p *man) float64 {
	switch {
	case p.stints[0].south:
		return 0
	case p.state == "MI":
		return homeForce.near
	case p.state == "usct", p.state == "US":
		return 1.5
	}
	for _, f := range forces {
		if f.state == p.state {
			return f.near
		}
	}
	return .5
}

// admit takes men into the Home until its register has its rows.
func (m *maker) admit(rows int) {
	for _, p := range m.lot(m.served, func(p *man) float64 {
		if p.fell != "" || p.dies.year() < 1888 || p.dies.year() > 1955 {
			return 0
		}
		w := nearness(p)
		if p.foreign {
			w *= 1.5 // more of them had no kin here
		}
		return w
	}) {
		if m.rows >= rows {
			return
		}
		s := p.stints[m.IntN(len(p.stints))]
		first := max(1887, p.born.year()+42, s.out.year()+1)
		if first > p.dies.year() {
			continue
		}
		h := &stay{stint: s, admitted: m.within(first, p.dies.year()), died: m.chance(.72)}
		if h.admitted > p.dies {
			h.admitted = max(on(1887, 1, 1), p.dies-day(1+m.IntN(200)))
		}
		if !h.died {
			h.left = min(p.dies, h.admitted+day(60+m.IntN(1500)))
		}
		p.home = h
		m.inmate(p)
	}
}

func (p *man) names() string {
	return strings.TrimSpace(p.given + " " + p.middle)
}
