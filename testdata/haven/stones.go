package haven

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// text is a line of a stone, and what it tells.
type text struct {
	words string
	tells byte // name, unit, rank, date, or x
}

type stone struct {
	p                                *man // whose grave or memorial it is, if he served
	home                             bool // stands in the Home's cemetery
	dead                             day
	year                             int // when it was cut
	lines                            []text
	top, material, lettering, device string
	emblem, motifs, setting, notes   string
	width, thick, height             float64
}

// contractor cuts the government's stones of a run of years in his own way.
type contractor struct {
	until            int
	short, joined    float64 // abbreviates given names; puts company and regiment on one line
	ills             bool    // ILLS., PENNA. and so on
	dots             bool
	corporal, sergnt string
}

var contractors = []contractor{
	{1889, .5, .1, true, true, "CORP'L", "SERG'T"}, {1896, .4, .05, false, true, "CORPL.", "SERGT."}, {1903, .25, .2, true, true, "CORP.", "SERGT."},
	{1912, .3, .1, false, true, "CORPL.", "SERGT."}, {1924, .2, .4, false, false, "CORP", "SGT"}, {3000, .04, .5, false, false, "CPL", "SGT"},
}

func (m *maker) contractor(year int) contractor {
	for _, c := range contractors {
		if year < c.until {
			return c
		}
	}
	return contractors[len(contractors)-1]
}

// order is the list from which a government's stone is cut: what the Home's clerk sent in, or the War Department found on its rolls, or the family told; with the list's own errors.
func (m *maker) order(p *man) written {
	s := p.stints[len(p.stints)-1]
	if len(p.stints) > 1 && m.chance(.45) {
		s = p.stints[0]
	}
	w := s.wrote
	w.rank = s.rank[1]
	switch n := m.Float64(); {
	case p.home != nil && n < .5:
		w = p.home.wrote
	case n < .78:
		if w.blank || m.chance(.5) { // looked up in the muster rolls themselves
			w.unit, w.blank = s.unitOr(w.unit), false
		}
	default:
		w.surname, w.given = p.surname, p.names()
		w.unit, w.blank = s.unitOr(w.unit), false
		if p.middle != "" && m.chance(.85) {
			w.given = p.given + " " + p.middle[:1] + "."
		}
	}
	if given, rest, ok := strings.Cut(w.given, " "); ok && len(rest) < 3 && m.chance(.02) {
		w.given = rest[:1] + ". " + given[:1] + "."
	}
	if m.chance(.012) {
		w.surname = m.slip(m.eye(w.surname))
	}
	if w.unit.letter != "" && m.chance(.022) {
		w.unit.letter = m.any(words(confused[w.unit.letter])...)
	}
	if w.unit.number > 0 && m.chance(.018) {
		w.unit.number = m.misnumber(w.unit.number)
	}
	if len(w.unit.body) == 2 && w.unit.body != "US" && m.chance(.008) {
		w.unit.body = m.any("OH", "IN", "IL", "NY", "PA", "MI", "WI")
	}
	return w
}

func (s *stint) unitOr(u unit) unit {
	if s.company == nil {
		return u
	}
	return s.unit
}

// carved is a given name as it is cut.
func (m *maker) carved(given string, shorten float64, dots bool) string {
	parts := words(given)
	if len(parts) == 0 {
		return ""
	}
	first := strings.TrimSuffix(parts[0], ".")
	if form := short[first]; form != "" && m.chance(shorten) {
		first = form + "."
	} else if len(first) == 1 || len(parts[0]) > len(first) {
		first = parts[0]
	}
	if len(parts) > 1 && m.chance(.8) {
		rest := strings.TrimSuffix(parts[1], ".")
		if len(rest) == 1 || m.chance(.85) {
			rest = rest[:1] + "."
		}
		first += " " + rest
	}
	if !dots {
		first = strings.ReplaceAll(first, ".", "")
	}
	return strings.ToUpper(first)
}

