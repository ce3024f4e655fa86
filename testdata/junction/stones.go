package junction

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"
)

var stoneColumns = strings.Split("id,cemetery,county,state,section,row,plot,inscription,top,material,width_in,thickness_in,lettering,device,emblem,motifs,setting,condition,notes", ",")
var registerColumns = strings.Split("id,cemetery,state,section,row,plot,name,rank,unit,born,died,age", ",")

// yard is the survey as it grows.
type yard struct {
	*maker
	want, id                int
	stones, register, truth [][]string
}

// graves fills the grounds. Of a hundred graves 36 are of men on the rosters, 12 of veterans whom the rosters lack (half of them of regiments that they have), 52 of civilians.
// Of a hundred veterans seven have no stone and stand in the register alone, six have a second stone with the family's, eight stand in the register too; of civilians five.
// Three in four of those who fell have nothing here; the kin of a man who lies here came west with him one time in four.
func (m *maker) graves(want int) (stones, register, truth [][]string) {
	y := &yard{maker: m, want: want, stones: [][]string{stoneColumns}, register: [][]string{registerColumns}, truth: [][]string{{"stone", "record"}}}
	men := slices.DeleteFunc(slices.Clone(m.men), func(p *man) bool { return p.fell && m.chance(.75) })
	m.Shuffle(len(men), func(i, j int) { men[i], men[j] = men[j], men[i] })
	m.Shuffle(len(m.missed), func(i, j int) { m.missed[i], m.missed[j] = m.missed[j], m.missed[i] })
	for y.id < want {
		switch x := m.Float64(); {
		case x < .36:
			for len(men) > 0 && men[0].ground != "" {
				men = men[1:]
			}
			if len(men) == 0 { // more graves than men
				continue
			}
			for _, k := range men[0].kin {
				if len(k.rows) > 0 && m.chance(.25) {
					men = slices.Insert(men, 1, k)
				}
			}
			y.bury(men[0])
		case x < .42 && len(m.missed) > 0:
			y.bury(m.missed[0])
			m.missed = m.missed[1:]
		case x < .48:
			y.bury(m.enlist(m.company(m.raise([]int{0, 0, 0, 0, 0, 0, 2, 3, 5, 8}[m.IntN(10)], 0), m.IntN(10))))
		default:
			y.civilian()
		}
	}
	return y.stones, y.register, y.truth
}

var grounds = []string{"Prairie Home Cemetery", "Prairie Home Cemetery", "Prairie Home Cemetery", "Calvary Cemetery", "Railroad Addition Burying Ground"}

// lot is a place in a ground.
func (y *yard) lot() map[string]string {
	return map[string]string{"cemetery": y.any(grounds...), "county": "Orrin", "state": "NE", "section": y.any("1", "2", "3", "4", "Potter's Field"), "row": strconv.Itoa(1 + y.IntN(24)), "plot": strconv.Itoa(1 + y.IntN(40))}
}

// put writes one stone, or one row of the register, and what is true of it; a full survey takes no more.
func (y *yard) put(lot, cells map[string]string, p *man) {
	if y.id == y.want {
		return
	}
	y.id++
	cells["id"] = fmt.Sprintf("J%05d", y.id)
	to, columns := &y.stones, stoneColumns
	if cells["inscription"] == "" {
		to, columns = &y.register, registerColumns
	}
	var row []string
	for _, c := range columns {
		row = append(row, cmp.Or(cells[c], lot[c]))
	}
	*to = append(*to, row)
	if p != nil {
		for _, r := range p.rows {
			y.truth = append(y.truth, []string{cells["id"], r.id})
		}
	}
}

// bury gives a veteran his lot, and what stands of him on it and in the register.
func (y *yard) bury(p *man) {
	lot := y.lot()
	if p.people == y.irish && y.chance(.7) {
		lot["cemetery"] = "Calvary Cemetery"
	}
	if y.chance(.25) {
		lot["section"] = "Soldiers' Row"
	}
	p.ground = lot["cemetery"]
	y.buried = append(y.buried, p)
	if y.chance(.07) {
		y.put(lot, y.entry(p), p)
		return
	}
	if y.put(lot, y.marker(p), p); y.chance(.06) {
		y.put(lot, y.monument(p), p)
	}
	if y.chance(.08) {
		y.put(lot, y.entry(p), p)
	}
}

