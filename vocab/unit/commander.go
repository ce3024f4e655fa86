package unit

import (
	"strings"

	"musterstone/model"
	"musterstone/vocab/words"
)

// The forms of units that bear their commander's name.
var (
	commandersBattalion = special(Form{Role: RoleNamed, Kind: model.Battalion, word: commanderWord, Source: "common-practice"})
	commandersUnit      = special(Form{Role: RoleNamed, Kind: model.Designated, word: commanderWord, traits: commanded, Source: "common-practice"})
	commandersBattery   = special(Form{Role: RoleNamed, Kind: model.Legion, Name: "Battery", word: commanderWord, Source: "common-practice"})
)

// commanders adds a unit that bears its commander's name, from word i: "BRACKETT'S BATTN.", "LT. COL. BALDWIN'S ARTIFICERS", "MC CULLOCH'S MO. CAV.". A name
// with its apostrophe is surely possessive; one without only before BATTALION.
func (s *Scanner) commanders(dst []Part, i int) []Part {
	t := s.text
	k := i
	for k < len(t.Words) && k < i+2 && s.may(k, isCommander) {
		k++
	}
	titled := k > i
	last := k // the possessive word
	for titled && last < len(t.Words) && last < k+2 && !owns(t, last) {
		last++ // "CAPT. OLE C. JOHNSON'S CO."
	}
	if last+1 >= len(t.Words) || t.Words[last].Flags&(words.Digits|words.Note) != 0 || t.Len(last) < 4 {
		return dst
	}
	sure := owns(t, last)
	if !sure && (titled || t.Len(last) < 5 || t.Key(last)[t.Len(last)-1] != 'S' || t.Words[last].Has(words.LastInLine)) {
		return dst
	}
	next := last + 1
	p := Part{From: i, To: next + 1, Role: RoleNamed, Form: commandersUnit, NameFrom: k, Score: worth.Commanders}
	switch {
	case sure && s.battery(next) > next:
		p.Form, p.To = commandersBattery, s.battery(next) // "HARLAN'S / INDPT. BTRY. / MO. L. A."
	case t.Words[i].Has(words.LastInLine):
		return dst
	case s.may(next, isBattalion):
		p.Form = commandersBattalion
		if !sure {
			p.Score = worth.CommandersBare
		}
	case !sure:
		return dst
	case s.may(next, isCompany):
		if last == k || !titled || next+1 < len(t.Words) && t.Len(next+1) == 1 && t.Key(next+1) <= "M" && !t.Words[next+1].Has(words.FirstInLine) {
			return dst // Legions has "CAPT. HALL'S CO."
		}
		p.Form = captainsCompany
	case s.may(next, isCommand):
	case s.stateAndArm(next) && (titled || t.Words[next].Line == t.Words[i].Line && !(s.may(i-1, isCommander) && !t.Words[i].Has(words.FirstInLine))):
		p.To, p.Score = next, worth.CommandersCommand // "MC CULLOCH'S MO. CAV.", "CAPT. BELL'S / ILL. MIL.": its state and arm are parts of their own
		if s.may(i, isCaptain) {
			p.Form = captainsCompany
		}
	case s.may(next, isRegimentWord) && s.stateAndArm(next+1) && t.Words[next].Line == t.Words[last].Line:
		p.Score = worth.CommandersCommand // "HARLAN'S REGT. MO. CAV."
	default:
		return dst
	}
	return append(dst, p)
}

// battery is the word after the word for a battery that stands at word i, or behind INDPT. there, where no company's letter follows it, or i: "INDPT. BTRY. / MO. L. A.", and "BAT." where artillery follows,
// which else is as often a battalion.
func (s *Scanner) battery(i int) int {
	at := i
	if s.may(at, isIndependent) {
		at++
	}
	switch {
	case s.may(at, isNamedBattery):
		if at+1 < len(s.text.Words) && s.text.Len(at+1) == 1 && s.text.Words[at+1].Flags&(words.Digits|words.FirstInLine) == 0 && !s.artillery(at+1) {
			return i // "BATTERY B"
		}
	case s.may(at, isBatteryOrBattalion):
		if !s.artillery(at + 1) {
			return i
		}
	default:
		return i
	}
	return at + 1
}

// artillery reports whether an arm of the artillery stands at word i, with or without a state before it.
func (s *Scanner) artillery(i int) bool {
	if i >= len(s.text.Words) {
		return false
	}
	for _, at := range []int{i, s.state(i)} {
		if at >= len(s.text.Words) {
			continue
		}
		for _, h := range s.lex.forms.Find(nil, s.text, at, s.known[at].forms) {
			if f := s.lex.forms.Value(&h); f.Role == RoleArm && h.Guessed == 0 && strings.HasSuffix(string(f.Arm), "artillery") {
				return true
			}
		}
	}
	return false
}

// owns reports whether word i is written as a possessive, with its apostrophe.
func owns(t *words.Text, i int) bool {
	w := &t.Words[i]
	key := t.Key(i)
	if w.Has(words.Digits) || len(key) < 4 || key[len(key)-1] != 'S' {
		return false
	}
	written := t.Raw[w.From:w.To]
	if n := len(written); n > 2 && (strings.HasSuffix(written[:n-1], "'") || strings.HasSuffix(written[:n-1], "’")) {
		return true
	}
	rest := t.Raw[w.To:]
	return strings.HasSuffix(written, "'") || strings.HasSuffix(written, "’") || strings.HasPrefix(rest, "'") || strings.HasPrefix(rest, "’")
}

// stateAndArm reports whether a state and an arm or its troops stand at word i: "MO. CAV.", "ILL. MIL.", "O. V. CAV.".
func (s *Scanner) stateAndArm(i int) bool {
	if i+1 >= len(s.text.Words) {
		return false
	}
	for _, h := range s.lex.forms.Find(nil, s.text, i, s.known[i].forms) {
		if f := s.lex.forms.Value(&h); f.Role == RoleState && f.Arm == "" && s.may(int(h.To), isArmWord) {
			return true
		}
	}
	return false
}

// state is the word after the state's form at word i, or i where none stands there.
func (s *Scanner) state(i int) int {
	to := i
	for _, h := range s.lex.forms.Find(nil, s.text, i, s.known[i].forms) {
		if f := s.lex.forms.Value(&h); f.Role == RoleState && f.Arm == "" {
			to = max(to, int(h.To))
		}
	}
	return to
}

// ownerEnd is the word after the commander's name in a part that names his company: the word COMPANY, or the end.
func ownerEnd(t *words.Text, p *Part) int {
	if is(t, p.To-1, isCompany) {
		return p.To - 1
	}
	return p.To
}

// commanderName is the name of a unit that bears its commander's.
func commanderName(t *words.Text, p *Part) string {
	to := p.To - 1
	noun := ""
	switch {
	case p.Form == commandersBattalion:
		noun = "Battalion"
	case p.Form == commandersBattery:
		noun = "Battery"
		if to > p.NameFrom+1 && is(t, to-1, isIndependent) {
			to--
		}
	case is(t, to, isRegimentWord):
		noun = "Command"
	case is(t, to, isCommand):
		noun = Title(t, to, p.To)
	default:
		to, noun = p.To, "Command"
	}
	name := Title(t, p.NameFrom, to)
	w := &t.Words[to-1]
	if strings.HasPrefix(t.Raw[w.To:], "'") || strings.HasPrefix(t.Raw[w.To:], "’") || strings.HasSuffix(t.Span(to-1, to), "'") || strings.HasSuffix(t.Span(to-1, to), "’") {
		return name + "' " + noun // "JENKINS' BN."
	}
	return possessive(name) + " " + noun
}
