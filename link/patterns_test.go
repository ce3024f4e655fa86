package link

import (
	"fmt"
	"math"
	"math/bits"
	"math/rand/v2"
	"runtime"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/link/weigh"
)

// planted makes stones whose m and share are known, against the levels of the table: of each group that speaks, the levels but the first come about half as often again as the table has it. Of a stone's fifty records one is its man's with
// the planted share, and the others agree by chance, on the surname the seldomer the rarer it is; all fifty are candidates, so that the model holds to the letter.
type planted struct {
	from   *rand.Rand
	groups []plantedGroup
}

type plantedGroup struct {
	first  int       // of its levels, in the ladder
	absent float64   // the share of stones that say nothing of it
	m, u   []float64 // planted
}

const (
	plantedRecords = 50
	plantedShare   = 0.6 // of veterans whose man is in the rosters
)

func plant(seed uint64) *planted {
	p := &planted{from: rand.New(rand.NewPCG(seed, 1))}
	for _, g := range []struct {
		name   string
		absent float64
		u      []float64
	}{
		{"surname", 0, []float64{.01, .002, .005, .004, .009, .01, .96}}, // the first is drawn for each stone
		{"given", 0, []float64{.04, .01, .02, .01, .02, .90}},
		{"middle", .2, []float64{.03, .57, .40}},
		{"unit", .3, []float64{.002, .002, .02, .01, .02, .30, .646}},
		{"rank", .4, []float64{.55, .15, .1, .2}},
		{"birth", .35, []float64{.06, .11, .23, .45, .15}},
		{"death", .65, []float64{.0001, .002, .02, .04, .03, .9079}},
		{"home", .5, []float64{.05, .95}},
	} {
		x := plantedGroup{absent: g.absent, u: g.u}
		levels := fitLadder().levels
		x.first = slices.IndexFunc(levels, func(l weigh.Level) bool { return l.Group == g.name })
		x.m = []float64{1}
		for _, k := range fitLadder().members[fitLadder().group[x.first]][1:] {
			x.m = append(x.m, 1.5*levels[k].Start)
			x.m[0] -= 1.5 * levels[k].Start
		}
		p.groups = append(p.groups, x)
	}
	return p
}

// draw is a place in a list of chances.
func (p *planted) draw(chances []float64) int {
	x := p.from.Float64()
	for k, c := range chances {
		if x -= c; x < 0 {
			return k
		}
	}
	return len(chances) - 1
}

// cases makes so many stones.
func (p *planted) cases(stones int) *Cases {
	l := fitLadder()
	c := &Cases{Records: plantedRecords, Unseen: 1, Rosters: []string{"roster.csv"}, Stones: make([]Case, stones)}
	var surname [7]float64
	for i := range c.Stones {
		s := &c.Stones[i]
		s.Veteran = sureVeteran
		same := math.Exp(math.Log(.0002) + p.from.Float64()*math.Log(100))
		for k, u := range p.groups[0].u[1:] {
			surname[k+1] = u / .99 * (1 - same)
		}
		surname[0] = same
		man := -1
		if p.from.Float64() < sureVeteran*plantedShare {
			man = p.from.IntN(plantedRecords)
		}
		var says [8]bool
		for g := range p.groups {
			says[g] = p.from.Float64() >= p.groups[g].absent
		}
		s.Pairs = make([]Pair, plantedRecords)
		room := make([]uint8, 0, plantedRecords*len(p.groups))
		for j := range s.Pairs {
			pair := &s.Pairs[j]
			pair.Fixed = -1
			from := len(room)
			for g := range p.groups {
				if !says[g] {
					continue
				}
				x := &p.groups[g]
				u := x.u
				if g == 0 {
					u = surname[:]
				}
				k := p.draw(u)
				if j == man {
					k = p.draw(x.m)
				}
				n := l.members[l.group[x.first]][k]
				room = append(room, n)
				pair.Bits += math.Log2(l.base[n] / u[k])
			}
			pair.Levels = room[from:len(room):len(room)]
		}
	}
	return c
}

// off is how far the m are from what was planted, at the farthest.
func (p *planted) off(m []float64) float64 {
	l, far := fitLadder(), 0.0
	for _, g := range p.groups {
		for k, n := range l.members[l.group[g.first]] {
			far = max(far, math.Abs(m[n]-g.m[k]))
		}
	}
	return far
}