// brief are the short forms of given names: first the carvers' abbreviation, then what the man was called.
var brief = map[string][]string{"William": {"WM.", "WILL", "BILL"}, "John": {"JNO.", "JACK"}, "James": {"JAS.", "JIM"}, "George": {"GEO."}, "Thomas": {"THOS.", "TOM"}, "Samuel": {"SAML.", "SAM"}, "Joseph": {"JOS.", "JOE"}, "Charles": {"CHAS.", "CHARLEY"}, "Henry": {"HY.", "HARRY", "HANK"},
	"Robert": {"ROBT.", "BOB"}, "Andrew": {"ANDW.", "ANDY"}, "Daniel": {"DANL.", "DAN"}, "Benjamin": {"BENJ.", "BEN"}, "Alexander": {"ALEX."}, "Edward": {"EDWD.", "NED"}, "Francis": {"FRANCS.", "FRANK"}, "Frederick": {"FREDK.", "FRED"}, "Michael": {"MICHL.", "MIKE"}, "Nathaniel": {"NATHL.", "NAT"},
	"Abraham": {"ABM.", "ABE"}, "David": {"DAVD."}, "Albert": {"ALBT.", "BERT"}, "Alfred": {"ALFD."}, "Richard": {"RICHD.", "DICK"}, "Patrick": {"PATK.", "PAT"}, "Timothy": {"TIMY.", "TIM"}, "Stephen": {"STEPHN.", "STEVE"}, "Matthew": {"MATTW.", "MATT"}, "Augustus": {"AUG.", "GUS"},
	"Cornelius": {"CORNS.", "CON"}, "Theodore": {"THEO."}, "Jeremiah": {"JER.", "JERRY"}, "Lawrence": {"LAWCE.", "LARRY"}, "Christian": {"CHRISTN.", "CHRIS"}, "Nicholas": {"NICHS.", "NICK"}, "Philip": {"PHIL."}, "Anthony": {"ANTHY.", "TONY"}, "Solomon": {"SOLN.", "SOL"}, "Walter": {"WALTR.", "WALT"}}
var farms = strings.Fields("Bakken Dahl Haugen Lien Moen Berg Hagen Brekke Rud Solberg Strand Lunde Sather Tveit")

// called is a man's name as cut, by the family or by the government; parts is the same in two.
func (m *maker) called(p *man, private bool) string {
	given, surname := m.parts(p, private)
	return given + " " + surname
}

func (m *maker) parts(p *man, private bool) (given, surname string) {
	given, surname = p.given, p.surname
	switch {
	case private && p.own != "" && m.chance(.4):
		given = p.own
	case private && p.people.english != nil && m.chance(.12): // the children had become English
		surname = p.people.english.Replace(surname)
	case private && p.people == m.norse && m.chance(.08): // from his farm in the old country
		surname = m.any(farms...)
	case !private && len(p.rows) > 0 && m.chance(.5) && p.rows[0].given[0] == given[0]: // as the War Department had him
		surname = p.rows[0].surname
	}
	short, initials := brief[given], .08
	if m.messy {
		initials = .14
	}
	switch x := m.Float64(); {
	case x < .03 && p.middle != "":
		given = p.middle
	case x < .05 && p.middle != "":
		given = given[:1] + ". " + p.middle
	case x < .05+initials:
		if given = given[:1] + "."; p.middle != "" {
			given += " " + p.middle[:1] + "."
		}
	default:
		if private && x > .95 && len(short) > 1 {
			given = short[1+m.IntN(len(short)-1)]
		} else if len(short) > 0 && (x > .82 || !private && x > .55) {
			given = short[0]
		}
		if p.middle != "" && m.chance(.8) {
			if given += " " + p.middle[:1] + "."; private && m.chance(.15) {
				given = p.given + " " + p.middle
			}
		}
	}
	return strings.ToUpper(given), strings.ToUpper(surname)
}

