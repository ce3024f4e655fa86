package job

import (
	"context"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"musterstone/link/assess"
	"musterstone/link/ledger"
	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab/name"
)

// pool is how often answers were right that were given with some probability: of many surveys together, since of a thousand stones chance alone makes most of a calibration error.
type pool struct {
	n                    int
	given, right, chance float64 // chance is the variance of right if every probability were true
}

func (p *pool) add(given float64, right bool) {
	p.n++
	p.given += given
	p.chance += given * (1 - given)
	if right {
		p.right++
	}
}

func (p *pool) String() string {
	n := float64(p.n)
	return fmt.Sprintf("n %6d  given %.4f  right %.4f  deviation %+.1f", p.n, p.given/n, p.right/n, (p.right-p.given)/math.Sqrt(max(p.chance, 1e-9)))
}

// pools are pools by tenth of the probability of the best answer, and by cause: what kind of stone it is, and what became of its surname; and what all surveys together came to.
type pools struct {
	stones                 int
	bins                   [10]pool
	causes                 map[string]*pool
	surveys                []float64 // the calibration error of each
	perfect                []float64 // see perfectAbove
	logLoss                float64
	right, proposed, links int
}

func (p *pools) add(j *Job, counts *weigh.Counts, proposals []model.Proposal, truth assess.Truth) {
	subjects := map[model.StoneID]*model.Subject{}
	for _, s := range j.Subjects() {
		subjects[s.Stone.ID] = s
	}
	for _, proposal := range proposals {
		trues := truth[proposal.Stone]
		best, right := proposal.None, len(trues) == 0
		if c, chance := likeliest(proposal); chance > best {
			best, right = chance, slices.Contains(trues, c)
		}
		p.stones++
		p.bins[binOf(best)].add(best, right)
		for _, cause := range causes(subjects[proposal.Stone], counts) {
			if p.causes[cause] == nil {
				p.causes[cause] = &pool{}
			}
			p.causes[cause].add(1-proposal.None, len(trues) > 0)
		}
	}
	r := assess.Assess(proposals, truth)
	p.surveys, p.perfect = append(p.surveys, r.ECE), append(p.perfect, perfectAbove(proposals, mostOff))
	p.logLoss += r.LogLoss
	p.right, p.proposed, p.links = p.right+r.Precision.Hits, p.proposed+r.Precision.Of, p.links+r.Recall.Of
}

// likeliest is the candidate with the greatest probability, of a man listed twice with that of both rows.
func likeliest(p model.Proposal) (record model.RecordID, chance float64) {
	for _, c := range p.Candidates {
		sum := c.Probability
		for _, other := range p.Candidates {
			if other.SameAs == c.Record {
				sum += other.Probability
			}
		}
		if sum = min(1, sum); sum > chance {
			record, chance = c.Record, sum
		}
	}
	return record, chance
}

// mostOff is the calibration error that a survey shall not exceed.
const mostOff = .015

// perfectAbove is how often the calibration error of a survey would be above a limit if every probability of these proposals were true: whether each stone's best answer is right is drawn anew by that answer's probability, many times.
// A survey whose error is above the limit as often as not even then tells nothing against the probabilities. Stones are drawn one by one, as if no two could be one man's.
func perfectAbove(proposals []model.Proposal, limit float64) float64 {
	const draws = 400
	best, given := make([]float64, len(proposals)), [10]float64{}
	for i, p := range proposals {
		_, chance := likeliest(p)
		best[i] = max(p.None, chance)
		given[binOf(best[i])] += best[i]
	}
	from, above := rand.New(rand.NewPCG(1, 1)), 0
	for range draws {
		off := given
		for _, p := range best {
			if from.Float64() < p {
				off[binOf(p)]--
			}
		}
		sum := 0.0
		for _, x := range off {
			sum += math.Abs(x)
		}
		if sum > limit*float64(len(best)) {
			above++
		}
	}
	return float64(above) / draws
}

// binOf is the tenth of the scale in which a probability is counted.
func binOf(p float64) int { return min(9, int(p*10)) }

// expected tells in how many of some surveys a program whose probabilities are all true would exceed the limit, by the share of draws in which it does in each, and in how many this one does.
func expected(perfect []float64, above int) string {
	sum, variance := 0.0, 0.0
	for _, p := range perfect {
		sum, variance = sum+p, variance+p*(1-p)
	}
	return fmt.Sprintf("calibration error above %v: %d of %d surveys; were every probability true, %.1f of them (standard deviation %.1f)", mostOff, above, len(perfect), sum, math.Sqrt(variance))
}

