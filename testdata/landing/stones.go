package landing

import (
	"slices"
	"strconv"
	"strings"
)

// ground is a burial ground.
type ground struct {
	name    string
	plots   int
	writing string // what it is written in, besides English
}

// stone is what stands on a grave, as it was cut.
type stone struct {
	*ground
	folk                                                       *folk
	section, plot                                              int
	lines                                                      []string
	names                                                      []*man // soldiers whom the stone names as lying here, or as remembered
	unit                                                       int    // which line tells of the unit; 0 for none
	year                                                       int
	top, material, width, thick, high, lettering, device, deco string
	setting                                                    string
}

// finding is a row of a table of stones or of the register, and whom it names.
type finding struct {
	cells []string
	men   []*man
	order string
}

var womenNames = falling(strings.Fields("Mary Sarah Elizabeth Margaret Martha Nancy Catherine Anna Emma Jane Hannah Susan Eliza Rebecca Ellen Julia Harriet Lydia Amanda Rachel Caroline Alice Louisa Rosa Lucinda Charlotte Ida Laura Matilda Clara Phebe Emily Lucy Barbara Frances Minnie Malinda Cora Bridget Maria Ella Josephine Flora Theresa Sophia Wilhelmina Ruth Minerva Melissa Lavina Philippina Honora Bertha Nellie Isabel"), 3)

func (m *maker) lay() {
	c := m.counties[0]
	for _, g := range []ground{{name: "St. Boniface Churchyard", writing: "German"}, {name: "Zion Evangelical Churchyard", writing: "German"}, {name: "First Presbyterian Burying Ground"}, {name: "Marl Landing City Cemetery"},
		{name: "Bethel A. M. E. Cemetery"}, {name: "Old Bluff Graveyard"}, {name: c.towns[1].name + " Cemetery"}, {name: "Ebenezer Chapel Graveyard"}, {name: c.towns[2].name + " Township Cemetery"}} {
		m.grounds = append(m.grounds, &g)
	}
	for _, name := range strings.Fields("Averill Bonham Coates Dempster Eason Farrow Gentry") {
		m.recorders = append(m.recorders, &recorder{name: name[:1] + ". " + name, slips: []int{4, 7, 10, 16, 30}[m.IntN(5)], lower: m.chance(.2), stops: m.chance(.7), counts: m.chance(.75), restores: m.chance(.5)})
	}
}

// groundOf is where a family buries.
func (m *maker) groundOf(h *house) *ground {
	if h.ground == nil {
		i := 0
		switch f := h.folk; {
		case f == m.freed:
			i = []int{4, 4, 4, 3}[m.IntN(4)]
		case f == m.irish:
			i = []int{0, 0, 0, 3}[m.IntN(4)]
		case f == m.german:
			i = []int{0, 0, 1, 1, 3, 7}[m.IntN(6)]
		default:
			i = []int{2, 3, 3, 3, 5, 6, 6, 7, 8, 8}[m.IntN(10)]
		}
		h.ground = m.grounds[i]
	}
	return h.ground
}

