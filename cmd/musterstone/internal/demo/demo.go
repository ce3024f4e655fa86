// Package demo holds an invented survey, to try the program on and to test it with: three burial grounds of a county that does not
// exist, two rosters, a burial register, and the truth about all of them. Nobody in it ever lived.
//
//	err := demo.Lay("alder") // a survey folder, ready for every command
package demo

import (
	"embed"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

//go:embed survey
var survey embed.FS

// Truth is the name of the table `stone,record` of the links that are true, for the command assess.
const Truth = "truth.csv"

// Files are the files of the survey folder, at the top.
func Files() fs.FS {
	sub, err := fs.Sub(survey, "survey")
	if err != nil {
		panic(err) // the folder is part of the program
	}
	return sub
}

// Lay writes the survey into the folder, which is made where it is not there. It refuses a folder that holds anything.
func Lay(dir string) error {
	entries, err := os.ReadDir(dir)
	switch {
	case err == nil && len(entries) > 0:
		return fmt.Errorf("lay the demo survey in %s: the folder is not empty (it holds %s); name a new one", dir, entries[0].Name())
	case err != nil && !os.IsNotExist(err):
		return fmt.Errorf("lay the demo survey in %s: %w", dir, err)
	}
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return fmt.Errorf("lay the demo survey in %s: %w", dir, err)
	}
	files := Files()
	return fs.WalkDir(files, ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(files, name)
		if err != nil {
			return fmt.Errorf("read demo file %s: %w", name, err)
		}
		if err := os.WriteFile(filepath.Join(dir, filepath.FromSlash(name)), data, 0o644); err != nil {
			return fmt.Errorf("lay the demo survey in %s: %w", dir, err)
		}
		return nil
	})
}
