package link

import (
	"errors"
	"runtime"
	"slices"
	"sync/atomic"
	"testing"
)

// TestInOrder: whatever order numbers are made in, their turns come in that of the numbers, one at a time, none is begun far ahead, and nothing comes after an error.
func TestInOrder(t *testing.T) {
	const n = 500
	var turns, atOnce, turn atomic.Int64
	var got []int
	err := inOrder(n, func(i int) func() error {
		if turn := turn.Load(); int64(i) > turn+int64(5*runtime.GOMAXPROCS(0)) {
			t.Errorf("%d is begun when the turn is %d", i, turn)
		}
		for range (i % 7) * 1000 { // some take longer
			atOnce.Load()
		}
		return func() error {
			if atOnce.Add(1) != 1 {
				t.Error("two turns at once")
			}
			got = append(got, i)
			turn.Store(int64(i) + 1)
			turns.Add(1)
			atOnce.Add(-1)
			return nil
		}
	})
	if err != nil || len(got) != n || !slices.IsSorted(got) || turns.Load() != n {
		t.Errorf("%d turns, sorted %v, error %v", len(got), slices.IsSorted(got), err)
	}
	broken, begun, last := errors.New("broken"), atomic.Int64{}, 0
	err = inOrder(100_000, func(i int) func() error {
		begun.Add(1)
		return func() error {
			if last = i; i == 20 {
				return broken
			}
			return nil
		}
	})
	if !errors.Is(err, broken) || last != 20 || begun.Load() > int64(21+5*runtime.GOMAXPROCS(0)) {
		t.Errorf("error %v after turn %d, %d begun", err, last, begun.Load())
	}
	if err := inOrder(0, nil); err != nil {
		t.Error(err)
	}
}
