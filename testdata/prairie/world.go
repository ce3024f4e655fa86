package prairie

import (
	"fmt"
	"math"
	"slices"
)

type day struct{ y, m, d int }

func (d day) some() bool { return d.y != 0 }

// after is some days later; months have 28 days here.
func (d day) after(days int) day {
	n := (d.y*12+d.m-1)*28 + d.d - 1 + days
	return day{n / 336, n/28%12 + 1, n%28 + 1}
}

func (m *maker) within(y int) day { return day{y, 1 + m.IntN(12), 1 + m.IntN(28)} }

// A state sent men; numbers are the last of its infantry and cavalry. Weights are of the men in the books, west is how much readier than others their households were to come here; both invented.
type state struct {
	code, name, book       string
	stone                  []string
	infantry, cavalry      int
	weight, west           float64
	heavy, light, southern bool
}

var states = []state{
	{code: "IL", name: "Illinois", book: "Ill.", stone: []string{"ILL", "ILL", "ILLS"}, infantry: 156, cavalry: 17, weight: .165, west: 1.9, light: true},
	{code: "OH", name: "Ohio", book: "Ohio", stone: []string{"OHIO"}, infantry: 197, cavalry: 13, weight: .13, west: 1, light: true},
	{code: "NY", name: "New York", book: "N. Y.", stone: []string{"N Y"}, infantry: 194, cavalry: 26, weight: .125, west: .7, heavy: true, light: true},
	{code: "PA", name: "Pennsylvania", book: "Pa.", stone: []string{"PA", "PA", "PENNA", "PENN"}, infantry: 215, cavalry: 21, weight: .105, west: .6, heavy: true},
	{code: "IN", name: "Indiana", book: "Ind.", stone: []string{"IND"}, infantry: 156, cavalry: 13, weight: .1, west: 1.3, light: true},
	{code: "IA", name: "Iowa", book: "Iowa", stone: []string{"IOWA", "IOWA", "IA"}, infantry: 48, cavalry: 9, weight: .095, west: 2.6, light: true},
	{code: "WI", name: "Wisconsin", book: "Wis.", stone: []string{"WIS", "WIS", "WISC"}, infantry: 53, cavalry: 4, weight: .06, west: 1.6, heavy: true, light: true},
	{code: "MO", name: "Missouri", book: "Mo.", stone: []string{"MO"}, infantry: 55, cavalry: 16, weight: .05, west: 1.6},
	{code: "MI", name: "Michigan", book: "Mich.", stone: []string{"MICH"}, infantry: 30, cavalry: 11, weight: .04, west: .9, light: true},
	{code: "MA", name: "Massachusetts", book: "Mass.", stone: []string{"MASS"}, infantry: 62, cavalry: 5, weight: .028, west: .4, heavy: true, light: true},
	{code: "KY", name: "Kentucky", book: "Ky.", stone: []string{"KY"}, infantry: 55, cavalry: 17, weight: .022, west: .6},
	{code: "MN", name: "Minnesota", book: "Minn.", stone: []string{"MINN"}, infantry: 11, cavalry: 2, weight: .016, west: 1.2, heavy: true},
	{code: "KS", name: "Kansas", book: "Kans.", stone: []string{"KANS", "KAN"}, infantry: 17, cavalry: 15, weight: .012, west: 2.2},
	{code: "NJ", name: "New Jersey", book: "N. J.", stone: []string{"N J"}, infantry: 40, cavalry: 3, weight: .012, west: .5},
	{code: "VT", name: "Vermont", book: "Vt.", stone: []string{"VT"}, infantry: 17, cavalry: 1, weight: .011, west: .8},
	{code: "ME", name: "Maine", book: "Me.", stone: []string{"ME", "MAINE"}, infantry: 32, cavalry: 2, weight: .012, west: .5, heavy: true},
	{code: "WV", name: "West Virginia", book: "W. Va.", stone: []string{"W VA"}, infantry: 17, cavalry: 7, weight: .011, west: .8, light: true},
	{code: "CT", name: "Connecticut", book: "Conn.", stone: []string{"CONN"}, infantry: 30, cavalry: 1, weight: .01, west: .4, heavy: true},
	{code: "NH", name: "New Hampshire", book: "N. H.", stone: []string{"N H"}, infantry: 18, cavalry: 1, weight: .008, west: .5},
	{code: "TN", name: "Tennessee", book: "Tenn.", stone: []string{"TENN"}, infantry: 10, cavalry: 13, weight: .008, west: .7},
	{code: "NE", name: "Nebraska", book: "Nebr.", stone: []string{"NEB", "NEBR"}, infantry: 1, cavalry: 2, weight: .012, west: 9},
	{code: "MO", name: "Missouri", book: "Mo.", stone: []string{"MO"}, infantry: 16, cavalry: 15, weight: .3, west: 2, southern: true},
	{code: "VA", name: "Virginia", book: "Va.", stone: []string{"VA"}, infantry: 64, cavalry: 27, weight: .2, west: .8, southern: true},
	{code: "TN", name: "Tennessee", book: "Tenn.", stone: []string{"TENN"}, infantry: 63, cavalry: 22, weight: .2, west: .8, southern: true},
	{code: "KY", name: "Kentucky", book: "Ky.", stone: []string{"KY"}, infantry: 9, cavalry: 14, weight: .1, west: 1, southern: true},
	{code: "GA", name: "Georgia", book: "Ga.", stone: []string{"GA"}, infantry: 66, cavalry: 13, weight: .1, west: .4, southern: true},
	{code: "TX", name: "Texas", book: "Tex.", stone: []string{"TEX"}, infantry: 22, cavalry: 36, weight: .1, west: .8, southern: true},
}

