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

// TestTwoOff: no name made of another by one edit or two is ruled out, and most others are.
func TestTwoOff(t *testing.T) {
	r := rand.New(rand.NewPCG(3, 4))
	name := func() string {
		var b strings.Builder
		for range 1 + r.IntN(Longest) {
			b.WriteByte(byte('a' + r.IntN(5)))
		}
		return b.String()
	}
	for range 200_000 {
		a := name()
		one, next := edit(r, a, 0)
		two, _ := edit(r, one, next)
		for _, b := range []string{a, one, two} {
			if len(b) > Longest || b == "" {
				continue
			}
			if p, q := Pack(a), Pack(b); !TwoOff(p, q, len(a), len(b)) || !TwoOff(q, p, len(b), len(a)) {
				t.Fatalf("%s and %s are ruled out", a, b)
			}
		}
		if p, q := Pack(a), Pack(one); len(one) <= Longest {
			switch {
			case len(one) == len(a) && p.Differing(q) > 2, len(one) == len(a)-1 && !OneOut(p, q), len(one) == len(a)+1 && !OneOut(q, p):
				t.Fatalf("%s and %s are ruled out as one edit apart", a, one)
			}
		}
	}
	ruled := 0
	for range 10_000 {
		a, b := name(), name()
		if !TwoOff(Pack(a), Pack(b), len(a), len(b)) {
			ruled++
		}
	}
	if ruled < 5000 {
		t.Errorf("only %d of 10,000 pairs are ruled out", ruled)
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
