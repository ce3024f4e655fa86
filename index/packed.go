package index

import (
	"slices"
	"strings"
	"unsafe"

	"musterstone/index/texts"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/remarks"
)

// A row is what the search for candidates needs of one record, in 44 bytes. Surnames, given names, units and places are
// numbers of the distinct ones; number 0 is "not known" in each. Years are 0 where not known.
type row struct {
	surname, given, unit uint32
	buried, home         uint32 // places: the burial remark, the residence
	at                   uint32 // the record's place in the store, in the order of the input
	id                   uint32 // hash of the record's id
	bornFrom, bornTo     int16
	diedFrom, diedTo     int16
	last                 int16 // year of the last date of service
	conflicts            uint16
	middle, company      byte // first letter of the middle names, and of the company; 0 where there is none
	side                 byte
	other                byte // what the remarks tell of another name: see otherNone
}

// What a record's remarks tell of another name of its man that they do not give. One that they give has a row of its own, and each row of such a record the bit severalRows.
const (
	otherNone = iota
	otherTold
	otherSubstitute
	severalRows = 0x80
)

func (w *row) otherName() byte { return w.other &^ severalRows }

const rowBytes = int(unsafe.Sizeof(row{}))

// A roll is the packed columns of all records, sorted by surname and then as they came, with the distinct values.
type roll struct {
	rows     []row
	surnames []string // folded, sorted; surnames[0] is ""
	givens   []string // given name and what else it may stand for, parted by "|"
	units    []model.Unit
	places   []string // as written
	wars     []model.ConflictCode

	// How many men there are in all, and of each surname, given name and unit: of the rows, or of all records where the rows are a shard's.
	men                        int
	ofSurname, ofGiven, ofUnit []uint32

	heads     []head   // of each row
	first     []uint32 // where the rows of each surname begin, and at the end the number of rows
	byUnit    []uint32 // rows by unit, those of one unit by given name
	unitHeads []head   // of the rows of byUnit
	unitAt    []uint32 // where the rows of each unit begin in byUnit
	runs      []run    // of each unit's rows, those of one given name after the other
	runAt     []uint32 // where the runs of each unit begin, and at the end their number
	ids       []uint64 // rows, each with the hash of its id in the high half, sorted; nil in a shard
}

// A head is what is looked at of all rows that are gone through: given name and unit, in 24 bits each, and above them the letters of the company and the middle name, from 1 for a, and
// whether birth, death, residence and burial are known, whether the remarks tell of another name, and whether the man is known to have served in the first of the roll's wars and in no other.
type head uint64

const (
	headBits                                 = 24
	headMiddle                               = 5 // bits of the company's letter, below the middle name's
	headBorn, headDied, headHome, headBuried = 1 << 10, 1 << 11, 1 << 12, 1 << 13
	headOther                                = 1 << 14
	headFirstWar                             = 1 << 15
	knownBits                                = 6 // from headBorn on
)

func (h head) given() uint32 { return uint32(h) & (1<<headBits - 1) }
func (h head) unit() uint32  { return uint32(h>>headBits) & (1<<headBits - 1) }
func (h head) traits() uint  { return uint(h >> (2 * headBits)) }

// A run is the rows of byUnit, up to end, which is left out, that have one unit and one given name: its number, and above it what is known of some of them, as in a head (that of the war: of all of them), and whether some
// have no surname.
type run struct{ end, given uint32 }

const (
	someKnown    = headBits // from this bit on
	someNameless = 1 << (someKnown + knownBits)
	allFirstWar  = headFirstWar >> (2 * headMiddle) << someKnown
)

const (
	// maxDistinct is how many given names and units a head can number; those beyond are as good as not known.
	maxDistinct    = 1<<headBits - 1
	maxPlaces      = 1 << 18
	maxPlaceLength = 96
)

// A roller makes a roll of records as they come by.
type roller struct {
	roll
	full       [][]row           // rows before those of roll
	n          int               // records in all
	rawSurname map[string]uint32 // by the surname as written, so that each is folded once
	surname    map[string]uint32
	given      map[string]uint32
	unit       map[unitKey]uint32
	place      map[string]uint32
	war        map[model.ConflictCode]uint16
	told       remarks.Memory
}

// unitKey is a unit without its company and its wording.
type unitKey struct {
	body   model.Body
	state  model.State
	number int
	lost   string
	arm    model.Arm
	kind   model.UnitKind
	name   string
}

func keyOf(u model.Unit) unitKey {
	return unitKey{u.Body, u.State, u.Number, u.NumberLost, u.Arm, u.Kind, name.Fold(u.Name)}
}

