package intake

import (
	"crypto/sha256"
	"encoding/base32"
	"fmt"
	"path"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// memory is what one pass over a survey remembers from row to row: which ids were given, and what often repeated cells came to.
type memory struct {
	ids      map[string]place
	ranks    cache[string, understood[model.Rank]]
	arms     cache[string, understood[model.Arm]]
	branches cache[string, understood[model.Branch]]
	sides    cache[string, understood[model.Side]]
	states   cache[string, understood[model.State]]
	ages     cache[string, understood[date.Age]]
	units    cache[unit.Parts, model.Unit]
	names    cache[nameParts, model.Name]
	dates    cache[nearDate, understood[date.Date]]
	wars     cache[string, wars]
	held     cache[[2]date.Day, []model.ConflictCode]
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
	nearDate  struct {
		text string
		near int
	}
	wars struct {
		codes []model.ConflictCode
		rest  []string
	}
)

func newMemory() *memory { return &memory{ids: map[string]place{}} }

// cacheSize bounds each cache; a cache that is full is begun anew.
const cacheSize = 1 << 15

// cache remembers what texts came to. The zero cache is empty and ready.
type cache[K comparable, V any] struct{ m map[K]V }

// get gives what key came to, working it out where it is not remembered. The key must not hold on to a row's text.
func (c *cache[K, V]) get(key K, own func(K) K, work func(K) V) V {
	if v, ok := c.m[key]; ok {
		return v
	}
	if len(c.m) >= cacheSize || c.m == nil {
		c.m = make(map[K]V)
	}
	key = own(key)
	v := work(key)
	c.m[key] = v
	return v
}

// look gives what a table says of a text.
func look[V any](c *cache[string, understood[V]], text string, table func(string) (V, bool)) (V, bool) {
	u := c.get(text, strings.Clone, func(s string) understood[V] {
		v, ok := table(s)
		return understood[V]{value: v, ok: ok}
	})
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

func (m *memory) age(text string) (date.Age, error) {
	u := m.ages.get(text, strings.Clone, func(s string) understood[date.Age] {
		a, err := date.ParseAge(s)
		return understood[date.Age]{value: a, problem: err}
	})
	return u.value, u.problem
}

// conflictsHolding are the wars in whose official dates the whole date lies.
func (m *memory) conflictsHolding(d date.Date) []model.ConflictCode {
	return m.held.get([2]date.Day{d.From, d.To}, func(k [2]date.Day) [2]date.Day { return k }, func(k [2]date.Day) []model.ConflictCode {
		return conflictsHolding(k[0], k[1])
	})
}

func (m *memory) unit(p unit.Parts) model.Unit {
	return m.units.get(p, func(p unit.Parts) unit.Parts {
		return unit.Parts{Company: strings.Clone(p.Company), Regiment: strings.Clone(p.Regiment), Unit: strings.Clone(p.Unit), Arm: strings.Clone(p.Arm),
			State: strings.Clone(p.State), Branch: strings.Clone(p.Branch), Side: strings.Clone(p.Side)}
	}, unit.FromParts)
}

func (m *memory) name(p nameParts) model.Name {
	return m.names.get(p, func(p nameParts) nameParts {
		return nameParts{strings.Clone(p.surname), strings.Clone(p.given), strings.Clone(p.whole)}
	}, func(p nameParts) model.Name {
		if p.surname == "" && p.given == "" {
			return name.Parse(p.whole)
		}
		return name.FromParts(p.surname, p.given)
	})
}

func (m *memory) date(text string, near int) (date.Date, error) {
	u := m.dates.get(nearDate{text, near}, func(d nearDate) nearDate { return nearDate{strings.Clone(d.text), d.near} }, func(n nearDate) understood[date.Date] {
		d, err := date.ParseNear(n.text, n.near)
		return understood[date.Date]{value: d, problem: err}
	})
	return u.value, u.problem
}

func (m *memory) conflicts(text string) wars {
	return m.wars.get(text, strings.Clone, func(s string) wars {
		codes, rest := vocab.ConflictsOf(s)
		return wars{codes, rest}
	})
}

// id gives the row its id: the one in the file, or one derived from its cells. Where the file's id was given before, ok is false and the row
// has been refused.
func (r *reading) id() (id string, ok bool) {
	b := &r.table.bound
	given := r.terms[tID]
	if b.about != nil {
		given = strings.TrimLeft(b.about.fill(r.values, r.row, r.first), "#/")
	}
	here := place{table: r.table, row: r.row}
	if given == "" {
		from := r.written
		if r.subject != "" {
			from = []model.Cell{{Column: "@id", Value: r.subject}}
		}
		return r.memory.derive(r.table.File, from, here), true
	}
	if first, taken := r.memory.ids[given]; taken {
		hint := "give every row an id of its own"
		if first.table != r.table {
			hint = `make the ids of the files differ, or say "aboutUrl": "` + stem(r.table.File) + `-{id}" for one of them in ` + MetadataFile
		}
		r.refuse(tID, fmt.Sprintf("the id %q was given before, at %s; the row was left out", given, first), hint)
		return "", false
	}
	given = strings.Clone(given)
	r.memory.ids[given] = here
	return given, true
}

// idLetters are the letters of derived ids: RFC 4648 base32 in lower case.
var idLetters = base32.NewEncoding("abcdefghijklmnopqrstuvwxyz234567").WithPadding(base32.NoPadding)

// derive makes an id from a file's name and what its row holds, so that it stays the same when rows or empty columns come and go: the
// file's stem and 40 bits of SHA-256, with a count where the same row stands again.
func (m *memory) derive(file string, cells []model.Cell, at place) string {
	buf := append(make([]byte, 0, 512), path.Base(file)...)
	for _, c := range cells {
		buf = append(buf, 0x1E)
		buf = append(buf, c.Column...)
		buf = append(buf, 0x1F)
		buf = append(buf, strings.TrimSpace(c.Value)...)
	}
	sum := sha256.Sum256(buf)
	id := stem(file) + "-" + idLetters.EncodeToString(sum[:5])
	unique := id
	for n := 2; ; n++ {
		if _, taken := m.ids[unique]; !taken {
			break
		}
		unique = id + "-" + strconv.Itoa(n)
	}
	m.ids[unique] = at
	return unique
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
