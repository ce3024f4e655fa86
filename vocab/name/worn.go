package name

import (
	"sync"

	"musterstone/vocab"
)

var glyphs = sync.OnceValue(func() *[128][128]float64 {
	var m [128][128]float64
	for _, r := range vocab.Rows("worn-glyphs") {
		g, like := r.Get("glyphs"), r.Float("likeness")
		for i := range len(g) {
			for j := range len(g) {
				if i != j && m[g[i]][g[j]] < like {
					m[g[i]][g[j]] = like
				}
			}
		}
	}
	return &m
})

// Worn says how alike two capitals or figures look when they are carved and worn, from 0 to 1: 1 for the same letter, 0 for letters that nobody
// takes for each other. Letter case does not count. No published table of this was found: the groups are common practice, the
// figures a judgement of this program.
func Worn(a, b byte) float64 {
	a, b = capital(a), capital(b)
	if a == b {
		return 1
	}
	if a >= 128 || b >= 128 {
		return 0
	}
	return glyphs()[a][b]
}

func capital(c byte) byte {
	if c >= 'a' && c <= 'z' {
		return c - 'a' + 'A'
	}
	return c
}
