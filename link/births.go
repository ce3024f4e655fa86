package link

import "math"

// Births are when those were born whose plain stones are of no man of the rosters. Of two plain stones, that of a man born in 1840 is likelier a soldier's than that of one
// born in 1800, by as much as men of 1840 are commoner in the rosters than among the stones of those who are not in them. These are taken to be born partly in the years of the
// rosters' men, and for the rest in years that change slowly from one to the next: both parts are learned.
type Births struct {
	Alike  float64       // which part of them is born as the rosters' men are
	Others [bins]float64 // of all of them, the share born in a year of each bin, evened out
	Known  float64       // the stones on which it rests
}

// Births are counted by spans of years.
const (
	firstBin = 1700
	binYears = 5
	bins     = 64
)

const (
	// priorBirths is how many stones the belief is worth that others are born when the rosters' men are. House judgement.
	priorBirths = 5
	// wrongBirths is the share of plain stones of men in the rosters whose birth tells nothing: misread, or reckoned from a wrong age. House judgement.
	wrongBirths = 0.05
	// slowYears is over how many years on either side a birth counts, less and less, as a sign that others were born then. House judgement.
	slowYears = 20
)

// binOf is the bin of a year, -1 of none.
func binOf(year int) int {
	if year == 0 {
		return -1
	}
	return min(bins-1, max(0, (year-firstBin)/binYears))
}

// slow is the share of those of the others who are not born as the rosters' men are that is born in a year of a bin, where roster is that of the rosters' men.
func (b *Births) slow(bin int, roster float64) float64 {
	return (priorBirths*roster + b.Known*b.Others[bin]) / (priorBirths + b.Known)
}

// share is the share of the others born in a year of a bin.
func (b *Births) share(bin int, roster float64) float64 {
	return b.Alike*roster + (1-b.Alike)*b.slow(bin, roster)
}

// alike is the probability that one of the others, born in that bin, is of those who are born as the rosters' men are.
func (b *Births) alike(bin int, roster float64) float64 {
	if all := b.share(bin, roster); all > 0 {
		return b.Alike * roster / all
	}
	return b.Alike
}

// times is how many times likelier the birth makes it that a plain stone's man is in the rosters.
func (b *Births) times(bin int, roster float64) float64 {
	if b.Known == 0 {
		return 1
	}
	if all := b.share(bin, roster); all > 0 {
		return wrongBirths + (1-wrongBirths)*roster/all
	}
	return wrongBirths
}

// BornSums are the births of the plain stones of those who are not in the rosters, each at its probability.
type BornSums struct {
	Others [bins]men
	All    men
	Alike  men // of them, those born as the rosters' men are
	Curve  men // see mixed
}

func (s *BornSums) add(b *Births, bin int, roster, n float64) {
	s.Others[bin] += menOf(n)
	s.All += menOf(n)
	s.Alike += menOf(n * b.alike(bin, roster))
	s.Curve += menOf(n * bend(roster, b.slow(bin, roster), b.share(bin, roster)))
}

func (s *BornSums) merge(o *BornSums) {
	for k, n := range o.Others {
		s.Others[k] += n
	}
	s.All, s.Alike, s.Curve = s.All+o.All, s.Alike+o.Alike, s.Curve+o.Curve
}

// learn sets what the stones came to, and gives how far the farthest moved.
func (b *Births) learn(s *BornSums) float64 {
	const reach = slowYears / binYears
	next := Births{Known: s.All.float()}
	for k, n := range s.Others {
		if n == 0 {
			continue
		}
		for d := -reach; d <= reach; d++ {
			if at := k + d; at >= 0 && at < bins {
				next.Others[at] += n.float() / next.Known * float64(reach+1-max(d, -d)) / ((reach + 1) * (reach + 1)) / binYears
			}
		}
	}
	next.Alike = mixed(b.Alike, s.Alike.float(), next.Known, s.Curve.float())
	moved := math.Abs(next.Alike - b.Alike)
	for k, x := range next.Others {
		moved = max(moved, binYears*math.Abs(x-b.Others[k]))
	}
	*b = next
	return moved
}
