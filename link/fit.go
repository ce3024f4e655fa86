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
	// Kinds are the same for stones whose design makes them a veteran's with a probability below 0.1, from there, from 0.2 and from 0.4, for those whose given name is no
	// soldier's of the rosters, and last for the rows of a register.
	Kinds []float64 `json:"plain_by_design"`
	// Kin is how many times as great as the table has it the excess is of one surname among a company's men, where one of them is not in the rosters.
	Kin float64 `json:"kin"`
	// Unlisted is how much seldomer than others a stone is of a man in the rosters whose surname no record bears.
	Unlisted float64 `json:"unlisted"`
	// Slips is how many things a stone and the record of its man disagree in in the mean that should be the same.
	Slips float64 `json:"slips"`
	// Levels are the m that were learned, by roster: how often a level comes about where stone and record speak of one man.
	Levels []LearnedLevel `json:"levels"`
	// Chances are the u that decisions moved; none where nobody has decided.
	Chances []LearnedChance `json:"chances,omitempty"`
	// Calibration is what people's decisions taught of the probabilities themselves.
	Calibration calibrate.Map `json:"calibration"`
	// Refused says why what was learned of m was not used; "" where it was.
	Refused string `json:"refused,omitempty"`
	// Pairs are how many pairs of stone and record learning began with, Patterns in how many comparison patterns they are counted, and Rounds how many rounds over the stones it then took.
	Pairs    int `json:"pairs"`
	Patterns int `json:"patterns"`
	Rounds   int `json:"rounds"`
	// Another is what it costs a candidate, in bits, to have another stone already.
	Another float64 `json:"-"`
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

// LearnedChance is what decisions taught of the u of a level.
type LearnedChance struct {
	Field string `json:"field"`
	Level string `json:"level"`
	// Foretold is how many right pairs at this level the posteriors foretold for the stones that were decided, Right how many there were.
	Foretold float64 `json:"foretold"`
	Right    float64 `json:"right"`
	// Times is how many times as often as was counted two men's stone and record are taken to agree so: the u of every value at this level is multiplied by it.
	Times float64 `json:"times"`
}

// held is how strongly what is learned is held to what was believed before any stone was seen. With all of it 0, EM is plain maximum likelihood.
type held struct {
	// in and out are the stones on which the coverage rests.
	in, out float64
	// pairs is how many pairs of one man the table's m are worth in each group of levels, rosters how many those of all rosters are worth to a single one.
	pairs, rosters float64
	// fall is by how much an m may fall; 0 is without bound. A level that never comes about among the men found is not one that never comes about: those of whom
	// it holds are the hardest to find.
	fall float64
	// chances is how many right pairs at a level the counts of its u are worth against what decisions say of it.
	chances float64
}

// house is how the program holds what it learns; house judgement. Two men of four for the coverage; a churchyard of forty stones keeps near the table's m, a county learns its own; a single roster keeps near the m of all.
var house = held{in: priorIn, out: priorOut, pairs: 10, rosters: 120, fall: 16, chances: 20}

