// Package landing makes surveys with known truth of a fifth kind: the churchyards of a steamboat landing on the Ohio and of the townships behind it, whose men went to war with
// their neighbours and mostly came home. It was written whole before the program was run on it, for a figure of linking that is blind.
//
// What it does that is its own. Families come first: each township is an urn, from which a new household takes the surname of one that is there, or brings its own, and branches of
// a family hand down one given name; so brothers, cousins of one name, fathers and sons, and civilians who are kin of soldiers come about and are not drawn at a rate. A company is raised
// from a few townships, house by house; men whose time was up go again with a later company of their county, invalids to the Veteran Reserve Corps. All that is the
// whole world; the books are what is left of it: leaves with a run of the alphabet are torn out of the printed roll, lines are passed over, cards are lost, whoever they are of. Two books hear
// a man twice: a company's clerk in 1862 and the township's assessor in 1890, to whom he tells his unit from memory. The government's stones are cut from the War Department's spelling
// (.4) or from the family's; Germans' stones may speak German until 1905; a stone's widths, top and material follow its year. Weather takes patches across lines, single letters of
// soft stones, the line in the ground and the one at the top; each volunteer has his own habits and slips.
//
// A messy survey has the same rosters: more weather, thrice the volunteers' slips, more units worn.
//
// Where the shares come from. "Six regiments" are 6,456 men in regimental histories of 1875 to 1914 (Project Gutenberg 65589, 52223, 50687, 50422, 51250, 52399), counted; public domain.
//
//	surnames borne by four men or more, with their counts (names.csv)   12,413 graves of Andersonville, Ransom 1881 (Project Gutenberg 71609), of whom they are .45
//	given names borne by four men or more, with their counts   six regiments; of men of 1917 by thirty or more, 24,599 men of the 42nd Division, book of 1917
//	middle names .51 of a roll; ages given, a seventh of them 18; ranks at the end: corporal .07, sergeant .05, first sergeant .011, musician .012, lieutenants .02, captain .008   six regiments
//	died .15, discharged before the end .2, men of one surname in a company .27 (counted .23), company of 84 to 127 men (mean counted 100), the first township sends six tenths (largest place of a company's men: median about .5)   six regiments, rounded
//	initials for a given name on the roll .04, abbreviated .03 to .06, by clerk   six regiments have .027 and .028; a figure dropped in print .004, invented
//	regiments of Indiana by year   W. F. Fox, Regimental Losses, 1898, counted
//	how many regiments other states had   J. B. Arnold's table of units, counted; Confederate and colored regiments' numbers, 1898's and 1917's, from memory
//	old names of colored regiments   Dyer 1908 and the Official Army Register, from memory
//	battles and their days   common knowledge; months have 28 days here, and later ones are put at the 28th
//	private's rank not cut, no dates, raised letters in a recessed shield, 10 and 12 inches wide, pointed from 1930 in private ground, state of residence above   V. A. and its historians, and the letter of 1873
//	two books of one company differ in the surname .025, in the given name .015   124th Ohio, roster and roll of honor, 197 men: here the clerks' copying .022
//	a roll's surname is spelled as the family's .905, and stands on a stone letter for letter, weather and all, .89 (messy .85), counted on what is made   .98 in one book, .73 between two lists of Andersonville's dead
//	the roll has .86 of its men, the cards .875, the assessors .78 of those who live near; of soldiers who lie here .91 stand in some book   invented
//	a stone of a man on the rosters tells of no unit .35, counted on what is made; government's stones .44 of soldiers; soldiers .41 of the graves; who stayed in the county .45   invented
//	how clerks hear, how hands and eyes err, what people say of their service; mortality; everything else, and all persons, towns, ships and grounds   invented
//
// It shares no code with the program's reading or weighing, nor with the other makers: what it writes is text, as clerks, carvers and volunteers would. That a place has the
// name of a real one is chance.
package landing

import (
	"math/rand/v2"
	"path/filepath"

	"musterstone/testdata/table"
)

// Options say what to make.
type Options struct {
	Seed    uint64
	Records int // rows of all rosters together
	Stones  int // stones and rows of the register together
	Messy   bool
}

type maker struct {
	*rand.Rand
	messy                         bool
	records, stones               int
	settled, german, irish, freed *folk
	givens, later                 *bag
	counties                      []*county
	abroad                        map[string][]*town
	waiting                       []*man // brothers who will go with the next company of the county
	books                         [books][]*row
	rows                          int
	home                          []*man // soldiers of the county, with those who died in service
	came                          []*man // soldiers of elsewhere who settled in it
	grounds                       []*ground
	recorders                     []*recorder
}

