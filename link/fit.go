package link

import (
	"math"
	"slices"

	"musterstone/link/calibrate"
	"musterstone/link/weigh"
	"musterstone/model"
)

// Lesson is what all the stones of a survey together teach.
type Lesson struct {
	// Coverage is which part of the veterans on the stones the rosters hold.
	Coverage float64 `json:"coverage"`
	// Plain is how much oftener than the table has it a stone that says nothing of a service is a veteran's.
	Plain float64 `json:"plain"`
	// Levels are the m that were learned, by roster: how often a level comes about where stone and record speak of one man.
	Levels []LearnedLevel `json:"levels"`
	// Calibration is what people's decisions taught of the probabilities themselves.
	Calibration calibrate.Map `json:"calibration"`
	// Refused says why what was learned of m was not used; "" where it was.
	Refused string `json:"refused,omitempty"`
}

// LearnedLevel is one m before and after.
type LearnedLevel struct {
	Roster string  `json:"roster"`
	Field  string  `json:"field"`
	Level  string  `json:"level"`
	Before float64 `json:"before"`
	After  float64 `json:"after"`
	// Pairs is on how many pairs of one man it rests, each counted at its probability.
	Pairs float64 `json:"pairs"`
}

const (
	// priorIn and priorOut are the stones on which the coverage rests before any is seen: two men of four.
	priorIn, priorOut = 2, 2
	// priorStones are the stones on which the spread of the regiments that the rosters lack rests before any is seen: some of them spread as
	// the rosters' own, the others evenly over priorRegiments. House judgement; Dyer's Compendium has about two thousand Union regiments.
	priorStones    = 1000
	priorRegiments = 2000
	// priorPlain is how many plain stones of veterans in the rosters the table's share of them is worth. House judgement.
	priorPlain = 3
	// priorPairs is how many pairs of one man the table's m are worth in each group of levels, rosterPairs how many those of all rosters are
	// worth to a single one. House judgement: a churchyard of forty stones keeps the table's, a county learns its own.
	priorPairs, rosterPairs = 40, 60
)

// mostLearned is by how much an m may fall. A level that never comes about among the men found is not one that never comes about: those of whom
// it holds are the hardest to find. House judgement.
const mostLearned = 4

// pair is a candidate as fit sees it.
type pair struct {
	bits   float64
	inReg  bool
	roster int
	levels []int // the learnable levels among its evidence
	// fixed is 1 for a confirmed candidate, 0 for a refused one, -1 where nobody has decided.
	fixed float64
}

// stoneCase is a stone as fit sees it.
type stoneCase struct {
	w       *weighed
	pairs   []pair
	settled bool // a person has confirmed a record
}

// fitter holds what fit learns, and from what.
type fitter struct {
	l       *Linker
	levels  []weigh.Level
	group   []int // of each level
	groups  int
	rosters []string
	cases   []stoneCase

	coverage, plain float64
	alike           float64 // which part of the men whom the rosters lack is spread over the regiments as the rosters' own
	shifts          map[string]float64
	m               [][]float64 // by roster and level
	gain            [][]float64 // what the m have moved the weight, in bits
	seen            [][]float64 // pairs of one man, by roster and level
	odds            []float64   // of the pairs of the stone at hand
}

// far is how many bits behind the best a candidate may be to be learned from.
const far = 12

