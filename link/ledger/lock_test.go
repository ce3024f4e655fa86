//go:build unix

package ledger

import (
	"os"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"musterstone/model"
)

// TestLinks: no write of the ledger's goes through a link, wherever one was laid in a survey that came from somebody else.
func TestLinks(t *testing.T) {
	torn := `{"id":"2026`
	for _, tt := range []struct {
		name, link string
		there      bool // the file that the link leads to
		ledger     string
		want       string // in the error; "" where the write goes well
	}{
		{"the ledger", "", true, "", "is a link"},
		{"the ledger, to nowhere", "", false, "", "is a link"},
		{"the lock", ".lock", true, "", "is a link"},
		{"the lock, to nowhere", ".lock", false, "", "is a link"},
		{"what was torn off", ".torn-1", true, torn, ""},
		{"what was torn off, to nowhere", ".torn-1", false, torn, ""},
	} {
		t.Run(tt.name, func(t *testing.T) {
			path, victim := fresh(t), filepath.Join(t.TempDir(), "victim")
			if tt.there {
				if err := os.WriteFile(victim, []byte("mine\n"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if tt.ledger != "" {
				if err := os.WriteFile(path, []byte(tt.ledger), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			if err := os.Symlink(victim, path+tt.link); err != nil {
				t.Fatal(err)
			}
			l, err := Open(path)
			if err == nil {
				_, err = l.Append(model.Decision{By: "ann", Stone: "s1", Record: "r1", As: model.Confirmed})
			}
			if tt.want == "" && err != nil || tt.want != "" && (err == nil || !strings.Contains(err.Error(), tt.want)) {
				t.Errorf("error %v, want %q", err, tt.want)
			}
			if got, err := os.ReadFile(victim); tt.there != (err == nil) || tt.there && string(got) != "mine\n" {
				t.Errorf("the other file: %q, %v", got, err)
			}
		})
	}
}

// TestMergeLink: the file that a merged ledger is written to is a new one.
func TestMergeLink(t *testing.T) {
	path, other, victim := fresh(t), fresh(t), filepath.Join(t.TempDir(), "victim")
	add(t, open(t, other), "bob", "s1", "r1", model.Confirmed)
	if err := os.WriteFile(victim, []byte("mine\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := os.Symlink(victim, path+".merging"); err != nil {
		t.Fatal(err)
	}
	l := open(t, path)
	if err := l.MergeInto(other); err != nil || len(l.Entries()) != 1 {
		t.Errorf("%v, %d decisions", err, len(l.Entries()))
	}
	if got, _ := os.ReadFile(victim); string(got) != "mine\n" {
		t.Errorf("the other file: %q", got)
	}
	if info, err := os.Lstat(path); err != nil || !info.Mode().IsRegular() {
		t.Errorf("the ledger: %v, %v", info, err)
	}
}

// TestNoFileLock: a pipe in the place of the lock would be waited on for ever.
func TestNoFileLock(t *testing.T) {
	path := fresh(t)
	if err := syscall.Mkfifo(path+".lock", 0o644); err != nil {
		t.Skip(err)
	}
	if _, err := open(t, path).Append(model.Decision{By: "ann", Stone: "s1", Record: "r1", As: model.Confirmed}); err == nil || !strings.Contains(err.Error(), "is not a file") {
		t.Errorf("error %v", err)
	}
}

func TestTryLocks(t *testing.T) {
	dir := t.TempDir()
	if err := TryLocks(dir); err != nil {
		t.Error(err)
	}
	if left, _ := os.ReadDir(dir); len(left) > 0 {
		t.Errorf("left behind: %v", left)
	}
	if err := TryLocks(filepath.Join(dir, "none")); err == nil {
		t.Error("locks tried in a folder that is not there")
	}
}
