package weigh

import (
	"sync"

	"musterstone/model"
	"musterstone/vocab/name"
)

// Weigher weighs stones against the records that were counted. It is safe for concurrent use.
type Weigher struct {
	counts    *Counts
	moves     *Moves
	packed    *packed   // nil without columns
	unitWords numbering // of the texts of units
	// What one value is worth is worked out once: names, ranks and places repeat.
	surnames, givens, bareGivens, secondViews, stateViews, ranks, digits, suffixViews, births, deaths sync.Map
	homes, burials                                                                                    *texts
	speller                                                                                           func() *speller
	surnameMen                                                                                        func() []int // by number of the surname
	givenNames                                                                                        func() []given
	numbers                                                                                           func() *numbers
	regiments                                                                                         func() map[bodyKey][]numbered
	suffixes                                                                                          func() float64 // the share of the rosters' men with a suffix
	soldiers                                                                                          func() []soldiers
	wars                                                                                              func() *wars
	serviceKinds                                                                                      func() *serviceKinds
	seconds                                                                                           func() map[string]*secondLines // by file
	fixed                                                                                             fixed
}

// fixed is what of the table is asked for with every pair.
type fixed struct {
	kin, fits, fitsNot uint8
	kinExcess          float64
	redesignated       uint8
	redesignatedM      float64
	diedInIt           line
	// Of names of which remarks tell that the man had others: see Stone.byOtherName.
	byOtherName, otherName, substitute, otherGiven line
}

func newFixed() fixed {
	l, r := start("service", "died in it"), start("unit", "redesignated")
	return fixed{kin: levelNumber("kin", "brothers in arms"), fits: levelNumber("design", "fits"), fitsNot: levelNumber("design", "does not fit"), kinExcess: kinExcess(),
		redesignated: levelNumber("unit", "redesignated"), redesignatedM: r.m, diedInIt: lineOf("service", "died in it", l.m, l.u),
		byOtherName: fixedLine("surname", byOtherName), otherName: fixedLine("surname", otherName), substitute: fixedLine("surname", substitute), otherGiven: fixedLine("given", otherName)}
}

// fixedLine is the line of a level whose u is in the table too.
func fixedLine(field, name string) line {
	l := start(field, name)
	return lineOf(field, name, l.m, l.u)
}

// New makes a Weigher over the counts of the records, and over how men moved, nil where that is not known.
func New(c *Counts, m *Moves) *Weigher {
	w := &Weigher{counts: c, moves: m, homes: newTexts("home", "same county", &c.homes), burials: newTexts("burial", "this ground", &c.buried), fixed: newFixed()}
	w.speller = sync.OnceValue(func() *speller { return newSpeller(c.surnames.values) })
	w.surnameMen = sync.OnceValue(func() []int {
		men := make([]int, len(c.surnames.values))
		for i, surname := range c.surnames.values {
			men[i] = c.surnames.n[surname]
		}
		return men
	})
	w.givenNames = sync.OnceValue(func() []given {
		out := make([]given, len(c.givens.values))
		for i, other := range c.givens.values {
			out[i] = newGiven(model.Name{Given: other})
			out[i].men = c.givens.n[other]
		}
		return out
	})
	w.numbers = sync.OnceValue(func() *numbers {
		return &numbers{surnames: numberAll(c.surnames.values), givens: numberAll(c.givens.values), homes: numberAll(c.homes.values), burials: numberAll(c.buried.values)}
	})
	w.regiments = sync.OnceValue(func() map[bodyKey][]numbered { return countedRegiments(c) })
	w.soldiers = sync.OnceValue(func() []soldiers { return countSoldiers(c) })
	w.serviceKinds = sync.OnceValue(func() *serviceKinds { return newServiceKinds(c) })
	w.wars = sync.OnceValue(func() *wars { return countWars(w) })
	w.seconds = sync.OnceValue(func() map[string]*secondLines { return countSeconds(c) })
	w.suffixes = sync.OnceValue(func() float64 {
		given := 0
		for _, k := range c.suffixes.values {
			given += c.suffixes.n[k]
		}
		return chance("suffix", "any", 0, float64(given), float64(c.N))
	})
	return w
}

// NewPacked makes a Weigher that also weighs rows of the columns. The counts may be of more records than these.
func NewPacked(c *Counts, m *Moves, columns *Columns) *Weigher {
	w := New(c, m)
	w.packed = w.newPacked(columns)
	return w
}

// Columns are those that NewPacked was given, nil for a Weigher of New.
func (w *Weigher) Columns() *Columns {
	if w.packed == nil {
		return nil
	}
	return w.packed.c
}

