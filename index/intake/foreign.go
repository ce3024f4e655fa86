package intake

import (
	"bytes"
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
