package index

import (
	"os"
	"path/filepath"
)

// Left is the index of the records that an earlier run has left. It can be opened before the stones have been read, by which an index of words is told from another, and
// be given to Open then.
type Left struct {
	folder, digest string
	x              *Index // nil where it was not opened, or is no use
}

// FindLeft finds the index of the rosters of that digest below a survey folder; nil where there is none.
func FindLeft(survey, rosters string) *Left {
	digest := recordsDigest(rosters)
	s := shelf{dir: filepath.Join(survey, DerivedFolder)}
	l := &Left{folder: s.folder(recordsKind, digest), digest: digest}
	if _, err := os.Stat(filepath.Join(l.folder, manifestName)); err != nil {
		return nil
	}
	return l
}

// Open opens it. What keeps it from being opened is told when Open, the function, tries it again.
func (l *Left) Open() {
	x := new(Index)
	if x.load(l.folder, l.digest, defaultMemory) != nil {
		return
	}
	if x.tables.unread() {
		x.unload()
		return
	}
	l.x = x
}

// Folder is where it lies.
func (l *Left) Folder() string { return l.folder }

// take gives the index where it is the one asked for, and closes it where it is not.
func (l *Left) take(folder string) *Index {
	if l == nil || l.x == nil {
		return nil
	}
	x := l.x
	l.x = nil
	if l.folder != folder {
		x.unload()
		return nil
	}
	return x
}

// Close gives back what Open took, where it was not given on.
func (l *Left) Close() { l.take("") }
