package weigh

import (
	"fmt"
	mathbits "math/bits"
	"strings"

	"musterstone/link/compare"
	"musterstone/model"
	"musterstone/vocab/name"
)

// nearSurname is the Jaro-Winkler similarity from which two surnames count as near: common practice, no source.
const nearSurname = 0.92

// longSurname is how many letters a surname must have for another, two letters off, still to be like it: common practice, no source.
const longSurname = 6

// nearGiven is the same for given names.
const nearGiven = 0.90

// wornCost is the most that the changed letters of a name may cost for it to count as the same name worn: see compare.WornDistance.
const wornCost = 0.75

// surnameView is a stone's surname with the level at which each surname of the rosters agrees with it.
type surnameView struct {
	written string
	folded  string
	levels  map[string]string  // roster surname, folded: level; absent means the lowest
	u       map[string]float64 // level: share of the roster's men whose surname agrees at it
	same    int                // men of exactly this name
	lowest  string
}

// surnameView compares the surname with every distinct surname of the rosters, once a name.
func (w *Weigher) surnameView(surname string) *surnameView {
	if surname == "" {
		return &surnameView{}
	}
	if v, ok := w.surnames.Load(surname); ok {
		return v.(*surnameView)
	}
	v := w.compareSurname(surname)
	w.surnames.Store(surname, v)
	return v
}

func (w *Weigher) compareSurname(surname string) *surnameView {
	v := &surnameView{written: surname, folded: name.Fold(surname), levels: map[string]string{}, u: map[string]float64{}, lowest: "different"}
	uncertain := name.Uncertain(surname)
	if uncertain {
		v.lowest = "does not fit"
	}
	n := map[string]int{}
	renderings := map[string]bool{} // Schmidt for Smith; what was translated (Koch for Cook) is too weak a hint
	for _, r := range name.Renderings(v.folded) {
		renderings[r.Name] = !r.Translated && !uncertain
	}
	mine := newSpelling(v.folded)
	spellings := w.spellings()
	for i, other := range w.counts.surnames.values {
		var level string
		if uncertain {
			level = fitLevel(v.folded, other)
		} else {
			level = surnameLevel(&mine, &spellings[i])
		}
		if (level == "" || level == "sound") && renderings[other] {
			level = "spelling"
		}
		if level == "" {
			continue
		}
		v.levels[other] = level
		n[level] += w.counts.surnames.n[other]
	}
	levels := []string{"same", "spelling", "worn", "near", "two letters", "sound"}
	if uncertain {
		levels = []string{"fits", "nearly fits"}
	}
	rest := 1.0
	for i, level := range levels {
		share := 0.0
		if i == 0 {
			share = name.SurnameShare(v.folded)
		}
		v.u[level] = chance("surname", level, share, float64(n[level]), float64(w.counts.N))
		rest -= v.u[level]
	}
	v.u[v.lowest] = max(rest, w.counts.share(0))
	v.same = w.counts.surnames.n[v.folded]
	return v
}

// fitLevel is how a name with lost letters agrees with a whole one; "" where it does not.
func fitLevel(pattern, whole string) string {
	if name.Match(pattern, whole) {
		return "fits"
	}
	if compare.PatternDistance(pattern, whole) <= 1 {
		return "nearly fits"
	}
	return ""
}

// surnameLevel is the level at which two folded surnames agree; "" where they differ.
func surnameLevel(a, b *spelling) string {
	if a.name == b.name {
		return "same"
	}
	alike := a.sound == b.sound && a.sound != ""
	d := len(a.name) - len(b.name)
	// One letter changed, lost or added leaves all other letters; a name from which three letters are gone, or to which four are
	// new, is not near by any measure used here.
	if d >= -3 && d <= 3 && mathbits.OnesCount32(a.letters&^b.letters) <= 2 && mathbits.OnesCount32(b.letters&^a.letters) <= 2 {
		switch {
		case len(a.name) >= 4 && compare.OSA(a.name, b.name) == 1, compare.JaroWinkler(a.name, b.name) >= nearSurname:
			if alike {
				return "spelling"
			}
			if wornAlike(a.name, b.name) {
				return "worn"
			}
			return "near"
		case wornAlike(a.name, b.name):
			return "worn"
		case !alike && min(len(a.name), len(b.name)) >= longSurname && compare.OSA(a.name, b.name) == 2:
			return "two letters"
		}
	}
	if alike {
		return "sound"
	}
	return ""
}