// bury makes the stones, the register and the truth.
func (m *maker) bury() (stones, register, truth [][]string) {
	m.lay()
	var living, fallen []*man
	for _, p := range append(slices.Clone(m.home), m.came...) {
		if p.at != "" {
			fallen = append(fallen, p)
		} else if p.here {
			living = append(living, p)
		}
	}
	m.Shuffle(len(living), func(i, j int) { living[i], living[j] = living[j], living[i] })
	m.Shuffle(len(fallen), func(i, j int) { fallen[i], fallen[j] = fallen[j], fallen[i] })
	var houses []*house
	for _, t := range m.counties[0].towns {
		houses = append(houses, t.houses...)
	}
	var found, rows []*finding
	put := func(s *stone) {
		if len(found)+len(rows) < m.stones {
			found = append(found, m.record(s))
		}
	}
	list := func(f *finding) {
		if len(found)+len(rows) < m.stones {
			rows = append(rows, f)
		}
	}
	for len(found)+len(rows) < m.stones {
		switch {
		case m.chance(.025) && len(fallen) > 0:
			p := fallen[0]
			fallen = fallen[1:]
			put(m.cenotaph(p))
		case m.chance(.41) && len(living) > 0:
			p := living[0]
			living = living[1:]
			p.buried = true
			m.veteran(p, put, list)
		default:
			m.civilian(houses, put, list)
		}
	}
	sorted := func(fs []*finding) {
		slices.SortStableFunc(fs, func(a, b *finding) int { return strings.Compare(a.order, b.order) })
	}
	sorted(found)
	sorted(rows)
	truth = [][]string{{"stone", "record"}}
	bind := func(prefix string, header []string, fs []*finding) [][]string {
		out := [][]string{header}
		for i, f := range fs {
			id := prefix + strconv.Itoa(i+1)
			out = append(out, append([]string{id}, f.cells...))
			for _, p := range f.men {
				for _, r := range p.rows {
					truth = append(truth, []string{id, r.id})
				}
			}
		}
		return out
	}
	stones = bind("S", strings.Fields("id cemetery county state section plot inscription top material width_in thickness_in height_in lettering device motifs setting condition recorder recorded notes"), found)
	register = bind("B", strings.Fields("id cemetery county state section plot surname given rank company regiment arm body died age"), rows)
	return stones, register, truth
}

// veteran makes what there is of a soldier who lies here.
func (m *maker) veteran(p *man, put func(*stone), list func(*finding)) {
	war := p.served[0].war
	if war == 1917 && m.chance(.5) || war != 1917 && m.chance(.44) {
		if s := m.government(p); s != nil {
			put(s)
			if m.chance(.09) {
				put(m.family(p, m.chance(.3)))
			}
			if m.chance(.11) {
				list(m.registered(p, true))
			}
			return
		}
	}
	switch r := m.IntN(56); {
	case r < 20:
		put(m.private(p, true))
	case r < 38:
		put(m.private(p, false))
	case r < 53:
		put(m.family(p, m.chance(.4)))
	default:
		list(m.registered(p, true))
		return
	}
	if m.chance(.11) {
		list(m.registered(p, true))
	}
}

// carving is how a stone has a name: short, in initials, or full.
func (m *maker) carving(p *man, shortened, initials float64) string {
	given := p.given
	switch own := german[given]; {
	case p.house.folk == m.german && own != "" && p.died.y < 1906 && m.chance(.2):
		given = own
	case m.chance(initials):
		given = given[:1] + "."
	case m.chance(shortened) && short[given] != "":
		given = short[given]
	case m.chance(.04) && familiar[given] != "":
		given = familiar[given]
	}
	if p.middle != "" {
		switch {
		case m.chance(.72):
			given += " " + p.middle[:1] + "."
		case len(given) > 2 && m.chance(.15):
			given += " " + p.middle
		}
	}
	return given
}

// german is what a name was at home.
var german = map[string]string{"John": "Johann", "Henry": "Heinrich", "William": "Wilhelm", "Frederick": "Friedrich", "George": "Georg", "Charles": "Karl", "Jacob": "Jakob", "Joseph": "Josef", "Philip": "Philipp", "Louis": "Ludwig", "Anthony": "Anton", "Bernard": "Bernhard", "Casper": "Kaspar", "Nicholas": "Nikolaus", "Valentine": "Valentin", "Conrad": "Konrad", "Andrew": "Andreas", "Matthias": "Mathias", "Frank": "Franz"}

// herself is the same of women.
var herself = map[string]string{"Mary": "Maria", "Catherine": "Katharina", "Elizabeth": "Elisabeth", "Margaret": "Margaretha", "Caroline": "Karoline", "Louisa": "Luise"}

