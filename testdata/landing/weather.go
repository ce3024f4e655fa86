package landing

import (
	"strconv"
	"strings"
	"unicode"
)

// recorder is a volunteer, with habits.
type recorder struct {
	name     string
	slips    int  // misread figures and letters, in thousands of them
	lower    bool // types small letters after the first
	stops    bool // types full stops
	counts   bool // counts lost letters, rather than mark that there are some
	restores bool // writes what he is sure that a lost letter was
}

const (
	whole   = iota
	unclear // read with doubt
	lost
)

// record is what a volunteer writes of a stone, weather and slips and all.
func (m *maker) record(s *stone) *finding {
	by := m.recorders[m.IntN(len(m.recorders))]
	lines := make([][]rune, len(s.lines))
	for i, l := range s.lines {
		if !by.stops {
			l = strings.Join(strings.Fields(strings.ReplaceAll(l, ".", " ")), " ")
		}
		if !by.lower {
			l = strings.ToUpper(l)
		}
		lines[i] = []rune(l)
	}
	state, condition := m.weathered(s, lines)
	var out []string
	for i, l := range lines {
		for j, r := range l {
			if century(l, j) {
				continue
			}
			if state[i][j] == whole && m.IntN(100_000) < by.slips*m.tired()*[]int{10, 24}[of(unicode.IsDigit(r))] {
				l[j] = misread(m, r)
			}
		}
		if text := by.write(m, l, state[i]); text != "" {
			out = append(out, text)
		}
	}
	if len(out) > 3 && m.of(.004, .012) { // a line passed over
		i := 1 + m.IntN(len(out)-1)
		out = append(out[:i], out[i+1:]...)
	}
	thick, width := s.thick, s.width
	if m.chance(.15) { // not measured
		thick, width = "", ""
	}
	top := s.top
	if condition == "top broken off" {
		top = ""
	}
	note := ""
	if condition == "sunken" {
		note = "Last line below ground."
	}
	return &finding{men: s.names, order: s.name + strconv.Itoa(s.section) + strconv.Itoa(10000+s.plot), cells: []string{s.name, m.counties[0].name, "Indiana", strconv.Itoa(s.section), strconv.Itoa(s.plot), strings.Join(out, " / "), top, s.material, width, thick, s.high, s.lettering, s.device, s.deco, s.setting, condition, by.name, strconv.Itoa(2011 + m.IntN(8)), note}}
}

func of(second bool) int {
	if second {
		return 1
	}
	return 0
}

// tired is how many times as many slips there are in a messy survey.
func (m *maker) tired() int {
	if m.messy {
		return 3
	}
	return 1
}

// weathered says what time has left of each letter: sugared marble loses them one by one, a scar takes a patch of several lines, the ground takes the last line and frost the first.
func (m *maker) weathered(s *stone, lines [][]rune) (state [][]int, condition string) {
	state = make([][]int, len(lines))
	for i := range lines {
		state[i] = make([]int, len(lines[i]))
	}
	soft := s.material != "granite" && s.material != "bronze" && s.material != "zinc"
	condition = "good"
	scar := func(line, col, radius, how int) {
		for i := range lines {
			for j := range lines[i] {
				// A line is as high as two letters are broad, and every line is cut about the middle.
				x, y := 2*j-len(lines[i])-col, 4*(i-line)
				if d := x*x + y*y; d <= radius*radius*4 {
					state[i][j] = how
				}
			}
		}
	}
	if soft && m.of(.15, .27) {
		condition = "weathered"
		rate := 5 + m.IntN(45)
		for i := range lines {
			for j := range lines[i] {
				if r := m.IntN(1000); r < rate/2 {
					state[i][j] = unclear
				} else if r < rate {
					state[i][j] = lost
				}
			}
		}
	}
	if soft && m.of(.08, .14) {
		condition = "spalled"
		scar(m.IntN(len(lines)), m.IntN(31)-15, 1+m.IntN(4), lost)
	}
	if m.of(.05, .08) {
		condition = "lichen"
		scar(m.IntN(len(lines)), m.IntN(31)-15, 1+m.IntN(3), unclear)
	}
	if s.unit > 0 && soft && m.of(.015, .1) {
		condition = "worn"
		scar(min(s.unit+m.IntN(2), len(lines)-1), m.IntN(21)-10, 2+m.IntN(4), lost)
	}
	all := func(i int) {
		for j := range state[i] {
			state[i][j] = lost
		}
	}
	switch {
	case len(lines) > 2 && s.setting == "upright" && m.of(.02, .05):
		condition = "sunken"
		all(len(lines) - 1)
	case len(lines) > 2 && soft && m.of(.01, .025):
		condition = "top broken off"
		all(0)
	}
	return state, condition
}

// alike are letters and figures that eyes take for others on stone.
var alike = map[rune]string{'1': "74", '2': "7", '3': "85", '4': "1", '5': "36", '6': "85", '7': "1", '8': "36", '9': "0", '0': "69", 'C': "GO", 'G': "C", 'E': "F", 'F': "EP", 'O': "C", 'I': "L", 'L': "I", 'N': "M", 'M': "N", 'B': "R", 'R': "B", 'H': "N", 'K': "R", 'P': "F", 'D': "O", 'U': "V", 'V': "Y", 'A': "H", 'T': "I", 'S': "B", 'Y': "V"}

// century says whether a letter is of the first two figures of a year, which nobody takes for others.
func century(line []rune, at int) bool {
	for _, from := range []int{at, at - 1} {
		if from >= 0 && from+3 < len(line) && line[from] == '1' && unicode.IsDigit(line[from+1]) && unicode.IsDigit(line[from+2]) && unicode.IsDigit(line[from+3]) {
			return true
		}
	}
	return false
}

func misread(m *maker, r rune) rune {
	like := alike[unicode.ToUpper(r)]
	if like == "" {
		return r
	}
	out := rune(like[m.IntN(len(like))])
	if unicode.IsLower(r) {
		return unicode.ToLower(out)
	}
	return out
}

// write marks what is lost or unclear in a line, as the Leiden conventions have it.
func (by *recorder) write(m *maker, line []rune, state []int) string {
	var b strings.Builder
	for i := 0; i < len(line); {
		r := line[i]
		switch {
		case state[i] == unclear && unicode.IsLetter(r):
			b.WriteRune(r)
			b.WriteRune('\u0323')
			i++
		case state[i] == lost && r != ' ':
			end := i
			for end < len(line) && (state[end] == lost || line[end] == ' ' && end+1 < len(line) && state[end+1] == lost) {
				end++
			}
			n := end - i
			switch {
			case n <= 2 && by.restores && unicode.IsLetter(r) && i > 0 && unicode.IsLetter(line[i-1]) && m.chance(.4):
				b.WriteString("[" + string(line[i:end]) + "]")
			case n > 6 || !by.counts && n > 2:
				b.WriteString("[---]")
			default:
				if n > 2 && m.chance(.2) { // miscounted
					n += 1 - 2*m.IntN(2)
				}
				b.WriteString("[" + strings.Repeat(".", n) + "]")
			}
			i = end
		default:
			b.WriteRune(r)
			i++
		}
	}
	return strings.TrimSpace(b.String())
}
