package index

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	"github.com/gofrs/flock"
)

// Derived files live in folders of their own below DerivedFolder, named for what they are and for the digest of what they were made
// from: "records-5f3a…", "words-09bc…". A folder is built under another name and renamed when it is whole, so it is
// there whole or not at all; its manifest tells a folder that was damaged later.

// DerivedFolder is the folder of a survey for what can be made again from its files. It is safe to delete at any time.
const DerivedFolder = ".musterstone"

// format is the version of all derived files; a change of any of them raises it.
const format = "12"

const (
	manifestName = "manifest.json"
	buildingName = "building-"
	lockName     = "lock"
)

// A manifest says what a derived folder is and what files it must have.
type manifest struct {
	Format string         `json:"format"`
	Digest string         `json:"digest"`
	Count  int            `json:"count"`
	Files  []manifestFile `json:"files"`
}

type manifestFile struct {
	Path string `json:"path"` // with forward slashes
	Size int64  `json:"size"`
	// Sum is the CRC-32C of the bytes, of a large file that of its two ends; 0 for the stores, whose values each have their own.
	Sum uint32 `json:"sum,omitempty"`
}

// write makes the manifest of the folder, last of all its files.
func (m manifest) write(folder string) error {
	err := filepath.WalkDir(folder, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		rel, err := filepath.Rel(folder, path)
		if err != nil {
			return err
		}
		size, sum, err := sumFile(path)
		m.Files = append(m.Files, manifestFile{filepath.ToSlash(rel), size, sum})
		return err
	})
	if err != nil {
		return err
	}
	b, err := json.Marshal(m)
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(folder, manifestName), b, 0o644)
}

// isStore reports whether the file's own checksums guard it, so that it need not be read through to be trusted.
func isStore(path string) bool { return strings.HasSuffix(path, storeSuffix) }

func sumFile(path string) (int64, uint32, error) {
	f, err := os.Open(path)
	if err != nil {
		return 0, 0, err
	}
	defer f.Close()
	if isStore(path) {
		info, err := f.Stat()
		if err != nil {
			return 0, 0, err
		}
		return info.Size(), 0, nil
	}
	h := crc32.New(castagnoli)
	n, err := io.CopyN(h, f, wholeSum)
	if errors.Is(err, io.EOF) {
		return n, h.Sum32(), nil
	}
	if err != nil {
		return 0, 0, err
	}
	end, err := f.Seek(-endSum, io.SeekEnd)
	if err != nil {
		return 0, 0, err
	}
	_, err = io.CopyN(h, f, endSum)
	return end + endSum, h.Sum32(), err
}

// A file of more than wholeSum bytes is trusted by its size, its first wholeSum and its last endSum bytes: to read all of a large index would take longer
// than most searches in it.
const (
	wholeSum = 64 << 20
	endSum   = 1 << 20
)

var errVersion = errors.New("is of another version of the program")

// readManifest reads the manifest of a folder and holds the folder's files against it. An empty digest is any.
func readManifest(folder, digest string) (manifest, error) {
	var m manifest
	b, err := os.ReadFile(filepath.Join(folder, manifestName))
	if err != nil {
		return m, err
	}
	if err := json.Unmarshal(b, &m); err != nil {
		return m, fmt.Errorf("%w: %w", errDamaged, err)
	}
	if m.Format != format {
		return m, errVersion
	}
	if digest != "" && m.Digest != digest {
		return m, fmt.Errorf("%w: it is of other files", errDamaged)
	}
	for _, f := range m.Files {
		path := filepath.Join(folder, filepath.FromSlash(f.Path))
		size, sum, err := sumFile(path)
		if err != nil {
			return m, fmt.Errorf("%w: %v", errDamaged, err)
		}
		if size != f.Size || sum != f.Sum {
			return m, fmt.Errorf("%w: %s is not as it was written", errDamaged, f.Path)
		}
	}
	return m, nil
}

// A shelf is where derived folders stand.
type shelf struct {
	dir string
	// temporary is set where the survey folder cannot be written to: dir is then a folder of its own, which close removes, and note says so.
	temporary bool
	note      string
}

// openShelf makes the folder for derived files in the survey folder, or a temporary one where that cannot be.
func openShelf(survey string) (*shelf, error) {
	if info, err := os.Stat(survey); err != nil {
		return nil, fmt.Errorf("open the survey folder: %w", err)
	} else if !info.IsDir() {
		return nil, fmt.Errorf("open the survey folder: %s is a file; give the folder it is in", survey)
	}
	s := &shelf{dir: filepath.Join(survey, DerivedFolder)}
	if err := os.MkdirAll(s.dir, 0o755); err != nil {
		if cannotWrite(err) {
			return s.aside(err)
		}
		return nil, fmt.Errorf("make the folder for the index: %w", err)
	}
	return s, nil
}

// aside is a shelf in a temporary folder, in place of one that cannot be written to.
func (s *shelf) aside(why error) (*shelf, error) {
	dir, err := os.MkdirTemp("", "musterstone-")
	if err != nil {
		return nil, errors.Join(why, err)
	}
	note := fmt.Sprintf("the index cannot be kept in %s (%v); it was built in a temporary folder for this run only, and will be built again next time", s.dir, why)
	return &shelf{dir: dir, temporary: true, note: note}, nil
}

