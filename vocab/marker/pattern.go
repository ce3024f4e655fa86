package marker

import (
	"sync"

	"musterstone/model"
	"musterstone/vocab"
)

// Size is one published, or reasoned, set of measures of a pattern, in inches. A zero measure is not fixed.
type Size struct {
	Variant string
	// Width is across the face, Thickness front to back, Length the whole stone, Above what stands above ground when set by the rule.
	Width, Thickness, Length, Above model.Inches
	// Share is how much of the pattern the model gives to this size.
	Share float64
	// Trusted is false for a value that is kept beside the trusted one because a source prints it. Why says why.
	Trusted     bool
	Why, Source string

	sd      [4]float64 // spread of width, thickness, height above ground, length
	setFlat bool       // lies flush: Above is given, and is 0
}

// Year is one dated fact about a pattern.
type Year struct {
	// What is "from", "to", "deaths" (the first year of death that is nothing odd), "private-from" or "shield-from".
	What        string
	Year        int // 0 where open
	Wording     string
	Trusted     bool
	Why, Source string
}

// Pattern is one row of the table of patterns, with its sizes and years.
type Pattern struct {
	Code model.PatternCode
	Name string
	// Short is the name within a sentence, with its article.
	Short string
	// Family is "shield", "pointed", "general", "flat", "block", "niche", "medallion", "memorial", "overseas", "headboard" or "private".
	Family                                            string
	Issued                                            string
	Top, Material, Lettering, Device, Emblem, Setting string // as specified, in words
	Inscription, Who, Implies, Excludes               string
	// Tell is the one thing to know it by.
	Tell   string
	Source string
	// Design is the same for patterns that only their wording tells apart; "" for a design of its own.
	Design string
	// PicturedAs is the pattern whose picture stands for this one too in the field guide, as it looks alike or is hardly met; "" where it has its own.
	PicturedAs model.PatternCode
	// Measured are the measures that tell it, as the field guide lists them: "width", "thickness", "length". None where its size tells nothing.
	Measured []string
	Sizes    []Size
	Years    []Year
}

// Government reports whether it is a marker that the government furnished.
func (p Pattern) Government() bool {
	return p.Code != model.NotGovernment && p.Code != model.UnknownPattern
}

// year is the trusted year of a kind; 0 where there is none.
func (p Pattern) year(what string) int {
	for _, y := range p.Years {
		if y.What == what && y.Trusted {
			return y.Year
		}
	}
	return 0
}

// From is the first year of issue; 0 where it is not known.
func (p Pattern) From() int { return p.year("from") }

// To is the last year of issue; 0 where it is still furnished.
func (p Pattern) To() int { return p.year("to") }

// Patterns are the rows of the table, in its order, oldest first; the last is not-government. The slice is the caller's, what its
// rows point to is shared and not to be changed.
func Patterns() []Pattern {
	return append([]Pattern(nil), patternTable()...)
}

// Find gives the pattern of a code.
func Find(code model.PatternCode) (Pattern, bool) {
	for _, p := range patternTable() {
		if p.Code == code {
			return p, true
		}
	}
	return Pattern{}, false
}

var patternTable = sync.OnceValue(func() []Pattern {
	var out []Pattern
	at := map[string]int{}
	for _, r := range vocab.Rows("patterns") {
		at[r.Get("code")] = len(out)
		out = append(out, Pattern{
			Code: model.PatternCode(r.Get("code")), Name: r.Get("name"), Short: r.Get("short"), Family: r.Get("family"), Issued: r.Get("issued"),
			Top: r.Get("top"), Material: r.Get("material"), Lettering: r.Get("lettering"), Device: r.Get("device"), Emblem: r.Get("emblem"),
			Setting: r.Get("setting"), Inscription: r.Get("inscription"), Who: r.Get("who"), Implies: r.Get("implies"),
			Excludes: r.Get("excludes"), Tell: r.Get("tell"), Source: r.Get("source"),
			Design: r.Get("design"), PicturedAs: model.PatternCode(r.Get("pictured_as")), Measured: r.List("measured"),
		})
	}
	find := func(r vocab.Row) *Pattern {
		i, ok := at[r.Get("pattern")]
		if !ok {
			panic(r.Where() + ": no pattern " + r.Get("pattern"))
		}
		return &out[i]
	}
	for _, r := range vocab.Rows("pattern-sizes") {
		p := find(r)
		p.Sizes = append(p.Sizes, Size{
			Variant: r.Get("variant"), Width: inches(r, "width"), Thickness: inches(r, "thickness"), Length: inches(r, "length"), Above: inches(r, "above"),
			Share: r.Float("share"), Trusted: r.Get("trusted") == "yes", Why: r.Get("why"), Source: r.Get("source"),
			sd:      [4]float64{r.Float("width_sd"), r.Float("thickness_sd"), r.Float("above_sd"), r.Float("length_sd")},
			setFlat: r.Get("above") == "0",
		})
	}
	for _, r := range vocab.Rows("pattern-years") {
		p := find(r)
		p.Years = append(p.Years, Year{
			What: r.Get("what"), Year: r.Int("year"), Wording: r.Get("wording"), Trusted: r.Get("trusted") == "yes",
			Why: r.Get("why"), Source: r.Get("source"),
		})
	}
	return out
})

func inches(r vocab.Row, column string) model.Inches { return model.Inches(r.Float(column)) }
