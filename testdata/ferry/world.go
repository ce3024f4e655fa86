package ferry

import "slices"

// house is a household, of whom the sons may go to war and all may lie here.
type house struct {
	people, surname string
	town            int
	father, mother  *person
	kids            []*person
}

// person is a man or a woman.
type person struct {
	house          *house
	surname, given string
	middle, suffix string
	woman          bool
	unlettered     bool // cannot write, and is spelled by ear
	born, died     day
	spouse         string // given name of a wife or husband
	services       []*service
	assumed        string // surname in the service, where it was another
	rows           []*row
}

// service is what one man did in one unit.
type service struct {
	unit              *unit
	company           string
	rankIn, rankOut   string
	enlisted, ended   day
	age               int // as he gave it
	fate, where, then string
}

type world struct {
	d       dice
	units   shares[*unit]
	next    map[*unit]int
	houses  [][]*house // by town
	towns   []string
	local   int // so many of the towns are of the county whose grounds are surveyed
	peoples []string
	men     []*person // who served
	rows    []*row
	here    float64 // how likely a company is of the county
}

const county = "Tarrow"

func newWorld(seed uint64, records int) *world {
	w := &world{d: newDice(seed, 1), next: map[*unit]int{}}
	w.towns = []string{"Tarrow Ferry", "Mount Hebron", "Gilead", "New Hessen", "Osage Bluff", "Shiloh Church", "Lone Elm", "Berghaus"}
	w.peoples = []string{"upland", "upland", "upland", "german", "upland", "upland", "upland", "german"}
	w.local = len(w.towns)
	for range 30 {
		w.towns = append(w.towns, w.d.surname("upland")+of(w.d, "ville", "burg", "", " Springs", " Mills", "ton", " Grove", ""))
		w.peoples = append(w.peoples, of(w.d, "upland", "upland", "upland", "german", "upland", "irish"))
	}
	w.houses = make([][]*house, len(w.towns))
	w.here = min(.3, max(.02, 2600/float64(records)))
	w.newUnits()
	return w
}

// house founds a household with the sons of one age.
func (w *world) house(town int, people string, about int) *house {
	d := w.d
	h := &house{people: people, town: town, surname: d.surname(people)}
	if all := w.houses[town]; len(all) > 0 && d.is(.3) { // kin of those who are there
		if kin := of(d, all...); kin.people == people {
			h.surname = kin.surname
		}
	}
	h.father = w.person(h, false, about-d.from(22, 42))
	h.mother = w.person(h, true, h.father.born.y+d.from(0, 7))
	h.father.spouse, h.mother.spouse = h.mother.given, h.father.given
	for range d.from(2, 7) {
		kid := w.person(h, d.is(.42), about+d.from(-9, 9))
		if !kid.woman && d.is(.13) && h.father.given != "" {
			kid.given, kid.middle = h.father.given, h.father.middle
			if d.is(.5) {
				kid.suffix = "Jr."
			}
		}
		if !kid.woman && slices.ContainsFunc(h.kids, func(k *person) bool { return k.given == kid.given }) {
			continue
		}
		h.kids = append(h.kids, kid)
	}
	w.houses[town] = append(w.houses[town], h)
	return h
}

func (w *world) person(h *house, woman bool, year int) *person {
	d := w.d
	p := &person{house: h, surname: h.surname, woman: woman, born: d.dayOf(year)}
	if woman {
		p.given = namePools().women.draw(d)
		if d.is(.4) {
			p.middle = of(d, "A.", "E.", "J.", "M.", "C.", "F.", "L.")
		}
	} else {
		p.given, p.middle = d.given(h.people)
	}
	p.unlettered = d.is(map[string]float64{"upland": .12, "german": .1, "irish": .22, "freed": .55}[h.people])
	p.died = d.dayOf(p.born.y + w.span())
	if !p.died.after(p.born) {
		p.died = p.born.plus(d.from(1, 300))
	}
	return p
}

// span is how old someone gets, with the children's deaths of the time.
func (w *world) span() int {
	switch x := w.d.Float64(); {
	case x < .17:
		return w.d.from(0, 5)
	case x < .27:
		return w.d.from(6, 25)
	}
	return min(99, max(26, w.d.about(65, 15)))
}

// muster raises the next company of a unit, of men of one town for the most part.
func (w *world) muster() {
	d := w.d
	u := w.units.draw(d)
	letter := string(u.letters[(w.next[u]+u.first)%len(u.letters)])
	w.next[u] += 7 // seven steps meet every letter of ten and of twelve
	if letter == "-" {
		letter = ""
	}
	size := max(30, d.about(88, 18))
	switch {
	case u.side == "early":
		size = d.from(25, 70)
	case u.body == "home guard", u.body == "enrolled militia", u.body == "navy":
		size = d.from(35, 85)
	}
	people := ""
	town := w.local + d.IntN(len(w.towns)-w.local)
	if d.is(w.here) || w.local == len(w.towns) {
		town = d.IntN(w.local)
	}
	if u.body == "colored" {
		people = "freed"
	}
	for n := 0; n < size; {
		if d.is(.3) && u.side != "early" {
			if p := w.again(town, u); p != nil {
				w.enlist(p, u, letter)
				n++
				continue
			}
		}
		at := town
		if d.is(.25) {
			at = d.IntN(len(w.towns))
		}
		folk := people
		if folk == "" {
			folk = w.peoples[at]
			if d.is(.12) {
				folk = of(d, "irish", "german", "upland", "upland")
			}
			if u.side == "confederate" && folk == "german" && d.is(.9) {
				folk = "upland"
			}
		}
		h := w.house(at, folk, u.raised.y-d.from(19, 26))
		for _, kid := range append([]*person{h.father}, h.kids...) {
			age := kid.born.years(u.raised)
			if kid.woman || age < 16 || age > 46 || !kid.died.after(u.raised) || !d.is(pick(kid == h.father, .15, .55)) {
				continue
			}
			w.enlist(kid, u, letter)
			if n++; n >= size {
				break
			}
		}
	}
}

