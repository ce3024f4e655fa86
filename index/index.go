package index

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"iter"
	"path/filepath"
	"slices"
	"sync"
	"sync/atomic"

	"musterstone/index/texts"
	"musterstone/model"
	"musterstone/model/same"
	"musterstone/vocab/remarks"
)

// Inputs are what an index is made of. The sequences are gone through only when there is something to build.
type Inputs struct {
	// Rosters is a digest of the files that Records come from, Graves gives one of those that Stones come from: the same digest
	// means the same bytes, and so that nothing need be built again. Graves is first called when the records are indexed.
	Rosters string
	Graves  func() string
	Records iter.Seq[*model.Record] // each a record of its own, that is not changed later
	// Parts, where it is not nil, gives the records in place of Records, file by file. Of several files of which some have changed, what was found
	// out about the others is kept from the index that was there.
	Parts []Part
	// About is how many records there may be, for Progress; 0 where that is not known.
	About int
	// Beside, where it is not nil, begins to make other files of the records in the folder in which those of the index are built.
	Beside func(folder string) (Beside, error)
	// Found, where it is not nil, hears of the folder of an index that is there, before that is read: what stands beside it can be read meanwhile.
	Found  func(folder string)
	Stones iter.Seq[*model.Stone] // for Find only
}

// graves is what Graves gives, or nothing.
func (in *Inputs) graves() string {
	if in.Graves == nil {
		return ""
	}
	return in.Graves()
}

// Beside makes files beside those of an index. Its functions are called one after the other, in the order of the records.
type Beside struct {
	// Add takes records, and of each what its remarks tell, and may keep nothing of either but values.
	Add func(b *same.Batch, told []*remarks.Told) error
	// Keep takes over what was made beside an earlier index, whose folder is given, of its records from one number up to another. Where it reports that it could not, and took none, these are
	// added one by one.
	Keep func(folder string, from, to int) (kept bool, err error)
	// Finish is called when there are no more, and where the build was broken off.
	Finish func() error
}

// Options of an index; the zero value is the default.
type Options struct {
	// Progress, where it is not nil, is told now and then how far a stage is: "records", "surnames", "words". Total is 0 where it is not known. It is
	// called by one goroutine at a time, but not always the caller's.
	Progress func(stage string, done, total int)
	// Memory is how many bytes the index may take to keep decoded records at hand; 0 means 256 MB. Where all of them would take more than half of it, none
	// are kept and each is decoded when it is asked for. Beside that, about 80 bytes a record lie in mapped files, which the system takes back when memory is
	// short, and some hundred bytes for each distinct surname, given name, unit, date and place in memory.
	Memory int64
}

const defaultMemory = 256 << 20

// An Index finds service records for stones, and words in both. It is safe for use by several goroutines at once.
type Index struct {
	// Notes are sentences for the user about how the index was opened: that it was damaged and built again, that it could not be kept.
	Notes []string
	// Built is set where the records had to be indexed and were not found indexed already.
	Built bool
	// Kept are the files of those parts that were kept when the records had to be indexed.
	Kept []string

	shelf      *shelf
	in         Inputs
	opt        Options
	complaints []model.Complaint

	folder  string
	tables  tables
	records *store
	cache   []atomic.Pointer[model.Record] // decoded records; nil where there are too many to keep
	roll    *roll
	names   *names
	scorer  *scorer

	words   wordsIndex
	failed  atomic.Pointer[error]
	closing sync.Once
	closed  error
}

const (
	recordsKind = "records"
	storeSuffix = ".store"
	recordsName = "records" + storeSuffix
	tablesName  = "tables.bin"
	rowsName    = "rows.bin"
	startsName  = "starts.bin"
)

var errUnread = errors.New("a roster could not be read when it was made")

// Open opens the index of a survey folder, below DerivedFolder, and builds it where it is not there, is damaged or was made of other files. Cancelling
// ctx, or a crash, leaves what was there before. Where the survey folder cannot be written to, the index is made in a temporary
// folder that Close removes, and Notes says so.
func Open(ctx context.Context, survey string, in Inputs, opt Options) (*Index, error) {
	if opt.Memory == 0 {
		opt.Memory = defaultMemory
	}
	s, err := openShelf(survey)
	if err != nil {
		return nil, err
	}
	digest := recordsDigest(in.Rosters)
	x := &Index{shelf: s, in: in, opt: opt}
	err = x.load(s.folder(recordsKind, digest), digest)
	missing := err == nil && x.tables.unread()
	if missing {
		// It served that run; now the disk may give what it did not.
		x.unload()
		err = errUnread
	}
	if err != nil {
		if !errors.Is(err, fs.ErrNotExist) {
			x.Notes = append(x.Notes, fmt.Sprintf("the index of the records could not be used (%v) and was built again", err))
		}
		var made tablesMade
		x.shelf, x.Built, err = s.keep(ctx, recordsKind, digest, wholeTables, func(folder string) (records int, err error) {
			if made, err = x.buildRecords(ctx, s, folder); err != nil {
				return 0, err
			}
			return made.records, nil
		})
		switch folder := x.shelf.folder(recordsKind, digest); {
		case err != nil:
		case x.Built:
			err = x.use(made, folder)
		default: // by another process
			err = x.load(folder, digest)
		}
	}
	if err != nil {
		x.shelf.close()
		return nil, fmt.Errorf("index the records of %s: %w%s", survey, err, roomHint(err))
	}
	if x.Built {
		// What was found out about other files, or without some records, only takes room.
		keep := ""
		if !missing {
			keep = filepath.Base(x.shelf.folder(wordsKind, x.wordsDigest()))
		}
		x.shelf.sweep(wordsKind+"-", keep)
	}
	if x.shelf.note != "" {
		x.Notes = append(x.Notes, x.shelf.note)
	}
	x.words.shelf = x.shelf
	return x, nil
}

