package index

import (
	"cmp"
	"context"
	"fmt"
	"maps"
	"slices"
	"strconv"

	"musterstone/index/texts"
	"musterstone/model"
	"musterstone/vocab/name"
	"musterstone/vocab/remarks"
)

// Totals is what the search for candidates has to know of all records where each place holds but some of them: the distinct surnames, given
// names, units and places, and how many men have each. Those of other records can be merged into it, in any order. The zero Totals is that of no records.
type Totals struct {
	Records  int
	Rows     int               // of them, and under other names and in other units that their remarks give
	Surnames map[string]uint32 // folded
	Givens   map[string]Tally
	Places   map[string]Tally
	Units    map[string]UnitTally
	Wars     map[model.ConflictCode]uint64 // where they were first met
}

// Tally is how many records have a value, and where it was first met.
type Tally struct {
	Men   uint32
	First uint64
}

// UnitTally is a Tally with its unit, without company and wording.
type UnitTally struct {
	Tally
	Unit model.Unit
}

// Values of one record are met in this order.
const (
	metBuried, metHome = 0, 1
	metBits            = 5
)

// Add counts a record; at says where it stands in the order of the input, and is less than 2^58.
func (t *Totals) Add(r *model.Record, at uint64) {
	t.begin()
	at <<= metBits
	t.Records++
	for i, p := range [...]string{metBuried: r.Person.Buried, metHome: r.Person.Residence} {
		if len(p) <= maxPlaceLength {
			count(t.Places, p, Tally{1, at + uint64(i)})
		}
	}
	t.row(&r.Person.Name, &r.Service.Unit, at)
	others, _ := otherRows(remarks.Read(remarks.Beside(r.Person.Name.Other, r.Service.Unit.Other, r.Service.Remarks)), &r.Service.Unit)
	for i := range others {
		n, u := r.Person.Name, &r.Service.Unit
		if o := &others[i]; o.unit != nil {
			u = o.unit
		} else if n.Surname = o.name.Surname; o.name.Given != "" {
			n = o.name
		}
		t.row(&n, u, at+1+uint64(i))
	}
	for i, w := range r.Service.Conflicts {
		t.war(w, at+uint64(min(i, 1<<metBits-1)))
	}
}

// row counts a row of a record.
func (t *Totals) row(n *model.Name, u *model.Unit, at uint64) {
	t.Rows++
	t.Surnames[name.Fold(n.Surname)]++
	count(t.Givens, givenKey(*n), Tally{1, at})
	k := keyOf(*u)
	key := string(k.body) + "/" + string(k.state) + "/" + strconv.Itoa(k.number) + "/" + string(k.arm) + "/" + string(k.kind) + "/" + k.name
	t.unit(key, UnitTally{Tally{1, at}, model.Unit{Body: u.Body, State: u.State, Number: u.Number, Arm: u.Arm, Kind: u.Kind, Name: u.Name}})
}

func (t *Totals) begin() {
	if t.Surnames == nil {
		t.Surnames, t.Givens, t.Places = map[string]uint32{}, map[string]Tally{}, map[string]Tally{}
		t.Units, t.Wars = map[string]UnitTally{}, map[model.ConflictCode]uint64{}
	}
}

func count(m map[string]Tally, key string, n Tally) {
	if old, ok := m[key]; ok {
		n = Tally{old.Men + n.Men, min(old.First, n.First)}
	}
	m[key] = n
}

func (t *Totals) unit(key string, n UnitTally) {
	if old, ok := t.Units[key]; ok {
		if old.First < n.First {
			n.Unit = old.Unit
		}
		n.Tally = Tally{old.Men + n.Men, min(old.First, n.First)}
	}
	t.Units[key] = n
}

func (t *Totals) war(w model.ConflictCode, at uint64) {
	if old, ok := t.Wars[w]; !ok || at < old {
		t.Wars[w] = at
	}
}

