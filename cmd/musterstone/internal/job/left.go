package job

import (
	"path/filepath"

	"musterstone/index"
	"musterstone/index/intake"
	"musterstone/link/weigh"
)

// left is what an earlier run has left of the rosters, as far as it could be opened, and the counts of its records.
type left struct {
	index   *index.Left
	columns *weigh.Columns
	counts  *weigh.Counts
	about   int           // how many records there may be
	done    chan struct{} // closed when all that is known
}

// openLeft begins to open what an earlier run has left of the rosters, while the stones are read: nearly all of it is done on one core.
func (j *Job) openLeft() {
	if j.index != nil || j.left != nil {
		return
	}
	digests, err := j.Digests()
	if err != nil {
		return // told when they are asked for again
	}
	found := index.FindLeft(j.Survey.Dir, inputsDigest(j.opts.Program, j.rosterDigests(digests)))
	if found == nil {
		return
	}
	l := &left{index: found, about: j.Survey.RecordsAbout(), done: make(chan struct{})}
	j.left = l
	go func() {
		defer close(l.done)
		found.Open()
		if c, err := weigh.ReadFile(filepath.Join(found.Folder(), columnsFile)); err == nil {
			l.columns, l.counts = c, c.Counts()
		}
	}()
}

// wait gives the index when all has been opened; nil where there is none.
func (l *left) wait() *index.Left {
	if l == nil {
		return nil
	}
	<-l.done
	return l.index
}

// give hands over the packed records and their counts, where they are of the index that the job has now.
func (l *left) give(j *Job) {
	if l != nil && l.columns != nil && !j.index.Built && j.index.Folder() == l.index.Folder() && l.columns.Len() == j.index.Len() {
		j.columns, j.counts = l.columns, l.counts
	}
	j.left = nil
}

// close closes what was opened and not given on.
func (l *left) close() {
	if l != nil {
		l.wait().Close()
	}
}

// records is how many records are being opened.
func (l *left) records() int {
	if l == nil {
		return 0
	}
	return l.about
}

// rosterDigests are the digests of the files that the index of records is made of.
func (j *Job) rosterDigests(digests map[string]string) map[string]string {
	rosters := map[string]string{intake.MetadataFile: digests[intake.MetadataFile]}
	for _, t := range j.Survey.Tables {
		if t.Kind == intake.Roster {
			rosters[t.File] = digests[t.File]
		}
	}
	return rosters
}
