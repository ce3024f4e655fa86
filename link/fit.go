package link

import (
	"maps"
	"math"
	"slices"
	"sync"

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
	// Unlisted is how much seldomer than others a stone is of a man in the rosters whose surname no record bears.
	Unlisted float64 `json:"unlisted"`
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
	// misread is the share of stones that bear a surname that no record bears although their men are in the rosters, before any is seen. Of the others it is those, and those
	// whose names the rosters lack. House judgement.
	misread = 0.12
	// priorPairs is how many pairs of one man the table's m are worth in each group of levels, rosterPairs how many those of all rosters are
	// worth to a single one. House judgement: a churchyard of forty stones keeps the table's, a county learns its own.
	priorPairs, rosterPairs = 40, 60
)

// mostLearned is by how much an m may fall. A level that never comes about among the men found is not one that never comes about: those of whom
// it holds are the hardest to find. House judgement.
const mostLearned = 4

// far is how many bits behind the best a candidate may be to be learned from.
const far = 12

// Fit is what is learned from all the stones together, by EM, that no single one can tell: which part of the veterans on the stones the rosters hold (the
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
//
// It goes in rounds. A round counts some stones with Cases.Count, any number of times and anywhere, merges the Sums, and gives them to Next, until Done.
type Fit struct {
	Stage int // see the constants
	Round int // rounds done of the stage

	Coverage, Plain, Unlisted float64
	// Alike is which part of the men whom the rosters lack is spread over the regiments as the rosters' own.
	Alike   float64
	Shifts  map[string]float64 // by regiment, in bits
	Rosters []string           // sorted; known after the first round
	M       [][]float64        // by roster and level
	Gain    [][]float64        // what the m have moved the weight, in bits
	Seen    [][]float64        // pairs of one man, by roster and level
	Refused string             // see Lesson

	// What the stage with the table's m came to: kept for the case that the m learned are refused.
	Before Kept
}

// Kept is what was learned with the table's m, and how many stones then had their man in the rosters.
type Kept struct {
	Matches, Coverage, Plain, Unlisted float64
	Shifts                             map[string]float64
}

// The stages of a Fit.
const (
	tableStage = iota // the m are the table's
	learnStage        // the m are learned
	trialStage        // what was learned is looked at
	fittedStage
)

// MostRounds is how many rounds a Fit takes at most.
const MostRounds = 2*stageRounds + 1

const stageRounds = 100

// NewFit is a Fit before its first round.
func NewFit() *Fit {
	return &Fit{Coverage: 0.5, Plain: 1, Unlisted: 1, Alike: 0.5, Shifts: map[string]float64{}}
}

// Done reports whether there is nothing left to learn.
func (f *Fit) Done() bool { return f.Stage == fittedStage }

// ladder is the levels whose m are learned, and how they fall into groups that exclude each other.
type ladder struct {
	levels []weigh.Level
	base   []float64 // the m with which the weights come: Start, but for what is a case of another level there
	group  []int     // of each level
	groups int
	number map[[2]string]int // by group and name
	// By the number that a level has in package weigh: the level that is learned, -1 for none, where the surname is listed and where it is not; whether
	// it says that both are of the stone's regiment.
	listed, unlisted [256]int16
	inRegiment       [256]bool
}

var fitLadder = sync.OnceValue(func() *ladder { return newLadder(weigh.Levels()) })

