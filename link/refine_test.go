package link

import (
	"math"
	"math/rand/v2"
	"testing"

	"musterstone/link/weigh"
)

// passing makes stones on which a surname and a year of birth stand, 1,000 records to each, one of whose men in the mean bears the surname and is found by it: a namesake. Of
// the namesakes, agree in a thousand agree on the year. Nearly half of the stones have their man in the rosters, of his surname, who agrees on the year eight times in ten. What was
// counted of the u is one man in a thousand for the surname, and one in ten for the year. Of a hundred stones, decided are answered: the man is confirmed, or it is said that there is none.
// It gives also, for each undecided stone, the number of its true pair, -1 for none.
func passing(agree, decided int) (t *trial, truth []int) {
	levels := []weigh.Level{{Group: "surname", Name: "same", Start: .9}, {Group: "surname", Name: "different", Start: .1}, {Group: "birth", Name: "same", Start: .8}, {Group: "birth", Name: "far", Start: .2}}
	u := []float64{.001, .999, .1, .9}
	pair := func(year bool) Pair {
		p := Pair{Levels: []uint8{0, 3}, Fixed: -1}
		if year {
			p.Levels[1] = 2
		}
		for _, k := range p.Levels {
			p.Bits += math.Log2(levels[k].Start / u[k])
		}
		return p
	}
	t = &trial{Fit: NewFit(), ladder: newLadder(levels), cases: &Cases{Records: 1000, Rosters: []string{""}}}
	r := rand.New(rand.NewPCG(3, uint64(agree)))
	for range 8000 {
		s := Case{Standing: Standing{Veteran: 1}}
		there := r.Float64() < .45
		if there {
			s.Pairs = append(s.Pairs, pair(r.Float64() < .8))
		}
		for p := r.Float64(); p > math.Exp(-1); p *= r.Float64() { // as many as Poisson's law gives
			s.Pairs = append(s.Pairs, pair(r.IntN(1000) < agree))
		}
		if r.IntN(100) < decided {
			s.Answered, s.Settled, s.Nobody = true, there, !there
			if there {
				s.Pairs[0].Fixed = 1
			}
		} else if there {
			truth = append(truth, 0)
		} else {
			truth = append(truth, -1)
		}
		t.cases.Stones = append(t.cases.Stones, s)
	}
	return t, truth
}

// loss is the mean surprise in bits at the truth of the stones that nobody decided.
func (t *trial) loss(truth []int) float64 {
	sum, i := 0.0, 0
	e := expecter{f: t.Fit, lift: math.Log(float64(t.cases.Records)), gain: t.Gain, shifts: []float64{0}}
	for k := range t.cases.Stones {
		s := &t.cases.Stones[k]
		if s.Answered {
			continue
		}
		total := e.weigh(s, t.prior(&s.Standing, false), false)
		p := 1 / total
		if truth[i] >= 0 {
			p = e.odds[truth[i]] / total
		}
		sum -= math.Log2(p)
		i++
	}
	return sum / float64(i)
}

// TestDecisionsRefineU: where more of the men who pass for a stone's agree on the year of birth than was counted, decisions raise the u of that level, where fewer do they lower it, and where the
// count was right they leave it, however many namesakes, all of whom agree on the surname, were passed over: to count those would make the surname worth nothing. The more decisions
// the nearer the truth, and the better foretold are the stones that nobody decided. Surname and year share what was wrong: only pairs of one surname were found, and their product counts.
func TestDecisionsRefineU(t *testing.T) {
	for _, agree := range []int{400, 100, 25} {
		q := float64(agree) / 1000
		truly := [2]float64{math.Log2(q / .1), math.Log2((1 - q) / .9)} // of pairs that agree on the year, and that do not
		without, truth := passing(agree, 0)
		without.run(fittedStage)
		before := without.loss(truth)
		off, lastLoss := math.Abs(truly[0]), before
		for _, decided := range []int{2, 10, 50} {
			f, left := passing(agree, decided)
			f.run(fittedStage)
			got := [2]float64{math.Log2(f.Chance[0] * f.Chance[2]), math.Log2(f.Chance[0] * f.Chance[3])}
			loss := f.loss(left)
			t.Logf("%d in a thousand, %d of a hundred decided: u of agreement moved by %.2f bits (true %.2f), of the other year by %.2f (%.2f); m of the year %.3f; loss %.4f, without %.4f", agree, decided,
				got[0], truly[0], got[1], truly[1], f.M[0][2], loss, before)
			if f.Refused != "" {
				t.Errorf("refused: %s", f.Refused)
			}
			if agree == 100 {
				if math.Abs(got[0]) > .25 || math.Abs(got[1]) > .25 || loss > before+.02 {
					t.Errorf("the count is right, yet %d of a hundred decisions move the u by %.2f bits", decided, got)
				}
				continue
			}
			if now := math.Abs(truly[0] - got[0]); now >= off {
				t.Errorf("%d in a thousand, %d of a hundred decided: %.2f bits off, with fewer %.2f", agree, decided, now, off)
			} else {
				off = now
			}
			if loss >= lastLoss {
				t.Errorf("%d in a thousand, %d of a hundred decided: loss %.4f, with fewer %.4f", agree, decided, loss, lastLoss)
			}
			lastLoss = loss
		}
		if agree != 100 && off > .35*math.Abs(truly[0]) {
			t.Errorf("%d in a thousand, half decided: still %.2f bits off", agree, off)
		}
	}
}

// TestUndecidedStandAsCounted: without a decision the u are what was counted, to the bit.
func TestUndecidedStandAsCounted(t *testing.T) {
	f, _ := passing(400, 0)
	f.run(fittedStage)
	for k, times := range f.Chance {
		if times != 1 || f.Gain[0][k] != math.Log2(f.M[0][k]/f.ladder.base[k]) {
			t.Errorf("level %d: ×%v, %v bits", k, times, f.Gain[0][k])
		}
	}
}
