package weigh

import (
	"strconv"
	"strings"
	"sync"

	"musterstone/link/compare"
	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// unitParts is a unit made ready to be compared: by the numbers of its texts, so that another one is told from it by one look at memory. What is seldom asked for comes last.
type unitParts struct {
	designation, number, company uint32 // numbers of these texts, 0 for none; see Weigher.unitWords
	arm, class                   uint32
	figure                       int32  // the number of the regiment alone
	stateNumber                  uint32 // among the states of the columns' units
	numbered                     bool   // it has a number or a name
	generic                      bool   // the arm is one that others are worded as: infantry, artillery

	letter         string // of the company
	state          model.State
	body, regiment string // the texts of designation and number; see unitNumber
}

func (w *Weigher) unitParts(u *model.Unit) unitParts {
	p := unitParts{body: u.Designation(), regiment: unitNumber(*u), figure: int32(u.Number), numbered: u.Number != 0 || u.Name != "", state: u.State,
		letter: u.Company}
	class, generic := unit.WordedAs(u.Arm)
	p.generic = generic
	n := &w.unitWords
	p.designation, p.number, p.company, p.arm, p.class = n.number(p.body), n.number(p.regiment), n.number(u.Company), n.number(string(u.Arm)), n.number(string(class))
	return p
}

// A numbering gives texts numbers, the same text the same number; 0 to "". It is safe for concurrent use.
type numbering struct {
	mu sync.RWMutex
	of map[string]uint32
}

func (n *numbering) number(text string) uint32 {
	if text == "" {
		return 0
	}
	n.mu.RLock()
	k, ok := n.of[text]
	n.mu.RUnlock()
	if ok {
		return k
	}
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.of == nil {
		n.of = map[string]uint32{}
	}
	if k, ok = n.of[text]; !ok {
		k = uint32(len(n.of)) + 1
		n.of[strings.Clone(text)] = k
	}
	return k
}

// How far two units agree.
const (
	unitNone = iota
	unitCompany
	unitWornCompany
	unitOtherCompany
	unitRegiment
	unitNumberCompany
	unitNumber1
	unitRedesignated
	unitWornDigit // where both give a company, it is the same
	unitWornDigitCompany
	unitOneDigit
	unitOneDigitCompany
	unitStateArm
	unitPart
	unitPartCompany    // where both give a company, it is the same
	unitPartOther      // it is another
	unitDifferent      // another regiment
	unitDifferentState // no regiment on one side at least
	unitDifferentArm
	unitFits // the number may be what is left of the stone's
	unitFitsCompany
	unitTransferred // the stone's body had its men from other regiments
	// As the record's remarks have it, which name another unit than its row.
	unitLaterCompany
	unitLaterRegiment
	unitLaterOther // another company of that regiment
	unitLaterWorn  // a company of it whose letter wears alike
	unitLevels

	unitRoom = 32 // above all of them
)

// unitNames are the levels in the table.
var unitNames = [unitLevels]string{"", "company", "worn company", "other company", "regiment", "number and company", "number", "redesignated", "worn digit", "worn digit",
	"one digit", "one digit", "state and arm", "part", "part", "part of another company", "different", "different", "different", "part", "part", "transferred",
	"later company", "later regiment", "other company of later regiment", "worn later company"}

// unitView is a stone's unit and what each level of it is worth: the shares of the rosters' men in as much of it as it gives.
type unitView struct {
	w     *Weigher
	given bool
	unit  model.Unit
	parts unitParts
	also  []unitParts // other names of the same regiment
	// transferred is set for a unit of a body that had its men from the regiments: see unit.Transferred.
	transferred bool
	digits      *[manyNumbers]uint8
	arms        []model.Arm      // see agreeing
	lines       [unitLevels]line // as they have been asked for
	known       *[knownUnits]knownUnit
	other       unitLine // room for that of another unit of which remarks tell
}

// manyNumbers is above the numbers of nearly all regiments, for which there are tables.
const manyNumbers = 1000

// unitLine is a level of the unit at its weight.
type unitLine struct {
	level uint8
	line  line
}

// knownUnits is how many of the columns' units are kept in mind: the men of one company are often candidates together.
const knownUnits = 64

type knownUnit struct {
	number int32 // of the columns' unit, plus 1
	unitLine
}

// noUnit is for a stone that gives none.
var noUnit unitLine

func (w *Weigher) unitView(u model.Unit) unitView {
	v := unitView{w: w, unit: u, parts: w.unitParts(&u), given: !u.IsZero()}
	if v.given {
		v.known = new([knownUnits]knownUnit)
	}
	v.transferred = v.given && unit.Transferred(u)
	if v.given && u.Number != 0 {
		for _, other := range unit.Redesignated(u) {
			v.also = append(v.also, w.unitParts(&other))
		}
	}
	return v
}

// against is the level of a record's unit.
func (v *unitView) against(f *facts) *unitLine {
	if v.known == nil {
		return &noUnit
	}
	at := &v.known[uint32(f.unit)%knownUnits]
	if at.number != f.unit+1 {
		at.number, at.unitLine = max(f.unit+1, 0), v.compare(f.unitParts()) // of a strange one nothing is kept in mind
	}
	return &at.unitLine
}

func (v *unitView) compare(b *unitParts) unitLine {
	level := v.level(b)
	switch {
	case level == unitNone:
		return unitLine{}
	case level == unitRedesignated: // what it is worth hangs on the record's unit
		share := v.shareOf("r:" + b.body + "/" + b.regiment + "/")
		return unitLine{level, line{v.w.fixed.redesignated, bits(v.w.fixed.redesignatedM, share)}}
	}
	return v.lineOf(level)
}

// lineOf is a level at its weight.
func (v *unitView) lineOf(level uint8) unitLine {
	if v.lines[level].level == 0 {
		name := unitNames[level]
		v.lines[level] = lineOf("unit", name, start("unit", name).m, v.share(level))
	}
	return unitLine{level, v.lines[level]}
}

// level is how far two units agree.
func (v *unitView) level(b *unitParts) uint8 {
	a := &v.parts
	sameDes := a.designation == b.designation
	bothDes := a.designation != 0 && b.designation != 0
	arms := a.armsAgree(b)
	numbers := a.numbered && b.numbered
	sameNumber := numbers && a.number == b.number
	companies := a.company != 0 && b.company != 0

	if v.unit.NumberLost != "" && b.figure > 0 && arms && (sameDes || !bothDes) {
		if level := v.lostLevel(b, bothDes, companies); level != unitNone {
			return level
		}
	}
	switch {
	case sameNumber && arms && bothDes && sameDes:
		switch {
		case !companies:
			return unitRegiment
		case a.company == b.company:
			return unitCompany
		case wornGlyphs(a.letter, b.letter):
			return unitWornCompany
		}
		return unitOtherCompany
	case sameNumber && arms && !bothDes:
		if companies && a.company == b.company {
			return unitNumberCompany
		}
		if !companies {
			return unitNumber1
		}
	case numbers && v.redesignated(b):
		return unitRedesignated
	case numbers && sameDes && arms: // of one state, or none is given with either: the regiments of 1917 had none
		if !companies || a.company == b.company {
			level := uint8(unitNone)
			switch v.digit(int(b.figure)) {
			case 1:
				level = unitOneDigit
			case 2:
				level = unitWornDigit
			}
			if level != unitNone {
				if companies {
					level++
				}
				return level
			}
		}
		if !bothDes {
			return unitDifferent
		}
		return unitStateArm
	case v.transferred && bothDes && !sameDes:
		return unitTransferred
	case numbers:
		return unitDifferent
	case bothDes && sameDes && arms:
		switch {
		case !companies:
			return unitPart
		case a.company == b.company:
			return unitPartCompany
		}
		return unitPartOther
	case !bothDes && arms && a.arm != 0 && b.arm != 0:
		return unitNone // the arm alone says next to nothing
	case bothDes && !sameDes:
		return unitDifferentState
	}
	if bothDes && sameDes {
		return unitDifferentArm
	}
	return unitNone
}

// lostLevel is how far a regiment agrees with a stone of the same state and arm that has lost digits of its number; unitNone where the number tells nothing.
func (v *unitView) lostLevel(b *unitParts, bothDes, companies bool) uint8 {
	switch fits := v.unit.NumberFits(int(b.figure)); {
	case fits && !bothDes:
		return unitNone
	case fits && !companies:
		return unitFits
	case fits && v.parts.company == b.company:
		return unitFitsCompany
	case bothDes:
		return unitStateArm // another company, or a number that it cannot have been
	}
	return unitDifferent
}

// share is the share of the rosters' men of whom the level holds.
func (v *unitView) share(level uint8) float64 {
	a, c := &v.parts, v.w.counts
	des, regiment := a.body, a.body+"/"+a.regiment+"/"
	switch level {
	case unitCompany, unitLaterCompany:
		return v.shareOf("c:"+regiment, "/"+a.letter)
	case unitWornCompany, unitLaterWorn:
		return max(v.wornCompanies("c:"+regiment), c.share(0))
	case unitOtherCompany, unitLaterOther:
		return max(v.shareOf("r:"+regiment)-v.shareOf("c:"+regiment, "/"+a.letter)-v.wornCompanies("c:"+regiment), c.share(0))
	case unitRegiment, unitLaterRegiment:
		return v.shareOf("r:" + regiment)
	case unitNumberCompany:
		return v.shareOf("nc:"+a.regiment+"/", "/"+a.letter)
	case unitNumber1:
		return v.shareOf("n:" + a.regiment + "/")
	case unitWornDigit, unitWornDigitCompany:
		return v.digitShare(level == unitWornDigitCompany, 2)
	case unitOneDigit, unitOneDigitCompany:
		return v.digitShare(level == unitOneDigitCompany, 1)
	case unitFits, unitFitsCompany:
		return v.numberShare(level == unitFitsCompany, func(number int) bool { return v.unit.NumberFits(number) })
	case unitPartCompany:
		return v.lettered()
	case unitPartOther:
		return max(v.shareOf("da:"+des+"/")-v.lettered(), c.share(0))
	case unitStateArm, unitPart:
		return v.shareOf("da:" + des + "/")
	case unitDifferent:
		return 1 - v.shareOf("da:"+des+"/")
	case unitDifferentState, unitTransferred:
		return 1 - c.share(float64(c.states.n[des]))
	}
	return c.share(float64(c.states.n[des]))
}

// fewestLettered is the least part of the men of a state and arm that one company's letter has: there are ten to fourteen letters, and some rosters give none. House judgement.
const fewestLettered = 0.05

// lettered is the share of the rosters' men of the stone's state and arm, whatever their regiments, in companies of its letter.
func (v *unitView) lettered() float64 {
	return max(v.numberShare(true, func(int) bool { return true }), fewestLettered*v.shareOf("da:"+v.parts.body+"/"))
}

// shareOf is the share of the roster's men under a key, whatever arm that agrees with the stone's stands between prefix and suffix.
func (v *unitView) shareOf(prefix string, suffix ...string) float64 {
	return v.w.counts.share(float64(v.men(prefix, suffix...)))
}

// men is how many men are under a key, as in shareOf.
func (v *unitView) men(prefix string, suffix ...string) int {
	end := ""
	if len(suffix) > 0 {
		end = suffix[0]
	}
	n := 0
	var room [128]byte
	key := append(room[:0], prefix...)
	for _, arm := range v.agreeing() {
		key = append(append(key[:len(prefix)], arm...), end...)
		n += v.w.counts.units.n[string(key)]
	}
	return n
}

// wornCompanies is the share of the roster's men in those companies of a regiment whose letters wear alike with the stone's.
func (v *unitView) wornCompanies(prefix string) float64 {
	n := 0.0
	for letter := 'A'; letter <= 'M'; letter++ {
		if other := string(letter); wornGlyphs(v.unit.Company, other) {
			n += max(0, v.shareOf(prefix, "/"+other)-v.w.counts.share(0))
		}
	}
	return n
}

// leastWorn is how alike two letters or figures must be when worn for one to be taken for the other. House judgement.
const leastWorn = 0.3

// wornGlyphs reports whether two writings of one length differ in one letter or figure, and the two wear alike.
func wornGlyphs(a, b string) bool {
	if len(a) != len(b) {
		return false
	}
	at := -1
	for i := range len(a) {
		if a[i] != b[i] {
			if at >= 0 {
				return false
			}
			at = i
		}
	}
	return at >= 0 && name.Worn(a[at], b[at]) >= leastWorn
}

// digit is 1 for a regiment's number that is one digit off the stone's, 2 where the two digits wear alike, 0 for any other.
func (v *unitView) digit(number int) uint8 {
	if number > 0 && number < len(v.digits) {
		if v.digits == nil {
			v.digits = v.w.digitsOff(v.unit.Number)
		}
		return v.digits[number]
	}
	return digitOff(v.unit.Number, number)
}

func digitOff(a, b int) uint8 {
	switch {
	case !oneDigit(a, b):
		return 0
	case wornGlyphs(strconv.Itoa(a), strconv.Itoa(b)):
		return 2
	}
	return 1
}

// digitsOff is digitOff of all numbers below a thousand, worked out once a number.
func (w *Weigher) digitsOff(number int) *[manyNumbers]uint8 {
	if t, ok := w.digits.Load(number); ok {
		return t.(*[manyNumbers]uint8)
	}
	t := new([manyNumbers]uint8)
	for other := 1; other < len(t); other++ {
		t[other] = digitOff(number, other)
	}
	w.digits.Store(number, t)
	return t
}

// digitShare is the share of the roster's men in regiments whose number is one digit off in the way given.
func (v *unitView) digitShare(company bool, off uint8) float64 {
	return v.numberShare(company, func(number int) bool { return v.digit(number) == off })
}

// numberShare is the share of the roster's men in regiments, or in their companies of the stone's letter, with the numbers that are wanted.
func (v *unitView) numberShare(company bool, wanted func(number int) bool) float64 {
	key := bodyKey{designation: v.parts.body, kind: v.unit.Kind}
	if company {
		key.company = v.unit.Company
	}
	n := 0
	for _, r := range v.w.regiments()[key] {
		if wanted(int(r.number)) && armsAgree(v.unit.Arm, r.arm) {
			n += r.men
		}
	}
	return v.w.counts.share(float64(n))
}

// bodyKey is whose regiments are numbered, and of what kind; or whose regiments' companies of a letter are.
type bodyKey struct {
	designation, company string
	kind                 model.UnitKind
}

// numbered is a regiment of a body, or its company, and how many men it has.
type numbered struct {
	number int32
	arm    model.Arm
	men    int
}

// countedRegiments are the rosters' regiments of numbers below a thousand, and their companies.
func countedRegiments(c *Counts) map[bodyKey][]numbered {
	m := map[bodyKey][]numbered{}
	for _, key := range c.units.values {
		what, rest, _ := strings.Cut(key, ":")
		if what != "r" && what != "c" {
			continue
		}
		designation, rest, _ := strings.Cut(rest, "/")
		text, rest, _ := strings.Cut(rest, "/")
		arm, company, _ := strings.Cut(rest, "/")
		text, kind, _ := strings.Cut(text, " ")
		n, err := strconv.Atoi(text)
		if err != nil || n <= 0 || n >= manyNumbers {
			continue
		}
		k := bodyKey{designation, company, model.UnitKind(kind)}
		m[k] = append(m[k], numbered{int32(n), model.Arm(arm), c.units.n[key]})
	}
	return m
}

// agreeing are the rosters' arms that agree with the stone's.
func (v *unitView) agreeing() []model.Arm {
	if v.arms == nil {
		for _, arm := range v.w.counts.armList {
			if armsAgree(v.unit.Arm, arm) {
				v.arms = append(v.arms, arm)
			}
		}
	}
	return v.arms
}

func (v *unitView) redesignated(b *unitParts) bool {
	for i := range v.also {
		if a := &v.also[i]; a.figure == b.figure && a.designation == b.designation && a.armsAgree(b) {
			return true
		}
	}
	return false
}

// armsAgree is armsAgree of the two arms.
func (a *unitParts) armsAgree(b *unitParts) bool {
	return a.arm == b.arm || a.arm == 0 || b.arm == 0 || (a.generic || b.generic) && a.class == b.class
}

// armsAgree reports whether two arms can be the same: one not given, or artillery of a kind and artillery, or infantry that was mounted.
func armsAgree(a, b model.Arm) bool {
	if a == b || a == "" || b == "" {
		return true
	}
	x, genericA := unit.WordedAs(a)
	y, genericB := unit.WordedAs(b)
	return (genericA || genericB) && x == y
}

// oneDigit reports whether two regiment numbers are one digit apart: changed, lost or added, or two exchanged.
func oneDigit(a, b int) bool {
	return a != b && a != 0 && b != 0 && compare.OSA(strconv.Itoa(a), strconv.Itoa(b)) == 1
}

// Regiment is the key of the stone's regiment and the share of the roster's men in it; "" where the stone gives none.
func (v *Stone) Regiment() (key string, share float64) {
	u := v.claim.Service.Unit
	if u.Number == 0 && u.Name == "" || u.Designation() == "" {
		return "", 1
	}
	key = u.Designation() + "/" + unitNumber(u)
	class, _ := unit.WordedAs(u.Arm)
	return key + "/" + string(class), v.unit.shareOf("r:" + key + "/")
}

// InRegiment reports whether a level of the field unit says that both are of the stone's regiment.
func InRegiment(level string) bool {
	switch level {
	case "company", "worn company", "other company", "regiment", "later company", "later regiment", "other company of later regiment", "worn later company":
		return true
	}
	return false
}
