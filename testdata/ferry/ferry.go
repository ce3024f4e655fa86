// Package ferry makes surveys with known truth of a kind of its own: the grounds of an invented county of Missouri, at a ferry of a river, whose men served
// on both sides of the Civil War, in other wars and in none. It was written whole before the program was run on it, for a figure of linking that is blind; only that its
// tables are taken was tried.
//
// What it does that is its own. Households are founded in towns, upland, German, Irish and of freedmen, and their sons go to war together, with a regiment of volunteers,
// the State Militia, the enrolled militia, home guards, the Reserve Corps of St. Louis, a battery known by its captain, a regiment known by its colonel, a legion, the
// State Guard, the colored troops, whose regiments had other names before, the regulars or a gunboat; some serve twice, and a few on both sides; the hurt go on to the
// Veteran Reserve Corps. Some served under another name: freedmen under an owner's, others to hide. Eight rosters tell of them, each of its own kind: an
// adjutant's cards, printed rolls, militia rolls, index cards of Confederates, descriptive lists of colored troops, pensions, a soldiers' home, other wars; five of
// them have headers of their own and a description, three the program's. Pension clerks name both of a man's units and his alias; the Home's clerk hears a year of birth.
// A clerk who hears a name spells it by sound, most of all a man's who cannot write; a copyist takes letters for those like them in script.
//
// Stones are the government's by side and time (shield, pointed, general, block of the unknown), or a family's, which tells of his service, gives a sign of it, or says nothing;
// who fell has a cenotaph or a line on an obelisk, there with a brother who fell too. Part of the graves stand in a sexton's book or on a list of the soldiers' lot.
// Six recorders write stones down, each in his way. The others are kin of those who served, wives and children among them.
//
// What is true. A stone's records are all rows of the man whose grave or memorial it is, or of the two men. A wife's or a child's own stone has none, though it names him, and
// neither have citizens, the unknown, and men whom the rosters lack.
//
// A messy survey has the same rosters and the same stones: more of them are worn, and recorders and copyists slip three times as often.
//
// Where the shares come from. "Six regiments" are 6,456 men in regimental histories of 1875 to 1914 (Project Gutenberg 65589, 52223, 50687, 50422, 51250, 52399);
// "Andersonville" is 12,413 graves, Ransom 1881 (Project Gutenberg 71609); both counted, public domain.
//
//	surnames borne by three men or more, with their counts (names.csv)   six regiments and Andersonville together, of whose men they are .60; here .70 of the upland people, the rest put together
//	given names borne by four men or more, with their counts   six regiments
//	names of Germans, Irish and freedmen   short lists in an order from memory, each name by one over its place
//	middle names .56 of the upland people   six regiments have .51
//	died in service .14, corporals .075, sergeants .06, officers .035   six regiments have .15, .07 to .11, .05 to .08 and .03, rounded
//	old names of colored regiments   Dyer 1908 and the Official Army Register, part VIII, 1867
//	which kinds of units Missouri had, and numbers of regiments   Dyer 1908, from memory; captains, colonels, gunboats and the county's home guards invented
//	battles and their days   common knowledge
//	patterns of stones by side and year, no rank for a private, widths   V. A. and its historians, and the letter of 1873
//	every rate of error, of wear, of what a stone tells, of who lies here; coverage of the books .74 to .84, of soldiers who lie here .86; everything else, and all persons, owners, towns and grounds   invented
//
// It shares no code with the program's reading or weighing, nor with the other makers: what it writes is text, as clerks, carvers and volunteers would. That a person or a
// place has the name of a real one is chance; a few regiments, legions and battlefields are real.
package ferry

import (
	"fmt"
	"path/filepath"
	"strings"

	"musterstone/testdata/table"
)

// Options say what to make.
type Options struct {
	Seed    uint64
	Records int // rows of all rosters together
	Stones  int // stones and rows of both registers together
	Messy   bool
}

