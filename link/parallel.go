package link

import (
	"runtime"
	"sync"
)

// inOrder calls make for the numbers below n, on all cores, and what each gives in the order of the numbers, one at a time. No number is begun that is far ahead of those whose turn has
// come. After the first error nothing more is begun, and it is given.
func inOrder(n int, make func(i int) (turn func() error)) error {
	const ahead = 4 // numbers a core
	workers := runtime.GOMAXPROCS(0)
	var (
		mu       sync.Mutex
		moved    = sync.NewCond(&mu)
		ready    = map[int]func() error{}
		begun    int
		turn     int
		turning  bool // somebody calls what is ready
		firstErr error
		group    sync.WaitGroup
	)
	work := func() {
		mu.Lock()
		defer mu.Unlock()
		for {
			for firstErr == nil && begun < n && begun >= turn+ahead*workers {
				moved.Wait()
			}
			if firstErr != nil || begun == n {
				return
			}
			i := begun
			begun++
			mu.Unlock()
			done := make(i)
			mu.Lock()
			ready[i] = done
			for !turning && ready[turn] != nil && firstErr == nil {
				call := ready[turn]
				delete(ready, turn)
				turning = true
				mu.Unlock()
				err := call()
				mu.Lock()
				turning, firstErr = false, err
				turn++
				moved.Broadcast()
			}
		}
	}
	for range min(workers, n) {
		group.Go(work)
	}
	group.Wait()
	return firstErr
}

// inParts calls do for parts of the numbers below n, on all cores.
func inParts(n int, do func(from, to int)) {
	parts := max(1, min(runtime.GOMAXPROCS(0), n/64))
	var group sync.WaitGroup
	for k := range parts {
		group.Go(func() { do(k*n/parts, (k+1)*n/parts) })
	}
	group.Wait()
}
