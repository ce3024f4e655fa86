package orchard

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
)

// column is a column of a table and the term that it is to the program; none for what only people read.
type column struct{ title, term string }

// sheet is a table on its way to a file.
type sheet struct {
	file, about string
	columns     []column
	rows        [][]string
	prefix      string
}

// add takes a row down, and gives it an id.
func (t *sheet) add(cells ...string) (id string) {
	id = fmt.Sprintf("%s%d", t.prefix, len(t.rows)+1)
	t.rows = append(t.rows, append([]string{id}, cells...))
	return id
}

// cols reads "Title=term Title=term"; an underscore is a space, and a title without a term has none.
func cols(list string) (out []column) {
	for _, s := range strings.Fields("id=identifier " + list) {
		title, term, _ := strings.Cut(s, "=")
		out = append(out, column{strings.ReplaceAll(title, "_", " "), term})
	}
	return out
}

// books are the rosters of a survey.
type books struct {
	*world
	adjutant, pension, home, cards, headstones, grey, volunteers, navy, later, early *sheet
}

func newBooks(w *world) *books {
	own := w.states[w.own.state].name
	return &books{
		world: w,
		adjutant: &sheet{file: "roster-adjutant-general.csv", about: "Roll of the adjutant general of " + own, prefix: "AG",
			columns: cols("Name=name Rank=rank_in Age=age Residence=residence Enlisted=enlisted Mustered=mustered_in Co.=company Organization=unit Mustered_Out=mustered_out Remarks=remarks")},
		pension: &sheet{file: "roster-pensioners.csv", about: "List of pensioners", prefix: "P",
			columns: cols("PENSIONER=name RANK=rank_out SERVICE=unit WAR=conflict CERTIFICATE FILED POST_OFFICE=residence DROPPED=remarks")},
		home: &sheet{file: "roster-soldiers-home.csv", about: "Register of a soldiers' home", prefix: "H",
			columns: cols("Last_Name=surname First_Name=given Rank=rank_out Company_and_Regiment=unit Enlisted=enlisted Discharged=mustered_out Where_Born=birthplace Year_Born=born Residence=residence Admitted Died=died Disposition=buried General_Remarks=remarks")},
		cards: &sheet{file: "roster-service-cards.csv", about: "Service cards of the World War", prefix: "W",
			columns: cols("Surname=surname Christian_Names=given Serial Residence=residence Inducted=enlisted Born_In=birthplace Age=age Date_of_Birth=born Organizations=unit Grade=rank_out Overseas Discharged=mustered_out Died=died Remarks=remarks")},
		headstones: &sheet{file: "roster-headstone-cards.csv", about: "Applications for headstones", prefix: "HS",
			columns: cols("NAME=name RANK=rank_out CO=company REGT=regiment ARM=arm STATE=state WAR=conflict DATE_OF_DEATH=died CEMETERY=buried NEAR SHIP_TO STONE")},
		grey: &sheet{file: "roster-confederate-roll.csv", about: "Roll of Confederate soldiers", prefix: "C",
			columns: cols("Surname=surname Given_Names=given Rank_In=rank_in Rank_Out=rank_out Co.=company Command=unit Army=side Enlisted=enlisted Where Remarks=remarks")},
		volunteers: &sheet{file: "roster-volunteers-1898.csv", about: "Volunteers and regulars of 1898 to 1902", prefix: "V",
			columns: cols("Soldier=name Grade=rank_out Company=company Regiment=unit War=conflict Age=age Residence=residence Mustered_In=mustered_in Mustered_Out=mustered_out")},
		navy: &sheet{file: "roster-navy.csv", about: "Enlistments in the navy and the marine corps", prefix: "N",
			columns: cols("NAME=name RATE=rank_out SERVICE=branch VESSEL=unit WAR=conflict ENLISTED=enlisted AGE=age BORN_AT=birthplace DISCHARGED=mustered_out")},
		later: &sheet{file: "roster-since-1941.csv", about: "Service since 1941", prefix: "L",
			columns: cols("Name=name Grade=rank_out Branch=branch Organization=unit War=conflict Entered=enlisted Separated=mustered_out Born=born Home=residence")},
		early: &sheet{file: "roster-early-wars.csv", about: "Soldiers of the wars before 1861", prefix: "E",
			columns: cols("Name=name Rank=rank_out Service=unit War=conflict Born=born Died=died Residence=residence Buried=buried Remarks=remarks")},
	}
}

