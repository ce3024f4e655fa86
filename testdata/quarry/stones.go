package quarry

import (
	"fmt"
	"math/rand/v2"
	"strings"
)

// marker is a stone as it was cut, in capitals, and what it looks like.
type marker struct {
	lines                                                            []string
	top, material, lettering, device, emblem, motifs, setting, notes string
	width, thick, height                                             float64
	worn                                                             float64 // how easily its letters go: 1 for soft marble
	sunk                                                             float64 // how often its last line is below the sod
	cemetery                                                         int
	familyName                                                       bool
}

var (
	stonesHeader   = strings.Split("id,cemetery,county,state,section,row,plot,inscription,top,material,width_in,thickness_in,height_in,lettering,device,emblem,motifs,setting,condition,recorder,recorded,notes", ",")
	registerHeader = strings.Split("id,cemetery,county,state,section,plot,surname,given,rank,company,regiment,unit,branch,born,died,age,conflict,notes", ",")
	grounds        = []string{"Oak Hill Cemetery", "St. Boniface Cemetery", "Lakeside Cemetery", "Our Savior's Lutheran Cemetery", "Union Cemetery", "Evergreen", "Pioneer Cemetery", "Riverside Cemetery", "Calvary Cemetery"}
)

// bury picks who lies in the county, cuts their stones, and lets the years and the recorders at them.
func (q *quarry) bury() (stones, register, truth [][]string) {
	r := q.ground
	var here, elsewhere []*man
	for _, m := range q.men {
		if m.here {
			here = append(here, m)
		} else if !m.fell {
			elsewhere = append(elsewhere, m)
		}
	}
	r.Shuffle(len(here), func(i, j int) { here[i], here[j] = here[j], here[i] })
	r.Shuffle(len(elsewhere), func(i, j int) { elsewhere[i], elsewhere[j] = elsewhere[j], elsewhere[i] })
	pool := append(here, elsewhere...)
	next := func() *man {
		if len(pool) == 0 {
			return q.stranger(r)
		}
		m := pool[0]
		pool = pool[1:]
		return m
	}
	stones, register, truth = [][]string{stonesHeader}, [][]string{registerHeader}, [][]string{{"stone", "record"}}
	proves := func(id string, m *man) {
		for _, record := range m.records {
			truth = append(truth, []string{id, record})
		}
	}
	crew := q.crew()
	var buried []*man
	var families []string
	for i := range q.opt.Stones {
		switch x := r.Float64(); {
		case x < .08:
			m := (*man)(nil)
			switch y := r.Float64(); {
			case y < .1 && len(buried) > 0:
				m = one(r, buried...)
			case y < .22:
				m = q.stranger(r)
			default:
				m = next()
			}
			id := fmt.Sprintf("G%05d", i+1)
			register = append(register, q.registered(r, m, id))
			proves(id, m)
		case x < .555:
			m := next()
			switch y := r.Float64(); {
			case y < .1:
				pool = append(pool, m)
				m = q.stranger(r)
			case y < .12 && len(buried) > 0:
				pool = append(pool, m)
				m = one(r, buried...)
			}
			buried = append(buried, m)
			families = append(families, m.surname)
			id := fmt.Sprintf("S%05d", i+1)
			stones = append(stones, q.record(one(r, crew...), id, q.stoneOf(r, m)))
			proves(id, m)
		default:
			stones = append(stones, q.record(one(r, crew...), fmt.Sprintf("S%05d", i+1), q.civilian(r, families)))
		}
	}
	return stones, register, truth
}

// stranger is a man who served and is in none of the rosters.
func (q *quarry) stranger(r *rand.Rand) *man {
	war := one(r, "civil", "other", "other", "1898", "1917", "frontier", "1941", "1941")
	later := war == "1941"
	if later {
		war = "1917"
	}
	m := q.recruit(r, war)
	if later {
		s := m.first()
		m.born.y += 25 + r.IntN(6)
		m.died = day{m.born.y + 35 + r.IntN(45), 1 + r.IntN(12), 1 + r.IntN(28)}
		m.given = q.given(r, m.folk, m.born.y)
		s.war, s.outfit = "1941", outfit{body: "US", arm: one(r, "army", "army", "army", "navy", "air")}
		s.out = one(r, "private", "private first class", "corporal", "sergeant", "technician 5")
		if s.arm == "navy" {
			s.out = "seaman"
		}
	}
	m.later, m.here = q.town(r, 1), true
	return m
}