// number is a regiment's number as cut: a figure dropped, misread or out of its place now and then.
func (m *maker) number(n int) string {
	s := strconv.Itoa(n)
	if m.of(.018, .045) {
		b := []byte(s)
		switch i := m.IntN(len(b)); {
		case len(b) > 1 && m.chance(.35):
			b = append(b[:i:i], b[i+1:]...)
		case len(b) > 1 && m.chance(.3):
			b[0], b[1] = b[1], b[0]
		default:
			b[i] = "6778965134"[b[i]-'0']
		}
		if b[0] != '0' {
			s = string(b)
		}
	}
	if n, _ := strconv.Atoi(s); m.chance(.12) {
		if s = strings.ToUpper(nth(n)); m.chance(.5) {
			s = strings.NewReplacer("ND", "D", "RD", "D").Replace(s)
		}
	}
	return s
}

var cutState = map[string][]string{"Illinois": {"ILL.", "ILLS."}, "Indiana": {"IND."}, "Iowa": {"IOWA", "IA."}, "Wisconsin": {"WIS."}, "Kansas": {"KANS.", "KAN."}, "New York": {"N. Y."}, "Pennsylvania": {"PA.", "PENNA."}, "Connecticut": {"CONN."}, "U. S. Colored": {"U. S. C.", "U. S. COL."}, "Veteran Reserve Corps": {"V. R. C."}}
var cutArm = map[string][]string{"Infantry": {"INF.", "INF.", "INF.", "INFTY.", "INF'Y"}, "Cavalry": {"CAV."}, "Heavy Artillery": {"H. A.", "HVY. ART."}, "Light Artillery": {"L. A.", "LT. ART."}, "Field Artillery": {"F. A."}}
var cutRank = map[string][]string{"Corporal": {"CORPL.", "CORP."}, "Sergeant": {"SERGT.", "SERG."}, "First Sergeant": {"1 SERGT.", "1ST SERGT.", "ORD. SERGT."}, "Musician": {"MUS.", "MUSN."}, "Wagoner": {"WAG.", "WAGR."}, "Second Lieutenant": {"2 LIEUT."}, "First Lieutenant": {"1 LIEUT.", "LIEUT."}, "Captain": {"CAPT."},
	"Landsman": {"LANDS."}, "Ordinary Seaman": {"ORD. SEA."}, "Seaman": {"SEA."}, "Coal Heaver": {"COAL HVR."}}
var alike = map[string]string{"A": "H", "B": "D", "C": "G", "D": "B", "E": "F", "F": "E", "G": "C", "H": "K", "I": "J", "K": "H", "L": "I", "M": "H"}

// state is a state as cut; as print has it, where carvers had no form of their own.
func (m *maker) state(name string) string {
	if forms := cutState[name]; forms != nil {
		return m.any(forms...)
	}
	return strings.ToUpper(printed[name])
}

// unit is what was cut of a man's service: the last, mostly, where there were two.
func (m *maker) unit(p *man) (rank string, lines []string) {
	t := p.terms[len(p.terms)-1]
	if m.chance(.4) {
		t = p.terms[0]
	}
	named := t.rankOut
	if m.chance(.06) {
		named = t.rankIn
	} else if named == "First Lieutenant" && m.chance(.1) { // as they called him
		named = "Captain"
	}
	if forms := cutRank[named]; forms != nil && m.chance(.94) {
		rank = m.any(forms...)
	}
	if t.ship != "" {
		if m.chance(.35) {
			return rank, []string{m.any("U. S. NAVY", "U. S. N.")}
		}
		return rank, []string{"U. S. S.", strings.ToUpper(t.ship)}
	}
	company := t.letter
	if m.of(.02, .04) {
		company = alike[company]
	}
	line := m.state(t.state) + " "
	if m.chance(.96) && t.arm != "" {
		line += m.any(cutArm[t.arm]...)
	}
	if t.state == "U. S. Colored" {
		line = m.any("U. S. C. I.", "U. S. C. INF.", "U. S. COL. INF.", "U. S. C. T.")
	}
	if number := m.number(t.number); t.old != "" && m.chance(.15) {
		words := strings.Fields(t.old)
		line = words[0][:1] + " " + m.state(words[1]) + " COL. INF."
	} else if m.chance(.974) {
		line = number + " " + line
	}
	line = strings.Join(strings.Fields(line), " ")
	if m.chance(.945) {
		of := "CO. "
		if t.arm == "Light Artillery" || t.arm == "Field Artillery" {
			of = m.any("BTRY. ", "BATT. ")
		}
		if lines = []string{of + company, line}; m.chance(.1) {
			lines = []string{of + company + ", " + line}
		}
	} else {
		lines = []string{line}
	}
	if t.rebel && m.chance(.92) {
		lines = append(lines, "C. S. A.")
	}
	return rank, lines
}

