package resurvey

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/marker"
	"musterstone/vocab/name"
	"musterstone/vocab/words"
)

// became says what became of a stone, with sentences.
func became(b, s *model.Subject) (Kind, []string) {
	var replaced, worn, moved, also []string
	was, is := b.Stone.Marker, s.Stone.Marker
	a, pa := b.Implies.Best()
	c, pc := s.Implies.Best()
	material := was.Material != "" && is.Material != "" && alike("material", was.Material) != alike("material", is.Material)
	width := was.Width > 0 && is.Width > 0 && math.Abs(float64(was.Width-is.Width)) > 2 // inches: more than a tape's error
	top := was.Top != "" && is.Top != "" && alike("top", was.Top) != alike("top", is.Top)
	lettering := was.Lettering != "" && is.Lettering != "" && alike("lettering", was.Lettering) != alike("lettering", is.Lettering)
	facts := cutAnew(b, s)
	pattern := a != c && a != model.UnknownPattern && c != model.UnknownPattern && pa >= 0.6 && pc >= 0.6 && (a == model.NotGovernment || c == model.NotGovernment || material || width || top)
	for _, v := range []struct {
		differs bool
		text    string
	}{
		{material, fmt.Sprintf("%s then, %s now", was.Material, is.Material)},
		{width, fmt.Sprintf("%s wide then, %s now", inches(was.Width), inches(is.Width))},
		{top, fmt.Sprintf("top %s then, %s now", was.Top, is.Top)},
		{lettering, fmt.Sprintf("%s letters then, %s now", was.Lettering, is.Lettering)},
		{facts != "", facts},
		{pattern, fmt.Sprintf("looked like %q then, like %q now", vocab.Label("pattern", string(a)), vocab.Label("pattern", string(c)))},
	} {
		if v.differs {
			replaced = append(replaced, v.text)
		}
	}
	if len(replaced) < 2 { // one alone is as likely an error of either recorder
		also, replaced = replaced, nil
	}
	if then, now := lost(was.Inscription), lost(is.Inscription); now > then {
		worn = append(worn, fmt.Sprintf("%d letters lost or unclear then, %d now", then, now))
	}
	if decayed(was.Condition, is.Condition) {
		worn = append(worn, fmt.Sprintf("condition now %q, then %q", is.Condition, orNothing(was.Condition)))
	}
	if level := standing(b.Stone.Place, s.Stone.Place); level != "" && weightOf("place", level).moved {
		from, to := where(b.Stone.Place, s.Stone.Place)
		if to != "" {
			from = to + " for " + from
		}
		moved = append(moved, fmt.Sprintf("stands elsewhere: %s (%s)", level, from))
	}
	if then, now := wording(was.Inscription), wording(is.Inscription); len(worn) == 0 && facts == "" && then != now && then != "" && now != "" {
		also = append(also, "the words were taken down otherwise")
	}
	kind := Same
	switch {
	case len(replaced) > 0:
		kind = Replaced
	case len(worn) > 0:
		kind = Worn
	case len(moved) > 0:
		kind = Moved
	}
	return kind, slices.Concat(replaced, worn, moved, also)
}

// cutAnew says what a stone's words give now and did not, and what they give no more, where nothing of them was or is lost: a recorder leaves out a line, or takes one down that another left out, and both at once
// are another cutting. "" where it is not both.
func cutAnew(b, s *model.Subject) string {
	if lost(b.Stone.Marker.Inscription) > 0 || lost(s.Stone.Marker.Inscription) > 0 {
		return ""
	}
	then, now := b.Reading().Claim(), s.Reading().Claim()
	var more, less []string
	for _, f := range []struct {
		name      string
		was, does bool
	}{
		{"a rank", then.Service.Rank != "", now.Service.Rank != ""},
		{"a company", then.Service.Unit.Company != "", now.Service.Unit.Company != ""},
		{"a regiment", then.Service.Unit.Number != 0, now.Service.Unit.Number != 0},
		{"a birth", !then.Person.Born.IsZero(), !now.Person.Born.IsZero()},
		{"a death", !then.Person.Died.IsZero(), !now.Person.Died.IsZero()},
		{"an age", !then.Person.Age.IsZero(), !now.Person.Age.IsZero()},
		{"a war", len(then.Service.Conflicts) > 0, len(now.Service.Conflicts) > 0},
	} {
		switch {
		case f.does && !f.was:
			more = append(more, f.name)
		case f.was && !f.does:
			less = append(less, f.name)
		}
	}
	if len(more) == 0 || len(less) == 0 {
		return ""
	}
	return fmt.Sprintf("the words give %s now, and no more %s", strings.Join(more, " and "), strings.Join(less, " or "))
}

// decayed reports whether the later condition tells of a fault that the earlier one does not.
func decayed(was, is string) bool {
	before := marker.FaultsIn(was)
	return slices.ContainsFunc(marker.FaultsIn(is), func(f marker.Fault) bool { return !slices.Contains(before, f) })
}

func orNothing(s string) string {
	if s == "" {
		return "nothing said"
	}
	return s
}

var alikes = sync.OnceValue(func() map[[2]string]string {
	m := map[[2]string]string{}
	for _, r := range vocab.Rows("observations-alike") {
		m[[2]string{r.Get("feature"), r.Get("value")}] = r.Get("alike")
	}
	return m
})

// alike is what was observed as far as recorders agree on it: of the values that they take for each other, one.
func alike(feature, value string) string {
	if other, ok := alikes()[[2]string{feature, value}]; ok {
		return other
	}
	return value
}

// lost counts the letters of an inscription that are lost or unclear, or that the recorder restored, by their Leiden marks; a gap of unknown length counts as four.
func lost(inscription string) int {
	n := 4 * strings.Count(inscription, "[---]")
	for _, r := range inscription {
		if name.Unclear(string(r)) {
			n++
		}
	}
	for {
		_, rest, ok := strings.Cut(inscription, "[")
		gap, rest, closed := strings.Cut(rest, "]")
		if !ok || !closed {
			return n
		}
		for _, r := range gap {
			if r == '.' || unicode.IsLetter(r) {
				n++
			}
		}
		inscription = rest
	}
}

// wording is what an inscription says, whatever its letter case, accents, points and line breaks.
func wording(inscription string) string {
	t := words.Split(inscription)
	keys := make([]string, len(t.Words))
	for i := range keys {
		keys[i] = t.Key(i)
	}
	return strings.Join(keys, " ")
}
