package orchard

import (
	"fmt"
	"strings"
)

// look is what a stone looks like.
type look struct {
	top, material, width, thick, high, letters, device, emblem, motifs, setting string
}

// ground are the survey's stones and the sexton's book, on their way to files.
type ground struct {
	*world
	dice                // of the stones alone: the rosters are the same however worn these are
	read, words    dice // of the hands, of the cutters
	wear           wear
	stones, sexton *sheet
	truth          map[string]*man // by the id of a stone
	families       []string        // surnames of the ground
	n, limit       int
}

func newGround(w *world, opt Options) *ground {
	return &ground{
		world: w, dice: newDice(opt.Seed, 3), read: newDice(opt.Seed, 4), words: newDice(opt.Seed, 5), wear: wearOf(opt.Messy), limit: opt.Stones, truth: map[string]*man{},
		stones: &sheet{file: "stones.csv", about: "Stones of an invented burial ground", prefix: "S",
			columns: cols("Burying_Ground=cemetery County=county State=state Section=section Lot=plot inscription=inscription Shape=top Stone=material Wide=width_in Thick=thickness_in High=height_in Letters=lettering Shield_or_Cross=device Emblem=emblem Carving=motifs Setting=setting State_of_Stone=condition Read_By=recorder Read_On=recorded Remarks=notes")},
		sexton: &sheet{file: "register-sexton.csv", about: "The sexton's book of the same burial ground", prefix: "R",
			columns: cols("Burying_Ground=cemetery County=county State=state Surname=surname Christian_Name=given Died=died Age=age Cause Old_Soldier=unit Lot=plot Remarks=notes")},
	}
}

// stone sets a stone, of a man of a roster if m is one.
func (g *ground) stone(m *man, lines []string, l look, notes string) {
	var kept []string
	for _, line := range lines {
		if line = strings.TrimSpace(line); line != "" {
			kept = append(kept, line)
		}
	}
	h := hands[g.read.IntN(len(hands))]
	words := h.take(g.read, kept, g.wear)
	cells := []string{l.top, l.material, l.width, l.thick, l.high, l.letters, l.device, l.emblem, l.motifs, l.setting}
	for i := range cells {
		if g.read.chance(g.wear.worn * .6) {
			cells[i] = ""
		}
	}
	row := append([]string{g.ground, g.own.name, g.own.state, g.of("A", "B", "C", "Old"), fmt.Sprint(g.between(1, 240)), words}, cells...)
	row = append(row, g.of("good", "fair", "worn", "lichen", "leaning", ""), h.name, day{2019 + g.IntN(4), g.between(4, 10), g.between(1, 28)}.write("iso"), notes)
	g.settle(g.stones, m, row)
}

func (g *ground) settle(t *sheet, m *man, row []string) {
	id := t.add(row...)
	g.n++
	if m != nil && len(m.records) > 0 {
		g.truth[id] = m
	}
}

// private is the look of a stone that a family bought.
func (g *ground) private() look {
	l := look{top: g.of("flat", "square", "other", "rounded", "slightly rounded"), material: g.of("granite", "granite", "marble", "sandstone", "slate", "zinc"), setting: g.of("upright", "upright", "block", "flush"), letters: g.of("incised", "incised", "raised"), device: "none"}
	l.width, l.thick, l.high = fmt.Sprint(g.between(14, 40)), fmt.Sprint(g.between(2, 14)), fmt.Sprint(g.between(14, 60))
	l.motifs = g.of("", "", "willow", "clasped hands", "ivy", "open book", "square and compasses", "three links")
	return l
}

// issued is the look of a government stone of a man's war.
func (g *ground) issued(m *man) look {
	inch := func(n int) string {
		if g.chance(.15) {
			return fmt.Sprintf("%d.%d", n-g.IntN(2), 25*g.IntN(4))
		}
		return fmt.Sprint(n)
	}
	switch {
	case m.war == civil && m.side == "confederate":
		l := look{top: "pointed", material: "white marble", width: inch(12), thick: inch(4), high: inch(g.between(22, 26)), letters: "incised", device: "none", setting: "upright"}
		if m.died.y > 1925 || g.chance(.6) {
			l.device = "confederate cross"
		}
		return l
	case m.war <= spanish:
		l := look{top: "rounded", material: g.of("white marble", "marble"), width: inch(12), thick: inch(4), high: inch(g.between(20, 27)), letters: "raised", device: "recessed shield", setting: "upright"}
		if m.died.y < 1903 && g.chance(.7) {
			l.width, l.high = inch(10), inch(g.between(11, 20))
		}
		return l
	case m.died.y > 1939 && g.chance(.4):
		l := look{top: "flat", material: g.of("granite", "white marble", "bronze"), width: inch(24), thick: inch(4), high: "0", letters: "incised", device: "none", setting: "flush", emblem: g.of("", "", "Latin cross")}
		if l.material == "bronze" {
			l.letters, l.thick = "raised", "0.75"
		}
		return l
	}
	return look{top: "slightly rounded", material: "white marble", width: inch(13), thick: inch(4), high: inch(g.between(22, 26)), letters: "incised", device: "none", setting: "upright", emblem: g.of("Latin cross", "Latin cross", "", "Star of David")}
}

