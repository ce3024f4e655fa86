package quarry

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
)

// book is a roster: its columns, what they mean where their names do not say it, and what is the same of all its rows. Terms are nil where a roster's columns are the default ones.
type book struct {
	file   string
	header []string
	terms  []string
	same   [][2]string
}

const (
	adjutant = "roster-adjutant-general-1866.csv"
	afar     = "roster-other-states.csv"
	regulars = "roster-regular-army.csv"
	spanish  = "roster-1898.csv"
	world    = "roster-world-war.csv"
	honor    = "roster-honor-roll.csv"
	pensions = "roster-pensioners-1883.csv"
	post     = "roster-gar-posts.csv"
)

var books = []book{
	{file: adjutant, header: strings.Split("No.|Regiment|Co.|Name|Rank|Residence|Date of Muster|Remarks|id", "|"),
		terms: strings.Split("|ms:unit|ms:company|foaf:name|ms:rank_in|ms:residence|ms:mustered_in|ms:remarks|dcterms:identifier", "|"),
		same:  [][2]string{{"ms:state", "WI"}, {"ms:conflict", "civil-war"}, {"ms:side", "union"}}},
	{file: afar, header: strings.Split("id,surname,given,rank_in,rank_out,company,regiment,arm,state,side,enlisted,mustered_out,age,residence,died,remarks", ",")},
	{file: regulars, header: strings.Split("id|Name|Enlisted|Age|Where born|Occupation|Regiment|Co.|Remarks", "|"),
		terms: strings.Split("dcterms:identifier|foaf:name|ms:enlisted|ms:age|ms:birthplace||ms:unit|ms:company|ms:remarks", "|"),
		same:  [][2]string{{"ms:body", "us"}}},
	{file: spanish, header: strings.Split("id,name,rank_in,unit,enlisted,mustered_out,age,residence,conflict,remarks", ",")},
	{file: world, header: strings.Split("id|Name and Serial|Residence|Place of birth|Born|Age|Organizations|Grade|Overseas|Discharged|Remarks", "|"),
		terms: strings.Split("dcterms:identifier|foaf:name|ms:residence|ms:birthplace|schema:birthDate|ms:age|ms:unit|ms:rank_out||ms:mustered_out|ms:remarks", "|"),
		same:  [][2]string{{"ms:conflict", "world-war-i"}}},
	{file: honor, header: strings.Split("id,name,rank_in,unit,branch,residence,born,died,conflict,remarks", ",")},
	{file: pensions, header: strings.Split("id|No. of certificate|Name of pensioner|Post-office address|Cause for which pensioned|Monthly rate|Allowed", "|"),
		terms: strings.Split("dcterms:identifier||foaf:name|ms:residence|ms:remarks||", "|"),
		same:  [][2]string{{"ms:conflict", "civil-war"}}},
	// The age is that of joining the post, not of enlisting: its title says so, it is kept, and means nothing.
	{file: post, header: strings.Split("id|Comrade|Age on joining|Birthplace|Residence|Occupation|Rank|Company and Regiment|Entered service|Discharged|Date of death", "|"),
		terms: strings.Split("dcterms:identifier|foaf:name||ms:birthplace|ms:residence||ms:rank_out|ms:unit|ms:enlisted|ms:mustered_out|schema:deathDate", "|"),
		same:  [][2]string{{"ms:conflict", "civil-war"}, {"ms:side", "union"}}},
}

func ordinal(n int) string {
	switch {
	case n%100 >= 11 && n%100 <= 13:
		return fmt.Sprint(n, "th")
	case n%10 == 1:
		return fmt.Sprint(n, "st")
	case n%10 == 2:
		return fmt.Sprint(n, "nd")
	case n%10 == 3:
		return fmt.Sprint(n, "rd")
	}
	return fmt.Sprint(n, "th")
}

