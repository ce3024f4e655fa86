//go:build linux

package main

import (
	"os"
	"strings"
	"testing"
)

// TestLocks: a file system that keeps no locks, or says that it does and gives one to two at once, gets no decisions, and check says so; of a network share it is told that
// nobody can say from here what other computers do. strace has the system calls answer so.
func TestLocks(t *testing.T) {
	base, strace := newFaults(t)
	decide := []string{"decide", "--survey", "alder", "--stone", "OM-02", "--record", "U005", "--as", "confirmed", "--by", "Ann Novak"}
	merge := []string{"merge", "--into", "alder", "theirs.jsonl"}
	check := []string{"check", "--survey", "alder"}
	const noLocks, share = "does not keep locks", "network share (NFS)"
	for _, tt := range []struct {
		name, call, inject string
		args               []string
		ended              bool // with status 0
		says               string
	}{
		{"lies, decide", "flock", "retval=0", decide, false, noLocks},
		{"lies, merge", "flock", "retval=0", merge, false, noLocks},
		{"lies, check", "flock", "retval=0", check, false, noLocks},
		{"lies, propose", "flock", "retval=0", []string{"propose", "--survey", "alder"}, true, ""},
		{"none, decide", "flock", "error=ENOLCK", decide, false, noLocks},
		{"none, merge", "flock", "error=EOPNOTSUPP", merge, false, noLocks},
		{"none, check", "flock", "error=ENOSYS", check, false, noLocks},
		{"none, review", "flock", "error=ENOLCK", []string{"review", "--survey", "alder", "--listen", "203.0.113.7:9"}, false, "but no decisions can be made in this folder: "}, // an address of no machine (RFC 5737)
		{"share, decide", "statfs", "poke_exit=@arg2=6969000000000000", decide, true, share},
		{"share, merge", "statfs", "poke_exit=@arg2=6969000000000000", merge, true, share},
		{"share, check", "statfs", "poke_exit=@arg2=6969000000000000", check, true, share},
	} {
		t.Run(tt.name, func(t *testing.T) {
			f := *base
			dir := f.copy(t)
			f.before = digests(t, dir)
			printed, ended := f.traced(t, strace, dir, tt.args, "-o", os.DevNull, "-e", "trace="+tt.call, "-e", "inject="+tt.call+":"+tt.inject)
			if ended != tt.ended || !strings.Contains(printed, tt.says) {
				t.Errorf("ended well: %v, said:\n%s", ended, printed)
			}
			if tt.says == noLocks && !strings.Contains(printed, "copy the survey to a disk of this computer") {
				t.Errorf("does not say what to do:\n%s", printed)
			}
			if !ended {
				now := digests(t, dir)
				untouched(t, &f, now)
				if own := "alder/decisions.jsonl"; now[own] != f.before[own] {
					t.Error("the ledger was changed")
				}
			}
		})
	}
}