// town is one of the invented towns of a state.
func town(s *state, i int) string {
	heads := []string{"Cedar", "Elm", "Fair", "Green", "Mill", "Oak", "Pleasant", "Salem", "Spring", "Union", "Clear", "Rock", "West", "Mount", "Harris", "Wayne", "Clinton", "Bristol"}
	tails := []string{"ville", "ton", "field", " Grove", " Center", " Creek", "port", "dale", "burg", " Prairie", " Mills"}
	k := i*7 + int(s.code[0])*3 + int(s.code[1])*5
	return heads[k%len(heads)] + tails[(k/5+i)%len(tails)]
}

// offices are the post offices of the state where the veterans settled, invented: the first ten are the county's.
var offices = []string{"Harlan Center", "Blue Fork", "Lodgepole Bend", "St. Wendel", "Nyborg", "Tara", "Fort Kinnard", "Plum Creek Mills", "Zion Ridge", "Willow Island",
	"Antelope", "Beatrice Junction", "Kearns City", "Loup Center", "Red Willow", "Osage Bluff", "Rulo Bottoms", "Long Pine Siding", "Elkhorn Ford", "Table Rock Mills", "Sutherton", "Hastings Mill", "Minden Grove", "Saline", "Pawnee Rock", "Valparo", "Crete Hill", "Ord Station", "Genoa Flats", "Tecumseh Fork"}

const county = 10

// A company is raised at a place in a season, has a clerk, and goes into a regiment.
type company struct {
	state                 *state
	arm, letter, body     string // body: US, USCT, VRC or nothing
	number                int
	year, month, term     int // term in months
	room                  int
	careless              float64 // of its clerk
	initials, lost, short bool    // given names by their letter; its rolls are lost; names contracted
	division              int
}

type ending byte

const (
	out ending = iota
	disabled
	transferred
	deserted
	died
	killed
	prison
)

type service struct {
	man         *man
	co          *company
	war         string // civil-war (of the North), south, regulars, 1898, philippines, 1917, 1846
	rank0, rank string
	in, out     day
	said        int  // age, as he said
	roll        name // as the company's clerk wrote it
	end         ending
	what        string // of his wound or disease
	veteran     bool   // he re-enlisted
	where       string
}

// A house is a family; its people share a name, a place and, mostly, where they go.
type house struct {
	state    *state
	place    int
	nation   string
	surname  string
	becomes  string // its name in America
	turn     int    // when it took it
	lettered bool   // who in it can write
	west     bool
	office   int
	men      []*man // those who served
	others   []name // sons who did not
	father   string
	late     bool
}

type man struct {
	house      *house
	given      string
	middle     string
	suffix     string
	nickname   string // if he goes by it
	farm       string // a Norwegian's later name
	born, died day
	where      string // he died, if in the service
	services   []*service
	unknown    bool // no book has him
	west       bool
	rows       []string // ids
}