const (
	// priorIn and priorOut are the stones on which the coverage rests before any is seen: two men of four.
	priorIn, priorOut = 2, 2
	// priorStones are the stones on which the spread of the regiments that the rosters lack rests before any is seen: some of them spread as
	// the rosters' own, the others evenly over priorRegiments. House judgement; Dyer's Compendium has about two thousand Union regiments.
	priorStones    = 1000
	priorRegiments = 2000
	// priorUnlisted is how many stones that bear a surname that no record bears the share of them in the rosters is worth that is believed before any is seen. House judgement.
	priorUnlisted = 2
	// plainSpread is how far, as a standard deviation of its logarithm, the share of plain stones that are of the rosters' men may be from the table's, and that of one kind of them from the others'. House judgement: on
	// one ground in three more than 2.7 times as great, or as small.
	plainSpread = 1
	// misread is the share of stones that bear a surname that no record bears although their men are in the rosters, before any is seen. Of the others it is those, and those
	// whose names the rosters lack. House judgement.
	misread = 0.12
)

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
// The u are never learned from what nobody has decided: they are counted. Left to find m and u by itself, EM parts the pairs along whatever two fields hang together, be it a match or
// not (Winkler's caution). The m start from the table "weights" and are held to it by a Dirichlet prior; each roster's are held to those of all. Where the share of matches
// then moves out of a sane range, or matches no longer agree on the surname, what was learned is refused.
//
// Decisions refine the u too: see refine.
//
// It begins with the Patterns of all stones (Begin), which alone tell m nearly as it will be in the end, and goes on in rounds. A round counts some stones with Cases.Count, any number of times and anywhere, merges the Sums, and
// gives them to Next, until Done.
type Fit struct {
	Stage int // see the constants
	Round int // rounds done of the stage

	Coverage, Plain, Unlisted float64
	// Names are of what peoples those are whose stones are of no man of the rosters, by kind of stone.
	Names [nameKinds]Names
	// Kinds are Plain for each kind of plain stones by itself: see Standing.kind.
	Kinds [plainKinds]float64
	// Births are those of plain stones that are of no man of the rosters, by kind.
	Births [plainKinds]Births
	// Alike is which part of the men whom the rosters lack is spread over the regiments as the rosters' own.
	Alike  float64
	Shifts map[string]float64 // by regiment, in bits
	// Kin is how many times as great as in the table the excess is of one surname among a company's men, listed and not: see the type of that name.
	Kin     float64
	Rosters []string    // sorted; known after the first round
	M       [][]float64 // by roster and level
	Gain    [][]float64 // what the m and the u have moved the weight, in bits
	Doubt   [][]float64 // how far the logarithm of each m is from certain, as a variance: see averaged
	Seen    [][]float64 // pairs of one man, by roster and level
	Near    []float64   // the m of the levels of an unlisted surname, all rosters together
	Chance  []float64   // by level, how many times as often as counted two men agree so
	// Of the stones that were decided, by level: the right pairs that were foretold, and those that there were. Nil without decisions.
	Foretold, Right []float64
	Refused         string // see Lesson

	// Pairs and Patterns are how many of them learning began with, Rounds how many rounds by stone it took.
	Pairs, Patterns, Rounds int
	// Begun is set where the rounds began with m that were learned from patterns.
	Begun bool
	// What the stage with the table's m came to, by stone or, where Begun is set, by patterns: kept for the case that the m learned are refused.
	Before Kept
}

// Kept is what was learned with the table's m, and how many stones then had their man in the rosters.
type Kept struct {
	Matches, Coverage, Plain, Unlisted float64
	Kin                                float64
	Names                              [nameKinds]Names
	Kinds                              [plainKinds]float64
	Births                             [plainKinds]Births
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
	f := &Fit{Coverage: 0.5, Plain: 1, Unlisted: 1, Alike: 0.5, Kin: 1, Shifts: map[string]float64{}}
	var peoples [weigh.People]float64
	for k := range peoples {
		peoples[k] = 1. / weigh.People
	}
	for k := range f.Names {
		f.Names[k] = namesBefore(&peoples)
	}
	for k := range f.Kinds {
		f.Kinds[k] = 1
		f.Births[k].Alike = 0.5
	}
	return f
}

// Done reports whether there is nothing left to learn.
func (f *Fit) Done() bool { return f.Stage == fittedStage }

// ladder is the levels whose m are learned, and how they fall into groups that exclude each other.
type ladder struct {
	levels  []weigh.Level
	base    []float64 // the m with which the weights come: Start, but for what is a case of another level there
	group   []int     // of each level
	groups  int
	members [][]uint8 // the levels of each group
	// firstUnlisted is the first of the levels of an unlisted surname.
	firstUnlisted int
	number        map[[2]string]int // by group and name
	// By the number that a level has in package weigh: the level that is learned, -1 for none, where the surname is listed and where it is not; whether
	// it says that both are of the stone's regiment.
	listed, unlisted [256]int16
	inRegiment       [256]bool
	names            [256]uint8 // how names agree at it; see namesOf
	held             held
}

