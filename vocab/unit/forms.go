package unit

import (
	"math"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// Role is what a part tells of a unit.
type Role uint8

// The roles. A part of role Filler ("REGT") tells nothing.
const (
	NoRole       Role = iota
	RoleCompany       // "CO F", "BTRY B", "HQ CO"
	RoleNumber        // "31", "31ST REGT"
	RoleState         // "WIS"
	RoleBody          // "U S C T", with its arm
	RoleArm           // "H A"
	RoleKind          // "BN", "BTRY", "DEPOT BRIG"
	RoleNamed         // "COBBS LEGION", "Q M C"
	RoleDivision      // "37 DIV"
	RoleMark          // "VOLS", "COL"
	RoleShip          // "U S S HARROW"
	RoleFiller
)

// Form is one row of the tables: what a form tells.
type Form struct {
	Role   Role
	Body   model.Body
	State  model.State
	Arm    model.Arm
	Kind   model.UnitKind
	Name   string
	Marks  []string
	Source string

	word    wordRole
	weight  float32 // natural logarithm of the share
	single  bool    // letters only, one or two: "L A", "O"
	postal  bool    // a state's two letters as the post office has them since 1963, and no stone before
	apart   bool    // initials, each a word
	several bool    // of several words
	fills   uint16  // the roles that a part fills beside its own
	traits  traits  // and its traits
	tells   uint64  // a hash of what the form tells

	implies Implication
}

// wordRole says which words take a letter or a number with them.
type wordRole uint8

const (
	plainWord   wordRole = iota
	companyWord          // takes a letter
	batteryWord          // takes a letter, and makes it a battery
	regimentWord
	divisionWord  // takes a number before it
	legionWord    // takes a word before it
	shipWord      // takes words after it
	commanderWord // takes the commander's name
)

type lexicon struct {
	forms words.Forms[Form]
	words words.Table[Word]
	// infantry is what "I[---]" may be: of the arms, it alone begins with the letter.
	infantry Form
	// cavalry is what "C[..]" may be right behind a state.
	cavalry Form
}

var theLexicon = sync.OnceValue(buildLexicon)

// buildLexicon loads the tables.
func buildLexicon() *lexicon {
	vocab.Weights("unit-weights", &worth)
	l := &lexicon{}
	seen := map[string]bool{}
	add := func(text string, f Form, share float64) {
		if share == 0 {
			share = 1
		}
		f.weight = float32(math.Log(share))
		key := strings.Join(strings.FieldsFunc(strings.ToUpper(text), notLetter), " ") + "\x00" +
			string(f.Body) + "\x00" + string(f.State) + "\x00" + string(f.Arm) + "\x00" + string(f.Kind) + "\x00" + f.Name + "\x00" + strings.Join(f.Marks, "|") +
			string(rune('0'+f.Role)) + string(rune('0'+f.word))
		if seen[key] {
			return
		}
		seen[key] = true
		letters := 0
		for _, c := range text {
			if !notLetter(c) {
				letters++
			}
		}
		f.single = letters <= 2
		f.several = len(strings.Fields(text)) > 1
		f.apart = letters > 1 && len(strings.Fields(text)) == letters
		f.settle()
		f.imply(text)
		l.forms.Add(text, f)
		if last := len(text); strings.HasPrefix(text, "U S ") && last < 12 && f.Role != RoleMark { // "U S C T", "U S S"
			if f.Role != RoleBody {
				last = len("U S")
			}
			for k := range last {
				for other := byte('A'); other <= 'Z' && text[k] != ' '; other++ {
					if other != text[k] && name.Worn(other, text[k]) >= name.Alike {
						m := f
						m.weight += worth.LetterMisread
						l.forms.Add(text[:k]+string(rune(other))+text[k+1:], m)
					}
				}
			}
		}
	}
	for _, r := range vocab.Rows("unit-forms") {
		f := Form{Body: model.Body(r.Get("body")), State: model.State(r.Get("state")), Arm: model.Arm(r.Get("arm")), Kind: model.UnitKind(r.Get("kind")),
			Name: r.Get("name"), Marks: r.List("mark"), Source: r.Get("source")}
		switch role := r.Get("role"); role {
		case "company":
			f.Role, f.word = RoleCompany, companyWord
		case "company-battery":
			f.Role, f.word = RoleCompany, batteryWord
		case "company-named":
			f.Role = RoleCompany
		case "regiment":
			f.Role, f.word = RoleFiller, regimentWord
		case "kind":
			f.Role = RoleKind
		case "legion":
			f.Role, f.word = RoleNamed, legionWord
		case "division":
			f.Role, f.word = RoleDivision, divisionWord
		case "arm":
			f.Role = RoleArm
			if k := r.Get("kind"); k != "" {
				panic(r.Where() + ": an arm has no kind")
			}
		case "staff":
			f.Role, f.Kind = RoleNamed, model.UnitKind(r.Get("kind"))
		case "body":
			f.Role = RoleBody
		case "state-arm":
			f.Role = RoleState
		case "mark":
			f.Role = RoleMark
		case "filler":
			f.Role = RoleFiller
		case "ship":
			f.Role, f.word = RoleShip, shipWord
		default:
			panic(r.Where() + ": unknown role " + role)
		}
		add(r.Get("form"), f, r.Float("share"))
	}
	for _, r := range vocab.Rows("units-named") {
		add(r.Get("form"), Form{Role: RoleNamed, Kind: model.UnitKind(r.Get("kind")), Name: r.Get("name"), State: model.State(r.Get("state")),
			Arm: model.Arm(r.Get("arm")), Source: r.Get("source")}, 1)
	}
	var troops []vocab.Row // words that make a body of troops of a state's name
	for _, r := range vocab.Rows("unit-forms") {
		if mark := r.Get("mark"); r.Get("role") == "mark" && (mark == "militia" || mark == "line") && !strings.Contains(r.Get("form"), " ") {
			troops = append(troops, r)
		}
	}
	carved := map[string]bool{} // forms of states that stones have
	for _, r := range vocab.Rows("state-forms") {
		if r.Get("kind") == "stone" {
			carved[r.Get("form")] = true
		}
	}
	for _, r := range vocab.Rows("state-forms") {
		if share := r.Get("share"); share != "0" { // how often the form is a state among the words of a unit; empty for always
			form := r.Get("form")
			add(form, Form{Role: RoleState, State: model.State(r.Get("state")), Source: r.Get("source"), postal: len(form) == 2 && r.Get("kind") != "stone" && !carved[form]}, r.Float("share"))
			for _, t := range troops { // "OF THE CONN. MILITIA"
				if share != "" && r.Float("share") < 0.3 {
					break // "CO. LINE ROAD"
				}
				add(r.Get("form")+" "+t.Get("form"), Form{Role: RoleState, State: model.State(r.Get("state")), Marks: t.List("mark"), Source: r.Get("source")}, r.Float("share"))
			}
		}
	}
	l.infantry = Form{Role: RoleArm, Arm: "infantry", single: true, Source: "common-practice"}
	l.cavalry = Form{Role: RoleArm, Arm: "cavalry", single: true, Source: "common-practice"}
	l.infantry.settle()
	l.forms.Seal(func(word string, at int32) { l.words.At(word).forms = at })
	l.loadSmall()
	return l
}

func notLetter(r rune) bool {
	return !(r >= 'A' && r <= 'Z' || r >= 'a' && r <= 'z' || r >= '0' && r <= '9')
}