// close removes a temporary shelf.
func (s *shelf) close() error {
	if !s.temporary {
		return nil
	}
	return os.RemoveAll(s.dir)
}

// folder is the path of the derived folder of a kind and a digest.
func (s *shelf) folder(kind, digest string) string {
	return filepath.Join(s.dir, kind+"-"+short(digest))
}

// short is a digest as a part of a file name.
func short(digest string) string {
	return fmt.Sprintf("%08x%08x", crc32.Checksum([]byte(digest), castagnoli), crc32.ChecksumIEEE([]byte(digest+format)))
}

// keep builds a derived folder as put does, on this shelf or, where it cannot be written to, on a temporary one, and gives the shelf. Built is false where
// another process has built the folder meanwhile.
func (s *shelf) keep(ctx context.Context, kind, digest string, whole func(folder string) bool, build func(folder string) (count int, err error)) (on *shelf, built bool, err error) {
	built, err = s.put(ctx, kind, digest, whole, build)
	if err == nil || s.temporary || !cannotWrite(err) {
		return s, built, err
	}
	if on, err = s.aside(err); err != nil {
		return s, false, err
	}
	if built, err = on.put(ctx, kind, digest, whole, build); err != nil {
		on.close()
		return s, false, err
	}
	return on, built, nil
}

// put builds the derived folder of the kind and the digest: build fills an empty folder, and put renames it when it is whole. One
// process at a time builds on a shelf; one that waited for another's lock looks whether the folder is there now, and whole, beyond what its manifest
// tells. Folders of the kind
// made from other files, and what builds that were broken off have left, are removed.
func (s *shelf) put(ctx context.Context, kind, digest string, whole func(folder string) bool, build func(folder string) (count int, err error)) (built bool, err error) {
	unlock, alone, err := s.lock(ctx)
	if err != nil {
		return false, err
	}
	defer unlock()
	target := s.folder(kind, digest)
	if _, err := readManifest(target, digest); err == nil && whole(target) {
		return false, nil
	}
	if alone {
		s.sweep(buildingName, "")
	}
	work, err := os.MkdirTemp(s.dir, buildingName)
	if err != nil {
		return false, err
	}
	count, err := build(work)
	if err == nil {
		err = ctx.Err()
	}
	if err == nil {
		err = manifest{Format: format, Digest: digest, Count: count}.write(work)
	}
	if err == nil {
		// MkdirTemp lets nobody else in; a survey folder may be shared.
		err = os.Chmod(work, 0o755)
	}
	if err == nil {
		err = os.RemoveAll(target)
	}
	if err == nil {
		err = os.Rename(work, target)
	}
	if err != nil {
		os.RemoveAll(work)
		return false, err
	}
	s.sweep(kind+"-", filepath.Base(target))
	return true, nil
}

// sweep removes the folders of the shelf that begin so, but for one. What another process still has open stays where the system does not let it
// be removed, and goes another time.
func (s *shelf) sweep(prefix, keep string) {
	entries, err := os.ReadDir(s.dir)
	if err != nil {
		return
	}
	for _, e := range entries {
		if e.IsDir() && strings.HasPrefix(e.Name(), prefix) && e.Name() != keep {
			s.remove(e.Name())
		}
	}
}

// remove takes a folder away: first out of sight, so that none is there in part.
func (s *shelf) remove(name string) {
	from, to := filepath.Join(s.dir, name), filepath.Join(s.dir, buildingName+"gone-"+name)
	if os.Rename(from, to) != nil {
		to = from
	}
	os.RemoveAll(to)
}

// lock waits until no other process builds on the shelf. Where the file system knows no locks, or gives one to two at once, it goes on without, and not alone: the rename at
// the end is whole in any case.
func (s *shelf) lock(ctx context.Context) (unlock func(), alone bool, err error) {
	l := flock.New(filepath.Join(s.dir, lockName))
	ok, err := l.TryLockContext(ctx, 50*time.Millisecond)
	if e := ctx.Err(); e != nil {
		return nil, false, e
	}
	if cannotWrite(err) {
		return nil, false, err
	}
	if err != nil || !ok {
		return func() {}, false, nil
	}
	again := flock.New(l.Path())
	defer again.Close()
	if twice, err := again.TryLock(); twice || err != nil {
		return func() { l.Unlock() }, false, nil
	}
	return func() { l.Unlock() }, true, nil
}

// cannotWrite reports whether the error says that the place cannot be written to at all, as against a full or a broken disk.
func cannotWrite(err error) bool {
	for _, e := range [...]error{fs.ErrPermission, syscall.EROFS, syscall.ENOTDIR, fs.ErrExist} {
		if errors.Is(err, e) {
			return true
		}
	}
	return false
}

// roomHint says what to do about a full disk; it is empty for other errors.
func roomHint(err error) string {
	if errors.Is(err, syscall.ENOSPC) || errors.Is(err, syscall.EDQUOT) || strings.Contains(err.Error(), syscall.ENOSPC.Error()) {
		return "; nothing was changed: make room on the disk and run again"
	}
	return ""
}