func newRoller() *roller {
	r := &roller{
		rawSurname: map[string]uint32{"": 0}, surname: map[string]uint32{"": 0}, given: map[string]uint32{"": 0},
		unit: map[unitKey]uint32{{}: 0}, place: map[string]uint32{"": 0}, war: map[model.ConflictCode]uint16{},
	}
	r.surnames, r.givens, r.places, r.units = []string{""}, []string{""}, []string{""}, []model.Unit{{}}
	return r
}

// number is the number of the key in the table, which it enters where it is new.
func number[K comparable, V any](m map[K]uint32, table *[]V, k K, v V) uint32 {
	n, ok := m[k]
	if !ok {
		n = uint32(len(*table))
		m[k] = n
		*table = append(*table, v)
	}
	return n
}

func (r *roller) add(rec *model.Record) {
	p, s := &rec.Person, &rec.Service
	w := row{surname: r.surnameOf(p.Name.Surname), given: r.givenOf(&p.Name), middle: firstLetter(p.Name.Middle),
		unit: r.unitOf(&s.Unit), company: firstLetter(s.Unit.Company), last: lastYear(s)}
	w.bornFrom, w.bornTo = years(rec.Birth())
	w.diedFrom, w.diedTo = years(p.Died)
	for _, c := range s.Conflicts {
		w.conflicts |= r.warBit(c)
	}
	w.side = firstLetter(string(s.Side))
	w.buried, w.home = r.placeNumber(p.Buried), r.placeNumber(p.Residence)
	r.put(w, string(rec.ID), r.told.Read(remarks.Beside(p.Name.Other, s.Unit.Other, s.Remarks)), &s.Unit)
}

// put adds the row of a record, and others under the other name and in the other unit that its remarks tell.
func (r *roller) put(w row, id string, said *remarks.Told, own *model.Unit) {
	w.at, w.id = uint32(r.n), texts.Hash(id)
	r.n++
	others, told := otherRows(said, own)
	if w.other = told; len(others) > 0 {
		w.other |= severalRows
	}
	r.append(w)
	w.other = severalRows
	for i := range others {
		o, w := &others[i], w
		if o.name.Surname != "" {
			w.surname = r.surnameOf(o.name.Surname)
		}
		if o.name.Given != "" {
			w.given, w.middle = r.givenOf(&o.name), firstLetter(o.name.Middle)
		}
		if o.unit != nil {
			w.unit, w.company = r.unitOf(o.unit), firstLetter(o.unit.Company)
		}
		r.append(w)
	}
}

// otherRow is what another row of a record has in the place of the record's own: a name, of which either half may be left out, or a unit.
type otherRow struct {
	name model.Name
	unit *model.Unit
}

// otherRows gives the other rows of a record of a unit, by what its remarks tell, and what these tell of another name without giving it.
func otherRows(t *remarks.Told, own *model.Unit) (rows []otherRow, told byte) {
	if t.IsZero() {
		return nil, otherNone
	}
	switch o := &t.Name; {
	case o.IsZero():
	case o.Name.Surname != "":
		rows = append(rows, otherRow{name: o.Name})
	case o.Substitute:
		told = otherSubstitute
	default:
		told = otherTold
	}
	if u, _, ok := t.Units.Other(own); ok {
		rows = append(rows, otherRow{unit: &u})
	}
	return rows, told
}

func (r *roller) append(w row) {
	if len(r.rows) == cap(r.rows) && len(r.rows) > 0 {
		r.full = append(r.full, r.rows)
		r.rows = make([]row, 0, 1<<16)
	}
	r.rows = append(r.rows, w)
}

func (r *roller) surnameOf(s string) uint32 {
	n, ok := r.rawSurname[s]
	if !ok {
		folded := name.Fold(s)
		n = number(r.surname, &r.surnames, folded, folded)
		r.rawSurname[strings.Clone(s)] = n
	}
	return n
}

func (r *roller) givenOf(n *model.Name) uint32 {
	g := givenKey(*n)
	if _, ok := r.given[g]; !ok && len(r.givens) > maxDistinct {
		return 0
	}
	return number(r.given, &r.givens, g, g)
}

func (r *roller) unitOf(u *model.Unit) uint32 {
	k := keyOf(*u)
	if _, ok := r.unit[k]; !ok && len(r.units) > maxDistinct {
		return 0
	}
	return number(r.unit, &r.units, k, model.Unit{Body: u.Body, State: u.State, Number: u.Number, NumberLost: u.NumberLost, Arm: u.Arm, Kind: u.Kind, Name: strings.Clone(u.Name)})
}

func (r *roller) placeNumber(s string) uint32 {
	if s == "" || len(s) > maxPlaceLength || len(r.places) >= maxPlaces {
		return 0
	}
	if n, ok := r.place[s]; ok {
		return n
	}
	s = strings.Clone(s)
	return number(r.place, &r.places, s, s)
}

