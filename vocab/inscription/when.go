package inscription

import (
	"musterstone/model/date"
	"musterstone/vocab/words"
)

type looseDate struct {
	d     date.Date
	token int
}

// turnToMention makes the dates those of the one who was only mentioned, where the one he was mentioned with has had his own and service has been told of
// since: "MARY / 1844 - 1929 / WIFE OF / PETER LUNDEEN / CORP. CO. D 57 ILL. INF. / 1840 - 1913".
func (b *builder) turnToMention() {
	if b.head < 0 || b.serving < 0 || b.serving == b.head || b.label != noLabel {
		return
	}
	who, q := &b.people[b.head].claim.Person, &b.people[b.serving]
	if q.mention && len(q.written) > 0 && !who.Died.IsZero() && !who.Born.IsZero() && q.claim.Person.Died.IsZero() {
		b.head = b.serving
	}
}

// takeDate gives a date to the label that waits, or leaves it loose.
func (b *builder) takeDate(it *item) {
	b.turnToMention()
	p := b.current()
	d, _ := b.c.dates(&b.c.whens[it.ref])
	lbl := b.label
	b.label = noLabel
	if d.IsZero() {
		b.note("The stone gives a day and no year: " + d.Written + ".")
	}
	if lbl == noLabel && b.c.whens[it.ref].open && p.claim.Person.Born.IsZero() {
		lbl = lBorn
	}
	if lbl == noLabel && b.birthAlone(it, p) {
		lbl = lBorn
	}
	field := "died"
	switch lbl {
	case lBattle:
		b.token(it.from, it.to, "battle", d.EDTF, "", b.head)
		return
	case lBorn:
		b.born = true
		field = "born"
		p.claim.Person.Born = d
	case lDied, lKilled:
		p.claim.Person.Died = d
	case lEnlisted, lService:
		field = "enlisted"
		p.claim.Service.Enlisted = d
	case lMusteredIn:
		field = "mustered-in"
		p.claim.Service.MusteredIn = d
	case lMusteredOut:
		field = "mustered-out"
		p.claim.Service.MusteredOut = d
	case lMarried:
		field = "married"
	default:
		n := b.token(it.from, it.to, "died", d.EDTF, "", b.head)
		p = b.current()
		if p.loose == nil && b.head < len(b.loose) {
			p.loose = b.loose[b.head][:0]
		}
		p.loose = append(p.loose, looseDate{d, n})
		if b.head < len(b.loose) {
			b.loose[b.head] = p.loose
		}
		return
	}
	b.token(it.from, it.to, field, d.EDTF, "", b.head)
}

// birthAlone reports whether a date without a label is of a birth, because the one that stood behind it is lost: "APR. 23, 1842 / [---]", "1885 [---]". On a soldier's stone it is of his death oftener.
func (b *builder) birthAlone(it *item, p *person) bool {
	t := b.c.text
	return it.to < len(t.Words) && it.from > 0 && (lostWord(t.Key(it.to)) || t.Words[it.to].Flags&(words.Lost|words.Digits|words.FirstInLine) == words.Lost|words.Digits) && !t.Words[it.to].Has(words.Note) && !lostWord(t.Key(it.from-1)) && !b.c.context.government() &&
		p.claim.Person.Born.IsZero() && p.claim.Person.Died.IsZero() && p.claim.Person.Age.IsZero() && len(p.loose) == 0 && len(p.parts) == 0 && p.rank == nil
}

