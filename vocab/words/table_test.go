package words

import (
	"fmt"
	"math/rand/v2"
	"testing"
)

// TestWith: a word with another letter is looked up as that other word is.
func TestWith(t *testing.T) {
	var table Table[int]
	*table.At("PVT") = 1
	*table.At("WIFE") = 2
	text := Split("PYT WIFF ABCDEFGHIJKLM")
	for _, c := range []struct {
		i, k   int
		letter byte
		want   int
	}{{0, 1, 'V', 1}, {1, 3, 'E', 2}, {0, 1, 'U', 0}, {2, 0, 'B', 0}} {
		got := 0
		if v := table.With(text, c.i, c.k, c.letter); v != nil {
			got = *v
		}
		if got != c.want {
			t.Errorf("%s with %c at %d: %d, want %d", text.Key(c.i), c.letter, c.k, got, c.want)
		}
	}
}

// TestTable: a Table knows what a map would know.
func TestTable(t *testing.T) {
	var table Table[int]
	if table.Get("A") != nil {
		t.Error("an empty table knows A")
	}
	want := map[string]int{}
	r := rand.New(rand.NewPCG(5, 6))
	word := func() string {
		b := make([]byte, r.IntN(15))
		for i := range b {
			b[i] = "ABCZ019?"[r.IntN(8)]
		}
		return string(b)
	}
	for i := range 20000 {
		w := word()
		*table.At(w) = i
		want[w] = i
	}
	all := 0
	for word, n := range table.All() {
		if all++; want[word] != *n {
			t.Errorf("All has %s with %d, want %d", word, *n, want[word])
		}
	}
	if all != len(want) {
		t.Errorf("All has %d words, want %d", all, len(want))
	}
	if table.Len() != len(want) {
		t.Errorf("%d words, want %d", table.Len(), len(want))
	}
	for range 20000 {
		w := word()
		got, n := table.Get(w), -1
		if got != nil {
			n = *got
		}
		m, ok := want[w]
		if !ok {
			m = -1
		}
		if n != m {
			t.Fatalf("Get(%q) = %d, want %d", w, n, m)
		}
	}
}

func ExampleTable() {
	var t Table[int]
	*t.At("JNO") += 2
	fmt.Println(*t.Get("JNO"), t.Get("JOHN"))
	// Output: 2 <nil>
}