// wornAlike reports whether two names of one length differ in one or two letters that wear alike when carved.
func wornAlike(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	differ := 0
	for i := range len(a) {
		if a[i] != b[i] {
			differ++
		}
	}
	return differ <= 2 && compare.WornDistance(a, b, name.Worn) <= wornCost
}

// spelling is a folded surname made ready for comparing.
type spelling struct {
	name, sound string
	letters     uint32 // a bit for each letter that occurs
}

func newSpelling(folded string) spelling {
	s := spelling{name: folded, sound: name.Sound(folded)}
	for i := range len(folded) {
		if c := folded[i]; c >= 'a' && c <= 'z' {
			s.letters |= 1 << (c - 'a')
		}
	}
	return s
}

// spellings are the distinct surnames made ready, in their order.
func (c *Counts) spellings() []spelling {
	out := make([]spelling, len(c.surnames.values))
	for i, s := range c.surnames.values {
		out[i] = newSpelling(s)
	}
	return out
}

// against adds the surname's evidence and reports whether the two can be one name.
func (v *surnameView) against(s *sum, r *model.Record) bool {
	if v.folded == "" || r.Person.Name.Surname == "" {
		return false
	}
	other := name.Fold(r.Person.Name.Surname)
	level := v.levels[other]
	if level == "" {
		level = v.lowest
	}
	why := ""
	if level == "same" && v.same > 1 {
		why = fmt.Sprintf("%d men of this surname in the rosters", v.same)
	}
	s.weight("surname", level, start("surname", level).m, v.u[level], v.written, r.Person.Name.Surname, why)
	return level == "same" || level == "spelling" || level == "worn" || level == "near" || level == "fits"
}

// givenView is a stone's given name with the level of each given name of the rosters.
type givenView struct {
	written string
	letters string  // the first letters of the given and the first middle name, both known; "" otherwise
	swapped float64 // share of the roster's men who have these letters the other way round
	levels  map[string]string
	u       map[string]float64
}

func (w *Weigher) givenView(n model.Name) *givenView {
	if n.Given == "" {
		return &givenView{}
	}
	key := n.Given + "|" + strings.Join(n.GivenOr, "|") + "|" + n.Middle
	if v, ok := w.givens.Load(key); ok {
		return v.(*givenView)
	}
	v := w.compareGiven(n)
	w.givens.Store(key, v)
	return v
}

func (w *Weigher) compareGiven(n model.Name) *givenView {
	v := &givenView{written: n.Given, levels: map[string]string{}, u: map[string]float64{}}
	mine := newGiven(n)
	c := w.counts
	full, sameLetter, all := 0, 0, 0
	count := map[string]int{}
	for _, other := range c.givens.values {
		theirs := newGiven(model.Name{Given: other})
		level := mine.level(theirs)
		v.levels[other] = level
		k := c.givens.n[other]
		all += k
		if mine.mayBegin(other[0]) {
			sameLetter += k
		}
		if len(other) > 1 {
			full += k
			count[level] += k
		}
	}
	// An initial is set beside the first letters of all men, whole names among the whole names only: how often rosters give
	// no more than an initial says nothing of the man.
	letters := chance("given", "initial", 0, float64(sameLetter), float64(all))
	v.u["initial"], v.u["other initial"] = letters, 1-letters
	rest := 1.0
	for _, level := range []string{"same", "short form", "near", "middle"} {
		share := 0.0
		if level == "same" {
			share = name.GivenShare(mine.name)
		}
		v.u[level] = chance("given", level, share, float64(count[level]), float64(full))
		rest -= v.u[level]
	}
	v.u["different"] = max(rest, c.share(0))
	if m := initials(n.Middle); m != "" && mine.name[0] >= 'a' && mine.name[0] <= 'z' && m[0] != mine.name[0] {
		v.letters = mine.name[:1] + m[:1]
		begin := 0
		for _, other := range c.givens.values {
			if other[0] == m[0] {
				begin += c.givens.n[other]
			}
		}
		v.swapped = chance("given", "initial", 0, float64(begin), float64(all)) * chance("middle", "same", 0, float64(c.middles.n[mine.name[:1]]), float64(c.middle))
	}
	return v
}

