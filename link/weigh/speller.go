package weigh

import (
	mathbits "math/bits"
	"sync"

	"musterstone/link/compare"
	"musterstone/vocab/name"
	"musterstone/vocab/name/near"
)

// A speller holds the distinct surnames of the rosters so that those which are like another one are found without comparing it with all of them letter by letter: a
// look at the length and at which letters occur rules out nearly all.
type speller struct {
	spellings []spelling
	// The surnames by length, those of n letters from byLength[n] on: their numbers, and what of them is looked at.
	numbers  []int32
	packed   []near.Packed
	letters  []near.Letters
	sieve    *near.Sieve
	byLength []int
	sounds   map[string]int32
	bySound  [][]int32 // by the number of the sound, the places of its surnames in numbers; 0 is none
	odd      []int32   // those with lost letters, which are compared one by one
	rooms    sync.Pool
}

// searchRoom is room for a search, used again for the next.
type searchRoom struct {
	list   []int32
	packed []near.Packed
}

// longest is the length from which surnames stand in one list.
const longest = 48

func newSpeller(names []string) *speller {
	s := &speller{spellings: make([]spelling, len(names)), sounds: map[string]int32{"": 0}, bySound: make([][]int32, 1)}
	s.rooms.New = func() any { return new(searchRoom) }
	sounds, lengths, letters := make([]string, len(names)), make([]int, len(names)), make([]near.Letters, len(names))
	inParts(len(names), func(from, to int) {
		for i := from; i < to; i++ {
			s.spellings[i], sounds[i] = newSpelling(names[i]), name.Sound(names[i])
		}
	})
	for i := range s.spellings {
		x := &s.spellings[i]
		k, ok := s.sounds[sounds[i]]
		if !ok {
			k = int32(len(s.bySound))
			s.sounds[sounds[i]] = k
			s.bySound = append(s.bySound, nil)
		}
		x.sound = k
		if x.odd {
			s.odd = append(s.odd, int32(i))
		}
		lengths[i], letters[i] = min(len(x.name), longest), near.LettersOf(x.name)
	}
	var place []int
	place, s.byLength = near.Places(lengths, longest, letters)
	s.numbers, s.packed, s.letters = make([]int32, len(names)), make([]near.Packed, len(names)), make([]near.Letters, len(names))
	for i, at := range place {
		x := &s.spellings[i]
		s.numbers[at], s.packed[at], s.letters[at] = int32(i), near.Pack(x.name), letters[i]
		if x.sound > 0 {
			s.bySound[x.sound] = append(s.bySound[x.sound], int32(at))
		}
	}
	s.sieve = near.NewSieve(s.letters)
	return s
}