// carvedRanks are ranks as stones have them: on the stones of the Civil War and of 1898, and on the general ones.
var carvedRanks = map[string][2]string{
	"private": {"", "PVT"}, "private first class": {"", "PFC"}, "corporal": {"CORPL.", "CPL"}, "sergeant": {"SERGT.", "SGT"}, "first sergeant": {"1 SERGT.", "1ST SGT"}, "second lieutenant": {"2 LIEUT.", "2D LT"}, "first lieutenant": {"1 LIEUT.", "1ST LT"},
	"captain": {"CAPT.", "CAPT"}, "musician": {"MUS.", "MUS"}, "wagoner": {"WAGR.", "WAGONER"}, "bugler": {"BUG.", "BUGLER"}, "farrier": {"FARR.", "FARRIER"}, "blacksmith": {"BLKSM.", "BLACKSMITH"}, "saddler": {"SADLR.", "SADDLER"},
	"horseshoer": {"H. S.", "HORSESHOER"}, "cook": {"COOK", "COOK"}, "mechanic": {"MECH.", "MECH"}, "seaman": {"SEA.", "SEAMAN"}, "fireman": {"FIRE.", "FIREMAN"}, "landsman": {"LDS.", "LANDSMAN"}, "yeoman": {"YEO.", "YEOMAN"},
	"machinist's mate": {"MACH. MATE", "MACH MATE"}, "nurse": {"NURSE", "NURSE"}, "technician 5": {"", "TEC 5"},
}

// carved is a man's name on a stone: style is old (a shield), general, or private.
func (q *quarry) carved(r *rand.Rand, m *man, style string) (given, surname string) {
	surname, given = m.surname, m.given
	if r.Float64() < .03 {
		surname = spelled(r, surname)
	}
	if english := q.names.english[given]; english != nil && r.Float64() < .3 {
		given = one(r, english...)
	} else if familiar := q.names.familar[given]; familiar != nil && r.Float64() < .05 {
		given = one(r, familiar...)
	}
	cut := map[string]float64{"old": .5, "general": .03, "private": .17}[style]
	if forms := shortened[given]; forms != nil && r.Float64() < cut {
		given = one(r, forms...)
	}
	middle := m.middle
	has := map[string]float64{"old": .6, "general": .88, "private": .62}[style]
	switch {
	case r.Float64() > has:
		middle = ""
	case len(middle) > 1 && r.Float64() < .85:
		middle = middle[:1]
	}
	initials := map[string]float64{"old": .09, "general": .02, "private": .10}[style]
	if r.Float64() < initials {
		given = given[:1] + "."
		if len(middle) > 1 {
			middle = middle[:1]
		}
	}
	if len(middle) == 1 {
		middle += "."
	}
	if middle != "" {
		given += " " + middle
	}
	if m.suffix != "" && r.Float64() < .6 {
		surname += " " + m.suffix
	}
	return strings.ToUpper(given), strings.ToUpper(surname)
}