// government is the stone that the government furnished.
func (m *maker) government(p *man) *stone {
	s := p.served[m.IntN(len(p.served))]
	year := p.died.y + 1 + m.IntN(3)
	if p.died.y < 1879 {
		year = 1880 + m.IntN(14)
	} else if m.chance(.15) {
		year += 8 + m.IntN(25)
	}
	if s.side == "Confederate" && year < 1930 {
		return nil
	}
	st := m.stone(p.house, year)
	st.names = []*man{p}
	surname, given := p.surname, m.carving(p, .4, .1)
	if m.chance(.4) { // as the War Department had him
		surname, given = s.surname, s.given
		if strings.Contains(given, ", ") {
			given, _, _ = strings.Cut(given, ", ")
		}
		if m.chance(.4) {
			first, rest, _ := strings.Cut(given, " ")
			if a := short[first]; a != "" {
				given = strings.TrimSpace(a + " " + rest)
			}
		}
	} else if p.alias != "" && m.chance(.5) {
		surname = p.alias
	}
	st.material, st.lettering, st.device, st.high = "white marble", "incised", "none", strconv.Itoa(18+m.IntN(9))
	if s.war == 1917 {
		m.general(st, s, given+" "+surname)
		return st
	}
	st.thick, st.width = "4", "12"
	if year < 1903 {
		st.width = "10"
	}
	switch {
	case s.side == "Confederate":
		st.top = "pointed"
	case year > 1936 && m.chance(.2):
		st.top, st.device, st.width = "slightly rounded", "outline shield", "13"
	default:
		st.top, st.device, st.lettering = "rounded", "recessed shield", "raised"
	}
	if m.chance(.12) { // measured across worn edges, or with the setting
		st.width += m.any(".25", ".5")
	}
	if rank := m.cutRank(s); rank != "" {
		st.lines = append(st.lines, rank)
	}
	st.lines = append(st.lines, given+" "+surname)
	if len(st.lines[len(st.lines)-1]) > 17 && m.chance(.25) { // too long for one line
		st.lines[len(st.lines)-1] = given
		st.lines = append(st.lines, surname)
	}
	st.unit = len(st.lines)
	st.lines = append(st.lines, m.cutUnit(s, m.chance(.25))...)
	if s.war == 1898 {
		st.lines = append(st.lines, m.any("Sp. Am. War", "Sp. Am. War", "War with Spain"))
	}
	if s.side == "Confederate" {
		st.lines = append(st.lines, "C. S. A.")
	}
	if year > 1925 && m.chance(.4) {
		st.lines = append(st.lines, m.cutDay(p.died, 1))
	}
	return st
}

// general is the stone of the First World War's men.
func (m *maker) general(st *stone, s *service, name string) {
	st.top, st.width, st.thick = "slightly rounded", "13", "4"
	if st.year > 1940 && m.chance(.4) {
		st.top, st.setting, st.width, st.high = "flat", "flush", "24", "0"
		if st.material = m.any("bronze", "granite", "white marble"); st.material == "bronze" {
			st.lettering, st.thick = "raised", "0.75"
		}
	}
	rank := map[string]string{"Private": "Pvt", "Corporal": "Cpl", "Sergeant": "Sgt", "First Sergeant": "1st Sgt", "Musician": "Mus", "Wagoner": "Wag", "Second Lieutenant": "2d Lt", "First Lieutenant": "1st Lt", "Captain": "Capt"}[s.rank]
	arm := "Inf"
	if s.arm == "Field Artillery" {
		arm = "FA"
	}
	unit := rank + " " + strconv.Itoa(s.num) + " " + arm
	if m.chance(.3) {
		unit = rank + " Co " + s.letter + " " + strconv.Itoa(s.num) + " " + arm
	}
	if m.chance(.12) {
		unit = rank + " US Army"
	}
	name = strings.ReplaceAll(name, ".", "")
	st.lines = []string{"Indiana", name, unit}
	if st.setting == "flush" && m.chance(.5) {
		st.lines = []string{name, "Indiana", unit}
	}
	st.unit = 2
	if st.year > 1942 || m.chance(.3) {
		st.lines = append(st.lines, m.any("World War I", "World War"))
	}
	died := strings.ReplaceAll(strings.ReplaceAll(m.cutDay(s.man.died, 1), ".", ""), ",", "")
	if st.year > 1938 {
		died = strings.ReplaceAll(strings.ReplaceAll(m.cutDay(s.man.born, 1), ".", ""), ",", "") + " " + died
	}
	st.lines = append(st.lines, died)
}

