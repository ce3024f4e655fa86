package unit

import (
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// wornForm stands for a word behind a regiment's number of which too little is left to tell its state or its arm.
var wornForm = special(Form{Role: RoleFiller, Source: "common-practice"})

// wornNumber stands for a number at the end of its line, with all that stood behind it lost.
var wornNumber = special(Form{Role: RoleNumber, traits: wornRest, Source: "common-practice"})

// wornStates are the states' forms in order, and the part that stands for what is left of one.
var wornStates = sync.OnceValue(func() *wornStateTable {
	t := &wornStateTable{parts: map[model.State]*Form{}, behind: map[model.State]*Form{}, armed: map[[2]string]*Form{}}
	for _, r := range vocab.Rows("state-forms") {
		state := model.State(r.Get("state"))
		if r.Get("share") == "0" || r.Get("home") == "weak" || r.Get("kind") == "territory" || strings.Contains(r.Get("form"), "TERRITORY") {
			continue
		}
		t.forms = append(t.forms, wornState{words.Letters(r.Get("form")), state, strings.ContainsAny(r.Get("form"), " ."), r.Get("kind") == "postal"})
		if t.parts[state] == nil {
			t.parts[state] = special(Form{Role: RoleState, State: state, traits: wornRest, Source: r.Get("source")})
			for _, arm := range [...]model.Arm{"infantry", "cavalry", "artillery"} {
				t.armed[[2]string{string(state), string(arm)}] = special(Form{Role: RoleState, State: state, Arm: arm, Source: r.Get("source")})
			}
			t.behind[state] = special(Form{Role: RoleState, State: state, fills: 1 << RoleNumber, Source: r.Get("source")})
		}
	}
	return t
})

type wornStateTable struct {
	forms  []wornState
	parts  map[model.State]*Form
	behind map[model.State]*Form // with the number lost before it
	armed  map[[2]string]*Form   // with an arm behind it
}

type wornState struct {
	form  string
	state model.State
	words bool // several words
	post  bool // of two letters, as only the post office has it
}

// wornBefore stands for a word, at the beginning of a line or behind the company, of which so much is lost that neither number nor state can be told: "[......] INF.", "CO. [---]H IND. INF.".
var wornBefore = special(Form{Role: RoleFiller, Source: "common-practice"})

// wornArm is an arm or a battery as it is abbreviated, in one word, with the parts that stand for it where its beginning is lost.
type wornArm struct {
	form string
	what string // the arm, or the kind
	// bare is the arm, or the kind; alone with the number lost before it; number a number with it; company a company's letter with number and arm behind it.
	bare, alone, number, company *Form
}

// leastArm is how few letters an arm's abbreviation has.
const leastArm = 3

// wornArms are the arms of the civil war as they are abbreviated in one word.
var wornArms = sync.OnceValue(func() (all []wornArm) {
	for _, r := range vocab.Rows("unit-forms") {
		f := Form{Arm: model.Arm(r.Get("arm")), Kind: model.UnitKind(r.Get("kind")), Source: r.Get("source")}
		role, form := r.Get("role"), words.Letters(r.Get("form"))
		switch {
		case form != r.Get("form") || len(form) < leastArm:
			continue
		case role == "arm" && (f.Arm == "infantry" || f.Arm == "cavalry" || f.Arm == "artillery"):
			f.Role, f.fills = RoleArm, 1<<RoleArm
		case role == "kind" && f.Kind == model.Battery:
			f.Role, f.fills = RoleKind, 1<<RoleKind
		default:
			continue
		}
		a := wornArm{form: form, what: string(f.Arm) + string(f.Kind)}
		a.bare = special(f)
		f.fills |= 1 << RoleNumber
		a.alone = special(f)
		f.Role = RoleNumber
		a.number = special(f)
		f.Role = RoleCompany
		a.company = special(f)
		all = append(all, a)
	}
	return all
})

// armBehindGap is the arm, or the battery, that ends with what is left of it; nil where several do: "NF" is INF., "TTY" BATTY.
func armBehindGap(rest string) (arm *wornArm) {
	if rest == "" || strings.ContainsAny(rest, "?*") {
		return nil
	}
	all := wornArms()
	for k := range all {
		a := &all[k]
		switch {
		case !strings.HasSuffix(a.form, rest):
		case arm != nil && arm.what != a.what:
			return nil
		case arm == nil || len(a.form) < len(arm.form):
			arm = a
		}
	}
	return arm
}

// lineWorn adds what a damaged word tells that begins a line of the unit, or stands behind the company, and has lost the number and more in one gap: "[---]NF.", "[......]D. CAV.", "CO[---]NF.". Neither the stone's first
// line nor a gap of one or two letters is looked at.
func (s *Scanner) lineWorn(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	if w.Line == 0 || w.Has(words.Note) {
		return dst
	}
	key := t.Key(i)
	first := w.Has(words.FirstInLine)
	if rest, ok := strings.CutPrefix(key, "CO"); ok && first && rest != "" && (rest[0] == '*' || strings.HasPrefix(rest, "???")) { // "CO[---]NF.", "CO[---]D. INF."
		rest = strings.TrimLeft(rest, "?*")
		if arm := armBehindGap(rest); arm != nil && w.Has(words.LastInLine) {
			return append(dst, Part{From: i, To: i + 1, Role: RoleCompany, Letter: '?', Form: arm.company, Score: worth.LineWorn})
		}
		if rest != "" && !strings.ContainsAny(rest, "?*") && !w.Has(words.LastInLine) {
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleCompany, Letter: '?', Form: companyWorn, Score: worth.LineWorn})
		}
		return dst
	}
	rest := strings.TrimLeft(key, "?*")
	if gap := len(key) - len(rest); gap == 0 || key[0] != '*' && gap < words.LeastGap || !first && !s.behindLetter(i) {
		return dst
	}
	if arm := armBehindGap(rest); arm != nil && (len(rest) > 1 || w.Has(words.DotAfter|words.LastInLine)) {
		dst = append(dst, Part{From: i, To: i + 1, Role: arm.alone.Role, Form: arm.alone, Score: worth.LineWorn})
	}
	switch {
	case w.Has(words.LastInLine):
		if s.behindLetter(i) {
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleFiller, Form: wornLine, Score: worth.RestWorn})
		}
	case strings.ContainsAny(rest, "?*"):
	case len(rest) > 1 && strings.HasSuffix("VOL", rest), len(rest) > 1 && strings.HasSuffix("VOLS", rest):
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleFiller, Form: wornVolunteers, Score: worth.VolunteersWorn})
	default:
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleFiller, Form: wornBefore, Score: worth.LineWorn})
	}
	return dst
}

