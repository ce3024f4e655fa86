package weigh

import (
	mathbits "math/bits"
	"slices"

	"musterstone/link/compare"
	"musterstone/vocab/name"
)

// nearSurname is the Jaro-Winkler similarity from which two surnames count as near: common practice, no source.
const nearSurname = 0.92

// longSurname is how many letters a surname must have for another, two letters off, still to be like it: common practice, no source.
const longSurname = 6

// wornCost is the most that the changed letters of a name may cost for it to count as the same name worn: see compare.WornDistance.
const wornCost = 0.75

// surnameView is a stone's surname with the level at which the surnames of the rosters agree with it.
type surnameView struct {
	written string
	folded  string
	same    int           // men of exactly this name
	levels  []surnameLine // the last is noSurname
	told    surnameLine   // a name that no row has and that is told of a man beside his own, where it is the stone's: see uncounted
	at      numberTable   // for the number of a surname of the rosters, which of levels: the last where there is none; 0, the lowest, where it is not there
}

// surnameLine is a level of the surname.
type surnameLine struct {
	number  uint8 // among the levels of its view
	name    string
	u       float64 // share of the roster's men whose surname agrees at it
	oneName bool    // the two can be one name
	borne   bool    // some man's surname agrees at it
	line    line
	// What it is worth that kin enlist together, and the share of men of such a surname among whom kin stand out, by how nearly the two may be kin: nothing where they are not
	// of one name.
	kin   [kinRoom]line
	share [kinRoom]float64
}

// OneName reports whether a level of the field surname says that the two can be one name.
func OneName(level string) bool {
	switch level {
	case "same", "spelling", "worn", "near", "fits":
		return true
	}
	return false
}

// noSurname are the levels of a stone without one; the last of any stone's is for records without one.
var noSurname = []surnameLine{{}}

// surnameLevels is the most levels that there can be.
const surnameLevels = 8

// surnameView sets the surname beside those of the rosters, once a name.
func (w *Weigher) surnameView(surname string) *surnameView {
	if surname == "" {
		return &surnameView{levels: noSurname}
	}
	if v, ok := w.surnames.Load(surname); ok {
		return v.(*surnameView)
	}
	v, _ := w.surnames.LoadOrStore(surname, w.compareSurname(surname))
	return v.(*surnameView)
}

// compareSurname finds the surnames of the rosters that are like one, and works out what each level is worth.
func (w *Weigher) compareSurname(surname string) *surnameView {
	v := &surnameView{written: surname, folded: name.Fold(surname)}
	names := []string{"different", "same", "spelling", "worn", "near", "two letters", "sound", translated}
	uncertain := name.Uncertain(surname)
	if uncertain {
		names = []string{"does not fit", "fits", "nearly fits"}
	}
	place := func(level string) uint8 { return uint8(slices.Index(names, level)) } // few
	for i, level := range names {
		v.levels = append(v.levels, surnameLine{number: uint8(i), name: level, oneName: OneName(level)})
	}
	speller := w.speller()
	numbers, levels := make([]int32, 0, 256), make([]uint8, 0, 256)
	take := func(number int32, level string) {
		numbers, levels = append(numbers, number), append(levels, place(level))
	}
	if uncertain {
		written, unclear := name.NewWritten(surname), name.Unclear(surname)
		speller.fitting(v.folded, func(number int32, level string) {
			if unclear && level == "nearly fits" && written.Fits(speller.spellings[number].name) {
				level = "fits" // an unclear letter is whatever wears like it
			}
			take(number, level)
		})
	} else {
		speller.like(v.folded, take)
		w.renderings(v.folded, &numbers, &levels, place)
	}
	v.at = newNumberTable(append(numbers, missing), append(levels, uint8(len(names))))
	n := make([]int, len(names))
	men := w.surnameMen()
	for i, number := range numbers {
		n[levels[i]] += men[number]
	}
	rest := 1.0
	for i := 1; i < len(names); i++ {
		share := 0.0
		if i == 1 {
			share = name.SurnameShare(v.folded)
		}
		v.levels[i].borne = n[i] > 0
		if names[i] == translated {
			for _, r := range name.Renderings(v.folded) {
				if r.Translated {
					share += name.SurnameShare(r.Name)
				}
			}
		}
		v.levels[i].u = chance("surname", names[i], share, float64(n[i]), float64(w.counts.N))
		rest -= v.levels[i].u
	}
	v.levels[0].u = max(rest, w.counts.share(0))
	for i := range v.levels {
		l := &v.levels[i]
		m := start("surname", l.name).m
		if l.name == translated {
			// Those who gave up one name for the other are a share of the men of the rarer of the two, so that the commoner tells what it is worth.
			l.u = max(l.u, v.levels[1].u)
			if n[1] == 0 {
				m = start(unlistedSurname, translated).m
			}
		}
		l.line = lineOf("surname", l.name, m, l.u)
		if l.oneName {
			l.kin[kinOfCompany] = line{w.fixed.kin, bits(l.u, l.u+w.fixed.kinExcess)}
			l.share[kinOfRegiment], l.share[kinOfCompany] = l.u, l.u
		}
	}
	v.told = v.levels[1]
	if n[1] == 0 { // it is that man's, and no rarer than the name of one
		v.told.u = chance("surname", names[1], name.SurnameShare(v.folded), 1, float64(w.counts.N))
		v.told.line = lineOf("surname", names[1], start("surname", names[1]).m, v.told.u)
	}
	v.levels = append(v.levels, noSurname...)
	v.same = w.counts.surnames.n[v.folded]
	return v
}

