// This file finds units that bear a name which no table knows.

package unit

import (
	"musterstone/model"
	"musterstone/vocab/words"
)

// legions adds a unit that is named by the word before its own: words i and i+1 as "DOBBS LEGION", "PARKERS BATTERY".
func (s *Scanner) legions(dst []Part, i int) []Part {
	t := s.text
	if i+1 >= len(t.Words) || t.Words[i].Has(words.Digits) || t.Len(i) < 3 {
		return dst
	}
	dst = s.commanders(dst, i)
	if t.Words[i].Has(words.LastInLine) {
		return dst
	}
	key, form := t.Key(i), legionForm
	if s.may(i, isCaptain) && s.may(i+2, isCompany) && t.Len(i+1) > 2 &&
		(i+3 >= len(t.Words) || t.Len(i+3) > 1 || t.Key(i+3) > "M" || t.Words[i+3].Has(words.FirstInLine)) { // "CO. B", but "CO. N. Y."
		return append(dst, Part{From: i, To: i + 3, Role: RoleNamed, Form: captainsCompany, NameFrom: i + 1, Score: worth.CaptainsCompany})
	}
	if s.may(i, isColonel) && s.may(i+2, isRegimentWord) && t.Len(i+1) > 2 && !t.Words[i+1].Has(words.Digits) {
		return append(dst, Part{From: i, To: i + 3, Role: RoleKind, Form: colonelsRegiment, NameFrom: i + 1, Score: worth.ColonelsRegiment}) // "COL. REED'S REGT."
	}
	switch {
	case s.may(i+1, isLegion):
	case s.may(i+1, isLegionEnd):
		if !t.Words[i+1].Has(words.LastInLine) {
			return dst
		}
	case s.may(i+1, isNamedBattery):
		if key[len(key)-1] != 'S' || len(key) < 5 || i+2 < len(t.Words) && t.Len(i+2) == 1 && t.Words[i+2].Flags&(words.Digits|words.FirstInLine) == 0 {
			return dst
		}
		form = namedBattery
	default:
		return dst
	}
	if s.may(i, isNoLegion) {
		return dst
	}
	return append(dst, Part{From: i, To: i + 2, Role: RoleNamed, Form: form, NameFrom: i, Score: worth.Legion})
}

// The forms of units that are named by a word that no table knows.
var (
	legionForm       = special(Form{Role: RoleNamed, Kind: model.Legion, Name: "Legion", word: legionWord, Source: "memory-sure"})
	brigadeForm      = special(Form{Role: RoleFiller, Source: "common-practice"})
	corpsForm        = special(Form{Role: RoleFiller, Source: "common-practice"})
	groupForm        = special(Form{Role: RoleFiller, Source: "common-practice"})
	regimentForm     = special(Form{Role: RoleNumber, word: regimentWord, Source: "memory-sure"})
	captainsCompany  = special(Form{Role: RoleNamed, Kind: model.Designated, Name: "Company", word: legionWord, Source: "common-practice"})
	colonelsRegiment = special(Form{Role: RoleKind, Kind: model.Designated, word: legionWord, traits: namedDivision, Source: "common-practice"})
	namedBattery     = special(Form{Role: RoleNamed, Kind: model.Legion, Name: "Battery", word: legionWord, Source: "memory-sure"})
)