// like calls each for every surname of the rosters that agrees with the whole name at some level.
func (s *speller) like(folded string, each func(number int32, level string)) {
	a := s.spelling(folded)
	var p compare.Prepared
	p.Set(folded)
	n, letters, mine := len(folded), near.LettersOf(folded), near.Packed(0)
	if packed := near.Pack(folded); packed.Plain() {
		mine = packed
	}
	var room [near.Longest]byte
	// level is surnameLevel of the name at a place, or "" where no more than the sound can agree: packed names tell that without a look at the names themselves.
	level := func(f *filter, at int32, other near.Packed, k int) string {
		if mine == 0 || other == 0 || n >= longest {
			return surnameLevel(&a, &s.spellings[s.numbers[at]], &p)
		}
		if mine == other {
			return "same"
		}
		off, jaro := near.Edits(mine, other, n, k), f.jaro[min(mine.Alike(other), 4)].within(letters, s.letters[at])
		if !jaro && (off == near.Far || off == 2 && n != k && min(n, k) < longSurname) {
			return ""
		}
		if off == near.Far && p.JaroWinkler(string(other.Append(room[:0]))) < nearSurname {
			return ""
		}
		const occurs = 1 << 52 / 3 // of each letter the bit for one: what sharesLetters asks for, without a look at the name
		if theirs := s.letters[at]; n-k < -3 || n-k > 3 || mathbits.OnesCount64(letters&^theirs&occurs) > 2 || mathbits.OnesCount64(theirs&^letters&occurs) > 2 {
			return ""
		}
		return nearLevel(&a, &s.spellings[s.numbers[at]], &p, off, jaro)
	}
	place := s.rooms.Get().(*searchRoom)
	defer s.rooms.Put(place)
	for k := max(0, min(n, longest)-3); k <= min(longest, n+3); k++ {
		f := newFilter(n, k)
		list := s.sieve.Near(place.list[:0], s.byLength[k], s.byLength[k+1], letters, f.any.gone, f.any.come)
		packed := place.packed[:0]
		for _, at := range list { // all at once, so that memory is waited for but once
			packed = append(packed, s.packed[at])
		}
		for i, at := range list {
			if l := level(f, at, packed[i], k); l != "" && l != "sound" {
				each(s.numbers[at], l)
			}
		}
		place.list, place.packed = list, packed
	}
	if a.sound <= 0 {
		return
	}
	var filters [near.Longest + 1]*filter
	for _, at := range s.bySound[a.sound] {
		l, k := "", s.packed[at].Len()
		if k == 0 { // not packed
			l = level(nil, at, 0, k)
		} else {
			if filters[k] == nil {
				filters[k] = newFilter(n, k)
			}
			if f := filters[k]; f.any.within(letters, s.letters[at]) {
				l = level(f, at, s.packed[at], k)
			}
		}
		if l == "" || l == "sound" {
			each(s.numbers[at], "sound")
		}
	}
}

// A filter says how many of the letters of a name may be missing from another of a given length, and how many new to it, for the two to be like each other by any
// of the measures of surnameLevel; more is ruled out. Jaro is the same for Jaro-Winkler's measure alone, by how many letters the two begin with alike.
type filter struct {
	any  allowed
	jaro [5]allowed
}

// allowed is how many letters may be gone, and how many come; below 0 for none at all.
type allowed struct{ gone, come int }

// within reports whether no more letters are gone from a name, and come to it, than are allowed.
func (l allowed) within(from, to near.Letters) bool {
	return mathbits.OnesCount64(from&^to) <= l.gone && mathbits.OnesCount64(to&^from) <= l.come
}

func newFilter(a, b int) *filter {
	f := &filter{any: allowed{-1, -1}}
	allow := func(l allowed) { f.any.gone, f.any.come = max(f.any.gone, l.gone), max(f.any.come, l.come) }
	d := a - b
	switch { // so many letters changed, lost or added
	case d == 0:
		allow(allowed{2, 2})
	case d == 1:
		allow(allowed{1, 0})
	case d == -1:
		allow(allowed{0, 1})
	}
	if min(a, b) >= longSurname {
		switch d {
		case 1:
			allow(allowed{2, 1})
		case -1:
			allow(allowed{1, 2})
		case 2:
			allow(allowed{2, 0})
		case -2:
			allow(allowed{0, 2})
		}
	}
	for prefix := range f.jaro {
		f.jaro[prefix] = jaroAllows(a, b, prefix, nearSurname)
		allow(f.jaro[prefix])
	}
	if a >= longest || b >= longest { // of one list, whatever their lengths
		allow(allowed{64, 64})
	}
	return f
}

// jaroAllows is how many letters may be gone and come for names of two lengths that begin with so many letters alike to be as similar as least by the measure of Jaro and Winkler.
func jaroAllows(a, b, prefix int, least float64) allowed {
	limit := allowed{-1, -1}
	// It is greatest for m letters that match where none is out of order.
	for m := min(a, b); m > 0; m-- {
		x := float64(m)
		j := (x/float64(a) + x/float64(b) + 1) / 3
		if j+0.1*float64(prefix)*(1-j) < least-1e-9 {
			break
		}
		limit = allowed{a - m, b - m}
	}
	return limit
}

