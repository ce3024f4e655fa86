package quarry

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"time"
)

// day is a date.
type day struct{ y, m, d int }

func (d day) plus(days int) day {
	t := time.Date(d.y, time.Month(d.m), d.d+days, 0, 0, 0, 0, time.UTC)
	return day{t.Year(), int(t.Month()), t.Day()}
}

func (d day) before(o day) bool { return d.y*400+d.m*32+d.d < o.y*400+o.m*32+o.d }

func (d day) iso() string { return fmt.Sprintf("%04d-%02d-%02d", d.y, d.m, d.d) }

var months = strings.Fields("January February March April May June July August September October November December")

// short months as printers and stonecutters had them.
var shortMonths = strings.Fields("Jan. Feb. Mar. Apr. May June July Aug. Sept. Oct. Nov. Dec.")

func (d day) printed() string { return fmt.Sprintf("%s %d, %d", shortMonths[d.m-1], d.d, d.y) }

// inWar is a date with the year of two figures, as books of one war print it.
func (d day) inWar() string { return fmt.Sprintf("%s %d, '%02d", shortMonths[d.m-1], d.d, d.y%100) }

// european is a date with the day first, as a state's printed list of the World War has it.
func (d day) european() string {
	return fmt.Sprintf("%d %s %d", d.d, strings.TrimSuffix(shortMonths[d.m-1], "."), d.y)
}

func someDay(r *rand.Rand, from, to int) day {
	return day{from, 1, 1}.plus(r.IntN((to - from + 1) * 365))
}

// outfit is a regiment and company, or what a man served in that was neither.
type outfit struct {
	body, arm string
	number    int
	companies string
	company   string
	division  int
	ship      string
}

// service is a man's time in one outfit.
type service struct {
	war       string // civil, other, south, frontier, 1898, 1917
	rank, out string // on entering and on leaving
	outfit
	before  *outfit // of the World War: where he was first
	in, end day
}

type man struct {
	surname, given, middle string // middle may be an initial alone
	suffix                 string
	folk                   *folk
	woman                  bool
	born                   day
	birthplace             string
	town                   string // where he entered from
	later                  string // where he lived after
	trade                  string
	services               []*service
	died                   day
	fell                   bool // in service
	here                   bool // lies in the county
	records                []string
	wife                   string
}

func (m *man) first() *service { return m.services[0] }

var ships = strings.Fields("Oregon Wisconsin Wolverine Iowa Utah Kansas Texas Brooklyn Marblehead Nashville Yantic Gopher Dubuque Leviathan Mongolia Nevada")

var trades = strings.Fields("farmer farmer farmer laborer laborer carpenter lumberman clerk blacksmith teamster sailor mason machinist teacher merchant fisherman")

// settle names the towns: twelve of the county, and others of the state.
func (q *quarry) settle() {
	r := q.world
	seen := map[string]bool{}
	for len(q.towns) < 140 {
		name := early(r, strings.Fields("Cedar Pine Oak Maple Elk Fox Otter Stone Clear Black White Silver Mill Union Spring Green Red Rock Fair Crystal Deer Sand Long Eagle Willow Plum Bass North"))
		switch r.IntN(4) {
		case 0:
			name += " " + one(r, "Grove", "Creek", "Falls", "Prairie", "Lake", "River", "Center", "Mills", "Ridge")
		case 1:
			name += one(r, "field", "ville", "wood", "ton", "dale", "burg")
		case 2:
			name = one(r, "Alma", "Berlin", "Clayton", "Delhi", "Elba", "Fenton", "Genoa", "Hebron", "Ithaca", "Juno", "Kossuth", "Lisbon", "Medina", "Newark", "Orion", "Palmyra", "Quincy", "Ripley", "Sparta", "Troy", "Utica", "Verona", "Weston", "Xenia", "York", "Zurich") + one(r, "", "", " Center", " Station")
		default:
			name += " " + one(r, "Springs", "Bluff", "Valley", "Point", "Hill", "Corners")
		}
		if !seen[name] {
			seen[name] = true
			q.towns = append(q.towns, name)
		}
	}
}

const county = "Tamarack"

// town draws a town: of the county with the chance given.
func (q *quarry) town(r *rand.Rand, ours float64) string {
	if r.Float64() < ours {
		return early(r, q.towns[:12])
	}
	return early(r, q.towns[12:])
}

func (q *quarry) ours(town string) bool {
	for _, t := range q.towns[:12] {
		if t == town {
			return true
		}
	}
	return false
}

