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
	// Split says what the Brier score is made of.
	Split Split `json:"brier_split"`
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
	// GaveWay are the stones whose man by the weights alone is proposed for another stone, one man having one stone, and of them those whose man he is not.
	GaveWay Rate `json:"gave_way"`
	// Seconds are the links marked as a man's second stone, which count among the proposed, and of them those that are right.
	Seconds Rate `json:"second_stones"`
	// AlonePrecision and AloneRecall are Precision and Recall if only what is marked as proposed counts, one stone a record.
	AlonePrecision Rate `json:"precision_of_first_stones"`
	AloneRecall    Rate `json:"recall_of_first_stones"`
	// Errors are the stones proposed wrongly or not at all, by stone, and Kinds how many there are of each kind.
	Errors []Error     `json:"errors"`
	Kinds  []KindCount `json:"kinds"`
}

// Split is the Brier score in parts (A. H. Murphy, A New Vector Partition of the Probability Score, Journal of Applied Meteorology 12, 1973), over the bins: uncertainty - resolution + reliability. Probabilities differ within a
// bin, and what that adds or takes off counts as resolution, so that the sum is whole (D. B. Stephenson, C. A. S. Coelho and I. T. Jolliffe, Two Extra Components in the Brier Score Decomposition, Weather and Forecasting 23, 2008).
type Split struct {
	Uncertainty float64 `json:"uncertainty"` // of answers of which only is known how many are right
	Resolution  float64 `json:"resolution"`  // how far the probabilities tell right ones from wrong ones
	Reliability float64 `json:"reliability"` // how far they are off the shares that are right
}

// Assess sets proposals beside the truth. A link marked as a man's second stone counts as proposed: the rule that a record is proposed for one stone at most is no error of
// either.
func Assess(proposals []model.Proposal, truth Truth) Report {
	t := newTally(proposals)
	for i := range proposals {
		if trues := truth[proposals[i].Stone]; !unknown(trues) {
			t.add(&proposals[i], trues)
		}
	}
	r := &t.report
	t.links()
	t.calibration()
	r.Thresholds, r.ExpectedSpread = Thresholds(proposals, truth), spread(t.given)
	_, _, r.AveragePrecision = Curve(proposals, truth)
	slices.SortStableFunc(r.Errors, func(a, b Error) int { return cmp.Compare(a.Stone, b.Stone) })
	r.Kinds = countKinds(r.Errors)
	return *r
}

// A tally counts stones into a report.
type tally struct {
	report Report
	holder map[model.RecordID]model.StoneID // for which stone a record is proposed
	claims map[model.RecordID]int           // how many stones have a record with 0.5 and more

	proposed, right, seconds, secondsRight int
	first, five, found                     int
	gaveWay, gaveWayRightly                int
	given                                  []float64 // the probabilities of what is proposed
	sumProposed, sumAny                    float64
	hits                                   [bins]int // by bin of the best answer's probability, those that are right
	variance                               [bins]float64
}

// bins are the bins of the calibration error.
const bins = 10

func newTally(proposals []model.Proposal) *tally {
	t := &tally{holder: map[model.RecordID]model.StoneID{}, claims: map[model.RecordID]int{}}
	t.report.Bins = make([]Bin, bins)
	for _, p := range proposals {
		for _, c := range p.Candidates {
			if c.Proposed {
				t.holder[c.Record] = p.Stone
			}
		}
	}
	return t
}

// add counts the proposal for one stone, of which the truth is known.
func (t *tally) add(p *model.Proposal, trues []model.RecordID) {
	r := &t.report
	r.Stones++
	if len(trues) > 0 {
		r.Links++
	}
	t.sumAny += 1 - p.None
	place := -1 // of the first true record
	truthP := p.None
	if len(trues) > 0 {
		truthP = 0
	}
	for i, c := range p.Candidates {
		if c.Probability >= 0.5 {
			if t.claims[c.Record]++; t.claims[c.Record] == 2 {
				r.TwiceClaimed++
			}
		}
		if slices.Contains(trues, c.Record) {
			truthP += c.Probability
			if place < 0 {
				place = i
			}
		}
	}
	t.rank(place)
	t.giveWay(p, trues)
	t.pick(p, trues, place)
	t.answer(p, trues)
	r.LogLoss -= math.Log2(max(truthP, 1e-6))
}

// rank counts a stone by the place of its true record among the candidates; -1 where it has none there.
func (t *tally) rank(place int) {
	if place < 0 {
		return
	}
	t.found++
	if place == 0 {
		t.first++
	}
	if place < 5 {
		t.five++
	}
}

