package ferry

import (
	"fmt"
	"slices"
	"strings"
)

// grave is a stone or a row of a register, of one who lies here or is remembered here.
type grave struct {
	p      *person
	s      *service
	ground *ground
	table  string // stones, sexton or lot
	kind   string
	of     []*person // whose grave or memorial it is, of those who served
}

// ground is a burial ground, with who wrote down its stones.
type ground struct {
	name   string
	people string // of whom it is, if not of all
	who    []int
	lat    float64
}

var grounds = []ground{
	{"Tarrow Ferry City Cemetery", "", []int{0, 2}, 38.61},
	{"Soldiers' Lot, Tarrow Ferry", "soldiers", []int{0, 1}, 38.61},
	{"Mount Hebron Churchyard", "", []int{3, 4}, 38.55},
	{"Gilead Baptist Cemetery", "", []int{4, 5}, 38.67},
	{"New Hessen Evangelical Cemetery", "german", []int{1, 5}, 38.58},
	{"Osage Bluff Cemetery", "", []int{2, 3}, 38.50},
	{"Freedmen's Ground, Lone Elm", "freed", []int{0, 4}, 38.64},
	{"Shiloh Church Cemetery", "", []int{5, 1}, 38.71},
}

// graves chooses who lies here, and makes as many graves as asked for.
func (w *world) graves(n int, d dice) (all []grave) {
	served := n * 49 / 100
	type chance struct {
		p *person
		x float64
	}
	var lots []chance
	for _, p := range w.men {
		weight := .0
		fell := slices.ContainsFunc(p.services, func(s *service) bool { return s.fate == "died" })
		near := slices.ContainsFunc(p.services, func(s *service) bool { return s.fate == "died" && s.where == "Tarrow Ferry, Mo." })
		switch {
		case near:
			weight = .5
		case fell && p.house.town < w.local:
			weight = .12 // remembered on a stone at home, or brought there
		case fell:
		case p.house.town < w.local:
			weight = .6
		default:
			weight = .012
		}
		if weight > 0 {
			lots = append(lots, chance{p, d.ExpFloat64() / weight})
		}
	}
	slices.SortStableFunc(lots, func(a, b chance) int {
		switch {
		case a.x < b.x:
			return -1
		case a.x > b.x:
			return 1
		}
		return 0
	})
	for _, l := range lots {
		if len(all) >= served {
			break
		}
		all = append(all, w.graveOf(l.p, d)...)
	}
	all = all[:min(len(all), served)]
	for range n * 15 / 1000 {
		all = append(all, grave{kind: "unknown", table: "stones", ground: &grounds[1]})
	}
	var others []*person
	for _, houses := range w.houses[:w.local] {
		for _, h := range houses {
			for _, p := range append([]*person{h.father, h.mother}, h.kids...) {
				if len(p.services) == 0 && p.died.y > 1817 {
					others = append(others, p)
				}
			}
		}
	}
	for len(others) < n-len(all) {
		h := w.house(d.IntN(w.local), of(d, "upland", "upland", "german", "irish", "freed"), d.from(1800, 1870))
		others = append(append(others, h.father, h.mother), h.kids...)
	}
	d.Shuffle(len(others), func(i, j int) { others[i], others[j] = others[j], others[i] })
	for _, p := range others[:n-len(all)] {
		all = append(all, grave{p: p, ground: w.groundOf(p, d), table: pick(d.is(.2), "sexton", "stones"), kind: "citizen"})
	}
	d.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all
}

func (w *world) groundOf(p *person, d dice) *ground {
	for range 6 {
		g := &grounds[d.IntN(len(grounds))]
		if g.people == p.house.people && d.is(.8) || g.people == "" && (p.house.people == "upland" || p.house.people == "irish" || d.is(.35)) {
			return g
		}
	}
	return &grounds[0]
}

