// Package ground makes burial grounds with known truth, for the tests of who lies in them without a government marker: veterans under private stones that tell of their
// service and under plain ones, and under no stone; veterans with a government marker; civilians; rosters whose remarks say where men are buried, some of
// them in grounds of like name elsewhere. All persons are invented.
//
// It differs from what the program assumes: whether a man has a stone, and what it says, is drawn for each man by itself with one rate for all; men with a
// government marker may have a private stone too; plain stones of civilians bear the names of men on the rosters as often as the shares of names in the county make it so;
// condition, wear and misreading are mild. The rates are a judgement of this package, not measured on real grounds.
package ground

import (
	"fmt"
	"math/rand/v2"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// Options say what to make.
type Options struct {
	Seed     uint64
	Unmarked int // veterans with no government marker; 0 means drawn from 25 to 75
	Roster   int // men on the roster who have nothing to do with the grounds; 0 means 500
}

// Class is what a stone, a row or a record is in truth.
type Class string

// The classes of what may be found.
const (
	Signed   Class = "signed private stone"
	Plain    Class = "plain private stone"
	Buried   Class = "burial by a roster"
	Row      Class = "row of a register"
	Decoy    Class = "decoy"
	Civilian Class = "civilian's stone"
	Official Class = "government marker"
)

// Ground is what was made.
type Ground struct {
	Stones  []*model.Stone
	Records []*model.Record
	Truth   map[string]Class // by the id of a stone, a row or a record; records of no class are not in it
	// Unmarked is how many veterans lie in the grounds without a government marker, and Named how many of them a stone, a roster or a register names.
	Unmarked, Named int
	// Twins pairs a register's row with the record of the same man, where both bury him here.
	Twins map[model.RecordID]model.StoneID
}

// man is one of the dead.
type man struct {
	surname, given, middle string
	state, arm, company    string
	regiment, born         int
	enlisted, died         [3]int
	rank                   string
	id                     model.RecordID // on the roster; "" where it lacks him
}

type maker struct {
	*rand.Rand
	Ground
	plots map[string]int
}

var grounds = []model.Place{
	{Cemetery: "Old Mill Cemetery", County: "Alder", State: "WI"},
	{Cemetery: "St. Olaf Churchyard", County: "Alder", State: "WI"},
}

// Make makes grounds.
func Make(opt Options) Ground {
	m := &maker{Rand: rand.New(rand.NewPCG(opt.Seed, 41)), plots: map[string]int{}}
	m.Truth, m.Twins = map[string]Class{}, map[model.RecordID]model.StoneID{}
	n := opt.Unmarked
	if n == 0 {
		n = 25 + m.IntN(51)
	}
	m.Unmarked = n
	signed, plain := 0.25+0.3*m.Float64(), 0.1+0.15*m.Float64()
	buried, register := 0.3+0.4*m.Float64(), 0.0
	if m.IntN(2) == 0 {
		register = 0.2 + 0.3*m.Float64()
	}
	for range n {
		m.veteran(signed, plain, buried, register)
	}
	for range 15 + m.IntN(20) {
		m.marked(buried)
	}
	for range 25 + m.IntN(25) {
		m.civilian()
	}
	for range 8 {
		m.elsewhere()
	}
	if m.IntN(2) == 0 { // a ground of the very name, and nothing in the text to tell it by
		far := m.man()
		m.enrol(far, "Old Mill Cem.", "")
		m.Truth[string(far.id)] = Decoy
	}
	rest := opt.Roster
	if rest == 0 {
		rest = 500
	}
	for range rest {
		p := m.man()
		m.enrol(p, "", m.fate())
	}
	m.Shuffle(len(m.Records), func(i, j int) { m.Records[i], m.Records[j] = m.Records[j], m.Records[i] })
	for i, r := range m.Records {
		r.Source = model.Source{File: "roster-made.csv", Row: i + 2}
	}
	return m.Ground
}

// veteran makes one without a government marker. What stone he has, and which list names him, are drawn each by itself.
func (m *maker) veteran(signed, plain, buried, register float64) {
	p := m.man()
	place := m.place()
	x := m.Float64()
	onStone, onRoster, inRegister := x < signed+plain, m.Float64() < buried, m.Float64() < register
	if onRoster || m.Float64() < 0.75 {
		text := ""
		if onRoster {
			text = m.wording(place)
		}
		m.enrol(p, text, m.fate())
	}
	named := onRoster || inRegister
	switch {
	case x < signed:
		id := m.stone(p, place, true, true, false)
		m.Truth[string(id)] = Signed
		named = true
	case x < signed+plain:
		id := m.stone(p, place, true, false, false)
		m.Truth[string(id)] = Plain
		named = named || p.id != ""
	}
	if onRoster && !onStone {
		m.Truth[string(p.id)] = Buried
	}
	if inRegister {
		id := m.register(p, place)
		if !onStone {
			m.Truth[string(id)] = Row
			if onRoster {
				m.Twins[p.id] = id
			}
		}
	}
	if named {
		m.Named++
	}
}

// marked makes a veteran with a government marker; some have a private stone too, some are on the lists.
func (m *maker) marked(buried float64) {
	p := m.man()
	place := m.place()
	text := ""
	if m.Float64() < buried {
		text = m.wording(place)
	}
	if text != "" || m.Float64() < 0.8 {
		m.enrol(p, text, m.fate())
	}
	m.Truth[string(m.official(p, place))] = Official
	if m.IntN(6) == 0 {
		m.Truth[string(m.stone(p, place, true, m.IntN(2) == 0, false))] = Decoy
	}
}

// civilian makes a stone of someone who did not serve; some wear a fraternal sign, or a flag holder that moved.
func (m *maker) civilian() {
	p := m.man()
	id := m.stone(p, m.place(), false, false, false)
	m.Truth[string(id)] = Civilian
	s := m.Stones[len(m.Stones)-1]
	switch m.IntN(20) {
	case 0, 1:
		s.Marker.Motifs = []string{"square and compasses"}
	case 2, 3:
		s.Marker.Motifs = []string{"willow"}
	case 4:
		s.Marker.Motifs = []string{"GAR star holder"}
	}
}

// elsewhere makes men whom the roster buries in grounds of like name, and one with a stone in memory here.
func (m *maker) elsewhere() {
	p := m.man()
	texts := []string{"Old Mill Cem., Knox Co., Ill.", "West Old Mill Cem., Alder Co.", "Old Mill Church Cem.", "St. Olaf Cem., Dane Co., Iowa", "Nashville Nat. Cem., grave 412", "Old Mill Cemetery, Ohio",
		"Buried in Old Mill Cem.; removed to Nashville Nat. Cem. 1867", "near Old Mill Creek, Tenn."}
	m.enrol(p, texts[m.IntN(len(texts))], "")
	m.Truth[string(p.id)] = Decoy
	if m.IntN(6) == 0 {
		m.Truth[string(m.stone(p, m.place(), true, true, true))] = Decoy
	}
}

func (m *maker) place() model.Place {
	p := grounds[0]
	if m.IntN(4) == 0 {
		p = grounds[1]
	}
	m.plots[p.Cemetery]++
	n := m.plots[p.Cemetery]
	p.Section, p.Row, p.Plot = "A", fmt.Sprint(1+n/12), fmt.Sprint(1+n%12)
	return p
}

// wording is how the roster words a burial in a ground.
func (m *maker) wording(p model.Place) string {
	short := strings.NewReplacer("Cemetery", "Cem.", "Churchyard", "Ch. Yd.").Replace(p.Cemetery)
	forms := []string{short + ", Alder Co.", p.Cemetery + ", Alder County, Wis.", short, p.Cemetery, short + ", Alder Co., Wis.", strings.ToUpper(short) + ", ALDER CO.", "Bur. " + short}
	return forms[m.IntN(len(forms))]
}

var (
	givens    = strings.Fields("John William James George Charles Henry Thomas Joseph Samuel David Robert Edward Albert Daniel Andrew Peter Frank Benjamin Jacob Michael Isaac Levi Hiram Lewis Josiah Amos Ezra Silas Harvey Warren Horace Edwin Chauncey Orlando Alonzo Nels Anton Gottlieb")
	surnames  = strings.Fields("Smith Johnson Miller Brown Davis Wilson Anderson Taylor Moore Clark Lewis Walker Hall Young King Wright Hill Baker Nelson Carter Olson Larson Hanson Schmidt Meyer Wagner Becker Hoffman Keller Voss Lindahl Strand Tollefson Gunderson Whitcomb Tillotson Merriam Harkness Skeels Bardwell Fentress Vollrath Quimby Ostrander Peck Dunton Aldous Plunkett Mabry Thome Reilly Kinnear Sprague Tuttle Hoyt Draper Eastlake Farwell Gates Haskell Ives Judd Kellogg Loomis Marsh Norcross Olmsted Prentiss Radke Steinmetz Teagarden Underhill Vance Wexler Yost Zimmer")
	shortened = map[string]string{"John": "JNO.", "William": "WM.", "James": "JAS.", "George": "GEO.", "Charles": "CHAS.", "Thomas": "THOS.", "Samuel": "SAML.", "Robert": "ROBT.", "Daniel": "DANL.", "Benjamin": "BENJ."}
	months    = strings.Fields("Jan. Feb. Mar. Apr. May June July Aug. Sept. Oct. Nov. Dec.")
)

func (m *maker) man() *man {
	p := &man{surname: surnames[min(m.IntN(len(surnames)), m.IntN(len(surnames)))], given: givens[min(m.IntN(len(givens)), m.IntN(len(givens)))], state: "Wisconsin", arm: "Infantry", rank: "private"}
	if m.IntN(3) > 0 {
		p.middle = string("ABCDEFGHJLMNOPRSTW"[m.IntN(18)])
	}
	if m.IntN(5) == 0 {
		p.state = []string{"Illinois", "Iowa", "Minnesota", "New York"}[m.IntN(4)]
	}
	if m.IntN(8) == 0 {
		p.arm = "Cavalry"
	}
	p.regiment, p.company = 1+m.IntN(50), string("ABCDEFGHIK"[m.IntN(10)])
	if m.IntN(8) == 0 {
		p.rank = []string{"corporal", "sergeant"}[m.IntN(2)]
	}
	year := 1861 + m.IntN(4)
	p.born = year - 18 - m.IntN(18)
	p.enlisted = [3]int{year, 1 + m.IntN(12), 1 + m.IntN(28)}
	p.died = [3]int{1868 + m.IntN(55), 1 + m.IntN(12), 1 + m.IntN(28)}
	return p
}

// fate is a roster's remark that says nothing of the grave.
func (m *maker) fate() string {
	return []string{"", "", "Mustered out with his company", "Discharged for disability", "Prisoner at Cahaba; exchanged"}[m.IntN(5)]
}

// enrol writes the man's record, mildly damaged.
func (m *maker) enrol(p *man, buried, remark string) {
	p.id = model.RecordID(fmt.Sprintf("r%05d", len(m.Records)+1))
	surname, given := p.surname, p.given
	if m.IntN(14) == 0 {
		surname = misspelt(surname)
	}
	if p.middle != "" && m.IntN(4) > 0 {
		given += " " + p.middle + "."
	}
	r := &model.Record{ID: p.id}
	r.Person.Name = name.FromParts(surname, given)
	r.Service.Unit = unit.FromParts(unit.Parts{Company: p.company, Regiment: fmt.Sprint(p.regiment), Arm: p.arm, State: p.state})
	r.Service.Side, r.Service.Rank = model.Union, "private"
	r.Service.RankOut = model.Rank(p.rank)
	r.Service.Conflicts = []model.ConflictCode{"civil-war"}
	r.Service.Enlisted = date.On(p.enlisted[0], p.enlisted[1], p.enlisted[2])
	if age, err := date.ParseAge(fmt.Sprint(p.enlisted[0] - p.born + []int{0, 0, 0, 0, 0, 1, -1}[m.IntN(7)])); err == nil {
		r.Person.Age = age
	}
	if m.IntN(3) == 0 {
		r.Person.Died = date.On(p.died[0], p.died[1], p.died[2])
	}
	if m.IntN(2) == 0 {
		r.Person.Residence = "Alder Co."
	}
	r.Service.Remarks = remark
	if strings.HasPrefix(buried, "Bur") || strings.HasPrefix(buried, "near") {
		r.Service.Remarks = strings.TrimPrefix(remark+". "+buried, ". ")
	} else {
		r.Person.Buried = buried
	}
	m.Records = append(m.Records, r)
}

func misspelt(s string) string {
	for _, c := range [][2]string{{"son", "sen"}, {"ll", "l"}, {"tt", "t"}, {"ei", "ie"}, {"ey", "y"}, {"er", "ar"}, {"ck", "k"}, {"in", "en"}, {"a", "e"}} {
		if i := strings.Index(s, c[0]); i > 0 {
			return s[:i] + c[1] + s[i+len(c[0]):]
		}
	}
	return s
}

func day(d [3]int) string { return fmt.Sprintf("%s %d, %d", months[d[1]-1], d[2], d[0]) }

func (m *maker) who(p *man) string {
	given := strings.ToUpper(p.given)
	if a, ok := shortened[p.given]; ok && m.IntN(3) == 0 {
		given = a
	}
	if p.middle != "" && m.IntN(3) > 0 {
		given += " " + p.middle + "."
	}
	return given + " " + strings.ToUpper(p.surname)
}

func (m *maker) unitLines(p *man) string {
	state := map[string]string{"Wisconsin": "WIS.", "Illinois": "ILL.", "Iowa": "IOWA", "Minnesota": "MINN.", "New York": "N. Y."}[p.state]
	arm := map[string]string{"Infantry": "INF.", "Cavalry": "CAV."}[p.arm]
	forms := []string{"CO. %s / %d %s %s", "CO. %s, %d %s %s", "CO. %s %dTH REGT %s VOL. %s"}
	i := m.IntN(len(forms))
	if p.regiment%10 < 4 || p.regiment < 20 {
		i = m.IntN(2)
	}
	return fmt.Sprintf(forms[i], p.company, p.regiment, state, arm)
}

func (m *maker) add(place model.Place, marker model.Marker) model.StoneID {
	id := model.StoneID(fmt.Sprintf("s%04d", len(m.Stones)+1))
	marker.Inscription = strings.ReplaceAll(marker.Inscription, " / ", "\n")
	m.Stones = append(m.Stones, &model.Stone{ID: id, Source: model.Source{File: "stones.csv", Row: len(m.Stones) + 2}, Place: place, Marker: marker})
	return id
}

// stone makes a private stone; a society has set a flag holder at one veteran's in four.
func (m *maker) stone(p *man, place model.Place, veteran, signed, memorial bool) model.StoneID {
	lines := []string{m.who(p)}
	if memorial || m.IntN(20) == 0 { // old private stones over graves say so too
		lines = []string{"IN MEMORY OF", lines[0]}
	}
	switch m.IntN(3) {
	case 0:
		lines = append(lines, fmt.Sprintf("%d - %d", p.born, p.died[0]))
	case 1:
		lines = append(lines, "BORN "+fmt.Sprint(p.born), "DIED "+strings.ToUpper(day(p.died)))
	default:
		lines = append(lines, "DIED", strings.ToUpper(day(p.died)), fmt.Sprintf("AGED %d YRS", p.died[0]-p.born))
	}
	if signed {
		lines = append(lines, m.unitLines(p))
	}
	if m.IntN(6) == 0 {
		lines = append(lines, "MARY / HIS WIFE / 1845 - 1917")
	}
	k := model.Marker{Inscription: strings.Join(lines, " / "), Top: []string{"flat", "rounded", "square"}[m.IntN(3)], Material: []string{"granite", "marble", "sandstone"}[m.IntN(3)],
		Width: model.Inches(15 + m.IntN(18)), Thickness: model.Inches(2 + m.IntN(9)), Height: model.Inches(24 + m.IntN(30)), Lettering: "incised", Device: "none", Setting: "upright"}
	if veteran && m.IntN(4) == 0 {
		k.Motifs = []string{"GAR star holder"}
	}
	return m.add(place, k)
}

// official makes a government marker.
func (m *maker) official(p *man, place model.Place) model.StoneID {
	k := model.Marker{Inscription: m.who(p) + " / " + m.unitLines(p), Top: "rounded", Material: "white marble", Width: 12, Thickness: 4, Height: model.Inches(22 + m.IntN(5)),
		Lettering: "raised", Device: "recessed shield", Setting: "upright"}
	return m.add(place, k)
}

// register makes a row of a burial register.
func (m *maker) register(p *man, place model.Place) model.StoneID {
	c := model.Claim{}
	c.Person.Name = name.FromParts(p.surname, p.given)
	c.Person.Died = date.On(p.died[0], p.died[1], p.died[2])
	c.Service.Unit = unit.FromParts(unit.Parts{Company: p.company, Regiment: fmt.Sprint(p.regiment), Arm: p.arm, State: p.state})
	id := m.add(place, model.Marker{})
	s := m.Stones[len(m.Stones)-1]
	s.Register, s.Source.File = &c, "register.csv"
	return id
}