// cutRank is a rank as it is cut; a private's mostly is not.
func (m *maker) cutRank(s *service) string {
	switch s.rank {
	case "Private":
		if m.chance(.06) {
			return m.any("Pvt.", "Priv.")
		}
		return ""
	case "Corporal":
		return m.any("Corpl.", "Corp.", "Corpl.")
	case "Sergeant":
		return m.any("Sergt.", "Sergt.", "Serg.")
	case "First Sergeant":
		return m.any("1 Sergt.", "1st Sergt.")
	case "Musician":
		return m.any("Mus.", "Musn.")
	case "Wagoner":
		return m.any("Wag.", "Wagr.")
	case "Second Lieutenant":
		return m.any("2 Lieut.", "2nd Lieut.", "Lieut.")
	case "First Lieutenant":
		return m.any("1 Lieut.", "1st Lieut.", "Lieut.")
	case "Captain":
		return "Capt."
	case "Landsman":
		return m.any("Lands.", "Lds.")
	case "Seaman":
		return "Sea."
	case "Ordinary Seaman":
		return "Ord. Sea."
	case "First Class Fireman":
		return "1 Cl. Fire."
	case "Coal Heaver":
		return "Coal Hvr."
	}
	return s.rank
}

// cutUnit is a unit as it is cut, in one line or two.
func (m *maker) cutUnit(s *service, one bool) []string {
	if s.ship != "" {
		return []string{m.any("U. S. S. "+s.ship, "U. S. N.", "U. S. Navy")}
	}
	num, letter := s.num, s.letter
	if m.chance(.016) && num > 9 { // as the application had it
		num += []int{-1, 1, 10, 2}[m.IntN(4)]
	}
	if letter != "" && m.chance(.018) {
		letter = string("ABCDEFGHIK"[m.IntN(10)])
	}
	n, state := strconv.Itoa(num), m.abbr(s.state)
	if m.chance(.15) {
		n += ordinal(num)
	}
	arm := map[string]string{"Infantry": "Inf.", "Cavalry": "Cav."}[s.arm]
	switch {
	case s.arm == "Light Artillery":
		return []string{m.any(n+" "+state+" Batty.", n+" "+state+" L. A.", n+" Btry. "+state+" L. A.")}
	case s.state == "U. S. C. T." && s.arm == "Infantry":
		n = m.any(n+" U. S. C. I.", n+" U. S. Col. Inf.", n+" U. S. C. T.", n+" U. S. C. Inf.")
	case s.state == "U. S. C. T.":
		n += " U. S. C. C."
	case s.state == "V. R. C.":
		n += " V. R. C."
	case s.state != "U. S." && m.chance(.08):
		n += " Regt. " + state + " " + arm
	case s.state != "U. S." && m.chance(.06):
		n += " " + state + " Vol. " + arm
	default:
		n += " " + state + " " + arm
	}
	switch {
	case m.chance(.03):
		return []string{n} // no company
	case one:
		return []string{"Co. " + letter + m.any(" ", ", ", " ") + n}
	}
	return []string{"Co. " + letter, n}
}

// cutDay is a day as it is cut: 0 in years only.
func (m *maker) cutDay(d day, style int) string {
	if style == 0 {
		return strconv.Itoa(d.y)
	}
	return []string{"Jan.", "Feb.", "Mar.", "Apr.", "May", "June", "July", "Aug.", "Sept.", "Oct.", "Nov.", "Dec."}[d.m-1] + " " + strconv.Itoa(d.d) + ", " + strconv.Itoa(d.y)
}

