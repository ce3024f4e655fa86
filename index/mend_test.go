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
	if found, err := Mend(ctx, dir); len(found) != 0 || err != nil {
		t.Errorf("nothing there: %v, %v", found, err)
	}
	in := inputs(smallRecords(), "a")
	open(t, dir, in).Close()
	records, _ := filepath.Glob(filepath.Join(dir, DerivedFolder, recordsKind+"-*"))
	state := func() map[string]Derived {
		t.Helper()
		found, err := Mend(ctx, dir)
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
	for how, harm := range map[string]func(t *testing.T){
		"an older format": func(t *testing.T) {
			path := filepath.Join(records[0], manifestName)
			b, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			old := strings.Replace(string(b), `"format":"`+format+`"`, `"format":"1"`, 1)
			if old == string(b) {
				t.Fatalf("no format in %s", b)
			}
			if err := os.WriteFile(path, []byte(old), 0o644); err != nil {
				t.Fatal(err)
			}
		},
		"no manifest": func(t *testing.T) {
			if err := os.Remove(filepath.Join(records[0], manifestName)); err != nil {
				t.Fatal(err)
			}
		},
	} {
		t.Run(how, func(t *testing.T) {
			harm(t)
			if err := os.Mkdir(filepath.Join(dir, DerivedFolder, buildingName+"1"), 0o755); err != nil {
				t.Fatal(err)
			}
			found := state()
			if d := found[filepath.Base(records[0])]; !d.Mended || d.Whole {
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
