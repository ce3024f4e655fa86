package assign

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"sync/atomic"
	"testing"
)

func ExampleSolve() {
	edges := [][]Edge{
		{{Record: 7, Bits: 12}, {Record: 9, Bits: 11}},
		{{Record: 7, Bits: 8}},
		{{Record: 9, Bits: -3}},
	}
	got, err := Solve(context.Background(), edges)
	if err != nil {
		panic(err)
	}
	fmt.Println(got.Records, got.Bits)
	// Output: [9 7 -1] 19
}

func ExampleMarginals() {
	// Two stones of the same name, one man: each is his or neither, and none of the two knows better.
	edges := [][]Edge{{{Record: 0, Bits: 10}}, {{Record: 0, Bits: 10}}}
	all, err := Marginals(context.Background(), edges)
	if err != nil {
		panic(err)
	}
	for _, p := range all {
		fmt.Printf("%.4f\n", p[0])
	}
	// Output:
	// 0.4998
	// 0.4998
}

// solved, hurriedly and marginals are Solve, solve and Marginals with a context that is never done.
func solved(edges [][]Edge) Solution { return hurriedly(edges, patience) }

func hurriedly(edges [][]Edge, patience int) Solution {
	s, err := solve(context.Background(), edges, patience)
	if err != nil {
		panic(err)
	}
	return s
}

func marginals(edges [][]Edge) [][]float64 {
	out, err := Marginals(context.Background(), edges)
	if err != nil {
		panic(err)
	}
	return out
}

// doneAfter is a context that is done once it has been asked so many times. It counts how often it was asked after that.
type doneAfter struct {
	context.Context
	asked, after atomic.Int64
	times        int64
}

func (c *doneAfter) Err() error {
	if c.asked.Add(1) <= c.times {
		return nil
	}
	c.after.Add(1)
	return context.Canceled
}

// TestDone: whenever the context is done, of a group of any size or of many groups, both leave off with its cause, and do no more of the work: they do not go on asking.
func TestDone(t *testing.T) {
	many := make([][]Edge, 4000) // groups of two
	for s := range many {
		many[s] = []Edge{{Record: s / 2, Bits: 5}}
	}
	for name, edges := range map[string][][]Edge{"one group": crowd(400, 300, 20), "few stones": crowd(10, 8, 5), "many groups": many} {
		for which, f := range map[string]func(context.Context) (any, error){
			"Solve":     func(ctx context.Context) (any, error) { s, err := Solve(ctx, edges); return s.Records, err },
			"Marginals": func(ctx context.Context) (any, error) { return Marginals(ctx, edges) },
		} {
			whole := &doneAfter{Context: context.Background(), times: math.MaxInt64}
			if _, err := f(whole); err != nil {
				t.Fatal(err)
			}
			all := whole.asked.Load()
			for _, times := range []int64{0, 1, 2, all / 4, all / 2, all - 1} {
				ctx := &doneAfter{Context: context.Background(), times: times}
				got, err := f(ctx)
				if v := reflect.ValueOf(got); err != context.Canceled || !v.IsNil() {
					t.Errorf("%s, %s, done after %d of %d: %v, %v", which, name, times, all, got, err)
				}
				if n := ctx.after.Load(); n > int64(8+20*runtime.GOMAXPROCS(0)) {
					t.Errorf("%s, %s, done after %d of %d: it went on for %d more", which, name, times, all, n)
				}
			}
		}
	}
}

// random draws a problem of up to n stones and n records. With ties, the weights are small whole numbers.
func random(r *rand.Rand, n int, ties bool) [][]Edge {
	edges := make([][]Edge, 1+r.IntN(n))
	records := 1 + r.IntN(n)
	density := r.Float64()
	for s := range edges {
		for record := range records {
			if r.Float64() > density {
				continue
			}
			bits := r.NormFloat64()*6 + 3
			if ties {
				bits = float64(r.IntN(7) - 2)
			}
			edges[s] = append(edges[s], Edge{record, bits})
			if r.IntN(12) == 0 { // the same record twice
				edges[s] = append(edges[s], Edge{record, bits - 1})
			}
		}
		r.Shuffle(len(edges[s]), func(i, j int) { edges[s][i], edges[s][j] = edges[s][j], edges[s][i] })
	}
	return edges
}