// graveOf is what stands or is written of a man who served: a stone, and sometimes a second, or a line in a book besides.
func (w *world) graveOf(p *person, d dice) []grave {
	s := p.services[d.IntN(len(p.services))]
	if len(p.services) > 1 && d.is(.4) { // the longer of them
		for _, other := range p.services {
			if other.ended.number()-other.enlisted.number() > s.ended.number()-s.enlisted.number() {
				s = other
			}
		}
	}
	g := grave{p: p, s: s, ground: w.groundOf(p, d), of: []*person{p}}
	fell := s.fate == "died"
	away := p.house.town >= w.local && fell
	x := d.Float64()
	switch {
	case fell && (away || s.where == "Tarrow Ferry, Mo."):
		g.kind, g.ground = "government", &grounds[1]
		if s.unit.side == "confederate" {
			g.ground = &grounds[5]
		}
	case fell:
		g.kind = pick(x < .3, "government", pick(x < .65, "cenotaph", "obelisk"))
	case s.unit.side == "early" && s.unit.war != "spanish":
		g.kind = pick(x < .4, "government", pick(x < .65, "told", pick(x < .75, "sign", "plain")))
	case s.unit.side == "confederate":
		g.kind = pick(x < .37, "government", pick(x < .6, "told", pick(x < .73, "sign", "plain")))
	case s.unit.body == "enrolled militia" || s.unit.body == "home guard":
		g.kind = pick(x < .38, "government", pick(x < .5, "told", pick(x < .57, "sign", "plain")))
	default:
		g.kind = pick(x < .57, "government", pick(x < .8, "told", pick(x < .87, "sign", "plain")))
	}
	if s.fate == "deserted" && g.kind == "government" && d.is(.7) {
		g.kind = "plain"
	}
	g.table = "stones"
	switch {
	case g.kind != "government" && g.kind != "cenotaph" && d.is(.2):
		g.table = "sexton"
	case g.kind == "government" && g.ground == &grounds[1] && d.is(.5):
		g.table = "lot"
	case g.kind == "government" && d.is(.08):
		g.table = "lot"
	}
	if g.kind == "obelisk" {
		for _, k := range p.house.kids { // a brother who fell stands on it too
			if k != p && len(k.services) > 0 && k.services[0].fate == "died" && len(g.of) < 2 {
				g.of = append(g.of, k)
			}
		}
	}
	list := []grave{g}
	if d.is(.07) {
		second := g
		second.kind, second.table = "plain", pick(d.is(.6), "sexton", "stones")
		if g.kind == "plain" || g.kind == "obelisk" {
			second.kind = "government"
		}
		if second.kind == "government" || second.table == g.table && g.table == "sexton" {
			second.table = "stones"
		}
		list = append(list, second)
	}
	return list
}

// stone is a stone as it was cut and set.
type stone struct {
	lines                                                           []string
	top, material, device, lettering, emblem, motifs, setting, note string
	width, thick, tall                                              float64
	soft                                                            bool
}

var stoneRanks = map[string][]string{"Corporal": {"CORPL.", "CORP.", "CORPL."}, "Sergeant": {"SERGT.", "SGT."}, "First Sergeant": {"1 SERGT.", "1ST SERGT."}, "Second Lieutenant": {"2 LIEUT.", "2ND LIEUT."}, "First Lieutenant": {"1 LIEUT.", "1ST LIEUT."}, "Captain": {"CAPT."}, "Musician": {"MUSN.", "MUS."}, "Drummer": {"DRUMR.", "MUSN."}, "Fifer": {"FIFER"}, "Bugler": {"BUGLER", "BUG."}, "Trumpeter": {"TRUMP."}, "Wagoner": {"WAGR.", "WAG."}, "Farrier": {"FARR."}, "Blacksmith": {"BLKSM."}, "Saddler": {"SADLR."}, "Teamster": {"TEAMSTER"},
	"Hospital Steward": {"HOSP. STEWD.", "HOSP. STEWARD"}, "Sergeant Major": {"SERGT. MAJ."}, "Commissary Sergeant": {"COM. SERGT."}, "Quartermaster Sergeant": {"Q. M. SERGT."}, "Principal Musician": {"PRIN. MUSN."}, "Surgeon": {"SURG."}, "Assistant Surgeon": {"ASST. SURG."}, "Chaplain": {"CHAPL."}, "Major": {"MAJ."}, "Lieutenant Colonel": {"LT. COL."}, "Colonel": {"COL."}, "Adjutant": {"ADJT."},
	"Landsman": {"LANDS.", "LDS."}, "Seaman": {"SEA."}, "Ordinary Seaman": {"ORD. SEA."}, "First Class Boy": {"1 CL. BOY"}, "Coal Heaver": {"COAL HVR."}, "Fireman": {"FIRE."}}