// warBit gives each conflict a bit, in the order in which they are met; those after the fifteenth share the last.
func (r *roller) warBit(c model.ConflictCode) uint16 {
	b, ok := r.war[c]
	if !ok {
		b = 1 << min(len(r.wars), 15)
		r.war[c] = b
		r.wars = append(r.wars, c)
	}
	return b
}

// finish sorts the rows and the surnames.
func (r *roller) finish() *roll {
	r.sortRows(r.sortSurnames())
	return &r.roll
}

// sortSurnames sorts the surnames, and gives by the number that each had the one that it has now.
func (r *roller) sortSurnames() (rank []uint32) {
	order := inOrder(r.surnames)
	rank = make([]uint32, len(order))
	sorted := make([]string, len(order))
	for i, n := range order {
		rank[n] = uint32(i)
		sorted[i] = r.surnames[n]
	}
	r.surnames = sorted
	return rank
}

// sortRows sorts the rows by surname, of which rank gives the numbers.
func (r *roller) sortRows(rank []uint32) {
	blocks := append(r.full, r.rows)
	r.full = nil
	next := make([]uint32, len(rank)+1)
	n := 0
	for _, b := range blocks {
		n += len(b)
		for i := range b {
			b[i].surname = rank[b[i].surname]
			next[b[i].surname+1]++
		}
	}
	for i := range rank {
		next[i+1] += next[i]
	}
	// A counting sort keeps the order of the input among the men of one surname.
	rows := make([]row, n)
	for _, b := range blocks {
		for i := range b {
			to := &next[b[i].surname]
			rows[*to] = b[i]
			*to++
		}
	}
	r.rows = rows
	r.post()
}

// starts counts the rows of each key and gives where each key's begin, with the number of rows at the end.
func starts(rows []row, keys int, key func(*row) uint32) []uint32 {
	at := make([]uint32, keys+1)
	for i := range rows {
		at[key(&rows[i])+1]++
	}
	for i := range keys {
		at[i+1] += at[i]
	}
	return at
}

// post makes the postings of surnames and units from the rows.
func (r *roll) post() {
	r.first = starts(r.rows, len(r.surnames), func(w *row) uint32 { return w.surname })
	r.unitAt = starts(r.rows, len(r.units), func(w *row) uint32 { return w.unit })
	byGiven := make([]uint32, len(r.rows)) // dealt out by given name first, and then by unit
	next := starts(r.rows, len(r.givens), func(w *row) uint32 { return w.given })
	r.heads = make([]head, len(r.rows))
	for i := range r.rows {
		h := r.rows[i].head()
		r.heads[i] = h
		byGiven[next[h.given()]] = uint32(i)
		next[h.given()]++
	}
	next = slices.Clone(r.unitAt)
	r.byUnit, r.unitHeads = make([]uint32, len(r.rows)), make([]head, len(r.rows))
	for _, i := range byGiven {
		h := r.heads[i]
		at := &next[h.unit()]
		r.byUnit[*at], r.unitHeads[*at] = i, h
		*at++
	}
	r.run()
	if r.ofSurname == nil {
		r.countMen()
	}
}

// run finds the runs of the units' rows.
func (r *roll) run() {
	r.runAt = make([]uint32, len(r.units)+1)
	nameless := r.first[min(1, len(r.first)-1)]
	for u := range r.units {
		r.runAt[u] = uint32(len(r.runs))
		last := uint32(0)
		for k, h := range r.unitHeads[r.unitAt[u]:r.unitAt[u+1]] {
			known := uint32(h.traits()>>(2*headMiddle)&(1<<knownBits-1)) << someKnown
			if k == 0 || h.given() != last {
				r.runs = append(r.runs, run{given: h.given() | known&allFirstWar})
			}
			last = h.given()
			at, this := r.unitAt[u]+uint32(k), &r.runs[len(r.runs)-1]
			this.end = at + 1
			this.given = this.given&^(allFirstWar&^known) | known&^allFirstWar
			if r.byUnit[at] < nameless {
				this.given |= someNameless
			}
		}
	}
	r.runAt[len(r.units)] = uint32(len(r.runs))
}

func (w *row) head() head {
	traits := uint64(w.company&31) | uint64(w.middle&31)<<headMiddle
	if w.bornFrom != 0 {
		traits |= headBorn
	}
	if w.diedFrom != 0 {
		traits |= headDied
	}
	if w.home != 0 {
		traits |= headHome
	}
	if w.buried != 0 {
		traits |= headBuried
	}
	if w.otherName() != otherNone {
		traits |= headOther
	}
	if w.conflicts == 1 {
		traits |= headFirstWar
	}
	return head(uint64(w.given) | uint64(w.unit)<<headBits | traits<<(2*headBits))
}

