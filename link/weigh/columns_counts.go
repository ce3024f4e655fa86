package weigh

import (
	"slices"
	"strings"
	"sync"
	"sync/atomic"

	"musterstone/model"
	"musterstone/vocab/name"
)

// Counts are what Count gives of the records, made from the columns: each distinct value is looked at once. Only namesakes are found in another way, when they
// are asked for.
func (c *Columns) Counts() *Counts {
	k := &Counts{N: len(c.rows), peoples: &oncePeoples{}, births: map[int]int{}, deaths: map[int]int{}, service: map[serviceKey]int{}}
	surnames, givens := make([]int, len(c.surnames)), make([]int, len(c.givens))
	middles, suffixes, units, ranks := make([]int, len(c.middles)), make([]int, len(c.suffixes)), make([]int, len(c.units)), make([]int, len(c.ranks))
	deaths, burials, homes, services := make([]int, len(c.dates)), make([]int, len(c.burials)), make([]int, len(c.homes)), make([]int, len(c.services))
	named, second := make([]int, len(c.files)), make([]int, len(c.files))
	births := map[birthSpan]int{}
	var usual [usualYears][usualSpan][2]int // of those that nearly all are of, by first year, years after that and round figures
	middle := make([]bool, len(c.middles))  // something is left of it when it is folded
	for i, v := range c.middles {
		middle[i] = name.Fold(v) != ""
	}
	sample := newSampler(c)
	for i := range c.rows {
		w := &c.rows[i]
		surnames[w.surname]++
		givens[w.given]++
		middles[w.middle]++
		suffixes[w.suffix]++
		units[w.unit]++
		ranks[w.rank]++
		deaths[w.died]++
		burials[w.burial]++
		homes[w.home]++
		services[w.service]++
		sample.take(i, w)
		if w.given > 0 {
			named[w.file]++
			if middle[w.middle] {
				second[w.file]++
			}
		}
		if w.bornFrom != noYear {
			k.born++
			if from, span := uint(w.bornFrom-usualFrom), uint(w.bornTo-w.bornFrom); from < usualYears && span < usualSpan {
				round := 0
				if w.round(c) {
					round = 1
				}
				usual[from][span][round]++
			} else {
				births[birthSpan{w.bornFrom, w.bornTo, w.round(c)}]++
			}
		}
	}
	for from := range usual {
		for span := range usual[from] {
			for round, men := range usual[from][span] {
				if year := int16(usualFrom + from); men > 0 {
					births[birthSpan{year, year + int16(span), round == 1}] = men
				}
			}
		}
	}
	for b, men := range births {
		k.births[birthCount(b.from, b.to, b.round)] = men
	}
	k.sample = sample.men()
	n := &namesakes{c: c, bearers: surnames}
	n.surnames = k.surnames.fold(c.surnames, surnames)
	n.givens = k.givens.fold(c.givens, givens)
	for i, v := range c.middles {
		if m := name.Fold(v); m != "" && middles[i] > 0 {
			k.middle += middles[i]
			k.middles.addN(m[:1], middles[i])
		}
	}
	for i, file := range c.files {
		k.named.addN(file, named[i])
		k.second.addN(file, second[i])
	}
	k.suffixes.fold(c.suffixes, suffixes)
	for i := range c.units {
		u := &c.units[i]
		if units[i] == 0 {
			continue
		}
		for _, key := range unitKeys(*u) {
			k.units.addN(key, units[i])
		}
		if !slices.Contains(k.armList, u.Arm) {
			k.armList = append(k.armList, u.Arm)
		}
		k.states.addN(u.Designation(), units[i])
	}
	for i, r := range c.ranks {
		k.ranks.addN(string(r.in), ranks[i])
		if r.out != r.in {
			k.ranks.addN(string(r.out), ranks[i])
		}
	}
	for i := range c.dates {
		if d := &c.dates[i]; i > 0 && deaths[i] > 0 {
			k.died += deaths[i]
			if d.From == d.To {
				k.deathDays.addN(d.From.String(), deaths[i])
			}
			if y, ok := middleYear(*d); ok {
				k.deaths[y] += deaths[i]
			}
		}
	}
	for i, v := range c.burials {
		k.buried.addN(v, burials[i])
	}
	for i, v := range c.homes {
		k.homes.addN(strings.ToLower(v), homes[i])
	}
	for i := range c.services {
		if services[i] > 0 {
			k.countServices(&c.services[i], services[i])
		}
	}
	n.order, n.number = sync.OnceFunc(n.deal), sync.OnceFunc(n.numberNames)
	k.namesakes, k.namesakesOf = n.count, n.countRow
	return k
}

// Years of birth that need no map.
const usualFrom, usualYears, usualSpan = 1700, 256, 4

// birthSpan is what births are counted by.
type birthSpan struct {
	from, to int16
	round    bool
}

