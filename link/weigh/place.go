package weigh

import (
	"strings"

	"musterstone/model"
)

// placeView is the burial ground of a stone and how the rosters' words about places agree with it.
type placeView struct {
	w       *Weigher
	place   *model.Place
	ground  string // the ground's distinctive words, lower case
	county  string
	hasUnit bool
	// What is known of the rosters' words on the ground and the county, nil where there is none, and what the levels come to.
	held, heldCounty                                 *held
	thisGround, anotherGround, sameCounty, elsewhere line
	states                                           map[model.State]line // by the state for which a record's man served
}

func (w *Weigher) placeView(p *model.Place, claim *model.Claim) placeView {
	v := placeView{w: w, place: p, ground: groundWords(p.Cemetery), county: countyWords(p.County), hasUnit: claim.Service.Unit.Designation() != ""}
	if v.ground != "" {
		v.held = w.burials.holding(v.ground)
		v.thisGround = lineOf("burial", "this ground", start("burial", "this ground").m, v.held.u)
		v.anotherGround = lineOf("burial", "another ground", start("burial", "another ground").m, 1-v.held.u)
	}
	if v.county != "" {
		v.heldCounty = w.homes.holding(v.county)
		v.sameCounty = lineOf("home", "same county", start("home", "same county").m, v.heldCounty.u)
		v.elsewhere = lineOf("home", "elsewhere", start("home", "elsewhere").m, 1-v.heldCounty.u)
	}
	return v
}

// genericGround are the words of a burial ground's name that tell none from another: common practice, no source.
var genericGround = map[string]bool{"cemetery": true, "cem": true, "cemetary": true, "churchyard": true, "burying": true, "burial": true, "ground": true, "grounds": true,
	"graveyard": true, "the": true, "memorial": true, "park": true, "old": true, "at": true, "in": true, "of": true, "near": true, "buried": true, "interred": true}

// groundWords are the distinctive words of a burial ground's name, blanks between and around: " mill " for "Old Mill Cemetery".
func groundWords(s string) string {
	var out []string
	for _, w := range words(s) {
		if !genericGround[w] {
			out = append(out, w)
		}
	}
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

func countyWords(s string) string {
	var out []string
	for _, w := range words(s) {
		if w != "county" && w != "co" {
			out = append(out, w)
		}
	}
	if len(out) == 0 {
		return ""
	}
	return " " + strings.Join(out, " ") + " "
}

// burialText is what a record says of the man's burial: its own column, or the remark from the word that speaks of it.
func burialText(r *model.Record) string {
	if r.Person.Buried != "" {
		return strings.ToLower(r.Person.Buried)
	}
	if !mayTellBurial(r.Service.Remarks) {
		return ""
	}
	remarks := strings.ToLower(r.Service.Remarks)
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

func (v *placeView) against(l *Lines, f *facts, surnameShare float64) {
	if v.held != nil && f.burial != missing {
		if v.held.has(f.burial, f.burialText, v.ground) {
			l.add(v.thisGround)
		} else {
			l.add(v.anotherGround)
		}
	}
	switch {
	case v.heldCounty != nil && f.home != missing && f.ofCounty:
		x, u := v.elsewhere, 1-v.heldCounty.u
		if v.heldCounty.has(f.home, f.homeText, v.county) {
			x, u = v.sameCounty, v.heldCounty.u
		}
		if surnameShare > 0 {
			m := table().rows[x.level].m
			x.bits = bits(m, kinHome(m, u, surnameShare))
		}
		l.add(x)
	case !v.hasUnit && v.place.State != "" && f.unit != nil && f.unit.state != "":
		l.add(v.state(f.unit.state))
	}
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

// state is the line of a record's man who served for the state.
func (v *placeView) state(unit model.State) line {
	if x, ok := v.states[unit]; ok {
		return x
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
	x := lineOf("home", level, m, share(unit))
	if v.states == nil {
		v.states = map[model.State]line{}
	}
	v.states[unit] = x
	return x
}
