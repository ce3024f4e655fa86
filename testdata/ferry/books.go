package ferry

import (
	"cmp"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/testdata/table"
)

// row is a man's row in a book.
type row struct {
	id, book, order string
	p               *person
	s               *service
	cells           []string
}

// book is a table: its columns, and what each means where the table's description says it.
type book struct {
	file, prefix string
	columns      [][2]string // title, and term; no term: not described. A book without any terms is read by its titles alone.
	record       bool
}

var books = map[string]book{
	"volunteers":  {"roster-volunteers.csv", "v", titles("surname", "given", "rank_in", "rank_out", "company", "regiment", "arm", "state", "age", "enlisted", "mustered_in", "mustered_out", "residence", "remarks"), true},
	"printed":     {"roster-printed-rolls.csv", "p", [][2]string{{"id", "id"}, {"Organization", "unit"}, {"Co.", "company"}, {"Name", "name"}, {"Rank", "rank_out"}, {"Age", "age"}, {"Date of Enlistment", "enlisted"}, {"Remarks", "remarks"}}, true},
	"militia":     {"roster-militia.csv", "m", titles("name", "rank_in", "unit", "enlisted", "mustered_out", "remarks"), true},
	"confederate": {"roster-confederate-cards.csv", "c", [][2]string{{"id", "id"}, {"NAME", "name"}, {"ORGANIZATION", "unit"}, {"CO.", "company"}, {"RANK IN", "rank_in"}, {"RANK OUT", "rank_out"}, {"SIDE", "side"}, {"NOTES ON CARD", "remarks"}}, true},
	"descriptive": {"roster-descriptive-lists.csv", "d", [][2]string{{"id", "id"}, {"Name", "name"}, {"Rank", "rank_in"}, {"Co.", "company"}, {"Regiment", "unit"}, {"Age", "age"}, {"Complexion", ""}, {"Where born", "birthplace"}, {"Occupation", ""}, {"When enlisted", "enlisted"}, {"Former owner", ""}, {"Remarks", "remarks"}}, true},
	"pensions":    {"roster-pensions.csv", "n", [][2]string{{"id", "id"}, {"Soldier", "name"}, {"Service", "unit"}, {"Class", ""}, {"Filed", ""}, {"Application No.", ""}, {"Widow or Dependent", ""}, {"Soldier Died", "died"}, {"Remarks", "remarks"}}, true},
	"home":        {"roster-soldiers-home.csv", "h", [][2]string{{"id", "id"}, {"NAME", "name"}, {"RANK", "rank_out"}, {"COMPANY AND REGIMENT", "unit"}, {"ENLISTED", "enlisted"}, {"YEAR OF BIRTH", "born"}, {"NATIVITY", "birthplace"}, {"ADMITTED", ""}, {"FROM", "residence"}, {"DIED", "died"}, {"DISPOSITION", "remarks"}}, true},
	"early":       {"roster-other-wars.csv", "o", titles("surname", "given", "rank_in", "unit", "conflict", "state", "enlisted", "born", "died", "remarks"), true},
}

// bookOrder is the order in which books are told of in the description.
var bookOrder = []string{"volunteers", "printed", "militia", "confederate", "descriptive", "pensions", "home", "early"}

// titles are columns that a table needs no description for.
func titles(list ...string) (columns [][2]string) {
	for _, t := range append([]string{"id"}, list...) {
		columns = append(columns, [2]string{t, ""})
	}
	return columns
}

// described says whether a table's columns are described.
func (b book) described() bool {
	return slices.ContainsFunc(b.columns, func(c [2]string) bool { return c[1] != "" })
}

// has is how many of the men of a unit a book still has.
var has = map[string]float64{"volunteers": .84, "militia": .76, "confederate": .8, "descriptive": .84, "early": .74}

// book takes a service down in the books that have it.
func (w *world) book(p *person, s *service) {
	if w.d.is(has[s.unit.book]) {
		w.row(p, s, s.unit.book)
	}
	if s.unit.printed && w.d.is(.93) {
		w.row(p, s, "printed")
	}
}

func (w *world) row(p *person, s *service, book string) {
	r := &row{book: book, p: p, s: s}
	r.cells = w.cells(r)
	p.rows, w.rows = append(p.rows, r), append(w.rows, r)
}

