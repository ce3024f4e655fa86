package index

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"musterstone/model"
)

// TestDamage harms every file of the index in three ways, and finds it told and mended.
func TestDamage(t *testing.T) {
	dir := t.TempDir()
	in := inputs(smallRecords(), "a")
	open(t, dir, in).Close()
	folders, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, recordsKind+"-*"))
	if len(folders) != 1 {
		t.Fatalf("folders %q", folders)
	}
	var files []string
	filepath.WalkDir(folders[0], func(path string, d fs.DirEntry, err error) error {
		if err == nil && !d.IsDir() {
			files = append(files, path)
		}
		return err
	})
	if len(files) < 5 {
		t.Fatalf("files %q", files)
	}
	for _, file := range files {
		for how, harm := range map[string]func([]byte) []byte{
			"cut short": func(b []byte) []byte { return b[:len(b)/2] },
			"emptied":   func([]byte) []byte { return nil },
			"changed": func(b []byte) []byte {
				b = slices.Clone(b)
				b[len(b)/2] ^= 0x55
				return b
			},
			"gone": nil,
		} {
			before, err := os.ReadFile(file)
			if err != nil {
				continue // a file of bleve that the second build named otherwise
			}
			if harm == nil {
				err = os.Remove(file)
			} else {
				err = os.WriteFile(file, harm(before), 0o644)
			}
			if err != nil {
				t.Fatal(err)
			}
			x, err := Open(context.Background(), dir, in, Options{})
			if err != nil {
				t.Errorf("%s %s: %v", filepath.Base(file), how, err)
				continue
			}
			if isStore(file) && how == "changed" {
				// Records are checked one by one, when they are read.
				n := len(slices.Collect(x.Records(context.Background())))
				if err := x.Err(); !errors.Is(err, errDamaged) || n >= x.Len() {
					t.Errorf("%s %s: %d records read, error %v", filepath.Base(file), how, n, err)
				}
				x.Close()
				os.WriteFile(file, before, 0o644)
				continue
			}
			gone := how == "gone" && filepath.Base(file) == manifestName
			if !x.Built || len(x.Notes) == 0 != gone {
				t.Errorf("%s %s: built %v, notes %q", filepath.Base(file), how, x.Built, x.Notes)
			}
			if n := len(slices.Collect(x.Records(context.Background()))); n != len(smallRoster) {
				t.Errorf("%s %s: %d records", filepath.Base(file), how, n)
			}
			x.Close()
		}
	}
	// An index of an older format is built anew.
	m, err := os.ReadFile(filepath.Join(folders[0], manifestName))
	if err != nil {
		t.Fatal(err)
	}
	os.WriteFile(filepath.Join(folders[0], manifestName), []byte(strings.Replace(string(m), `"format":"`+format, `"format":"0`, 1)), 0o644)
	if x := open(t, dir, in); !x.Built || len(x.Notes) != 1 {
		t.Errorf("older format: built %v, notes %q", x.Built, x.Notes)
	}
}

// TestBrokenOff cancels a build, and lets the source of the records fail: nothing is left, and what was there stays.
func TestBrokenOff(t *testing.T) {
	dir := t.TempDir()
	old := inputs(smallRecords(), "old")
	open(t, dir, old).Close()
	ctx, cancel := context.WithCancel(context.Background())
	in := Inputs{Rosters: "new", Records: func(yield func(*model.Record) bool) {
		for i, r := range newCounty(1, 50).roster(5000) {
			if i == 3000 {
				cancel()
			}
			if !yield(r) {
				return
			}
		}
	}}
	if _, err := Open(ctx, dir, in, Options{}); !errors.Is(err, context.Canceled) {
		t.Errorf("cancelled: %v", err)
	}
	left, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, "*-*"))
	if len(left) != 1 {
		t.Errorf("the folder has %q", left)
	}
	if x := open(t, dir, old); x.Built {
		t.Error("the old index was built again")
	}
	// What a build that was killed left behind goes with the next.
	killed := filepath.Join(dir, DerivedFolder, buildingName+"123")
	if err := os.MkdirAll(filepath.Join(killed, "x"), 0o755); err != nil {
		t.Fatal(err)
	}
	open(t, dir, inputs(smallRecords(), "newer"))
	if _, err := os.Stat(killed); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("%s is still there", killed)
	}
}

