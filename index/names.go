package index

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/analysis"
	"github.com/blevesearch/bleve/v2/document"
	"github.com/blevesearch/bleve/v2/index/scorch"
	bleveindex "github.com/blevesearch/bleve_index_api"

	"musterstone/vocab/name"
)

// names finds surnames of the roll like one on a stone. It searches the distinct surnames and not the men: a
// hundred thousand names serve a million men, and what a name turns up is the same for every stone that bears it.
//
// Sounds are sorted arrays. Near spellings are found by going through the sorted surnames (scan); where there are very many, by walking the
// term dictionary of a bleve index with an automaton (near), whose documents are the groups of names that sound alike.
type names struct {
	roll    *roll
	index   bleve.Index // nil where there are fewer than manySurnames
	reader  bleveindex.IndexReader
	sounds  soundOrder
	soundex soundOrder
	closed  []uint32 // the surnames without a stretch of unknown length, sorted
	shared  []uint8  // how many letters each of them shares with the one before
	open    []uint32 // the others
}

// A soundOrder has the numbers of the surnames sorted by a key of how they sound.
type soundOrder struct {
	key   []string // of each surname
	order []uint32
}

func newSoundOrder(surnames []string, key func(string) string) soundOrder {
	s := soundOrder{key: make([]string, len(surnames)), order: make([]uint32, len(surnames))}
	for i, n := range surnames {
		s.order[i] = uint32(i)
		if n != "" {
			s.key[i] = key(n)
		}
	}
	s.sort()
	return s
}

func (s *soundOrder) sort() {
	slices.SortStableFunc(s.order, func(a, b uint32) int { return cmp.Compare(s.key[a], s.key[b]) })
}

// like gives the surnames with that key.
func (s *soundOrder) like(key string) []uint32 {
	if key == "" {
		return nil
	}
	i, _ := slices.BinarySearchFunc(s.order, key, func(n uint32, k string) int { return cmp.Compare(s.key[n], k) })
	j := i
	for j < len(s.order) && s.key[s.order[j]] == key {
		j++
	}
	return s.order[i:j]
}

const spellingField = "spelling"

// wordList is the analyzer of the spellings: words parted by line breaks, each a term.
type wordList struct{}

func (wordList) Analyze(text []byte) analysis.TokenStream {
	var tokens analysis.TokenStream
	at := 0
	for w := range strings.SplitSeq(string(text), "\n") {
		tokens = append(tokens, &analysis.Token{Start: at, End: at + len(w), Term: []byte(w), Position: len(tokens) + 1})
		at += len(w) + 1
	}
	return tokens
}

// spellingBatch is how many documents go into one batch; larger ones only take more memory.
const spellingBatch = 4000

// buildSpellings makes the bleve index of the surnames in a new folder.
func buildSpellings(folder string, surnames []string, sounds soundOrder) (err error) {
	ix, err := bleve.NewUsing(folder, bleve.NewIndexMapping(), scorch.Name, scorch.Name, nil)
	if err != nil {
		return err
	}
	defer func() {
		if e := ix.Close(); err == nil {
			err = e
		}
	}()
	batch := ix.NewBatch()
	for i := 0; i < len(sounds.order); {
		key := sounds.key[sounds.order[i]]
		var group []string
		for ; i < len(sounds.order) && sounds.key[sounds.order[i]] == key; i++ {
			if n := surnames[sounds.order[i]]; n != "" {
				group = append(group, n)
			}
		}
		if len(group) == 0 {
			continue
		}
		d := document.NewDocument(key)
		d.AddField(document.NewTextFieldCustom(spellingField, nil, []byte(strings.Join(group, "\n")), bleveindex.IndexField, wordList{}))
		if err := batch.IndexAdvanced(d); err != nil {
			return err
		}
		if batch.Size() >= spellingBatch {
			if err := ix.Batch(batch); err != nil {
				return err
			}
			batch.Reset()
		}
	}
	return ix.Batch(batch)
}

// groups is how many documents the bleve index of the spellings must have.
func (s *soundOrder) groups(surnames []string) int {
	n, last := 0, "\x00"
	for _, i := range s.order {
		if surnames[i] != "" && s.key[i] != last {
			n, last = n+1, s.key[i]
		}
	}
	return n
}

