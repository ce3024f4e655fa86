package index

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"runtime"
	"sync"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/index/scorch"

	"musterstone/model"
)

// wordsIndex is the full-text index of whole records and stones, made when it is first asked.
type wordsIndex struct {
	mu      sync.Mutex
	shelf   *shelf
	open    bool
	index   bleve.Index
	stones  *store
	lexicon []string // of the stones
}

const (
	wordsKind       = "words"
	wordsFolder     = "words"
	stonesName      = "stones" + storeSuffix
	stonesTableName = "stones.bin"
	wordsBatch      = 1000 // documents; larger batches only take more memory
)

// stoneLists is how the table beside the stones is written.
type stoneLists struct {
	Words  []string
	Starts []int64
}

func stoneCodec() codec { return newCodec(model.Stone{}) }

func (w *wordsIndex) close() error {
	w.mu.Lock()
	defer w.mu.Unlock()
	if !w.open {
		return nil
	}
	w.open = false
	return errors.Join(w.index.Close(), w.stones.close())
}

// openWords opens the full-text index, and builds it where it is not there. Notes that it makes are returned.
func (x *Index) openWords(ctx context.Context) (notes []string, err error) {
	w := &x.words
	w.mu.Lock()
	defer w.mu.Unlock()
	if w.open {
		return nil, nil
	}
	digest := x.wordsDigest()
	err = x.loadWords(digest)
	if err == nil {
		return nil, nil
	}
	again := errors.Is(err, fs.ErrNotExist) // another process may have built it meanwhile; what could not be opened is built anew
	if !again {
		notes = append(notes, fmt.Sprintf("the index of words could not be used (%v) and was built again", err))
	}
	w.shelf, _, err = w.shelf.keep(ctx, wordsKind, digest, func(string) bool { return again }, func(folder string) (int, error) { return x.buildWords(ctx, folder) })
	if err != nil {
		return notes, fmt.Errorf("index the words of records and stones: %w%s", err, roomHint(err))
	}
	if w.shelf != x.shelf {
		notes = append(notes, w.shelf.note)
	}
	return notes, x.loadWords(digest)
}

func (x *Index) wordsDigest() string { return wordsDigest(x.in.Rosters, x.in.graves()) }

// wordsDigest is the digest of the index of words of rosters and of graves of those digests.
func wordsDigest(rosters, graves string) string {
	return rosters + " " + graves + " " + recordCodec().shape() + stoneCodec().shape()
}

func (x *Index) loadWords(digest string) error {
	folder := x.words.shelf.folder(wordsKind, digest)
	m, err := readManifest(folder, digest)
	if err != nil {
		return err
	}
	var l stoneLists
	if err := readLists(filepath.Join(folder, stonesTableName), &l); err != nil {
		return err
	}
	stones, err := openStore(filepath.Join(folder, stonesName), running(l.Starts))
	if err != nil {
		return err
	}
	ix, err := bleve.OpenUsing(filepath.Join(folder, wordsFolder), map[string]any{"read_only": true})
	if err != nil {
		stones.close()
		return fmt.Errorf("open the index of words: %w", err)
	}
	count, err := ix.DocCount()
	if err == nil && (int(count) != m.Count || int(count) != x.Len()+stones.len()) {
		err = fmt.Errorf("the index of words has %d documents and not %d: %w", count, x.Len()+stones.len(), errDamaged)
	}
	if err != nil {
		ix.Close()
		stones.close()
		return err
	}
	x.words.open, x.words.index, x.words.stones, x.words.lexicon = true, ix, stones, l.Words
	return nil
}

// buildWords writes the full-text index into a folder and gives the number of its documents.
//
// Several goroutines make documents and segments of them at once. In which order these come does not matter: hits are sorted by what they are worth and by
// their names.
func (x *Index) buildWords(ctx context.Context, folder string) (count int, err error) {
	ix, err := bleve.NewUsing(filepath.Join(folder, wordsFolder), bleve.NewIndexMapping(), scorch.Name, scorch.Name, nil)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, ix.Close()) }()
	ctx, cancel := context.WithCancelCause(ctx)
	defer cancel(nil)
	stretches := make(chan int)
	var group sync.WaitGroup
	var mu sync.Mutex
	for range min(runtime.GOMAXPROCS(0), wordsWriters) {
		group.Go(func() {
			w := newWordsWriter(ix)
			for from := range stretches {
				n, err := w.records(x, from, min(from+wordsBatch, x.Len()))
				if err != nil {
					cancel(err)
				}
				mu.Lock()
				count += n
				x.progress("words", count, x.Len())
				mu.Unlock()
			}
		})
	}
	for from := 0; from < x.Len() && ctx.Err() == nil; from += wordsBatch {
		stretches <- from
	}
	close(stretches)
	group.Wait()
	if err := context.Cause(ctx); err != nil {
		return 0, err
	}

	stones, err := createStore(filepath.Join(folder, stonesName), 0)
	if err != nil {
		return 0, err
	}
	words, w := new(lexicon), newWordsWriter(ix)
	if x.in.Stones != nil {
		for s := range x.in.Stones {
			if err = stones.add(func(b []byte) []byte { return stoneCodec().encode(b, *s, words) }); err == nil {
				err = w.add(documentID("stone", len(stones.starts)-1), stonePage(s), s.Written, stoneWords(s))
			}
			if count++; err == nil && w.batch.Size() >= wordsBatch {
				err = cmp.Or(ctx.Err(), w.flush())
			}
			if err != nil {
				break
			}
		}
	}
	err = errors.Join(err, stones.close())
	if err == nil {
		err = writeLists(filepath.Join(folder, stonesTableName), stoneLists{words.book.List(), steps(stones.starts)})
	}
	if err == nil {
		err = w.flush()
	}
	return count, err
}
