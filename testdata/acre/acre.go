// Package acre makes burial grounds with known truth by other habits than package ground does, and is held out: the weights of findings were set on ground and are only
// measured here. Three grounds of a county that lies elsewhere, one of them known by a former name; men of three wars, some in the navy and in colored troops; a roster of
// the state, one of a veterans' post and a county's honor roll, each with its own wording of a burial; family stones, stones of zinc, initials for given names,
// letters lost to weather; stones over empty graves, wives' stones that name a soldier who lies elsewhere, foremen of fire companies, sons of a soldier's name.
//
// Whether a man has a stone that tells of his service, and which lists name him, is drawn for each man by itself, with one rate a ground for all of them. With Uneven set
// it is not: some men are remembered by every list and others by none, as estimates by capture and recapture must not have it.
//
// It shares no code and no list of names with package ground. All persons are invented; every rate is a judgement of this package, measured nowhere.
package acre

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// Options say what to make.
type Options struct {
	Seed   uint64
	Uneven bool // some men are on every list and others on none
}

// Kind is what a stone, a row or a record is in truth.
type Kind string

// The kinds of what may be found. A finding of one of the first four is right.
const (
	Signed Kind = "signed private stone"
	Plain  Kind = "plain private stone"
	Buried Kind = "burial by a roster"
	Row    Kind = "row of a register"
	// What follows is no veteran who lies here without a government marker.
	Empty    Kind = "stone over an empty grave"
	Wife     Kind = "wife's stone that names a soldier"
	Second   Kind = "private stone beside a government marker"
	Abroad   Kind = "burial in another ground of like name"
	Civilian Kind = "civilian's stone"
	Marker   Kind = "government marker"
)

// Acre is what was made.
type Acre struct {
	Stones   []*model.Stone
	Records  []*model.Record
	Grounds  []Ground
	Truth    map[string]Kind                  // by the id of a stone, a row or a record
	Unmarked int                              // veterans who lie here without a government marker
	Same     map[model.RecordID]model.StoneID // a record and a register's row of one man
	used     map[string]int                   // plots given out, by ground
	names    map[string]*[2]string            // surnames and givens of the enrolled, for sons
	order    []string                         // the keys of names in the order in which they came
}

// Ground is a burial ground with its former name.
type Ground struct{ Name, Former, County, State string }

var places = []Ground{
	{"Mount Zion Cemetery", "Harper's Grove Burying Ground", "Calder", "Pennsylvania"},
	{"Evergreen Cemetery", "", "Calder", "Pennsylvania"},
	{"Friends Burying Ground", "", "Calder", "Pennsylvania"},
}

// soldier is one of the dead.
type soldier struct {
	surname, given, second  string
	war                     string // "civil", "spain", "world"
	company, state, arm     string
	number                  int
	colored, sailor         bool
	ship, rank              string
	born, joined, left, end day
	esteem                  float64 // how well he is remembered; 1 where all are alike
}

type day struct{ y, m, d int }

func (d day) date() date.Date { return date.On(d.y, d.m, d.d) }

type sexton struct {
	*rand.Rand
	Acre
	uneven               bool
	signed, plain        float64
	roster, post, ledger float64 // the chances of a burial note, that the post's roster has it, of a row in the ledger
}

// Make makes the grounds.
func Make(opt Options) Acre {
	s := &sexton{Rand: rand.New(rand.NewPCG(opt.Seed, 0x5EED)), uneven: opt.Uneven}
	s.Grounds = places
	s.Truth, s.Same, s.used, s.names = map[string]Kind{}, map[model.RecordID]model.StoneID{}, map[string]int{}, map[string]*[2]string{}
	s.signed, s.plain = 0.2+0.35*s.Float64(), 0.05+0.15*s.Float64()
	s.roster, s.post = 0.25+0.4*s.Float64(), s.Float64()
	if s.IntN(3) > 0 {
		s.ledger = 0.15 + 0.3*s.Float64()
	}
	s.Unmarked = 18 + s.IntN(80)
	for range s.Unmarked {
		s.unmarked()
	}
	for range 10 + s.IntN(40) {
		s.marked()
	}
	for range 5 + s.IntN(8) {
		s.abroad()
	}
	for range 2 + s.IntN(3) {
		s.empty()
	}
	for range 1 + s.IntN(3) {
		s.wife()
	}
	for range 350 + s.IntN(400) { // men of the county's rosters who lie who knows where
		s.enrol(s.man(), "", s.end())
	}
	for range 30 + s.IntN(60) {
		s.civilian()
	}
	s.Shuffle(len(s.Records), func(i, j int) { s.Records[i], s.Records[j] = s.Records[j], s.Records[i] })
	for i, r := range s.Records {
		r.Source.Row = i + 2
	}
	return s.Acre
}