// TestPatternsLearn: EM over patterns finds the m that were planted, where the table is off by up to a fifth, and the share.
func TestPatternsLearn(t *testing.T) {
	p := plant(5)
	f := p.cases(20_000).Patterns().fit(fitLadder())
	if f.Refused != "" {
		t.Fatal(f.Refused)
	}
	t.Logf("farthest m %.4f off, share %.4f", p.off(f.M[0]), f.Coverage)
	if off := p.off(f.M[0]); off > .02 {
		t.Errorf("an m is %.4f off what was planted: %.3f", off, f.M[0])
	}
	if math.Abs(f.Coverage-plantedShare) > .01 {
		t.Errorf("share %.4f, planted %v", f.Coverage, plantedShare)
	}
}

// onePair makes stones of one candidate each, so that the model of stones is that of pairs, in rosters and of kinds that differ.
func onePair(n int) *Cases {
	r := rand.New(rand.NewPCG(9, 4))
	l := fitLadder()
	c := &Cases{Records: 40, Unseen: 1, Rosters: []string{"a.csv", "b.csv"}}
	for range n {
		s := Case{Standing: Standing{Veteran: .98}}
		switch r.IntN(4) {
		case 0:
			s.Standing = Standing{Veteran: .3, Plain: true}
		case 1:
			s.Unlisted = true
		}
		p := Pair{Fixed: -1, Roster: uint16(r.IntN(2))}
		for g := range l.groups {
			if l.levels[l.members[g][0]].Group == unlistedSurname == s.Unlisted && r.IntN(2) == 0 {
				k := r.IntN(len(l.members[g]) + 2) // the first oftener than others
				if k >= len(l.members[g]) {
					k = 0
				}
				p.Levels = append(p.Levels, l.members[g][k])
				p.Bits += float64(2 - 2*k)
			}
		}
		s.Pairs = []Pair{p}
		c.Stones = append(c.Stones, s)
	}
	return c
}

// TestPatternsAreThePairs: EM over patterns comes to the m and the shares to which EM comes that goes through the same pairs one by one, round by round, but for what rounding to whole units of men makes: 1e-8.
func TestPatternsAreThePairs(t *testing.T) {
	l, c := fitLadder(), onePair(6000)
	c.numberRegiments()
	p := c.patterns(l)
	if n := p.Len(); n < 1000 || p.Pairs != 6000 {
		t.Fatalf("%d patterns of %d pairs: the case shows little", n, p.Pairs)
	}
	climb := p.climb(l)
	one, by := tableFit(l, c.Rosters), tableFit(l, c.Rosters)
	rounds := 0
	for ; !one.Done(); rounds++ {
		one.next(l, c.count(one, len(l.levels), c.Stones))
		by.next(l, climb.count(by))
		for r := range one.M {
			for k := range one.M[r] {
				if d := math.Abs(one.M[r][k] - by.M[r][k]); d > 1e-8 {
					t.Fatalf("stage %d, round %d: m of %v is %v by pairs, and %v by patterns", one.Stage, one.Round, l.levels[k], one.M[r][k], by.M[r][k])
				}
			}
		}
		if math.Abs(one.Coverage-by.Coverage) > 1e-8 || math.Abs(one.Kinds[0]-by.Kinds[0]) > 1e-8 || math.Abs(one.Unlisted-by.Unlisted) > 1e-8 {
			t.Fatalf("coverage %v and %v, kinds %v and %v, unlisted %v and %v", one.Coverage, by.Coverage, one.Kinds, by.Kinds, one.Unlisted, by.Unlisted)
		}
	}
	if !by.Done() || one.Refused != by.Refused || rounds < 5 {
		t.Errorf("%d rounds; stages %d and %d, refused %q and %q", rounds, one.Stage, by.Stage, one.Refused, by.Refused)
	}
}

