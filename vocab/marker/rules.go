package marker

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// rule is a row of contradictions.csv: the sentence, with names in braces for what is filled in, and its source. What concerns the man comes before what concerns the
// stone's age, by order; the rest as they were found.
type rule struct {
	order        int
	text, source string
}

var ruleTable = sync.OnceValue(func() map[string]rule {
	m := map[string]rule{}
	for _, r := range vocab.Rows("contradictions") {
		m[r.Get("key")] = rule{r.Int("order"), r.Get("text"), r.Get("source")}
	}
	return m
})

// sure is how probable a pattern must be for a sentence to be said about it.
const sure = .5

// How far years may part before it is said: common practice, no source.
const (
	inTime   = 2    // years within which a stone follows a burial
	longDead = 25   // years after which a stone is a later one, though it was furnished for men long dead
	youngest = 10   // the age below which nobody served
	older    = 5    // years by which a man may be older than the oldest of the table
	general  = 1918 // the first issue of the General stone (S3): no design before it had the words IN MEMORY OF (S7)
)

// checker gathers contradictions about one stone.
type checker struct {
	t       *tables
	b       *belief
	s       *model.Stone
	r       model.Reading
	pattern Pattern
	gov     bool // the best pattern is a government one, and sure
	out     []model.Contradiction
}

// say adds the rule's sentence; args are pairs of name and value.
func (c *checker) say(key string, args ...string) {
	r, ok := ruleTable()[key]
	if !ok {
		panic("contradictions.csv has no rule " + key)
	}
	var pairs []string
	for i := 0; i+1 < len(args); i += 2 {
		pairs = append(pairs, "{"+args[i]+"}", args[i+1])
	}
	pairs = append(pairs, "{pattern}", named(c.pattern.Code)) // the first of two pairs alike counts
	text := strings.NewReplacer(pairs...).Replace(r.text)
	c.out = append(c.out, model.Contradiction{Text: text, Rule: key, Source: r.source})
}

func (t *tables) contradictions(s *model.Stone, r model.Reading, b *belief, measured string) []model.Contradiction {
	c := &checker{t: t, b: b, s: s, r: r, pattern: t.patterns[b.best]}
	c.gov = c.pattern.Government() && b.pattern[b.best]*(1-b.unknown) >= sure
	if measured != "" {
		c.say(measured)
	}
	c.years()
	c.conflicts()
	c.lives()
	c.units()
	c.looks()
	slices.SortStableFunc(c.out, func(x, y model.Contradiction) int {
		return cmp.Compare(ruleTable()[x.Rule].order, ruleTable()[y.Rule].order)
	})
	return c.out
}

func year(y int) string { return strconv.Itoa(y) }

// years sets the pattern's years of issue beside the death and the wording.
func (c *checker) years() {
	i, w := c.b.best, &c.b.words
	died := w.died
	from, to := c.t.from[i], c.t.to[i]
	if c.gov {
		switch {
		case died.to != 0 && from != 0 && died.to < c.t.deaths[i]:
			c.say("later-stone", "from", year(from), "died", year(died.to))
		case died.to != 0 && from-died.to > longDead && c.t.deaths[i] < from-longDead && c.pattern.Family != "medallion": // furnished for men long dead, but worth saying
			c.say("later-stone", "from", year(from), "died", year(died.to))
		case died.from != 0 && to != 0 && died.from > to+1:
			c.say("earlier-stone", "to", year(to), "died", year(died.from))
		}
	}
	for _, k := range w.clues {
		clue := &c.t.clues.list[k]
		switch {
		case clue.bounds == "stone" && clue.from >= telling && died.to != 0 && clue.from > died.to+inTime && clue.text != "":
			c.say("wording-late", "clue", clue.text, "died", year(died.to))
		case clue.bounds == "service" && died.to != 0 && clue.from > died.to && c.t.clues.raised(clue.key) == 0: // those have rules of their own
			c.say("wording-service", "clue", clue.text, "died", year(died.to))
		}
		if c.gov && clue.bounds == "stone" && to != 0 && clue.from > to && clue.text != "" {
			c.say("wording-before-stone", "clue", clue.text, "to", year(to))
		}
	}
	e := c.b.emblem
	if e.From != 0 {
		name := e.Number + " (" + e.Name + ")"
		if c.gov && to != 0 && e.From > to {
			c.say("emblem-before-stone", "emblem", name, "from", year(e.From), "to", year(to))
		}
		if c.gov && died.to != 0 && e.From > died.to+inTime && from < e.From {
			c.say("emblem-late", "emblem", name, "from", year(e.From), "died", year(died.to))
		}
	}
}

// conflicts sets what the words name beside what the pattern was furnished for. A top or a device that was seen speaks even where the words
// weigh more.
func (c *checker) conflicts() {
	s := c.b.words.claim.Service
	union := sideOf(&s) == model.Union
	sunk := c.s.Marker.Device == "recessed shield" && c.governmental()
	switch {
	case c.s.Marker.Top == "pointed" && union && c.governmental():
		c.say("pointed-union")
		return
	case s.Side == model.Confederate && sunk:
		c.say("shield-confederate")
		return
	case !c.gov && !sunk:
		return
	}
	i := c.b.best
	if sunk && c.pattern.Family != "shield" {
		i = c.t.bestOf(c.b, "shield")
	}
	spoken := c.spoken()
	for _, k := range spoken {
		if c.t.listed[i*len(c.t.classes)+k] {
			return
		}
	}
	if len(spoken) == 0 {
		return
	}
	rule := "conflict-excluded"
	if c.t.patterns[i].Family == "medallion" {
		rule = "medallion-era"
	}
	c.say(rule, "service", c.t.classes[spoken[0]].label, "pattern", c.t.patterns[i].Short)
}