// wornVolunteers is wornBefore with what is left of VOL., and wornLine with nothing behind it: "CO. A [---]D[---]".
var (
	wornVolunteers = special(Form{Role: RoleFiller, Marks: []string{"volunteers"}, Source: "common-practice"})
	wornLine       = special(Form{Role: RoleFiller, Source: "common-practice"})
)

// companyWorn is a company whose letter is lost with the number behind it.
var companyWorn = special(Form{Role: RoleCompany, Source: "common-practice", fills: 1 << RoleNumber})

// companyWornLine is a company whose number, state and arm are lost at the end of its line: "CO. D[---]."
var companyWornLine = special(Form{Role: RoleCompany, Source: "common-practice", fills: 1 << RoleNumber, traits: wornRest})

// behindLetter reports whether CO., or CO. with its letter, stands before word i on its line.
func (s *Scanner) behindLetter(i int) bool {
	t := s.text
	if i < 1 || t.Words[i].Has(words.FirstInLine) {
		return false
	}
	return s.may(i-1, isCompany) || i > 1 && t.Len(i-1) == 1 && !t.Words[i-1].Has(words.FirstInLine) && s.may(i-2, isCompany)
}

// numberArm adds a regiment's number of which the first figures are left, with the state, and the arm that ends behind the gap: "1[---]TTY.", "4[---]F.".
func (s *Scanner) numberArm(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	if w.Flags&(words.Digits|words.Lost|words.LastInLine) != words.Digits|words.Lost || w.Line == 0 || i+1 >= len(t.Words) || t.Words[i+1].Flags&(words.Glued|words.Lost|words.Digits) != words.Glued {
		return dst
	}
	key := t.Key(i)
	left := strings.TrimRight(key, "?*")
	if left == "" || len(left) > 3 || strings.ContainsAny(left, "?*") || key[len(key)-1] != '*' && len(key)-len(left) < words.LeastGap {
		return dst
	}
	if !t.Words[i+1].Has(words.LastInLine) {
		return append(dst, Part{From: i, To: i + 2, Role: RoleNumber, Score: worth.NumberWorn}) // "72[.....]A. INF."
	}
	if arm := armBehindGap(t.Key(i + 1)); arm != nil {
		dst = append(dst, Part{From: i, To: i + 2, Role: RoleNumber, Form: arm.number, Score: worth.LineWorn})
	}
	return dst
}

