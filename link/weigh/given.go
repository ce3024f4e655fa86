package weigh

import (
	"math"
	"slices"
	"strings"
	"sync"
	"unicode/utf8"

	"musterstone/link/compare"
	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/name/near"
)

// nearGiven is the Jaro-Winkler similarity from which two given names count as near: common practice, no source.
const nearGiven = 0.90

// The levels of two given names.
const (
	givenSame = iota
	givenShortForm
	givenNear
	givenMiddle
	givenDifferent
	givenInitial
	givenOtherInitial
	// Where the stone's is a short form itself.
	givenWrittenOut
	givenSameShort
	givenOtherShort
	givenNotShortFor
	// Where the stone's is no given name, but for a slip near one of the rosters'.
	givenMisread
	givenUnlike
	// Where they differ, and one is a woman's name and the other a man's.
	givenOtherSex

	givenNone // one of the two has none

	givenRoom = 16 // above all of them
)

// givenDiffers are the levels, a bit for each, at which a record's middle name may be what the stone gives first.
const givenDiffers = 1<<givenOtherInitial | 1<<givenDifferent | 1<<givenNotShortFor | 1<<givenUnlike

// givenLevels are their names in the table.
var givenLevels = [givenNone]string{givenSame: "same", givenShortForm: "short form", givenNear: "near", givenMiddle: "middle", givenDifferent: "different",
	givenInitial: "initial", givenOtherInitial: "other initial", givenWrittenOut: "written out", givenSameShort: "same short", givenOtherShort: "other short", givenNotShortFor: "not short for", givenMisread: "misread", givenUnlike: "unlike", givenOtherSex: "other sex"}

// OneGiven reports whether a level of the field given says that the two can be one name, more than an initial.
func OneGiven(level string) bool {
	switch level {
	case "same", "short form", "near", "written out", "same short", "misread":
		return true
	}
	return false
}

// givenView is a stone's given name with the level of each given name of the rosters.
type givenView struct {
	given   bool
	folded  string
	letters string  // the first letters of the given and the first middle name, both known; "" otherwise
	levels  []uint8 // by number of the given name plus 1; givenNone for 0
	firsts  []byte  // the first letters of the given names, by number
	lines   [givenRoom]line
	heed    uint32 // a bit for the number of each letter with which a record's middle name may begin that has to do with the stone's given name
	// exchanged and byMiddle are the lines of names that stand the other way round, and of a man who goes by his middle name.
	exchanged, byMiddle line
	// bySecond is the line of a whole name that begins with the record's middle initial, where the two given names differ: the man may be called by his second one.
	bySecond line
	single   bool // the stone gives no middle name
	begins   byte // the first letter of such a name on a stone that gives no other, 0 for none
}

func (w *Weigher) givenView(n model.Name) *givenView {
	if strings.Trim(name.Fold(n.Given), "?*") == "" { // none, or lost as a whole, however many letters it is thought to have had
		return &givenView{}
	}
	key := n.Given + "|" + strings.Join(n.GivenOr, "|") + "|" + n.Middle
	if v, ok := w.givens.Load(key); ok {
		return v.(*givenView)
	}
	v, _ := w.givens.LoadOrStore(key, w.compareGiven(n))
	return v.(*givenView)
}

// bareGiven is a stone's given name, whatever its middle names, set beside those of the rosters.
type bareGiven struct {
	mine            given
	levels          []uint8 // see givenView
	firsts          []byte
	count           [givenNone]int // men with whole names at each level
	full, same, all int            // men with whole names; with names that may begin with the letter; all
}

