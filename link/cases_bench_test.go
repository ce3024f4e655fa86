package link

import (
	"math/rand/v2"
	"testing"

	"musterstone/link/weigh"
)

// BenchmarkRound is one round of learning over stones with fifty weighed candidates each, all near enough to the best to be learned from, on all cores. Rounds are of stones, and come
// after EM over patterns (BenchmarkPatterns): what one candidate is worth hangs on the stone's others too.
func BenchmarkRound(b *testing.B) {
	r := rand.New(rand.NewPCG(1, 2))
	levels := len(weigh.Levels())
	c := &Cases{Records: 1_000_000, Rosters: []string{"roster.csv"}, Stones: make([]Case, 20_000)}
	for i := range c.Stones {
		s := &c.Stones[i]
		s.Veteran, s.Regiment, s.Share = 0.98, "31", 0.001
		best := 10 + 20*r.Float64()
		for range 50 {
			p := Pair{Bits: best - far*r.Float64(), Fixed: -1}
			for range 8 {
				p.Levels = append(p.Levels, uint8(r.IntN(levels)))
			}
			s.Pairs = append(s.Pairs, p)
		}
	}
	f := NewFit()
	for b.Loop() {
		f.Next(c.Count(f))
	}
	b.ReportMetric(float64(b.N)*float64(50*len(c.Stones))/b.Elapsed().Seconds()/1e6, "Mpairs/s")
}