// fold counts the folded values and gives the number of each, -1 where nothing is left of it.
func (t *tally) fold(values []string, n []int) []int32 {
	numbers := make([]int32, len(values))
	folded := make([]string, len(values))
	inParts(len(values), func(from, to int) {
		for i := from; i < to; i++ {
			folded[i] = name.Fold(values[i])
		}
	})
	at := make(map[string]int32, len(values))
	for i, f := range folded {
		numbers[i] = -1
		if f == "" {
			continue
		}
		k, ok := at[f]
		if !ok {
			k = int32(len(at))
			at[f] = k
		}
		numbers[i] = k
		t.addN(f, n[i])
	}
	return numbers
}

// namesakes finds how many men share a name: the rows are put in the order of surnames when they are first asked for, and those of one surname in that of given names when that is.
type namesakes struct {
	c                  *Columns
	bearers            []int    // by the number of the surname as written
	surnames, givens   []int32  // the number of the folded name, by the number as written
	order              func()   // see deal
	men                []uint64 // their given names and companies, of one surname after the other
	first              []uint32 // where each surname begins in men, and the end
	sorting            sync.Mutex
	sorted             []atomic.Bool // the men of a surname are
	number             func()        // see numberNames
	surnameNo, givenNo map[string]int32
	company            []int32 // by unit: the number of its company, 0 for none
	companyNo          map[string]int32
}

// numberNames numbers the names, which only records by themselves are looked up by.
func (n *namesakes) numberNames() {
	n.surnameNo, n.givenNo = map[string]int32{}, map[string]int32{}
	for i, k := range n.surnames {
		n.surnameNo[name.Fold(n.c.surnames[i])] = k
	}
	for i, k := range n.givens {
		n.givenNo[name.Fold(n.c.givens[i])] = k
	}
}

// deal puts the men in the order of surnames, and numbers companies.
func (n *namesakes) deal() {
	c := n.c
	distinct := int(slices.Max(n.surnames)) + 1
	n.first = make([]uint32, distinct+1)
	for i, k := range n.surnames {
		if k >= 0 {
			n.first[k+1] += uint32(n.bearers[i])
		}
	}
	for k := range distinct {
		n.first[k+1] += n.first[k]
	}
	n.companyNo = map[string]int32{}
	n.company = make([]int32, len(c.units))
	for i := range c.units {
		if u := &c.units[i]; u.Company != "" {
			n.company[i] = numberOf(n.companyNo, companyKey(*u))
		}
	}
	next := slices.Clone(n.first)
	n.men = make([]uint64, n.first[distinct])
	for i := range c.rows {
		w := &c.rows[i]
		if k := n.surnames[w.surname]; k >= 0 {
			n.men[next[k]] = uint64(n.givens[w.given]+1)<<32 | uint64(n.company[w.unit])
			next[k]++
		}
	}
	n.sorted = make([]atomic.Bool, distinct)
}

// menOf are the men of a surname, in the order of given name and company.
func (n *namesakes) menOf(k int32) []uint64 {
	men := n.men[n.first[k]:n.first[k+1]]
	if !n.sorted[k].Load() {
		n.sorting.Lock()
		defer n.sorting.Unlock()
		if !n.sorted[k].Load() {
			slices.Sort(men)
			n.sorted[k].Store(true)
		}
	}
	return men
}

// numberOf is the number of the key from 1 on, which it enters where it is new.
func numberOf(m map[string]int32, key string) int32 {
	n, ok := m[key]
	if !ok {
		n = int32(len(m)) + 1
		m[key] = n
	}
	return n
}

// count is how many men have the folded names, and how many of them are of the unit's company.
func (n *namesakes) count(surname, given string, u *model.Unit) (men, inCompany int) {
	n.order()
	n.number()
	k, ok := n.surnameNo[surname]
	g, known := n.givenNo[given]
	if !ok || !known {
		return 0, 0
	}
	var company int32
	if u.Company != "" {
		company = n.companyNo[companyKey(*u)]
	}
	return n.countNumbers(k, g, company)
}

// countRow is count for row i of the columns; ok is false where the counts are not made from these.
func (n *namesakes) countRow(c *Columns, i uint32) (men, inCompany int, ok bool) {
	if c != n.c {
		return 0, 0, false
	}
	n.order()
	w := &c.rows[i]
	k, g := n.surnames[w.surname], n.givens[w.given]
	if k < 0 || g < 0 {
		return 0, 0, true
	}
	men, inCompany = n.countNumbers(k, g, n.company[w.unit])
	return men, inCompany, true
}

// countNumbers is count by the numbers of surname, given name and company, 0 for none.
func (n *namesakes) countNumbers(k, g, company int32) (men, inCompany int) {
	// span are the men from one key on to below another.
	span := func(men []uint64, from, to uint64) []uint64 {
		i, _ := slices.BinarySearch(men, from)
		k, _ := slices.BinarySearch(men, to)
		return men[i:k]
	}
	name := uint64(g+1) << 32
	list := span(n.menOf(k), name, name+1<<32)
	if company > 0 && len(list) > 1 {
		inCompany = len(span(list, name|uint64(company), name|uint64(company+1)))
	}
	return len(list), inCompany
}