// recalled is a date as the family gave it.
func (m *maker) recalled(t time.Time) time.Time {
	wrong := .06
	if m.messy {
		wrong = .12
	}
	switch x := m.Float64() / wrong; {
	case x < .6:
		return t.AddDate(m.IntN(2)*2-1, 0, 0)
	case x < .7:
		return t.AddDate(10-20*m.IntN(2), 0, 0)
	case x < .85:
		return t.AddDate(0, m.IntN(2)*2-1, 0)
	case x < 1:
		return t.AddDate(0, 0, 1+m.IntN(9))
	}
	return t
}

// upper is a day as cut.
func upper(t time.Time) string { return strings.ToUpper(day(t, "Jan. 2, 2006")) }

// life are the lines of a life: years, dates, or a death and an age. Older stones count the days.
func (m *maker) life(born, died time.Time) []string {
	if born, died = m.recalled(born), m.recalled(died); m.chance(.1) {
		born = born.AddDate(m.IntN(5)-2, 0, 0)
	}
	if !died.After(born) {
		died = born.AddDate(0, 3, 0)
	}
	years := died.Year() - born.Year()
	rest := died.AddDate(-years, 0, 0)
	if rest.Before(born) {
		years--
		rest = died.AddDate(-years, 0, 0)
	}
	months, days := int(rest.Sub(born).Hours()/24)/31, int(rest.Sub(born).Hours()/24)%31
	switch x := m.Float64(); {
	case m.chance(.02):
		return nil
	case died.Year() < 1890 && x < .6:
		return []string{"DIED", upper(died), fmt.Sprintf("%s %d Y'RS %d M'S %d D'S", m.any("AGED", "AE."), years, months, days)}
	case x < .25:
		return []string{"DIED " + upper(died), fmt.Sprintf("%s %d %s", m.any("AGED", "AE."), years, m.any("YEARS", "YRS."))}
	case x < .5:
		return []string{"BORN " + upper(born), "DIED " + upper(died)}
	case x < .6:
		return []string{upper(born), upper(died)}
	}
	return []string{fmt.Sprintf("%d%s%d", born.Year(), m.any(" - ", "-", " "), died.Year())}
}

// forms are the looks of stones: top, material, lettering, device, width, thickness, setting.
var forms = map[string][]string{
	"shield":      {"rounded|white marble|raised|recessed shield|10|4|upright", "rounded|white marble|raised|recessed shield|12|4|upright", "rounded|marble|raised|recessed shield|12|4|"},
	"confederate": {"pointed|white marble|incised|none|12|4|upright", "pointed|white marble|incised|confederate cross|12|4|upright"},
	"general":     {"slightly rounded|white marble|incised||13|4|upright", "slightly rounded|white marble|incised||13|4|", "flat|granite|incised||24|4|flush", "flat|bronze|raised||24|0.75|flush"},
	"private":     {"flat|granite|incised||24|12|upright", "square|granite|raised||30|10|", "rounded|marble|incised||18|2|upright", "pointed|marble|incised||16|3|", "other|zinc|raised||22|22|upright", "rounded|sandstone|incised||20|3|upright", "flat|granite|incised||24|4|flush"},
}

// stone makes the cells of a stone: its looks by its form, its lines as weather has left them.
func (m *maker) stone(form string, lines []string) map[string]string {
	c := map[string]string{"notes": m.any("", "", "", "", "", "lichen", "leans", "base sunk", "read in low sun")}
	for i, v := range strings.Split(m.any(forms[form]...), "|") {
		c[[...]string{"top", "material", "lettering", "device", "width_in", "thickness_in", "setting"}[i]] = v
	}
	if form == "general" {
		c["emblem"] = m.any("Latin cross", "Latin cross", "")
	}
	if m.chance(.4) { // the carver spared points
		for i, l := range lines {
			lines[i] = strings.ReplaceAll(l, ".", "")
		}
	}
	c["condition"] = m.weather(lines)
	c["inscription"] = strings.Join(lines, " / ")
	return c
}

