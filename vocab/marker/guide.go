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

func topStep() Step {
	s := Step{Title: "First the top", Lead: "Stand before it and look at the outline against the ground behind."}
	for _, x := range []struct{ value, see, means string }{
		{"pointed", "pointed, two straight slopes", "Confederate"},
		{"rounded", "rounded, a half circle or near it, with shoulders", "Union, or 1898 to 1902"},
		{"slightly rounded", "slightly rounded, a shallow arc", "a General stone: any service, from World War I on, and later stones for earlier men; the oldest Civil War stones too (ten inches wide)"},
		{"flat", "flat, flush with the ground", "from 1936 on, any service; see material and size"},
		{"square", "a block six inches square with a number", "an unknown of the Union army"},
		{"other", "a folded flag in bronze fixed to a private stone", "a medallion: service from 6 April 1917 on"},
		{"cross", "a marble cross or star that stands free", "a cemetery overseas, or a private stone"},
	} {
		s.Entries = append(s.Entries, pointing(x.see, x.means, "top", x.value, .4))
	}
	return s
}

func deviceStep() Step {
	s := Step{Title: "Then the device", Lead: "Look for what is cut above or around the words."}
	for _, x := range []struct{ value, see, means string }{
		{"recessed shield", "a shield sunk into the face, letters raised within it", "Union, or 1898 to 1902; never the World Wars"},
		{"outline shield", "the outline of a shield cut into the face", "a General stone for a man of the Civil War or of 1898 to 1902: a replacement, 1922 or later"},
		{"confederate cross", "a cross in a small circle, on a pointed stone", "Confederate, cut in or after 1930"},
		{"medal of honor", "a star or star and anchor, gilded", "Medal of Honor, cut in or after 1976"},
		{"folded flag", "a folded flag with laurels, in bronze", "a medallion on a private stone"},
	} {
		s.Entries = append(s.Entries, pointing(x.see, x.means, "device", x.value, .5))
	}
	s.Entries = append(s.Entries, Entry{See: "a cross, star or other emblem of belief in a circle", Means: "a General, upright or flat marker of 1922 or later, never a shield stone",
		Source: "S3 S6 S24"})
	return s
}

func widthStep() Step {
	s := Step{Title: "Then the width, and the thickness", Lead: "Measure across the face, to the half inch, half way up; then front to back. " +
		"Do not dig for the length: more than a third of an upright stone is below the ground."}
	at, widths := map[string]int{}, map[string]Size{}
	for _, p := range patternTable() {
		if !p.Government() {
			continue
		}
		var best Size
		for _, z := range p.Sizes {
			if z.Trusted && z.Width > 0 && z.Share > best.Share {
				best = z
			}
		}
		if best.Width == 0 || p.Family == "headboard" || p.Family == "memorial" {
			continue
		}
		see := measureText(best.Width) + " wide"
		if best.Thickness > 0 && p.Family != "medallion" {
			see += ", " + measureText(best.Thickness) + " thick"
		}
		if (p.Family == "flat" || p.Family == "niche" || p.Family == "medallion") && best.Length > 0 {
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
	s := Step{Title: "Then the wording", Lead: "Write the lines as they stand. What they name bounds when the stone can have been cut."}
	for _, p := range patternTable() {
		if p.Code == "civil-war-1903" || p.Code == "general-1922" || p.Code == "upright-marble" {
			s.Entries = append(s.Entries, Entry{See: p.Short, Means: p.Inscription, Patterns: []model.PatternCode{p.Code}, Source: p.Source})
		}
	}
	for _, r := range vocab.Rows("dating-clues") {
		if r.Get("text") == "" || r.Get("bounds") != "stone" {
			continue
		}
		see := r.List("words")[0]
		means := r.Get("text")
		for _, verb := range []string{" stands ", " was ", " cannot "} {
			if strings.HasPrefix(means, see+verb) {
				means = strings.TrimPrefix(means, see+" ")
			}
		}
		s.Entries = append(s.Entries, Entry{See: see, Means: means, Source: r.Get("source")})
	}
	s.Entries = append(s.Entries, Entry{See: "IN MEMORY OF", Means: "a modern memorial stone: no remains lie here", Patterns: []model.PatternCode{"memorial"}, Source: "S7"})
	return s
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
	return []string{
		"A pattern tells of the service and not always of the age: stones are replaced in kind.",
		"A stone is a claim and no proof. Whether a grave may have a government marker is for the agency to decide.",
		"Do not lean on, push, clean, rub, probe for or dig at a stone. Ask whoever owns the ground before you go.",
		"Write down what you see and measure; leave empty what you could not. What is left out counts neither way.",
	}
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