func (s *sexton) chance(p float64, m *soldier) bool {
	if s.uneven { // the odds of every list rise and fall together
		odds := p / (1 - p) * m.esteem
		p = odds / (1 + odds)
	}
	return s.Float64() < p
}

// unmarked makes a veteran who lies here without a government marker.
func (s *sexton) unmarked() {
	m, g := s.man(), s.ground()
	tells := s.chance(s.signed, m)
	bare := !tells && s.Float64() < s.plain/(1-s.signed)
	noted, inLedger := s.chance(s.roster, m), s.ledger > 0 && s.chance(s.ledger, m)
	var id model.RecordID
	if noted {
		id = s.enrol(m, s.wording(g), s.end())
	} else if s.Float64() < 0.7 {
		id = s.enrol(m, "", s.end())
	}
	switch {
	case tells:
		s.Truth[string(s.private(m, g, true, "", m.war == "civil" && s.IntN(2) == 0))] = Signed
	case bare:
		s.Truth[string(s.private(m, g, false, "", m.war == "civil" && s.IntN(4) == 0))] = Plain
	case noted:
		s.Truth[string(id)] = Buried
	}
	if inLedger {
		row := s.row(m, g)
		if !tells && !bare {
			s.Truth[string(row)] = Row
			if noted {
				s.Same[id] = row
			}
		}
	}
}

// marked makes a veteran with a government marker; one in eight has a private stone too.
func (s *sexton) marked() {
	m, g := s.man(), s.ground()
	if s.Float64() < s.roster {
		s.enrol(m, s.wording(g), s.end())
	} else if s.Float64() < 0.8 {
		s.enrol(m, "", s.end())
	}
	s.Truth[string(s.government(m, g))] = Marker
	if s.IntN(8) == 0 {
		s.Truth[string(s.private(m, g, s.IntN(3) > 0, "", false))] = Second
	}
	if s.ledger > 0 && s.Float64() < s.ledger {
		s.row(m, g)
	}
}

// abroad makes a man whom a roster buries in a ground of like name somewhere else.
func (s *sexton) abroad() {
	texts := []string{"Evergreen Cemetery, Brooklyn, N.Y.", "Mt. Zion Church, Adams Co., Ohio", "Evergreen Ridge Cem.", "Friends' Meeting House, Loudoun Co., Va.", "Mount Zion Baptist Cem., Calder Co.",
		"Soldiers' Home Cem., Erie; first at Mt. Zion", "Body removed from Evergreen Cem. to Antietam Nat. Cem.", "East Evergreen Cem., Calder Co., Pa.", "killed at Zion Hill, Va.; not recovered",
		"City Point Nat. Cem., sec. D, grave 31", "Mt. Zion Cem., Pickaway County, Ohio", "Evergreen, Colo."}
	m := s.man()
	s.Truth[string(s.enrol(m, texts[s.IntN(len(texts))], ""))] = Abroad
}

