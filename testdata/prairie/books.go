package prairie

import (
	"fmt"
	"strings"
)

var heads = map[string][]string{
	"roster-index.csv":    {"id", "name", "unit", "rank_in", "rank_out", "side", "remarks"},
	"roster-iowa.csv":     {"id", "name", "age", "residence", "enlisted", "rank_in", "rank_out", "company", "regiment", "arm", "state", "remarks"},
	"roster-illinois.csv": {"id", "surname", "given", "rank_in", "company", "unit", "residence"},
	"roster-enrolled.csv": {"id", "surname", "given", "rank_out", "company", "regiment", "arm", "state", "residence"},
	"roster-regulars.csv": {"id", "surname", "given", "enlisted", "age", "birthplace", "company", "regiment", "arm", "state", "rank_out", "mustered_out", "remarks"},
	"roster-wars.csv":     {"id", "surname", "given", "rank_out", "unit", "residence", "born", "died", "conflict"},
}

var category = map[string]string{"civil-war": "union", "south": "south", "regulars": "regulars", "1898": "1898", "philippines": "1898", "1917": "1917"}

// shares of the veterans' stones by war, invented.
var shares = []struct {
	of    string
	share float64
}{{"union", .63}, {"south", .04}, {"regulars", .08}, {"1898", .09}, {"1917", .16}}

// populate makes households until the books are full and the county has the men that its stones want.
func (m *maker) populate(records, stones int) {
	for name, head := range heads {
		m.books[name] = [][]string{head}
	}
	for m.rows < records || m.wants(stones) {
		full := m.rows >= records
		var h *house
		switch r := m.Float64(); {
		case r < .8:
			h = m.muster(false)
		case r < .85:
			h = m.muster(true)
		case r < .91:
			h = m.enlist()
		case r < .94:
			h = m.later("1898")
		default:
			h = m.later("1917")
		}
		if h.west && !h.late {
			m.settled = append(m.settled, h)
		}
		for _, x := range h.men {
			if x.unknown = x.unknown || full; !x.unknown {
				m.list(x, records)
			}
			if x.west && x.died.y > 1867 && x.services[len(x.services)-1].end != deserted { // who ran away has no stone of the government's
				of := category[x.services[0].war]
				m.pools[of] = append(m.pools[of], x)
			}
		}
	}
}

func (m *maker) wants(stones int) bool {
	for _, s := range shares {
		if float64(len(m.pools[s.of])) < s.share*.55*float64(stones) {
			return true
		}
	}
	return false
}

func (m *maker) put(x *man, records int, book string, cells ...string) {
	if m.rows >= records || m.chance(.05) {
		return
	}
	m.rows++
	id := fmt.Sprintf("%s%d", map[string]string{"roster-index.csv": "U", "roster-iowa.csv": "A", "roster-illinois.csv": "L", "roster-enrolled.csv": "E", "roster-regulars.csv": "G", "roster-wars.csv": "W"}[book], len(m.books[book]))
	x.rows = append(x.rows, id)
	m.books[book] = append(m.books[book], append([]string{id}, cells...))
}

// copied is a name as an indexer or printer copies it from the roll.
func (m *maker) copied(n name, rate float64) name {
	if m.chance(rate) {
		n.surname = m.misread(n.surname)
	}
	if m.chance(rate / 4) {
		n.surname = m.typo(n.surname)
	}
	if m.chance(rate / 4) {
		n.given = m.typo(n.given)
	}
	if m.chance(rate/12) && n.middle == "" && len(n.given) > 3 {
		n.surname, n.given = n.given, n.surname
	}
	return n
}

func contract(n name, yes bool) name {
	if s := short[n.given]; s != "" && yes {
		n.given = s + "."
	}
	return n
}

func number(n int) string {
	if n == 0 {
		return ""
	}
	return fmt.Sprint(n)
}

func ordinal(n int) string {
	end := "th"
	if n%100 < 11 || n%100 > 13 {
		end = []string{"th", "st", "nd", "rd", "th", "th", "th", "th", "th", "th"}[n%10]
	}
	return fmt.Sprint(n) + end
}