// raise makes a man, or a row of nobody who served, with all their rows.
func (q *quarry) raise() {
	r := q.world
	war := "civil"
	switch x := r.Float64(); {
	case x < .02:
		q.widow()
		return
	case x < .37:
	case x < .52:
		war = "other"
	case x < .535:
		war = "south"
	case x < .59:
		war = "frontier"
	case x < .70:
		war = "1898"
	default:
		war = "1917"
	}
	m := q.recruit(r, war)
	q.men = append(q.men, m)
	q.enroll(m)
}

// recruit makes a man who served in a war. He may be the brother or cousin of one of his company.
func (q *quarry) recruit(r *rand.Rand, war string) *man {
	s := &service{war: war, outfit: q.outfits[war].urn.draw(r)}
	if s.companies != "" {
		s.company = string(s.companies[r.IntN(len(s.companies))])
	}
	if s.arm == "navy" && r.Float64() < .5 {
		s.ship = one(r, ships...)
	}
	m := &man{services: []*service{s}, trade: one(r, trades...)}
	var from, to, age int
	switch war {
	case "civil", "other", "south":
		s.in = one(r, someDay(r, 1861, 1861), someDay(r, 1862, 1862), someDay(r, 1862, 1862), someDay(r, 1863, 1864), someDay(r, 1864, 1864)).plus(100)
		if s.body == "USCT" {
			s.in = someDay(r, 1863, 1864).plus(150)
		}
		from, to = 18, 44
		s.end = s.in.plus(90 + r.IntN(1100))
		if last := (day{1865, 9, 20}); last.before(s.end) {
			s.end = day{1865, 5, 12}.plus(r.IntN(150))
		}
		if !s.in.before(s.end) {
			s.in = day{1865, 2, 3}.plus(r.IntN(20))
		}
	case "frontier":
		s.in = someDay(r, 1866, 1895)
		from, to = 19, 32
		s.end = s.in.plus(one(r, 1095, 1826, 1826, 300+r.IntN(900)))
	case "1898":
		s.in, from, to = day{1898, 4, 28}.plus(r.IntN(70)), 18, 34
		s.end = s.in.plus(140 + r.IntN(200))
		if s.body == "USV" || s.body == "US" && r.Float64() < .5 {
			s.in = day{1899, 3, 1}.plus(r.IntN(600))
			s.end = s.in.plus(400 + r.IntN(700))
			if last := (day{1902, 6, 20}); last.before(s.end) {
				s.end = last
			}
		}
	case "1917":
		s.in, from, to = day{1917, 5, 10}.plus(r.IntN(500)), 18, 31
		s.end = day{1918, 12, 2}.plus(r.IntN(260))
		if r.Float64() < .3 && s.arm != "navy" && s.arm != "usmc" && s.arm != "depbrig" && s.arm != "satc" {
			s.before = &outfit{body: "US", arm: "depbrig", number: one(r, 161, 161, 160, 163)}
		} else if r.Float64() < .12 && s.arm == "inf" {
			s.before = &outfit{body: "WI", arm: "ng", number: 1 + r.IntN(6), company: string("ABCDEFGHIKLM"[r.IntN(12)])}
		}
	}
	age = from + int(float64(to-from)*r.Float64()*r.Float64()) // most are young
	m.born = day{s.in.y - age, s.in.m, s.in.d}.plus(-1 - r.IntN(364))
	m.folk = q.descend(r, m.born.y)
	m.surname = q.surname(r, m.folk)
	m.birthplace = one(r, m.folk.birthplaces...)
	m.town = q.town(r, .075)
	if war == "other" || war == "south" {
		m.town = q.town(r, .004)
	}
	camp := fmt.Sprint(s.body, s.arm, s.number, s.company)
	if mates := q.camps[camp]; len(mates) > 0 && r.Float64() < .1 && s.companies != "" {
		kin := mates[r.IntN(len(mates))]
		m.surname, m.folk, m.birthplace = kin.surname, kin.folk, kin.birthplace
		if r.Float64() < .75 {
			m.town = kin.town
		}
	}
	q.camps[camp] = append(q.camps[camp], m)
	m.given = q.given(r, m.folk, m.born.y)
	if r.Float64() < .42+.3*min(1, max(0, float64(m.born.y-1840)/50)) {
		m.middle = q.names.old.draw(r)
		if r.Float64() < .5 {
			m.middle = string("ABCDEFGHJLMNOPRSTW"[r.IntN(18)])
		}
		if m.middle == m.given {
			m.middle = ""
		}
	}
	if r.Float64() < .012 {
		m.suffix = "Jr."
	}
	if s.body == "USCT" {
		m.folk, m.birthplace = &folks[0], one(r, "Kentucky", "Tennessee", "Virginia", "Missouri")
	}
	s.rank, s.out = q.ranks(r, s)
	if (s.arm == "navy" || s.arm == "hosp" || s.arm == "med") && war != "frontier" && r.Float64() < .05 {
		m.woman, m.given = true, one(r, q.names.women...)
		s.rank, s.out = "nurse", "nurse"
		if s.arm == "navy" {
			s.rank, s.out = "yeoman", "yeoman"
		}
	}
	q.fate(r, m)
	return m
}

