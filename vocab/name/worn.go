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

// Alike is how alike two letters must look for one to be read for the other in a word that stands in no table. House judgement.
const Alike = 0.4

// Misread counts the letters of a writing that differ from those of a word, lost ones ('?') aside; -1 where their lengths differ, or where one that differs looks less like the word's than least.
func Misread(written, word string, least float64) (wrong int) {
	if len(written) != len(word) {
		return -1
	}
	for k := range len(word) {
		if c := written[k]; c != word[k] && c != '?' {
			if wrong++; Worn(c, word[k]) < least {
				return -1
			}
		}
	}
	return wrong
}

func capital(c byte) byte {
	if c >= 'a' && c <= 'z' {
		return c - 'a' + 'A'
	}
	return c
}
