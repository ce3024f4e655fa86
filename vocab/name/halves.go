package name

import (
	"strings"

	"musterstone/model"
)

// Family reads what stands before the comma of a name that is written "Surname, Given M.". Where it and Given say ok, Parse of the two with ", " between them comes to this surname
// and to the names that Given gives, and so does FromParts of the two: there are far fewer halves than whole names.
func Family(half string) (surname string, ok bool) {
	if !plainHalf(half) {
		return "", false
	}
	var b builder
	b.surname(tokens(half))
	return b.n.Surname, b.n.Surname != "" && b.n.Suffix == ""
}

// Given reads what stands after the comma, see Family; the name has no surname and no writing.
func Given(half string) (n model.Name, ok bool) {
	if !plainHalf(half) || suffixOf(half) != "" || lists().degree[letters(half)] {
		return model.Name{}, false
	}
	var b builder
	b.given(tokens(half))
	return b.n, b.n.Given != ""
}

// plainHalf reports whether a half of a name is letters, points, hyphens, apostrophes and single blanks between them, and no word of it says that another name follows.
func plainHalf(s string) bool {
	if s == "" || s[0] == ' ' || s[len(s)-1] == ' ' {
		return false
	}
	for i := range len(s) {
		switch c := s[i]; {
		case 'a' <= c|0x20 && c|0x20 <= 'z', c == '.', c == '-', c == '\'':
		case c == ' ' && s[i-1] != ' ':
		default:
			return false
		}
	}
	if s = " " + s + " "; mayGoOn(s) {
		s = strings.ToLower(s)
		for word := range lists().alias {
			if strings.Contains(s, " "+word+" ") {
				return false
			}
		}
	}
	return true
}
