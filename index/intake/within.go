package intake

import (
	"fmt"
	"path/filepath"
)

// Within reports an error where a file of a survey folder is, by links, in truth outside it. What a survey stands on is in its folder, as with the urls of its metadata: one that
// came from somebody else could otherwise have any file of the reader's read, and published. A file that is not there is no matter of links.
func Within(dir, file string) error {
	whole, err := filepath.Abs(dir) // a link may give the whole path of a file in the folder
	if err != nil {
		return nil
	}
	home, err := filepath.EvalSymlinks(whole)
	if err != nil {
		return nil
	}
	to, err := filepath.EvalSymlinks(filepath.Join(whole, filepath.FromSlash(file)))
	if err != nil {
		return nil
	}
	if rel, err := filepath.Rel(home, to); err == nil && filepath.IsLocal(rel) {
		return nil
	}
	return fmt.Errorf("it is a link to %s, outside the survey folder, and is not read from there", to)
}

const hintWithin = "put the file itself, or a copy of it, into the survey folder"