func (b *books) all() []*sheet {
	return []*sheet{b.adjutant, b.pension, b.home, b.cards, b.headstones, b.grey, b.volunteers, b.navy, b.later, b.early}
}

func (b *books) count() (n int) {
	for _, t := range b.all() {
		n += len(t.rows)
	}
	return n
}

func (b *books) rank(full string) string {
	if full == "private" && b.chance(.15) {
		return b.of("Priv.", "Private", "")
	}
	if b.chance(.1) {
		return title(full)
	}
	return ranksShort[full]
}

// unsure is what a clerk makes of a company and a number: seldom another.
func (d dice) unsure(company string, num int) (string, int) {
	if company != "" && d.chance(.018) {
		company = string("ABCDEFGHIK"[d.IntN(10)])
	}
	if num > 0 && d.chance(.012) {
		num = max(1, num+d.number(-1, 1, 10, -10, 100))
	}
	return company, num
}

func (d dice) number(list ...int) int { return list[d.IntN(len(list))] }

func (b *books) address(p place) string {
	st := b.one(b.states[p.state].book)
	switch b.IntN(4) {
	case 0:
		return p.town
	case 1:
		return p.town + ", " + p.county + " Co., " + st
	}
	return p.town + ", " + st
}

// cell is "Co. F, 14th Ohio Inf." in one of the ways of lists.
func (d dice) cell(company, unit string, arm string) string {
	co := company
	switch {
	case company == "":
		return unit
	case arm == "heavy" || arm == "fa":
		co = d.of("Batt'y ", "Btry. ", "Bat. ") + company
	case d.chance(.6):
		co = "Co. " + company
	}
	return co + d.of(", ", ", ", " ") + unit
}

func nameCell(a asked, suffix string) string {
	s := a.surname + ", " + a.first()
	if suffix != "" {
		s += ", " + suffix
	}
	return s
}

var warNames = []string{"Rev.", "1812", "Mexican", "Civil", "Indian", "Spanish", "World War", "World War II", "Korea"}

// enter takes a man down in the books that have him, if any has.
func (b *books) enter(m *man) {
	note := func(t *sheet, cells ...string) {
		m.records = append(m.records, t.add(cells...))
	}
	switch {
	case m.war == civil && m.side == "confederate":
		if b.chance(.72) {
			b.enterGrey(m, note)
		}
	case m.branch == "navy" || m.branch == "marines":
		if m.war <= great && b.chance(.8) {
			b.enterNavy(m, note)
		}
	case m.war == civil && (m.unit.state == b.own.state || m.second.state == b.own.state):
		if b.chance(.9) {
			b.enterAdjutant(m, m.unit, m.company, m.rankIn, note)
			if m.second.state == b.own.state && b.chance(.7) {
				b.enterAdjutant(m, m.second, m.secondCompany, m.rankOut, note)
			}
		}
	case m.war == spanish && b.chance(.75):
		co, num := b.unsure(m.company, m.unit.num)
		u := m.unit
		u.num = num
		a := b.name(b.tables, m, habits{initials: .05, short: .06, middleDropped: .3, ear: .05, hasty: .01, there: .15})
		age := ""
		if b.chance(.8) {
			age = fmt.Sprint(m.from.age(m.born))
		}
		note(b.volunteers, nameCell(a, m.suffix), b.rank(m.rankOut), co, u.book(b.dice, b.tables, false), b.of("Spanish-American", "War with Spain", "Sp. Am."), age, b.address(m.home), m.from.write("full"), m.to.write("full"))
	case m.war == great && b.chance(.85):
		b.enterCard(m, note)
	}
	if m.war >= second && b.chance(.8) {
		b.enterLater(m, note)
	}
	if m.war <= mexican && b.chance(.75) {
		b.enterEarly(m, note)
	}
	drawn := m.war >= of1812 && m.war <= spanish && m.side == "union" && m.fell == "" && m.died.y > 1878 && m.branch == ""
	if drawn && b.chance(.34) || m.war == plains && b.chance(.3) {
		b.enterPension(m, note)
	}
	if m.war >= civil && m.war <= spanish && m.side == "union" && m.fell == "" && m.died.y > 1885 && b.chance(.09) {
		b.enterHome(m, note)
	}
	if m.fell == "" && m.died.y > 1879 && m.died.y < 1965 && (m.side == "union" || m.died.y > 1929) {
		p := .02
		if m.here {
			p = .16
		}
		if b.chance(p) {
			b.enterHeadstone(m, note)
		}
	}
}

