package assess

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// Point is how the proposals would fare if every stone's best candidate were proposed from a probability on.
type Point struct {
	Least     float64 `json:"least"` // the probability
	Precision Rate    `json:"precision"`
	Recall    Rate    `json:"recall"`
	F1        float64 `json:"f1"`
}

// thresholds are the probabilities at which a report gives a Point.
var thresholds = []float64{0.5, 0.6, 0.7, 0.8, 0.9, 0.95, 0.98, 0.99}

// top is a stone's best candidate.
type top struct {
	p     float64
	right bool
}

// tops gives each stone's best candidate, surest first.
func tops(proposals []model.Proposal, truth Truth) (out []top, links int) {
	for _, p := range proposals {
		trues := truth[p.Stone]
		if unknown(trues) {
			continue
		}
		if len(trues) > 0 {
			links++
		}
		if best, chance := bestOf(p); best >= 0 {
			out = append(out, top{chance, slices.Contains(trues, p.Candidates[best].Record)})
		}
	}
	slices.SortStableFunc(out, func(a, b top) int { return cmp.Compare(b.p, a.p) })
	return out, links
}

// bestOf is the place of a proposal's best candidate, -1 for none, and the probability of its man: a man listed twice has that of both rows.
func bestOf(p model.Proposal) (place int, chance float64) {
	place = -1
	for i := range p.Candidates {
		if w := whole(p, i); place < 0 || w > chance {
			place, chance = i, w
		}
	}
	return place, chance
}

// whole is the probability of a candidate's man, all his rows together.
func whole(p model.Proposal, i int) float64 {
	sum := p.Candidates[i].Probability
	for _, c := range p.Candidates {
		if c.SameAs == p.Candidates[i].Record {
			sum += c.Probability
		}
	}
	return min(1, sum)
}

// Thresholds gives the points at the thresholds of a report.
func Thresholds(proposals []model.Proposal, truth Truth) []Point {
	list, links := tops(proposals, truth)
	var out []Point
	for _, least := range thresholds {
		n, right := 0, 0
		for n < len(list) && list[n].p >= least {
			if list[n].right {
				right++
			}
			n++
		}
		p := Point{Least: least, Precision: NewRate(right, n), Recall: NewRate(right, links)}
		p.F1 = f1(p.Precision, p.Recall)
		out = append(out, p)
	}
	return out
}

// f1 is the harmonic mean of precision and recall; 0 where either is of nothing.
func f1(precision, recall Rate) float64 {
	if precision.Hits == 0 || recall.Of == 0 {
		return 0
	}
	p, r := precision.Value(), recall.Value()
	return 2 * p * r / (p + r)
}

// Curve gives precision against recall at every probability that occurs, from the surest down, and the average precision: the mean of the
// precisions at each true link found, those not found counting nothing.
func Curve(proposals []model.Proposal, truth Truth) (recall, precision []float64, average float64) {
	list, links := tops(proposals, truth)
	right := 0
	for i, t := range list {
		if t.right {
			right++
			average += float64(right) / float64(i+1) / float64(max(1, links))
		}
		if i+1 == len(list) || list[i+1].p != t.p {
			recall = append(recall, float64(right)/float64(max(1, links)))
			precision = append(precision, float64(right)/float64(i+1))
		}
	}
	return recall, precision, average
}

// spread is the half width of the 95% interval of the share of right ones among links of these probabilities, if the probabilities are true and the links do not
// hang together.
func spread(ps []float64) float64 {
	v := 0.0
	for _, p := range ps {
		v += p * (1 - p)
	}
	return z95 * math.Sqrt(v) / float64(max(1, len(ps)))
}