// giveWay counts a stone whose man by the weights alone is proposed for another stone.
func (t *tally) giveWay(p *model.Proposal, trues []model.RecordID) {
	most := -1
	for i, c := range p.Candidates {
		if most < 0 || c.Bits > p.Candidates[most].Bits {
			most = i
		}
	}
	if most < 0 || p.Candidates[most].Second {
		return
	}
	if id := p.Candidates[most].SameAs; id != "" {
		most = slices.IndexFunc(p.Candidates, func(c model.Candidate) bool { return c.Record == id })
		if most < 0 || p.Candidates[most].Second {
			return
		}
	}
	held := t.holder[p.Candidates[most].Record]
	if held == "" || held == p.Stone {
		return
	}
	t.gaveWay++
	if !slices.ContainsFunc(trues, func(id model.RecordID) bool { return hasRow(p, most, id) }) {
		t.gaveWayRightly++
	}
}

// pick counts what is proposed for a stone, or should have been.
func (t *tally) pick(p *model.Proposal, trues []model.RecordID, place int) {
	e := Error{Stone: p.Stone, True: trues}
	var leader, actual *model.Candidate
	if len(p.Candidates) > 0 {
		leader = &p.Candidates[0]
	}
	if place >= 0 {
		actual = &p.Candidates[place]
	}
	k := slices.IndexFunc(p.Candidates, func(c model.Candidate) bool { return c.Proposed || c.Second })
	if k < 0 {
		if len(trues) > 0 {
			elsewhere := slices.ContainsFunc(trues, func(id model.RecordID) bool { return t.holder[id] != "" && t.holder[id] != p.Stone })
			t.report.Errors = append(t.report.Errors, missed(e, p.None, leader, actual, elsewhere))
		}
		return
	}
	c := p.Candidates[k]
	chance := whole(*p, k)
	t.proposed++
	t.sumProposed += chance
	t.given = append(t.given, chance)
	if c.Second {
		t.seconds++
	}
	if !slices.Contains(trues, c.Record) {
		t.report.Errors = append(t.report.Errors, wrong(e, &c, actual))
		return
	}
	t.right++
	if c.Second {
		t.secondsRight++
	}
}

// answer counts the stone's best answer, none of the records included, and whether it is right.
func (t *tally) answer(p *model.Proposal, trues []model.RecordID) {
	best, ok := p.None, len(trues) == 0
	if i, chance := bestOf(*p); i >= 0 && chance > best {
		best, ok = chance, slices.Contains(trues, p.Candidates[i].Record)
	}
	y := 0.0
	b := min(bins-1, int(best*bins))
	if ok {
		y = 1
		t.hits[b]++
	}
	r := &t.report
	r.Bins[b].N++
	r.Bins[b].Mean += best
	t.variance[b] += best * (1 - best)
	r.Brier += (best - y) * (best - y)
}

// links makes the rates of links, those found and those expected.
func (t *tally) links() {
	r := &t.report
	r.Precision, r.Recall = NewRate(t.right, t.proposed), NewRate(t.right, r.Links)
	r.F1, r.Seconds = f1(r.Precision, r.Recall), NewRate(t.secondsRight, t.seconds)
	r.GaveWay = NewRate(t.gaveWayRightly, t.gaveWay)
	r.AlonePrecision, r.AloneRecall = NewRate(t.right-t.secondsRight, t.proposed-t.seconds), NewRate(t.right-t.secondsRight, r.Links)
	r.First, r.Five, r.Found = NewRate(t.first, r.Links), NewRate(t.five, r.Links), NewRate(t.found, r.Links)
	if t.proposed > 0 {
		r.ExpectedPrecision = t.sumProposed / float64(t.proposed)
	}
	if t.sumAny > 0 {
		r.ExpectedRecall = min(1, t.sumProposed/t.sumAny)
	}
}

// calibration makes the errors of the probabilities out of their sums.
func (t *tally) calibration() {
	r := &t.report
	if r.Stones == 0 {
		return
	}
	n := float64(r.Stones)
	r.Brier /= n
	r.LogLoss /= n
	right := 0
	for i := range r.Bins {
		if k := float64(r.Bins[i].N); k > 0 {
			right += t.hits[i]
			r.Bins[i].Mean /= k
			r.Bins[i].Right = float64(t.hits[i]) / k
			off := r.Bins[i].Mean - r.Bins[i].Right
			r.Split.Reliability += k / n * off * off
			r.ECE += k / n * math.Abs(r.Bins[i].Mean-r.Bins[i].Right)
			r.ChanceECE += math.Sqrt(2/math.Pi*t.variance[i]) / n // the mean of a normal deviate's size
		}
	}
	share := float64(right) / n
	r.Split.Uncertainty = share * (1 - share)
	r.Split.Resolution = r.Split.Uncertainty + r.Split.Reliability - r.Brier
}
