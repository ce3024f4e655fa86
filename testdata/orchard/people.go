package orchard

import (
	"fmt"
	"strings"
)

// The wars of the men, by the time they served.
const (
	revolution = iota
	of1812
	mexican
	civil
	plains // the regular army of the Indian wars
	spanish
	great
	second
	korea
)

// warShares is what share of the men served in which war: honest for an old burial ground by common practice, no source.
var warShares = []float64{.012, .018, .012, .53, .018, .06, .255, .075, .02}

// day is a date; zeros are unknown. Its parts are told apart, since people know the year of what they do not know the day of.
type day struct{ y, m, d int }

func (d day) known() bool { return d.y > 0 }

func (d day) before(e day) bool {
	return d.y < e.y || d.y == e.y && (d.m < e.m || d.m == e.m && d.d < e.d)
}

// age is in whole years.
func (d day) age(born day) int {
	n := d.y - born.y
	if d.m < born.m || d.m == born.m && d.d < born.d {
		n--
	}
	return n
}

// since is the time since a birth in years, months and days.
func (d day) since(born day) (years, months, days int) {
	years, months, days = d.age(born), d.m-born.m, d.d-born.d
	if days < 0 {
		months, days = months-1, days+30
	}
	return years, (months + 12) % 12, days
}

func (d dice) day(from, to int) day {
	return day{d.between(from, to), d.between(1, 12), d.between(1, 28)}
}

// place is a town of the survey's own invention, or a state alone.
type place struct{ town, county, state string }

// unit is what a man served in.
type unit struct {
	side, state string
	arm         string // infantry, cavalry, battery (a number of the state's own), heavy, or for one of the great war: fa, eng, depot, mg, aero, med ..., or line, militia
	num         int
	body        string // vrc, usct, msm, vols: part of the name
	division    int
	captain     string // of a company of an early war
}

// man is a man as he was.
type man struct {
	given, middle, surname, suffix string
	people                         string // whom he came from, if from abroad
	thereGiven, thereSurname       string // his name before it was made American
	born, died                     day
	war                            int
	side, branch                   string // union, confederate; navy, marines, or none for the army
	unit, second                   unit
	company, secondCompany         string
	ship                           string
	rankIn, rankOut                string
	from, to                       day
	home, late                     place // at enlistment, at death
	birthplace                     string
	fell                           string // where and how he died in service
	buried                         place  // a cemetery and its town, as books write it
	here                           bool   // he lies in the survey's ground, or is remembered there
	father                         string
	records                        []string
}

// county is a county's towns, and the units its men joined.
type county struct {
	name, state string
	towns       []string
	union, grey []posted
	divisions   [2]int
}

// posted is a company of a unit that a county raised.
type posted struct {
	unit
	company string
}

// world is the survey's invented country.
type world struct {
	dice
	*tables
	ground   string // the burial ground
	own      *county
	counties []*county
	units    map[string][]unit // by side and state: the regiments that there are
	men      map[string][]*man // by war and county of home, for kin
}

var homes = []string{"OH", "IN", "PA", "MO", "WI", "TN", "MA", "IA", "KY", "NY", "MI", "KS"}

// greyShare is what share of a state's men of the Civil War were Confederates: common practice, no source.
func greyShare(state string) float64 {
	switch state {
	case "TN":
		return .55
	case "KY", "MO":
		return .22
	}
	return .035
}

func newWorld(d dice, t *tables, records int) *world {
	w := &world{dice: d, tables: t, units: map[string][]unit{}, men: map[string][]*man{}}
	for _, r := range t.raised {
		w.units[r.side+r.state] = w.raise(r, max(5, records/900))
	}
	own := homes[d.IntN(len(homes))]
	for i := range 46 {
		c := &county{name: d.of("Tamarack", "Marlow", "Kessel", "Bonner", "Whitlow", "Prentice", "Ashby", "Larkin", "Oneco", "Delmar", "Harlan", "Stratton") + d.of("", "", "ville", "ton", "field"), state: own}
		if i >= 24 {
			c.state = d.of(homes...)
		}
		for range d.between(5, 9) {
			c.towns = append(c.towns, d.of(groves...)+d.of("", " ")+d.of(springs...))
		}
		for j, town := range c.towns {
			if first, second, two := strings.Cut(town, " "); !two { // Millbrook, not MillBrook
				at := strings.IndexAny(first[1:], "ABCDEFGHIJKLMNOPQRSTUVWXYZ")
				c.towns[j] = first[:at+1] + strings.ToLower(first[at+1:]) + second
			}
		}
		for range 5 {
			u := w.regiment("union", c.state)
			c.union = append(c.union, posted{u, w.letter(u)}, posted{u, w.letter(u)})
			g := w.regiment("confederate", w.southern(c.state))
			c.grey = append(c.grey, posted{g, w.letter(g)})
		}
		c.divisions = [2]int{d.between(26, 42), d.between(76, 92)}
		w.counties = append(w.counties, c)
	}
	w.own = w.counties[0]
	w.ground = d.of("Oak Hill", "Fairview", "Mount Hope", "Greenlawn", "Riverside", "Union", "Rose Hill", "Woodlawn") + d.of("", " Cemetery", " Burying Ground")
	return w
}

