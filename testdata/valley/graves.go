package valley

import (
	"fmt"
	"strconv"
	"strings"
)

var stoneColumns = strings.Split("id,cemetery,county,state,section,row,inscription,top,material,width_in,thickness_in,lettering,device,setting,condition", ",")
var registerColumns = strings.Split("id,cemetery,county,state,section,surname,given,rank,company,regiment,arm,body,died,age", ",")

// graves makes stones and register: of a hundred stones, half are of men of the rosters, eighteen of veterans whom the rosters lack, the rest of civilians,
// most of them of the families that are on the rosters. One man in thirty has a second stone, with his wife; one stone in eight is copied into the register.
func (m *maker) graves() (stones, register, truth [][]string) {
	stones, register, truth = [][]string{stoneColumns}, [][]string{registerColumns}, [][]string{{"stone", "record"}}
	order := m.Perm(len(m.men))
	id := 0
	next := func() string {
		id++
		return fmt.Sprintf("n%d", id)
	}
	of := func(stone string, p *man) {
		for _, r := range p.rows {
			truth = append(truth, []string{stone, r.id})
		}
	}
	for id < m.opt.Stones {
		switch k := m.IntN(100); {
		case k < 50 && len(order) > 0:
			p := m.men[order[0]]
			order = order[1:]
			stone := next()
			of(stone, p)
			stones = append(stones, m.veteran(stone, p))
			if m.IntN(30) == 0 && id < m.opt.Stones {
				stone := next()
				of(stone, p)
				stones = append(stones, m.couple(stone, p))
			}
			if m.IntN(8) == 0 && id < m.opt.Stones {
				stone := next()
				of(stone, p)
				register = append(register, m.copied(stone, p))
			}
		case k < 68:
			stones = append(stones, m.veteran(next(), m.stranger()))
		default:
			stones = append(stones, m.civilian(next()))
		}
	}
	return stones, register, truth
}

// stranger is a veteran whom the rosters lack.
func (m *maker) stranger() *man {
	men := m.men
	m.men = nil // no kin of those listed
	defer func() { m.men = men }()
	return m.man(0)
}

// name is a man's name as cut: whole, short, by initials, or by the name he went by, with letters lost and misread.
func (m *maker) name(p *man) string {
	given, middle := strings.ToUpper(p.given), strings.ToUpper(p.middle)
	var n string
	switch k := m.IntN(100); {
	case k < 5 && middle != "":
		n = middle
	case k < 8 && middle != "":
		n = given[:1] + ". " + middle
	case k < 26 && brief[p.given] != nil:
		n = m.one(brief[p.given]...)
	case k < 32 || m.opt.Messy && k < 44:
		n = given[:1] + "."
		if middle != "" {
			n += " " + middle[:1] + "."
		}
	default:
		n = given
		if middle != "" && m.IntN(3) > 0 {
			n += " " + middle[:1] + "."
		}
	}
	n += " " + m.cut(strings.ToUpper(p.surname))
	if p.suffix != "" && m.IntN(2) == 0 {
		n += " JR."
	}
	return n
}

var seenAs = map[byte]string{'A': "R", 'B': "RE", 'C': "GO", 'D': "OB", 'E': "FL", 'F': "PE", 'G': "CO", 'H': "NM", 'I': "TL", 'K': "XR", 'L': "IE", 'M': "NH", 'N': "HM", 'O': "CD", 'P': "FR", 'R': "KB", 'S': "B", 'T': "IY", 'U': "VO", 'V': "UY", 'W': "VM", 'Y': "VT"}

// cut is a surname with letters lost, some of them marked so, or taken for others.
func (m *maker) cut(s string) string {
	var b strings.Builder
	for i := range len(s) {
		if m.Float64() >= m.hurt {
			b.WriteByte(s[i])
			continue
		}
		switch k := m.IntN(10); {
		case k < 4 && seenAs[s[i]] != "":
			b.WriteByte(seenAs[s[i]][m.IntN(len(seenAs[s[i]]))])
		case k < 8:
			b.WriteString("[.]")
		case k < 9 && i > 0:
		default:
			b.WriteString("[--]")
		}
	}
	return b.String()
}

