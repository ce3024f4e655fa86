package inscription

import (
	"math"
	"strconv"
	"strings"
	"sync"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
	"musterstone/vocab/words"
)

// kind says what a piece of an inscription is.
type kind uint8

const (
	kNone   kind = iota
	kUnread      // a word that nothing can be made of
	kNote        // the recorder's note, or a loss of unknown length that stands alone
	kName        // one person's name
	kPair        // two people of one surname: "A. & B. DOE"
	kFamily      // a surname that heads a family's stone
	kAgain       // one named before is named again, to tell his dates or his service
	kRank
	kTitle  // a title that is no rank here
	kDegree // letters after a name
	kUnit   // a part of a unit
	kBranch
	kSide
	kConflict // a war named in words
	kWarYears // a war named by its years alone: "1861-1865"
	kAward
	kSociety    // a veterans' society
	kFraternal  // any other brotherhood
	kRelation   // "HIS WIFE"
	kRelationOf // "WIFE OF"
	kLabel      // "BORN", "DIED"
	kDate
	kYears // two years: a life, or a service
	kAge
	kMemorial
	kUnknown
	kGrave // a grave number
	kHome  // the state that heads a General stone
	kPlace
	kSaying // a commonplace, or a line of verse
	kLink   // a word that joins: "MEMBER OF"
	kMonth  // within a date
	kSpan   // within an age: "YRS"
	kinds
)

// entry is what a form of the tables may be.
type entry struct {
	kind   kind
	label  label     // kLabel
	place  placeWord // kPlace
	words  int8
	traits traits
	// from and to are the years of a conflict.
	from, to int16
	score    float32
	code     string
	source   string
}

// traits of an entry that the scores depend on.
type traits uint16

const (
	tNameLike traits = 1 << iota // the form is a given name or a surname too
	tInitials                    // only single letters
	tFull                        // written out
	tCivil                       // a rank that is a civilian's title or trade too
	tModern                      // of the First World War or later
	tOld                         // of the civil war
	tNavy                        // of a sea service
	tSpanish                     // of 1898
	tWeak                        // tells little alone
	tOfficer
	tHead          // a relation that may stand as a heading: "MOTHER"
	tRankElsewhere // a title that is a rank too
	tVeterans      // a society whose members have served themselves
	tInWar         // an occupation that beside years of a war is service
	tShortTrade    // a soldier's trade, cut short
)

type lexicon struct {
	forms  words.Forms[entry]
	shared map[entry]int32         // those of the forms, until all are loaded: many forms say the same
	names  words.Table[nameInfo]   // of all words, until all are loaded
	known  words.Table[packedName] // the same then
	weights
	gains gains
	// relationsOf are the forms that end in OF, in the order of the table.
	relationsOf []relationOf
	members     []string // the words X of A X OF of those who served
	army, navy  entry
	born, died  entry         // BORN and DIED
	labels      []lineForm    // those of service, in one word of eight letters or more
	lines       []lineForm    // wars, and openings, that may be told from what is left of their line
	long        [28]lineForms // those of them of leastMisread letters and more, by their length
	lineHeads   letterSet     // the letters with which they begin
	lineEnds    letterSet     // and end
	rankForms   []rankForm
	kinds       [kinds]kindScore
	like        [26][]byte // the letters that look like each
	wide        [26][]byte // and those that do so less
	wars        [][2]int   // the first and last years of those that withinWar asks
}

var theLexicon = sync.OnceValue(buildLexicon)

// buildLexicon loads all tables; those of names and ranks first, for the others ask whether a word is a name.
func buildLexicon() *lexicon {
	l := &lexicon{weights: readWeights(), kinds: readKinds(), shared: map[entry]int32{}}
	l.gains = l.weights.gains()
	for a := range l.like {
		for b := range l.like {
			like := name.Worn(byte('A'+a), byte('A'+b))
			if a != b && like >= name.Alike {
				l.like[a] = append(l.like[a], byte('A'+b))
			}
			if a != b && like >= wideLike {
				l.wide[a] = append(l.wide[a], byte('A'+b))
			}
		}
	}
	l.loadNames()
	l.loadStops()
	l.loadRanks()
	l.loadWords()
	l.loadMonths()
	l.loadConflicts()
	for _, c := range vocab.Conflicts() {
		if c.To.Year-c.From.Year < longWar && c.To.Year < modernWar {
			l.wars = append(l.wars, [2]int{c.From.Year, c.To.Year})
		}
	}
	for _, r := range vocab.Rows("epitaph-words") {
		l.mark(r.Get("word"), func(n *nameInfo) { n.common = true })
	}
	for _, r := range vocab.Rows("unit-forms") {
		switch r.Get("role") {
		case "arm", "kind", "mark", "body":
			if form := r.Get("form"); len(form) > 4 && words.Letters(form) == form {
				l.mark(form, func(n *nameInfo) { n.never = n.never || n.surname == 0 && n.given == 0 })
			}
		}
	}
	for _, r := range vocab.Rows("state-forms") {
		if r.Get("share") == "0" { // of lists of the post office, and on no stone
			continue
		}
		e := entry{kind: kHome, code: r.Get("state"), source: r.Get("source")}
		form, kind := r.Get("form"), r.Get("kind")
		switch {
		case r.Get("home") == "weak": // a word of another kind
			e.traits = tInitials | tWeak
		case kind == "name" || kind == "territory":
			e.traits = tFull
		case kind == "postal" || len(words.Letters(form)) < 3:
			e.traits = tInitials
		}
		l.add(form, e)
	}
	l.forms.Seal(func(word string, at int32) { l.names.At(word).form = at })
	unit.Words(func(word string, w unit.Word) { l.names.At(word).unit = w })
	l.loadStarts()
	for word, n := range l.names.All() {
		*l.known.At(word) = n.packed()
	}
	l.shared, l.names = nil, words.Table[nameInfo]{}
	return l
}

