package unmarked

import (
	"cmp"
	"slices"
	"strings"
	"sync"
	"unicode"

	"musterstone/model"
	"musterstone/vocab"
)

// Cemetery is a burial ground of the survey, with the names it had before or has beside.
type Cemetery struct {
	Name   string
	Former []string
	County string
	State  model.State
}

// Cemeteries gives the burial grounds that the subjects name, sorted.
func Cemeteries(subjects []*model.Subject) []Cemetery {
	var out []Cemetery
	for _, s := range subjects {
		p := s.Stone.Place
		if p.Cemetery == "" {
			continue
		}
		out = append(out, Cemetery{Name: p.Cemetery, County: p.County, State: p.State})
	}
	order := func(a, b Cemetery) int {
		return cmp.Or(cmp.Compare(a.Name, b.Name), cmp.Compare(a.County, b.County), cmp.Compare(a.State, b.State))
	}
	slices.SortFunc(out, order)
	return slices.CompactFunc(out, func(a, b Cemetery) bool { return order(a, b) == 0 })
}

// ground is a cemetery under one of its names, ready to be looked for.
type ground struct {
	Cemetery
	called string
	core   []string // the words of the name without the words for a burial ground
	joined string   // the same in one
	county []string
}

func grounds(cs []Cemetery) []ground {
	var out []ground
	for _, c := range cs {
		for _, name := range append([]string{c.Name}, c.Former...) {
			g := ground{Cemetery: c, called: name}
			for _, w := range words(name) {
				if w.role != "ground" && w.role != "link" {
					g.core = append(g.core, w.word)
				}
			}
			g.county = countyName(c.County)
			g.joined = strings.Join(g.core, "")
			if len(g.core) > 0 {
				out = append(out, g)
			}
		}
	}
	return out
}

// countyName are the words of a county's name without that for a county.
func countyName(s string) []string {
	var out []string
	for _, w := range words(s) {
		if !w.isCounty() {
			out = append(out, w.word)
		}
	}
	return out
}

// word is a word of a remark: as it stands, and as it is compared.
type word struct {
	written string
	word    string // lower case, abbreviations written out
	role    string // "ground", "burial", "link", "moved", "name", or "" for any other word
	tells   string // "burial" where it alone tells of one, "number" where the number of a grave may follow
	comma   bool   // a comma, bracket or the like stands before it
	stop    bool   // a sentence ends before it
}

func (w word) isCounty() bool { return w.word == "co" || w.word == "county" }

var apostrophes = strings.NewReplacer("'", "", "’", "")

var burialWords = sync.OnceValue(func() map[string]vocab.Row {
	m := map[string]vocab.Row{}
	for _, r := range vocab.Rows("burial-words") {
		m[r.Get("form")] = r
	}
	return m
})

// words parts a remark into its words. A full stop ends a sentence only behind a word of four letters or more that is no known
// abbreviation; a word for burial with a capital begins one: "Ill. Buried in …".
func words(text string) []word {
	var out []word
	comma, stop := false, false
	var cur strings.Builder
	flush := func() {
		if cur.Len() == 0 {
			return
		}
		w := word{written: cur.String(), comma: comma, stop: stop}
		w.word = strings.ToLower(apostrophes.Replace(w.written))
		if r, ok := burialWords()[w.word]; ok {
			w.word, w.role, w.tells = r.Get("word"), r.Get("role"), r.Get("tells")
			w.stop = w.stop || w.role == "burial" && len(out) > 0 && startsCapital(w.written)
		}
		if last := len(out) - 1; last >= 0 && w.word == "yard" && out[last].word == "church" && !w.comma {
			out[last].word, out[last].role = "churchyard", "ground"
		} else {
			out = append(out, w)
		}
		comma, stop = false, false
		cur.Reset()
	}
	runes := []rune(text)
	for i, r := range runes {
		switch {
		case unicode.IsLetter(r) || unicode.IsDigit(r) || r == '\'' || r == '’':
			cur.WriteRune(r)
		case r == '.':
			long := cur.Len() > 3
			known := isForm(cur.String())
			flush()
			end := i+1 == len(runes)
			stop = !end && long && !known
		case r == ';' || r == '|' || r == '\n':
			flush()
			stop = true
		case strings.ContainsRune(",()[]:/", r):
			flush()
			comma = true
		default:
			flush()
		}
	}
	flush()
	return out
}

func isForm(s string) bool { _, ok := burialWords()[strings.ToLower(s)]; return ok }

// mention is a ground that a text names.
type mention struct {
	chance float64 // that the text means the ground as the burial place; 0 where it names none
	ground ground
	why    string // what lowers or raises the chance, in words
}

// mention finds the survey's ground that a text names as a man's burial place. In a cell that holds nothing but burial places the word
// for burial may be missing.
func (f *finder) mention(text string, burialCell bool, r *model.Record) mention {
	best := mention{}
	ws := words(text)
	for _, g := range f.grounds {
		for i := range ws {
			n := spells(ws[i:], &g)
			if n == 0 {
				continue
			}
			if m := judge(ws, i, i+n, g, burialCell, r); m.chance > best.chance {
				best = m
			}
		}
	}
	return best
}

// spells reports how many words at the front spell the name; 0 where they do not. "Oldmill" spells "Old Mill".
func spells(ws []word, g *ground) int {
	if len(ws) >= len(g.core) {
		ok := true
		for i, c := range g.core {
			ok = ok && ws[i].word == c && (i == 0 || !ws[i].comma && !ws[i].stop)
		}
		if ok {
			return len(g.core)
		}
	}
	if len(g.core) > 1 && ws[0].word == g.joined {
		return 1
	}
	return 0
}

