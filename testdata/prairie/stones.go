package prairie

import (
	"fmt"
	"strings"
)

var stoneHead = []string{"id", "cemetery", "county", "state", "section", "row", "plot", "inscription", "top", "material", "width_in", "thickness_in", "height_in", "lettering", "device", "emblem", "motifs", "setting", "condition", "recorder", "notes"}

// A stone is what was set up, before the weather.
type stone struct {
	lines                                                                          []string
	top, material, width, thick, height, lettering, device, emblem, motif, setting string
	year                                                                           int
}

var shield = stone{top: "rounded", material: "white marble", width: "12", thick: "4", height: "24", lettering: "raised", device: "recessed shield", setting: "upright"}
var general = stone{top: "slightly rounded", material: "white marble", width: "13", thick: "4", height: "25", lettering: "incised", device: "none", setting: "upright"}

// walk sets the stones up and walks the grounds: stones and truth.
func (m *maker) walk(n int) (stones, truth [][]string) {
	stones, truth = [][]string{stoneHead}, [][]string{{"stone", "record"}}
	for _, pool := range shares {
		p := m.pools[pool.of]
		m.Shuffle(len(p), func(i, j int) { p[i], p[j] = p[j], p[i] })
	}
	var kin []*house // whose civilians lie here
	for len(stones) <= n {
		id := fmt.Sprintf("S%04d", len(stones))
		var st stone
		switch r := m.Float64(); {
		case r < .47:
			x := m.next()
			if x == nil {
				continue
			}
			kin = append(kin, x.house)
			st = m.veteran(x)
			for _, record := range x.rows {
				truth = append(truth, []string{id, record})
			}
		case r < .485:
			st = shield
			st.top, st.width, st.height, st.device, st.lettering, st.year = "flat", "6", "4", "none", "incised", 1878
			st.lines = []string{fmt.Sprint(1 + m.IntN(140))}
			if m.chance(.5) {
				st.lines = append(st.lines, "UNKNOWN")
			}
		case r < .5:
			st = m.second()
		case len(kin) > 0 && r < .76:
			st = m.civil(kin[m.IntN(len(kin))])
		default:
			st = m.civil(m.found(&states[20], m.settler(), false))
		}
		stones = append(stones, m.record(id, st))
	}
	return stones, truth
}

// next is a veteran who has no stone yet: kin and neighbours are not sought, they come as they fall.
func (m *maker) next() *man {
	r := m.Float64()
	for _, s := range shares {
		if r -= s.share; r < 0 {
			p := m.pools[s.of]
			if len(p) == 0 {
				return nil
			}
			m.pools[s.of] = p[1:]
			return p[0]
		}
	}
	return nil
}

// order is what the stone is to say: from the rolls, from comrades' memory, or from the family.
func (m *maker) order(x *man) (n name, co company, rank string) {
	s := x.services[len(x.services)-1]
	if len(x.services) > 1 && m.chance(.4) {
		s = x.services[0]
	}
	rank, co, n = s.rank, *s.co, s.roll
	switch r := m.Float64(); {
	case s.war == "1917" || s.war == "1898" || s.war == "philippines" || r < .22:
		n = x.called(1920)
		n.middle = initial(n.middle)
		if m.chance(.07) && rank == "Private" {
			rank = m.any("Corporal", "Sergeant")
		}
		if m.chance(.03) {
			co.number = m.slip(co.number)
		}
	case r < .52:
		n, co = m.heard(x, 1888)
	default:
		if m.chance(.45) { // the roll's unit under the name he went by
			n = x.called(1890)
			n.middle = initial(n.middle)
		}
		n = m.copied(n, .02)
	}
	if m.chance(.008) {
		n.surname = m.typo(n.surname)
	}
	if m.chance(.008) {
		co.letter = m.letter(co.letter)
	}
	if m.chance(.007) && co.number > 0 {
		co.number = m.slip(co.number)
	}
	return n, co, rank
}

var cut = map[string]string{"Private": "", "Corporal": "CORPL.", "Sergeant": "SERGT.", "First Sergeant": "1 SERGT.", "Musician": "MUS.", "Wagoner": "WAG.", "Second Lieutenant": "2 LIEUT.", "First Lieutenant": "1 LIEUT.", "Captain": "CAPT.", "Quartermaster Sergeant": "Q. M. SERGT.",
	"Commissary Sergeant": "COM. SERGT.", "Hospital Steward": "HOSP. STEWD.", "Farrier": "FARR.", "Private First Class": "PFC", "Mechanic": "MECH", "Cook": "COOK", "Bugler": "BUGLER", "Seaman": "SEA", "Seaman Second Class": "SEA 2 CL", "Fireman": "FIREMAN", "Yeoman": "YEO", "Apprentice Seaman": "APP SEA"}