// Stone is one claim of a stone made ready to be weighed against many records. It is for one goroutine.
type Stone struct {
	w        *Weigher
	subject  *model.Subject
	claim    *model.Claim
	surname  *surnameView
	given    *givenView
	second   *secondView
	suffix   *suffixView
	unit     unitView
	unitText string // as evidence has it, once it was asked for
	bearers  string // likewise, how many men bear the surname
	ranks    []line // by number of the columns' ranks
	birth    birthView
	death    deathView
	place    placeView
	design   designView
	own      [2]line // room for those of a record by itself
}

// Stone makes a subject's claim ready: usually its likeliest reading's first person.
func (w *Weigher) Stone(s *model.Subject, claim model.Claim) *Stone { return w.stone(s, &claim) }

// Person is Stone for a claim that stays where it is.
func (w *Weigher) Person(s *model.Subject, claim *model.Claim) *Stone { return w.stone(s, claim) }

// Told is Person for a stone of which lines are known and only spelled: nothing can be weighed against it.
func (w *Weigher) Told(s *model.Subject, claim *model.Claim) *Stone {
	v := &Stone{w: w, subject: s, claim: claim, unit: unitView{unit: legible(claim.Service.Unit)}, birth: birthView{born: bornOf(&claim.Person)}}
	written := claim.Person.Name.Surname
	v.surname = &surnameView{written: written, same: w.counts.surnames.n[name.Fold(written)]}
	if died := closed(claim.Person.Died); !died.From.IsZero() {
		v.death = deathView{died: died, days: daysOf(&died)}
	}
	v.place = placeView{place: &s.Stone.Place}
	v.design = designView{implies: &s.Implies, dated: !claim.Person.Died.IsZero()}
	return v
}

func (w *Weigher) stone(s *model.Subject, claim *model.Claim) *Stone {
	v := &Stone{w: w, subject: s, claim: claim}
	v.surname = w.surnameView(claim.Person.Name.Surname)
	v.given = w.givenView(claim.Person.Name)
	v.second = w.secondView(&claim.Person.Name)
	v.suffix = w.suffixView(claim.Person.Name.Suffix)
	v.unit = w.unitView(legible(claim.Service.Unit))
	v.ranks = v.rankLines()
	v.design = w.designView(s, claim)
	v.birth = w.birthView(claim, !v.design.silent)
	v.death = w.deathView(claim.Person.Died)
	v.place = w.placeView(&s.Stone.Place, claim)
	return v
}

// legible leaves out a company letter that is lost: it says nothing.
func legible(u model.Unit) model.Unit {
	if len(u.Company) != 1 || u.Company[0] < 'A' || u.Company[0] > 'Z' {
		u.Company = ""
	}
	return u
}

// Against weighs the stone against a record: the total in bits, and what it is made of, in the order of the fields. Fields that one side
// does not give are left out: they say nothing.
func (v *Stone) Against(r *model.Record) (float64, []model.Evidence) {
	var l Lines
	v.Record(r, &l)
	return l.Bits, v.Spell(&l, r)
}

// Record weighs the stone against a record.
func (v *Stone) Record(r *model.Record, l *Lines) {
	var f facts
	v.w.fromRecord(&f, r)
	v.weigh(&f, l)
}

// Ask makes rows ready that are about to be weighed.
func (w *Weigher) Ask(rows []uint32) { w.packed.ask(rows) }

// Row weighs the stone against row i of the columns. It comes to the same as Record does on the record that was packed there.
func (v *Stone) Row(i uint32, l *Lines) {
	var f facts
	v.w.packed.facts(&f, i)
	v.weigh(&f, l)
}

// weigh puts the lines of all fields in their places. What hangs on one value of the record is looked up by its number, and lines that are none are put there and added too: of all that can be
// guessed wrongly little is left.
func (v *Stone) weigh(f *facts, l *Lines) {
	x := &l.at
	surname := v.surname.against(f.surname)
	x[surnameAt] = surname.line
	given, middle := v.given.against(f)
	x[givenAt] = *given
	x[middleAt] = f.seconds[v.second[middle]%secondRoom]
	x[suffixAt] = *v.suffixLine(f)
	unit := v.unit.against(f)
	if f.told&toldUnit != 0 {
		unit = v.later(f, unit)
	}
	x[unitAt] = unit.line
	kin := kinship[unit.level%unitRoom]
	x[kinAt] = surname.kin[kin%kinRoom]
	x[rankAt] = *v.rank(f)
	x[birthAt] = *v.birth.against(f)
	x[deathAt] = *v.death.against(f)
	x[burialAt] = *v.place.burial(f)
	x[homeAt] = *v.place.home(f, surname, kin)
	x[designAt] = *v.design.against(f, unit.level)
	if f.told&toldName != 0 && !surname.oneName {
		v.byOtherName(f, x)
	}
	l.sum()
}

