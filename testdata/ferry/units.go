package ferry

import (
	"fmt"
	"strings"
)

// unit is a regiment, battalion, battery or ship.
type unit struct {
	side, state, arm, body string // union, confederate or early; a postal code; inf, cav, la, ha, mi, eng, navy; and what it is a part of, if not a state's volunteers
	number                 int
	name                   string // of whom or what it was called
	old                    string // what a colored regiment was called before
	war                    string // other than the civil war
	raised, ended          day
	letters                string // of its companies
	first                  int    // which of them is raised first of this country
	printed                bool   // there is a printed history of it, with a roll
	book                   string // the book that should have it
}

var (
	stateNames = map[string]string{"MO": "Missouri", "IL": "Illinois", "KS": "Kansas", "IA": "Iowa", "KY": "Kentucky", "TN": "Tennessee", "AR": "Arkansas", "OH": "Ohio", "IN": "Indiana", "WI": "Wisconsin", "TX": "Texas", "VA": "Virginia", "GA": "Georgia", "SC": "South Carolina", "MS": "Mississippi", "LA": "Louisiana", "NC": "North Carolina", "PA": "Pennsylvania", "NY": "New York", "MN": "Minnesota", "AL": "Alabama", "MA": "Massachusetts"}
	stateShort = map[string]string{"MO": "Mo.", "IL": "Ill.", "KS": "Kans.", "IA": "Iowa", "KY": "Ky.", "TN": "Tenn.", "AR": "Ark.", "OH": "Ohio", "IN": "Ind.", "WI": "Wis.", "TX": "Tex.", "VA": "Va.", "GA": "Ga.", "SC": "S. C.", "MS": "Miss.", "LA": "La.", "NC": "N. C.", "PA": "Pa.", "NY": "N. Y.", "MN": "Minn.", "AL": "Ala.", "MA": "Mass."}
	stateStone = map[string][]string{"IL": {"ILL.", "ILLS."}, "KS": {"KANS.", "KAN."}, "TN": {"TENN."}, "OH": {"OHIO", "O."}, "PA": {"PA.", "PENNA."}, "IA": {"IOWA"}}
	armLong    = map[string]string{"inf": "Infantry", "cav": "Cavalry", "la": "Light Artillery", "ha": "Heavy Artillery", "mi": "Mounted Infantry", "eng": "Engineers"}
	armShort   = map[string]string{"inf": "Inf.", "cav": "Cav.", "la": "L. A.", "ha": "H. A.", "mi": "Mtd. Inf.", "eng": "Engrs."}
)

const (
	ten    = "ABCDEFGHIK"
	twelve = "ABCDEFGHIKLM"
)

// colored are regiments of colored troops, whence they came and what they were called before (Dyer 1908; the Official Army Register, part VIII, 1867).
var colored = []struct {
	number   int
	arm, old string
	weight   float64
}{
	{62, "inf", "1st Mo. Col. Inf.", 5}, {65, "inf", "2d Mo. Col. Inf.", 5}, {67, "inf", "3d Mo. Col. Inf.", 4}, {68, "inf", "4th Mo. Col. Inf.", 4}, {18, "inf", "", 4}, {60, "inf", "1st Iowa Col. Inf.", 2}, {79, "inf", "1st Kans. Col. Inf.", 3}, {83, "inf", "2d Kans. Col. Inf.", 2},
	{56, "inf", "3d Ark. Inf. (A. D.)", 3}, {54, "inf", "2d Ark. Inf. (A. D.)", 1}, {57, "inf", "4th Ark. Inf. (A. D.)", 1}, {46, "inf", "1st Ark. Inf. (A. D.)", 1}, {49, "inf", "11th La. Inf. (A. D.)", 1}, {51, "inf", "1st Miss. Inf. (A. D.)", 1}, {55, "inf", "1st Ala. Inf. (A. D.)", 1}, {59, "inf", "1st Tenn. Inf. (A. D.)", 1},
	{61, "inf", "2d Tenn. Inf. (A. D.)", 1}, {29, "inf", "", 1}, {13, "inf", "", 1}, {72, "inf", "", .5}, {116, "inf", "", 1}, {122, "inf", "", .5}, {4, "ha", "2d Tenn. H. A. (A. D.)", 1}, {3, "ha", "1st Tenn. H. A. (A. D.)", 1}, {8, "ha", "", .5}, {5, "cav", "", .7}, {3, "cav", "1st Miss. Cav. (A. D.)", .6},
}

