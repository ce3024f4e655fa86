package intake

import (
	"fmt"
	"strconv"
	"strings"

	"musterstone/model"
)

// header reads the names of the columns.
func (b *binder) header(r *rowReader) ([]string, bool) {
	t := b.table
	if !t.meta.dialect.header {
		var names []string
		for i, c := range t.meta.columns {
			if c.virtual {
				continue
			}
			if name := c.label(); name != "" {
				names = append(names, name)
			} else {
				names = append(names, "_col."+strconv.Itoa(i+1))
			}
		}
		if len(names) == 0 {
			b.fault("the dialect says that there is no header, and no columns are described", `list the columns in their order under "tableSchema"`)
			return nil, false
		}
		return names, true
	}
	head, ok := r.next()
	for ok && head.blank() && !head.fatal() {
		head, ok = r.next()
	}
	if !ok {
		if err := r.err(); err != nil {
			b.fault("it cannot be read: "+plainError(err), "look at the disk and at its permissions")
		} else {
			b.fault("the file holds no row at all", "export the table again; the first row must name the columns")
		}
		return nil, false
	}
	for _, p := range head.problems {
		b.note(model.Complaint{File: t.File, Row: head.number, Text: p.text, Hint: p.hint, Fatal: p.fatal, Damaged: p.damaged})
	}
	if head.fatal() {
		return nil, false
	}
	names := make([]string, len(head.cells))
	for i, c := range head.cells {
		names[i] = strings.TrimSpace(strings.TrimPrefix(c, "\ufeff"))
		if names[i] == "" {
			names[i] = "_col." + strconv.Itoa(i+1)
		}
	}
	return names, true
}

// titleLines is how many lines may stand above the header.
const titleLines = 12

// leastNames is how many filled cells a row must have to name the columns where none of them is known and rows of one cell stand above it.
const leastNames = 3

// headerLine looks for the row that names the columns where the first one does not: how many lines stand above it, and its names. It gives 0
// where the first row is as good as any. Where no name is known anywhere, the first row names them unless it and what follows are titles, of one cell each.
func headerLine(s *Survey, t *Table) (above int, names []string) {
	best, titles := 0, true
	for line := range titleLines {
		try := *t
		try.meta.dialect.skipRows = t.meta.dialect.skipRows + line
		r, closer, err := s.rows(&try)
		if err != nil {
			return 0, nil
		}
		row, ok := r.next()
		closer.Close()
		if !ok {
			break
		}
		known := knownNames(row.cells)
		if line == 0 && known > 1 || row.fatal() {
			return 0, nil
		}
		var filled []string
		for _, c := range row.cells {
			if c = strings.TrimSpace(c); c != "" {
				filled = append(filled, strings.Clone(c))
			}
		}
		below := titles && line > 0 && best == 0 && len(filled) >= leastNames && figures(filled) == 0
		titles = titles && len(filled) < 2
		if known > best+1 || below {
			best, above, names = max(known, 1), line, filled
		}
	}
	return above, names
}

// knownNames counts the cells that are names of columns, each meaning once.
func knownNames(cells []string) int {
	most := 0
	for _, records := range []bool{false, true} {
		seen := map[term]bool{}
		for _, c := range cells {
			if t := guessTerm(strings.TrimSpace(c), records); t != noTerm {
				seen[t] = true
			}
		}
		most = max(most, len(seen))
	}
	return most
}

// unnamed tells, of a table that no metadata describe, which columns are not read but would be known to Guess.
func (b *binder) unnamed(header []string) {
	if b.table.meta.path != "" {
		return
	}
	var names []string
	for i, h := range header {
		if b.table.Columns[i].Term != "" {
			continue
		}
		if t := guessTerm(h, b.table.Kind.holdsRecords()); t != noTerm && !b.table.bound.has(t) {
			names = append(names, fmt.Sprintf("%q (%s?)", h, termName(t)))
		}
	}
	if len(names) > 0 {
		b.note(model.Complaint{File: b.table.File, Row: 1, Text: "columns that are only kept, though their names are often met: " + strings.Join(names, ", "),
			Hint: "rename them, or let begin write " + MetadataFile + ", which says what they mean"})
	}
}
