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
	memoryPerStone  = 10 << 10
	// Of many stones, more is held of each than can be given back in time.
	manyStones, memoryPerOfMany = 20_000, 30 << 10
)

// bound sets the memory limit for a survey of so many records and stones.
func bound(records, stones int) {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryAtLeast + int64(records)*memoryPerRecord + int64(min(stones, manyStones))*memoryPerStone + int64(max(0, stones-manyStones))*memoryPerOfMany)
	}
}