// fate says when a man died, whether in service, where he lived after, and whether he lies in the county.
func (q *quarry) fate(r *rand.Rand, m *man) {
	s := m.first()
	falls := map[string]float64{"civil": .13, "other": .12, "south": .05, "frontier": .03, "1898": .03, "1917": .035}[s.war]
	if r.Float64() < falls {
		m.fell = true
		m.died = s.in.plus(20 + r.IntN(max(21, (s.end.y-s.in.y)*365+(s.end.m-s.in.m)*30)))
		if s.end.before(m.died) {
			m.died = s.end
		}
		s.end = m.died
		m.later = m.town
		m.here = q.ours(m.town) && r.Float64() < .35
		return
	}
	age := 68 + 12.5*r.NormFloat64()
	m.died = m.born.plus(int(age * 365.25))
	for !s.end.plus(200).before(m.died) || m.died.y > 1996 {
		m.died = s.end.plus(200 + r.IntN(45*365))
	}
	m.later = m.town
	switch stays := r.Float64(); {
	case q.ours(m.town) && stays < .62:
		m.here = true
		if stays < .15 {
			m.later = q.town(r, 1)
		}
	case stays < .02 && !q.ours(m.town), s.war == "south" && stays < .08:
		m.here = true
		m.later = q.town(r, 1)
	case stays > .6:
		m.later = q.town(r, .01)
	}
	if !m.woman {
		m.wife = one(r, q.names.women...)
	}
	// A second enlistment.
	if (s.war == "civil" || s.war == "other") && r.Float64() < .05 && s.end.y < 1865 {
		again := &service{war: "civil", outfit: q.outfits["civil"].urn.draw(r), in: s.end.plus(30), end: day{1865, 6, 1}.plus(r.IntN(120))}
		if again.companies != "" {
			again.company = string(again.companies[r.IntN(len(again.companies))])
		}
		again.rank, again.out = q.ranks(r, again)
		m.services = append(m.services, again)
	}
	if s.war == "1898" && s.body != "US" && r.Float64() < .06 {
		m.services = append(m.services, &service{war: "frontier", rank: "private", out: "private", outfit: outfit{body: "US", arm: "inf", number: 1 + r.IntN(25), company: string("ABCDEFGHIKLM"[r.IntN(12)])}, in: s.end.plus(60), end: s.end.plus(1150)})
	}
}

func (q *quarry) ranks(r *rand.Rand, s *service) (in, out string) {
	in = "private"
	switch s.arm {
	case "navy":
		in = one(r, "seaman", "seaman", "seaman", "fireman", "landsman", "yeoman", "machinist's mate", "cook")
		return in, in
	case "satc", "usmc":
		return in, in
	}
	switch x := r.Float64(); {
	case x < .06:
		in = "corporal"
	case x < .10:
		in = "sergeant"
	case x < .115:
		in = one(r, "first sergeant", "second lieutenant", "first lieutenant", "captain")
	case x < .14:
		in = one(r, "musician", "wagoner", "bugler")
		if s.war == "civil" || s.war == "other" || s.war == "south" {
			in = one(r, "musician", "wagoner")
		}
	case x < .17 && (s.arm == "cav" || s.arm == "fa"):
		in = one(r, "farrier", "blacksmith", "saddler")
		if s.war == "1917" {
			in = one(r, "saddler", "horseshoer")
		}
	case x < .21 && s.war == "1917":
		in = one(r, "cook", "mechanic", "wagoner")
	}
	out = in
	if in == "private" && r.Float64() < .14 {
		out = one(r, "corporal", "corporal", "sergeant")
		if s.war == "1917" {
			out = one(r, "private first class", "private first class", "private first class", "corporal", "sergeant")
		}
	} else if in == "sergeant" && r.Float64() < .2 {
		out = one(r, "first sergeant", "second lieutenant")
	}
	return in, out
}
