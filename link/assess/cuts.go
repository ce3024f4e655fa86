package assess

import (
	"cmp"
	"math"
	"slices"

	"musterstone/model"
)

// Pairs are pairs of a stone and a man that weigh the same: how many of them are matches, and how many are not, as shares or as expected numbers.
type Pairs struct {
	Weight             float64 // any measure that rises with the odds
	Matches, Unmatched float64
}

// Rule is the decision rule of I. P. Fellegi and A. B. Sunter, A Theory for Record Linkage (Journal of the American Statistical Association 64, 1969): pairs that weigh Link and more
// are linked, those that weigh Leave and less are not, and a person looks at what lies between (clerical review).
type Rule struct {
	Link, Leave float64 // Link is +Inf where nothing is linked, Leave -Inf where nothing is left
	// False is the share of the pairs that are no match that are linked all the same, Lost that of the matches that are left.
	False, Lost float64
}

// Decide finds the rule that leaves the least to a person while False is at most mu, and Lost at most lambda. In the theory a share of the pairs on either boundary, drawn by lot, is linked or left until the bound
// is filled to the brim. Nothing is linked by lot here: pairs that weigh the same are treated the same, those on a boundary go to a person, and both shares stay within their bounds. Where the
// bounds are so wide that some pairs might be either, those likelier matches than not are linked, and none are left to a person. It sorts the pairs, the heaviest first.
func Decide(list []Pairs, mu, lambda float64) Rule {
	slices.SortFunc(list, func(a, b Pairs) int { return cmp.Compare(b.Weight, a.Weight) })
	matches, unmatched := 0.0, 0.0
	for _, p := range list {
		matches += p.Matches
		unmatched += p.Unmatched
	}
	// The pairs before link are linked, those from leave on are left.
	link := within(list, mu*unmatched, func(p Pairs) float64 { return p.Unmatched })
	slices.Reverse(list)
	leave := len(list) - within(list, lambda*matches, func(p Pairs) float64 { return p.Matches })
	slices.Reverse(list)
	if leave < link {
		either := slices.IndexFunc(list[leave:link], func(p Pairs) bool { return p.Matches < p.Unmatched })
		if either < 0 {
			either = link - leave
		}
		link = leave + either
		leave = link
	}
	r := Rule{Link: math.Inf(1), Leave: math.Inf(-1)}
	for i, p := range list {
		switch {
		case i < link:
			r.Link = p.Weight
			r.False += share(p.Unmatched, unmatched)
		case i >= leave:
			r.Leave = max(r.Leave, p.Weight)
			r.Lost += share(p.Matches, matches)
		}
	}
	return r
}

// share is a part of all; of nothing it is nothing.
func share(part, all float64) float64 {
	if all == 0 {
		return 0
	}
	return part / all
}

// within is how many pairs from the head of the list on, whole weights at a time, come to no more than a bound.
func within(list []Pairs, bound float64, of func(Pairs) float64) (n int) {
	sum := 0.0
	for from := 0; from < len(list); {
		to := from
		for to < len(list) && list[to].Weight == list[from].Weight {
			sum += of(list[to])
			to++
		}
		if sum > bound {
			break
		}
		n, from = to, to
	}
	return n
}

// Cuts are the two cuts of the rule in a set of proposals, found from the probabilities alone, and what truth says of the three parts.
type Cuts struct {
	// Mu and Lambda are the bounds: the share of the pairs that are no match that may be linked, and that of the matches that may be left.
	Mu     float64 `json:"mu"`
	Lambda float64 `json:"lambda"`
	Linked Part    `json:"linked"`
	Review Part    `json:"for_review"`
	Left   Part    `json:"left"`
	// Unseen are the true links among the pairs that are left of which the man is not even among the candidates told.
	Unseen int `json:"unseen"`
}

// Part are the pairs on one side of a cut, or between the two.
type Part struct {
	From     float64 `json:"from"` // the least probability among them
	Pairs    int     `json:"pairs"`
	Expected float64 `json:"expected"` // how many are right, by their probabilities
	// Right is how many true links are among them, one a stone: of a man who is listed again in rows that are not known to be his, the likeliest counts.
	Right int `json:"right"`
}

func (p *Part) add(chance float64, right bool) {
	if p.Pairs == 0 || chance < p.From {
		p.From = chance
	}
	p.Pairs++
	p.Expected += chance
	if right {
		p.Right++
	}
}

// Review parts the pairs of all stones with so many records by the rule. The bounds are those of the precision: as many false links as 1 - precision of the matches that are expected, and as
// many matches left. A pair is a stone and a man, however often he is listed, and what it weighs is its probability.
func Review(proposals []model.Proposal, truth Truth, records int, precision float64) Cuts {
	type pair struct {
		chance float64
		right  bool
	}
	var pairs []pair
	var list []Pairs
	c := Cuts{Lambda: 1 - precision}
	stones, expected := 0, 0.0
	for i := range proposals {
		p := &proposals[i]
		trues := truth[p.Stone]
		if unknown(trues) {
			continue
		}
		stones++
		seen := -1 // the likeliest true pair
		for k := range p.Candidates {
			if p.Candidates[k].SameAs != "" {
				continue
			}
			right := slices.ContainsFunc(trues, func(id model.RecordID) bool { return hasRow(p, k, id) })
			chance := whole(*p, k)
			if right && seen >= 0 {
				if right = chance > pairs[seen].chance; right {
					pairs[seen].right = false
				}
			}
			if right {
				seen = len(pairs)
			}
			expected += chance
			pairs = append(pairs, pair{chance, right})
			list = append(list, Pairs{Weight: chance, Matches: chance, Unmatched: 1 - chance})
		}
		if len(trues) > 0 && seen < 0 {
			c.Unseen++
		}
	}
	others := float64(stones)*float64(records) - float64(len(pairs)) // of which nobody is told
	all := float64(len(pairs)) + max(0, others)
	if all > expected {
		c.Mu = (1 - precision) * expected / (all - expected)
	}
	rule := Decide(append(list, Pairs{Weight: -1, Unmatched: max(0, others)}), c.Mu, c.Lambda)
	for _, p := range pairs {
		switch {
		case p.chance >= rule.Link:
			c.Linked.add(p.chance, p.right)
		case p.chance <= rule.Leave:
			c.Left.add(p.chance, p.right)
		default:
			c.Review.add(p.chance, p.right)
		}
	}
	c.Left.Pairs, c.Left.From = c.Left.Pairs+max(0, int(others)), 0
	c.Left.Right += c.Unseen
	return c
}

// hasRow reports whether a record is a row of the man of candidate k.
func hasRow(p *model.Proposal, k int, id model.RecordID) bool {
	first := p.Candidates[k].Record
	return first == id || slices.ContainsFunc(p.Candidates, func(c model.Candidate) bool { return c.SameAs == first && c.Record == id })
}
