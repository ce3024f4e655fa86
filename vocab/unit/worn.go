package unit

import (
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/words"
)

// wornForm stands for a word behind a regiment's number of which too little is left to tell its state or its arm.
var wornForm = special(Form{Role: RoleFiller, Source: "common-practice"})

// wornStates are the states' forms in order, and the part that stands for what is left of one.
var wornStates = sync.OnceValue(func() *struct {
	forms  []wornState
	parts  map[model.State]*Form
	behind map[model.State]*Form // with the number lost before it
} {
	t := &struct {
		forms  []wornState
		parts  map[model.State]*Form
		behind map[model.State]*Form
	}{parts: map[model.State]*Form{}, behind: map[model.State]*Form{}}
	for _, r := range vocab.Rows("state-forms") {
		state := model.State(r.Get("state"))
		if r.Get("share") == "0" || r.Get("home") == "weak" || r.Get("kind") == "territory" || strings.Contains(r.Get("form"), "TERRITORY") {
			continue
		}
		t.forms = append(t.forms, wornState{words.Letters(r.Get("form")), state})
		if t.parts[state] == nil {
			t.parts[state] = special(Form{Role: RoleState, State: state, traits: wornRest, Source: r.Get("source")})
			t.behind[state] = special(Form{Role: RoleState, State: state, fills: 1 << RoleNumber, Source: r.Get("source")})
		}
	}
	return t
})

type wornState struct {
	form  string
	state model.State
}

// worn adds what a damaged word right behind a regiment's number may be: "115 IND[......]" has the state's beginning, and its end and the arm are in the gap; of "10TH [---]" the number stands alone.
func (s *Scanner) worn(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	if i == 0 || w.Flags&(words.Lost|words.FirstInLine|words.Note) != words.Lost || t.Words[i-1].Num < 1 || t.Words[i-1].Num > 400 {
		return dst
	}
	key := t.Key(i)
	left := statesLeft(key, w.Has(words.LastInLine))
	for _, state := range left {
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleState, Form: wornStates().parts[state], Score: worth.StateWorn - float32(len(left)-1)})
	}
	if w.Has(words.LastInLine) && (strings.IndexByte(key, '*') >= 0 || strings.Contains(key, "??")) {
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleFiller, Form: wornForm, Score: worth.RestWorn})
	}
	return dst
}

// statesLeft are the states, two at most, of which a damaged word can be what is left: but for one or two letters a form fits, or, at a line's end, one begins with those before a longer gap.
func statesLeft(key string, ends bool) (left []model.State) {
	gap := strings.IndexAny(key, "?*")
	open := strings.IndexByte(key, '*') >= 0 || gap >= 2 && strings.Trim(key[gap:], "?") == "" && len(key) > 4
	if open && (!ends || gap < 2 || strings.Trim(key[gap:], "?*") != "") || !open && strings.Count(key, "?") > 2 || strings.Trim(key, "?*") == "" {
		return nil
	}
	for _, f := range wornStates().forms {
		fits := len(f.form) == len(key)
		if open {
			fits = strings.HasPrefix(f.form, key[:gap])
		} else {
			for k := 0; fits && k < len(key); k++ {
				fits = key[k] == '?' || key[k] == f.form[k]
			}
		}
		if fits && !slices.Contains(left, f.state) {
			left = append(left, f.state)
		}
	}
	if len(left) > 2 {
		return nil
	}
	return left
}

// numberLeft is what is left of a number whose end is lost in a gap with more than it, for no regiment's number has more than three figures: "12*" of "12[.....] INF."; "" for anything else.
func numberLeft(key string) string {
	digits := 0
	for digits < len(key) && key[digits] >= '0' && key[digits] <= '9' {
		digits++
	}
	if len(key) < 4 || digits == 0 || digits > 2 || key[0] == '0' || strings.Trim(key[digits:], "?") != "" {
		return ""
	}
	return key[:digits] + "*"
}

// behindCompany reports whether CO. and a letter stand before word i on its line: "CO. C 13[---]".
func (s *Scanner) behindCompany(i int) bool {
	t := s.text
	return i > 1 && s.may(i-2, isCompany) && t.Len(i-1) == 1 && !t.Words[i].Has(words.FirstInLine) && !t.Words[i-1].Has(words.FirstInLine) && t.Words[i].Has(words.Digits)
}

// companyLine adds, of a line that begins with C at word i, a line between the name and the regiment's number that can only be the company's: "C. G", of which the O was not cut or not seen, "C[---]", of which the letter is lost, and "[....]B", of which it alone is left.
func (s *Scanner) companyLine(dst []Part, i int) []Part {
	t := s.text
	key, to := t.Key(i), i+1
	p := Part{From: i, Role: RoleCompany, Letter: '?', Score: worth.CompanyLine}
	switch {
	case t.Words[i].Has(words.LastInLine | words.Lost):
		if last := key[len(key)-1]; last >= 'A' && last <= 'M' && (len(key) > 3 || key[0] == '*') && strings.Trim(key[:len(key)-1], "?*") == "" {
			p.Letter = last // "[....]B"
		} else if rest := strings.TrimPrefix(key[1:], "O"); key[0] != 'C' || rest == "" || strings.Trim(rest, "?*") != "" {
			return dst
		}
	case len(key) == 1 && to < len(t.Words) && t.Words[to].Has(words.LastInLine) && t.Len(to) == 1 && t.Key(to)[0] >= 'A' && t.Key(to)[0] <= 'M':
		p.Letter = t.Key(to)[0]
		to++
	default:
		return dst
	}
	if to >= len(t.Words) || t.Words[to].Has(words.LastInLine) && !t.Words[to].Has(words.Lost) || t.Words[to].Num > 400 || t.Words[to].Num < 1 && !t.Words[to].Has(words.Lost) {
		return dst
	}
	if t.Words[to].Num < 1 && key[0] == 'C' && len(key) > 1 {
		return dst // two damaged lines in one another
	}
	p.To = to
	return append(dst, p)
}

// longestAbbreviation is how many letters the abbreviation of a state has at most whose end alone is taken for it.
const longestAbbreviation = 5

// stateBehindGap adds the state that stands at the end of a line's first word whose beginning, the regiment's number with it, is lost: "[....]WIS".
func (s *Scanner) stateBehindGap(dst []Part, i int) []Part {
	t := s.text
	key := t.Key(i)
	rest := strings.TrimLeft(key, "?*")
	if !t.Words[i].Has(words.FirstInLine) || len(rest) < 2 || len(key)-len(rest) < 2 && key[0] != '*' || strings.ContainsAny(rest, "?*") || t.Words[i].Has(words.LastInLine) {
		return dst
	}
	state, whole := model.State(""), false
	for _, f := range wornStates().forms {
		switch {
		case f.form == rest && len(rest) > 2:
			state, whole = f.state, true
		case whole || len(f.form) > longestAbbreviation || !strings.HasSuffix(f.form, rest):
		case state != "" && state != f.state:
			return dst
		default:
			state = f.state // "[....]LLS"
		}
	}
	if state == "" {
		return dst
	}
	return append(dst, Part{From: i, To: i + 1, Role: RoleState, Form: wornStates().behind[state], Score: worth.StateBehindGap})
}
