package intake

import (
	"bufio"
	"bytes"
	"fmt"
	"io"
	"os"
	"slices"
	"strings"

	"musterstone/model"
)

// rows opens a table's file for reading from its header on, or from its first row where it has no header.
func (s *Survey) rows(t *Table) (*rowReader, io.Closer, error) {
	f, err := os.Open(s.path(t.File))
	if err != nil {
		return nil, nil, err
	}
	text, err := decode(f, t.meta.dialect.encoding)
	if err != nil {
		f.Close()
		return nil, nil, err
	}
	b := bufio.NewReaderSize(text, 64<<10)
	d := t.meta.dialect
	if d.delimiter == 0 {
		head, _ := b.Peek(32 << 10)
		d.delimiter = sniff(head, t, d.skipRows)
	}
	r := newRowReader(b, d)
	for range d.skipRows {
		if _, ok := r.lines.next(); !ok {
			break
		}
		r.number++
	}
	return r, f, nil
}

// sniff finds the delimiter: the one that parts the header into the most known columns, or else into the most columns; a comma where
// nothing tells.
func sniff(head []byte, t *Table, skip int) byte {
	switch {
	case strings.HasSuffix(strings.ToLower(t.File), ".tsv"), strings.HasSuffix(strings.ToLower(t.File), ".tab"):
		return '\t'
	}
	end := byte('\n')
	if oldLineEnds(head) {
		end = '\r'
	}
	for range skip {
		if i := bytes.IndexByte(head, end); i >= 0 {
			head = head[i+1:]
		}
	}
	for len(head) > 0 && (head[0] == '\n' || head[0] == '\r') {
		head = head[1:]
	}
	if i := bytes.IndexByte(head, end); i >= 0 {
		head = head[:i]
	}
	described := map[string]bool{}
	for _, c := range t.meta.columns {
		for _, name := range append([]string{c.name}, c.titles...) {
			described[plainName(name)] = true
		}
	}
	best, most := byte(','), 0
	for _, d := range []byte{',', ';', '\t', '|'} {
		s := splitter{delimiter: d, quote: t.meta.dialect.quote}
		s.start()
		s.feed(strings.TrimRight(string(head), "\r"))
		score := len(s.cells) - 1
		for _, c := range s.cells {
			if described[plainName(c)] || termNamed(c, false) != noTerm || termNamed(c, true) != noTerm {
				score += 1000
			}
		}
		if len(s.cells) > 1 && score > most {
			best, most = d, score
		}
	}
	return best
}

// reading is one pass over the rows of one table.
type reading struct {
	table    *Table
	complain func(model.Complaint)
	memory   *memory

	row     int
	first   int      // the number of the first row below the header
	subject string   // of a graph, where it has a name
	cells   []string // as in the file
	values  []string // of the file's columns: blanks trimmed, nulls, defaults and ditto marks resolved
	above   []string // the last value of each column that was not a ditto mark
	written []model.Cell
	terms   [termCount]string
}

// each reads the table's rows and hands them to use until it gives false. It reports whether to go on with the next table.
func (s *Survey) each(t *Table, m *memory, complain func(model.Complaint), use func(*reading) bool) bool {
	for _, c := range t.Notices {
		complain(c)
	}
	r, closer, err := s.rows(t)
	if err != nil {
		complain(model.Complaint{File: t.File, Fatal: true, Text: "it cannot be read: " + plainError(err), Hint: "it could when the survey was opened; look whether it was moved"})
		return true
	}
	defer closer.Close()
	in := &reading{table: t, memory: m, complain: complain,
		values: make([]string, len(t.bound.names)), above: make([]string, len(t.bound.names))}
	header := t.meta.dialect.header
	rows := 0
	for {
		row, ok := r.next()
		if !ok {
			break
		}
		if header {
			header = row.blank() && !row.fatal()
			continue
		}
		in.row = row.number
		if in.first == 0 {
			in.first = row.number
		}
		if !row.blank() || row.fatal() {
			rows++
		}
		for _, p := range row.problems {
			c := model.Complaint{File: t.File, Row: row.number, Text: p.text, Hint: p.hint, Fatal: p.fatal, Damaged: p.damaged}
			if p.cell >= 0 && p.cell < len(t.bound.names) {
				c.Column = t.bound.names[p.cell]
			}
			complain(c)
		}
		if row.fatal() || row.blank() {
			continue
		}
		in.take(row)
		if !use(in) {
			return false
		}
	}
	if err := r.err(); err != nil {
		complain(model.Complaint{File: t.File, Row: in.row, Fatal: true, Text: "reading broke off after this row: " + plainError(err),
			Hint: "the rows after it are missing; look at the disk and at the file's encoding"})
	} else if rows == 0 {
		complain(model.Complaint{File: t.File, Text: "there is no row below the header", Hint: "export the table again, or take it out of the folder"})
	}
	return true
}

