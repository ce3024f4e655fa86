package quarry

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"unicode"
)

// recorder is somebody who writes stones down, with habits.
type recorder struct {
	name     string
	title    bool    // writes Holden for HOLDEN
	points   float64 // how often the points of abbreviations are kept
	breaks   string  // what parts the lines
	measures float64 // how often the stone is measured
	counts   float64 // how often lost letters are counted, and not only said to be lost
	restores float64 // how often lost letters are guessed at, in brackets
	slips    float64 // slips of the pen, a stone
	full     float64 // how often CO. and INF. are written out
}

// crew are the survey's recorders.
func (q *quarry) crew() []*recorder {
	return []*recorder{
		{name: "E. Brandvold", points: 1, breaks: " / ", measures: .95, counts: .9, restores: .1, slips: .02},
		{name: "Carol Metz", title: true, points: .8, breaks: " / ", measures: .5, counts: .3, restores: .05, slips: .06},
		{name: "R. Toth", points: .1, breaks: "\n", measures: .8, counts: .7, restores: .35, slips: .05},
		{name: "Scouts of Troop 9", title: true, points: .5, breaks: " / ", measures: .2, counts: .2, slips: .12, full: .25},
		{name: "E. Brandvold", points: 1, breaks: " / ", measures: .95, counts: .9, restores: .1, slips: .02},
	}
}

// alike are letters and figures that look like another where a stone is worn.
var alike = map[rune]string{'C': "GO", 'G': "C6", 'O': "DCQ", 'D': "O", 'Q': "O", '1': "74", '7': "1", '3': "8", '8': "36", '5': "63", '6': "850", '0': "69", '9': "04", '4': "1", '2': "7", 'I': "LT", 'L': "IE", 'T': "I", 'E': "FL", 'F': "EP", 'P': "FR", 'H': "NK", 'N': "HM",
	'M': "N", 'R': "KB", 'B': "RE", 'K': "RH", 'U': "V", 'V': "UY", 'Y': "V", 'A': "R", 'S': "B", 'W': "M", 'X': "K", 'Z': "2", 'J': "I"}

// misread puts one worn letter or figure for another.
func misread(r *rand.Rand, text string) string {
	at := []rune(text)
	for range 20 {
		i := r.IntN(len(at))
		if like := []rune(alike[at[i]]); len(like) > 0 {
			at[i] = one(r, like...)
			break
		}
	}
	return string(at)
}

// weathered is what can still be read of a stone's lines, and how it looks.
func (q *quarry) weathered(k *marker, by *recorder) (lines []string, condition string) {
	r := q.weather
	lines = append(lines, k.lines...)
	hard := .30
	if q.opt.Messy {
		hard = .85
	}
	x, sunk := r.Float64(), r.Float64()
	if q.opt.Messy {
		sunk /= 2
	}
	if sunk < k.sunk && len(lines) > 2 {
		lines[len(lines)-1] = one(r, "[---]", lines[len(lines)-1][:len(lines[len(lines)-1])/2]+"[---]")
		condition = one(r, "sunken", "base below sod")
	}
	if x > hard*k.worn {
		return lines, condition
	}
	condition = one(r, "weathered", "worn", "sugared", "lichen")
	wounds := 1
	for r.Float64() < .4 && wounds < 5 {
		wounds++
	}
	for range wounds {
		i := r.IntN(len(lines))
		if strings.ContainsAny(lines[i], "[]") {
			continue
		}
		switch y := r.Float64(); {
		case y < .4:
			lines[i] = misread(r, lines[i])
		case y < .9:
			lines[i] = lose(r, lines[i], by)
		case y < .94 && len(lines) > 2:
			lines[i] = "[---]"
		default:
			lines[i] = doubted(r, lines[i])
		}
	}
	return lines, condition
}