// hand is how a book's clerks write names.
type hand struct {
	ear, slip, initials, cut, pets, nomiddle float64
}

var hands = map[string]hand{
	"volunteers":  {.022, .012, .02, .05, .005, .1},
	"printed":     {.02, .012, .03, .1, .005, .1},
	"militia":     {.035, .02, .06, .15, .015, .2},
	"confederate": {.035, .02, .2, .12, .01, .1},
	"descriptive": {.03, .015, .01, .04, .02, .15},
	"pensions":    {.018, .01, .01, .06, .005, .1},
	"home":        {.025, .012, .02, .08, .01, .15},
	"early":       {.04, .02, .05, .1, .01, .25},
}

// name is a man's name as a clerk writes it, with the middle name or its letter in the given.
func (w *world) name(p *person, book string) (surname, given, suffix string) {
	d, h := w.d, hands[book]
	surname = p.surname
	if p.assumed != "" && book != "pensions" && book != "home" {
		surname = p.assumed
	}
	ear := h.ear
	if p.unlettered {
		ear = min(.3, ear*2.5+.03)
	}
	if d.is(ear) {
		surname = d.byEar(surname)
	}
	if d.is(h.slip) {
		surname = d.miscopied(surname)
	}
	first, middle := p.given, p.middle
	if e := english[first]; e != "" && d.is(.75) {
		first = e
	}
	if middle != "" && d.is(.022) {
		first, middle = middle, "" // by the name he goes by
	}
	if middle != "" && d.is(h.nomiddle) {
		middle = ""
	}
	if middle != "" && d.is(.93) {
		middle = middle[:1] + "."
	}
	switch x := d.Float64(); {
	case x < h.initials:
		first = first[:1] + "."
	case x < h.initials+h.cut && cut[first] != "":
		first = cut[first]
	case x < h.initials+h.cut+h.pets && pet[first] != "":
		first = pet[first]
	case d.is(.006):
		first = d.miscopied(first)
	}
	if p.suffix != "" && d.is(.35) {
		suffix = p.suffix
	}
	return surname, strings.TrimSpace(first + " " + middle), suffix
}

// lastFirst is "Surname, Given M., Jr."
func lastFirst(surname, given, suffix string) string {
	if suffix != "" {
		given += ", " + suffix
	}
	return surname + ", " + given
}

// rankAs writes a rank as a clerk does.
func (d dice) rankAs(rank string, brief bool) string {
	if !brief {
		return rank
	}
	if short := map[string][]string{"Private": {"Priv.", "Pvt.", "Priv."}, "Corporal": {"Corp.", "Corpl."}, "Sergeant": {"Sergt.", "Sgt."}, "First Sergeant": {"1st Sergt.", "Ord. Sergt."}, "Second Lieutenant": {"2d Lieut."}, "First Lieutenant": {"1st Lieut."}, "Captain": {"Capt."}, "Musician": {"Mus.", "Musn."}, "Wagoner": {"Wag.", "Wagoner"}, "Hospital Steward": {"Hosp. Stew.", "Hosp. Steward"},
		"Surgeon": {"Surg."}, "Assistant Surgeon": {"Asst. Surg."}, "Lieutenant Colonel": {"Lt. Col."}, "Colonel": {"Col."}, "Sergeant Major": {"Sergt. Maj."}, "Quartermaster Sergeant": {"Q. M. Sergt."}, "Commissary Sergeant": {"Com. Sergt."}, "Landsman": {"Lds."}, "Principal Musician": {"Prin. Mus."}}[rank]; short != nil {
		return of(d, short...)
	}
	return rank
}

// town is where a man's household lives, as told to a clerk.
func (w *world) town(p *person) string {
	if p.house.town < w.local && w.d.is(.3) {
		return county + " Co., Mo."
	}
	return w.towns[p.house.town]
}