func (w *Weigher) bareGiven(n model.Name) *bareGiven {
	n.Middle = ""
	key := n.Given + "|" + strings.Join(n.GivenOr, "|")
	if v, ok := w.bareGivens.Load(key); ok {
		return v.(*bareGiven)
	}
	names := w.givenNames()
	b := &bareGiven{mine: newGiven(n), levels: make([]uint8, len(names)+1), firsts: make([]byte, len(names))}
	b.levels[0] = givenNone
	var mine compare.Prepared
	mine.Set(b.mine.name)
	for i := range names {
		theirs := &names[i]
		level := b.mine.level(theirs, &mine)
		if (level == givenDifferent || level == givenNotShortFor) && b.mine.otherSex(theirs) {
			level = givenOtherSex
		}
		b.levels[i+1], b.firsts[i] = level, theirs.name[0]
		k := theirs.men
		b.all += k
		if b.mine.letters&theirs.letters != 0 {
			b.same += k
		}
		if len(theirs.name) > 1 {
			b.full += k
			b.count[level] += k
		}
	}
	b.takeForMisread()
	v, _ := w.bareGivens.LoadOrStore(key, b)
	return v.(*bareGiven)
}

// compareGiven sets a stone's given name, with its middle names, beside those of the rosters, and works out what each level is worth.
func (w *Weigher) compareGiven(n model.Name) *givenView {
	bare := w.bareGiven(n)
	mine := newGiven(n)
	c := w.counts
	v := &givenView{given: true, single: n.Middle == "", folded: mine.name, levels: bare.levels, firsts: bare.firsts, heed: math.MaxUint32}
	if mine.name != "" && !name.Uncertain(mine.name) {
		v.heed = 1 << letterNumber(mine.name[0])
	}
	count := bare.count
	different := uint8(givenDifferent)
	if mine.isShort() {
		different = givenNotShortFor
	}
	if bare.misread() {
		different = givenUnlike
	}
	for _, m := range mine.middle {
		// Whom the stone has by his middle name.
		number, ok := w.numbers().givens[m]
		if !ok || len(mine.name) == 1 || name.Uncertain(mine.name) {
			continue
		}
		if old := v.levels[number+1]; old == different || old == givenOtherSex {
			if &v.levels[0] == &bare.levels[0] {
				v.levels = slices.Clone(bare.levels)
			}
			v.levels[number+1] = givenMiddle
			count[old] -= c.givens.n[m]
			count[givenMiddle] += c.givens.n[m]
		}
	}
	// An initial is set beside the first letters of all men, whole names among the whole names only: how often rosters give
	// no more than an initial says nothing of the man.
	var u, m [givenNone]float64
	letters := chance("given", "initial", 0, float64(bare.same), float64(bare.all))
	u[givenInitial], u[givenOtherInitial] = letters, 1-letters
	rest := 1.0
	for _, level := range [...]int{givenSame, givenShortForm, givenNear, givenMiddle, givenWrittenOut, givenSameShort, givenOtherShort, givenMisread} {
		share := 0.0
		switch level {
		case givenSame, givenSameShort:
			share = name.GivenShare(mine.name)
		case givenWrittenOut:
			for _, root := range mine.roots {
				if root != mine.name {
					share += name.GivenShare(root)
				}
			}
		}
		if level == givenMiddle || different == givenLevelsOf[level] {
			u[level] = chance("given", givenLevels[level], share, float64(count[level]), float64(bare.full))
			rest -= u[level]
		}
	}
	u[givenDifferent] = max(rest, c.share(0))
	u[givenNotShortFor], u[givenUnlike], u[givenOtherSex] = u[givenDifferent], u[givenDifferent], u[givenDifferent]
	for i, level := range givenLevels {
		m[i] = start("given", level).m
	}
	// A short form is at times the whole name: what the two would have at each level is mixed as the table of roots has it.
	for _, of := range [...]struct{ short, whole int }{{givenWrittenOut, givenShortForm}, {givenSameShort, givenSame}, {givenOtherShort, givenNear}, {givenNotShortFor, givenDifferent}} {
		m[of.short] = mine.short*m[of.short] + (1-mine.short)*m[of.whole]
	}
	for i, level := range givenLevels {
		v.lines[i] = lineOf("given", level, m[i], u[i])
	}
	l := start("given", "middle") // two bits, whatever the name: that the roster's middle name is the stone's given one is seldom chance; house judgement
	v.byMiddle = lineOf("given", "middle", l.m, l.m/4)
	if whole := mine.name; len(whole) > 1 && initials(n.Middle) == "" && !name.Uncertain(whole) {
		v.begins = whole[0]
		// Of the men whose given names differ from it, those with its letter for a middle initial.
		differ := u[different]
		have := chance("middle", "same", 0, float64(c.middles.n[whole[:1]]), float64(c.middle)) * float64(c.middle) / float64(max(1, c.N))
		v.bySecond = lineOf("given", "middle initial", start("given", "middle initial").m, max(differ*have, c.share(0)))
	}
	if second := initials(n.Middle); second != "" && mine.name[0] >= 'a' && mine.name[0] <= 'z' && second[0] != mine.name[0] {
		v.letters = mine.name[:1] + second[:1]
		begin := 0
		for i, other := range c.givens.values {
			if bare.firsts[i] == second[0] {
				begin += c.givens.n[other]
			}
		}
		swapped := chance("given", "initial", 0, float64(begin), float64(bare.all)) * chance("middle", "same", 0, float64(c.middles.n[mine.name[:1]]), float64(c.middle))
		v.exchanged = lineOf("given", "exchanged", start("given", "exchanged").m, swapped)
	}
	return v
}

