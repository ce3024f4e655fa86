package job

import (
	"errors"
	"fmt"
	"io/fs"

	"musterstone/link/ledger"
	"musterstone/model"
)

// ShareNote says what must be known of the file system of a folder by those who decide there from several computers; "" where nothing is seen that must.
func ShareNote(dir string) string {
	kind := share(dir)
	if kind == "" {
		return ""
	}
	return fmt.Sprintf("%s is on %s: whether other computers heed a lock there cannot be seen from this one; decide from one computer at a time, or in copies that musterstone merge puts together", dir, kind)
}

// NoDecisions says why no decision can be written into a folder, and what to do; "" where one can.
func NoDecisions(dir string) string {
	err := ledger.TryLocks(dir)
	if err == nil {
		return ""
	}
	hint := ledger.HintNoLocks
	if path := (*fs.PathError)(nil); !errors.Is(err, ledger.ErrNoLocks) && errors.As(err, &path) {
		err, hint = path.Err, "ask for the right to write to it, or copy the survey to a folder of yours" // the path is of a file made to try
	}
	return fmt.Sprintf("no decisions can be made in this folder: %v; %s", err, hint)
}

// CheckFolder takes down where the folder keeps no locks, and gives notes on what else must be known of it.
func (j *Job) CheckFolder() (notes []string) {
	switch err := ledger.TryLocks(j.Survey.Dir); {
	case errors.Is(err, ledger.ErrNoLocks):
		j.complain(model.Complaint{File: ledger.FileName, Text: err.Error(), Hint: "no decision is written there; " + ledger.HintNoLocks})
	case err != nil:
		notes = append(notes, NoDecisions(j.Survey.Dir))
	}
	if note := ShareNote(j.Survey.Dir); note != "" {
		notes = append(notes, note)
	}
	return notes
}
