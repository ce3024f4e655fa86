package main

import (
	"strings"
	"time"

	"musterstone/cmd/musterstone/internal/say"
	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// describe puts a claim in one line: "Corporal John T Holden, Company F, 47th Illinois Infantry, born about 1840, died 9 August 1864".
func describe(c model.Claim) string { return say.Claim(c) }

// headline is what a stone says, in one line.
func headline(s *model.Subject) string { return say.Headline(s) }

// reasons puts evidence in words, what speaks for the match and what against it, strongest first.
func reasons(evidence []model.Evidence) (pro, contra []string) { return say.Reasons(evidence) }

// serviceWords puts a code such as "civil-war/union" in words.
func serviceWords(code string) string { return say.Service(code) }

// conflictWords are the words for a conflict; "" for none.
func conflictWords(c model.ConflictCode) string {
	if c == "" {
		return ""
	}
	return vocab.Label("conflict", string(c))
}

func unitWords(u model.Unit) string { return unit.Format(u) }

// decidedOn names the stone, and the record, that a decision is on.
func decidedOn(d model.Decision) string {
	on := "stone " + string(d.Stone)
	if d.Record != "" {
		on += ", record " + string(d.Record)
	}
	return on
}

// oneLine puts the lines of a text, an inscription mostly, into one.
func oneLine(s string) string {
	return strings.Join(strings.FieldsFunc(s, func(r rune) bool { return r == '\n' || r == '\r' }), " / ")
}

// dayWords is a moment's day in words.
func dayWords(t time.Time) string { return say.Date(date.On(t.Year(), int(t.Month()), t.Day())) }

// percent is a probability in whole percent, with "over 99%" and "under 1%" at the ends: no link is certain.
func percent(p float64) string { return vocab.Percent(p) }

// isAre is the verb for so many.
func isAre(n int) string {
	if n == 1 {
		return "is"
	}
	return "are"
}

// count is "1 stone" or "2 stones".
func count(n int, one, many string) string { return say.Count(n, one, many) }
