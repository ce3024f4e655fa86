package link

import (
	"bytes"
	"math"
	"runtime"
	"slices"
	"sync"

	"musterstone/link/weigh"
	"musterstone/model"
)

// Cases are some of the stones of a survey as Fit sees them.
type Cases struct {
	Records int                   // in all rosters
	Unseen  float64               // see weigh.Counts
	Peoples [weigh.People]float64 // shares of the rosters' men
	Rosters []string              // the files of the candidates, sorted
	Stones  []Case

	regiments []string // of the stones, once they are numbered
}

// Case is one stone.
type Case struct {
	Standing
	Nobody   bool   // a person has said that its man is in none of the records
	Settled  bool   // a person has confirmed a record
	Answered bool   // a person has confirmed or refused a record, or said that it is none of them
	Regiment string // "" for none
	Share    float64
	Company  int // the rosters' men of its company
	Kin      []Kin
	Pairs    []Pair
	Order    []uint16 // of each candidate near enough, its place in Pairs, best first; nil where each pair is one candidate

	regiment int32 // its number in Cases.regiments and 1 more, once they are numbered; 0 for none
}

// Pair is a candidate near enough to the best to be learned from, and those that are like it in all of this: of a stone's candidates a third to a half have the very evidence of another
// one, and come to the same in every round.
type Pair struct {
	Bits   float64
	Levels []uint8 // the learnable levels among its evidence
	Roster uint16  // of Cases.Rosters
	Others uint16  // how many more candidates are like it
	InReg  bool
	Agree  uint8 // how the names agree: oneSurname, oneGiven
	Kin    uint8 // the place in Case.Kin of those of its company and surname, plus 1; 0 for none
	// Fixed is 1 for a confirmed candidate, 0 for a refused one, -1 where nobody has decided.
	Fixed int8
}

// like reports whether two pairs are like each other, their levels apart.
func (p *Pair) like(q *Pair) bool {
	return p.Bits == q.Bits && p.Roster == q.Roster && p.InReg == q.InReg && p.Agree == q.Agree && p.Kin == q.Kin && p.Fixed == q.Fixed
}

// cases makes the cases of weighed stones.
func (l *Linker) cases(all []weighed) *Cases {
	c := &Cases{Records: max(1, l.Counts.N), Unseen: l.Counts.Unseen(), Peoples: l.Counts.Peoples(), Stones: make([]Case, len(all))}
	for i := range all {
		if r := all[i].rows; r != nil {
			c.Rosters = files(c.Rosters, r)
			continue
		}
		for j := range all[i].count() {
			if file := all[i].file(j); !slices.Contains(c.Rosters, file) {
				c.Rosters = append(c.Rosters, file)
			}
		}
	}
	slices.Sort(c.Rosters)
	inParts(len(all), func(from, to int) {
		for i := from; i < to; i++ {
			c.Stones[i] = l.caseOf(&all[i], c.Rosters)
		}
	})
	return c
}

// files adds to a list of files those that rows stand in.
func files(list []string, r *rows) []string {
	last := -1
	for j := range r.list {
		c := &r.list[j]
		file := ""
		if c.view != noView {
			if int(c.file) == last {
				continue
			}
			last = int(c.file)
			file = r.columns.Files()[last]
		}
		if !slices.Contains(list, file) {
			list = append(list, file)
		}
	}
	return list
}