// called is the name he gives himself in a year.
func (x *man) called(year int) name {
	h := x.house
	n := name{h.surname, x.given, x.middle, x.suffix}
	if h.turn != 0 && year >= h.turn {
		if h.becomes != "" {
			n.surname = h.becomes
		}
		if a := american[n.given]; a != "" {
			n.given = a
		}
	}
	if x.farm != "" && year >= 1870 {
		n.surname = x.farm
	}
	return n
}

var nations = []struct {
	name string
	upTo float64
}{{"yankee", .64}, {"irish", .765}, {"german", .93}, {"norse", .975}, {"czech", .988}, {"french", 1}}

func (m *maker) nation() string {
	r := m.Float64()
	for _, n := range nations {
		if r < n.upTo {
			return n.name
		}
	}
	return "yankee"
}

// settlers came after the war, from Europe more often than those who had served.
func (m *maker) settler() string {
	if m.chance(.4) {
		return m.any("german", "german", "german", "norse", "norse", "czech", "irish")
	}
	return m.nation()
}

func (m *maker) found(s *state, nation string, late bool) *house {
	h := &house{state: s, place: m.IntN(24), nation: nation, late: late}
	h.surname = m.surname(nation, late)
	h.lettered = m.chance(map[string]float64{"yankee": .9, "german": .8, "irish": .62, "norse": .82, "czech": .7, "french": .5}[nation])
	if nation != "yankee" && nation != "irish" && m.chance(.45) || nation == "irish" && m.chance(.15) {
		h.turn = 1855 + m.IntN(40)
		if m.chance(.6) {
			h.becomes = becomes[h.surname]
		}
	}
	h.office = m.settle()
	return h
}

func (m *maker) settle() int {
	if m.chance(.75) {
		return m.IntN(county)
	}
	return county + m.IntN(len(offices)-county)
}

func (m *maker) pick(southern bool) *state {
	r, last := m.Float64(), 0
	for i := range states {
		if s := &states[i]; s.southern == southern {
			last = i
			if r -= s.weight; r < 0 {
				break
			}
		}
	}
	return &states[last]
}

// christen gives a son of the house his name; brothers seldom share one.
func (m *maker) christen(h *house, born day) *man {
	x := &man{house: h, born: born}
	for range 6 {
		x.given = m.given(h.nation, born.y)
		if !slices.ContainsFunc(h.men, func(b *man) bool { return b.given == x.given }) && !slices.ContainsFunc(h.others, func(b name) bool { return b.given == x.given }) {
			break
		}
	}
	if m.chance(map[string]float64{"yankee": .5, "german": .25, "irish": .14, "norse": .12, "czech": .06, "french": .1}[h.nation]) {
		x.middle = m.given(h.nation, born.y)
		if m.chance(.25) {
			x.middle = m.surname(h.nation, false)
		}
		if x.middle == x.given {
			x.middle = ""
		}
	}
	if c := called[x.given]; c != nil && m.chance(.1) {
		x.nickname = c[m.IntN(len(c))]
	}
	if h.nation == "norse" && m.chance(.09) {
		x.farm = m.any("Bakken", "Haugen", "Lien", "Moen", "Tveit", "Dahl", "Rud", "Berg", "Sande", "Vik", "Hagen", "Solberg", "Brekke", "Skogen", "Engen", "Strand")
	}
	if h.father == "" {
		h.father = m.given(h.nation, 1812)
	}
	if x.given == h.father && m.chance(.4) {
		x.suffix = "Jr"
	}
	return x
}

// age of a man at his muster: see the package's comment.
func (m *maker) age() int {
	r := m.Float64()
	for i, share := range []float64{.015, .035, .1, .1, .085, .08, .07, .065, .055, .05, .045, .04, .035, .03, .03} {
		if r -= share; r < 0 {
			return 16 + i
		}
	}
	return 31 + int(math.Pow(m.Float64(), 1.6)*16)
}

// said is the age he gives: old enough, young enough, or a round one.
func (m *maker) said(age int) int {
	switch {
	case age < 18 && m.chance(.85):
		return 18
	case age > 44 && m.chance(.7):
		return 44 - m.IntN(2)
	case age > 27 && m.chance(.12):
		return (age + 2) / 5 * 5
	case (age == 20 || age == 22) && m.chance(.15):
		return 21
	case m.chance(.1):
		return max(18, age-1+2*m.IntN(2))
	}
	return age
}