// givenLevelsOf is, of the levels at which whole names agree, by which they differ where they do not.
var givenLevelsOf = [givenNone]uint8{givenSame: givenDifferent, givenShortForm: givenDifferent, givenNear: givenDifferent, givenWrittenOut: givenNotShortFor,
	givenSameShort: givenNotShortFor, givenOtherShort: givenNotShortFor, givenMisread: givenUnlike}

// takeForMisread gives a stone's given name the levels of one that is none, where it is in neither the rosters nor the tables and nearly one of the rosters': "JOHM", "EDWARO". That the two are nearly
// the same is then no exception among the stones of one man, as it is where the stone has another name.
func (b *bareGiven) takeForMisread() {
	g := &b.mine
	if b.count[givenSame]+b.count[givenShortForm] > 0 || b.count[givenNear] == 0 || len(g.or) > 0 || name.Uncertain(g.name) || g.written != nil || name.KnownGiven(g.name) {
		return
	}
	for i, level := range b.levels {
		switch level {
		case givenNear:
			b.levels[i] = givenMisread
		case givenDifferent:
			b.levels[i] = givenUnlike
		}
	}
	b.count[givenMisread], b.count[givenNear] = b.count[givenNear], 0
	b.count[givenUnlike], b.count[givenDifferent] = b.count[givenDifferent], 0
}

// misread reports whether the stone's given name has those levels.
func (b *bareGiven) misread() bool { return b.count[givenMisread] > 0 }

// strangeGiven is the most that the rosters' men may be, as a part of all, of whom the given name is like a stone's that is no soldier's: of many men some are misspelt like any woman. House judgement; below thirty thousand men
// it is none of them.
const strangeGiven = 1. / 30000

// StrangeGiven reports whether the stone's given name is whole and like that of hardly any record: a woman's, mostly.
func (v *Stone) StrangeGiven() bool { return v.w.StrangeGiven(v.claim.Person.Name) }

// StrangeGiven reports whether a given name is whole and like that of hardly any record.
func (w *Weigher) StrangeGiven(n model.Name) bool {
	if n.Given == "" || len(name.Fold(n.Given)) < 2 || name.Uncertain(n.Given) {
		return false
	}
	alike := 0
	for level, men := range w.bareGiven(n).count {
		if level != givenDifferent && level != givenNotShortFor && level != givenUnlike && level != givenOtherSex {
			alike += men
		}
	}
	return float64(alike) <= strangeGiven*float64(w.counts.N)
}

// against is the given name's line, and the middle name as far as that has not dealt with it: of a man's two names, stone and record may give either first.
func (v *givenView) against(f *facts) (*line, middleCode) {
	if !v.given {
		return &noLine, f.middle
	}
	level := v.levels[f.given] % givenRoom
	if v.heed>>(f.middle%letterRoom)&(givenDiffers>>level)&1 != 0 {
		return v.withMiddle(f, level)
	}
	return &v.lines[level], f.middle | bit(level == givenMiddle)*middleSwapped // the stone's middle name is the record's given one
}