// lose takes some letters of a line that stand side by side.
func lose(r *rand.Rand, line string, by *recorder) string {
	n := 1 + int(4*r.Float64()*r.Float64())
	if strings.ContainsRune(line, '\u0323') {
		return line
	}
	if n >= len(line) {
		return "[---]"
	}
	at := r.IntN(len(line) - n + 1)
	lost := line[at : at+n]
	if strings.TrimSpace(lost) == "" || strings.Trim(lost, ". ,-") == "" {
		return line
	}
	switch {
	case r.Float64() < by.restores:
		if r.Float64() < .15 {
			lost = misread(r, lost)
		}
		return line[:at] + "[" + lost + "]" + line[at+n:]
	case r.Float64() < by.counts:
		return line[:at] + "[" + strings.Repeat(".", n) + "]" + line[at+n:]
	}
	return line[:at] + "[---]" + line[at+n:]
}

// doubted marks some letters as unclear, with a dot below. They are rightly read, but for some.
func doubted(r *rand.Rand, line string) string {
	var b strings.Builder
	from := r.IntN(len(line))
	for i, c := range line {
		if r.Float64() < .1 && i >= from && i < from+3 {
			if like := []rune(alike[c]); len(like) > 0 {
				c = one(r, like...)
			}
		}
		b.WriteRune(c)
		if i >= from && i < from+3 && unicode.IsLetter(c) {
			b.WriteRune('\u0323')
		}
	}
	return b.String()
}

// slip is a slip of the pen: two letters exchanged, one left out or written twice, a figure beside the right one.
func slip(r *rand.Rand, line string) string {
	at := []rune(line)
	if len(at) < 4 || strings.ContainsAny(line, "[]\u0323") {
		return line
	}
	i := 1 + r.IntN(len(at)-2)
	switch {
	case unicode.IsDigit(at[i]):
		at[i] = rune('0' + (int(at[i]-'0')+one(r, 1, 9))%10)
		return string(at)
	case !unicode.IsLetter(at[i]) || !unicode.IsLetter(at[i+1]):
		return line
	}
	switch r.IntN(3) {
	case 0:
		at[i], at[i+1] = at[i+1], at[i]
	case 1:
		at = append(at[:i], at[i+1:]...)
	default:
		at = append(at[:i+1], at[i:]...)
	}
	return string(at)
}

// titled writes words as in a letter: Wm. A. Holden, Co. C, 31 Wis. Inf. Marks for lost letters stay, and abbreviations that are letters alone stay capitals.
func titled(line string) string {
	capitals := map[string]bool{"US": true, "USN": true, "CSA": true, "USMC": true, "SATC": true, "FA": true, "MG": true, "QM": true, "CAC": true, "USS": true, "II": true, "VFW": true, "AEF": true, "WW": true}
	words := strings.Split(line, " ")
	for i, w := range words {
		if capitals[strings.Trim(w, ".,")] {
			continue
		}
		var b strings.Builder
		inside := false
		for _, c := range w {
			if inside {
				c = unicode.ToLower(c)
			}
			b.WriteRune(c)
			inside = inside || unicode.IsLetter(c)
			if c == '.' || c == '\'' && b.Len() < 3 || c == '&' || c == '-' {
				inside = false
			}
		}
		words[i] = b.String()
		if strings.HasPrefix(w, "MC") && len(w) > 4 && !strings.ContainsAny(w, "[.") {
			words[i] = "Mc" + strings.ToUpper(w[2:3]) + strings.ToLower(w[3:])
		}
	}
	return strings.Join(words, " ")
}