var fitLadder = sync.OnceValue(func() *ladder { return newLadder(weigh.Levels()) })

func newLadder(levels []weigh.Level) *ladder {
	l := &ladder{levels: levels, number: map[[2]string]int{}, held: house}
	groups := map[string]int{}
	for i, level := range levels {
		l.number[[2]string{level.Group, level.Name}] = i
		if _, ok := groups[level.Group]; !ok {
			groups[level.Group] = len(groups)
		}
		l.group = append(l.group, groups[level.Group])
	}
	l.groups = len(groups)
	l.members = make([][]uint8, l.groups)
	for k, g := range l.group {
		l.members[g] = append(l.members[g], uint8(k))
	}
	l.firstUnlisted = max(0, slices.IndexFunc(levels, func(level weigh.Level) bool { return level.Group == unlistedSurname }))
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
		l.names[k] = namesOf(field, name)
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

// near is a bit for each level of an unlisted surname that is among those named, 0 where none of them is more than what chance brings about: among many names, some are two letters off.
func (l *ladder) near(levels []string) uint16 {
	var out uint16
	closer := false
	for k, level := range l.unlistedLevels() {
		if slices.Contains(levels, level.Name) {
			out |= 1 << k
			closer = closer || level.Name != "different" && level.Name != "two letters"
		}
	}
	if !closer {
		return 0
	}
	return out
}

// unlistedLevels are the levels of an unlisted surname, which stand one after the other.
func (l *ladder) unlistedLevels() []weigh.Level {
	n := 0
	for k := l.firstUnlisted; k < len(l.levels) && l.levels[k].Group == unlistedSurname; k++ {
		n++
	}
	return l.levels[l.firstUnlisted:][:n]
}

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
	f.Rounds++
	if f.Rosters == nil {
		f.Rosters = slices.Sorted(maps.Keys(s.Seen))
		f.resetM(l)
	}
	if f.Stage == trialStage {
		f.Refused = f.insane(l, s.Matches.float())
		if f.Refused != "" {
			f.Names = f.Before.Names
			f.Coverage, f.Plain, f.Kinds, f.Births, f.Unlisted, f.Kin, f.Shifts = f.Before.Coverage, f.Before.Plain, f.Before.Kinds, f.Before.Births, f.Before.Unlisted, f.Before.Kin, f.Before.Shifts
			f.resetM(l)
		}
		f.Stage, f.Round = fittedStage, 0
		if f.Refused != "" && f.Begun {
			f.Stage = tableStage // what patterns cannot tell is still to be learned
		}
		return
	}
	if f.Stage == learnStage && f.Round == 0 && !f.Begun {
		f.Before = Kept{Matches: s.Matches.float(), Coverage: f.Coverage, Plain: f.Plain, Kinds: f.Kinds, Births: f.Births, Unlisted: f.Unlisted, Kin: f.Kin, Names: f.Names, Shifts: maps.Clone(f.Shifts)}
	}
	moved := f.common(l, s)
	if f.Stage == learnStage {
		for r, roster := range f.Rosters {
			for k := range l.levels {
				f.Seen[r][k] = s.seen(roster, k).float()
			}
		}
		f.Foretold, f.Right = floats(s.Foretold), floats(s.Right)
		moved = max(moved, f.maximise(l))
	}
	if f.Round++; moved < 1e-4 || f.Round == stageRounds {
		f.Stage, f.Round = f.Stage+1, 0
		if f.Refused != "" {
			f.Stage = fittedStage
		}
	}
}

