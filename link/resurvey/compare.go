package resurvey

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"

	"musterstone/link/weigh"
	"musterstone/model"
	"musterstone/vocab"
)

// weight is a row of the table resurvey-weights: a level of a field with its chance for one stone.
type weight struct {
	m float64
	// u is the chance for two stones; where it is 0, it is the share of so many stones in the ground, or, where that is 0 too, reckoned from the earlier stones.
	u, stones float64
	moved     bool // the stone stands elsewhere
}

var weights = sync.OnceValue(func() map[[2]string]weight {
	m := map[[2]string]weight{}
	for _, r := range vocab.Rows("resurvey-weights") {
		m[[2]string{r.Get("field"), r.Get("level")}] = weight{m: r.Float("m"), u: r.Float("u"), stones: r.Float("stones"), moved: r.Get("moved") != ""}
	}
	return m
})

func weightOf(field, level string) weight {
	w, ok := weights()[[2]string{field, level}]
	if !ok {
		panic(fmt.Sprintf("table resurvey-weights has no level %q of %q", level, field))
	}
	return w
}

// stone is a stone of either survey, made ready to be compared.
type stone struct {
	*model.Subject
	cemetery string // as it is compared
	pattern  model.PatternCode
	likely   bool // it looks like the pattern, and the pattern is known
}

// stones are the subjects that are stones, by their ids.
func stones(list []*model.Subject) []stone {
	var out []stone
	for _, s := range list {
		if s.Stone.Register != nil {
			continue
		}
		code, p := s.Implies.Best()
		out = append(out, stone{s, strings.ToLower(strings.TrimSpace(s.Stone.Place.Cemetery)), code, code != model.UnknownPattern && p >= 0.5})
	}
	slices.SortStableFunc(out, func(a, b stone) int { return cmp.Compare(a.Stone.ID, b.Stone.ID) })
	return out
}

// earlier are the stones of the earlier survey, as later ones are set beside them.
type earlier struct {
	stones  []stone
	records []*model.Record // the same, as package weigh takes them
	weigher *weigh.Weigher
	// How many stones are of a material, or look like a pattern.
	material map[string]float64
	pattern  map[model.PatternCode]float64
}

func newEarlier(list []stone) *earlier {
	e := &earlier{stones: list, records: make([]*model.Record, len(list)), material: map[string]float64{}, pattern: map[model.PatternCode]float64{}}
	packer := weigh.NewPacker()
	for i, s := range list {
		e.records[i] = &model.Record{ID: model.RecordID(s.Stone.ID), Source: s.Stone.Source, Claim: s.Reading().Claim()}
		packer.Add(e.records[i])
		e.material[s.Stone.Marker.Material]++
		e.pattern[s.pattern]++
	}
	columns := packer.Columns()
	e.weigher = weigh.NewPacked(columns.Counts(), nil, columns)
	return e
}

// part is a level of a field, and what it is worth.
type part struct {
	field, level string
	bits         float64
}

// pairing is a later stone set beside an earlier one. It is used again for the next: of most pairs nothing is told.
type pairing struct {
	lines weigh.Lines // of what the words say of two people
	parts []part      // of all else
}

// weigh sets a later stone, and the view of it for package weigh, beside the k-th earlier one, and gives the bits of all parts.
func (p *pairing) weigh(e *earlier, view *weigh.Stone, s *stone, k int) float64 {
	b := &e.stones[k]
	p.lines, p.parts = weigh.Lines{}, p.parts[:0]
	add := func(field, level string, u float64) {
		p.parts = append(p.parts, part{field, level, e.bits(field, level, u)})
	}
	here, there := s.Reading(), b.Reading()
	switch {
	case len(here.People) > 0 && len(there.People) > 0:
		view.Row(uint32(k), &p.lines)
	case here.Unknown && there.Unknown:
		add("words", numbers(there.GraveNumber, here.GraveNumber), 0)
	case len(here.People) > 0 || len(there.People) > 0:
		add("words", "only one of them names somebody", 0)
	}
	if level := standing(b.Stone.Place, s.Stone.Place); level != "" {
		add("place", level, 0)
	}
	was, is := &b.Stone.Marker, &s.Stone.Marker
	if was.Material != "" && is.Material != "" {
		if u := e.share(e.material[is.Material]); was.Material == is.Material {
			add("material", "the same material", u)
		} else {
			add("material", "another material", 1-u)
		}
	}
	if was.Width > 0 && is.Width > 0 {
		switch d := math.Abs(float64(was.Width - is.Width)); {
		case d <= 1:
			add("width", "as wide", 0)
		case d <= 3:
			add("width", "nearly as wide", 0)
		default:
			add("width", "of another width", 0)
		}
	}
	if b.likely && s.likely {
		if u := e.share(e.pattern[s.pattern]); b.pattern == s.pattern {
			add("pattern", "the same pattern", u)
		} else {
			add("pattern", "another pattern", 1-u)
		}
	}
	bits := p.lines.Bits
	for _, x := range p.parts {
		bits += x.bits
	}
	return bits
}