// TestPatternsRefuse: of pairs that hang together in two fields EM over patterns learns the wrong class too (see TestRefusesWrongClass); a Fit then begins with the table.
func TestPatternsRefuse(t *testing.T) {
	for _, share := range []float64{.01, .001} {
		led := latent(40_000, share, .8)
		p := led.cases.patterns(led.ladder)
		if f := p.fit(led.ladder); f.Refused == "" {
			t.Errorf("share %v: learned %.3f and %.4f, and not refused", share, f.M[0], f.Coverage)
		}
		f := NewFit()
		f.begin(led.ladder, p)
		f.Pairs, f.Patterns = 0, 0
		if diff := cmp.Diff(NewFit(), f); diff != "" {
			t.Errorf("share %v: refused, and yet it begins elsewhere (-new +begun)\n%s", share, diff)
		}
	}
	// Where the patterns were believed and the stones are not, the table's m are put back, and the rest is learned anew.
	c := plant(6).cases(500)
	for i := range 100 {
		c.Stones[i].Veteran, c.Stones[i].Plain = .3, true
	}
	f := NewFit()
	f.Begin(c.Patterns())
	if f.Stage != learnStage || !f.Begun {
		t.Fatal("patterns are not believed that could be")
	}
	if g := c.Patterns().fit(fitLadder()); f.Coverage != g.Coverage || f.Plain != g.Plain || f.Kinds != g.Kinds || f.Unlisted != g.Unlisted || !slices.Equal(f.M[0], g.M[0]) || !slices.Equal(f.Gain[0], g.Gain[0]) || !slices.Equal(f.Near, g.Near) {
		t.Errorf("it begins with coverage %v, kinds %v, m %v, where the patterns come to %v, %v, %v", f.Coverage, f.Kinds, f.M[0], g.Coverage, g.Kinds, g.M[0])
	}
	f.Stage, f.Before.Matches = trialStage, 10_000
	rounds := 0
	for ; !f.Done(); rounds++ {
		f.Next(c.Count(f))
		if rounds > MostRounds {
			t.Fatal("it comes to no end")
		}
	}
	table := tableFit(fitLadder(), c.Rosters)
	for table.Stage == tableStage {
		table.Next(c.Count(table))
	}
	if rounds < 3 {
		t.Errorf("%d rounds: nothing is learned anew", rounds)
	}
	if f.Refused == "" || !slices.Equal(f.M[0], table.M[0]) || math.Abs(f.Coverage-table.Coverage) > 1e-3 {
		t.Errorf("refused %q, coverage %v, with the table %v", f.Refused, f.Coverage, table.Coverage)
	}
}

// TestPatternsMerge: patterns of parts, in whatever order they are merged and on however many cores they are counted, are those of the whole, and what is learned is the same to the bit.
func TestPatternsMerge(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(0))
	c := plant(7).cases(9000)
	var learned []*Fit
	var whole *Patterns
	for _, cores := range []int{1, 3} {
		runtime.GOMAXPROCS(cores)
		p := c.Patterns()
		if whole == nil {
			whole = p
		}
		if diff := cmp.Diff(whole, p); diff != "" {
			t.Errorf("on %d cores (-one +many)\n%s", cores, diff)
		}
		f := NewFit()
		f.Begin(p)
		learned = append(learned, f)
	}
	if diff := cmp.Diff(learned[0], learned[1]); diff != "" {
		t.Errorf("learned (-on one core +on three)\n%s", diff)
	}
	parted := &Patterns{}
	for _, at := range []int{2, 0, 3, 1} {
		some := *c
		some.Stones = c.Stones[at*len(c.Stones)/4 : (at+1)*len(c.Stones)/4]
		parted.Merge(some.Patterns())
	}
	if diff := cmp.Diff(whole, parted); diff != "" {
		t.Errorf("(-whole +parted)\n%s", diff)
	}
	if whole.Len() < 1000 {
		t.Errorf("only %d patterns: the case shows little", whole.Len())
	}
}

// TestPatternKeys: levels go into a key and come out of it again, none of a group but one; the levels of a group are of one field, of which a pair has one line.
func TestPatternKeys(t *testing.T) {
	l, r := fitLadder(), rand.New(rand.NewPCG(1, 1))
	code := l.codes()
	most := uint64(1<<(binBits+kindBits) - 1)
	for g, members := range l.members {
		most += slices.Max(code[members[0] : members[len(members)-1]+1])
		for _, k := range members {
			if l.levels[k].Field != l.levels[members[0]].Field || l.group[k] != g {
				t.Errorf("%+v is in the group of %+v", l.levels[k], l.levels[members[0]])
			}
		}
	}
	if n := bits.Len64(most); n > 62 {
		t.Errorf("a key takes %d bits of 64: pack fewer levels into it, or let it have two words", n)
	}
	if mostOdds-leastOdds >= 1<<binBits/2 || stoneKinds > 1<<kindBits {
		t.Error("bins or kinds do not fit")
	}
	for range 1000 {
		var want []uint8
		key := r.Uint64() & (1<<(binBits+kindBits) - 1)
		for _, members := range l.members {
			if r.IntN(2) == 0 {
				want = append(want, members[r.IntN(len(members))])
				key += code[want[len(want)-1]]
			}
		}
		if got := l.levelsOf(key, nil); !slices.Equal(got, want) {
			t.Fatalf("%d became %d", want, got)
		}
	}
}