// common sets what is not of the m, and gives how far the farthest moved.
func (f *Fit) common(l *ladder, s *Sums) float64 {
	next := min(0.99, (s.In.float()+l.held.in)/(s.Veterans.float()+l.held.in+l.held.out))
	moved := math.Abs(next - f.Coverage)
	f.Coverage = next
	var in, want float64
	for k := range registerKind {
		in, want = in+s.PlainIn[k].float(), want+s.PlainWant[k].float()
	}
	f.Plain = timesAsMany(in, want, 1)
	for k := range f.Kinds {
		myIn, myWant := s.PlainIn[k].float(), s.PlainWant[k].float()
		others := 1.0 // whom a register lists no stone tells: its rows are held to the table
		if k != registerKind {
			others = timesAsMany(in-myIn, want-myWant, 1)
		}
		kind := timesAsMany(myIn, myWant, others)
		moved = max(moved, math.Abs(kind-f.Kinds[k])/10)
		f.Kinds[k] = kind
		moved = max(moved, f.Births[k].learn(&s.Born[k])/10)
	}
	start := misread / (misread + (1-misread)*s.Unseen)
	unlisted := (s.UnlistedIn.float() + priorUnlisted*start) / (s.UnlistedWant.float() + priorUnlisted)
	moved = max(moved, math.Abs(unlisted-f.Unlisted)/10)
	f.Unlisted = unlisted
	f.Alike = mixed(f.Alike, s.LackingAlike.float(), s.LackingAll.float(), s.LackingCurve.float())
	moved = max(moved, f.learnKin(s)/10)
	for k := range f.Names {
		moved = max(moved, f.Names[k].learn(&s.Names[k], &s.Peoples)/100)
	}
	for regiment, n := range s.Lacking {
		others := (n.Men.float() + priorStones*f.base(n.Share)) / (s.LackingAll.float() + priorStones)
		shift := math.Log2(n.Share / others)
		moved = max(moved, math.Abs(shift-f.Shifts[regiment])/100)
		f.Shifts[regiment] = shift
	}
	return moved
}

// timesAsMany is how many times as many stones as there were to be are of the rosters' men: the mode of the logarithm of that, where they are counted by Poisson's law and it is believed before any is seen to be near a number of
// times by a normal law. Of few stones that leaves it where it was believed to be, and it holds a share three times as great no more strongly than one a third as great.
func timesAsMany(in, want, believed float64) float64 {
	const precision = 1 / (plainSpread * plainSpread)
	x := math.Log(believed)
	for range 100 {
		expected := want * math.Exp(x)
		step := (in - expected - precision*(x-math.Log(believed))) / (expected + precision) // Newton's, of a concave function
		x += max(-1, min(1, step))
		if math.Abs(step) < 1e-12 {
			break
		}
	}
	return math.Exp(x)
}

