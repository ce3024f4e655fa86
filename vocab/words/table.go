package words

// Table says what is known of single words, by their letters A to Z and 0 to 9 in capitals. It is a map that is quick for words of up to twelve letters, which
// nearly all are. The zero Table is ready; not safe for changes while it is read.
type Table[T any] struct {
	slots  []slot // a power of two, at most half full
	values []T
	long   map[string]int32 // words of more than twelve letters, or of other letters
}

// slot is a word, packed, and where its value stands, +1; 0 for a free slot.
type slot struct {
	word  uint64
	value int32
}

// packed is a word of up to twelve letters as a number; 0 for any other.
func packed[S string | []byte](word S) uint64 {
	if len(word) > 12 {
		return 0
	}
	n := uint64(0)
	for i := range len(word) {
		k := letterIndex(word[i])
		if k < 0 {
			return 0
		}
		n = n*(alphabet+1) + uint64(k) + 1
	}
	return n
}

// place is where a packed word stands, or the free slot where it would.
func (t *Table[T]) place(p uint64) int {
	mask := len(t.slots) - 1
	i := int((p*0x9E3779B97F4A7C15)>>32) & mask
	for t.slots[i].value != 0 && t.slots[i].word != p {
		i = (i + 1) & mask
	}
	return i
}

// Get is what is known of a word; nil where nothing is.
func (t *Table[T]) Get(word string) *T { return t.get(packed(word), word) }

// Of is what is known of word i of a text; nil where nothing is.
func (t *Table[T]) Of(text *Text, i int) *T { return t.get(text.Words[i].code, text.Key(i)) }

func (t *Table[T]) get(p uint64, word string) *T {
	if p != 0 {
		if len(t.slots) == 0 {
			return nil
		}
		if n := t.slots[t.place(p)].value; n > 0 {
			return &t.values[n-1]
		}
		return nil
	}
	if n := t.long[word]; n > 0 {
		return &t.values[n-1]
	}
	return nil
}

// At is what is known of a word, to be changed; the word is added where it is new. What At gave before is no longer good then.
func (t *Table[T]) At(word string) *T {
	if v := t.Get(word); v != nil {
		return v
	}
	var zero T
	t.values = append(t.values, zero)
	n := int32(len(t.values))
	p := packed(word)
	switch {
	case p == 0:
		if t.long == nil {
			t.long = map[string]int32{}
		}
		t.long[word] = n
	default:
		if 2*int(n) > len(t.slots) {
			old := t.slots
			t.slots = make([]slot, max(64, 2*len(old)))
			for _, s := range old {
				if s.value != 0 {
					t.slots[t.place(s.word)] = s
				}
			}
		}
		t.slots[t.place(p)] = slot{p, n}
	}
	return &t.values[n-1]
}

// Len is how many words are known.
func (t *Table[T]) Len() int { return len(t.values) }
