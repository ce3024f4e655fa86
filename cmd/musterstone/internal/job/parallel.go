package job

import (
	"runtime"
	"sync"
	"sync/atomic"
)

// InParallel calls do for each of n numbers, on all cores.
func InParallel(n int, do func(i int)) { inParallel(n, do, func(int) {}) }

// inParallel calls do for each of n numbers, on all cores, and tells how many are done.
func inParallel(n int, do func(i int), tell func(done int)) {
	var next, done atomic.Int64
	var group sync.WaitGroup
	var mu sync.Mutex
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for {
				i := int(next.Add(1)) - 1
				if i >= n {
					return
				}
				do(i)
				if k := done.Add(1); k%256 == 0 || int(k) == n {
					mu.Lock()
					tell(int(k))
					mu.Unlock()
				}
			}
		})
	}
	group.Wait()
}