// unit is what the family, or the contractor, had cut: the last of his units, with a figure wrong now and then.
func (m *maker) unit(p *man) []string {
	r := p.rows[len(p.rows)-1]
	if len(p.rows) > 1 && m.IntN(3) == 0 {
		r = p.rows[0]
	}
	if p.later != nil && m.IntN(4) > 0 {
		r = *p.later
	}
	number := r.regiment
	if m.rate(.015, .045) {
		number = max(1, number+[]int{-10, 10, -1, 1, 100}[m.IntN(5)])
	}
	company := r.company
	if m.rate(.025, .06) {
		company = string("ABCDEFGHIK"[m.IntN(10)])
	}
	state := map[string][]string{"Pennsylvania": {"PA.", "PENNA.", "PENN."}, "Maryland": {"MD."}, "Ohio": {"OHIO", "O."}, "West Virginia": {"W. VA."}, "US": {"U. S."}}[r.state]
	arm := map[string][]string{"Infantry": {"INF.", "VOLS.", "INF'Y", "REGT."}, "Cavalry": {"CAV."}, "Heavy Artillery": {"H. A.", "HVY. ARTY."}}[r.arm]
	line := fmt.Sprintf("%s %s %s", m.one(strconv.Itoa(number), strings.ToUpper(nth(number))), m.one(state...), m.one(arm...))
	if m.rate(.1, .18) {
		return []string{line}
	}
	return []string{m.one("CO. ", "COMPANY ") + company, line}
}

// rank is how a stone words a rank; "" for a private's, and where it was left out.
func (m *maker) rank(r row) string {
	names := map[string][]string{"Corporal": {"CORPL.", "CORP."}, "Sergeant": {"SERGT.", "SGT."}, "First Sergeant": {"1ST SERGT.", "ORD. SERGT."}, "First Lieutenant": {"1ST LIEUT.", "LIEUT."}, "Captain": {"CAPT."}, "Drummer": {"MUSN."}}[r.rankOut]
	if names == nil || m.IntN(6) == 0 {
		return ""
	}
	return m.one(names...)
}

// start is the row of a stone in a place: a third of the men moved away from where they had enlisted.
func (m *maker) start(id string, p *man) (map[string]string, func() []string) {
	yard := yards[len(p.surname)%len(yards)]
	if m.IntN(3) == 0 {
		yard = m.one(yards...)
	}
	cells := map[string]string{"id": id, "cemetery": yard, "county": "Clearwater", "state": "PA", "section": m.one("A", "B", "C", "North", "Old part"), "row": strconv.Itoa(1 + m.IntN(30))}
	return cells, func() []string {
		out := make([]string, len(stoneColumns))
		for i, c := range stoneColumns {
			out[i] = cells[c]
		}
		return out
	}
}

// remembered is a date as the family had it: a year or two out, or in round figures.
func (m *maker) remembered(d day) day {
	switch k := m.IntN(100); {
	case k < 6 || m.opt.Messy && k < 12:
		d.y += []int{-2, -1, 1, 2}[m.IntN(4)]
	case k < 8:
		d.y = (d.y + 2) / 5 * 5
	case k < 10:
		d.m = 1 + m.IntN(12)
	case k < 12:
		d.d = 1 + m.IntN(28)
	}
	return d
}

// dates are the lines of a family's stone that tell when he lived.
func (m *maker) dates(p *man) []string {
	born, died := m.remembered(p.born), m.remembered(p.died)
	if died.y < born.y {
		died = p.died
	}
	switch m.IntN(5) {
	case 0:
		return []string{"BORN " + strings.ToUpper(born.text()), "DIED " + strings.ToUpper(died.text())}
	case 1:
		return []string{"DIED " + strings.ToUpper(died.text()), fmt.Sprintf("AGED %d YEARS", max(1, died.y-born.y-m.IntN(2)))}
	case 2:
		return []string{fmt.Sprintf("%d", born.y), fmt.Sprintf("%d", died.y)}
	}
	return []string{fmt.Sprintf("%d - %d", born.y, died.y)}
}

