package prairie

import (
	"fmt"
	"strings"
)

// Those who write stones down: who writes in capitals only, drops points, guesses at what is unclear, counts what is lost.
var volunteers = []struct {
	name                  string
	upper, points, counts bool
	guess, slips          float64
}{{"E. Hollis", false, true, true, .1, .004}, {"M. Trask", true, false, true, .25, .01}, {"Mrs. Orcutt", false, true, false, .4, .012}, {"D. Yost", true, true, true, .15, .006}}

// alike are letters and figures taken for each other when half gone.
var alike = map[rune]string{'C': "GO", 'G': "C", 'O': "C0", 'E': "F", 'F': "EP", 'I': "L1", 'L': "I", 'T': "I", 'B': "R8", 'R': "B", 'P': "F", 'K': "R", 'H': "N", 'N': "H", 'M': "N", 'D': "O", '1': "7", '3': "8", '8': "3", '5': "6", '6': "5", '0': "6", '7': "1", 'a': "o", 'e': "c", 'o': "a", 'n': "u", 'r': "n", 'l': "t", 't': "l", 'i': "l"}

// record is the stone's row as a volunteer writes it after the weather has been at it.
func (m *maker) record(id string, st stone) []string {
	v := volunteers[m.IntN(len(volunteers))]
	times := 1.
	if m.messy {
		times = 2.5
	}
	// how far gone: by material and age, and by what is not known
	decay := map[string]float64{"white marble": 1, "marble": 1, "sandstone": 1.5, "granite": .15, "zinc": .05}[st.material] * float64(2020-st.year) / 120
	grain := m.Float64()
	wear := .13 * times * decay * grain * grain * grain * grain
	streak, streakWide := m.IntN(16), 0 // the drip of a tree, down all lines
	if m.chance(.03 * times * decay) {
		streakWide = 2 + m.IntN(3)
	}
	spall := -1 // a line that a crack or flake goes through
	if m.chance(.025 * times * decay) {
		spall = m.IntN(len(st.lines))
	}
	sunk := m.chance(.03 * times)
	condition := "sound"
	switch {
	case spall >= 0:
		condition = "broken"
	case sunk:
		condition = "sunken"
	case wear > .04:
		condition = "worn"
	case streakWide > 0:
		condition = "lichen"
	}
	var lines []string
	for i, line := range st.lines {
		if sunk && i == len(st.lines)-1 && i > 0 {
			lines = append(lines, "[---]")
			continue
		}
		if v.upper {
			line = strings.ToUpper(line)
		}
		if !v.points {
			line = strings.ReplaceAll(line, ".", "")
		}
		var b strings.Builder
		lost := 0
		flush := func() {
			if lost > 3 && !v.counts {
				b.WriteString("[---]")
			} else if lost > 0 {
				b.WriteString("[" + strings.Repeat(".", lost) + "]")
			}
			lost = 0
		}
		for k, c := range line {
			p := wear
			if streakWide > 0 && k >= streak && k < streak+streakWide {
				p += .6
			}
			if i == spall {
				p += .5
			}
			solid := c != ' ' && c != '.' && c != ',' && c != '-'
			switch {
			case !solid:
				if lost == 0 {
					b.WriteRune(c)
				} else if c == ' ' {
					flush()
					b.WriteRune(c)
				}
			case m.chance(p * .6):
				lost++
			case m.chance(p * .5):
				flush()
				if to := alike[c]; to != "" && m.chance(.3) {
					c = rune(to[m.IntN(len(to))])
				}
				b.WriteRune(c)
				if !m.chance(v.guess) {
					b.WriteRune('\u0323')
				}
			case m.chance(v.slips * times / 3):
				flush()
				if to := alike[c]; to != "" {
					c = rune(to[m.IntN(len(to))])
				}
				b.WriteRune(c)
			default:
				flush()
				b.WriteRune(c)
			}
		}
		flush()
		lines = append(lines, strings.TrimSpace(b.String()))
	}
	if m.chance(.01*times) && len(lines) > 2 {
		lines = lines[:len(lines)-1] // a line overlooked
	}
	ground := m.any("Harlan Center", "Harlan Center", "St. Wendel", "Nyborg Lutheran", "Fort Kinnard")
	measure := func(s string) string {
		if m.chance(.12) {
			return ""
		}
		return s
	}
	return []string{id, ground + " Cemetery", "Harlan", "NE", string(rune('A' + m.IntN(6))), fmt.Sprint(1 + m.IntN(20)), fmt.Sprint(1 + m.IntN(30)), strings.Join(lines, " / "), st.top, st.material, measure(st.width), measure(st.thick), measure(st.height), st.lettering, st.device, st.emblem, st.motif, st.setting, condition, v.name, ""}
}