// take makes a row's cells into the values of terms.
func (r *reading) take(row row) {
	b := &r.table.bound
	r.cells = row.cells
	r.length(row)
	for i := range r.values {
		r.values[i] = ""
	}
	filled := 0
	for i := range b.names {
		rule := &b.rules[i]
		var v string
		if i < len(row.cells) {
			v = strings.TrimSpace(row.cells[i])
		}
		if v != "" {
			if rule.nulls != nil && slices.Contains(rule.nulls, v) {
				v = ""
			} else {
				filled++
			}
		}
		switch {
		case v == "":
			v = rule.fallback
		case isDitto(v) && !(rule.names && isLetter(v[0])):
			v = r.ditto(i, v)
		}
		r.values[i] = v
		r.above[i] = v
	}
	r.terms = [termCount]string{}
	for _, f := range b.fills {
		v := ""
		switch {
		case f.column >= 0:
			v = r.values[f.column]
		case r.terms[f.term] == "":
			v = f.text.fill(r.values, r.row, r.first)
		}
		if v == "" {
			continue
		}
		if r.terms[f.term] == "" {
			r.terms[f.term] = v
		} else {
			r.terms[f.term] += " " + v
		}
	}
	r.written = r.kept(filled)
}

// kept are the cells of the row as they stand in the file, blank ones and those that the metadata call null left out.
func (r *reading) kept(filled int) []model.Cell {
	b := &r.table.bound
	out := make([]model.Cell, 0, filled)
	for i, c := range r.cells {
		v := strings.TrimSpace(c)
		if v == "" {
			continue
		}
		name := ""
		if i < len(b.names) {
			if b.rules[i].nulls != nil && slices.Contains(b.rules[i].nulls, v) {
				continue
			}
			name = b.names[i]
		} else {
			name = fmt.Sprintf("_col.%d", i+1)
		}
		out = append(out, model.Cell{Column: name, Value: c})
	}
	return out
}

// length tells of rows that have fewer or more cells than the header.
func (r *reading) length(row row) {
	b := &r.table.bound
	switch n := len(row.cells); {
	case n < len(b.names):
		for i := n; i < len(b.names); i++ {
			if b.rules[i].known {
				r.tell(noTerm, fmt.Sprintf("the row has %d cells where the header has %d, so that the column %q and those after it are empty", n, len(b.names), b.names[i]),
					"look whether a line break or a lost quote mark broke the row in two")
				break
			}
		}
	case n > len(b.names):
		for _, c := range row.cells[len(b.names):] {
			if !isBlank(c) {
				r.tell(noTerm, fmt.Sprintf("the row has %d cells where the header has %d; the last ones were kept without a meaning", n, len(b.names)),
					"put cells that hold the delimiter between quote marks")
				break
			}
		}
	}
}

// isDitto reports whether a cell says "as above".
func isDitto(s string) bool {
	if len(s) > 7 || s == "" || strings.IndexByte("\"'\xe2\xe3dD-", s[0]) < 0 {
		return false
	}
	switch strings.ToLower(s) {
	case `"`, `""`, "''", "“", "”", "″", "〃", "do", "do.", "ditto", "ditto.", "“ “", "” ”", `" "`, "-do-":
		return true
	}
	return false
}

func isLetter(b byte) bool { return 'a' <= b|0x20 && b|0x20 <= 'z' }

// ditto gives the value above a ditto mark where the metadata say that the column has such marks, and else nothing: a roster that was cut or
// sorted no longer has the right row above.
func (r *reading) ditto(column int, mark string) string {
	b := &r.table.bound
	switch {
	case b.rules[column].ditto:
		if r.above[column] == "" {
			r.tellColumn(b.names[column], fmt.Sprintf("%q repeats the cell above, and there is none", mark), "")
		}
		return r.above[column]
	case b.rules[column].known:
		r.tellColumn(b.names[column], fmt.Sprintf("%q repeats the cell above; it was not guessed at", mark),
			`write it out, or say "ms:ditto": true of the column in `+MetadataFile)
		return ""
	}
	return mark
}

// tell complains of the value of a term; the row stays. With noTerm the whole row is meant.
func (r *reading) tell(t term, text, hint string) {
	r.tellColumn(r.table.bound.columns[t], text, hint)
}

func (r *reading) tellColumn(column, text, hint string) {
	r.complain(model.Complaint{File: r.table.File, Row: r.row, Column: column, Text: text, Hint: hint})
}

// refuse complains of a row that is left out.
func (r *reading) refuse(t term, text, hint string) {
	r.complain(model.Complaint{File: r.table.File, Row: r.row, Column: r.table.bound.columns[t], Text: text, Hint: hint, Fatal: true})
}
