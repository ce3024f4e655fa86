package resurvey

import (
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

// earlier are the stones of the earlier survey, made ready to be compared.
type earlier struct {
	subjects []*model.Subject
	records  []*model.Record // the same, as package weigh takes them
	weigher  *weigh.Weigher
	// How many stones are of a material, or look like a pattern.
	material map[string]float64
	pattern  map[model.PatternCode]float64
}

func newEarlier(subjects []*model.Subject) *earlier {
	e := &earlier{subjects: subjects, records: make([]*model.Record, len(subjects)), material: map[string]float64{}, pattern: map[model.PatternCode]float64{}}
	for i, s := range subjects {
		e.records[i] = &model.Record{ID: model.RecordID(s.Stone.ID), Source: s.Stone.Source, Claim: s.Reading().Claim()}
		e.material[s.Stone.Marker.Material]++
		code, _ := s.Implies.Best()
		e.pattern[code]++
	}
	e.weigher = weigh.New(weigh.Count(slices.Values(e.records)), nil)
	return e
}

// against compares a later stone, and the view of it for package weigh, with the k-th earlier one.
func (e *earlier) against(view *weigh.Stone, s *model.Subject, k int) []model.Evidence {
	b := e.subjects[k]
	var out []model.Evidence
	switch {
	case len(s.Reading().People) > 0 && len(b.Reading().People) > 0:
		_, out = view.Against(e.records[k])
	case s.Reading().Unknown && b.Reading().Unknown:
		out = append(out, e.bothUnknown(s, b))
	case len(s.Reading().People) > 0 || len(b.Reading().People) > 0:
		out = append(out, e.level("words", "only one of them names somebody", 0, "", ""))
	}
	if level, was, is := standing(b.Stone, s.Stone); level != "" {
		out = append(out, e.level("place", level, 0, was, is))
	}
	return append(out, e.looks(s, b)...)
}

// level is the evidence of a level, with what each survey says; u is the chance of it for two stones, where the table leaves it to be reckoned.
func (e *earlier) level(field, name string, u float64, before, after string) model.Evidence {
	w := weightOf(field, name)
	switch {
	case w.u > 0:
		u = w.u
	case w.stones > 0:
		u = w.stones / float64(len(e.subjects))
	}
	return model.Evidence{Field: field, Level: name, Bits: math.Log2(w.m / min(1, max(u, 1e-6))), Stone: after, Record: before}
}

// share is the part of the earlier stones that so many are, half a stone added on either side: what none of them shows may still occur.
func (e *earlier) share(n float64) float64 { return (n + 0.5) / (float64(len(e.subjects)) + 1) }

// bothUnknown compares two blocks of unknowns by their numbers.
func (e *earlier) bothUnknown(s, b *model.Subject) model.Evidence {
	is, was := s.Reading().GraveNumber, b.Reading().GraveNumber
	switch {
	case is == "" || was == "":
		return e.level("words", "both of an unknown", 0, "", "")
	case is == was:
		return e.level("words", "the same number on both", 0, was, is)
	}
	return e.level("words", "another number on each", 0, was, is)
}

// looks compares how two stones look.
func (e *earlier) looks(s, b *model.Subject) []model.Evidence {
	var out []model.Evidence
	is, was := s.Stone.Marker, b.Stone.Marker
	if is.Material != "" && was.Material != "" {
		level, u := "the same material", e.share(e.material[is.Material])
		if is.Material != was.Material {
			level, u = "another material", 1-u
		}
		out = append(out, e.level("material", level, u, was.Material, is.Material))
	}
	if is.Width > 0 && was.Width > 0 {
		level := "of another width"
		switch d := math.Abs(float64(is.Width - was.Width)); {
		case d <= 1:
			level = "as wide"
		case d <= 3:
			level = "nearly as wide"
		}
		out = append(out, e.level("width", level, 0, inches(was.Width), inches(is.Width)))
	}
	a, pa := s.Implies.Best()
	c, pc := b.Implies.Best()
	if a != model.UnknownPattern && c != model.UnknownPattern && pa >= 0.5 && pc >= 0.5 {
		level, u := "the same pattern", e.share(e.pattern[a])
		if a != c {
			level, u = "another pattern", 1-u
		}
		out = append(out, e.level("pattern", level, u, vocab.Label("pattern", string(c)), vocab.Label("pattern", string(a))))
	}
	return out
}

// standing is the level at which two stones stand to each other, and where the earlier and the later one stands: by position where both have one, else by section, row and
// plot. The level is "" where nothing tells.
func standing(b, s *model.Stone) (level, was, is string) {
	p, q := b.Place, s.Place
	if p.Position != nil && q.Position != nil {
		d := metres(*p.Position, *q.Position)
		level = "elsewhere in the ground"
		switch {
		case d < 2:
			level = "at the same spot"
		case d < 6:
			level = "within a few paces"
		case d < 15:
			level = "in the same part of the ground"
		}
		return level, fmt.Sprintf("%.0f m apart", d), ""
	}
	if p.Plot == "" || q.Plot == "" {
		return "", "", ""
	}
	was, is = spot(p), spot(q)
	sameRow := strings.EqualFold(p.Section, q.Section) && strings.EqualFold(p.Row, q.Row)
	level = "another row"
	switch {
	case was == is:
		level = "the same plot"
	case sameRow && nextTo(p.Plot, q.Plot):
		level = "the next plot"
	case sameRow:
		level = "the same row"
	}
	return level, was, is
}

func spot(p model.Place) string {
	return strings.ToLower(strings.Join([]string{p.Section, p.Row, p.Plot}, "/"))
}

func nextTo(a, b string) bool {
	x, err1 := strconv.Atoi(strings.TrimSpace(a))
	y, err2 := strconv.Atoi(strings.TrimSpace(b))
	return err1 == nil && err2 == nil && (x-y == 1 || y-x == 1)
}

// metres is the distance of two positions near each other.
func metres(a, b model.Position) float64 {
	const perDegree = 111320
	x := (a.Longitude - b.Longitude) * math.Cos(a.Latitude*math.Pi/180)
	return math.Hypot(a.Latitude-b.Latitude, x) * perDegree
}

func inches(w model.Inches) string { return strconv.FormatFloat(float64(w), 'f', -1, 64) + " in" }
