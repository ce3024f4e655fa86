package resurvey

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// level is a piece of evidence with the chance of it for one stone and for two: house judgement, but for u, which follows from the number of stones.
func level(field, name string, m, u float64, before, after string) model.Evidence {
	return model.Evidence{Field: field, Level: name, Bits: math.Log2(m / min(1, max(u, 1e-6))), Stone: after, Record: before}
}

// bothUnknown compares two blocks of unknowns by their numbers.
func bothUnknown(s, b *model.Subject) []model.Evidence {
	x, y := s.Reading().GraveNumber, b.Reading().GraveNumber
	switch {
	case x == "" || y == "":
		return []model.Evidence{level("words", "both of an unknown", 0.95, 0.1, "", "")}
	case x == y:
		return []model.Evidence{level("words", "the same number on both", 0.95, 0.001, y, x)}
	}
	return []model.Evidence{level("words", "another number on each", 0.02, 0.1, y, x)}
}

// standing compares where two stones stand, out of n: by position where both have one, else by section, row and plot.
func standing(s, b *model.Stone, n int) []model.Evidence {
	p, q := s.Place, b.Place
	if p.Position != nil && q.Position != nil {
		d := metres(*p.Position, *q.Position)
		text := fmt.Sprintf("%.0f m apart", d)
		switch {
		case d < 2:
			return []model.Evidence{level("place", "at the same spot", 0.6, 2/float64(n), "", text)}
		case d < 6: // a hand-held receiver's error
			return []model.Evidence{level("place", "within a few paces", 0.25, 12/float64(n), "", text)}
		case d < 15:
			return []model.Evidence{level("place", "in the same part of the ground", 0.1, 0.2, "", text)}
		}
		return []model.Evidence{level("place", "elsewhere in the ground", 0.05, 0.9, "", text)}
	}
	if p.Plot == "" || q.Plot == "" {
		return nil
	}
	x, y := spot(p), spot(q)
	switch {
	case x == y:
		return []model.Evidence{level("place", "the same plot", 0.85, 1.2/float64(n), y, x)}
	case strings.EqualFold(p.Section, q.Section) && strings.EqualFold(p.Row, q.Row) && nextTo(p.Plot, q.Plot):
		return []model.Evidence{level("place", "the next plot", 0.06, 2.5/float64(n), y, x)}
	case strings.EqualFold(p.Section, q.Section) && strings.EqualFold(p.Row, q.Row):
		return []model.Evidence{level("place", "the same row", 0.04, 0.08, y, x)}
	}
	return []model.Evidence{level("place", "another row", 0.05, 0.9, y, x)}
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

// shares are how common a look is among the earlier stones.
type shares struct {
	n        float64
	material map[string]float64
	pattern  map[model.PatternCode]float64
}

func looks(before []*model.Subject) shares {
	s := shares{n: float64(len(before)) + 1, material: map[string]float64{}, pattern: map[model.PatternCode]float64{}}
	for _, b := range before {
		s.material[b.Stone.Marker.Material]++
		code, _ := b.Implies.Best()
		s.pattern[code]++
	}
	return s
}

// against compares how two stones look.
func (sh shares) against(s, b *model.Subject) []model.Evidence {
	var out []model.Evidence
	x, y := s.Stone.Marker, b.Stone.Marker
	if x.Material != "" && y.Material != "" {
		u := (sh.material[x.Material] + 0.5) / sh.n
		if x.Material == y.Material {
			out = append(out, level("material", "the same material", 0.88, u, y.Material, x.Material))
		} else {
			out = append(out, level("material", "another material", 0.12, 1-(sh.material[x.Material]/sh.n), y.Material, x.Material))
		}
	}
	if x.Width > 0 && y.Width > 0 {
		d := math.Abs(float64(x.Width - y.Width))
		from, to := inches(y.Width), inches(x.Width)
		switch {
		case d <= 1:
			out = append(out, level("width", "as wide", 0.82, 0.25, from, to))
		case d <= 3:
			out = append(out, level("width", "nearly as wide", 0.08, 0.2, from, to))
		default:
			out = append(out, level("width", "of another width", 0.1, 0.55, from, to))
		}
	}
	a, pa := s.Implies.Best()
	c, pc := b.Implies.Best()
	if a != model.UnknownPattern && c != model.UnknownPattern && pa >= 0.5 && pc >= 0.5 {
		u := (sh.pattern[a] + 0.5) / sh.n
		if a == c {
			out = append(out, level("pattern", "the same pattern", 0.88, u, vocab.Label("pattern", string(c)), vocab.Label("pattern", string(a))))
		} else {
			out = append(out, level("pattern", "another pattern", 0.12, 1-u, vocab.Label("pattern", string(c)), vocab.Label("pattern", string(a))))
		}
	}
	return out
}

func inches(w model.Inches) string { return strconv.FormatFloat(float64(w), 'f', -1, 64) + " in" }

// became says what became of a stone, with sentences.
func became(b, s *model.Subject) (Kind, []string) {
	var replaced, worn, moved, also []string
	x, y := b.Stone.Marker, s.Stone.Marker
	a, pa := b.Implies.Best()
	c, pc := s.Implies.Best()
	material := x.Material != "" && y.Material != "" && kin(x.Material) != kin(y.Material)
	width := x.Width > 0 && y.Width > 0 && math.Abs(float64(x.Width-y.Width)) > 2
	top := x.Top != "" && y.Top != "" && tops(x.Top) != tops(y.Top)
	pattern := a != c && a != model.UnknownPattern && c != model.UnknownPattern && pa >= 0.6 && pc >= 0.6 && (a == model.NotGovernment || c == model.NotGovernment || material || width || top)
	signs := 0
	for _, v := range []struct {
		is   bool
		text string
	}{
		{material, fmt.Sprintf("%s then, %s now", x.Material, y.Material)},
		{width, fmt.Sprintf("%s wide then, %s now", inches(x.Width), inches(y.Width))},
		{top, fmt.Sprintf("top %s then, %s now", x.Top, y.Top)},
		{pattern, fmt.Sprintf("looked like %q then, like %q now", vocab.Label("pattern", string(a)), vocab.Label("pattern", string(c)))},
	} {
		if v.is {
			signs++
			replaced = append(replaced, v.text)
		}
	}
	if signs < 2 { // one alone is as likely an error of either recorder
		also, replaced = replaced, nil
	}
	if was, is := lost(x.Inscription), lost(y.Inscription); is > was {
		worn = append(worn, fmt.Sprintf("%d letters lost or unclear then, %d now", was, is))
	}
	for _, word := range decay {
		if has(y.Condition, word) && !has(x.Condition, word) {
			worn = append(worn, fmt.Sprintf("condition now %q, then %q", y.Condition, orSound(x.Condition)))
			break
		}
	}
	if e := standing(s.Stone, b.Stone, 1000); len(e) > 0 && (e[0].Level == "elsewhere in the ground" || e[0].Level == "another row" || e[0].Level == "in the same part of the ground") {
		moved = append(moved, fmt.Sprintf("stands elsewhere: %s (%s)", e[0].Level, strings.Trim(e[0].Stone+" for "+e[0].Record, " for")))
	}
	if n, m := words(x.Inscription), words(y.Inscription); len(worn) == 0 && n != m && n != "" && m != "" {
		also = append(also, "the words were taken down otherwise")
	}
	switch {
	case len(replaced) > 0:
		return Replaced, append(append(append(replaced, worn...), moved...), also...)
	case len(worn) > 0:
		return Worn, append(append(worn, moved...), also...)
	case len(moved) > 0:
		return Moved, append(moved, also...)
	}
	return Same, also
}

// decay are the words for a stone's condition that tell of decay: common practice, no source.
var decay = []string{"broken", "snapped", "sunk", "sunken", "illegible", "unreadable", "worn", "eroded", "sugared", "fallen", "cracked", "leaning", "spalled", "weathered"}

func has(condition, word string) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(condition), func(r rune) bool { return r < 'a' || r > 'z' }) {
		if w == word {
			return true
		}
	}
	return false
}

