package job

import (
	"fmt"
	"os"
	"runtime/debug"
)

// What the program's memory is bounded to where the environment variable GOMEMLIMIT does not say otherwise: so much to begin with, and as much more for each record and each
// stone as is held of it at once. Above the bound memory is given back sooner and the program gets slower; see enough for a bound that is too little. The files of the index that are
// mapped come on top: the system takes those pages back when it wants them.
const (
	memoryAtLeast   = 288 << 20
	memoryPerRecord = 128
	memoryPacked    = 7 << 9   // a stone of which only what linking needs is held
	memoryWhole     = 10 << 10 // a stone that is held with its proposal
	// Of many such stones, more is held of each than can be given back in time.
	manyStones, memoryPerOfMany = 20_000, 30 << 10
)

// What a run that gives its proposals as they are made cannot do without, as measured: with less it would do nothing but look for memory to give back.
const (
	leastMemory    = 48 << 20
	leastPerRecord = 90
	leastPerStone  = 2600
)

// bound sets the memory limit for a survey of so many records and stones.
func bound(records, packed, whole int) {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryAtLeast + int64(records)*memoryPerRecord + int64(packed)*memoryPacked +
			int64(min(whole, manyStones))*memoryWhole + int64(max(0, whole-manyStones))*memoryPerOfMany)
	}
}

// building is of how many records as much is held while the index of so many is built.
func building(records int) int { return records + records/2 }

// growth is by how many percent of what is held the memory in use may grow, below the bound, before what is no longer held is looked for. A run that gives its proposals as they
// are made drops most of what it takes within a stone: at Go's usual 100 it looked thirty times, and a twentieth of the processor time went there. One that builds an index looked forty
// times, most of them while it held little, and looks a dozen times.
const growth = 300

// letGrow lets the memory grow so until what it returns is called, where the environment variable GOGC does not say otherwise.
func letGrow() (end func()) {
	if os.Getenv("GOGC") != "" {
		return func() {}
	}
	usual := debug.SetGCPercent(growth)
	return func() { debug.SetGCPercent(usual) }
}

// enough refuses a survey of so many records and stones that the bound is too little for.
func enough(records, stones int) error {
	most, least := debug.SetMemoryLimit(-1), int64(leastMemory)+int64(records)*leastPerRecord+int64(stones)*leastPerStone
	if most >= least {
		return nil
	}
	return &Refused{Text: fmt.Sprintf("linking %d stones to %d records takes %d MB of memory at least, and GOMEMLIMIT allows %d: set it higher, or part the survey",
		stones, records, least>>20, most>>20)}
}
