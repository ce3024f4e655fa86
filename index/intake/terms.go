package intake

import (
	"strings"
	"sync"
)

// Kind says what the rows of a table are.
type Kind string

// The kinds of table. A burial register is a table of stones that holds what someone has already read instead of an inscription.
const (
	Stones   Kind = "stones"
	Register Kind = "register"
	Roster   Kind = "roster"
)

// holdsRecords reports whether the rows are service records; else they are stones.
func (k Kind) holdsRecords() bool { return k == Roster }

// term is a meaning that a column can have.
type term uint8

const (
	noTerm term = iota
	tID
	tCemetery
	tCounty
	tPlaceState
	tSection
	tRow
	tPlot
	tLatitude
	tLongitude
	tInscription
	tTop
	tMaterial
	tWidth
	tThickness
	tHeight
	tLength
	tLettering
	tDevice
	tEmblem
	tMotifs
	tSetting
	tCondition
	tPhoto
	tRecorder
	tRecorded
	tNotes
	tSurname
	tGiven
	tSuffix
	tName
	tRank
	tRankOut
	tCompany
	tRegiment
	tUnit
	tArm
	tUnitState
	tBranch
	tSide
	tConflict
	tBorn
	tDied
	tAge
	tRelation
	tEnlisted
	tMusteredIn
	tMusteredOut
	tBirthplace
	tResidence
	tDeathPlace
	tBuried
	tRemarks
	termCount
)

// Who uses a term.
const (
	onStones = 1 << iota
	onRecords
	onBoth = onStones | onRecords
)

// termNames gives each term its default column name, which is the local name of its property too, and the tables it serves. A name may
// stand twice where it means one thing on stones and another on rosters; the first row of a term is its proper name.
var termNames = []struct {
	term term
	name string
	on   int
}{
	{tID, "id", onBoth},
	{tCemetery, "cemetery", onStones},
	{tCounty, "county", onStones},
	{tPlaceState, "state", onStones},
	{tSection, "section", onStones},
	{tRow, "row", onStones},
	{tPlot, "plot", onStones},
	{tLatitude, "latitude", onStones},
	{tLongitude, "longitude", onStones},
	{tInscription, "inscription", onStones},
	{tTop, "top", onStones},
	{tMaterial, "material", onStones},
	{tWidth, "width_in", onStones},
	{tThickness, "thickness_in", onStones},
	{tHeight, "height_in", onStones},
	{tLength, "length_in", onStones},
	{tLettering, "lettering", onStones},
	{tDevice, "device", onStones},
	{tEmblem, "emblem", onStones},
	{tMotifs, "motifs", onStones},
	{tSetting, "setting", onStones},
	{tCondition, "condition", onStones},
	{tPhoto, "photo", onStones},
	{tRecorder, "recorder", onStones},
	{tRecorded, "recorded", onStones},
	{tNotes, "notes", onStones},
	{tSurname, "surname", onBoth},
	{tGiven, "given", onBoth},
	{tSuffix, "suffix", onBoth},
	{tName, "name", onBoth},
	{tRank, "rank_in", onRecords},
	{tRank, "rank", onBoth},
	{tRankOut, "rank_out", onRecords},
	{tCompany, "company", onBoth},
	{tRegiment, "regiment", onBoth},
	{tUnit, "unit", onBoth},
	{tArm, "arm", onBoth},
	{tUnitState, "state", onRecords},
	{tUnitState, "body", onBoth},
	{tUnitState, "unit_state", onBoth},
	{tBranch, "branch", onBoth},
	{tSide, "side", onBoth},
	{tConflict, "conflict", onBoth},
	{tBorn, "born", onBoth},
	{tDied, "died", onBoth},
	{tAge, "age", onBoth},
	{tRelation, "relation", onStones},
	{tEnlisted, "enlisted", onRecords},
	{tMusteredIn, "mustered_in", onRecords},
	{tMusteredOut, "mustered_out", onRecords},
	{tBirthplace, "birthplace", onRecords},
	{tResidence, "residence", onRecords},
	{tDeathPlace, "death_place", onRecords},
	{tBuried, "buried", onRecords},
	{tRemarks, "remarks", onBoth},
}

// plainName is a column name without what hands vary in: letter case, blanks, line breaks, hyphens, underscores, points, apostrophes, signs
// for and, number and at, and the unit of measure in brackets.
func plainName(s string) string {
	if i := strings.IndexByte(s, '('); i > 0 {
		s = s[:i]
	}
	var b strings.Builder
	for _, r := range strings.ToLower(s) {
		switch r {
		case ' ', '-', '_', '.', '\t', '\n', '\u00a0', '\ufeff', ':', '’', '\'':
		case '&':
			b.WriteString("and")
		case '#', '№':
			b.WriteString("no")
		case '@':
			b.WriteString("at")
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

// termKey is a plain name in a kind of table.
type termKey struct {
	name    string
	records bool
}

var termsByName = sync.OnceValue(func() map[termKey]term {
	m := map[termKey]term{}
	add := func(name string, on int, t term) {
		for _, records := range []bool{false, true} {
			if records && on&onRecords != 0 || !records && on&onStones != 0 {
				if _, ok := m[termKey{name, records}]; !ok {
					m[termKey{name, records}] = t
				}
			}
		}
	}
	for _, n := range termNames {
		add(plainName(n.name), n.on, n.term)
		if short, ok := strings.CutSuffix(n.name, "_in"); ok && n.on == onStones {
			add(short, n.on, n.term) // "width" is in inches unless its cells say otherwise
		}
	}
	return m
})

// termNamed finds the term of a default column name, or of a local name of our vocabulary, in any spelling; noTerm where there is none.
func termNamed(name string, records bool) term {
	return termsByName()[termKey{plainName(name), records}]
}

// termName is the term's own name.
func termName(t term) string {
	for _, n := range termNames {
		if n.term == t {
			return n.name
		}
	}
	return ""
}

// Meanings are the names of what columns may mean, of rosters or else of stones and registers: each is written after "ms:" in a propertyUrl.
func Meanings(records bool) []string { return namesFor(records) }

// namesFor lists the default column names of a kind of table, in the order in which they are documented.
func namesFor(records bool) []string {
	var names []string
	for _, n := range termNames {
		if records && n.on&onRecords != 0 || !records && n.on&onStones != 0 {
			names = append(names, n.name)
		}
	}
	return names
}