// unitLines are a unit as the contractors cut it.
func (m *maker) unitLines(co *company) []string {
	arm := map[string]string{"Infantry": "INF.", "Cavalry": "CAV.", "Light Artillery": "L. A.", "Heavy Artillery": m.any("H. A.", "HVY. ART."), "Artillery": "ART."}[co.arm]
	of := m.any(co.state.stone...) + "."
	if co.state.name == "Ohio" || of == "IOWA." || of == "MAINE." {
		of = strings.TrimSuffix(of, ".")
	}
	switch co.body {
	case "USCT":
		of = m.any("U. S. C.", "U. S. COL.")
	case "US":
		of = "U. S."
	case "USV", "USVC":
		of = "U. S. VOL."
	case "VRC":
		of, arm = "V. R. C.", ""
	}
	first := ""
	if co.letter != "" {
		if first = "CO. " + co.letter; co.arm == "Light Artillery" {
			first = "BTRY. " + co.letter
		}
	}
	rest := join(number(co.number), of, arm)
	if first == "" && co.arm == "Light Artillery" {
		rest = join(number(co.number), "BTRY.", of, arm)
	}
	if m.chance(.2) {
		return []string{join(first, rest)}
	}
	if first == "" {
		return []string{rest}
	}
	return []string{first, rest}
}

// veteran is the stone of a man who served.
func (m *maker) veteran(x *man) stone {
	n, co, rank := m.order(x)
	s := x.services[len(x.services)-1]
	upper := func(n name) string { return strings.ToUpper(contract(n, m.chance(.45)).full()) }
	if !m.chance(.76) {
		return m.private(x, n, &co, rank)
	}
	year := max(1879, x.died.y+1+m.IntN(4))
	if m.chance(.07) {
		year += 30
	}
	switch s.war {
	case "1917":
		st := general
		st.year = max(1920, year)
		unit := join(number(co.number), map[string]string{"Infantry": "INF.", "Field Artillery": "F. A.", "Machine Gun Battalion": "M. G. BN.", "Engineers": "ENGRS.", "Depot Brigade": "DEPOT BRIG.", "Medical Department": "MED. DEPT.", "Quartermaster Corps": "Q. M. C.", "Coast Artillery Corps": "C. A. C.", "Aero Squadron": "AERO SQ.", "Navy": "U. S. NAVY", "Students Army Training Corps": "S. A. T. C."}[co.arm])
		if co.body == "PION" {
			unit = number(co.number) + " PIONEER INF."
		}
		if co.division > 0 {
			unit += fmt.Sprint(" ", co.division, " DIV.")
		}
		if co.letter != "" && m.chance(.25) {
			unit = "CO. " + co.letter + " " + unit
		}
		if rank = cut[rank]; rank == "" {
			rank = "PVT."
		}
		st.lines = []string{"NEBRASKA", upper(n), join(rank, unit)}
		if m.chance(.08) {
			st.lines[0] = strings.ToUpper(m.pick(false).name)
		}
		if st.year > 1944 && m.chance(.8) {
			st.lines = append(st.lines, "WORLD WAR I")
		}
		st.lines = append(st.lines, stamped(x.died))
		if st.year > 1944 {
			st.lines[len(st.lines)-1] = stamped(x.born) + " " + stamped(x.died)
		}
		if m.chance(.7) {
			st.emblem = "Latin cross"
		}
		return st
	case "south":
		st := shield
		st.top, st.device, st.lettering, st.year = "pointed", m.any("none", "confederate cross", "confederate cross"), "incised", max(1930, year)
		st.lines = append(append([]string{join(cut[rank], upper(n))}, m.unitLines(&co)...), "C. S. A.")
		return st
	}
	st := shield
	st.year = year
	if year < 1903 {
		st.width, st.height = "10", "12"
	}
	lines := []string{upper(n)}
	if r := cut[rank]; r != "" {
		lines = []string{r, upper(n)}
		if m.chance(.4) {
			lines = []string{r + " " + upper(n)}
		}
	}
	st.lines = append(lines, m.unitLines(&co)...)
	if s.war == "1898" || s.war == "philippines" {
		st.lines = append(st.lines, "SP. AM. WAR")
	} else if year > 1925 && m.chance(.25) {
		st = general
		st.device, st.year = "outline shield", year
		st.lines = append(append(lines, m.unitLines(&co)...), stamped(x.died))
	}
	return st
}

// stamped is a date as the general stone has it.
func stamped(d day) string {
	return fmt.Sprintf("%s %d, %d", strings.Fields("JAN. FEB. MAR. APR. MAY JUNE JULY AUG. SEPT. OCT. NOV. DEC.")[d.m-1], d.d, d.y)
}

