package index

import (
	"math"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/name/near"
)

// A givenForm is one distinct given name of the records.
type givenForm struct {
	forms  []string      // the name, and others that its writing may stand for, folded
	packed []near.Packed // of each, 0 for one that is more than twelve letters, or other signs
	roots  []string
	share  float64 // of all records
	lost   bool    // no letter of it can be read

	initial byte
	misread []string // the roots of names that one on a stone may have been, which is none itself
}

// givenForms reads the distinct given names and counts them.
func givenForms(r *roll) []givenForm {
	forms := make([]givenForm, len(r.givens))
	for i, g := range r.givens {
		forms[i] = newGivenForm(g)
		forms[i].share = (float64(r.ofGiven[i]) + 0.5) / float64(r.men+1)
	}
	return forms
}

func newGivenForm(key string) givenForm {
	f := givenForm{}
	for n := range strings.SplitSeq(key, "|") {
		if n == "" {
			continue
		}
		f.forms = append(f.forms, n)
		packed := near.Pack(n)
		if !packed.Plain() {
			packed = 0
		}
		f.packed = append(f.packed, packed)
		if len(n) > 1 {
			for _, root := range name.Roots(n) {
				f.roots = append(f.roots, root.Name)
			}
		}
	}
	if len(f.forms) > 0 {
		f.initial = firstLetter(f.forms[0])
	}
	f.lost = len(f.forms) == 0 || strings.Trim(f.forms[0], "?*") == ""
	return f
}

// bare reports whether it is an initial alone.
func (f *givenForm) bare() bool { return len(f.forms) == 1 && len(f.forms[0]) == 1 }

// leastMisread is how many letters a given name must have to be known for another one misread: common practice, no source.
const leastMisread = 5

// knownGivens are the given names of the tables that are long enough to be known by though misread.
var knownGivens = sync.OnceValue(func() []givenForm {
	var list []givenForm
	for _, r := range vocab.Rows("given-roots") {
		if f := r.Get("form"); len(f) >= leastMisread {
			list = append(list, newGivenForm(f))
		}
	}
	return list
})

// readAgain finds what a stone's given name may have been that no table has: PRIEDRICH is FRIEDRICH, and so may be Frederick.
func (f *givenForm) readAgain() {
	if len(f.forms) != 1 || len(f.forms[0]) < leastMisread || strings.ContainsAny(f.forms[0], "?*") || name.KnownGiven(f.forms[0]) {
		return
	}
	for i := range knownGivens() {
		if g := &knownGivens()[i]; f.near(0, g, 0) {
			f.misread = append(f.misread, g.roots...)
		}
	}
}

// givenTable is what each given name of the records is worth for a stone's.
func givenTable(r *roll, givens []givenForm, key string) []int16 {
	table := make([]int16, len(givens))
	stone := newGivenForm(key)
	stone.readAgain()
	if len(stone.forms) == 0 {
		return table
	}
	// What agrees by chance: men with the very name, and men whose names share a root or an initial with it.
	level := make([]givenLevel, len(givens))
	var share [givenLevels]float64
	for i := range givens {
		level[i] = stone.compare(&givens[i])
		share[level[i]] += givens[i].share
	}
	// Where the stone has the name and the record an initial, that agrees with so many of the initials.
	initials, agreeing := 0.0, 0.0
	for i := range givens {
		if g := &givens[i]; g.bare() {
			initials += g.share
			if level[i] == givenInitial {
				agreeing += g.share
			}
		}
	}
	of := [givenLevels]float64{givenSame: sameGiven, givenRoot: rootGiven, givenNear: nearGiven, givenInitial: initialGiven}
	for i, l := range level {
		switch {
		case l == givenOther:
			table[i] = otherGiven * 16
		case l == givenSame && len(givens[i].forms) == 1:
			table[i] = sixteenths(math.Log2(of[l] / givens[i].share))
		case l == givenInitial && !stone.bare() && givens[i].bare():
			table[i] = sixteenths(max(0, math.Log2(of[l]*initials/agreeing)))
		case l != givenUnknown:
			table[i] = sixteenths(max(0, math.Log2(of[l]/share[l])))
		}
	}
	return table
}

type givenLevel int

const (
	givenUnknown givenLevel = iota // one of the two is not known
	givenSame
	givenRoot
	givenNear
	givenInitial
	givenOther
	givenLevels
)

// compare is the level at which two given names agree.
func (f *givenForm) compare(g *givenForm) givenLevel {
	if f.lost || g.lost {
		return givenUnknown
	}
	best := givenOther
	for i, a := range f.forms {
		for k, b := range g.forms {
			switch {
			case a == b && len(a) > 1:
				if i == 0 && k == 0 {
					return givenSame
				}
				best = min(best, givenRoot)
			case len(a) == 1 || len(b) == 1:
				if a[0] == b[0] {
					best = min(best, givenInitial)
				}
			case best > givenNear && f.near(i, g, k):
				best = min(best, givenNear)
			}
		}
	}
	if best == givenRoot {
		return best
	}
	for _, root := range f.roots {
		if slices.Contains(g.roots, root) {
			return givenRoot
		}
	}
	if best > givenNear && slices.ContainsFunc(f.misread, func(root string) bool { return slices.Contains(g.roots, root) }) {
		return givenNear
	}
	// An initial may be that of a root: W for Bill.
	if best == givenOther && (initialOf(f.forms, g.roots) || initialOf(g.forms, f.roots)) {
		best = givenInitial
	}
	return best
}

func initialOf(forms, roots []string) bool {
	for _, f := range forms {
		if len(f) == 1 {
			for _, r := range roots {
				if r != "" && r[0] == f[0] {
					return true
				}
			}
		}
	}
	return false
}

// near reports whether two forms of given names are alike but for an edit, or for lost letters.
func (f *givenForm) near(i int, g *givenForm, k int) bool {
	a, b := f.forms[i], g.forms[k]
	edits := 1
	if min(len(a), len(b)) < 4 {
		edits = 0
	} else if min(len(a), len(b)) >= 8 {
		edits = 2
	}
	if edits == 0 && !strings.ContainsAny(a, "?*") && !strings.ContainsAny(b, "?*") {
		return a == b
	}
	if p, q := f.packed[i], g.packed[k]; p != 0 && q != 0 {
		return near.Edits(p, q, len(a), len(b)) <= edits
	}
	return distance(a, b, edits) <= edits
}