func (c contractor) rank(r string) string {
	out := map[string]string{"private": "", "corporal": c.corporal, "sergeant": c.sergnt, "first sergeant": "1 " + c.sergnt, "musician": "MUS.", "wagoner": "WAGR.", "second lieutenant": "2 LIEUT.", "first lieutenant": "1 LIEUT.", "captain": "CAPT.",
		"nurse": "NURSE", "landsman": "LANDS.", "seaman": "SEA.", "ordinary-seaman": "ORD. SEA.", "fireman": "1 CL. FIRE.", "coal-heaver": "COAL HVR.", "boy": "BOY", "quartermaster": "Q.M.", "gunner's-mate": "G. MATE", "machinist's-mate": "MACH. MATE", "yeoman": "YEO.",
		"private first class": "PFC"}[r]
	if !c.dots {
		out = strings.ReplaceAll(out, ".", "")
	}
	return out
}

func (c contractor) state(body string) string {
	s := strings.ToUpper(strings.ReplaceAll(handStates[body], " ", ""))
	if c.ills {
		s = cmp.Or(map[string]string{"IL": "ILLS.", "PA": "PENNA.", "KS": "KANS.", "IN": "IND.", "WI": "WISC."}[body], s)
	}
	return s
}

// unitLines is a unit as a contractor cuts it.
func (m *maker) unitLines(w written, c contractor) []text {
	u := w.unit
	var one, two string
	switch {
	case w.ship != "":
		if m.chance(.45) {
			return []text{{"U.S. NAVY", 'u'}}
		}
		return []text{{"U.S.S. " + strings.ToUpper(strings.ReplaceAll(w.ship, "-", " ")), 'u'}}
	case u.arm == "nurse":
		return []text{{m.any("ARMY NURSE CORPS", "U.S. ARMY", "A.N.C."), 'u'}}
	case u.number == 0 || w.unitless:
		return []text{{"U.S. SOLDIER", 'u'}}
	}
	if u.letter != "" && !w.blank {
		one = "CO. " + u.letter
		if u.arm == "lbat" || u.arm == "fa" || u.arm == "art" {
			one = m.any("BATT. ", "BTRY. ") + u.letter
		}
	}
	arm := arms[u.arm][2]
	switch {
	case u.body == "usct":
		two = fmt.Sprintf("%d U.S.C. %s", u.number, arm)
		if m.chance(.3) {
			two = fmt.Sprintf("%d U.S.C.T.", u.number)
		}
	case u.body == "vrc":
		two = fmt.Sprintf("%d V.R.C.", u.number)
	case u.arm == "bat":
		one, two = fmt.Sprintf("%d %s", u.number, m.any("BATTY.", "IND. BATTY.", "BTRY.")), c.state(u.body)+" "+m.any("L.A.", "LT. ARTY.")
	default:
		two = fmt.Sprintf("%d %s %s", u.number, c.state(u.body), arm)
	}
	if !c.dots {
		one, two = strings.ReplaceAll(one, ".", ""), strings.ReplaceAll(two, ".", "")
	}
	switch {
	case one == "":
		return []text{{two, 'u'}}
	case m.chance(c.joined):
		return []text{{one + " " + two, 'u'}}
	case c.dots && m.chance(.3):
		return []text{{one + ",", 'u'}, {two, 'u'}}
	}
	return []text{{one, 'u'}, {two, 'u'}}
}