// cutName is a man's name as it is put on a stone: as the family has it, or as the order copied it from a roll.
func (w *world) cutName(g grave, d dice, government bool) (given, middle, surname string) {
	p := g.p
	given, middle, surname = p.given, p.middle, p.surname
	if government {
		if p.assumed != "" && d.is(.35) {
			surname = p.assumed
		}
		if p.unlettered && d.is(.18) || d.is(.018) {
			surname = d.byEar(surname)
		}
		if d.is(.012) {
			surname = d.miscopied(surname)
		}
		if e := english[given]; e != "" && d.is(.8) {
			given = e
		}
		if middle != "" && d.is(.3) {
			middle = ""
		}
		if cut[given] != "" && d.is(.45) {
			given = cut[given]
		}
		if d.is(.05) {
			given = given[:1] + "."
		}
		if middle != "" && d.is(.015) {
			middle = string(rune('A' + d.IntN(25)))
		}
	} else {
		if p.unlettered && d.is(.12) {
			surname = d.byEar(surname)
		}
		if e := english[given]; e != "" && d.is(.4) {
			given = e
		}
		switch x := d.Float64(); {
		case x < .1:
			given = given[:1] + "."
		case x < .17 && cut[given] != "":
			given = cut[given]
		case x < .2 && pet[given] != "":
			given = pet[given]
		}
		if middle != "" && d.is(.2) {
			middle = ""
		}
	}
	if len(middle) > 1 && (government || d.is(.85)) {
		middle = middle[:1]
	}
	if len(middle) == 1 {
		middle += "."
	}
	return given, middle, surname
}

func spaced(words ...string) string {
	return strings.Join(strings.Fields(strings.Join(words, " ")), " ")
}

// carve cuts the stone of a grave.
func (w *world) carve(g grave, d dice) stone {
	switch g.kind {
	case "unknown":
		n := fmt.Sprint(d.from(3, 1900))
		if d.is(.3) {
			return stone{lines: []string{of(d, "UNKNOWN", "UNKNOWN U. S. SOLDIER", "UNKNOWN")}, top: "rounded", material: "white marble", device: "recessed shield", lettering: "raised", setting: "upright", width: 10, thick: 4, tall: 12}
		}
		return stone{lines: pick(d.is(.4), []string{n, "UNKNOWN"}, []string{n}), top: "flat", material: of(d, "white marble", "granite"), device: "none", lettering: "incised", setting: "block", width: 6, thick: 6, tall: float64(d.from(0, 4))}
	case "government":
		return w.government(g, d)
	}
	return w.private(g, d)
}