// again is a man of the town, or of another, who served before or will serve after.
func (w *world) again(town int, u *unit) *person {
	for range 30 {
		if len(w.men) == 0 {
			return nil
		}
		p := of(w.d, w.men...)
		if all := w.houses[town]; len(all) > 0 && w.d.is(.8) {
			h := of(w.d, all...)
			p = of(w.d, append(h.kids, h.father)...)
		}
		if len(p.services) != 1 {
			continue
		}
		s := p.services[0]
		if (u.body == "colored") != (s.unit.body == "colored") || s.unit.side != u.side && !w.d.is(.06) || s.unit.side == "early" || s.fate == "died" || s.unit == u ||
			!p.died.after(u.ended) || !(u.raised.after(s.ended) || s.enlisted.after(u.ended)) {
			continue
		}
		if age := p.born.years(u.raised); age < 16 || age > 48 {
			continue
		}
		return p
	}
	return nil
}

func pick[T any](is bool, one, other T) T {
	if is {
		return one
	}
	return other
}

// battle is a place and its day.
type battle struct {
	name string
	on   day
}

// fought is a battle that a man may have been in, of those of his time.
func (d dice) fought(from, to day) (battle, bool) {
	var all []battle
	for _, b := range battles {
		if b.on.after(from) && to.after(b.on) {
			all = append(all, b)
		}
	}
	if len(all) == 0 {
		return battle{}, false
	}
	return of(d, all...), true
}

var (
	battles = []battle{{"Wilson's Creek", day{1861, 8, 10}}, {"Lexington, Mo.", day{1861, 9, 20}}, {"Belmont, Mo.", day{1861, 11, 7}}, {"Fort Donelson, Tenn.", day{1862, 2, 15}}, {"Pea Ridge, Ark.", day{1862, 3, 7}}, {"Shiloh, Tenn.", day{1862, 4, 6}}, {"Lone Jack, Mo.", day{1862, 8, 16}}, {"Newtonia, Mo.", day{1862, 9, 30}}, {"Corinth, Miss.", day{1862, 10, 4}}, {"Prairie Grove, Ark.", day{1862, 12, 7}},
		{"Stone's River, Tenn.", day{1862, 12, 31}}, {"Champion Hill, Miss.", day{1863, 5, 16}}, {"Vicksburg, Miss.", day{1863, 5, 22}}, {"Helena, Ark.", day{1863, 7, 4}}, {"Chickamauga, Ga.", day{1863, 9, 20}}, {"Jenkins' Ferry, Ark.", day{1864, 4, 30}}, {"Kenesaw Mountain, Ga.", day{1864, 6, 27}}, {"Atlanta, Ga.", day{1864, 7, 22}}, {"Pilot Knob, Mo.", day{1864, 9, 27}}, {"Westport, Mo.", day{1864, 10, 23}}, {"Mine Creek, Kans.", day{1864, 10, 25}}, {"Franklin, Tenn.", day{1864, 11, 30}}, {"Nashville, Tenn.", day{1864, 12, 16}}, {"Fort Blakely, Ala.", day{1865, 4, 9}}}
	hospitals = []string{"St. Louis, Mo.", "Jefferson Barracks, Mo.", "Rolla, Mo.", "Helena, Ark.", "Memphis, Tenn.", "Springfield, Mo.", "Jefferson City, Mo.", "Little Rock, Ark.", "Benton Barracks, Mo.", "Keokuk, Iowa", "Vicksburg, Miss.", "Tarrow Ferry, Mo."}
	prisons   = []string{"Alton, Ill.", "Camp Douglas, Ill.", "Gratiot Street Prison, St. Louis, Mo.", "Rock Island, Ill.", "Point Lookout, Md."}
	ills      = []string{"typhoid fever", "measles", "chronic diarrhea", "pneumonia", "smallpox", "consumption", "disease"}
)