// fitting calls each for every surname that fits the damaged one, or nearly does.
func (s *speller) fitting(pattern string, each func(number int32, level string)) {
	d := newDamaged(pattern)
	if d == nil {
		for i := range s.spellings {
			if level := fitLevel(pattern, s.spellings[i].name); level != "" {
				each(int32(i), level)
			}
		}
		return
	}
	from, to := max(0, d.known-1), longest
	if !d.open {
		to = min(longest, d.known+1)
	}
	const anyLetters = 64
	letters := near.LettersOf(pattern)
	place := s.rooms.Get().(*searchRoom)
	defer s.rooms.Put(place)
	for k := min(from, longest); k <= to; k++ {
		place.list = s.sieve.Near(place.list[:0], s.byLength[k], s.byLength[k+1], letters, 1, anyLetters)
		for _, at := range place.list {
			if packed := s.packed[at]; packed != 0 && packed.Plain() {
				if level := d.packed(packed); level != "" {
					each(s.numbers[at], level)
				}
			} else if x := &s.spellings[s.numbers[at]]; !x.odd {
				if level := d.level(x.name); level != "" {
					each(s.numbers[at], level)
				}
			}
		}
	}
	for _, n := range s.odd {
		if level := fitLevel(pattern, s.spellings[n].name); level != "" {
			each(n, level)
		}
	}
}

// damaged is a name with lost letters as an automaton (Wu and Manber 1992): bit i stands for i of its signs having been met, all of them in one row, all but one
// error in the other.
type damaged struct {
	eq    [26]uint64 // for each letter, the signs that it can be
	loops uint64     // where letters of unknown number are lost
	known int        // signs, stars apart
	open  bool       // there are stars
}

// newDamaged is nil for a pattern that is too long.
func newDamaged(pattern string) *damaged {
	d := &damaged{}
	if len(pattern) > 60 {
		return nil
	}
	for i := range len(pattern) {
		switch c := pattern[i]; {
		case c == '*':
			d.loops |= 1 << d.known
			d.open = true
		case c == '?':
			for k := range d.eq {
				d.eq[k] |= 1 << d.known
			}
			d.known++
		case c >= 'a' && c <= 'z':
			d.eq[c-'a'] |= 1 << d.known
			d.known++
		default:
			return nil
		}
	}
	return d
}

// level is fitLevel for a name of plain letters.
func (d *damaged) level(whole string) string {
	r0, r1 := uint64(1), uint64(3) // one sign of the pattern may be missing from the start
	for i := 0; i < len(whole) && r1 != 0; i++ {
		r0, r1 = d.next(r0, r1, d.eq[whole[i]-'a'])
	}
	return d.end(r0, r1)
}

// packed is level for a packed name of plain letters.
func (d *damaged) packed(p near.Packed) string {
	r0, r1 := uint64(1), uint64(3)
	for ; p != 0 && r1 != 0; p >>= 5 {
		r0, r1 = d.next(r0, r1, d.eq[(p&31-1)%26])
	}
	return d.end(r0, r1)
}

// next are the rows behind a letter that can be those signs.
func (d *damaged) next(r0, r1, eq uint64) (uint64, uint64) {
	next := r0&eq<<1 | r0&d.loops
	return next, r1&eq<<1 | r1&d.loops | r0 | r0<<1 | next<<1
}

func (d *damaged) end(r0, r1 uint64) string {
	switch end := uint64(1) << d.known; {
	case r0&end != 0:
		return "fits"
	case r1&end != 0:
		return "nearly fits"
	}
	return ""
}

// spelling is a folded surname made ready for comparing.
type spelling struct {
	name    string
	letters uint32 // a bit for each letter that occurs
	sound   int32  // number of its sound, 0 for none, -1 for one that no surname of the rosters has
	odd     bool   // it has signs that are no letters
}

func newSpelling(folded string) spelling {
	s := spelling{name: folded}
	for i := range len(folded) {
		if c := folded[i]; c >= 'a' && c <= 'z' {
			s.letters |= 1 << (c - 'a')
		} else {
			s.odd = true
		}
	}
	return s
}

// spelling makes a name ready for being compared with those of the rosters.
func (s *speller) spelling(folded string) spelling {
	x := newSpelling(folded)
	k, ok := s.sounds[name.Sound(folded)]
	if !ok {
		k = -1
	}
	x.sound = k
	return x
}