// span is the age at which a man dies who is alive at an age, by Gompertz's law.
func (m *maker) span(from int) int {
	const b = .085
	a := .022 * math.Exp(-60*b) // the hazard at sixty is .022
	return from + int(math.Log(1-math.Log(1-m.Float64()*.9999)*b/(a*math.Exp(b*float64(from))))/b)
}

// company finds room for a man of a place, or raises another company there.
func (m *maker) company(s *state, place int) *company {
	near := place/3*3 + m.IntN(3) // a company draws on three towns
	if m.chance(.7) {
		near = place
	}
	key := fmt.Sprintf("%s%v%d", s.code, s.southern, near)
	if co := m.raising[key]; co != nil && co.room > 0 {
		co.room--
		return co
	}
	co := m.raise(s)
	co.room--
	m.raising[key] = co
	return co
}

func (m *maker) raise(s *state) *company {
	co := &company{state: s, room: 60 + m.IntN(65), careless: .5 + 1.7*m.Float64()*m.Float64(), initials: m.chance(.06), short: m.chance(.2), lost: m.chance(.04)}
	at := m.Float64()
	switch {
	case at < .27:
		co.year, co.month, co.term = 1861, 5+m.IntN(8), 36
		if m.chance(.15) {
			co.month, co.term = 4, 3
		}
	case at < .62:
		co.year, co.month, co.term = 1862, 2+m.IntN(9), 36
	case at < .74:
		co.year, co.month, co.term = 1863, 1+m.IntN(12), 36
	case at < .92:
		co.year, co.month, co.term = 1864, 2+m.IntN(9), 36
		if co.month > 4 {
			co.term = 12
			if m.chance(.4) {
				co.term = 4
			}
		}
	default:
		co.year, co.month, co.term = 1865, 1+m.IntN(3), 12
	}
	if s.southern && co.year > 1862 {
		co.year, co.term = 1862, 36
	}
	for range 60 {
		last, letters := s.infantry, "ABCDEFGHIK"
		co.arm = "Infantry"
		switch r := m.Float64(); {
		case r < .15:
			co.arm, last, letters = "Cavalry", s.cavalry, "ABCDEFGHIKLM"
		case r < .19 && s.light:
			co.arm, last, letters = "Light Artillery", 2, "ABCDEFGHIKLM"
			if s.code == "IN" || s.code == "WI" || s.code == "OH" {
				last, letters = 24, " " // batteries of their own, by number
			}
		case r < .23 && s.heavy:
			co.arm, last, letters = "Heavy Artillery", 4, "ABCDEFGHIKLM"
		}
		co.number = 1 + int(float64(last)*min(.999, max(0, at+.12*m.NormFloat64())))
		if co.number > last {
			co.number = last
		}
		co.letter = string(letters[m.IntN(len(letters))])
		if co.letter == " " {
			co.letter = ""
		}
		if key := fmt.Sprint(s.code, s.southern, co.arm, co.number, co.letter); !m.raised[key] {
			m.raised[key] = true
			break
		}
	}
	return co
}

// body finds a company that no place raises: colored troops, regulars, the Veteran Reserve Corps.
func (m *maker) body(kind string) *company {
	arm, last, letters := "Infantry", 138, "ABCDEFGHIK"
	switch kind {
	case "VRC":
		last = 24
	case "US":
		if last = 23; m.chance(.4) {
			arm, last, letters = "Cavalry", 8, "ABCDEFGHIKLM"
		} else if m.chance(.15) {
			arm, last, letters = "Artillery", 5, "ABCDEFGHIKLM"
		}
	default:
		if m.chance(.1) {
			arm, last, letters = "Cavalry", 6, "ABCDEFGHIKLM"
		} else if m.chance(.12) {
			arm, last, letters = "Heavy Artillery", 14, "ABCDEFGHIKLM"
		}
	}
	number, letter := 1+m.IntN(last), string(letters[m.IntN(len(letters))])
	key := fmt.Sprint(kind, arm, number, letter)
	if co := m.raising[key]; co != nil {
		return co
	}
	co := &company{state: &states[0], arm: arm, body: kind, number: number, letter: letter, year: 1863 + m.IntN(2), month: 3 + m.IntN(9), term: 36, careless: .6 + 1.2*m.Float64()}
	m.raising[key] = co
	return co
}

