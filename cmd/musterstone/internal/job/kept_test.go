package job

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"musterstone/index"
	"musterstone/link"
	"musterstone/model"
)

// layKept is lay with the folder in which things are kept.
func layKept(t *testing.T) string {
	t.Helper()
	dir := lay(t)
	if err := os.MkdirAll(filepath.Join(dir, index.DerivedFolder), 0o777); err != nil {
		t.Fatal(err)
	}
	return dir
}

// TestKept keeps two answers and asks for them; a file whose lengths are wrong, made by whoever handed the folder over, answers nothing.
func TestKept(t *testing.T) {
	dir := layKept(t)
	j, err := Open(dir, Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	defer j.Close()
	keep := func(whole bool, wrong func(*keptAnswer)) {
		k := j.Keep(0.98, false)
		asJSON, inWords := []byte("{}\n{\"a\":1}\n"), []byte("one\ntwo\n")
		k.Add([]Answer{{Stone: "s1", Cemetery: "Old Mill", JSON: asJSON[:3], Text: inWords[:4], Proposed: 1}, {Stone: "s2", Cemetery: "Oak Hill", JSON: asJSON[3:], Text: inWords[4:]}}, asJSON, inWords)
		k.Add([]Answer{{Stone: "s3", Cemetery: "Oak Mill", JSON: asJSON[:3], Text: inWords[4:]}}, asJSON[:3], inWords[4:])
		k.Ask([]model.StoneID{"s3"})
		if wrong != nil {
			var list []keptAnswer
			if err := json.Unmarshal(fmt.Appendf(nil, "[%s]", k.answers), &list); err != nil {
				t.Fatal(err)
			}
			wrong(&list[1])
			b, err := json.Marshal(list)
			if err != nil {
				t.Fatal(err)
			}
			k.answers = b[1 : len(b)-1]
		}
		k.Close(whole)
	}
	fit := func(*Answer, bool) bool { return true }
	keep(false, nil)
	if _, ok := j.Kept(0.98, "s1", fit); ok {
		t.Error("a run that was not whole has answers")
	}
	keep(true, nil)
	for only, want := range map[string]string{"s1": "one\n", "oak hill": "two\n", " Old Mill": "one\n", "s3": "two\n"} {
		got, ok := j.Kept(0.98, only, fit)
		if !ok || len(got) != 1 || string(got[0].Text) != want {
			t.Errorf("%q: %v %v, want %q", only, got, ok, want)
		}
	}
	if got, ok := j.Kept(0.98, "nobody", fit); !ok || len(got) != 0 {
		t.Errorf("a stone that is not there has %v, %v", got, ok)
	}
	if _, ok := j.Kept(0.9, "s1", fit); ok {
		t.Error("a run at another precision answers")
	}
	if got, ok := j.Kept(0.98, "oak hill", func(a *Answer, _ bool) bool { return string(a.Text) != "two\n" }); ok {
		t.Errorf("answers that are not fit to print: %v", got)
	}
	whole := func() (text, asJSON string, run *KeptRun, ok bool) {
		run, ok = j.KeptRun(0.98, fit)
		if !ok {
			return "", "", nil, false
		}
		defer run.Close()
		for _, as := range []bool{false, true} {
			if err := run.Each(as, func(a *Answer) { text, asJSON = text+string(a.Text), asJSON+string(a.JSON) }); err != nil {
				t.Fatal(err)
			}
		}
		return text, asJSON, run, true
	}
	if text, asJSON, run, ok := whole(); !ok || text != "one\ntwo\ntwo\n" || asJSON != "{}\n{\"a\":1}\n{}\n" || !run.Sought || !slices.Equal(run.Next, []model.StoneID{"s3"}) {
		t.Errorf("the whole run again: %q, %q, %+v, %v", text, asJSON, run, ok)
	}
	if _, ok := j.KeptRun(0.9, fit); ok {
		t.Error("a whole run at another precision answers")
	}
	if _, ok := j.KeptRun(0.98, func(a *Answer, _ bool) bool { return a.Stone != "s2" }); ok {
		t.Error("a whole run answers with what is not fit to print")
	}
	for _, brief := range []bool{true, false} {
		k := j.Keep(0.98, brief)
		k.Add([]Answer{{Stone: "s1", JSON: []byte("{}\n"), Text: []byte("one\n")}}, []byte("{}\n"), []byte("one\n"))
		k.Close(true)
		told := func(_ *Answer, is bool) bool { return is == brief }
		if got, ok := j.Kept(0.98, "s1", told); !ok || len(got) != 1 {
			t.Errorf("kept in brief %v, which is not told: %v %v", brief, got, ok)
		}
		run, ok := j.KeptRun(0.98, told)
		if !ok {
			t.Fatalf("a whole run kept in brief %v, which is not told", brief)
		}
		run.Close()
	}
	for name, wrong := range map[string]func(*keptAnswer){
		"long": func(k *keptAnswer) { k.Text = 1 << 40 }, "negative": func(k *keptAnswer) { k.JSON = -1 }, "far": func(k *keptAnswer) { k.At = 1 << 50 },
		"words far": func(k *keptAnswer) { k.TextAt = 1<<63 - 1 }, "another's words": func(k *keptAnswer) { k.TextAt -= 4 },
	} {
		keep(true, wrong)
		if got, ok := j.Kept(0.98, "s2", fit); ok {
			t.Errorf("%s: a wrong table answers %v", name, got)
		}
		if text, _, _, ok := whole(); ok {
			t.Errorf("%s: a wrong table answers with %q", name, text)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(dir, index.DerivedFolder, ".*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

// TestKeptOpening: a table beside the survey's that was complained of when answers were kept, and has gone since, is not complained of when they are printed again.
func TestKeptOpening(t *testing.T) {
	dir := layKept(t)
	open := func() *Job {
		t.Helper()
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		return j
	}
	before := open().Complaints()
	beside := filepath.Join(dir, "roster-beside.csv")
	if err := os.WriteFile(beside, []byte("tools,seeds\n1,2\n"), 0o666); err != nil {
		t.Fatal(err)
	}
	j := open()
	if len(j.Complaints()) != len(before)+1 {
		t.Fatalf("a table that cannot be read is not complained of: %v", j.Complaints())
	}
	later := model.Complaint{File: "stones.csv", Row: 3, Text: "odd"}
	j.complain(later)
	k := j.Keep(0.98, false)
	k.Add([]Answer{{Stone: "s1", JSON: []byte("{}\n"), Text: []byte("one\n")}}, []byte("{}\n"), []byte("one\n"))
	k.Close(true)
	if err := os.Remove(beside); err != nil {
		t.Fatal(err)
	}
	j = open()
	run, ok := j.KeptRun(0.98, func(*Answer, bool) bool { return true })
	if !ok {
		t.Fatal("no answers are kept")
	}
	run.Close()
	if got, want := j.Complaints(), append(slices.Clone(before), later); len(got) != len(want) || !slices.Contains(got, later) {
		t.Errorf("complaints %v, want %v", got, want)
	}
}

// TestKey: a run over other stones, other decisions, at another precision or by another program is another run; what is weighed hangs on stones and program alone.
func TestKey(t *testing.T) {
	dir := lay(t)
	program := "test"
	keys := func(precision float64) (answers, weighed string) {
		t.Helper()
		j, err := Open(dir, Options{Program: program})
		if err != nil {
			t.Fatal(err)
		}
		asked, err := j.askedOf(precision)
		if err != nil {
			t.Fatal(err)
		}
		if answers, err = j.key(asked); err != nil {
			t.Fatal(err)
		}
		if weighed, err = j.weighedKey(); err != nil {
			t.Fatal(err)
		}
		return answers, weighed
	}
	answers, weighed := keys(0.98)
	if b := build(); b == "" || !strings.HasSuffix(answers, b) || !strings.HasSuffix(weighed, b) {
		t.Errorf("the keys %q and %q do not tell the program's file %q", answers, weighed, b)
	}
	for _, tt := range []struct {
		name    string
		change  func() (precision float64)
		weighed bool // is another too
	}{
		{"precision", func() float64 { return 0.9 }, false},
		{"decisions", func() float64 {
			j, err := Open(dir, Options{Program: program})
			if err != nil {
				t.Fatal(err)
			}
			l, err := j.Ledger()
			if err != nil {
				t.Fatal(err)
			}
			if _, err := l.Append(model.Decision{Stone: "s1", As: model.NoneOfThese, By: "A. Reader"}); err != nil {
				t.Fatal(err)
			}
			return 0.98
		}, false},
		{"program", func() float64 { program = "another"; return 0.98 }, true},
		{"stones", func() float64 {
			f, err := os.OpenFile(filepath.Join(dir, "stones.csv"), os.O_APPEND|os.O_WRONLY, 0)
			if err != nil {
				t.Fatal(err)
			}
			defer f.Close()
			if _, err := f.WriteString("\n"); err != nil {
				t.Fatal(err)
			}
			return 0.98
		}, true},
	} {
		a, w := keys(tt.change())
		if a == answers || (w != weighed) != tt.weighed {
			t.Errorf("after another %s: key of answers %q, was %q; of what is weighed %q, was %q", tt.name, a, answers, w, weighed)
		}
		weighed = w
		answers, _ = keys(0.98)
	}
}

// TestKeptUnread: what was made while the disk failed is not kept.
func TestKeptUnread(t *testing.T) {
	dir := layKept(t)
	j, err := Open(dir, Options{Program: "test"})
	if err != nil {
		t.Fatal(err)
	}
	j.complain(model.Complaint{File: "stones.csv", Row: 3, Text: "reading broke off after this row", Unread: true})
	k := j.Keep(0.98, false)
	k.Add([]Answer{{Stone: "s1", JSON: []byte("{}\n"), Text: []byte("one\n")}}, []byte("{}\n"), []byte("one\n"))
	k.Close(true)
	if err := j.Each(t.Context(), 0, func(*link.Told) func() error { return func() error { return nil } }); err != nil {
		t.Fatal(err)
	}
	if err := j.Close(); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{keptFile, weighedFile} {
		if _, err := os.Stat(filepath.Join(dir, index.DerivedFolder, name)); !errors.Is(err, fs.ErrNotExist) {
			t.Errorf("%s is kept: %v", name, err)
		}
	}
}

// TestKeptChanged: what was read of files that changed while the run was on is kept neither as what stood in them before nor as what stands in them after.
func TestKeptChanged(t *testing.T) {
	for _, file := range []string{"stones.csv", "roster-union.csv", "csv-metadata.json"} {
		dir := lay(t)
		j, err := Open(dir, Options{Program: "test"})
		if err != nil {
			t.Fatal(err)
		}
		k := j.Keep(0.98, false)
		changed := false
		err = j.Each(context.Background(), 0.98, func(told *link.Told) func() error {
			return func() error {
				k.Add([]Answer{{Stone: "s1", JSON: []byte("{}\n"), Text: []byte("one\n")}}, []byte("{}\n"), []byte("one\n"))
				if changed {
					return nil
				}
				changed = true
				f, err := os.OpenFile(filepath.Join(dir, file), os.O_APPEND|os.O_WRONLY, 0)
				if err != nil {
					return err
				}
				_, err = f.WriteString("\n")
				return errors.Join(err, f.Close())
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		k.Close(true)
		if err := j.Close(); err != nil {
			t.Fatal(err)
		}
		for _, name := range []string{keptFile, weighedFile} {
			if _, err := os.Stat(filepath.Join(dir, index.DerivedFolder, name)); !errors.Is(err, fs.ErrNotExist) {
				t.Errorf("%s changed, and %s is kept: %v", file, name, err)
			}
		}
	}
}