// bestOf is the likeliest pattern of a family.
func (t *tables) bestOf(b *belief, family string) int {
	best := -1
	for p := range t.patterns {
		if t.patterns[p].Family == family && (best < 0 || b.pattern[p] > b.pattern[best]) {
			best = p
		}
	}
	return best
}

// governmental reports whether government patterns together are likelier than not.
func (c *checker) governmental() bool { return c.b.pattern[c.t.private] < .5 && c.b.unknown < .5 }

// spoken are the classes that the words themselves speak for, by conflict, side or wording.
func (c *checker) spoken() []int {
	w := &c.b.words
	s := w.claim.Service
	side := sideOf(&s)
	var out []int
	for k := range c.t.classes {
		x := &c.t.classes[k]
		ok := x.fights(s.Conflicts) && x.ofSide(side) || side != "" && x.side == side
		for _, j := range w.clues {
			clue := &c.t.clues.list[j]
			ok = ok || clue.names && x.ofSide(side) && slices.Contains(clue.services, x.code)
		}
		if ok {
			out = append(out, k)
		}
	}
	return out
}

// lives sets the man's years beside the service that the words speak of.
func (c *checker) lives() {
	w := &c.b.words
	if w.born.from != 0 && w.died.to != 0 && w.died.to < w.born.from {
		c.say("born-after-death", "born", year(w.born.from), "died", year(w.died.to))
		return
	}
	spoken := c.spoken()
	if len(spoken) == 0 {
		return
	}
	// Only what fits none of the services is said, about the first of them.
	fits, k := false, c.t.classes[spoken[0]]
	for _, i := range spoken {
		x := c.t.classes[i]
		if w.died.to != 0 && w.died.to < x.from || w.born.from != 0 && w.born.from > x.to-youngest || w.born.to != 0 && w.born.to < x.bornFrom-older {
			continue
		}
		fits = true
	}
	if fits {
		return
	}
	switch {
	case w.died.to != 0 && w.died.to < k.from:
		c.say("conflict-after-death", "service", k.label, "from", year(k.from), "died", year(w.died.to))
	case w.born.from != 0 && w.born.from > k.to-youngest:
		c.say("too-young", "service", k.label, "born", year(w.born.from), "age", year(max(k.to-w.born.from, 0)))
	case w.born.to != 0 && w.born.to < k.bornFrom-older:
		c.say("too-old", "service", k.label, "born", year(w.born.to), "age", year(k.from-w.born.to))
	}
}

// units looks for what no unit can be.
func (c *checker) units() {
	w := &c.b.words
	u := w.claim.Service.Unit
	if u.Company == "J" {
		c.say("company-j")
	}
	civil := false
	for _, k := range c.spoken() {
		civil = civil || c.t.classes[k].conflict == "civil-war"
	}
	if civil && u.Arm == "infantry" && u.Kind == "" && (u.Company == "L" || u.Company == "M") && u.Body == "" {
		c.say("company-late", "company", u.Company)
	}
	if from := c.t.clues.raised(string(u.Body)); from != 0 {
		if died := w.died.to; died != 0 && died < from {
			c.say(string(u.Body)+ownYears, "died", year(died))
		}
		c.bodyConflict("the " + vocab.Label("body", string(u.Body)))
	}
}

// ownYears ends the key of the rule about the years of a body of troops; its code is the key of its clue too.
const ownYears = "-years"

// raised is the year from which a body of troops that has a rule about its years bears its name; 0 for others.
func (t *clueTable) raised(body string) int {
	if _, ok := ruleTable()[body+ownYears]; !ok {
		return 0
	}
	i := slices.IndexFunc(t.list, func(c clue) bool { return c.key == body })
	return t.list[i].from
}

// bodyConflict complains of a named war that a body of the civil war did not fight.
func (c *checker) bodyConflict(body string) {
	w := &c.b.words
	for _, j := range w.clues {
		clue := &c.t.clues.list[j]
		if !clue.names {
			continue
		}
		for _, k := range c.t.classes {
			if k.code == clue.services[0] && k.conflict != "civil-war" {
				c.say("body-conflict", "body", body, "service", k.label)
				return
			}
		}
	}
}

// looks looks for what no marker of the pattern has.
func (c *checker) looks() {
	m := c.s.Marker
	if m.Device == "confederate cross" {
		if y := years(c.s.Recorded); y.to != 0 && y.to < 1930 {
			c.say("cross-before-1930", "seen", year(y.to))
		}
		if c.gov && c.pattern.Family != "pointed" {
			c.say("cross-on-round")
		}
	}
	if c.gov {
		// The stone that a medallion is fixed to is the family's own, and may bear what it likes.
		without := c.pattern.Emblem == "no" && c.pattern.Family != "medallion"
		if c.b.recorded(emblem) == "present" && (m.Device == "recessed shield" || without) {
			c.say("emblem-on-shield")
		}
		for _, s := range c.b.carved {
			c.say("military-device", "sign", s.Text)
		}
		if c.pattern.Code == "unknown-block" && c.b.words.read && c.b.words.naming == namesSomeone && c.b.words.people > 0 {
			c.say("block-named")
		}
		if from := c.pattern.From(); c.r.Memorial && from != 0 && from < general {
			c.say("memorial-old")
		}
		if c.b.words.wife && c.b.ground == county {
			c.say("spouse-alone")
		}
		if c.pattern.Code == "overseas-cross" && c.b.ground != overseas && (c.s.Place.State != "" || c.s.Place.County != "") {
			c.say("overseas-at-home")
		}
	}
}
