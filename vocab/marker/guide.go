package marker

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
)

// Entry is one line of the field guide: what is seen, and what it points to.
type Entry struct {
	See, Means string
	// Patterns are the patterns meant, where the line points to patterns.
	Patterns []model.PatternCode
	// Source holds the keys of the sources behind it, parted by blanks.
	Source string
}

// Step is one step of the field guide, in the order in which a person looks.
type Step struct {
	Title   string
	Lead    string
	Entries []Entry
}

// Steps are the field guide, worked out from the tables: top, device, width and thickness, wording, and signs that the government did not furnish.
func Steps() []Step {
	return []Step{topStep(), deviceStep(), widthStep(), wordingStep(), emblemStep(), signStep()}
}

// merged adds the keys of b that a lacks.
func merged(a, b string) string {
	keys := strings.Fields(a)
	for _, k := range strings.Fields(b) {
		if !slices.Contains(keys, k) {
			keys = append(keys, k)
		}
	}
	return strings.Join(keys, " ")
}

// lines are the lines that guide-lines.csv has for a step. One from a look points to the patterns that mostly have it, and has their sources; one from a pattern is
// that pattern's inscription; one from the dating clues stands for all of them. The lines of "please" are cautions.
func lines(step string) []Entry {
	var out []Entry
	for _, r := range vocab.Rows("guide-lines") {
		if r.Get("step") != step {
			continue
		}
		switch from := r.Get("from"); from {
		case "pattern":
			p, ok := Find(model.PatternCode(r.Get("value")))
			if !ok {
				panic(r.Where() + ": no pattern " + r.Get("value"))
			}
			out = append(out, Entry{See: p.Short, Means: p.Inscription, Patterns: []model.PatternCode{p.Code}, Source: p.Source})
		case "dating-clues":
			out = append(out, clueLines()...)
		case "":
			e := Entry{See: r.Get("see"), Means: r.Get("means"), Source: r.Get("source")}
			for _, code := range r.List("patterns") {
				e.Patterns = append(e.Patterns, model.PatternCode(code))
			}
			out = append(out, e)
		default:
			out = append(out, pointing(r.Get("see"), r.Get("means"), from, r.Get("value"), r.Float("least")))
		}
	}
	return out
}

// pointing is a line that points to the government patterns of which at least the share has the look.
func pointing(see, means, feature, value string, share float64) Entry {
	e := Entry{See: see, Means: means}
	for _, r := range vocab.Rows("pattern-looks") {
		if r.Get("feature") == feature && r.Get("value") == value && r.Float("share") >= share && r.Get("pattern") != string(model.NotGovernment) {
			e.Patterns = append(e.Patterns, model.PatternCode(r.Get("pattern")))
			e.Source = merged(e.Source, r.Get("source"))
		}
	}
	return e
}

// clueLines are the wordings that bound when a stone can have been cut.
func clueLines() []Entry {
	var out []Entry
	for _, r := range vocab.Rows("dating-clues") {
		if r.Get("text") == "" || r.Get("bounds") != "stone" {
			continue
		}
		see, means := r.List("words")[0], r.Get("text")
		for _, verb := range []string{" stands ", " was ", " cannot "} { // the sentence that begins with the wording goes on behind it
			if strings.HasPrefix(means, see+verb) {
				means = strings.TrimPrefix(means, see+" ")
			}
		}
		out = append(out, Entry{See: see, Means: means, Source: r.Get("source")})
	}
	return out
}

func topStep() Step {
	return Step{Title: "First the top", Lead: "Stand before it and look at the outline against the ground behind.", Entries: lines("top")}
}

func deviceStep() Step {
	return Step{Title: "Then the device", Lead: "Look for what is cut above or around the words.", Entries: lines("device")}
}

func widthStep() Step {
	s := Step{Title: "Then the width, and the thickness", Lead: "Measure across the face, to the half inch, half way up; then front to back. " +
		"Do not dig for the length: more than a third of an upright stone is below the ground."}
	at, widths := map[string]int{}, map[string]Size{}
	for _, p := range patternTable() {
		var best Size
		for _, z := range p.Sizes {
			if z.Trusted && z.Width > 0 && z.Share > best.Share {
				best = z
			}
		}
		if best.Width == 0 || len(p.Measured) == 0 {
			continue
		}
		see := measureText(best.Width) + " wide"
		if best.Thickness > 0 && slices.Contains(p.Measured, "thickness") {
			see += ", " + measureText(best.Thickness) + " thick"
		}
		if best.Length > 0 && slices.Contains(p.Measured, "length") {
			see += ", " + measureText(best.Length) + " the other way"
		}
		name := strings.TrimPrefix(p.Short, "the ")
		if i, ok := at[see]; ok {
			s.Entries[i].Means += "; " + name
			s.Entries[i].Patterns = append(s.Entries[i].Patterns, p.Code)
			s.Entries[i].Source = merged(s.Entries[i].Source, best.Source)
			continue
		}
		at[see] = len(s.Entries)
		widths[see] = best
		s.Entries = append(s.Entries, Entry{See: see, Means: name, Patterns: []model.PatternCode{p.Code}, Source: best.Source})
	}
	slices.SortStableFunc(s.Entries, func(a, b Entry) int {
		x, y := widths[a.See], widths[b.See]
		return cmp.Or(cmp.Compare(x.Width, y.Width), cmp.Compare(x.Thickness, y.Thickness))
	})
	return s
}