var battles = []string{"Shiloh, Tenn.", "Stone's River, Tenn.", "Chickamauga, Ga.", "Vicksburg, Miss.", "Gettysburg, Pa.", "Antietam, Md.", "Kenesaw Mountain, Ga.", "Atlanta, Ga.", "Fredericksburg, Va.", "Spottsylvania, Va.", "Franklin, Tenn.", "Fort Donelson, Tenn.", "Wilderness, Va.", "Corinth, Miss.", "Perryville, Ky."}
var hospitals = []string{"Nashville, Tenn.", "Memphis, Tenn.", "St. Louis, Mo.", "Louisville, Ky.", "Chattanooga, Tenn.", "Washington, D. C.", "Keokuk, Iowa", "Helena, Ark.", "City Point, Va.", "Vicksburg, Miss.", "Cairo, Ill.", "Alexandria, Va."}
var ills = []string{"typhoid fever", "chr. diarrhea", "measles", "pneumonia", "erysipelas", "small-pox", "consumption"}
var wounds = []string{"g. s. w. left thigh", "g. s. w. right hand", "chr. diarr.", "rheum.", "g. s. w. shoulder", "inj. to abdomen", "loss right leg", "dis. of eyes", "dis. of lungs", "wd. head", "varicose veins", "deafness"}

// roll writes his name as his company's clerk did.
func (m *maker) roll(x *man, co *company, year int) name {
	n := x.called(year)
	ear := .035
	if h := x.house; h.nation != "yankee" {
		ear = .1
		if !h.lettered {
			ear = .3
		}
	} else if !h.lettered {
		ear = .14
	}
	if m.chance(ear * co.careless) {
		n.surname = m.byEar(n.surname, x.house.nation)
	}
	if x.house.nation != "yankee" && m.chance(.5*ear) {
		if a := american[n.given]; a != "" {
			n.given = a // the clerk knows that name
		} else {
			n.given = m.byEar(n.given, x.house.nation)
		}
	}
	if x.nickname != "" && m.chance(.3) {
		n.given, n.middle = x.nickname, ""
	}
	if n.middle != "" {
		switch r := m.Float64(); {
		case r < .14:
			n.middle = ""
		case r < .93:
			n.middle = initial(n.middle)
		}
		if n.middle != "" && m.chance(.012) {
			n.given, n.middle = x.middle, initial(x.given) // he goes by the other
		}
	}
	if n.suffix != "" && m.chance(.5) {
		n.suffix = ""
	}
	if co.initials {
		n.given = initial(n.given)
	}
	return n
}

// rank draws how far a man rises.
func (m *maker) rank() (string, string) {
	switch r := m.Float64(); {
	case r < .105:
		return "Private", "Corporal"
	case r < .185:
		return m.any("Private", "Corporal"), "Sergeant"
	case r < .198:
		return "Sergeant", "First Sergeant"
	case r < .218:
		return "Musician", "Musician"
	case r < .228:
		return m.any("Private", "Wagoner"), "Wagoner"
	case r < .25:
		return m.any("Sergeant", "First Sergeant", "Second Lieutenant"), m.any("Second Lieutenant", "First Lieutenant")
	case r < .261:
		return m.any("First Lieutenant", "Captain"), "Captain"
	case r < .266:
		return "Private", m.any("Quartermaster Sergeant", "Commissary Sergeant", "Hospital Steward")
	}
	return "Private", "Private"
}