// stone is a private stone of a year, with nothing cut yet, in a family's ground.
func (m *maker) stone(h *house, year int) *stone {
	g := m.groundOf(h)
	g.plots++
	s := &stone{ground: g, folk: h.folk, year: year, section: 1 + m.IntN(6), plot: g.plots, lettering: "incised", device: "none", setting: "upright", thick: strconv.Itoa(2 + m.IntN(7)), width: strconv.Itoa(12 + m.IntN(18)), high: strconv.Itoa(16 + m.IntN(34))}
	switch {
	case year < 1885:
		s.material, s.top = m.any("marble", "white marble", "sandstone", "marble"), m.any("rounded", "flat", "other")
	case year < 1905:
		s.material, s.top = m.any("white marble", "marble", "granite", "zinc"), m.any("flat", "other", "square")
	default:
		s.material, s.top = m.any("granite", "granite", "marble"), m.any("flat", "square", "other")
	}
	return s
}

// dates are the lines of a life.
func (m *maker) dates(s *stone, born, died day) []string {
	born, died = m.recalled(born, .05), m.recalled(died, .015)
	if s.german() {
		return []string{"Geb. " + germanDay(born), "Gest. " + germanDay(died)}
	}
	switch r := m.IntN(10); {
	case s.year < 1895 && r < 6:
		d, mo, y := died.d-born.d, died.m-born.m, died.y-born.y
		if d < 0 {
			d, mo = d+28, mo-1
		}
		if mo < 0 {
			mo, y = mo+12, y-1
		}
		if y > 1 && m.chance(.3) {
			return []string{"Died " + m.cutDay(died, 1), "Aged " + strconv.Itoa(y) + " years"}
		}
		age := "Aged"
		for i, n := range []int{y, mo, d} {
			if n > 0 {
				age += " " + strconv.Itoa(n) + " " + []string{"Y.", "M.", "D."}[i]
			}
		}
		return []string{"Died", m.cutDay(died, 1), age}
	case r < 2 && s.year < 1920:
		return []string{"Born " + m.cutDay(born, 1), "Died " + m.cutDay(died, 1)}
	case r < 4:
		return []string{m.cutDay(born, 1), m.cutDay(died, 1)}
	case r < 5:
		return []string{"Died " + m.cutDay(died, 1)}
	}
	return []string{m.cutDay(born, 0) + " - " + m.cutDay(died, 0)}
}

// german says whether the stone begins in German.
func (s *stone) german() bool { return len(s.lines) > 0 && s.lines[0] == "Hier ruht" }

func germanDay(d day) string {
	return strconv.Itoa(d.d) + ". " + strings.Fields("Jan. Febr. Maerz April Mai Juni Juli Aug. Sept. Okt. Nov. Dez.")[d.m-1] + " " + strconv.Itoa(d.y)
}

// emblems of service that private stones bear.
func (m *maker) emblem(s *stone, p *man) {
	if c := p.served[0]; c.war == 1861 && c.side == "Union" && m.chance(.3) {
		s.deco = m.any("G. A. R. star flag-holder", "flag", "crossed swords", "G. A. R. marker", "shield with stars and stripes")
	}
}

// plain is a stone's name and dates.
func (m *maker) plain(s *stone, given, surname string, born, died day) {
	if s.writing == "German" && s.folk == m.german && s.year < 1905 && m.chance(.35) {
		s.lines = append(s.lines, "Hier ruht")
		if first, rest, _ := strings.Cut(given, " "); herself[first] != "" {
			given = strings.TrimSpace(herself[first] + " " + rest)
		}
	}
	s.lines = append(s.lines, given+" "+surname)
	s.lines = append(s.lines, m.dates(s, born, died)...)
}

// private is a soldier's own stone, which tells of his service or does not.
func (m *maker) private(p *man, tells bool) *stone {
	s := m.stone(p.house, p.died.y)
	s.names = []*man{p}
	first, last := m.carving(p, .1, .17), p.surname
	if p.suffix != "" && m.chance(.5) {
		last += ", " + p.suffix
	}
	if m.chance(.04) {
		first = m.any("Capt.", "Dr.", "Rev.") + " " + first
	}
	m.plain(s, first, last, p.born, p.died)
	m.emblem(s, p)
	if !tells {
		return s
	}
	c := p.served[m.IntN(len(p.served))]
	s.unit = len(s.lines)
	s.lines = append(s.lines, m.told(c)...)
	return s
}