func (b *books) ageThen(m *man) string {
	age := m.from.age(m.born)
	switch {
	case b.chance(.1):
		return ""
	case age < 18 && b.chance(.7):
		age = 18
	case b.chance(.2):
		age += b.number(-2, -1, 1, 1, 2, 3)
	}
	return fmt.Sprint(age)
}

func (b *books) enterAdjutant(m *man, u unit, company, rank string, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{initials: .04, short: .1, familiar: .02, middleDropped: .3, middleFull: .03, ear: .09, hasty: .015, there: .35, middleFirst: .01})
	company, u.num = b.unsure(company, u.num)
	mustered := m.from
	mustered.d = min(28, mustered.d+b.IntN(12))
	remarks := ""
	switch {
	case m.fell != "":
		remarks = b.of("Died ", "Killed ", "Died of disease ", "Died of wounds ") + m.fell + ", " + m.died.write("book") + "."
	case b.chance(.13):
		remarks = b.of("Disch. for disability.", "Vet.; promoted "+strings.TrimSuffix(ranksShort[m.rankOut], ".")+".", "Wounded.", "Prisoner of war.", "Transf'd to V. R. C.", "Deserted.", "Absent sick at m. o. of co.", "Subst.", "Also borne as "+byEar(b.dice, m.surname)+".")
	case m.second.num > 0:
		remarks = b.of("Transf'd to ", "See also ") + strings.TrimSuffix(m.second.book(b.dice, b.tables, false), ".") + "."
	}
	out := m.to.write("book")
	if m.fell != "" {
		out = ""
	}
	note(b.adjutant, nameCell(a, m.suffix), b.rank(rank), b.ageThen(m), b.address(m.home), m.from.write("book"), mustered.write("book"), company, u.book(b.dice, b.tables, true), out, remarks)
}

func (b *books) enterPension(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{initials: .08, short: .06, familiar: .01, middleDropped: .28, ear: .05, hasty: .01, there: .12})
	name := strings.ToUpper(nameCell(a, m.suffix))
	if m.thereSurname != "" && b.chance(.25) {
		name += " (alias " + strings.ToUpper(m.thereSurname) + ")"
	}
	co, num := b.unsure(m.company, m.unit.num)
	u := m.unit
	u.num = num
	service := b.cell(co, u.book(b.dice, b.tables, false), u.arm)
	if m.second.num > 0 && b.chance(.6) {
		service += b.of("; ", " and ") + b.cell(m.secondCompany, m.second.book(b.dice, b.tables, false), "infantry")
	}
	first := min(max(m.to.y+1, 1862), m.died.y)
	filed := b.day(first, min(first+36, max(first, m.died.y-1)))
	dropped := ""
	if b.chance(.45) {
		died := m.died
		if b.chance(.1) {
			died.d = b.between(1, 28)
		}
		dropped = b.of("Died ", "d. ", "Dead, ") + died.write(b.of("book", "plain", "month"))
	}
	war := warNames[m.war]
	if b.chance(.2) {
		war = ""
	}
	note(b.pension, name, b.rank(m.rankOut), service, war, fmt.Sprint(b.between(1000, 990000)), filed.write("month"), b.address(m.late), dropped)
}