// slip is a number or letter copied wrongly.
func (m *maker) slip(n int) int {
	s := []byte(fmt.Sprint(n))
	switch {
	case len(s) > 1 && m.chance(.3):
		s = s[:len(s)-1]
	case len(s) > 1 && m.chance(.3):
		s[0], s[1] = s[1], s[0]
	default:
		i := m.IntN(len(s))
		s[i] = map[byte]byte{'1': '7', '7': '1', '3': '8', '8': '3', '5': '6', '6': '0', '0': '6', '2': '3', '4': '9', '9': '4'}[s[i]]
	}
	k := 0
	fmt.Sscan(string(s), &k)
	return max(1, k)
}

func (m *maker) letter(l string) string {
	if to := map[string]string{"A": "H", "B": "D", "C": "GE", "D": "BO", "E": "CF", "F": "EH", "G": "C", "H": "KA", "I": "F", "K": "HR", "L": "S", "M": "N"}[l]; to != "" {
		return string(to[m.IntN(len(to))])
	}
	return l
}

// told is a unit in the index's words.
func (m *maker) told(co *company) string {
	number := co.number
	if m.chance(.008) {
		number = m.slip(number)
	}
	prefix := ""
	if co.letter != "" && !m.chance(.025) {
		prefix = "Co. " + co.letter + ", "
	}
	arm := map[string]string{"Infantry": "Inf.", "Cavalry": "Cav.", "Light Artillery": "Light Art.", "Heavy Artillery": "Heavy Art.", "Artillery": "Art."}[co.arm]
	switch co.body {
	case "USCT":
		return prefix + ordinal(number) + " U. S. Col. " + arm
	case "VRC":
		return prefix + ordinal(number) + " Vet. Res. Corps"
	case "US":
		return prefix + ordinal(number) + " U. S. " + arm
	}
	if co.arm == "Light Artillery" {
		if co.letter == "" {
			return ordinal(number) + " Batty., " + co.state.book + " Light Art."
		}
		prefix = "Batty. " + co.letter + ", "
	}
	return prefix + ordinal(number) + " " + co.state.book + " " + arm
}

func (d day) text() string {
	return fmt.Sprintf("%s %d, %d", strings.Fields("Jan. Feb. March April May June July Aug. Sept. Oct. Nov. Dec.")[d.m-1], d.d, d.y)
}

func (s *service) remark() string {
	switch s.end {
	case died:
		return "Died of " + s.what + " " + s.out.text() + ", " + s.where
	case killed:
		return "Killed in action " + s.out.text() + ", " + s.what
	case prison:
		return "Died while prisoner of war " + s.out.text() + ", Andersonville, Ga."
	case disabled:
		return "Discharged for disability " + s.out.text()
	case deserted:
		return "Deserted " + s.out.text()
	case transferred:
		return "Transferred " + s.out.text()
	}
	if s.veteran {
		return "Re-enlisted as veteran. Mustered out " + s.out.text()
	}
	return "Mustered out " + s.out.text()
}

