// Package estimate says how many there are of whom several lists name only some: capture and recapture.
//
// Lists (stones that tell of service, rosters that give a burial place, a burial register) name some of the men of a ground, and some men are on more
// than one. The fewer of one list are found on another, the more there must be that none names. With two lists that name n1 and n2 men, m of them
// both, Lincoln and Petersen put the whole at n1 n2 / m; Chapman (1951) at (n1+1)(n2+1)/(m+1) - 1, which is next to unbiased.
//
// # The assumptions
//
// Everything rests on these, and where they fail the figure does too:
//
//   - the ground is closed: the lists speak of the same men;
//   - a list names each man with one chance, the same for all (the chances of different lists may differ);
//   - the lists are independent: to be on one makes it neither likelier nor less likely to be on another. Lists copied from each other make the figure too
//     small; lists that leave gaps to each other make it too large;
//   - who is the same man on two lists is known as surely as his probabilities say.
//
// Where men differ, so that who is on one list is likelier on the next, the figure is a lower bound and no more: with chances p and q of a man on two lists, the expected
// number on both is Σpq, which is at least Σp Σq / N where the two rise together, so that n1 n2 / m falls short of N. Nothing in two lists tells of it. Chao's
// lower bound, made of the men on one list and on two, needs more occasions than two or three of like strength, and is not offered.
//
// # The interval
//
// Whole gives the distribution of the number N under these assumptions by Bayes' rule, with a uniform prior for the chance of each list and 1/N for N:
//
//	P(N | data) ∝ 1/N · N!/(N-r)! · Π (N-n_i)! / (N+1)!
//
// with r men on any list and n_i on list i. It needs no large numbers; where they are large, its median is within a tenth of a standard error of Chapman's figure. That a finding may be no veteran at all, and that two lists may not mean the same man,
// enters by drawing both, many times, from their probabilities; the same input gives the same draws.
package estimate

import (
	"math"
	"math/rand/v2"
)

// Man is one who may be of those that are to be counted.
type Man struct {
	P     float64   // that he is
	Named bool      // his name is known
	On    []float64 // for each list, the chance that it names him; all men have the same lists
}

// Result is what is known of the number.
type Result struct {
	// Lists has for each list the expected number of men on it; Both is the expected number on two lists or more.
	Lists []float64
	Both  float64
	// Found is the expected number of men found, on lists or otherwise, and Named of those among them whose name is known.
	Found, Named float64
	// Estimated is set where there were two lists at least with men on them; then N is the median of the number of all, found or not, and From to To
	// holds it with the probability Level. Where it is not set, N, From and To are of the found alone: of men whom nothing names nothing is known.
	Estimated bool
	N         float64
	From, To  int
	Level     float64
}

// drawn is how often membership is drawn where it is in doubt.
const drawn = 400

// Whole gives the number of all the men, with an interval that holds it with probability level (0.9, say).
func Whole(men []Man, level float64) Result {
	res := Result{Level: level}
	lists := 0
	for _, m := range men {
		lists = max(lists, len(m.On))
		res.Found += m.P
		if m.Named {
			res.Named += m.P
		}
	}
	res.Lists = make([]float64, lists)
	for _, m := range men {
		none, one := 1.0, 0.0
		for i, p := range m.On {
			res.Lists[i] += m.P * p
			one = one*(1-p) + none*p
			none *= 1 - p
		}
		res.Both += m.P * (1 - none - one)
	}
	var used []int
	for i, n := range res.Lists {
		if n >= 0.5 {
			used = append(used, i)
		}
	}
	res.Estimated = len(used) >= 2
	shares := mixture(men, used, res.Estimated)
	res.N, res.From, res.To = median(shares), quantile(shares, (1-level)/2), quantile(shares, 1-(1-level)/2)
	return res
}

// mixture is the distribution of the number: shares[n] is the probability of n.
func mixture(men []Man, lists []int, estimate bool) []float64 {
	random := rand.New(rand.NewPCG(1951, 1982))
	limit := 40*len(men) + 400
	fact := make([]float64, limit+2) // log n!
	for n := 2; n < len(fact); n++ {
		fact[n] = fact[n-1] + math.Log(float64(n))
	}
	shares := make([]float64, limit+1)
	post := make([]float64, limit+1)
	n := make([]int, len(lists))
	draws := drawn
	if !doubtful(men) {
		draws = 1
	}
	share := 1 / float64(draws)
	for range draws {
		seen, found := 0, 0
		clear(n)
		for _, m := range men {
			there := random.Float64() < m.P
			on := false
			for i, k := range lists {
				if k < len(m.On) && random.Float64() < m.On[k] && there {
					n[i]++
					on = true
				}
			}
			if there {
				found++
			}
			if on {
				seen++
			}
		}
		if !estimate {
			shares[found] += share
			continue
		}
		top := math.Inf(-1)
		last := limit
		for k := max(found, 1); k <= limit; k++ {
			l := -math.Log(float64(k)) + fact[k] - fact[k-seen]
			for _, x := range n {
				l += fact[k-x] - fact[k+1]
			}
			post[k] = l
			top = max(top, l)
			if l < top-30 {
				last = k
				break
			}
		}
		total := 0.0
		for k := max(found, 1); k <= last; k++ {
			post[k] = math.Exp(post[k] - top)
			total += post[k]
		}
		for k := max(found, 1); k <= last; k++ {
			shares[k] += post[k] / total * share
		}
	}
	return shares
}

// doubtful reports whether any membership is neither certain nor out of the question.
func doubtful(men []Man) bool {
	for _, m := range men {
		if m.P > 0 && m.P < 1 {
			return true
		}
		for _, p := range m.On {
			if p > 0 && p < 1 {
				return true
			}
		}
	}
	return false
}

// quantile is the least number that is reached with probability q.
func quantile(shares []float64, q float64) int {
	sum := 0.0
	for n, p := range shares {
		if sum += p; sum >= q-1e-9 {
			return n
		}
	}
	return len(shares) - 1
}

// median is the number that half the probability lies below, within a whole number taken to be spread evenly over it.
func median(shares []float64) float64 {
	sum := 0.0
	for n, p := range shares {
		if sum+p >= 0.5-1e-9 && p > 0 {
			return max(0, float64(n)-0.5+(0.5-sum)/p)
		}
		sum += p
	}
	return 0
}
