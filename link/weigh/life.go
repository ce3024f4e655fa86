package weigh

import (
	"fmt"
	"math"
	"slices"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// birthView is when a stone's man was born, and how the rosters' men compare.
type birthView struct {
	w        *Weigher
	born     date.Date // as evidence has it; zero where it is not known
	from, to int       // the years, from 0 where it is not known
	*bornAt            // nil where it is not known
	lines    *birthLines
	told     bool // the stone tells of its war, or its design does
	wars     *[knownWars]knownWar
	services *[knownServices]bornService // nil where the birth is not known
}

// bornAt is what the rosters say of a birth in the span of some years, worked out once a span.
type bornAt struct {
	share float64               // see Born
	n     [len(birthLevels)]int // men at each level
	lines [2]birthLines         // of a stone that does not tell of its war, and of one that does: that is weighed already
}

// birthLines are the lines of birthLevels; those beyond are none.
type birthLines [birthRoom]line

// knownWars is how many wars' lines are kept in mind.
const knownWars = 8

type knownWar struct {
	number uint16 // see wars
	lines  *birthLines
}

// knownServices is how many services are kept in mind.
const knownServices = 16

// bornService is what a service of the columns tells of a birth.
type bornService struct {
	number int32 // of the service's kind, plus 1
	age    uint8 // the level of a record that gives no birth
	lines  *birthLines
}

// nearYears are the years about a stone's birth in which the rosters' men are counted, for their share in one of them.
const nearYears = 5

// knownYears is within how many years a birth must be known for its share to tell anything.
const knownYears = 10

// Born is the year in which the stone's man was born, 0 where it is not known within ten, and the share of the rosters' men who were born in a year near it.
func (v *Stone) Born() (year int, share float64) {
	b := &v.birth
	if b.bornAt == nil || b.to-b.from > knownYears || b.w.counts.born == 0 {
		return 0, 0
	}
	return (b.from + b.to) / 2, b.share
}

// birthLevels are the levels of a birth in the order of their numbers here.
var birthLevels = [...]string{"same", "one year", "near", "far", "round same", "round near", "round far", "another generation", "of age", "not of age"}

// bornOf is when a stone's person was born, zero where that is open on one side.
func bornOf(p *model.Person) date.Date {
	born := p.Born
	if born.IsZero() && !p.Age.IsZero() && !p.Died.IsZero() {
		born = date.BirthFrom(p.Died, p.Age)
	}
	return closed(born)
}

func (w *Weigher) birthView(claim *model.Claim, told bool) birthView {
	v := birthView{w: w, born: bornOf(&claim.Person), told: told}
	if v.born.From.IsZero() {
		return v
	}
	v.from, v.to, v.services = v.born.From.Year, v.born.To.Year, new([knownServices]bornService)
	span := [2]int{v.from, v.to}
	if at, ok := w.births.Load(span); ok {
		v.bornAt = at.(*bornAt)
	} else {
		v.bornAt = w.bornAt(v.from, v.to)
		w.births.Store(span, v.bornAt)
	}
	v.lines = &v.bornAt.lines[0]
	if !claim.Service.IsZero() {
		v.lines = &v.bornAt.lines[1]
	}
	return v
}

func (w *Weigher) bornAt(first, last int) *bornAt {
	v := &bornAt{}
	n, all := &v.n, [2]int{}       // men at each level, and of either kind of birth; see total
	mid, born := (first+last)/2, 0 // of the men born near it, in parts of one
	const part = 1 << 20           // whole numbers add up to the same in any order
	for key, k := range w.counts.births {
		from, to, round := birthOf(key)
		n[birthLevel(yearsApart(first, last, from, to), round)] += k
		if round {
			all[1] += k
		} else {
			all[0] += k
		}
		if near := min(to, mid+nearYears/2) - max(from, mid-nearYears/2) + 1; near > 0 {
			born += k * near * part / (to - from + 1)
		}
	}
	v.share = float64(born) / part / nearYears / float64(max(1, w.counts.born))
	for _, s := range w.soldiers() {
		n[ageLevel(first, last, s.born)] += s.men
	}
	lines := linesOf(n, all)
	v.lines = [2]birthLines{lines, lines}
	v.lines[1][ofAge] = line{}
	return v
}

// linesOf are the lines where so many men are at each level, of so many of either kind of birth. That a birth is far off never speaks for a man, however few of the others were born so far from it: those who made him
// older or younger than he was made him of an age at which men served.
func linesOf(n *[len(birthLevels)]int, all [2]int) (lines birthLines) {
	for i, level := range birthLevels {
		total := all[0]
		switch {
		case i >= ofAge:
			total = n[ofAge] + n[notOfAge]
		case i == anotherGeneration:
			total = all[0] + all[1]
		case i >= firstRound:
			total = all[1]
		}
		lines[i] = lineOf("birth", level, start("birth", level).m, chance("birth", level, 0, float64(n[i]), float64(total)))
		if i == farOff || i == roundFarOff || i == anotherGeneration {
			lines[i].bits = min(0, lines[i].bits)
		}
	}
	return lines
}

// ofWar are the lines of records of a war, by its number. Where the war of stone and record is weighed already, by the unit or the design, a birth is set beside those of the war's men: who was born in 1893 is one in
// a hundred of men of all wars, and of those of 1917 one in ten.
func (v *birthView) ofWar(number uint16) *birthLines {
	if v.wars != nil && v.wars[number%knownWars].number == number {
		return v.wars[number%knownWars].lines
	}
	return v.newWar(number)
}

// newWar works out ofWar.
func (v *birthView) newWar(number uint16) *birthLines {
	if v.wars == nil {
		v.wars = new([knownWars]knownWar)
	}
	all := v.w.wars().births[number]
	rest, n := all, v.n
	for i := range anotherGeneration {
		kind := i / firstRound
		n[i] = min(n[i], rest[kind])
		rest[kind] -= n[i]
	}
	n[anotherGeneration] = rest[0] + rest[1]
	lines := linesOf(&n, all)
	lines[ofAge], lines[notOfAge] = v.lines[ofAge], v.lines[notOfAge]
	v.wars[number%knownWars] = knownWar{number, &lines}
	return &lines
}

// wars are the spans of years in which men were born who served together, numbered from 1 on, with the men born in them by either kind of birth.
type wars struct {
	number map[bornIn]uint16
	births [][2]int
}

// countWars counts the men born in the years of each war.
func countWars(w *Weigher) *wars {
	const years = 4096
	var before [years + 1][2]int // the men born before a year
	year := func(y int) int { return min(years-1, max(0, y)) }
	for key, men := range w.counts.births {
		from, to, round := birthOf(key)
		kind := 0
		if round {
			kind = 1
		}
		before[year((from+to)/2)+1][kind] += men
	}
	for y := range years {
		before[y+1][0], before[y+1][1] = before[y+1][0]+before[y][0], before[y+1][1]+before[y][1]
	}
	x := &wars{number: map[bornIn]uint16{}, births: [][2]int{{}}}
	for _, s := range w.soldiers() {
		if len(x.births) > math.MaxUint16 {
			break
		}
		from, to := &before[year(int(s.born.from))], &before[year(int(s.born.to))+1]
		x.number[s.born] = uint16(len(x.births))
		x.births = append(x.births, [2]int{to[0] - from[0], to[1] - from[1]})
	}
	return x
}

const (
	farOff            = 3
	firstRound        = 4 // the first of birthLevels that are of ages in round figures
	roundFarOff       = 6
	anotherGeneration = 7 // of ages in round figures or not
	ofAge             = 8 // where the record gives no birth, and the stone's fits the years of its service
	notOfAge          = 9
	noBirth           = 10 // nothing is known of it
	birthRoom         = 16 // above all of them
)

// bornIn are the years of birth of those who plausibly served when a man did, both 0 where it is not known when he did. A record that gives no birth says that much of it: who was
// born in 1890 did not serve in 1861.
type bornIn struct{ from, to int16 }

// stillGoing is bornIn.to of a war that is not over.
const stillGoing = math.MaxInt16

func (b bornIn) String() string {
	if b.to == stillGoing {
		return fmt.Sprintf("%d and after", b.from)
	}
	return fmt.Sprintf("%d to %d", b.from, b.to)
}

// The ages at which men plausibly served are those of the table conflicts, where it is known which war it was, and else these at the first and the last of the dates.
const oldest, youngest = 62, 14

func bornInOf(s *model.Service) (b bornIn) {
	if len(s.Conflicts) > 0 {
		for _, code := range s.Conflicts {
			c, ok := vocab.Conflict(code)
			if !ok || c.BornFrom == 0 {
				return bornIn{}
			}
			if b.from == 0 || int16(c.BornFrom) < b.from {
				b.from = int16(c.BornFrom)
			}
			to := int16(c.BornTo)
			if to == 0 {
				to = stillGoing
			}
			b.to = max(b.to, to)
		}
		return b
	}
	first, last := 0, 0
	for _, d := range [...]*date.Date{&s.Enlisted, &s.MusteredIn, &s.MusteredOut} {
		if d.From.IsZero() || d.To.IsZero() {
			continue
		}
		if first == 0 || d.From.Year < first {
			first = d.From.Year
		}
		last = max(last, d.To.Year)
	}
	if first == 0 {
		return bornIn{}
	}
	return bornIn{int16(first - oldest), int16(last - youngest)}
}

// soldiers are men who were born in the same years, as far as their service says.
type soldiers struct {
	born bornIn
	men  int
}

// countSoldiers counts the men of each such span.
func countSoldiers(c *Counts) []soldiers {
	var out []soldiers
	for i := range c.services {
		b := bornInOf(&c.services[i].of)
		if b == (bornIn{}) {
			continue
		}
		k := slices.IndexFunc(out, func(s soldiers) bool { return s.born == b })
		if k < 0 {
			k = len(out)
			out = append(out, soldiers{born: b})
		}
		out[k].men += c.services[i].men
	}
	return out
}

// ageLevel says whether a man born in some years was of age to serve when others did who were born in those years.
func ageLevel(first, last int, b bornIn) int {
	if last < int(b.from) || int(b.to) < first {
		return notOfAge
	}
	return ofAge
}

// birthCount is a span of years in which men were born, and whether it follows from an age in round figures, as one number to count by.
func birthCount(from, to int16, round bool) int {
	key := (int(from)<<14 | int(to)) << 1
	if round {
		key++
	}
	return key
}

// birthOf is the span of a birthCount, and whether the age was round.
func birthOf(key int) (from, to int, round bool) {
	return key >> 15, key >> 1 & (1<<14 - 1), key&1 == 1
}

// roundAge reports whether the record's man gave an age in round figures and no date of birth.
func roundAge(r *model.Record) bool {
	return r.Person.Born.IsZero() && inRoundFigures(&r.Person.Age)
}

func inRoundFigures(a *date.Age) bool { return a.Years%5 == 0 }

// bornService works out what a record's service tells.
func (v *birthView) bornService(f *facts) bornService {
	s := bornService{number: max(f.service+1, 0), age: noBirth, lines: v.lines} // of a strange one nothing is kept in mind
	born, war := f.bornIn(v.w)
	if born.from != 0 {
		s.age = uint8(ageLevel(v.from, v.to, born))
	}
	if v.told && war > 0 {
		s.lines = v.ofWar(war)
	}
	return s
}

// yearsApart is how many years lie between two spans; 0 where they overlap or touch in a year.
func yearsApart(aFrom, aTo, bFrom, bTo int) int {
	switch {
	case aTo < bFrom:
		return bFrom - aTo
	case bTo < aFrom:
		return aFrom - bTo
	}
	return 0
}

// birthLevel is the level of so many years between two births, a number of birthLevels; round where one of them follows from an age in round figures.
func birthLevel(years int, round bool) int {
	switch {
	case years >= farYears:
		return anotherGeneration
	case round && years == 0:
		return firstRound
	case round && years <= 3:
		return firstRound + 1
	case round:
		return firstRound + 2
	case years == 0:
		return 0
	case years == 1:
		return 1
	case years <= 5:
		return 2
	}
	return 3
}

func (v *birthView) against(f *facts) *line {
	if v.services == nil {
		return &noLine
	}
	s := &v.services[uint32(f.service)%knownServices]
	if s.number != f.service+1 {
		*s = v.bornService(f)
	}
	years := max(int(f.born[0])-v.to, v.from-int(f.born[1]), 0) // yearsApart
	level := birthTable[f.bornAs%bornWays][min(years, farYears)]
	never := -(f.bornAs / bornNever) // all bits or none
	return &s.lines[(level&^never|s.age&never)%birthRoom]
}

// farYears are so many that they are of another generation, a father's or a son's: no wrong age is as wrong. House judgement.
const farYears = 16

// How a record gives a birth, a bit each.
const (
	bornRound = 1 << iota // by an age in round figures
	bornNever             // not at all
	bornWays
)

// birthTable is birthLevel by how the record gives the birth and by the years, up to farYears.
var birthTable = func() (t [bornWays][farYears + 1]uint8) {
	for as := range t {
		for years := range farYears + 1 {
			t[as][years] = uint8(birthLevel(years, as&bornRound != 0))
		}
	}
	return t
}()

// deathView is when a stone's man died.
type deathView struct {
	w           *Weigher
	died        date.Date
	days        days // of the death, both 0 where one of them is not known
	day         day
	first, last int // years
	lines       *deathLines
}

// deathLines are the lines of deathLevels; those beyond are none.
type deathLines [deathRoom]line

// deathLevels are the levels of a death in the order of their numbers here.
var deathLevels = [...]string{"same day", "same month", "same year", "one year", "ten years", "different", "year agrees", "next year", "another year"}

const (
	otherDeath  = 5
	yearAgrees  = 6 // the first of deathLevels that are of years alone: the same, the next, another
	anotherYear = 8
	noDeath     = 9 // the record gives none
	deathRoom   = 16
)

// closed is a date, zero where it is open on one side.
func closed(d date.Date) date.Date {
	if d.From.IsZero() || d.To.IsZero() {
		return date.Date{}
	}
	return d
}

func (w *Weigher) deathView(died date.Date) deathView {
	v := deathView{w: w, died: closed(died)}
	if v.died.From.IsZero() {
		return v
	}
	v.days, v.day = daysOf(&v.died), newDay(&v.died)
	if v.day.month == 0 {
		v.day.month = missing // as no other has it
	}
	v.first, v.last = int(v.day.first), int(v.day.last)
	if lines, ok := w.deaths.Load(v.days); ok {
		v.lines = lines.(*deathLines)
	} else {
		v.lines = w.deathLines(&v.died)
		w.deaths.Store(v.days, v.lines)
	}
	return v
}

// deathLines are the lines of a day of death, worked out once a day.
func (w *Weigher) deathLines(died *date.Date) *deathLines {
	lines, c := new(deathLines), w.counts
	k := map[string]float64{}
	if died.From == died.To {
		k["same day"] = float64(c.deathDays.n[died.From.String()])
	}
	for y, n := range c.deaths {
		switch yearsApart(died.From.Year, died.To.Year, y, y) {
		case 0:
			k["same year"] += float64(n)
		case 1:
			k["one year"] += float64(n)
		case 10:
			k["ten years"] += float64(n)
		}
	}
	k["same month"] = k["same year"] / 12
	k["different"] = float64(c.died) - k["same year"] - k["one year"] - k["ten years"]
	k["year agrees"], k["next year"], k["another year"] = k["same year"], k["one year"], k["ten years"]+k["different"]
	for i, level := range deathLevels {
		u := chance("death", level, 0, k[level], float64(c.died))
		if i != otherDeath && i != anotherYear {
			u = w.ofAll(u, priors()[[2]string{"death", level}].share)
		}
		lines[i] = lineOf("death", level, start("death", level).m, u)
	}
	return lines
}

// ofAll is the chance that any man of the rosters died as near to the stone's day as a level has it, by the share of them among the men whose deaths the rosters give. Those are no sample of all: a roster gives the death of nearly every
// man who died in the service, and of few others (common practice, no source), so that half of them have died in one year and hardly a man in a hundred of all has. Where the rosters' men lie in time as all men's deaths
// do, as the table's share has it, their share is taken as it is.
func (w *Weigher) ofAll(u, usual float64) float64 {
	told := float64(w.counts.died) / float64(max(1, w.counts.N))
	return min(u, max(told*u, usual))
}

// level is how far two deaths agree, a number of deathLevels. Where one side gives no more than the year, that is all that can agree, and that it does not agree on the day says nothing.
func (v *deathView) level(other *day) uint8 {
	years := min(max(int(other.first)-v.last, v.first-int(other.last), 0), mostYears) // yearsApart
	as := other.as&v.day.as | bit(other.month == v.day.month)*deathMonth | bit(other.from == v.day.from)*deathDay
	return deathTable[as%deathWays][years]
}

// What is known of two deaths, a bit each.
const (
	deathWhole = 1 << iota // both days
	deathGiven             // both, at least the years
	deathMonth             // they are in one month
	deathDay               // they begin on one day
	deathWays
)

// mostYears apart are as many as any more.
const mostYears = 11

// deathTable is the level by what is known of two deaths and by the years between them.
var deathTable = func() (t [deathWays][mostYears + 1]uint8) {
	for as := range t {
		for years := range mostYears + 1 {
			level := otherDeath
			switch {
			case as&deathGiven == 0:
				level = noDeath
			case as&deathWhole != 0 && as&deathDay != 0:
				level = 0
			case as&deathMonth != 0:
				level = 1
			case as&deathWhole == 0:
				level = yearAgrees + min(years, 2)
			case years == 0:
				level = 2
			case years == 1:
				level = 3
			case years == 10:
				level = 4
			}
			t[as][years] = uint8(level)
		}
	}
	return t
}()

func (v *deathView) against(f *facts) *line {
	if v.days.from == 0 {
		return &noLine
	}
	level := v.level(&f.died)
	if level == noDeath && v.before(f.left()) {
		return &v.w.fixed.diedInIt
	}
	return &v.lines[level%deathRoom]
}

// before reports whether the stone's man was dead before that day.
func (v *deathView) before(last int32) bool { return last != 0 && v.days.to < last }

// beforeLeaving is the first of the days of a record's service before which the stone's man was dead, in words; "" where he was not, but for its war.
func (v *deathView) beforeLeaving(s *model.Service) string {
	for _, last := range [...]*date.Date{&s.MusteredOut, &s.Enlisted, &s.MusteredIn} {
		if v.before(dayNumber(last.From)) {
			return spellDate(*last)
		}
	}
	return ""
}
