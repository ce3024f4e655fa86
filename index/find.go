package index

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"github.com/blevesearch/bleve/v2"
	"github.com/blevesearch/bleve/v2/search"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/inscription"
	"musterstone/vocab/name"
	"musterstone/vocab/unit"
)

// FindOptions narrow a search; the zero value looks everywhere and gives the first twenty.
type FindOptions struct {
	Kind  string // "stone" or "record"; "" for both
	Limit int    // 0 means 20, 1000 are the most
	From  int    // how many hits to pass over
}

// Results are the hits of a search, best first, and how many there are in all.
type Results struct {
	Hits  []Hit
	Total int
	// Near is set where nothing had the very words, and the hits have names one letter away.
	Near  bool
	Notes []string // about the index, for the user
}

// A Hit is a stone or a record that has all the words.
type Hit struct {
	Kind  string  // "stone" or "record"
	ID    string  // of the stone or of the record
	Score float64 // only good to compare hits of one search
	// Line says in a line what it is.
	Line string
	// Cells are those with something that was asked for, as written, in column order.
	Cells []HitCell

	Stone  *model.Stone // one of these is set; both are shared, and must not be changed
	Record *model.Record
}

// A HitCell is a cell and the stretches of its text to make stand out: sorted, apart from each other.
type HitCell struct {
	Column, Value string
	Marks         []model.Span
}

// Find looks for words in stones and records. All words must be there; words in quotation marks must stand together; name:, unit:, place: and
// text: before a word or phrase say where; '*' at the end of a word stands for any letters and '?' within one for a single letter. A name also
// finds short forms of it and spellings that sound the same, after the very word. ErrQuestion tells whether an error is about the words.
//
// The first search builds the index of words, which takes a while where there are many records.
func (x *Index) Find(ctx context.Context, text string, opt FindOptions) (Results, error) {
	var r Results
	q, err := ask(text)
	if err != nil {
		return r, err
	}
	if opt.Kind != "" && opt.Kind != "stone" && opt.Kind != "record" {
		return r, fmt.Errorf("%w among %q; choose stone or record", errQuestion, opt.Kind)
	}
	if r.Notes, err = x.openWords(ctx); err != nil {
		return r, err
	}
	limit := opt.Limit
	if limit <= 0 {
		limit = 20
	}
	for _, near := range [...]bool{false, true} {
		asked := q.query(near)
		if opt.Kind != "" {
			asked = append(asked, term(kindField, opt.Kind, 0))
		}
		req := bleve.NewSearchRequestOptions(asked, min(limit, 1000), max(0, min(opt.From, 1_000_000)), false)
		res, err := x.searchWords(ctx, req)
		if err != nil {
			return r, fmt.Errorf("search for %q: %w", text, err)
		}
		r.Total, r.Near = int(res.Total), near
		for _, h := range res.Hits {
			hit, err := x.hit(h.ID, q, near)
			if err != nil {
				return r, err
			}
			hit.Score = h.Score
			r.Hits = append(r.Hits, hit)
		}
		if r.Total > 0 {
			break
		}
	}
	r.Near = r.Near && r.Total > 0
	return r, nil
}

// searchWords asks the index of words. A file that was harmed inside can make bleve panic: that is told as damage.
func (x *Index) searchWords(ctx context.Context, req *bleve.SearchRequest) (res *bleve.SearchResult, err error) {
	defer func() {
		if p := recover(); p != nil {
			err = fmt.Errorf("%w (%v); delete the folder %s and run again", errDamaged, p, x.words.shelf.dir)
		}
	}()
	index, err := x.words.index.Advanced()
	if err != nil {
		return nil, err
	}
	names, err := index.Reader()
	if err != nil {
		return nil, err
	}
	defer names.Close()
	t := &tie{names: names, wanted: req.Size + req.From}
	req.SortByCustom(search.SortOrder{&search.SortScore{Desc: true}, t})
	if res, err = x.words.index.SearchInContext(ctx, req); err == nil {
		err = t.failed
	}
	return res, err
}

// hit makes the hit of a document.
func (x *Index) hit(id string, q question, near bool) (Hit, error) {
	kind, place, _ := strings.Cut(id, "-")
	at, err := strconv.Atoi(place)
	if err != nil {
		return Hit{}, fmt.Errorf("read the index of words: document %q: %w; delete the folder %s and run again", id, errDamaged, x.words.shelf.dir)
	}
	h := Hit{Kind: kind}
	var cells []model.Cell
	if kind == "record" {
		if h.Record, err = x.record(at); err != nil {
			return h, err
		}
		h.ID, h.Line, cells = string(h.Record.ID), recordWords(h.Record), h.Record.Written
	} else {
		h.Stone = new(model.Stone)
		data, err := x.words.stones.read(at)
		if err == nil {
			err = stoneCodec().decode(data, h.Stone, x.words.lexicon)
		}
		if err != nil {
			return h, fmt.Errorf("read stone %d of the index: %w; delete the folder %s and run again", at+1, err, x.words.shelf.dir)
		}
		h.ID, h.Line, cells = string(h.Stone.ID), stoneWords(h.Stone), h.Stone.Written
	}
	if len(cells) == 0 {
		cells = []model.Cell{{Value: h.Line}}
	}
	for _, c := range cells {
		if marks := q.marks(c.Value, near); len(marks) > 0 {
			h.Cells = append(h.Cells, HitCell{c.Column, c.Value, marks})
		}
	}
	return h, nil
}

