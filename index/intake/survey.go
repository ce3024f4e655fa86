package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"musterstone/model"
)

// Survey is a survey folder whose tables have been found and whose columns are understood. It holds no rows: Stones and Records read
// them from the files each time.
type Survey struct {
	Dir string
	// Title, Licence, Publisher and Base are what the metadata file says of the survey; "" where it does not. Base is
	// the IRI under which the survey's own data are published.
	Title, Licence, Publisher, Base string
	// NameRecorders is set where the metadata say that those who recorded the stones agreed to be named ("ms:nameRecorders").
	NameRecorders bool
	// PublishNotes is set where the metadata say that the notes that reviewers made may be published ("ms:publishNotes").
	PublishNotes bool
	// Tables are in the order of the metadata file, or else of the file names.
	Tables []Table
	// Notices are what Open found amiss that belongs to no one table and keeps none from being read.
	Notices []model.Complaint
	// Aside are the tables in the folder that are none of the survey's.
	Aside []Aside
	// Described is set where there is a metadata file.
	Described bool
}

// Aside is a table in the folder that was passed over, though nothing is wrong with it, and why.
type Aside struct{ File, Why string }

// Table is one file of the survey.
type Table struct {
	File    string // relative to the folder, with slashes
	Kind    Kind
	Columns []Column
	// Notices are what Open found amiss in the table that keeps no row of it from being read.
	Notices []model.Complaint

	meta  tableMeta
	graph bool // Turtle, N-Triples or N-Quads
	// mapping says, for a graph, what properties of others mean.
	mapping map[string]term
	bound   binding
}

// Column is one column of a table. Virtual columns are those that only the metadata give.
type Column struct {
	Name     string // as in the file's header
	Term     string // the default column name of what it means, such as "surname"; "" where it is only kept
	Property string // the IRI that the metadata give for it; "" where they give none
	// Private is set where the metadata say that its cells are not for publication ("ms:private" or "suppressOutput").
	Private bool
	Virtual bool
	// Default is what the metadata give where no cell does, to every row; "" where they give nothing, or make it of cells.
	Default string
}

// path is where a file of the survey lies.
func (s *Survey) path(file string) string { return filepath.Join(s.Dir, filepath.FromSlash(file)) }

// ofTheDisk reports whether the error is one of the disk, and not of what stands in the file.
func ofTheDisk(err error) bool {
	var pe *fs.PathError
	return errors.As(err, &pe)
}

// plainError is an error's own words, without the operation and the path that the complaint gives already.
func plainError(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

// Private reports whether the metadata keep the cells of a column from publication.
func (s *Survey) Private(file, column string) bool {
	for i := range s.Tables {
		if s.Tables[i].File != file {
			continue
		}
		for _, c := range s.Tables[i].Columns {
			if c.Private && c.Name == column {
				return true
			}
		}
	}
	return false
}

// Digests gives the SHA-256 of every file that the survey's stones and records are read from, in hex, by file name: the tables and the metadata.
func (s *Survey) Digests() (map[string]string, error) {
	files := []string{}
	if s.Described {
		files = append(files, MetadataFile)
	}
	for _, t := range s.Tables {
		files = append(files, t.File)
	}
	sums := make(map[string]string, len(files))
	for _, name := range files {
		sum, err := FileSHA256(s.path(name))
		if err != nil {
			return nil, fmt.Errorf("digest of %s: %w", name, err)
		}
		sums[name] = sum
	}
	return sums, nil
}

// FileSHA256 is the SHA-256 of a file, in hexadecimal.
func FileSHA256(name string) (string, error) {
	f, err := os.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return "", err
	}
	return hex.EncodeToString(h.Sum(nil)), nil
}
