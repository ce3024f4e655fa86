package job

import (
	"os"
	"runtime/debug"
)

// What the program's memory is bounded to where the environment variable GOMEMLIMIT does not say otherwise: so much to begin with, and as much more for each record and each
// stone as is held of it at once. Above the bound memory is given back sooner and the program gets slower; it does not fail.
const (
	memoryAtLeast   = 256 << 20
	memoryPerRecord = 128
	memoryPacked    = 7 << 9   // a stone of which only what linking needs is held
	memoryWhole     = 10 << 10 // a stone that is held with its proposal
	// Of many such stones, more is held of each than can be given back in time.
	manyStones, memoryPerOfMany = 20_000, 30 << 10
)

// bound sets the memory limit for a survey of so many records and stones.
func bound(records, packed, whole int) {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryAtLeast + int64(records)*memoryPerRecord + int64(packed)*memoryPacked +
			int64(min(whole, manyStones))*memoryWhole + int64(max(0, whole-manyStones))*memoryPerOfMany)
	}
}