// every calls f with every way to pick edges; picked has the place in the stone's list, or None.
func every(edges [][]Edge, f func(picked []int, bits float64)) {
	picked := make([]int, len(edges))
	used := map[int]bool{}
	var at func(s int, bits float64)
	at = func(s int, bits float64) {
		if s == len(edges) {
			f(picked, bits)
			return
		}
		picked[s] = None
		at(s+1, bits)
		for k, e := range edges[s] {
			if !used[e.Record] {
				used[e.Record], picked[s] = true, k
				at(s+1, bits+e.Bits)
				used[e.Record] = false
			}
		}
	}
	at(0, 0)
}

func checkRule(t *testing.T, edges [][]Edge, got Solution) {
	t.Helper()
	if len(got.Records) != len(edges) {
		t.Fatalf("%d answers for %d stones", len(got.Records), len(edges))
	}
	taken := map[int]int{}
	sum := 0.0
	for s, r := range got.Records {
		if r == None {
			continue
		}
		if other, ok := taken[r]; ok {
			t.Fatalf("stones %d and %d both have record %d", other, s, r)
		}
		taken[r] = s
		best := math.Inf(-1)
		for _, e := range edges[s] {
			if e.Record == r {
				best = max(best, e.Bits)
			}
		}
		if !(best > 0) {
			t.Fatalf("stone %d has record %d at %v bits", s, r, best)
		}
		sum += best
	}
	if math.Abs(sum-got.Bits) > 1e-6 {
		t.Fatalf("the edges picked sum to %v, not to %v", sum, got.Bits)
	}
}

func TestSolveBrute(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 6000 {
		edges := random(r, 7, i%2 == 0)
		if ways(edges) > 20_000 {
			edges = random(r, 4, i%2 == 0)
		}
		best := 0.0
		every(edges, func(_ []int, bits float64) { best = max(best, bits) })
		got := solved(edges)
		checkRule(t, edges, got)
		if math.Abs(got.Bits-best) > 1e-5 || got.Hurried != nil {
			t.Fatalf("%v: Solve gives %+v, the best is %v", edges, got, best)
		}
		if again := solved(edges); !reflect.DeepEqual(again, got) {
			t.Fatalf("%v: %v, then %v", edges, got, again)
		}
	}
}

// ways bounds the number of assignments.
func ways(edges [][]Edge) int {
	n := 1
	for _, list := range edges {
		n *= len(list) + 1
		if n > 1<<40 {
			return n
		}
	}
	return n
}

func TestSolveByHand(t *testing.T) {
	tests := []struct {
		name  string
		edges [][]Edge
		want  []int
	}{
		{"nothing", nil, []int{}},
		{"no edges", [][]Edge{nil, nil}, []int{None, None}},
		{"none is better", [][]Edge{{{0, -2}}, {{1, 0}}}, []int{None, None}},
		{"the stronger claim", [][]Edge{{{0, 5}}, {{0, 6}}}, []int{None, 0}},
		{"of equal claims the earlier", [][]Edge{{{0, 5}}, {{0, 5}}}, []int{0, None}},
		{"of equal records the first", [][]Edge{{{1, 5}, {0, 5}}}, []int{0}},
		{"room is made", [][]Edge{{{0, 10}, {1, 9}}, {{0, 8}}}, []int{1, 0}},
		{"a chain moves up", [][]Edge{{{0, 10}, {1, 9}}, {{1, 10}, {2, 9}}, {{2, 10}, {3, 9}}, {{0, 9.5}}}, []int{1, 2, 3, 0}},
		{"one gives way", [][]Edge{{{0, 10}, {1, 2}}, {{0, 9}}, {{1, 8}}}, []int{0, None, 1}},
		{"certain, impossible and no number", [][]Edge{{{0, math.Inf(1)}}, {{0, 5}, {1, math.Inf(-1)}}, {{2, math.NaN()}, {None, 3}}}, []int{0, None, None}},
	}
	for _, test := range tests {
		got := solved(test.edges)
		if fmt.Sprint(got.Records) != fmt.Sprint(test.want) {
			t.Errorf("%s: got %v, want %v", test.name, got.Records, test.want)
		}
	}
}