// cut is a man's name as his stone has it.
func (g *ground) cut(m *man, full float64) string {
	h := habits{initials: .16, short: .2, familiar: .04, middleDropped: .22, middleFull: .05, ear: .05, hasty: .008, there: .12, middleFirst: .02}
	if g.words.chance(full) {
		h.initials, h.short = .05, .03
	}
	if m.war >= second {
		h.short, h.ear = 0, .005
	}
	a := g.words.name(g.tables, m, h)
	name := a.first() + " " + a.surname
	if m.suffix != "" && g.words.chance(.7) {
		name += ", " + m.suffix
	}
	return strings.ToUpper(name)
}

// served are a man's company and unit as his stone has them.
func (g *ground) served(m *man) (company, unit string) {
	u, co := m.unit, m.company
	if m.second.num > 0 && g.words.chance(.4) {
		u, co = m.second, m.secondCompany
	}
	if co != "" && g.words.chance(.015) {
		co = string("ABCDEFGHIK"[g.words.IntN(10)])
	}
	if u.num > 0 && g.words.chance(.015) {
		u.num = max(1, u.num+g.words.number(-1, 1, 10, -10))
	}
	unit = u.stone(g.words, g.tables)
	if co != "" {
		company = g.words.of("CO. ", "CO. ", "CO. ", "COMPANY ") + co
		if u.arm == "heavy" || u.arm == "fa" {
			company = g.words.of("BTRY. ", "BATTY. ") + co
		}
	}
	return company, unit
}

func (g *ground) rankCut(full string) string {
	if form := ranksStone[full]; form != "" {
		return g.words.one(form)
	}
	return ""
}

// dates are a man's dates in one line or two, or none.
func (g *ground) dates(born, died day, how string) []string {
	if g.words.chance(.04) {
		born.y += g.words.number(-1, 1, 2, -2)
	}
	b, d := strings.ToUpper(born.write(how)), strings.ToUpper(died.write(how))
	switch g.words.IntN(6) {
	case 0:
		return []string{fmt.Sprintf("%d - %d", born.y, died.y)}
	case 1:
		return []string{fmt.Sprintf("%d %d", born.y, died.y)}
	case 2:
		return []string{"BORN " + b, "DIED " + d}
	case 3:
		return []string{b + " - " + d}
	case 4:
		age := died.age(born)
		if age > 1 && g.words.chance(.6) {
			y, m, ds := died.since(born)
			return []string{"DIED " + d, fmt.Sprintf("AGED %d YRS. %d MOS. %d DS.", y, m, ds)}
		}
		return []string{"DIED " + d, fmt.Sprintf("AGED %d YEARS", age)}
	}
	return []string{"B. " + b, "D. " + d}
}