// printedRanks are ranks as rosters print them: in full, and short.
var printedRanks = map[string][2]string{
	"private": {"Private", "Pvt."}, "private first class": {"Private 1st cl.", "Pfc"}, "corporal": {"Corporal", "Corp."}, "sergeant": {"Sergeant", "Sgt."}, "first sergeant": {"1st Sergeant", "1st Sgt."},
	"second lieutenant": {"2d Lieutenant", "2d Lt."}, "first lieutenant": {"1st Lieutenant", "1st Lt."}, "captain": {"Captain", "Capt."}, "musician": {"Musician", "Mus."}, "wagoner": {"Wagoner", "Wag."}, "bugler": {"Bugler", "Bug."},
	"farrier": {"Farrier", "Farr."}, "blacksmith": {"Blacksmith", "Blk."}, "saddler": {"Saddler", "Sad."}, "horseshoer": {"Horseshoer", "H. S."}, "cook": {"Cook", "Cook"}, "mechanic": {"Mechanic", "Mech."},
	"seaman": {"Seaman", "Sea."}, "fireman": {"Fireman", "F. 1 c."}, "landsman": {"Landsman", "Lds."}, "yeoman": {"Yeoman", "Yeo."}, "machinist's mate": {"Machinist's Mate", "M. M."}, "nurse": {"Nurse", "Nurse"},
}

// adjutantUnit is a regiment as the adjutant general's heading has it.
func (o outfit) adjutantUnit() string {
	switch o.arm {
	case "inf":
		return ordinal(o.number) + " Infantry"
	case "cav":
		return ordinal(o.number) + " Cavalry"
	case "ha":
		return ordinal(o.number) + " Heavy Artillery"
	}
	return ordinal(o.number) + " Battery Light Artillery"
}

// parts are company, regiment, arm and body as a table of many states' men has them.
func (o outfit) parts() (company, regiment, arm, body string) {
	arm = map[string]string{"inf": "Infantry", "cav": "Cavalry", "ha": "Heavy Artillery", "la": "Light Artillery", "battery": "Light Artillery", "em": "Engineers", "ss": "Sharpshooters", "vrc": "Infantry"}[o.arm]
	body = o.body
	switch o.body {
	case "USCT":
		body = "USCT"
	case "VRC":
		body = "VRC"
	}
	return o.company, fmt.Sprint(o.number), arm, body
}

// organization is an outfit of the World War as the state's list has it.
func (o outfit) organization() string {
	co := ""
	if o.company != "" {
		co = "Co " + o.company + " "
		if o.arm == "fa" || o.arm == "cac" {
			co = "Btry " + o.company + " "
		}
	}
	return co + o.modern(false)
}

// modern is an outfit of the World War without its company, as stones or as lists have it.
func (o outfit) modern(stone bool) string {
	n := fmt.Sprint(o.number)
	forms := [2]string{} // the list's, the stone's
	switch o.arm {
	case "inf":
		forms = [2]string{n + " Inf", n + " INF"}
	case "fa":
		forms = [2]string{n + " F A", n + " FIELD ARTY"}
	case "mgbn":
		forms = [2]string{n + " M G Bn", n + " MG BN"}
	case "engr":
		forms = [2]string{n + " Engrs", n + " ENGRS"}
	case "suptn":
		forms = [2]string{n + " Sup Tn", n + " SUPPLY TRAIN"}
	case "ammtn":
		forms = [2]string{n + " Amm Tn", n + " AMMUNITION TRAIN"}
	case "pion":
		forms = [2]string{n + " Pion Inf", n + " PIONEER INF"}
	case "depbrig":
		forms = [2]string{n + " Dep Brig", n + " DEPOT BRIG"}
	case "aero":
		forms = [2]string{n + " Aero Sq", n + " AERO SQDN"}
	case "basehosp":
		forms = [2]string{"Base Hosp " + n, "BASE HOSP " + n}
	case "ambco":
		forms = [2]string{"Amb Co " + n, "AMB CO " + n}
	case "cac":
		forms = [2]string{n + " Arty C A C", n + " ARTY CAC"}
	case "mtc":
		forms = [2]string{"M T Co " + n, "MOTOR TRANS CO " + n}
	case "qmc":
		forms = [2]string{"Q M C", "QM CORPS"}
	case "med":
		forms = [2]string{"Med Dept", "MED DEPT"}
	case "satc":
		forms = [2]string{"S A T C", "SATC"}
	case "usgd":
		forms = [2]string{n + " Bn U S Gds", n + " BN US GUARDS"}
	case "tank":
		forms = [2]string{n + " Bn Tank Corps", n + " BN TANK CORPS"}
	case "ng":
		forms = [2]string{n + " Inf Wis N G", n + " WIS INF"}
	case "navy":
		forms = [2]string{"U S Navy", "US NAVY"}
	case "usmc":
		forms = [2]string{"U S Marine Corps", "US MARINE CORPS"}
		if o.number > 0 {
			forms = [2]string{n + " Regt U S M C", n + " REGT USMC"}
		}
	}
	if stone {
		return forms[1]
	}
	return forms[0]
}

