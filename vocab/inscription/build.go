// This file puts a reading together from a path through the chart, item by item.

package inscription

import (
	"reflect"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// builder puts a reading together from a path through the chart.
type builder struct {
	c         *chart
	path      []pathItem
	people    []person
	r         model.Reading
	kept      []model.Reading // those given
	tokens    []model.Token   // room for the tokens of the reading at hand
	said      []model.Claim   // and for its people
	claims    int             // how many of those are taken
	used      int             // how many were taken by a reading that was not kept, and have to be cleared
	turned    []model.Claim   // room to put them into another order
	head      int             // the person to whom dates belong, -1 for none yet
	serving   int             // the person to whom service belongs
	rank      int             // the path item of a rank that waits for its name, -1 for none
	wants     string          // the code of "WIFE OF", while it waits for its name
	next      string          // the code of "HIS WIFE", while it waits for its name
	family    string          // the surname that heads the stone
	label     label
	born      bool        // a date of birth has just been read, whose place may follow
	leads     bool        // COMMANDED or the like has been read
	orphan    string      // the code of "DAUGHTER OF" before anybody was named
	pending   []int       // tokens that belong to the next person
	carry     model.Claim // service and home that stood before any name
	carried   bool        // it holds something
	early     []unit.Part // parts of a unit that did
	homeShort bool
	wrote     [3][][2]int    // room for their words
	room      [3][]unit.Part // room for the parts of the first persons, used again and again
	loose     [3][]looseDate // and for their dates
}

// pathItem is an item of the path, or a word left unread.
type pathItem struct {
	from, to int
	it       *item
}

// A reading is made where it stays: its tokens and people are written into larger pieces of memory, one behind the other, that a builder fills through many texts.
// So nothing is copied, and the collector of memory has one piece to look after in place of three for every stone. Who keeps a reading keeps the piece.
var (
	claimsRoom   = roomFor[model.Claim]()
	tokensRoom   = roomFor[model.Token]()
	readingsRoom = roomFor[model.Reading]()
)

// roomFor is how many of a type go into a piece of 32,000 bytes, and at least as many as a text has readings.
func roomFor[T any]() int { return max(most, 32_000/int(reflect.TypeFor[T]().Size())) }

// keep keeps the reading that has just been put together.
func (b *builder) keep(p float64) {
	b.r.Probability = p
	t := b.r.Tokens
	b.r.Tokens, b.tokens = t[:len(t):len(t)], t[len(t):]
	if n := len(b.r.People); n <= cap(b.said) {
		b.said, b.used = b.said[n:n], max(0, b.used-n)
	}
	b.kept = append(b.kept, b.r)
}

// begin makes the builder ready for the readings of another text.
func (b *builder) begin() {
	b.kept = b.kept[len(b.kept):]
	if cap(b.kept) < most {
		b.kept = make([]model.Reading, 0, readingsRoom)
	}
}

// reset makes the builder ready for another reading.
func (b *builder) reset(c *chart) {
	if b.carried {
		b.carry, b.carried = model.Claim{}, false
	}
	b.c, b.path, b.people, b.claims = c, b.path[:0], b.people[:0], 0
	if n := len(c.text.Words)*3/2 + 2; cap(b.tokens) < n {
		b.tokens = make([]model.Token, 0, max(n, tokensRoom))
	}
	if cap(b.said) < usual {
		b.said, b.used = make([]model.Claim, 0, claimsRoom), 0
	}
	b.pending, b.early, b.r = b.pending[:0], b.early[:0], model.Reading{Tokens: b.tokens[:0]}
	b.head, b.serving, b.rank = -1, -1, -1
	b.wants, b.next, b.family, b.label, b.homeShort, b.born, b.leads, b.orphan = "", "", "", noLabel, false, false, false, ""
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

// before is later the other way: the kind of the item before.
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

// take takes item k of the path: it adds its token, and what it claims goes to whom it belongs to.
func (b *builder) take(k int) {
	p := b.path[k]
	t := b.c.text
	it := p.it
	if it == nil {
		if lostWord(t.Key(p.from)) {
			b.token(p.from, p.to, "lost", "", "", b.head)
			return
		}
		if b.c.joins(p.from) {
			b.token(p.from, p.to, "link", "", "", b.head)
			return
		}
		if b.label == lKilled {
			b.label = lDied
		}
		b.token(p.from, p.to, "unread", "", "", b.head)
		b.r.Unread = append(b.r.Unread, t.Span(p.from, p.to))
		if t.Words[p.from].Has(words.Digits | words.Lost) {
			b.note("A number is partly lost: " + t.Span(p.from, p.to) + ".")
		}
		return
	}
	if it.kind != kPlace && it.kind != kLink && it.kind != kNote {
		b.born = false
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
		to := it.to
		if last := t.Key(to - 1); to-1 > int(it.name.surname) && (last == "FAMILY" || last == "BROTHERS") {
			to--
		}
		b.family = t.Span(int(it.name.surname), to)
		b.token(p.from, p.to, "surname", text, "", -1)
	case kTitle:
		b.token(p.from, p.to, "title", it.entry.code, source, -1)
		if it.entry.traits&tRankElsewhere != 0 {
			why := ""
			if !b.toldOfService() {
				why = ", for nothing else here speaks of service"
			}
			b.note(strings.TrimSpace(text) + " is taken for a title" + why + "; it may be a rank.")
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
	case kAgain:
		b.takeAgain(it)
	case kRelationOf:
		if it.entry.code == alias {
			b.token(p.from, p.to, "link", "", source, b.head)
			b.wants = alias
			return
		}
		if b.head < 0 && b.names(k) == 1 {
			b.newPerson(person{}) // "INFANT SON OF SERGT. J. DEAN": without a name of his own
		}
		if b.head < 0 && inherits(it.entry.code) {
			b.orphan = it.entry.code // "DAUGHTER OF CAPT. HALL / LOTTIE HALL BAKER"
		}
		b.token(p.from, p.to, "relation", it.entry.code, source, b.head)
		b.wants = it.entry.code
		if b.head >= 0 && b.people[b.head].relation == "" {
			b.people[b.head].relation = it.entry.code
			if kind, _ := b.before(k); kind == kPair && b.head+1 < len(b.people) {
				b.people[b.head+1].relation = it.entry.code // "ALBERT & EDGAR / SONS OF"
			}
		}
	case kRelation:
		b.takeRelation(k, it)
	case kLabel:
		b.label = it.entry.label
		b.token(p.from, p.to, "label", it.entry.code, source, b.head)
	case kDate:
		b.takeDate(it)
	case kYears:
		b.takeYears(k, it)
	case kAge:
		b.token(p.from, p.to, "age", "", "", b.head)
		if who := &b.current().claim.Person; who.Age.IsZero() { // what follows words that cannot be read is the rest of it: "AE. 45 Y'RS 2 M'5 1 D'S"
			who.Age = b.c.ages[it.ref]
		}
		b.label = noLabel
	case kMemorial:
		b.r.Memorial = true
		b.token(p.from, p.to, "memorial", "", source, -1)
	case kUnknown:
		b.r.Unknown = true
		b.token(p.from, p.to, "unknown", "", source, -1)
	case kGrave:
		number, starts := t.Key(p.to-1), b.c.infos[p.from].starts
		if starts&sPost != 0 {
			b.token(p.from, p.to, "society", number, "", -1)
			return
		}
		if starts&sGrave != 0 || p.to-p.from == 1 {
			b.r.GraveNumber = number
		}
		b.token(p.from, p.to, "grave", number, "", -1)
	case kHome:
		b.token(p.from, p.to, "home", it.entry.code, source, b.head)
		b.homeShort = it.entry.traits&tFull == 0
		if b.head >= 0 {
			b.people[b.head].claim.Home, b.people[b.head].homeShort = model.State(it.entry.code), b.homeShort
		} else {
			b.carry.Home, b.carried = model.State(it.entry.code), true
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
		b.leads = b.leads || it.entry.code == "commanded"
		b.token(p.from, p.to, "link", "", source, b.head)
	}
}

// toldOfService reports whether anything on the stone speaks of service.
func (b *builder) toldOfService() bool {
	for _, p := range b.path {
		if p.it != nil && 1<<p.it.kind&(1<<kRank|1<<kUnit|1<<kBranch|1<<kSide|1<<kConflict|1<<kWarYears) != 0 {
			return true
		}
	}
	return false
}

func (b *builder) note(s string) { b.r.Notes = append(b.r.Notes, s) }

// current is the person to whom dates belong; one without a name where none has been named yet.
func (b *builder) current() *person {
	if b.head < 0 {
		b.newPerson(person{})
	}
	return &b.people[b.head]
}

// usual is how many people a reading has at most, but for a few.
const usual = 2

// claim is room for what is said of one more person.
func (b *builder) claim() *model.Claim {
	k := b.claims
	b.claims++
	if k >= cap(b.said) {
		return new(model.Claim)
	}
	c := &b.said[:k+1][k]
	if k < b.used {
		*c = model.Claim{}
	}
	b.used = max(b.used, k+1)
	return c
}

// newPerson adds a person, and makes dates and service his.
func (b *builder) newPerson(p person) int {
	if p.claim == nil {
		p.claim = b.claim()
	}
	b.people = append(b.people, p)
	k := len(b.people) - 1
	b.head, b.serving, b.leads = k, k, false
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

// spanText is the words as written, on one line.
func (b *builder) spanText(from, to int) string {
	t := b.c.text
	if t.Words[from].Line == t.Words[to-1].Line {
		return t.Span(from, to)
	}
	var out strings.Builder
	out.Grow(t.Words[to-1].To - t.Words[from].From)
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
