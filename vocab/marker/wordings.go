package marker

import (
	"cmp"
	"slices"
	"strings"
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
		x, ok := w.begins(text[i:])
		if !ok {
			i++
			continue
		}
		if !slices.Contains(found, x.row) {
			found = append(found, x.row)
		}
		i += len(x.words)
	}
	slices.Sort(found)
	return found
}

// begins gives the longest wording with which a text begins, if it does with one.
func (w wordings) begins(text []string) (wording, bool) {
	if len(text) == 0 {
		return wording{}, false
	}
	for _, x := range w[text[0]] {
		if starts(text, x.words) {
			return x, true
		}
	}
	return wording{}, false
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

// plain is a name in lower case, letters and digits only, single blanks between words.
func plain(s string) string {
	var b strings.Builder
	gap := false
	for _, r := range strings.ToLower(s) {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			if gap && b.Len() > 0 {
				b.WriteByte(' ')
			}
			gap = false
			b.WriteRune(r)
		} else if r != '\'' {
			gap = true
		}
	}
	return b.String()
}