func orSound(s string) string {
	if s == "" {
		return "nothing said"
	}
	return s
}

// kin is the material as far as recorders agree on it: white marble is marble to some.
func kin(material string) string { return strings.TrimPrefix(material, "white ") }

// tops is the top as far as recorders agree on it.
func tops(top string) string {
	switch top {
	case "slightly rounded":
		return "rounded"
	case "square":
		return "flat"
	}
	return top
}

// lost counts the letters of an inscription that are lost or unclear by their Leiden marks; a gap of unknown length counts as four.
func lost(inscription string) int {
	n := strings.Count(inscription, "\u0323") + 4*strings.Count(inscription, "[---]")
	for in := inscription; ; {
		i := strings.IndexByte(in, '[')
		if i < 0 {
			return n
		}
		in = in[i+1:]
		j := strings.IndexByte(in, ']')
		if j < 0 {
			return n
		}
		n += strings.Count(in[:j], ".")
		if strings.Trim(in[:j], ".-") != "" { // letters that the recorder restored
			n += len([]rune(in[:j]))
		}
		in = in[j:]
	}
}

// words are the letters and figures of an inscription.
func words(s string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(s), func(r rune) bool { return !(r >= 'a' && r <= 'z' || r >= '0' && r <= '9') }), " ")
}