// crowd makes a problem of many stones that claim the same few records.
func crowd(stones, records, each int) [][]Edge {
	r := rand.New(rand.NewPCG(7, 8))
	edges := make([][]Edge, stones)
	for s := range edges {
		for _, record := range r.Perm(records)[:each] {
			edges[s] = append(edges[s], Edge{record, r.Float64() * 20})
		}
	}
	return edges
}

func TestSolveCrowd(t *testing.T) {
	// All claim one man: the strongest claim has him.
	edges := crowd(100_000, 1, 1)
	got := solved(edges)
	checkRule(t, edges, got)
	best := 0.0
	for _, list := range edges {
		best = max(best, list[0].Bits)
	}
	if got.Bits != best || got.Hurried != nil {
		t.Errorf("got %v bits, want %v; hurried %d", got.Bits, best, len(got.Hurried))
	}
	// A hundred thousand stones for five hundred men of one name.
	edges = crowd(100_000, 500, 10)
	got = solved(edges)
	checkRule(t, edges, got)
	if got.Hurried != nil {
		t.Errorf("%d stones hurried", len(got.Hurried))
	}
}

// No assignment is worth more than the prices of all records and what each stone would then still gain (weak duality): where the two
// are the same, the answer is the best. This checks groups far too large for brute force.
func TestSolveAgainstPrices(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	problems := [][][]Edge{crowd(300, 200, 20), crowd(200, 300, 20), crowd(120, 120, 120), crowd(5000, 50, 5)}
	for range 200 {
		problems = append(problems, random(r, 40, true))
	}
	for i, edges := range problems {
		m := newMatcher(edges)
		if m.placeAll(t.Context(), patience) != nil {
			t.Fatalf("problem %d was hurried", i)
		}
		var bound, sum int64
		for record, p := range m.price {
			if p < 0 || p > 0 && m.holder[record] == None {
				t.Fatalf("problem %d: record %d has price %d", i, record, p)
			}
			bound += p
		}
		for s, list := range edges {
			var gain, got int64
			for _, e := range list {
				gain = max(gain, worth(e)-m.price[e.Record])
				if e.Record == m.picked[s] {
					got = max(got, worth(e))
				}
			}
			bound += gain
			sum += got
		}
		if sum != bound {
			t.Fatalf("problem %d: %d picked, bound %d", i, sum, bound)
		}
	}
}

func TestSolveHurried(t *testing.T) {
	edges := crowd(60, 40, 20)
	exact := solved(edges)
	got := hurriedly(edges, 400)
	checkRule(t, edges, got)
	if len(got.Hurried) == 0 || got.Bits > exact.Bits || got.Bits < exact.Bits/2 {
		t.Errorf("hurried %d stones to %v bits; at leisure %v", len(got.Hurried), got.Bits, exact.Bits)
	}
	for i := 1; i < len(got.Hurried); i++ {
		if got.Hurried[i] <= got.Hurried[i-1] {
			t.Fatal("the stones hurried are not sorted")
		}
	}
}

// byCounting is Marginals by going through every assignment.
func byCounting(edges [][]Edge) [][]float64 {
	out := make([][]float64, len(edges))
	for s := range edges {
		out[s] = make([]float64, len(edges[s]))
	}
	total := 0.0
	every(edges, func(picked []int, bits float64) {
		w := math.Exp2(bits)
		total += w
		for s, k := range picked {
			if k != None {
				out[s][k] += w
			}
		}
	})
	for s := range out {
		for k := range out[s] {
			out[s][k] /= total
		}
	}
	return out
}