// hewn is an outfit before 1917 in lines, as stones have it.
func (q *quarry) hewn(r *rand.Rand, s *service, private bool) []string {
	o := s.outfit
	n := fmt.Sprint(o.number)
	if private && r.Float64() < .35 {
		n = strings.ToUpper(ordinal(o.number))
	}
	st := one(r, strings.Split(q.names.states[o.body].stone, "|")...)
	arms := map[string]string{"inf": "INF.", "cav": "CAV.", "ha": "H. A.", "la": "L. A.", "arty": "ARTY."}
	arm := arms[o.arm]
	if private {
		arm = map[string]string{"inf": one(r, "INF.", "INFT.", "VOL. INF.", "INF."), "cav": one(r, "CAV.", "CAVALRY"), "ha": "HEAVY ART.", "la": "LIGHT ART.", "arty": "ARTILLERY"}[o.arm]
	}
	co := "CO. " + o.company
	if o.company == "" {
		co = ""
	}
	var regiment string
	switch {
	case o.arm == "hosp":
		return []string{one(r, "HOSP. CORPS", "HOSPITAL CORPS"), "U. S. A."}
	case o.arm == "navy":
		if o.ship != "" {
			return []string{"U. S. S. " + strings.ToUpper(o.ship)}
		}
		return []string{one(r, "U. S. NAVY", "U. S. N.")}
	case o.arm == "battery":
		if private {
			return []string{n + " " + st + " BATTERY"}
		}
		return []string{n + one(r, " BTRY.", " BATTY."), st + " L. A."}
	case o.arm == "em":
		regiment = n + " " + st + " ENGRS. & MECH."
	case o.arm == "ss":
		regiment = n + " U. S. S. S."
	case o.arm == "vrc":
		regiment = n + " V. R. C."
	case o.body == "USCT":
		regiment = n + one(r, " U. S. C. T.", " U. S. C. INF.", " U. S. COL. INF.")
	case o.body == "USV":
		regiment = n + one(r, " U. S. VOL. INF.", " U. S. V. INF.", " INF. U. S. VOLS.")
	case o.body == "US":
		regiment = n + " U. S. " + arm
	default:
		regiment = n + " " + st + " " + arm
		if private && o.arm == "inf" && r.Float64() < .25 {
			regiment = n + one(r, " REG. ", " REGT. ") + st + one(r, " VOLS.", " VOL.", " INF.")
		}
	}
	switch {
	case o.arm == "la" || o.arm == "arty" && o.company != "":
		co = one(r, "BTRY. ", "BATTY. ") + o.company
	case o.arm == "cav" && o.body == "US" && s.in.y > 1883:
		co = "TROOP " + o.company
	}
	if co == "" || r.Float64() < .03 {
		return []string{regiment}
	}
	if r.Float64() < .3 {
		return []string{co + one(r, " ", ", ") + regiment}
	}
	return []string{co + one(r, "", ",", "."), regiment}
}

// stoneOf cuts a stone for a man who served.
func (q *quarry) stoneOf(r *rand.Rand, m *man) *marker {
	s := m.first()
	if len(m.services) > 1 && r.Float64() < .6 {
		s = m.services[1]
	}
	x := r.Float64()
	switch s.war {
	case "1917":
		switch {
		case x < .45:
			return q.general(r, m, s, false)
		case x < .67 && m.died.y > 1937:
			return q.general(r, m, s, true)
		case x < .88:
			return q.privateStone(r, m, s)
		}
	case "1941":
		if x < .75 {
			return q.general(r, m, s, m.died.y > 1946 && r.Float64() < .7)
		}
	case "1898", "frontier":
		switch {
		case x < .45 && s.arm != "navy":
			return q.shield(r, m, s)
		case x < .61 && m.died.y > 1921:
			return q.general(r, m, s, m.died.y > 1937 && r.Float64() < .4)
		case x < .88:
			return q.privateStone(r, m, s)
		}
	case "south":
		if x < .5 {
			return q.pointed(r, m, s)
		} else if x < .8 {
			return q.privateStone(r, m, s)
		}
	default:
		switch {
		case x < .53:
			return q.shield(r, m, s)
		case x < .55 && m.died.y > 1922:
			return q.general(r, m, s, false)
		case x < .89:
			return q.privateStone(r, m, s)
		}
	}
	return q.family(r, m)
}

