package orchard

import (
	"strings"
	"unicode"
)

// hand is a reader of stones and how he writes down what he reads.
type hand struct {
	name   string
	joint  string // between lines
	lower  bool   // Co. F, 14 Ohio Inf., where the stone has capitals
	points bool   // keeps the points
	lost   string // how he marks lost letters: leiden, ask, under, words
}

var hands = []hand{
	{"L. Pruett", " / ", false, true, "leiden"},
	{"M. Osgood", "\n", true, true, "ask"},
	{"R. Teller", " / ", false, false, "under"},
	{"D. Quill", " / ", true, true, "leiden"},
	{"Miss Farrow", " / ", false, true, "words"},
	{"K. Amblin", "\n", false, false, "ask"},
}

// alike are capitals and figures that are taken for each other on a worn stone.
var alike = []string{"CGOQD", "EF", "ILT1", "MNH", "UVY", "PRB", "KR", "38", "17", "560", "VW"}

func confuse(d dice, r rune) rune {
	var all []rune
	for _, group := range alike {
		if strings.ContainsRune(group, unicode.ToUpper(r)) {
			for _, other := range group {
				if other != unicode.ToUpper(r) && unicode.IsDigit(other) == unicode.IsDigit(r) {
					all = append(all, other)
				}
			}
		}
	}
	if len(all) == 0 {
		return r
	}
	other := all[d.IntN(len(all))]
	if unicode.IsLower(r) {
		return unicode.ToLower(other)
	}
	return other
}

// small are the words that keep their capitals in a hand that writes small letters.
var small = map[string]bool{"OF": true, "THE": true, "AND": true, "WHO": true, "HIS": true, "BY": true, "IN": true, "AT": true, "TO": true}

// lowered writes a line of capitals in small letters, and leaves what is initials alone: O.V.I., W.
func lowered(line string) string {
	words := strings.Split(line, " ")
	for i, word := range words {
		letters := strings.Trim(word, ".,()")
		switch {
		case i > 0 && small[letters]:
			words[i] = strings.ToLower(word)
		case strings.Contains(letters, ".") || len(letters) < 2 || letters == "GAR" || letters == "US" || strings.ContainsAny(letters, "0123456789") && len(letters) > 3 || strings.Trim(letters, "IVX") == "":
		case letters == "PFC" || letters == "WW":
		default:
			words[i] = title(word)
		}
	}
	return strings.Join(words, " ")
}

// wear is how much is gone from stones, and how often a letter is read wrongly.
type wear struct {
	worn, misread, sunk, marks float64
	places                     int
}

func wearOf(messy bool) wear {
	if messy {
		return wear{worn: .32, misread: .16, sunk: .03, marks: .12, places: 3}
	}
	return wear{worn: .07, misread: .035, sunk: .004, marks: .03, places: 2}
}

// take writes down what a hand reads of a stone's lines.
func (h hand) take(d dice, lines []string, w wear) string {
	out := make([]string, len(lines))
	for i, line := range lines {
		if h.lower {
			line = lowered(line)
		}
		if !h.points {
			line = strings.NewReplacer(".", " ", ",", "").Replace(line)
			line = strings.Join(strings.Fields(line), " ")
		}
		out[i] = line
	}
	if d.chance(w.misread) {
		i := d.IntN(len(out))
		r := []rune(out[i])
		at := d.IntN(len(r))
		r[at] = confuse(d, r[at])
		out[i] = string(r)
	}
	if d.chance(w.worn) {
		for range d.between(1, w.places) {
			i := d.IntN(len(out))
			out[i] = h.lose(d, out[i])
		}
	}
	if d.chance(w.sunk) && len(out) > 2 {
		out = out[:len(out)-1]
		if d.chance(.5) {
			out = append(out, map[string]string{"leiden": "[---]", "ask": "???", "under": "____", "words": "[rest below ground]"}[h.lost])
		}
	}
	if d.chance(w.marks) {
		i := d.IntN(len(out))
		switch h.lost {
		case "ask":
			out[i] += d.of(" (?)", "?")
		case "words":
			out[i] += d.of(" [sic]", " [?]", " (worn)")
		case "leiden":
			if r := []rune(out[i]); len(r) > 3 && unicode.IsLetter(r[1]) {
				out[i] = string(r[:2]) + "\u0323" + string(r[2:])
			}
		}
	}
	return strings.Join(out, h.joint)
}

// lose takes a few letters of a line, or its end, and marks them in the hand's way. A line that has lost some already is left.
func (h hand) lose(d dice, line string) string {
	r := []rune(line)
	if len(r) < 2 || strings.ContainsAny(line, "[?_") {
		return line
	}
	n := min(len(r), []int{1, 2, 3, 4, 6}[d.weighted(.4, .28, .16, .1, .06)])
	at := d.IntN(len(r) - n + 1)
	if d.chance(.12) { // the edge is gone
		n = min(len(r)-1, d.between(2, 7))
		at = len(r) - n
		if d.chance(.4) {
			at = 0
		}
	}
	for n > 0 && r[at] == ' ' { // a space does not wear away, but one between lost letters is not seen
		at, n = at+1, n-1
	}
	for n > 0 && r[at+n-1] == ' ' {
		n--
	}
	if n == 0 {
		return line
	}
	gone, before, after := r[at:at+n], string(r[:at]), string(r[at+n:])
	switch h.lost {
	case "leiden":
		switch {
		case n > 4 || (n > 2 && d.chance(.2)):
			return before + "[---]" + after
		case !strings.ContainsFunc(string(gone), func(r rune) bool { return r == ' ' || unicode.IsPunct(r) }) && d.chance(.3):
			return before + "[" + string(gone) + d.of("", "", "?") + "]" + after
		}
		return before + "[" + strings.Repeat(".", n) + "]" + after
	case "ask":
		return before + strings.Repeat("?", n) + after
	case "under":
		return before + strings.Repeat("_", n) + after
	}
	words := strings.Fields(line)
	words[d.IntN(len(words))] = d.of("[illegible]", "[worn]", "[---]", "...")
	return strings.Join(words, " ")
}