func farthest(a, b [][]float64) float64 {
	d := 0.0
	for s := range a {
		for k := range a[s] {
			d = max(d, math.Abs(a[s][k]-b[s][k]))
		}
	}
	return d
}

func TestMarginalsBrute(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	for i := range 2500 {
		edges := random(r, 7, i%2 == 0)
		if ways(edges) > 20_000 {
			edges = random(r, 4, i%2 == 0)
		}
		want := byCounting(edges)
		// Within 1/16384 for every slight edge that was let go.
		if d := farthest(marginals(edges), want); d > 3e-4 {
			t.Fatalf("%v: %v off", edges, d)
		}
	}
}

// Both ways to count exactly, and belief propagation, over the same groups.
func TestMarginalsWays(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	sum, n, worst := 0.0, 0, 0.0
	for i := range 1500 {
		edges := random(r, 6, i%2 == 0)
		if ways(edges) > 20_000 {
			continue
		}
		for s := range edges {
			edges[s] = merged(edges[s])
		}
		want := byCounting(edges)
		for _, g := range groups(edges, isEdge) {
			stones, records := contest(g, edges, isEdge)
			if records == 0 {
				continue
			}
			for _, way := range []struct {
				name  string
				f     func(group, []claims, int, [][]float64)
				exact bool
			}{{"by stone", exactByStone, true}, {"by record", exactByRecord, true}, {"propagation", func(g group, stones []claims, records int, out [][]float64) {
				propagate(t.Context(), g, stones, records, out)
			}, false}} {
				got := make([][]float64, len(edges))
				for s := range got {
					got[s] = make([]float64, len(edges[s]))
				}
				way.f(g, stones, records, got)
				d := 0.0
				for _, s := range g {
					d = max(d, farthest(got[s:s+1], want[s:s+1]))
				}
				if way.exact && d > 1e-9 {
					t.Fatalf("%s, %v: %v off", way.name, edges, d)
				}
				if !way.exact {
					sum, n, worst = sum+d, n+1, max(worst, d)
				}
			}
		}
	}
	t.Logf("propagation: in %d groups the farthest probability is off by %.4f in the mean, %.4f at worst", n, sum/float64(n), worst)
	if sum/float64(n) > .01 || worst > .25 {
		t.Errorf("propagation is off by %.4f in the mean, %.4f at worst", sum/float64(n), worst)
	}
}

func TestMarginalsByHand(t *testing.T) {
	bits := func(odds float64) float64 { return math.Log2(odds) }
	tests := []struct {
		name  string
		edges [][]Edge
		want  [][]float64
	}{
		{"alone", [][]Edge{{{0, bits(3)}}}, [][]float64{{.75}}},
		{"alone, two records", [][]Edge{{{0, bits(3)}, {1, bits(4)}}}, [][]float64{{3. / 8, 4. / 8}}},
		{"no contest", [][]Edge{{{0, bits(3)}}, {{1, bits(1)}}}, [][]float64{{.75}, {.5}}},
		// None, the first, the second: 1 + 3 + 4.
		{"one man, two stones", [][]Edge{{{0, bits(3)}}, {{0, bits(4)}}}, [][]float64{{3. / 8}, {4. / 8}}},
		// 1, 0: 2, 1: 3, and the other stone 0: 5; with 1 beside: 3*5. 1+2+3+5+15 = 26.
		{"one has another man to go to", [][]Edge{{{0, bits(2)}, {1, bits(3)}}, {{0, bits(5)}}}, [][]float64{{2. / 26, 18. / 26}, {20. / 26}}},
		{"the same record twice", [][]Edge{{{0, bits(2)}, {0, bits(3)}}, {{0, bits(5)}}}, [][]float64{{2. / 11, 3. / 11}, {5. / 11}}},
		{"no number", [][]Edge{{{0, math.NaN()}, {None, 3}}}, [][]float64{{0, 0}}},
		{"certain", [][]Edge{{{0, math.Inf(1)}}, {{1, math.Inf(-1)}}}, [][]float64{{1}, {0}}},
		{"nothing", [][]Edge{nil}, [][]float64{nil}},
	}
	for _, test := range tests {
		if d := farthest(marginals(test.edges), test.want); d > 1e-12 {
			t.Errorf("%s: got %v, want %v", test.name, marginals(test.edges), test.want)
		}
	}
}

