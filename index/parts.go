package index

import (
	"iter"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/same"
)

// Part is one of the files that records come from.
type Part struct {
	File string
	// Digest is one of the file's bytes and of all else that says what its records are: the same digest means the same records.
	Digest string
	// Batches reads the file, some hundred records at a time. A batch need only be good until the next is asked for, with all that it holds but its Values, which must last. It is gone
	// through where the part is not kept.
	Batches iter.Seq[*same.Batch]
	// Keep is told the ids of the part's records and their rows where these could be kept from an earlier index, each good until the next, and reports whether they may: not where
	// one of the ids is in a part before it, or where whole, asked after the last, tells that some could not be read. It is called, or Batches gone through, for one part
	// after the other, but not always by the same goroutine.
	Keep func(ids iter.Seq2[string, int], whole func() bool) bool
	// Told, where it is not nil, is asked after Batches has ended: what there was to complain of, and whether the records are the same whatever is in other parts. One that is
	// not alone so is never kept.
	Told func() (complaints []model.Complaint, alone bool)
}

// partMade is a part of an index on disk.
type partMade struct {
	File, Digest string
	From, To     int // its records
	Alone        bool
	Complaints   []model.Complaint
}

// unread reports whether the disk failed when the part was read: another reading may find more.
func (p *partMade) unread() bool {
	return slices.ContainsFunc(p.Complaints, func(c model.Complaint) bool { return c.Unread })
}

// An earlier index is one whose parts may be kept.
type earlier struct {
	folder  string
	tables  tables
	records *store
}

// earlierIndex opens an index on the shelf that has a part of in; nil where there is none. It may have been damaged since: what is read of it is
// held against its checksums.
func earlierIndex(s *shelf, in *Inputs) *earlier {
	if len(in.Parts) < 2 {
		return nil // where there is but one and it has changed, nothing can be kept
	}
	entries, err := os.ReadDir(s.dir)
	if err != nil {
		return nil
	}
	for _, e := range entries {
		if !e.IsDir() || !strings.HasPrefix(e.Name(), recordsKind+"-") {
			continue
		}
		folder := filepath.Join(s.dir, e.Name())
		m, err := readManifest(folder, "")
		if err != nil || !strings.HasSuffix(m.Digest, " "+sharedShape()) {
			continue
		}
		t, err := readTables(folder)
		if err != nil {
			continue
		}
		old := &earlier{folder: folder, tables: t}
		for i := range in.Parts {
			if old.part(in.Parts[i].Digest) == nil {
				continue
			}
			if old.records, err = openStore(filepath.Join(folder, recordsName), t.starts); err == nil {
				return old
			}
			break
		}
		t.close()
	}
	return nil
}

func (e *earlier) close() {
	if e != nil {
		e.records.close()
		e.tables.close()
	}
}

// part is the part of that digest, where it can be kept.
func (e *earlier) part(digest string) *partMade {
	if e == nil {
		return nil
	}
	for i := range e.tables.parts {
		if p := &e.tables.parts[i]; p.Digest == digest && p.Alone && !p.unread() {
			return p
		}
	}
	return nil
}

// begin begins to find out whether the first of the parts can be taken over; what it gives waits for that, and gives the part as it was made, or nil where it cannot.
func (e *earlier) begin(parts []Part) func() *partMade {
	if len(parts) == 0 {
		return func() *partMade { return nil }
	}
	kept := e.part(parts[0].Digest)
	if kept == nil {
		return func() *partMade { return nil }
	}
	var can bool
	var finding sync.WaitGroup
	finding.Go(func() { can = e.keep(kept, &parts[0]) })
	return func() *partMade {
		if finding.Wait(); !can {
			return nil
		}
		return kept
	}
}

// keep reports whether a part can be taken over.
func (e *earlier) keep(made *partMade, p *Part) bool {
	if p.Keep == nil {
		return false
	}
	var damaged error
	stored := storeReader{store: e.records}
	ids := func(yield func(string, int) bool) {
		for i := made.From; i < made.To; i++ {
			var data, id string
			var row int
			if data, damaged = stored.look(i); damaged == nil {
				id, row, damaged = idAndRow(data)
			}
			if damaged != nil || !yield(id, row) {
				return
			}
		}
	}
	return p.Keep(ids, func() bool { return damaged == nil })
}