// judge weighs words [i,j) of a text, which spell the ground's name.
func judge(ws []word, i, j int, g ground, burialCell bool, r *model.Record) mention {
	if i > 0 && !ws[i].comma && !ws[i].stop && !goesBefore(ws[i-1]) {
		return mention{} // the end of a longer name: "West Old Mill"
	}
	named := false // by a word for a burial ground
	end := j
	for end < len(ws) && !ws[end].comma && !ws[end].stop && (ws[end].role == "ground" || ws[end].role == "name" && end+1 < len(ws) && ws[end+1].role == "ground") {
		if ws[end].role == "name" {
			return mention{} // "Old Mill Church cemetery" is another ground than "Old Mill"
		}
		named = true
		end++
	}
	if end < len(ws) && !named && !ws[end].comma && !ws[end].stop && ws[end].role == "" && !isDigits(ws[end].written) {
		return mention{} // the beginning of a longer name, or no place at all: "Old Mill Creek"
	}
	for k := i; k > 0 && !ws[k].comma && !ws[k].stop && (ws[k-1].role == "link" || ws[k-1].role == "ground"); k-- {
		named = named || ws[k-1].role == "ground" // "cemetery of Old Mill"
	}
	buried := burialCell
	for k := i - 1; k >= 0 && !ws[k+1].stop; k-- {
		if ws[k].role == "burial" && k > 0 && (ws[k-1].word == "not" || ws[k-1].word == "never") {
			return mention{}
		}
		buried = buried || ws[k].role == "burial" || ws[k].role == "moved"
	}
	if !buried && !named {
		return mention{}
	}
	m := mention{ground: g, chance: weight("at-cemetery")}
	if !named {
		m.chance, m.why = weight("bare-name"), "the text does not say that it is a burial ground"
	} else if town := townAfter(ws, end); town != "" {
		m.chance, m.why = weight("at-town"), "it names a place, "+town+", which the survey does not"
	}
	switch county, state := placeAround(ws, i, end, g); {
	case county < 0 || state < 0:
		return mention{}
	case !named && county <= 0: // "Nashville, Tenn." may be the town as well as the ground
	case county > 0 || state > 0 && g.County == "":
		m.chance = max(m.chance, weight("at-county"))
		m.why = ""
	case r != nil && inCounty(r.Person.Residence, g):
		m.why = "he lived in the county"
	}
	for k := end; k < len(ws); k++ {
		if ws[k].role == "moved" {
			m.chance *= weight("moved")
			m.why = "but the body was moved afterwards, it says"
			break
		}
	}
	return m
}

func goesBefore(w word) bool {
	return w.role == "burial" || w.role == "link" || w.role == "ground" || w.role == "moved"
}

func startsCapital(s string) bool { return s != "" && unicode.IsUpper([]rune(s)[0]) }

// isName reports whether a word looks like a part of a name.
func isName(w word) bool { return w.role == "" && startsCapital(w.written) }

// townAfter is the place that a text names behind a ground, where that is neither a county nor a state.
func townAfter(ws []word, end int) string {
	if end >= len(ws) || !ws[end].comma || ws[end].stop || !isName(ws[end]) {
		return ""
	}
	to := end + 1
	for to < len(ws) && !ws[to].comma && !ws[to].stop {
		to++
	}
	var names []string
	for _, w := range ws[end:to] {
		if w.isCounty() || isDigits(w.written) {
			return ""
		}
		names = append(names, w.written)
	}
	town := strings.Join(names, " ")
	if _, ok := vocab.State(town); ok || to < len(ws) && isDigits(ws[to].written) || len(names) > 3 {
		return ""
	}
	return town
}

func isDigits(s string) bool {
	return s != "" && strings.Trim(s, "0123456789") == ""
}

// placeAround looks at the places named in the same sentence: 1 where the county (the state) is the ground's, -1 where it is another, 0 where
// none is named.
func placeAround(ws []word, i, end int, g ground) (county, state int) {
	from, to := i, end
	for from > 0 && !ws[from].stop {
		from--
	}
	for to < len(ws) && !ws[to].stop {
		to++
	}
	for k := from; k < to; k++ {
		if ws[k].isCounty() && k > from && !isCompany(ws, k) {
			if ends(ws[from:k], g.county) {
				county = 1
			} else if county == 0 && len(g.county) > 0 && isName(ws[k-1]) {
				county = -1
			}
		}
	}
	for k := end; k < to; k++ {
		if !ws[k].comma && !(k > end && ws[k-1].isCounty()) {
			continue
		}
		text := ws[k].written
		if k+1 < to && !ws[k+1].comma {
			if s, ok := vocab.State(text + " " + ws[k+1].written); ok {
				state = same(s, g.State, state)
				continue
			}
		}
		if s, ok := vocab.State(text); ok && (k+1 == to || ws[k+1].comma) {
			state = same(s, g.State, state)
		}
	}
	return county, state
}

func same(s, want model.State, before int) int {
	if want == "" {
		return before
	}
	if s == want {
		return 1
	}
	return -1
}

// isCompany reports whether "Co." at k is a company: a letter follows it.
func isCompany(ws []word, k int) bool {
	return k+1 < len(ws) && !ws[k+1].comma && len(ws[k+1].word) == 1
}

// ends reports whether the words end in the name.
func ends(ws []word, name []string) bool {
	if len(name) == 0 || len(ws) < len(name) {
		return false
	}
	for i, n := range name {
		if ws[len(ws)-len(name)+i].word != n {
			return false
		}
	}
	return true
}

// inCounty reports whether a residence names the ground's county.
func inCounty(residence string, g ground) bool {
	ws := words(residence)
	for i := range ws {
		if ws[i].isCounty() && ends(ws[:i], g.county) {
			return true
		}
	}
	return false
}