// unit98 is an outfit of 1898 or of the regulars as a clerk wrote it.
func (q *quarry) unit98(r *rand.Rand, s *service) string {
	o := s.outfit
	co := ""
	switch {
	case o.company != "" && o.arm == "cav":
		co = "Troop " + o.company + ", "
	case o.company != "" && o.arm == "arty":
		co = "Battery " + o.company + ", "
	case o.company != "":
		co = "Co. " + o.company + ", "
	}
	arm := map[string]string{"inf": "Inf.", "cav": "Cav.", "arty": "Art."}[o.arm]
	switch {
	case o.arm == "hosp":
		return "Hospital Corps, U. S. A."
	case o.arm == "navy" && o.ship != "":
		return "U. S. S. " + o.ship
	case o.arm == "navy":
		return "U. S. Navy"
	case o.body == "USV":
		return co + ordinal(o.number) + " U. S. Vol. " + arm
	case o.body == "US":
		return co + ordinal(o.number) + " U. S. " + arm
	}
	return co + ordinal(o.number) + " " + q.names.states[o.body].print + one(r, " Vol. ", " ") + arm
}

// onRoster is a man's name as a clerk had it.
type onRoster struct{ surname, given, middle string }

func (q *quarry) clerk(r *rand.Rand, m *man) onRoster {
	n := onRoster{m.surname, m.given, m.middle}
	if r.Float64() < .045 {
		n.surname = spelled(r, n.surname)
	}
	if english := q.names.english[n.given]; english != nil && r.Float64() < .35 {
		n.given = one(r, english...)
	} else if familiar := q.names.familar[n.given]; familiar != nil && r.Float64() < .05 {
		n.given = one(r, familiar...)
	}
	switch x := r.Float64(); {
	case x < .2:
		n.middle = ""
	case x < .93 && n.middle != "":
		n.middle = n.middle[:1]
	}
	if r.Float64() < .025 {
		n.given = n.given[:1] + "."
	}
	if n.middle != "" && len(n.middle) == 1 {
		n.middle += "."
	}
	return n
}

func (n onRoster) turned(suffix string) string {
	name := n.surname + ", " + n.given
	if n.middle != "" {
		name += " " + n.middle
	}
	if suffix != "" {
		name += ", " + suffix
	}
	return name
}

func (n onRoster) short(r *rand.Rand, share float64) onRoster {
	if forms := shortened[n.given]; forms != nil && r.Float64() < share {
		n.given = one(r, forms...)
	}
	return n
}

// row adds a row to a roster and to a man.
func (q *quarry) row(m *man, file, id string, cells ...string) {
	q.books[file] = append(q.books[file], cells)
	q.rows++
	if m != nil {
		m.records = append(m.records, id)
	}
}

func (q *quarry) number(file string) int { return len(q.books[file]) + 1 }

// enroll writes a man into the rosters that have him.
func (q *quarry) enroll(m *man) {
	r := q.world
	for _, s := range m.services {
		switch s.war {
		case "civil":
			q.inAdjutant(r, m, s)
		case "other", "south":
			q.inAfar(r, m, s)
		case "frontier":
			q.inRegulars(r, m, s)
		case "1898":
			q.in1898(r, m, s)
		case "1917":
			if r.Float64() < .88 {
				q.inWorld(r, m, s)
			}
			if len(m.records) == 0 || r.Float64() < .18 || q.ours(m.town) && r.Float64() < .4 {
				q.inHonor(r, m, s)
			}
		}
	}
	s := m.first()
	if union := s.war == "civil" || s.war == "other"; !union || m.fell {
		return
	}
	if m.died.y > 1883 && r.Float64() < .13 {
		id := fmt.Sprintf("PN%05d", q.number(pensions))
		name := q.clerk(r, m).short(r, .6)
		town := m.later
		if r.Float64() < .2 {
			town = q.town(r, .07)
		}
		q.row(m, pensions, id, id, q.certificate(r), name.turned(""), town, one(r, "wd. left leg", "chr. diarrh.", "wd. r. hand", "loss l. arm above elbow", "dis. of lungs", "injury to abdomen", "rheum.", "dis. of eyes", "g. s. w. face", "deafness", "w. l. thigh"), one(r, "4.00", "2.00", "6.00", "8.00", "18.00"), one(r, "Mar., 1881", "June, 1879", "Jan., 1866", "—, 1864", "Oct., 1882"))
	}
	if m.died.y > 1885 && (q.ours(m.later) && r.Float64() < .22 || r.Float64() < .04) {
		q.inPost(r, m)
	}
}