// How nearly two men of one name may be kin, by how far their units agree.
const (
	noKin = iota
	kinOfRegiment
	kinOfCompany

	kinRoom = 4 // above all of them
)

var kinship = [unitRoom]uint8{unitCompany: kinOfCompany, unitNumberCompany: kinOfCompany, unitRegiment: kinOfRegiment, unitLaterCompany: kinOfCompany, unitLaterRegiment: kinOfRegiment}

// kinExcess is how much greater the chance of one surname is for two men of one company than for two men of all. By how much the share of pairs of one surname is
// greater within a company than in the whole roster is the same for every name, so that it weighs the more the rarer the name is: of two men of one company named Smith few
// are kin, of two named Quackenbush nearly all.
var kinExcess = sync.OnceValue(func() float64 {
	l := start("kin", "brothers in arms")
	return l.u - l.m
})

// KinExcess is the chance by which one surname is commoner for two men of one company than for two men of all.
func KinExcess() float64 { return kinExcess() }

// Company is how many of the rosters' men are of the stone's company, as far as it gives it; 0 where it gives none.
func (v *Stone) Company() int {
	a := &v.unit.parts
	switch {
	case a.letter == "" || !a.numbered:
		return 0
	case a.body == "":
		return v.unit.men("nc:"+a.regiment+"/", "/"+a.letter)
	}
	return v.unit.men("c:"+a.body+"/"+a.regiment+"/", "/"+a.letter)
}

// Bearers is the share of the rosters' men whose surname agrees with the stone's at a level, by the level's number; 0 where that is no level of one name.
func (v *Stone) Bearers(level uint8) float64 {
	for i := range v.surname.levels {
		if l := &v.surname.levels[i]; l.line.level == level && l.oneName {
			return l.u
		}
	}
	return 0
}

// kinHome is the chance of a level of the home for two men of one surname, borne by such a share of men, in one company: kin live in one county as surely as a man
// lies in his own.
func kinHome(m, u, share float64) float64 {
	kin := kinExcess() / (share + kinExcess())
	return kin*m + (1-kin)*u
}

// suffixView is a stone's Jr, Sr or numeral. A stone with one whose man's record has none is the less of an exception the fewer the rosters give at all.
type suffixView struct {
	given                                  bool
	folded                                 string
	same, different, stoneOnly, recordOnly line
	lines                                  []line // by number of the columns' suffixes
}

// suffixView makes the lines of a stone's suffix, of none too, once a suffix.
func (w *Weigher) suffixView(suffix string) *suffixView {
	if v, ok := w.suffixViews.Load(suffix); ok {
		return v.(*suffixView)
	}
	v := w.newSuffixView(suffix)
	if w.packed != nil {
		for i, folded := range w.packed.suffixes {
			v.lines = append(v.lines, v.against(folded, i > 0))
		}
	}
	w.suffixViews.Store(suffix, v)
	return v
}

func (w *Weigher) newSuffixView(suffix string) *suffixView {
	if suffix == "" {
		l := start("suffix", "record only")
		return &suffixView{recordOnly: lineOf("suffix", "record only", l.m, l.u)}
	}
	c := w.counts
	v := &suffixView{given: true, folded: name.Fold(suffix)}
	share := w.suffixes()
	alike := chance("suffix", "same", 0, float64(c.suffixes.n[v.folded]), float64(c.N))
	told := min(1, share/usualSuffix) // how far these rosters give suffixes
	v.stoneOnly = lineOf("suffix", "stone only", 1-told*(1-start("suffix", "stone only").m), 1-share)
	v.same = lineOf("suffix", "same", told*start("suffix", "same").m, alike)
	l := start("suffix", "different")
	v.different = lineOf("suffix", "different", l.m, l.u)
	return v
}

// suffixLine compares the suffixes.
func (v *Stone) suffixLine(f *facts) *line {
	if f.packed != nil {
		return &v.suffix.lines[f.suffix]
	}
	suffix := f.record.Person.Name.Suffix
	v.own[1] = v.suffix.against(name.Fold(suffix), suffix != "")
	return &v.own[1]
}

// against is the line of a record's suffix, folded, where it gives one.
func (v *suffixView) against(folded string, given bool) line {
	switch {
	case !v.given && !given:
		return line{}
	case !v.given:
		return v.recordOnly
	case !given:
		return v.stoneOnly
	case v.folded == folded:
		return v.same
	}
	return v.different
}

// usualSuffix is the share of men with a suffix from which a roster is taken to give them as a rule. House judgement.
const usualSuffix = 0.015