// worn adds what a damaged word right behind a regiment's number may be: "115 IND[......]" has the state's beginning, and its end and the arm are in the gap; of "10TH [---]" the number stands alone.
func (s *Scanner) worn(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	dst = s.regularsWorn(dst, i)
	if i > 1 && t.Len(i-1) == 1 && t.Words[i-2].Num > 0 && t.Words[i-2].Num < 400 && t.Words[i-1].Flags&(words.FirstInLine|words.Digits) == 0 && strings.Trim(t.Key(i), "?*") == "" && s.armEndsLine(i+1) {
		dst = append(dst, Part{From: i - 1, To: i + 1, Role: RoleFiller, Form: wornForm, Score: worth.RestWorn}) // "181 N.[..] INF.": of four states
	}
	if i > 1 && t.Key(i) == "?" {
		return s.artilleryWorn(dst, i)
	}
	number := i - 1
	if s.may(number, isRegimentWord) {
		number--
	}
	if number < 0 || w.Flags&(words.Lost|words.FirstInLine|words.Note) != words.Lost || (t.Words[number].Num < 1 || t.Words[number].Num > 400) && !s.numberLost(number) {
		return dst
	}
	if before := number - 1; before >= 0 && t.Words[number].Flags&words.FirstInLine == 0 && t.Len(before) == 1 && (t.Key(before) == "Y" || t.Key(before) == "M") {
		return dst // "AGED 37 Y. 10 [.....]D."
	}
	key := t.Key(i)
	if key == "?S" || key == "U?" { // "7 [.]S INF."
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleBody, Form: regularsForm, Score: worth.StateWorn})
	}
	if i+2 == len(t.Words) || t.Words[min(i+1, len(t.Words)-1)].Has(words.LastInLine) {
		dst = s.artilleryWorn(dst, i)
	}
	left := statesLeft(key, w.Has(words.LastInLine))
	for _, state := range left {
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleState, Form: wornStates().parts[state], Score: worth.StateWorn - float32(len(left)-1)})
	}
	if front, rest := words.Parted(key); front != "" && rest != "" && w.Has(words.LastInLine) { // "70 REGT. I[.....]NF.": the state's beginning, and the arm's end
		if arm := armBehindGap(rest); arm != nil {
			form := arm.bare
			if state := onlyState(front); state != "" && arm.bare.Role == RoleArm {
				form = wornStates().armed[[2]string{string(state), arm.what}]
			}
			dst = append(dst, Part{From: i, To: i + 1, Role: form.Role, Form: form, Score: worth.LineWorn})
		}
	}
	if rest := strings.TrimLeft(key, "?*"); w.Has(words.LastInLine) && len(rest) > 1 && len(rest) < len(key) { // "89 [.....]NF"
		if arm := armBehindGap(rest); arm != nil {
			dst = append(dst, Part{From: i, To: i + 1, Role: arm.bare.Role, Form: arm.bare, Score: worth.LineWorn})
		}
	}
	if (w.Has(words.LastInLine) || len(left) == 0 && onlyState(key[:strings.IndexAny(key, "?*")]) == "" && s.armEndsLine(i+1)) && (strings.IndexByte(key, '*') >= 0 || strings.Contains(key, "??")) {
		dst = append(dst, Part{From: i, To: i + 1, Role: RoleFiller, Form: wornForm, Score: worth.RestWorn}) // "1 M[....] L. A.": which state is not told
	}
	return dst
}

// artilleryWorn adds the artillery that the letter A behind a damaged word ends, which stands right behind a regiment's number and has the state's beginning, or nothing: "13 IN[......] A.", "1 [......]. A.".
func (s *Scanner) artilleryWorn(dst []Part, i int) []Part {
	t := s.text
	if i+1 >= len(t.Words) || t.Key(i+1) != "A" || t.Words[i+1].Flags&(words.FirstInLine|words.Lost) != 0 {
		return dst
	}
	key := t.Key(i)
	gap := strings.IndexAny(key, "?*")
	if key == "?" && i > 1 && t.Words[i-2].Num > 0 && s.state(i-1) == i { // "7 IND. [.]. A.": light or heavy
		return append(dst, Part{From: i, To: i + 2, Role: RoleArm, Form: artilleryForm, Score: worth.LineWorn})
	}
	if strings.Trim(key[gap:], "?*") != "" || key[len(key)-1] != '*' && len(key)-gap < words.LeastGap {
		return dst
	}
	state := onlyState(key[:gap])
	if state == "" {
		if gap < 2 {
			dst = append(dst, Part{From: i, To: i + 2, Role: RoleArm, Form: artilleryForm, Score: worth.LineWorn})
		}
		return dst
	}
	return append(dst, Part{From: i, To: i + 2, Role: RoleState, Form: wornStates().armed[[2]string{string(state), "artillery"}], Score: worth.LineWorn})
}

// onlyState is the state of which alone a form begins so, by two letters or more; "" where none does or several do.
func onlyState(front string) (state model.State) {
	if len(front) < 2 {
		return ""
	}
	for _, f := range wornStates().forms {
		if strings.HasPrefix(f.form, front) {
			if state != "" && state != f.state {
				return ""
			}
			state = f.state
		}
	}
	return state
}