func (b *books) enterHome(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{initials: .1, short: .25, familiar: .04, middleDropped: .35, ear: .06, hasty: .02, there: .3})
	u, co := m.unit, m.company
	if m.second.num > 0 && b.chance(.5) {
		u, co = m.second, m.secondCompany
	}
	co, u.num = b.unsure(co, u.num)
	service := b.cell(co, u.book(b.dice, b.tables, false), u.arm)
	if m.branch != "" {
		service = b.of("U. S. Navy, ", "U. S. S. ") + m.ship
	}
	year := fmt.Sprint(m.born.y + b.number(0, 0, 0, 0, -1, 1, 2, -3))
	if b.chance(.1) {
		year = "abt. " + year
	}
	admitted := b.day(max(1868, m.died.y-12), m.died.y)
	died, disposed := "", ""
	if b.chance(.6) {
		died = m.died.write("slashed")
		disposed = b.of(m.buried.town+" Cemetery", m.buried.town, "Remains shipped to "+m.late.town, "Home Cemetery, sec. "+b.of("A", "B", "C")+", grave "+fmt.Sprint(b.between(1, 900)))
		if !m.here && b.chance(.4) {
			disposed = "Home Cemetery"
		} else if m.here && strings.HasPrefix(disposed, "Home") {
			disposed = m.buried.town
		}
	}
	note(b.home, strings.ToUpper(a.surname), a.first(), b.rank(m.rankOut), service, m.from.write("tick"), m.to.write("tick"), m.birthplace, year, b.address(m.late), admitted.write("slashed"), died, disposed,
		b.of("", "", "Discharged at own request", "Readmitted", "Married", "Widower", "Farmer; married"))
}

func (b *books) enterCard(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{short: .02, familiar: .02, middleDropped: .1, middleFull: .3, ear: .025, hasty: .01, there: .2})
	co, num := b.unsure(m.company, m.unit.num)
	u := m.unit
	u.num = num
	units := u.book(b.dice, b.tables, false)
	if co != "" {
		units = b.of("Co ", "Co. ") + co + " " + units
		if u.arm == "fa" {
			units = b.of("Btry ", "Bty. ") + co + " " + u.book(b.dice, b.tables, false)
		}
	}
	if m.branch == "coast guard" {
		units = b.of("U. S. Coast Guard", "Coast Guard")
	} else if b.chance(.35) && m.unit.arm != "depot" {
		units = fmt.Sprintf("%d Dep. Brig. to %s; %s to disch.", 151+b.IntN(17), day{m.from.y, min(12, m.from.m+1), m.from.d}.write("card"), units)
	} else if b.chance(.4) {
		units += " to disch."
	}
	grade := b.rank(m.rankOut)
	if m.rankOut != "private" && b.chance(.25) {
		grade += " " + day{m.from.y, min(12, m.from.m+2), b.between(1, 28)}.write("card")
	}
	age, born := "", ""
	if b.chance(.45) {
		if age = fmt.Sprint(m.from.age(m.born)); b.chance(.5) {
			_, months, _ := m.from.since(m.born)
			age += fmt.Sprintf(" %d/12", max(1, months))
		}
		if b.chance(.4) {
			age += " yrs."
		}
	} else {
		born = m.born.write(b.of("book", "book", "plain", "slashed"))
	}
	died, remarks := "", ""
	if m.fell != "" {
		died, remarks = m.died.write("card"), b.of("Killed in action ", "Died of disease ", "Died ")+m.fell
	} else if b.chance(.2) {
		remarks = b.of("Slightly wounded", "Father: ", "Next of kin: ", "Disability 10 per cent")
		if strings.HasSuffix(remarks, ": ") {
			remarks += m.father + " " + m.surname
		}
	}
	out := m.to.write("card")
	if m.fell != "" {
		out = ""
	}
	first := a.first()
	if m.suffix != "" {
		first += " " + m.suffix
	}
	residence := b.address(m.home)
	if b.chance(.3) {
		residence = fmt.Sprintf("%d %s St., %s", b.between(2, 1900), b.of("Elm", "Main", "Water", "Third", "Maple"), residence)
	}
	note(b.cards, strings.ToUpper(a.surname), first, fmt.Sprintf("%d,%03d,%03d", b.between(1, 4), b.IntN(1000), b.IntN(1000)), residence, m.from.write("card"), b.birthplace(m), age, born, units, grade,
		b.of("", day{1918, b.between(3, 9), b.between(1, 28)}.write("card")+" to "+day{1919, b.between(2, 7), b.between(1, 28)}.write("card")), out, died, remarks)
}

