package intake

import (
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
)

// binding says what the cells of a table's rows are to become.
type binding struct {
	names []string   // of the file's columns
	rules []cellRule // of the file's columns
	// fills are what gives each term its value, the file's columns before virtual ones; several of one term are joined by a blank.
	fills []fill
	about *template // "aboutUrl"
	// direct is set where no value is put together: each term is given by one column, and nothing else is made of the values.
	direct bool
	terms  []term // of the file's columns, where it is so
	// columns names, for complaints, where each term comes from.
	columns [termCount]string
}

// has reports whether the table gives the term.
func (b *binding) has(t term) bool { return b.columns[t] != "" }

// cellRule is how the text of a column's cells is taken.
type cellRule struct {
	nulls     []string
	fallback  string
	separator string
	term      term // where the table is direct
	ditto     bool
	known     bool // the column means something
	names     bool // it holds names, and there are men called Do and Ditto
}

// fill gives a term its value: a column of the file, or a text with references to columns.
type fill struct {
	term    term
	column  int // -1 where text gives the value
	text    *template
	virtual bool // gives way to any other value
}

// binder binds the columns of one table.
type binder struct {
	survey *Survey
	table  *Table
	note   func(model.Complaint)
	found  []*columnMeta // for each column of the file, its description or nil
}

func (b *binder) fault(text, hint string) {
	b.note(model.Complaint{File: b.table.File, Text: text, Hint: hint, Fatal: true})
}

// told complains of something in the metadata file.
func (b *binder) told(path, text, hint string, fatal bool) {
	b.note(model.Complaint{File: MetadataFile, Text: path + ": " + text, Hint: hint, Fatal: fatal})
}

// decideKind settles what the rows are where neither metadata nor the file's name said.
func (b *binder) decideKind(header []string) bool {
	t := b.table
	if t.Kind != "" {
		return true
	}
	for _, h := range header {
		switch termNamed(h, false) {
		case tInscription, tCemetery:
			t.Kind = Stones
			return true
		}
	}
	for _, c := range t.meta.columns {
		if term, _ := termOf(c.property, false); term == tInscription || term == tCemetery {
			t.Kind = Stones
			return true
		}
	}
	if t.meta.path != "" {
		b.told(t.meta.path, fmt.Sprintf("nothing says what the rows of %q are", t.File),
			`add the column { "virtual": true, "propertyUrl": "rdf:type", "valueUrl": "ms:Marker" } or "ms:ServiceRecord"`, true)
	}
	return false
}

// bind settles what each column means.
func (b *binder) bind(header []string) {
	t := b.table
	t.bound = binding{names: header, rules: make([]cellRule, len(header))}
	t.Columns = make([]Column, len(header))
	for i, h := range header {
		t.Columns[i] = Column{Name: h}
	}
	b.found = b.match(header)
	b.virtual(header)
	b.described(b.found)
	b.byName(b.found)
	slices.SortStableFunc(t.bound.fills, func(x, y fill) int { // columns of the file first
		return cmp.Compare(min(x.column, 0), min(y.column, 0)) * -1
	})
	if t.meta.aboutURL != "" {
		t.bound.about = b.template(t.meta.path+".aboutUrl", t.meta.aboutURL, header)
	}
	t.bound.settle()
	if !t.Kind.holdsRecords() {
		t.Kind = Stones
		if !t.bound.has(tInscription) && (t.bound.has(tSurname) || t.bound.has(tName)) {
			t.Kind = Register
		}
	}
	if !b.enough() {
		if line, names := headerLine(b.survey, &Table{File: t.File, meta: tableMeta{file: t.File, dialect: t.meta.dialect}}); line > 0 {
			b.fault(fmt.Sprintf("its first row does not name the columns; row %d seems to (%s)", line+1, strings.Join(quoted(names, 4), ", ")),
				fmt.Sprintf(`let begin write %s, or say "dialect": {"skipRows": %d} for it there, or take the rows above out of a copy`, MetadataFile, line))
			return
		}
		b.fault(fmt.Sprintf("none of its columns is known (%s)", strings.Join(quoted(header, 12), ", ")),
			"name the columns "+strings.Join(namesFor(t.Kind.holdsRecords())[:6], ", ")+" …, or say in "+MetadataFile+" what they mean, which begin helps with; if the first row is not the header, say \"skipRows\" in the dialect")
	}
}

// settle finds out whether the table is direct.
func (b *binding) settle() {
	given := [termCount]bool{}
	b.direct = b.about == nil
	for _, f := range b.fills {
		b.direct = b.direct && f.column >= 0 && !given[f.term]
		given[f.term] = true
		if b.direct {
			b.rules[f.column].term = f.term
		}
	}
	b.terms = make([]term, len(b.rules))
	for i := range b.rules {
		b.terms[i] = b.rules[i].term
	}
}

// enough reports whether any column of the file itself means something.
func (b *binder) enough() bool {
	for _, f := range b.table.bound.fills {
		if !f.virtual || f.text != nil && len(f.text.parts) > 0 && f.text.refers() {
			return true
		}
	}
	return false
}

// match finds the file's column for each described column; the result holds, for each column of the file, its description or nil.
func (b *binder) match(header []string) []*columnMeta {
	found := make([]*columnMeta, len(header))
	take := func(c *columnMeta, same func(h, name string) bool) bool {
		for _, name := range append([]string{c.name}, c.titles...) {
			if name == "" {
				continue
			}
			for i, h := range header {
				if found[i] == nil && same(h, name) {
					found[i] = c
					return true
				}
			}
		}
		return false
	}
	place := 0
	for i := range b.table.meta.columns {
		c := &b.table.meta.columns[i]
		if c.virtual {
			continue
		}
		at := place
		place++
		switch {
		case c.name == "" && len(c.titles) == 0 || !b.table.meta.dialect.header:
			if at < len(header) && found[at] == nil {
				found[at] = c
				continue
			}
		case take(c, func(h, name string) bool { return h == strings.TrimSpace(name) }),
			take(c, func(h, name string) bool { return plainName(h) == plainName(name) }):
			continue
		}
		b.told(c.path, fmt.Sprintf("the column %q is not in %s, whose columns are %s", c.label(), b.table.File, strings.Join(quoted(header, 30), ", ")),
			"mend the name, or take the column out of the description", true)
	}
	return found
}

