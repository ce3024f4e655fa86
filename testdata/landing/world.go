package landing

import (
	"slices"
	"strconv"
	"strings"
)

// day is a day of the calendar; a month has 28 days here, so that every day exists.
type day struct{ y, m, d int }

func (d day) before(o day) bool {
	return d.y < o.y || d.y == o.y && (d.m < o.m || d.m == o.m && d.d < o.d)
}

var months = strings.Fields("Jan. Feb. March April May June July Aug. Sept. Oct. Nov. Dec.")

// String is a day as a clerk writes it.
func (d day) String() string {
	return months[d.m-1] + " " + strconv.Itoa(d.d) + ", " + strconv.Itoa(d.y)
}

// on is some day of a year.
func (m *maker) on(year int) day { return day{year, 1 + m.IntN(12), 1 + m.IntN(28)} }

// county is a county of the home state, with its townships.
type county struct {
	number     int
	name       string
	towns      []*town
	discharged []*man // who may enlist again
}

// town is a township. Its families are an urn: a new household takes the surname of one that is there, or is the first of its name.
type town struct {
	name   string
	county *county
	state  string
	german int // percent of its households
	irish  int
	freed  bool
	fresh  int // the greater, the more surnames
	kin    []kin
	houses []*house // of the home county only
}

type kin struct {
	folk    *folk
	surname string
	elder   string // the given name that its branches hand down
}

// house is a man, his wife and his children.
type house struct {
	kin
	town     *town
	father   *man
	sons     []*man
	soldiers []*man
	ground   *ground // where the family buries
}

type woman struct {
	given, middle string
	born, died    day
	buried        bool
}

// man is a man, with his service if he served.
type man struct {
	house                 *house
	surname               string // as his family spells it
	given, middle, suffix string
	alias                 string // the surname that he served under, if another
	born, died            day
	at                    string // where he died, if in service
	killed                bool
	served                []*service
	rows                  []*row
	wife                  *woman
	here, came            bool // he lived and died in the county; having come from elsewhere
	buried                bool
}

// service is a man's time in a company.
type service struct {
	*company
	man            *man
	rank, rankIn   string
	in, out        day
	said           int    // the age that he gave
	surname, given string // as the company's clerk wrote him
	remark         string
	moved          int // the regiment of the Veteran Reserve Corps that he was sent to
}

// unit is a regiment, battery or ship.
type unit struct {
	state string // "Indiana", or a body: "U. S. C. T."
	num   int
	arm   string
	war   int
	year  int // in which it mustered
	side  string
	ship  string
	co    int    // companies mustered so far
	old   string // what it was called first, if otherwise
}

// company is a company, with the habits of its clerk.
type company struct {
	*unit
	letter   string
	initials bool // gives some men's initials only
	ages     bool
	short    bool // abbreviates given names
	men      []*service
	home     bool
}

// Infantry regiments of Indiana by the year in which they were organised: Fox 1898, counted.
var raised = []struct {
	year, from, upto int
}{{1861, 12, 51}, {1862, 52, 101}, {1863, 115, 130}, {1864, 132, 142}, {1865, 143, 156}}

// enlist is how many of a thousand men of an age from 16 to 45 go with a company that their township raises: fitted by hand until the ages that they give
// came out about as counted in three regiments (3,568 men); before eighteen they say eighteen.
var enlist = [...]int{70, 260, 560, 330, 270, 260, 240, 215, 200, 190, 170, 155, 150, 145, 140, 130, 125, 120, 115, 108, 100, 92, 88, 84, 80, 74, 70, 66, 62, 40}

// dying is how many of a hundred thousand die at an age in a year, by tens from 20; invented, in the shape of a life table.
var dying = [...]int{750, 850, 1050, 1600, 3000, 6500, 14000, 28000, 45000, 60000}

// life draws the year in which one dies who lives in a year.
func (m *maker) life(born, from int) int {
	for y := from; ; y++ {
		age := max(y-born, 20)
		i := min(age/10-2, len(dying)-2)
		q := dying[i] + (dying[i+1]-dying[i])*(age-20-10*i)/10
		if m.IntN(100000) < q {
			return y
		}
	}
}

// settle lays out the counties of the home state and the places from which other men came.
func (m *maker) settle() {
	used := map[string]bool{}
	place := func() string {
		for {
			p := m.any(placeFirst...) + m.any(placeLast...)
			if m.chance(.2) {
				p += m.any(" Grove", " Creek", " Mills", " Springs", " Corners", " Prairie", " Station")
			}
			if !used[p] {
				used[p] = true
				return p
			}
		}
	}
	for i := range 92 {
		c := &county{number: i, name: place()}
		if i == 0 {
			c.name = "Corvane"
		}
		for j := range 7 {
			t := &town{name: place(), county: c, state: "Indiana", german: []int{4, 8, 12, 25, 55}[m.IntN(5)], irish: []int{2, 3, 6, 18}[m.IntN(4)], fresh: 250 + m.IntN(350)}
			if i == 0 && j == 0 {
				t.name, t.german, t.irish, t.fresh = "Marl Landing", 30, 14, 700
			}
			if i == 0 {
				t.houses = []*house{}
			}
			c.towns = append(c.towns, t)
		}
		m.counties = append(m.counties, c)
	}
	for _, s := range others {
		for range 8 {
			m.abroad[s.state] = append(m.abroad[s.state], &town{name: place(), state: s.state, german: s.german, irish: s.irish, fresh: 400, freed: s.freed})
		}
	}
}