// newUnits are the units that take men of this country, each with how many companies of it are raised of them.
func (w *world) newUnits() {
	d := w.d
	add := func(u unit, weight float64) {
		if u.letters == "" {
			u.letters = ten
			if u.arm == "cav" || u.arm == "ha" || u.arm == "la" {
				u.letters = twelve
			}
		}
		if u.side == "" {
			u.side = "union"
		}
		u.first = d.IntN(len(u.letters))
		w.units.add(&u, weight)
	}
	years := func(no, most int) (day, day) { // of a volunteer regiment by its number
		y := 1861 + min(3, no*4/(most+1))
		from := day{y, d.from(6, 10), d.from(1, 28)}
		if y == 1864 {
			return from, day{1865, d.from(4, 9), d.from(1, 28)}
		}
		return from, day{y + 3, d.from(6, 11), d.from(1, 28)}
	}
	for n := 1; n <= 51; n++ {
		if n == 19 || n == 20 || n == 28 {
			continue
		}
		from, to := years(n, 51)
		add(unit{state: "MO", arm: "inf", number: n, raised: from, ended: to, printed: d.is(.25), book: "volunteers"}, 1)
	}
	horse := map[int]string{2: "Merrill's Horse", 5: "Benton Hussars"}
	for n := 1; n <= 16; n++ {
		from, to := years(n, 16)
		add(unit{state: "MO", arm: "cav", number: n, name: horse[n], raised: from, ended: to, printed: d.is(.2), book: "volunteers"}, 1.4)
	}
	for n := 1; n <= 2; n++ {
		add(unit{state: "MO", arm: "la", number: n, raised: day{1861, 9, 1}, ended: day{1865, 8, 20}, book: "volunteers"}, 1.5)
	}
	add(unit{state: "MO", arm: "eng", number: 1, name: "Bissell's Engineers", raised: day{1861, 7, 10}, ended: day{1864, 12, 1}, book: "volunteers"}, 1.2)
	captains := map[string]bool{}
	captain := func() string {
		for {
			if name := d.surname(of(d, "upland", "upland", "german")); !captains[name] && !strings.HasSuffix(name, "s") {
				captains[name] = true
				return name
			}
		}
	}
	for range 7 {
		add(unit{state: "MO", arm: "la", body: "battery", name: captain() + "'s", letters: "-", raised: day{1861 + d.IntN(2), d.from(1, 12), d.from(1, 28)}, ended: day{1864, d.from(6, 12), d.from(1, 28)}, book: "volunteers"}, .25)
	}
	for n := 1; n <= 9; n++ {
		add(unit{state: "MO", arm: "cav", body: "state militia", number: n, raised: day{1862, d.from(1, 5), d.from(1, 28)}, ended: day{1865, d.from(1, 6), d.from(1, 28)}, book: "militia"}, 2)
	}
	for range 26 {
		add(unit{state: "MO", arm: "inf", body: "enrolled militia", number: d.from(1, 89), raised: day{1862, d.from(7, 10), d.from(1, 28)}, ended: day{1862, 11, d.from(1, 28)}.plus(d.from(0, 700)), book: "militia"}, .55)
	}
	for _, c := range []string{"Tarrow County", "Lisle County", "Osier County", "Pacific", "Fremont"} {
		add(unit{state: "MO", arm: "inf", body: "home guard", name: c, letters: "ABCDEF", raised: day{1861, d.from(5, 7), d.from(1, 28)}, ended: day{1861, d.from(9, 11), d.from(1, 28)}, book: "militia"}, .9)
	}
	for n := 1; n <= 5; n++ {
		add(unit{state: "MO", arm: "inf", body: "reserve corps", number: n, raised: day{1861, 5, d.from(1, 28)}, ended: day{1861, 8, d.from(10, 28)}, book: "militia"}, .8)
	}
	for _, s := range []struct {
		state, arm  string
		most, units int
		weight      float64
	}{{"IL", "inf", 156, 14, .8}, {"IL", "cav", 17, 4, .7}, {"KS", "inf", 13, 3, .6}, {"KS", "cav", 16, 5, .8}, {"IA", "inf", 48, 8, .7}, {"IA", "cav", 9, 2, .6}, {"KY", "inf", 55, 5, .5}, {"KY", "cav", 17, 2, .5}, {"TN", "cav", 14, 2, .5}, {"AR", "cav", 4, 2, .6}, {"AR", "inf", 2, 1, .4}, {"OH", "inf", 197, 10, .6}, {"IN", "inf", 156, 9, .6},
		{"WI", "inf", 53, 3, .5}, {"PA", "inf", 215, 4, .4}, {"NY", "inf", 194, 4, .4}, {"MN", "inf", 11, 1, .4}, {"IL", "la", 2, 2, .4}, {"OH", "cav", 13, 2, .4}} {
		for range s.units {
			n := d.from(1, s.most)
			from, to := years(n, s.most)
			add(unit{state: s.state, arm: s.arm, number: n, raised: from, ended: to, printed: d.is(.4), book: "volunteers"}, s.weight)
		}
	}
	for range 5 {
		add(unit{state: "US", arm: "inf", body: "regulars", number: d.from(1, 19), raised: day{1861, d.from(1, 9), d.from(1, 28)}, ended: day{1866, d.from(1, 9), d.from(1, 28)}, book: "volunteers"}, .4)
	}
	add(unit{state: "US", arm: "navy", body: "navy", name: "Tamsen", letters: "-", raised: day{1862, 3, 4}, ended: day{1865, 8, 1}, book: "volunteers"}, .4)
	add(unit{state: "US", arm: "navy", body: "navy", name: "Lady Ardrie", letters: "-", raised: day{1863, 3, 4}, ended: day{1865, 7, 1}, book: "volunteers"}, .3)
	for _, c := range colored {
		u := unit{state: "US", arm: c.arm, body: "colored", number: c.number, old: c.old, raised: day{1863, d.from(6, 12), d.from(1, 28)}, ended: day{1866, d.from(1, 4), d.from(1, 28)}, book: "descriptive"}
		if c.old == "" {
			u.raised.y = 1864
		}
		add(u, c.weight*.6)
	}
	south := func(u unit, weight float64) {
		u.side, u.book = "confederate", "confederate"
		if u.raised.y == 0 {
			u.raised, u.ended = day{1861 + d.IntN(2), d.from(3, 12), d.from(1, 28)}, day{1865, d.from(4, 6), d.from(1, 28)}
		}
		add(u, weight)
	}
	for n := 1; n <= 16; n++ {
		south(unit{state: "MO", arm: "inf", number: n}, .8)
	}
	for n := 1; n <= 15; n++ {
		name := ""
		if d.is(.5) {
			name = captain() + "'s"
		}
		south(unit{state: "MO", arm: "cav", number: n, name: name}, .8)
	}
	for range 6 {
		south(unit{state: "MO", arm: "cav", name: captain() + "'s"}, .5)
	}
	for range 5 {
		south(unit{state: "MO", arm: "la", body: "battery", name: captain() + "'s", letters: "-"}, .3)
	}
	for n := 1; n <= 7; n++ {
		south(unit{state: "MO", arm: of(d, "inf", "cav", "cav"), body: "state guard", number: d.from(1, 5), name: ordinal(n+1, true) + " Division", raised: day{1861, d.from(5, 6), d.from(1, 28)}, ended: day{1861, 12, d.from(1, 28)}.plus(d.from(0, 90))}, .7)
	}
	for _, l := range [][2]string{{"Phillips'", "GA"}, {"Cobb's", "GA"}, {"Hampton's", "SC"}, {"Thomas'", "NC"}, {"Waul's", "TX"}} {
		south(unit{state: l[1], arm: of(d, "inf", "cav"), body: "legion", name: l[0]}, .15)
	}
	for _, s := range []struct {
		state, arm  string
		most, units int
	}{{"KY", "inf", 9, 3}, {"KY", "cav", 12, 2}, {"TN", "inf", 63, 5}, {"TN", "cav", 16, 2}, {"AR", "inf", 38, 4}, {"AR", "cav", 12, 1}, {"VA", "inf", 64, 4}, {"TX", "cav", 36, 2}, {"MS", "inf", 48, 2}, {"GA", "inf", 66, 2}, {"AL", "inf", 60, 2}} {
		for range s.units {
			south(unit{state: s.state, arm: s.arm, number: d.from(1, s.most)}, .4)
		}
	}
	early := func(u unit, weight float64) {
		u.side, u.book = "early", "early"
		add(u, weight)
	}
	for _, s := range []string{"VA", "PA", "NC", "SC"} {
		early(unit{state: s, arm: "inf", body: of(d, "line", "line", "militia"), number: d.from(1, 13), war: "revolution", raised: day{1776 + d.IntN(4), d.from(2, 10), d.from(1, 28)}, ended: day{1781, d.from(1, 11), d.from(1, 28)}}, .25)
	}
	for _, s := range []string{"KY", "KY", "KY", "TN", "TN", "VA"} {
		early(unit{state: s, arm: of(d, "inf", "inf", "mi"), body: "militia", number: d.from(1, 16), name: captain() + "'s", war: "1812", letters: "-", raised: day{1812, d.from(7, 12), d.from(1, 28)}.plus(d.from(0, 500)), ended: day{1814, 12, 1}}, .4)
	}
	for _, u := range []unit{{state: "MO", arm: "mi", body: "volunteers", number: 1, name: "Doniphan's"}, {state: "MO", arm: "mi", body: "volunteers", number: 3}, {state: "IL", arm: "inf", body: "volunteers", number: 2}, {state: "KY", arm: "cav", body: "volunteers", number: 1}} {
		u.war, u.raised, u.ended = "mexican", day{1846, d.from(5, 8), d.from(1, 28)}, day{1847, d.from(6, 10), d.from(1, 28)}
		early(u, .6)
	}
	for _, n := range []int{2, 4, 5, 6} {
		early(unit{state: "MO", arm: "inf", body: "volunteers", number: n, war: "spanish", raised: day{1898, 5, d.from(4, 20)}, ended: day{1898, 11, d.from(1, 28)}}, .5)
	}
}