// veteran is the stone of a man who served: the government's, or the family's, that may not say so.
func (m *maker) veteran(id string, p *man) []string {
	cells, done := m.start(id, p)
	last := p.rows[len(p.rows)-1]
	who := m.name(p)
	switch {
	case p.war > 0 && m.rate(.7, .55): // the upright marble of the later wars
		lines := []string{who, strings.ToUpper(map[bool]string{true: "Pennsylvania", false: last.state}[last.state == "US"])}
		rank := map[string]string{"Private": "PVT", "Corporal": "CPL", "Sergeant": "SGT", "First Sergeant": "1ST SGT", "First Lieutenant": "1ST LT", "Captain": "CAPT", "Drummer": "MUS"}[last.rankOut]
		unit := fmt.Sprintf("%s CO %s %d INF", rank, last.company, last.regiment)
		lines = append(lines, unit, map[int]string{1: "SPANISH AMERICAN WAR", 2: "WORLD WAR I"}[p.war])
		if m.IntN(3) > 0 {
			lines = append(lines, strings.ToUpper(m.remembered(p.died).text()))
		}
		cells["inscription"] = strings.Join(lines, " / ")
		cells["top"], cells["material"], cells["lettering"], cells["device"], cells["width_in"], cells["thickness_in"] = "slightly rounded", "white marble", "incised", "cross", "13", "4"
		cells["setting"] = "upright"
	case p.war == 0 && m.rate(.68, .55):
		lines := []string{who}
		if rank := m.rank(last); rank != "" {
			lines[0] = rank + " " + who
		}
		lines = append(lines, m.unit(p)...)
		if m.IntN(6) == 0 {
			lines = append(lines, "DIED "+strings.ToUpper(m.remembered(p.died).text()))
		}
		cells["inscription"] = strings.Join(lines, " / ")
		cells["top"], cells["material"], cells["lettering"], cells["device"], cells["width_in"], cells["thickness_in"] = "rounded", "white marble", "raised", "recessed shield", m.one("10", "11", "12"), m.one("4", "4.25")
		cells["setting"] = "upright"
	default:
		lines := append([]string{who}, m.dates(p)...)
		if m.rate(.72, .6) {
			lines = append(lines, m.unit(p)...)
			if p.war == 0 && m.IntN(4) == 0 {
				lines = append(lines, m.one("G. A. R.", "A SOLDIER OF THE UNION"))
			}
		}
		cells["inscription"] = strings.Join(lines, " / ")
		m.private(cells)
	}
	return done()
}

// private gives a stone the looks that a family chose.
func (m *maker) private(cells map[string]string) {
	cells["top"], cells["material"], cells["lettering"] = m.one("flat", "square", "pointed", "other"), m.one("granite", "marble", "slate", "zinc"), "incised"
	cells["width_in"], cells["condition"] = strconv.Itoa(13+m.IntN(24)), m.one("", "", "good", "worn")
}

var wives = strings.Fields("MARY SARAH ELIZABETH MARGARET NANCY JANE CATHARINE REBECCA HANNAH ANN SUSAN MARTHA")

// couple is a second stone: his and his wife's.
func (m *maker) couple(id string, p *man) []string {
	cells, done := m.start(id, p)
	lines := append([]string{m.name(p)}, m.dates(p)...)
	if m.IntN(3) == 0 {
		lines = append(lines, m.unit(p)...)
	}
	if m.IntN(2) == 0 {
		lines = append(lines, m.one(wives...), "HIS WIFE")
	}
	cells["inscription"] = strings.Join(lines, " / ")
	m.private(cells)
	return done()
}

// civilian is the stone of a man who never served, four in five of a family of the rosters.
func (m *maker) civilian(id string) []string {
	p := &man{given: firsts[m.IntN(len(firsts))], surname: m.family()}
	if m.IntN(3) == 0 {
		p.middle = firsts[m.IntN(len(firsts))]
	}
	p.born = m.on(1790 + m.IntN(110))
	p.died = m.on(p.born.y + 18 + m.IntN(70))
	cells, done := m.start(id, p)
	who := m.name(p)
	if m.IntN(4) == 0 {
		who = m.one(wives...) + " " + m.cut(strings.ToUpper(p.surname))
	}
	lines := append([]string{who}, m.dates(p)...)
	if m.IntN(5) == 0 {
		lines = append(lines, m.one("AT REST", "ASLEEP IN JESUS", "FATHER", "OUR SON"))
	}
	cells["inscription"] = strings.Join(lines, " / ")
	m.private(cells)
	return done()
}

// copied is a row of the register: what its keeper read off the stone, or had from the family.
func (m *maker) copied(id string, p *man) []string {
	cells, _ := m.start(id, p)
	last := p.rows[len(p.rows)-1]
	given := p.given
	if m.IntN(10) == 0 {
		given = given[:1] + "."
	}
	if p.middle != "" && m.IntN(2) == 0 {
		given += " " + p.middle[:1] + "."
	}
	cells["surname"], cells["given"] = m.cut(m.byEar(p.surname)), given
	if m.IntN(8) > 0 {
		cells["company"], cells["regiment"], cells["arm"], cells["body"] = last.company, strconv.Itoa(last.regiment), last.arm, last.state
	}
	if last.rankOut != "Private" && m.IntN(4) > 0 {
		cells["rank"] = last.rankOut
	}
	if m.IntN(4) > 0 {
		died := m.remembered(p.died)
		cells["died"] = died.text()
		if m.IntN(2) == 0 {
			cells["age"] = strconv.Itoa(max(1, died.y-p.born.y-m.IntN(2)))
		}
	}
	out := make([]string, len(registerColumns))
	for i, c := range registerColumns {
		out[i] = cells[c]
	}
	return out
}