var (
	stoneTable  = book{file: "stones.csv", columns: titles("cemetery", "county", "state", "section", "row", "plot", "latitude", "longitude", "inscription", "top", "material", "width_in", "thickness_in", "height_in", "lettering", "device", "emblem", "motifs", "setting", "condition", "recorder", "recorded", "notes")}
	sextonTable = book{file: "register-sexton.csv", columns: [][2]string{{"id", "id"}, {"Ground", "cemetery"}, {"Name", "name"}, {"Died", "died"}, {"Interred", ""}, {"Age", "age"}, {"Lot", "plot"}, {"Service", "unit"}, {"Remarks", "notes"}}}
	lotTable    = book{file: "register-soldiers-lot.csv", columns: titles("cemetery", "county", "state", "section", "plot", "surname", "given", "rank", "unit", "died", "age", "conflict", "notes")}
)

// Make writes the rosters, stones.csv, two registers, csv-metadata.json and truth.csv into a folder that is there.
func Make(dir string, opt Options) error {
	w := newWorld(opt.Seed, opt.Records)
	w.fill(opt.Records)
	graves := w.graves(opt.Stones, newDice(opt.Seed, 2))
	if err := w.write(dir); err != nil {
		return err
	}
	wear := newDice(opt.Seed, 3)
	if opt.Messy {
		wear = newDice(opt.Seed, 4)
	}
	cut := newDice(opt.Seed, 5)
	stones, sexton, lot, truth := [][]string{head(stoneTable)}, [][]string{head(sextonTable)}, [][]string{head(lotTable)}, [][]string{{"stone", "record"}}
	for _, g := range graves {
		id := ""
		switch g.table {
		case "sexton":
			id = fmt.Sprintf("S%04d", len(sexton))
			sexton = append(sexton, append([]string{id}, w.buried(g, cut, wear, opt.Messy)...))
		case "lot":
			id = fmt.Sprintf("L%04d", len(lot))
			lot = append(lot, append([]string{id}, w.listed(g, cut, wear, opt.Messy)...))
		default:
			id = fmt.Sprintf("T%05d", len(stones))
			stones = append(stones, append([]string{id}, w.seen(g, cut, wear, opt.Messy)...))
		}
		for _, p := range g.of {
			for _, r := range p.rows {
				truth = append(truth, []string{id, r.id})
			}
		}
	}
	for _, t := range []struct {
		file string
		rows [][]string
	}{{stoneTable.file, stones}, {sextonTable.file, sexton}, {lotTable.file, lot}, {"truth.csv", truth}} {
		if err := table.Write(filepath.Join(dir, t.file), t.rows); err != nil {
			return err
		}
	}
	all := []book{stoneTable, sextonTable, lotTable}
	for _, name := range bookOrder {
		all = append(all, books[name])
	}
	return describe(dir, opt.Seed, all)
}

// times is how many times as often a hand slips in a messy survey.
func times(messy bool) float64 { return pick(messy, 3., 1.) }

// seen is a stone as a recorder wrote it down.
func (w *world) seen(g grave, cut, wear dice, messy bool) []string {
	st := w.carve(g, cut)
	k := recorders[g.ground.who[cut.IntN(2)]]
	place := []string{g.ground.name, county, "MO", string(rune('A' + cut.IntN(5))), fmt.Sprint(cut.from(1, 24)), fmt.Sprint(cut.from(1, 40)), fmt.Sprintf("%.4f", g.ground.lat+cut.Float64()/200), fmt.Sprintf("%.4f", -91.44-cut.Float64()/200)}
	when := cut.dayOf(cut.from(2019, 2024)).write(k.days)
	f := cutFace(st.lines)
	condition := wear.weather(f, st.soft, messy)
	words := k.record(wear, f, times(messy))
	inches := func(x float64) string {
		if !k.measures && cut.is(.7) || x == 0 {
			return ""
		}
		return fmt.Sprint(x)
	}
	device := st.device
	if device == "none" && cut.is(.5) {
		device = ""
	}
	notes := st.note
	if st.motifs != "" && cut.is(.35) {
		notes, st.motifs = strings.TrimPrefix(notes+"; "+st.motifs, "; "), ""
	}
	return append(place, words, st.top, st.material, inches(st.width), inches(st.thick), inches(st.tall), st.lettering, device, st.emblem, st.motifs, st.setting, condition, k.name, when, notes)
}

