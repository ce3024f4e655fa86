package index

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"strings"
	"sync"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/document"
	"github.com/blevesearch/bleve/v2/index/scorch"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"musterstone/model"
)

// wordsIndex is the full-text index of whole records and stones, made when it is first asked.
type wordsIndex struct {
	mu     sync.Mutex
	shelf  *shelf
	open   bool
	index  bleve.Index
	stones *store
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
	if !errors.Is(err, fs.ErrNotExist) {
		notes = append(notes, fmt.Sprintf("the index of words could not be used (%v) and was built again", err))
	}
	w.shelf, _, err = w.shelf.keep(ctx, wordsKind, digest, func(folder string) (int, error) { return x.buildWords(ctx, folder) })
	if err != nil {
		return notes, fmt.Errorf("index the words of records and stones: %w%s", err, roomHint(err))
	}
	if w.shelf != x.shelf {
		notes = append(notes, w.shelf.note)
	}
	return notes, x.loadWords(digest)
}

func (x *Index) wordsDigest() string {
	return x.in.Rosters + " " + x.in.Graves + " " + recordCodec().shape() + stoneCodec().shape()
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
	stones, err := openStore(filepath.Join(folder, stonesName), stoneCodec(), l.Words, running(l.Starts), x.opt.Memory/8)
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
	x.words.open, x.words.index, x.words.stones = true, ix, stones
	return nil
}

// buildWords writes the full-text index into a folder and gives the number of its documents.
func (x *Index) buildWords(ctx context.Context, folder string) (count int, err error) {
	ix, err := bleve.NewUsing(filepath.Join(folder, wordsFolder), bleve.NewIndexMapping(), scorch.Name, scorch.Name, nil)
	if err != nil {
		return 0, err
	}
	defer func() { err = errors.Join(err, ix.Close()) }()
	batch := ix.NewBatch()
	add := func(id string, p page, cells []string) error {
		if err := batch.IndexAdvanced(pageDocument(id, p, cells)); err != nil {
			return err
		}
		if count++; batch.Size() >= wordsBatch {
			if err := ctx.Err(); err != nil {
				return err
			}
			if err := ix.Batch(batch); err != nil {
				return err
			}
			batch.Reset()
			x.progress("words", count, x.Len())
		}
		return nil
	}
	for i := range x.Len() {
		r, err := x.record(i)
		if err != nil {
			return 0, err
		}
		p := page{}
		p.add(kindField, "record")
		p.claim(r.Claim)
		if err := add(documentID("record", i), p, cellTexts(r.Written, recordWords(r))); err != nil {
			return 0, err
		}
	}
	stones, err := createStore(filepath.Join(folder, stonesName), stoneCodec())
	if err != nil {
		return 0, err
	}
	if x.in.Stones != nil {
		for s := range x.in.Stones {
			if err = stones.add(*s); err == nil {
				err = add(documentID("stone", len(stones.starts)-1), stonePage(s), cellTexts(s.Written, stoneWords(s)))
			}
			if err != nil {
				break
			}
		}
	}
	err = errors.Join(err, stones.close())
	if err == nil && x.in.Failed != nil {
		err = x.in.Failed()
	}
	if err == nil {
		err = writeLists(filepath.Join(folder, stonesTableName), stoneLists{stones.words.words, steps(stones.starts)})
	}
	if err == nil {
		err = ix.Batch(batch)
	}
	return count, err
}

// stonePage has the terms of a stone.
func stonePage(s *model.Stone) page {
	p := page{}
	p.add(kindField, "stone")
	for _, c := range claimsOf(s) {
		p.claim(c)
	}
	p.place(s.Place.Cemetery, s.Place.County)
	return p
}

// documentID is the id of a document: what it is, and its place in its store.
func documentID(kind string, at int) string { return fmt.Sprintf("%s-%09d", kind, at) }

// pageDocument makes the document of a page. Its terms are ready, and taken as they are.
func pageDocument(id string, p page, cells []string) *document.Document {
	d := document.NewDocument(id)
	d.AddField(document.NewTextFieldCustom(textField, nil, []byte(strings.Join(cells, "\n")), bleveindex.IndexField|bleveindex.IncludeTermVectors, cellWords{}))
	for _, f := range [...]string{nameField, rootField, soundField, unitField, placeField, kindField} {
		if len(p[f]) > 0 {
			d.AddField(document.NewTextFieldCustom(f, nil, []byte(strings.Join(p[f], "\n")), bleveindex.IndexField, wordList{}))
		}
	}
	return d
}

// cellWords is the analyzer of the text field: the words of cells parted by line breaks. No phrase reaches from one cell into the next.
type cellWords struct{}

func (cellWords) Analyze(text []byte) analysis.TokenStream {
	var tokens analysis.TokenStream
	at, position := 0, 0
	for cell := range strings.SplitSeq(string(text), "\n") {
		for _, w := range splitWords(cell) {
			position++
			if strings.Trim(w.folded, "?*") != "" {
				tokens = append(tokens, &analysis.Token{Start: at + w.from, End: at + w.to, Term: []byte(w.folded), Position: position})
			}
		}
		at += len(cell) + 1
		position += maxPhrase
	}
	return tokens
}

// cellTexts are the texts of a row, cell by cell, each on one line; where it has no cells, what else there is to say.
func cellTexts(cells []model.Cell, otherwise string) []string {
	if len(cells) == 0 {
		return []string{otherwise}
	}
	texts := make([]string, len(cells))
	for i, c := range cells {
		texts[i] = strings.NewReplacer("\r", " ", "\n", " ").Replace(c.Value)
	}
	return texts
}
