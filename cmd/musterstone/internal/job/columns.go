package job

import (
	"context"
	"fmt"
	"os"
	"path/filepath"

	"musterstone/index"
	"musterstone/link/weigh"
	"musterstone/model/same"
	"musterstone/vocab/remarks"
)

// columnsFile holds the records packed for weighing, in the folder of the index and made with it.
const columnsFile = "weigh.bin"

// packBeside makes the columns while the index is built; they are kept for this run too.
func (j *Job) packBeside(folder string) (index.Beside, error) {
	p := weigh.NewPacker()
	p.Expect(j.Survey.RecordsAbout())
	var earlier *weigh.Earlier
	stones := j.packing
	if stones != nil {
		stones.gate.Lock()
	}
	return index.Beside{
		Add: func(b *same.Batch, told []*remarks.Told) error { p.Take(b, told); return nil },
		Keep: func(folder string, from, to int) (kept bool, err error) {
			if earlier == nil {
				if earlier, err = weigh.OpenEarlier(filepath.Join(folder, columnsFile)); err != nil {
					return false, nil // it is made of the records, as where it is asked for and not there
				}
			}
			if to > earlier.Len() {
				return false, nil
			}
			if err := p.Keep(earlier, from, to); err != nil {
				return true, fmt.Errorf("keep the packed records of an earlier index: %w; delete the folder %s and run again", err, filepath.Dir(folder))
			}
			return true, nil
		},
		Finish: func() error {
			if stones != nil {
				stones.gate.Unlock()
			}
			if earlier != nil {
				earlier.Close()
			}
			j.columns = p.Columns()
			err := j.columns.WriteFile(filepath.Join(folder, columnsFile))
			j.counts = j.columns.Counts()
			return err
		},
	}, nil
}

// columnsRead are columns that were read while the index was, and their counts; nil where they could not be.
type columnsRead struct {
	path    string
	columns *weigh.Columns
	counts  *weigh.Counts
}

// readBeside begins to read and count the columns of a folder, where they will be asked for: nil where that is not known.
func (j *Job) readBeside() func(folder string) {
	if !j.wanted {
		return nil
	}
	return func(folder string) {
		read := make(chan columnsRead, 1)
		j.reading = read
		go func() {
			r := columnsRead{path: filepath.Join(folder, columnsFile)}
			if c, err := weigh.ReadFile(r.path); err == nil {
				r.columns, r.counts = c, c.Counts()
			}
			read <- r
		}()
	}
}

// Columns are the records packed for weighing: read from the folder of the index, or made again where they are not there or are damaged.
func (j *Job) Columns(ctx context.Context) (*weigh.Columns, error) {
	x, err := j.Index(ctx)
	if err != nil {
		return nil, err
	}
	if j.columns != nil && j.columns.Len() == x.Len() {
		return j.columns, nil
	}
	j.counts = nil // of other columns
	defer j.stage("reading packed records")()
	path := filepath.Join(x.Folder(), columnsFile)
	if j.reading != nil {
		r := <-j.reading
		if j.reading = nil; r.path == path && r.columns != nil && r.columns.Len() == x.Len() {
			j.columns, j.counts = r.columns, r.counts
			return r.columns, nil
		}
	}
	c, err := weigh.ReadFile(path)
	if err == nil && c.Len() == x.Len() {
		j.columns = c
		return c, nil
	}
	j.opts.Progress("packing records", 0, x.Len())
	p, n := weigh.NewPacker(), 0
	for r := range x.Records(ctx) {
		p.Add(r)
		if n++; n%4096 == 0 {
			j.opts.Progress("packing records", n, x.Len())
		}
	}
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	if err := x.Err(); err != nil {
		return nil, err
	}
	j.opts.Progress("packing records", n, n)
	c = p.Columns()
	if c.Len() != x.Len() {
		return nil, fmt.Errorf("pack the records: %d of %d came; delete the folder %s and run again", c.Len(), x.Len(), x.Folder())
	}
	Replace(path, func(f *os.File) error { return c.WriteFile(f.Name()) }) // a run without it takes longer, and is no worse
	j.columns = c
	return c, nil
}
