package job

import (
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"musterstone/index"
)

// goal is a survey with what the whole job may take on it, on two cores that nobody else uses; 0 where nothing is said.
type goal struct {
	stones, records      int
	cold, warm           float64 // seconds by the clock
	coldPeer, warmPeer   float64 // as parts of what the peer takes
	coldMemory, warmPeak int     // MB
}

var goals = []goal{
	{stones: 200, records: 20_000, cold: 1, coldMemory: 200},
	{stones: 10_000, records: 1_000_000, coldPeer: 1, warmPeer: 0.4, coldMemory: 600, warmPeak: 600},
	{stones: 100_000, records: 1_000_000, warm: 25, warmPeak: 1000},
}

// BenchmarkGoals runs the whole job cold and warm on surveys of fixed seeds, each in a process of its own, and sets time and memory beside the goals. The peer is an
// analyst's SQL in an embedded column database, which is no part of this project: MUSTERSTONE_PEER gives the seconds that it took on the same roster, in the same quarter of an
// hour. Without -short it takes minutes and five gigabytes of room.
func BenchmarkGoals(b *testing.B) {
	peer, _ := strconv.ParseFloat(os.Getenv("MUSTERSTONE_PEER"), 64)
	for _, g := range goals {
		if testing.Short() && g.records > 100_000 {
			continue
		}
		b.Run(fmt.Sprintf("%dx%d", g.stones, g.records), func(b *testing.B) {
			for b.Loop() {
				dir := b.TempDir()
				growthChild(b, "make", dir, g.records, g.stones)
				cold := growthChild(b, "run", dir, g.records, 0)
				warm := growthChild(b, "run", dir, g.records, 0)
				if _, err := os.Stat(filepath.Join(dir, index.DerivedFolder)); err != nil {
					b.Fatal(err)
				}
				b.ReportMetric(cold.Wall.Seconds(), "cold-s")
				b.ReportMetric(warm.Wall.Seconds(), "warm-s")
				b.ReportMetric(cold.CPU.Seconds(), "cold-cpu-s")
				b.ReportMetric(warm.CPU.Seconds(), "warm-cpu-s")
				b.ReportMetric(float64(cold.Peak)/1e6, "cold-MB")
				b.ReportMetric(float64(warm.Peak)/1e6, "warm-MB")
				say := func(what string, got, want float64) {
					if want > 0 {
						verdict := "met"
						if got > want {
							verdict = "MISSED"
						}
						fmt.Printf("%d stones, %d records, %s: %.2f, goal %.2f: %s\n", g.stones, g.records, what, got, want, verdict)
					}
				}
				say("cold, seconds", cold.Wall.Seconds(), g.cold)
				say("warm, seconds", warm.Wall.Seconds(), g.warm)
				say("cold, seconds, beside the peer", cold.Wall.Seconds(), g.coldPeer*peer)
				say("warm, seconds, beside the peer", warm.Wall.Seconds(), g.warmPeer*peer)
				say("cold, MB", float64(cold.Peak)/1e6, float64(g.coldMemory))
				say("warm, MB", float64(warm.Peak)/1e6, float64(g.warmPeak))
			}
		})
	}
}
