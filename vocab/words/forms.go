package words

import (
	"math/bits"
	"slices"
	"strings"
)

// Forms finds the forms of a table in a text. A form is written as words parted by blanks, "U S C I"; the text may glue words of a form together
// ("USCI", "U.S. C.I.") but may not part what the form does not. T is what the table says of a form; the same form may be added more than once.
// Forms are added first, then sealed, then found: Find on Forms that are not sealed finds nothing.
//
// Where a form may start is told once, by Seal, for each word that may begin one. Whoever reads texts keeps that in the table in which he looks up all else of a word,
// so that one look-up serves for both.
type Forms[T any] struct {
	tree
	open   [][]branch // the tree while forms are added, openBranches at a time, so that none is moved
	values []T
	texts  []string // the letters of the forms, until sealed
}

// tree is the forms once sealed. It holds no values, so that one code walks all trees, and no pointers.
type tree struct {
	nodes []node
	ends  []int32 // by node: the first form that ends there, +1
	forms []form
}

type branch struct {
	next [alphabet]int32
	form int32 // first form that ends here, +1
}

// node is a place in the sealed tree, in eight bytes, so that the tree lies near the processor: a bit for every letter that goes on from it, goesOn, and above
// them the number of its first child. The children of a node lie side by side, in the order of their letters.
type node uint64

const (
	// goesOn marks a node at which a word of a form may end with more words to come: nearly all walks end where it is missing.
	goesOn    node = 1 << alphabet
	firstFrom      = alphabet + 1
)

// first is the first child.
func (n node) first() int32 { return int32(n >> firstFrom) }

// children is how many children the node has.
func (n node) children() int32 { return int32(bits.OnesCount64(uint64(n & (goesOn - 1)))) }

// child is the node behind a letter, or 0.
func (n node) child(letter int) int32 {
	bit := node(1) << uint(letter)
	if n&bit == 0 {
		return 0
	}
	return n.first() + int32(bits.OnesCount64(uint64(n&(bit-1))))
}

type form struct {
	breaks uint64 // bit k: a blank after k letters; the last after all of them
	longer int32  // the form before in the same node, +1
	value  int32
}

// Found is a form found in a text: the words from the one asked for to To-1. It holds no pointers.
type Found struct {
	To      int32
	Guessed int32 // how many lost letters were filled in
	value   int32
}

// Value is what the table says of a form found.
func (f *Forms[T]) Value(found *Found) *T { return &f.values[found.value] }

const alphabet = 36

// letterIndex numbers the letters of forms; -1 for any other.
func letterIndex(c byte) int {
	if c -= '0'; c < 10 {
		return int(c) + 26
	}
	if c -= 'A' - '0'; c < 26 {
		return int(c)
	}
	return -1
}

// Add adds a form. Forms are at most 63 letters long; it panics on a longer one, on one without letters, and where the forms are sealed.
func (f *Forms[T]) Add(text string, value T) { f.AddTo(f.Share(value), text) }

// Share adds a value that many forms share: those that AddTo adds to what it gives.
func (f *Forms[T]) Share(value T) int32 {
	f.values = append(f.values, value)
	return int32(len(f.values) - 1)
}

// AddTo is Add of a form of a shared value.
func (f *Forms[T]) AddTo(value int32, text string) {
	if f.nodes != nil {
		panic("form " + text + " comes after the forms were sealed")
	}
	at := f.root()
	t := Split(strings.ReplaceAll(text, "/", " "))
	size := 0
	var breaks uint64
	for i := range t.Words {
		for _, c := range []byte(t.Key(i)) {
			k := letterIndex(c)
			if k < 0 {
				panic("form " + text + " has a letter outside A to Z and 0 to 9")
			}
			if at.next[k] == 0 {
				at.next[k] = f.grow()
			}
			at = f.branch(at.next[k])
			size++
		}
		breaks |= 1 << size
	}
	if size == 0 || size > 63 {
		panic("form " + text + " is empty or too long")
	}
	f.forms = append(f.forms, form{breaks: breaks, longer: at.form, value: value})
	f.texts = append(f.texts, t.Letters())
	at.form = int32(len(f.forms))
}

const openBranches = 512

// root is the first branch of the open tree.
func (f *Forms[T]) root() *branch {
	if len(f.open) == 0 {
		f.grow()
	}
	return f.branch(0)
}

func (f *Forms[T]) branch(n int32) *branch { return &f.open[n/openBranches][n%openBranches] }

// grow adds a branch, and gives its number.
func (f *Forms[T]) grow() int32 {
	last := len(f.open) - 1
	if last < 0 || len(f.open[last]) == openBranches {
		f.open = append(f.open, make([]branch, 0, openBranches))
		last++
	}
	f.open[last] = append(f.open[last], branch{})
	return int32(last*openBranches + len(f.open[last]) - 1)
}