// add adds a form that may be the entry.
func (l *lexicon) add(form string, e entry) {
	if e.kind == kLabel {
		e.label = labels[e.code]
	}
	at, ok := l.shared[e]
	if !ok {
		at = l.forms.Share(e)
		l.shared[e] = at
	}
	l.forms.AddTo(at, form)
}

// wordKinds are the kinds as the tables stone-words.csv and reading-kinds.csv name them.
var wordKinds = map[string]kind{
	"rank": kRank, "war-years": kWarYears, "society-veterans": kSociety, "relation-of": kRelationOf, "relation": kRelation, "label": kLabel, "title": kTitle, "rank-title": kTitle, "degree": kDegree, "memorial": kMemorial, "commonplace": kSaying, "opening": kSaying,
	"unknown": kUnknown, "society": kSociety, "fraternal": kFraternal, "award": kAward, "side": kSide, "side-navy": kSide, "branch": kBranch, "linking": kLink, "conflict": kConflict,
}

// loadMonths loads the words that package date knows for months.
func (l *lexicon) loadMonths() {
	for form, m := range date.Months() {
		l.add(form, entry{kind: kMonth, code: strconv.Itoa(m), words: 1})
	}
}

// loadWords loads stone-words.csv.
func (l *lexicon) loadWords() {
	for _, r := range vocab.Rows("stone-words") {
		e := entry{code: r.Get("code"), source: r.Get("source")}
		if s := r.Float("share"); s > 0 {
			e.score = float32(math.Log(s))
		}
		form := r.Get("form")
		t := words.Split(form)
		e.words = int8(len(t.Words))
		single := true
		for i := range t.Words {
			single = single && t.Len(i) == 1
		}
		if single {
			e.traits |= tInitials
		}
		switch k := r.Get("kind"); k {
		case "span":
			e.kind = kSpan
			l.add(form, e)
		case "country", "county", "preposition", "battle", "cause":
			e.kind, e.place, e.code = kPlace, placeKinds[[2]string{k, e.code}], ""
			if e.place == noPlace {
				e.place = placeKinds[[2]string{k, ""}]
			}
			l.add(form, e)
		case "suffix":
			l.names.At(words.Letters(form)).suffix = true
		default:
			if s, ok := startKinds[k]; ok {
				l.names.At(form).starts |= s
				continue
			}
			e.kind = wordKinds[k]
			if k == "relation-of" && strings.HasSuffix(form, " OF") {
				l.relationsOf = append(l.relationsOf, relationOf{words.Letters(form), e})
			}
			if of, ok := strings.CutSuffix(form, " OF"); ok && e.kind == kLink && e.code == "member" && e.words == 3 && strings.HasPrefix(of, "A ") {
				l.members = append(l.members, of[len("A "):])
			}
			if k == "label" && e.words == 1 && len(form) > 7 && labels[e.code] >= lEnlisted && labels[e.code] <= lService {
				f := lineForm{form, form, e}
				f.label = labels[e.code]
				l.labels = append(l.labels, f)
			}
			switch form {
			case "BORN":
				l.born = e
				l.born.label = lBorn
			case "DIED":
				l.died = e
				l.died.label = lDied
			case "US NAVY", "U S NAVY":
				l.navy = e
				l.navy.traits |= tNavy
			case "US ARMY", "U S ARMY":
				l.army = e
			}
			if (k == "memorial" || k == "opening") && len(t.Words) == 2 {
				l.addLine(form, e)
			}
			if e.kind == kNone {
				panic(r.Where() + ": unknown kind " + k)
			}
			switch k {
			case "side-navy":
				e.traits |= tNavy
			case "rank-title":
				e.traits |= tRankElsewhere
			case "society-veterans":
				e.traits |= tVeterans
			}
			if vocab.Afloat(model.Branch(e.code)) {
				e.traits |= tNavy
			}
			switch e.code {
			case "air-force", "space-force":
				e.traits |= tModern
			}
			if e.kind == kAward && e.code != "medal-of-honor" {
				e.traits |= tModern
			}
			if e.kind == kRelation && len(t.Words) == 1 {
				e.traits |= tHead
			}
			if e.kind == kLink && (strings.Contains(form, "SOLDIER") || strings.Contains(form, "VETERAN")) {
				e.traits |= tHead
			}
			if e.kind == kLink {
				weak := true
				for i := range t.Words {
					weak = weak && l.info(t.Key(i)).function
				}
				if weak {
					e.traits |= tWeak // "OF THE": joins, and tells nothing
				}
			}
			if e.kind == kConflict {
				e.traits |= era(e.code)
			}
			if e.kind == kSide && e.code == string(model.Confederate) {
				e.traits |= tOld
			}
			l.add(form, e)
			if k == "relation" && e.words == 2 && (e.code == "wife" || e.code == "husband") {
				e.score += l.RelationMisread
				for _, other := range misreadOnce(form, wideLike) { // "HIS MIFE"
					l.add(other, e)
				}
			}
			if k == "relation-of" && e.words == 2 && t.Len(0) > 6 && strings.HasSuffix(form, " OF") { // "CONSOR OF", "DAUHTER OF"
				short := e
				short.score += l.RelationMisread
				for k := range t.Len(0) {
					l.add(form[:k]+form[k+1:], short)
				}
			}
			if k == "relation-of" && (e.words == 2 || e.words == 3) && strings.HasSuffix(form, " OF") { // "SON CF", "INFANT SCN OF"
				e.score += l.RelationMisread
				front := strings.TrimSuffix(form, "OF")
				for _, other := range misreadOnce(form, name.Alike) {
					if e.code == "son" && (e.words == 2 && t.Len(0) > 2 || t.Len(0) > 4) || strings.HasPrefix(other, front) { // but "INF. SON OF", whose words may be INF.
						l.add(other, e)
					}
				}
			}
		}
	}
}

