package words

import "iter"

// Table says what is known of single words, by their letters A to Z and 0 to 9 in capitals. It is a map that is quick for words of up to twelve letters, which
// nearly all are: one look at memory finds word and value together, so values should be small. The zero Table is ready; not safe for changes while it is read.
type Table[T any] struct {
	slots []slot[T] // a power of two, at most three quarters full
	used  int
	long  map[string]*T // words of more than twelve letters, or of other letters
}

// slot is a word, packed, and its value; word is 0 in a free slot.
type slot[T any] struct {
	word  uint64
	value T
}

// packed is a word of up to twelve letters as a number; 0 for any other.
func packed[S string | []byte](word S) uint64 {
	if len(word) > 12 {
		return 0
	}
	n := uint64(0)
	for i := range len(word) {
		k := codes[word[i]]
		if k == 0 {
			return 0
		}
		n = n*(alphabet+1) + uint64(k)
	}
	return n
}

// codes are the numbers of the letters in a packed word, 0 for what cannot be packed.
var codes = func() (all [256]byte) {
	for c := range all {
		all[c] = byte(letterIndex(byte(c)) + 1)
	}
	return all
}()

// place is where a packed word stands, or the free slot where it would.
func (t *Table[T]) place(p uint64) int {
	mask := len(t.slots) - 1
	i := int((p*0x9E3779B97F4A7C15)>>32) & mask
	for t.slots[i].word != 0 && t.slots[i].word != p {
		i = (i + 1) & mask
	}
	return i
}

// Get is what is known of a word; nil where nothing is.
func (t *Table[T]) Get(word string) *T { return t.get(packed(word), word) }

// Of is what is known of word i of a text; nil where nothing is.
func (t *Table[T]) Of(text *Text, i int) *T {
	p := text.Words[i].code
	if p == 0 {
		return t.long[text.Key(i)]
	}
	return t.get(p, "")
}

// With is what is known of word i of a text, of twelve letters at most, with another letter in place of its letter k; nil where nothing is.
func (t *Table[T]) With(text *Text, i, k int, letter byte) *T {
	w := &text.Words[i]
	own, other := uint64(codes[text.keys[w.at+k]]), uint64(codes[letter])
	if w.code == 0 || other == 0 {
		return nil
	}
	return t.get(w.code+(other-own)*places[w.end-w.at-1-k], "")
}

// Longer is what is known of word i of a text, of eleven letters at most, with a letter more before its letter k, or behind all of them; nil where nothing is.
func (t *Table[T]) Longer(text *Text, i, k int, letter byte) *T {
	w := &text.Words[i]
	n, c := w.end-w.at, uint64(codes[letter])
	if w.code == 0 || c == 0 || n >= len(places) {
		return nil
	}
	rest := places[n-k]
	return t.get((w.code/rest*(alphabet+1)+c)*rest+w.code%rest, "")
}

// Written is what is known of a word by its letters; nil where nothing is. Unlike Get, it asks for no text of its own.
func (t *Table[T]) Written(word []byte) *T { return t.get(packed(word), "") }

// places are what the letters of a packed word count, the last first.
var places = func() (all [12]uint64) {
	n := uint64(1)
	for k := range all {
		all[k] = n
		n *= alphabet + 1
	}
	return all
}()

func (t *Table[T]) get(p uint64, word string) *T {
	if p == 0 {
		return t.long[word]
	}
	if len(t.slots) == 0 {
		return nil
	}
	if s := &t.slots[t.place(p)]; s.word == p {
		return &s.value
	}
	return nil
}

// At is what is known of a word, to be changed; the word is added where it is new. What At gave before is no longer good then.
func (t *Table[T]) At(word string) *T {
	if v := t.Get(word); v != nil {
		return v
	}
	t.used++
	p := packed(word)
	if p == 0 {
		if t.long == nil {
			t.long = map[string]*T{}
		}
		v := new(T)
		t.long[word] = v
		return v
	}
	if 4*t.used > 3*len(t.slots) {
		old := t.slots
		t.slots = make([]slot[T], max(64, 2*len(old)))
		for k := range old {
			if old[k].word != 0 {
				t.slots[t.place(old[k].word)] = old[k]
			}
		}
	}
	s := &t.slots[t.place(p)]
	s.word = p
	return &s.value
}

// Len is how many words are known.
func (t *Table[T]) Len() int { return t.used }

// unpacked is the word that packed made a number of.
func unpacked(p uint64) string {
	var letters [12]byte
	i := len(letters)
	for ; p > 0; p /= alphabet + 1 {
		i--
		if k := byte(p%(alphabet+1)) - 1; k < 26 {
			letters[i] = 'A' + k
		} else {
			letters[i] = '0' + k - 26
		}
	}
	return string(letters[i:])
}

// All gives the words and what is known of them, in no order.
func (t *Table[T]) All() iter.Seq2[string, *T] {
	return func(yield func(string, *T) bool) {
		for k := range t.slots {
			if s := &t.slots[k]; s.word != 0 && !yield(unpacked(s.word), &s.value) {
				return
			}
		}
		for word, v := range t.long {
			if !yield(word, v) {
				return
			}
		}
	}
}
