package ferry

import (
	"strings"
	"unicode"
)

// glyphs are letters and figures that a worn stone lets be taken for one another.
var glyphs = [][2]rune{{'1', '7'}, {'1', 'I'}, {'3', '8'}, {'5', '6'}, {'6', '8'}, {'0', '6'}, {'5', '3'}, {'4', '1'}, {'9', '0'}, {'2', '7'}, {'0', '8'}, {'C', 'G'}, {'O', 'C'}, {'E', 'F'}, {'R', 'K'}, {'B', 'R'}, {'P', 'R'}, {'B', 'E'}, {'H', 'N'}, {'M', 'N'}, {'U', 'V'}, {'I', 'L'}, {'I', 'T'}, {'D', 'O'}, {'S', 'B'}, {'A', 'R'}, {'W', 'M'}, {'L', 'E'}, {'F', 'P'}, {'K', 'H'}}

// taken is what a letter is taken for, if it is like another.
func (d dice) taken(r rune) rune {
	at := d.IntN(len(glyphs))
	for i := range glyphs {
		g := glyphs[(at+i)%len(glyphs)]
		upper := unicode.ToUpper(r)
		for k := range 2 {
			if g[k] == upper {
				if other := g[1-k]; unicode.IsLower(r) {
					return unicode.ToLower(other)
				} else {
					return other
				}
			}
		}
	}
	return r
}

// glyph is a letter of a stone and what is left of it.
type glyph struct {
	letter  rune
	lost    bool
	unclear bool
}

// face is what can be seen of a stone's lines.
type face [][]glyph

func cutFace(lines []string) (f face) {
	for _, l := range lines {
		var line []glyph
		for _, r := range l {
			line = append(line, glyph{letter: r})
		}
		f = append(f, line)
	}
	return f
}

// legible says whether a letter is one that can be lost.
func legible(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// weather wears a stone, and gives its condition.
func (d dice) weather(f face, soft, messy bool) string {
	x := d.Float64()
	if x *= .9; messy {
		x = .42 + .58*x/.9
	}
	if !soft {
		x *= .8
	}
	single := func(n int) {
		for range n {
			line := f[d.IntN(len(f))]
			if len(line) == 0 {
				continue
			}
			switch g := &line[d.IntN(len(line))]; {
			case !legible(g.letter):
			case d.is(.4):
				g.letter = d.taken(g.letter)
			case d.is(.5):
				g.unclear = true
			default:
				g.lost = true
			}
		}
	}
	patch := func() {
		top, tall, wide := d.IntN(len(f)), d.from(1, 3), d.from(3, 9)
		left := d.from(0, 16)
		for _, line := range f[top:min(len(f), top+tall)] {
			for i := max(0, left+d.from(-1, 1)); i < min(len(line), left+wide); i++ {
				line[i].lost = legible(line[i].letter)
			}
		}
	}
	whole := func(line []glyph) {
		for i := range line {
			line[i].lost = legible(line[i].letter)
		}
	}
	switch {
	case x < .66:
		if d.is(.06) {
			single(1)
		}
		return pick(x < .3, "good", "")
	case x < .86:
		single(d.from(1, 3))
		return "worn"
	case x < .935:
		single(d.from(2, 4))
		patch()
		return of(d, "badly worn", "lichen", "spalled")
	case x < .975:
		if len(f) > 2 {
			whole(f[len(f)-1])
		}
		single(d.from(0, 2))
		return "sunken"
	}
	whole(pick(d.is(.35), f[0], f[d.IntN(len(f))]))
	patch()
	return "broken"
}

// recorder is who writes stones down, each in a way of his own.
type recorder struct {
	name, letters, lost string
	points, measures    bool
	slips               float64
	days                string
}

var recorders = []recorder{
	{"L. Havisham", "as cut", "leiden", true, true, .004, "iso"},
	{"R. T. Ostwald", "as cut", "leiden", false, true, .007, "full"},
	{"Quill family", "upper", "question", true, false, .009, "slash"},
	{"C. Abernethy", "title", "dots", true, false, .008, "first"},
	{"Scouts, Troop 9", "upper", "words", false, false, .014, "full"},
	{"J. & M. Pell", "as cut", "leiden", true, false, .006, "iso"},
}

// record is how a recorder writes down what he sees. What he passes over or mistypes is lost without a mark.
func (k recorder) record(d dice, f face, times float64) string {
	var lines []string
	for _, line := range f {
		if len(line) == 0 {
			continue
		}
		if d.is(k.slips*times) && len(line) > 3 {
			line = append([]glyph{}, line...)
			at := 1 + d.IntN(len(line)-2)
			switch {
			case !legible(line[at].letter) || !legible(line[at+1].letter):
			case d.is(.4):
				line[at], line[at+1] = line[at+1], line[at]
			case d.is(.6):
				line[at].letter = d.taken(line[at].letter)
			default:
				line = append(line[:at], line[at+1:]...)
			}
		}
		lines = append(lines, k.line(line))
	}
	return strings.Join(lines, " / ")
}

func (k recorder) line(line []glyph) string {
	var b strings.Builder
	for i := 0; i < len(line); {
		g := line[i]
		if !g.lost {
			r := g.letter
			if r == '.' && !k.points {
				if i+1 < len(line) && line[i+1].letter != ' ' {
					b.WriteByte(' ')
				}
				i++
				continue
			}
			b.WriteRune(r)
			if g.unclear && k.lost == "leiden" {
				b.WriteRune('\u0323')
			} else if g.unclear && k.lost == "question" {
				b.WriteString("(?)")
			}
			i++
			continue
		}
		end, n := i, 0
		for end < len(line) && (line[end].lost || !legible(line[end].letter) && end+1 < len(line) && line[end+1].lost) {
			if line[end].lost {
				n++
			}
			end++
		}
		switch k.lost {
		case "leiden":
			b.WriteString(pick(n > 5, "[---]", "["+strings.Repeat(".", n)+"]"))
		case "question":
			b.WriteString(strings.Repeat("?", min(n, 8)))
		case "dots":
			b.WriteString("...")
		default:
			b.WriteString(pick(n > 3, "[illegible]", strings.Repeat("_", n)))
		}
		i = end
	}
	text := strings.Join(strings.Fields(b.String()), " ")
	switch k.letters {
	case "upper":
		text = strings.ToUpper(text)
	case "title":
		words := strings.Split(text, " ")
		for i, w := range words {
			if letters := strings.Trim(w, ".,'"); len(letters) > 2 && unicode.IsUpper([]rune(letters)[0]) && !strings.Contains(w, "[") && !strings.Contains(strings.Trim(w, "."), ".") {
				low := []rune(strings.ToLower(w))
				for j, r := range low {
					if unicode.IsLetter(r) {
						low[j] = unicode.ToUpper(r)
						break
					}
				}
				words[i] = string(low)
			}
		}
		text = strings.Join(words, " ")
	}
	return text
}
