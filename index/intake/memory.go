package intake

import (
	"crypto/sha256"
	"encoding/base32"
	"path"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// memory is what often repeated cells came to. It is for one goroutine.
type memory struct {
	ranks      cache[string, understood[model.Rank]]
	arms       cache[string, understood[model.Arm]]
	branches   cache[string, understood[model.Branch]]
	sides      cache[string, understood[model.Side]]
	states     cache[string, understood[model.State]]
	ages       cache[string, understood[date.Age]]
	units      cache[string, model.Unit] // by all cells, parted by NULs
	key        []byte
	regiment   cache[unit.Parts, model.Unit] // of cells without the company's
	company    cache[string, string]
	names      cache[nameParts, model.Name]
	surnames   cache[string, halfName]
	givens     cache[string, halfName]
	near       int // the year to which dates belong
	dateCaches uint32
	dates      *cache[string, understood[date.Date]]
	datesNear  map[int]*cache[string, understood[date.Date]]
	wars       cache[string, wars]
	held       cache[[2]date.Day, []model.ConflictCode]
}

// place is where an id was given; row is 0 in a graph.
type place struct {
	table *Table
	row   int
}

func (p place) String() string {
	if p.row == 0 {
		return p.table.File
	}
	return p.table.File + ":" + strconv.Itoa(p.row)
}

type (
	// understood is what a text came to; problem is empty where it was understood.
	understood[T any] struct {
		value   T
		ok      bool
		problem error
	}
	nameParts struct{ surname, given, whole string }
	wars      struct {
		codes []model.ConflictCode
		rest  []string
	}
)

func newMemory() *memory { return &memory{} }

// cacheSize bounds each cache; a cache that is full is begun anew.
const cacheSize = 1 << 17

// cache remembers what texts came to. The zero cache is empty and ready.
type cache[K comparable, V any] struct {
	m map[K]*entry[V]
	n uint32
}

// entry is what a text came to, and a number that no other entry of the cache had.
type entry[V any] struct {
	v V
	n uint32
}

// get gives what key came to, working it out where it is not remembered. The key must not hold on to a row's text.
func (c *cache[K, V]) get(key K, own func(K) K, work func(K) V) *entry[V] {
	if e, ok := c.m[key]; ok {
		return e
	}
	return c.enter(own(key), work)
}

func (c *cache[K, V]) enter(key K, work func(K) V) *entry[V] {
	if len(c.m) >= cacheSize || c.m == nil {
		c.m = make(map[K]*entry[V])
	}
	c.n++
	e := &entry[V]{work(key), c.n}
	c.m[key] = e
	return e
}

// look gives what a table says of a text.
func look[V any](c *cache[string, understood[V]], text string, table func(string) (V, bool)) (V, bool) {
	u := &c.get(text, strings.Clone, func(s string) understood[V] {
		v, ok := table(s)
		return understood[V]{value: v, ok: ok}
	}).v
	return u.value, u.ok
}

func (m *memory) rank(text string) (model.Rank, bool) { return look(&m.ranks, text, vocab.Rank) }
func (m *memory) branch(text string) (model.Branch, bool) {
	return look(&m.branches, text, vocab.Branch)
}
func (m *memory) side(text string) (model.Side, bool)   { return look(&m.sides, text, vocab.Side) }
func (m *memory) state(text string) (model.State, bool) { return look(&m.states, text, vocab.State) }

func (m *memory) isArm(text string) bool {
	_, ok := look(&m.arms, text, func(s string) (model.Arm, bool) {
		arm, _, ok := unit.Arm(s)
		return arm, ok
	})
	return ok
}

func (m *memory) age(text string) (*entry[understood[date.Age]], error) {
	u := m.ages.get(text, strings.Clone, func(s string) understood[date.Age] {
		a, err := date.ParseAge(s)
		return understood[date.Age]{value: a, problem: err}
	})
	return u, u.v.problem
}

// conflictsHolding are the wars in whose official dates the whole date lies.
func (m *memory) conflictsHolding(d date.Date) []model.ConflictCode {
	return m.held.get([2]date.Day{d.From, d.To}, func(k [2]date.Day) [2]date.Day { return k }, func(k [2]date.Day) []model.ConflictCode {
		return conflictsHolding(k[0], k[1])
	}).v
}

// unit is unit.FromParts, with the company's cell read apart from the others: there are many more companies than regiments.
func (m *memory) unit(p unit.Parts) *entry[model.Unit] {
	k := m.key[:0]
	for _, s := range [...]string{p.Company, p.Regiment, p.Unit, p.Arm, p.State, p.Branch, p.Side} {
		k = append(append(k, s...), 0)
	}
	m.key = k
	if u, ok := m.units.m[string(k)]; ok {
		return u
	}
	return m.units.enter(string(k), func(string) model.Unit {
		p := ownParts(p)
		rest := p
		rest.Company = ""
		u := m.regiment.get(rest, func(p unit.Parts) unit.Parts { return p }, unit.FromParts).v
		if p.Company != "" {
			company := m.company.get(p.Company, strings.Clone, func(s string) string { return unit.FromParts(unit.Parts{Company: s}).Company }).v
			if u.Company == "" {
				u.Company = company
			}
			u.Written = unit.Written(p)
		}
		return u
	})
}

func ownParts(p unit.Parts) unit.Parts {
	return unit.Parts{Company: strings.Clone(p.Company), Regiment: strings.Clone(p.Regiment), Unit: strings.Clone(p.Unit), Arm: strings.Clone(p.Arm),
		State: strings.Clone(p.State), Branch: strings.Clone(p.Branch), Side: strings.Clone(p.Side)}
}

// halfName is what a surname, or the cell of given names, comes to by itself; plain is set where it comes to the same beside any other half.
type halfName struct {
	name  model.Name
	plain bool
}

// Stand-ins for the other half of a name.
const someSurname, someGiven = "Holden", "Orrin"

// name reads a name, and gives the numbers of its halves where they are plain. Its halves are read apart where neither has to do with the other, since there are far fewer of them than of whole names.
func (m *memory) name(p nameParts, written func(surname, given string) string) (n model.Name, surname, given uint32) {
	if p.whole == "" && p.surname != "" && p.given != "" {
		s := m.surnames.get(p.surname, strings.Clone, func(s string) halfName {
			n := name.FromParts(s, someGiven)
			return halfName{n, n.Given == someGiven && n.Middle == "" && n.Suffix == "" && len(n.GivenOr) == 0 && !strings.Contains(s, ",")}
		})
		g := m.givens.get(p.given, strings.Clone, func(s string) halfName {
			n := name.FromParts(someSurname, s)
			return halfName{n, n.Surname == someSurname && n.Given != ""}
		})
		if s.v.plain && g.v.plain {
			n := g.v.name
			n.Surname, n.Written = s.v.name.Surname, written(p.surname, p.given)
			return n, s.n, g.n
		}
	}
	return m.names.get(p, func(p nameParts) nameParts {
		return nameParts{strings.Clone(p.surname), strings.Clone(p.given), strings.Clone(p.whole)}
	}, func(p nameParts) model.Name {
		if p.surname == "" && p.given == "" {
			return name.Parse(p.whole)
		}
		return name.FromParts(p.surname, p.given)
	}).v, 0, 0
}

// mostDateCaches is how many caches of dates have numbers of their own.
const mostDateCaches = 250

func (m *memory) date(text string, near int) (*entry[understood[date.Date]], error) {
	if m.near != near || m.dates == nil {
		if m.dates = m.datesNear[near]; m.dates == nil {
			if m.datesNear == nil || len(m.datesNear) > 64 {
				m.datesNear = map[int]*cache[string, understood[date.Date]]{}
			}
			m.dateCaches = min(m.dateCaches+1, mostDateCaches)
			m.dates = &cache[string, understood[date.Date]]{n: m.dateCaches << 24}
			m.datesNear[near] = m.dates
		}
		m.near = near
	}
	u := m.dates.get(text, strings.Clone, func(s string) understood[date.Date] {
		d, err := date.ParseNear(s, near)
		return understood[date.Date]{value: d, problem: err}
	})
	return u, u.v.problem
}

func (m *memory) conflicts(text string) wars {
	return m.wars.get(text, strings.Clone, func(s string) wars {
		codes, rest := vocab.ConflictsOf(s)
		return wars{codes, rest}
	}).v
}

// id is the row's id: the one in the file, or one derived from its cells.
func (r *reading) id() (id string, derived bool) {
	given := r.terms[tID]
	if b := &r.table.bound; b.about != nil {
		given = strings.TrimLeft(b.about.fill(r.values, r.row, r.first), "#/")
	}
	if given == "" {
		from := r.written
		if r.subject != "" {
			from = []model.Cell{{Column: "@id", Value: r.subject}}
		}
		return derivedID(r.table.File, from), true
	}
	if !r.again {
		given = strings.Clone(given)
	}
	return given, false
}

// idLetters are the letters of derived ids: RFC 4648 base32 in lower case.
var idLetters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// derivedID makes an id from a file's name and what its row holds, so that it stays the same when rows or empty columns come and go: the
// file's stem and 40 bits of SHA-256. The same row twice has the same, and gets a count.
func derivedID(file string, cells []model.Cell) string {
	buf := append(make([]byte, 0, 512), path.Base(file)...)
	for _, c := range cells {
		buf = append(buf, 0x1E)
		buf = append(buf, c.Column...)
		buf = append(buf, 0x1F)
		buf = append(buf, strings.TrimSpace(c.Value)...)
	}
	sum := sha256.Sum256(buf)
	return stem(file) + "-" + idLetters.EncodeToString(sum[:5])
}

// stem is a file's name without folder and ending, in lower case letters, digits and hyphens.
func stem(file string) string {
	base := strings.ToLower(path.Base(file))
	base = strings.TrimSuffix(base, path.Ext(base))
	var b strings.Builder
	for _, r := range base {
		switch {
		case r >= 'a' && r <= 'z', r >= '0' && r <= '9':
			b.WriteRune(r)
		case b.Len() > 0 && !strings.HasSuffix(b.String(), "-"):
			b.WriteByte('-')
		}
	}
	if s := strings.Trim(b.String(), "-"); s != "" {
		return s
	}
	return "row"
}