// empty makes a stone for a man who fell and lies where he fell.
func (s *sexton) empty() {
	m := s.man()
	for m.war != "civil" {
		m = s.man()
	}
	m.end = day{m.joined.y + 1, 1 + s.IntN(12), 1 + s.IntN(28)}
	fell := []string{"KILLED AT FREDERICKSBURG, VA.", "DIED AT ANDERSONVILLE, GA.", "FELL AT CHANCELLORSVILLE", "DIED IN SALISBURY PRISON"}[s.IntN(4)]
	graves := []string{"Fredericksburg Nat. Cem., grave 2210", "Andersonville Nat. Cem., grave 8127", "on the field", ""}
	s.enrol(m, graves[s.IntN(len(graves))], []string{"Killed in action", "Died in prison", "Died of wounds"}[s.IntN(3)])
	s.Truth[string(s.private(m, s.ground(), true, fell, false))] = Empty
}

// wife makes the stone of a wife that names her husband's service; he lies elsewhere.
func (s *sexton) wife() {
	m := s.man()
	s.enrol(m, []string{"", "Soldiers' Home, Dayton, Ohio", "Wichita, Kansas"}[s.IntN(3)], s.end())
	her := []string{"HANNAH", "LYDIA", "SUSANNA", "PHOEBE", "MARGARETTA"}[s.IntN(5)]
	lines := []string{her, "WIFE OF", strings.ToUpper(s.write(m)), s.service(m), fmt.Sprintf("DIED %d", m.end.y-s.IntN(12)), fmt.Sprintf("AGED %d YEARS", 40+s.IntN(40))}
	s.Truth[string(s.set(s.ground(), s.slab(lines)))] = Wife
}

// civilian makes the stone of someone who never served: some bear the name of an enrolled man, whose son they may be.
func (s *sexton) civilian() {
	m := s.man()
	if s.IntN(5) == 0 {
		n := s.names[s.order[s.IntN(len(s.order))]]
		m.surname, m.given = n[0], n[1]
		if s.IntN(2) == 0 {
			m.born.y, m.end.y = m.born.y+25, m.end.y+20
		}
	}
	m.born.y += s.IntN(30) - 15
	k := s.slab(s.plainLines(m, ""))
	switch s.IntN(40) {
	case 0:
		k.Motifs = []string{"GAR star holder"}
	case 1, 2, 3:
		k.Motifs = []string{"square and compasses"}
	case 4, 5:
		k.Motifs = []string{"anchor"}
	case 6, 7, 8, 9:
		k.Motifs = []string{"clasped hands"}
	case 10:
		k.Motifs = []string{"draped flag"}
	case 11:
		k.Inscription += "\nFOREMAN HOSE CO. NO. " + fmt.Sprint(1+s.IntN(5))
	}
	s.Truth[string(s.set(s.ground(), k))] = Civilian
}

// ground is one of the three, the first half the time.
func (s *sexton) ground() Ground { return places[[]int{0, 0, 1, 2}[s.IntN(4)]] }

// wording is how a roster words a burial in a ground.
func (s *sexton) wording(g Ground) string {
	if g.Former != "" && s.IntN(5) == 0 {
		return []string{g.Former, strings.Replace(g.Former, "Burying Ground", "Bur. Gd.", 1), "bur. " + g.Former + ", Calder Co."}[s.IntN(3)]
	}
	short := strings.NewReplacer("Mount", "Mt.", "Cemetery", "Cem'y", "Burying Ground", "Bury. Gr.").Replace(g.Name)
	core := strings.NewReplacer(" Cemetery", "", " Burying Ground", "", "Mount", "Mt.").Replace(g.Name)
	graveyard := strings.NewReplacer("Cemetery", "graveyard", "Burying Ground", "burial ground", "Mount", "Mt.").Replace(g.Name)
	where := []string{"", "", ", Calder County", ", Calder Co., Pa.", ", Pa."}[s.IntN(5)]
	switch s.IntN(7) {
	case 0:
		return short + where
	case 1:
		return g.Name + where
	case 2:
		return "Interred in " + g.Name + where
	case 3:
		return "bur. at " + core + where
	case 4:
		return graveyard + where
	case 5:
		return fmt.Sprintf("Died at home %s; buried %s%s", s.month(), short, where)
	}
	return strings.ToLower(g.Name) + strings.ToLower(where)
}

func (s *sexton) month() string {
	return []string{"in March", "in June", "Sept. 9", "Nov. 22", "New Year's Day"}[s.IntN(5)]
}