var placeFirst = strings.Fields("Al Ber Brook Cal Car Clar Clear Corin Dar Del Elk Ever Fair Fern Glen Green Har Haw Hazel Jas Kes Lan Lin Lo Mar May Mill Mor New Oak Or Pal Pin Quar Ran Rich Rock Ros Sal Sand Ster Stock Sum Ten Thorn Tur Val Ver Walnut Wan West Wil Win")
var placeLast = strings.Fields("burg bury dale den field ford ham haven land ley mont ner ton ville vale view wick wood worth")

// marry makes a household of a township whose sons can be soldiers in a year.
func (m *maker) marry(t *town, year int) *house {
	h := &house{town: t}
	given := m.givens
	if year > 1900 {
		given = m.later
	}
	if n := len(t.kin); n > 0 && m.IntN(n+t.fresh) < n {
		h.kin = t.kin[m.IntN(n)]
		if m.chance(.25) { // another branch, which hands down another name
			h.elder = given.draw(m)
		}
	} else {
		switch r := m.IntN(100); {
		case t.freed:
			h.folk = m.freed
		case r < t.german:
			h.folk = m.german
		case r < t.german+t.irish:
			h.folk = m.irish
		default:
			h.folk = m.settled
		}
		h.surname = h.folk.surname(m)
		h.elder = m.givenOf(h.folk, year)
	}
	if n := len(t.kin); n < 4000 {
		t.kin = append(t.kin, h.kin)
	} else {
		t.kin[m.IntN(n)] = h.kin
	}
	born := year - 28 - m.IntN(36)
	h.father = &man{house: h, surname: h.surname, given: m.givenOf(h.folk, year-30), born: m.on(born)}
	if m.chance(.3) {
		h.father.given = h.elder
	}
	m.middle(h.father)
	named := map[string]bool{}
	at := born + 22 + m.IntN(6)
	for n := []int{1, 2, 2, 3, 3, 4, 5, 6}[m.IntN(8)]; len(h.sons) < n; at += 1 + m.IntN(4) {
		s := &man{house: h, surname: h.surname, born: m.on(at)}
		switch i := len(h.sons); {
		case i == 0 && m.chance(.3), i == 1 && m.chance(.12):
			s.given = h.elder
		case i < 3 && m.chance(.09):
			s.given = h.father.given
		default:
			s.given = m.givenOf(h.folk, year)
		}
		for named[s.given] {
			s.given = m.givenOf(h.folk, year)
		}
		named[s.given] = true
		m.middle(s)
		if s.given == h.father.given && m.chance(.6) {
			s.middle = h.father.middle
			s.suffix = "Jr."
		}
		h.sons = append(h.sons, s)
	}
	if t.houses != nil {
		t.houses = append(t.houses, h)
	}
	return h
}

func (m *maker) givenOf(f *folk, year int) string {
	if year > 1900 {
		return m.later.draw(m)
	}
	return f.given.draw(m)
}

// middle gives a man a middle name, from his mother's family or a second given name.
func (m *maker) middle(p *man) {
	if !m.chance(p.house.folk.middle) && (p.born.y < 1880 || !m.chance(.5)) {
		return
	}
	if p.middle = m.settled.surname(m); m.chance(.6) {
		p.middle = m.givenOf(p.house.folk, p.born.y)
	}
	if p.middle == p.given {
		p.middle = ""
	}
}

// company musters the next company of a unit from townships, of which the first sends most of it.
func (m *maker) company(u *unit, towns []*town) *company {
	c := &company{unit: u, initials: m.chance(.08), ages: m.chance(.55), short: m.chance(.12)}
	size := 84 + m.IntN(44)
	switch {
	case u.ship != "":
		size = 60 + m.IntN(50)
	case u.arm == "Light Artillery":
		size = 120 + m.IntN(50)
	default:
		c.letter = "ABCDEFGHIKLM"[u.co : u.co+1]
		u.co++
	}
	if towns[0].houses != nil { // brothers of those in other companies
		for _, p := range m.waiting {
			if age := u.year - p.born.y; age >= 16 && age <= 45 {
				m.muster(c, p, 0)
				p.house.soldiers = append(p.house.soldiers, p)
			}
		}
		m.waiting = nil
	}
	for len(c.men) < size {
		t := towns[[]int{0, 0, 0, 0, 0, 0, 1, 1, 2, 3}[m.IntN(10)]%len(towns)]
		if m.chance(.08) {
			t = towns[m.IntN(len(towns))]
		}
		h := m.marry(t, u.year)
		brothers := 0
		for _, p := range append(slices.Clone(h.sons), h.father) {
			age := u.year - p.born.y
			if age < 16 || age > 45 || m.IntN(1000) >= enlist[age-16] {
				continue
			}
			if brothers++; brothers > 1 && m.chance(.35) { // he went with another company
				if h.town.houses != nil {
					m.waiting = append(m.waiting, p)
				}
				continue
			}
			m.muster(c, p, 0)
			h.soldiers = append(h.soldiers, p)
		}
	}
	c.home = towns[0].houses != nil
	if u.war != 1861 || u.ship != "" {
		return c
	}
	// Men of the county whose time in an earlier company was up.
	from := towns[0].county
	if from == nil {
		return c
	}
	for range size / 12 {
		if n := len(from.discharged); n > 0 {
			i := m.IntN(n)
			if p := from.discharged[i]; p.served[0].out.y <= u.year && u.year <= p.born.y+45 {
				from.discharged = slices.Delete(from.discharged, i, i+1)
				m.muster(c, p, 1)
			}
		}
	}
	for _, s := range c.men {
		if s.man.at == "" && len(s.man.served) == 1 && s.out.y > 0 && s.out.y < 1865 && s.moved == 0 {
			from.discharged = append(from.discharged, s.man)
		}
	}
	return c
}
