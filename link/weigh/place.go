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
	grounds, homes   [heldRoom]line                 // this ground and another, the same county and elsewhere
	kinHomes         [surnameLevels][heldKinds]line // the homes of men who may be kin, by the level of the surname, as they have been asked for
	states           []line                         // by the number of the state for which a record's man served, where the stone gives no unit; nil without columns
	own              line                           // room for that of a record by itself
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
	if v.byState && w.packed != nil {
		v.states = w.stateLines(&v)
	}
	return v
}

// stateLines are the lines of all states of the columns, worked out once a state of a ground.
func (w *Weigher) stateLines(v *placeView) []line {
	if lines, ok := w.stateViews.Load(v.place.State); ok {
		return lines.([]line)
	}
	lines := make([]line, len(w.packed.states))
	for i, state := range w.packed.states {
		lines[i] = v.stateLine(state)
	}
	w.stateViews.Store(v.place.State, lines)
	return lines
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

// apostrophes go without a trace: "St. Mary's" is "St Marys".
var apostrophes = strings.NewReplacer("'", "", "’", "", "ʼ", "")

// words are the words of a text in lower case, letters and digits only.
func words(s string) []string {
	return strings.FieldsFunc(strings.ToLower(apostrophes.Replace(s)), func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9' || r > 127)
	})
}

// burialText is what a record says of the man's burial, as written: its own column, or the remark from the word that speaks of it.
func burialText(r *model.Record) string { return burialIn(r.Person.Buried, r.Service.Remarks) }

// burialIn is burialText by the record's column and its remarks.
func burialIn(buried, remarks string) string {
	if buried != "" {
		return buried
	}
	from := tellsBurial(remarks)
	if from < 0 {
		return ""
	}
	text, _, _ := strings.Cut(remarks[from:], ";")
	return text
}

// burialForms are the words that alone tell of a burial, in lower case, and the letters with which they begin.
var burialForms = sync.OnceValue(func() *forms {
	var f forms
	for _, r := range vocab.Rows("burial-words") {
		if r.Get("tells") == "burial" {
			w := r.Get("form")
			f.words, f.begins[w[0]] = append(f.words, w), true
		}
	}
	return &f
})

type forms struct {
	words  []string
	begins [256]bool
}

// tellsBurial is where in remarks the first word stands that tells of a burial; -1 where none does, as in nearly all.
func tellsBurial(remarks string) int {
	forms := burialForms()
	for i := 0; i < len(remarks); {
		if !isLetter(remarks[i]) {
			i++
			continue
		}
		from := i
		for i < len(remarks) && isLetter(remarks[i]) {
			i++
		}
		if !forms.begins[remarks[from]|0x20] {
			continue
		}
		for _, w := range forms.words {
			if len(w) == i-from && strings.EqualFold(remarks[from:i], w) {
				return from
			}
		}
	}
	return -1
}

// isLetter reports whether a byte is a letter or a part of one.
func isLetter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' || b >= 0x80 }

// burial compares the ground with what the record says of the man's burial.
func (v *placeView) burial(f *facts) *line {
	if v.held == nil {
		return &noLine
	}
	has, ok := v.held.has(f.burial)
	if !ok {
		has = v.held.search(f.burial, f.burialText(), v.ground)
	}
	return &v.grounds[has%heldRoom]
}

// home compares the county with the record's residence, or else, where the stone gives no unit, its state with the one for which the record's man served.
func (v *placeView) home(f *facts, surname *surnameLine, kin uint8) *line {
	has := uint8(heldNone)
	if v.heldCounty != nil {
		ok := false
		if has, ok = v.heldCounty.has(f.home); !ok {
			has = v.heldCounty.search(f.home, f.homeText(), v.county)
		}
	}
	if v.byState && has == heldNone {
		return v.state(f)
	}
	if kin != noKin && surname.share[kin] > 0 && has != heldNone {
		return v.kinHome(surname, kin, has)
	}
	return &v.homes[has%heldRoom]
}

// kinHome is home for men of one name who may be kin.
func (v *placeView) kinHome(surname *surnameLine, kin, has uint8) *line {
	x := &v.kinHomes[surname.number][has]
	if x.level == 0 {
		*x = v.homes[has]
		m, u := table().rows[x.level].m, v.heldCounty.u
		if has == heldNot {
			u = 1 - u
		}
		x.bits = bits(m, kinHome(m, u, surname.share[kin]))
	}
	return x
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
func (v *placeView) state(f *facts) *line {
	if f.packed != nil {
		return &v.states[f.packed.units[f.row.unit].stateNumber]
	}
	v.own = v.stateLine(f.parts.state)
	return &v.own
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