// private is a family's stone for a veteran; three of four say that he was one.
func (m *maker) private(x *man, n name, co *company, rank string) stone {
	st := m.plain(x.died.y)
	own := x.called(x.died.y)
	if m.chance(.5) {
		own.middle = initial(own.middle)
	}
	st.lines = append([]string{own.full()}, m.dates(x.born, x.died, x.house.nation)...)
	if m.chance(.7) && co.division == 0 && co.body != "NAVY" {
		st.lines = append(st.lines, strings.Join(m.unitLines(co), " "))
		if r := cut[rank]; r != "" && m.chance(.6) {
			st.lines[len(st.lines)-1] = r + " " + st.lines[len(st.lines)-1]
		}
	} else if x.services[0].war == "civil-war" && m.chance(.4) {
		st.motif = m.any("flag", "crossed muskets", "G A R star")
	}
	return st
}

func (m *maker) plain(died int) stone {
	st := stone{top: m.any("rounded", "flat", "square", "other"), material: m.any("granite", "granite", "marble", "marble", "sandstone", "zinc"), width: fmt.Sprint(14 + m.IntN(16)), thick: fmt.Sprint(3 + m.IntN(8)), height: fmt.Sprint(16 + m.IntN(40)), lettering: "incised", device: "none", setting: "upright", year: died + m.IntN(4)}
	if died < 1885 && st.material == "granite" {
		st.material = "marble"
	}
	return st
}

func (d day) long() string {
	return fmt.Sprintf("%s %d, %d", strings.Fields("Jan. Feb. Mar. Apr. May June July Aug. Sept. Oct. Nov. Dec.")[d.m-1], d.d, d.y)
}

// dates are a family's: both, the years, or an age; in the old tongue too.
func (m *maker) dates(born, died day, nation string) []string {
	if nation == "german" && died.y < 1905 && m.chance(.2) {
		return []string{"geb. " + born.long(), "gest. " + died.long()}
	}
	switch r := m.Float64(); {
	case r < .38:
		return []string{fmt.Sprintf("%d - %d", born.y, died.y)}
	case r < .68:
		return []string{"Born " + born.long(), "Died " + died.long()}
	case r < .9:
		days := (died.y-born.y)*336 + (died.m-born.m)*28 + died.d - born.d
		return []string{"Died " + died.long(), fmt.Sprintf("Aged %d yrs. %d mos. %d ds.", days/336, days/28%12, days%28)}
	}
	return []string{"Died " + died.long()}
}

// civil is the stone of one of a family who did not serve.
func (m *maker) civil(h *house) stone {
	died := m.within(1872 + m.IntN(68))
	age := int(80 * m.Float64())
	if m.chance(.55) {
		age = 50 + m.IntN(40)
	}
	born := m.within(died.y - age - 1)
	st := m.plain(died.y)
	surname := (&man{house: h}).called(died.y).surname
	switch r := m.Float64(); {
	case r < .42: // a woman or girl
		given := m.from("given-women")
		st.lines = []string{given + " " + surname}
		if age > 20 && m.chance(.5) {
			husband := h.father
			if len(h.men) > 0 && m.chance(.7) {
				husband = h.men[0].given
			}
			if husband == "" {
				husband = m.given(h.nation, born.y)
			}
			st.lines = []string{given, m.any("Wife of", "wife of"), husband + " " + surname}
		}
	case age < 17:
		st.lines = []string{m.given(h.nation, born.y), m.any("Son of", "son of"), fmt.Sprintf("%s & %s %s", initial(m.given(h.nation, 1850)), initial(m.from("given-women")), surname)}
	case len(h.others) > 0 && r < .75: // a brother of the men who served
		o := h.others[m.IntN(len(h.others))]
		st.lines = []string{join(o.given, initial(o.middle), surname)}
	default:
		x := m.christen(h, born)
		st.lines = []string{join(x.given, initial(x.middle), surname, x.suffix)}
	}
	st.lines = append(st.lines, m.dates(born, died, h.nation)...)
	if m.chance(.2) {
		st.lines = append(st.lines, m.any("At rest", "Gone but not forgotten", "Asleep in Jesus", "Blessed are the dead", "Rest in peace"))
	}
	return st
}

// second is the stone of a man of the Second World War or Korea, whom no roster here has.
func (m *maker) second() stone {
	h := m.found(&states[20], m.settler(), true)
	x := m.christen(h, m.within(1908+m.IntN(20)))
	st := general
	st.year = 1946 + m.IntN(40)
	died := m.within(st.year)
	st.lines = []string{"NEBRASKA", strings.ToUpper(join(x.given, initial(x.middle), h.surname)), m.any("PVT US ARMY", "TEC 5 US ARMY", "SGT US ARMY", "S1 US NAVY", "CPL US MARINE CORPS"), "WORLD WAR II", stamped(x.born) + " " + stamped(died)}
	return st
}
