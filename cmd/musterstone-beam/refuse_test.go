package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/apache/beam/sdks/v2/go/pkg/beam"

	"musterstone/index/intake"
	"musterstone/link"
	"musterstone/link/ledger"
	"musterstone/testdata/county"
)

// made makes a small survey and gives options for it.
func made(t *testing.T) options {
	t.Helper()
	opt := defaults()
	opt.Survey, opt.Out, opt.Rounds = t.TempDir(), t.TempDir(), 60
	if err := county.Make(opt.Survey, county.Options{Seed: 4, Records: 300, Stones: 20}); err != nil {
		t.Fatal(err)
	}
	return opt
}

// runFails runs the pipeline and looks that it fails with the words, and leaves no proposals.
func runFails(t *testing.T, opt options, words string) {
	t.Helper()
	p, s := beam.NewPipelineWithRoot()
	err := build(s, opt)
	if err == nil {
		_, err = beam.Run(context.Background(), "prism", p)
	}
	if err == nil || !strings.Contains(err.Error(), words) {
		t.Errorf("the run ends with %v, want an error that says %q", err, words)
	}
	if left, _ := filepath.Glob(filepath.Join(opt.Out, "*")); len(left) > 0 {
		t.Errorf("it leaves %v", left)
	}
}

// TestRefuses: what one machine would do otherwise is refused, and so is what no worker can hold or no round has learned.
func TestRefuses(t *testing.T) {
	t.Run("an id in two tables", func(t *testing.T) {
		opt := made(t)
		b, err := os.ReadFile(filepath.Join(opt.Survey, "roster-made.csv"))
		if err != nil {
			t.Fatal(err)
		}
		lines := bytes.SplitAfterN(b, []byte("\n"), 3)
		if err := os.WriteFile(filepath.Join(opt.Survey, "roster-two.csv"), append(lines[0], lines[1]...), 0o644); err != nil {
			t.Fatal(err)
		}
		runFails(t, opt, "the same id")
	})
	t.Run("too large a component", func(t *testing.T) {
		opt := made(t)
		rows := "id,inscription\n"
		survey, err := intake.Open(opt.Survey)
		if err != nil {
			t.Fatal(err)
		}
		for r := range survey.Records(nil) {
			for _, id := range []string{"a", "b", "c"} {
				rows += id + "," + strings.ToUpper(r.Person.Name.Given+" "+r.Person.Name.Surname+" CO. "+r.Service.Unit.Company) + "\n"
			}
			break
		}
		if err := os.WriteFile(filepath.Join(opt.Survey, "stones.csv"), []byte(rows), 0o644); err != nil {
			t.Fatal(err)
		}
		opt.Component = 2
		runFails(t, opt, "3 stones contend")
	})
	t.Run("too few rounds", func(t *testing.T) {
		opt := made(t)
		opt.Rounds = 2
		runFails(t, opt, "--rounds")
	})
	t.Run("decisions", func(t *testing.T) {
		opt := made(t)
		line := `{"id":"d1","at":"2026-05-01T10:00:00Z","by":"A. Person","stone":"s1","record":"r1","as":"confirmed"}` + "\n"
		if err := os.WriteFile(filepath.Join(opt.Survey, ledger.FileName), []byte(line), 0o644); err != nil {
			t.Fatal(err)
		}
		runFails(t, opt, "decisions")
	})
}

// TestForest: stones hang together by chains of claims, in whatever order these come.
func TestForest(t *testing.T) {
	for _, order := range [][][2]int{{{1, 2}, {5, 6}, {2, 9}, {6, 7}}, {{6, 7}, {2, 9}, {5, 6}, {1, 2}}, {{2, 9}, {5, 6}, {1, 2}, {7, 6}}} {
		a, b := trees{forest{}}, trees{forest{}}
		for i, e := range order {
			if i%2 == 0 {
				a.f.join(e[0], e[1])
			} else {
				b.f.join(e[0], e[1])
			}
		}
		all := joinTrees(a, b)
		for s, want := range map[int]int{1: 1, 2: 1, 9: 1, 5: 5, 6: 5, 7: 5} {
			if got := all.f.root(s); got != want {
				t.Errorf("%v: the component of %d is %d, want %d", order, s, got, want)
			}
		}
	}
}

// TestElements: an element is read as it was written, and a damaged one is told.
func TestElements(t *testing.T) {
	f := link.NewFit()
	f.Shifts["31 WI"] = 1.0 / 3
	b, err := pack(f)
	if err != nil {
		t.Fatal(err)
	}
	got := &link.Fit{}
	if err := unpack(b, got); err != nil || got.Shifts["31 WI"] != 1.0/3 {
		t.Errorf("%+v, %v", got, err)
	}
	if err := unpack(b[:len(b)/2], got); err == nil {
		t.Error("half an element is read")
	}
}
