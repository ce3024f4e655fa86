package intake

import (
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// dialect says how a table is written.
type dialect struct {
	delimiter byte   // 0: look at the header
	quote     byte   // 0: none
	encoding  string // "" is UTF-8 by default, which is not the same as by declaration in what is told of a fault
	skipRows  int
	header    bool
	skipSpace bool
	comment   string // lines that begin so are no rows; "" none
}

// defaultDialect is that of CSV on the Web, but for the delimiter, which is looked for in the header.
func defaultDialect() dialect { return dialect{quote: '"', header: true} }

// row is one row as read. Its cells are only good until the next row is read.
type row struct {
	number   int // as a spreadsheet counts: rows, not lines; the first is 1
	cells    []string
	problems []problem
	plain    bool   // see binding.plainly
	mask     uint64 // of a plain row: which cells are filled
}

// problem is what is wrong with a row as text; cell is an index, or -1 for the whole row.
type problem struct {
	cell       int
	text, hint string
	fatal      bool
	damaged    bool // the bytes are not those of a table: see model.Complaint
}

// fatal reports whether the row cannot be used.
func (r row) fatal() bool {
	for _, p := range r.problems {
		if p.fatal {
			return true
		}
	}
	return false
}

// blank reports whether no cell holds anything.
func (r row) blank() bool {
	for _, c := range r.cells {
		if !isBlank(c) {
			return false
		}
	}
	return true
}

// isBlank reports whether the text is empty or white space.
func isBlank(s string) bool { return s == "" || strings.TrimSpace(s) == "" }

// rowReader reads the rows of a table one at a time.
type rowReader struct {
	lines   *lineReader
	split   splitter
	dialect dialect
	number  int
	taken   []line
}

// newRowReader reads rows from r, whose text has been turned to UTF-8 where its encoding was known. The dialect's delimiter must be set.
func newRowReader(r io.Reader, d dialect) *rowReader {
	return &rowReader{
		lines:   newLineReader(r),
		split:   splitter{delimiter: d.delimiter, quote: d.quote, skipSpace: d.skipSpace},
		dialect: d,
	}
}

// begin has what is read from here on put into the room of a block, of which nothing is used any more.
func (r *rowReader) begin(text []byte, cells []string) {
	r.lines.text, r.lines.grows = text[:0], 2
	r.split.cells, r.split.first = cells[:0], 0
}

// room is that of the block, with what was read since begin.
func (r *rowReader) room() (text []byte, cells []string) { return r.lines.text, r.split.cells }

// keep keeps the cells of the last row, after those of the block's rows before it, and says where they begin and end.
func (r *rowReader) keep() span {
	s := span{r.split.first, len(r.split.cells)}
	r.split.first = s.to
	return s
}

// err is what ended the reading other than the end of the file.
func (r *rowReader) err() error { return r.lines.err }

// next gives the next row, blank ones included; false at the end.
func (r *rowReader) next() (row, bool) {
	ln, ok := r.lines.next()
	for ok && r.dialect.comment != "" && strings.HasPrefix(ln.text, r.dialect.comment) {
		r.number++
		ln, ok = r.lines.next()
	}
	if !ok {
		return row{}, false
	}
	r.number++
	out := row{number: r.number}
	if ln.tooLong > 0 {
		out.problems = []problem{{cell: -1, fatal: true, damaged: true,
			text: fmt.Sprintf("the line is %d bytes long%s, more than any row; it was left out", ln.tooLong, r.at(ln)),
			hint: "look whether the line breaks of the file were lost, or whether it is a table at all"}}
		return out, true
	}
	text, problems := r.clean(ln)
	out.problems = problems
	s := &r.split
	s.start()
	s.feed(text)
	if s.open {
		out.problems = r.several(out.problems, ln, len(text))
	} else if s.stray {
		out.problems = append(out.problems, problem{cell: s.opened,
			text: "a quote mark inside the quoted cell is not doubled; it was taken as a quote mark",
			hint: `write "" for a quote mark inside a quoted cell`})
	}
	out.cells = s.row()
	return out, true
}

// several goes on with a row whose quoted cell holds line breaks. Where the quotes are never closed, or closed so that no
// cell ends there, the first line alone is given up and the others are read again as rows of their own.
func (r *rowReader) several(problems []problem, first line, size int) []problem {
	s := &r.split
	opened := s.opened
	r.taken = r.taken[:0]
	room := r.lines.text
	for s.open && !s.stray && len(r.taken) < maxQuotedLines && size < maxQuotedBytes {
		ln, ok := r.lines.next()
		if !ok {
			break
		}
		r.taken = append(r.taken, ln)
		if ln.tooLong > 0 {
			break
		}
		text, more := r.clean(ln)
		problems = append(problems, more...)
		size += len(text)
		s.feed(text)
	}
	if !s.open && !s.stray {
		return problems
	}
	r.lines.giveBack(r.taken)
	r.lines.text = room // nothing stands there any more
	return append(problems[:0], problem{cell: opened, fatal: true,
		text: "a quote mark opens the cell and none closes it" + r.at(first) + "; the row was left out and reading went on at the next line",
		hint: `close the quote mark, or write "" for a quote mark inside a quoted cell`})
}

// at names the physical line where it is not the row's number.
func (r *rowReader) at(ln line) string {
	if ln.number == r.number {
		return ""
	}
	return fmt.Sprintf(" (line %d of the file)", ln.number)
}

// clean takes NUL bytes out of a line and turns bytes that are not UTF-8 into characters.
func (r *rowReader) clean(ln line) (string, []problem) {
	var problems []problem
	text := ln.text
	if strings.IndexByte(text, 0) >= 0 {
		text = strings.ReplaceAll(text, "\x00", "")
		p := problem{cell: -1, damaged: true, text: "the row holds NUL bytes" + r.at(ln) + "; they were taken out",
			hint: "look at the row for loss; a file saved as UTF-16 or damaged on disk looks so"}
		if isBlank(text) {
			p.text, p.fatal = "the row holds nothing but NUL bytes"+r.at(ln)+"; it was left out", true
		}
		problems = append(problems, p)
	}
	if !utf8.ValidString(text) {
		if decoded, err := charmap.Windows1252.NewDecoder().String(text); err == nil {
			text = decoded
		}
		text = strings.ToValidUTF8(text, "\uFFFD")
		hint := `save the file as UTF-8, or say "dialect": {"encoding": "windows-1252"} for it in csv-metadata.json`
		if r.dialect.encoding != "" {
			hint = "the metadata says " + r.dialect.encoding + `: save the file so, or say "encoding": "windows-1252" in its dialect`
		}
		problems = append(problems, problem{cell: -1,
			text: "the row is not UTF-8" + r.at(ln) + "; it was read as Windows-1252, which is a guess", hint: hint})
	}
	return text, problems
}