// end is a roster's remark that tells nothing of a grave.
func (s *sexton) end() string {
	return []string{"", "", "", "M.O. with company", "Disch. on surgeon's certificate", "Captured; paroled", "Vet. vol.", "Absent sick at muster out"}[s.IntN(8)]
}

var (
	family = strings.Fields("Shaeffer Musser Lichty Brubaker Stauffer Kreider Hershey Rohrer Groff Herr Weaver Martin Good Snavely Bowman Kauffman Zook Yoder Hess Landis Eby Witmer Brandt Rutter Skiles Galbraith McIlvain Patton Ewing Linn Dougherty Gallagher McCoy Bell Gibson Harris Jackson Turner Freeman Dorsey Boyer Koch Fry Stone Wolf Long Myers Reed Kerr Pyle Mendenhall Passmore Coates Pusey Darlington Lukens Heston Ambler Custer Detweiler Fetterolf Gotwals Hunsicker Isenberg Jacoby Keyser Longacre Moyer Nyce Oberholtzer Pennypacker Rittenhouse Saylor Tyson Umstead Vanderslice Wismer")
	first  = strings.Fields("John William Jacob George Samuel Henry Joseph David Abraham Isaac Christian Daniel Peter Martin Benjamin James Thomas Charles Levi Reuben Elias Emanuel Franklin Harrison Tobias Amos Cyrus Josephus Ephraim Nathaniel Washington Alexander Lloyd Elwood Milton Jesse Caleb Adam Simon Uriah")
	brief  = map[string]string{"John": "Jno.", "William": "Wm.", "George": "Geo.", "Samuel": "Sam'l", "Joseph": "Jos.", "Daniel": "Dan'l", "Benjamin": "Benj.", "James": "Jas.", "Thomas": "Thos.", "Charles": "Chas.", "Alexander": "Alex.", "Franklin": "Frank"}
	ships  = strings.Fields("Juniata Tuscarora Conemaugh Kittatinny")
)

func pick(s *sexton, list []string) string { // the first of a list are the commonest
	x := s.Float64()
	return list[int(math.Pow(x, 1.7)*float64(len(list)))]
}

func (s *sexton) man() *soldier {
	m := &soldier{surname: pick(s, family), given: pick(s, first), esteem: math.Exp(1.2 * s.NormFloat64()), state: "Pa.", arm: "Inf.", rank: "Private"}
	if s.IntN(5) < 3 {
		m.second = string("ABCDEFGHJKLMRSTW"[s.IntN(16)])
	}
	m.company = string("ABCDEFGHIK"[s.IntN(10)])
	m.rank = []string{"Private", "Private", "Private", "Private", "Private", "Corporal", "Sergeant", "1st Lieut."}[s.IntN(8)]
	switch x := s.IntN(20); {
	case x < 15:
		m.war = "civil"
		m.number = 23 + s.IntN(190)
		y := 1861 + s.IntN(4)
		m.joined = day{y, 1 + s.IntN(12), 1 + s.IntN(28)}
		m.left = day{min(1865, y+1+s.IntN(3)), 6, 1 + s.IntN(28)}
		m.born = day{y - 18 - s.IntN(22), 1 + s.IntN(12), 1 + s.IntN(28)}
		m.end = day{1867 + s.IntN(60), 1 + s.IntN(12), 1 + s.IntN(28)}
		switch s.IntN(12) {
		case 0:
			m.colored, m.number, m.state = true, 3+s.IntN(40), "U.S.C.T."
		case 1:
			m.arm, m.number = "Cav.", 1+s.IntN(20)
		case 2:
			m.state = []string{"Md.", "N. J.", "Ohio", "Del."}[s.IntN(4)]
			m.number = 1 + s.IntN(60)
		case 3:
			m.sailor, m.ship, m.rank = true, ships[s.IntN(len(ships))], "Seaman"
		}
	case x < 17:
		m.war, m.number, m.company = "spain", []int{4, 8, 9, 12}[s.IntN(4)], string("ABCDEFGHIKLM"[s.IntN(12)])
		m.joined, m.left = day{1898, 5, 1 + s.IntN(28)}, day{1898, 11, 1 + s.IntN(28)}
		m.born = day{1898 - 18 - s.IntN(16), 1 + s.IntN(12), 1 + s.IntN(28)}
		m.end = day{1905 + s.IntN(50), 1 + s.IntN(12), 1 + s.IntN(28)}
	default:
		m.war, m.number, m.company = "world", []int{109, 110, 111, 112, 316}[s.IntN(5)], string("ABCDEFGHIKLM"[s.IntN(12)])
		m.joined, m.left = day{1917 + s.IntN(2), 5 + s.IntN(4), 1 + s.IntN(28)}, day{1919, 5, 1 + s.IntN(28)}
		m.born = day{1917 - 19 - s.IntN(12), 1 + s.IntN(12), 1 + s.IntN(28)}
		m.end = day{1921 + s.IntN(45), 1 + s.IntN(12), 1 + s.IntN(28)}
	}
	return m
}

