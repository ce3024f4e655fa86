package job

import (
	"context"
	"encoding/json"
	"errors"
	"io/fs"
	"os"
	"path/filepath"

	"musterstone/index"
)

// MendIndex is index.Mend for the survey. The digests are made of the files themselves: those kept may be what is damaged, and nothing is kept here.
func (j *Job) MendIndex(ctx context.Context) ([]index.Derived, error) {
	digests, err := j.Survey.Digests()
	if err != nil {
		return nil, err
	}
	return index.Mend(ctx, j.Survey.Dir, inputsDigest(j.opts.Program, j.rosterDigests(digests)), inputsDigest(j.opts.Program, j.graveDigests(digests)))
}

// MendKept looks at what is kept beside the index, takes away what is damaged, and tells the state of each. What is whole but of other inputs stays: the next run replaces it.
func (j *Job) MendKept() []index.Derived {
	var found []index.Derived
	for _, k := range []struct {
		name  string
		whole func(path string) error
	}{{keptFile, wholeAnswers}, {weighedFile, wholeWeighed}, {knownFile, wholeDigests}, {publishedFile, wholePublished}} {
		path := filepath.Join(j.Survey.Dir, index.DerivedFolder, k.name)
		err := k.whole(path)
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		d := index.Derived{Name: k.name, State: "is whole", Whole: true}
		if err != nil {
			d = index.Derived{Name: k.name, State: errKept.Error(), Mended: os.Remove(path) == nil}
		}
		found = append(found, d)
	}
	return found
}

func wholeAnswers(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	b, at, err := readTable(f)
	if err != nil {
		return err
	}
	var table keptTable
	if err := json.Unmarshal(b, &table); err != nil {
		return err
	}
	all := int64(0)
	for i := range table.Answers {
		k := &table.Answers[i]
		if _, err := k.read(f, at); err != nil {
			return errKept
		}
		all += int64(k.JSON + k.Text)
	}
	if all != at {
		return errKept
	}
	return nil
}

func wholeDigests(path string) error {
	b, err := os.ReadFile(path)
	if err != nil {
		return err
	}
	_, err = readSummed[map[string]known](b)
	return err
}

func wholePublished(path string) error {
	_, err := readPublished(path)
	return err
}