// gunsWorn adds light or heavy artillery of which the A is lost at the end of the line, right behind the state: "1 IND. L. [..]", "1ST IND. L[---]".
func (s *Scanner) gunsWorn(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	if i < 2 || !w.Has(words.LastInLine) || w.Flags&(words.Note|words.FirstInLine|words.Digits) != 0 || !w.Has(words.Lost) && t.Len(i) > 1 {
		return dst
	}
	key, from := t.Key(i), i
	if strings.Trim(key, "?") == "" && len(key) < 4 && t.Len(i-1) == 1 && !t.Words[i-1].Has(words.FirstInLine) {
		key, from = t.Key(i-1)+key, i-1
	} else if (key == "R" || key == "H") && t.Len(i-1) == 1 && (t.Key(i-1) == "L" || t.Key(i-1) == "H") { // "13 IND. L. H."
		key, from = t.Key(i-1)+"?", i-1
	}
	if from > 2 && strings.HasPrefix(key, "AR") && strings.Trim(key[2:], "?*T") == "" && s.state(from-2) == from-1 && !t.Words[from-1].Has(words.FirstInLine) {
		switch t.Key(from - 1) { // "2 MASS. HY. AR[...]"
		case "HY", "HVY", "HEAVY", "H":
			return append(dst, Part{From: from - 1, To: i + 1, Role: RoleArm, Form: heavyForm, Score: worth.LineWorn})
		case "LT", "LIGHT", "L":
			return append(dst, Part{From: from - 1, To: i + 1, Role: RoleArm, Form: lightForm, Score: worth.LineWorn})
		}
	}
	if from < 2 || len(key) < 2 || strings.Trim(key[1:], "?*") != "" || t.Words[from-2].Num < 1 || s.state(from-1) != from {
		return dst
	}
	switch key[0] {
	case 'L':
		dst = append(dst, Part{From: from, To: i + 1, Role: RoleArm, Form: lightForm, Score: worth.LineWorn})
	case 'H':
		dst = append(dst, Part{From: from, To: i + 1, Role: RoleArm, Form: heavyForm, Score: worth.LineWorn})
	}
	return dst
}

// lightForm and heavyForm stand for artillery of a kind.
var (
	lightForm = special(Form{Role: RoleArm, Arm: "light-artillery", Source: "common-practice"})
	heavyForm = special(Form{Role: RoleArm, Arm: "heavy-artillery", Source: "common-practice"})
)

// artilleryForm stands for artillery of either kind.
var artilleryForm = special(Form{Role: RoleArm, Arm: "artillery", Source: "common-practice"})

// coloredWorn adds what a damaged word behind "U. S." may be, on a line that begins with a regiment's number: COL. INF., or C. T., of which little or nothing is left.
func (s *Scanner) coloredWorn(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	if i < 3 || !w.Has(words.LastInLine|words.Lost) || w.Has(words.Note) || t.Key(i-1) != "S" || t.Key(i-2) != "U" || t.Words[i-3].Num < 1 || t.Words[i-1].Line != t.Words[i-3].Line || w.Line != t.Words[i-3].Line {
		return dst
	}
	if cavalryLost(t.Key(i)) && t.Words[i-3].Num <= lastCavalry {
		p := Part{From: i, To: i + 1, Role: RoleArm, Form: &s.lex.cavalry, Score: worth.ArmLost}
		if i > 4 && (t.Key(i-5) == "TR" || t.Key(i-5) == "TROOP") {
			p.Score += worth.ColoredNumber // "TR. F 7 U. S. C[..]"
		}
		dst = append(dst, p)
	}
	front, rest := words.Parted(t.Key(i))
	switch {
	case front == "" && rest == "":
		p := Part{From: i, To: i + 1, Role: RoleMark, Form: coloredForm, Score: worth.ColoredWorn}
		if t.Words[i-3].Num > lastRegular {
			p.Score += worth.ColoredNumber
		}
		dst = append(dst, p)
	case front != "" && strings.HasPrefix("COL", front[:min(3, len(front))]):
		if arm := armBehindGap(rest); arm != nil || rest == "" {
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleMark, Form: coloredForm, Score: worth.LineWorn})
		}
	}
	return dst
}

// regularsWorn adds an arm of the regulars whose beginning is lost with the S of U. S.: "15 U.[---]TY.".
func (s *Scanner) regularsWorn(dst []Part, i int) []Part {
	t := s.text
	if i < 2 || t.Key(i-1) != "U" || !t.Words[i].Has(words.LastInLine|words.Lost) || t.Words[i].Flags&(words.Note|words.FirstInLine) != 0 || t.Words[i-1].Has(words.FirstInLine) || t.Words[i-2].Num < 1 {
		return dst
	}
	front, rest := words.Parted(t.Key(i))
	if front != "" || len(rest) < 2 {
		return dst
	}
	p := Part{From: i - 1, To: i + 1, Role: RoleBody, Form: regularsForm, Score: worth.LineWorn}
	if arm := armBehindGap(rest); arm != nil && arm.bare.Role == RoleArm {
		p.Form = regularsArmed[arm.what]
	}
	return append(dst, p)
}

// regularsForm stands for U. S., regularsArmed for the same with an arm.
var (
	regularsForm  = special(Form{Role: RoleBody, Body: model.BodyRegulars, Source: "common-practice"})
	regularsArmed = map[string]*Form{
		"infantry":  special(Form{Role: RoleBody, Body: model.BodyRegulars, Arm: "infantry", Source: "common-practice"}),
		"cavalry":   special(Form{Role: RoleBody, Body: model.BodyRegulars, Arm: "cavalry", Source: "common-practice"}),
		"artillery": special(Form{Role: RoleBody, Body: model.BodyRegulars, Arm: "artillery", Source: "common-practice"}),
	}
)