// southern is the state whose Confederates a state's men joined.
func (w *world) southern(state string) string {
	if greyShare(state) > .1 && w.chance(.7) {
		return state
	}
	return w.of("VA", "TN", "GA", "NC", "AL", "MS", "TX", "AR")
}

// raise draws the regiments that a state has in this world: companies are full, as in printed rolls.
func (w *world) raise(r raised, n int) (list []unit) {
	for range n {
		u := unit{side: r.side, state: r.state, arm: "infantry"}
		top := r.infantry
		switch w.weighted(.74, .19, .05, .02) {
		case 1:
			u.arm, top = "cavalry", r.cavalry
		case 2:
			if r.batteries > 0 {
				u.arm, top = "battery", r.batteries
			}
		case 3:
			if r.heavies > 0 {
				u.arm, top = "heavy", r.heavies
			}
		}
		u.num = w.between(1, top)
		if r.state == "MO" && r.side == "union" && w.chance(.25) {
			u.arm, u.num, u.body = "cavalry", w.between(1, 14), "msm"
		}
		list = append(list, u)
	}
	return list
}

func (w *world) regiment(side, state string) unit {
	switch {
	case side == "union" && w.chance(.03):
		return unit{side: side, state: "US", arm: "infantry", num: w.between(1, 120), body: "usct"}
	case side == "union" && w.chance(.025):
		list := w.units["unionUS"]
		return list[w.IntN(len(list))]
	}
	list := w.units[side+state]
	return list[w.IntN(len(list))]
}

// letter draws a company of a unit: ten in the infantry, twelve in the cavalry and the heavy artillery, none in a battery that has a number of its own.
func (w *world) letter(u unit) string {
	switch u.arm {
	case "battery":
		return ""
	case "cavalry", "heavy":
		return string("ABCDEFGHIKLM"[w.IntN(12)])
	}
	return string("ABCDEFGHIK"[w.IntN(10)])
}

// surname draws a surname and, for one in eleven, what it was before it was made American, and by whom.
func (w *world) surname() (here, there, people string) {
	switch {
	case w.chance(.09):
		pair := w.abroad[w.IntN(len(w.abroad))]
		return pair[2], pair[1], pair[0]
	case w.chance(.55):
		return w.surnames.draw(w.dice), "", ""
	}
	return rare(w.dice), "", ""
}

func (w *world) given(year int) string {
	if w.chance(float64(year-1845) / 45) {
		return w.young.draw(w.dice)
	}
	return w.old.draw(w.dice)
}

// named gives a man his name.
func (w *world) named(m *man) {
	m.given = w.given(m.born.y)
	if m.surname == "" {
		m.surname, m.thereSurname, m.people = w.surname()
	}
	if m.thereSurname != "" {
		if w.chance(.6) {
			for _, pair := range w.christened {
				if pair[2] == m.given && pair[0] == m.people {
					m.thereGiven = pair[1]
				}
			}
		}
		m.birthplace = w.one(countries[m.people])
	}
	if p := .55 + float64(m.born.y-1830)*.004; w.chance(p) {
		for m.middle = w.given(m.born.y); m.middle == m.given; {
			m.middle = w.given(m.born.y)
		}
	}
	if w.chance(.03) {
		m.suffix = w.of("Jr.", "Jr.", "Sr.", "2d", "3d")
	}
	m.father = w.given(m.born.y - 28)
}

var countries = map[string]string{"german": "Germany|Germany|Prussia|Bavaria|Baden|Wurtemberg|Switzerland", "nordic": "Sweden|Norway|Denmark", "slav": "Bohemia|Austria|Poland|Russia", "irish": "Ireland", "french": "Canada|France", "italian": "Italy", "dutch": "Holland"}