// government is a government stone.
func (g *ground) government(m *man) {
	company, unit := g.served(m)
	name, rank := g.cut(m, 0), g.rankCut(m.rankOut)
	if m.war >= spanish && rank == "" && m.rankOut == "private" && (m.war >= great || g.words.chance(.2)) {
		rank = g.words.of("PVT.", "PVT.", "PVT")
	}
	lines := []string{rank, name}
	if rank != "" && g.words.chance(.35) || len(rank) > 0 && len(rank) < 5 && g.words.chance(.2) {
		lines = []string{rank + " " + name}
	}
	if first, last, ok := strings.Cut(name, " "); ok && len(name) > 15 && m.war <= spanish && g.words.chance(.4) {
		if a, b, ok := strings.Cut(last, " "); ok { // GEORGE W. / HENDERSON
			first, last = first+" "+a, b
		}
		lines = []string{rank, first, last}
	}
	switch {
	case m.war == revolution || m.war == of1812:
		lines = append(lines, unit, g.words.of("REV. WAR", "REVOLUTIONARY WAR"))
		if m.war == of1812 {
			lines[len(lines)-1] = g.words.of("WAR OF 1812", "WAR 1812")
		} else if g.words.chance(.3) {
			lines[len(lines)-2] = "CONTINENTAL LINE"
		}
		if g.words.chance(.4) {
			lines = append(lines, fmt.Sprintf("%d - %d", m.born.y, m.died.y))
		}
	case m.branch == "navy" && m.war == civil:
		lines = append(lines, g.words.of("U.S.S. "+strings.ToUpper(m.ship), "U.S. NAVY", "U.S.N."))
	case m.branch == "marines" && m.war == civil:
		lines = append(lines, g.words.of("U.S. MARINE CORPS", "U.S.M.C."))
	case m.war <= spanish:
		if g.words.chance(.3) && company != "" {
			lines = append(lines, company+g.words.of(", ", " ")+unit)
		} else {
			lines = append(lines, company, unit)
		}
		switch {
		case m.side == "confederate":
			lines = append(lines, g.words.of("C.S.A.", "C.S.A.", "C. S. A."))
		case m.war == spanish && g.words.chance(.85):
			lines = append(lines, g.words.of("SP. AM. WAR", "SP. AM. WAR", "SPANISH AMERICAN WAR"))
		case m.war == mexican:
			lines = append(lines, "MEX. WAR")
		}
		if g.words.chance(.08) {
			lines = append(lines, fmt.Sprintf("%d - %d", m.born.y, m.died.y))
		} else if g.words.chance(.06) {
			lines = append(lines, "DIED "+strings.ToUpper(m.died.write("book")))
		}
		if g.words.chance(.06) {
			lines = append([]string{fmt.Sprint(g.between(20, 9000))}, lines...)
		}
	default:
		lines = g.modern(m, name, rank, company, unit)
	}
	notes := g.of("", "", "", "", "G.A.R. star holder", "flag", "reset")
	if m.war >= great {
		notes = g.of("", "", "", "Legion holder", "flag")
	}
	g.stone(m, lines, g.issued(m), notes)
}

// modern is the words of a stone of the general kind: the state of residence, the name, the rank and the unit on one line, then the war and dates.
func (g *ground) modern(m *man, name, rank, company, unit string) []string {
	w := g.words
	home := strings.ToUpper(g.states[m.home.state].name)
	switch {
	case m.branch == "navy":
		unit = w.of("U.S. NAVY", "U.S.N.", "U.S. NAVY")
		if rank == "PVT." || rank == "PVT" {
			rank = "SEA."
		}
	case m.branch == "marines":
		unit = w.of("U.S. MARINE CORPS", "U.S.M.C.", "U.S. MARINES")
	case m.branch == "coast guard":
		unit = "U.S. COAST GUARD"
	case m.branch == "air":
		unit = w.of("ARMY AIR FORCES", "A.A.F.")
		if m.war == korea {
			unit = "U.S. AIR FORCE"
		}
	case m.war >= second && w.chance(.5):
		unit, company = "U.S. ARMY", ""
	}
	if m.unit.division > 0 && unit != "U.S. ARMY" && w.chance(.6) {
		unit += w.of(" ", ", ") + fmt.Sprint(m.unit.division) + w.of(" DIV.", " DIV.", " INF. DIV.")
	}
	lines := []string{home, name, rank + " " + unit}
	if company != "" && w.chance(.42) {
		lines = []string{home, name, rank, company + " " + unit}
		if w.chance(.5) {
			lines = []string{home, name, rank + " " + company + " " + unit}
		}
	}
	if m.died.y > 1945 && w.chance(.75) || m.war == second || m.war == korea {
		war := []string{"WORLD WAR I", "WORLD WAR II", "KOREA"}[m.war-great]
		if w.chance(.1) {
			war = []string{"W.W. I", "WW II", "KOREA"}[m.war-great]
		}
		lines = append(lines, war)
	}
	if m.died.y > 1942 && w.chance(.7) {
		lines = append(lines, strings.ToUpper(strings.ReplaceAll(m.born.write("full"), ",", "")), strings.ToUpper(strings.ReplaceAll(m.died.write("full"), ",", "")))
	} else if w.chance(.85) {
		lines = append(lines, strings.ToUpper(m.died.write("full")))
	}
	if w.chance(.03) {
		lines = append(lines, w.of("PURPLE HEART", "BRONZE STAR MEDAL", "P H"))
	}
	return lines
}