// SurnameLevels are the levels at which the surname of some man of the rosters agrees with the stone's.
func (v *Stone) SurnameLevels() []string {
	var out []string
	for i, l := range v.surname.levels {
		if l.name != "" && (i == 0 || l.borne) {
			out = append(out, l.name)
		}
	}
	return out
}

// The level of surnames of which one was translated into the other (Fuchs, Fox).
const translated = "translated"

// unlistedSurname is the field of the levels of a surname that no record bears.
const unlistedSurname = "unlisted surname"

// renderings puts the names that the surname was known to be rendered by (Schmidt for Smith) among those of one spelling, and those of which one was translated (Fuchs for Fox) at a level of their own.
func (w *Weigher) renderings(folded string, numbers *[]int32, levels *[]uint8, place func(level string) uint8) {
	for _, r := range name.Renderings(folded) {
		n, ok := w.numbers().surnames[r.Name]
		if !ok {
			continue
		}
		level := place("spelling")
		if r.Translated {
			level = place(translated)
		}
		at := slices.Index(*numbers, n)
		switch {
		case at < 0:
			*numbers, *levels = append(*numbers, n), append(*levels, level)
		case (*levels)[at] == place("sound"), r.Translated && (*levels)[at] == place("two letters"):
			(*levels)[at] = level
		}
	}
}

// against is the level at which the surname of that number, or missing, or strange, agrees.
func (v *surnameView) against(number int32) *surnameLine { return &v.levels[v.at.get(number)] }

// uncounted is the level at which a surname agrees that no row of the rosters has, and that is told of a man beside his own: it can be the very one on the stone.
func (v *surnameView) uncounted(folded string) *surnameLine {
	if v.folded == folded || name.Uncertain(v.folded) && name.Match(v.folded, folded) {
		return &v.told
	}
	return v.against(strange)
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

// surnameLevel is the level at which two folded surnames agree, a also as prepared; "" where they differ.
func surnameLevel(a, b *spelling, p *compare.Prepared) string {
	if len(a.name) == len(b.name) && a.letters == b.letters && a.name == b.name {
		return "same"
	}
	if sharesLetters(a, b) {
		return nearLevel(a, b, p, p.OSA(b.name), true)
	}
	return soundLevel(a, b)
}

// sharesLetters reports whether two surnames can be near each other: one that is four letters longer, or has three that the other lacks, counts as near by no measure.
func sharesLetters(a, b *spelling) bool {
	d := len(a.name) - len(b.name)
	return d >= -3 && d <= 3 && mathbits.OnesCount32(a.letters&^b.letters) <= 2 && mathbits.OnesCount32(b.letters&^a.letters) <= 2
}

// nearLevel is surnameLevel of two names that are so many edits apart, any number above two standing for more; jaro says whether they can be near by the measure of Jaro and Winkler.
func nearLevel(a, b *spelling, p *compare.Prepared, off int, jaro bool) string {
	alike := a.sound == b.sound && a.sound > 0
	switch {
	case len(a.name) >= 4 && off == 1, jaro && p.JaroWinkler(b.name) >= nearSurname:
		if alike {
			return "spelling"
		}
		if wornAlike(a.name, b.name) {
			return "worn"
		}
		return "near"
	case off <= 2 && wornAlike(a.name, b.name):
		return "worn"
	case !alike && off == 2 && min(len(a.name), len(b.name)) >= longSurname:
		return "two letters"
	}
	return soundLevel(a, b)
}

func soundLevel(a, b *spelling) string {
	if a.sound == b.sound && a.sound > 0 {
		return "sound"
	}
	return ""
}

// wornAlike reports whether two names of one length differ in one or two letters that wear alike when carved. A letter taken out and one put in cost more than that may:
// what counts is the letters that stand in one place.
func wornAlike(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	differ, cost := 0, 0.0
	for i := range len(a) {
		if a[i] == b[i] {
			continue
		}
		if differ++; differ > 2 {
			return false
		}
		if a[i] >= 0x80 || b[i] >= 0x80 {
			return compare.WornDistance(a, b, name.Worn) <= wornCost
		}
		cost += 1 - name.Worn(a[i], b[i])
	}
	return cost <= wornCost
}

// numberTable finds values below 16 by numbers, missing among them: a table of open addresses.
type numberTable struct {
	slots []uint32 // the value, and above it the number above strange, so that an empty slot is that of the strange
	shift uint8
}

const slotValue = 4 // bits of a value

const _ = uint(1<<slotValue - 1 - surnameLevels) // every level and that of missing are values

// newNumberTable keeps the tables small, since there is one for each surname on the stones: where letters are lost thousands of names fit.
func newNumberTable(numbers []int32, values []uint8) numberTable {
	bits := max(2, mathbits.Len(uint(2*len(numbers))))
	t := numberTable{slots: make([]uint32, 1<<bits), shift: uint8(32 - bits)}
	for i, n := range numbers {
		k := t.home(n)
		for t.slots[k] != 0 {
			k = (k + 1) & (len(t.slots) - 1)
		}
		t.slots[k] = uint32(n-strange)<<slotValue | uint32(values[i])
	}
	return t
}

func (t *numberTable) home(n int32) int { return int(uint32(n) * 0x9e3779b1 >> (t.shift & 31)) }

// get is 0 for a number that has no value.
func (t *numberTable) get(n int32) uint8 {
	key := uint32(n-strange) << slotValue
	for k := t.home(n); k < len(t.slots); k = (k + 1) & (len(t.slots) - 1) {
		// The value where the key is the number's, and where there is none, which has the value 0: one branch, nearly always the same.
		if s := t.slots[k]; uint64(s)*uint64((s^key)>>slotValue) == 0 {
			return uint8(s & (1<<slotValue - 1))
		}
	}
	return 0
}