// wars are what books call a war.
var wars = map[string][]string{
	"revolution": {"Revolutionary War", "Revolution"}, "1812": {"War of 1812"}, "mexican": {"Mexican War", "Mexican"}, "spanish": {"Spanish-American War", "Span. Am. War"},
}

// long is a unit's name in full, as an index has it.
func (u *unit) long() string {
	no, st, arm := ordinal(u.number, false), stateNames[u.state], armLong[u.arm]
	switch u.body {
	case "battery":
		return u.name + " Battery, " + st + " Light Artillery"
	case "state militia":
		return no + " " + st + " State Militia Cavalry"
	case "enrolled militia":
		return no + " Enrolled " + st + " Militia"
	case "home guard":
		if strings.HasSuffix(u.name, "County") {
			return u.name + " Home Guards, " + st
		}
		return u.name + " Battalion, Home Guards, " + st
	case "reserve corps":
		return no + " U. S. Reserve Corps, " + st + " Infantry"
	case "regulars":
		return no + " U. S. Infantry"
	case "navy":
		return "U. S. S. " + u.name
	case "colored":
		return no + " U. S. Colored " + arm
	case "vrc":
		return no + " Veteran Reserve Corps"
	case "state guard":
		return no + " " + arm + ", " + u.name + ", Missouri State Guard"
	case "legion":
		return u.name + " Legion, " + st + " " + arm
	case "line":
		return no + " " + st + " Regiment, Continental Line"
	case "militia":
		if u.name != "" {
			return "Capt. " + u.name + " Company, " + no + " " + st + " Militia"
		}
		return no + " " + st + " Militia"
	case "volunteers":
		if u.name != "" {
			return fmt.Sprintf("%s %s %s Volunteers (%s)", no, st, pick(u.arm == "mi", "Mounted", arm), u.name)
		}
		return no + " " + st + " " + pick(u.arm == "mi", "Mounted", arm) + " Volunteers"
	}
	switch {
	case u.number == 0:
		return u.name + " " + st + " " + arm
	case u.name != "":
		return no + " " + st + " " + arm + " (" + u.name + ")"
	}
	return no + " " + st + " " + arm
}

