package index

import (
	"fmt"
	"strings"
	"unsafe"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/document"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"musterstone/model"
)

// wordsWriters is how many goroutines write documents; each holds a batch.
const wordsWriters = 4

// A wordsWriter makes documents and writes them in batches. It is for one goroutine.
type wordsWriter struct {
	index bleve.Index
	batch *bleve.Batch
	split map[string][]word // of short cells, which come again and again

	// Room for the tokens of a batch, used again for the next.
	tokens [][]analysis.Token
	used   int
	list   ready
}

// slab is how many tokens there is room made for at a time.
const slab = 1 << 12

// token gives a term its place, in room that is good until the batch is written.
func (w *wordsWriter) token(term string, at int) *analysis.Token {
	if w.used/slab == len(w.tokens) {
		w.tokens = append(w.tokens, make([]analysis.Token, slab))
	}
	t := &w.tokens[w.used/slab][w.used%slab]
	w.used++
	*t = analysis.Token{Term: unsafe.Slice(unsafe.StringData(term), len(term)), Position: at} // nobody writes to it
	return t
}

func newWordsWriter(ix bleve.Index) *wordsWriter {
	return &wordsWriter{index: ix, batch: ix.NewBatch(), split: map[string][]word{}}
}

// records writes a stretch of the records, and gives their number.
func (w *wordsWriter) records(x *Index, from, to int) (int, error) {
	stored := storeReader{store: x.records}
	p := page{}
	for i := from; i < to; i++ {
		r, err := x.recordBy(stored.read, i)
		if err != nil {
			return 0, err
		}
		for f := range p {
			p[f] = p[f][:0]
		}
		p.add(kindField, "record")
		p.claim(r.Claim)
		otherwise := ""
		if len(r.Written) == 0 {
			otherwise = recordWords(r)
		}
		if err := w.add(documentID("record", i), p, r.Written, otherwise); err != nil {
			return 0, err
		}
	}
	return to - from, w.flush()
}

func (w *wordsWriter) flush() error {
	err := w.index.Batch(w.batch)
	w.batch.Reset()
	w.used, w.list = 0, w.list[:0]
	return err
}

// add puts a document into the batch: the terms of the page, and the words of the cells or, where there are none, of another text.
func (w *wordsWriter) add(id string, p page, cells []model.Cell, otherwise string) error {
	d := document.NewDocument(id)
	field := func(name string, tokens ready, options bleveindex.FieldIndexingOptions) {
		d.AddField(document.NewTextFieldCustom(name, nil, nil, bleveindex.IndexField|options, tokens))
	}
	from, at := len(w.list), 0
	if len(cells) == 0 {
		at = w.words(otherwise, at)
	}
	for i := range cells {
		at = w.words(cells[i].Value, at)
	}
	field(textField, w.list[from:len(w.list):len(w.list)], bleveindex.IncludeTermVectors)
	for _, f := range [...]string{nameField, rootField, soundField, unitField, placeField, kindField} {
		if list := p[f]; len(list) > 0 {
			from := len(w.list)
			for i, t := range list {
				w.list = append(w.list, w.token(t, i+1))
			}
			field(f, w.list[from:len(w.list):len(w.list)], 0)
		}
	}
	return w.batch.IndexAdvanced(d)
}

// words puts the words of a cell into the list; at is the place of the last word before it, and what is given that of its own last. No phrase reaches from one cell into the next.
func (w *wordsWriter) words(text string, at int) int {
	list, ok := w.split[text]
	if !ok {
		list = splitWords(text)
		if len(text) <= 32 {
			if len(w.split) >= 1<<16 {
				clear(w.split)
			}
			w.split[strings.Clone(text)] = list
		}
	}
	for i := range list {
		at++
		if t := list[i].folded; strings.Trim(t, "?*") != "" {
			w.list = append(w.list, w.token(t, at))
		}
	}
	return at + maxPhrase
}

// ready is an analyzer whose work is done.
type ready analysis.TokenStream

func (r ready) Analyze([]byte) analysis.TokenStream { return analysis.TokenStream(r) }

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
