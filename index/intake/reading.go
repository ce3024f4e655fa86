package intake

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"math/bits"
	"os"
	"slices"
	"strings"
	"unicode/utf8"

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
	above := 0
	head, _ := b.Peek(1 << 10)
	if delimiter, size := separatorLine(head); size > 0 {
		b.Discard(size)
		above = 1
		d.skipRows = max(0, d.skipRows-1) // a description made by a program that knew nothing of such lines counts it
		if d.delimiter == 0 {
			d.delimiter = delimiter
		}
	}
	if d.delimiter == 0 {
		head, _ := b.Peek(32 << 10)
		d.delimiter = sniff(head, t, d.skipRows)
	}
	r := newRowReader(b, d)
	r.lines.number = above
	for range d.skipRows {
		if _, ok := r.lines.next(); !ok {
			break
		}
		r.number++
	}
	return r, f, nil
}

// separatorLine reads the line by which spreadsheets that part cells otherwise than by commas are told so: "sep=;", quoted or not (LibreOffice Help, CSV Filter Options). Such a line is no row, and a
// spreadsheet does not count it. It gives the delimiter, and how many bytes the line has; 0 where there is none. Saved again by a spreadsheet that took it for a row, the line ends with delimiters, and these are
// the true ones.
func separatorLine(head []byte) (delimiter byte, size int) {
	line := bytes.TrimPrefix(head, bomUTF8)
	if i := bytes.IndexAny(line, "\r\n"); i >= 0 {
		line = line[:i]
	} else {
		return 0, 0
	}
	size = len(head) - len(bytes.TrimPrefix(head, bomUTF8)) + len(line) + 1
	if bytes.HasPrefix(head[size-1:], []byte("\r\n")) {
		size++
	}
	rest, quoted := bytes.CutPrefix(line, []byte(`"`))
	const mark = "sep="
	if len(rest) <= len(mark) || !bytes.EqualFold(rest[:len(mark)], []byte(mark)) || !isDelimiter(rest[len(mark)]) {
		return 0, 0
	}
	delimiter, rest = rest[len(mark)], rest[len(mark)+1:]
	if quoted {
		var closed bool
		if rest, closed = bytes.CutPrefix(rest, []byte(`"`)); !closed {
			return 0, 0
		}
	}
	if len(rest) > 0 && isDelimiter(rest[0]) {
		delimiter = rest[0]
	}
	if len(bytes.Trim(rest, string(delimiter))) > 0 {
		return 0, 0
	}
	return delimiter, size
}

// isDelimiter reports whether a character can part cells: any of ASCII but letters, figures, quotes and the ends of lines.
func isDelimiter(c byte) bool {
	return c < 0x80 && c != '"' && c != '\n' && c != '\r' && (c < '0' || c > '9') && (c|0x20 < 'a' || c|0x20 > 'z') && c != 0
}

