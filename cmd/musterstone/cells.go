package main

import (
	"encoding/csv"
	"fmt"
	"io"
	"strings"
)

// writeCSV writes a table to be opened in a spreadsheet: no cell of it is one that a spreadsheet would run. Every table that the commands print goes through
// it; a survey that begin makes of a publication does not, since its cells must come back as they were recorded.
func writeCSV(w io.Writer, rows [][]string) error {
	out := csv.NewWriter(w)
	for _, r := range rows {
		safe := make([]string, len(r))
		for i, c := range r {
			safe[i] = neutral(c)
		}
		if err := out.Write(safe); err != nil {
			return fmt.Errorf("write the table: %w", err)
		}
	}
	out.Flush()
	if err := out.Error(); err != nil {
		return fmt.Errorf("write the table: %w", err)
	}
	return nil
}

// formulaStart are the characters with which a spreadsheet takes a cell for a formula, their full-width forms included.
const formulaStart = "=+-@\t\r\n＝＋－＠"

// formula reports whether a cell, apostrophes before it apart, would be taken for a formula. A number below nought is none.
func formula(s string) bool {
	s = strings.TrimLeft(s, "'")
	if s == "" || !strings.ContainsRune(formulaStart, []rune(s)[0]) {
		return false
	}
	whole, part, _ := strings.Cut(s[1:], ".")
	return s[0] != '-' || whole == "" || strings.Trim(whole+part, "0123456789") != ""
}

// neutral puts an apostrophe before a cell that a spreadsheet would take for a formula, and before one that looks as if that had been done to it, so
// that plainCell gives every cell back as it was.
func neutral(s string) string {
	if formula(s) {
		return "'" + s
	}
	return s
}

// plainCell gives back what neutral was given.
func plainCell(s string) string {
	if strings.HasPrefix(s, "'") && formula(s) {
		return s[1:]
	}
	return s
}
