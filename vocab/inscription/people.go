package inscription

import (
	"cmp"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// person is one of those whom the stone names, while its reading is put together.
type person struct {
	claim    *model.Claim
	mention  bool // named only as another's husband, father, …
	relation string
	short    bool // only given names: the surname is another's
	usa      bool // "U. S. A." stands on the stone
	woman    bool // by her given name
	battle   bool // killed at a place of a battle
	fell     bool // died at a place of a battle
	fought   bool // at a place of a battle
	from, to int  // the words of his name
	parts    []unit.Part
	second   []unit.Part // of a second unit
	rank     *entry
	loose    []looseDate // dates without a label
	written  [][2]int    // the words of rank and service
	// homeShort is set where the state was abbreviated.
	homeShort bool
	paired    bool // the first of a pair, and the second follows
}

// takeRelation gives "HIS WIFE" to the name that follows, or to the one before.
func (b *builder) takeRelation(k int, it *item) {
	next, j := b.later(k)
	prev, i := b.before(k)
	t := b.c.text
	code := it.entry.code
	toNext := next == kName || next == kRank
	if toNext && prev == kName && b.head > 0 && b.people[b.head].short && b.people[b.head].relation == "" {
		toNext = false // "AUGUSTA / HIS WIFE / FRANK / THEIR SON"
	}
	if toNext && prev == kName && b.head > 0 {
		// "MARY HIS WIFE / JOHN": the name on the same line
		if t.Words[b.path[i].to-1].Line == t.Words[it.from].Line && t.Words[b.path[j].from].Line != t.Words[it.from].Line {
			toNext = false
		}
	}
	if toNext {
		b.next = code
		b.token(it.from, it.to, "relation", code, it.entry.source, -1)
		return
	}
	if b.head >= 0 && t.Words[it.from].Has(words.FirstInLine) && (prev == kDate || prev == kYears || prev == kAge) && (next == kDate || next == kYears || next == kAge) && inherits(code) {
		b.newPerson(person{}) // "INFANT DAUGHTER 1872": without a name of her own
	}
	b.token(it.from, it.to, "relation", code, it.entry.source, b.head)
	if b.head >= 0 {
		b.people[b.head].relation = code
	}
}

// alias is the relation of one name of a man to another of his.
const alias = "alias"

// takeName adds the person whom a name tells of, or turns back to one who has been named.
func (b *builder) takeName(it *item) {
	if or := int(it.name.or); or > 0 {
		had := len(b.people)
		defer func() { // of the person that the name makes, or of the one that it is told of
			k := len(b.people) - 1
			if k < had && b.head >= 0 {
				k = b.head
			}
			b.token(or, or+2, "alternative", b.c.text.Key(or+1), "", max(k, 0))
		}()
		b.note("The recorder doubts the surname: it may be " + b.c.text.Span(or+1, or+2) + ".")
		short := *it
		short.to, short.name.or = or, 0
		it = &short
	}
	if b.wants == alias {
		b.wants = ""
		if b.head >= 0 {
			b.token(it.from, it.to, "alias", b.spanText(it.from, it.to), "", b.head)
			b.note("He is named " + b.spanText(it.from, it.to) + " too; his service may stand under that name.")
			b.people[b.head].claim.Person.Name.Other = name.Alias(b.spanText(it.from, it.to))
			return
		}
	}
	nameless := len(b.people) == 1 && b.head == 0 && b.wants == "" && b.next == "" && b.people[0].to == 0 && b.people[0].relation == ""
	p := person{from: it.from, to: it.to}
	if nameless { // "AE. 67 YRS. / JACOB YOST": told of before he is named
		p = b.people[0]
		p.from, p.to = it.from, it.to
		b.people = b.people[:0]
	} else {
		p.claim = b.claim()
	}
	written := b.spanText(it.from, it.to)
	family, whole := b.family, *it
	if it.name.givenOnly && it.to-it.from > 1 && family != "" && strings.EqualFold(family, b.c.text.Span(it.to-1, it.to)) {
		whole.name.givenOnly, whole.name.surname = false, int16(it.to-1) // the surname of the heading, said again
		it = &whole
	}
	if it.name.noSurname && family != "" { // "GATES / ELBRIGE N."
		whole.name.givenOnly = true
		it = &whole
	}
	p.claim.Person.Name = b.c.nameOf(it, written, family)
	p.short = it.name.givenOnly && family == ""
	p.woman = b.c.infos[it.from].woman
	k := len(b.people)
	if q := b.samePerson(&p.claim.Person.Name); q >= 0 && b.rank < 0 && !nameless && (b.wants == "wife" || b.wants == "widow" || b.wants == "" && b.next == "" && b.people[q].mention) {
		b.serving = q // "ELI FOSTER … ANNA, WIFE OF ELI FOSTER"
		if b.wants == "" {
			b.head = q
		}
		b.wants = ""
		b.nameTokens(it, q)
		return
	}
	switch {
	case b.wants != "":
		p.mention, p.relation = true, inverse(b.wants, 0)
		b.people = append(b.people, p)
		b.settle(k)
		if b.head < 0 {
			b.head = k
		}
		switch b.wants {
		case "wife", "widow":
			b.serving = k
		default:
			if b.rank >= 0 {
				b.serving = k
			}
		}
		b.wants = ""
	default:
		if p.relation = b.next; p.relation == "" && k > 0 {
			p.relation, b.orphan = b.orphan, ""
		}
		b.newPerson(p)
		if b.next != "" && b.rank < 0 && b.firstVeteran() >= 0 {
			b.serving = b.firstVeteran()
		}
		b.next = ""
	}
	if b.rank >= 0 {
		b.setRank(k, b.path[b.rank].it)
		b.rank = -1
	}
	b.nameTokens(it, k)
}

// samePerson is the one before who bears a whole name, -1 for none.
func (b *builder) samePerson(n *model.Name) int {
	for k := range b.people {
		if o := &b.people[k].claim.Person.Name; n.Given != "" && n.Surname != "" && o.Given == n.Given && o.Surname == n.Surname && o.Middle == n.Middle && o.Suffix == n.Suffix {
			return k
		}
	}
	return -1
}

// takeAgain turns back to the one who bears the name at the word that the item points to.
func (b *builder) takeAgain(it *item) {
	for k := range b.people {
		if p := &b.people[k]; p.from <= int(it.ref) && int(it.ref) < p.to {
			b.head, b.serving = k, k
		}
	}
	for w := it.from; w < it.to; w++ {
		field := "middle"
		if w == it.from {
			field = "given"
		}
		b.token(w, w+1, field, b.c.text.Key(w), "", b.head)
	}
}

// names counts the names that follow path item k.
func (b *builder) names(k int) int {
	n := 0
	for _, p := range b.path[k+1:] {
		if p.it != nil && (p.it.kind == kName || p.it.kind == kPair) {
			n++
		}
	}
	return n
}

// madeName is a name that a reading of the same text has already been given.
type madeName struct {
	from, to  int
	givenOnly bool
	gap, part int16
	family    string
	name      model.Name
}

// nameOf makes the name of an item; readings of one text share what is made.
func (c *chart) nameOf(it *item, written, family string) model.Name {
	if !it.name.givenOnly {
		family = ""
	}
	for k := range c.made {
		if m := &c.made[k]; m.from == it.from && m.to == it.to && m.givenOnly == it.name.givenOnly && m.gap == it.name.gap && m.part == it.name.part && m.family == family {
			return m.name
		}
	}
	whole := c.opened(it, c.abbreviations(it, written))
	m := madeName{from: it.from, to: it.to, givenOnly: it.name.givenOnly, gap: it.name.gap, part: it.name.part, family: family}
	switch {
	case it.name.givenOnly:
		m.name = name.FromParts(family, whole)
	case it.name.gap > 0:
		given, surname := split(c.text.Span(it.from, it.from+1), int(it.name.gap))
		m.name = name.FromParts(surname, given)
		if it.name.suffix >= 0 {
			m.name.Suffix = name.Parse("John Doe, " + c.text.Span(int(it.name.suffix), it.to)).Suffix
		}
	default:
		m.name = name.Parse(whole)
	}
	if n := &m.name; n.Given != "" && len(n.GivenOr) == 0 && !c.infos[it.from].named {
		n.GivenOr = name.MisreadFor(name.Fold(n.Given)) // "DLE / SANDGAARD", "THEQ PETINGSON"
	}
	m.name.Written = written
	c.made = append(c.made, m)
	return m.name
}

// abbreviations is a name as written with its damaged abbreviations made whole where only one given name is abbreviated so, and no other has the letters that are left: "JAS[.] FOX" is JAS. FOX, with its
// point lost, and "P[.]TK." PATK.
func (c *chart) abbreviations(it *item, written string) string {
	for w := it.from; w < it.to && w < int(it.name.surname); w++ {
		if !c.text.Words[w].Has(words.Lost) {
			if form := c.misreadShort(w); form != "" { // "EDWO. MURPHY"
				written = strings.Replace(written, c.text.Span(w, w+1), form, 1)
			}
			continue
		}
		if form := knownNames().abbreviation(c.text.Key(w), c.text.Words[w].Has(words.DotAfter)); form != "" {
			head, rest, _ := strings.Cut(written, c.text.Span(w, w+1))
			written = head + form + "." + strings.TrimPrefix(rest, ".")
		}
	}
	return written
}

// firstVeteran is the first person who is nobody's wife or child, or -1.
func (b *builder) firstVeteran() int {
	for k := range b.people {
		if !b.people[k].mention && b.people[k].relation == "" {
			return k
		}
	}
	return -1
}

// relation is a row of relations.csv: what the one named after "WIFE OF" is to the one before, told for both of a pair, and whether she bears his surname.
type relation struct {
	other   [2]string
	surname bool
}

var relations = sync.OnceValue(func() map[string]relation {
	m := map[string]relation{}
	for _, r := range vocab.Rows("relations") {
		m[r.Get("relation")] = relation{[2]string{r.Get("other"), r.Get("other_second")}, r.Get("surname") == "yes"}
	}
	return m
})

// inverse is what the one named after "WIFE OF" is to the one before; which tells the two of a pair apart.
func inverse(code string, which int) string {
	return cmp.Or(relations()[code].other[which], "relative")
}

// inherits reports whether one who is that to another bears the other's surname.
func inherits(code string) bool { return code != "" && relations()[code].surname }

// nameTokens adds a token for each word of person k's name.
func (b *builder) nameTokens(it *item, k int) {
	if gap := int(it.name.gap); gap > 0 {
		n := b.token(it.from, it.from+1, "given", "", "", k)
		given, whole := &b.r.Tokens[n], b.r.Tokens[n]
		given.To = given.From + gap
		given.Value = words.Letters(b.c.text.Raw[given.From:given.To])
		whole.From, whole.Field, whole.Value = given.To, "surname", words.Letters(b.c.text.Raw[given.To:whole.To])
		b.r.Tokens = append(b.r.Tokens, whole)
		if w := int(it.name.suffix); w >= 0 {
			b.token(w, it.to, "suffix", b.c.text.Key(w), "", k)
		}
		b.note("The gap may hide the space between two names: " + b.spanText(it.from, it.to) + ".")
		return
	}
	first := b.c.text.Words[it.from].Has(words.CommaAfter) && it.to-it.from > 1 && int(it.name.surname) >= it.from+1
	for w := it.from; w < it.to; w++ {
		field := "given"
		switch {
		case w == int(it.name.suffix):
			field = "suffix"
		case first && w == it.from:
			field = "surname"
		case !first && w >= int(it.name.surname):
			field = "surname"
		case w > it.from && !(first && w == it.from+1):
			field = "middle"
		}
		b.token(w, w+1, field, b.c.text.Key(w), "", k)
	}
}

// takePair adds the two people of a pair.
func (b *builder) takePair(it *item) {
	and, s := int(it.name.and), int(it.name.surname)
	surname := b.family
	if s < it.to {
		surname = b.spanText(s, it.to)
	}
	halves := [2]person{{claim: b.claim()}, {claim: b.claim()}}
	for h, given := range [2]string{b.spanText(it.from, and), b.spanText(and+1, s)} {
		halves[h].claim.Person.Name = name.FromParts(surname, given)
		halves[h].claim.Person.Name.Written = strings.TrimSpace(given + " " + surname)
		halves[h].short = surname == ""
	}
	halves[0].from, halves[0].to, halves[1].from, halves[1].to = it.from, and, and+1, s
	k := len(b.people)
	mention := b.wants != ""
	halves[0].paired = !mention
	if mention {
		for h := range halves {
			halves[h].mention, halves[h].relation = true, inverse(b.wants, h)
		}
		b.wants = ""
	}
	b.people = append(b.people, halves[0], halves[1])
	b.settle(k)
	if b.rank >= 0 {
		b.setRank(k, b.path[b.rank].it)
		b.rank = -1
	}
	if b.head < 0 || !mention {
		b.head, b.serving = k, k
	}
	for w := it.from; w < it.to; w++ {
		field, who := "given", k
		switch {
		case w >= s:
			field = "surname"
		case w == and:
			field = "link"
		case w > and:
			who = k + 1
		}
		b.token(w, w+1, field, b.c.text.Key(w), "", who)
	}
}