// government is a stone that the government furnished.
func (w *world) government(g grave, d dice) stone {
	p, s := g.p, g.s
	u, rank, letter := s.unit, s.rankOut, s.company
	given, middle, surname := w.cutName(g, d, true)
	if p.suffix != "" && d.is(.3) {
		surname += ", " + p.suffix
	}
	name := strings.ToUpper(spaced(given, middle, surname))
	if d.is(.25) {
		rank = s.rankIn
	}
	// The order's own errors.
	if letter != "" && d.is(.015) {
		letter = of(d, "A", "B", "C", "D", "E", "F", "G", "H", "I", "K")
	}
	shown := *u
	if u.number > 9 && d.is(.015) {
		shown.number = of(d, u.number/10, u.number%10, u.number+1, u.number-1)
		shown.number = max(1, shown.number)
	}
	unit := shown.carved(d)
	company := ""
	if letter != "" {
		company = pick(u.arm == "la" || u.arm == "ha" && d.is(.5), of(d, "BTRY. ", "BATTY. "), "CO. ") + letter
	}
	year := p.died.y + max(0, d.about(4, 5))
	if year < 1874 {
		year = d.from(1874, 1892)
	}
	st := stone{top: "rounded", material: "white marble", device: "recessed shield", lettering: "raised", setting: "upright", width: 10, thick: 4, tall: float64(d.from(11, 14)), soft: true}
	if year >= 1903 {
		st.width, st.tall = 12, float64(d.from(20, 26))
	}
	modern := d.is(.07) || year > 1925 && d.is(.5)
	cut := stoneRanks[rank]
	title := ""
	if cut != nil {
		title = of(d, cut...)
	} else if d.is(.04) {
		title = "PVT."
	}
	switch {
	case u.side == "confederate":
		st.top, st.device, st.lettering, st.width, st.tall = "pointed", "none", "incised", 12, float64(d.from(20, 26))
		if d.is(.55) {
			st.device = "confederate cross"
		}
		if title == "PVT." && d.is(.5) {
			title = "PVT"
		}
		lines := []string{name}
		if title != "" {
			lines = pick(d.is(.5), []string{title, name}, []string{title + " " + name})
		}
		if company != "" {
			lines = append(lines, company)
		}
		lines = append(lines, unit...)
		lines = append(lines, of(d, "C. S. A.", "C. S. A.", "CONFEDERATE STATES ARMY"))
		if d.is(.25) {
			lines = append(lines, pick(d.is(.5), fmt.Sprintf("%d %d", p.born.y, p.died.y), strings.ToUpper(strings.TrimSuffix(p.died.write("short"), "."))))
		}
		st.lines = lines
	case modern || u.side == "early" && d.is(.5):
		st.top, st.device, st.lettering, st.width, st.tall = "slightly rounded", "none", "incised", 13, float64(d.from(23, 27))
		if d.is(.6) {
			st.emblem = "latin cross"
		}
		grade := strings.ReplaceAll(title, ".", "")
		if grade == "" && d.is(.8) {
			grade = "PVT"
		}
		war := map[string]string{"": "CIVIL WAR", "revolution": "REVOLUTIONARY WAR", "1812": "WAR OF 1812", "mexican": "MEXICAN WAR", "spanish": "SPANISH AMERICAN WAR"}[u.war]
		words := strings.ReplaceAll(strings.Join(unit, " "), ".", "")
		for _, w := range []string{" REV WAR", " REVOLUTIONARY WAR", " REVOLUTION", " WAR OF 1812", " MEX WAR", " MEXICAN WAR", " SP AM WAR"} {
			words = strings.TrimSuffix(words, w)
		}
		st.lines = []string{strings.ReplaceAll(name, ".", ""), spaced(grade, strings.ReplaceAll(company, ".", ""), words)}
		if d.is(.5) {
			st.lines = append([]string{"MISSOURI"}, st.lines...)
		}
		st.lines = append(st.lines, war)
		switch {
		case d.is(.4):
			st.lines = append(st.lines, fmt.Sprintf("%d %d", p.born.y, p.died.y))
		case d.is(.6):
			st.lines = append(st.lines, strings.ToUpper(strings.NewReplacer(".", "", ",", "").Replace(p.died.write("short"))))
		}
	default:
		lines := []string{name}
		if title != "" {
			lines = []string{title, name}
		}
		if d.is(.2) { // the name broken over two lines
			lines = append(lines[:len(lines)-1], strings.ToUpper(spaced(given, middle)), strings.ToUpper(surname))
		}
		if company != "" {
			if len(unit) == 1 && d.is(.15) {
				unit = []string{company + " " + unit[0]}
			} else {
				lines = append(lines, company)
			}
		}
		st.lines = append(lines, unit...)
		if g.ground == &grounds[1] && d.is(.6) {
			st.lines = append([]string{fmt.Sprint(d.from(1, 1900))}, st.lines...)
		}
	}
	return st
}