// caseOf makes the case of a stone.
func (l *Linker) caseOf(w *weighed, rosters []string) Case {
	ladder := fitLadder()
	var buf [16]uint8
	s := Case{Standing: w.standing, Nobody: w.nobody, Regiment: w.regiment, Share: w.share,
		Company: w.company, Kin: w.kin, Settled: len(l.Settled.Confirmed(w.stone)) > 0}
	best := math.Inf(-1)
	for j := range w.count() {
		best = max(best, w.bits(j))
	}
	near := func(j int) bool { return w.bits(j) >= best-far || w.decided(j) != undecided }
	n := 0
	for j := range w.count() {
		if near(j) {
			n++
		}
	}
	var pairRoom [64]Pair
	pairs, order := pairRoom[:0], make([]uint16, 0, n)
	// The levels of all pairs stand in one piece of memory, and end there.
	var room [512]uint8
	var endRoom [64]int
	levels, ends := room[:0], endRoom[:0]
	for j := range w.count() {
		if !near(j) {
			continue
		}
		decided := w.decided(j)
		p := Pair{Bits: w.bits(j), Fixed: -1, Kin: w.kinOf(j)}
		roster, _ := slices.BinarySearch(rosters, w.file(j))
		p.Roster = uint16(roster)
		switch decided {
		case confirmed:
			p.Fixed = 1
		case refused:
			p.Fixed = 0
		}
		from := len(levels)
		for _, level := range w.levels(j, buf[:]) {
			if n := ladder.at(level, w.standing.Unlisted); n >= 0 {
				levels = append(levels, uint8(n))
			}
			p.Agree |= ladder.names[level]
			p.InReg = p.InReg || ladder.inRegiment[level]
		}
		s.Answered = s.Answered || p.Fixed >= 0
		k, begin := 0, 0
		for ; k < len(pairs); k++ {
			if pairs[k].like(&p) && bytes.Equal(levels[begin:ends[k]], levels[from:]) {
				break
			}
			begin = ends[k]
		}
		order = append(order, uint16(k))
		if k < len(pairs) {
			pairs[k].Others++
			levels = levels[:from]
			continue
		}
		pairs, ends = append(pairs, p), append(ends, len(levels))
	}
	s.Pairs, levels = slices.Clone(pairs), slices.Clone(levels)
	from := 0
	for i, end := range ends {
		s.Pairs[i].Levels = levels[from:end:end]
		from = end
	}
	if len(s.Pairs) < len(order) {
		s.Order = order
	}
	s.Answered = s.Answered || s.Nobody
	return s
}

// rosterOf is the file that a record stands in, "" for one that is not known.
func rosterOf(r *model.Record) string {
	if r == nil {
		return ""
	}
	return r.Source.File
}

// men are a sum of probabilities, in units of 2^-32: whole numbers, so that a sum is the same to the bit in whatever order it is made.
type men int64

const man men = 1 << 32

func menOf(p float64) men { return men(math.RoundToEven(p * float64(man))) }

func (m men) float() float64 { return float64(m) / float64(man) }

func floats(list []men) []float64 {
	if list == nil {
		return nil
	}
	out := make([]float64, len(list))
	for i, m := range list {
		out[i] = m.float()
	}
	return out
}

// plus adds up two lists by place, of which one may be the shorter; it may change the first.
func plus(a, b []men) []men {
	if len(a) < len(b) {
		a = append(a, make([]men, len(b)-len(a))...)
	}
	for k, n := range b {
		a[k] += n
	}
	return a
}

// Sums are what some stones came to in a round. Those of other stones can be merged into them, in any order.
type Sums struct {
	Matches            men             // stones whose man is in the rosters
	Veterans, In       men             // stones, not the plain ones, that are veterans', and whose man is in the rosters
	PlainWant, PlainIn [plainKinds]men // the same of plain stones by kind, the first as the table has it
	// UnlistedWant and UnlistedIn are the same of stones whose surname no record bears, the first as if some did.
	UnlistedWant, UnlistedIn men
	Unseen                   float64               // see Cases; the same for all parts
	Peoples                  [weigh.People]float64 // likewise
	Names                    [nameKinds]NameSums
	Born                     [plainKinds]BornSums // of plain stones, by kind
	Lacking                  map[string]Lack
	LackingAll               men
	LackingAlike             men              // of them, those whose regiments are spread as the rosters'
	LackingCurve             men              // see mixed
	KinWant, KinFound        men              // men whom the rosters lack and who were to be named like one of their company, and those who were
	Seen                     map[string][]men // pairs of one man, by roster and level
	// Foretold and Right are, of stones that were answered, the right pairs by level: as they would be foretold if nobody had decided, and as they are. Nil without any.
	Foretold, Right []men
}

// Lack is how many stones of a regiment are of men whom the rosters lack, and the part of the rosters' men that are of that regiment.
type Lack struct {
	Men   men
	Share float64
}

func newSums() *Sums { return &Sums{Lacking: map[string]Lack{}, Seen: map[string][]men{}} }