// evidence puts words to the parts.
func (p *pairing) evidence(e *earlier, view *weigh.Stone, s *stone, k int) []model.Evidence {
	b := &e.stones[k]
	out := view.Spell(&p.lines, e.records[k])
	for _, x := range p.parts {
		v := model.Evidence{Field: x.field, Level: x.level, Bits: x.bits}
		switch x.field {
		case "words":
			v.Record, v.Stone = b.Reading().GraveNumber, s.Reading().GraveNumber
		case "place":
			v.Record, v.Stone = where(b.Stone.Place, s.Stone.Place)
		case "material":
			v.Record, v.Stone = b.Stone.Marker.Material, s.Stone.Marker.Material
		case "width":
			v.Record, v.Stone = inches(b.Stone.Marker.Width), inches(s.Stone.Marker.Width)
		case "pattern":
			v.Record, v.Stone = vocab.Label("pattern", string(b.pattern)), vocab.Label("pattern", string(s.pattern))
		}
		out = append(out, v)
	}
	return out
}

// bits is what a level is worth; u is the chance of it for two stones, where the table leaves it to be reckoned.
func (e *earlier) bits(field, level string, u float64) float64 {
	w := weightOf(field, level)
	switch {
	case w.u > 0:
		u = w.u
	case w.stones > 0:
		u = w.stones / float64(len(e.stones))
	}
	return math.Log2(w.m / min(1, max(u, 1e-6)))
}

// share is the part of the earlier stones that so many are, half a stone added on either side: what none of them shows may still occur.
func (e *earlier) share(n float64) float64 { return (n + 0.5) / (float64(len(e.stones)) + 1) }

// numbers compares the grave numbers on two blocks of unknowns.
func numbers(was, is string) string {
	switch {
	case was == "" || is == "":
		return "both of an unknown"
	case was == is:
		return "the same number on both"
	}
	return "another number on each"
}

// standing is the level at which two stones stand to each other: by position where both have one, else by section, row and plot; "" where nothing tells.
func standing(was, is model.Place) string {
	if was.Position != nil && is.Position != nil {
		switch d := math.Hypot(is.Position.From(*was.Position)); {
		case d < 2:
			return "at the same spot"
		case d < 6:
			return "within a few paces"
		case d < 15:
			return "in the same part of the ground"
		}
		return "elsewhere in the ground"
	}
	switch {
	case was.Plot == "" || is.Plot == "":
		return ""
	case !strings.EqualFold(was.Section, is.Section) || !strings.EqualFold(was.Row, is.Row):
		return "another row"
	case strings.EqualFold(was.Plot, is.Plot):
		return "the same plot"
	case nextTo(was.Plot, is.Plot):
		return "the next plot"
	}
	return "the same row"
}

// where says where the earlier and the later stone stand, or, where both have a position, how far they are apart, in the place of the first.
func where(was, is model.Place) (before, after string) {
	if was.Position != nil && is.Position != nil {
		return fmt.Sprintf("%.0f m apart", math.Hypot(is.Position.From(*was.Position))), ""
	}
	return spot(was), spot(is)
}

func spot(p model.Place) string {
	return strings.ToLower(strings.Join([]string{p.Section, p.Row, p.Plot}, "/"))
}

func nextTo(a, b string) bool {
	x, err1 := strconv.Atoi(strings.TrimSpace(a))
	y, err2 := strconv.Atoi(strings.TrimSpace(b))
	return err1 == nil && err2 == nil && (x-y == 1 || y-x == 1)
}

func inches(w model.Inches) string { return strconv.FormatFloat(float64(w), 'f', -1, 64) + " in" }