// enrol writes the man's record by the habits of the list that has him.
func (s *sexton) enrol(m *soldier, buried, remark string) model.RecordID {
	id := model.RecordID(fmt.Sprintf("m%05d", len(s.Records)+1))
	r := &model.Record{ID: id, Source: model.Source{File: "roster-state.csv"}}
	surname, given := m.surname, m.given
	if s.IntN(12) == 0 {
		surname = s.spell(surname)
	}
	post := buried != "" && m.war == "civil" && s.Float64() < s.post/2
	switch {
	case s.IntN(8) == 0:
		given = given[:1] + "."
	case s.IntN(6) == 0 && brief[given] != "":
		given = brief[given]
	}
	if m.second != "" && s.IntN(3) > 0 {
		given += " " + m.second + "."
	}
	r.Person.Name = name.FromParts(surname, given)
	switch {
	case m.sailor:
		r.Service.Unit, r.Service.Branch = unit.FromParts(unit.Parts{Unit: "U.S.S. " + m.ship}), "navy"
	case m.colored:
		r.Service.Unit = unit.FromParts(unit.Parts{Unit: fmt.Sprintf("Co. %s, %s U.S.C.T.", m.company, unit.Ordinal(m.number))})
	default:
		r.Service.Unit = unit.FromParts(unit.Parts{Company: m.company, Regiment: unit.Ordinal(m.number), Arm: m.arm, State: m.state})
	}
	r.Service.Rank = map[string]model.Rank{"Private": "private", "Corporal": "corporal", "Sergeant": "sergeant", "1st Lieut.": "first lieutenant", "Seaman": "seaman"}[m.rank]
	switch m.war {
	case "civil":
		r.Service.Side, r.Service.Conflicts = model.Union, []model.ConflictCode{"civil-war"}
	case "spain":
		r.Service.Conflicts, r.Source.File = []model.ConflictCode{"spanish-american-war"}, "honor-roll.csv"
	case "world":
		r.Service.Conflicts, r.Source.File = []model.ConflictCode{"world-war-i"}, "honor-roll.csv"
	}
	if post {
		r.Source.File = "post-roster.csv"
		r.Service.Unit.Company = ""
	}
	if s.IntN(4) > 0 {
		r.Service.MusteredIn = m.joined.date()
	}
	if s.IntN(3) == 0 {
		r.Service.MusteredOut = m.left.date()
	}
	if s.IntN(2) == 0 {
		if age, err := date.ParseAge(fmt.Sprint(m.joined.y - m.born.y + s.IntN(2) - s.IntN(2))); err == nil {
			r.Person.Age = age
		}
	}
	switch {
	case post || m.war != "civil" && s.IntN(2) == 0:
		r.Person.Died = m.end.date()
	case s.IntN(6) == 0:
		r.Person.Died = date.Year(m.end.y)
	}
	if s.IntN(3) == 0 {
		r.Person.Residence = "Calder Co."
	}
	r.Service.Remarks = remark
	if strings.Contains(buried, ";") || strings.HasPrefix(buried, "Interred") || strings.HasPrefix(buried, "Body") || strings.HasPrefix(buried, "killed") {
		r.Service.Remarks = strings.TrimPrefix(remark+"; "+buried, "; ")
	} else {
		r.Person.Buried = buried
	}
	s.Records = append(s.Records, r)
	key := m.surname + ", " + m.given
	if s.names[key] == nil {
		s.names[key] = &[2]string{m.surname, m.given}
		s.order = append(s.order, key)
	}
	return id
}