// government is a stone that the government furnished, by the pattern of its year.
func (m *maker) government(p *man, home bool) *stone {
	s := &stone{p: p, home: home, dead: p.dies, year: max(p.dies.year()+m.any2(0, 1, 1, 2, 3), 1879), material: "white marble", setting: "upright"}
	if m.chance(.05) {
		s.year += 10 + m.IntN(25) // another was set in its place
	}
	w, c := m.order(p), m.contractor(s.year)
	war, stint := p.stints[len(p.stints)-1].war, p.stints[0]
	name := m.carved(w.given, c.short, c.dots) + " " + strings.ToUpper(w.surname)
	if p.suffix != "" && m.chance(.3) {
		name += " JR."
	}
	var lines []text
	switch {
	case war == "1917" || s.year >= 1925 && war == "1898" && m.chance(.35):
		s.top, s.width, s.thick, s.height, s.lettering, s.device = "slightly rounded", 13, 4, 24+float64(m.IntN(3)), "incised", "none"
		s.emblem = m.any("Latin cross", "Latin cross", "Latin cross", "none", "Star of David")
		if s.year > 1940 && !home && m.chance(.35) {
			s.top, s.width, s.height, s.setting, s.emblem = "flat", 24, 0, "flush", ""
			s.material = m.any("bronze", "granite", "white marble")
		}
		lines = m.later(p, w, name, s.year)
	case stint.south:
		s.top, s.width, s.thick, s.height, s.lettering, s.device = "pointed", 12, 4, 24, "incised", "none"
		if s.year < 1907 {
			s.year = 1907 + m.IntN(25)
		}
		if s.year > 1930 {
			s.device = "confederate cross"
		}
		lines = append(m.named(w, name, c), m.unitLines(w, c)...)
		lines = append(lines, text{"C.S.A.", 'x'})
	default:
		s.top, s.thick, s.height, s.lettering, s.device = "rounded", 4, 12+float64(m.IntN(3)), "raised", "recessed shield"
		s.width = 10
		if s.year >= 1903 {
			s.width, s.height = 12, 24+float64(m.IntN(3))-1
		} else if s.year < 1896 && m.chance(.4) {
			s.top, s.lettering, s.device = "slightly rounded", "incised", "none"
		}
		lines = append(m.named(w, name, c), m.unitLines(w, c)...)
		switch war {
		case "1898":
			lines = append(lines, text{m.any("SP. AM. WAR", "SP. AM. WAR", "SPAN. AM. WAR"), 'x'})
		case "mexican":
			lines = append(lines, text{m.any("MEX. WAR", "MEXICAN WAR"), 'x'})
		case "1812":
			lines = append(lines, text{"WAR OF 1812", 'x'})
		}
		if s.year > 1910 && m.chance(.1) {
			lines = append(lines, text{number(p.dies.year()), 'd'})
		}
	}
	if home && s.year < 1915 && m.chance(.3) {
		lines = append([]text{{number(1 + m.IntN(3000)), 'x'}}, lines...)
	}
	s.lines = lines
	return s
}

// named is the rank, unless it is a private's, and the name, on two lines if it is long.
func (m *maker) named(w written, name string, c contractor) (lines []text) {
	if r := c.rank(w.rank); r != "" {
		lines = append(lines, text{r, 'r'})
	}
	if at := strings.LastIndex(name, " "); len(name) > 17 && at > 0 && m.chance(.6) {
		return append(lines, text{name[:at], 'n'}, text{name[at+1:], 'n'})
	}
	return append(lines, text{name, 'n'})
}

var fullMonths = words("JANUARY FEBRUARY MARCH APRIL MAY JUNE JULY AUGUST SEPTEMBER OCTOBER NOVEMBER DECEMBER")

func (d day) general() string {
	return fmt.Sprintf("%s %d, %d", fullMonths[d.month()-1], d.dom(), d.year())
}
func (d day) brief() string {
	return fmt.Sprintf("%s %d %d", fullMonths[d.month()-1][:3], d.dom(), d.year())
}

// later is the general pattern's text: the state of residence above, rank and unit on a line, the day of death.
func (m *maker) later(p *man, w written, name string, year int) (lines []text) {
	state := strings.ToUpper(stateNames[p.state])
	if m.chance(.65) {
		lines = append(lines, text{state, 'x'}, text{name, 'n'})
	} else {
		lines = append(lines, text{name, 'n'}, text{state, 'x'})
	}
	c := contractors[len(contractors)-1]
	what := cmp.Or(c.rank(w.rank), "PVT")
	u := w.unit
	switch {
	case w.ship != "":
		what += " U.S. NAVY"
	case u.arm == "nurse":
		what += " ARMY NURSE CORPS"
	case w.unitless || u.number == 0 || m.chance(.12):
		what += " U.S. ARMY"
	default:
		if u.letter != "" && !w.blank && m.chance(.45) {
			what += " CO. " + u.letter
		}
		what += fmt.Sprintf(" %d ", u.number)
		if u.body != "US" {
			what += c.state(u.body) + " "
		}
		what += arms[u.arm][2]
		if u.arm == "inf" && u.body == "US" && m.chance(.5) {
			what += fmt.Sprintf(" %d DIV.", 1+m.IntN(92))
		}
	}
	lines = append(lines, text{what, 'u'})
	if year > 1942 {
		lines = append(lines, text{m.any("WORLD WAR I", "WORLD WAR I", "WORLD WAR"), 'x'}, text{p.born.brief() + " " + p.dies.brief(), 'd'})
		if p.stints[0].war == "1898" {
			lines[len(lines)-2].words = "SPANISH AMERICAN WAR"
		}
	} else {
		lines = append(lines, text{p.dies.general(), 'd'})
	}
	if m.chance(.7) {
		for i := range lines {
			lines[i].words = strings.NewReplacer(".", "", ",", "").Replace(lines[i].words)
		}
	}
	return lines
}

