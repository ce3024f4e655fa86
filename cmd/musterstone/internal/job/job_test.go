package job

import (
	"context"
	"errors"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"musterstone/cmd/musterstone/internal/demo"
	"musterstone/index"
	"musterstone/model"
)

func lay(t *testing.T) string {
	t.Helper()
	dir := filepath.Join(t.TempDir(), "alder")
	if err := demo.Lay(dir); err != nil {
		t.Fatal(err)
	}
	return dir
}

func TestJob(t *testing.T) {
	var stages []string
	j, err := Open(lay(t), Options{Program: "test", Progress: func(stage string, done, total int) { stages = append(stages, stage) }})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	ctx := context.Background()
	subjects := j.Subjects()
	if len(subjects) != len(j.Stones()) || len(subjects) < 60 {
		t.Fatalf("%d subjects for %d stones", len(subjects), len(j.Stones()))
	}
	for i, s := range subjects {
		if s.Stone != j.Stones()[i] {
			t.Fatalf("subject %d is of stone %s, want %s", i, s.Stone.ID, j.Stones()[i].ID)
		}
		if len(s.Readings) == 0 || len(s.Implies.Patterns) == 0 {
			t.Errorf("stone %s has %d readings and %d patterns", s.Stone.ID, len(s.Readings), len(s.Implies.Patterns))
		}
	}
	proposals, err := j.Propose(ctx, 0)
	if err != nil {
		t.Fatal(err)
	}
	given := map[model.RecordID]model.StoneID{}
	for i, p := range proposals {
		if p.Stone != subjects[i].Stone.ID {
			t.Errorf("proposal %d is of stone %s, want %s", i, p.Stone, subjects[i].Stone.ID)
		}
		n := 0
		for _, c := range p.Candidates {
			if c.Proposed {
				n++
				if other, ok := given[c.Record]; ok {
					t.Errorf("record %s is proposed for stones %s and %s", c.Record, other, p.Stone)
				}
				given[c.Record] = p.Stone
			}
		}
		if n > 1 {
			t.Errorf("stone %s: %d records proposed", p.Stone, n)
		}
	}
	if _, err := j.Unmarked(ctx, proposals); err != nil {
		t.Error(err)
	}
	if len(stages) == 0 {
		t.Error("no stage told how far it is")
	}
	if c := j.Complaints(); len(c) > 0 {
		t.Errorf("the demo survey has complaints: %v", c)
	}
}

// TestRefused: a folder in which nothing can be read is refused; one broken table beside a good one is a complaint.
func TestRefused(t *testing.T) {
	dir := t.TempDir()
	var refused *Refused
	if _, err := Open(dir, Options{}); !errors.As(err, &refused) {
		t.Errorf("an empty folder: %v, want it refused", err)
	}
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("roster-empty.csv", "")
	write("stones.csv", "id,inscription\na,JOHN DOE\na,JAMES ROE\n")
	j, err := Open(dir, Options{})
	if err != nil {
		t.Fatal(err)
	}
	j.Stones()
	var files []string
	for _, c := range j.Complaints() {
		files = append(files, c.File)
	}
	if len(files) != 2 || files[0] != "roster-empty.csv" || files[1] != "stones.csv" {
		t.Errorf("complaints about %v, want one each about the empty roster and the id given twice, by file", files)
	}
}

// TestDigest: the index is keyed by the bytes of the inputs and the program that understands them.
func TestDigest(t *testing.T) {
	a := inputsDigest("1", map[string]string{"a.csv": "00", "b.csv": "11"})
	for name, b := range map[string]string{
		"another program": inputsDigest("2", map[string]string{"a.csv": "00", "b.csv": "11"}),
		"other bytes":     inputsDigest("1", map[string]string{"a.csv": "01", "b.csv": "11"}),
		"another file":    inputsDigest("1", map[string]string{"a.csv": "00", "c.csv": "11"}),
	} {
		if a == b {
			t.Errorf("%s gives the same digest", name)
		}
	}
}

// TestUnreadApart: the words of stones of which the disk gave a part are not taken for those of all, nor for those of another part.
func TestUnreadApart(t *testing.T) {
	dir := lay(t)
	built := func(unread ...model.Complaint) bool {
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		defer j.Close()
		j.Stones()
		for _, c := range unread {
			j.complain(c)
		}
		x, err := j.Index(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		words := func() string {
			list, err := filepath.Glob(filepath.Join(dir, index.DerivedFolder, "words-*"))
			if err != nil {
				t.Fatal(err)
			}
			return strings.Join(list, "\n")
		}
		before := words()
		if _, err := x.Find(context.Background(), "holden", index.FindOptions{}); err != nil {
			t.Fatal(err)
		}
		return words() != before
	}
	a := model.Complaint{File: "stones.csv", Row: 3, Text: "reading broke off", Unread: true}
	b := a
	b.Row = 30
	for i, tt := range []struct {
		unread []model.Complaint
		built  bool
	}{{nil, true}, {nil, false}, {[]model.Complaint{a}, true}, {[]model.Complaint{a}, false}, {[]model.Complaint{b}, true}, {nil, true}} {
		if got := built(tt.unread...); got != tt.built {
			t.Errorf("step %d: built %v, want %v", i+1, got, tt.built)
		}
	}
}