// countMen counts the men of the rows.
func (r *roll) countMen() {
	r.men = len(r.rows)
	r.ofSurname, r.ofGiven, r.ofUnit = make([]uint32, len(r.surnames)), make([]uint32, len(r.givens)), make([]uint32, len(r.units))
	for i := range r.rows {
		w := &r.rows[i]
		r.ofSurname[w.surname]++
		r.ofGiven[w.given]++
		r.ofUnit[w.unit]++
	}
}

// count is how many records have the surname of that number.
func (r *roll) count(surname uint32) int { return int(r.ofSurname[surname]) }

// surnameNumber is the number of the folded surname.
func (r *roll) surnameNumber(folded string) (uint32, bool) {
	i, ok := slices.BinarySearch(r.surnames, folded)
	return uint32(i), ok
}

// sound reports whether every number in the rows and postings is one that the tables have.
func (r *roll) sound() bool {
	last := uint32(0)
	for i := range r.rows {
		w := &r.rows[i]
		if int(w.surname) >= len(r.surnames) || int(w.given) >= len(r.givens) || int(w.unit) >= len(r.units) ||
			r.heads[i] != w.head() || int(w.buried) >= len(r.places) || int(w.home) >= len(r.places) || int(w.at) >= len(r.rows) || w.surname < last {
			return false
		}
		last = w.surname
	}
	return slices.IsSorted(r.surnames) && growing(r.first, len(r.rows)) && growing(r.unitAt, len(r.rows)) && r.unitsSound() && len(r.ids) == len(r.rows)
}

// unitsSound reports whether the postings of the units name rows of theirs.
func (r *roll) unitsSound() bool {
	for u := range r.units {
		for k, i := range r.byUnit[r.unitAt[u]:r.unitAt[u+1]] {
			at := r.unitAt[u] + uint32(k)
			if int(i) >= len(r.rows) || r.heads[i] != r.unitHeads[at] || r.heads[i].unit() != uint32(u) {
				return false
			}
		}
	}
	return true
}

// sortIDs makes ids: they are dealt out by the high half of their hashes, and then few are left to sort together.
func (r *roll) sortIDs() {
	const half = 16
	high := func(w *row) uint32 { return w.id >> half }
	at := starts(r.rows, 1<<half, high)
	next := slices.Clone(at)
	r.ids = make([]uint64, len(r.rows))
	for i := range r.rows {
		w := &r.rows[i]
		to := &next[high(w)]
		r.ids[*to] = uint64(w.id)<<32 | uint64(i)
		*to++
	}
	for k := range 1 << half {
		slices.Sort(r.ids[at[k]:at[k+1]])
	}
}

// withID are the rows whose ids have the hash.
func (r *roll) withID(h uint32) []uint64 {
	from, _ := slices.BinarySearch(r.ids, uint64(h)<<32)
	to := from
	for to < len(r.ids) && uint32(r.ids[to]>>32) == h {
		to++
	}
	return r.ids[from:to]
}

// growing reports whether a list grows from 0 to the end.
func growing(list []uint32, end int) bool {
	return len(list) > 0 && list[0] == 0 && slices.IsSorted(list) && int(list[len(list)-1]) == end
}

// below reports whether all numbers are less than n.
func below(list []uint32, n int) bool {
	for _, x := range list {
		if int(x) >= n {
			return false
		}
	}
	return true
}

// givenKey is the given name with the others that its writing may stand for: "john|jonathan".
func givenKey(n model.Name) string {
	g := name.Fold(n.Given)
	for _, o := range n.GivenOr {
		g += "|" + name.Fold(o)
	}
	return g
}

// firstLetter is the first letter of s in lower case, or 0.
func firstLetter(s string) byte {
	for i := range len(s) {
		if c := s[i] | 0x20; 'a' <= c && c <= 'z' {
			return c
		}
	}
	return 0
}

// years are the first and last year that a date can mean; where one side is open, a span of a lifetime.
func years(d date.Date) (from, to int16) {
	a, b := d.From.Year, d.To.Year
	switch {
	case a == 0 && b == 0:
		return 0, 0
	case a == 0:
		a = b - 70
	case b == 0:
		b = a + 70
	}
	if a < -9999 || b > 9999 {
		return 0, 0
	}
	return int16(a), int16(b)
}

// lastYear is the year of the last date of the service that is certain, or 0.
func lastYear(s *model.Service) int16 {
	last := 0
	for _, d := range [...]date.Date{s.Enlisted, s.MusteredIn, s.MusteredOut} {
		last = max(last, d.From.Year)
	}
	return int16(min(last, 9999))
}
