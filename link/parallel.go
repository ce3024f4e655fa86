package link

import (
	"runtime"
	"sync"
)

// inParts calls do for parts of the numbers below n, on all cores.
func inParts(n int, do func(from, to int)) {
	parts := max(1, min(runtime.GOMAXPROCS(0), n/64))
	var group sync.WaitGroup
	for k := range parts {
		group.Go(func() { do(k*n/parts, (k+1)*n/parts) })
	}
	group.Wait()
}
