package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"musterstone/link/ledger"
)

// TestClock: commands that date a decision, or judge by the year who may be living, refuse a clock that cannot be right and tell of one that looks wrong beside the ledger; the
// others do not care.
func TestClock(t *testing.T) {
	alder := filepath.Join(t.TempDir(), "alder")
	if err := os.CopyFS(alder, os.DirFS("internal/demo/survey")); err != nil {
		t.Fatal(err)
	}
	run := func(year int, args ...string) (status int, said string) {
		var out, errs bytes.Buffer
		a := &app{in: strings.NewReader(""), out: &out, err: &errs, userName: userName, now: func() time.Time { return time.Date(year, 11, 1, 12, 0, 0, 0, time.UTC) }}
		status = a.report(a.cli().RunContext(context.Background(), append([]string{"musterstone"}, args...)))
		return status, out.String() + errs.String()
	}
	decide := func(stone string) []string {
		return []string{"decide", "--survey", alder, "--stone", stone, "--as", "unsure", "--by", "Ann Novak"}
	}
	if status, said := run(2026, decide("OM-03")...); status != 0 {
		t.Fatalf("status %d\n%s", status, said)
	}
	before, err := os.ReadFile(filepath.Join(alder, ledger.FileName))
	if err != nil {
		t.Fatal(err)
	}
	out := filepath.Join(t.TempDir(), "out")
	const cannot, odd = "clock says 1970-11-01, which cannot be: set the clock right first", "look whether this clock is right"
	for _, tt := range []struct {
		year   int
		args   []string
		status int
		says   string
	}{
		{1970, decide("OM-04"), 2, cannot},
		{1970, []string{"publish", "--survey", alder, out}, 2, cannot},
		{1970, []string{"unmarked", "--survey", alder}, 2, cannot},
		{1970, []string{"dossier", "--survey", alder, "--stone", "OM-02", out}, 2, cannot},
		{1970, []string{"changes", "--survey", alder, "internal/demo/survey"}, 2, cannot},
		{1970, []string{"review", "--survey", alder, "--no-open"}, 2, cannot},
		{1970, []string{"propose", "--survey", alder}, 0, ""},
		{2024, []string{"publish", "--survey", alder, "--dry-run"}, 0, odd},
		{2099, []string{"publish", "--survey", alder, "--dry-run"}, 0, odd},
		{2027, []string{"publish", "--survey", alder, "--dry-run"}, 0, ""},
	} {
		status, said := run(tt.year, tt.args...)
		if status != tt.status || !strings.Contains(said, tt.says) || tt.says == "" && strings.Contains(said, "clock") {
			t.Errorf("%d %v: status %d\n%s", tt.year, tt.args[0], status, said)
		}
	}
	if now, _ := os.ReadFile(filepath.Join(alder, ledger.FileName)); !bytes.Equal(now, before) {
		t.Error("the ledger was changed")
	}
	if _, err := os.Stat(out); err == nil {
		t.Error("something was published")
	}
}
