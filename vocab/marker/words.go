package marker

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// clue is a wording that bounds when a stone was cut, or who it speaks of.
type clue struct {
	key      string
	from, to int
	bounds   string // "stone", "service", "medallion"
	names    bool   // it names a war
	services []string
	seldom   []string // of the services, those whose men wear it seldom
	text     string
	written  string   // the first wording of the row
	unless   []string // keys of clues beside which it tells nothing: WORLD WAR where one with its number stands
}

type clueTable struct {
	list  []clue
	words wordings
}

func compileClues() *clueTable {
	t := &clueTable{words: wordings{}}
	for _, r := range vocab.Rows("dating-clues") {
		c := clue{key: r.Get("key"), from: r.Int("from"), to: r.Int("to"), bounds: r.Get("bounds"), names: r.Get("names_war") == "yes",
			services: r.List("services"), seldom: r.List("seldom"), text: r.Get("text"), unless: r.List("unless")}
		c.written = r.List("words")[0]
		for _, w := range r.List("words") {
			t.words.add(len(t.list), strings.Fields(w))
		}
		t.list = append(t.list, c)
	}
	return t
}

// words is what the words of a stone tell of its design.
type words struct {
	read    bool // there were words to read
	unread  bool // some could not be placed
	partial bool // some of them are lost, so that what is missing tells nothing
	people  int
	naming  int // named, unknown or number: see below
	service int // -1 none, or unit, branch, veteran
	form    int // of the unit; -1 none
	named   bool
	clues   []int
	dates   int // noDates, deathDate or bothDates
	home    bool
	epitaph bool
	memory  bool
	honor   bool
	grave   bool
	// wife is set where the only one named is a wife or a child.
	wife       bool
	born, died span
	claim      model.Claim
	societies  []string
	tokens     []string
}

const (
	namesSomeone = iota
	namesUnknown
	namesNumber
)

const (
	noDates = iota
	deathDate
	bothDates
)

// span is a span of years; 0 where open.
type span struct{ from, to int }

func years(d date.Date) span { return span{d.From.Year, d.To.Year} }

func (s span) known() bool { return s.from != 0 || s.to != 0 }

// year is one year that stands for the span: the last, or the first where the last is open.
func (s span) year() int {
	if s.to != 0 {
		return s.to
	}
	return s.from
}

func (t *tables) readWords(s *model.Stone, r model.Reading) words {
	w := words{service: -1, form: -1, claim: r.Claim(), people: len(r.People), societies: r.Society, unread: len(r.Unread) > 0}
	text := s.Marker.Inscription
	w.read = text != "" || len(r.People) > 0 || r.Unknown || r.GraveNumber != ""
	w.partial = strings.Contains(text, "[---]") || strings.Contains(text, "[..")
	w.tokens = capitals(text)
	w.clues = t.clues.find(w.tokens)
	c := w.claim
	switch {
	case len(r.People) == 0 && r.GraveNumber != "" && !contains(w.tokens, "UNKNOWN"):
		w.naming = namesNumber
	case r.Unknown:
		w.naming = namesUnknown
	}
	w.grave = r.GraveNumber != ""
	w.unitWords(c.Service)
	for _, i := range w.clues {
		if t.clues.list[i].names {
			w.named = true
		}
		if t.clues.list[i].bounds == "medallion" && len(w.tokens) <= 5 && c.Service.Unit.IsZero() {
			w.service = veteran
		}
	}
	for _, k := range c.Service.Conflicts { // no words to look into, and it does not follow from a unit of the civil war
		if text == "" && (k != "civil-war" || c.Service.Unit.IsZero()) {
			w.named = true
		}
	}
	w.born, w.died = years(c.Person.Born), years(c.Person.Died)
	if !w.born.known() {
		w.born = years(date.BirthFrom(c.Person.Died, c.Person.Age))
	}
	switch {
	case !c.Person.Born.IsZero():
		w.dates = bothDates
	case !c.Person.Died.IsZero():
		w.dates = deathDate
	default:
		w.dates = noDates
	}
	w.home = c.Home != ""
	w.memory = r.Memorial
	w.honor = contains(w.tokens, "MEDAL", "OF", "HONOR")
	w.epitaph = c.Person.Age.Known // the government gave no ages: common practice
	for _, p := range r.People {
		if p.Person.Relation != "" {
			w.epitaph = true
		}
	}
	for _, k := range r.Tokens {
		if k.Field == "commonplace" {
			w.epitaph = true
		}
	}
	w.wife = len(r.People) == 1 && c.Person.Relation != "" && c.Service.IsZero()
	return w
}

func (w *words) unitWords(s model.Service) {
	u := s.Unit
	switch {
	case !u.IsZero():
		w.service = unit
		switch {
		case vocab.BodySide(u.Body) == model.Union:
			w.form = formBody
		case u.Body == model.BodyRegulars:
			w.form = formRegulars
		case u.Division > 0 || u.Kind == model.Depot:
			w.form = formDivision
		case u.State != "":
			w.form = formState
		case u.Kind == model.Ship || u.Kind == model.Staff || u.Kind == model.Legion || u.Kind == model.Designated:
			w.form = formOther
		case u.Number > 0:
			w.form = formNumbered
		}
	case s.Rank != "" || s.Branch != "" || len(s.Conflicts) > 0 || s.Side != "" || len(s.Awards) > 0:
		w.service = branch
	}
}

// capitals gives the words of an inscription in capitals, points, brackets and marks of unclear letters off, runs of single
// letters joined: "U. S. C. INF." is "USC", "INF". A lost stretch is a word of its own, "?".
func capitals(text string) []string {
	var out []string
	var b []rune
	lost := 0 // inside brackets
	line := 0 // first word of the line
	flush := func() {
		if len(b) > 0 {
			out = append(out, string(b))
			b = b[:0]
		}
	}
	for _, r := range text {
		switch {
		case r == '\n':
			flush()
			out = append(out[:line], joined(out[line:])...)
			line = len(out)
		case r == '[':
			lost++
		case r == ']':
			lost--
		case r == '(' || r == ')' || r == '\'' || r == '’' || unicode.Is(unicode.Mn, r):
		case unicode.IsLetter(r) || unicode.IsDigit(r):
			b = append(b, unicode.ToUpper(r))
		case lost > 0 && (r == '.' || r == '-'):
			if len(b) == 0 || b[len(b)-1] != '?' {
				b = append(b, '?')
			}
		default:
			flush()
		}
	}
	flush()
	return append(out[:line], joined(out[line:])...)
}

// joined joins runs of single letters, in place.
func joined(in []string) []string {
	out := in[:0]
	run := false
	for _, w := range in {
		single := utf8.RuneCountInString(w) == 1 && w[0] >= 'A' && w[0] <= 'Z'
		if single && run {
			out[len(out)-1] += w
			continue
		}
		out = append(out, w)
		run = single
	}
	return out
}

// find gives the clues whose words stand in the tokens, each once, in the table's order.
func (t *clueTable) find(tokens []string) []int {
	found := t.words.find(tokens)
	var kept []int
	for _, i := range found {
		outdone := slices.ContainsFunc(found, func(j int) bool { return slices.Contains(t.list[i].unless, t.list[j].key) })
		if !outdone {
			kept = append(kept, i)
		}
	}
	return kept
}