// fit learns from all the stones together, by EM, what no single one can tell: which part of the veterans on the stones the rosters hold (the
// coverage), how the regiments of those whom they lack are spread, how often a plain stone is a veteran's, and how often each level of each field
// comes about where stone and record speak of one man (m). A stone's man is in the rosters as surely as its posterior says, which in turn depends on all four.
//
// The second matters where a roster is of a few regiments and the stones are of many. That a stone and a record agree on a
// regiment is worth log2(m/u) with u the chance of that regiment among the men who are not in the rosters: a stone of the very regiment that the
// roster is of is likelier to be in it. The weights come with u counted on the rosters; fit shifts the bits of those who agree on the regiment by log2 of
// the roster's share over the share among the others.
//
// The u are never learned so: they are counted. Left to find m and u by itself, EM parts the pairs along whatever two fields hang together, be it a match or
// not (Winkler's caution). The m start from the table "weights" and are held to it by a Dirichlet prior; each roster's are held to those of all. Where the share of matches
// then moves out of a sane range, or matches no longer agree on the surname, what was learned of m is refused.
func (l *Linker) fit(all []weighed) *Lesson {
	f := newFitter(l, all)
	f.run(false)
	before := f.matches()
	coverage, plain, shifts := f.coverage, f.plain, f.shifts
	f.run(true)
	lesson := &Lesson{Refused: f.insane(before)}
	if lesson.Refused != "" {
		f.coverage, f.plain, f.shifts = coverage, plain, shifts
		f.resetM()
	}
	lesson.Coverage, lesson.Plain = f.coverage, f.plain
	for r, roster := range f.rosters {
		for k, level := range f.levels {
			lesson.Levels = append(lesson.Levels, LearnedLevel{Roster: roster, Field: level.Group, Level: level.Name, Before: level.Start, After: f.m[r][k], Pairs: f.seen[r][k]})
		}
	}
	f.apply()
	return lesson
}

func newFitter(l *Linker, all []weighed) *fitter {
	f := &fitter{l: l, levels: weigh.Levels()}
	number := map[[2]string]int{}
	groups := map[string]int{}
	for i, level := range f.levels {
		number[[2]string{level.Group, level.Name}] = i
		if _, ok := groups[level.Group]; !ok {
			groups[level.Group] = len(groups)
		}
		f.group = append(f.group, groups[level.Group])
	}
	f.groups = len(groups)
	for i := range all {
		for _, r := range all[i].records {
			if file := rosterOf(r); !slices.Contains(f.rosters, file) {
				f.rosters = append(f.rosters, file)
			}
		}
	}
	slices.Sort(f.rosters)
	for i := range all {
		w := &all[i]
		c := stoneCase{w: w, settled: len(l.Settled.Confirmed(w.subject.Stone.ID)) > 0}
		best := math.Inf(-1)
		for j := range w.cands {
			best = max(best, w.cands[j].Bits)
		}
		for j := range w.cands {
			cand := &w.cands[j]
			if cand.Bits < best-far && cand.Decided == "" {
				continue
			}
			p := pair{bits: cand.Bits, inReg: inRegiment(cand), fixed: -1}
			p.roster, _ = slices.BinarySearch(f.rosters, rosterOf(w.records[j]))
			switch cand.Decided {
			case string(model.Confirmed):
				p.fixed = 1
			case string(model.Refused):
				p.fixed = 0
			}
			for _, e := range cand.Evidence {
				if group, name, ok := weigh.Learns(e); ok {
					p.levels = append(p.levels, number[[2]string{group, name}])
				}
			}
			c.pairs = append(c.pairs, p)
		}
		f.cases = append(f.cases, c)
	}
	f.resetM()
	return f
}

// rosterOf is the file that a record stands in, "" for one that is not known.
func rosterOf(r *model.Record) string {
	if r == nil {
		return ""
	}
	return r.Source.File
}

// resetM puts the m back to the table's.
func (f *fitter) resetM() {
	f.m, f.gain, f.seen = make([][]float64, len(f.rosters)), make([][]float64, len(f.rosters)), make([][]float64, len(f.rosters))
	for r := range f.rosters {
		f.gain[r], f.seen[r] = make([]float64, len(f.levels)), make([]float64, len(f.levels))
		for _, level := range f.levels {
			f.m[r] = append(f.m[r], level.Start)
		}
	}
}