// described gives the described columns their meaning: that of their property, or else of their name unless it is taken. It reports nothing of
// columns that mean nothing; they are kept.
func (b *binder) described(found []*columnMeta) {
	t := b.table
	for i, c := range found {
		if c == nil {
			continue
		}
		t.bound.rules[i] = cellRule{nulls: c.nulls, fallback: c.fallback, separator: c.separator, ditto: c.ditto}
		t.Columns[i].Private = c.private
		t.Columns[i].Property = c.property
		t.Columns[i].Default = c.fallback
		if c.given != "" && !c.other {
			b.fill(i, b.meaning(c))
		}
	}
	for i, c := range found {
		if c == nil || c.given != "" || c.other {
			continue
		}
		for _, name := range append([]string{c.name}, c.titles...) {
			if meaning := termNamed(name, t.Kind.holdsRecords()); meaning != noTerm {
				if !t.bound.has(meaning) {
					b.fill(i, meaning)
				}
				break
			}
		}
	}
}

// meaning is the term of a column's property.
func (b *binder) meaning(c *columnMeta) term {
	t, unknown := termOf(c.property, b.table.Kind.holdsRecords())
	if unknown {
		b.told(c.path+".propertyUrl", fmt.Sprintf("%q is no term for %s", c.given, describeKind(b.table.Kind)),
			"want one of ms:"+strings.Join(namesFor(b.table.Kind.holdsRecords()), ", ms:"), false)
	}
	return t
}

// fill has a column of the file give a term its value.
func (b *binder) fill(column int, t term) {
	if t == noTerm {
		return
	}
	bound := &b.table.bound
	b.table.Columns[column].Term = termName(t)
	bound.rules[column].known = true
	bound.rules[column].names = t == tSurname || t == tGiven || t == tName
	bound.fills = append(bound.fills, fill{term: t, column: column})
	if bound.columns[t] == "" {
		bound.columns[t] = bound.names[column]
	}
}

// virtual binds the virtual columns.
func (b *binder) virtual(header []string) {
	t := b.table
	for i := range t.meta.columns {
		c := &t.meta.columns[i]
		if !c.virtual {
			continue
		}
		name := c.label()
		if name == "" {
			name = c.given
		}
		column := Column{Name: name, Property: c.property, Virtual: true, Private: c.private}
		meaning := noTerm
		switch {
		case c.other:
		case c.given != "":
			meaning = b.meaning(c)
		default:
			meaning = termNamed(name, t.Kind.holdsRecords())
		}
		var text *template
		switch {
		case c.value != "":
			text = b.template(c.path+`["ms:value"]`, c.value, header)
		case c.valueURL != "" && meaning != noTerm:
			text = b.template(c.path+".valueUrl", c.valueURL[strings.LastIndexAny(c.valueURL, "#:/")+1:], header)
		case c.fallback != "":
			text = &template{parts: []part{{text: c.fallback}}}
		}
		if text != nil { // what is made of a private column is private too
			column.Private = column.Private || slices.ContainsFunc(text.parts, func(p part) bool {
				return p.text == "" && p.column >= 0 && b.found[p.column] != nil && b.found[p.column].private
			})
		}
		if meaning != noTerm && text != nil && len(text.parts) > 0 {
			column.Term = termName(meaning)
			if len(text.parts) == 1 {
				column.Default = text.parts[0].text
			}
			t.bound.fills = append(t.bound.fills, fill{term: meaning, column: -1, text: text, virtual: true})
			if t.bound.columns[meaning] == "" {
				t.bound.columns[meaning] = name
			}
			for _, p := range text.parts {
				if p.text == "" && p.column >= 0 {
					t.bound.rules[p.column].known = true
				}
			}
		}
		t.Columns = append(t.Columns, column)
	}
}

// byName gives the columns that nothing describes the meaning of their names, unless it is taken.
func (b *binder) byName(found []*columnMeta) {
	t := b.table
	named := map[term]int{}
	for i, h := range t.bound.names {
		if found[i] != nil {
			continue
		}
		meaning := termNamed(h, t.Kind.holdsRecords())
		if meaning == noTerm {
			continue
		}
		if first, ok := named[meaning]; ok {
			b.note(model.Complaint{File: t.File, Row: 1, Column: h, Text: fmt.Sprintf("two columns mean the same, the first being %q; only that one was read for it", t.bound.names[first]),
				Hint: "rename one of them; this one is kept without a meaning"})
			continue
		}
		if t.bound.has(meaning) {
			continue
		}
		named[meaning] = i
	}
	for i, h := range t.bound.names {
		if meaning := termNamed(h, t.Kind.holdsRecords()); meaning != noTerm && found[i] == nil {
			if first, ok := named[meaning]; ok && first == i {
				b.fill(i, meaning)
			}
		}
	}
}

// describeKind names a kind of table in the plural of its rows.
func describeKind(k Kind) string {
	if k.holdsRecords() {
		return "service records"
	}
	return "stones"
}

// quoted quotes up to n names.
func quoted(names []string, n int) []string {
	var out []string
	for i, s := range names {
		if i == n {
			return append(out, "…")
		}
		out = append(out, strconv.Quote(s))
	}
	return out
}