func (q *quarry) shield(r *rand.Rand, m *man, s *service) *marker {
	k := &marker{top: "rounded", material: "white marble", lettering: "raised", device: "recessed shield", setting: "upright", worn: 1, sunk: .07}
	k.width, k.thick, k.height = one(r, 10., 10., 12.), 4, float64(11+r.IntN(4))
	if k.width == 12 || s.war != "civil" && s.war != "other" {
		k.width, k.height = 12, float64(22+r.IntN(5))
	}
	rank := s.out
	if r.Float64() < .15 {
		rank = s.rank
	}
	form := carvedRanks[rank][0]
	if form != "" && r.Float64() < .4 {
		form = map[string]string{"corporal": one(r, "CORP.", "CPL."), "sergeant": one(r, "SERG.", "SGT."), "first sergeant": "1ST SERGT."}[rank]
		if form == "" {
			form = carvedRanks[rank][0]
		}
	}
	given, surname := q.carved(r, m, "old")
	if form != "" && r.Float64() < .93 {
		k.lines = append(k.lines, form)
	}
	if len(given)+len(surname) > 15 || r.Float64() < .1 {
		k.lines = append(k.lines, given, surname)
	} else {
		k.lines = append(k.lines, given+" "+surname)
	}
	k.lines = append(k.lines, q.hewn(r, s, false)...)
	if s.war == "1898" {
		k.lines = append(k.lines, one(r, "SP. AM. WAR", "SP. AM. WAR", "SP. AM. WAR."))
	}
	if r.Float64() < .14 && (m.died.y > 1900) {
		k.lines = append(k.lines, one(r, "DIED ", "")+q.dated(r, m.died))
	}
	if r.Float64() < .12 && s.war != "frontier" {
		k.motifs = one(r, "GAR flag holder", "G.A.R. star")
		if s.war == "1898" {
			k.motifs = "USWV cross flag holder"
		}
	}
	return k
}

func (q *quarry) pointed(r *rand.Rand, m *man, s *service) *marker {
	k := &marker{top: "pointed", material: "white marble", lettering: "incised", device: one(r, "none", "confederate cross"), setting: "upright", width: 12, thick: 4, height: float64(22 + r.IntN(4)), worn: .6, sunk: .05}
	given, surname := q.carved(r, m, "old")
	if form := carvedRanks[s.rank][0]; form != "" {
		k.lines = append(k.lines, form)
	}
	k.lines = append(append(k.lines, given+" "+surname), q.hewn(r, s, false)...)
	k.lines = append(k.lines, one(r, "C. S. A.", "C.S.A."))
	return k
}

// dated is a date as stones before 1920 and private ones have it.
func (q *quarry) dated(r *rand.Rand, d day) string {
	month := strings.ToUpper(months[d.m-1])
	if r.Float64() < .65 {
		month = strings.ToUpper(shortMonths[d.m-1])
	}
	if r.Float64() < .06 {
		return fmt.Sprintf("%d %s %d", d.d, month, d.y)
	}
	return fmt.Sprintf("%s %d, %d", month, d.d, d.y)
}