// coloredForm stands for what is left of COLORED behind U. S.
var coloredForm = special(Form{Role: RoleMark, Marks: []string{"colored"}, Source: "common-practice"})

// lastCavalry is the highest number of a regiment of the regular cavalry between the wars (Army Reorganization Act of 1866; from memory).
const lastCavalry = 10

// lastRegular is the highest number of a regiment of the regular infantry between the wars (Army Reorganization Act of 1866; from memory).
const lastRegular = 45

// armWorn adds an arm, or a battery, of which the end is lost in more letters than can be guessed: "8 INDA. BAT[....]".
func (s *Scanner) armWorn(dst []Part, i int) []Part {
	t := s.text
	w := &t.Words[i]
	if w.Flags&(words.Lost|words.LastInLine|words.FirstInLine|words.Note) != words.Lost|words.LastInLine || i < 2 {
		return dst
	}
	front, rest := words.Parted(t.Key(i))
	if len(front) < leastArm || rest != "" {
		return dst
	}
	return addArm(dst, i, func(form string) bool { return strings.HasPrefix(form, front) })
}

// addArm adds the arm of which a form fits word i, where it is one arm alone.
func addArm(dst []Part, i int, fits func(form string) bool) []Part {
	var arm *wornArm
	all := wornArms()
	for k := range all {
		if a := &all[k]; fits(a.form) {
			if arm != nil && arm.what != a.what {
				return dst
			}
			arm = a
		}
	}
	if arm != nil {
		dst = append(dst, Part{From: i, To: i + 1, Role: arm.bare.Role, Form: arm.bare, Score: worth.LineWorn})
	}
	return dst
}

// armSpot reports whether word i ends a line behind another word that tells of a unit, or a number, and is itself of no unit.
func (s *Scanner) armSpot(i int) bool {
	w := &s.text.Words[i]
	if n := w.To - w.From; w.Flags&(words.LastInLine|words.FirstInLine|words.Digits|words.Lost|words.Note) != words.LastInLine || i < 2 || n < leastArm || n > 6 || s.known[i].forms != 0 {
		return false
	}
	return s.known[i-1].forms != 0 || s.text.Words[i-1].Num > 0 && s.text.Words[i-1].Num < 400
}

// armMisread adds an arm, or a battery, of which one letter is another, right behind the state, or behind the regiment's number where the letter looks like its own: "38 IA. IHF.", "13 IND. CHV.", "CO. A 7 1NE.".
func (s *Scanner) armMisread(dst []Part, i int) []Part {
	least := 0.0
	if s.state(i-1) != i && (s.state(i-2) != i || s.text.Words[i-1].Has(words.FirstInLine)) {
		if least = 0.3; s.text.Words[i-1].Flags&(words.Digits|words.Glued) != words.Digits {
			return dst
		}
	}
	key := s.text.Key(i)
	return addArm(dst, i, func(form string) bool { return name.Misread(key, form, least) == 1 })
}

// belowCompany reports whether the number at word i stands alone on a line right below that of the company: "CO. F / 339".
func (s *Scanner) belowCompany(i int) bool {
	t := s.text
	return i > 1 && t.Words[i].Has(words.FirstInLine|words.LastInLine) && t.Words[i].Num < 400 && t.Len(i-1) == 1 && !t.Words[i-1].Has(words.FirstInLine) && s.takesLetter(i-2)
}

// takesLetter reports whether word i takes a company's letter with it: CO., BATT.
func (s *Scanner) takesLetter(i int) bool {
	for _, h := range s.lex.forms.Find(nil, s.text, i, s.known[i].forms) {
		if f := s.lex.forms.Value(&h); f.Role == RoleCompany && int(h.To) == i+1 && (f.word == companyWord || f.word == batteryWord) {
			return true
		}
	}
	return false
}

// numberFrontLost stands for a number right behind a gap, which may have its first figures.
var numberFrontLost = special(Form{Role: RoleNumber, Source: "common-practice"})

// gapBefore is how many figures, three at most, stand at a word's end behind a gap of two letters or more, with nothing before it; 0 for anything else.
func gapBefore(key string) int {
	figures := strings.TrimLeft(key, "?*")
	if len(figures) == 0 || len(figures) > 3 || strings.ContainsAny(figures, "?*") || len(key)-len(figures) < 2 && key[0] != '*' {
		return 0
	}
	return len(figures)
}

// unitFollows reports whether a state, an arm or U. S. stands at word i, on the line of the word before it.
func (s *Scanner) unitFollows(i int) bool {
	return i < len(s.text.Words) && s.text.Words[i].Flags&(words.FirstInLine|words.Digits) == 0 && s.known[i].forms != 0
}

