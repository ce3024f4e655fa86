package compare

import (
	"math"
	"math/rand/v2"
	"testing"

	"github.com/antzucaro/matchr"
	edlib "github.com/hbollon/go-edlib"
)

// pairs draws names that are alike or not: of two to seventy letters, few different ones so that much matches, half of them one made from the other by slips.
func pairs(n int, each func(a, b string)) {
	r := rand.New(rand.NewPCG(1790, 1866))
	for i := range n {
		alphabet := []string{"ab", "abcde", "aeinorstlmdhc", "abcdefghijklmnopqrstuvwxyz", "abcd\u00e9\u00fc"}[r.IntN(5)]
		letters := []rune(alphabet)
		length := 1 + r.IntN(11)
		if i%20 == 0 {
			length = 1 + r.IntN(75)
		}
		draw := func() []rune {
			out := make([]rune, length)
			for k := range out {
				out[k] = letters[r.IntN(len(letters))]
			}
			return out
		}
		a := draw()
		b := draw()
		if r.IntN(2) == 0 {
			b = append([]rune(nil), a...)
			for range 1 + r.IntN(3) {
				k := r.IntN(len(b))
				switch r.IntN(4) {
				case 0:
					b[k] = letters[r.IntN(len(letters))]
				case 1:
					if k > 0 {
						b[k], b[k-1] = b[k-1], b[k]
					}
				case 2:
					b = append(b[:k:k], append([]rune{letters[r.IntN(len(letters))]}, b[k:]...)...)
				case 3:
					if len(b) > 1 {
						b = append(b[:k:k], b[k+1:]...)
					}
				}
			}
		} else if r.IntN(3) == 0 {
			length = 1 + r.IntN(11)
			b = draw()
		}
		each(string(a), string(b))
	}
}

// jaroOf is Jaro's measure without Winkler's addition.
func jaroOf(a, b string) float64 {
	j, _ := jaro(a, b)
	return j
}

// levenshtein is the textbook's edit distance: what the comparators that know more come to where they have nothing to say.
func levenshtein(s, t string) int {
	a, b := []rune(s), []rune(t)
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range a {
		across := row[0]
		row[0] = i + 1
		for j := range b {
			change := across
			if a[i] != b[j] {
				change++
			}
			across = row[j+1]
			row[j+1] = min(change, row[j]+1, across+1)
		}
	}
	return row[len(b)]
}

// Second opinions, from two libraries, with their known faults kept out: matchr's OSA is wrong where the swap is at the start (DAVIS and ADVIS come to 2),
// so OSA is asked of go-edlib; go-edlib halves an odd number out of order to a fraction and has no threshold for the prefix, so Jaro and
// Jaro-Winkler are asked of matchr, both ways round.
func TestSecondOpinions(t *testing.T) {
	pairs(60_000, func(a, b string) {
		for _, p := range [][2]string{{a, b}, {b, a}} {
			if got, want := jaroOf(a, b), matchr.Jaro(p[0], p[1]); !nearly(got, want) {
				t.Fatalf("Jaro(%q, %q) = %v, matchr has %v", a, b, got, want)
			}
			if got, want := JaroWinkler(a, b), matchr.JaroWinkler(p[0], p[1], false); !nearly(got, want) {
				t.Fatalf("JaroWinkler(%q, %q) = %v, matchr has %v", a, b, got, want)
			}
		}
		if got, want := levenshtein(a, b), matchr.Levenshtein(a, b); got != want {
			t.Fatalf("Levenshtein(%q, %q) = %d, matchr has %d", a, b, got, want)
		}
		if got, want := levenshtein(a, b), edlib.LevenshteinDistance(a, b); got != want {
			t.Fatalf("Levenshtein(%q, %q) = %d, go-edlib has %d", a, b, got, want)
		}
		if got, want := OSA(a, b), edlib.OSADamerauLevenshteinDistance(a, b); got != want {
			t.Fatalf("OSA(%q, %q) = %d, go-edlib has %d", a, b, got, want)
		}
	})
}

// The faults named above, seen: where they are mended, the notes on them can go.
func TestKnownFaults(t *testing.T) {
	if got := matchr.OSA("DAVIS", "ADVIS"); got != 2 {
		t.Errorf("matchr.OSA is mended: %d", got)
	}
	if got := edlib.JaroSimilarity("saturday", "sunday"); math.Abs(float64(got)-.7194) > .00005 {
		t.Errorf("go-edlib halves down: %v", got)
	}
	if got := edlib.JaroWinklerSimilarity("WILSON", "WIKEMAN"); math.Abs(float64(got)-.7143) > .00005 {
		t.Errorf("go-edlib has a threshold: %v", got)
	}
}

func TestProperties(t *testing.T) {
	pairs(20_000, func(a, b string) { properties(t, a, b) })
}

func properties(t *testing.T, a, b string) {
	t.Helper()
	j, w := jaroOf(a, b), JaroWinkler(a, b)
	if j != jaroOf(b, a) || w != JaroWinkler(b, a) {
		t.Fatalf("%q, %q: not symmetric", a, b)
	}
	if !(j >= 0 && j <= w && w <= 1) {
		t.Fatalf("%q, %q: Jaro %v, Jaro-Winkler %v", a, b, j, w)
	}
	if a != "" && (jaroOf(a, a) != 1 || JaroWinkler(a, a) != 1) {
		t.Fatalf("%q is not like itself", a)
	}
	l, o := levenshtein(a, b), OSA(a, b)
	if l != levenshtein(b, a) || o != OSA(b, a) {
		t.Fatalf("%q, %q: a distance is not symmetric", a, b)
	}
	longer := max(len([]rune(a)), len([]rune(b)))
	if o > l || l > 2*o || l > longer || (l == 0) != (a == b) && utf8Same(a, b) {
		t.Fatalf("%q, %q: Levenshtein %d, OSA %d", a, b, l, o)
	}
	if slow := editRunes(a, b); o != slow {
		t.Fatalf("%q, %q: the fast way gives %d, the slow one %d", a, b, o, slow)
	}
	if p := PatternDistance(a, b); p < 0 || p > l {
		t.Fatalf("%q, %q: pattern distance %d", a, b, p)
	}
}

// utf8Same reports whether both come back from their characters: in others two broken bytes may look the same.
func utf8Same(a, b string) bool { return string([]rune(a)) == a && string([]rune(b)) == b }

func FuzzCompare(f *testing.F) {
	f.Add("saturday", "sunday")
	f.Add("h*lde?", "holden")
	f.Add("\u00e9", "\xff\xfe")
	f.Add("a\x00", "a")
	f.Fuzz(func(t *testing.T, a, b string) {
		if len(a) > 300 || len(b) > 300 {
			return
		}
		properties(t, a, b)
	})
}

func TestNothingAllocated(t *testing.T) {
	long := "abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyzabcdefghijkl"
	if len(long) != most {
		t.Fatal(len(long))
	}
	for _, p := range [][2]string{{"holden", "haldeman"}, {long, long[1:] + "z"}, {"m\u00fcller", "mueller"}} {
		if n := testing.AllocsPerRun(20, func() {
			jaroOf(p[0], p[1])
			JaroWinkler(p[0], p[1])
			OSA(p[0], p[1])
			WornDistance(p[0], p[1], worn)
			PatternDistance(p[0], p[1])
		}); n > 0 {
			t.Errorf("%s and %s: %v allocations", p[0], p[1], n)
		}
	}
}
