package name

import (
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// Other is what a roster's remarks tell of another name of the man: that he has one, mostly with the name itself. Rosters have men under the names that they gave, stones under those by which their families
// knew them.
type Other struct {
	// Text are the words of the remarks that tell it: Alias Henry Kirby. OtherIn gives the same of them alone.
	Text string
	// Name is the other name; of one without a given name only the surname differs. Zero where it is not told.
	Name model.Name
	// Substitute is a man of whom no more is told than that he served for another man for money. Most gave their own names, and many did not.
	Substitute bool
}

// IsZero reports whether nothing is told.
func (o *Other) IsZero() bool { return o.Text == "" }

// otherForm is a form of words of the table other-name-words, in lower case.
type otherForm struct {
	words            string
	told, substitute bool // without a name too
	nothing          bool // of the man himself: he furnished a substitute
}

// otherForms are the forms by the letter with which they begin, the longest first.
var otherForms = sync.OnceValue(func() *[32][]otherForm {
	var by [32][]otherForm
	for _, r := range vocab.Rows("other-name-words") {
		f := otherForm{words: r.Get("form"), told: r.Get("says") == "another name", substitute: r.Get("says") == "a substitute", nothing: r.Get("says") == "nothing"}
		list := &by[f.words[0]&31]
		at := 0
		for at < len(*list) && len((*list)[at].words) > len(f.words) {
			at++
		}
		*list = append((*list)[:at], append([]otherForm{f}, (*list)[at:]...)...)
	}
	return &by
})

// OtherIn finds what remarks tell of another name. That a name follows counts for more than that there is one, and this for more than that the man was a substitute.
func OtherIn(remarks string) (o Other) {
	forms, begins := otherForms(), true
	for i := 0; i < len(remarks); i++ {
		c := remarks[i]
		if letter := isASCIILetter(c) || c >= 0x80; !letter || !begins {
			begins = !letter
			continue
		}
		begins = false
		for _, f := range forms[c&31] {
			end := i + len(f.words)
			if end > len(remarks) || !strings.EqualFold(remarks[i:end], f.words) || end < len(remarks) && (isASCIILetter(remarks[end]) || remarks[end] >= 0x80) {
				continue
			}
			switch n, length := nameAfter(remarks[end:], f.told); {
			case f.nothing:
				i = end - 1
			case f.substitute:
				if o.IsZero() {
					o = Other{Text: remarks[i:end], Substitute: true}
				}
			case !n.IsZero():
				return Other{Text: remarks[i : end+length], Name: n}
			case f.told && (o.IsZero() || o.Substitute):
				o = Other{Text: remarks[i:end]}
			}
			break
		}
	}
	return o
}

// nameAfter reads the name at the head of what follows a form of words, which has so many letters; none where no name stands there. Alone says whether it may be a surname by itself.
func nameAfter(s string, alone bool) (n model.Name, length int) {
	var words []string
	at := 0
	for at < len(s) {
		from := at
		for from < len(s) && strings.IndexByte(" :,\"'(", s[from]) >= 0 && (len(words) == 0 || s[from] == ' ') {
			from++
		}
		end := from
		for end < len(s) && (isASCIILetter(s[end]) || s[end] >= 0x80 || s[end] == '\'' || s[end] == '-') {
			end++
		}
		word := s[from:end]
		if word == "" || len(words) == 4 {
			break
		}
		if len(words) == 0 && length == 0 && (strings.EqualFold(word, "of") || strings.EqualFold(word, "was") || strings.EqualFold(word, "is")) {
			at = end
			continue
		}
		if !isUpperASCII(word[0]) || (len(words) > 0 && lists().remark[strings.ToLower(word)]) {
			break
		}
		if word == "A" && len(words) == 0 && !alone && (end == len(s) || s[end] != '.') {
			break // ENLISTED AS A PRIVATE
		}
		if strings.HasSuffix(word, "'s") || strings.HasSuffix(word, "'S") {
			return model.Name{}, 0 // Served as Major Smith's orderly
		}
		words, at, length = append(words, word), end, end
		if end < len(s) && s[end] == '.' {
			if _, short := abbreviations()[Fold(word)]; len(word) > 1 && !short {
				break // the end of a sentence
			}
			at++
		}
	}
	switch {
	case len(words) == 0:
		return model.Name{}, 0
	case len(words) == 1:
		// A surname by itself: nothing else may follow it but an end.
		if rest := strings.TrimLeft(s[length:], " "); !alone || len(words[0]) < 3 || isGiven(words[0]) && GivenShare(Fold(words[0])) > SurnameShare(Fold(words[0])) || rest != "" && strings.IndexByte(".,;:)\"'", rest[0]) < 0 || lists().remark[strings.ToLower(words[0])] || lists().loss[strings.ToLower(words[0])] {
			return model.Name{}, 0
		}
		return model.Name{Surname: words[0]}, length
	case len(words[0]) > 1 && !isGiven(words[0]):
		return model.Name{}, 0 // Served as Hospital Steward
	}
	n = Parse(strings.Join(words, " "))
	if n.Surname == "" || len(Fold(n.Surname)) < 2 {
		return model.Name{}, 0
	}
	n.Written = ""
	return n, length
}

func isASCIILetter(b byte) bool { return b|0x20 >= 'a' && b|0x20 <= 'z' }

func isUpperASCII(b byte) bool { return b >= 'A' && b <= 'Z' }