func (b *books) birthplace(m *man) string {
	if m.thereSurname == "" && b.chance(.7) {
		return b.address(m.home)
	}
	return m.birthplace
}

func (b *books) enterHeadstone(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{initials: .1, short: .15, familiar: .02, middleDropped: .25, ear: .035, hasty: .02, there: .1})
	u, co := m.unit, m.company
	if m.second.num > 0 && b.chance(.4) {
		u, co = m.second, m.secondCompany
	}
	co, u.num = b.unsure(co, u.num)
	regt, arm, st := "", strings.Trim(armsBook[u.arm], "."), b.one(b.states[u.state].book)
	if u.num > 0 {
		regt = fmt.Sprint(u.num)
	}
	switch {
	case m.branch == "marines":
		arm, st = "U. S. M. C.", ""
	case m.branch == "air":
		arm, st = "A. A. F.", ""
	case m.branch == "coast guard":
		arm, st = "U. S. C. G.", ""
	case m.branch != "":
		arm, st = "U. S. Navy", ""
	case u.arm == "battery":
		arm, regt = "Lt. Art.", fmt.Sprint(u.num)+" Batt'y"
	case u.body == "usct":
		arm, st = "Inf.", "U. S. C. T."
	case u.body == "vrc":
		arm, st = "V. R. C.", "U. S."
	case u.body == "msm":
		arm = "S. M. Cav."
	}
	if u.state == "" && b.chance(.6) {
		st = b.states[m.home.state].name
	}
	died := m.died
	if b.chance(.06) {
		died.d = min(28, died.d+1)
	}
	war := ""
	if m.war != civil || b.chance(.2) {
		war = warNames[m.war]
	}
	if m.side == "confederate" {
		war = "C. S. A."
	}
	cemetery := m.buried.town
	if b.chance(.5) {
		cemetery += ", " + m.late.town + b.of("", ", "+b.one(b.states[m.late.state].book))
	}
	note(b.headstones, nameCell(a, m.suffix), b.rank(m.rankOut), co, regt, arm, st, war, died.write(b.of("year first", "year first", "book")), cemetery, m.late.town+", "+b.one(b.states[m.late.state].book), b.address(m.late), b.of("Marble, upright", "Upright", "Flat marble", "Flat granite", ""))
}

func (b *books) enterGrey(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{initials: .33, short: .1, middleDropped: .2, ear: .1, hasty: .02})
	co, num := b.unsure(m.company, m.unit.num)
	u := m.unit
	u.num = num
	command := u.book(b.dice, b.tables, false)
	if b.chance(.15) {
		command += " (" + title(b.surnames.draw(b.dice)) + "'s)"
	}
	from := m.from.write(b.of("book", "day first", "day first"))
	if b.chance(.15) {
		from = ""
	}
	remarks := ""
	switch {
	case m.fell != "":
		remarks = "Died " + m.fell + " " + m.died.write("book")
	case b.chance(.3):
		remarks = b.of("Paroled at Appomattox, Va., Apr. 9, 1865", "Captured; Camp Chase, O.", "Paroled May 1865", "Absent, wounded", "No further record")
	}
	note(b.grey, a.surname, a.first(), b.rank(m.rankIn), b.rank(m.rankOut), co, command, b.of("C. S. A.", "C. S. A.", "Confederate"), from, b.address(m.home), remarks)
}