// family is a family's stone: a man and his wife, a man alone, or a father with his son; told says whether it names the son's or husband's service.
func (g *ground) family(m *man, told bool) {
	company, unit := g.served(m)
	name := g.cut(m, .7)
	how := g.words.of("book", "full", "full", "plain")
	if rank := g.rankCut(m.rankOut); told && rank != "" && m.rankOut != "private" && g.words.chance(.6) {
		name = rank + " " + name
	}
	lines := []string{name}
	if told {
		switch {
		case m.war == revolution:
			lines = append(lines, g.words.of("A SOLDIER OF THE REVOLUTION", "A REVOLUTIONARY SOLDIER", "SOLDIER IN THE REVOLUTIONARY WAR"))
		case m.war == of1812:
			lines = append(lines, g.words.of("SOLDIER OF 1812", "A SOLDIER OF THE WAR OF 1812"))
		case m.branch == "navy":
			lines = append(lines, g.words.of("U.S. NAVY", "U.S.N."))
		case m.branch != "":
			lines = append(lines, map[string]string{"marines": "U.S.M.C.", "coast guard": "U.S. COAST GUARD", "air": "U.S. AIR FORCE"}[m.branch])
		case m.war >= great && g.words.chance(.4):
			lines = append(lines, []string{"WORLD WAR VETERAN", "WORLD WAR II", "KOREA"}[m.war-great])
		case company != "" && g.words.chance(.7):
			lines = append(lines, company+" "+unit)
		default:
			lines = append(lines, unit)
			if company != "" {
				lines = []string{name, company, unit}
			}
		}
	}
	if m.fell != "" { // a name on the family's stone: he lies where he fell
		lines = append(lines, "DIED "+strings.ToUpper(m.fell), strings.ToUpper(m.died.write(how)), fmt.Sprintf("AGED %d YEARS", m.died.age(m.born)))
	} else {
		lines = append(lines, g.dates(m.born, m.died, how)...)
	}
	surname := strings.ToUpper(m.surname)
	switch {
	case m.fell == "" && g.words.chance(.5):
		wife := strings.ToUpper(g.words.of(mothers...))
		w := day{m.born.y + g.words.between(0, 8), g.words.between(1, 12), g.words.between(1, 28)}
		lines = append(lines, wife+g.words.of("", " HIS WIFE", ", HIS WIFE"))
		lines = append(lines, g.dates(w, g.words.day(w.y+40, w.y+85), how)...)
	case (m.fell != "" || g.words.chance(.1)) && g.words.chance(.4):
		f := day{m.born.y - g.words.between(22, 38), g.words.between(1, 12), g.words.between(1, 28)}
		father := append([]string{strings.ToUpper(m.father) + " " + surname}, g.dates(f, g.words.day(f.y+50, f.y+85), how)...)
		lines = append(father, lines...)
	case g.words.chance(.15):
		lines = append([]string{g.words.of("FATHER", "OUR FATHER", "IN MEMORY OF", "SACRED TO THE MEMORY OF")}, lines...)
	}
	if g.words.chance(.15) {
		lines = append([]string{surname}, lines...)
	}
	if g.words.chance(.12) {
		lines = append(lines, g.words.of("AT REST", "GONE BUT NOT FORGOTTEN", "ASLEEP IN JESUS", "BLESSED ARE THE DEAD WHO DIE IN THE LORD", "REST SOLDIER REST"))
	}
	l := g.private()
	notes := g.of("", "", "", "family lot")
	if m.war == civil && m.side == "union" && g.chance(.3) {
		notes = "G.A.R. star holder"
	} else if told && g.chance(.1) {
		l.motifs = g.of("crossed swords", "flag", "eagle and shield", "crossed muskets")
	}
	g.stone(m, lines, l, notes)
}

// book is a row of the sexton's book.
func (g *ground) book(m *man, surname, given string, born, died day) {
	soldier := ""
	if m != nil {
		a := g.words.name(g.tables, m, habits{initials: .08, short: .25, familiar: .05, middleDropped: .4, ear: .06, hasty: .02, there: .2})
		surname, given = a.surname, a.first()
		if g.words.chance(.35) && m.branch == "" {
			u, co := m.unit, m.company
			co, u.num = g.words.unsure(co, u.num)
			soldier = g.words.cell(co, u.book(g.words, g.tables, g.words.chance(.5)), u.arm)
		}
	}
	age := fmt.Sprint(died.age(born))
	if g.words.chance(.25) {
		_, m, _ := died.since(born)
		age += fmt.Sprintf("y %dm", m)
	} else if g.words.chance(.15) {
		age = ""
	}
	g.settle(g.sexton, m, []string{g.ground, g.own.name, g.own.state, surname, given, died.write(g.words.of("book", "book", "plain", "slashed")), age, g.of("Old age", "Consumption", "Pneumonia", "Heart", "Paralysis", "Accident", ""), soldier, fmt.Sprint(g.between(1, 240)),
		g.of("", "", "", "Potter's field", "G.A.R. lot", "paid")})
}