// spell spells a surname as another clerk would.
func (s *sexton) spell(n string) string {
	for _, c := range [][2]string{{"aeff", "aff"}, {"uff", "off"}, {"ey", "y"}, {"sch", "sh"}, {"ss", "s"}, {"ht", "t"}, {"er", "or"}, {"olt", "old"}, {"Mc", "Mac"}, {"ou", "o"}, {"k", "ck"}, {"oy", "oi"}, {"n", "nn"}, {"l", "ll"}} {
		if strings.Contains(n, c[0]) && s.IntN(2) == 0 {
			return strings.Replace(n, c[0], c[1], 1)
		}
	}
	return n
}

// write is a man's name as a stone has it.
func (s *sexton) write(m *soldier) string {
	given := m.given
	switch {
	case s.IntN(7) == 0:
		given = given[:1] + "."
	case s.IntN(4) == 0 && brief[given] != "":
		given = brief[given]
	}
	if m.second != "" && s.IntN(4) > 0 {
		given += " " + m.second + "."
	}
	return given + " " + m.surname
}

// service is the line of a private stone that tells of service.
func (s *sexton) service(m *soldier) string {
	state := strings.ToUpper(m.state)
	ord := strings.ToUpper(unit.Ordinal(m.number))
	rank := map[string]string{"Private": "", "Corporal": "CORP. ", "Sergeant": "SERG'T ", "1st Lieut.": "1ST LIEUT. "}[m.rank]
	switch {
	case m.sailor:
		return []string{"U. S. NAVY", "U.S.S. " + strings.ToUpper(m.ship), "U. S. S. " + strings.ToUpper(m.ship) + "\nU. S. NAVY"}[s.IntN(3)]
	case m.colored:
		return []string{fmt.Sprintf("CO. %s %s U.S.C.T.", m.company, ord), fmt.Sprintf("CO. %s, %s REG. U. S. C. T.", m.company, ord), fmt.Sprintf("LATE OF CO. %s %s U.S.C. INF.", m.company, ord)}[s.IntN(3)]
	case m.war == "spain":
		return []string{fmt.Sprintf("CO. %s %s PA. INF.\nSP. AM. WAR", m.company, ord), fmt.Sprintf("%sCO. %s %s REG'T P. V.\nSPANISH-AMERICAN WAR", rank, m.company, ord), fmt.Sprintf("CO. %s %s PENNA. VOL. INF.", m.company, ord)}[s.IntN(3)]
	case m.war == "world":
		return []string{fmt.Sprintf("CO. %s %s INF.", m.company, ord), fmt.Sprintf("PVT. CO. %s %s INF. 28TH DIV.\nWORLD WAR", m.company, ord), "WORLD WAR VETERAN", fmt.Sprintf("CO. %s %s U. S. INFANTRY\nWORLD WAR I", m.company, ord)}[s.IntN(4)]
	case m.arm == "Cav.":
		return []string{fmt.Sprintf("%sCO. %s %s PA. CAV.", rank, m.company, ord), fmt.Sprintf("TROOP %s %s PENNA. CAVALRY", m.company, ord), fmt.Sprintf("CO. %s, %s REG. PA. VOL. CAV.", m.company, ord)}[s.IntN(3)]
	}
	forms := []string{fmt.Sprintf("%sCO. %s %s %s VOLS.", rank, m.company, ord, state), fmt.Sprintf("%sCO. %s %s %s INF.", rank, m.company, ord, state), fmt.Sprintf("MEMBER OF CO. %s\n%s REG. %s V.", m.company, ord, state),
		fmt.Sprintf("LATE OF CO. %s\n%s REGT. %s VOLUNTEERS", m.company, ord, state), fmt.Sprintf("%s REG. %s VOL. INF.", ord, state), "A SOLDIER OF THE LATE WAR", "A VETERAN OF THE CIVIL WAR"}
	if m.state == "Pa." {
		forms = append(forms, fmt.Sprintf("%sCO. %s %s P. V.", rank, m.company, ord), fmt.Sprintf("CO. %s, %s P. V. I.", m.company, ord))
	}
	return forms[s.IntN(len(forms))]
}

