package weigh

import (
	"math/rand/v2"
	"testing"

	"musterstone/link/compare"
	"musterstone/model"
)

// TestGivenLetters: no two given names that are near each other are ruled out by their letters, and most that are not are.
func TestGivenLetters(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	letters := "aeinrst"
	word := func() []byte {
		w := make([]byte, 4+r.IntN(7))
		for i := range w {
			w[i] = letters[r.IntN(len(letters))]
		}
		return w
	}
	near, ruledOut := 0, 0
	for range 20_000 {
		a := word()
		b := word()
		if r.IntN(2) == 0 { // some edits off
			b = append([]byte{}, a...)
			for range 1 + r.IntN(4) {
				i, c := r.IntN(len(b)), letters[r.IntN(len(letters))]
				switch r.IntN(4) {
				case 0:
					b[i] = c
				case 1:
					b = append(b[:i], append([]byte{c}, b[i:]...)...)
				case 2:
					b[i], b[0] = b[0], b[i]
				case 3:
					if len(b) > 4 {
						b = append(b[:i], b[i+1:]...)
					}
				}
			}
		}
		g, h := newGiven(model.Name{Given: string(a)}), newGiven(model.Name{Given: string(b)})
		is := compare.OSA(g.name, h.name) == 1 || compare.JaroWinkler(g.name, h.name) >= nearGiven
		may := g.sharesLetters(&h)
		if is && !may {
			t.Fatalf("%s and %s are near each other and ruled out", a, b)
		}
		if is {
			near++
		}
		if !may {
			ruledOut++
		}
	}
	if near < 2000 || ruledOut < 8000 {
		t.Errorf("%d pairs are near and %d ruled out: too few to tell anything", near, ruledOut)
	}
}