// Make writes roster-roll.csv, roster-enrollment.csv, roster-index.csv, roster-later.csv, stones.csv, register.csv and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 0x1a9d)), messy: opt.Messy, records: opt.Records, stones: opt.Stones, abroad: map[string][]*town{}}
	if err := m.name(); err != nil {
		return err
	}
	m.settle()
	m.war()
	tables := map[string][][]string{}
	for book, name := range [books]string{"roster-roll.csv", "roster-enrollment.csv", "roster-index.csv", "roster-later.csv"} {
		tables[name] = m.bind(book)
	}
	tables["stones.csv"], tables["register.csv"], tables["truth.csv"] = m.bury()
	for name, rows := range tables {
		if err := table.Write(filepath.Join(dir, name), rows); err != nil {
			return err
		}
	}
	return nil
}

// chance is true at a rate.
func (m *maker) chance(p float64) bool { return m.IntN(1_000_000) < int(p*1_000_000+.5) }

// of is chance at one of two rates, the second for a messy survey.
func (m *maker) of(clean, messy float64) bool {
	if m.messy {
		return m.chance(messy)
	}
	return m.chance(clean)
}

// any is one of several words.
func (m *maker) any(words ...string) string { return words[m.IntN(len(words))] }

// others are where the men of the index served: how many of a hundred companies, the numbers of the regiments that there were (counted in J. B. Arnold's table of
// units; Confederate and colored ones from memory), and who lived there, in percent of households.
var others = []struct {
	state                      string
	share                      int
	infantry, cavalry, battery int
	german, irish              int
	freed                      bool
	side                       string
}{
	{"Ohio", 24, 197, 13, 26, 18, 8, false, "Union"},
	{"Kentucky", 19, 55, 17, 0, 8, 6, false, "Union"},
	{"Illinois", 11, 156, 17, 0, 14, 10, false, "Union"},
	{"Pennsylvania", 7, 215, 22, 0, 16, 12, false, "Union"},
	{"New York", 6, 194, 26, 34, 14, 20, false, "Union"},
	{"West Virginia", 3, 17, 7, 0, 4, 4, false, "Union"},
	{"Tennessee", 3, 10, 14, 0, 2, 2, false, "Union"},
	{"Missouri", 3, 50, 14, 0, 30, 8, false, "Union"},
	{"Michigan", 2, 30, 11, 0, 8, 8, false, "Union"},
	{"U. S. C. T.", 8, 138, 6, 0, 0, 0, true, "Union"},
	{"U. S.", 3, 19, 6, 0, 20, 30, false, "Union"},
	{"Confederate", 8, 60, 14, 0, 2, 4, false, "Confederate"},
	{"Navy", 3, 0, 0, 0, 12, 20, false, "Union"},
}

// colored regiments that were first called otherwise: the fact base's table, from the Official Army Register and Dyer 1908.
var renamed = map[int]string{5: "127th Ohio Infantry", 46: "1st Arkansas Infantry, A. D.", 47: "8th Louisiana Infantry, A. D.", 49: "11th Louisiana Infantry, A. D.", 55: "1st Alabama Infantry, A. D.", 60: "1st Iowa Infantry, A. D.", 62: "1st Missouri Colored Infantry", 110: "2d Alabama Infantry, A. D.", 111: "3d Alabama Infantry, A. D."}

// war raises the companies of the county, then those of its district, then others until the books are full.
func (m *maker) war() {
	var numbers [5][]int
	for i, r := range raised {
		for n := r.from; n <= r.upto; n++ {
			numbers[i] = append(numbers[i], n)
		}
		m.Shuffle(len(numbers[i]), func(a, b int) { numbers[i][a], numbers[i][b] = numbers[i][b], numbers[i][a] })
	}
	infantry := func(i int) *unit {
		if len(numbers[i]) == 0 {
			return nil
		}
		n := numbers[i][0]
		numbers[i] = numbers[i][1:]
		return &unit{state: "Indiana", num: n, arm: "Infantry", war: 1861, year: raised[i].year, side: "Union"}
	}
	horse, guns := m.Perm(13), m.Perm(26)
	cavalry := func() *unit {
		if len(horse) == 0 {
			return nil
		}
		u := &unit{state: "Indiana", num: horse[0] + 1, arm: "Cavalry", war: 1861, year: 1861 + m.IntN(3), side: "Union"}
		horse = horse[1:]
		return u
	}
	battery := func() *unit {
		if len(guns) == 0 {
			return nil
		}
		u := &unit{state: "Indiana", num: guns[0] + 1, arm: "Light Artillery", war: 1861, year: 1861 + m.IntN(2), side: "Union"}
		guns = guns[1:]
		return u
	}
	home := m.counties[0].towns
	raise := func(u *unit, towns []*town) {
		c := m.company(u, towns)
		m.list(c)
		m.dwell(c)
	}
	// The county's own.
	own := []*unit{infantry(0), infantry(1), infantry(1), infantry(2), infantry(3), cavalry(), battery(), {state: "Indiana", num: 157 + m.IntN(5), arm: "Infantry", war: 1898, year: 1898, side: "Union"}}
	for i, enough := 0, m.stones; len(m.home) < enough && m.rows*5 < m.records*2; i++ {
		u := own[[]int{0, 5, 1, 2, 0, 6, 1, 3, 4, 7, 2, 4, 3}[i%13]]
		if i >= 3 && i%5 == 3 {
			u = &unit{state: "U. S.", num: []int{151, 152, 335, 336, 139, 137}[m.IntN(6)], arm: "Infantry", war: 1917, year: 1917, side: "Union", co: m.IntN(10)}
		}
		if u.co > 9 {
			continue
		}
		shift := m.IntN(len(home))
		raise(u, append(append([]*town{}, home[shift:]...), home[:shift]...))
	}
	// The rest of their regiments, from the counties beside it.
	for _, u := range own {
		for u.arm != "Light Artillery" && u.co < 10 && m.rows < m.records {
			raise(u, m.counties[1+m.IntN(7)].towns)
		}
	}
	// All others.
	for m.rows < m.records {
		switch r := m.IntN(100); {
		case r < 12:
			u := infantry([]int{0, 0, 0, 0, 1, 1, 1, 1, 2, 3, 4}[m.IntN(11)])
			if s := m.IntN(12); s == 0 {
				u = cavalry()
			} else if s == 1 {
				u = battery()
			}
			if u == nil {
				continue
			}
			district := 8 * m.IntN(11)
			for n := m.companies(u); n > 0 && m.rows < m.records; n-- {
				raise(u, m.counties[min(91, 1+district+m.IntN(8))].towns)
			}
		case r < 81:
			m.foreign(raise)
		default:
			c := m.counties[1+m.IntN(91)]
			if m.chance(.3) {
				raise(&unit{state: "Indiana", num: 157 + m.IntN(5), arm: "Infantry", war: 1898, year: 1898, side: "Union", co: m.IntN(12)}, c.towns)
			} else {
				arm := m.any("Infantry", "Infantry", "Field Artillery")
				raise(&unit{state: "U. S.", num: map[string]int{"Infantry": 101 + m.IntN(268), "Field Artillery": 101 + m.IntN(240)}[arm], arm: arm, war: 1917, year: 1917, side: "Union", co: m.IntN(12)}, c.towns)
			}
		}
	}
}