func (b *books) enterNavy(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{initials: .02, short: .05, middleDropped: .4, ear: .07, hasty: .015, there: .3})
	vessel := b.of("U. S. S. ", "") + m.ship
	if m.ship == "" {
		vessel = ""
	}
	note(b.navy, strings.ToUpper(nameCell(a, m.suffix)), b.rank(m.rankOut), map[string]string{"navy": "Navy", "marines": "Marine Corps"}[m.branch], vessel, warNames[m.war], m.from.write("day first"), b.ageThen(m), b.birthplace(m), m.to.write("day first"))
}

func (b *books) enterLater(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{middleDropped: .06, hasty: .01, familiar: .01})
	u := ""
	if m.unit.num > 0 {
		u = m.unit.book(b.dice, b.tables, false)
	}
	born := fmt.Sprint(m.born.y)
	if b.chance(.4) {
		born = m.born.write(b.of("iso", "army"))
	}
	branch := map[string]string{"": "Army", "navy": "Navy", "marines": "Marine Corps", "coast guard": "Coast Guard", "air": b.of("Army Air Forces", "A. A. F.")}[m.branch]
	if m.branch == "air" && m.war == korea {
		branch = "Air Force"
	}
	note(b.later, strings.ToUpper(strings.ReplaceAll(nameCell(a, m.suffix), ".", "")), b.rank(m.rankOut), branch, u, b.of(warNames[m.war], warNames[m.war], map[int]string{second: "WW II", korea: "Korean"}[m.war]),
		m.from.write("army"), m.to.write("army"), born, m.home.county+" Co., "+b.states[m.home.state].name)
}

func (b *books) enterEarly(m *man, note func(*sheet, ...string)) {
	a := b.name(b.tables, m, habits{short: .2, middleDropped: .3, ear: .12, hasty: .02})
	service := b.cell(m.company, m.unit.book(b.dice, b.tables, false), m.unit.arm)
	born, died, buried := "", "", ""
	if b.chance(.5) {
		born = fmt.Sprint(m.born.y + b.number(0, 0, 0, 1, -1))
	}
	if b.chance(.6) {
		died = m.died.write(b.of("book", "day first"))
		if b.chance(.3) {
			died = fmt.Sprint(m.died.y)
		}
	}
	if b.chance(.25) {
		buried = m.buried.town
	}
	note(b.early, nameCell(a, m.suffix), b.rank(m.rankOut), service, b.of(warNames[m.war], map[int]string{revolution: "Revolution", of1812: "War of 1812", mexican: "Mexican War"}[m.war]), born, died, b.address(m.late), buried,
		b.of("", "", "Pensioned", "Bounty land", "Rejected, six months not proved"))
}

// settle puts the rows of each book in the order of such a book, and carries down "do." in the adjutant general's.
func (b *books) settle() (renamed map[string]string) {
	renamed = map[string]string{}
	for _, t := range b.all() {
		key := func(r []string) string { return r[1] + r[2] + r[0] }
		if t == b.adjutant {
			key = func(r []string) string { return r[8] + r[7] + r[1] + r[0] }
		}
		if t == b.pension || t == b.home {
			b.Shuffle(len(t.rows), func(i, j int) { t.rows[i], t.rows[j] = t.rows[j], t.rows[i] })
		} else {
			slices.SortFunc(t.rows, func(x, y []string) int { return cmp.Compare(key(x), key(y)) })
		}
		for i, r := range t.rows {
			id := fmt.Sprintf("%s%05d", t.prefix, i+1)
			renamed[r[0]], r[0] = id, id
		}
	}
	for i := len(b.adjutant.rows) - 1; i > 0; i-- {
		for _, at := range []int{4, 5} { // residence, enlisted
			if r, above := b.adjutant.rows[i], b.adjutant.rows[i-1]; r[at] == above[at] && r[at] != "" && b.chance(.8) {
				r[at] = "do."
			}
		}
	}
	return renamed
}