// Merge adds what other stones came to.
func (s *Sums) Merge(o *Sums) {
	s.Matches += o.Matches
	s.Veterans, s.In = s.Veterans+o.Veterans, s.In+o.In
	for k := range s.PlainIn {
		s.PlainWant[k], s.PlainIn[k] = s.PlainWant[k]+o.PlainWant[k], s.PlainIn[k]+o.PlainIn[k]
	}
	s.UnlistedWant, s.UnlistedIn = s.UnlistedWant+o.UnlistedWant, s.UnlistedIn+o.UnlistedIn
	for k := range s.Born {
		s.Born[k].merge(&o.Born[k])
	}
	for k := range s.Names {
		s.Names[k].merge(&o.Names[k])
	}
	s.Unseen = max(s.Unseen, o.Unseen)
	for k, share := range o.Peoples {
		s.Peoples[k] = max(s.Peoples[k], share)
	}
	s.LackingAll, s.LackingAlike, s.LackingCurve = s.LackingAll+o.LackingAll, s.LackingAlike+o.LackingAlike, s.LackingCurve+o.LackingCurve
	if s.Lacking == nil {
		s.Lacking = map[string]Lack{}
	}
	for regiment, n := range o.Lacking {
		s.lack(regiment, n)
	}
	s.KinWant, s.KinFound = s.KinWant+o.KinWant, s.KinFound+o.KinFound
	if s.Seen == nil {
		s.Seen = map[string][]men{}
	}
	for roster, list := range o.Seen {
		s.Seen[roster] = plus(s.Seen[roster], list)
	}
	s.Foretold, s.Right = plus(s.Foretold, o.Foretold), plus(s.Right, o.Right)
}

func (s *Sums) lack(regiment string, n Lack) {
	l := s.Lacking[regiment]
	l.add(n)
	s.Lacking[regiment] = l
}

func (l *Lack) add(n Lack) { l.Men, l.Share = l.Men+n.Men, max(l.Share, n.Share) }

func (s *Sums) seen(roster string, level int) men {
	if list := s.Seen[roster]; level < len(list) {
		return list[level]
	}
	return 0
}

// Count is what the stones come to by what has been learned so far.
func (c *Cases) Count(f *Fit) *Sums {
	c.numberRegiments()
	parts := max(1, min(runtime.GOMAXPROCS(0), len(c.Stones)/2000))
	sums := make([]*Sums, parts)
	var group sync.WaitGroup
	for k := range parts {
		group.Go(func() {
			from, to := k*len(c.Stones)/parts, (k+1)*len(c.Stones)/parts
			sums[k] = c.count(f, len(fitLadder().levels), c.Stones[from:to])
		})
	}
	group.Wait()
	for _, s := range sums[1:] {
		sums[0].Merge(s)
	}
	return sums[0]
}

// numberRegiments numbers the regiments of the stones, once: a round looks each of them up for every stone.
func (c *Cases) numberRegiments() {
	if c.regiments != nil {
		return
	}
	c.regiments = []string{}
	numbers := map[string]int32{"": 0}
	for i := range c.Stones {
		s := &c.Stones[i]
		n, ok := numbers[s.Regiment]
		if !ok {
			c.regiments = append(c.regiments, s.Regiment)
			n = int32(len(c.regiments))
			numbers[s.Regiment] = n
		}
		s.regiment = n
	}
}

// count is Count for some of the stones, whose regiments are numbered.
func (c *Cases) count(f *Fit, levels int, stones []Case) *Sums {
	e := expecter{f: f, seen: make([][]men, len(c.Rosters)), gain: make([][]float64, len(c.Rosters)), lift: math.Log(float64(c.Records))}
	none := make([]float64, levels)
	for i, roster := range c.Rosters {
		e.seen[i], e.gain[i] = make([]men, levels), none
		if r := f.roster(roster); r >= 0 {
			e.gain[i] = f.Gain[r]
		}
	}
	lacking := make([]Lack, len(c.regiments)+1)
	e.shifts = make([]float64, len(lacking))
	for k, regiment := range c.regiments {
		e.shifts[k+1] = f.Shifts[regiment]
	}
	regiments := c.regiments
	s := newSums()
	s.Unseen, s.Peoples = c.Unseen, c.Peoples
	for i := range stones {
		c := &stones[i]
		prior := f.prior(&c.Standing, c.Nobody)
		none := e.expect(c, prior)
		if c.Answered {
			e.foretell(c, f.prior(&c.Standing, false), levels)
		}
		in := menOf(1 - none)
		s.Matches += in
		if c.Unlisted {
			listed := c.Standing
			listed.Unlisted = false
			if !c.Nobody {
				s.UnlistedWant += menOf(f.share(&listed))
			}
			s.UnlistedIn += in
		} else if c.Plain {
			kind := c.kind()
			s.PlainWant[kind] += menOf(c.Veteran * f.Coverage)
			s.PlainIn[kind] += in
		} else {
			s.In += in
			s.Veterans += menOf(c.Veteran)
		}
		if bin := binOf(c.Born); c.Plain && bin >= 0 {
			s.Born[c.kind()].add(&f.Births[c.kind()], bin, c.BornShare, none)
		}
		s.Names[c.nameKind()].add(&f.Names[c.nameKind()], &c.Standing, none)
		if c.Company > 0 {
			want, found := f.named(c.Company, c.Kin)
			s.KinWant += menOf(c.Veteran * none * want)
			s.KinFound += menOf(c.Veteran * none * found)
		}
		if c.Regiment != "" {
			n := c.Veteran * none
			lacking[c.regiment].add(Lack{Men: menOf(n), Share: c.Share})
			s.LackingAll += menOf(n)
			s.LackingAlike += menOf(n * f.Alike * c.Share / f.base(c.Share))
			s.LackingCurve += menOf(n * bend(c.Share, 1./priorRegiments, f.base(c.Share)))
		}
	}
	for k, regiment := range regiments {
		if lacking[k+1] != (Lack{}) {
			s.lack(regiment, lacking[k+1])
		}
	}
	for i, roster := range c.Rosters {
		s.Seen[roster] = e.seen[i]
	}
	s.Foretold, s.Right = e.foretold, e.right
	return s
}