// general cuts a stone of the pattern of 1922, or a flat one.
func (q *quarry) general(r *rand.Rand, m *man, s *service, flat bool) *marker {
	k := &marker{top: "slightly rounded", material: "white marble", lettering: "incised", device: "none", setting: "upright", width: 13, thick: 4, height: float64(23 + r.IntN(4)), worn: .3, sunk: .04}
	if flat {
		k.top, k.setting, k.width, k.height, k.worn, k.sunk = "flat", "flush", 24, 12, .25, .02
		switch {
		case m.died.y > 1940 && r.Float64() < .5:
			k.material, k.lettering, k.thick, k.worn = "bronze", "raised", .75, .08
		case m.died.y > 1939 && r.Float64() < .6:
			k.material, k.worn = "granite", .12
		}
	}
	given, surname := q.carved(r, m, "general")
	name := given + " " + surname
	home := "WISCONSIN"
	if r.Float64() < .1 {
		home = one(r, "ILLINOIS", "MICHIGAN", "MINNESOTA", "IOWA", "OHIO", "CALIFORNIA")
	}
	rank := carvedRanks[s.out][1]
	war := map[string]string{"1917": "WORLD WAR I", "1941": "WORLD WAR II", "1898": one(r, "SPANISH AMERICAN WAR", "SP AM WAR"), "frontier": "INDIAN WARS", "civil": "CIVIL WAR", "other": "CIVIL WAR"}[s.war]
	if s.in.y > 1898 && s.war == "1898" && r.Float64() < .5 {
		war = "PHILIPPINE INSURRECTION"
	}
	org := ""
	dot := strings.NewReplacer(".", "", ",", "")
	switch s.war {
	case "1917":
		org = s.modern(true)
		if s.company != "" && r.Float64() < .33 {
			co := "CO " + s.company
			if s.arm == "fa" {
				co = "BTRY " + s.company
			}
			org = co + " " + org
		}
		if s.arm == "fa" && r.Float64() < .5 {
			org = strings.Replace(org, "FIELD ARTY", one(r, "FA", "F A"), 1)
		}
		if s.division > 0 && r.Float64() < .68 {
			org += fmt.Sprintf(" %d DIV", s.division)
		}
		if s.before != nil && r.Float64() < .07 {
			org = s.before.modern(true)
		}
	case "1941":
		org = map[string]string{"army": one(r, "US ARMY", "US ARMY", "35 INF DIV", "CO B 128 INF"), "navy": "US NAVY", "air": one(r, "ARMY AIR FORCES", "US ARMY AIR FORCES")}[s.arm]
	default:
		org = dot.Replace(strings.Join(q.hewn(r, s, false), " "))
		for _, pair := range [][2]string{{"U S S", "USS"}, {"U S A", "US ARMY"}, {"U S ", "US "}} {
			org = strings.ReplaceAll(org, pair[0], pair[1])
		}
	}
	late := m.died.y > 1954
	if s.war == "1917" && m.died.y > 1970 && r.Float64() < .75 && s.arm != "navy" && s.arm != "usmc" {
		org = "US ARMY"
	}
	service := rank + " " + org
	if !flat && !late || r.Float64() < .25 {
		k.lines = append(k.lines, home, name)
	} else {
		k.lines = append(k.lines, name)
		if m.died.y < 1968 {
			k.lines = append(k.lines, home)
		}
	}
	if len(service) > 22 && !flat {
		words := strings.Fields(service)
		half := (len(words) + 1) / 2
		k.lines = append(k.lines, strings.Join(words[:half], " "), strings.Join(words[half:], " "))
	} else {
		k.lines = append(k.lines, service)
	}
	if s.war != "1917" || m.died.y > 1943 && r.Float64() < .8 {
		k.lines = append(k.lines, war)
	}
	died := fmt.Sprintf("%s %d %d", strings.ToUpper(months[m.died.m-1]), m.died.d, m.died.y)
	if late {
		born := fmt.Sprintf("%s %d %d", one(r, strings.ToUpper(months[m.born.m-1]), strings.ToUpper(months[m.born.m-1][:3])), m.born.d, m.born.y)
		if r.Float64() < .5 {
			died = fmt.Sprintf("%s %d %d", strings.ToUpper(months[m.died.m-1][:3]), m.died.d, m.died.y)
		}
		if flat {
			k.lines = append(k.lines, born+one(r, " ", " - ")+died)
		} else {
			k.lines = append(k.lines, born, died)
		}
	} else {
		k.lines = append(k.lines, died)
	}
	if r.Float64() < .72 {
		k.emblem = one(r, "Latin cross", "cross", "Latin cross", "Christian cross")
	}
	return k
}

// privateStone cuts a stone that the family bought, with what tells of his service on it or beside it.
func (q *quarry) privateStone(r *rand.Rand, m *man, s *service) *marker {
	k := q.bought(r, m.died.y)
	given, surname := q.carved(r, m, "private")
	name := given + " " + surname
	if r.Float64() < .08 && carvedRanks[s.out][0] != "" {
		name = carvedRanks[s.out][0] + " " + name
	}
	if r.Float64() < .2 {
		k.lines = append(k.lines, surname)
		name = given
		if r.Float64() < .5 {
			name += " " + surname
		}
	}
	k.lines = append(k.lines, name)
	told := r.Float64()
	var unit []string
	switch {
	case told > .74:
	case s.war == "1917":
		unit = []string{strings.ToUpper(s.organization())}
		if r.Float64() < .4 {
			unit = append(unit, one(r, "WORLD WAR", "WORLD WAR", "A. E. F.", "1917 - 1918"))
		}
		if s.arm == "navy" {
			unit = []string{one(r, "U. S. NAVY", "U. S. N.")}
		}
	case s.war == "1941":
		unit = []string{"WORLD WAR II"}
	default:
		unit = q.hewn(r, s, true)
		if s.war == "1898" && r.Float64() < .6 {
			unit = append(unit, one(r, "SPANISH WAR", "SPANISH AMERICAN WAR", "1898"))
		}
		if s.war == "south" {
			unit = append(unit, "C. S. A.")
		}
	}
	if told < .3 {
		k.lines = append(k.lines, unit...)
		unit = nil
	}
	k.lines = append(append(k.lines, q.life(r, m)...), unit...)
	if r.Float64() < .12 {
		k.lines = append(k.lines, one(r, "AT REST", "GONE BUT NOT FORGOTTEN", "REST IN PEACE", "ASLEEP IN JESUS", "HIS RECORD IS ON HIGH"))
		if m.folk == &folks[2] && r.Float64() < .4 {
			k.lines[len(k.lines)-1] = "RUHE SANFT"
		}
	}
	if r.Float64() < .6 || told > .74 && r.Float64() < .5 {
		sign := ""
		switch s.war {
		case "civil", "other":
			sign = one(r, "GAR flag holder", "G.A.R. star marker", "crossed sabres", "flag and shield", "GAR star")
		case "1898":
			sign = one(r, "USWV cross", "United Spanish War Veterans marker", "crossed rifles")
		case "1917", "1941":
			sign = one(r, "American Legion marker", "American Legion flag holder", "VFW marker", "World War flag holder")
		case "south":
			sign = one(r, "UCV cross", "Southern Cross of Honor")
		}
		if r.Float64() < .5 {
			k.motifs = sign
		} else {
			k.notes = sign
		}
	}
	return k
}

