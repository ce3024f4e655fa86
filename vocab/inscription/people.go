package inscription

import (
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// person is one of those whom the stone names, while its reading is put together.
type person struct {
	claim    model.Claim
	mention  bool // named only as another's husband, father, …
	relation string
	short    bool // only given names: the surname is another's
	parts    []unit.Part
	rank     *entry
	loose    []looseDate // dates without a label
	written  [][2]int    // the words of rank and service
	usa      bool
	woman    bool // by her given name
	// homeShort is set where the state was abbreviated.
	homeShort bool
}

type looseDate struct {
	d     date.Date
	token int
}

// builder puts a reading together from a path through the chart.
type builder struct {
	c         *chart
	path      []pathItem
	people    []person
	r         model.Reading
	head      int    // the person to whom dates belong, -1 for none yet
	serving   int    // the person to whom service belongs
	rank      int    // the path item of a rank that waits for its name, -1 for none
	wants     string // the code of "WIFE OF", while it waits for its name
	next      string // the code of "HIS WIFE", while it waits for its name
	family    string // the surname that heads the stone
	label     label
	battle    bool
	pending   []int       // tokens that belong to the next person
	carry     model.Claim // service and home that stood before any name
	early     []unit.Part // parts of a unit that did
	homeShort bool
}

// pathItem is an item of the path, or a word left unread.
type pathItem struct {
	from, to int
	it       *item
}

// reset makes the builder ready for another reading.
func (b *builder) reset(c *chart) {
	*b = builder{c: c, path: b.path[:0], people: b.people[:0], pending: b.pending[:0], early: b.early[:0], head: -1, serving: -1, rank: -1}
}

// read puts the reading of an end together, in b.r.
func (b *builder) read(f final, rest []words.Word) {
	c, end := b.c, f.state
	n := 0
	for k := end; c.states[k].back >= 0; k = c.states[k].back {
		n++
	}
	b.path = slices.Grow(b.path, n)[:n]
	for k := end; c.states[k].back >= 0; k = c.states[k].back {
		n--
		if i := c.states[k].item; i >= 0 {
			if i == f.swap {
				i = f.swapped
			}
			b.path[n] = pathItem{c.items[i].from, c.items[i].to, &c.items[i]}
		} else {
			w := int(-i - 2)
			b.path[n] = pathItem{w, w + 1, nil}
		}
	}
	b.r.Tokens = make([]model.Token, 0, 2*len(c.text.Words)+2)
	for k := range b.path {
		b.take(k)
	}
	for i := range rest {
		b.gap(rest[i].From)
		b.r.Tokens = append(b.r.Tokens, model.Token{Span: model.Span{From: rest[i].From, To: rest[i].To}, Field: "unread"})
		b.r.Unread = append(b.r.Unread, c.text.Raw[rest[i].From:rest[i].To])
	}
	b.gap(len(c.text.Raw))
	b.finish()
}

// gap adds a token without a field up to a byte.
func (b *builder) gap(to int) {
	from := 0
	if n := len(b.r.Tokens); n > 0 {
		from = b.r.Tokens[n-1].To
	}
	if to > from {
		b.r.Tokens = append(b.r.Tokens, model.Token{Span: model.Span{From: from, To: to}})
	}
}

// token adds a token for words from to to-1.
func (b *builder) token(from, to int, field, value, source string, person int) int {
	w := b.c.text.Words
	b.gap(w[from].From)
	b.r.Tokens = append(b.r.Tokens, model.Token{Span: model.Span{From: w[from].From, To: w[to-1].To}, Field: field, Person: max(person, 0), Value: value, Source: source})
	n := len(b.r.Tokens) - 1
	if person < 0 {
		b.pending = append(b.pending, n)
	}
	return n
}

// later is the kind of the next item that is not only a joining word, a title or a note.
func (b *builder) later(k int) (kind, int) {
	for j := k + 1; j < len(b.path); j++ {
		it := b.path[j].it
		if it == nil {
			return kUnread, j
		}
		switch it.kind {
		case kLink, kTitle, kNote, kDegree:
			continue
		}
		return it.kind, j
	}
	return kNone, len(b.path)
}

func (b *builder) before(k int) (kind, int) {
	for j := k - 1; j >= 0; j-- {
		it := b.path[j].it
		if it == nil {
			return kUnread, j
		}
		switch it.kind {
		case kLink, kTitle, kNote, kDegree:
			continue
		}
		return it.kind, j
	}
	return kNone, -1
}

func (b *builder) take(k int) {
	p := b.path[k]
	t := b.c.text
	it := p.it
	if it == nil {
		if key := t.Key(p.from); key == "*" {
			b.token(p.from, p.to, "lost", "", "", b.head)
			return
		}
		b.token(p.from, p.to, "unread", "", "", b.head)
		b.r.Unread = append(b.r.Unread, t.Span(p.from, p.to))
		return
	}
	source := ""
	if it.entry != nil {
		source = it.entry.source
	}
	text := t.Span(p.from, p.to)
	switch it.kind {
	case kNote:
		b.token(p.from, p.to, "lost", "", "", b.head)
	case kName:
		b.takeName(it)
	case kPair:
		b.takePair(it)
	case kFamily:
		b.family = text
		b.token(p.from, p.to, "surname", text, "", -1)
	case kTitle:
		b.token(p.from, p.to, "title", it.entry.code, source, -1)
		if civilTitle[it.entry.code] {
			b.note(strings.TrimSpace(text) + " is taken for a title, for nothing else here speaks of service; it may be a rank.")
		}
	case kDegree:
		b.token(p.from, p.to, "title", it.entry.code, source, b.head)
	case kRank:
		b.takeRank(k, it)
	case kUnit:
		b.takeUnit(it)
	case kBranch, kSide, kConflict, kWarYears, kAward:
		b.takeService(it, text)
	case kSociety:
		b.token(p.from, p.to, "society", it.entry.code, source, b.head)
		b.r.Society = append(b.r.Society, it.entry.code)
	case kRelationOf:
		b.token(p.from, p.to, "relation", it.entry.code, source, b.head)
		b.wants = it.entry.code
		if b.head >= 0 && b.people[b.head].relation == "" {
			b.people[b.head].relation = it.entry.code
		}
	case kRelation:
		b.takeRelation(k, it)
	case kLabel:
		b.label = labels[it.entry.code]
		b.token(p.from, p.to, "label", it.entry.code, source, b.head)
	case kDate:
		b.takeDate(it)
	case kYears:
		b.takeYears(it)
	case kAge:
		b.token(p.from, p.to, "age", "", "", b.head)
		b.current().claim.Person.Age = b.c.ages[it.ref]
		b.label = noLabel
	case kMemorial:
		b.r.Memorial = true
		b.token(p.from, p.to, "memorial", "", source, -1)
	case kUnknown:
		b.r.Unknown = true
		b.token(p.from, p.to, "unknown", "", source, -1)
	case kGrave:
		number := t.Key(p.to - 1)
		if first := t.Key(p.from); first == "GRAVE" || first == "GR" || first == "NO" || p.to-p.from == 1 {
			b.r.GraveNumber = number
		}
		b.token(p.from, p.to, "grave", number, "", -1)
	case kHome:
		b.token(p.from, p.to, "home", it.entry.code, source, b.head)
		b.homeShort = it.entry.traits&tFull == 0
		if b.head >= 0 {
			b.people[b.head].claim.Home, b.people[b.head].homeShort = model.State(it.entry.code), b.homeShort
		} else {
			b.carry.Home = model.State(it.entry.code)
		}
	case kPlace:
		b.takePlace(it)
	case kSaying, kFraternal:
		code := ""
		if it.entry != nil {
			code = it.entry.code
		}
		b.token(p.from, p.to, "commonplace", code, source, b.head)
	case kLink:
		b.token(p.from, p.to, "link", "", source, b.head)
	}
}

// civilTitle has the titles that are ranks too.
var civilTitle = map[string]bool{"Capt": true, "Col": true, "Maj": true, "Gen": true, "Commodore": true, "Surgeon": true, "Chaplain": true, "Sergt": true, "Lieut": true}

func (b *builder) note(s string) { b.r.Notes = append(b.r.Notes, s) }

// current is the person to whom dates belong; one without a name where none has been named yet.
func (b *builder) current() *person {
	if b.head < 0 {
		b.newPerson(person{})
	}
	return &b.people[b.head]
}

// newPerson adds a person, and makes dates and service his.
func (b *builder) newPerson(p person) int {
	b.people = append(b.people, p)
	k := len(b.people) - 1
	b.head, b.serving = k, k
	b.settle(k)
	return k
}

// settle gives the person what stood before his name.
func (b *builder) settle(k int) {
	for _, t := range b.pending {
		b.r.Tokens[t].Person = k
	}
	b.pending = b.pending[:0]
	if b.carry.Home != "" && k == 0 {
		b.people[k].claim.Home, b.people[k].homeShort = b.carry.Home, b.homeShort
	}
}

func (b *builder) takeRelation(k int, it *item) {
	next, j := b.later(k)
	prev, i := b.before(k)
	t := b.c.text
	code := it.entry.code
	toNext := next == kName || next == kRank
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
	b.token(it.from, it.to, "relation", code, it.entry.source, b.head)
	if b.head >= 0 {
		b.people[b.head].relation = code
	}
}

// spanText is the words as written, on one line.
func (b *builder) spanText(from, to int) string {
	t := b.c.text
	if t.Words[from].Line == t.Words[to-1].Line {
		return t.Span(from, to)
	}
	var out strings.Builder
	for i := from; i < to; {
		j := i + 1
		for j < to && t.Words[j].Line == t.Words[i].Line {
			j++
		}
		if i > from {
			out.WriteByte(' ')
		}
		out.WriteString(t.Span(i, j))
		if t.Words[j-1].Has(words.DotAfter) && j < to {
			out.WriteByte('.')
		}
		i = j
	}
	return out.String()
}

func (b *builder) takeName(it *item) {
	p := person{}
	written := b.spanText(it.from, it.to)
	switch {
	case it.name.givenOnly:
		p.claim.Person.Name = name.FromParts(b.family, written)
		p.short = b.family == ""
	default:
		p.claim.Person.Name = name.Parse(written)
	}
	p.claim.Person.Name.Written = written
	p.woman = b.c.infos[it.from].woman
	k := len(b.people)
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
		p.relation = b.next
		b.newPerson(p)
		if b.next != "" && b.rank < 0 && b.firstVeteran() >= 0 {
			b.serving = b.firstVeteran()
		}
		b.next = ""
	}
	if b.rank >= 0 {
		b.people[k].setRank(b.path[b.rank].it, b.c.text)
		b.rank = -1
	}
	b.nameTokens(it, k)
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

// inverse is what the one named after "WIFE OF" is to the one before; which tells the two of a pair apart.
func inverse(code string, which int) string {
	switch code {
	case "wife", "widow":
		return "husband"
	case "husband":
		return "wife"
	case "son", "daughter", "child":
		if which == 1 {
			return "mother"
		}
		return "father"
	case "mother", "father":
		return "child"
	}
	return "relative"
}

func (b *builder) nameTokens(it *item, k int) {
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

func (b *builder) takePair(it *item) {
	and, s := int(it.name.and), int(it.name.surname)
	surname := b.spanText(s, it.to)
	halves := [2]person{}
	for h, given := range [2]string{b.spanText(it.from, and), b.spanText(and+1, s)} {
		halves[h].claim.Person.Name = name.FromParts(surname, given)
		halves[h].claim.Person.Name.Written = given + " " + surname
	}
	k := len(b.people)
	mention := b.wants != ""
	if mention {
		for h := range halves {
			halves[h].mention, halves[h].relation = true, inverse(b.wants, h)
		}
		b.wants = ""
	}
	if b.rank >= 0 {
		halves[0].setRank(b.path[b.rank].it, b.c.text)
		b.rank = -1
	}
	b.people = append(b.people, halves[0], halves[1])
	b.settle(k)
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

// takeDate gives a date to the label that waits, or leaves it loose.
func (b *builder) takeDate(it *item) {
	p := b.current()
	w := &b.c.whens[it.ref]
	d := b.c.date(w.one, w.circa)
	lbl := b.label
	b.label = noLabel
	field := "died"
	switch lbl {
	case lBorn:
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
		p.loose = append(p.loose, looseDate{d, n})
		return
	}
	b.token(it.from, it.to, field, d.EDTF, "", b.head)
}

func (b *builder) takeYears(it *item) {
	p := b.current()
	w := &b.c.whens[it.ref]
	lbl := b.label
	b.label = noLabel
	from, last := b.c.date(w.one, w.circa), b.c.date(w.other, false)
	serves := lbl >= lEnlisted && lbl <= lService
	if !serves && w.one.year > 0 && w.other.year > 0 && w.other.year-w.one.year < 12 && w.one.year > 1774 && len(p.parts) > 0 {
		serves = true
	}
	if serves {
		p.claim.Service.Enlisted, p.claim.Service.MusteredOut = from, last
		b.token(it.from, it.to, "served", from.EDTF+"/"+last.EDTF, "", b.head)
		return
	}
	p.claim.Person.Born, p.claim.Person.Died = from, last
	head := b.head
	if it.to-it.from == 2 {
		b.token(it.from, it.from+1, "born", from.EDTF, "", head)
		b.token(it.to-1, it.to, "died", last.EDTF, "", head)
		return
	}
	b.token(it.from, it.to-1, "born", from.EDTF, "", head)
	b.token(it.to-1, it.to, "died", last.EDTF, "", head)
}

func (b *builder) takePlace(it *item) {
	t := b.c.text
	from := it.from
	for from < it.to-1 {
		switch t.Key(from) {
		case "AT", "IN", "NEAR", "OF", "FROM", "A", "NATIVE", "ON", "THE":
			from++
			continue
		}
		break
	}
	text := b.spanText(from, it.to)
	if t.Words[it.to-1].Has(words.DotAfter) && t.Len(it.to-1) < 6 {
		text += "."
	}
	field := "place"
	p := b.current()
	native := strings.Contains(strings.ToUpper(t.Span(it.from, from+1)), "NATIVE")
	switch {
	case native || b.label == lBorn:
		field = "birthplace"
		p.claim.Person.Birthplace = text
	case b.label == lDied || b.label == lKilled:
		field = "death-place"
		p.claim.Person.DeathPlace = text
	case p.claim.Person.DeathPlace == "" && (!p.claim.Person.Died.IsZero() || len(p.loose) > 0):
		field = "death-place"
		p.claim.Person.DeathPlace = text
	case p.claim.Person.Residence == "":
		field = "residence"
		p.claim.Person.Residence = text
	}
	if b.label == lKilled || b.label == lDied && strings.Contains(strings.ToUpper(text), "ANDERSONVILLE") {
		b.battle = b.battle || b.isBattle(from)
	}
	b.token(it.from, it.to, field, text, "", b.head)
}

func (b *builder) isBattle(i int) bool {
	for _, h := range b.c.lex.places.Find(nil, b.c.text, i) {
		if h.Value.code == "battle" {
			return true
		}
	}
	return false
}