// short is a unit as clerks and families abbreviate it, each in one of some ways.
func (u *unit) short(d dice) string {
	st, arm := stateShort[u.state], armShort[u.arm]
	no := ordinal(u.number, true)
	if d.is(.35) {
		no = fmt.Sprint(u.number)
	}
	if u.arm == "la" && d.is(.5) {
		arm = of(d, "Lt. Art.", "L. Art.")
	}
	switch u.body {
	case "battery":
		return u.name + of(d, " Batt'y ", " Bat. ", " Battery ", " Btry. ") + st + " " + arm
	case "state militia":
		return of(d, no+" Mo. S. M. Cav.", no+" Cav. M. S. M.", no+" M. S. M. Cav.", no+" Mo. State Mil. Cav.")
	case "enrolled militia":
		return of(d, no+" E. M. M.", no+" Enr. Mo. Mil.", no+" Regt. E. M. M.", no+" Enrolled Mo. Militia")
	case "home guard":
		name := strings.Replace(u.name, "County", "Co.", 1)
		return of(d, name+" Home Gds.", name+" Mo. Home Guard", name+" H. G.")
	case "reserve corps":
		return of(d, no+" U. S. R. C. Mo. Inf.", no+" U. S. Res. Corps Mo.", no+" Mo. U. S. R. C.")
	case "regulars":
		return no + of(d, " U. S. Inf.", " U. S. Inf'y", " Inf. U. S. A.")
	case "navy":
		return of(d, "U. S. S. ", "U. S. Str. ", "Gunboat ") + u.name
	case "colored":
		if u.old != "" && d.is(.15) {
			return u.old
		}
		switch u.arm {
		case "inf":
			return no + of(d, " U. S. C. T.", " U. S. C. I.", " U. S. Col. Inf.", " U. S. C. Inf.", " U. S. C. T.")
		case "cav":
			return no + of(d, " U. S. C. C.", " U. S. Col. Cav.")
		}
		return no + of(d, " U. S. C. H. A.", " U. S. Col. H. A.")
	case "vrc":
		return no + of(d, " V. R. C.", " Vet. Res. Corps", " Regt. V. R. C.")
	case "state guard":
		return no + " " + arm + " " + strings.Replace(u.name, "Division", "Div.", 1) + of(d, " M. S. G.", " Mo. State Guard")
	case "legion":
		return u.name + " Legion " + st + " " + arm
	case "line":
		return no + " " + st + of(d, " Regt.", " Line", " Cont. Line")
	case "militia":
		if u.name != "" {
			return of(d, "Capt. "+u.name+" Co. "+st+" Mil.", no+" Regt. "+st+" Mil.", "Capt. "+u.name+" Co. "+no+" "+st+" Mil.")
		}
		return no + " " + st + " Mil."
	case "volunteers":
		if u.name != "" && d.is(.4) {
			return of(d, u.name+" Regt. "+st+" Vols.", u.name+" "+st+" Mtd. Vols.")
		}
		return no + " " + st + " " + pick(u.arm == "mi", "Mtd.", arm) + of(d, " Vols.", " Vol.", "")
	}
	if u.name != "" && (u.number == 0 || d.is(.3)) {
		if u.side == "union" {
			return u.name + " " + st + pick(strings.Contains(u.name, "'s H"), " Vols.", " Cav.")
		}
		return u.name + of(d, " ", " Regt. ", " ") + st + " " + arm
	}
	return no + " " + st + " " + pick(u.side == "union" && d.is(.25), "Vol. ", "") + arm
}