// told is how a private stone tells of service.
func (m *maker) told(c *service) []string {
	unit := strings.Join(m.cutUnit(c, true), " ")
	end := ""
	if c.side == "Confederate" {
		end = " C. S. A."
	}
	switch r := m.IntN(20); {
	case c.war == 1917:
		return []string{m.any("World War Veteran", c.rank+" "+unit, unit, "A. E. F.", unit+" 1917 - 1919")}
	case r < 9:
		return []string{unit + end}
	case r < 11:
		return []string{"A member of " + unit + end}
	case r < 13 && c.side == "Union":
		return []string{"A soldier of the Union", unit}
	case r < 15 && c.rank != "Private" && c.ship == "":
		return []string{c.rank + " " + unit + end}
	case r < 16 && c.war == 1861 && end == "":
		return []string{m.any("Veteran of the Civil War", "A soldier of 1861 - 1865")}
	case r < 18 && c.in.y > 0 && c.out.y > 0:
		return []string{unit + end, "Enlisted " + m.cutDay(c.in, 1), "Discharged " + m.cutDay(c.out, 1)}
	}
	return m.cutUnit(c, false)
}

// wed is a soldier's wife.
func (m *maker) wed(p *man) *woman {
	if p.wife == nil {
		w := &woman{given: womenNames.draw(m), born: m.on(p.born.y + 1 + m.IntN(8))}
		if m.chance(.5) {
			w.middle = womenNames.draw(m)[:1] + "."
		}
		w.died = m.on(max(m.life(w.born.y, w.born.y+24), p.ended()+1))
		p.wife = w
	}
	return p.wife
}

// ended is the year in which a man's first service ended, or 1880 for one who had none.
func (p *man) ended() int {
	if len(p.served) == 0 {
		return 1880
	}
	return p.served[0].in.y + 3
}

// family is a family's stone, on which a soldier is one of several.
func (m *maker) family(p *man, tells bool) *stone {
	w := m.wed(p)
	s := m.stone(p.house, max(p.died.y, w.died.y))
	s.names = []*man{p}
	w.buried = true
	years := func(a, b day) string {
		return m.cutDay(m.recalled(a, .04), 0) + " - " + m.cutDay(m.recalled(b, .015), 0)
	}
	s.lines = []string{p.surname, m.carving(p, .1, .17), years(p.born, p.died)}
	if tells {
		s.unit = len(s.lines)
		s.lines = append(s.lines, strings.Join(m.cutUnit(p.served[0], true), " "))
	}
	wife := strings.TrimSpace(w.given + " " + w.middle)
	switch m.IntN(3) {
	case 0:
		s.lines = append(s.lines, wife, "His wife", years(w.born, w.died))
	case 1:
		s.lines = append(s.lines, wife, years(w.born, w.died))
	default:
		s.lines = append(s.lines, "His wife "+wife, years(w.born, w.died))
	}
	if m.chance(.3) {
		child := day{p.born.y + 25 + m.IntN(12), 1 + m.IntN(12), 1 + m.IntN(28)}
		s.lines = append(s.lines, m.child(p.house, child.y), years(child, day{child.y + m.IntN(30), child.m, child.d}))
	}
	m.emblem(s, p)
	// Brothers who served and lie here may share the stone.
	if m.chance(.06) {
		for _, b := range p.house.soldiers {
			if b != p && b.here && !b.buried {
				b.buried = true
				s.names = append(s.names, b)
				s.lines = append(s.lines, m.carving(b, .1, .17), years(b.born, b.died))
				break
			}
		}
	}
	return s
}