// companies is how many there are of a unit.
func (m *maker) companies(u *unit) int {
	switch u.arm {
	case "Cavalry":
		return 12
	case "Light Artillery":
		return 1
	}
	return 10
}

// foreign raises a company that is not of the home state.
func (m *maker) foreign(raise func(*unit, []*town)) {
	r := m.IntN(100)
	i := 0
	for ; r >= others[i].share; i++ {
		r -= others[i].share
	}
	o := others[i]
	u := &unit{state: o.state, war: 1861, year: 1861 + m.IntN(4), arm: "Infantry", side: o.side, co: m.IntN(10)}
	switch {
	case o.infantry == 0:
		u.ship = m.any("Tansy", "Pelorus", "Great Fork", "Red Heron", "Louisa Pratt", "Corvane", "Samson", "Grampian", "Wyandance", "Petrel of Cairo", "Elk", "Daybreak")
		u.arm = ""
	case o.battery > 0 && m.chance(.07):
		u.arm, u.num = "Light Artillery", 1+m.IntN(o.battery)
	case m.chance(.14) || o.state == "Tennessee" && m.chance(.5):
		u.arm, u.num = "Cavalry", 1+m.IntN(o.cavalry)
	default:
		u.num = 1 + m.IntN(o.infantry)
	}
	if u.state == "Confederate" {
		u.state = m.any("Kentucky", "Kentucky", "Tennessee", "Virginia", "Georgia")
	}
	if u.state == "U. S. C. T." {
		u.year = 1863 + m.IntN(2)
		u.old = renamed[u.num]
	}
	raise(u, m.abroad[o.state])
}

// dwell says of a company's men who lived in the county, or in its district when the assessors came.
func (m *maker) dwell(c *company) {
	for _, s := range c.men {
		p := s.man
		if p.at != "" && c.home {
			m.home = append(m.home, p)
		}
		if p.at != "" || p.served[0].company != c {
			continue
		}
		county := p.house.town.county
		beside := county != nil && county.number < 8
		lives := ""
		switch {
		case c.home:
			m.home = append(m.home, p)
			if p.here = m.chance(.45); p.here || m.chance(.3) {
				lives = p.house.town.name
			}
		case m.settles(beside || c.state == "U. S. C. T."):
			p.here, p.came = true, true
			m.came = append(m.came, p)
			if m.chance(.8) {
				lives = m.counties[0].towns[m.IntN(7)].name
			}
		case beside && m.chance(.4):
			lives = p.house.town.name
		}
		if lives != "" && c.war == 1861 && p.died.y > 1890 && m.chance(.78) {
			m.enroll(p, lives)
		}
	}
}

// settles says whether a man from elsewhere comes to live in the county: those from beside it, and freedmen, thrice as often, and as many of all together as its grounds need.
func (m *maker) settles(near bool) bool {
	rate := m.stones * 180_000 / max(m.records, m.stones)
	if near {
		rate *= 3
	}
	return m.IntN(1_000_000) < min(rate, 500_000)
}
