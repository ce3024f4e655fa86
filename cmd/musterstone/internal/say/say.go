// Package say puts what the program knows in words for people: claims, dates, evidence.
package say

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// Claim puts a claim in one line: "Corporal John T Holden, Company F, 47th Illinois Infantry, born about 1840, died 9 August 1864".
func Claim(c model.Claim) string {
	var parts []string
	who := strings.TrimSpace(Capital(string(c.Service.Rank)) + " " + c.Person.Name.String())
	if who != "" {
		parts = append(parts, who)
	}
	if !c.Service.Unit.IsZero() {
		parts = append(parts, unit.Format(c.Service.Unit))
	} else if c.Service.Branch != "" {
		parts = append(parts, vocab.Label("branch", string(c.Service.Branch)))
	}
	for _, w := range c.Service.Conflicts {
		parts = append(parts, vocab.Label("conflict", string(w)))
	}
	if born := Date(c.Person.Born); born != "" {
		parts = append(parts, "born "+born)
	}
	if died := Date(c.Person.Died); died != "" {
		parts = append(parts, "died "+died)
	}
	return strings.Join(parts, ", ")
}

// Date is a date in words: see [date.Date.Words].
func Date(d date.Date) string { return d.Words() }

// Capital is a text with its first letter a capital.
func Capital(s string) string {
	first, size := utf8.DecodeRuneInString(s)
	if size == 0 {
		return s
	}
	return string(unicode.ToUpper(first)) + s[size:]
}

// Reasons puts evidence in words, what speaks for the match and what against it, strongest first.
func Reasons(evidence []model.Evidence) (pro, contra []string) {
	byStrength := func(a, b model.Evidence) int { return cmp.Compare(math.Abs(b.Bits), math.Abs(a.Bits)) }
	for _, e := range slices.SortedStableFunc(slices.Values(evidence), byStrength) {
		text := Evidence(e)
		switch { // what would be told as +0.0 speaks neither way
		case e.Bits >= 0.05:
			pro = append(pro, text)
		case e.Bits <= -0.05:
			contra = append(contra, text)
		}
	}
	return pro, contra
}

// Evidence is one piece of evidence in words: `surnames nearly the same, "Plunket" and "Plunkett" (+8.2)`.
func Evidence(e model.Evidence) string {
	text := Level(e.Field, e.Level)
	switch why := Why(e); {
	case why != "":
		text = why
	case e.Stone != "" && e.Record != "" && !strings.EqualFold(e.Stone, e.Record) && e.Level != "none carved": // of what is not carved there is nothing to quote
		text += fmt.Sprintf(", %q and %q", e.Stone, e.Record)
	}
	return fmt.Sprintf("%s (%+.1f)", text, e.Bits)
}

// Why is the sentence of evidence whose values do not speak for themselves: that of the design, of decisions, and of another name that is told. "" for all other.
func Why(e model.Evidence) string {
	if e.Field == "design" || e.Field == "decisions" || e.Level == "by other name" {
		return e.Why
	}
	return ""
}

// Level puts a level in words.
func Level(field, level string) string {
	if words, ok := levels()[[2]string{field, level}]; ok {
		return words
	}
	return level
}

// levels has the words of the levels of each field.
var levels = sync.OnceValue(func() map[[2]string]string {
	m := map[[2]string]string{}
	for _, r := range vocab.Rows("weights") {
		m[[2]string{r.Get("field"), r.Get("level")}] = r.Get("words")
	}
	return m
})

// Count is "1 stone" or "2 stones".
func Count(n int, one, many string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}

// Service puts a code such as "civil-war/union" in words.
func Service(code string) string {
	if code == "none" {
		return "no service"
	}
	conflict, side, _ := strings.Cut(code, "/")
	text := vocab.Label("conflict", conflict)
	if side != "" {
		text += ", " + vocab.Label("side", side)
	}
	return text
}

// Place is where a stone stands, in a line; "" where nothing of it is known.
func Place(p model.Place) string {
	var parts []string
	for _, x := range [][2]string{{"", p.Cemetery}, {"section ", p.Section}, {"row ", p.Row}, {"plot ", p.Plot}} {
		if x[1] != "" {
			parts = append(parts, x[0]+x[1])
		}
	}
	return strings.Join(parts, ", ")
}

// mostTitled is how many of those whom a stone names stand in its headline.
const mostTitled = 3

// Headline is whom a stone is of, in one line: the likeliest reading's first person, and the others who are not said to be somebody's wife or child, since it may be the stone of any of them.
func Headline(s *model.Subject) string {
	r := s.Reading()
	text := Reading(r)
	if r.Unknown {
		return text
	}
	named, more := 1, 0
	for i, p := range r.People {
		words := Claim(p)
		switch {
		case i == 0 || p.Person.Relation != "" || words == "":
		case named == mostTitled:
			more++
		default:
			named++
			text += "; and " + words
		}
	}
	if more > 0 {
		text += "; and " + Count(more, "other", "others")
	}
	return text
}

// Reading is whom a reading takes the stone to be of, in one line.
func Reading(r model.Reading) string {
	switch {
	case r.Unknown && r.GraveNumber != "":
		return "unknown dead, grave " + r.GraveNumber
	case r.Unknown:
		return "unknown dead"
	case len(r.People) == 0:
		return "names nobody"
	}
	return Claim(r.Claim())
}

// Field is what a field of a reading, or of evidence, is called for people.
func Field(f string) string { return vocab.Label("field", f) }