// noLine is for what one of the two does not give.
var noLine line

// withMiddle is against where the given names differ, for a record with a middle name that may be the stone's given one.
func (v *givenView) withMiddle(f *facts, level uint8) (*line, middleCode) {
	m := f.middleName()
	if v.letters != "" && m.letter == v.letters[0] && v.firsts[f.given-1] == v.letters[1] {
		return &v.exchanged, middleDealt
	}
	// The man may go by his middle name on the roster's side: that is the record's own matter, not the value's.
	if m.second != "" && m.second == v.folded {
		if v.single {
			return &v.byMiddle, middleDealt
		}
		return &v.byMiddle, f.middle
	}
	if v.begins != 0 && v.begins == m.letter && level != givenOtherInitial {
		return &v.bySecond, middleDealt
	}
	return &v.lines[level], f.middle
}

// given is a given name made ready for comparing.
type given struct {
	name string // folded
	// written is the name with its marks where a letter of it is lost or unclear, else nil.
	written *name.Written
	or      []string     // other names it may be
	roots   []string     // root names it may stand for, in alphabetical order
	men     int          // of the rosters, with the name
	short   float64      // the share of those that are another name than itself
	middle  []string     // whole middle names, folded
	lost    bool         // a letter of name is
	nearly  []string     // patterns of it miscounted: see name.Miscounted
	set     near.Letters // those of a name of plain letters; 0 for another
	sex     name.Sex
	// letters are those that the name, or one that it stands for, may begin with, a bit for each.
	letters uint32
}

// sharesLetters reports whether two given names have so many letters in common that they can be near each other.
func (g *given) sharesLetters(h *given) bool {
	a, b := len(g.name), len(h.name)
	if g.set == 0 || h.set == 0 || a >= usualGiven || b >= usualGiven {
		return true
	}
	return givenAllows()[a][b].within(g.set, h.set)
}

// usualGiven is above the lengths of nearly all given names, for which there is a table.
const usualGiven = 16

// givenAllows is, by their lengths, how many letters of two given names may differ for them to be near each other: one edit, or as Jaro and Winkler have it where they begin with as many letters alike as count.
var givenAllows = sync.OnceValue(func() *[usualGiven][usualGiven]allowed {
	t := new([usualGiven][usualGiven]allowed)
	for a := range t {
		for b := range t {
			x := jaroAllows(a, b, 4, nearGiven)
			for _, edit := range [...]struct{ longer, gone, come int }{{0, 1, 1}, {1, 1, 0}, {-1, 0, 1}} {
				if a-b == edit.longer {
					x = allowed{max(x.gone, edit.gone), max(x.come, edit.come)}
				}
			}
			t[a][b] = x
		}
	}
	return t
})

// isShort reports whether the name is likelier short for another than a whole one.
func (g *given) isShort() bool { return g.short >= 0.5 }

// leastRoot is the least share of a root whose first letter may stand for the name. House judgement.
const leastRoot = 0.1

// newGiven makes a given name ready, with what it may stand for.
func newGiven(n model.Name) given {
	g := given{name: name.Fold(n.Given)}
	for _, o := range n.GivenOr {
		g.or = append(g.or, name.Fold(o))
	}
	g.lost = name.Uncertain(g.name)
	if g.lost {
		g.nearly = name.Miscounted(g.name)
	}
	if len(g.name) > 1 && !g.lost {
		for _, f := range name.Roots(g.name) {
			g.roots = append(g.roots, f.Name)
			if f.Name != g.name {
				g.short += f.P
			}
			if f.P >= leastRoot {
				g.letters |= letterBit(f.Name)
			}
		}
		slices.Sort(g.roots)
		g.roots = slices.Compact(g.roots)
	}
	g.letters |= letterBit(g.name)
	if g.sex = name.SexOf(g.name); name.Unclear(n.Given) {
		g.sex = name.EitherSex
	}
	if strings.Trim(g.name, "abcdefghijklmnopqrstuvwxyz") == "" {
		g.set = near.LettersOf(g.name)
	}
	if g.lost || name.Unclear(n.Given) {
		g.written = name.NewWritten(n.Given)
		if first := firstUnclear(n.Given); first != "" {
			for c := byte('a'); c <= 'z'; c++ {
				if name.Fits(first, string(rune(c))) {
					g.letters |= letterBit(string(rune(c)))
				}
			}
		}
	}
	for _, o := range g.or {
		g.letters |= letterBit(o)
	}
	for _, m := range strings.Fields(n.Middle) {
		if f := name.Fold(m); len(f) > 1 {
			g.middle = append(g.middle, f)
		}
	}
	return g
}

