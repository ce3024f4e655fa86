package link

import "math"

// The m are learned from pairs of which few are at the rarer levels: that given names differ may be .002 of a man's pairs or .008, as far as the stones tell. Taken at its mean, such an m makes each answer that hangs on it surer than it
// is, for and against: what an answer is worth is the mean of what it would be by each m that there may be (a posterior is concave in m, so that the mean lies below it). The logarithm of an m is taken to
// be spread by a normal law, as wide as the Dirichlet distributions that Fit learns it by say.

// doubt is the variance of the logarithm of an m: of all rosters' it rests on so many pairs at the level, those believed before among them; of the one roster's on so many by all rosters' and so many of its own.
func doubt(all, common, own float64) float64 {
	if all == 0 || common+own == 0 {
		return 0
	}
	share := common / (common + own)
	return math.Log1p(1/(common+own) + share*share/all)
}

// doubtOf is the doubt of all levels of candidate j together.
func (f *Fit) doubtOf(w *weighed, j int) (sum float64) {
	r := f.roster(w.file(j))
	if r < 0 || f.Refused != "" {
		return 0
	}
	var buf [16]uint8
	for _, level := range w.levels(j, buf[:]) {
		if n := fitLadder().at(level, w.standing.Unlisted); n >= 0 {
			sum += f.Doubt[r][n]
		}
	}
	return sum
}

// quantiles are standard normal deviates, of which each stands for as much of the normal distribution.
var quantiles = func() (z [16]float64) {
	for i := range z {
		z[i] = math.Sqrt2 * math.Erfinv((2*float64(i)+1)/float64(len(z))-1)
	}
	return z
}()

// averaged is the odds of the mean probability where the odds are these in the mean, and their logarithm has such a variance.
func averaged(odds, variance float64) float64 {
	if variance == 0 {
		return odds
	}
	var times [len(quantiles)]float64
	mean, deviation := 0.0, math.Sqrt(variance)
	for i, z := range quantiles {
		times[i] = math.Exp(deviation * z)
		mean += times[i] / float64(len(times))
	}
	yes, no := 0.0, 0.0
	for _, t := range times {
		x := odds * t / mean
		yes, no = yes+x/(1+x), no+1/(1+x)
	}
	return yes / no
}