// plainLines are the lines of a stone without service: name, dates, sometimes kin and a verse.
func (s *sexton) plainLines(m *soldier, fell string) []string {
	var lines []string
	if s.IntN(6) == 0 {
		lines = append(lines, strings.ToUpper(m.surname))
	}
	if s.IntN(9) == 0 {
		lines = append(lines, "FATHER")
	}
	lines = append(lines, strings.ToUpper(s.write(m)))
	switch {
	case fell != "":
		lines = append(lines, fell, fmt.Sprintf("%s %d, %d", strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y))
	case s.IntN(4) == 0:
		lines = append(lines, fmt.Sprintf("%d - %d", m.born.y, m.end.y))
	case s.IntN(3) == 0:
		lines = append(lines, fmt.Sprintf("DIED %s %d, %d", strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y), fmt.Sprintf("IN THE %s YEAR OF HIS AGE", strings.ToUpper(unit.Ordinal(m.end.y-m.born.y+1))))
	case s.IntN(2) == 0:
		lines = append(lines, fmt.Sprintf("BORN %s %d, %d", strings.ToUpper(months[m.born.m-1]), m.born.d, m.born.y), fmt.Sprintf("DIED %s %d, %d", strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y))
	default:
		lines = append(lines, fmt.Sprintf("DIED %d", m.end.y), fmt.Sprintf("AGED %d Y. %d M. %d D.", m.end.y-m.born.y, s.IntN(12), s.IntN(30)))
	}
	return lines
}

var months = strings.Fields("Jan. Feb. March April May June July Aug. Sept. Oct. Nov. Dec.")

// slab is a private marker with these lines, some of their letters lost.
func (s *sexton) slab(lines []string) model.Marker {
	if s.IntN(5) == 0 {
		lines = append(lines, []string{"GONE BUT NOT FORGOTTEN", "AT REST", "ASLEEP IN JESUS", "HIS WIFE SARAH\n1844 - 1921", "THE LORD IS MY SHEPHERD"}[s.IntN(5)])
	}
	text := strings.Join(lines, "\n")
	if s.IntN(8) == 0 {
		text = s.wear(text)
	}
	k := model.Marker{Inscription: text, Lettering: "incised", Device: "none", Setting: "upright", Width: model.Inches(14 + s.IntN(26)), Thickness: model.Inches(2 + s.IntN(14)), Height: model.Inches(20 + s.IntN(60))}
	k.Material = []string{"marble", "marble", "granite", "granite", "sandstone", "slate", "zinc"}[s.IntN(7)]
	k.Top = []string{"rounded", "flat", "square", "pointed", "other"}[s.IntN(5)]
	if s.IntN(6) == 0 {
		k.Width, k.Thickness = 0, 0 // nobody measured it
	}
	return k
}

// wear loses two or three letters of a word of the stone.
func (s *sexton) wear(text string) string {
	b := []byte(text)
	at := s.IntN(len(b))
	var out strings.Builder
	lost := 2 + s.IntN(2)
	for i := range b {
		letter := b[i] >= 'A' && b[i] <= 'Z' || b[i] >= '0' && b[i] <= '9'
		if i >= at && lost > 0 && letter {
			if lost--; lost == 0 || i+1 >= len(b) || !(b[i+1] >= 'A' && b[i+1] <= 'Z' || b[i+1] >= '0' && b[i+1] <= '9') {
				lost = 0
				out.WriteString(".]")
			} else {
				if i == at || !strings.HasSuffix(out.String(), ".") || !strings.Contains(out.String(), "[") {
					out.WriteByte('[')
				}
				out.WriteByte('.')
			}
			continue
		}
		out.WriteByte(b[i])
	}
	if strings.Count(out.String(), "[") != strings.Count(out.String(), "]") {
		return text
	}
	return out.String()
}