// firstUnclear is a name's first letter with its mark, "" where that letter is clear.
func firstUnclear(written string) string {
	_, n := utf8.DecodeRuneInString(written)
	const mark = "\u0323"
	if strings.HasPrefix(written[n:], mark) {
		n += len(mark)
	}
	if first := written[:n]; name.Unclear(first) {
		return first
	}
	return ""
}

// letterBit is the bit of a folded name's first letter, all bits where that is lost.
func letterBit(folded string) uint32 {
	switch {
	case folded == "":
		return 0
	case folded[0] == '?' || folded[0] == '*':
		return 1<<26 - 1
	case folded[0] >= 'a' && folded[0] <= 'z':
		return 1 << (folded[0] - 'a')
	}
	return 1 << 26 // a letter of another script
}

// level is how two given names agree, g also as prepared. Where the stone's is a short form, that a roster has it written out is the rule and no exception: such names have
// levels of their own.
func (g *given) level(h *given, p *compare.Prepared) uint8 {
	level := g.wholeLevel(h, p)
	if !g.isShort() {
		return level
	}
	switch level {
	case givenSame:
		return givenSameShort
	case givenShortForm:
		if slices.Contains(g.roots, h.name) {
			return givenWrittenOut
		}
		return givenOtherShort
	case givenNear:
		return givenOtherShort
	case givenDifferent:
		return givenNotShortFor
	}
	return level
}

// wholeLevel is how two given names agree, short or not.
func (g *given) wholeLevel(h *given, p *compare.Prepared) uint8 {
	switch {
	case g.name == h.name && len(g.name) > 1:
		return givenSame
	case len(g.name) == 1 || len(h.name) == 1:
		if g.letters&h.letters != 0 {
			return givenInitial
		}
		return givenOtherInitial
	case g.written != nil && g.written.Fits(h.name):
		return givenSame // a lost letter is any, an unclear one what wears like it
	case h.lost && name.Match(h.name, g.name):
		return givenSame
	case g.lost:
		if slices.Contains(g.or, h.name) {
			return givenSame // of an abbreviation, "CH[...]" of CHAS.
		}
		if slices.ContainsFunc(h.roots, func(root string) bool { return name.Match(g.name, root) }) {
			return givenShortForm
		}
		if slices.ContainsFunc(g.nearly, func(p string) bool { return name.Match(p, h.name) }) {
			return givenNear
		}
		return givenDifferent
	case slices.Contains(g.or, h.name) || slices.Contains(h.or, g.name) || g.sharesRoot(h):
		return givenShortForm
	case len(g.name) >= 4 && len(h.name) >= 4 && g.sharesLetters(h) && (p.OSA(h.name) == 1 || p.JaroWinkler(h.name) >= nearGiven):
		return givenNear
	case slices.Contains(g.middle, h.name) || slices.Contains(h.middle, g.name):
		return givenMiddle
	}
	return givenDifferent
}

// otherSex reports whether of two names one is a woman's and the other a man's.
func (g *given) otherSex(h *given) bool {
	return g.sex != name.EitherSex && h.sex != name.EitherSex && g.sex != h.sex
}

// sharesRoot reports whether the two may stand for one name.
func (g *given) sharesRoot(h *given) bool {
	return slices.ContainsFunc(g.roots, func(root string) bool { return slices.Contains(h.roots, root) })
}
