package job

import (
	"crypto/sha256"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"musterstone/index"
	"musterstone/model"
)

// publishedFile keeps where the survey was published to, so that check can look whether those publications are as they were written.
const publishedFile = "published.json"

func readPublished(path string) ([]string, error) {
	b, err := os.ReadFile(path)
	if err != nil {
		return nil, err
	}
	return readSummed[[]string](b)
}

// Published takes down that the survey was published into a folder. Where that cannot be kept, check does not look there.
func (j *Job) Published(dir string) {
	dir, err := filepath.Abs(dir)
	if err != nil {
		return
	}
	path := filepath.Join(j.Survey.Dir, index.DerivedFolder, publishedFile)
	all, _ := readPublished(path)
	if slices.Contains(all, dir) {
		return
	}
	b, err := writeSummed(append(all, dir))
	if err == nil {
		Replace(path, func(f *os.File) error { _, err := f.Write(b); return err })
	}
}

// CheckPublications holds the publications of the survey that are still where they were written to their digests, and gives those that are whole. A damaged one is
// complained of and left alone: it was handed out, and is its publisher's to replace.
func (j *Job) CheckPublications() (whole []string) {
	all, _ := readPublished(filepath.Join(j.Survey.Dir, index.DerivedFolder, publishedFile))
	for _, dir := range all {
		if _, err := os.Stat(dir); errors.Is(err, fs.ErrNotExist) {
			continue
		}
		sound := true
		for _, name := range []string{"dataset.nt", "proposals.nt"} {
			if err := heldToDigest(filepath.Join(dir, name)); err != nil {
				sound = false
				j.complain(model.Complaint{File: filepath.Join(dir, name), Text: err.Error(), Hint: "the publication is damaged: take it from a copy, or delete that folder and publish again"})
			}
		}
		if sound {
			whole = append(whole, dir)
		}
	}
	return whole
}

// heldToDigest reports an error unless a file has the SHA-256 that stands in the file beside it.
func heldToDigest(path string) error {
	want, err := os.ReadFile(path + ".sha256")
	if err != nil {
		return fmt.Errorf("its digest cannot be read: %w", err)
	}
	f, err := os.Open(path)
	if err != nil {
		return fmt.Errorf("it cannot be read: %w", err)
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return fmt.Errorf("it cannot be read: %w", err)
	}
	if got := fmt.Sprintf("%x", h.Sum(nil)); !strings.HasPrefix(string(want), got+" ") {
		return errors.New("it is not what its SHA-256 says")
	}
	return nil
}