// widow is a pensioner who did not serve.
func (q *quarry) widow() {
	r := q.world
	f := q.descend(r, 1845)
	id := fmt.Sprintf("PN%05d", q.number(pensions))
	q.row(nil, pensions, id, id, q.certificate(r), q.surname(r, f)+", "+one(r, q.names.women...)+one(r, "", " A.", " E.", " J."), q.town(r, .07), one(r, "widow", "widow", "mother"), "8.00", one(r, "Apr., 1866", "July, 1868", "Dec., 1880"))
}

func (q *quarry) certificate(r *rand.Rand) string {
	return fmt.Sprintf("%d,%03d", 20+r.IntN(200), r.IntN(1000))
}

// abroad is the state of a man who entered from another than this.
func (q *quarry) abroad(m *man) string {
	if b := m.first().body; len(b) == 2 && b != "US" && b != "WI" {
		return b
	}
	return ""
}

func (q *quarry) inAdjutant(r *rand.Rand, m *man, s *service) {
	id := fmt.Sprintf("AG-%06d", q.number(adjutant))
	company := s.company
	if s.rank == "captain" && r.Float64() < .05 {
		company = ""
	}
	remarks := "M. O. " + s.end.inWar() + "."
	switch {
	case m.fell && s == m.first():
		remarks = one(r, "Died "+m.died.inWar()+", "+one(r, "Nashville, Tenn.", "Memphis, Tenn.", "Vicksburg, Miss.", "Washington, D. C.", "Helena, Ark.", "St. Louis, Mo.")+", "+one(r, "disease", "wounds", "typhoid fever")+".",
			"Killed in action "+m.died.inWar()+", "+one(r, "Shiloh, Tenn.", "Perryville, Ky.", "Gettysburg, Pa.", "Atlanta, Ga.", "Resaca, Ga.", "Corinth, Miss."))
	case r.Float64() < .22:
		remarks = "Disch. " + s.end.inWar() + one(r, ", disability.", ", term expired.", ".")
	case r.Float64() < .05:
		remarks = one(r, "Deserted ", "Trans. to V. R. C., ") + s.in.plus(200).inWar() + "."
	case r.Float64() < .12:
		remarks = "Vet., " + remarks
	}
	if s.out != s.rank {
		name := printedRanks[s.out][1]
		remarks = name + " " + remarks
	}
	if r.Float64() < .06 {
		remarks = one(r, "Wd. Shiloh; ", "Pris. Stone River; ", "Wd. Gettysburg; ", "Drafted; ", "Sub.; ") + remarks
	}
	rank := printedRanks[s.rank][0]
	if s.rank == "private" {
		rank = one(r, "Private", "", "")
	}
	home := m.town
	if s != m.first() {
		home = m.later
	}
	if r.Float64() < .12 {
		home = ""
	}
	in := s.in.inWar()
	if r.Float64() < .06 {
		in = ""
	}
	q.row(m, adjutant, id, fmt.Sprint(1+r.IntN(140)), s.adjutantUnit(), company, q.clerk(r, m).short(r, .35).turned(m.suffix), rank, home, in, remarks, id)
}