func newLadder(levels []weigh.Level) *ladder {
	l := &ladder{levels: levels, number: map[[2]string]int{}}
	groups := map[string]int{}
	for i, level := range levels {
		l.number[[2]string{level.Group, level.Name}] = i
		if _, ok := groups[level.Group]; !ok {
			groups[level.Group] = len(groups)
		}
		l.group = append(l.group, groups[level.Group])
	}
	l.groups = len(groups)
	for _, level := range levels {
		base := level.Start
		if level.Group == unlistedSurname {
			base = levels[l.number[[2]string{"surname", level.Name}]].Start
		}
		l.base = append(l.base, base)
	}
	for k := range l.listed {
		l.listed[k], l.unlisted[k] = -1, -1
		field, name, ok := weigh.LevelAt(uint8(k))
		if !ok {
			continue
		}
		e := &model.Evidence{Field: field, Level: name}
		for at, unlisted := range map[*int16]bool{&l.listed[k]: false, &l.unlisted[k]: true} {
			if n, ok := l.of(e, unlisted); ok {
				*at = int16(n)
			}
		}
		l.inRegiment[k] = field == "unit" && weigh.InRegiment(name)
	}
	return l
}

// at is of for a level by its number in package weigh, -1 for one that is not learned.
func (l *ladder) at(level uint8, unlisted bool) int {
	if unlisted {
		return int(l.unlisted[level])
	}
	return int(l.listed[level])
}

// unlistedSurname is the group of the levels of a surname that no record bears: where the man is in the rosters all the same, the name was misread or
// misspelt, and that it is nearly the same as another says the more.
const unlistedSurname = "unlisted surname"

// of is the number of the level of which the evidence is a case.
func (l *ladder) of(e *model.Evidence, unlisted bool) (int, bool) {
	group, level, ok := weigh.Learns(*e)
	if !ok {
		return 0, false
	}
	if unlisted && group == "surname" {
		if n, ok := l.number[[2]string{unlistedSurname, level}]; ok {
			return n, true
		}
	}
	n, ok := l.number[[2]string{group, level}]
	return n, ok
}

// Next takes what all stones together came to in a round and makes ready for the next.
func (f *Fit) Next(s *Sums) { f.next(fitLadder(), s) }

func (f *Fit) next(l *ladder, s *Sums) {
	if f.Rosters == nil {
		f.Rosters = slices.Sorted(maps.Keys(s.Seen))
		f.resetM(l)
	}
	if f.Stage == trialStage {
		f.Refused = f.insane(l, s.Matches.float())
		if f.Refused != "" {
			f.Coverage, f.Plain, f.Unlisted, f.Shifts = f.Before.Coverage, f.Before.Plain, f.Before.Unlisted, f.Before.Shifts
			f.resetM(l)
		}
		f.Stage, f.Round = fittedStage, 0
		return
	}
	if f.Stage == learnStage && f.Round == 0 {
		f.Before = Kept{Matches: s.Matches.float(), Coverage: f.Coverage, Plain: f.Plain, Unlisted: f.Unlisted, Shifts: maps.Clone(f.Shifts)}
	}
	moved := f.common(s)
	if f.Stage == learnStage {
		for r, roster := range f.Rosters {
			for k := range l.levels {
				f.Seen[r][k] = s.seen(roster, k).float()
			}
		}
		moved = max(moved, f.maximise(l))
	}
	if f.Round++; moved < 1e-4 || f.Round == stageRounds {
		f.Stage, f.Round = f.Stage+1, 0
	}
}

// common sets what is not of the m, and gives how far the farthest moved.
func (f *Fit) common(s *Sums) float64 {
	next := min(0.99, (s.In.float()+priorIn)/(s.Veterans.float()+priorIn+priorOut))
	moved := math.Abs(next - f.Coverage)
	f.Coverage = next
	plain := (s.PlainIn.float() + priorPlain) / (s.PlainWant.float() + priorPlain)
	moved = max(moved, math.Abs(plain-f.Plain)/10)
	f.Plain = plain
	start := misread / (misread + (1-misread)*s.Unseen)
	unlisted := (s.UnlistedIn.float() + priorPlain*start) / (s.UnlistedWant.float() + priorPlain)
	moved = max(moved, math.Abs(unlisted-f.Unlisted)/10)
	f.Unlisted = unlisted
	f.Alike = (s.LackingAlike.float() + priorIn) / (s.LackingAll.float() + priorIn + priorOut)
	for regiment, n := range s.Lacking {
		others := (n.Men.float() + priorStones*f.base(n.Share)) / (s.LackingAll.float() + priorStones)
		shift := math.Log2(n.Share / others)
		moved = max(moved, math.Abs(shift-f.Shifts[regiment])/100)
		f.Shifts[regiment] = shift
	}
	return moved
}