// run is the EM, with the m learned or left as they are.
func (f *fitter) run(learnM bool) {
	if !learnM {
		f.coverage, f.plain, f.alike, f.shifts = 0.5, 1, 0.5, map[string]float64{}
	}
	for range 100 {
		veterans, in := 0.0, 0.0
		plainWant, plainIn := 0.0, 0.0
		lacking := map[string]float64{} // regiment: stones whose men the rosters lack
		lackingAll, lackingAlike := 0.0, 0.0
		for r := range f.seen {
			clear(f.seen[r])
		}
		for i := range f.cases {
			c := &f.cases[i]
			w := c.w
			w.prior = f.prior(w)
			none := f.expect(c, learnM)
			if w.plain {
				plainWant += w.veteran * f.coverage
				plainIn += 1 - none
			} else {
				in += 1 - none
				veterans += w.veteran
			}
			if w.regiment != "" {
				n := w.veteran * none
				lacking[w.regiment] += n
				lackingAll += n
				lackingAlike += n * f.alike * w.share / f.base(w)
			}
		}
		next := min(0.99, (in+priorIn)/(veterans+priorIn+priorOut))
		moved := math.Abs(next - f.coverage)
		f.coverage = next
		plain := (plainIn + priorPlain) / (plainWant + priorPlain)
		moved = max(moved, math.Abs(plain-f.plain)/10)
		f.plain = plain
		f.alike = (lackingAlike + priorIn) / (lackingAll + priorIn + priorOut)
		for i := range f.cases {
			if w := f.cases[i].w; w.regiment != "" {
				others := (lacking[w.regiment] + priorStones*f.base(w)) / (lackingAll + priorStones)
				shift := math.Log2(w.share / others)
				moved = max(moved, math.Abs(shift-f.shifts[w.regiment])/100)
				f.shifts[w.regiment] = shift
			}
		}
		if learnM {
			moved = max(moved, f.maximise())
		}
		if moved < 1e-4 {
			break
		}
	}
	for i := range f.cases {
		f.cases[i].w.prior = f.prior(f.cases[i].w)
	}
}

// base is the chance of a stone's regiment among the men whom the rosters lack, before the stones of that very regiment are looked at.
func (f *fitter) base(w *weighed) float64 {
	return f.alike*w.share + (1-f.alike)/priorRegiments
}

// prior is the probability that a stone's man is in the rosters.
func (f *fitter) prior(w *weighed) float64 {
	if w.nobody {
		return 0
	}
	p := w.veteran * f.coverage
	if w.plain {
		p *= f.plain
	}
	return min(p, 0.97)
}

// expect gives the probability that the stone's man is in none of the records, and counts the levels of its pairs, each at the pair's probability.
func (f *fitter) expect(c *stoneCase, count bool) float64 {
	if c.w.prior == 0 {
		return 1
	}
	f.odds = slices.Grow(f.odds[:0], len(c.pairs))[:len(c.pairs)]
	odds := f.odds
	clear(odds)
	prior := f.l.logOdds(c.w, 0)
	total := 1.0
	if c.settled {
		total = 0
	}
	for i := range c.pairs {
		p := &c.pairs[i]
		if p.fixed == 0 || c.settled && p.fixed != 1 {
			continue
		}
		bits := p.bits
		if p.inReg {
			bits += f.shifts[c.w.regiment]
		}
		for _, k := range p.levels {
			bits += f.gain[p.roster][k]
		}
		odds[i] = math.Exp(min(600, prior+bits*math.Ln2))
		total += odds[i]
	}
	none := 1 / total
	if c.settled {
		none = 0
	}
	if count && total > 0 {
		for i := range c.pairs {
			if odds[i] == 0 {
				continue
			}
			for _, k := range c.pairs[i].levels {
				f.seen[c.pairs[i].roster][k] += odds[i] / total
			}
		}
	}
	return none
}

// maximise sets the m by what was counted, and gives how far the farthest moved.
func (f *fitter) maximise() float64 {
	groupOf := func(n []float64) []float64 {
		sum := make([]float64, f.groups)
		for k, x := range n {
			sum[f.group[k]] += x
		}
		return sum
	}
	all := make([]float64, len(f.levels))
	start := make([]float64, len(f.levels))
	for k, level := range f.levels {
		start[k] = level.Start
		for r := range f.rosters {
			all[k] += f.seen[r][k]
		}
	}
	startSum, allSum := groupOf(start), groupOf(all)
	moved := 0.0
	for r := range f.rosters {
		sum := groupOf(f.seen[r])
		for k := range f.levels {
			g := f.group[k]
			common := (priorPairs*start[k]/startSum[g] + all[k]) / (priorPairs + allSum[g])
			m := (rosterPairs*common + f.seen[r][k]) / (rosterPairs + sum[g]) * startSum[g]
			m = max(m, start[k]/mostLearned)
			moved = max(moved, math.Abs(m-f.m[r][k]))
			f.m[r][k], f.gain[r][k] = m, math.Log2(m/start[k])
		}
	}
	return moved
}