// numberBehindGap adds a number that stands behind a gap at the beginning of a line, or behind CO.: "[.....]70 INDA. INF.", "CO. [..]43D IND. INF.".
func (s *Scanner) numberBehindGap(dst []Part, i int) []Part {
	w := &s.text.Words[i]
	if !w.Has(words.Lost) || w.Line == 0 || gapBefore(s.text.Key(i)) == 0 || s.text.Len(i) < 4 && s.text.Key(i)[0] != '*' || !s.unitFollows(i+1) || !w.Has(words.FirstInLine) && !s.may(i-1, isCompany) {
		return dst
	}
	return append(dst, Part{From: i, To: i + 1, Role: RoleNumber, Form: numberFrontLost, Score: worth.NumberDamaged})
}

// endingLeft adds a number of which nothing but the ending is left, before a state or an arm: "[..]TH IND. INF.".
func (s *Scanner) endingLeft(dst []Part, i int) []Part {
	w, key := &s.text.Words[i], s.text.Key(i)
	if w.Flags&(words.Lost|words.Digits|words.LastInLine|words.Note) != words.Lost || w.Line == 0 || !w.Has(words.FirstInLine) && !s.behindLetter(i) || !s.unitFollows(i+1) {
		return dst
	}
	rest := strings.TrimLeft(key, "?*")
	if n := len(key) - len(rest); n == 0 || n > 4 {
		return dst
	}
	switch rest {
	case "TH", "ST", "ND", "RD", "D", "H":
		return append(dst, Part{From: i, To: i + 1, Role: RoleNumber, Form: numberFrontLost, Score: worth.NumberLost})
	}
	return dst
}

// companyGap reports whether word i, which a number touches, is what a gap has left of CO. and its letter: "CO[....]31 IND. INF.".
func (s *Scanner) companyGap(i int) bool {
	t := s.text
	w := &t.Words[i]
	if w.Flags&(words.Lost|words.Digits|words.LastInLine|words.Note) != words.Lost || w.Line == 0 || i+2 >= len(t.Words) {
		return false
	}
	key := t.Key(i)
	front := strings.TrimRight(key, "?*")
	if !w.Has(words.FirstInLine) && front != "C" && front != "CO" || front != "" && front != "C" && front != "CO" {
		return false
	}
	if front == "" && !s.may(i-1, isCompany) || key[len(key)-1] != '*' && len(key)-len(front) < words.LeastGap {
		return false
	}
	next := &t.Words[i+1]
	return next.Has(words.Glued) && next.Num > 0 && next.Num < 400 && s.unitFollows(i+2)
}

// behindCompanyGap reports whether the number at word i touches what a gap has left of CO. and its letter.
func (s *Scanner) behindCompanyGap(i int) bool {
	return s.text.Words[i].Has(words.Glued) && i > 0 && s.companyGap(i-1)
}

// companyInGap adds a company of which a gap has the letter, or that stands behind one: "CO[....]31 IND. INF.", "P[...]CO G".
func (s *Scanner) companyInGap(dst []Part, i int) []Part {
	t := s.text
	p := Part{From: i, To: i + 1, Role: RoleCompany, Letter: '?', Score: worth.CompanyLost}
	if s.companyGap(i) {
		return append(dst, p)
	}
	if key := t.Key(i); len(key) > 4 && strings.HasSuffix(key, "CO") && (key[len(key)-3] == '*' || strings.HasSuffix(key, "???CO")) && i+1 < len(t.Words) && t.Words[i+1].Flags&(words.FirstInLine|words.Lost) == 0 && t.Len(i+1) == 1 && companyLetter(t.Key(i + 1)[0]) && t.Words[i].Line > 0 {
		p.To, p.Letter = i+2, t.Key(i + 1)[0]
		dst = append(dst, p)
	}
	return dst
}

// companyLetter reports whether a company may have the letter.
func companyLetter(c byte) bool { return c >= 'A' && c <= 'M' }