// given is a given name made ready for comparing.
type given struct {
	name   string             // folded
	or     []string           // other names it may be
	roots  map[string]float64 // root names it may stand for
	middle []string           // whole middle names, folded
}

func newGiven(n model.Name) given {
	g := given{name: name.Fold(n.Given)}
	for _, o := range n.GivenOr {
		g.or = append(g.or, name.Fold(o))
	}
	if len(g.name) > 1 && !name.Uncertain(g.name) {
		g.roots = map[string]float64{}
		for _, f := range name.Roots(g.name) {
			g.roots[f.Name] = f.P
		}
	}
	for _, m := range strings.Fields(n.Middle) {
		if f := name.Fold(m); len(f) > 1 {
			g.middle = append(g.middle, f)
		}
	}
	return g
}

// mayBegin reports whether a name that this one may stand for begins with the letter.
func (g given) mayBegin(letter byte) bool {
	if g.name != "" && (g.name[0] == letter || g.name[0] == '?' || g.name[0] == '*') {
		return true
	}
	for _, o := range g.or {
		if o != "" && o[0] == letter {
			return true
		}
	}
	return false
}

// level is how two given names agree.
func (g given) level(h given) string {
	switch {
	case g.name == h.name && len(g.name) > 1:
		return "same"
	case len(g.name) == 1 || len(h.name) == 1:
		if h.name != "" && g.mayBegin(h.name[0]) {
			return "initial"
		}
		return "other initial"
	case name.Uncertain(g.name):
		if name.Match(g.name, h.name) {
			return "same"
		}
		return "different"
	}
	for _, o := range g.or {
		if o == h.name {
			return "short form"
		}
	}
	for _, o := range h.or {
		if o == g.name {
			return "short form"
		}
	}
	for root := range g.roots {
		if _, ok := h.roots[root]; ok {
			return "short form"
		}
	}
	if len(g.name) >= 4 && len(h.name) >= 4 && (compare.OSA(g.name, h.name) == 1 || compare.JaroWinkler(g.name, h.name) >= nearGiven) {
		return "near"
	}
	for _, m := range g.middle {
		if m == h.name {
			return "middle"
		}
	}
	for _, m := range h.middle {
		if m == g.name {
			return "middle"
		}
	}
	return "different"
}

// against adds the given name's evidence, and reports whether it has dealt with the middle name too: of a man's two names, stone and record may give either
// first.
func (v *givenView) against(s *sum, r *model.Record) (both bool) {
	if v.written == "" || r.Person.Name.Given == "" {
		return false
	}
	other := name.Fold(r.Person.Name.Given)
	level, ok := v.levels[other]
	if !ok {
		return false
	}
	if v.letters != "" && (level == "other initial" || level == "different") {
		if m := initials(r.Person.Name.Middle); m != "" && m[0] == v.letters[0] && other[0] == v.letters[1] {
			s.weight("given", "exchanged", start("given", "exchanged").m, v.swapped, v.written, r.Person.Name.Given+" "+r.Person.Name.Middle, "the two names stand the other way round")
			return true
		}
	}
	u := v.u[level]
	if level == "different" || level == "other initial" {
		// The man may go by his middle name on the roster's side: that is the record's own matter, not the value's.
		if m := name.Fold(strings.SplitN(r.Person.Name.Middle+" ", " ", 2)[0]); len(m) > 1 && m == name.Fold(v.written) {
			level, u = "middle", start("given", "middle").m/4
		}
	}
	s.weight("given", level, start("given", level).m, u, v.written, r.Person.Name.Given, "")
	return false
}

// initials are the first letters of the words of a middle name, folded.
func initials(middle string) string {
	var b strings.Builder
	for _, w := range strings.Fields(middle) {
		if f := name.Fold(w); f != "" && f[0] != '?' && f[0] != '*' {
			b.WriteByte(f[0])
		}
	}
	return b.String()
}
