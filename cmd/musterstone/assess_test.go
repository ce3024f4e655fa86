package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestTruthWide: a table of true links that a spreadsheet has saved as UTF-16 is refused in words, and not by its bytes.
func TestTruthWide(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{
		"stones.csv": "id,cemetery,inscription\nM-1,Old Mill,O. PELTRY\n", "roster-old.csv": "id,surname,given\nr1,Peltry,Orrin\n",
		"marked.csv": "\xff\xfes\x00t\x00o\x00n\x00e\x00,\x00r\x00e\x00c\x00o\x00r\x00d\x00\n\x00", "bare.csv": "s\x00t\x00o\x00n\x00e\x00,\x00r\x00e\x00c\x00o\x00r\x00d\x00\n\x00",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o666); err != nil {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"marked.csv", "bare.csv"} {
		var out, told bytes.Buffer
		if code := run(t.Context(), []string{"musterstone", "assess", "--survey", dir, filepath.Join(dir, name)}, strings.NewReader(""), &out, &told); code != exitWrong || !strings.Contains(told.String(), name+": it is not UTF-8 text; save it from the spreadsheet as CSV, UTF-8") {
			t.Errorf("%s: status %d, %s", name, code, told.String())
		}
	}
}
