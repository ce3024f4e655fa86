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
	bits    []uint64 // the same, a bit for each counted text, where they are not too many
	u       float64
}

// mostBits is how many texts there may be for held to have bits.
const mostBits = 1 << 16

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
	if len(x.t.values) <= mostBits {
		h.bits = make([]uint64, (len(x.t.values)+63)/64)
		for _, i := range h.numbers {
			h.bits[i>>6] |= 1 << (i & 63)
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

// has reports whether the text, counted under the number or strange, holds the words.
func (h *held) has(number int32, text, holds string) bool {
	if number == strange {
		return contains(text, holds)
	}
	if h.bits != nil {
		return h.bits[number>>6]>>(number&63)&1 != 0
	}
	_, ok := slices.BinarySearch(h.numbers, number)
	return ok
}