// misreadOnce gives a form with one letter or figure in place of another that looks no less like it than least: "HI5 WIFE", "HIS WIFB".
func misreadOnce(form string, least float64) []string {
	var out []string
	for k := range len(form) {
		for _, c := range []byte("ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789") {
			if c != form[k] && form[k] != ' ' && name.Worn(c, form[k]) >= least {
				if other := form[:k] + string(c) + form[k+1:]; strings.IndexByte(words.Split(other).Letters(), '?') < 0 { // a figure among letters is read as lost
					out = append(out, other)
				}
			}
		}
	}
	return out
}

// era is the trait of a conflict's time.
func era(conflict string) traits {
	first, _, _ := strings.Cut(conflict, "|")
	c, _ := vocab.Conflict(model.ConflictCode(first))
	switch {
	case c.From.Year >= 1914:
		return tModern
	case c.From.Year >= 1898:
		return tSpanish
	}
	return tOld
}

// loadConflicts loads conflict-forms.csv, but for what names a war only in a column of conflicts.
func (l *lexicon) loadConflicts() {
	for _, r := range vocab.Rows("conflict-forms") {
		if r.Get("weak") == "column" { // names the war in a column of conflicts only
			continue
		}
		e := entry{kind: kConflict, code: r.Get("conflict"), source: r.Get("source")}
		e.traits |= era(e.code)
		t := words.Split(r.Get("form"))
		years := true
		single := true
		for i := range t.Words {
			years = years && (t.Words[i].Has(words.Digits) || t.Key(i) == "TO")
			single = single && t.Len(i) == 1
		}
		if years {
			e.kind = kWarYears
		}
		if single {
			e.traits |= tInitials
			e.score += l.WarLetters
		}
		switch r.Get("weak") {
		case "mark": // of a unit too
			e.traits |= tWeak
			e.score += l.WarLine
		case "word": // or a place
			e.traits |= tWeak
		}
		e.words = int8(len(t.Words))
		e.from, e.to = spanOf(e.code)
		if r.Get("weak") == "" && len(t.Words) > 1 && len(t.Letters()) > 5 && !strings.ContainsAny(t.Letters(), "0123456789") { // a figure is lost or it tells
			l.addLine(strings.ToUpper(r.Get("form")), e)
		}
		l.add(r.Get("form"), e)
	}
}

// spanOf is the first and last year of a conflict, or of the first of several.
func spanOf(conflict string) (from, to int16) {
	first, _, _ := strings.Cut(conflict, "|")
	c, _ := vocab.Conflict(model.ConflictCode(first))
	return int16(c.From.Year), int16(c.To.Year)
}

// Years beside an occupation tell of a war where they are few, and where few who stayed at home had theirs cut with years: house estimates.
const longWar, modernWar = 12, 1919

// withinWar reports whether two years, the second not before the first, lie within one war.
func (l *lexicon) withinWar(from, to int) bool {
	for _, w := range l.wars {
		if from >= w[0] && to <= w[1] {
			return from < to
		}
	}
	return false
}
