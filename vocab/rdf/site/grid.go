package site

import (
	"slices"
	"strings"

	"musterstone/vocab"
	"musterstone/vocab/rdf"
)

// A grid is a table of parts of one class, a line each: of such a page may have a hundred, which a reader wants side by side. What all lines say alike of the thing that they are parts of is left out, and stands in the page's Turtle and JSON-LD.
type grid struct {
	Caption string
	Heads   []string
	Lines   []gridLine
}

type gridLine struct {
	ID    string // the part's, so that a link leads to its line
	Cells [][]shown
}

// gridded are the classes whose parts stand in grids, with what heads them where they are parts of the thing itself, and the properties that are shown, in their order.
var gridded = map[string]struct {
	caption    string
	properties []string
}{
	"FieldEvidence":      {"", []string{rdf.MS + "field", rdf.MS + "stoneSays", rdf.MS + "recordSays", rdf.MS + "level", rdf.MS + "why", rdf.MS + "bits"}},
	"Token":              {"", []string{rdf.MS + "words", rdf.MS + "field", rdf.MS + "value", rdf.DCTerms + "subject", rdf.DCTerms + "source"}},
	"InscriptionLine":    {"Lines of the inscription", []string{rdf.MS + "lineNumber", rdf.MS + "transcription"}},
	"PatternAttribution": {"Which design it may be", []string{rdf.MS + "pattern", rdf.MS + "probability"}},
	"ServiceAttribution": {"Which service the design implies", []string{rdf.MS + "serviceClass", rdf.MS + "probability"}},
}

// grid makes the grid of blocks of one class.
func (s *site) grid(d document, class string, blocks [][]rdf.Triple, root string) *grid {
	blocks = slices.Clone(blocks)
	slices.SortStableFunc(blocks, func(a, b []rdf.Triple) int { return number(a) - number(b) })
	g := &grid{Caption: rdf.LabelOf(rdf.MS + class)}
	for _, block := range blocks {
		_, id, _ := strings.Cut(block[0].Subj.String(), "#")
		g.Lines = append(g.Lines, gridLine{ID: id})
	}
	for _, property := range gridded[class].properties {
		column, filled := make([][]shown, len(blocks)), false
		for i, block := range blocks {
			for _, t := range block {
				if t.Pred.String() != property {
					continue
				}
				v := s.shown(t.Obj, root, d)
				switch {
				case property == rdf.MS+"field":
					v.Text = vocab.Label("field", v.Text)
				case slices.Contains(chances, property):
					v.Text = percent(v.Text)
				}
				column[i], filled = append(column[i], v), true
			}
		}
		if !filled {
			continue
		}
		g.Heads = append(g.Heads, s.propertyLabel(property))
		for i := range column {
			g.Lines[i].Cells = append(g.Lines[i].Cells, column[i])
		}
	}
	return g
}

// number is the order that a part says it has among its like; 0 where it says none.
func number(block []rdf.Triple) int {
	text := value(block, block[0].Subj.String(), rdf.MS+"order")
	n := 0
	for _, c := range []byte(text) {
		if c < '0' || c > '9' || n > 1<<20 {
			return 0
		}
		n = 10*n + int(c-'0')
	}
	return n
}

// sections are those of a page: of each part its own, but of parts that stand in grids one for all in a row.
func (s *site) sections(d document, root, title string) (out []section) {
	blocks := parts(d)
	for i := 0; i < len(blocks); {
		iri := blocks[i][0].Subj.String()
		class := classOf(blocks[i], iri)
		if _, ok := gridded[class]; !ok {
			out = append(out, s.section(d, blocks[i], root, title))
			i++
			continue
		}
		of, end := parentOf(iri), i+1
		for end < len(blocks) {
			next := blocks[end][0].Subj.String()
			if classOf(blocks[end], next) != class || parentOf(next) != of {
				break
			}
			end++
		}
		g := s.grid(d, class, blocks[i:end], root)
		if n := len(out); n > 0 && of != "" && out[n-1].ID == of {
			out[n-1].Grid = g
			out[n-1].Rows = slices.DeleteFunc(out[n-1].Rows, func(r row) bool { return inGrid(g, r) })
		} else {
			out = append(out, section{Title: gridded[class].caption, Grid: g, Plain: true})
			for k := range out {
				out[k].Rows = slices.DeleteFunc(out[k].Rows, func(r row) bool { return inGrid(g, r) })
			}
		}
		i = end
	}
	return out
}

// inGrid reports whether a row does nothing but name the lines of a grid.
func inGrid(g *grid, r row) bool {
	return len(r.Values) > 0 && !slices.ContainsFunc(r.Values, func(v shown) bool {
		return !slices.ContainsFunc(g.Lines, func(l gridLine) bool { return v.Href == "#"+l.ID })
	})
}

// parentOf is the fragment of the part that a part is of: "match-x" of "match-x-evidence-2", "" of "line-2", which is the thing's own.
func parentOf(iri string) string {
	_, fragment, _ := strings.Cut(iri, "#")
	for _, kind := range []string{"-evidence-", "-token-"} {
		if at := strings.LastIndex(fragment, kind); at > 0 {
			return fragment[:at]
		}
	}
	return ""
}