// statesLeft are the states, two at most, of which a damaged word can be what is left: but for one or two letters a form fits, or, at a line's end, one begins with those before a longer gap.
func statesLeft(key string, ends bool) (left []model.State) {
	gap := strings.IndexAny(key, "?*")
	open := strings.IndexByte(key, '*') >= 0 || gap >= 2 && strings.Trim(key[gap:], "?") == "" && len(key) > 4
	if open && (!ends || gap < 2 || strings.Trim(key[gap:], "?*") != "") || !open && strings.Count(key, "?") > 2 || strings.Trim(key, "?*") == "" {
		return nil
	}
	for _, f := range wornStates().forms {
		fits := len(f.form) == len(key) && !f.post
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

// statesBegun adds, to the states that a word with a gap of unknown length at its end may be, found from place from on, the others that begin with what is left of it: "MIS[---] INF." is of Mississippi or of Missouri.
func (s *Scanner) statesBegun(dst []Part, from, i int) []Part {
	key := s.text.Key(i)
	front := key[:len(key)-1]
	if key[len(front)] != '*' || len(front) < 3 || strings.ContainsAny(front, "?*") || s.text.Words[i].Flags&(words.LastInLine|words.Lost) != words.Lost {
		return dst
	}
	found := dst[from:]
	best := float32(-9)
	for k := range found {
		if found[k].Role == RoleState && found[k].To == i+1 {
			best = max(best, found[k].Score)
		}
	}
	if best == -9 {
		return dst
	}
	for _, f := range wornStates().forms {
		if strings.HasPrefix(f.form, front) && !f.words && !slices.ContainsFunc(dst[from:], func(p Part) bool { return p.Role == RoleState && p.Form.State == f.state }) {
			dst = append(dst, Part{From: i, To: i + 1, Role: RoleState, Form: wornStates().parts[f.state], Score: best})
		}
	}
	return dst
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
	case s.coMisread(i): // "OO K"
		if to+1 >= len(t.Words) || t.Words[i].Has(words.LastInLine) || !t.Words[to].Has(words.LastInLine) && (t.Words[to+1].Num < 1 || t.Words[to+1].Num > 400) || t.Len(to) != 1 || !companyLetter(t.Key(to)[0]) {
			return dst
		}
		p.Letter = t.Key(to)[0]
		to++
	case key == "COO" && to+1 < len(t.Words) && !t.Words[i].Has(words.LastInLine) && t.Len(to) == 1 && companyLetter(t.Key(to)[0]) && t.Words[to].Has(words.LastInLine): // "COO. C"
		p.Letter = t.Key(to)[0]
		to++
		if t.Words[to].Flags&(words.Lost|words.LastInLine) == words.Lost|words.LastInLine {
			p.To = to
			return append(dst, p)
		}
	case len(key) == 3 && key[:2] == "CO" && companyLetter(key[2]) && t.Words[i].Flags&words.Lost == 0: // "COA"
		p.Letter = key[2]
	case key == "C" && to+1 < len(t.Words) && t.Key(to) == "O" && t.Len(to+1) == 1 && companyLetter(t.Key(to + 1)[0]) && !t.Words[to].Has(words.LastInLine): // "C.O K"
		p.Letter = t.Key(to + 1)[0]
		to += 2
	case key == "C" && to < len(t.Words) && t.Len(to) == 2 && t.Key(to)[0] == 'O' && companyLetter(t.Key(to)[1]) && !t.Words[i].Has(words.LastInLine): // "C OA"
		p.Letter = t.Key(to)[1]
		to++
	case key == "C" && to+1 < len(t.Words) && t.Len(to) == 1 && companyLetter(t.Key(to)[0]) && t.Words[to+1].Num > 0 && t.Words[to+1].Num < 400 && t.Words[i].Flags&(words.LastInLine|words.DotAfter) == 0: // "C A 11 MICH CAV"
		p.Letter = t.Key(to)[0]
		to++
	case t.Words[i].Flags&(words.Lost|words.LastInLine) == words.Lost && key[0] == 'C' && len(key) > 1 && (key[len(key)-1] == '*' || len(key) > 3) && strings.Trim(strings.TrimPrefix(key[1:], "O"), "?*") == "" && !t.Words[to].Has(words.LastInLine): // "C[---] 17 MICH INF", "C[---] WIS INF"
		if s.state(to) > to && s.armEndsLine(s.state(to)) {
			p.To, p.Form = to, companyWorn
			return append(dst, p)
		}
		if t.Words[to].Num < 1 || t.Words[to].Num > 400 {
			return dst
		}
		p.To = to
		return append(dst, p)
	case t.Words[i].Has(words.LastInLine | words.Lost):
		if last := key[len(key)-1]; last >= 'A' && last <= 'M' && (len(key) > 3 || key[0] == '*') && strings.Trim(key[:len(key)-1], "?*") == "" {
			p.Letter = last // "[....]B"
		} else if from := strings.IndexAny(key, "?*"); last >= 'A' && last <= 'M' && from > 1 && strings.HasPrefix("COMPANY", key[:from]) && strings.Trim(key[from:len(key)-1], "?*") == "" {
			p.Letter = last // "COMPA[...]B", "CO[..]B"
		} else if front := strings.TrimRight(key, "?*"); front == "" || front == key || !strings.HasPrefix("COMPANY", front) {
			return dst // but "C[---]", "COM[......]"
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
	if t.Words[to].Num < 1 && key[0] == 'C' && len(key) > 1 && p.Letter == '?' {
		return dst // two damaged lines in one another
	}
	p.To = to
	return append(dst, p)
}

// stateTail adds a state of which only the end is left, without a mark, between a regiment's number and its arm: "9 CH INF" is MICH.
func (s *Scanner) stateTail(dst []Part, i int) []Part {
	key := s.text.Key(i)
	state := model.State("")
	for _, f := range wornStates().forms {
		if f.words || f.post || len(f.form) > longestAbbreviation || len(f.form) <= len(key) || !strings.HasSuffix(f.form, key) {
			continue
		}
		if state != "" && state != f.state {
			return dst
		}
		state = f.state
	}
	if state == "" {
		return dst
	}
	form := wornStates().parts[state]
	if i == 0 || s.text.Words[i-1].Num < 1 || s.text.Words[i].Has(words.FirstInLine) {
		form = wornStates().behind[state] // "CO. I ICH INF"
	}
	return append(dst, Part{From: i, To: i + 1, Role: RoleState, Form: form, Score: worth.StateTail})
}

// tailSpot reports whether word i, of two or three letters that mean nothing in a unit, stands between a regiment's number and its arm.
func (s *Scanner) tailSpot(i int) bool {
	t := s.text
	w := &t.Words[i]
	if n := t.Len(i); n != 2 && n != 3 || w.Line == 0 || s.known[i] != (Word{}) || w.Flags&(words.Digits|words.Lost|words.LastInLine|words.Ordinal) != 0 {
		return false
	}
	before := w.Has(words.FirstInLine) || i > 0 && t.Words[i-1].Num > 0 && t.Words[i-1].Num < 400 || s.behindLetter(i)
	return before && s.armEndsLine(i+1)
}

// numberLost reports whether word i, behind a company's letter, is a number of which no figure is left: "CO. E [..] MIC[---]F".
func (s *Scanner) numberLost(i int) bool {
	key := s.text.Key(i)
	return (key == "?" || key == "??" || key == "???") && s.behindLetter(i)
}

// letterAlone reports whether word i, which begins a line below the first, is the letter of a company of which CO. is lost or was never cut: alone above a line that begins with the regiment's number, or with what is left of
// it, or before a number that is lost and the state, or before U. S. and an arm: "E / 7 MICH. CAV.", "F [..] MICH. INF.", "C U. S. CAV.".
func (s *Scanner) letterAlone(i int) bool {
	t := s.text
	w := &t.Words[i]
	if i == 0 || i+2 >= len(t.Words) || t.Len(i) != 1 || !companyLetter(t.Key(i)[0]) || t.Key(i) == "J" || w.Flags&(words.FirstInLine|words.Lost|words.Digits|words.Note) != words.FirstInLine || t.Words[i+1].Has(words.LastInLine) {
		return false
	}
	next := &t.Words[i+1]
	lost := next.Has(words.Lost) && strings.Trim(t.Key(i+1), "0123456789?*") == "" && t.Len(i+1) < 4
	if w.Has(words.LastInLine) {
		if next.Num > 0 && next.Num < 400 {
			return s.state(i+2) > i+2 || t.Words[i+2].Has(words.Lost) || s.armEndsLine(i+2) || s.armEndsLine(i+3)
		}
		return lost && (s.state(i+2) > i+2 || s.armEndsLine(i+2) || next.Has(words.Digits) && s.armEndsLine(i+3))
	}
	return lost && s.state(i+2) > i+2 || t.Key(i+1) == "U" && t.Key(i+2) == "S" && s.armEndsLine(i+3) || t.Key(i+1) == "US" && s.armEndsLine(i+2)
}

// armEndsLine reports whether the words from word i to the end of its line are an arm.
func (s *Scanner) armEndsLine(i int) bool {
	if i >= len(s.text.Words) || s.text.Words[i].Has(words.FirstInLine) || s.known[i].forms == 0 {
		return false
	}
	s.hits = s.lex.forms.Find(s.hits[:0], s.text, i, s.known[i].forms)
	for k := range s.hits {
		if h := &s.hits[k]; s.lex.forms.Value(h).Role == RoleArm && s.text.Words[h.To-1].Has(words.LastInLine) {
			return true
		}
	}
	return false
}

// coMisread reports whether word i, which begins a line below the first, may be CO with one letter misread.
func (s *Scanner) coMisread(i int) bool {
	if s.text.Len(i) != 2 || s.text.Words[i].Flags&(words.LastInLine|words.Lost|words.Digits) != 0 || i == 0 || !s.text.Words[i].Has(words.FirstInLine) && s.text.Key(i-1) != "OF" {
		return false
	}
	switch s.text.Key(i) {
	case "OO", "GO", "CQ", "CG", "CD":
		return true
	}
	return false
}

// longestAbbreviation is how many letters the abbreviation of a state has at most whose end alone is taken for it.
const longestAbbreviation = 5

// stateBehindGap adds the state that stands at the end of a line's first word whose beginning, the regiment's number with it, is lost: "[....]WIS".
func (s *Scanner) stateBehindGap(dst []Part, i int) []Part {
	t := s.text
	key := t.Key(i)
	rest := strings.TrimLeft(key, "?*")
	if !t.Words[i].Has(words.FirstInLine) && !s.behindLetter(i) || len(rest) < 2 || len(key)-len(rest) < 2 && key[0] != '*' || strings.ContainsAny(rest, "?*") || t.Words[i].Has(words.LastInLine) {
		return dst
	}
	state, whole := model.State(""), false
	for _, f := range wornStates().forms {
		switch {
		case f.form == rest && len(rest) > 2:
			state, whole = f.state, true
		case whole || f.words || len(f.form) > longestAbbreviation || !strings.HasSuffix(f.form, rest):
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