// slip is a name as a copyist types it.
func slip(d dice, name string, chance float64) string {
	switch {
	case name == "" || !d.is(chance):
		return name
	case d.is(.5):
		return d.miscopied(name)
	}
	return d.byEar(name)
}

// buried is a row of the sexton's book.
func (w *world) buried(g grave, cut, wear dice, messy bool) []string {
	d, p := cut, g.p
	given, middle, surname := w.cutName(g, d, false)
	surname = slip(wear, surname, .04*times(messy))
	name := surname + ", " + spaced(given, middle)
	age := p.born.years(p.died)
	remarks, unit := "", ""
	switch {
	case p.woman && age > 20 && d.is(.6):
		name = surname + ", Mrs. " + spaced(of(d, given, given, p.spouse), middle)
		remarks = of(d, strings.TrimSuffix("wife of "+p.spouse, " of "), "widow", "")
	case age < 3:
		name = surname + ", " + of(d, given, "infant of "+p.house.father.given, spaced(given, middle))
		remarks = of(d, "child of "+p.house.father.given, "")
	}
	if g.s != nil {
		short := g.s.unit.short(d)
		if g.s.company != "" {
			short = "Co. " + g.s.company + " " + short
		}
		switch x := d.Float64(); {
		case x < .22:
			unit = short
		case x < .42:
			remarks = pick(g.s.unit.side == "confederate", of(d, "Confederate soldier", "Confed. vet."), pick(g.s.unit.side == "early", "old soldier", of(d, "old soldier", "G. A. R. funeral", "Civil War vet.", "soldier")))
		}
	}
	if p.house.people == "freed" && d.is(.5) {
		remarks = strings.TrimPrefix(remarks+", col'd", ", ")
	}
	died := p.died
	if d.is(.02) {
		died.y += of(d, -1, 1)
	}
	how := pick(died.y%2 == 0, "full", "short")
	told := fmt.Sprint(age)
	if age < 2 {
		told = fmt.Sprint(d.from(1, 20), of(d, " mos.", " mo.", " days"))
	} else if d.is(.08) {
		told = fmt.Sprint(max(2, age+d.from(-3, 3)))
	}
	if d.is(.12) {
		told = ""
	}
	diedCell := died.write(how)
	if d.is(.2) {
		diedCell = ""
	}
	return []string{g.ground.name, name, diedCell, died.plus(d.from(1, 3)).write(how), told, fmt.Sprint(d.from(1, 400)), unit, remarks}
}

// listed is a row of the list of government graves that the auxiliary drew up.
func (w *world) listed(g grave, cut, wear dice, messy bool) []string {
	d, p, s := cut, g.p, g.s
	given, middle, surname := w.cutName(g, d, true)
	surname = slip(wear, surname, .03*times(messy))
	unit := s.unit.short(d)
	if s.company != "" {
		unit = "Co. " + s.company + ", " + unit
	}
	if d.is(.05) {
		unit = s.unit.short(d)
	}
	died, age := "", ""
	if d.is(.55) {
		died = p.died.write("full")
		if d.is(.25) {
			died = fmt.Sprint(p.died.y)
		}
		if d.is(.3) {
			age = fmt.Sprint(p.born.years(p.died))
		}
	}
	war := pick(s.unit.war == "", "Civil War", "")
	if s.unit.war != "" {
		war = wars[s.unit.war][0]
	}
	notes := ""
	if s.unit.side == "confederate" {
		notes = of(d, "C. S. A.", "Confederate")
	}
	return []string{g.ground.name, county, "MO", fmt.Sprint(d.from(1, 9)), fmt.Sprint(d.from(1, 400)), surname, spaced(given, middle), d.rankAs(s.rankOut, true), unit, died, age, war, notes}
}