// enlist sends a man into a company, and tells what became of him there.
func (w *world) enlist(p *person, u *unit, letter string) {
	d := w.d
	s := &service{unit: u, company: letter, rankIn: "Private", rankOut: "Private", enlisted: u.raised.plus(d.from(-20, 12)), ended: u.ended}
	if d.is(.15) && u.ended.number()-u.raised.number() > 400 {
		s.enlisted = u.raised.plus(d.from(60, u.ended.number()-u.raised.number()-200)) // a recruit
	}
	switch x := d.Float64(); {
	case u.arm == "navy":
		s.rankIn = of(d, "Landsman", "Landsman", "Seaman", "Ordinary Seaman", "First Class Boy", "Coal Heaver", "Fireman")
		s.rankOut = s.rankIn
	case x < .075:
		s.rankOut = "Corporal"
	case x < .135:
		s.rankOut = "Sergeant"
	case x < .147:
		s.rankOut = "First Sergeant"
	case x < .165:
		s.rankIn = pick(u.arm == "cav", of(d, "Bugler", "Trumpeter"), of(d, "Musician", "Drummer", "Fifer"))
		s.rankOut = s.rankIn
	case x < .183:
		s.rankOut = pick(u.arm == "inf", "Wagoner", of(d, "Farrier", "Blacksmith", "Saddler", "Wagoner", "Teamster"))
		s.rankIn = s.rankOut
	case x < .187:
		s.rankOut, s.company = "Hospital Steward", ""
	case x < .19:
		s.rankOut, s.company = of(d, "Sergeant Major", "Commissary Sergeant", "Quartermaster Sergeant", "Principal Musician"), ""
	case x < .192:
		s.rankOut, s.rankIn, s.company = of(d, "Surgeon", "Assistant Surgeon", "Chaplain", "Major", "Lieutenant Colonel", "Colonel", "Adjutant"), "", ""
		s.rankIn = s.rankOut
	case x < .205:
		s.rankOut = "Second Lieutenant"
	case x < .218:
		s.rankOut = "First Lieutenant"
	case x < .23:
		s.rankOut = "Captain"
	}
	if (s.rankOut == "Captain" || s.rankOut == "First Lieutenant") && d.is(.5) {
		s.rankIn = s.rankOut
	}
	if u.body == "colored" && (s.rankOut == "Captain" || s.rankOut == "First Lieutenant" || s.rankOut == "Second Lieutenant") {
		s.rankOut, s.rankIn = "Sergeant", "Sergeant" // their officers came from elsewhere
	}
	s.age = p.born.years(s.enlisted)
	switch {
	case s.age < 18 && d.is(.7):
		s.age = 18
	case s.age > 45:
		s.age = 45
	case p.unlettered && d.is(.4):
		s.age = max(18, s.age+of(d, -3, -2, -1, 1, 2, 3))
	case d.is(.12):
		s.age += of(d, -1, 1)
	}
	during := func() day {
		return s.enlisted.plus(d.from(5, max(6, u.ended.number()-s.enlisted.number()-5)))
	}
	short := u.ended.number()-u.raised.number() < 250
	x := d.Float64()
	if short {
		x = .1 + .9*x
	}
	switch {
	case x < pick(u.side == "confederate", .05, .035) && len(p.services) == 0:
		if b, was := d.fought(s.enlisted, u.ended); was {
			s.ended, s.fate, s.where, s.then = b.on, "died", b.name, "killed"
		}
	case x < .14 && len(p.services) == 0:
		s.ended, s.fate, s.where, s.then = during(), "died", of(d, hospitals...), of(d, ills...)
		if u.side == "confederate" && d.is(.35) {
			s.where = of(d, prisons...)
		}
	case x < .17:
		s.ended, s.fate = during(), "deserted"
	case x < .34:
		s.ended, s.fate, s.then = during(), "discharged", of(d, "disability", "disability", "wounds", "promotion")
	case x < .37 && u.side == "union" && u.body == "" && u.raised.y < 1864:
		s.ended, s.fate = day{1863, d.from(9, 12), d.from(1, 28)}.plus(d.from(0, 300)), "transferred"
		if !s.ended.after(s.enlisted) {
			s.ended = s.enlisted.plus(200)
		}
	case x < .42 && u.side == "confederate":
		s.ended, s.fate, s.where = during(), "captured", of(d, prisons...)
	}
	if s.fate == "died" {
		p.died = s.ended
	} else if !p.died.after(u.ended) {
		p.died = d.dayOf(max(u.ended.y+1, p.born.y+max(26, d.about(64, 14)))) // who came home lives on, as others do
	}
	if len(p.services) == 0 {
		w.men = append(w.men, p)
		if d.is(pick(u.body == "colored", .06, .01)) {
			p.assumed = d.surname(p.house.people) // another's, an owner's or a stepfather's, or a name to hide under
		}
	}
	p.services = append(p.services, s)
	w.book(p, s)
	if s.fate == "transferred" {
		v := &unit{side: "union", state: "US", arm: "inf", body: "vrc", number: d.from(1, 24), raised: s.ended, ended: day{1865, d.from(7, 11), d.from(1, 28)}, book: "volunteers"}
		t := &service{unit: v, company: string(ten[d.IntN(10)]), rankIn: "Private", rankOut: s.rankOut, enlisted: s.ended, ended: v.ended, age: s.age}
		if t.ended.after(p.died) {
			t.ended = p.died
		}
		p.services = append(p.services, t)
		if d.is(.45) {
			w.book(p, t)
		}
	}
}