// Whatever the group, a stone's probabilities and a record's sum to 1 at most.
func TestMarginalsSums(t *testing.T) {
	problems := [][][]Edge{crowd(40, 30, 8), crowd(2000, 3, 2), crowd(2000, 300, 20), crowd(20_000, 1, 1), crowd(10, 200, 60)}
	strong := crowd(60, 60, 30)
	for s := range strong {
		for k := range strong[s] {
			strong[s][k].Bits = 60 // everybody is sure of everybody
		}
	}
	problems = append(problems, strong)
	for i, edges := range problems {
		got := marginals(edges)
		byRecord := map[int]float64{}
		for s := range edges {
			sum := 0.0
			for k, e := range edges[s] {
				p := got[s][k]
				if !(p >= 0 && p <= 1) {
					t.Fatalf("problem %d: stone %d, record %d has %v", i, s, e.Record, p)
				}
				sum += p
				byRecord[e.Record] += p
			}
			if sum > 1+1e-9 {
				t.Fatalf("problem %d: stone %d sums to %v", i, s, sum)
			}
		}
		for r, sum := range byRecord {
			if sum > 1+1e-4 {
				t.Errorf("problem %d: record %d sums to %v", i, r, sum)
			}
		}
	}
}

func FuzzAssign(f *testing.F) {
	f.Add([]byte{0, 1, 9, 0, 2, 8, 1, 1, 9})
	f.Fuzz(func(t *testing.T, b []byte) {
		edges := make([][]Edge, 6)
		for i := 0; i+2 < len(b) && i < 45; i += 3 {
			s := int(b[i] % 6)
			edges[s] = append(edges[s], Edge{int(b[i+1] % 6), float64(int8(b[i+2])) / 4})
		}
		if ways(edges) > 5000 {
			return
		}
		best := 0.0
		every(edges, func(_ []int, bits float64) { best = max(best, bits) })
		got := solved(edges)
		checkRule(t, edges, got)
		if math.Abs(got.Bits-best) > 1e-5 {
			t.Fatalf("%v: Solve gives %+v, the best is %v", edges, got, best)
		}
		if d := farthest(marginals(edges), byCounting(edges)); d > 1e-3 {
			t.Fatalf("%v: marginals are %v off", edges, d)
		}
	})
}

func BenchmarkSolve(b *testing.B) {
	for _, size := range []struct{ stones, records, each int }{{500, 500, 50}, {500, 500, 500}, {100_000, 1, 1}, {100_000, 500, 10}} {
		b.Run(fmt.Sprintf("%dx%d by %d", size.stones, size.records, size.each), func(b *testing.B) {
			edges := crowd(size.stones, size.records, size.each)
			for b.Loop() {
				solved(edges)
			}
		})
	}
}

func BenchmarkMarginals(b *testing.B) {
	for _, size := range []struct{ stones, records, each int }{{10, 50, 20}, {500, 500, 50}, {100_000, 1, 1}, {10_000, 500, 10}} {
		b.Run(fmt.Sprintf("%dx%d by %d", size.stones, size.records, size.each), func(b *testing.B) {
			edges := crowd(size.stones, size.records, size.each)
			for b.Loop() {
				marginals(edges)
			}
		})
	}
}