// Beside opens for reading a table that people keep beside a survey's: of burial grounds, of decisions, of true links. A byte order mark and a line that names the delimiter are passed over; without
// such a line cells are parted by whichever of comma, semicolon and tab the first line has most of. Rows are as long as they are.
func Beside(r io.Reader) *csv.Reader {
	b := bufio.NewReaderSize(r, 64<<10)
	if head, _ := b.Peek(len(bomUTF8)); bytes.Equal(head, bomUTF8) {
		b.Discard(len(bomUTF8))
	}
	head, _ := b.Peek(1 << 10)
	comma, size := separatorLine(head)
	if size > 0 {
		b.Discard(size)
	} else {
		first, _, _ := bytes.Cut(head, []byte("\n"))
		most := 0
		for _, c := range []byte(",;\t") {
			if n := bytes.Count(first, []byte{c}); comma == 0 || n > most {
				comma, most = c, n
			}
		}
	}
	in := csv.NewReader(b)
	in.Comma = rune(comma)
	in.FieldsPerRecord = -1
	return in
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
	table  *Table
	memory *memory
	block  []told // complaints about the rows of the block
	once   [termCount]bool

	// Of rows that are numbered: what is remembered, and what there is of each row and of the block.
	numbering   *numbering
	numbered    []term       // those that the table gives, of numberedTerms
	ahead       []rowNumbers // of the block's rows that are plain, by their places in it
	plain       []int        // those places
	numbers     *rowNumbers  // of the row; nil where they were not found ahead
	alone       rowNumbers
	columnTerms []term
	// columnPlaces are where the numbers of those terms stand in rowNumbers, by column; of noTerm the place where there is always 0.
	columnPlaces []uint8
	keptCells    []string // of the block
	keptNumbers  []uint32 // of their texts
	keptFrom     int      // those of the row begin there
	mask         uint64   // which columns they are of
	wide         []string // the names of their columns, where a mask cannot say
	odd          bool     // a value is not what its cell holds
	own          [][same.TextCount]string
	textColumns  textColumns
	shapes       map[uint64]uint32
	lastKey      uint64
	lastShape    uint32
	byLife       bool // the date last read has its century from another of its row

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
	r := &reading{table: t, memory: m, values: make([]string, len(t.bound.names)), above: make([]string, len(t.bound.names)), textColumns: newTextColumns(t), columnTerms: columnTerms(t)}
	for _, x := range numberedTerms {
		if t.bound.has(x) {
			r.numbered = append(r.numbered, x)
		}
	}
	for _, x := range r.columnTerms {
		place := termCount - tSurname
		if x != noTerm {
			place = x - tSurname
		}
		r.columnPlaces = append(r.columnPlaces, uint8(place))
	}
	return r
}

// mayBePlain reports whether rows of the table may be plain.
func (b *binding) mayBePlain() bool {
	return b.direct && len(b.names) <= maskBits && !slices.ContainsFunc(b.rules, func(r cellRule) bool { return r.nulls != nil || r.fallback != "" || r.ditto })
}

// plainly reports whether each value of a row is its cell as it stands, and which cells are filled: it is found out by the goroutine that parts the file, which has less to do than the one that
// takes the rows.
func (b *binding) plainly(cells []string) (mask uint64, plain bool) {
	if len(cells) != len(b.names) {
		return 0, false
	}
	for i, v := range cells {
		if v == "" {
			continue
		}
		if !plainEnd(v[0]) || !plainEnd(v[len(v)-1]) || len(v) > MostCell || mayBeOdd[v[0]] && (isDitto(v) || (v[0] == '#' || v[0] == 'E') && lostCell(v)) {
			return 0, false
		}
		mask |= 1 << i
	}
	return mask, true
}

// take makes a row's cells into the values of terms.
func (r *reading) take(row row) {
	b := &r.table.bound
	r.cells = row.cells
	if row.plain {
		for i, t := range b.terms {
			r.terms[t] = row.cells[i]
		}
		r.terms[noTerm] = ""
		r.mask, r.odd = row.mask, false
		r.keepPlain()
		return
	}
	if len(row.cells) != len(b.names) {
		r.length(row)
	}
	r.mask, r.odd = 0, false
	filled, long := 0, false
	for i := range b.names {
		rule := &b.rules[i]
		v := ""
		if i < len(row.cells) {
			v = trimmed(row.cells[i])
		}
		if v != "" {
			if rule.nulls != nil && slices.Contains(rule.nulls, v) {
				v = ""
			} else {
				filled++
				r.mask |= 1 << (i % 64)
			}
		}
		switch {
		case v == "":
			v = rule.fallback
			r.odd = r.odd || v != ""
		case !mayBeOdd[v[0]]:
		case rule.known && (v[0] == '#' || v[0] == 'E') && lostCell(v):
			r.tellColumn(b.names[i], fmt.Sprintf("%q is what the spreadsheet put in place of what was typed; it counts as blank", v), lostHint(v))
			v, r.odd = rule.fallback, true
		case isDitto(v) && !(rule.names && isLetter(v[0])):
			v, r.odd = r.ditto(i, v), true
		}
		if rule.ditto {
			r.above[i] = v
		}
		if b.direct {
			r.terms[rule.term] = v
			long = long || len(v) > MostCell
		} else {
			r.values[i] = v
		}
	}
	if !b.direct {
		r.fill()
	}
	if long || !b.direct {
		r.bounded()
	}
	r.terms[noTerm] = ""
	r.keep(filled)
}

