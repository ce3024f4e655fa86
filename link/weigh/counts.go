package weigh

import (
	"hash/fnv"
	"iter"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
)

// Counts says how often each value occurs among the service records of a survey: what u-probabilities are made of.
type Counts struct {
	N         int
	surnames  tally
	givens    tally       // folded first given name, an initial alone as one letter
	middles   tally       // initials
	suffixes  tally       // folded
	middle    int         // records with a middle name or initial
	named     tally       // by file: records with a given name
	second    tally       // by file: of them, those with a middle name or initial
	units     tally       // see unitKeys
	armList   []model.Arm // the arms that occur, "" among them
	ranks     tally       // every rank of a record, in and out, once a record
	births    map[int]int // by span of years and whether it follows from a round age: see birthCount
	born      int
	deathDays tally
	deaths    map[int]int
	died      int
	buried    tally
	homes     tally
	states    tally
	services  []serviceCount // the kinds of service that a marker's design can tell apart, in the order in which they came
	service   map[serviceKey]int
	names     map[nameKey]int32 // men by their whole names, and by their names within a company
	sample    []sampled         // see peoples
	sifted    int               // how many they were when they were last sifted
	peoples   *oncePeoples      // nil in the zero value
	// namesakes, where it is set, finds what names would have: the men of the folded names, and those of the unit's company.
	namesakes func(surname, given string, u *model.Unit) (men, inCompany int)
	// namesakesOf is the same for a row of the columns that the counts are made from, not ok for others.
	namesakesOf func(c *Columns, row uint32) (men, inCompany int, ok bool)
}

// nameKey is a digest of a name, or of a name and a company: two of them are the same by chance once in a billion billion pairs.
type nameKey uint64

func keyOf(parts ...string) nameKey {
	h := fnv.New64a()
	for _, p := range parts {
		h.Write([]byte(p))
		h.Write([]byte{0})
	}
	return nameKey(h.Sum64())
}

// countName counts a man under his surname and first given name, and under the two in his company.
func (c *Counts) countName(r *model.Record) {
	surname, given := name.Fold(r.Person.Name.Surname), name.Fold(r.Person.Name.Given)
	if surname == "" || given == "" {
		return
	}
	c.names[keyOf(surname, given)]++
	if u := r.Service.Unit; u.Company != "" {
		c.names[keyOf(surname, given, companyKey(u))]++
	}
}

func companyKey(u model.Unit) string {
	return u.Designation() + "/" + unitNumber(u) + "/" + string(u.Arm) + "/" + u.Company
}

// Namesakes counts the men of the record's surname and given name, the record's own included; nil where it lacks one of them.
func (c *Counts) Namesakes(r *model.Record) *model.Namesakes {
	surname, given := name.Fold(r.Person.Name.Surname), name.Fold(r.Person.Name.Given)
	if surname == "" || given == "" {
		return nil
	}
	u := &r.Service.Unit
	if c.namesakes != nil {
		men, inCompany := c.namesakes(surname, given, u)
		return newNamesakes(r, men, inCompany)
	}
	men, inCompany := int(c.names[keyOf(surname, given)]), 0
	if u.Company != "" {
		inCompany = int(c.names[keyOf(surname, given, companyKey(*u))])
	}
	return newNamesakes(r, men, inCompany)
}

// NamesakesAt is Namesakes for a row of columns, of which r is the record.
func (c *Counts) NamesakesAt(columns *Columns, row uint32, r *model.Record) *model.Namesakes {
	if c.namesakesOf != nil {
		if men, inCompany, ok := c.namesakesOf(columns, row); ok {
			if men == 0 {
				return nil
			}
			return newNamesakes(r, men, inCompany)
		}
	}
	return c.Namesakes(r)
}

func newNamesakes(r *model.Record, men, inCompany int) *model.Namesakes {
	n := &model.Namesakes{Name: r.Person.Name.Given + " " + r.Person.Name.Surname, Men: men}
	if company := r.Service.Unit.Company; company != "" && men >= 2 {
		n.Company, n.InCompany = "Company "+company, inCompany
	}
	return n
}

// tally counts values and keeps them in the order in which they first came.
type tally struct {
	n      map[string]int
	values []string
}