func recordCodec() codec { return newCodec(model.Record{}) }

func (x *Index) progress(stage string, done, total int) {
	if x.opt.Progress != nil {
		x.opt.Progress(stage, done, total)
	}
}

// recordsDigest is the digest of the index of rosters of that digest.
func recordsDigest(rosters string) string { return rosters + " " + sharedShape() }

// unload closes what load opened.
func (x *Index) unload() {
	x.records.close()
	x.tables.close()
}

// load opens the folder of the records.
func (x *Index) load(folder, digest string) error {
	m, err := readManifest(folder, digest)
	if err != nil {
		return err
	}
	if x.in.Found != nil {
		x.in.Found(folder)
	}
	t, err := readTables(folder)
	if err != nil {
		return err
	}
	if len(t.roll.rows) < m.Count || len(t.starts) != m.Count+1 {
		t.close()
		return errDamaged
	}
	return x.open(t, newNames(t.roll, t.sounds, t.soundex), folder)
}

// use opens the folder of the records that this process has just made.
func (x *Index) use(made tablesMade, folder string) error {
	t, err := made.lists.mapped(folder)
	if err != nil {
		return err
	}
	made.names.roll, made.names.sounds, made.names.soundex = t.roll, t.sounds, t.soundex
	return x.open(t, made.names, folder)
}

// open opens the records of a folder whose tables are given.
func (x *Index) open(t tables, n *names, folder string) (err error) {
	x.records, err = openStore(filepath.Join(folder, recordsName), t.starts)
	if err != nil {
		t.close()
		return err
	}
	x.tables, x.folder, x.roll, x.names = t, folder, t.roll, n
	const decoded = 2 << 10 // bytes of a record in memory, about
	if n := len(t.roll.rows); int64(n)*decoded <= x.opt.Memory/2 {
		x.cache = make([]atomic.Pointer[model.Record], n)
	}
	x.complaints = nil
	for _, p := range t.parts {
		x.complaints = append(x.complaints, p.Complaints...)
	}
	x.scorer = newScorer(x.roll)
	return nil
}

// Close gives back files and memory, and removes an index that could not be kept. Nothing else may be in use then, or called after.
func (x *Index) Close() error {
	x.closing.Do(func() {
		x.closed = errors.Join(x.words.close(), x.records.close(), x.words.shelf.close(), x.shelf.close())
		x.tables.close()
	})
	return x.closed
}

// Len is the number of records.
func (x *Index) Len() int { return x.records.len() }

// Complaints are those that were told of the records when they were indexed.
func (x *Index) Complaints() []model.Complaint { return slices.Clone(x.complaints) }

// record is the record at a place of the store. It is shared, and must not be changed.
func (x *Index) record(at int) (*model.Record, error) { return x.recordBy(x.records.read, at) }

// recordBy is record, its bytes being read by read.
func (x *Index) recordBy(read func(int) (string, error), at int) (*model.Record, error) {
	if x.cache != nil {
		if r := x.cache[at].Load(); r != nil {
			return r, nil
		}
	}
	r := new(model.Record)
	data, err := read(at)
	if err == nil {
		_, err = x.tables.shared.get(data, r)
	}
	if err != nil {
		err = fmt.Errorf("read record %d of the index: %w; delete the folder %s and run again", at+1, err, x.shelf.dir)
		x.failed.CompareAndSwap(nil, &err)
		return nil, err
	}
	if x.cache != nil {
		x.cache[at].Store(r)
	}
	return r, nil
}

// Records goes through all records in the order of the input. It ends early when ctx is done, or where a record cannot be read, which Err tells.
func (x *Index) Records(ctx context.Context) iter.Seq[*model.Record] {
	return func(yield func(*model.Record) bool) {
		stored := storeReader{store: x.records}
		for i := range x.Len() {
			r, err := x.recordBy(stored.read, i)
			if err != nil || ctx.Err() != nil || !yield(r) {
				return
			}
		}
	}
}

// Err is the first error that was met in reading stored records, or nil. Ask it after Records, and when Record has not found what must be there.
func (x *Index) Err() error {
	if err := x.failed.Load(); err != nil {
		return *err
	}
	return nil
}

// Record is the record with that id.
func (x *Index) Record(id model.RecordID) (*model.Record, bool) {
	for _, k := range x.roll.withID(texts.Hash(string(id))) {
		if row := uint32(k); int(row) < len(x.roll.rows) {
			if r, err := x.record(int(x.roll.rows[row].at)); err == nil && r.ID == id {
				return r, true
			}
		}
	}
	return nil, false
}