// fill gives the terms of a row what its values come to.
func (r *reading) fill() {
	b := &r.table.bound
	for _, f := range b.fills {
		r.terms[f.term] = ""
	}
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
}

// keep keeps the cells of the row.
func (r *reading) keep(filled int) {
	b := &r.table.bound
	if r.numbering == nil {
		r.written = r.kept(filled)
		return
	}
	r.keptFrom, r.wide = len(r.keptCells), nil
	if len(r.cells) > len(b.names) || len(b.names) > maskBits {
		r.keepCells(r.kept(filled))
		return
	}
	for m := r.mask; m != 0; m &= m - 1 {
		r.keptCells = append(r.keptCells, r.cells[bits.TrailingZeros64(m)])
	}
}

// keepPlain keeps the cells of a plain row, and the numbers of their texts.
func (r *reading) keepPlain() {
	r.keptFrom, r.wide = len(r.keptCells), nil
	cells, numbers := r.keptCells, r.keptNumbers
	for m := r.mask; m != 0; m &= m - 1 {
		i := bits.TrailingZeros64(m)
		cells, numbers = append(cells, r.cells[i]), append(numbers, r.numbers.texts[r.columnPlaces[i]])
	}
	r.keptCells, r.keptNumbers = cells, numbers
}

// keepCells keeps cells with the names of their columns.
func (r *reading) keepCells(cells []model.Cell) {
	r.wide = make([]string, len(cells))
	for i, c := range cells {
		r.wide[i] = c.Column
		r.keptCells = append(r.keptCells, c.Value)
	}
}

// trimmed is the text without the blanks about it, of which most cells have none.
func trimmed(s string) string {
	if s == "" || plainEnd(s[0]) && plainEnd(s[len(s)-1]) {
		return s
	}
	return strings.TrimSpace(s)
}

// plainEnd reports whether a text that begins or ends so has no blank there.
func plainEnd(c byte) bool { return ' ' < c && c < utf8.RuneSelf }

// mayBeOdd tells by its first byte whether a cell can be a ditto mark, or what a spreadsheet put in place of another.
var mayBeOdd = func() (odd [256]bool) {
	for _, c := range []byte("dDsSaA\"'-#E\xe2\xe3") {
		odd[c] = true
	}
	return odd
}()

// MostCell is how long a cell may be, in bytes, to be understood: some 2,500 words. No stone says so much, and what reads words takes more than twice as long for twice
// as many.
const MostCell = 16 << 10

// bounded tells of the values that are too long to be understood, which count as blank.
func (r *reading) bounded() {
	for _, f := range r.table.bound.fills {
		r.bound(f.term)
	}
}

func (r *reading) bound(t term) {
	if n := len(r.terms[t]); n > MostCell {
		r.tell(t, fmt.Sprintf("it holds %d bytes, and no more than %d are read; it counts as blank", n, MostCell), "look for a lost quote mark, or give shortly what is meant")
		r.terms[t], r.odd = "", true
	}
}

// kept are the cells of the row as they stand in the file, blank ones and those that the metadata call null left out.
func (r *reading) kept(filled int) []model.Cell {
	b := &r.table.bound
	out := make([]model.Cell, 0, filled)
	for i, c := range r.cells {
		v := trimmed(c)
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
	if len(s) > 14 || s == "" || isLetter(s[0]) && (len(s) == 1 || strings.IndexByte("oias", s[1]|0x20) < 0) {
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