// newNames makes ready to find surnames by going through them.
func newNames(r *roll, sounds, soundex soundOrder) *names {
	n := &names{roll: r, sounds: sounds, soundex: soundex}
	last := ""
	for i, s := range r.surnames {
		if strings.Contains(s, "*") {
			n.open = append(n.open, uint32(i))
			continue
		}
		k := 0
		for k < min(len(s), len(last), maxSpelling) && s[k] == last[k] {
			k++
		}
		n.closed, n.shared = append(n.closed, uint32(i)), append(n.shared, uint8(k))
		last = s
	}
	return n
}

// openSpellings opens the bleve index of the spellings, for reading only.
func (n *names) openSpellings(folder string) error {
	ix, err := bleve.OpenUsing(folder, map[string]any{"read_only": true})
	if err != nil {
		return fmt.Errorf("open the index of surnames: %w", err)
	}
	want := n.sounds.groups(n.roll.surnames)
	count, err := ix.DocCount()
	if err == nil && int(count) != want {
		err = fmt.Errorf("the index of surnames has %d groups and not %d: %w", count, want, errDamaged)
	}
	var inner bleveindex.Index
	if err == nil {
		inner, err = ix.Advanced()
	}
	if err == nil {
		n.reader, err = inner.Reader()
	}
	if err != nil {
		ix.Close()
		return err
	}
	n.index = ix
	return nil
}

func (n *names) close() error {
	if n.index == nil {
		return nil
	}
	err := n.reader.Close()
	return errors.Join(err, n.index.Close())
}

// near gives the numbers of the surnames within so many edits (1 or 2; a swap of two letters is one) of a spelling.
func (n *names) near(spelling string, edits int) ([]uint32, error) {
	fuzzy, ok := n.reader.(bleveindex.IndexReaderFuzzy)
	if !ok {
		return nil, fmt.Errorf("look up %q: the index of surnames cannot search for near spellings", spelling)
	}
	dict, err := fuzzy.FieldDictFuzzy(spellingField, spelling, edits, "")
	if err != nil {
		return nil, fmt.Errorf("look up %q: %w", spelling, err)
	}
	defer dict.Close()
	var found []uint32
	for {
		e, err := dict.Next()
		if err != nil {
			return nil, fmt.Errorf("look up %q: %w", spelling, err)
		}
		if e == nil {
			return found, nil
		}
		if i, ok := n.roll.surnameNumber(e.Term); ok {
			found = append(found, i)
		}
	}
}

// manySurnames is from how many surnames on walking a term dictionary with an automaton, which takes long to make ready, is quicker
// than going through them all; measured by BenchmarkNear.
const manySurnames = 150_000

// alike are the surnames that a stone's surname may be, by how: each once, in the first list that has it.
type alike struct {
	exact, near1, near2, sound, soundex, far []uint32
}

// find gives the surnames like a folded one, which may have lost letters.
func (n *names) find(pattern string) (alike, error) {
	var a alike
	letters := len(pattern) - strings.Count(pattern, "?") - strings.Count(pattern, "*")
	if letters == 0 || len(pattern) > maxSpelling {
		return a, nil
	}
	edits := 2
	switch {
	case letters <= 2:
		edits = 0
	case letters <= 3:
		edits = 1
	}
	seen := map[uint32]bool{}
	take := func(list *[]uint32, i uint32) {
		if n.roll.surnames[i] != "" && !seen[i] {
			seen[i] = true
			*list = append(*list, i)
		}
	}
	place := func(i uint32, d int) {
		switch d {
		case 0:
			take(&a.exact, i)
		case 1:
			take(&a.near1, i)
		case 2:
			take(&a.near2, i)
		default:
			take(&a.far, i)
		}
	}
	if n.index == nil || letters < len(pattern) || edits == 0 {
		// Lost letters, and errors beside them, are more than the automata can say.
		n.scan(pattern, edits, place)
	} else {
		near, err := n.near(pattern, edits)
		if err != nil {
			return a, err
		}
		for _, i := range near {
			place(i, distance(pattern, n.roll.surnames[i], edits))
		}
	}
	if letters >= 8 && len(a.exact) == 0 {
		// A long name that nobody bears may have a third error.
		n.scan(pattern, 3, place)
	}
	if letters == len(pattern) {
		for _, i := range n.sounds.like(name.Sound(pattern)) {
			take(&a.sound, i)
		}
		for _, i := range n.soundex.like(name.Soundex(pattern)) {
			take(&a.soundex, i)
		}
	}
	return a, nil
}
