package haven

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
)

// volunteer is one who walks the grounds with a sheet, in his own way.
type volunteer struct {
	name                            string
	measures, title, bare, breaks   bool    // writes Names Like This; leaves full stops out; breaks lines where the stone does
	marks, restores, unclear, slips float64 // says that letters are lost, guesses them, dots what is unclear; slips a key, a line
	looks                           float64 // fills in top, lettering, device
}

var volunteers = []volunteer{
	{"D. Amory", true, false, false, false, .97, .1, .3, .006, .97}, {"L. Brandvold", true, false, true, false, .9, .05, .1, .008, .9}, {"P. Costigan", false, true, false, false, .85, .2, 0, .012, .8},
	{"R. Dekker", true, false, false, true, .95, .05, .4, .006, .95}, {"S. Eames", false, false, true, false, .7, .1, 0, .014, .6}, {"T. Fane", false, true, true, false, .8, .15, .1, .01, .75},
}

// wear is what weather has left of a stone's lines: false where a letter is gone. Lichen grows in discs over lines, which stand two letters high and are cut about a middle;
// letters in relief of soft stone go one by one; earth hides the foot, and what is broken off is the head. Units, near the shield's edge, flake whole.
func (m *maker) wear(s *stone) [][]bool {
	kept := make([][]bool, len(s.lines))
	widest := 0
	for i, l := range s.lines {
		kept[i] = slices.Repeat([]bool{true}, len([]rune(l.words)))
		widest = max(widest, len(kept[i]))
	}
	soft := map[string]float64{"white marble": .55, "marble": .8, "sandstone": 1.3, "granite": .07, "zinc": .01, "bronze": .01}[s.material]
	harm := soft * float64(2019-min(s.year, 2000)) / 120 * m.of(1, 2.2)
	if s.p != nil && s.lettering == "raised" {
		harm *= 1.15
	}
	for range 3 {
		if !m.chance(harm * .065) {
			continue
		}
		x, y, r := m.Float64()*float64(widest), m.Float64()*float64(2*len(kept)), 1+2.6*m.Float64()
		for i, line := range kept {
			indent := float64(widest-len(line)) / 2
			for k := range line {
				dx, dy := indent+float64(k)+.5-x, float64(2*i)+1-y
				if dx*dx+dy*dy < r*r {
					line[k] = false
				}
			}
		}
	}
	if m.chance(harm * .08) {
		for _, line := range kept {
			for k := range line {
				if m.chance(.07) {
					line[k] = false
				}
			}
		}
	}
	if s.setting == "upright" && m.chance(m.of(.025, .05)) {
		clear(kept[len(kept)-1])
	}
	if soft > .3 && m.chance(m.of(.006, .015)) {
		clear(kept[0])
	}
	for i, l := range s.lines {
		if l.tells == 'u' && m.chance(m.of(.01, .09)*min(soft*2, 1)) {
			if m.chance(.5) {
				clear(kept[i])
				continue
			}
			for k, c := range []rune(l.words) {
				if unicode.IsDigit(c) && m.chance(.6) {
					kept[i][k] = false
				}
			}
		}
	}
	return kept
}

// of is one rate for a clean survey and another for a messy one.
func (m *maker) of(clean, messy float64) float64 {
	if m.messy {
		return messy
	}
	return clean
}

// transcribe is what a volunteer writes of a stone.
func (m *maker) transcribe(s *stone, v *volunteer) string {
	kept := m.wear(s)
	var lines []string
	for i, l := range s.lines {
		words := l.words
		if m.chance(v.slips * m.of(.7, 2)) {
			words = m.misread(words)
		}
		line := []rune(words)
		if len(line) != len(kept[i]) {
			kept[i] = slices.Repeat([]bool{!slices.Contains(kept[i], false) || m.chance(.5)}, len(line))
		}
		var b strings.Builder
		for k := 0; k < len(line); {
			if kept[i][k] || line[k] == ' ' || line[k] == '.' {
				b.WriteRune(m.cased(line, k, v))
				if unicode.IsLetter(line[k]) && k > 0 && !kept[i][k-1] && m.chance(v.unclear) {
					b.WriteRune('\u0323')
				}
				k++
				continue
			}
			end := k
			for end < len(line) && !kept[i][end] {
				end++
			}
			run := strings.TrimRight(string(line[k:end]), " ")
			end = k + len([]rune(run))
			switch {
			case len(run) < 3 && m.chance(v.restores):
				if m.chance(.15) {
					run = m.eye(run)
				}
				b.WriteString("[" + run + "]")
			case !m.chance(v.marks): // says nothing of it
			case len(run) > 4 || strings.Contains(run, " "):
				b.WriteString("[---]")
			default:
				b.WriteString("[" + strings.Repeat(".", len([]rune(run))) + "]")
			}
			k = end
		}
		text := strings.Join(strings.Fields(b.String()), " ")
		if v.bare {
			text = strings.NewReplacer("[.", "[.", "..", "..", ".]", ".]", ". ", " ", ".,", ",").Replace(text)
			if !strings.HasSuffix(text, "]") {
				text = strings.TrimSuffix(text, ".")
			}
		}
		if text != "" {
			lines = append(lines, text)
		}
	}
	if v.breaks {
		return strings.Join(lines, "\n")
	}
	return strings.Join(lines, " / ")
}

