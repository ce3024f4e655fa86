// Package drawing draws markers and times as SVG: a stone as it was recorded, to scale with a ground line and a rule in inches, beside the
// specification it is nearest to; and a man's life, his service, his war and the pattern's years on one axis, so that what does not fit
// can be seen. It draws from the observations alone, never from a photograph. It also prints the field guide with drawings.
//
// The text is valid XML with a title and a description for readers who hear it, needs no fonts, scripts or files, and is the same for
// the same input, byte for byte. Everything that came from outside is escaped.
//
//	os.WriteFile("A-12.svg", []byte(drawing.Stone(stone, implication)), 0o644)
package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"musterstone/model"
)

// canvas gathers the elements of a picture.
type canvas struct {
	strings.Builder
}

const (
	ink    = "#2b2b2b"
	faint  = "#8a8a8a"
	earth  = "#8d7b62"
	alarm  = "#a3271b"
	accent = "#2f5d8a"
)

// sheet wraps the elements into a picture of w by h pixels. id makes the ids of title and description unique on a page.
func sheet(id, title, desc string, w, h float64, body string) string {
	return fmt.Sprintf(`<svg xmlns="http://www.w3.org/2000/svg" width="%s" height="%s" viewBox="0 0 %s %s" role="img" aria-labelledby="%s-t %s-d" font-family="Georgia, 'Times New Roman', serif">
<title id="%s-t">%s</title>
<desc id="%s-d">%s</desc>
<rect width="100%%" height="100%%" fill="#fffdf8"/>
%s</svg>
`, num(w), num(h), num(w), num(h), id, id, id, escape(title), id, escape(desc), body)
}

// idOf is an XML id for the picture of a stone, so that several can stand on one page.
func idOf(kind string, id model.StoneID) string {
	var b strings.Builder
	b.WriteString(kind)
	if id != "" {
		b.WriteByte('-')
	}
	for _, r := range string(id) {
		if r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' {
			b.WriteRune(r)
		} else {
			fmt.Fprintf(&b, "_%x", r)
		}
	}
	return b.String()
}

// num writes a coordinate with at most one decimal.
func num(x float64) string {
	x = math.Round(x*10) / 10
	if x == 0 {
		x = 0 // no minus zero
	}
	return strconv.FormatFloat(x, 'f', -1, 64)
}

// escape makes a text safe inside XML, in elements and attributes; what XML cannot hold becomes "?".
func escape(s string) string {
	var b strings.Builder
	for i, r := range s {
		switch {
		case r == '<':
			b.WriteString("&lt;")
		case r == '>':
			b.WriteString("&gt;")
		case r == '&':
			b.WriteString("&amp;")
		case r == '"':
			b.WriteString("&quot;")
		case r == '\'':
			b.WriteString("&#39;")
		case r == '\t' || r == '\n' || r == '\r':
			b.WriteByte(' ')
		case r < 0x20 || r == 0xFFFE || r == 0xFFFF:
			b.WriteByte('?')
		case r == utf8.RuneError:
			if _, n := utf8.DecodeRuneInString(s[i:]); n == 1 {
				b.WriteByte('?')
			} else {
				b.WriteRune(r)
			}
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

func (c *canvas) line(x1, y1, x2, y2 float64, stroke string, width float64, more string) {
	fmt.Fprintf(c, `<line x1="%s" y1="%s" x2="%s" y2="%s" stroke="%s" stroke-width="%s"%s/>`+"\n", num(x1), num(y1), num(x2), num(y2), stroke, num(width), more)
}

func (c *canvas) rect(x, y, w, h float64, fill, stroke, more string) {
	fmt.Fprintf(c, `<rect x="%s" y="%s" width="%s" height="%s" fill="%s" stroke="%s"%s/>`+"\n", num(x), num(y), num(w), num(h), fill, stroke, more)
}

func (c *canvas) path(d, fill, stroke, more string) {
	fmt.Fprintf(c, `<path d="%s" fill="%s" stroke="%s"%s/>`+"\n", d, fill, stroke, more)
}

// text writes a line; anchor is "start", "middle" or "end".
func (c *canvas) text(x, y, size float64, anchor, fill, s, more string) {
	fmt.Fprintf(c, `<text x="%s" y="%s" font-size="%s" text-anchor="%s" fill="%s"%s>%s</text>`+"\n", num(x), num(y), num(size), anchor, fill, more, escape(s))
}

// fit is the font size at which a text of capitals is at most w wide, and no more than most.
func fit(s string, w, most float64) float64 {
	n := float64(utf8.RuneCountInString(s))
	if n == 0 {
		return most
	}
	return math.Min(most, w/(n*.62))
}

// wrap parts a text into lines of at most n characters.
func wrap(s string, n int) []string {
	var out []string
	line := ""
	for _, w := range strings.Fields(s) {
		if line != "" && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(w) > n {
			out = append(out, line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += w
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}