// TestCannotKeep opens a survey in whose folder nothing can be made.
func TestCannotKeep(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, DerivedFolder), nil, 0o644); err != nil {
		t.Fatal(err)
	}
	t.Setenv("TMPDIR", t.TempDir())
	x, err := Open(context.Background(), dir, inputs(smallRecords(), "a"), Options{})
	if err != nil {
		t.Fatal(err)
	}
	if len(x.Notes) != 1 || !strings.Contains(x.Notes[0], "cannot be kept") || x.Len() != len(smallRoster) {
		t.Errorf("notes %q, %d records", x.Notes, x.Len())
	}
	if err := x.Close(); err != nil {
		t.Error(err)
	}
	if left, _ := os.ReadDir(os.TempDir()); len(left) > 0 {
		t.Errorf("%s is left in the temporary folder", left[0].Name())
	}
	for _, bad := range []string{filepath.Join(dir, "nothing"), filepath.Join(dir, DerivedFolder)} {
		if _, err := Open(context.Background(), bad, inputs(nil, "a"), Options{}); err == nil {
			t.Errorf("%s was opened", bad)
		}
	}
}

// TestTogether opens one folder many times at once: all get a whole index, and one is built.
func TestTogether(t *testing.T) {
	dir := t.TempDir()
	records := smallRecords()
	var built sync.Map
	var all sync.WaitGroup
	for i := range 6 {
		all.Go(func() {
			x, err := Open(context.Background(), dir, inputs(records, "a"), Options{})
			if err != nil {
				t.Error(err)
				return
			}
			defer x.Close()
			if x.Len() != len(records) {
				t.Errorf("%d records", x.Len())
			}
			if x.Built {
				built.Store(i, true)
			}
		})
	}
	all.Wait()
	n := 0
	built.Range(func(any, any) bool { n++; return true })
	if n != 1 {
		t.Errorf("the index was built %d times", n)
	}
}

// TestKilled starts another process that builds an index, and kills it at one time after another. What was there before must stay, and
// the next build must succeed.
func TestKilled(t *testing.T) {
	if dir := os.Getenv("MUSTERSTONE_BUILD_IN"); dir != "" {
		os.Stdout.WriteString("begin\n")
		if _, err := Open(context.Background(), dir, Inputs{Rosters: "new", Records: generated(1, 3000, 6000)}, Options{}); err != nil {
			t.Fatal(err)
		}
		os.Stdout.WriteString("end\n")
		select {} // be killed here at the latest
	}
	if testing.Short() {
		t.Skip("takes some seconds")
	}
	dir := t.TempDir()
	old := inputs(smallRecords(), "old")
	open(t, dir, old).Close()
	for _, after := range []time.Duration{0, 20, 40, 60, 80, 100, 130, 160, 200, 250} {
		cmd := exec.Command(os.Args[0], "-test.run=^TestKilled$")
		cmd.Env = append(os.Environ(), "MUSTERSTONE_BUILD_IN="+dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		if _, err := out.Read(make([]byte, 6)); err != nil {
			t.Fatal(err)
		}
		time.Sleep(after * time.Millisecond)
		cmd.Process.Kill()
		cmd.Wait()
		whole, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, recordsKind+"-*"))
		if len(whole) == 0 || len(whole) > 2 {
			t.Fatalf("killed after %d ms: folders %q", after, whole)
		}
		for _, w := range whole {
			b, err := os.ReadFile(filepath.Join(w, manifestName))
			if err != nil {
				t.Fatalf("killed after %d ms: %v", after, err)
			}
			var m manifest
			if err := json.Unmarshal(b, &m); err != nil {
				t.Fatalf("killed after %d ms: %v", after, err)
			}
			if _, err := readManifest(w, m.Digest); err != nil {
				t.Errorf("killed after %d ms: %s: %v", after, w, err)
			}
		}
	}
	x := open(t, dir, Inputs{Rosters: "new", Records: generated(1, 3000, 6000)})
	if x.Len() != 6000 || len(x.Notes) > 0 {
		t.Errorf("%d records, notes %q", x.Len(), x.Notes)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, buildingName+"*")); x.Built && len(left) > 0 {
		t.Errorf("%q are left", left)
	}
}