// TestPerfectAbove holds the draws to what can be reckoned: of n stones given one half, the calibration error is the distance of a binomial share from one half.
func TestPerfectAbove(t *testing.T) {
	given := func(list ...float64) (out []model.Proposal) {
		for _, p := range list {
			out = append(out, model.Proposal{None: p, Candidates: []model.Candidate{{Record: "r", Probability: 1 - p}}})
		}
		return out
	}
	for _, tt := range []struct {
		name      string
		proposals []model.Proposal
		limit     float64
		want      float64
	}{
		{"sure answers are always right", given(1, 1, 1, 0), 0, 0},
		{"four of one half: none or all of them right", given(.5, .5, .5, .5), .3, 2. / 16},
		{"four of one half: any but two of them right", given(.5, .5, .5, .5), .2, 10. / 16},
		{"the record's probability counts where it is the greater", given(.2, .2), .3, 1 - .8*.8},
		{"errors in two bins do not make up for each other", given(.55, .65), .51, .35},
	} {
		if got := perfectAbove(tt.proposals, tt.limit); math.Abs(got-tt.want) > .06 {
			t.Errorf("%s: %.3f of the draws are above %v, want %.3f", tt.name, got, tt.limit, tt.want)
		}
	}
}

// causes says of what kinds a stone is.
func causes(s *model.Subject, counts *weigh.Counts) []string {
	claim := s.Reading().Claim()
	kind := "private stone that says nothing of a service"
	code, _ := s.Implies.Best()
	switch {
	case s.Stone.Register != nil:
		kind = "row of the register"
	case code != model.NotGovernment:
		kind = "government stone"
	case !claim.Service.IsZero():
		kind = "private stone that tells of a service"
	}
	surname := "surname that records bear"
	switch {
	case claim.Person.Name.Surname == "" || name.Uncertain(claim.Person.Name.Surname):
		surname = "surname with letters lost"
	case counts.Surnames(claim.Person.Name.Surname) == 0:
		surname = "surname that no record bears"
	}
	return []string{kind, kind + ", " + surname}
}

// BenchmarkCalibration proposes on many surveys of each kind, of seeds other than those of BenchmarkQuality, and reports precision, recall, log loss and the calibration error of all their stones together, which shows what is wrong
// by more than chance; with -v, also by tenth of the probability and by kind of stone (there: a man in the rosters at all).
func BenchmarkCalibration(b *testing.B) {
	for _, maker := range []string{"county", "parish", "valley", "junction", "landing", "haven", "prairie", "orchard", "quarry", "ferry"} {
		for _, bb := range []struct {
			survey
			seeds int
		}{
			{survey{records: 20000, stones: 1000}, 10},
			{survey{records: 20000, stones: 1000, messy: true}, 10},
			{survey{records: 200000, stones: 1000}, 4},
		} {
			bb.maker = maker
			b.Run(strings.TrimSuffix(bb.String(), "-0"), func(b *testing.B) {
				for b.Loop() {
					p := pools{causes: map[string]*pool{}}
					for seed := range bb.seeds {
						bb.seed = uint64(11 + seed)
						j, truth := bb.open(b)
						counts, err := j.Counts(context.Background())
						if err != nil {
							b.Fatal(err)
						}
						proposals, _, err := j.Learn(context.Background(), 0, ledger.State{})
						if err != nil {
							b.Fatal(err)
						}
						p.add(j, counts, proposals, truth)
					}
					p.report(b)
				}
			})
		}
	}
}

func (p *pools) report(b *testing.B) {
	off, chance, sum := 0.0, 0.0, 0.0
	for i := range p.bins {
		bin := &p.bins[i]
		off += math.Abs(bin.given-bin.right) / float64(p.stones)
		chance += math.Sqrt(2/math.Pi*bin.chance) / float64(p.stones)
		if bin.n > 0 {
			b.Logf("from %.1f: %v", float64(i)/10, bin)
		}
	}
	for _, cause := range slices.Sorted(maps.Keys(p.causes)) {
		b.Logf("%v  %s", p.causes[cause], cause)
	}
	above := 0
	for _, ece := range p.surveys {
		sum += ece
		if ece > mostOff {
			above++
		}
	}
	b.Log(expected(p.perfect, above))
	b.ReportMetric(float64(p.right)/float64(p.proposed), "precision")
	b.ReportMetric(float64(p.right)/float64(p.links), "recall")
	b.ReportMetric(p.logLoss/float64(len(p.surveys)), "log-loss")
	b.ReportMetric(off, "pooled-ECE")
	b.ReportMetric(chance, "pooled-ECE-by-chance")
	b.ReportMetric(sum/float64(len(p.surveys)), "mean-ECE")
	b.ReportMetric(slices.Max(p.surveys), "worst-ECE")
}
