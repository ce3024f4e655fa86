package table_test

import (
	"encoding/csv"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"musterstone/testdata/table"
)

// TestWrite: what is written is RFC 4180's CSV, quoted where it must be, and is read back the same; a longer table of before leaves nothing.
func TestWrite(t *testing.T) {
	path := filepath.Join(t.TempDir(), "stones.csv")
	if err := os.WriteFile(path, []byte(strings.Repeat("left\n", 100)), 0o644); err != nil {
		t.Fatal(err)
	}
	rows := [][]string{{"id", "inscription"}, {"1", "J. DOE,\n\"SCOUT\""}, {"2", ""}}
	if err := table.Write(path, rows); err != nil {
		t.Fatal(err)
	}
	b, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	if want := "id,inscription\n1,\"J. DOE,\n\"\"SCOUT\"\"\"\n2,\n"; string(b) != want {
		t.Errorf("wrote %q, want %q", b, want)
	}
	got, err := csv.NewReader(strings.NewReader(string(b))).ReadAll()
	if err != nil || !slices.EqualFunc(got, rows, slices.Equal) {
		t.Errorf("read back %q, %v", got, err)
	}
	if err := table.Write(filepath.Join(path, "below"), rows); !errors.As(err, new(*fs.PathError)) {
		t.Errorf("below a file: %v", err)
	}
}
