package assign

import (
	"context"
	"math"
)

// How long belief propagation goes on: until no message moves by more than restful, or for so many rounds, or so many looks at an edge.
const (
	restful   = 1e-8
	maxRounds = 1000
	maxLooks  = 200_000_000
)

// propagate settles a group approximately. A stone tells each record how much it wants it, against all else it could have; a record tells
// each stone how free it is, given what the others want. When the context is done it leaves off, and what it gives is of no use.
func propagate(ctx context.Context, g group, stones []claims, records int, out [][]float64) {
	// The best assignment's prices are where the records' answers end if every doubt is taken from the problem: a start that is near.
	list := make([][]Edge, len(stones))
	for i, c := range stones {
		for _, o := range c.options {
			if o.record != None {
				list[i] = append(list[i], Edge{o.record, math.Log2(o.odds / c.free)})
			}
		}
	}
	best := newMatcher(list)
	best.placeAll(ctx, patience)
	price := append(best.price, make([]int64, records)...)
	type claim struct{ stone, option int }
	claimants := make([][]claim, records)
	widest, edges := 0, 0
	wants := make([][]float64, len(stones)) // by option
	free := make([][]float64, len(stones))
	for i, c := range stones {
		wants[i], free[i] = make([]float64, len(c.options)), make([]float64, len(c.options))
		widest = max(widest, len(c.options))
		edges += len(c.options)
		for k, o := range c.options {
			if o.record != None {
				free[i][k] = math.Exp2(-float64(price[o.record]) * unit)
				claimants[o.record] = append(claimants[o.record], claim{i, k})
			}
		}
	}
	for _, list := range claimants {
		widest = max(widest, len(list))
	}
	// after[k] is the sum of what comes at k and later: sums without one term come of two sums, since taking a great term away again
	// would leave nothing of the small ones.
	after := make([]float64, widest+1)
	for range min(maxRounds, maxLooks/edges+1) {
		if ctx.Err() != nil {
			return
		}
		for i := range stones {
			c := &stones[i]
			n := len(c.options)
			after[n] = 0
			for k := n - 1; k >= 0; k-- {
				after[k] = after[k+1]
				if c.options[k].record != None {
					after[k] += c.options[k].odds * free[i][k]
				}
			}
			sum := c.free
			for k, o := range c.options {
				if o.record == None {
					continue
				}
				wants[i][k] = o.odds / (sum + after[k+1])
				sum += o.odds * free[i][k]
			}
		}
		moved := 0.0
		for _, list := range claimants {
			n := len(list)
			after[n] = 0
			for k := n - 1; k >= 0; k-- {
				after[k] = after[k+1] + wants[list[k].stone][list[k].option]
			}
			sum := 1.0
			for k, c := range list {
				f := 1 / (sum + after[k+1])
				moved = max(moved, math.Abs(f-free[c.stone][c.option]))
				free[c.stone][c.option] = f
				sum += wants[c.stone][c.option]
			}
		}
		if moved < restful {
			break
		}
	}
	// At rest both ends of an edge agree on its probability. Short of that the lesser is taken, so that no sum exceeds 1.
	for i := range stones {
		c := &stones[i]
		contested := make([]float64, len(c.options))
		for k, o := range c.options {
			contested[k] = o.odds * free[i][k]
		}
		c.share(out[g[i]], c.free, contested)
	}
	for _, list := range claimants {
		sum := 1.0
		for _, c := range list {
			sum += wants[c.stone][c.option]
		}
		for _, c := range list {
			p := &out[g[c.stone]][stones[c.stone].options[c.option].place]
			*p = min(*p, wants[c.stone][c.option]/sum)
		}
	}
}