func (t *tally) add(v string) { t.addN(v, 1) }

func (t *tally) addN(v string, n int) {
	if v == "" || n == 0 {
		return
	}
	if t.n == nil {
		t.n = map[string]int{}
	}
	if t.n[v] == 0 {
		t.values = append(t.values, v)
	}
	t.n[v] += n
}

// newCounts are those of no records.
func newCounts() *Counts {
	return &Counts{peoples: &oncePeoples{}, births: map[int]int{}, deaths: map[int]int{}, names: map[nameKey]int32{}, service: map[serviceKey]int{}}
}

// Count goes once over the records.
func Count(records iter.Seq[*model.Record]) *Counts {
	c := newCounts()
	for r := range records {
		c.add(r)
	}
	return c
}

func (c *Counts) add(r *model.Record) {
	c.N++
	c.countName(r)
	c.take(r)
	c.countServices(&r.Service, 1)
	c.surnames.add(name.Fold(r.Person.Name.Surname))
	c.givens.add(name.Fold(r.Person.Name.Given))
	m := name.Fold(r.Person.Name.Middle)
	if m != "" {
		c.middle++
		c.middles.add(m[:1])
	}
	if r.Person.Name.Given != "" {
		c.named.add(r.Source.File)
		if m != "" {
			c.second.add(r.Source.File)
		}
	}
	c.suffixes.add(name.Fold(r.Person.Name.Suffix))
	for _, k := range unitKeys(r.Service.Unit) {
		c.units.add(k)
	}
	if !slices.Contains(c.armList, r.Service.Unit.Arm) {
		c.armList = append(c.armList, r.Service.Unit.Arm)
	}
	c.states.add(r.Service.Unit.Designation())
	c.ranks.add(string(r.Service.Rank))
	if r.Service.RankOut != r.Service.Rank {
		c.ranks.add(string(r.Service.RankOut))
	}
	if from, to := birthYears(r.Birth()); from != noYear {
		c.births[birthCount(from, to, roundAge(r))]++
		c.born++
	}
	if d := r.Person.Died; !d.IsZero() {
		c.died++
		if d.From == d.To {
			c.deathDays.add(d.From.String())
		}
		if y, ok := middleYear(d); ok {
			c.deaths[y]++
		}
	}
	c.buried.add(burialText(r))
	c.homes.add(strings.ToLower(r.Person.Residence))
}

// share is the part of the records that n is, never 0 and never 1: half a record is added on either side, since what a roster of N
// men never shows may still occur.
func (c *Counts) share(n float64) float64 {
	return (n + 0.5) / (float64(c.N) + 1)
}

// Surnames is how many records bear the surname.
func (c *Counts) Surnames(surname string) int {
	return c.surnames.n[name.Fold(surname)]
}

// unitKeys are the keys under which a record's unit is counted, from the whole regiment down to the company, each also without its state.
func unitKeys(u model.Unit) []string {
	if u.IsZero() {
		return nil
	}
	des := u.Designation()
	keys := []string{"d:" + des, "da:" + des + "/" + string(u.Arm)}
	if u.Number != 0 || u.Name != "" {
		reg := des + "/" + unitNumber(u) + "/" + string(u.Arm)
		keys = append(keys, "r:"+reg, "n:"+unitNumber(u)+"/"+string(u.Arm))
		if u.Company != "" {
			keys = append(keys, "c:"+reg+"/"+u.Company, "nc:"+unitNumber(u)+"/"+string(u.Arm)+"/"+u.Company)
		}
	}
	return keys
}

// unitNumber is the unit's number with its kind, or its name.
func unitNumber(u model.Unit) string {
	if u.Number == 0 {
		return name.Fold(u.Name)
	}
	if u.Kind != "" {
		return strconv.Itoa(u.Number) + " " + string(u.Kind)
	}
	return strconv.Itoa(u.Number)
}

// middleYear is the year in the middle of a date's span, where both ends are known.
func middleYear(d date.Date) (int, bool) {
	if d.From.IsZero() || d.To.IsZero() {
		return 0, false
	}
	return (d.From.Year + d.To.Year) / 2, true
}