// serve has a man go with a company of the war.
func (m *maker) serve(x *man, co *company, war string, from day) *service {
	s := &service{man: x, co: co, war: war, in: from, where: m.any(hospitals...)}
	s.rank0, s.rank = m.rank()
	s.said = m.said(from.y - x.born.y)
	s.roll = m.roll(x, co, from.y)
	s.out = from.after(co.term*28 - m.IntN(20))
	if end := (day{1865, 7, 1 + m.IntN(28)}); s.out.y > 1865 || s.out.y == 1865 && s.out.m > 7 {
		if s.out = end; co.body == "USCT" {
			s.out = day{1866, 1 + m.IntN(10), 1 + m.IntN(28)}
		}
	}
	if co.term == 36 && s.out.y == 1864 && m.chance(.35) {
		s.veteran, s.out = true, day{1865, 6 + m.IntN(2), 1 + m.IntN(28)}
	}
	length := max(1, (s.out.y-s.in.y)*336+(s.out.m-s.in.m)*28)
	part := 1.
	if co.term < 12 {
		part = .2
	}
	r := m.Float64() / part
	early := s.in.after(20 + m.IntN(length))
	switch {
	case r < .055:
		s.end, s.what = killed, m.any(battles...)
	case r < .15:
		s.end, s.what = died, m.any(ills...)
	case r < .163:
		s.end = prison
	case r < .3:
		s.end, s.what = disabled, m.any(wounds...)
	case r < .335:
		s.end = deserted
	case r < .38:
		s.end = transferred
	}
	if s.end != out && (early.y < 1865 || early.m < 8) {
		s.out = early
	}
	if s.end == died || s.end == killed || s.end == prison {
		x.died = s.out
		x.where = s.where
		if s.end == killed {
			x.where = s.what
		} else if s.end == prison {
			x.where = "Andersonville, Ga."
		}
	}
	x.services = append(x.services, s)
	return s
}

// muster makes a household whose sons went to the war, and their services.
func (m *maker) muster(southern bool) *house {
	s := m.pick(southern)
	nation := m.nation()
	if southern {
		nation = m.any("yankee", "yankee", "yankee", "yankee", "yankee", "irish", "german")
	}
	h := m.found(s, nation, false)
	colored := !southern && m.chance(.045)
	if colored {
		h.nation, h.lettered = "yankee", m.chance(.3)
		h.surname = m.surname("yankee", false)
	}
	kin := fmt.Sprintf("%s%v%d", s.code, southern, h.place)
	if last := m.kin[kin]; last != nil && m.chance(.05) {
		h.surname, h.nation, h.becomes, h.turn, h.lettered = last.surname, last.nation, last.becomes, last.turn, last.lettered
	}
	m.kin[kin] = h
	h.west = m.chance(min(.95, m.west*s.west))
	went := 1
	for went < 5 && m.chance(.15) {
		went++
	}
	var last *company
	for i := range went {
		co := last
		if co == nil || !m.chance(.58) {
			if co = m.company(s, h.place); colored {
				co = m.body("USCT")
			}
		}
		last = co
		from := day{co.year, co.month, 1 + m.IntN(28)}
		if m.chance(.14) && co.term == 36 && co.year < 1864 {
			from = day{1864, 1 + m.IntN(9), 1 + m.IntN(28)} // a recruit
		}
		x := m.christen(h, m.within(from.y-m.age()))
		h.men = append(h.men, x)
		if i == 0 && m.chance(.012) {
			x.given = h.father
		}
		war := "civil-war"
		if southern {
			war = "south"
		}
		sv := m.serve(x, co, war, from)
		if !x.died.some() && sv.end != deserted && !southern {
			switch r := m.Float64(); {
			case sv.end == transferred && r < .55:
				m.again(x, m.body("VRC"), sv)
			case sv.end == transferred:
				m.again(x, m.other(s, h.place, sv), sv)
			case sv.out.y < 1864 && r < .42 || sv.out.y == 1864 && r < .1:
				m.again(x, m.other(s, h.place, sv), sv)
			}
		}
		if !x.died.some() {
			x.died = m.within(max(1866, x.born.y+m.span(1866-x.born.y)))
			x.west = h.west && m.chance(.93) && x.died.y > 1871
		}
		x.unknown = m.chance(.09)
		m.served = append(m.served, x)
	}
	for m.chance(.45) && len(h.others) < 4 {
		x := m.christen(h, day{1840, 1, 1})
		h.others = append(h.others, name{h.surname, x.given, x.middle, ""})
	}
	return h
}

// other is another company of his state, of a later season.
func (m *maker) other(s *state, place int, before *service) *company {
	for range 8 {
		if co := m.company(s, place+m.IntN(2)); co != before.co && co.year*12+co.month > before.out.y*12+before.out.m {
			return co
		}
	}
	co := m.raise(s)
	if co.year < 1864 {
		co.year, co.month, co.term = 1864, 8, 12
	}
	return co
}