// remark is what a roll says of a man's end.
func (w *world) remark(p *person, s *service, days string) string {
	d := w.d
	var said []string
	if s.rankOut != s.rankIn && d.is(.7) {
		switch s.rankOut {
		case "Corporal", "Sergeant", "First Sergeant", "Hospital Steward":
			said = append(said, "appointed "+s.rankOut)
		default:
			said = append(said, "promoted "+s.rankOut)
		}
	}
	if d.is(.07) {
		if b, was := d.fought(s.enlisted, s.ended); was {
			said = append(said, "wounded at "+b.name)
		}
	}
	switch s.fate {
	case "died":
		if s.then == "killed" {
			said = append(said, of(d, "killed in action at "+s.where+", "+s.ended.write(days), "killed "+s.ended.write(days)+", at "+s.where))
		} else {
			said = append(said, of(d, "died "+s.ended.write(days)+", at "+s.where+", of "+s.then, "died of "+s.then+" at "+s.where+", "+s.ended.write(days), "died at "+s.where+", "+s.ended.write(days)))
		}
	case "deserted":
		said = append(said, "deserted "+s.ended.write(days))
	case "discharged":
		switch s.then {
		case "promotion":
			said = append(said, "discharged "+s.ended.write(days)+", for promotion")
		case "wounds":
			said = append(said, "discharged for wounds "+s.ended.write(days))
		default:
			said = append(said, of(d, "discharged "+s.ended.write(days)+" on surgeon's certificate of disability", "disch. for disability "+s.ended.write(days)))
		}
	case "transferred":
		said = append(said, of(d, "transferred to Veteran Reserve Corps "+s.ended.write(days), "trans. to V. R. C. "+s.ended.write(days)))
	case "captured":
		said = append(said, of(d, "captured "+s.ended.write(days)+"; sent to "+s.where, "prisoner of war, "+s.where), "took the oath and released")
	default:
		switch {
		case s.unit.side == "confederate":
			if d.is(.6) {
				said = append(said, of(d, "paroled "+s.ended.write(days), "paroled at Shreveport, La.", "surrendered with command", "on rolls to "+s.ended.write("month")))
			}
		case d.is(.75):
			said = append(said, of(d, "mustered out with company", "mustered out "+s.ended.write(days), "M. O. "+s.ended.write(days)))
		}
	}
	if len(p.services) > 1 && p.services[0].unit != s.unit && d.is(.2) {
		said = append(said, "prior service, "+p.services[0].unit.short(d))
	}
	text := strings.Join(said, "; ")
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + strings.TrimSuffix(text[1:], ".") + "."
}