// veteran lays a man of a war: by a government stone, a family's, or a row of the book, some by two of them.
func (g *ground) veteran(m *man) {
	g.families = append(g.families, m.surname)
	kind := g.weighted(.6, .17, .14, .09) // government, family with service, family without, book
	switch {
	case m.war <= of1812 && kind == 0 && g.chance(.6):
		kind = 1
	case m.fell != "" && g.chance(.5):
		kind = 1
	case m.side == "confederate" && kind == 0 && g.chance(.25):
		kind = 1
	case len(m.records) == 0 && kind == 2:
		kind = 1
	}
	switch kind {
	case 0:
		g.government(m)
	case 1, 2:
		g.family(m, kind == 1)
	case 3:
		g.book(m, "", "", m.born, m.died)
	}
	switch {
	case g.n == g.limit:
	case kind != 3 && g.chance(.05):
		g.book(m, "", "", m.born, m.died)
	case kind == 0 && g.chance(.05):
		g.family(m, g.chance(.4))
	}
}

// civilian lays somebody who served in no war, or whose service nobody wrote down.
func (g *ground) civilian() {
	w := g.words
	surname, _, _ := g.world.surname()
	if len(g.families) > 0 && g.chance(.4) {
		surname = g.families[g.IntN(len(g.families))]
	}
	born := w.day(1785, 1915)
	died := day{born.y + 20 + int(70*(w.Float64()+w.Float64())/2), w.between(1, 12), w.between(1, 28)}
	if died.y > 1968 {
		died.y = w.between(max(born.y, 1940), 1968)
	}
	given := g.world.given(born.y)
	how := w.of("book", "full", "full", "plain", "month")
	up := strings.ToUpper
	full := func(first string) string {
		if w.chance(.55) {
			first += " " + g.world.given(born.y)[:1] + "."
		}
		return up(first + " " + surname)
	}
	mother := w.of(mothers...)
	var lines []string
	switch g.weighted(.27, .27, .22, .14, .10) {
	case 0: // a man
		lines = append([]string{full(given)}, g.dates(born, died, how)...)
	case 1: // a wife
		lines = []string{up(mother), w.of("WIFE OF", "WIFE OF", "CONSORT OF", "RELICT OF"), full(given)}
		if w.chance(.35) {
			lines = []string{up(mother) + " " + up(surname), "HIS WIFE"}[:1+w.IntN(2)]
		}
		lines = append(lines, g.dates(born, died, how)...)
	case 2: // two together
		lines = append([]string{full(given)}, g.dates(born, died, how)...)
		wife := day{born.y + w.between(-2, 8), w.between(1, 12), w.between(1, 28)}
		lines = append(lines, up(mother)+w.of("", " HIS WIFE", ", WIFE"))
		lines = append(lines, g.dates(wife, w.day(wife.y+30, wife.y+80), how)...)
		if w.chance(.25) {
			lines = append([]string{up(surname)}, lines...)
		}
	case 3: // a child
		child := given
		if w.chance(.5) {
			child = w.of(mothers...)
		}
		died = day{born.y + w.IntN(9), 12, w.between(1, 28)}
		of := fmt.Sprintf("%s OF %s. & %s. %s", w.of("SON", "DAU.", "INFANT", "CHILD"), g.world.given(born.y)[:1], mother[:1], up(surname))
		lines = append([]string{up(child), of}, g.dates(born, died, how)...)
	case 4:
		first := given
		if w.chance(.5) {
			first = mother
		}
		g.book(nil, surname, first, born, died)
		return
	}
	if w.chance(.1) {
		lines = append(lines, w.of("AT REST", "GONE HOME", "OUR MOTHER", "THE LORD IS MY SHEPHERD", "SAFE IN THE ARMS OF JESUS"))
	}
	g.stone(nil, lines, g.private(), g.of("", "", "", "", "", "", "", "", "", "family lot", "broken, mended", "star holder near"))
}