// ageAt draws a soldier's age.
func (w *world) ageAt(war int) int {
	switch {
	case war == great:
		return 18 + int(w.Float64()*w.Float64()*8+w.Float64()*6)
	case war == korea || war == second:
		return 18 + int(w.Float64()*w.Float64()*18)
	}
	return 17 + int(w.Float64()*w.Float64()*27)
}

var serviceYears = [][2]int{{1775, 1782}, {1812, 1814}, {1846, 1847}, {1861, 1865}, {1867, 1890}, {1898, 1900}, {1917, 1918}, {1941, 1945}, {1950, 1953}}

// man makes a man of a war; here says that his stone is in the survey's ground.
func (w *world) man(here bool) *man {
	m := &man{war: w.weighted(warShares...), here: here, side: "union"}
	years := serviceYears[m.war]
	m.from = w.day(years[0], years[1])
	switch { // no later than the war, nor before it
	case m.from.y == 1861 || m.from.y == 1898:
		m.from.m = w.between(5, 12)
	case m.from.y == 1865:
		m.from.m = w.between(1, 3)
	}
	m.home = w.homeOf(here)
	if kin := w.men[fmt.Sprint(m.war, m.home.county)]; len(kin) > 0 && w.chance(.1) {
		w.kinsman(m, kin[w.IntN(len(kin))])
	} else {
		m.born = w.day(m.from.y, m.from.y)
		m.born.y -= w.ageAt(m.war)
		w.named(m)
		w.enlist(m)
	}
	w.life(m)
	key := fmt.Sprint(m.war, m.home.county)
	w.men[key] = append(w.men[key], m)
	return m
}

// homeOf draws where a man enlisted from. Of those buried here half were neighbours, and the rest moved in later.
func (w *world) homeOf(here bool) place {
	c := w.counties[w.IntN(len(w.counties))]
	switch {
	case here && w.chance(.5), w.chance(.04):
		c = w.own
	case w.chance(.5):
		c = w.counties[w.IntN(24)] // the same state
	}
	return place{c.towns[w.skewed(len(c.towns))], c.name, c.state}
}

func (w *world) countyOf(p place) *county {
	for _, c := range w.counties {
		if c.name == p.county && c.state == p.state {
			return c
		}
	}
	return w.own
}

// kinsman makes a man the brother or the cousin of another, more often than not of his company.
func (w *world) kinsman(m, of *man) {
	m.surname, m.thereSurname, m.people, m.home, m.side, m.branch = of.surname, of.thereSurname, of.people, of.home, of.side, of.branch
	m.born = day{of.born.y + w.between(-6, 6), w.between(1, 12), w.between(1, 28)}
	if age := m.from.y - m.born.y; age < 17 {
		m.born.y = m.from.y - 18
	}
	w.named(m)
	switch {
	case w.chance(.65): // brothers
		m.father = of.father
		for m.given == of.given {
			m.given = w.given(m.born.y)
		}
	case w.chance(.3): // cousins, both named for a grandfather
		m.given = of.given
	}
	if w.chance(.6) {
		m.unit, m.company, m.ship, m.from, m.to = of.unit, of.company, of.ship, of.from, of.to
		w.ranked(m)
	} else {
		w.enlist(m)
	}
}