// dates are those of a private stone.
func (m *maker) dates(born, dies day) []text {
	if m.chance(.03) {
		born += 372 * day(m.any2(-1, 1, 2)) // what the family believed
	}
	switch m.IntN(8) {
	case 0, 1, 2, 3:
		return []text{{fmt.Sprintf("%d%s%d", born.year(), m.any("–", " – ", "-", " - "), dies.year()), 'd'}}
	case 4:
		return []text{{"BORN " + strings.ToUpper(born.printed()), 'd'}, {"DIED " + strings.ToUpper(dies.printed()), 'd'}}
	case 5, 6:
		n := int(dies - born)
		aged := fmt.Sprintf("AGED %d Y'RS", n/372)
		if m.chance(.6) {
			aged = fmt.Sprintf("AGED %d YRS. %d MOS. %d DS.", n/372, n%372/31, n%31)
		}
		return []text{{"DIED", 'd'}, {strings.ToUpper(dies.printed()), 'd'}, {aged, 'd'}}
	}
	return []text{{strings.ToUpper(born.printed()), 'd'}, {strings.ToUpper(dies.printed()), 'd'}}
}

// own is a name as a family has it cut.
func (m *maker) own(p *man) string {
	given := p.given
	switch {
	case m.chance(.12) && short[given] != "":
		given = short[given] + "."
	case m.chance(.05):
		given = given[:1] + "."
	case m.chance(.04) && called[given] != "":
		given = called[given]
	}
	if p.middle != "" && m.chance(.75) {
		if m.chance(.12) {
			given += " " + p.middle
		} else {
			given += " " + p.middle[:1] + "."
		}
	}
	surname := p.surname
	if m.chance(.012) {
		surname = m.ear(surname)
	}
	name := strings.ToUpper(given + " " + surname)
	if p.suffix != "" && m.chance(.5) {
		name += " JR."
	}
	return name
}

// private is a stone that a family bought.
func (m *maker) private(dead day) *stone {
	s := &stone{dead: dead, year: dead.year() + m.any2(0, 1, 1, 3, 8), setting: "upright", lettering: "incised", device: "none"}
	s.material, s.top = "marble", m.any("rounded", "flat", "square", "other", "oval")
	if s.year > 1885 && m.chance(.6) || s.year > 1915 {
		s.material = m.any("granite", "granite", "granite", "granite", "zinc", "marble", "sandstone")
		s.top = m.any("flat", "square", "other", "rounded")
	}
	s.width, s.thick, s.height = 14+float64(m.IntN(20)), 2+float64(m.IntN(9)), 12+float64(m.IntN(36))
	s.motifs = m.any("", "", "", "ivy", "clasped hands", "open book", "willow", "anchor", "square and compasses", "three links", "dove", "lamb")
	return s
}

// remembered is a unit as a family or a comrade has it cut on a private stone.
func (m *maker) remembered(p *man) []text {
	st := p.stints[m.IntN(len(p.stints))]
	w := st.wrote
	w.unit, w.blank = st.unitOr(w.unit), m.chance(.08)
	if m.chance(.03) && w.unit.letter != "" {
		w.unit.letter = m.any(words(confused[w.unit.letter])...)
	}
	if m.chance(.03) && w.unit.number > 0 {
		w.unit.number = m.misnumber(w.unit.number)
	}
	if st.war == "1917" && m.chance(.3) {
		return []text{{m.any("WORLD WAR", "WORLD WAR VETERAN"), 'u'}}
	}
	lines := m.unitLines(w, contractor{joined: .7, dots: true, ills: m.chance(.3)})
	if st.rank[1] != "private" && m.chance(.35) {
		lines[0].words = contractors[3].rank(st.rank[1]) + " " + lines[0].words
	}
	return lines
}

func signs(p *man) string {
	switch p.stints[0].war {
	case "1861":
		if p.stints[0].south {
			return "iron cross beside the stone"
		}
		return "star flag-holder, G.A.R."
	case "1898":
		return "cross flag-holder, U.S.W.V."
	case "1917":
		return "flag-holder, World War"
	}
	return ""
}

