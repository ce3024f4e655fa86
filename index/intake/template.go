package intake

import (
	"fmt"
	"strconv"
	"strings"
)

// template is a text with references to columns: its parts are texts, and columns where text is "". Of the variables of CSVW
// (Metadata Vocabulary, section 5.1.3) {_sourceRow} and {_row} are known besides the columns; the latter counts from the first row below the header.
type template struct{ parts []part }

type part struct {
	text   string
	column int // or one of the following
}

const (
	sourceRow = -1 - iota
	dataRow
)

// fill writes the text with the cells put in. Text between two references stands only where both sides of it say something, so that
// "{month}/{day}/{year}" without a day is "8/1864"; where every cell that it refers to is blank, there is nothing.
func (t *template) fill(values []string, row, first int) string {
	if !t.refers() {
		return t.constant()
	}
	var b strings.Builder
	between, said := "", false
	for i, p := range t.parts {
		if p.text != "" {
			between = p.text
			if i == len(t.parts)-1 && said && t.parts[i-1].value(values, row, first) != "" {
				b.WriteString(p.text)
			}
			continue
		}
		v := p.value(values, row, first)
		if v == "" {
			continue
		}
		if said || i == 1 && t.parts[0].text != "" {
			b.WriteString(between)
		}
		b.WriteString(v)
		between, said = "", true
	}
	return strings.TrimSpace(b.String())
}

// value is what a reference refers to, first being the number of the first row below the header.
func (p part) value(values []string, row, first int) string {
	switch p.column {
	case sourceRow:
		return strconv.Itoa(row)
	case dataRow:
		return strconv.Itoa(row - first + 1)
	}
	return values[p.column]
}

// refers reports whether the text refers to any column.
func (t *template) refers() bool {
	for _, p := range t.parts {
		if p.text == "" {
			return true
		}
	}
	return false
}

// constant is the text where it refers to no column.
func (t *template) constant() string {
	if len(t.parts) == 0 {
		return ""
	}
	return t.parts[0].text
}

// template reads a text with {column} references.
func (b *binder) template(at, text string, header []string) *template {
	t := &template{}
	for text != "" {
		before, rest, opened := strings.Cut(text, "{")
		if before != "" {
			t.parts = append(t.parts, part{text: before})
		}
		if !opened {
			break
		}
		name, after, closed := strings.Cut(rest, "}")
		if !closed {
			b.told(at, "a { is never closed", "write {column}", true)
			break
		}
		column, found := b.reference(name, header)
		if !found {
			b.told(at, fmt.Sprintf("the column %q is not in %s, whose columns are %s", name, b.table.File, strings.Join(quoted(header, 30), ", ")),
				"mend the name between { and }", true)
			break
		}
		t.parts = append(t.parts, part{column: column})
		text = after
	}
	return t
}

// reference finds what a name between { and } refers to: a column by its name in the file or in the description, or a variable.
func (b *binder) reference(name string, header []string) (column int, ok bool) {
	switch name {
	case "_row":
		return dataRow, true
	case "_sourceRow":
		return sourceRow, true
	}
	for i, h := range header {
		if h == name || plainName(h) == plainName(name) {
			return i, true
		}
	}
	for i, c := range b.found {
		if c != nil && c.name == name {
			return i, true
		}
	}
	return 0, false
}
