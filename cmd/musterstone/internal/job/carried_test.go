package job

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/testdata/county"
)

// TestCarried changes one of four rosters: the others are taken over from the index that was there, and what is packed for weighing is, byte for byte, what is packed of
// all of them read anew; also where the file of the earlier columns was harmed.
func TestCarried(t *testing.T) {
	dir := t.TempDir()
	if err := county.Make(dir, county.Options{Seed: 3, Records: 2000, Stones: 10}); err != nil {
		t.Fatal(err)
	}
	made := filepath.Join(dir, "roster-made.csv")
	b, err := os.ReadFile(made)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.Remove(made); err != nil {
		t.Fatal(err)
	}
	rows := strings.SplitAfter(string(b), "\n")
	write := func(n int, more string) {
		t.Helper()
		text := rows[0] + strings.Join(rows[1+500*n:501+500*n], "") + more
		if err := os.WriteFile(filepath.Join(dir, "roster-"+string(rune('a'+n))+".csv"), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	columns := func(wantKept int) []byte {
		t.Helper()
		j, err := Open(dir, Options{})
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		x, err := j.Index(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if len(x.Kept) != wantKept {
			t.Errorf("kept %q, want %d files", x.Kept, wantKept)
		}
		b, err := os.ReadFile(filepath.Join(x.Folder(), columnsFile))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	derived := func() string {
		t.Helper()
		folders, err := filepath.Glob(filepath.Join(dir, ".musterstone", "records-*"))
		if err != nil || len(folders) != 1 {
			t.Fatalf("folders of records: %q, error %v", folders, err)
		}
		return folders[0]
	}
	for n := range 4 {
		write(n, "")
	}
	columns(0)
	write(1, "z1,Tveit,Ole,Private,Private,G,12,Infantry,Missouri,,,23,Dane Co.,,\n")
	carried := columns(3)
	if err := os.RemoveAll(derived()); err != nil {
		t.Fatal(err)
	}
	if anew := columns(0); !bytes.Equal(carried, anew) {
		t.Error("the columns of records that were kept are others than of records read anew")
	}
	write(1, "")
	if err := os.Truncate(filepath.Join(derived(), columnsFile), 5000); err != nil {
		t.Fatal(err)
	}
	columns(0) // the manifest tells that the folder is not whole
}
