package main

import (
	"fmt"
	"strings"
	"time"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
	"musterstone/vocab/unit"
)

// describe puts a claim in one line: "Corporal John T Holden, Company F, 47th Illinois Infantry, born about 1840, died 9 August 1864".
func describe(c model.Claim) string {
	var parts []string
	who := strings.TrimSpace(capital(string(c.Service.Rank)) + " " + c.Person.Name.String())
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
	if b := c.Person.Born; !b.IsZero() {
		parts = append(parts, "born "+dateWords(b))
	}
	if d := c.Person.Died; !d.IsZero() {
		parts = append(parts, "died "+dateWords(d))
	}
	return strings.Join(parts, ", ")
}

// dateWords is a date in words: "9 August 1864", "1841", "between 5 March 1841 and 4 March 1842", "about 1840"; as written where it is none of these.
func dateWords(d date.Date) string {
	about := ""
	if d.Approximate {
		about = "about "
	}
	wholeYear := d.From.Year == d.To.Year && d.From.Month == 1 && d.From.Day == 1 && d.To.Month == 12 && d.To.Day == 31
	switch {
	case d.From.IsZero() || d.To.IsZero():
		if d.Written != "" {
			return d.Written
		}
		return d.String()
	case d.From == d.To:
		return about + dayWords(d.From)
	case wholeYear:
		return about + fmt.Sprint(d.From.Year)
	}
	return about + "between " + dayWords(d.From) + " and " + dayWords(d.To)
}

func dayWords(d date.Day) string {
	return fmt.Sprintf("%d %s %d", d.Day, time.Month(d.Month), d.Year)
}

func capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// reasons puts evidence in words, what speaks for the match and what against it, strongest first.
func reasons(evidence []model.Evidence) (pro, contra []string) {
	sorted := append([]model.Evidence(nil), evidence...)
	sortByStrength(sorted)
	for _, e := range sorted {
		text := evidenceWords(e)
		switch {
		case e.Bits >= 0.05:
			pro = append(pro, text)
		case e.Bits <= -0.05:
			contra = append(contra, text)
		}
	}
	return pro, contra
}

// evidenceWords is one piece of evidence in words: `surnames nearly the same, "Plunket" and "Plunkett" (+8.2)`.
func evidenceWords(e model.Evidence) string {
	text := levelWords(e.Field, e.Level)
	switch {
	case e.Why != "" && (e.Field == "design" || e.Field == "decisions"):
		text = e.Why
	case e.Stone != "" && e.Record != "" && !strings.EqualFold(e.Stone, e.Record) && e.Level != "none carved":
		text += fmt.Sprintf(", %q and %q", e.Stone, e.Record)
	}
	return fmt.Sprintf("%s (%+.1f)", text, e.Bits)
}

// levelWords puts a level in words.
func levelWords(field, level string) string {
	for _, r := range vocab.Rows("weights") {
		if r.Get("field") == field && r.Get("level") == level {
			return r.Get("words")
		}
	}
	return level
}
