package surveytest_test

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/testdata/surveytest"
)

// heard takes down what Check has against a maker.
type heard struct {
	testing.TB
	said []string
}

func (h *heard) Errorf(format string, of ...any) { h.said = append(h.said, fmt.Sprintf(format, of...)) }

// TestCheck: a maker that keeps its promise is let pass, and each way to break it is told.
func TestCheck(t *testing.T) {
	promise := surveytest.Promise{Records: 2, Stones: 2, Known: 1, Files: []string{"roster.csv", "stones.csv", "truth.csv"}}
	for _, c := range []struct{ name, file, old, new, want string }{
		{"kept", "", "", "", ""},
		{"an id twice", "stones.csv", "s2", "s1", `id "s1" is empty or comes twice`},
		{"a record too few", "roster.csv", "r2,SEED\n", "", "1 records, want 2"},
		{"a stone too few", "stones.csv", "s2,SEED\n", "", "1 stones and rows of registers, want 2"},
		{"truth of nobody", "truth.csv", "r2", "r9", "truth pairs s2 with r9"},
		{"truth twice", "truth.csv", "s2,r2,SEED", "s1,r1,SEED", "truth pairs [\"s1\" \"r1\"] twice"},
		{"half known", "truth.csv", "s2,r2,SEED\n", "", "0.500 of the stones"},
		{"the seed unused", "roster.csv", "SEED", "0", "another seed makes the same bytes"},
		{"a roster of another name", "roster.csv", "", "", `files ["roster-b.csv"`},
	} {
		files := map[string]string{"roster.csv": "id,seed\nr1,SEED\nr2,SEED\n", "stones.csv": "id,seed\ns1,SEED\ns2,SEED\n", "truth.csv": "stone,record,seed\ns1,r1,SEED\ns2,r2,SEED\n"}
		if c.old != "" {
			files[c.file] = strings.ReplaceAll(files[c.file], c.old, c.new)
		} else if c.want != "" {
			files["roster-b.csv"] = files[c.file]
			delete(files, c.file)
		}
		h := &heard{TB: t}
		surveytest.Check(h, promise, func(dir string, seed uint64) error {
			for name, text := range files {
				if err := os.WriteFile(filepath.Join(dir, name), []byte(strings.ReplaceAll(text, "SEED", fmt.Sprint(seed))), 0o644); err != nil {
					return err
				}
			}
			return nil
		})
		if said := strings.Join(h.said, "; "); c.want == "" && said != "" || !strings.Contains(said, c.want) {
			t.Errorf("%s: told %q, want %q", c.name, said, c.want)
		}
	}
}

// TestCheckBytes: a maker that makes other bytes each time is told.
func TestCheckBytes(t *testing.T) {
	n := 0
	h := &heard{TB: t}
	surveytest.Check(h, surveytest.Promise{Stones: 1, Known: 0, Files: []string{"stones.csv", "truth.csv"}}, func(dir string, seed uint64) error {
		n++
		if err := os.WriteFile(filepath.Join(dir, "truth.csv"), fmt.Appendf(nil, "stone,record,seed%d\n", seed), 0o644); err != nil {
			return err
		}
		return os.WriteFile(filepath.Join(dir, "stones.csv"), fmt.Appendf(nil, "id,n\ns1,%d\n", n), 0o644)
	})
	if want := []string{"stones.csv: the same seed does not make the same bytes"}; strings.Join(h.said, "; ") != want[0] {
		t.Errorf("told %q, want %q", h.said, want)
	}
}