// resetM puts the m back to the table's.
func (f *Fit) resetM(l *ladder) {
	f.M, f.Gain, f.Seen = make([][]float64, len(f.Rosters)), make([][]float64, len(f.Rosters)), make([][]float64, len(f.Rosters))
	for r := range f.Rosters {
		f.Gain[r], f.Seen[r] = make([]float64, len(l.levels)), make([]float64, len(l.levels))
		for k, level := range l.levels {
			f.M[r] = append(f.M[r], level.Start)
			f.Gain[r][k] = math.Log2(level.Start / l.base[k])
		}
	}
}

// roster is the number of a roster, or -1 where it is not known yet.
func (f *Fit) roster(file string) int {
	if i, ok := slices.BinarySearch(f.Rosters, file); ok {
		return i
	}
	return -1
}

// base is the chance of a regiment among the men whom the rosters lack, before the stones of that very regiment are looked at; share is that in the rosters.
func (f *Fit) base(share float64) float64 {
	return f.Alike*share + (1-f.Alike)/priorRegiments
}

// prior is the probability that a stone's man is in the rosters.
func (f *Fit) prior(veteran float64, plain, unlisted, nobody bool) float64 {
	if nobody {
		return 0
	}
	p := veteran * f.Coverage
	if plain {
		p *= f.Plain
	}
	if unlisted {
		p *= f.Unlisted
	}
	return min(p, 0.97)
}

// maximise sets the m by what was counted, and gives how far the farthest moved.
func (f *Fit) maximise(l *ladder) float64 {
	groupOf := func(n []float64) []float64 {
		sum := make([]float64, l.groups)
		for k, x := range n {
			sum[l.group[k]] += x
		}
		return sum
	}
	all := make([]float64, len(l.levels))
	start := make([]float64, len(l.levels))
	for k, level := range l.levels {
		start[k] = level.Start
		for r := range f.Rosters {
			all[k] += f.Seen[r][k]
		}
	}
	startSum, allSum := groupOf(start), groupOf(all)
	moved := 0.0
	for r := range f.Rosters {
		sum := groupOf(f.Seen[r])
		for k := range l.levels {
			g := l.group[k]
			common := (priorPairs*start[k]/startSum[g] + all[k]) / (priorPairs + allSum[g])
			m := (rosterPairs*common + f.Seen[r][k]) / (rosterPairs + sum[g]) * startSum[g]
			m = max(m, start[k]/mostLearned)
			moved = max(moved, math.Abs(m-f.M[r][k]))
			f.M[r][k], f.Gain[r][k] = m, math.Log2(m/l.base[k])
		}
	}
	return moved
}

// Lesson says what was learned.
func (f *Fit) Lesson() *Lesson {
	lesson := &Lesson{Coverage: f.Coverage, Plain: f.Plain, Unlisted: f.Unlisted, Refused: f.Refused}
	for r, roster := range f.Rosters {
		for k, level := range fitLadder().levels {
			lesson.Levels = append(lesson.Levels, LearnedLevel{Roster: roster, Field: level.Group, Level: level.Name, Before: level.Start, After: f.M[r][k], Pairs: f.Seen[r][k]})
		}
	}
	return lesson
}

// fit learns from all stones and puts what was learned into the candidates' evidence.
func (l *Linker) fit(all []weighed) *Lesson {
	f, c := NewFit(), l.cases(all)
	for !f.Done() {
		f.Next(c.Count(f))
	}
	f.apply(all)
	return f.Lesson()
}