// list writes a man's rows.
func (m *maker) list(x *man, records int) {
	h := x.house
	for _, s := range x.services {
		co := s.co
		switch s.war {
		case "civil-war", "south":
			if co.lost {
				break
			}
			side := "Union"
			if s.war == "south" {
				side = "Confederate"
			}
			n := m.copied(s.roll, .03)
			m.put(x, records, "roster-index.csv", contract(n, co.short).listed(), m.told(co), s.rank0, s.rank, side, "")
			if m.chance(.02) {
				n.surname = m.byEar(n.surname, h.nation)
				m.put(x, records, "roster-index.csv", n.listed(), m.told(co), s.rank0, s.rank, side, "See also "+s.roll.surname)
			}
			if co.body != "" || s.war == "south" {
				break
			}
			if co.state.code == "IA" {
				age := fmt.Sprint(s.said)
				if m.chance(.04) {
					age = ""
				}
				m.put(x, records, "roster-iowa.csv", m.copied(s.roll, .012).listed(), age, town(co.state, h.place), s.in.text(), s.rank0, s.rank, co.letter, number(co.number), co.arm, "Iowa", s.remark())
			}
			if co.state.code == "IL" {
				n := contract(m.copied(s.roll, .025), m.chance(.15))
				m.put(x, records, "roster-illinois.csv", strings.ToUpper(n.surname), strings.ToUpper(join(n.given, n.middle, n.suffix)), s.rank0, co.letter, ordinal(co.number)+" Illinois "+co.arm, town(co.state, h.place))
			}
		case "regulars":
			n := m.copied(s.roll, .02)
			rank, gone := s.rank, s.out.text()
			remark := map[ending]string{out: "Expiration of service", died: "Died, " + s.what + ", " + s.where, deserted: "Deserted", disabled: "Discharged, disability"}[s.end]
			born := h.state.name
			if h.nation != "yankee" {
				born = map[string]string{"irish": "Ireland", "german": "Germany", "norse": "Sweden"}[h.nation]
			}
			m.put(x, records, "roster-regulars.csv", n.surname, join(n.given, n.middle), s.in.text(), fmt.Sprint(s.said), born, co.letter, number(co.number), co.arm, "US", rank, gone, remark)
		default:
			n := m.copied(s.roll, .012)
			war := map[string]string{"1898": "Spanish-American War", "philippines": "Philippine War", "1917": "World War"}[s.war]
			gone := ""
			if s.end != out || x.died.y < 1927 && m.chance(.3) {
				gone = x.died.text()
			}
			born := fmt.Sprint(x.born.y)
			if m.chance(.3) {
				born = x.born.text()
			} else if m.chance(.06) {
				born = ""
			}
			m.put(x, records, "roster-wars.csv", n.surname, join(n.given, n.middle, n.suffix), s.rank, m.later2(co), offices[h.office], born, gone, war)
		}
	}
	if s := x.services[len(x.services)-1]; x.west && x.died.y > 1889 && (s.war == "civil-war" || s.war == "south") && m.chance(.8) {
		n, co := m.heard(x, 1889)
		state := co.state.name
		if co.body != "" {
			state = "US"
		} else if m.chance(.025) {
			state = "Nebraska" // where he lives, not where he served
		}
		m.put(x, records, "roster-enrolled.csv", n.surname, join(n.given, n.middle), s.rank, co.letter, number(co.number), co.arm, state, offices[h.office])
	}
}

// later2 is a unit of a later war in words.
func (m *maker) later2(co *company) string {
	if co.body == "NAVY" {
		return "U. S. Navy"
	}
	first := ""
	if co.letter != "" {
		first = "Co. " + co.letter + ", "
	}
	if co.number > 0 {
		first += ordinal(co.number) + " "
	}
	switch {
	case co.body == "PION":
		first += "Pioneer "
	case co.body == "US":
		first += "U. S. "
	case co.body == "USV", co.body == "USVC":
		first += "U. S. Vol. "
	case co.number > 0 && co.number < 5 && co.division == 0:
		first += "Nebraska "
	}
	return first + co.arm
}

// heard is a man as an assessor or a comrade writes him down long after: by ear, from memory.
func (m *maker) heard(x *man, year int) (name, company) {
	n, co := x.called(year), *x.services[len(x.services)-1].co
	if len(x.services) > 1 && m.chance(.5) {
		co = *x.services[0].co
	}
	if m.chance(.07) || x.house.nation != "yankee" && m.chance(.1) || !x.house.lettered && m.chance(.12) {
		n.surname = m.byEar(n.surname, x.house.nation)
	}
	if x.nickname != "" && m.chance(.35) {
		n.given = x.nickname
	}
	if n.middle != "" {
		if n.middle = initial(n.middle); m.chance(.25) {
			n.middle = ""
		}
	}
	if m.chance(.05) {
		n.given = initial(n.given)
	}
	if m.chance(.05) {
		co.number = m.slip(co.number)
	}
	if co.letter != "" && m.chance(.07) {
		if co.letter = m.letter(co.letter); m.chance(.5) {
			co.letter = ""
		}
	}
	if m.chance(.015) && co.body == "" && co.letter < "L" {
		co.arm = map[string]string{"Infantry": "Cavalry"}[co.arm]
		if co.arm == "" {
			co.arm = "Infantry"
		}
	}
	return n, co
}