// soldier is a soldier's private stone.
func (m *maker) soldier(p *man) *stone {
	s := m.private(p.dies)
	s.p = p
	s.lines = append(s.lines, text{m.own(p), 'n'})
	if m.chance(.1) {
		s.lines[0].words = strings.ToUpper(p.surname)
		s.lines = append(s.lines, text{strings.ToUpper(p.names()), 'n'})
	}
	unit := m.chance(.5)
	first := m.chance(.4)
	if unit && first {
		s.lines = append(s.lines, m.remembered(p)...)
	}
	s.lines = append(s.lines, m.dates(p.born, p.dies)...)
	if unit && !first {
		s.lines = append(s.lines, m.remembered(p)...)
	}
	if m.chance(.35) {
		s.notes = signs(p)
	}
	return s
}

// wife is who a man was married to.
func (m *maker) wife(p *man) (given string, born, dies day) {
	given = m.draw(m.bags["women"])
	if m.chance(.4) {
		given += " " + string("ABCEFGHJKLMSW"[m.IntN(13)]) + "."
	}
	born = p.born + day(m.IntN(9)-2)*372 + day(m.IntN(372))
	return given, born, m.death(born, born+24*372)
}

// family is one stone of a man, his wife and perhaps a child.
func (m *maker) family(p *man, served bool) *stone {
	s := m.private(p.dies)
	given, born, dies := m.wife(p)
	span := func(b, d day) string { return fmt.Sprintf("%d–%d", b.year(), d.year()) }
	s.lines = []text{{strings.ToUpper(p.surname), 'n'}, {strings.ToUpper(p.names()) + " " + span(p.born, p.dies), 'n'}}
	if served {
		s.p = p
		if m.chance(.4) {
			s.lines = append(s.lines, m.remembered(p)...)
		}
		if m.chance(.3) {
			s.notes = signs(p)
		}
	}
	s.lines = append(s.lines, text{m.any("", "HIS WIFE ") + strings.ToUpper(given) + " " + span(born, dies), 'x'})
	if m.chance(.35) {
		b := born + day(20+m.IntN(18))*372
		s.lines = append(s.lines, text{strings.ToUpper(m.draw(m.bags["given 1861"])) + " " + span(b, m.death(b, b)), 'x'})
	}
	return s
}

// kin is a wife's or a child's own stone, with his name or without; no record is hers.
func (m *maker) kin(p *man, home bool) *stone {
	given, born, dies := m.wife(p)
	s := m.private(dies)
	s.home = home
	his := m.own(p)
	if m.chance(.25) {
		his = p.given[:1] + ". " + strings.ToUpper(p.surname)
	}
	if m.chance(.3) {
		b := born + day(22+m.IntN(16))*372
		d := b + day(m.IntN(12*372))
		s = m.private(d)
		s.home = home
		bag, child := "given 1861", "SON OF"
		if m.chance(.5) {
			bag, child = "women", m.any("DAU. OF", "DAUGHTER OF")
		}
		s.lines = append([]text{{strings.ToUpper(m.draw(m.bags[bag])), 'x'}, {child, 'x'}, {strings.Fields(his)[0] + " & " + strings.ToUpper(given[:1]) + ". " + strings.ToUpper(p.surname), 'x'}}, m.dates(b, d)...)
		return s
	}
	switch {
	case m.chance(.65):
		s.lines = append([]text{{strings.ToUpper(given), 'x'}, {m.any("WIFE OF", "WIFE OF", "WIDOW OF", "CONSORT OF"), 'x'}, {his, 'x'}}, m.dates(born, dies)...)
		if len(p.stints) > 0 && m.chance(.15) {
			s.lines = append(s.lines[:3:3], append(m.remembered(p), s.lines[3:]...)...)
		}
	default:
		s.lines = append([]text{{strings.ToUpper(given + " " + p.surname), 'n'}}, m.dates(born, dies)...)
	}
	return s
}

// stranger is one of the city who is nobody's kin here, or a neighbour who did not serve.
func (m *maker) stranger() *man {
	if n := len(m.civil); n > 0 && m.chance(.35) {
		if p := m.civil[m.IntN(n)]; p.dies.year() > 1862 && p.dies.year() < 1956 {
			return p
		}
	}
	n, k := m.IntN(100), 0
	for i, share := range mixes["MI"] {
		if k = i; n < share {
			break
		}
		n -= share
	}
	p := m.birth(m.surname(nations[k], m.chance(.3)), m.within(1800, 1885), &homeForce, nations[k], nil)
	if m.chance(.2) {
		p.dies = p.born + day(m.IntN(15*372))
	}
	if p.dies.year() < 1862 {
		p.dies += 30 * 372
		p.born += 30 * 372
	}
	if m.chance(.48) {
		p.woman, p.given, p.middle = true, m.draw(m.bags["women"]), m.any("", p.middle)
	}
	return p
}

