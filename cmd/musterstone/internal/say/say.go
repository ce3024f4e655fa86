// Package say puts what the program knows in words for people: claims, dates, evidence.
package say

import (
	"fmt"
	"sort"
	"strings"
	"time"

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
	if b := c.Person.Born; !b.IsZero() {
		parts = append(parts, "born "+Date(b))
	}
	if d := c.Person.Died; !d.IsZero() {
		parts = append(parts, "died "+Date(d))
	}
	return strings.Join(parts, ", ")
}

// Date is a date in words: "9 August 1864", "1841", "between 5 March 1841 and 4 March 1842", "about 1840"; as written where it is none of these.
func Date(d date.Date) string {
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

func Capital(s string) string {
	if s == "" {
		return ""
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// Reasons puts evidence in words, what speaks for the match and what against it, strongest first.
func Reasons(evidence []model.Evidence) (pro, contra []string) {
	sorted := append([]model.Evidence(nil), evidence...)
	sort.SliceStable(sorted, func(i, j int) bool {
		return max(sorted[i].Bits, -sorted[i].Bits) > max(sorted[j].Bits, -sorted[j].Bits)
	})
	for _, e := range sorted {
		text := Evidence(e)
		switch {
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
	switch {
	case e.Why != "" && (e.Field == "design" || e.Field == "decisions"):
		text = e.Why
	case e.Stone != "" && e.Record != "" && !strings.EqualFold(e.Stone, e.Record) && e.Level != "none carved":
		text += fmt.Sprintf(", %q and %q", e.Stone, e.Record)
	}
	return fmt.Sprintf("%s (%+.1f)", text, e.Bits)
}

// Level puts a level in words.
func Level(field, level string) string {
	for _, r := range vocab.Rows("weights") {
		if r.Get("field") == field && r.Get("level") == level {
			return r.Get("words")
		}
	}
	return level
}

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

// Headline is what a stone says, in one line.
func Headline(s *model.Subject) string {
	r := s.Reading()
	switch {
	case r.Unknown:
		return strings.TrimSpace("unknown dead " + r.GraveNumber)
	case len(r.People) == 0:
		return "names nobody"
	}
	return Claim(r.Claim())
}
