package intake

import (
	"bytes"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"strings"

	"musterstone/model"
)

// What to do about a workbook, and about a document.
const (
	exportHint   = "open it in the spreadsheet and save the sheet as CSV, in UTF-8 where it asks"
	documentHint = "only tables are read: make one, a row a stone or a man, and save it as CSV"
)

// foreignEndings are the endings of files that people take for tables.
var foreignEndings = map[string]string{
	".xlsx": "a spreadsheet's workbook", ".xlsm": "a spreadsheet's workbook", ".xlsb": "a spreadsheet's workbook", ".xls": "a spreadsheet's workbook",
	".ods": "a spreadsheet's workbook", ".fods": "a spreadsheet's workbook", ".numbers": "a spreadsheet's workbook",
	".mdb": "a database", ".accdb": "a database", ".odb": "a database",
}

// foreignKind says what a file is that its name shows to be no table that can be read.
func foreignKind(name string) (string, bool) {
	kind, ok := foreignEndings[strings.ToLower(path.Ext(name))]
	return kind, ok
}

// foreignContent looks at the first bytes of a file for those of workbooks and documents that were given another name, and says what to do about
// it; "" where there is nothing of the kind.
func foreignContent(file string) (kind, hint string) {
	f, err := os.Open(file)
	if err != nil {
		return "", "" // whoever reads it tells
	}
	defer f.Close()
	head := make([]byte, 512)
	n, _ := io.ReadFull(f, head)
	head = head[:n]
	page := bytes.ToLower(bytes.TrimLeft(bytes.TrimPrefix(head, bomUTF8), " \t\r\n"))
	switch {
	case bytes.HasPrefix(head, []byte("PK\x03\x04")), bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1")):
		return "a spreadsheet's workbook or another packed file", exportHint
	case bytes.HasPrefix(head, []byte("%PDF-")):
		return "a PDF document", documentHint
	case bytes.HasPrefix(head, []byte(`{\rtf`)):
		return "a word processor's document", documentHint
	case bytes.HasPrefix(page, []byte("<!doctype html")), bytes.HasPrefix(page, []byte("<html")), bytes.HasPrefix(page, []byte("<table")):
		return "a web page", exportHint
	case bytes.HasPrefix(page, []byte("<?xml")):
		return "an XML document", exportHint
	}
	return "", ""
}

// isTextTable reports whether a file may be a table that a spreadsheet saved as text: stones.txt, roster-smith.txt.
func isTextTable(name string) bool {
	return strings.EqualFold(path.Ext(name), ".txt") && kindByName(name) != ""
}

// foreign tells of files in the folder that look as if they were meant to be read, and cannot be or are not.
func (o *opener) foreign(entries []fs.DirEntry, named map[string]bool) {
	for _, e := range entries {
		name := e.Name()
		if e.IsDir() || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || named[name] {
			continue
		}
		kind, ok := foreignKind(name)
		switch {
		case ok && named == nil:
			o.note(model.Complaint{File: name, Text: "it is " + kind + ", and was not read", Hint: exportHint})
		case isTextTable(name):
			o.note(model.Complaint{File: name, Text: "it is named like a table, but ends in .txt, so it was not read",
				Hint: "if it is a table, rename it to " + strings.TrimSuffix(name, path.Ext(name)) + ".tsv, or let begin describe it"})
		}
	}
}

// titleLines is how many lines may stand above the header.
const titleLines = 12

// headerLine looks for the row that names the columns where the first one does not: how many lines stand above it, and its names. It gives 0
// where the first row is as good as any.
func headerLine(s *Survey, t *Table) (above int, names []string) {
	best := 0
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
		if known > best+1 {
			best, above = known, line
			names = names[:0]
			for _, c := range row.cells {
				if c = strings.TrimSpace(c); c != "" {
					names = append(names, strings.Clone(c))
				}
			}
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

func upperFirst(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
