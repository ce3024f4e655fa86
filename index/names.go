package index

import (
	"cmp"
	"encoding/binary"
	"slices"
	"strings"
	"sync"

	"musterstone/vocab/name"
	"musterstone/vocab/name/near"
)

// names finds surnames of the roll like one on a stone. It searches the distinct surnames and not the men: a
// hundred thousand names serve a million men, and what a name turns up is the same for every stone that bears it.
//
// Sounds are sorted arrays. Near spellings are found by going through all surnames, of which nearly all are passed over by the letters that they have.
type names struct {
	roll    *roll
	sounds  soundOrder
	soundex soundOrder

	// The surnames without lost letters by their length, at most maxSpelling: those of n letters begin at byLength[n]. The others are in lost.
	sieve    *near.Sieve
	packed   []near.Packed
	number   []uint32
	byLength []int
	lost     []uint32
	longest  int // letters of the longest surname
	// By the surname's number, both in one place of memory; packed is 0 for one with lost letters.
	known []knownSurname

	seen sync.Pool // of lists of bits, all 0
}

// knownSurname is a surname packed, and which letters it has.
type knownSurname struct {
	packed  near.Packed
	letters near.Letters
}

// A soundOrder has the numbers of the surnames sorted by a key of how they sound.
type soundOrder struct {
	key   []string // of each surname
	order []uint32
}

func newSoundOrder(surnames []string, key func(string) string) soundOrder {
	s := soundOrder{key: make([]string, len(surnames))}
	for i, n := range surnames {
		if n != "" {
			s.key[i] = key(n)
		}
	}
	s.order = inOrder(s.key)
	return s
}

// inOrder gives the numbers of texts in the order of these, of equal ones as they stand. Most texts differ in their first eight bytes, which are compared as one number.
func inOrder(texts []string) []uint32 {
	type place struct {
		head uint64
		n    uint32
	}
	places := make([]place, len(texts))
	for i, t := range texts {
		var head [8]byte
		copy(head[:], t)
		places[i] = place{binary.BigEndian.Uint64(head[:]), uint32(i)}
	}
	slices.SortFunc(places, func(a, b place) int {
		if a.head != b.head {
			return cmp.Compare(a.head, b.head)
		}
		return cmp.Or(cmp.Compare(texts[a.n], texts[b.n]), cmp.Compare(a.n, b.n))
	})
	order := make([]uint32, len(places))
	for i := range places {
		order[i] = places[i].n
	}
	return order
}

// sound reports whether the order is one of so many surnames.
func (s *soundOrder) sound(surnames int) bool {
	return len(s.key) == surnames && len(s.order) == surnames && below(s.order, surnames)
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

func newNames(r *roll, sounds, soundex soundOrder) *names {
	n := &names{roll: r, sounds: sounds, soundex: soundex}
	bits := len(r.surnames)/64 + 1 // r itself is not held: it may be a builder's
	n.seen.New = func() any { list := make([]uint64, bits); return &list }
	length := func(s string) int { return min(len(s), maxSpelling) }
	n.known = make([]knownSurname, len(r.surnames))
	var whole []uint32
	var lengths []int
	var letters []near.Letters
	for i, s := range r.surnames {
		n.longest = max(n.longest, len(s))
		if strings.ContainsAny(s, "?*") {
			n.lost = append(n.lost, uint32(i))
			continue
		}
		n.known[i] = knownSurname{near.Pack(s), near.LettersOf(s[:length(s)])}
		whole, lengths, letters = append(whole, uint32(i)), append(lengths, length(s)), append(letters, n.known[i].letters)
	}
	var place []int
	place, n.byLength = near.Places(lengths, maxSpelling, letters)
	sets := make([]near.Letters, len(whole))
	n.packed, n.number = make([]near.Packed, len(whole)), make([]uint32, len(whole))
	for k, i := range whole {
		at, known := place[k], &n.known[i]
		sets[at], n.packed[at], n.number[at] = known.letters, known.packed, i
	}
	n.sieve = near.NewSieve(sets)
	return n
}

// alike are the surnames that a stone's surname may be, by how: each once, in the first list that has it.
type alike struct {
	pattern *spellingPattern

	exact               []uint32
	spelled1, near1     []uint32 // one edit away, of the same sound and of another
	spelled2, near2     []uint32 // two edits away
	rendered            []uint32 // known renderings
	sound, soundex, far []uint32

	apart, longest int // see measure

	hits []surnameHit // all of them, the likeliest first, once they are weighed; see scorer.hits
}

// likeLists is how many lists of surnames there are.
const likeLists = 9

// lists are the surnames by how they are alike.
func (a *alike) lists() [likeLists][]uint32 {
	return [...][]uint32{a.exact, a.spelled1, a.near1, a.spelled2, a.near2, a.rendered, a.sound, a.soundex, a.far}
}

// find gives the surnames like a folded one, which may have lost letters.
func (n *names) find(pattern string) alike {
	a := alike{pattern: newSpellingPattern(pattern), longest: max(1, len(pattern), n.longest)}
	letters := len(pattern) - strings.Count(pattern, "?") - strings.Count(pattern, "*")
	if letters == 0 || len(pattern) > maxSpelling {
		return a
	}
	edits := 2
	switch {
	case letters <= 2:
		edits = 0
	case letters <= 3:
		edits = 1
	}
	// A long name that nobody bears may have a third error.
	third := letters >= 8
	if _, ok := n.roll.surnameNumber(pattern); ok {
		third = false
	}
	seen := n.seen.Get().(*[]uint64) // a bit for each surname
	defer func() {
		for _, list := range a.lists() {
			for _, i := range list {
				(*seen)[i/64] = 0
			}
		}
		n.seen.Put(seen)
	}()
	take := func(list *[]uint32, i uint32) {
		if word, bit := &(*seen)[i/64], uint64(1)<<(i%64); n.roll.surnames[i] != "" && *word&bit == 0 {
			*word |= bit
			*list = append(*list, i)
		}
	}
	var far []uint32
	sound := "" // of a pattern without lost letters
	if letters == len(pattern) {
		sound = name.Sound(pattern)
	}
	put := func(i uint32, spelled, other *[]uint32) {
		if sound != "" && n.sounds.key[i] == sound {
			other = spelled
		}
		take(other, i)
	}
	n.scan(a.pattern, max(edits, 3*truth(third)), func(i uint32, d int) {
		switch d {
		case 0:
			take(&a.exact, i)
		case 1:
			put(i, &a.spelled1, &a.near1)
		case 2:
			put(i, &a.spelled2, &a.near2)
		default:
			far = append(far, i)
		}
	})
	a.apart = edits + 1
	if len(a.exact) == 0 {
		for _, i := range far {
			take(&a.far, i)
		}
	}
	if !a.pattern.open && len(n.lost) == 0 && n.longest <= maxSpelling {
		a.longest = min(a.longest, len(pattern)+a.apart)
	}
	if letters == len(pattern) {
		for _, r := range name.Renderings(pattern) {
			if i, ok := n.roll.surnameNumber(r.Name); ok {
				take(&a.rendered, i)
			}
		}
		for _, i := range n.sounds.like(sound) {
			take(&a.sound, i)
		}
		for _, i := range n.soundex.like(name.Soundex(pattern)) {
			take(&a.soundex, i)
		}
	}
	return a
}

// truth is 1 for what is so.
func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}
