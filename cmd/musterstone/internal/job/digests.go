package job

import (
	"encoding/json"
	"fmt"
	"hash/crc32"
	"maps"
	"os"
	"path/filepath"
	"strings"
	"time"

	"musterstone/index"
	"musterstone/index/intake"
)

// knownFile keeps the digests of the input files from run to run, so that a roster of millions is not read through to learn that it is the same.
const knownFile = "digests.json"

// known is a file's digest, and what the file looked like when it was made.
type known struct {
	Size    int64     `json:"size"`
	Changed time.Time `json:"changed"`
	Status  int64     `json:"status"` // when its inode last changed, in nanoseconds; 0 where the system does not say
	SHA256  string    `json:"sha256"`
}

// settled is how long before its digest is made a file must have been left alone for its time of change to be trusted: a change within one tick of the clock
// does not show.
const settled = 2 * time.Second

// Digests are the SHA-256 of each input file, by its name. That of a file of the same size and times as before is taken as known; the derived folder is safe to delete, and
// then all are read.
func (j *Job) Digests() (map[string]string, error) {
	if j.digests != nil {
		return j.digests, nil
	}
	path := filepath.Join(j.Survey.Dir, index.DerivedFolder, knownFile)
	was := map[string]known{}
	if b, err := os.ReadFile(path); err == nil {
		was, _ = readSummed[map[string]known](b)
	}
	looks, digests := j.look(), map[string]string{}
	for file, k := range looks {
		if old, ok := was[file]; ok && old.Size == k.Size && old.Changed.Equal(k.Changed) && old.Status == k.Status && !k.Changed.IsZero() {
			digests[file] = old.SHA256
		}
	}
	if len(digests) == len(looks) {
		j.digests = digests
		return digests, nil
	}
	defer j.stage("digests of the files")()
	now := time.Now()
	all, err := j.Survey.Digests()
	if err != nil {
		return nil, err
	}
	j.digests = all
	keep := map[string]known{}
	for file, k := range looks {
		if after, err := look(filepath.Join(j.Survey.Dir, file)); err == nil && after == k && now.Sub(k.Changed) > settled && now.UnixNano()-k.Status > int64(settled) {
			k.SHA256 = all[file]
			keep[file] = k
		}
	}
	j.known = keep
	j.keepDigests()
	return all, nil
}

// keepDigests writes the digests that are to be kept, once the derived folder is there. A run without them takes longer, and is no worse.
func (j *Job) keepDigests() {
	if j.known == nil {
		return
	}
	b, err := writeSummed(j.known)
	if err != nil {
		return
	}
	err = Replace(filepath.Join(j.Survey.Dir, index.DerivedFolder, knownFile), func(f *os.File) error { _, err := f.Write(b); return err })
	if err == nil {
		j.known = nil
	}
}

// writeSummed is what small derived files hold: JSON, and a line with its checksum.
func writeSummed(v any) ([]byte, error) {
	b, err := json.MarshalIndent(v, "", "\t")
	return fmt.Appendf(b, "\n%08x\n", crc32.ChecksumIEEE(b)), err
}

// readSummed reads what writeSummed has made; anything else is errKept.
func readSummed[T any](b []byte) (v T, err error) {
	end := len(b) - len("\n00000000\n")
	if end < 0 || string(b[end:]) != fmt.Sprintf("\n%08x\n", crc32.ChecksumIEEE(b[:end])) || json.Unmarshal(b[:end], &v) != nil {
		return *new(T), errKept
	}
	return v, nil
}

// files are the survey's input files: the tables and their metadata.
func (j *Job) files() []string {
	var list []string
	if j.Survey.Described {
		list = append(list, intake.MetadataFile)
	}
	for _, t := range j.Survey.Tables {
		list = append(list, t.File)
	}
	return list
}

// look is what the input files look like now; of one that cannot be looked at, nothing.
func (j *Job) look() map[string]known {
	looks := map[string]known{}
	for _, file := range j.files() {
		looks[file], _ = look(filepath.Join(j.Survey.Dir, file))
	}
	return looks
}

// keepable reports whether what was made of the input files may be kept as theirs: the disk has given all of them, and none has changed since the survey was opened. Stones are read beside the
// digests, and what was read before a change would else be kept under the digest of what stands there after it.
func (j *Job) keepable() bool { return !j.Unread() && maps.Equal(j.looks, j.look()) }

// look is what a file looks like now, its digest apart.
func look(path string) (known, error) {
	info, err := os.Stat(path)
	if err != nil {
		return known{}, err
	}
	return known{Size: info.Size(), Changed: info.ModTime(), Status: statusTime(info)}, nil
}

// Replace writes a file as a whole or not at all, and removes what runs that were killed while at it have left beside it. It makes no folder.
func Replace(path string, write func(f *os.File) error) error {
	f, err := unnamed(path)
	if err != nil {
		return err
	}
	err = write(f)
	if e := f.Close(); err == nil {
		err = e
	}
	if err == nil {
		err = os.Rename(f.Name(), path)
	}
	if err != nil {
		os.Remove(f.Name())
	}
	return err
}

// abandoned is how long nobody must have written to an unnamed file for it to count as left behind by a run that was killed.
const abandoned = time.Hour

// unnamed makes a file beside path that is to get its name when it is whole, and removes those that runs that were killed have left.
func unnamed(path string) (*os.File, error) {
	dir, prefix := filepath.Dir(path), "."+filepath.Base(path)+"-"
	entries, _ := os.ReadDir(dir)
	for _, e := range entries {
		if info, err := e.Info(); err == nil && strings.HasPrefix(e.Name(), prefix) && time.Since(info.ModTime()) > abandoned {
			os.Remove(filepath.Join(dir, e.Name()))
		}
	}
	return os.CreateTemp(dir, prefix+"*")
}