// again has a man serve a second time: transferred at once, else when that company is raised.
func (m *maker) again(x *man, co *company, before *service) {
	from := day{co.year, co.month, 1 + m.IntN(28)}
	if before.end == transferred || from.y*12+from.m <= before.out.y*12+before.out.m {
		from = before.out.after(1 + m.IntN(40))
	}
	if from.y > 1865 || from.y == 1865 && from.m > 4 {
		return
	}
	s := m.serve(x, co, "civil-war", from)
	s.rank0 = before.rank
	if m.chance(.8) {
		s.rank = before.rank
	}
	s.said = max(18, before.said+from.y-before.in.y)
}

// enlist makes a regular of the years after the war, term by term.
func (m *maker) enlist() *house {
	nation := "yankee"
	if m.chance(.55) {
		nation = m.any("irish", "irish", "irish", "german", "german", "norse")
	}
	h := m.found(m.pick(false), nation, false)
	h.lettered = m.chance(.6)
	from := m.within(1866 + int(30*m.Float64()*m.Float64()))
	x := m.christen(h, m.within(from.y-21-int(12*m.Float64()*m.Float64())))
	h.men = []*man{x}
	alias := name{}
	if m.chance(.07) {
		alias = name{surname: m.surname("yankee", false), given: m.given("yankee", 1845)}
	}
	x.died = m.within(x.born.y + m.span(from.y-x.born.y))
	for range 5 {
		co := m.body("US")
		s := &service{man: x, co: co, war: "regulars", in: from, said: m.said(from.y - x.born.y), roll: m.roll(x, co, from.y), where: m.any("Fort Kinnard, Nebr.", "Fort Kinnard, Nebr.", "Fort Laramie, Wyo.", "Fort Robinson, Nebr.", "Fort Sill, I. T."), rank0: "Private", rank: "Private"}
		if len(x.services) > 0 && m.chance(.6) {
			s.co = x.services[len(x.services)-1].co
		}
		if m.chance(.12 + .15*float64(len(x.services))) {
			s.rank = m.any("Corporal", "Corporal", "Sergeant", "Sergeant", "First Sergeant", "Farrier", "Musician")
		}
		if alias.surname != "" && (len(x.services) == 0 || m.chance(.4)) {
			s.roll = alias
		}
		s.out = from.after(5*336 - m.IntN(30))
		switch r := m.Float64(); {
		case r < .06:
			s.end, s.what = died, m.any("typhoid fever", "accidental g. s. w.", "frozen", "drowned", "pneumonia", "killed by Indians", "chr. alcoholism")
			s.out = from.after(60 + m.IntN(1500))
			x.died, x.where = s.out, s.where
		case r < .2:
			s.end, s.out = deserted, from.after(60+m.IntN(1500))
		case r < .29:
			s.end, s.what, s.out = disabled, m.any(wounds...), from.after(200+m.IntN(1300))
		}
		x.services = append(x.services, s)
		if s.end != out || m.chance(.6) || s.out.y-x.born.y > 45 {
			break
		}
		from = s.out.after(1 + m.IntN(50))
	}
	if last := x.services[len(x.services)-1]; x.died.y < last.out.y {
		x.died = m.within(last.out.y + 1 + m.IntN(20))
	}
	h.west = m.chance(min(.9, m.west*3))
	x.west = h.west && (x.where == "" || x.where == "Fort Kinnard, Nebr.")
	x.unknown = m.chance(.09)
	m.served = append(m.served, x)
	return h
}