func measureText(x model.Inches) string { return inchText(float64(x)) }

func wordingStep() Step {
	return Step{Title: "Then the wording", Lead: "Write the lines as they stand. What they name bounds when the stone can have been cut.", Entries: lines("wording")}
}

func emblemStep() Step {
	s := Step{Title: "Emblems of belief", Lead: "An emblem bounds the stone, or its re-cutting, never the death."}
	list := emblemTable().list
	for i := 0; i < len(list); {
		j := i
		for j < len(list) && list[j].Why == list[i].Why {
			j++
		}
		see := "no. " + list[i].Number
		if j-i > 1 {
			see = "nos. " + list[i].Number + " to " + list[j-1].Number
		} else {
			see += ", " + list[i].Name
		}
		s.Entries = append(s.Entries, Entry{See: see, Means: fmt.Sprintf("not before %d: %s", list[i].From, list[i].Why), Source: list[i].Source})
		i = j
	}
	return s
}

func signStep() Step {
	s := Step{Title: "Signs that the government did not furnish", Lead: "A holder may have been moved: it is a lead, never a finding. Do not move it."}
	for _, g := range signTable().list {
		means := "no sign of service"
		if g.Service != "none" {
			means = g.Strength + " sign of service"
			if g.Service != "any" {
				for _, c := range compiled().classes {
					if c.code == g.Service {
						means = g.Strength + " sign of " + c.label
					}
				}
			}
		}
		if g.Caution != "" {
			means += "; " + g.Caution
		}
		s.Entries = append(s.Entries, Entry{See: g.Text, Means: means, Source: g.Source})
	}
	return s
}

// Cautions are what the guide asks of those who use it.
func Cautions() []string {
	var out []string
	for _, e := range lines("please") {
		out = append(out, e.Means)
	}
	return out
}

// Guide is the field guide as text, from the tables, in the order in which a person looks.
func Guide() string {
	var b strings.Builder
	keys := ""
	cite := func(source string) string {
		keys = merged(keys, source)
		return " (" + strings.Join(strings.Fields(source), ", ") + ")"
	}
	b.WriteString("HOW TO TELL GOVERNMENT MARKERS APART\n")
	for i, s := range Steps() {
		fmt.Fprintf(&b, "\n%d. %s\n", i+1, s.Title)
		fill(&b, s.Lead, "   ", "   ")
		for _, e := range s.Entries {
			text := e.See + ": " + e.Means
			if names := patternNames(e); names != "" {
				text += " [" + names + "]"
			}
			if e.Source != "" {
				text += cite(e.Source)
			}
			fill(&b, text, "   - ", "     ")
		}
	}
	b.WriteString("\nWhere sources disagree\n")
	for _, r := range vocab.Rows("pattern-disagreements") {
		fill(&b, r.Get("point")+": "+r.Get("value_a")+"; or "+r.Get("value_b")+". Here: "+r.Get("rule")+"."+
			cite(merged(merged(r.Get("source_a"), r.Get("source_b")), r.Get("source"))), "   - ", "     ")
	}
	b.WriteString("\nPlease\n")
	for _, c := range Cautions() {
		fill(&b, c, "   - ", "     ")
	}
	b.WriteString("\nSources\n")
	list := strings.Fields(keys)
	slices.SortFunc(list, bySourceKey)
	for _, k := range list {
		citation, _, _ := vocab.Source(k)
		fill(&b, k+": "+citation, "   - ", "     ")
	}
	return b.String()
}

// bySourceKey puts S2 before S10, and keys in words last.
func bySourceKey(a, b string) int {
	number := func(s string) int {
		n := 0
		if strings.HasPrefix(s, "S") {
			for _, r := range s[1:] {
				if r < '0' || r > '9' {
					break
				}
				n = n*10 + int(r-'0')
			}
		}
		if n == 0 {
			return 1000
		}
		return n
	}
	return cmp.Or(cmp.Compare(number(a), number(b)), strings.Compare(a, b))
}

// patternNames lists the codes that a line points to.
func patternNames(e Entry) string {
	var out []string
	for _, c := range e.Patterns {
		out = append(out, string(c))
	}
	return strings.Join(out, ", ")
}

// fill writes text in lines of at most 96 characters.
func fill(b *strings.Builder, text, first, rest string) {
	line := first
	empty := true
	for _, w := range strings.Fields(text) {
		if !empty && len([]rune(line))+1+len([]rune(w)) > 96 {
			b.WriteString(strings.TrimRight(line, " ") + "\n")
			line, empty = rest, true
		}
		if !empty {
			line += " "
		}
		line += w
		empty = false
	}
	b.WriteString(line + "\n")
}