func (m *maker) child(h *house, year int) string {
	if m.chance(.5) {
		return womenNames.draw(m)
	}
	given := m.givenOf(h.folk, year)
	if m.chance(.4) {
		given += " " + string("ABCDEFGHJLMNRSTW"[m.IntN(16)]) + "."
	}
	return given
}

// cenotaph is what the family set up for one who lies where he fell, or whom they had brought home.
func (m *maker) cenotaph(p *man) *stone {
	s := m.stone(p.house, p.died.y+1+m.IntN(20))
	s.names = []*man{p}
	c := p.served[0]
	s.lines = []string{m.carving(p, .1, .1) + " " + p.surname}
	if f := p.house.father; f != p && m.chance(.4) {
		s.lines = append(s.lines, "Son of", f.given[:1]+". & "+womenNames.draw(m)[:1]+". "+p.surname)
	}
	s.unit = len(s.lines)
	s.lines = append(s.lines, m.cutUnit(c, true)...)
	how := "Died at " + p.at
	if p.killed {
		how = m.any("Killed at ", "Fell at ", "Killed in battle at ") + p.at
	} else if p.at == "home" {
		how = "Died"
	}
	s.lines = append(s.lines, how, m.cutDay(m.recalled(p.died, .06), 1))
	if m.chance(.6) {
		s.lines = append(s.lines, "Aged "+strconv.Itoa(p.died.y-p.born.y)+" years")
	}
	return s
}

// registered is a row of the sexton's register; he knows a soldier's unit at times.
func (m *maker) registered(p *man, soldier bool) *finding {
	g := m.groundOf(p.house)
	surname := p.surname
	if m.chance(p.house.folk.misheard * .5) {
		surname = m.heard(surname, p.house.folk)
	}
	if m.of(.02, .04) {
		surname = m.copied(surname)
	}
	var rank, company, number, arm, body, age string
	if soldier && m.chance(.72) {
		s := p.served[0]
		if s.rank != "Private" {
			rank = s.rank
		}
		if s.ship == "" {
			company, arm, body = s.letter, s.arm, m.abbr(s.state)
			if m.of(.03, .06) {
				company = ""
			}
			if number = strconv.Itoa(s.num); len(number) > 1 && m.of(.01, .03) {
				number = number[:1]
			}
		} else {
			arm = "Navy"
		}
	}
	died := m.recalled(p.died, .05)
	if m.chance(.6) {
		age = strconv.Itoa(died.y - p.born.y)
	}
	given := m.carving(p, .2, .2)
	return &finding{order: g.name + died.String(), cells: []string{g.name, m.counties[0].name, "Indiana", strconv.Itoa(1 + m.IntN(6)), strconv.Itoa(1 + m.IntN(300)), surname, given, rank, company, number, arm, body, died.String(), age}, men: []*man{p}}
}