// later makes a man of 1898 or 1917, of Nebraska nearly always: the son or grandson of an old soldier, or another.
func (m *maker) later(war string) *house {
	ne := &states[20]
	var h *house
	born := 1870 + m.IntN(11)
	if war == "1917" {
		born = 1886 + m.IntN(14)
	}
	if n := len(m.settled); n > 0 && m.chance(.3) {
		old := m.settled[m.IntN(n)]
		h = &house{state: ne, place: old.place, nation: old.nation, surname: old.surname, becomes: old.becomes, turn: old.turn, lettered: true, west: true, office: old.office, late: true}
		if war == "1898" {
			h.father = old.men[0].given
		}
	} else {
		h = m.found(ne, m.settler(), true)
	}
	h.lettered, h.west = m.chance(.96), true
	if h.turn == 0 && h.nation != "yankee" && m.chance(.5) {
		h.turn = 1885
	}
	h.office = m.settle()
	x := m.christen(h, m.within(born))
	h.men = []*man{x}
	co := m.unit(war)
	s := &service{man: x, co: co, war: war, in: day{1898, 4 + m.IntN(4), 1 + m.IntN(28)}}
	s.out = day{1898, 9 + m.IntN(4), 1 + m.IntN(28)}
	s.rank0, s.rank = m.rank()
	if war == "1917" {
		s.in = m.any3(day{1917, 4 + m.IntN(9), 1 + m.IntN(28)}, day{1918, 1 + m.IntN(10), 1 + m.IntN(28)})
		s.out = day{1919, 1 + m.IntN(9), 1 + m.IntN(28)}
		s.rank0 = "Private"
		if r := m.Float64(); s.rank == "Private" && r < .3 {
			s.rank = m.any("Private First Class", "Private First Class", "Private First Class", "Mechanic", "Cook", "Bugler")
		}
		if co.body == "NAVY" {
			s.rank = m.any("Seaman", "Seaman Second Class", "Fireman", "Yeoman", "Apprentice Seaman")
		}
	} else if co.body == "USV" {
		s.war, s.in, s.out = "philippines", day{1899, 7 + m.IntN(4), 1 + m.IntN(28)}, day{1901, 4 + m.IntN(3), 1 + m.IntN(28)}
	}
	s.said = m.said(s.in.y - born)
	s.roll = m.roll(x, co, s.in.y)
	if m.chance(.035) {
		s.end, s.what = died, m.any("pneumonia", "typhoid fever", "influenza", "wounds received in action")
		if s.out = s.in.after(60 + m.IntN(220)); s.war == "1917" && m.chance(.3) {
			s.end, s.what = killed, m.any("St. Mihiel, France", "Meuse-Argonne, France", "Chateau-Thierry, France")
		}
		x.died, x.where = s.out, "camp"
	} else {
		x.died = m.within(max(s.out.y+1, born+m.span(s.out.y-born)))
	}
	x.services = []*service{s}
	x.west = true
	x.unknown = m.chance(.09)
	m.served = append(m.served, x)
	return h
}

// unit is a unit of 1898 to 1902 or of 1917: Nebraska's three regiments of 1898 and the divisions its men were sent to are facts, which of them how often invented.
func (m *maker) unit(war string) *company {
	type body struct {
		arm           string
		number, of    int
		division      int
		letters, body string
	}
	list := []body{{"Infantry", 1, 1, 0, "ABCDEFGHIKLM", ""}, {"Infantry", 2, 1, 0, "ABCDEFGHIKLM", ""}, {"Infantry", 3, 1, 0, "ABCDEFGHIKLM", ""}, {"Cavalry", 3, 1, 0, "K", "USVC"}, {"Infantry", 39, 1, 0, "ABCDEFGHIKLM", "USV"}, {"Infantry", 22, 1, 0, "ABCDEFGHIKLM", "US"}}
	if war == "1917" {
		list = []body{{"Infantry", 134, 1, 34, "ABCDEFGHIKLM", ""}, {"Infantry", 355, 1, 89, "ABCDEFGHIKLM", ""}, {"Infantry", 355, 1, 89, "ABCDEFGHIKLM", ""}, {"Field Artillery", 127, 1, 34, "ABCDEF", ""}, {"Field Artillery", 339, 4, 88, "ABCDEF", ""}, {"Infantry", 349, 4, 88, "ABCDEFGHIKLM", ""}, {"Machine Gun Battalion", 340, 3, 89, "ABCD", ""},
			{"Engineers", 314, 1, 89, "ABCDEF", ""}, {"Infantry", 16, 10, 0, "ABCDEFGHIKLM", ""}, {"Depot Brigade", 163, 2, 0, "", ""}, {"Medical Department", 0, 1, 0, "", ""}, {"Quartermaster Corps", 0, 1, 0, "", ""}, {"Coast Artillery Corps", 0, 1, 0, "", ""}, {"Aero Squadron", 160, 60, 0, "", ""}, {"Navy", 0, 1, 0, "", "NAVY"}, {"Students Army Training Corps", 0, 1, 0, "", ""}, {"Infantry", 53, 4, 0, "ABCD", "PION"}}
	}
	b := list[m.IntN(len(list))]
	co := &company{state: &states[20], arm: b.arm, body: b.body, division: b.division, careless: .5, short: false}
	if b.number > 0 {
		co.number = b.number + m.IntN(b.of)
	}
	if b.letters != "" {
		co.letter = string(b.letters[m.IntN(len(b.letters))])
	}
	return co
}