// record writes a stone down.
func (q *quarry) record(by *recorder, id string, k *marker) []string {
	r := q.ground
	k.cemetery = int(float64(len(grounds)) * r.Float64() * r.Float64())
	lines, condition := q.weathered(k, by)
	slips := by.slips
	if q.opt.Messy {
		slips *= 2.5
	}
	if q.weather.Float64() < slips {
		i := q.weather.IntN(len(lines))
		lines[i] = slip(q.weather, lines[i])
	}
	keep, full := r.Float64() < by.points, r.Float64() < by.full
	for i, line := range lines {
		if !keep {
			line = strings.Join(strings.Fields(pointless(line)), " ")
		}
		if full {
			line = strings.NewReplacer("CO. ", "COMPANY ", "INF.", "INFANTRY", "CAV.", "CAVALRY", "REGT.", "REGIMENT").Replace(line)
		}
		if by.title {
			line = titled(line)
		}
		lines[i] = line
	}
	inches := func(x float64) string {
		if x == 0 {
			return ""
		}
		if r.Float64() < .15 {
			x += one(r, .25, -.25, .5, -.5)
		}
		return fmt.Sprint(x)
	}
	var width, thick, height string
	if r.Float64() < by.measures {
		width, thick, height = inches(k.width), inches(k.thick), inches(k.height)
	}
	top, device, lettering := k.top, k.device, k.lettering
	if r.Float64() < .1 {
		top = ""
	}
	if r.Float64() < .12 {
		device = ""
	}
	if r.Float64() < .2 {
		lettering = ""
	}
	sound := one(r, "good", "good", "", "fair")
	if condition == "" {
		condition = sound
	}
	return []string{id, grounds[k.cemetery], county, "WI", one(r, "A", "B", "C", "D", ""), fmt.Sprint(1 + r.IntN(40)), fmt.Sprint(1 + r.IntN(30)), strings.Join(lines, by.breaks), top, k.material, width, thick, height, lettering, device, k.emblem, k.motifs, k.setting, condition, by.name,
		someDay(r, 2011, 2022).iso(), k.notes}
}

// pointless leaves out the points of abbreviations, but not those that count lost letters.
func pointless(line string) string {
	var b strings.Builder
	inside := false
	for _, c := range line {
		inside = (inside || c == '[') && c != ']'
		if c != '.' || inside {
			b.WriteRune(c)
		}
	}
	return b.String()
}

// registered is a row of the register of soldiers' graves that the county's relief officer kept.
func (q *quarry) registered(r *rand.Rand, m *man, id string) []string {
	s := m.services[len(m.services)-1]
	n := q.clerk(r, m)
	given := strings.TrimSpace(n.given + " " + n.middle)
	company, regiment, unit := "", "", ""
	war := map[string]string{"civil": "Civil War", "other": "Civil War", "south": "Civil War", "frontier": "Indian Wars", "1898": one(r, "Spanish-American War", "Spanish War"), "1917": one(r, "World War", "World War I"), "1941": "World War II"}[s.war]
	branch := ""
	if r.Float64() < .78 {
		company = s.company
		switch {
		case s.arm == "navy":
			branch = "Navy"
		case s.arm == "usmc":
			branch = "Marine Corps"
		case s.war == "1917":
			unit = s.modern(false)
		case s.war == "1941":
			branch = "Army"
		case s.war == "1898" || s.war == "frontier":
			o := *s
			o.company = ""
			unit = q.unit98(r, &o)
		default:
			unit = q.postUnit(r, s)
			if company != "" {
				o := *s
				o.company = ""
				unit = strings.TrimLeft(q.postUnit(r, &o), "Co.,Bat ")
			}
		}
	}
	born, died := "", ""
	if r.Float64() < .45 {
		born = fmt.Sprint(m.born.y)
	}
	if r.Float64() < .85 {
		died = m.died.iso()
		if r.Float64() < .3 {
			died = fmt.Sprint(m.died.y)
		}
	}
	if r.Float64() < .12 {
		war = ""
	}
	rank := ""
	if r.Float64() < .6 {
		rank = printedRanks[s.out][0]
		if s.war == "1941" {
			rank = ""
		}
	}
	return []string{id, grounds[int(float64(len(grounds))*r.Float64()*r.Float64())], county, "WI", one(r, "A", "B", "C", ""), fmt.Sprint(1 + r.IntN(300)), n.surname, given, rank, company, regiment, unit, branch, born, died, "", war, one(r, "", "", "no stone", "family lot")}
}
