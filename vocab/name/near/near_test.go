package near

import (
	"math/bits"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
)

// TestSieve: what the sieve lets through is what has so few letters too many or too few, one by one.
func TestSieve(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	random := func() Letters {
		l := Letters(0)
		for range r.IntN(9) {
			l |= 1 << min(r.IntN(40), r.IntN(40), 63)
		}
		return l
	}
	sets := make([]Letters, 1000)
	for i := range sets {
		sets[i] = random()
	}
	s := NewSieve(sets)
	found := 0
	for range 500 {
		has, from, to := random(), r.IntN(len(sets)), r.IntN(len(sets)+1)
		if r.IntN(20) == 0 {
			has |= 1 << 50 // no name has it
		}
		gone, come := r.IntN(6)-1, r.IntN(6)-1
		if r.IntN(10) == 0 {
			come = 64
		}
		var want []int32
		for i := from; i < to; i++ {
			if bits.OnesCount64(has&^sets[i]) <= gone && bits.OnesCount64(sets[i]&^has) <= come {
				want = append(want, int32(i))
			}
		}
		if got := s.Near(nil, from, to, has, gone, come); !slices.Equal(got, want) {
			t.Fatalf("%b from %d to %d, %d gone, %d come: %v, want %v", has, from, to, gone, come, got, want)
		}
		found += len(want)
	}
	if found < 1000 {
		t.Errorf("only %d were found", found)
	}
}

// edit makes one edit to a name: a letter changed, put in or taken out, or two neighbours that change places. The place is at or behind from, so that no letter is edited twice;
// it gives the place from which the next edit may be.
func edit(r *rand.Rand, s string, from int) (string, int) {
	at := from + r.IntN(max(1, len(s)-from))
	letter := string(rune('a' + r.IntN(5)))
	switch kind := r.IntN(4); {
	case kind == 0 && at < len(s):
		return s[:at] + letter + s[at+1:], at + 1
	case kind == 1 && at < len(s):
		return s[:at] + s[at+1:], at
	case kind == 2 && at+1 < len(s):
		return s[:at] + s[at+1:at+2] + s[at:at+1] + s[at+2:], at + 2
	}
	at = min(at, len(s))
	return s[:at] + letter + s[at:], at + 1
}

// edits is Edits by the recurrence (optimal string alignment), letter by letter.
func edits(a, b string) int {
	d := make([][]int, len(a)+1)
	for i := range d {
		d[i] = make([]int, len(b)+1)
		for j := range d[i] {
			switch {
			case i == 0 || j == 0:
				d[i][j] = i + j
				continue
			case a[i-1] == b[j-1]:
				d[i][j] = d[i-1][j-1]
			default:
				d[i][j] = 1 + min(d[i-1][j], d[i][j-1], d[i-1][j-1])
			}
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				d[i][j] = min(d[i][j], d[i-2][j-2]+1)
			}
		}
	}
	return min(d[len(a)][len(b)], Far)
}