// bought is what a stone that a family bought in a year looks like.
func (q *quarry) bought(r *rand.Rand, year int) *marker {
	k := &marker{top: one(r, "flat", "square", "rounded", "other"), material: "marble", lettering: "incised", device: "none", setting: "upright", worn: .7, sunk: .06}
	k.width, k.thick, k.height = float64(14+r.IntN(20)), float64(2+r.IntN(8)), float64(16+r.IntN(30))
	switch {
	case year > 1905 || year > 1885 && r.Float64() < .4:
		k.material, k.worn, k.lettering = "granite", .12, one(r, "incised", "raised", "incised")
	case year > 1876 && r.Float64() < .07:
		k.material, k.worn, k.lettering = "zinc", .05, "raised"
	case r.Float64() < .1:
		k.material, k.worn = "sandstone", 1
	}
	return k
}

// life is a man's years, months and days as families had them cut.
func (q *quarry) life(r *rand.Rand, m *man) []string {
	born, died := m.born, m.died
	years := died.y - born.y
	if died.m*32+died.d < born.m*32+born.d {
		years--
	}
	switch x := r.Float64(); {
	case x < .42 || died.y > 1915 && x < .75:
		return []string{fmt.Sprint(born.y, one(r, " - ", " ", "-"), died.y)}
	case x < .65:
		return []string{"BORN " + q.dated(r, born), "DIED " + q.dated(r, died)}
	case x < .72:
		return []string{"BORN", q.dated(r, born), "DIED", q.dated(r, died)}
	case x < .77 && m.folk == &folks[2]:
		return []string{"GEB. " + q.dated(r, born), "GEST. " + q.dated(r, died)}
	}
	age := fmt.Sprintf("%s %d %s", one(r, "AGED", "AE.", "AGED"), years, one(r, "YRS.", "YEARS", "Y'RS"))
	if left := (died.m - born.m + 12) % 12; left > 0 && r.Float64() < .6 {
		if died.d < born.d {
			left--
		}
		if left > 0 {
			age += fmt.Sprintf(" %d %s", left, one(r, "MOS.", "M."))
		}
	}
	return []string{one(r, "DIED", "DIED") + " " + q.dated(r, died), age}
}

