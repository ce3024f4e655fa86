package ledger

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// ErrBusy is returned where another program went on writing to the ledger for longer than Wait.
var ErrBusy = errors.New("another program is writing to the ledger")

// ErrNoLocks is returned where the file system does not keep locks, as some network shares do not: it refuses all, or gives one lock to two at once. Nothing is
// written then, for two programs might write the same place, and one would lose a decision that it had acknowledged.
var ErrNoLocks = errors.New("the file system does not keep locks, so that two programs could write at once and one lose its decision")

// HintNoLocks says what to do where there are no locks.
const HintNoLocks = "copy the survey to a disk of this computer, decide there, and put the decisions together with musterstone merge"

func (l *Ledger) lockPath() string { return l.path + ".lock" }

// lock makes this program the one that writes.
func (l *Ledger) lock() (unlock func(), err error) {
	wait := l.Wait
	if wait == 0 {
		wait = 5 * time.Second
	}
	fail := func(err error) (func(), error) {
		return nil, fmt.Errorf("write to ledger %s: %w; %s", l.path, err, mend(err))
	}
	if err := noLink(l.lockPath()); err != nil {
		return nil, fmt.Errorf("write to ledger %s: %w", l.path, err)
	}
	f := flock.New(l.lockPath())
	ctx, cancel := context.WithTimeout(context.Background(), wait)
	defer cancel()
	ok, err := f.TryLockContext(ctx, 5*time.Millisecond)
	switch {
	case errors.Is(err, context.DeadlineExceeded) || err == nil && !ok:
		return nil, fmt.Errorf("write to ledger %s: %w, and went on for %v; wait until it is done, or close it", l.path, ErrBusy, wait)
	case err != nil:
		return fail(noLocks(err))
	}
	if err := refused(l.lockPath()); err != nil {
		f.Close()
		return fail(err)
	}
	return func() { f.Close() }, nil
}

// refused tries a lock that this program holds a second time, by another descriptor, which must not succeed.
func refused(path string) error {
	again := flock.New(path)
	defer again.Close()
	switch ok, err := again.TryLock(); {
	case err != nil:
		return noLocks(err)
	case ok:
		return ErrNoLocks
	}
	return nil
}

// noLocks adds ErrNoLocks to an error that says that there are no locks here.
func noLocks(err error) error {
	if errors.Is(err, errors.ErrUnsupported) || errors.Is(err, syscall.ENOLCK) {
		return fmt.Errorf("%w (%w)", ErrNoLocks, err)
	}
	return err
}

// TryLocks reports an error, which may be ErrNoLocks, where locks do not work in a folder, as far as one computer can tell: whether another one heeds them cannot be seen from
// here. It makes a file there and removes it.
func TryLocks(dir string) error {
	f, err := os.CreateTemp(dir, ".locks-*")
	if err != nil {
		return err
	}
	f.Close()
	defer os.Remove(f.Name())
	first := flock.New(f.Name())
	defer first.Close()
	switch ok, err := first.TryLock(); {
	case err != nil:
		return noLocks(err)
	case !ok:
		return errors.New("a lock that nobody can hold was refused")
	}
	return refused(f.Name())
}

// noLink refuses a link in the place of a file that is written to: a survey that came from somebody else could have decisions written into any file of the reader's.
func noLink(path string) error {
	info, err := os.Lstat(path)
	switch {
	case err != nil:
		return nil // it is not there, or what is tried with it tells
	case info.Mode()&fs.ModeSymlink != 0:
		return fmt.Errorf("%s is a link; the ledger and its lock must be files of the survey folder: put the file itself there, or delete the link", path)
	case info.Mode()&(fs.ModeNamedPipe|fs.ModeDevice|fs.ModeSocket) != 0:
		return fmt.Errorf("%s is not a file; move it away", path)
	}
	return nil
}

// mend says what to do about an error of the file system.
func mend(err error) string {
	switch {
	case errors.Is(err, ErrNoLocks):
		return HintNoLocks
	case errors.Is(err, fs.ErrPermission):
		return "the folder or the file may only be read; ask for the right to write to it, or copy the survey to a folder of yours"
	case errors.Is(err, fs.ErrNotExist):
		return "is there such a folder?"
	}
	return "nothing was changed; see to the disk (is it full, or read-only?) and try again"
}