func (q *quarry) inAfar(r *rand.Rand, m *man, s *service) {
	id := fmt.Sprintf("VOL%d", 100000+q.number(afar))
	n := q.clerk(r, m)
	given := n.given
	if n.middle != "" {
		given += " " + n.middle
	}
	company, regiment, arm, body := s.parts()
	side, out, died, remarks := "", s.end.iso(), "", ""
	if s.war == "south" {
		side = "Confederate"
	}
	if m.fell {
		out = ""
		if r.Float64() < .6 {
			died = m.died.iso()
		} else {
			remarks = "Died at " + one(r, "Andersonville, Ga.", "Chattanooga, Tenn.", "City Point, Va.", "Camp Chase, Ohio") + ", " + m.died.printed()
		}
	} else if r.Float64() < .1 {
		remarks = one(r, "Wounded at Antietam", "Discharged for disability", "Captured at Gettysburg", "Transferred to navy", "Veteran volunteer")
	}
	age := ""
	if r.Float64() < .82 {
		a := s.in.y - m.born.y
		if s.in.m*32+s.in.d < m.born.m*32+m.born.d {
			a--
		}
		switch x := r.Float64(); {
		case x < .1:
			a += one(r, -1, 1, 1, 2)
		case x < .18 && a > 25:
			a = (a + 2) / 5 * 5
		}
		age = fmt.Sprint(a)
	}
	home := q.afarTown(r)
	if r.Float64() < .5 {
		home = ""
	}
	q.row(m, afar, id, id, n.surname, given, printedRanks[s.rank][0], printedRanks[s.out][0], company, regiment, arm, body, side, s.in.iso(), out, age, home, died, remarks)
}

func (q *quarry) afarTown(r *rand.Rand) string {
	return one(r, "Albany", "Auburn", "Rutland", "Oswego", "Elmira", "Canton", "Galena", "Freeport", "Lansing", "Kalamazoo", "Dubuque", "Winona", "Erie", "Toledo", "Bangor", "Lowell", "Potsdam", "Malone", "Rockford", "Peoria", "Adrian", "Monroe", "Joliet", "Utica", "Keene")
}

func (q *quarry) inRegulars(r *rand.Rand, m *man, s *service) {
	id := fmt.Sprintf("R%05d", q.number(regulars))
	arm := map[string]string{"inf": " Inf.", "cav": " Cav.", "arty": " Art."}[s.arm]
	remarks := "Disch. " + s.end.printed() + one(r, ", exp. of service", ", exp. of service", ", by S. O.", ", disability") + one(r, "", ", a "+printedRanks[s.out][1])
	if m.fell && s == m.first() {
		remarks = one(r, "Died ", "Killed in action ") + m.died.printed() + one(r, " at Fort Abraham Lincoln, D. T.", " at Fort Apache, A. T.", " in the field", " at Fort Keogh, M. T.")
	} else if r.Float64() < .08 {
		remarks = "Deserted " + s.in.plus(300).printed()
	}
	q.row(m, regulars, id, id, q.clerk(r, m).turned(""), s.in.printed(), fmt.Sprint((s.in.y*12+s.in.m-m.born.y*12-m.born.m)/12), m.birthplace, m.trade, fmt.Sprint(s.number, arm), s.company, remarks)
}

func (q *quarry) in1898(r *rand.Rand, m *man, s *service) {
	id := fmt.Sprintf("SW-%d", q.number(spanish))
	remarks := ""
	war := "Spanish-American War"
	if s.in.y > 1898 {
		war = "Philippine Insurrection"
	}
	if r.Float64() < .3 {
		war = ""
	}
	if m.fell {
		remarks = "Died " + one(r, "of typhoid at Camp Thomas, Ga., ", "at Ponce, Porto Rico, ", "at Manila, P. I., ", "at Jacksonville, Fla., ") + m.died.printed()
	} else if s.out != s.rank {
		remarks = "Appointed " + strings.ToLower(printedRanks[s.out][0])
	}
	age := fmt.Sprint((s.in.y*12 + s.in.m - m.born.y*12 - m.born.m) / 12)
	if r.Float64() < .3 {
		age = ""
	}
	home := m.town
	if abroad := q.abroad(m); abroad != "" {
		home = q.names.states[abroad].name
	}
	q.row(m, spanish, id, id, q.clerk(r, m).short(r, .2).turned(m.suffix), printedRanks[s.rank][one(r, 0, 1)], q.unit98(r, s), s.in.printed(), s.end.printed(), age, home, war, remarks)
}