// seen are the signs that weathered ones are taken for.
var seen = map[byte]string{'A': "4R", 'B': "RE8", 'C': "GO", 'D': "OB", 'E': "FB", 'F': "EP", 'G': "CO", 'H': "NMK", 'I': "LT1", 'K': "RX", 'L': "IE", 'M': "NH", 'N': "MH", 'O': "CDQ", 'P': "FR", 'Q': "O", 'R': "KBP", 'S': "B5", 'T': "IY", 'U': "VO", 'V': "UY", 'W': "VM", 'Y': "VT", 'Z': "2", 'J': "I",
	'0': "68", '1': "74", '2': "7", '3': "85", '4': "19", '5': "63", '6': "058", '7': "12", '8': "360", '9': "40"}

// weather takes letters off the lines and says how the stone looks: a few from most stones, three in a hundred from worn ones, eight from bad ones, and a corner from some of those.
func (m *maker) weather(lines []string) string {
	rate, looks := .003, m.any("", "", "good", "fair")
	switch x := m.Float64(); {
	case x < .04 || m.messy && x < .12:
		rate, looks = .08, m.any("poor", "badly weathered")
	case x < .16 || m.messy && x < .38:
		rate, looks = .03, m.any("worn", "fair", "lichen over letters")
	}
	broken, left := len(lines), m.chance(.5) // the first line of a broken corner, which takes two
	if rate > .05 && m.chance(.4) {
		broken, looks = m.IntN(len(lines)), "spalled"
	}
	for i, l := range lines {
		corner := 0
		if i == broken || i == broken+1 {
			corner = min(1+m.IntN(5), len(l)-1)
		}
		out, gone := "", 0
		for j := range len(l) {
			lost := left && j < corner || !left && j >= len(l)-corner
			x := m.Float64() / rate
			if lost || x < .4 && seen[l[j]] != "" {
				gone++
				continue
			}
			if gone > 0 {
				out, gone = out+"["+strings.Repeat(".", gone)+"]", 0
			}
			switch out += l[j : j+1]; {
			case seen[l[j]] == "" || x >= 1:
			case x < .65:
				out += "\u0323"
			default:
				out = out[:len(out)-1] + m.any(strings.Split(seen[l[j]], "")...)
			}
		}
		if gone > 0 {
			out += m.any("[---]", "["+strings.Repeat(".", gone)+"]")
		}
		lines[i] = out
	}
	return looks
}

// marker is the one stone that most veterans have: of a hundred of 1861, some 52 the government's, 24 private ones that tell of the service, 12 family stones, 12 that tell nothing.
func (y *yard) marker(p *man) map[string]string {
	t, x := p.terms[0], y.Float64()
	switch {
	case p.fell:
		return y.empty(p)
	case x < .12:
		return y.monument(p)
	case x < .48:
		return y.private(p, x > .24)
	case t.war == 1917 || t.war == 1898 && x < .6:
		return y.stone("general", y.general(p, t))
	}
	lines := []string{y.called(p, false)}
	if p.suffix != "" && y.chance(.5) {
		lines[0] += " JR."
	}
	rank, unit := y.unit(p)
	if rank != "" && y.chance(.35) {
		lines[0] = rank + " " + lines[0]
	} else if rank != "" {
		lines = []string{rank, lines[0]}
	}
	if lines = append(lines, unit...); t.war == 1898 {
		lines = append(lines, "SP. AM. WAR")
	}
	if y.chance(.1) {
		lines = append(lines, "DIED "+upper(y.recalled(p.died)))
	}
	if t.rebel {
		return y.stone("confederate", lines)
	}
	return y.stone(y.any("shield", "shield", "shield", "shield", "shield", "shield", "shield", "shield", "shield", "general"), lines)
}