// TestEdits holds the edits of packed names, and those by columns of bits, to those counted letter by letter: of all pairs of short names of three letters, and of longer ones made of each other.
func TestEdits(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	check := func(a, b string) int {
		want := edits(a, b)
		if got := Edits(Pack(a), Pack(b), len(a), len(b)); got != want {
			t.Fatalf("%s and %s are %d edits apart, want %d", a, b, got, want)
		}
		c := NewColumn(len(a))
		for i := range len(b) {
			at := uint64(0)
			for k := range len(a) {
				if a[k] == b[i] {
					at |= 1 << k
				}
			}
			c.Next(at)
		}
		if got := min(c.Edits, Far); got != want {
			t.Fatalf("%s and %s are %d edits apart by columns, want %d", a, b, got, want)
		}
		if table := NewTable(Pack(a)); table.Edits(Pack(b)) != c.Edits {
			t.Fatalf("%s and %s are %d edits apart by a table, want %d", a, b, table.Edits(Pack(b)), c.Edits)
		}
		if x, y := LettersOf(a), LettersOf(b); max(bits.OnesCount64(x&^y), bits.OnesCount64(y&^x)) > c.Edits {
			t.Fatalf("%s and %s are %d edits apart, and have more letters that the other lacks", a, b, c.Edits)
		}
		return want
	}
	short := []string{""}
	for from := 0; len(short) < 364; from++ { // 1 + 3 + 9 + 27 + 81 + 243 names of up to five letters
		for _, letter := range []string{"a", "b", "z"} {
			short = append(short, short[from]+letter)
		}
	}
	for _, a := range short[1:] {
		for _, b := range short[1:] {
			check(a, b)
		}
	}
	var found [Far + 1]int
	for range 200_000 {
		var b strings.Builder
		for range 1 + r.IntN(Longest) {
			b.WriteByte(byte('a' + r.IntN(5)))
		}
		a := b.String()
		one, next := edit(r, a, 0)
		two, _ := edit(r, one, next)
		for _, b := range []string{one, two, two + "e", "d" + two} {
			if len(b) <= Longest && b != "" {
				found[check(a, b)]++
			}
		}
	}
	for n, times := range found {
		if times < 10_000 {
			t.Errorf("only %d pairs were %d edits apart", times, n)
		}
	}
}

// TestPlain tells names with other signs than letters, packs and unpacks them.
func TestPlain(t *testing.T) {
	for name, want := range map[string]bool{"": true, "a": true, "zzzzzzzzzzzz": true, "o?brien": false, "-": false, "abcdefghijk-": false} {
		p := Pack(name)
		if got := p.Plain(); got != want {
			t.Errorf("%q is plain: %v, want %v", name, got, want)
		}
		letters := strings.NewReplacer("?", "#", "-", "#").Replace(name)
		if got := string(p.Append(nil)); got != letters || len(got) != p.Len() {
			t.Errorf("%q unpacked is %q of %d letters, want %q", name, got, p.Len(), letters)
		}
	}
}

// BenchmarkSieve goes through 100,000 sets of letters; one op is one set that is looked for.
func BenchmarkSieve(b *testing.B) {
	r := rand.New(rand.NewPCG(5, 6))
	sets := make([]Letters, 100_000)
	for i := range sets {
		for range 7 {
			sets[i] |= 1 << min(r.IntN(26), r.IntN(26))
		}
	}
	s := NewSieve(sets)
	var list []int32
	i := 0
	for b.Loop() {
		list = s.Near(list[:0], 0, len(sets), sets[i*37%len(sets)], 2, 2)
		i++
	}
}

// TestPlaces: each name has a place of its own among those of its length, and names of like letters have so near ones that whole words of a Sieve are passed by.
func TestPlaces(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	const longest = 9
	var lengths []int
	var sets []Letters
	for range 20_000 {
		var b strings.Builder
		for range r.IntN(longest + 1) {
			b.WriteByte(byte('a' + min(r.IntN(26), r.IntN(26))))
		}
		lengths, sets = append(lengths, b.Len()), append(sets, LettersOf(b.String()))
	}
	place, byLength := Places(lengths, longest, sets)
	ordered := make([]Letters, len(sets))
	taken := make([]bool, len(sets))
	for i, at := range place {
		if n := lengths[i]; at < byLength[n] || at >= byLength[n+1] || taken[at] {
			t.Fatalf("name %d of %d letters has place %d, which must be free and from %d up to %d", i, n, at, byLength[n], byLength[n+1])
		}
		taken[at], ordered[at] = true, sets[i]
	}
	passedBy := func(sets []Letters) (words int) {
		s := NewSieve(sets)
		for w := range s.any {
			words += truth(bits.OnesCount64(sets[0]&^s.any[w]) > 2 || bits.OnesCount64(s.all[w]&^sets[0]) > 2)
		}
		return words
	}
	if got, was := passedBy(ordered[byLength[8]:byLength[9]]), passedBy(sets); got == 0 || was > got {
		t.Errorf("%d words are passed by, and %d where names lie as they come", got, was)
	}
}

func truth(b bool) int {
	if b {
		return 1
	}
	return 0
}
