package resurvey

import (
	"cmp"
	"math"
	"slices"

	"musterstone/link/assign"
)

// MostNear is how many stones of the earlier survey are kept as candidates of a later one, of all that come near it: house judgement. What is told of a pairing has a twentieth of the probability at
// least (comesNear), and no more than twenty candidates of a stone can have that.
const MostNear = 48

// keeper picks the candidates of one later stone after another. Among candidates that weigh the same it picks those that were picked least so far: thousands of stones that are
// all alike have as many candidates on either side, instead of all the same ones.
type keeper struct {
	most   int
	picked []int32   // of each earlier stone, how many later ones it is a candidate of
	bits   []float64 // of each earlier stone that comes near, its weight
	at     []int     // and its number
	best   []int     // places in these, of those that may be kept
}

func newKeeper(stones, most int) *keeper {
	return &keeper{most: most, picked: make([]int32, stones)}
}

// near takes note of an earlier stone that comes near; they come in order.
func (p *keeper) near(k int, bits float64) {
	p.at, p.bits = append(p.at, k), append(p.bits, bits)
}

// worse compares two of those that come near: less than 0 where the first is to be let go before the second.
func (p *keeper) worse(i, j int) int {
	return cmp.Or(cmp.Compare(p.bits[i], p.bits[j]), cmp.Compare(p.picked[p.at[j]], p.picked[p.at[i]]), cmp.Compare(j, i))
}

// keep gives the candidates of a later stone, and takes up the next. Where more come near, the candidates stand for all, so that the stone is no likelier to be a new one: those let go that weigh as much as the least
// of the candidates add to the candidates of that weight, where these are so many that none is told for it; what else was let go is one candidate more, whose number is beyond all stones and no
// other's.
func (p *keeper) keep(later int) (edges []assign.Edge) {
	defer func() { p.at, p.bits, p.best = p.at[:0], p.bits[:0], p.best[:0] }()
	if len(p.at) <= p.most {
		for i, k := range p.at {
			edges = append(edges, assign.Edge{Record: k, Bits: p.bits[i]})
			p.picked[k]++
		}
		return edges
	}
	worst := -1 // of the best most of those looked at so far
	for i := range p.at {
		if worst >= 0 && p.worse(i, worst) < 0 {
			continue
		}
		if p.best = append(p.best, i); len(p.best) == 4*p.most { // sorted as seldom as that, it costs less than a heap's every step
			worst = p.cut()
		}
	}
	p.cut()
	slices.Sort(p.best)
	least := math.Inf(1)
	for _, i := range p.best {
		least = min(least, p.bits[i])
	}
	alike, kept, slighter := 0.0, 0.0, 0.0
	for _, b := range p.bits {
		if b == least {
			alike++
		} else if b < least {
			slighter += math.Exp2(b)
		}
	}
	for _, i := range p.best {
		if p.bits[i] == least {
			kept++
		}
	}
	raise := 0.0
	if kept*comesNear > 1 {
		raise = math.Log2(alike / kept)
	} else {
		slighter += (alike - kept) * math.Exp2(least)
	}
	for _, i := range p.best {
		b := p.bits[i]
		if b == least {
			b += raise
		}
		edges = append(edges, assign.Edge{Record: p.at[i], Bits: b})
		p.picked[p.at[i]]++
	}
	if slighter > 0 {
		edges = append(edges, assign.Edge{Record: len(p.picked) + later, Bits: math.Log2(slighter)})
	}
	return edges
}

// cut leaves the best most, and gives the place of the worst of them.
func (p *keeper) cut() int {
	slices.SortFunc(p.best, func(i, j int) int { return p.worse(j, i) })
	p.best = p.best[:p.most]
	return p.best[p.most-1]
}