// private is the stone that a family bought; telling, where it tells of the service.
func (y *yard) private(p *man, telling bool) map[string]string {
	t := p.terms[0]
	lines := append([]string{y.called(p, true)}, y.life(p.born, p.died)...)
	if telling {
		rank, unit := y.unit(p)
		if rank != "" && y.chance(.4) {
			lines[0] = rank + " " + lines[0]
		}
		if y.chance(.15) {
			unit[0] = y.any("MEMBER OF ", "LATE OF ") + unit[0]
		}
		lines = append(lines, unit...)
		switch {
		case y.chance(.5):
		case t.war == 1898:
			lines = append(lines, "SPANISH AMERICAN WAR")
		case t.war == 1917:
			lines = append(lines, "WORLD WAR")
		case !t.rebel && y.chance(.4):
			lines = append(lines, y.any("A SOLDIER OF THE CIVIL WAR", "G. A. R.", "A VETERAN OF 1861 - 65"))
		}
	} else if y.chance(.3) {
		lines = append(lines, y.any("AT REST", "FATHER", "GONE HOME"))
	}
	c := y.stone("private", lines)
	if t.war == 1861 && !t.rebel && y.chance(.3) {
		c["motifs"] = y.any("GAR star flag holder", "GAR flag holder", "crossed muskets", "shield with stars")
	}
	return c
}

// general are the lines of the government's stone of 1922 and after: the state heads them, and is that of a home, not of a regiment.
func (y *yard) general(p *man, t *term) []string {
	rank := strings.NewReplacer("First ", "1 ", "Second ", "2 ", "Lieutenant", "LT", "Captain", "CAPT", "Private", "PVT", "Corporal", "CPL", "Sergeant", "SGT", "Musician", "MUS", "Wagoner", "WAG").Replace(t.rankOut)
	company, state, number := "CO "+t.letter+" ", "", y.number(t.number)
	arm, division := "INF", 76+(t.number-301)/4
	if t.arm != "Infantry" {
		company, arm, division = "BTRY "+t.letter+" ", "FA", 76+(t.number-301)/3
	}
	war, dates := "WORLD WAR I", upper(y.recalled(p.died))
	if t.war == 1898 {
		war, state = "SPANISH AMERICAN WAR", strings.ToUpper(printed[t.state])+" "
	} else if y.chance(.5) {
		company, arm = "", fmt.Sprintf("%s %d DIV", arm, division)
	}
	if y.chance(.4) {
		dates = upper(p.born) + " " + dates
	}
	lines := []string{y.any("NEBRASKA", "NEBRASKA", "NEBRASKA", "IOWA", "MISSOURI"), y.called(p, false), rank + " " + company + number + " " + state + arm, war, dates}
	for i, l := range lines {
		lines[i] = strings.NewReplacer(".", "", ",", "").Replace(l)
	}
	return lines
}

// empty is a stone at home over no grave, for one who fell.
func (y *yard) empty(p *man) map[string]string {
	lines := []string{y.called(p, true)}
	if y.chance(.3) {
		lines = []string{"IN MEMORY OF", lines[0]}
	}
	if _, unit := y.unit(p); y.chance(.8) {
		lines = append(lines, unit...)
	}
	t, end := p.terms[0], "DIED"
	if t.end == "Killed in action" {
		end = "KILLED"
	}
	if y.chance(.6) {
		end += " AT " + strings.ToUpper(t.where)
	}
	if lines = append(lines, end, upper(y.recalled(p.died))); y.chance(.5) {
		lines = append(lines, fmt.Sprintf("AGED %d YEARS", p.died.Year()-p.born.Year()))
	}
	return y.stone("private", lines)
}

var women = strings.Fields("Mary Sarah Elizabeth Margaret Nancy Jane Catharine Rebecca Hannah Ann Susan Martha Anna Emma Ella Minnie Ida Bridget Ellen Caroline Louisa Augusta Bertha Clara Amelia Harriet Lucinda Matilda")

// monument is the family's stone: the surname, and those who lie about it.
func (y *yard) monument(p *man) map[string]string {
	given, surname := y.parts(p, true)
	born, died := y.recalled(p.born), y.recalled(p.died)
	lines := []string{surname, fmt.Sprintf("%s %d - %d", given, born.Year(), died.Year())}
	if _, unit := y.unit(p); y.chance(.45) {
		lines = append(lines, unit...)
	}
	if wife := p.born.Year() + y.IntN(12); y.chance(.8) {
		lines = append(lines, fmt.Sprintf("%s HIS WIFE %d - %d", strings.ToUpper(y.any(women...)), wife, wife+30+y.IntN(55)))
	}
	return y.stone("private", lines)
}

