package job

import (
	"crypto/rand"
	"encoding/hex"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"musterstone/index/intake"
	"musterstone/model"
)

// IDKeyFile holds the key under which numbers are made that stand for private ids in what is handed on. Like the ledger it cannot be made again: with another key the numbers are others.
const IDKeyFile = "private-ids.key"

// idKeySize is the key's length in bytes.
const idKeySize = 32

// idKeyNote stands in the file behind the key.
const idKeyNote = "With this key numbers are made that stand for IDs marked private in what is published. Keep it with the survey, so that the numbers stay as they are, and give it to nobody.\n"

// IDKey gives that key; where there is none, one is made and, if keep is set, kept in the survey folder.
func (j *Job) IDKey(keep bool) ([]byte, error) {
	path := filepath.Join(j.Survey.Dir, IDKeyFile)
	if key, err := j.readIDKey(); !errors.Is(err, fs.ErrNotExist) {
		return key, err
	}
	key := make([]byte, idKeySize)
	rand.Read(key)
	if !keep {
		return key, nil
	}
	if err := keepOnce(path, hex.EncodeToString(key)+"\n"+idKeyNote); errors.Is(err, fs.ErrExist) { // another run has made one
		return j.readIDKey()
	} else if err != nil {
		return nil, &Refused{Err: fmt.Errorf("keep the key for private IDs: %w; it is needed so that a stone has the same number in the next publication too: make the survey folder writable", err)}
	}
	j.opts.Note(fmt.Sprintf("IDs marked private are published as numbers, made with a key that is now in %s: keep that file with the survey, so that the numbers stay as they are, and give it to nobody. If the survey has been published with such numbers before, its key is lost: put that file back from a copy of the survey and publish again, or links to the earlier numbers lead nowhere", path))
	return j.readIDKey()
}

// keepOnce writes a file that is not there yet and shows it only when it is whole: another run that looks for the key meanwhile finds none, or all of it, and one that is broken off leaves no half of a key, which the next would refuse. The error is
// fs.ErrExist where there is a file by now. Whoever may read the survey has the ids themselves, and may read it.
func keepOnce(path, text string) error {
	making := filepath.Join(filepath.Dir(path), "."+filepath.Base(path)+"-"+rand.Text())
	f, err := os.OpenFile(making, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o666)
	if err != nil {
		return err
	}
	defer os.Remove(making)
	_, err = f.WriteString(text)
	if err = errors.Join(err, f.Sync(), f.Close()); err != nil {
		return err
	}
	if err = os.Link(making, path); err != nil && !errors.Is(err, fs.ErrExist) {
		return os.Rename(making, path) // the folder knows no two names of one file
	}
	return err
}

// readIDKey reads the key that is kept; the error is fs.ErrNotExist where there is none.
func (j *Job) readIDKey() ([]byte, error) {
	path := filepath.Join(j.Survey.Dir, IDKeyFile)
	if err := intake.Within(j.Survey.Dir, IDKeyFile); err != nil {
		return nil, &Refused{Err: fmt.Errorf("read %s: %w", path, err)}
	}
	b, err := os.ReadFile(path)
	if err != nil {
		if errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		return nil, fmt.Errorf("read the key for private IDs: %w", err)
	}
	line, _, _ := strings.Cut(string(b), "\n")
	key, err := hex.DecodeString(strings.TrimSpace(line))
	if err != nil || len(key) != idKeySize {
		return nil, &Refused{Text: fmt.Sprintf("read %s: %s", path, badIDKey)}
	}
	return key, nil
}

const badIDKey = "its first line is not the key that was written there; take the file from a copy of the survey, or delete it: then IDs marked private get other numbers, and links to the earlier ones lead nowhere"

// CheckIDKey takes down where the key for private ids is there and cannot be used.
func (j *Job) CheckIDKey() {
	if _, err := j.readIDKey(); err != nil && !errors.Is(err, fs.ErrNotExist) {
		text := err.Error()
		if refused := (*Refused)(nil); errors.As(err, &refused) && refused.Err == nil {
			text = badIDKey
		}
		j.complain(model.Complaint{File: IDKeyFile, Text: text})
	}
}