// enlist gives a man his service.
func (w *world) enlist(m *man) {
	c := w.countyOf(m.home)
	m.to = day{m.from.y + 1, w.between(1, 12), w.between(1, 28)}
	switch m.war {
	case revolution:
		m.unit = unit{state: w.of("CT", "MA", "NJ", "NY", "PA", "VA", "NC", "VT"), arm: w.of("line", "line", "militia"), num: w.between(1, 9), captain: title(w.surnames.draw(w.dice))}
		m.to = day{min(m.from.y+w.between(0, 3), 1783), w.between(1, 12), w.between(1, 28)}
	case of1812:
		m.unit = unit{state: w.of("OH", "KY", "PA", "NY", "TN", "VT", "VA"), arm: "militia", num: w.between(1, 6), captain: title(w.surnames.draw(w.dice))}
	case mexican:
		m.unit = unit{state: w.of("OH", "IN", "IL", "KY", "TN", "MO", "PA"), arm: w.of("infantry", "infantry", "cavalry"), num: w.between(1, 5)}
		m.company = w.letter(m.unit)
		m.to = day{1848, w.between(1, 7), w.between(1, 28)}
	case civil:
		w.enlistCivil(m, c)
	case plains:
		m.unit = unit{state: "US", arm: w.of("cavalry", "infantry"), num: w.between(1, 10)}
		if m.unit.arm == "infantry" {
			m.unit.num = w.between(1, 25)
		}
		m.company = w.letter(m.unit)
		m.to.y = m.from.y + 5
	case spanish:
		m.unit = unit{state: c.state, arm: "infantry", num: w.between(1, 9)}
		if c.state == "IA" {
			m.unit.num += 48
		}
		if m.from.y > 1898 {
			m.unit = unit{state: "US", arm: "infantry", num: w.between(26, 49), body: "vols"}
		} else if w.chance(.15) {
			m.unit = unit{state: "US", arm: w.of("infantry", "cavalry"), num: w.between(1, 10)}
		}
		m.company = string("ABCDEFGHIKLM"[w.IntN(12)])
	case great:
		w.enlistGreat(m, c)
	case second, korea:
		m.branch = []string{"", "navy", "marines", "coast guard", "air"}[w.weighted(.62, .16, .05, .02, .15)]
		m.to.y = m.from.y + w.between(1, 3)
		if m.branch == "" {
			m.unit = unit{arm: w.of("infantry", "infantry", "fa", "eng", "tank", "med"), num: w.between(101, 399), division: w.between(1, 104)}
		}
	}
	w.ranked(m)
}

func (w *world) enlistCivil(m *man, c *county) {
	m.to = day{1865, w.between(5, 11), w.between(1, 28)}
	if w.chance(.3) {
		m.to = w.day(m.from.y+1, max(m.from.y+1, 1865))
	}
	if w.chance(greyShare(c.state)) {
		m.side = "confederate"
		p := c.grey[w.IntN(len(c.grey))]
		if w.chance(.35) {
			p.unit = w.regiment("confederate", w.southern(c.state))
			p.company = w.letter(p.unit)
		}
		m.unit, m.company = p.unit, p.company
		return
	}
	if w.chance(.025) {
		m.branch, m.ship = w.of("navy", "navy", "navy", "marines"), w.of(ships...)
		return
	}
	p := c.union[w.IntN(len(c.union))]
	if w.chance(.35) {
		p.unit = w.regiment("union", c.state)
		p.company = w.letter(p.unit)
	}
	m.unit, m.company = p.unit, p.company
	if w.chance(.05) {
		m.second, m.secondCompany = unit{side: "union", state: "US", arm: "infantry", num: w.between(1, 24), body: "vrc"}, string("ABCDEFGHIK"[w.IntN(10)])
	} else if w.chance(.06) {
		m.second = w.regiment("union", c.state)
		m.secondCompany = w.letter(m.second)
	}
}

// enlistGreat: a division of the National Guard (26 to 42) has four regiments of infantry from 101 up, one of the National Army (76 to 92) four from 301 up, three of
// artillery and one of engineers likewise, and a depot brigade from 151 up.
func (w *world) enlistGreat(m *man, c *county) {
	if m.from.y == 1917 && m.from.m < 4 {
		m.from.m += 4
	}
	m.to = day{1919, w.between(1, 8), w.between(1, 28)}
	if m.from.y == 1918 && w.chance(.35) {
		m.to = day{1918, 12, w.between(1, 28)}
	}
	if w.chance(.1) {
		m.branch, m.ship = w.of("navy", "navy", "navy", "navy", "marines", "coast guard"), w.of(ships...)
		return
	}
	which := w.weighted(.4, .6)
	div := c.divisions[which]
	if w.chance(.3) {
		div = []int{w.between(26, 42), w.between(76, 92)}[which]
	}
	base, back := 100, 26
	if which == 1 {
		base, back = 300, 76
	}
	u := unit{division: div}
	switch w.weighted(.46, .13, .06, .06, .12, .17) {
	case 0:
		u.arm, u.num = "infantry", base+1+4*(div-back)+w.IntN(4)
	case 1:
		u.arm, u.num = "fa", base+1+3*(div-back)+w.IntN(3)
	case 2:
		u.arm, u.num = "eng", base+1+(div-back)
	case 3:
		u.arm, u.num = "mg", base+1+3*(div-back)+w.IntN(3)
	case 4:
		u = unit{arm: "depot", num: 151 + w.IntN(17)}
	case 5:
		u = unit{arm: w.of("med", "qmc", "aero", "satc", "sig", "cac", "train")}
		if u.arm == "aero" {
			u.num = w.between(1, 360)
		}
	}
	m.unit = u
	if u.num > 0 && u.arm != "aero" {
		m.company = string("ABCDEFGHIKLM"[w.IntN(12)])
		if u.arm != "infantry" && m.company > "F" {
			m.company = string("ABCDEF"[w.IntN(6)])
		}
		if w.chance(.07) {
			m.company = ""
		}
	}
}