// civilian is a stone of one who did not serve.
func (m *maker) civilian() *stone {
	p := m.stranger()
	switch {
	case !p.woman && m.chance(.25):
		return m.family(p, false)
	case !p.woman && m.chance(.15):
		return m.kin(p, false)
	}
	s := m.private(p.dies)
	s.lines = append([]text{{m.own(p), 'n'}}, m.dates(p.born, p.dies)...)
	if m.chance(.12) {
		s.lines = append(s.lines, text{m.any("AT REST", "GONE HOME", "ASLEEP IN JESUS", "MOTHER", "REV.", "CAPTAIN OF THE STEAMER "+strings.ToUpper(m.any(ships...)), "A NATIVE OF "+strings.ToUpper(p.birthplace), "CHIEF ENGINEER ANSEL FIRE CO. NO. 2"), 'x'})
	}
	return s
}

// staff is one who worked at the Home.
func (m *maker) staff() *stone {
	p := m.stranger()
	s := m.private(p.dies)
	s.home, s.width, s.height = true, 12, 20
	s.lines = append([]text{{m.own(p), 'n'}, {m.any("MATRON OF THE HOME", "EMPLOYE", "COOK", "NIGHT WATCHMAN", "STEWARD", "NURSE AT THE HOME", "CHAPLAIN"), 'x'}}, m.dates(p.born, p.dies)...)
	return s
}

// unknown is a block with a number, or a stone that says that no more is known.
func (m *maker) unknown() *stone {
	s := &stone{home: true, dead: m.within(1887, 1902), year: 1895, material: "white marble", lettering: "incised", device: "none", setting: "block", top: "flat", width: 6, thick: 6, height: 1}
	s.lines = []text{{number(1 + m.IntN(900)), 'x'}}
	if m.chance(.4) {
		s.lines = append(s.lines, text{m.any("UNKNOWN", "UNKNOWN U.S. SOLDIER"), 'x'})
	}
	return s
}

// cenotaph is of one who fell, set at home for him who lies elsewhere.
func (m *maker) cenotaph(p *man) *stone {
	s := m.private(p.dies)
	s.p = p
	s.lines = []text{{m.own(p), 'n'}}
	if m.chance(.7) {
		s.lines = append(s.lines, m.remembered(p)...)
	}
	s.lines = append(s.lines, text{m.any("DIED AT ", "KILLED AT ", "FELL AT ") + strings.ToUpper(p.fell), 'x'}, text{strings.ToUpper(p.dies.printed()), 'd'})
	if m.chance(.5) {
		s.lines = append(s.lines, text{fmt.Sprintf("AGED %d YRS.", p.born.age(p.dies)), 'd'})
	}
	if m.chance(.3) {
		s.lines = append([]text{{"IN MEMORY OF", 'x'}}, s.lines...)
	}
	return s
}

