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
	"musterstone/model/same"
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

// reading makes values of rows of one table, one after the other.
type reading struct {
	table     *Table
	memory    *memory
	block     []told       // complaints about the rows of the block
	cellsKept []model.Cell // room for the written cells of the rows of the block, where they are used again
	again     bool
	marks     same.Marks
	reader    uint32
	text      []byte // room for texts that are put together
	once      [termCount]bool

	row     int
	first   int      // the number of the first row below the header
	subject string   // of a graph, where it has a name
	cells   []string // as in the file
	values  []string // of the file's columns: blanks trimmed, nulls, defaults and ditto marks resolved
	above   []string // the last value of each column that was not a ditto mark
	written []model.Cell
	terms   [termCount]string
}

func newReading(t *Table, m *memory) *reading {
	return &reading{table: t, memory: m, values: make([]string, len(t.bound.names)), above: make([]string, len(t.bound.names))}
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
		case rule.known && (v[0] == '#' || v[0] == 'E') && lostCell(v):
			r.tellColumn(b.names[i], fmt.Sprintf("%q is what the spreadsheet put in place of what was typed; it counts as blank", v), lostHint(v))
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
	r.bounded()
	r.written = r.kept(filled)
}

// MostCell is how long a cell may be, in bytes, to be understood: some 2,500 words. No stone says so much, and what reads words takes more than twice as long for twice
// as many.
const MostCell = 16 << 10

// bounded tells of the values that are too long to be understood, which count as blank.
func (r *reading) bounded() {
	for t := range r.terms {
		if n := len(r.terms[t]); n > MostCell {
			r.tell(term(t), fmt.Sprintf("it holds %d bytes, and no more than %d are read; it counts as blank", n, MostCell), "look for a lost quote mark, or give shortly what is meant")
			r.terms[t] = ""
		}
	}
}

// kept are the cells of the row as they stand in the file, blank ones and those that the metadata call null left out.
func (r *reading) kept(filled int) []model.Cell {
	b := &r.table.bound
	var out []model.Cell
	from := len(r.cellsKept)
	if r.again {
		out = r.cellsKept
	} else {
		out = make([]model.Cell, 0, filled)
	}
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
	if r.again {
		r.cellsKept = out
		return out[from:len(out):len(out)]
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
	if len(s) > 14 || s == "" {
		return false
	}
	switch s[0] {
	case 'd', 'D':
		return strings.EqualFold(s, "do") || strings.EqualFold(s, "do.") || strings.EqualFold(s, "ditto") || strings.EqualFold(s, "ditto.")
	case 's', 'S':
		return strings.EqualFold(s, "same") || strings.EqualFold(s, "same as above")
	case 'a', 'A':
		return strings.EqualFold(s, "as above")
	case '"', '\'', 0xe2, 0xe3:
		switch s {
		case `"`, `""`, "''", "“", "”", "″", "〃", "“ “", "” ”", `" "`:
			return true
		}
	case '-':
		return strings.EqualFold(s, "-do-")
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
			r.tellColumn(b.names[column], fmt.Sprintf("%q repeats the cell above, and there is none", mark), "write the value out")
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
	r.block = append(r.block, told{model.Complaint{File: r.table.File, Row: r.row, Column: column, Text: text, Hint: hint}, noTerm})
}

// tellOnce complains of the value of a term, but only of the first in the table.
func (r *reading) tellOnce(t term, text, hint string) {
	r.block = append(r.block, told{model.Complaint{File: r.table.File, Row: r.row, Column: r.table.bound.columns[t], Text: text, Hint: hint}, t})
}
