package weigh

import (
	"slices"
	"strings"
	"sync"
)

// texts are the counted words on burial grounds or homes, found by the words that they hold.
type texts struct {
	field, level string
	t            *tally
	words        func() map[string][]int32 // the texts that hold a word
	held         sync.Map                  // by the words looked for: what is known of them
}

// held are the counted texts that hold some words, sorted, and the chance that one does.
type held struct {
	numbers []int32
	kinds   []uint8 // for each counted text, from missing on, whether it holds them; nil where there are too many
	u       float64
}

// mostKinds is how many texts there may be for held to have kinds.
const mostKinds = 1 << 16

func newTexts(field, level string, t *tally) *texts {
	x := &texts{field: field, level: level, t: t}
	x.words = sync.OnceValue(func() map[string][]int32 {
		m := map[string][]int32{}
		for i, text := range t.values {
			for _, w := range words(text) {
				if list := m[w]; len(list) == 0 || list[len(list)-1] != int32(i) {
					m[w] = append(list, int32(i))
				}
			}
		}
		return m
	})
	return x
}

// holding finds the texts that hold the words, given with blanks between and around.
func (x *texts) holding(holds string) *held {
	if h, ok := x.held.Load(holds); ok {
		return h.(*held)
	}
	h := &held{}
	n, all := 0, 0
	for _, i := range x.words()[strings.Fields(holds)[0]] {
		if text := x.t.values[i]; contains(text, holds) {
			h.numbers = append(h.numbers, i)
			n += x.t.n[text]
		}
	}
	for _, k := range x.t.n {
		all += k
	}
	if all := len(x.t.values); all <= mostKinds {
		h.kinds = make([]uint8, all+1)
		for i := range h.kinds {
			h.kinds[i] = heldNot
		}
		h.kinds[0] = heldNone // missing
		for _, i := range h.numbers {
			h.kinds[i-missing] = heldHas
		}
	}
	h.u = chance(x.field, x.level, 0, float64(n), float64(all))
	v, _ := x.held.LoadOrStore(holds, h)
	return v.(*held)
}

// contains reports whether a text holds the words, given with blanks between and around.
func contains(text, holds string) bool {
	return strings.Contains(" "+strings.Join(words(text), " ")+" ", holds)
}

// Whether a text holds the words.
const (
	heldNone = iota // there is no text
	heldNot
	heldHas
	heldKinds

	heldRoom = 4 // above all of them
)

// has says whether the text, counted under the number, or missing, or strange, which is beyond all, holds the words; ok is false where it must be searched.
func (h *held) has(number int32) (kind uint8, ok bool) {
	if at := uint32(number - missing); int(at) < len(h.kinds) {
		return h.kinds[at], true
	}
	return heldNone, false
}

// search is has for a text that is not among the kinds.
func (h *held) search(number int32, text, holds string) uint8 {
	found := false
	switch number {
	case missing:
		return heldNone
	case strange:
		found = contains(text, holds)
	default:
		_, found = slices.BinarySearch(h.numbers, number)
	}
	if found {
		return heldHas
	}
	return heldNot
}