// TestPatternsByHand counts the pairs of a few stones as would be done by hand: before anything is learned half of the veterans' men are in the rosters, so that of forty records each has prior odds of .49/.51/40.
func TestPatternsByHand(t *testing.T) {
	l := fitLadder()
	level := func(group, name string) uint8 { return uint8(l.number[[2]string{group, name}]) }
	same, differ := []uint8{level("given", "same")}, []uint8{level("given", "different")}
	pair := func(bits float64, others uint16, levels []uint8) Pair {
		return Pair{Bits: bits, Others: others, Levels: levels, Fixed: -1}
	}
	chosen, refused := pair(3, 0, same), pair(9, 0, differ)
	chosen.Fixed, refused.Fixed = 1, 0
	c := &Cases{Records: 40, Unseen: 1, Rosters: []string{"a.csv"}, Stones: []Case{
		{Standing: Standing{Veteran: .98}, Pairs: []Pair{pair(10, 1, same), pair(9, 0, differ), pair(4, 0, differ)}, Order: []uint16{0, 1, 0, 2}}, // four fifths, a fifth, and less than a sixty-fourth
		{Standing: Standing{Veteran: .98}, Pairs: []Pair{pair(10.2, 0, same)}},                                                                    // half a bit lower than the first stone and more
		{Standing: Standing{Veteran: .98}, Settled: true, Answered: true, Pairs: []Pair{chosen, refused}},
		{Standing: Standing{Veteran: .98}, Nobody: true, Answered: true, Pairs: []Pair{pair(10, 0, same)}},
		{Standing: Standing{Veteran: .98, Unlisted: true}, Nobody: true, Answered: true},
		{Standing: Standing{Veteran: .04, Plain: true}, Pairs: []Pair{pair(-60, 0, same)}}, // of no weight
	}}
	base := .49 / .51 / 40
	all := base * (2*1024 + 512 + 16)
	first, second := math.Log2(all), math.Log2(base)+10.2
	key := func(levels []uint8, odds float64) uint64 {
		return l.codes()[levels[0]] + uint64(math.RoundToEven(2*(odds+40)))
	}
	want := []Pattern{
		{key(same, first), menOf(base * 2048 / all), menOf(base * 2048 / all * first)}, {key(differ, first), menOf(base * 512 / all), menOf(base * 512 / all * first)},
		{key(same, second), man, menOf(second)}, {key(same, 60), man, 60 * man},
	}
	slices.SortFunc(want, func(a, b Pattern) int { return int(a.Key>>1) - int(b.Key>>1) }) // no two are next to each other
	p := c.Patterns()
	got := p.Of["a.csv"]
	near := func(a, b men) bool { return math.Abs(a.float()-b.float()) < 1e-6 }
	if !slices.EqualFunc(got, want, func(a, b Pattern) bool { return a.Key == b.Key && near(a.N, b.N) && near(a.Odds, b.Odds) }) {
		t.Errorf("patterns %v, want %v", got, want)
	}
	if p.Pairs != 5 || p.Stones[0].Stones != 4 || !near(p.Stones[0].Veterans, menOf(4*.98)) || p.Stones[unlistedFrom].Stones != 0 || p.Stones[1].Stones != 1 {
		t.Errorf("%d pairs, stones %v", p.Pairs, p.Stones)
	}
}

// BenchmarkPatterns learns m from ten million pairs once they are counted by pattern, 200,000 stones against fifty records each, by blocks as many machines would, and looks that it finds what was planted.
func BenchmarkPatterns(b *testing.B) {
	const blocks, stones = 20, 10_000
	p, all := plant(1), &Patterns{}
	var counting time.Duration
	pairs := 0
	for range blocks {
		c := p.cases(stones)
		begin := time.Now()
		all.Merge(c.Patterns())
		counting += time.Since(begin)
		pairs += stones * plantedRecords
	}
	rounds := 0
	var f *Fit
	for b.Loop() {
		f = NewFit()
		rounds = 0
		for climb := all.climb(fitLadder()); !f.Done(); rounds++ {
			f.next(fitLadder(), climb.count(f))
		}
	}
	b.ReportMetric(float64(b.Elapsed().Milliseconds())/float64(b.N), "ms/fit")
	b.ReportMetric(float64(pairs)/1e6, "Mpairs")
	b.ReportMetric(float64(all.Len()), "patterns")
	b.ReportMetric(float64(rounds), "rounds")
	b.ReportMetric(float64(counting.Milliseconds()), "ms-counting")
	b.ReportMetric(f.Coverage, "share")
	b.ReportMetric(p.off(f.M[0]), "farthest-m")
	if f.Refused != "" || p.off(f.M[0]) > .02 || math.Abs(f.Coverage-plantedShare) > .01 {
		b.Error(fmt.Sprint("what was planted is not found: ", f.Refused, " ", f.Coverage, " ", f.M[0]))
	}
}
