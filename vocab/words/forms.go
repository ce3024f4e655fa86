package words

import "strings"

// Forms finds the forms of a table in a text. A form is written as words parted by blanks, "U S C I"; the text may glue words of a form together
// ("USCI", "U.S. C.I.") but may not part what the form does not. T is what the table says of a form; the same form may be added more than once. Not
// safe for changes while it is read.
type Forms[T any] struct {
	nodes  []node
	forms  []form[T]
	longer []int32 // forms chained by the form before in the same node
}

type node struct {
	next [alphabet]uint16
	form int32 // first form that ends here, +1
}

type form[T any] struct {
	value  T
	breaks uint64 // bit k: a blank after k letters
	size   int
}

// Hit is a form found in a text: words From the one asked for to To-1.
type Hit[T any] struct {
	To    int
	Value *T
	// Guessed is the number of lost letters that were filled in.
	Guessed int
	// Whole is the number of letters of the form.
	Whole int
}

const alphabet = 36

func letterIndex(c byte) int {
	switch {
	case c >= 'A' && c <= 'Z':
		return int(c - 'A')
	case c >= '0' && c <= '9':
		return int(c-'0') + 26
	}
	return -1
}

// Add adds a form. Forms are at most 63 letters long; it panics on a longer one and on one without letters.
func (f *Forms[T]) Add(text string, value T) {
	if len(f.nodes) == 0 {
		f.nodes = append(f.nodes, node{})
	}
	t := Split(strings.ReplaceAll(text, "/", " "))
	at, size := 0, 0
	var breaks uint64
	for i := range t.Words {
		for _, c := range []byte(t.Key(i)) {
			k := letterIndex(c)
			if k < 0 {
				panic("form " + text + " has a letter outside A to Z and 0 to 9")
			}
			if f.nodes[at].next[k] == 0 {
				f.nodes = append(f.nodes, node{})
				f.nodes[at].next[k] = uint16(len(f.nodes) - 1)
			}
			at = int(f.nodes[at].next[k])
			size++
		}
		breaks |= 1 << size
	}
	if size == 0 || size > 63 || len(f.nodes) > 65000 {
		panic("form " + text + " is empty or too long")
	}
	f.forms = append(f.forms, form[T]{value: value, breaks: breaks, size: size})
	f.longer = append(f.longer, f.nodes[at].form)
	f.nodes[at].form = int32(len(f.forms))
}

// maxGuessed is how many lost letters may be filled in within one word.
const maxGuessed = 4

// Find appends to dst all forms that start at word i of the text. Where words have lost letters, forms that fit are found
// as long as at least half of the letters are there.
func (f *Forms[T]) Find(dst []Hit[T], t *Text, i int) []Hit[T] {
	if len(f.nodes) == 0 {
		return dst
	}
	if t.Words[i].Flags&Note != 0 {
		return dst
	}
	w := walk[T]{f: f, t: t, dst: dst, first: i}
	w.word(0, i, 0, 0, 0)
	return w.dst
}

type walk[T any] struct {
	f     *Forms[T]
	t     *Text
	dst   []Hit[T]
	first int
}

// word walks word i from a node; size letters and breaks stand behind it.
func (w *walk[T]) word(at, i, size, guessed int, breaks uint64) {
	t := w.t
	key := t.keys[t.Words[i].at:t.Words[i].end]
	if t.Words[i].Flags&Lost != 0 {
		w.lost(at, i, key, size, guessed, breaks)
		return
	}
	for k := range len(key) {
		c := letterIndex(key[k])
		if c < 0 {
			return
		}
		at = int(w.f.nodes[at].next[c])
		if at == 0 {
			return
		}
	}
	w.ends(at, i, size+len(key), guessed, breaks)
}

// ends notes the forms that end with word i, and walks on to the next word.
func (w *walk[T]) ends(at, i, size, guessed int, breaks uint64) {
	if size > 63 {
		return
	}
	breaks |= 1 << size
	n := &w.f.nodes[at]
	for k := n.form; k > 0; k = w.f.longer[k-1] {
		f := &w.f.forms[k-1]
		if breaks&^f.breaks == 0 {
			w.dst = append(w.dst, Hit[T]{To: i + 1, Value: &f.value, Guessed: guessed, Whole: f.size})
		}
	}
	if i+1 < len(w.t.Words) && i+1-w.first < 12 && w.t.Words[i+1].Flags&Note == 0 {
		w.word(at, i+1, size, guessed, breaks)
	}
}

// lost walks a word with lost letters.
func (w *walk[T]) lost(at, i int, key string, size, guessed int, breaks uint64) {
	known := 0
	for k := range len(key) {
		if key[k] != '?' && key[k] != '*' {
			known++
		}
	}
	if len(key) == 2 && known == 1 && key[1] == '?' && guessed == 0 {
		// one letter, and damage after it: perhaps only its full stop
		if c := letterIndex(key[0]); c >= 0 && w.f.nodes[at].next[c] != 0 {
			w.ends(int(w.f.nodes[at].next[c]), i, size+1, 1, breaks)
			w.fill(at, i, key, size, 0, breaks) // "C[.]. H": or a word of two letters
		}
		return
	}
	if known < 2 || known*2 < len(key) || guessed > 0 {
		return
	}
	w.fill(at, i, key, size, 0, breaks)
}

func (w *walk[T]) fill(at, i int, key string, size, guessed int, breaks uint64) {
	if guessed > maxGuessed {
		return
	}
	if key == "" {
		w.ends(at, i, size, guessed, breaks)
		return
	}
	n := &w.f.nodes[at]
	switch key[0] {
	case '?':
		for _, next := range n.next {
			if next != 0 {
				w.fill(int(next), i, key[1:], size+1, guessed+1, breaks)
			}
		}
	case '*':
		w.fill(at, i, key[1:], size, guessed, breaks)
		for _, next := range n.next {
			if next != 0 {
				w.fill(int(next), i, key, size+1, guessed+1, breaks)
			}
		}
	default:
		if c := letterIndex(key[0]); c >= 0 && n.next[c] != 0 {
			w.fill(int(n.next[c]), i, key[1:], size+1, guessed, breaks)
		}
	}
}
