package desk

import (
	"cmp"
	"fmt"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
	"musterstone/vocab"
)

// line is a line of an inscription, word by word.
type line struct{ Words []word }

// word is a stretch of a line. Group numbers what gave one field; 0 for none.
type word struct {
	Text, Field, Says string
	Group             int
}

// fieldRow is a field and the words that gave it.
type fieldRow struct {
	Group              int
	Name, Value, Words string
}

// maxGroups is how many fields the stylesheet can mark apart.
const maxGroups = 32

// inscriptionWords parts an inscription into lines and words, each with the field that it gave.
func inscriptionWords(s *model.Stone, r model.Reading) ([]line, []fieldRow) {
	if s.Register != nil || s.Marker.Inscription == "" {
		return nil, nil
	}
	text := s.Marker.Inscription
	type key struct {
		person int
		field  string
	}
	group := map[key]int{}
	lines := []line{{}}
	var rows []fieldRow
	var whole []bool // the row's value is that of the claim
	put := func(t string, w word) {
		for n, part := range strings.Split(t, "\n") {
			if n > 0 {
				lines = append(lines, line{})
			}
			if part = strings.TrimRight(part, "\r"); part != "" {
				w.Text = part
				l := &lines[len(lines)-1]
				l.Words = append(l.Words, w)
			}
		}
	}
	at := 0
	for _, t := range r.Tokens {
		if t.From < at || t.To > len(text) || t.From > t.To { // tokens tile the text; what does not is shown as it stands
			break
		}
		if t.From > at {
			put(text[at:t.From], word{})
		}
		piece := text[t.From:t.To]
		at = t.To
		switch t.Field {
		case "", "commonplace", "label":
			put(piece, word{})
			continue
		case "unread":
			put(piece, word{Field: "unread", Says: "not understood"})
			continue
		}
		k := key{t.Person, t.Field}
		g, ok := group[k]
		if !ok {
			g = len(group) + 1
			group[k] = g
			name := say.Field(t.Field)
			if t.Person > 0 {
				name = fmt.Sprintf("%s of person %d", name, t.Person+1)
			}
			row := fieldRow{Group: g, Name: name}
			if t.Person < len(r.People) {
				row.Value = understood(r.People[t.Person], t.Field)
			}
			rows, whole = append(rows, row), append(whole, row.Value != "")
		}
		row := &rows[g-1]
		bare := strings.Trim(strings.Join(strings.Fields(piece), " "), " .,;")
		if bare != "" {
			row.Words = strings.TrimSpace(row.Words + " " + bare)
		}
		if t.Value != "" && !whole[g-1] && !strings.Contains(row.Value, t.Value) {
			row.Value = strings.TrimSpace(row.Value + " " + t.Value)
		}
		says := row.Name
		if row.Value != "" && !strings.EqualFold(row.Value, bare) {
			says += ": " + row.Value
		}
		put(piece, word{Field: t.Field, Says: says, Group: min(g, maxGroups)})
	}
	if at < len(text) {
		put(text[at:], word{})
	}
	return lines, rows
}

// label is a code in words; "" where there is none.
func label(kind, code string) string {
	if code == "" {
		return ""
	}
	return vocab.Label(kind, code)
}

// understood is what a claim has of a field, in words for a person; "" for a field that stands only in the words.
func understood(c model.Claim, field string) string {
	n, sv := c.Person.Name, c.Service
	switch field {
	case "surname":
		return n.Surname
	case "given":
		return strings.Join(append([]string{n.Given}, n.GivenOr...), " or ")
	case "middle":
		return n.Middle
	case "suffix":
		return n.Suffix
	case "rank":
		return string(sv.Rank)
	case "company":
		return sv.Unit.Company
	case "regiment":
		if sv.Unit.Number > 0 {
			return fmt.Sprint(sv.Unit.Number)
		}
	case "state":
		return label("state", string(sv.Unit.State))
	case "home":
		return label("state", string(cmp.Or(c.Home, sv.Unit.State)))
	case "body":
		return label("body", string(sv.Unit.Body))
	case "arm":
		return label("arm", string(sv.Unit.Arm))
	case "branch":
		return label("branch", string(sv.Branch))
	case "side":
		return label("side", string(sv.Side))
	case "conflict":
		var wars []string
		for _, c := range sv.Conflicts {
			wars = append(wars, label("conflict", string(c)))
		}
		return strings.Join(wars, ", ")
	case "born":
		return say.Date(c.Person.Born)
	case "died":
		return say.Date(c.Person.Died)
	case "relation":
		return c.Person.Relation
	}
	return ""
}
