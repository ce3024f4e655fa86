package main

import (
	"fmt"
	"io"
	"strings"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
	"musterstone/vocab"
)

// printReading prints one stone for a person.
func printReading(w io.Writer, s *model.Subject) {
	r := s.Reading()
	rows := [][]string{{string(s.Stone.ID), say.Reading(r)}}
	if words := tokenWords(s.Stone.Marker.Inscription, r.Tokens, 0); words != "" {
		rows = append(rows, []string{"", words})
	}
	for i, o := range r.People {
		if i > 0 {
			line := "also names " + describe(o)
			if o.Person.Relation != "" {
				line += " (" + o.Person.Relation + ")"
			}
			rows = append(rows, []string{"", line})
			if words := tokenWords(s.Stone.Marker.Inscription, r.Tokens, i); words != "" {
				rows = append(rows, []string{"", "  " + words})
			}
		}
	}
	if len(s.Readings) > 1 && len(s.Readings[1].People) > 0 && describe(s.Readings[1].Claim()) != describe(r.Claim()) {
		rows = append(rows, []string{"", fmt.Sprintf("or, %s: %s", percent(s.Readings[1].Probability), describe(s.Readings[1].Claim()))})
	}
	if s.Stone.Register == nil {
		rows = append(rows, []string{"", designWords(s.Implies)})
	}
	for _, x := range s.Implies.Contradictions {
		rows = append(rows, []string{"", "does not fit: " + x.Text})
	}
	for _, n := range r.Notes {
		rows = append(rows, []string{"", "note: " + n})
	}
	if len(r.Unread) > 0 {
		rows = append(rows, []string{"", "not understood: " + strings.Join(r.Unread, " | ")})
	}
	if s.Implies.Next != "" && s.Stone.Register == nil {
		rows = append(rows, []string{"", "to tell more: " + s.Implies.Next})
	}
	columns(w, "", rows)
}

// readingWords says what a reading makes of the whole stone.
func readingWords(r model.Reading) string {
	if len(r.People) < 2 {
		return say.Reading(r)
	}
	var people []string
	for _, p := range r.People {
		people = append(people, describe(p))
	}
	return strings.Join(people, " | ")
}

// tokenWords says which words of an inscription gave what of a person: "CORPL rank · JNO given · HOLDEN surname".
func tokenWords(text string, tokens []model.Token, person int) string {
	var parts []string
	for _, t := range tokens {
		if t.Person != person {
			continue
		}
		switch t.Field {
		case "", "unread", "label", "link": // nothing, told elsewhere, or words that only hold the others together
			continue
		case "commonplace":
			t.Field = "left out"
		}
		word := strings.Trim(oneLine(text[t.From:t.To]), " .,")
		parts = append(parts, word+" "+strings.ReplaceAll(t.Field, "-", " "))
	}
	return strings.Join(parts, " · ")
}

// designWords says which patterns a stone may be and what they imply.
func designWords(m model.Implication) string {
	var patterns []string
	for i, p := range m.Patterns {
		if i == 2 || i > 0 && p.Probability < 0.1 {
			break
		}
		patterns = append(patterns, fmt.Sprintf("%s (%s)", vocab.Label("pattern", string(p.Code)), percent(p.Probability)))
	}
	text := "design: " + strings.Join(patterns, " or ")
	var services []string
	for i, v := range m.Services {
		if i == 2 || v.Probability < 0.1 {
			break
		}
		services = append(services, fmt.Sprintf("%s (%s)", serviceWords(v.Code), percent(v.Probability)))
	}
	if len(services) > 0 {
		text += "; implies " + strings.Join(services, " or ")
	}
	switch {
	case m.From != 0 && m.To != 0:
		text += fmt.Sprintf("; made %d to %d", m.From, m.To)
	case m.From != 0:
		text += fmt.Sprintf("; made in or after %d", m.From)
	case m.To != 0:
		text += fmt.Sprintf("; made in or before %d", m.To)
	}
	return text
}