// entry is a row of the register that a post of veterans kept of their dead.
func (y *yard) entry(p *man) map[string]string {
	given, _ := y.parts(p, true)
	c := y.interred(given, y.written(p.surname, p.people), p.born, p.died)
	if t := p.terms[len(p.terms)-1]; y.chance(.8) {
		if c["unit"] = whole(t.company); t.ship != "" || y.chance(.05) {
			c["unit"] = unitIn(t.company, history)
		}
		c["rank"] = y.any("", t.rankOut, t.rankOut)
	}
	return c
}

// interred are the cells of the register that every row has.
func (y *yard) interred(given, surname string, born, died time.Time) map[string]string {
	name := []byte(surname + ", " + given)
	for i := 1; i < len(name); i++ {
		if before := name[i-1]; before >= 'A' && before <= 'Z' || before >= 'a' && before <= 'z' {
			name[i] = strings.ToLower(string(name[i]))[0]
		}
	}
	c := map[string]string{"name": string(name)}
	died = y.recalled(died)
	if !y.chance(.02) {
		c["died"] = day(died, y.any("Jan. 2, 2006", "2006"))
	}
	if y.chance(.6) {
		c["age"] = strconv.Itoa(max(0, int(died.Sub(born).Hours()/24/365.25)+y.IntN(2)*y.IntN(2)))
	} else if y.chance(.4) {
		c["born"] = strconv.Itoa(born.Year())
	}
	return c
}

// civilian is one who did not serve: of a hundred 45 women and 17 children. A third are of the kin of the veterans here; of those, a woman may be named with her soldier, and a man with his father's name.
func (y *yard) civilian() {
	f := []*people{y.settled, y.settled, y.settled, y.settled, y.german, y.german, y.irish, y.norse, y.freed}[y.IntN(9)]
	p, lot := &man{people: f, surname: f.surname(y.maker)}, y.lot()
	var of *man
	if len(y.buried) > 0 && y.chance(.33) {
		of = y.buried[y.IntN(len(y.buried))]
		p.people, p.surname, lot["cemetery"] = of.people, of.surname, of.ground
	}
	y.christen(p, f.middle)
	p.died = y.between(on(1868, 1, 1), on(1945, 1, 1))
	p.born = y.within(p.died.AddDate(-18-y.IntN(72), 0, 0), 1)
	said := y.any("AT REST", "ASLEEP", "GONE BUT NOT FORGOTTEN", "FATHER")
	var with []string
	switch kind := y.Float64(); {
	case kind < .17:
		p.born, said = y.between(p.died.AddDate(-16, 0, 0), p.died), "OUR DARLING"
		if of != nil && y.chance(.4) {
			with = []string{y.any("SON OF", "CHILD OF"), strings.ToUpper(fmt.Sprintf("%s. & %s %s", of.given[:1], y.any(women...), p.surname))}
		}
	case kind < .62:
		p.given, p.own, p.middle, said = y.any(women...), "", y.any("", "", "", "Ann", "Jane", "Louisa"), y.any("AT REST", "MOTHER")
		if of != nil && y.chance(.5) {
			with = []string{"WIFE OF", y.called(of, true)}
		}
	case of != nil && y.chance(.15): // the soldier's son, and his namesake
		p.given, p.own, p.middle, p.born = of.given, of.own, of.middle, y.within(of.born.AddDate(20, 0, 0), 18)
		p.died = y.within(p.born.AddDate(30+y.IntN(50), 0, 0), 1)
	}
	given, surname := y.parts(p, true)
	entry := y.interred(given, surname, p.born, p.died)
	if y.chance(.07) {
		y.put(lot, entry, nil)
		return
	}
	lines := append(append([]string{y.called(p, true)}, with...), y.life(p.born, p.died)...)
	if y.chance(.25) {
		lines = append(lines, said)
	}
	c := y.stone("private", lines)
	if y.chance(.012) { // a holder that was moved
		c["motifs"] = "GAR star flag holder"
	}
	if y.put(lot, c, nil); y.chance(.05) {
		y.put(lot, entry, nil)
	}
}