// walk makes the stones of both grounds, the sexton's register and the truth.
func (m *maker) walk(n int) (stones, register, truth [][]string) {
	entries := n / 10
	atHome := (n - entries) * 45 / 100
	inmates := m.lot(m.served, func(p *man) float64 {
		if p.home == nil || !p.home.died {
			return 0
		}
		return 1
	})
	citizens := m.lot(m.served, func(p *man) float64 {
		switch {
		case p.fell != "" && p.stints[0].war == "1861" && p.state == "MI" && p.town == "Ansel" && !p.stints[0].south:
			return .8
		case p.fell != "" || p.dies.year() < 1866 || p.dies.year() > 1955 || p.home != nil && p.home.died:
			return 0
		case p.home != nil:
			return 3
		case p.state == "MI" && p.town == "Ansel":
			return 10
		case p.state == "MI":
			return .3
		case p.stints[0].south:
			return .15
		}
		return nearness(p) * .12
	})
	next := func(of *[]*man) *man {
		if len(*of) == 0 {
			return nil
		}
		p := (*of)[0]
		*of = (*of)[1:]
		return p
	}
	pick := func(of []*man, past []*man) *man { // of one who lies here or might
		if len(past) > 0 && m.chance(.8) {
			return past[m.IntN(len(past))]
		}
		if len(of) > 0 {
			return of[m.IntN(len(of))]
		}
		return m.stranger()
	}
	var all []*stone
	var homeDead, cityDead []*man
	for len(all) < atHome {
		switch k := m.IntN(1000); {
		case k < 890:
			p := next(&inmates)
			if p == nil {
				all = append(all, m.staff())
				continue
			}
			homeDead = append(homeDead, p)
			if m.chance(.97) {
				all = append(all, m.government(p, true))
			} else {
				s := m.soldier(p)
				s.home = true
				all = append(all, s)
			}
		case k < 925:
			all = append(all, m.kin(pick(inmates, homeDead), true))
		case k < 965:
			all = append(all, m.staff())
		case k < 985:
			all = append(all, m.unknown())
		case len(homeDead) > 0:
			s := m.soldier(homeDead[m.IntN(len(homeDead))]) // a second stone, in the lot of his kin
			all = append(all, s)
		}
	}
	for len(all) < n-entries {
		k := m.IntN(1000)
		switch {
		case k < 270:
			p := next(&citizens)
			switch {
			case p == nil:
				all = append(all, m.civilian())
				continue
			case p.fell != "":
				all = append(all, m.cenotaph(p))
				continue
			}
			cityDead = append(cityDead, p)
			switch f := m.IntN(100); {
			case f < 42 && p.dies.year() > 1876:
				all = append(all, m.government(p, false))
				if m.chance(.1) && len(all) < n-entries {
					all = append(all, m.family(p, true))
				}
			case f < 80:
				all = append(all, m.soldier(p))
			default:
				all = append(all, m.family(p, true))
			}
		case k < 350:
			all = append(all, m.kin(pick(citizens, cityDead), false))
		case k < 400 && len(cityDead) > 0: // his brother, father or son, who did not serve
			p := cityDead[m.IntN(len(cityDead))]
			q := *m.stranger()
			q.surname, q.woman = p.surname, false
			if m.chance(.25) {
				q.given, q.middle = p.given, m.any(p.middle, "", q.middle)
			} else if q.given = m.draw(m.bags["given 1861"]); m.chance(.5) {
				q.middle = ""
			}
			s := m.private(q.dies)
			s.lines = append([]text{{m.own(&q), 'n'}}, m.dates(q.born, q.dies)...)
			all = append(all, s)
		default:
			all = append(all, m.civilian())
		}
	}
	return m.note(all, m.sexton(entries, &inmates, &citizens, next))
}

// entry is a line of the sexton's register.
type entry struct {
	p     *man
	cells []string
	dead  day
}

// sexton keeps the city's register: those brought to either ground, as he was told.
func (m *maker) sexton(n int, inmates, citizens *[]*man, next func(*[]*man) *man) (all []entry) {
	for len(all) < n {
		var p *man
		served, from := false, m.IntN(100)
		switch {
		case from < 30:
			p = next(inmates)
		case from < 48:
			if p = next(citizens); p != nil && p.fell != "" {
				continue
			}
		}
		if served = p != nil; !served {
			p = m.stranger()
		}
		surname, given := m.spell(p, false, clerk{ear: .02, eye: .008, slip: .003, short: .1, called: .02, initials: .06, middleInitial: .6, middleFull: .05})
		e := entry{dead: p.dies}
		rank, co, reg, born := "", "", "", ""
		if served {
			e.p = p
			w := p.stints[0].wrote
			if p.home != nil {
				w = p.home.wrote
			}
			if m.chance(.7) {
				rank = ranked(w.rank)
				if w.unit.letter != "" && !w.blank && w.ship == "" {
					co = w.unit.letter
				}
				w.blank = true
				reg = handUnit(w)
			}
		}
		if m.chance(.3) {
			born = number(p.born.year())
		}
		age := ""
		if born == "" && m.chance(.85) {
			age = number(m.toldAge(p, p.dies, false))
		}
		ground := "Ansel City Cemetery"
		if from < 30 && served {
			ground = "State Soldiers' Home Cemetery"
		}
		e.cells = []string{ground, surname, given, rank, co, reg, p.dies.hand(), age, born}
		all = append(all, e)
	}
	slices.SortStableFunc(all, func(a, b entry) int { return cmp.Compare(a.dead, b.dead) })
	return all
}