// Merge adds what was counted of other records.
func (t *Totals) Merge(o *Totals) {
	t.begin()
	t.Records += o.Records
	t.Rows += o.Rows
	for k, n := range o.Surnames {
		t.Surnames[k] += n
	}
	for k, n := range o.Givens {
		count(t.Givens, k, n)
	}
	for k, n := range o.Places {
		count(t.Places, k, n)
	}
	for k, n := range o.Units {
		t.unit(k, n)
	}
	for w, at := range o.Wars {
		t.war(w, at)
	}
}

// Shards parts the records by the keys under which candidates are found, surname and unit, and finds the candidates in each part as Index finds them in the
// whole. Every record goes into a shard by its surname and into another by its unit; surnames that sound alike go together; the men of a surname or unit that is more than a
// shard holds are dealt out over several. A stone is to be set before all the shards that ShardsOf names, and the best of what they bring, by
// Found.Compare, each record once, is what the index of the whole would bring. It is safe for use by several goroutines at once.
type Shards struct {
	numbers roller // its maps have every value; never added to
	whole   *Index // without rows
	byName  []span // by surname
	byUnit  []span
	n       int
}

// span is the shards over which the men of a surname or unit are dealt out: n of them from the first on, none where n is 0.
type span struct{ first, n uint32 }

// NewShards parts all the records that were counted into shards of about so many.
func NewShards(t *Totals, size int) *Shards {
	r := newRoller()
	for _, s := range slices.Sorted(maps.Keys(t.Surnames)) {
		number(r.surname, &r.surnames, s, s)
	}
	inOrder := func(m map[string]Tally) []string {
		return slices.SortedFunc(maps.Keys(m), func(a, b string) int { return cmp.Compare(m[a].First, m[b].First) })
	}
	for _, g := range inOrder(t.Givens) {
		number(r.given, &r.givens, g, g)
	}
	for _, p := range inOrder(t.Places) {
		r.placeNumber(p)
	}
	for _, k := range slices.SortedFunc(maps.Keys(t.Units), func(a, b string) int { return cmp.Compare(t.Units[a].First, t.Units[b].First) }) {
		u := t.Units[k].Unit
		number(r.unit, &r.units, keyOf(u), u)
	}
	for _, w := range slices.SortedFunc(maps.Keys(t.Wars), func(a, b model.ConflictCode) int { return cmp.Compare(t.Wars[a], t.Wars[b]) }) {
		r.warBit(w)
	}
	r.men = t.Rows
	r.ofSurname, r.ofGiven, r.ofUnit = make([]uint32, len(r.surnames)), make([]uint32, len(r.givens)), make([]uint32, len(r.units))
	for i, s := range r.surnames {
		r.ofSurname[i] = t.Surnames[s]
	}
	for i, g := range r.givens {
		r.ofGiven[i] = t.Givens[g].Men
	}
	for k, n := range t.Units {
		r.ofUnit[r.unit[keyOf(t.Units[k].Unit)]] += n.Men
	}
	r.post()
	whole := &r.roll
	sounds := newSoundOrder(whole.surnames, name.Sound)
	s := &Shards{numbers: *r, whole: &Index{roll: whole, scorer: newScorer(whole),
		names: newNames(whole, sounds, newSoundOrder(whole.surnames, name.Soundex))}}
	legible := slices.DeleteFunc(slices.Clone(sounds.order), func(n uint32) bool { return whole.surnames[n] == "" })
	s.byName = s.deal(legible, whole.ofSurname, size)
	units := make([]uint32, 0, len(whole.units))
	for u := 1; u < len(whole.units); u++ {
		if whole.ofUnit[u] <= maxUnitMen {
			units = append(units, uint32(u))
		}
	}
	s.byUnit = s.deal(units, whole.ofUnit, size)
	return s
}

