package index

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestMend: what is whole stays, what is damaged, of another format or half made goes and is told, and the next opening builds again.
func TestMend(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	in := inputs(smallRecords(), "a")
	if found, err := Mend(ctx, dir, in.Rosters, in.graves()); len(found) != 0 || err != nil {
		t.Errorf("nothing there: %v, %v", found, err)
	}
	open(t, dir, in).Close()
	records, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, recordsKind+"-*"))
	state := func() map[string]Derived {
		t.Helper()
		found, err := Mend(ctx, dir, in.Rosters, in.graves())
		if err != nil {
			t.Fatal(err)
		}
		all := map[string]Derived{}
		for _, d := range found {
			all[d.Name] = d
		}
		return all
	}
	if d := state()[filepath.Base(records[0])]; d.Mended || !d.Whole {
		t.Errorf("a whole index: %+v", d)
	}
	if found, err := Mend(ctx, dir, "of other rosters", in.graves()); err != nil || len(found) != 1 || !found[0].Whole || !found[0].Old {
		t.Errorf("a whole index of other rosters: %+v, %v", found, err)
	}
	// The index of words is of the stones too.
	x := open(t, dir, in)
	if _, err := x.Find(ctx, "holden", FindOptions{Limit: 1}); err != nil {
		t.Fatal(err)
	}
	x.Close()
	for _, tt := range []struct {
		rosters, graves        string
		recordsOld, wordsOlder bool
	}{{in.Rosters, in.graves(), false, false}, {in.Rosters, "of other stones", false, true}, {"of other rosters", in.graves(), true, true}} {
		found, err := Mend(ctx, dir, tt.rosters, tt.graves)
		if err != nil || len(found) != 2 {
			t.Fatalf("%+v, %v", found, err)
		}
		for _, d := range found {
			if want := d.Words && tt.wordsOlder || !d.Words && tt.recordsOld; !d.Whole || d.Old != want {
				t.Errorf("of %q and %q: %+v, want old %v", tt.rosters, tt.graves, d, want)
			}
		}
	}
	instead := func(was, is string) func(t *testing.T) {
		return func(t *testing.T) {
			path := filepath.Join(records[0], manifestName)
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			old := strings.Replace(string(b), was, is, 1)
			if old == string(b) {
				t.Fatalf("no %s in %s", was, b)
			}
			if err := os.WriteFile(path, []byte(old), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	for _, c := range []struct {
		how, says string
		harm      func(t *testing.T)
	}{
		{"an older format", "is of another version of the program", instead(`"format":"`+format+`"`, `"format":"1"`)},
		{"records of another shape", "is of another version of the program", instead(sharedShape(), "0123abcd")},
		{"no manifest", "no such file", func(t *testing.T) {
			if err := os.Remove(filepath.Join(records[0], manifestName)); err != nil {
				t.Fatal(err)
			}
		}},
	} {
		t.Run(c.how, func(t *testing.T) {
			c.harm(t)
			if err := os.Mkdir(filepath.Join(dir, DerivedFolder, buildingName+"1"), 0o755); err != nil {
				t.Fatal(err)
			}
			found := state()
			if d := found[filepath.Base(records[0])]; !d.Mended || d.Whole || !strings.Contains(d.State, c.says) {
				t.Errorf("%+v", d)
			}
			if d := found[buildingName+"1"]; !d.Mended {
				t.Errorf("half made: %+v", d)
			}
			if x := open(t, dir, in); !x.Built || x.Len() != len(smallRoster) {
				t.Errorf("built %v, %d records", x.Built, x.Len())
			}
		})
	}
}
