// Package assess measures proposals against known truth: precision and recall of what is proposed, how often the right record stands
// first, whether it is among the candidates at all, and whether a probability of 0.9 is right nine times in ten.
package assess

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// Truth says which records belong to a stone. A stone that is not in it belongs to none; a stone with the single record Unknown is left out of
// everything.
type Truth map[model.StoneID][]model.RecordID

// Unknown marks a stone whose true record is not known.
const Unknown model.RecordID = "?"

// unknown reports whether nobody knows which records these are.
func unknown(trues []model.RecordID) bool { return len(trues) == 1 && trues[0] == Unknown }

// Rate is a proportion with its 95% interval by Wilson's score method (E. B. Wilson, 1927).
type Rate struct {
	Hits int     `json:"hits"`
	Of   int     `json:"of"`
	Low  float64 `json:"low"`
	High float64 `json:"high"`
}

// Value is the proportion; NaN of nothing.
func (r Rate) Value() float64 { return float64(r.Hits) / float64(r.Of) }

// z95 is the standard normal deviate of a two-sided 95% interval.
const z95 = 1.959963984540054

// NewRate makes a Rate with its interval. Of nothing, the interval is everything.
func NewRate(hits, of int) Rate {
	r := Rate{Hits: hits, Of: of, High: 1}
	if of == 0 {
		return r
	}
	n, p := float64(of), float64(hits)/float64(of)
	mid := (p + z95*z95/(2*n)) / (1 + z95*z95/n)
	half := z95 / (1 + z95*z95/n) * math.Sqrt(p*(1-p)/n+z95*z95/(4*n*n))
	r.Low, r.High = max(0, mid-half), min(1, mid+half)
	return r
}

// Bin is one tenth of the probability scale: how many candidates were given such a probability, their mean, and how many were right.
type Bin struct {
	N     int     `json:"n"`
	Mean  float64 `json:"mean"`
	Right float64 `json:"right"`
}

// Report is how a set of proposals fared.
type Report struct {
	Stones    int     `json:"stones"`
	Links     int     `json:"links"`     // stones that have a true record
	Precision Rate    `json:"precision"` // proposed links that are right, a man's second stone among them
	Recall    Rate    `json:"recall"`    // true links that are proposed, likewise
	F1        float64 `json:"f1"`
	// Thresholds say how it would be if every stone's best candidate were proposed from such a probability on.
	Thresholds       []Point `json:"thresholds"`
	AveragePrecision float64 `json:"average_precision"`
	// First, Five and Found are the stones with a true record for which it stands first, among the first five, among the candidates.
	First Rate `json:"first"`
	Five  Rate `json:"among_five"`
	Found Rate `json:"among_candidates"`
	// Brier is the mean squared error, ECE the expected calibration error over ten bins, of the probability of each stone's best
	// answer, none of the records included; LogLoss is in bits.
	Brier   float64 `json:"brier"`
	ECE     float64 `json:"ece"`
	LogLoss float64 `json:"log_loss"`
	Bins    []Bin   `json:"bins"`
	// ChanceECE is about what the calibration error would be on so many stones if every probability were true.
	ChanceECE float64 `json:"ece_by_chance"`
	// ExpectedPrecision and ExpectedRecall are what the posteriors themselves say, without truth; ExpectedSpread is the half width of the 95% interval of
	// the precision if they are true. They are to be trusted as far as the calibration error allows, and on other surveys less.
	ExpectedSpread    float64 `json:"expected_spread"`
	ExpectedPrecision float64 `json:"expected_precision"`
	ExpectedRecall    float64 `json:"expected_recall"`
	// TwiceClaimed are the records that more than one stone has with a probability of 0.5 and more: without any truth, a sign of false links
	// (Blakely and Salmond 2002).
	TwiceClaimed int `json:"twice_claimed"`
	// Seconds are the links marked as a man's second stone, which count among the proposed, and of them those that are right.
	Seconds Rate `json:"second_stones"`
	// AlonePrecision and AloneRecall are Precision and Recall if only what is marked as proposed counts, one stone a record.
	AlonePrecision Rate `json:"precision_of_first_stones"`
	AloneRecall    Rate `json:"recall_of_first_stones"`
	// Errors are the stones proposed wrongly or not at all, by stone, and Kinds how many there are of each kind.
	Errors []Error     `json:"errors"`
	Kinds  []KindCount `json:"kinds"`
}

