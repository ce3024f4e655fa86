package weigh

import (
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// placeView is the burial ground of a stone and how the rosters' words about places agree with it.
type placeView struct {
	w       *Weigher
	place   *model.Place
	ground  string // the ground's distinctive words, lower case
	county  string
	byState bool // the stone gives its state and no unit
	// What is known of the rosters' words on the ground and the county, nil where there is none, and what the levels come to.
	held, heldCounty *held
	grounds, homes   [heldKinds]line                // this ground and another, the same county and elsewhere
	kinHomes         [surnameLevels][heldKinds]line // the homes of men who may be kin, by the level of the surname, as they have been asked for
	states           []line                         // by the number of the state for which a record's man served, as they have been asked for
}

func (w *Weigher) placeView(p *model.Place, claim *model.Claim) placeView {
	v := placeView{w: w, place: p, ground: groundWords(p.Cemetery), county: countyWords(p.County), byState: p.State != "" && claim.Service.Unit.Designation() == ""}
	if v.ground != "" {
		v.held = w.burials.holding(v.ground)
		v.grounds[heldHas] = lineOf("burial", "this ground", start("burial", "this ground").m, v.held.u)
		v.grounds[heldNot] = lineOf("burial", "another ground", start("burial", "another ground").m, 1-v.held.u)
	}
	if v.county != "" {
		v.heldCounty = w.homes.holding(v.county)
		v.homes[heldHas] = lineOf("home", "same county", start("home", "same county").m, v.heldCounty.u)
		v.homes[heldNot] = lineOf("home", "elsewhere", start("home", "elsewhere").m, 1-v.heldCounty.u)
	}
	return v
}

// idleWords are the words that tell no place of a kind from another, by the column of the table that says so.
var idleWords = sync.OnceValue(func() map[string]map[string]bool {
	m := map[string]map[string]bool{"ground": {}, "county": {}}
	for _, r := range vocab.Rows("place-words") {
		for kind, idle := range m {
			idle[r.Get("word")] = r.Get(kind) != ""
		}
	}
	return m
})

// groundWords are the distinctive words of a burial ground's name, blanks between and around: " mill " for "Old Mill Cemetery".
func groundWords(s string) string { return tellingWords(s, idleWords()["ground"]) }

// countyWords are the same of a county's: " dane " for "Dane Co.".
func countyWords(s string) string { return tellingWords(s, idleWords()["county"]) }

func tellingWords(s string, idle map[string]bool) string {
	out := slices.DeleteFunc(words(s), func(w string) bool { return idle[w] })
	if len(out) == 0 {
		return ""
	}
	return " " + strings.Join(out, " ") + " "
}

// words are the words of a text in lower case, letters and digits only.
func words(s string) []string {
	return strings.FieldsFunc(strings.ToLower(s), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127)
	})
}

// burialText is what a record says of the man's burial: its own column, or the remark from the word that speaks of it.
func burialText(r *model.Record) string { return burialIn(r.Person.Buried, r.Service.Remarks) }

// burialIn is burialText by the record's column and its remarks.
func burialIn(buried, remarks string) string {
	if buried != "" {
		return strings.ToLower(buried)
	}
	if !mayTellBurial(remarks) {
		return ""
	}
	remarks = strings.ToLower(remarks)
	for _, w := range []string{"buried", "interred", "interment", "bur. "} {
		if i := strings.Index(remarks, w); i >= 0 {
			end := len(remarks)
			if j := strings.IndexAny(remarks[i:], ";"); j >= 0 {
				end = i + j
			}
			return remarks[i:end]
		}
	}
	return ""
}

// mayTellBurial reports whether remarks can hold a word that speaks of a burial: nearly all hold none.
func mayTellBurial(remarks string) bool {
	for i := 0; i+2 < len(remarks); i++ {
		switch remarks[i] | 0x20 {
		case 'b':
			if remarks[i+1]|0x20 == 'u' {
				return true
			}
		case 'i':
			if remarks[i+1]|0x20 == 'n' && remarks[i+2]|0x20 == 't' {
				return true
			}
		default:
			if remarks[i] >= 0x80 { // may be a letter that has one of these in lower case
				return true
			}
		}
	}
	return false
}

// burial compares the ground with what the record says of the man's burial.
func (v *placeView) burial(f *facts) line {
	if v.held == nil {
		return line{}
	}
	return v.grounds[v.held.has(f.burial, f.burialText, v.ground)]
}

// home compares the county with the record's residence, or else, where the stone gives no unit, its state with the one for which the record's man served.
func (v *placeView) home(f *facts, surname *surnameLine, kin uint8) line {
	has := uint8(heldNone)
	if v.heldCounty != nil {
		has = v.heldCounty.has(f.home, f.homeText, v.county)
	}
	if v.byState && has == heldNone {
		return v.state(f)
	}
	if surname.share[kin] > 0 && has != heldNone {
		return v.kinHome(surname, kin, has)
	}
	return v.homes[has]
}

// kinHome is home for men of one name who may be kin.
func (v *placeView) kinHome(surname *surnameLine, kin, has uint8) line {
	x := &v.kinHomes[surname.number][has]
	if x.level == 0 {
		*x = v.homes[has]
		m, u := table().rows[x.level].m, v.heldCounty.u
		if has == heldNot {
			u = 1 - u
		}
		x.bits = bits(m, kinHome(m, u, surname.share[kin]))
	}
	return *x
}

// ofCounty reports whether a residence may name a county.
func ofCounty(home string) bool {
	for i := 0; i+1 < len(home); i++ {
		if home[i]|0x20 == 'c' && home[i+1]|0x20 == 'o' {
			return true
		}
	}
	return false
}

// state is the line of a record's man by the state for which he served.
func (v *placeView) state(f *facts) line {
	if f.unitNumber < 0 {
		return v.stateLine(f.unit.state)
	}
	if v.states == nil {
		v.states = make([]line, len(f.packed.states))
	}
	x := &v.states[f.unit.stateNumber]
	if x.level == 0 && f.unit.stateNumber > 0 {
		*x = v.stateLine(f.unit.state)
	}
	return *x
}

func (v *placeView) stateLine(unit model.State) line {
	if unit == "" {
		return line{}
	}
	here, c := v.place.State, v.w.counts
	share := func(s model.State) float64 {
		return chance("home", "same state", 0, float64(c.states.n[string(s)]), float64(c.N))
	}
	level := "same state"
	if unit != here {
		level = "other state"
	}
	m := v.w.moves.chance(here, unit, start("home", "same state").m, share(here), share(unit))
	return lineOf("home", level, m, share(unit))
}