// carved are the words of a unit on a government's stone, line by line, after the company.
func (u *unit) carved(d dice) []string {
	st := strings.ToUpper(stateShort[u.state])
	if more := stateStone[u.state]; more != nil {
		st = of(d, more...)
	}
	arm := strings.ToUpper(armShort[u.arm])
	no := fmt.Sprint(u.number)
	if d.is(.08) {
		no = strings.ToUpper(ordinal(u.number, true))
	}
	switch u.body {
	case "battery":
		return []string{strings.ToUpper(u.name), of(d, "BTRY.", "BATTY.", "INDPT. BTRY."), st + " " + arm}
	case "state militia":
		return []string{of(d, no+" MO. S. M. CAV.", no+" MO. ST. MIL. CAV.", no+" M. S. M. CAV.")}
	case "enrolled militia":
		return []string{of(d, no+" E. MO. MIL.", no+" ENRD. MO. MIL.", no+" E. M. M.")}
	case "home guard":
		return []string{strings.ToUpper(strings.Replace(u.name, "County", "Co.", 1)), of(d, "MO. HOME GDS.", "MO. H. G.", "MO. HOME GUARD")}
	case "reserve corps":
		return []string{no + " U. S. R. C.", "MO. INF."}
	case "regulars":
		return []string{no + " U. S. INF."}
	case "navy":
		return of(d, []string{"U. S. S. " + strings.ToUpper(u.name)}, []string{"U. S. N."}, []string{"U. S. NAVY"})
	case "colored":
		if u.old != "" && d.is(.06) {
			return []string{strings.ToUpper(u.old)}
		}
		switch u.arm {
		case "inf":
			return []string{no + of(d, " U. S. C. T.", " U. S. C. I.", " U. S. C. INF.", " U. S. COL. INF.", " U. S. C. T.")}
		case "cav":
			return []string{no + of(d, " U. S. C. CAV.", " U. S. COL. CAV.")}
		}
		return []string{no + of(d, " U. S. C. H. A.", " U. S. C. HVY. ART.")}
	case "vrc":
		return []string{no + of(d, " V. R. C.", " VET. RES. CORPS")}
	case "state guard":
		return []string{no + " " + arm, of(d, "MO. ST. GD.", "MO. S. G.", "MO. STATE GUARD")}
	case "legion":
		return []string{strings.ToUpper(u.name) + " LEGION", st + " " + arm}
	case "line":
		return []string{no + " " + st + of(d, " REGT.", " LINE"), of(d, "REV. WAR", "REV. WAR", "REVOLUTIONARY WAR")}
	case "militia":
		lines := []string{no + " " + st + " MIL."}
		if u.name != "" && d.is(.5) {
			lines = []string{"CAPT. " + strings.ToUpper(u.name) + " CO.", st + " MIL."}
		}
		return append(lines, pick(u.war == "1812", "WAR OF 1812", of(d, "REV. WAR", "REVOLUTION")))
	case "volunteers":
		if u.war == "spanish" {
			return []string{no + " " + st + " INF.", "SP. AM. WAR"}
		}
		return []string{no + " " + st + " " + pick(u.arm == "mi", "MTD. VOLS.", arm), of(d, "MEX. WAR", "MEXICAN WAR")}
	}
	if u.name != "" && (u.number == 0 || d.is(.3)) {
		if u.side == "union" {
			return []string{strings.ToUpper(u.name), of(d, "MO. CAV.", "MO. VOLS.")}
		}
		return []string{strings.ToUpper(u.name) + of(d, " REGT.", ""), st + " " + arm}
	}
	return []string{no + " " + st + " " + arm}
}