// expecter is one pass over stones.
type expecter struct {
	f      *Fit
	lift   float64   // logarithm of the number of records
	shifts []float64 // by number of the regiment, 0 for none
	gain   [][]float64
	seen   [][]men
	odds   []float64 // of the pairs of the stone at hand
	// See Sums.
	foretold, right []men
}

// nothing is the logarithm of odds that change no sum of odds that is 1 or more, and of which no unit of men is left.
const nothing = -37

// weigh fills in the odds of the stone's pairs, and gives their sum with those of none. Open is as if nobody had decided.
func (e *expecter) weigh(c *Case, prior float64, open bool) float64 {
	e.odds = slices.Grow(e.odds[:0], len(c.Pairs))[:len(c.Pairs)]
	odds := e.odds
	clear(odds)
	if prior == 0 {
		return 1
	}
	settled := c.Settled && !open
	logOdds := math.Log(prior/(1-prior)) - e.lift
	total := 1.0
	if settled {
		total = 0
	}
	shift := e.shifts[c.regiment]
	names := e.f.Names[c.nameKind()].bits(&c.Standing)
	for i := range c.Pairs {
		p := &c.Pairs[i]
		switch {
		case open:
			if p.Fixed == 1 && len(p.Levels) == 0 { // chosen by the person, not found by the program
				continue
			}
		case p.Fixed == 0 || settled && p.Fixed != 1:
			continue
		}
		bits := p.Bits + names[p.Agree]
		if p.InReg {
			bits += shift
		}
		if p.Kin > 0 {
			bits += e.f.kinBits(c.Company, &c.Kin[p.Kin-1])
		}
		gain := e.gain[p.Roster]
		for _, k := range p.Levels {
			bits += gain[k]
		}
		x := logOdds + bits*math.Ln2
		if x < nothing && !settled {
			continue
		}
		odds[i] = math.Exp(min(600, x))
	}
	return e.sum(c, total)
}

// sum adds the odds of the stone's candidates to a sum, one by one in their order: it is the same to the bit however many are alike.
func (e *expecter) sum(c *Case, total float64) float64 {
	if c.Order == nil {
		for _, odds := range e.odds {
			total += odds
		}
		return total
	}
	for _, k := range c.Order {
		total += e.odds[k]
	}
	return total
}

// count counts the levels of the stone's pairs, each at its probability: into a list, or, where that is nil, by roster.
func (e *expecter) count(c *Case, total float64, into []men) {
	for i, odds := range e.odds {
		if odds == 0 {
			continue
		}
		p := &c.Pairs[i]
		n, seen := menOf(odds/total)*men(1+p.Others), into
		if into == nil {
			seen = e.seen[p.Roster]
		}
		for _, k := range p.Levels {
			seen[k] += n
		}
	}
}

// expect gives the probability that the stone's man is in none of the records, and counts the levels of its pairs, each at the pair's probability.
func (e *expecter) expect(c *Case, prior float64) float64 {
	total := e.weigh(c, prior, false)
	if total > 0 {
		e.count(c, total, nil)
	}
	if c.Settled && prior > 0 {
		return 0
	}
	return 1 / total
}

// foretell counts the levels of an answered stone's pairs, each at its probability by the answer, and at what it would be if nobody had decided. The odds must be those by the answer; prior is
// the open one.
func (e *expecter) foretell(c *Case, prior float64, levels int) {
	if e.foretold == nil {
		e.foretold, e.right = make([]men, levels), make([]men, levels)
	}
	total := 1.0
	if c.Settled {
		total = 0
	}
	e.count(c, e.sum(c, total), e.right)
	total = e.weigh(c, prior, true)
	e.count(c, total, e.foretold)
}