// civilian makes the stone of one who did not serve.
func (m *maker) civilian(houses []*house, put func(*stone), list func(*finding)) {
	var h *house
	if len(houses) > 0 {
		h = houses[m.IntN(len(houses))]
	} else {
		h = m.marry(m.counties[0].towns[m.IntN(7)], 1862)
	}
	if n := len(m.home) + len(m.came); n > 0 && m.chance(.35) { // kin of soldiers
		if i := m.IntN(n); i < len(m.home) {
			h = m.home[i].house
		} else {
			h = m.came[i-len(m.home)].house
		}
	}
	switch r := m.IntN(100); {
	case r < 17: // a wife, of a soldier if there is one
		p := h.father
		if n := len(h.soldiers); n > 0 {
			p = h.soldiers[m.IntN(n)]
		}
		w := m.wed(p)
		if w.buried {
			return
		}
		w.buried = true
		s := m.stone(h, w.died.y)
		name := strings.TrimSpace(w.given + " " + w.middle)
		if m.chance(.6) {
			s.lines = []string{name, "Wife of", m.carving(p, .2, .35) + " " + p.surname}
			if len(p.served) > 0 && m.chance(.25) {
				s.unit = len(s.lines)
				s.lines = append(s.lines, m.cutUnit(p.served[0], true)...)
			}
			s.lines = append(s.lines, m.dates(s, w.born, w.died)...)
		} else {
			m.plain(s, name, p.surname, w.born, w.died)
		}
		put(s)
	case r < 39: // a child
		born := m.on(1840 + m.IntN(70))
		years := []int{0, 0, 1, 2, 3, 5, 8, 12}[m.IntN(8)]
		died := day{born.y + years, 1 + m.IntN(12), 1 + m.IntN(28)}
		if died.before(born) {
			died.y++
		}
		s := m.stone(h, died.y)
		parents := m.any(h.father.given[:1]+". & "+womenNames.draw(m)[:1]+". ", h.father.given+" & "+womenNames.draw(m)+" ") + h.surname
		name := m.child(h, born.y)
		switch r := m.IntN(3); {
		case r == 0 && years < 2:
			s.lines = append([]string{m.any("Infant son of", "Infant daughter of", "Our darling"), parents}, m.dates(s, born, died)...)
		case r == 1:
			s.lines = append([]string{name, m.any("Son of", "Dau. of", "Child of"), parents}, m.dates(s, born, died)...)
		default:
			m.plain(s, name, h.surname, born, died)
		}
		put(s)
	case r < 56: // father or mother
		if p := h.father; m.chance(.5) {
			if len(p.served) == 0 && !p.buried {
				m.man(h, p, put, list)
			}
		} else if w := m.wed(p); !w.buried {
			w.buried = true
			s := m.stone(h, w.died.y)
			m.plain(s, strings.TrimSpace(w.given+" "+w.middle), h.surname, w.born, w.died)
			put(s)
		}
	case r < 72: // a man of the soldiers' age
		for _, p := range h.sons {
			if len(p.served) == 0 && !p.buried && m.chance(.5) {
				m.man(h, p, put, list)
				break
			}
		}
	case len(h.soldiers) > 0 && r < 80: // a soldier's son, who may have his name
		f := h.soldiers[m.IntN(len(h.soldiers))]
		p := &man{house: h, surname: h.surname, given: m.givenOf(h.folk, f.born.y+30), born: m.on(f.born.y + 22 + m.IntN(22))}
		if m.middle(p); m.chance(.2) {
			p.given = f.given
		}
		m.man(h, p, put, list)
	default: // one of those who came after
		h = m.marry(h.township(m), 1875+m.IntN(60))
		if m.chance(.5) {
			m.man(h, h.father, put, list)
			return
		}
		w := m.wed(h.father)
		s := m.stone(h, w.died.y)
		m.plain(s, strings.TrimSpace(w.given+" "+w.middle), h.surname, w.born, w.died)
		put(s)
	}
}

// township is the township of a house of the county, or some one of it.
func (h *house) township(m *maker) *town {
	if h.town.county == m.counties[0] {
		return h.town
	}
	return m.counties[0].towns[m.IntN(7)]
}

// man is the stone of a man who did not serve, his family's, or his row in the register.
func (m *maker) man(h *house, p *man, put func(*stone), list func(*finding)) {
	p.buried = true
	p.died = m.on(m.life(p.born.y, p.born.y+24))
	if m.chance(.1) {
		list(m.registered(p, false))
		if m.chance(.3) {
			return
		}
	}
	if m.chance(.3) {
		w := m.wed(p)
		w.buried = true
		s := m.stone(h, max(p.died.y, w.died.y))
		s.lines = []string{p.surname, m.carving(p, .1, .2), m.cutDay(p.born, 0) + " - " + m.cutDay(p.died, 0), strings.TrimSpace(w.given + " " + w.middle), m.cutDay(w.born, 0) + " - " + m.cutDay(w.died, 0)}
		put(s)
		return
	}
	s := m.stone(h, p.died.y)
	m.plain(s, m.carving(p, .1, .2), p.surname, p.born, p.died)
	if m.chance(.02) { // flag-holders move
		s.deco = "G. A. R. star flag-holder"
	}
	put(s)
}