// deal gives each key its shards, in that order, of about so many men.
func (s *Shards) deal(order, men []uint32, size int) []span {
	spans := make([]span, len(men))
	held := 0 // men in the shard that is open, the last one
	for _, k := range order {
		n := int(men[k])
		if n == 0 {
			continue
		}
		if held > 0 && held+n > size {
			s.n, held = s.n+1, 0
		}
		if n > size {
			parts := (n + size - 1) / size
			spans[k] = span{uint32(s.n), uint32(parts)}
			s.n += parts
			continue
		}
		spans[k] = span{uint32(s.n), 1}
		held += n
	}
	if held > 0 {
		s.n++
	}
	return spans
}

// Len is the number of shards; they are numbered from 0.
func (s *Shards) Len() int { return s.n }

// Hold gives the shards that must have the record: one, two, or more.
func (s *Shards) Hold(r *model.Record) []int {
	h := texts.Hash(string(r.ID))
	var out []int
	spans := []span{s.byName[s.numbers.surname[name.Fold(r.Person.Name.Surname)]], s.byUnit[s.numbers.unit[keyOf(r.Service.Unit)]]}
	others, _ := otherRows(remarks.Read(remarks.Beside(r.Person.Name.Other, r.Service.Unit.Other, r.Service.Remarks)), &r.Service.Unit)
	for _, o := range others {
		if o.unit != nil {
			spans = append(spans, s.byUnit[s.numbers.unit[keyOf(*o.unit)]])
		} else {
			spans = append(spans, s.byName[s.numbers.surname[name.Fold(o.name.Surname)]])
		}
	}
	for _, sp := range spans {
		if n := int(sp.first + h%max(1, sp.n)); sp.n > 0 && !slices.Contains(out, n) {
			out = append(out, n)
		}
	}
	return out
}

// ShardsOf gives the shards in which there may be a candidate for the stone, sorted.
func (s *Shards) ShardsOf(sub *model.Subject) ([]int, error) {
	seen := map[uint32]bool{}
	take := func(sp span) {
		for i := range sp.n {
			seen[sp.first+i] = true
		}
	}
	for _, c := range people(sub) {
		m := new(measure)
		if err := s.whole.measure(m, sub, c.claim); err != nil {
			return nil, fmt.Errorf("look for the shards of stone %s: %w", stoneID(sub), err)
		}
		for _, h := range m.surnames {
			take(s.byName[h.surname])
		}
		for _, u := range m.units {
			take(s.byUnit[u])
		}
	}
	out := make([]int, 0, len(seen))
	for n := range seen {
		out = append(out, int(n))
	}
	slices.Sort(out)
	return out, nil
}

// Shard is some of the records, made ready to be searched.
type Shard struct{ x Index }

// Found is a record that may be a stone's man: its place in the list that the shard was made of, and how well it fits, in sixteenths of a bit.
type Found struct {
	At    int
	Score int
}

// Shard makes records, which must be in the order of the input, ready to be searched. They must be among those that were counted.
func (s *Shards) Shard(records []*model.Record) (*Shard, error) {
	r := s.numbers
	r.rawSurname = map[string]uint32{"": 0}
	r.rows = make([]row, 0, len(records))
	known := [...]int{len(r.surname), len(r.given), len(r.unit), len(r.war)}
	for _, rec := range records {
		if _, ok := r.surname[name.Fold(rec.Person.Name.Surname)]; !ok {
			return nil, fmt.Errorf("record %s was not counted", rec.ID)
		}
		r.add(rec)
	}
	if known != [...]int{len(r.surname), len(r.given), len(r.unit), len(r.war)} {
		return nil, fmt.Errorf("%d records have values that were not counted", len(records))
	}
	return &Shard{x: Index{roll: r.finish(), names: s.whole.names, scorer: s.whole.scorer}}, nil
}

// Candidates gives the best records of the shard for a stone, as Index.Candidates does.
func (s *Shard) Candidates(ctx context.Context, sub *model.Subject, limit int) ([]Found, error) {
	list, err := s.x.best(ctx, sub, limit)
	if err != nil {
		return nil, err
	}
	out := make([]Found, len(list))
	for i, f := range list {
		out[i] = Found{At: int(f.at()), Score: int(f.score())}
	}
	return out, nil
}