// family cuts a stone of a couple, with no word of his service.
func (q *quarry) family(r *rand.Rand, m *man) *marker {
	k := q.bought(r, m.died.y)
	k.familyName = true
	given, surname := q.carved(r, m, "private")
	dates := func(born, died int) string { return fmt.Sprint(born, one(r, " - ", " ", "-"), died) }
	his := []string{given, dates(m.born.y, m.died.y)}
	if m.wife == "" || r.Float64() < .18 {
		k.lines = append([]string{given + " " + surname}, q.life(r, m)...)
	} else {
		wife := strings.ToUpper(m.wife) + one(r, "", " A.", " M.", " E.", "")
		hers := []string{wife, dates(m.born.y+r.IntN(9)-1, m.died.y+r.IntN(30)-12)}
		if r.Float64() < .4 {
			hers = append([]string{one(r, "HIS WIFE", "WIFE")}, hers...)
		}
		if r.Float64() < .12 && len(hers) == 2 {
			k.lines = append(append([]string{surname}, hers...), his...)
		} else {
			k.lines = append(append([]string{surname}, his...), hers...)
		}
		if r.Float64() < .15 {
			child := strings.ToUpper(q.given(r, m.folk, m.born.y+28))
			k.lines = append(k.lines, child, dates(m.born.y+26, m.born.y+28+r.IntN(60)))
		}
	}
	if r.Float64() < .22 {
		k.notes = one(r, "flag holder", "flag holder beside the stone", "veteran's flag")
		if s := m.first(); s.war == "civil" || s.war == "other" {
			k.notes = one(r, "GAR marker", "G.A.R. star holder", "flag holder")
		}
	}
	return k
}

// civilian cuts a stone of somebody who did not serve.
func (q *quarry) civilian(r *rand.Rand, families []string) *marker {
	born := someDay(r, 1795, 1925)
	f := q.descend(r, born.y)
	surname := q.surname(r, f)
	if len(families) > 0 && r.Float64() < .45 {
		surname = one(r, families...)
	}
	m := &man{surname: surname, folk: f, given: q.given(r, f, born.y), born: born, died: born.plus(int(365.25 * max(16, 63+17*r.NormFloat64()))), wife: one(r, q.names.women...)}
	if r.Float64() < .5 {
		m.middle = string("ABCDEFGHJLMNOPRSTW"[r.IntN(18)])
	}
	m.services = []*service{{war: "none"}}
	var k *marker
	switch x := r.Float64(); {
	case x < .36:
		k = q.family(r, m)
		if strings.Contains(strings.ToLower(k.notes), "flag") || strings.Contains(k.notes, "G") {
			k.notes = ""
		}
	case x < .58:
		k = q.bought(r, m.died.y)
		given, surname := q.carved(r, m, "private")
		k.lines = append([]string{given + " " + surname}, q.life(r, m)...)
	case x < .82:
		m.given = one(r, q.names.women...)
		k = q.bought(r, m.died.y)
		given, surname := q.carved(r, m, "private")
		k.lines = []string{given + " " + surname}
		if r.Float64() < .5 {
			husband := strings.ToUpper(one(r, q.given(r, f, born.y), shortOf(r, q.given(r, f, born.y))))
			k.lines = []string{given, one(r, "WIFE OF", "BELOVED WIFE OF"), husband + " " + surname}
		}
		k.lines = append(k.lines, q.life(r, m)...)
	default:
		m.died = m.born.plus(r.IntN(12 * 365))
		k = q.bought(r, m.died.y)
		if r.Float64() < .5 {
			m.given = one(r, q.names.women...)
		}
		given, surname := q.carved(r, m, "private")
		parents := string("CEFGHJLMNPSTW"[r.IntN(13)]) + ". & " + string("ACEHJLMS"[r.IntN(8)]) + ". " + surname
		of := one(r, "SON OF", "CHILD OF", "INFANT OF")
		if strings.Contains("AEae", m.given[len(m.given)-1:]) {
			of = one(r, "DAU. OF", "DAUGHTER OF")
		}
		k.lines = []string{given, of, parents, "DIED " + q.dated(r, m.died), fmt.Sprintf("AGED %d YRS. %d MOS.", (m.died.y*12+m.died.m-m.born.y*12-m.born.m)/12, 1+r.IntN(11))}
		if r.Float64() < .3 {
			k.motifs = one(r, "lamb", "dove", "rosebud")
		}
	}
	if r.Float64() < .1 {
		k.motifs = one(r, "square and compasses", "three links", "willow", "hand pointing up", "open book", "anchor", "Modern Woodmen", "cross")
	}
	return k
}

func shortOf(r *rand.Rand, given string) string {
	if forms := shortened[given]; forms != nil {
		return one(r, forms...)
	}
	return given[:1] + "."
}