// claimsOf is what a stone says of those whom it names, by its likeliest reading.
func claimsOf(s *model.Stone) []model.Claim {
	readings := inscription.ReadStone(s)
	if len(readings) == 0 {
		return nil
	}
	return readings[0].People
}

// recordWords is a record in a line: "Holden, John T, Company F, 31st Wisconsin Infantry".
func recordWords(r *model.Record) string {
	return claimWords(r.Claim)
}

func claimWords(c model.Claim) string {
	n := c.Person.Name
	var parts []string
	add := func(s string) {
		if s = strings.TrimSpace(s); s != "" {
			parts = append(parts, s)
		}
	}
	add(n.Surname)
	add(strings.Join(strings.Fields(n.Given+" "+n.Middle+" "+n.Suffix), " "))
	if len(parts) == 0 {
		add(n.Written)
	}
	if u := c.Service.Unit; !u.IsZero() {
		add(unit.Format(u))
	}
	if d := c.Person.Died; !d.IsZero() {
		add("died " + d.Words())
	}
	return strings.Join(parts, ", ")
}

// stoneWords is a stone in a line: its inscription, or what a register says, and where it stands.
func stoneWords(s *model.Stone) string {
	line := strings.Join(strings.Fields(strings.ReplaceAll(s.Marker.Inscription, "\n", " / ")), " ")
	if line == "" && s.Register != nil {
		line = claimWords(*s.Register)
	}
	if s.Place.Cemetery != "" {
		if line != "" {
			line += ", "
		}
		line += s.Place.Cemetery
	}
	return line
}

// marks finds what was asked for in a text.
func (q question) marks(text string, near bool) []model.Span {
	list := splitWords(text)
	lit := make([]bool, len(list))
	for _, a := range q {
		if len(a.words) == 1 {
			for i, w := range list {
				lit[i] = lit[i] || a.matches(w.folded, near)
			}
			continue
		}
		together := false
		for i := range list {
			if a.at(list[i:]) {
				together = true
				for k := range a.words {
					lit[i+k] = true
				}
			}
		}
		if !together && a.field != textField {
			// The phrase was found as a unit, or as words of a name or a place.
			for i, w := range list {
				for _, word := range a.words {
					lit[i] = lit[i] || w.folded == word || sameState(w.folded, word)
				}
			}
		}
	}
	var marks []model.Span
	for i, w := range list {
		switch {
		case !lit[i]:
		case i > 0 && lit[i-1] && strings.Trim(text[list[i-1].to:w.from], ". ") == "":
			marks[len(marks)-1].To = w.to
		default:
			marks = append(marks, model.Span{From: w.from, To: w.to})
		}
	}
	return marks
}

// at reports whether the words of the phrase begin the list.
func (a asked) at(list []word) bool {
	if len(list) < len(a.words) {
		return false
	}
	for k, w := range a.words {
		open := a.open && k == len(a.words)-1
		if list[k].folded != w && !(open && strings.HasPrefix(list[k].folded, w)) {
			return false
		}
	}
	return true
}

// matches reports whether a word of a text is one that the asked word finds.
func (a asked) matches(w string, near bool) bool {
	want := a.words[0]
	switch {
	case w == want:
		return true
	case a.open && !strings.ContainsAny(want, "?*"):
		return strings.HasPrefix(w, want)
	case strings.ContainsAny(want, "?*"):
		if a.open {
			want += "*"
		}
		return name.Match(want, w)
	case digits(want) || digits(w):
		return false
	}
	if a.field == "" || a.field == unitField {
		if sameState(w, want) {
			return true
		}
	}
	if a.field != "" && a.field != nameField || len(want) < 3 || len(w) < 3 {
		return false
	}
	if near && len(want) >= 4 && distance(want, w, 1) <= 1 {
		return true
	}
	if name.Sound(w) == name.Sound(want) {
		return true
	}
	for _, r := range roots(w) {
		for _, s := range roots(want) {
			if r == s {
				return true
			}
		}
	}
	return false
}

// sameState reports whether two words stand for the same state.
func sameState(a, b string) bool {
	if len(a) < 2 || len(b) < 2 {
		return false
	}
	s, ok := vocab.State(a)
	t, also := vocab.State(b)
	return ok && also && s == t
}