// Seal packs the forms, so that they are found fast: the tree is small enough to stay near the processor. No form can be added after it. It tells of every head of
// a form that may be the first word of a text, whole or glued, where Find starts with it.
func (f *Forms[T]) Seal(head func(word string, at int32)) {
	if f.nodes != nil || len(f.open) == 0 {
		return
	}
	last := len(f.open) - 1
	branches := last*openBranches + len(f.open[last])
	f.nodes, f.ends = make([]node, 1, branches), make([]int32, branches)
	from := make([]int32, 1, branches) // the branch that each node was
	for at := 0; at < len(f.nodes); at++ {
		b := f.branch(from[at])
		n := node(len(f.nodes)) << firstFrom
		for k, next := range b.next {
			if next != 0 {
				n |= 1 << uint(k)
				f.nodes, from = append(f.nodes, 0), append(from, next)
			}
		}
		f.nodes[at], f.ends[at] = n, b.form
	}
	f.open = nil
	for k, letters := range f.texts {
		at := int32(0)
		for n := range len(letters) {
			at = f.nodes[at].child(letterIndex(letters[n]))
			if f.forms[k].breaks&(1<<(n+1)) != 0 {
				head(letters[:n+1], at)
				if n+1 < len(letters) {
					f.nodes[at] |= goesOn
				}
			}
		}
	}
	f.texts, f.forms, f.values, f.nodes = nil, slices.Clip(f.forms), slices.Clip(f.values), slices.Clip(f.nodes)
}

// maxGuessed is how many lost letters may be filled in within one word, or as many as of the form are there.
const maxGuessed = 4

// Find appends to dst all forms that start at word i of the text; at is what Seal told of that word, 0 where it told nothing. Where words have lost letters,
// forms that fit are found as long as at least half of the letters are there.
func (f *Forms[T]) Find(dst []Found, t *Text, i int, at int32) []Found {
	flags := t.Words[i].Flags
	if at == 0 && flags&Lost == 0 || flags&Note != 0 || len(f.nodes) == 0 {
		return dst
	}
	w := walk{tree: &f.tree, t: t, dst: dst, first: i}
	if flags&Lost != 0 {
		w.lost(0, i, t.Key(i), 0, 0, 0)
	} else {
		n := t.Len(i)
		switch {
		case flags&Short != 0:
			n++
		case flags&Long != 0:
			n--
		}
		w.end(at, i, n, 0, 0)
	}
	return w.dst
}

type walk struct {
	*tree
	t     *Text
	dst   []Found
	first int
}

// word walks word i from a node; size letters and breaks stand behind it.
func (w *walk) word(at int32, i, size, guessed int, breaks uint64) {
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
		at = w.nodes[at].child(c)
		if at == 0 {
			return
		}
	}
	w.end(at, i, size+len(key), guessed, breaks)
}

// end notes the forms that end with word i, and walks on to the next word.
func (w *walk) end(at int32, i, size, guessed int, breaks uint64) {
	if size > 63 {
		return
	}
	breaks |= 1 << size
	for k := w.ends[at]; k > 0; {
		f := &w.forms[k-1]
		if breaks&^f.breaks == 0 {
			w.dst = append(w.dst, Found{To: int32(i + 1), Guessed: int32(guessed), value: f.value})
		}
		k = f.longer
	}
	if w.nodes[at]&goesOn != 0 && i+1 < len(w.t.Words) && i+1-w.first < 12 && w.t.Words[i+1].Flags&Note == 0 {
		w.word(at, i+1, size, guessed, breaks)
	}
}

// lost walks a word with lost letters.
func (w *walk) lost(at int32, i int, key string, size, guessed int, breaks uint64) {
	known := 0
	for k := range len(key) {
		if key[k] != '?' && key[k] != '*' {
			known++
		}
	}
	if len(key) == 2 && known == 1 && key[1] == '?' && guessed == 0 {
		// one letter, and damage after it: perhaps only its full stop
		if c := letterIndex(key[0]); c >= 0 && w.nodes[at].child(c) != 0 {
			w.end(w.nodes[at].child(c), i, size+1, 1, breaks)
			w.fill(at, i, key, size, 0, breaks) // "C[.]. H": or a word of two letters
		}
		return
	}
	lost := len(key) - known
	if size > 0 && guessed == 0 && known == 1 && size == 2 && key[0] != '?' && key[0] != '*' && strings.Trim(key[1:], "?") == "" { // "U. S. N[...]"
		w.fill(at, i, key, size, 0, breaks)
		return
	}
	if (known < 2 || known*2 < len(key)) && (size < 2*lost && (known < 3 || size+known < lost) || strings.IndexByte(key, '*') >= 0 || key[0] == '?' || key[0] == '*') || guessed > 0 {
		return // but of a form that has begun its last word may be worn away behind its first letter: "SP. AM. W[..]"
	}
	w.fill(at, i, key, size, 0, breaks)
}

// fill walks what is left of a word with lost letters, with every letter that may have stood there.
func (w *walk) fill(at int32, i int, key string, size, guessed int, breaks uint64) {
	if guessed > max(maxGuessed, size-guessed) {
		return
	}
	if key == "" {
		w.end(at, i, size, guessed, breaks)
		return
	}
	n := w.nodes[at]
	switch key[0] {
	case '?':
		if size == 1 && len(key) > 1 { // or only the point between two initials: "F[.]A.", "U[.]S."
			w.fill(at, i, key[1:], size, guessed+1, breaks)
		}
		if len(key) == 1 && size > 2 { // or only the point behind the word is lost: "MIC[..]" is MICH.
			w.end(at, i, size, guessed+1, breaks)
		}
		for k := range n.children() {
			w.fill(n.first()+k, i, key[1:], size+1, guessed+1, breaks)
		}
	case '*':
		w.fill(at, i, key[1:], size, guessed, breaks)
		for k := range n.children() {
			w.fill(n.first()+k, i, key, size+1, guessed+1, breaks)
		}
	default:
		if c := letterIndex(key[0]); c >= 0 && n.child(c) != 0 {
			w.fill(n.child(c), i, key[1:], size+1, guessed, breaks)
		}
	}
}