// Assess sets proposals beside the truth. A link marked as a man's second stone counts as proposed: the rule that a record is proposed for one stone at most is no error of
// either.
func Assess(proposals []model.Proposal, truth Truth) Report {
	var r Report
	r.Bins = make([]Bin, 10)
	hits, variance := make([]int, 10), make([]float64, 10)
	proposed, right, first, five, found := 0, 0, 0, 0, 0
	sumProposed, sumAny := 0.0, 0.0
	var given []float64 // the probabilities of what is proposed
	claims := map[model.RecordID]int{}
	seconds, secondsRight := 0, 0
	holder := map[model.RecordID]model.StoneID{} // for which stone a record is proposed
	for _, p := range proposals {
		for _, c := range p.Candidates {
			if c.Proposed {
				holder[c.Record] = p.Stone
			}
		}
	}
	for _, p := range proposals {
		trues := truth[p.Stone]
		if unknown(trues) {
			continue
		}
		r.Stones++
		is := func(id model.RecordID) bool { return slices.Contains(trues, id) }
		if len(trues) > 0 {
			r.Links++
		}
		sumAny += 1 - p.None
		place, pick := -1, -1
		truthP := p.None
		if len(trues) > 0 {
			truthP = 0
		}
		for i, c := range p.Candidates {
			if c.Probability >= 0.5 {
				if claims[c.Record]++; claims[c.Record] == 2 {
					r.TwiceClaimed++
				}
			}
			if is(c.Record) {
				truthP += c.Probability
				if place < 0 {
					place = i
				}
			}
			if (c.Proposed || c.Second) && pick < 0 {
				pick = i
			}
		}
		if place >= 0 {
			found++
			if place == 0 {
				first++
			}
			if place < 5 {
				five++
			}
		}
		e := Error{Stone: p.Stone, True: trues}
		var leader, actual *model.Candidate
		if len(p.Candidates) > 0 {
			leader = &p.Candidates[0]
		}
		if place >= 0 {
			actual = &p.Candidates[place]
		}
		switch {
		case pick >= 0:
			c := p.Candidates[pick]
			proposed++
			chance := whole(p, pick)
			sumProposed += chance
			given = append(given, chance)
			if c.Second {
				seconds++
			}
			if is(c.Record) {
				right++
				if c.Second {
					secondsRight++
				}
			} else {
				r.Errors = append(r.Errors, wrong(e, &c, actual))
			}
		case len(trues) > 0:
			elsewhere := slices.ContainsFunc(trues, func(id model.RecordID) bool { return holder[id] != "" && holder[id] != p.Stone })
			r.Errors = append(r.Errors, missed(e, p.None, leader, actual, elsewhere))
		}
		// The stone's best answer, and whether it is right.
		best, ok := p.None, len(trues) == 0
		if i, chance := bestOf(p); i >= 0 && chance > best {
			best, ok = chance, is(p.Candidates[i].Record)
		}
		y := 0.0
		b := min(9, int(best*10))
		if ok {
			y = 1
			hits[b]++
		}
		r.Bins[b].N++
		r.Bins[b].Mean += best
		variance[b] += best * (1 - best)
		r.Brier += (best - y) * (best - y)
		r.LogLoss -= math.Log2(max(truthP, 1e-6))
	}
	r.Precision, r.Recall = NewRate(right, proposed), NewRate(right, r.Links)
	r.F1, r.Seconds = f1(r.Precision, r.Recall), NewRate(secondsRight, seconds)
	r.AlonePrecision, r.AloneRecall = NewRate(right-secondsRight, proposed-seconds), NewRate(right-secondsRight, r.Links)
	r.Thresholds, r.ExpectedSpread = Thresholds(proposals, truth), spread(given)
	_, _, r.AveragePrecision = Curve(proposals, truth)
	r.First, r.Five, r.Found = NewRate(first, r.Links), NewRate(five, r.Links), NewRate(found, r.Links)
	if r.Stones > 0 {
		n := float64(r.Stones)
		r.Brier /= n
		r.LogLoss /= n
		for i := range r.Bins {
			if k := float64(r.Bins[i].N); k > 0 {
				r.Bins[i].Mean /= k
				r.Bins[i].Right = float64(hits[i]) / k
				r.ECE += k / n * math.Abs(r.Bins[i].Mean-r.Bins[i].Right)
				r.ChanceECE += math.Sqrt(2/math.Pi*variance[i]) / n // the mean of a normal deviate's size
			}
		}
	}
	if proposed > 0 {
		r.ExpectedPrecision = sumProposed / float64(proposed)
	}
	if sumAny > 0 {
		r.ExpectedRecall = min(1, sumProposed/sumAny)
	}
	slices.SortStableFunc(r.Errors, func(a, b Error) int { return cmp.Compare(a.Stone, b.Stone) })
	r.Kinds = countKinds(r.Errors)
	return r
}
