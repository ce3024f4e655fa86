package weigh

import (
	"bytes"
	"cmp"
	"encoding/gob"
	"fmt"
	"maps"
	"slices"

	"musterstone/model"
)

// Merge adds what was counted of other records. In whatever order counts are merged, they come to the same, but for the order of their lists.
func (c *Counts) Merge(o *Counts) {
	if c.names == nil {
		*c = *newCounts()
	}
	c.N, c.middle, c.born, c.died = c.N+o.N, c.middle+o.middle, c.born+o.born, c.died+o.died
	mine := c.tallies()
	for i, t := range o.tallies() {
		for _, v := range t.values {
			mine[i].addN(v, t.n[v])
		}
	}
	for _, arm := range o.armList {
		if !slices.Contains(c.armList, arm) {
			c.armList = append(c.armList, arm)
		}
	}
	mergeCounts(c.births, o.births)
	mergeCounts(c.deaths, o.deaths)
	mergeCounts(c.names, o.names)
	c.sample = append(c.sample, o.sample...)
	c.sift()
	for key, i := range o.service {
		k, ok := c.service[key]
		if !ok {
			k = len(c.services)
			c.service[key] = k
			c.services = append(c.services, serviceCount{of: o.services[i].of})
		}
		c.services[k].men += o.services[i].men
	}
}

// tallies are all the tallies, always in the same order.
func (c *Counts) tallies() []*tally {
	return []*tally{&c.surnames, &c.givens, &c.middles, &c.suffixes, &c.units, &c.ranks, &c.deathDays, &c.buried, &c.homes, &c.states, &c.named, &c.second}
}

func mergeCounts[K comparable, N int | int32](into, from map[K]N) {
	for k, n := range from {
		into[k] += n
	}
}

// countsOnWire is how Counts are written.
type countsOnWire struct {
	N, Middle, Born, Died int
	Tallies               []tallyOnWire
	Arms                  []model.Arm
	Births, Deaths        map[int]int
	Names                 map[nameKey]int32
	Services              []serviceOnWire
	Sample                []sampled
}

type tallyOnWire struct {
	Values []string
	Men    []int
}

type serviceOnWire struct {
	Side, Branch, Body, Conflicts string
	Years                         [6]int
	Men                           int
	Of                            model.Service
}

// MarshalBinary writes the counts; their lists are sorted, so that what is read is the same in whatever order they were merged.
func (c *Counts) MarshalBinary() ([]byte, error) {
	w := countsOnWire{N: c.N, Middle: c.middle, Born: c.born, Died: c.died, Arms: slices.Sorted(slices.Values(c.armList)), Births: c.births, Deaths: c.deaths, Names: c.names}
	w.Sample = c.men()
	for _, t := range c.tallies() {
		one := tallyOnWire{Values: slices.Sorted(slices.Values(t.values))}
		for _, v := range one.Values {
			one.Men = append(one.Men, t.n[v])
		}
		w.Tallies = append(w.Tallies, one)
	}
	for _, key := range slices.SortedFunc(maps.Keys(c.service), func(a, b serviceKey) int {
		return cmp.Or(cmp.Compare(a.side, b.side), cmp.Compare(a.branch, b.branch), cmp.Compare(a.body, b.body), cmp.Compare(a.conflicts, b.conflicts), slices.Compare(a.years[:], b.years[:]))
	}) {
		s := c.services[c.service[key]]
		w.Services = append(w.Services, serviceOnWire{Side: key.side, Branch: key.branch, Body: key.body, Conflicts: key.conflicts, Years: key.years, Men: s.men, Of: s.of})
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(w); err != nil {
		return nil, fmt.Errorf("write the counts of %d records: %w", c.N, err)
	}
	return b.Bytes(), nil
}

// UnmarshalBinary reads what MarshalBinary wrote.
func (c *Counts) UnmarshalBinary(b []byte) error {
	var w countsOnWire
	if err := gob.NewDecoder(bytes.NewReader(b)).Decode(&w); err != nil {
		return fmt.Errorf("read the counts of records: %w; count them anew", err)
	}
	*c = *newCounts()
	c.N, c.middle, c.born, c.died, c.armList = w.N, w.Middle, w.Born, w.Died, w.Arms
	mine := c.tallies()
	if len(w.Tallies) != len(mine) {
		return fmt.Errorf("read the counts of records: they have %d lists and not %d, so that another version of the program wrote them; count the records anew", len(w.Tallies), len(mine))
	}
	for i, t := range w.Tallies {
		if len(t.Men) != len(t.Values) {
			return fmt.Errorf("read the counts of records: list %d is damaged; count them anew", i)
		}
		for k, v := range t.Values {
			mine[i].addN(v, t.Men[k])
		}
	}
	mergeCounts(c.births, w.Births)
	mergeCounts(c.deaths, w.Deaths)
	mergeCounts(c.names, w.Names)
	c.sample = w.Sample
	for i, s := range w.Services {
		c.service[serviceKey{s.Side, s.Branch, s.Body, s.Conflicts, s.Years}] = i
		c.services = append(c.services, serviceCount{of: s.Of, men: s.Men})
	}
	return nil
}

// movesOnWire is how Moves are written.
type movesOnWire struct {
	Lie  map[model.State]int
	From []moveOnWire
}

type moveOnWire struct {
	Here, Unit model.State
	Stones     int
}

// Merge adds what was counted on other stones.
func (m *Moves) Merge(o *Moves) {
	if m.lie == nil {
		m.lie, m.from = map[model.State]int{}, map[[2]model.State]int{}
	}
	mergeCounts(m.lie, o.lie)
	mergeCounts(m.from, o.from)
}

// MarshalBinary writes the moves.
func (m *Moves) MarshalBinary() ([]byte, error) {
	w := movesOnWire{Lie: m.lie}
	for k, n := range m.from {
		w.From = append(w.From, moveOnWire{k[0], k[1], n})
	}
	var b bytes.Buffer
	if err := gob.NewEncoder(&b).Encode(w); err != nil {
		return nil, fmt.Errorf("write how men moved: %w", err)
	}
	return b.Bytes(), nil
}

// UnmarshalBinary reads what MarshalBinary wrote.
func (m *Moves) UnmarshalBinary(b []byte) error {
	var w movesOnWire
	if err := gob.NewDecoder(bytes.NewReader(b)).Decode(&w); err != nil {
		return fmt.Errorf("read how men moved: %w; count it anew", err)
	}
	*m = Moves{}
	m.Merge(&Moves{lie: w.Lie})
	for _, f := range w.From {
		m.from[[2]model.State{f.Here, f.Unit}] = f.Stones
	}
	return nil
}
