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
	"math/rand/v2"
	"strings"

	"musterstone/model"
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
}

// Ground is a burial ground with its former name.
type Ground struct{ Name, Former, County, State string }

var places = []Ground{
	{"Mount Zion Cemetery", "Harper's Grove Burying Ground", "Calder", "Pennsylvania"},
	{"Evergreen Cemetery", "", "Calder", "Pennsylvania"},
	{"Friends Burying Ground", "", "Calder", "Pennsylvania"},
}

// sexton makes an acre.
type sexton struct {
	*rand.Rand
	Acre
	used                 map[string]int        // plots given out, by ground
	names                map[string]*[2]string // surnames and givens of the enrolled, for sons
	order                []string              // the keys of names in the order in which they came
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

// chance is true at a rate, or where men are remembered unevenly at the man's own.
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