// resetM puts the m back to the table's, and the u to what was counted.
func (f *Fit) resetM(l *ladder) {
	f.Foretold, f.Right = nil, nil
	f.Chance = make([]float64, len(l.levels))
	for k := range f.Chance {
		f.Chance[k] = 1
	}
	f.M, f.Gain, f.Seen, f.Doubt = make([][]float64, len(f.Rosters)), make([][]float64, len(f.Rosters)), make([][]float64, len(f.Rosters)), make([][]float64, len(f.Rosters))
	f.Near = nil
	for _, level := range l.unlistedLevels() {
		f.Near = append(f.Near, level.Start)
	}
	for r := range f.Rosters {
		f.Gain[r], f.Seen[r], f.Doubt[r] = make([]float64, len(l.levels)), make([]float64, len(l.levels)), make([]float64, len(l.levels))
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

// mixed is the next share of the first of two parts that are mixed, of which it is a, and believed to be half before any man is seen: in is how many of all men are of the first part by a, as EM counts them, and curve the
// sum of their bends. Where the parts are nearly alike EM creeps, for each man is of either by halves; so it is Newton's step instead, on what EM climbs: the logarithm of the chance of all men in the mixture and of the share itself,
// which is concave, and whose slope EM's own step tells. It comes to rest where EM does, and goes at most three quarters of the way that is left from EM's step to none or all.
func mixed(a, in, all, curve float64) float64 {
	step := (in + priorIn) / (all + priorIn + priorOut)
	slope := (step - a) * (all + priorIn + priorOut) / (a * (1 - a))
	next := a + slope/(curve+priorIn/(a*a)+priorOut/((1-a)*(1-a)))
	return min(1-(1-step)/4, max(step/4, next))
}

// bend is what a man adds to the curve, by the chances of what he is in either part and in the mixture.
func bend(first, second, mixture float64) float64 {
	if mixture == 0 {
		return 0
	}
	d := (first - second) / mixture
	return d * d
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
	moved := f.refine(l)
	for i := range f.Near {
		k := l.firstUnlisted + i
		f.Near[i] = posteriorMean(l.held.pairs*start[k]/startSum[l.group[k]], l.held.pairs, all[k], allSum[l.group[k]])
	}
	for r := range f.Rosters {
		sum := groupOf(f.Seen[r])
		for k := range l.levels {
			g := l.group[k]
			before := l.held.pairs * start[k] / startSum[g]
			common := posteriorMean(before, l.held.pairs, all[k], allSum[g])
			m := posteriorMean(l.held.rosters*common, l.held.rosters, f.Seen[r][k], sum[g]) * startSum[g]
			if l.held.fall > 0 {
				m = max(m, start[k]/l.held.fall)
			}
			moved = max(moved, math.Abs(m-f.M[r][k]))
			f.Doubt[r][k] = doubt(before+all[k], l.held.rosters*common, f.Seen[r][k])
			f.M[r][k], f.Gain[r][k] = m, math.Log2(m/l.base[k])-math.Log2(f.Chance[k])
		}
	}
	return moved
}

// posteriorMean is the mean of a Dirichlet distribution in one level: n of all pairs were at the level, and so many were, of so many, before any was seen. 0 of none is 0.
func posteriorMean(before, ofBefore, n, all float64) float64 {
	if ofBefore+all == 0 {
		return 0
	}
	return (before + n) / (ofBefore + all)
}

// refine sets the u by what was decided, and gives how far the farthest moved.
//
// Two men's stone and record cannot simply be counted as u is: the pairs that a person refuses, or passes by for another, are the likest of all that there are, for only those were
// found and shown; counted so, every agreement would look common. That a pair was found and shown depends on nothing but the evidence, though, and what is foretold from the evidence may be
// held against the answers however the pairs were chosen. Where the posteriors of the stones decided, reckoned as if nobody had decided, foretell more right pairs at a level than
// the answers bear out, two men agree so oftener than was counted: by chance, or because the level hangs together with another that agrees. In E for what was foretold, R for what was right
// and t for how many times the u of the level is what was counted, t is where
//
//	E - R + w(1 - t) = 0
//
// the greatest posterior of the answers (a logistic model, whose E falls as t grows) under a Gamma prior of mean 1 that is worth w right pairs. m has no such part: the pairs of one
// man are known when they are confirmed.
func (f *Fit) refine(l *ladder) float64 {
	if f.Foretold == nil {
		return 0
	}
	const step = 0.25 // levels hang together: each goes a part of its way
	moved := 0.0
	for k, t := range f.Chance {
		next := t * math.Pow((l.held.chances+f.Foretold[k])/(l.held.chances*t+f.Right[k]), step)
		moved = max(moved, math.Abs(next-t)/10)
		f.Chance[k] = next
	}
	return moved
}

// Lesson says what was learned.
func (f *Fit) Lesson() *Lesson {
	lesson := &Lesson{Coverage: f.Coverage, Plain: f.Plain, Kinds: f.Kinds[:], Unlisted: f.Unlisted, Kin: f.Kin, Slips: f.slips(fitLadder()), Refused: f.Refused, Pairs: f.Pairs, Patterns: f.Patterns, Rounds: f.Rounds}
	for r, roster := range f.Rosters {
		for k, level := range fitLadder().levels {
			lesson.Levels = append(lesson.Levels, LearnedLevel{Roster: roster, Field: level.Group, Level: level.Name, Before: level.Start, After: f.M[r][k], Pairs: f.Seen[r][k]})
		}
	}
	for k, level := range fitLadder().levels {
		if f.Foretold != nil && (f.Foretold[k] > 0 || f.Right[k] > 0) {
			lesson.Chances = append(lesson.Chances, LearnedChance{Field: level.Group, Level: level.Name, Foretold: f.Foretold[k], Right: f.Right[k], Times: f.Chance[k]})
		}
	}
	return lesson
}

// fit learns from all stones and puts what was learned into the candidates' evidence.
func (l *Linker) fit(all []weighed) *Fit {
	f, c := NewFit(), l.cases(all)
	f.Begin(c.Patterns())
	for !f.Done() {
		f.Next(c.Count(f))
	}
	l.apply(f, all)
	return f
}

// apply puts what was learned into the stones' priors and their candidates' evidence.
// A stone that only names its man teaches like another that the rosters have him, and then is taken to mark him only as often as such stones do. For slips that come together, and for what is not certain of the m, it is
// allowed here too, and not while learning: the shares that are learned would be those of other odds.
func (l *Linker) apply(f *Fit, all []weighed) {
	told, plain := f.powers(fitLadder())
	inParts(len(all), func(from, to int) {
		for i := from; i < to; i++ {
			w := &all[i]
			w.prior, w.open = f.prior(&w.standing, w.nobody), f.prior(&w.standing, false)
			learned := f.learned(w)
			if w.rows != nil {
				learned.rows()
			} else {
				learned.candidates()
			}
			l.reconsider(w, func(j int) float64 { return f.doubtOf(w, j) }, func(prior, odds, doubt float64) float64 {
				sure := averaged(odds, doubt)
				prior = likelier(prior, sure/odds)
				switch {
				case w.standing.Mention:
					return marking(prior, sure)
				case w.standing.Plain && !w.standing.Register:
					return temper(prior, sure, plain)
				}
				return temper(prior, sure, told)
			})
		}
	})
}

// learned is what was learned of the worth of levels, for one stone.
type learned struct {
	f       *Fit
	of      *weighed
	names   nameBits
	numbers *[256]int16 // what is learned of a level, by its number in package weigh
	shift   float64
}

func (f *Fit) learned(w *weighed) learned {
	l := learned{f: f, of: w, names: f.Names[w.standing.nameKind()].bits(&w.standing), numbers: &fitLadder().listed, shift: f.Shifts[w.regiment]}
	if w.standing.Unlisted {
		l.numbers = &fitLadder().unlisted
	}
	return l
}

// agree is how the names of candidate j agree.
func (w *weighed) agree(j int) (agree uint8) {
	var buf [16]uint8
	for _, level := range w.levels(j, buf[:]) {
		agree |= fitLadder().names[level]
	}
	return agree
}

// at is what was learned of a level of candidate j, whose names agree so, in bits, for the records of a roster; -1 for one of which nothing was.
func (l *learned) at(j int, agree uint8, roster int, level uint8) float64 {
	bits := 0.0
	if n := l.numbers[level]; n >= 0 && roster >= 0 {
		bits += l.f.Gain[roster][n]
	}
	if fitLadder().inRegiment[level] {
		bits += l.shift
	}
	switch fitLadder().names[level] {
	case oneSurname:
		bits += l.names[oneSurname]
	case oneGiven:
		bits += l.names[agree] - l.names[agree&oneSurname]
	}
	if level == kinLevel {
		if k := l.of.kinOf(j); k > 0 {
			bits += l.f.kinBits(l.of.company, &l.of.kin[k-1])
		}
	}
	return bits
}

// candidates adds to the bits of candidates what was learned.
func (l *learned) candidates() {
	w := l.of
	for j := range w.cands {
		c := &w.cands[j]
		roster, agree := l.f.roster(rosterOf(w.records[j])), w.agree(j)
		for k := range c.Evidence {
			e := &c.Evidence[k]
			x := l.at(j, agree, roster, weigh.LevelNumber(e.Field, e.Level))
			e.Bits += x
			c.Bits += x
		}
	}
}

// rows adds to the bits of rows what was learned.
func (l *learned) rows() {
	file, roster, r := -1, -1, l.of.rows
	for j := range r.list {
		c := &r.list[j]
		if c.view == noView {
			continue
		}
		if int(c.file) != file {
			file = int(c.file)
			roster = l.f.roster(r.columns.Files()[file])
		}
		agree := l.of.agree(j)
		for _, level := range c.levels[:c.n] {
			c.bits += l.at(j, agree, roster, level)
		}
	}
}
