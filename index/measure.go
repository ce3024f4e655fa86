package index

import (
	"math"
	"math/bits"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// The rough measure by which candidates are ranked before they are weighed with care: for each field, log2 of how much oftener it looks so
// for one man than for two, the one share set by hand (common practice, no source), the other taken from the records themselves.
// It decides only who is among the candidates, never who is proposed.
var (
	// How often the true man's surname is so alike, by the lists of alike: about as counted on the made surveys of seven makers.
	surnameShares = [likeLists]float64{.86, .06, .04, .008, .006, .010, .006, .002, .002}
)

const (
	otherSurname = -8.0 // bits of a surname that is not alike at all
	likeSurname  = 7.0  // what of these a surname with the same letters in the same places would take back

	sameGiven, rootGiven, nearGiven, initialGiven = .8, .08, .03, .95
	otherGiven, middleAsGiven                     = -4.0, -1.5

	sameRegiment, lostRegiment, digitRegiment, otherRegiment, otherState = .7, 5.0, 4.0, -2.5, -5.0
	sameCompany, otherCompany                                            = 3.25, -4.0
	sameMiddle, otherMiddle                                              = 2.75, -3.0
	noMiddle, recordMiddle                                               = 0.25, -0.8125 // where the stone has a given name alone: the record too; one more
	exchanged                                                            = 1.0           // of other given names, first and second initial the other way round
	homeOdds                                                             = 3.0           // how much oftener than other men, for one of theirs, who served for the burial ground's state
	anotherPerson, wrongWayRound                                         = -1.0, -6.0    // of a further person on the stone; of a clerk who wrote the surname for the given name
	otherSide, otherWar, sameWar                                         = -4.0, -3.0, 0.5
	diedBefore, notOfAge                                                 = -6.0, -5.0
	buriedHere, livedHere                                                = 6.0, 2.0
	// Surname and given name, neither alike, of a man of the stone's unit whose remarks tell of another name, and of a substitute.
	otherNameTold, substituteName = -2.0, -4.0
)

// A scorer has what the measure needs of the records as a whole, and remembers the work done for one name or unit for the next stone with the same.
type scorer struct {
	roll   *roll
	givens func() []givenForm
	wars   func() []model.Conflict // by the number of their bit, those that have one of their own
	units  func() *unitCounts
	byWord func() map[string][]uint32 // places

	alikes   memory[string, alike]
	byGiven  memory[string, []int16]
	byUnit   memory[unitWanted, unitTable]
	byBurial memory[string, placeTable]
	byHome   memory[string, placeTable]
}

// A memory remembers what was worked out for a key. When it is full it forgets all.
type memory[K comparable, V any] struct {
	mu   sync.Mutex
	size int
	m    map[K]V
}

// get gives what is remembered for the key, or makes it.
func (m *memory[K, V]) get(k K, work func() (V, error)) (V, error) {
	m.mu.Lock()
	v, ok := m.m[k]
	m.mu.Unlock()
	if ok {
		return v, nil
	}
	v, err := work()
	if err != nil {
		return v, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.m == nil || len(m.m) >= m.size {
		m.m = make(map[K]V)
	}
	m.m[k] = v
	return v, nil
}

func newScorer(r *roll) *scorer {
	s := &scorer{roll: r}
	// The tables are remembered to about 8 MB each.
	room := func(n int) int { return max(16, (8<<20)/(2*n+64)) }
	s.alikes.size = 8192
	s.byGiven.size, s.byUnit.size = room(len(r.givens)), room(len(r.units))
	s.byBurial.size, s.byHome.size = room(len(r.places)), room(len(r.places))
	s.givens = sync.OnceValue(func() []givenForm { return givenForms(r) })
	s.wars = sync.OnceValue(func() []model.Conflict { return warsOf(r) })
	s.units = sync.OnceValue(func() *unitCounts { return countUnits(r) })
	s.byWord = sync.OnceValue(func() map[string][]uint32 { return wordsOfPlaces(r.places) })
	return s
}

// A surnameHit is a surname that may be the stone's, and what that is worth.
type surnameHit struct {
	surname uint32
	bits    int16
}

// A measure scores rows against one claim.
type measure struct {
	scorer   *scorer
	names    *names
	pattern  string // the stone's surname, folded
	spelling *spellingPattern
	surnames []surnameHit // the likeliest first
	units    []uint32     // units that are the stone's
	blank    bool         // nothing of the surname can be read
	// A surname that is not among them is so many edits from the pattern at least, and the longer of the two so many letters at most, or the more edits.
	apart, longest int

	given            []int16 // by the number of the given name
	unit             unitTable
	burial, home     placeTable            // empty where there is nothing to compare
	letters          [1 << 10]int16        // by the letters of company and middle name in a row's head: their worth, or the most that it may be
	known            [1 << knownBits]int16 // by what else of a row is known: the most that it may be worth
	mostLetters      int32                 // the most that letters gives
	mostOther        int32                 // the most that otherSurname gives for a man who has a surname
	middle, company  byte
	givenInitial     byte
	bornFrom, bornTo int16
	diedFrom, diedTo int16
	wars             uint16
	never            uint16 // the wars in which the stone's man cannot have served, by his birth and death
	side             byte
}

// measure makes m the measure of a claim.
func (x *Index) measure(m *measure, s *model.Subject, c *model.Claim) error {
	sc := x.scorer
	p, v := &c.Person, &c.Service
	*m = measure{scorer: sc, names: x.names, pattern: name.Fold(p.Name.Surname)}
	m.blank = strings.Trim(m.pattern, "?*") == ""
	found, err := sc.alikes.get(m.pattern, func() (alike, error) {
		a := x.names.find(m.pattern)
		return alike{pattern: a.pattern, apart: a.apart, longest: a.longest, hits: sc.hits(&a)}, nil
	})
	if err != nil {
		return err
	}
	m.spelling, m.apart, m.longest, m.surnames = found.pattern, found.apart, found.longest, found.hits

	g := givenKey(p.Name)
	m.given, _ = sc.byGiven.get(g, func() ([]int16, error) { return givenTable(x.roll, sc.givens(), g), nil })
	m.middle, m.givenInitial = firstLetter(p.Name.Middle), firstLetter(g)

	wanted := unitWanted{key: keyOf(v.Unit)}
	if v.Unit.Designation() == "" {
		wanted.home = c.Home
		if wanted.home == "" && s.Stone != nil {
			wanted.home = s.Stone.Place.State
		}
	}
	m.unit, _ = sc.byUnit.get(wanted, func() (unitTable, error) { return sc.unitTable(wanted, v.Unit), nil })
	m.units = m.unit.same
	if !unit.Transferred(v.Unit) { // else it is not that of the regiment with which he stands
		m.company = firstLetter(v.Unit.Company)
	}

	m.bornFrom, m.bornTo = birthOfClaim(p)
	m.diedFrom, m.diedTo = years(p.Died)
	m.never = m.warsNever()
	for _, w := range v.Conflicts {
		if i := slices.Index(x.roll.wars, w); i >= 0 {
			m.wars |= 1 << min(i, 15)
		} else {
			m.wars |= 1 << 15
		}
	}
	if m.side = firstLetter(string(v.Side)); m.side == 0 {
		m.side = impliedSide(s.Implies)
	}
	if s.Stone != nil && len(x.roll.places) > 1 {
		pl := s.Stone.Place
		m.burial, _ = sc.byBurial.get(pl.Cemetery+"\x00"+pl.County, func() (placeTable, error) {
			return sc.placeTable(pl.Cemetery, pl.County, buriedHere), nil
		})
		m.home, _ = sc.byHome.get(pl.County, func() (placeTable, error) {
			return sc.placeTable("", pl.County, livedHere), nil
		})
	}
	m.foresee()
	return nil
}

// hits gives every surname found its bits: the rarer are the men so named, the more.
func (s *scorer) hits(a *alike) []surnameHit {
	lists, n := a.lists(), 0
	for _, list := range lists {
		n += len(list)
	}
	hits := make([]surnameHit, 0, n)
	all := float64(s.roll.men)
	for k, list := range lists {
		men := 0.5
		for _, n := range list {
			men += float64(s.roll.count(n))
		}
		bits := sixteenths(math.Log2(surnameShares[k] * all / men))
		for _, n := range list {
			hits = append(hits, surnameHit{n, bits})
		}
	}
	return hits
}

// otherSurname is the worth of a surname that was not found by name, for a man found by his unit; or less than least, where it is that.
func (m *measure) otherSurname(n uint32, least int32) int32 {
	if m.blank || n == 0 {
		return 0
	}
	p := m.spelling
	if other := &m.names.known[n]; p.packed != 0 && other.packed != 0 {
		longest := max(len(m.pattern), other.packed.Len())
		// Each edit takes away one of the pattern's letters at most, and brings one.
		if most := worthOfOther(max(bits.OnesCount64(p.letters&^other.letters), bits.OnesCount64(other.letters&^p.letters)), longest); most < least {
			return most
		}
		return worthOfOther(p.table.Edits(other.packed), longest)
	}
	s := m.names.roll.surnames[n]
	longest := max(len(m.pattern), len(s))
	return worthOfOther(min(p.distance(s, longest), longest), longest)
}

// worthOfOther is the worth of a surname so many edits off, of names of which the longer has so many letters.
func worthOfOther(far, longest int) int32 {
	return int32(16 * (otherSurname + likeSurname*(1-float64(far)/float64(longest))))
}

// foresee fills the tables of what more can give for a row, by what its head says.
func (m *measure) foresee() {
	worth := func(mine byte, same, other int16) (table [32]int16) {
		if mine != 0 {
			for i := 1; i < len(table); i++ {
				table[i] = other
			}
			table[mine&31] = same
		}
		return table
	}
	company, middle := worth(m.company, sameCompany*16, otherCompany*16), worth(m.middle, sameMiddle*16, otherMiddle*16)
	switch first := m.givenInitial & 31; {
	case m.givenInitial == 0:
	case m.middle == 0:
		middle = worth(first, (middleAsGiven-otherGiven)*16, recordMiddle*16)
		middle[0] = noMiddle * 16
	case m.middle != m.givenInitial:
		middle[first] = (exchanged - otherGiven) * 16
	}
	for i := range m.letters {
		m.letters[i] = company[i&31] + middle[i>>headMiddle]
	}
	if !m.blank {
		m.mostOther = worthOfOther(m.apart, m.longest)
	}
	for i := range m.known {
		b, known := int32(0), uint(i)<<10
		if known&headFirstWar != 0 {
			b += m.war(1)
		} else if m.wars != 0 {
			b += sameWar * 16
		}
		if m.bornFrom != 0 && known&headBorn != 0 {
			b += bornBits[0]
		}
		if m.diedTo != 0 && known&headDied != 0 {
			b += diedBits[0]
		}
		if known&headHome != 0 {
			b += int32(m.home.most)
		}
		if known&headBuried != 0 {
			b += int32(m.burial.most)
		}
		if known&headOther != 0 {
			b += max(0, otherNames[otherTold]-otherGiven*16-m.mostOther)
		}
		m.known[i] = int16(b)
	}
	m.mostLetters = int32(slices.Max(company[:])) + int32(slices.Max(middle[:]))
}

// most is the most that given name, unit and all that more looks at can be worth.
func (m *measure) most(h head) int32 {
	return int32(m.given[h.given()]) + int32(m.unit.bits[h.unit()]) + int32(m.letters[h.traits()&(1<<10-1)]) + int32(m.known[h.traits()>>10&(1<<knownBits-1)])
}

// otherNames is the worth of surname and given name of a man of the stone's unit whose own are not the stone's, by what his remarks tell of another name.
var otherNames = [...]int32{otherTold: otherNameTold * 16, otherSubstitute: substituteName * 16}

// more is what all of a row but surname, given name and unit is worth.
func (m *measure) more(w *row) int32 {
	b := int32(0)
	switch second := w.middle == m.givenInitial && m.given[w.given] == otherGiven*16; { // he may go by his second name
	case m.middle == 0 && m.givenInitial == 0:
	case m.middle == 0 && w.middle == 0:
		b += noMiddle * 16
	case w.middle == 0:
	case m.middle == w.middle:
		b += sameMiddle * 16
	case m.middle == 0 && second:
		b += (middleAsGiven - otherGiven) * 16
	case m.middle == 0:
		b += recordMiddle * 16
	case second && m.middle == m.scorer.givens()[w.given].initial:
		b += (exchanged - otherGiven) * 16
	default:
		b += otherMiddle * 16
	}
	if m.company != 0 && w.company != 0 {
		if m.company == w.company {
			b += sameCompany * 16
		} else {
			b += otherCompany * 16
		}
	}
	if m.bornFrom != 0 && w.bornFrom != 0 {
		b += bornBits[gap(m.bornFrom, m.bornTo, w.bornFrom, w.bornTo)]
	}
	if m.diedTo != 0 {
		if w.diedFrom != 0 {
			b += diedBits[gap(m.diedFrom, m.diedTo, w.diedFrom, w.diedTo)]
		} else if w.last > m.diedTo {
			b += diedBefore * 16
		}
	}
	if w.conflicts != 0 {
		b += m.war(w.conflicts)
	}
	if m.side != 0 && w.side != 0 && m.side != w.side {
		b += otherSide * 16
	}
	if m.burial.most > 0 {
		b += int32(m.burial.bits[w.buried])
	}
	if m.home.most > 0 {
		b += int32(m.home.bits[w.home])
	}
	return b
}

// war is what it is worth that a man served in these wars.
func (m *measure) war(conflicts uint16) int32 {
	b := int32(0)
	if conflicts&^m.never == 0 {
		b += notOfAge * 16
	}
	switch {
	case m.wars == 0:
	case m.wars&conflicts == 0:
		b += otherWar * 16
	default:
		b += sameWar * 16
	}
	return b
}

// The worth of years by how far they are apart, in sixteenths of a bit; the last is for all that are farther.
var (
	bornBits = [...]int32{3 * 16, 2 * 16, 1 * 16, 0, -1 * 16, -2 * 16, -3 * 16, -3 * 16, -4 * 16}
	diedBits = [...]int32{5 * 16, 1 * 16, -1 * 16, -2 * 16, -3 * 16, -4 * 16, -4 * 16, -4 * 16, -4 * 16}
)

// gap is how many years lie between two spans, 0 where they meet, at most 8.
func gap(aFrom, aTo, bFrom, bTo int16) int {
	return int(min(max(int(bFrom)-int(aTo), int(aFrom)-int(bTo), 0), 8))
}

// birthOfClaim is when the person on a stone was born: as written, or by the age at death.
func birthOfClaim(p *model.Person) (from, to int16) {
	if !p.Born.IsZero() {
		return years(p.Born)
	}
	from, to = years(p.Died)
	if from == 0 || p.Age.IsZero() {
		return 0, 0
	}
	return from - int16(min(p.Age.Years, 150)) - 1, to - int16(min(p.Age.Years, 150))
}

// warsOf are the wars of the records that have a bit of their own, by its number.
func warsOf(r *roll) []model.Conflict {
	list := make([]model.Conflict, min(len(r.wars), 15))
	for i := range list {
		list[i], _ = vocab.Conflict(r.wars[i])
	}
	return list
}

// warsNever are the wars in which a man of such a birth and death cannot have served.
func (m *measure) warsNever() (never uint16) {
	if m.bornFrom == 0 && m.diedTo == 0 {
		return 0
	}
	for i, c := range m.scorer.wars() {
		young := m.bornFrom != 0 && c.BornTo != 0 && int(m.bornFrom) > c.BornTo
		old := m.bornTo != 0 && int(m.bornTo) < c.BornFrom
		dead := m.diedTo != 0 && int(m.diedTo) < c.From.Year
		if young || old || dead {
			never |= 1 << i
		}
	}
	return never
}

// impliedSide is the side that the design of the marker speaks for, where it leaves little doubt.
func impliedSide(m model.Implication) byte {
	union, confederate, all := 0.0, 0.0, 0.0
	for _, s := range m.Services {
		all += s.Probability
		switch {
		case strings.HasSuffix(s.Code, "/union"):
			union += s.Probability
		case strings.HasSuffix(s.Code, "/confederate"):
			confederate += s.Probability
		}
	}
	switch {
	case union > 0.9*all && all > 0:
		return 'u'
	case confederate > 0.9*all && all > 0:
		return 'c'
	}
	return 0
}

// A placeTable is what each place of the records is worth for a stone, by its number, and the most that one is.
type placeTable struct {
	bits []int16 // nil where none is worth anything
	most int16
}

// placeTable is the table for a stone in the cemetery and county.
func (s *scorer) placeTable(cemetery, county string, bits float64) placeTable {
	var table placeTable
	mark := func(words []string, bits float64) {
		for _, p := range s.placesWith(words) {
			if table.bits == nil {
				table.bits = make([]int16, len(s.roll.places))
			}
			table.bits[p] = sixteenths(bits)
			table.most = max(table.most, sixteenths(bits))
		}
	}
	mark(placeWords(county), livedHere)
	mark(placeWords(cemetery), bits)
	return table
}

// placesWith are the places that have all the words.
func (s *scorer) placesWith(words []string) []uint32 {
	var found []uint32
	for i, w := range words {
		list := s.byWord()[w]
		if i == 0 {
			found = list
			continue
		}
		var both []uint32
		for _, p := range found {
			if _, ok := slices.BinarySearch(list, p); ok {
				both = append(both, p)
			}
		}
		found = both
	}
	return found
}

// wordsOfPlaces gives the places in which each word occurs, sorted.
func wordsOfPlaces(places []string) map[string][]uint32 {
	m := map[string][]uint32{}
	for i, p := range places {
		for _, w := range placeWords(p) {
			if l := m[w]; len(l) == 0 || l[len(l)-1] != uint32(i) {
				m[w] = append(l, uint32(i))
			}
		}
	}
	return m
}

// idleWords are the words that tell no place from another.
var idleWords = sync.OnceValue(func() map[string]bool {
	m := map[string]bool{}
	for _, r := range vocab.Rows("place-words") {
		m[r.Get("word")] = r.Get("search") != ""
	}
	return m
})

// placeWords are the words that tell places apart.
func placeWords(s string) []string {
	var words []string
	for _, w := range splitWords(s) {
		if !idleWords()[w.folded] {
			words = append(words, w.folded)
		}
	}
	return words
}

// unitForms are a unit and the other names of the same regiment.
func unitForms(u model.Unit) []model.Unit {
	return append([]model.Unit{u}, unit.Redesignated(u)...)
}
