package texts

import (
	"fmt"
	"testing"
)

// TestBook: texts have numbers in the order in which they came, each but one; what is cut is forgotten, and what At gave before stays as it was.
func TestBook(t *testing.T) {
	for _, expected := range []int{0, 100, 20000} {
		testBook(t, expected)
	}
}

func testBook(t *testing.T, expected int) {
	var b Book
	b.Expect(expected)
	if _, ok := b.Find("holden", Hash("holden")); ok || b.Len() != 0 {
		t.Error("an empty book has a text")
	}
	const many = 5000 // so that the table grows
	text := func(n int) string { return fmt.Sprint("m", n*n) }
	for n := range many {
		for again := range 2 {
			if got, known := b.Enter(text(n), Hash(text(n)), uint32(3*n)); got != n || known != (again == 1) {
				t.Fatalf("%q for the %dth time has the number %d, known %v; want %d", text(n), again+1, got, known, n)
			}
		}
	}
	if n, known := b.Enter("", Hash(""), 0); n != many || known {
		t.Errorf("the empty text has the number %d, known %v", n, known)
	}
	first := b.At(100)
	b.Cut(100)
	if b.Len() != 100 {
		t.Errorf("%d texts are left of 100", b.Len())
	}
	for n := range many {
		if got, ok := b.Find(text(n), Hash(text(n))); ok != (n < 100) || ok && got != n {
			t.Errorf("after the cut %q has the number %d, %v", text(n), got, ok)
		}
	}
	if n, known := b.Enter("wisconsin", Hash("wisconsin"), 7); n != 100 || known || b.At(100) != "wisconsin" || first != text(100) {
		t.Errorf("after the cut the next text has the number %d, known %v, is %q; what was number 100 is now %q", n, known, b.At(100), first)
	}
	for n, s := range b.List() {
		if s != b.At(n) {
			t.Errorf("text %d is %q in the list, %q by itself", n, s, b.At(n))
		}
		if note := b.Note(n); n < 100 && note != uint32(3*n) || n == 100 && note != 7 {
			t.Errorf("of text %d %d was noted", n, note)
		}
	}
}

// TestHash: texts of all lengths, with each of their bytes changed, have hashes of their own, in the low bits too, by which slots are chosen.
func TestHash(t *testing.T) {
	seen, low := map[uint32]string{}, map[uint32]int{}
	n := 0
	for length := range 40 {
		for at := range max(length, 1) {
			for c := range 20 {
				b := make([]byte, length)
				if length > 0 {
					b[at] = byte('a' + c)
				}
				s := string(b)
				h := Hash(s)
				if before, ok := seen[h]; ok && before != s {
					t.Errorf("%q and %q have the same hash", before, s)
				}
				if _, ok := seen[h]; !ok {
					n++
					low[h&1023]++
				}
				seen[h] = s
			}
		}
	}
	for l, k := range low {
		if k > 12*n/1024 {
			t.Errorf("%d of %d hashes end in %d", k, n, l)
		}
	}
}