var epitaphs = []string{"Gone but not forgotten", "At rest", "Asleep in Jesus", "Blessed are the dead which die in the Lord", "A loving husband and father", "Ruhe sanft", "Rest in peace", "He giveth his beloved sleep", "Thy will be done", "Farewell"}

// years are the lines of a life on a private stone.
func (d dice) years(p *person) []string {
	born, died := p.born, p.died
	if d.is(.07) {
		born.y += of(d, -2, -1, 1, 1)
	}
	if d.is(.02) {
		died.y += of(d, -1, 1)
	}
	how := of(d, "short", "short", "full")
	switch x := d.Float64(); {
	case x < .3:
		return []string{fmt.Sprintf("%d - %d", born.y, died.y)}
	case x < .6:
		return []string{of(d, "Born ", "Born ", "B. ") + born.write(how), of(d, "Died ", "Died ", "D. ") + died.write(how)}
	case x < .9:
		age := born.years(died)
		months := (died.m - born.m + 12) % 12
		aged := fmt.Sprintf("Aged %d years", age)
		if d.is(.6) {
			aged = of(d, fmt.Sprintf("Aged %d yrs. %d mos. %d ds.", age, months, d.from(1, 28)), fmt.Sprintf("AE. %d Y. %d M. %d D.", age, months, d.from(1, 28)), fmt.Sprintf("in the %s year of his age", ordinal(age+1, false)))
		}
		if p.woman {
			aged = strings.Replace(aged, "his age", "her age", 1)
		}
		return []string{"Died " + died.write(how), aged}
	}
	return []string{fmt.Sprint(died.y)}
}