func (q *quarry) inWorld(r *rand.Rand, m *man, s *service) {
	id := fmt.Sprintf("WW%06d", q.number(world))
	org := s.organization()
	if s.before != nil {
		org = s.before.organization() + " to " + s.in.plus(10+r.IntN(80)).european() + "; " + org
	}
	if r.Float64() < .5 {
		org += " to Disch"
	}
	born, age := m.born.european(), ""
	switch x := r.Float64(); {
	case x < .4:
		born, age = "", fmt.Sprintf("%d", (s.in.y*12+s.in.m-m.born.y*12-m.born.m)/12)
	case x < .5:
		born = ""
	}
	out, remarks := s.end.european(), ""
	if m.fell {
		out, remarks = "", one(r, "Killed in action ", "Died of disease ", "Died of wounds ")+m.died.european()
	}
	overseas := ""
	if r.Float64() < .55 {
		overseas = s.in.plus(60).european() + " to " + s.end.plus(-12).european()
	}
	name := q.clerk(r, m).turned(m.suffix)
	if s.arm != "navy" && r.Float64() < .5 {
		name += fmt.Sprintf(" %d,%03d,%03d", 2+r.IntN(3), r.IntN(1000), r.IntN(1000))
	}
	place := m.town + ", Wis."
	if abroad := q.abroad(m); abroad != "" {
		place = q.names.states[abroad].name
	}
	q.row(m, world, id, id, name, place, m.birthplace, born, age, org, printedRanks[s.out][1], overseas, out, remarks)
}

func (q *quarry) inHonor(r *rand.Rand, m *man, s *service) {
	id := fmt.Sprintf("H%d", q.number(honor))
	n := q.clerk(r, m)
	name := strings.TrimSpace(n.given+" "+n.middle) + " " + n.surname
	if r.Float64() < .5 {
		name = n.turned(m.suffix)
	}
	unit := s.organization()
	if s.division > 0 && r.Float64() < .5 {
		unit += ", " + ordinal(s.division) + " Div."
	}
	if r.Float64() < .25 {
		unit = ""
	}
	branch := one(r, "Army", "")
	switch s.arm {
	case "navy":
		branch, unit = "Navy", ""
		if s.ship != "" && r.Float64() < .6 {
			unit = "U.S.S. " + s.ship
		}
	case "usmc":
		branch = "Marine Corps"
	}
	born, died, remarks := "", "", ""
	if r.Float64() < .2 {
		born = fmt.Sprint(m.born.y)
	}
	if m.fell {
		died, remarks = m.died.iso(), one(r, "Gold star", "Killed in the Argonne", "Died in camp of influenza", "Gold star")
	}
	q.row(m, honor, id, id, name, one(r, "", printedRanks[s.out][1]), unit, branch, m.town, born, died, one(r, "World War", "World War", ""), remarks)
}

func (q *quarry) inPost(r *rand.Rand, m *man) {
	id := fmt.Sprintf("P%d", 1000+q.number(post))
	s := m.services[len(m.services)-1]
	joined := 1884 + r.IntN(max(1, min(12, m.died.y-1884)))
	unit := q.postUnit(r, s)
	died := ""
	if r.Float64() < .55 {
		died = m.died.printed()
	}
	n := q.clerk(r, m).short(r, .3)
	name := strings.Join(slices.DeleteFunc([]string{n.given, n.middle, n.surname}, func(s string) bool { return s == "" }), " ")
	q.row(m, post, id, id, name, fmt.Sprint(joined-m.born.y+one(r, 0, 0, 0, -1, 1)), m.birthplace, m.later, m.trade, printedRanks[s.out][one(r, 0, 1)], unit, one(r, s.in.printed(), fmt.Sprint(months[s.in.m-1][:3], " ", s.in.y), fmt.Sprint(s.in.y)), one(r, s.end.printed(), ""), died)
}

// postUnit is a company and regiment as a post's adjutant wrote them.
func (q *quarry) postUnit(r *rand.Rand, s *service) string {
	st := q.names.states[s.body].print
	co := one(r, s.company+" ", s.company+", ", "Co. "+s.company+", ")
	n := one(r, fmt.Sprint(s.number), ordinal(s.number))
	switch s.arm {
	case "inf":
		switch s.body {
		case "USCT":
			return co + n + " U. S. C. T."
		case "US":
			return co + n + " U. S. Inf."
		}
		return co + n + " " + st + " " + one(r, "Inf.", "Inf.", "Vol. Inf.", "V. I.")
	case "cav":
		return co + n + " " + st + " Cav."
	case "ha":
		return co + n + " " + st + " H. A."
	case "la":
		return one(r, "Batt. ", "Bat. ") + s.company + ", " + n + " " + st + " Lt. Art."
	case "em":
		return co + n + " " + st + " Eng. & Mech."
	case "ss":
		return co + n + " U. S. S. S."
	case "vrc":
		return co + n + " V. R. C."
	}
	return ordinal(s.number) + " " + st + " Batt."
}