// cells are a man's cells in a book, without the id.
func (w *world) cells(r *row) []string {
	d, p, s := w.d, r.p, r.s
	u := s.unit
	surname, given, suffix := w.name(p, r.book)
	letter, number := s.company, ""
	if u.number > 0 {
		number = fmt.Sprint(u.number)
	}
	if letter != "" {
		switch x := d.Float64(); {
		case x < .012:
			letter = of(d, "A", "B", "C", "D", "E", "F", "G", "H", "I", "K")
		case x < .03:
			letter = ""
		}
	}
	age := ""
	if d.is(.86) {
		age = fmt.Sprint(s.age)
	}
	since := func(how string, gap float64) string {
		switch t := s.enlisted; {
		case d.is(gap):
			return ""
		case d.is(.02):
			return t.plus(d.from(1, 40)).write(how)
		default:
			return t.write(how)
		}
	}
	out := ""
	if s.fate == "" && d.is(.8) {
		out = s.ended.write("slash")
	}
	brief := d.is(.5)
	r.order = u.long() + "\x00" + s.company + "\x00" + surname + given
	switch r.book {
	case "volunteers":
		r.order = surname + ", " + given // cards by name
		arm := map[string]string{"inf": "Infantry", "cav": "Cavalry", "la": "Light Artillery", "ha": "Heavy Artillery", "eng": "Engineers", "navy": "Navy", "mi": "Mounted Infantry"}[u.arm]
		state := stateNames[u.state]
		switch u.body {
		case "regulars":
			state = "U. S."
		case "vrc":
			state, arm = "U. S.", "V. R. C."
		case "navy":
			state, number = "U. S.", "U. S. S. "+u.name
		case "battery":
			number = u.name + " Battery"
		}
		if suffix != "" {
			given += " " + suffix
		}
		return []string{surname, given, d.rankAs(s.rankIn, brief), d.rankAs(s.rankOut, brief), letter, number, arm, state, age, since("slash", .05), pick(d.is(.6), s.enlisted.plus(d.from(2, 20)).write("slash"), ""), out, pick(d.is(.6), w.town(p), ""), w.remark(p, s, "slash")}
	case "printed":
		return []string{u.long(), letter, lastFirst(surname, given, suffix), d.rankAs(s.rankOut, true), age, since("short", .06), w.remark(p, s, "short")}
	case "militia":
		unit := u.short(d)
		if letter != "" {
			unit = "Co. " + letter + ", " + unit
		}
		return []string{lastFirst(surname, given, suffix), d.rankAs(s.rankIn, true), unit, since("first", .15), pick(out == "", "", s.ended.write("first")), pick(d.is(.45), w.remark(p, s, "first"), "")}
	case "confederate":
		r.order = surname + ", " + given
		return []string{lastFirst(surname, given, suffix), u.long(), letter, s.rankIn, s.rankOut, "Confederate", pick(d.is(.3), w.remark(p, s, "tick"), "")}
	case "descriptive":
		owner := ""
		if p.assumed != "" && d.is(.6) {
			owner = d.surname("upland")
			owner = of(d, "John ", "Wm. ", "Thos. ", "Mrs. ", "James ") + pick(d.is(.6), p.assumed, owner)
		} else if d.is(.35) {
			owner = of(d, "John ", "Wm. ", "Thos. ", "Mrs. ", "James ", "Robt. ") + d.surname("upland")
		}
		return []string{lastFirst(surname, given, suffix), d.rankAs(s.rankIn, true), letter, u.short(d), age, of(d, "Black", "Black", "Dark", "Brown", "Copper", "Light", "Yellow"), of(d, county+" Co., Mo.", "Missouri", "Kentucky", "Virginia", "Tenn.", "Howard Co., Mo.", "Mo."), of(d, "Farmer", "Laborer", "Farmer", "Farm hand", "Blacksmith", "Teamster", "Cook"), since("bare", .04), owner, w.remark(p, s, "bare")}
	case "pensions":
		r.order = surname + ", " + given
		unit := u.short(d)
		if letter != "" {
			unit = of(d, letter+" "+unit, "Co. "+letter+", "+unit)
		}
		for _, other := range p.services {
			if other != s && d.is(.7) {
				more := other.unit.short(d)
				if other.company != "" {
					more = of(d, other.company+" "+more, "Co. "+other.company+", "+more)
				}
				unit += of(d, " and ", "; ") + more
			}
		}
		class, widow, died, said := "Invalid", "", "", ""
		if p.spouse != "" && d.is(.4) || s.fate == "died" {
			class, widow = "Widow", namePools().women.draw(d)+" "+surname
			if p.spouse != "" {
				widow = p.spouse + " " + surname
			}
			if s.fate == "died" && u.side == "union" && d.is(.35) {
				class = of(d, "Mother", "Minor")
			}
			died = p.died.write("year first")
			if d.is(.3) {
				died = ""
			}
		}
		if p.assumed != "" && d.is(.7) {
			said = of(d, "alias "+p.assumed, "served as "+given+" "+p.assumed, "enlisted under the name of "+p.assumed)
		}
		filed := max(u.ended.y+1, d.from(1866, 1912))
		if class == "Widow" || class == "Mother" || class == "Minor" {
			filed = p.died.y + d.from(0, 3)
		}
		if u.side == "confederate" { // the states', which came late
			filed = max(filed, d.from(1889, 1915))
		}
		return []string{lastFirst(surname, given, suffix), unit, class, d.dayOf(filed).write("year first"), fmt.Sprint(d.from(100000, 1400000)), widow, died, said}
	case "home":
		r.order = ""
		unit := u.short(d)
		if letter != "" {
			unit = "Co. " + letter + ", " + unit
		}
		admitted := d.dayOf(min(p.died.y-1, d.from(1888, 1915)))
		died, said := "", of(d, "Discharged at own request", "Dropped, absent without leave", "Transferred to Leavenworth Branch", "")
		if d.is(.65) {
			died, said = p.died.write("full"), of(d, "Buried in Home plot", "Remains shipped to friends at "+w.towns[p.house.town], "Died in Home hospital", "Remains to friends")
		}
		return []string{strings.ToUpper(lastFirst(surname, given, suffix)), d.rankAs(s.rankOut, true), unit, pick(d.is(.5), fmt.Sprint(s.enlisted.y), ""), fmt.Sprint(p.born.y + pick(d.is(.4), d.from(-3, 3), 0)), of(d, "Missouri", "Mo.", "Kentucky", "Tenn.", "Germany", "Ohio", "Virginia"), admitted.write("full"), w.towns[p.house.town], died, said}
	case "early":
		unit := u.short(d)
		if letter != "" {
			unit = "Co. " + letter + ", " + unit
		}
		if suffix != "" {
			given += ", " + suffix
		}
		return []string{surname, given, d.rankAs(s.rankIn, brief), unit, of(d, wars[u.war]...), stateShort[u.state], since("first", .3), pick(d.is(.3), fmt.Sprint(p.born.y), ""), pick(d.is(.3), fmt.Sprint(p.died.y), ""), pick(d.is(.2), of(d, "Pensioner", "Bounty land warrant", "Lived in "+county+" County", "Applied for pension from "+stateNames[u.state]), "")}
	}
	return nil
}