// TestNoRoom builds where no file may grow beyond some size, as on a full disk: an error, and what was there stays.
func TestNoRoom(t *testing.T) {
	if dir := os.Getenv("MUSTERSTONE_NO_ROOM"); dir != "" {
		x, err := Open(context.Background(), dir, Inputs{Rosters: os.Getenv("MUSTERSTONE_DIGEST"), Records: generated(1, 3000, 6000)}, Options{})
		if err == nil {
			_, err = x.Find(context.Background(), "john", FindOptions{})
		}
		fmt.Println("error:", err)
		return
	}
	shell, err := exec.LookPath("sh")
	if err != nil || runtime.GOOS == "windows" {
		t.Skip("needs a shell that limits the size of files")
	}
	dir := t.TempDir()
	old := inputs(smallRecords(), "old")
	open(t, dir, old).Close()
	for _, blocks := range []int{20, 300} { // of 512 bytes, or of 1024
		cmd := exec.Command(shell, "-c", fmt.Sprintf("ulimit -f %d && exec \"$0\" -test.run='^TestNoRoom$'", blocks), os.Args[0])
		cmd.Env = append(os.Environ(), "MUSTERSTONE_NO_ROOM="+dir, "MUSTERSTONE_DIGEST=new")
		out, err := cmd.CombinedOutput()
		if err != nil || !strings.Contains(string(out), "error: index the records of ") || !strings.Contains(string(out), "file too large") {
			t.Errorf("%d blocks: %v: %s", blocks, err, out)
		}
		left, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, "*-*"))
		if len(left) != 1 {
			t.Errorf("%d blocks: the folder has %q", blocks, left)
		}
	}
	if x := open(t, dir, old); x.Built || x.Len() != len(smallRoster) {
		t.Errorf("the old index: built %v, %d records", x.Built, x.Len())
	}
}

// TestSumOfLargeFile sums a file that is too large to be read whole at every start: its size and both ends count.
func TestSumOfLargeFile(t *testing.T) {
	path := filepath.Join(t.TempDir(), "large.bin")
	sum := func(size int64, mark ...int64) (int64, uint32) {
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		defer f.Close()
		if err := f.Truncate(size); err != nil { // sparse
			t.Fatal(err)
		}
		for _, at := range mark {
			if _, err := f.WriteAt([]byte{1}, at); err != nil {
				t.Fatal(err)
			}
		}
		n, crc, err := sumFile(path)
		if err != nil {
			t.Fatal(err)
		}
		return n, crc
	}
	const size = wholeSum + 3*endSum
	n, plain := sum(size)
	if n != size {
		t.Errorf("size %d, want %d", n, size)
	}
	for _, at := range []int64{0, wholeSum - 1, size - endSum, size - 1} {
		if _, got := sum(size, at); got == plain {
			t.Errorf("a change at byte %d is not seen", at)
		}
	}
	if n, _ := sum(wholeSum); n != wholeSum {
		t.Errorf("a file of %d bytes has %d", wholeSum, n)
	}
}

// TestDamageBehindManifest harms tables and mends the manifest, so that only what is in them tells: they are built again.
func TestDamageBehindManifest(t *testing.T) {
	for _, tt := range []struct {
		name string
		harm func(t *testing.T, folder string)
	}{
		{"rows cut short", func(t *testing.T, folder string) {
			path := filepath.Join(folder, rowsName)
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(path, b[:len(b)-4], 0o644); err != nil {
				t.Fatal(err)
			}
		}},
		{"a part of more records than there are", func(t *testing.T, folder string) {
			path := filepath.Join(folder, tablesName)
			var l lists
			if err := readLists(path, &l); err != nil {
				t.Fatal(err)
			}
			l.Parts[0].To++
			if err := writeLists(path, l); err != nil {
				t.Fatal(err)
			}
		}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			in := inputs(smallRecords(), "a")
			open(t, dir, in).Close()
			folders, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, recordsKind+"-*"))
			tt.harm(t, folders[0])
			m, err := readManifest(folders[0], "")
			if err == nil {
				t.Fatal("the manifest does not see it")
			}
			os.Remove(filepath.Join(folders[0], manifestName))
			if err := (manifest{Format: format, Digest: m.Digest, Count: m.Count}).write(folders[0]); err != nil {
				t.Fatal(err)
			}
			x := open(t, dir, in)
			if !x.Built || len(x.Notes) != 1 || x.Len() != len(smallRoster) {
				t.Errorf("built %v, notes %q, %d records", x.Built, x.Notes, x.Len())
			}
		})
	}
}