// private is a stone that a family set.
func (w *world) private(g grave, d dice) stone {
	p, s := g.p, g.s
	given, middle, surname := w.cutName(g, d, false)
	year := p.died.y
	st := stone{top: of(d, "rounded", "flat", "other", "square"), material: pick(year < 1895, of(d, "marble", "marble", "white marble", "sandstone"), of(d, "granite", "granite", "marble", "concrete")), device: "none", lettering: "incised", setting: "upright", width: float64(d.from(14, 30)), thick: float64(d.from(2, 8)), tall: float64(d.from(16, 60))}
	st.soft = st.material != "granite"
	full := spaced(given, middle, surname)
	if p.suffix != "" && d.is(.3) {
		full += ", " + p.suffix
	}
	age := p.born.years(p.died)
	var lines []string
	switch {
	case p.woman && age > 19 && d.is(.75):
		husband := p.spouse
		last := surname
		if p.house.mother != p { // a daughter who married
			last, husband = d.surname(p.house.people), namePools().givens["upland"].draw(d)
			full = spaced(given, middle, last)
		}
		lines = []string{full, of(d, "Wife of ", "wife of ", "Consort of ") + spaced(of(d, husband, husband, husband[:1]+"."), last)}
		if d.is(.3) {
			lines[0] = spaced(given, middle)
		}
	case age < 14:
		lines = []string{of(d, full, spaced(given, middle)), of(d, "Son", "Child", "Infant") + " of " + spaced(of(d, p.house.father.given, p.house.father.given[:1]+"."), "&", of(d, p.house.mother.given, p.house.mother.given[:1]+"."), p.surname)}
		if p.woman {
			lines[1] = strings.Replace(lines[1], "Son", "Dau.", 1)
		}
	case g.kind == "obelisk":
		lines = []string{strings.ToUpper(surname), spaced(p.house.father.given, surname), fmt.Sprintf("%d - %d", p.house.father.born.y, p.house.father.died.y), spaced(p.house.mother.given, "his wife"), fmt.Sprintf("%d - %d", p.house.mother.born.y, p.house.mother.died.y), full}
		st.top, st.material, st.note = "other", "marble", "obelisk"
	default:
		lines = []string{full}
		if d.is(.3) {
			lines[0] = strings.ToUpper(full)
		}
	}
	var told []string
	if s != nil {
		unit := s.unit.short(d)
		if s.company != "" {
			unit = pick(s.unit.arm == "la" && s.unit.body == "", of(d, "Batt. ", "Battery "), "Co. ") + s.company + of(d, ", ", " ") + unit
		}
		if s.unit.side == "confederate" && d.is(.75) {
			unit += of(d, " C. S. A.", ", C. S. A.")
		}
		if s.unit.side == "early" {
			unit = of(d, unit, unit+", "+wars[s.unit.war][0])
		}
		place, _, _ := strings.Cut(s.where, ",")
		if s.then == "killed" {
			place = of(d, "Killed at ", "Fell at ", "Killed in battle at ") + place
		} else if place != "" {
			place = "Died at " + place
		}
		switch g.kind {
		case "told":
			told = []string{unit}
			if s.rankOut != "Private" && d.is(.5) {
				if cut := stoneRanks[s.rankOut]; cut != nil && d.is(.5) {
					lines[0] = strings.ToUpper(of(d, cut...)) + " " + lines[0]
				} else {
					told = []string{s.rankOut + " " + unit}
				}
			}
			if d.is(.12) && s.unit.side == "union" && s.unit.body != "navy" {
				told = append([]string{"Member of"}, told...)
			}
		case "sign":
			switch s.unit.side {
			case "union":
				if d.is(.5) {
					st.motifs = of(d, "G.A.R. star", "crossed swords", "flag", "G.A.R. holder beside")
				} else {
					told = []string{of(d, "A soldier of the Union", "Veteran of the Civil War", "Civil War Veteran", "A Union soldier", "G. A. R.")}
				}
			case "confederate":
				if d.is(.5) {
					st.motifs = of(d, "U.C.V. emblem", "iron Southern cross of honor beside", "Southern cross")
				} else {
					told = []string{of(d, "A Confederate soldier", "Confederate Veteran", "C. S. A.", "U. C. V.")}
				}
			default:
				told = []string{of(d, "A soldier of ", "Veteran of ") + pick(s.unit.war == "1812", "the War of 1812", pick(s.unit.war == "mexican", "the Mexican War", pick(s.unit.war == "spanish", "the Spanish War", "the Revolution")))}
			}
		case "cenotaph", "obelisk":
			told = []string{place}
			if d.is(.55) {
				told = append([]string{unit}, told...)
			}
		}
	}
	life := d.years(p)
	switch {
	case len(told) > 0 && d.is(.5):
		lines = append(append(lines, told...), life...)
	default:
		lines = append(append(lines, life...), told...)
	}
	if len(g.of) > 1 {
		b := g.of[1]
		lines = append(lines, spaced(b.given, pick(d.is(.5), b.middle, ""), surname), fmt.Sprintf("%d - %d", b.born.y, b.died.y))
		if d.is(.5) {
			lines = append(lines, b.services[0].unit.short(d))
		}
	}
	if p.spouse != "" && !p.woman && g.kind != "obelisk" && d.is(.22) {
		lines = append(lines, of(d, p.spouse, p.spouse, strings.ToUpper(p.spouse))+of(d, ", his wife", " his wife", ""), fmt.Sprintf("%d - %d", p.born.y+d.from(0, 7), p.died.y+d.from(-9, 18)))
	}
	if d.is(.18) {
		if e := of(d, epitaphs...); !p.woman || !strings.Contains(e, "husband") && !strings.HasPrefix(e, "He ") {
			lines = append(lines, e)
		}
	}
	if year > 1900 && d.is(.4) {
		for i := range lines {
			lines[i] = strings.ToUpper(lines[i])
		}
	}
	st.lines = lines
	return st
}
