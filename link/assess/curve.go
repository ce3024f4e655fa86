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
		best := -1
		for i := range p.Candidates {
			if best < 0 || p.Candidates[i].Probability > p.Candidates[best].Probability {
				best = i
			}
		}
		if best >= 0 {
			c := p.Candidates[best]
			out = append(out, top{c.Probability, slices.Contains(trues, c.Record)})
		}
	}
	slices.SortStableFunc(out, func(a, b top) int { return cmp.Compare(b.p, a.p) })
	return out, links
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
