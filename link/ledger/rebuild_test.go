package ledger

import (
	"path/filepath"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// TestRebuild: decisions that were kept elsewhere make a ledger that reads as theirs did, without complaint, and no ledger is overwritten.
func TestRebuild(t *testing.T) {
	dir := t.TempDir()
	l := open(t, filepath.Join(dir, "a.jsonl"))
	l.Clock = ticking(time.Hour)
	for _, as := range []model.Verdict{model.Confirmed, model.Refused} {
		if _, err := l.Append(model.Decision{By: "Ann Novak", Stone: "M-1", Record: "r1", As: as, Because: "a < b & \"c\""}); err != nil {
			t.Fatal(err)
		}
	}
	path := filepath.Join(dir, "b.jsonl")
	want := l.Decisions()
	if err := Rebuild(path, []model.Decision{want[1], want[0]}); err != nil {
		t.Fatal(err)
	}
	again := open(t, path)
	if diff := cmp.Diff(want, again.Decisions()); diff != "" || len(again.Complaints()) != 0 {
		t.Errorf("decisions (-want +got):\n%s%v", diff, again.Complaints())
	}
	if err := Rebuild(path, want); err == nil {
		t.Error("a ledger was overwritten")
	}
}