// later gives a man the rows that he or his widow got long after: pensions and the Home.
func (w *world) later(p *person) {
	d, s := w.d, p.services[len(p.services)-1]
	if len(p.services) > 1 && d.is(.4) {
		s = p.services[0]
	}
	chance, home := .22, .05
	switch {
	case s.unit.side == "early":
		chance, home = .05, 0
	case s.unit.side == "confederate":
		chance, home = .06, .02
	case s.fate == "deserted":
		chance, home = .03, .01
	case s.fate == "died":
		chance, home = .25, 0
	}
	if d.is(chance) {
		w.row(p, s, "pensions")
	}
	if p.died.y > 1888 && d.is(home) {
		w.row(p, s, "home")
	}
}

// fill raises companies until the books have so many rows.
func (w *world) fill(records int) {
	for len(w.rows) < records*81/100 {
		w.muster()
	}
	for done := 0; len(w.rows) < records; {
		more := w.men[done:]
		w.d.Shuffle(len(more), func(i, j int) { more[i], more[j] = more[j], more[i] })
		for _, p := range more {
			if done++; len(w.rows) < records {
				w.later(p)
			}
		}
		if len(w.rows) < records {
			w.muster()
		}
	}
	// The last company may be one too many: of those who came last, whole men are taken out again.
	for over := len(w.rows) - records; over > 4; over = len(w.rows) - records {
		at := len(w.rows) - 1
		for len(w.rows[at].p.rows) > over {
			at--
		}
		p := w.rows[at].p
		p.rows = nil
		w.rows = slices.DeleteFunc(w.rows, func(r *row) bool { return r.p == p })
	}
}

// write writes the books, and gives the rows their ids.
func (w *world) write(dir string) error {
	of := map[string][]*row{}
	for _, r := range w.rows {
		of[r.book] = append(of[r.book], r)
	}
	for _, name := range bookOrder {
		b := books[name]
		slices.SortStableFunc(of[name], func(x, y *row) int { return cmp.Compare(x.order, y.order) })
		out := [][]string{head(b)}
		for i, r := range of[name] {
			r.id = fmt.Sprintf("%s%06d", b.prefix, i+1)
			out = append(out, append([]string{r.id}, r.cells...))
		}
		if err := table.Write(filepath.Join(dir, b.file), out); err != nil {
			return err
		}
	}
	return nil
}

func head(b book) (all []string) {
	for _, c := range b.columns {
		all = append(all, c[0])
	}
	return all
}

// describe writes what the tables are and what the columns of some of them mean.
func describe(dir string, seed uint64, all []book) error {
	var tables []any
	for _, b := range all {
		var columns []any
		for _, c := range b.columns {
			term := c[1]
			if !b.described() {
				term = c[0]
			}
			column := map[string]any{"titles": c[0]}
			if term != "" {
				column["propertyUrl"] = "ms:" + term
			}
			columns = append(columns, column)
		}
		columns = append(columns, map[string]any{"virtual": true, "propertyUrl": "rdf:type", "valueUrl": pick(b.record, "ms:ServiceRecord", "ms:Marker")})
		tables = append(tables, map[string]any{"url": b.file, "tableSchema": map[string]any{"columns": columns}})
	}
	text, err := json.MarshalIndent(map[string]any{"@context": []any{"http://www.w3.org/ns/csvw", map[string]string{"@language": "en"}}, "dc:title": fmt.Sprintf("Grounds of %s County (invented, made from %d)", county, seed), "tables": tables}, "", " ")
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(dir, "csv-metadata.json"), append(text, '\n'), 0o666)
}
