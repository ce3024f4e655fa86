package job

import (
	"context"
	"errors"
	"sync/atomic"
	"testing"
)

// doneAfter is a context that is done when it has been asked so many times.
type doneAfter struct {
	context.Context
	left atomic.Int64
}

var errBrokenOff = errors.New("broken off")

func (c *doneAfter) Err() error {
	if c.left.Add(-1) < 0 {
		return errBrokenOff
	}
	return nil
}

// TestReadBrokenOff: reading stones and inscriptions ends with the context, wherever it is then, keeps nothing that is not whole, and can be done again.
func TestReadBrokenOff(t *testing.T) {
	dir := lay(t)
	whole, err := Open(dir, Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	defer whole.Close()
	n := len(whole.Subjects())
	for _, times := range []int{0, 1, n - 1, n, n + 1, 2*n - 1, 2 * n} {
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		ctx := &doneAfter{Context: context.Background()}
		ctx.left.Store(int64(times))
		if err := j.Read(ctx); !errors.Is(err, errBrokenOff) {
			t.Errorf("done after %d: %v", times, err)
		}
		if asked := -ctx.left.Load(); asked > int64(n)+2 { // each of the stones asks once more, and reads nothing
			t.Errorf("done after %d, it is asked %d times more", times, asked)
		}
		if j.subjects != nil || times < n && j.read {
			t.Errorf("done after %d: %d subjects and %d stones are kept", times, len(j.subjects), len(j.stones))
		}
		if err := j.Read(context.Background()); err != nil || len(j.Subjects()) != n {
			t.Errorf("read again after %d: %d subjects of %d, %v", times, len(j.Subjects()), n, err)
		}
		for i, s := range j.Subjects() {
			if s == nil || s.Stone.ID != whole.subjects[i].Stone.ID {
				t.Fatalf("read again after %d: subject %d is another", times, i)
			}
		}
		j.Close()
	}
}
