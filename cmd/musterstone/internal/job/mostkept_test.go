package job

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"musterstone/index"
	"musterstone/link"
)

// TestMostKept: a run that has more to keep than is allowed keeps nothing of it, neither answers nor what stones weigh, and leaves nothing half written.
func TestMostKept(t *testing.T) {
	was := mostKept
	defer func() { mostKept = was }()
	for _, c := range []struct {
		most int64
		kept bool
	}{{was, true}, {150, false}} {
		mostKept = c.most
		dir := layKept(t)
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		k := j.Keep(0.98, false)
		asJSON, inWords := make([]byte, 60), make([]byte, 60)
		for range 2 { // the first fits
			k.Add([]Answer{{Stone: "s1", JSON: asJSON, Text: inWords}}, asJSON, inWords)
		}
		k.Close(true)
		if err := j.Each(context.Background(), 0, func(*link.Told) func() error { return func() error { return nil } }); err != nil {
			t.Fatal(err)
		}
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{keptFile, weighedFile} {
			if _, err := os.Stat(filepath.Join(dir, index.DerivedFolder, name)); (err == nil) != c.kept {
				t.Errorf("at most %d bytes: %s is kept: %v", c.most, name, err == nil)
			}
		}
		if left, _ := filepath.Glob(filepath.Join(dir, index.DerivedFolder, ".*.bin-*")); len(left) > 0 {
			t.Errorf("at most %d bytes: %q are left", c.most, left)
		}
	}
}