// cased is a letter of a line as a volunteer's hand has it.
func (m *maker) cased(line []rune, k int, v *volunteer) rune {
	if v.title && k > 0 && unicode.IsLetter(line[k-1]) && !slices.Contains(line, '.') {
		return unicode.ToLower(line[k])
	}
	return line[k]
}

// misread is a line with a volunteer's slip: a figure or a letter for another.
func (m *maker) misread(line string) string {
	for i, c := range line {
		if c >= '0' && c <= '9' && m.chance(.5) {
			alike := map[rune]string{'0': "6", '1': "4", '2': "7", '3': "8", '4': "1", '5': "3", '6': "8", '7': "1", '8': "3", '9': "4"}[c]
			return line[:i] + alike + line[i+1:]
		}
	}
	if i := strings.LastIndexAny(line, " "); i >= 0 && i+4 < len(line) {
		return line[:i+1] + strings.ToUpper(m.slip(line[i+1:]))
	}
	return strings.ToUpper(m.slip(line))
}

// note lays the stones out, walks them, and writes down what is true.
func (m *maker) note(all []*stone, entries []entry) (stones, register, truth [][]string) {
	stones = [][]string{words("id cemetery county state section row plot inscription top material width_in thickness_in height_in lettering device emblem motifs setting condition recorder recorded notes")}
	register = [][]string{words("id cemetery surname given rank company regiment died age born")}
	truth = [][]string{{"stone", "record"}}
	is := func(id string, p *man) {
		if p == nil {
			return
		}
		for _, r := range p.records {
			truth = append(truth, []string{id, r})
		}
	}
	slices.SortStableFunc(all, func(a, b *stone) int { // the Home buries in rows, one after the other; the city by families
		if a.home != b.home {
			if a.home {
				return -1
			}
			return 1
		}
		if a.home {
			return cmp.Compare(a.dead, b.dead)
		}
		return 0
	})
	cell := func(shown float64, s string) string {
		if m.chance(shown) {
			return s
		}
		return ""
	}
	inch := func(x float64, shown bool) string {
		if !shown || x == 0 {
			return ""
		}
		return fmt.Sprint(x + []float64{0, 0, 0, 0, .25, -.25, -.125}[m.IntN(7)])
	}
	for i, s := range all {
		v := &volunteers[(i/40)%len(volunteers)]
		id := fmt.Sprintf("%s-%04d", map[bool]string{true: "SH", false: "AC"}[s.home], i+1)
		ground, section := "Ansel City Cemetery", string("ABCDEFG"[i*7/len(all)])
		if s.home {
			ground, section = "State Soldiers' Home Cemetery", number(1+i/120)
		}
		material := s.material
		if material == "white marble" && m.chance(.25) {
			material = "marble"
		}
		stones = append(stones, []string{id, ground, "Ansel", "MI", section, number(1 + i/20), number(1 + i%20), m.transcribe(s, v), cell(v.looks, s.top), cell(.95, material),
			inch(s.width, v.measures), inch(s.thick, v.measures), inch(s.height, v.measures), cell(v.looks, s.lettering), cell(v.looks, s.device), cell(v.looks, s.emblem), cell(.8, s.motifs), cell(v.looks, s.setting),
			m.any("", "", "good", "fair", "worn", "leaning"), v.name, fmt.Sprintf("2019-%02d-%02d", 5+i/40%5, 1+i/200%28), s.notes})
		is(id, s.p)
	}
	for i, e := range entries {
		id := fmt.Sprintf("R-%04d", i+1)
		register = append(register, append([]string{id}, e.cells...))
		is(id, e.p)
	}
	return stones, register, truth
}
