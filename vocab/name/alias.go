package name

import (
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// aliases cuts a name before the first word that says that another name follows. "Smith or Smyth, John" keeps the given names with
// the first, and tells "alias Smyth"; in "Smith, John or Jonathan" and "John or Jonathan Smith" the other is a given name of the same.
func aliases(s string) (head string, others []string, tells string) {
	if !mayGoOn(s) {
		return s, nil, ""
	}
	low := s
	if strings.ContainsFunc(s, unicode.IsUpper) {
		low = strings.ToLower(s)
	}
	at, n, or := -1, 0, false
	for word := range lists().alias {
		w := word + " "
		for i := 0; len(low) == len(s); {
			j := strings.Index(low[i:], w)
			if j < 0 {
				break
			}
			i += j
			if i > 0 && strings.IndexByte(" (,;", low[i-1]) >= 0 && (at < 0 || i < at) {
				at, n, or = i, len(w), word == "or"
				break
			}
			i += len(w)
		}
	}
	if at < 0 {
		return s, nil, ""
	}
	head = strings.TrimRight(s[:at], " ,(;")
	rest := strings.Trim(s[at+n:], " ,;")
	if !strings.Contains(head, "(") {
		rest = strings.TrimRight(rest, ")")
	}
	word, tail, _ := strings.Cut(rest, " ")
	if or && isGiven(word) {
		switch {
		case tail == "" && strings.Contains(head, ","), tail == "" && isGiven(head):
			return head, []string{ordinary(strings.Trim(word, " .,;"))}, ""
		case tail != "" && isGiven(head) && !strings.Contains(rest, ","):
			return head + " " + tail, []string{ordinary(strings.Trim(word, " .,;"))}, ""
		}
	}
	tells = rest
	if family, given, ok := strings.Cut(rest, ","); ok {
		if tells = family; suffixOf(given) == "" {
			tells = strings.Trim(given, " .,;()") + " " + family
		}
		// "Smith or Smyth, John": one surname, and the given names after both.
		if family = strings.TrimSpace(family); oneSurname(head) && oneSurname(family) {
			if head += rest[strings.IndexByte(rest, ','):]; !strings.Contains(family, " ") {
				tells = family
			}
		}
	}
	return head, nil, Alias(tells)
}

// oneSurname reports whether words are a surname and no more: "Smith", "Mc Donald", "de la Cruz".
func oneSurname(s string) bool {
	words := tokens(s)
	for i := range words[:max(0, len(words)-1)] {
		if !particle(words, i) {
			return false
		}
	}
	return len(words) > 0 && !strings.Contains(s, ",")
}

// Alias words another name as [model.Name] has it; "" where no name is to be read there.
func Alias(s string) string {
	parts := strings.Fields(s)
	for i, w := range parts {
		parts[i] = ordinary(w)
	}
	o := OtherIn("alias " + strings.Join(parts, " "))
	if o.Name.Surname == "" {
		return ""
	}
	return o.Text
}

// aliasHeads has, for the first letter of each word that says that another name follows, a bit for the second.
var aliasHeads = sync.OnceValue(func() *[32]uint32 {
	var heads [32]uint32
	for word := range lists().alias {
		heads[word[0]&31] |= 1 << (word[1] & 31)
	}
	return &heads
})

// mayGoOn reports whether a word of a writing may be one that says that another name follows. Nearly all names have none.
func mayGoOn(s string) bool {
	heads := aliasHeads()
	for i := 1; i+1 < len(s); i++ {
		if heads[s[i]&31]>>(s[i+1]&31)&1 == 0 {
			continue
		}
		switch s[i-1] {
		case ' ', '(', ',', ';':
			return true
		}
	}
	return false
}

// nicknames takes quoted words, and words in parentheses that stand apart, out of a name.
func nicknames(s string) (rest string, found []string) {
	if !strings.ContainsAny(s, "\"“(") {
		return s, nil
	}
	var b strings.Builder
	for i := 0; i < len(s); {
		r, n := utf8.DecodeRuneInString(s[i:])
		end := ""
		switch {
		case r == '"':
			end = `"`
		case r == '“':
			end = "”"
		case r == '(' && (i == 0 || s[i-1] == ' '):
			end = ")"
		}
		if end != "" {
			if j := strings.Index(near(s[i+n:]), end); j >= 0 {
				word := strings.TrimSpace(s[i+n : i+n+j])
				if Fold(word) != "" && !remark(word) {
					found = append(found, word)
				}
				b.WriteByte(' ')
				i += n + j + len(end)
				continue
			}
		}
		b.WriteString(s[i : i+n])
		i += n
	}
	return b.String(), found
}

// doubts takes the recorder's second thoughts out of a name: "JNO. B. (or R.) TODD", "JOHN HALL (HULL?)". A given name among them is another given name of the same man.
func doubts(s string) (rest string, others []string) {
	for {
		at := strings.Index(s, "(")
		if at < 1 {
			return s, others
		}
		end := strings.IndexByte(near(s[at:]), ')')
		if end < 3 {
			return s, others
		}
		word := s[at+1 : at+end]
		switch {
		case len(word) > 3 && strings.EqualFold(word[:3], "or "):
			if strings.TrimSpace(s[at+end+1:]) == "" {
				return s, others // which aliases takes
			}
			word = word[3:]
		case word[len(word)-1] != '?' || !lettersOnly(word[:len(word)-1]):
			return s, others
		}
		word = strings.Trim(word, " .,;?")
		if len(word) > 1 && isGiven(word) {
			others = append(others, ordinary(word))
		}
		s = strings.TrimRight(s[:at], " ") + " " + strings.TrimLeft(s[at+end+1:], " ")
	}
}

// parted gives a bracket that restores letters of one word and tells of the loss of others as two: "JOH[N ---]" is "JOH[N] [---]".
func parted(s string) string {
	open := strings.IndexByte(s, '[')
	if open < 0 {
		return s
	}
	content, n, ok := bracketed(s[open:])
	if !ok {
		return s
	}
	head, tail := s[:open], s[open+n:]
	if i := strings.IndexByte(content, ' '); i > 0 && n == len(content)+2 {
		before, after := content[:i], strings.TrimLeft(content[i:], " ")
		j := strings.LastIndexByte(content, ' ')
		switch {
		case lettersOnly(before) && lossSigns(after):
			return head + "[" + before + "] [" + after + "]" + parted(tail)
		case lossSigns(strings.TrimRight(content[:j], " ")) && lettersOnly(content[j+1:]):
			return head + "[" + strings.TrimRight(content[:j], " ") + "] [" + content[j+1:] + "]" + parted(tail)
		}
	}
	return s[:open+n] + parted(tail)
}

// lossSigns reports whether what stands in brackets is signs of a loss alone.
func lossSigns(s string) bool { return strings.Trim(s, "-–—. …") == "" && len(s) > 1 }

func lettersOnly(s string) bool {
	return s != "" && !strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) })
}