// takeYears gives two years to a life, or to a service.
func (b *builder) takeYears(k int, it *item) {
	b.turnToMention()
	p := b.current()
	w := &b.c.whens[it.ref]
	lbl := b.label
	b.label = noLabel
	from, last := b.c.dates(w)
	serves := lbl >= lEnlisted && lbl <= lService || w.serves
	if last := k - 1; w.war && last >= 0 && b.path[last].it != nil && b.path[last].it.kind == kLink && b.path[last].it.entry.traits&tHead != 0 {
		serves = true // "SOLDIER 1862-1865"
	}
	if !serves && w.one.year > 0 && w.other.year > 0 && w.until == [2]int{} && w.other.year-w.one.year < 12 && w.one.year > 1774 &&
		(len(p.parts) > 0 || p.claim.Service.Branch != "" || p.rank != nil) {
		serves = true
	}
	if serves {
		p.claim.Service.Enlisted, p.claim.Service.MusteredOut = from, last
		b.token(it.from, it.to, "served", from.EDTF+"/"+last.EDTF, "", b.head)
		return
	}
	if !p.claim.Person.Born.IsZero() && !p.claim.Person.Died.IsZero() {
		b.shiftLives(k)
	}
	p.claim.Person.Born, p.claim.Person.Died = from, last
	head := b.head
	if it.to-it.from == 1 {
		b.token(it.from, it.to, "died", from.EDTF+"/"+last.EDTF, "", head) // "1819[.]1877"
		return
	}
	if it.to-it.from == 2 {
		b.token(it.from, it.from+1, "born", from.EDTF, "", head)
		b.token(it.to-1, it.to, "died", last.EDTF, "", head)
		return
	}
	b.token(it.from, it.to-1, "born", from.EDTF, "", head)
	b.token(it.to-1, it.to, "died", last.EDTF, "", head)
}

// takePlace gives a place to what has just been told: a birth, a death, a battle; or takes it for the residence.
func (b *builder) takePlace(it *item) {
	t := b.c.text
	from := it.from
	if to := b.c.spots[from].preposition; to > 0 && to < it.to {
		from = to
	}
	if from < it.to-1 && t.Key(from) == "THE" {
		from++
	}
	text := b.spanText(from, it.to)
	if t.Words[it.to-1].Has(words.DotAfter) && t.Len(it.to-1) < 6 {
		text += "."
	}
	field := "place"
	p := b.current()
	switch {
	case b.c.spots[it.from].native || b.label == lBorn || b.born:
		field = "birthplace"
		p.claim.Person.Birthplace = text
	case b.label == lDied || b.label == lKilled:
		field = "death-place"
		p.claim.Person.DeathPlace = text
	case b.label == lBattle:
		p.fought = p.fought || b.isBattle(from)
		if t.Words[it.to-1].Has(words.LastInLine) {
			b.label = noLabel
		}
	case b.label >= lEnlisted && b.label <= lService: // where he enlisted is told by no field
		p.fought = p.fought || b.isBattle(from)
	case b.leads && b.isBattle(from): // "COMMANDED THE 36TH WIS. / AT COLD HARBOR"
		p.fought = true
	case p.claim.Person.DeathPlace == "" && b.isBattle(from):
		field = "death-place"
		p.claim.Person.DeathPlace = text
	case p.claim.Person.DeathPlace == "" && (!p.claim.Person.Died.IsZero() || len(p.loose) > 0):
		field = "death-place"
		p.claim.Person.DeathPlace = text
	case p.claim.Person.Residence == "":
		field = "residence"
		p.claim.Person.Residence = text
	}
	p.fell = p.fell || field == "death-place" && b.isBattle(from)
	if b.label == lKilled || b.label == lDied && b.c.spots[from].prison {
		p.battle = p.battle || b.isBattle(from)
	}
	b.token(it.from, it.to, field, text, "", b.head)
}

func (b *builder) isBattle(i int) bool {
	return b.c.spots[i].battle
}

// shiftLives makes room for another life where as many lives follow each other as people were named before: "JOHN TATE / MARY TATE / 1830-1900 / 1835-1910". Those told so
// far go to the people before, in their order; where these have dates of their own, the life that is replaced is told in a note.
func (b *builder) shiftLives(k int) {
	run := 1
	for kind, i := b.before(k); kind == kYears; kind, i = b.before(i) {
		run++
	}
	first := b.head - run + 1
	if run < 2 || first < 0 || b.people[first].mention || len(b.people[first].loose) > 0 ||
		!b.people[first].claim.Person.Born.IsZero() || !b.people[first].claim.Person.Died.IsZero() || !b.people[first].claim.Person.Age.IsZero() {
		b.note("Years of a birth and of a death stand twice for one person; the last are taken.")
		return
	}
	for i := first; i < b.head; i++ {
		from := &b.people[i+1].claim.Person
		to := &b.people[i].claim.Person
		to.Born, to.Died = from.Born, from.Died
		for j := range b.r.Tokens {
			if t := &b.r.Tokens[j]; t.Person == i+1 && (t.Field == "born" || t.Field == "died") {
				t.Person = i
			}
		}
	}
}
