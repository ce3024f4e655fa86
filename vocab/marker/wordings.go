package marker

import (
	"cmp"
	"slices"
)

// wordings finds the wordings of a table's rows in a text, word by word and whole: what is unbroken is not broken. By the first word, the longest first.
type wordings map[string][]wording

// wording is one wording of a row, in words.
type wording struct {
	row   int
	words []string
}

func (w wordings) add(row int, words []string) {
	w[words[0]] = append(w[words[0]], wording{row, words})
	slices.SortStableFunc(w[words[0]], func(a, b wording) int { return cmp.Compare(len(b.words), len(a.words)) })
}

// find gives the rows whose wordings stand in the text, each once, in the table's order. The longest wording at a place counts, and nothing within it: "WORLD WAR I" is not
// also "WORLD WAR", nor a missing top a missing stone.
func (w wordings) find(text []string) []int {
	var found []int
	for i := 0; i < len(text); {
		n := 1
		for _, x := range w[text[i]] {
			if starts(text[i:], x.words) {
				if !slices.Contains(found, x.row) {
					found = append(found, x.row)
				}
				n = len(x.words)
				break
			}
		}
		i += n
	}
	slices.Sort(found)
	return found
}

// starts reports whether a text begins with the words.
func starts(text, words []string) bool {
	return len(words) <= len(text) && slices.Equal(text[:len(words)], words)
}

// contains reports whether the words stand in the text, one behind the other.
func contains(text []string, words ...string) bool {
	for i := range text {
		if starts(text[i:], words) {
			return true
		}
	}
	return false
}
