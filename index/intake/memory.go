package intake

import (
	"strings"
	"unsafe"

	"musterstone/index/texts"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/model/room"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// memory is what often repeated cells came to. It is for one goroutine.
type memory struct {
	ranks        cache[understood[model.Rank]]
	arms         cache[understood[model.Arm]]
	branches     cache[understood[model.Branch]]
	unitBranches cache[understood[model.Branch]]
	sides        cache[understood[model.Side]]
	states       cache[understood[model.State]]
	ages         cache[aged]
	units        cache[model.Unit] // by all cells
	regiments    cache[model.Unit] // by all cells but the company's
	companies    cache[string]
	names        cache[model.Name] // by all cells
	surnames     cache[surname]
	givens       cache[halfName]
	near         int // the year to which dates belong
	dates        *cache[dated]
	datesNear    map[int]*cache[dated]
	wars         cache[wars]
	key          []byte // room for the cells by which something is remembered
}

type (
	// understood is what a table says of a text; ok is false where it says nothing.
	understood[T any] struct {
		value T
		ok    bool
	}
	aged struct {
		age     date.Age
		problem error // nil where the text was understood
	}
	dated struct {
		date    date.Date
		problem error
		// within are the wars in whose official dates all of the date lies, where they were looked for.
		within []model.ConflictCode
		looked bool
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
type cache[V any] struct {
	texts  texts.Book
	values []V
}

// get gives what a text came to, working it out where it is not remembered.
func (c *cache[V]) get(text string, work func(string) V) *V {
	hash := texts.Hash(text)
	i, known := c.texts.Find(text, hash)
	if !known {
		if len(c.values) >= cacheSize {
			c.texts, c.values = texts.Book{}, nil
		}
		i, _ = c.texts.Enter(text, hash, 0)
		c.values = append(room.More(c.values), work(c.texts.At(i)))
	}
	return &c.values[i]
}

// joined are cells as one key, good until the next is made.
func (m *memory) joined(cells ...string) string {
	k := m.key[:0]
	for _, c := range cells {
		k = append(append(k, c...), 0)
	}
	m.key = k
	return unsafe.String(unsafe.SliceData(k), len(k))
}

// look gives what a table says of a text.
func look[V any](c *cache[understood[V]], text string, table func(string) (V, bool)) (V, bool) {
	u := c.get(text, func(s string) understood[V] {
		v, ok := table(s)
		return understood[V]{v, ok}
	})
	return u.value, u.ok
}

func (m *memory) rank(text string) (model.Rank, bool) { return look(&m.ranks, text, vocab.Rank) }
func (m *memory) branch(text string) (model.Branch, bool) {
	return look(&m.branches, text, vocab.Branch)
}
func (m *memory) ofBranch(text string) model.Branch {
	b, _ := look(&m.unitBranches, text, func(s string) (model.Branch, bool) {
		b, _ := unit.OfBranch(s)
		return b, true
	})
	return b
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

func (m *memory) age(text string) *aged {
	return m.ages.get(text, func(s string) aged {
		a, err := date.ParseAge(s)
		return aged{a, err}
	})
}

// unit is unit.FromParts, with the company's cell read apart from the others: there are many more companies than regiments.
func (m *memory) unit(p unit.Parts) *model.Unit {
	return m.units.get(m.joinedUnit(&p), func(string) model.Unit {
		p := ownParts(p)
		rest := p
		rest.Company = ""
		u := m.regiments.get(m.joinedUnit(&rest), func(string) model.Unit { return unit.FromParts(rest) })
		if p.Company == "" {
			return *u
		}
		whole := *u
		company := m.companies.get(p.Company, func(s string) string { return unit.FromParts(unit.Parts{Company: s}).Company })
		if whole.Company == "" {
			whole.Company = *company
		}
		whole.Written = unit.Written(p)
		return whole
	})
}

func (m *memory) joinedUnit(p *unit.Parts) string {
	return m.joined(p.Company, p.Regiment, p.Unit, p.Arm, p.State, p.Branch, p.Side)
}

func ownParts(p unit.Parts) unit.Parts {
	return unit.Parts{Company: strings.Clone(p.Company), Regiment: strings.Clone(p.Regiment), Unit: strings.Clone(p.Unit), Arm: strings.Clone(p.Arm),
		State: strings.Clone(p.State), Branch: strings.Clone(p.Branch), Side: strings.Clone(p.Side)}
}

// What a surname comes to by itself, and what the cell of given names does; plain is set where it comes to the same beside any other half.
type (
	surname struct {
		name  string
		plain bool
	}
	halfName struct {
		name  model.Name
		plain bool
	}
)

// Stand-ins for the other half of a name.
const someSurname, someGiven = "Holden", "Orrin"

// surnameAlone reads the cell of a surname, givenAlone that of given names.
func surnameAlone(s string) surname {
	if family, ok := name.Family(s); ok {
		return surname{family, true}
	}
	n := name.FromParts(s, someGiven)
	return surname{n.Surname, n.Given == someGiven && n.Middle == "" && n.Suffix == "" && len(n.GivenOr) == 0 && n.Other == "" && !strings.Contains(s, ",")}
}

func givenAlone(s string) halfName {
	if n, ok := name.Given(s); ok {
		return halfName{n, true}
	}
	n := name.FromParts(someSurname, s)
	return halfName{n, n.Surname == someSurname && n.Given != ""}
}

// name reads a name, and reports whether its halves are plain: each comes to the same beside any other plain one. Halves are read apart where neither has to do with the other, since there are far
// fewer of them than of whole names.
func (m *memory) name(p nameParts) (n model.Name, plain bool) {
	if p.whole == "" && p.surname != "" && p.given != "" {
		s, g := m.surnames.get(p.surname, surnameAlone), m.givens.get(p.given, givenAlone)
		if s.plain && g.plain {
			n := g.name
			n.Surname, n.Written = s.name, p.surname+", "+p.given
			return n, true
		}
	}
	whole := m.names.get(m.joined(p.surname, p.given, p.whole), func(string) model.Name {
		p := nameParts{strings.Clone(p.surname), strings.Clone(p.given), strings.Clone(p.whole)}
		if p.surname == "" && p.given == "" {
			return name.Parse(p.whole)
		}
		return name.FromParts(p.surname, p.given)
	})
	return *whole, false
}

func (m *memory) date(text string, near int) *dated {
	if m.near != near || m.dates == nil {
		if m.dates = m.datesNear[near]; m.dates == nil {
			if m.datesNear == nil || len(m.datesNear) > 64 {
				m.datesNear = map[int]*cache[dated]{}
			}
			m.dates = &cache[dated]{}
			m.datesNear[near] = m.dates
		}
		m.near = near
	}
	return m.dates.get(text, func(s string) dated {
		d, err := date.ParseNear(s, near)
		return dated{date: d, problem: err}
	})
}

// conflictsHolding are the wars in whose official dates all of the date lies.
func (d *dated) conflictsHolding() []model.ConflictCode {
	if !d.looked {
		d.within, d.looked = vocab.ConflictsHolding(d.date.From, d.date.To), true
	}
	return d.within
}

func (m *memory) conflicts(text string) *wars {
	return m.wars.get(text, func(s string) wars {
		codes, rest := vocab.ConflictsOf(s)
		return wars{codes, rest}
	})
}