// private makes a private stone of a man; fell is where he fell, and holder says that a society has set one beside it.
func (s *sexton) private(m *soldier, g Ground, tells bool, fell string, holder bool) model.StoneID {
	lines := s.plainLines(m, fell)
	if tells {
		lines = append(lines, s.service(m))
	}
	k := s.slab(lines)
	if holder {
		k.Motifs = []string{"GAR star holder"}
	}
	return s.set(g, k)
}

// government makes the marker that the government furnished to men of his war.
func (s *sexton) government(m *soldier, g Ground) model.StoneID {
	who := strings.ToUpper(s.write(m))
	k := model.Marker{Top: "rounded", Material: "white marble", Width: 12, Thickness: 4, Height: 24, Lettering: "raised", Device: "recessed shield", Setting: "upright"}
	switch {
	case m.war == "world":
		k = model.Marker{Top: "slightly rounded", Material: "white marble", Width: 13, Thickness: 4, Height: 24, Lettering: "incised", Device: "none", Emblem: "Latin cross", Setting: "upright"}
		k.Inscription = fmt.Sprintf("%s\nPENNSYLVANIA\nPVT. %d INF. 28 DIV.\n%s %d, %d", who, m.number, strings.ToUpper(months[m.end.m-1]), m.end.d, m.end.y)
	case m.sailor:
		k.Inscription = who + "\nU. S. NAVY"
	case m.colored:
		k.Inscription = fmt.Sprintf("%s\nCO. %s\n%d U.S.C.I.", who, m.company, m.number)
	case m.war == "spain":
		k.Inscription = fmt.Sprintf("%s\nCO. %s\n%d PA. INF.\nSP. AM. WAR", who, m.company, m.number)
	default:
		k.Inscription = fmt.Sprintf("%s\nCO. %s\n%d %s %s", who, m.company, m.number, strings.ToUpper(m.state), strings.ToUpper(m.arm))
	}
	return s.set(g, k)
}

// set sets a marker in the next plot of the ground.
func (s *sexton) set(g Ground, k model.Marker) model.StoneID {
	s.used[g.Name]++
	n := s.used[g.Name]
	id := model.StoneID(fmt.Sprintf("x%04d", len(s.Stones)+1))
	place := model.Place{Cemetery: g.Name, County: g.County, State: "PA", Row: fmt.Sprint(1 + n/15), Plot: fmt.Sprint(1 + n%15)}
	s.Stones = append(s.Stones, &model.Stone{ID: id, Source: model.Source{File: "walk.csv", Row: len(s.Stones) + 2}, Place: place, Marker: k})
	return id
}

// row writes the man into the ground's ledger, which knows no units.
func (s *sexton) row(m *soldier, g Ground) model.StoneID {
	id := s.set(g, model.Marker{})
	var c model.Claim
	given := m.given
	if m.second != "" && s.IntN(2) == 0 {
		given += " " + m.second + "."
	}
	c.Person.Name = name.FromParts(m.surname, given)
	c.Person.Died = m.end.date()
	if s.IntN(2) == 0 {
		c.Person.Born = date.Year(m.born.y)
	}
	if s.IntN(3) > 0 { // "soldier's lot"
		c.Service.Unit = unit.FromParts(unit.Parts{Regiment: unit.Ordinal(m.number), Arm: m.arm, State: m.state})
		if m.sailor || m.colored {
			c.Service.Unit = model.Unit{}
			c.Service.Conflicts = []model.ConflictCode{"civil-war"}
		}
	}
	stone := s.Stones[len(s.Stones)-1]
	stone.Register, stone.Source.File = &c, "ledger.csv"
	return id
}