// ranked gives a man his ranks, in full words.
func (w *world) ranked(m *man) {
	m.rankIn = "private"
	switch {
	case m.branch == "navy" || m.branch == "coast guard":
		if m.war == civil {
			m.rankIn = w.of("landsman", "landsman", "seaman", "ordinary seaman", "coal heaver", "first class fireman", "boy")
		} else {
			m.rankIn = w.of("seaman second class", "seaman second class", "seaman first class", "fireman first class", "cook", "apprentice seaman")
		}
	case w.chance(.06):
		m.rankIn = w.of("corporal", "sergeant", "musician")
	}
	m.rankOut = m.rankIn
	if !w.chance(.24) || m.branch != "" {
		return
	}
	switch {
	case m.war == second || m.war == korea:
		m.rankOut = w.of("private first class", "private first class", "corporal", "sergeant", "staff sergeant", "technician fifth grade", "technical sergeant", "first lieutenant", "captain")
	case m.war == great:
		m.rankOut = w.of("private first class", "private first class", "corporal", "corporal", "sergeant", "wagoner", "cook", "mechanic", "bugler", "sergeant first class", "second lieutenant", "first lieutenant", "captain")
	default:
		m.rankOut = w.of("corporal", "corporal", "corporal", "sergeant", "sergeant", "first sergeant", "musician", "wagoner", "second lieutenant", "first lieutenant", "captain", "quartermaster sergeant", "commissary sergeant", "major", "surgeon", "farrier", "hospital steward", "colonel")
	}
	if d := map[string]bool{"farrier": true}; d[m.rankOut] && m.unit.arm != "cavalry" {
		m.rankOut = "corporal"
	}
	if m.rankOut == "major" || m.rankOut == "surgeon" || m.rankOut == "hospital steward" || m.rankOut == "colonel" {
		m.company = ""
	}
}

// life gives a man his death and where he lies.
func (w *world) life(m *man) {
	if m.birthplace == "" {
		m.birthplace = w.states[m.home.state].name
		if w.chance(.35) {
			m.birthplace = w.of("Ohio", "New York", "Pennsylvania", "Virginia", "Indiana", "Vermont", "Kentucky", "Maryland", "Connecticut", "England", "Scotland", "Ireland")
		}
	}
	m.late = m.home
	if m.here {
		m.late = place{w.own.towns[w.skewed(len(w.own.towns))], w.own.name, w.own.state}
	} else if w.chance(.4) {
		m.late = w.homeOf(false)
	}
	fell := map[int]float64{civil: .13, great: .025, second: .03, korea: .03}[m.war]
	if m.here {
		fell *= .35
	}
	if w.chance(fell) {
		m.died = m.from
		m.died.y, m.died.m = min(m.from.y+w.IntN(2), serviceYears[m.war][1]), w.between(m.from.m, 12)
		m.died.d = w.between(m.from.d, 28)
		m.to = m.died
		if m.war == civil {
			m.fell = w.of("at Nashville, Tenn.", "at Andersonville, Ga.", "at Washington, D. C.", "at Shiloh, Tenn.", "at Chickamauga, Ga.", "at Louisville, Ky.", "at Petersburg, Va.", "at Vicksburg, Miss.")
		} else if m.war == great {
			m.fell = w.of("in France", "in the Argonne", "at Camp Sherman", "at Chateau Thierry")
		}
	} else {
		age := 38 + int(50*(w.Float64()+w.Float64()+w.Float64())/3)
		m.died = day{m.born.y + age, w.between(1, 12), w.between(1, 28)}
		if m.died.before(m.to) {
			m.died.y = m.to.y + w.between(1, 25)
		}
	}
	if m.died.y > 1968 {
		m.died.y = w.between(1950, 1968)
	}
	if m.here {
		m.buried = place{w.ground, w.own.name, w.own.state}
	} else {
		m.buried = place{w.of("Oak Hill", "Fairview", "Greenwood", "St. Mary's", "Evergreen", "Mount Zion", "Oak Grove", "I. O. O. F.", "City"), m.late.county, m.late.state}
	}
}
