//go:build linux

package main

import (
	"bytes"
	"crypto/sha256"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"musterstone/link/ledger"
)

// A faulted is a command that is run while its system calls fail, in a folder of its own that has a survey "alder", a colleague's ledger "theirs.jsonl" and a
// publication "out" of an earlier state.
type faulted struct {
	name  string
	args  []string
	calls []string // the system calls that are made to fail, one at a time
	// judge holds the folder against what it was before and what it is after a run without fault, and runs the next command there. Ended is whether the run
	// ended with status 0, printed what it printed.
	judge func(t *testing.T, f *faults, dir string, ended bool, printed string)
}

// faults is what all runs share.
type faults struct {
	program, template string
	printed           string // what the run without fault prints
	before, after     map[string]string
}

// TestFaults lets steps of each writing command fail: openings, writes, flushes, renames and removals with an error of the disk, with a full disk, and with the end
// of the process. Afterwards the survey is as it was before or as it is after, what was acknowledged is there, and the next run works. strace makes the faults
// (strace(1), "--inject"). A run takes the middle and the last step of each kind; with MUSTERSTONE_FAULTS=100, a hundred of each or more.
func TestFaults(t *testing.T) {
	if testing.Short() {
		t.Skip("some hundred runs of the program")
	}
	base, strace := newFaults(t)
	write := []string{"openat", "write", "fsync"}
	for _, w := range []faulted{
		{"decide", []string{"decide", "--survey", "alder", "--stone", "OM-02", "--record", "U005", "--as", "confirmed", "--by", "Ann Novak"},
			[]string{"openat", "pwrite64", "fsync"}, judgeDecide},
		{"merge", []string{"merge", "--into", "alder", "theirs.jsonl"}, append(write, "renameat"), judgeMerge},
		{"propose", []string{"propose", "--survey", "alder"}, append(write, "pwrite64", "renameat", "mkdirat", "unlinkat", "mmap"), judgePropose},
		{"publish", []string{"publish", "--survey", "alder", "--site=false", "out"}, append(write, "renameat", "renameat2", "mkdirat", "unlinkat"), judgePublish},
	} {
		t.Run(w.name, func(t *testing.T) {
			f := *base
			f.walk(t, strace, w)
		})
	}
}

// newFaults lays the folder of which each run gets a copy, and gives the path of strace; without it the test skips.
func newFaults(t *testing.T) (base *faults, strace string) {
	t.Helper()
	strace, err := exec.LookPath("strace")
	if err == nil {
		err = exec.Command(strace, "-f", "-o", os.DevNull, "-e", "inject=fsync:error=EIO:when=1", "true").Run()
	}
	if err != nil {
		lack(t, "strace cannot be used: %v", err)
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	base = &faults{program: filepath.Join(t.TempDir(), "musterstone"), template: t.TempDir()}
	if err := os.Symlink(self, base.program); err != nil {
		t.Fatal(err)
	}
	base.lay(t)
	return base, strace
}

// lay makes the folder that each run gets a copy of.
func (f *faults) lay(t *testing.T) {
	t.Helper()
	in := func(args ...string) {
		t.Helper()
		if status, out := f.run(f.template, args...); status != 0 && status != exitProblems {
			t.Fatalf("%v: status %d\n%s", args, status, out)
		}
	}
	if err := os.CopyFS(filepath.Join(f.template, "alder"), os.DirFS("internal/demo/survey")); err != nil {
		t.Fatal(err)
	}
	os.RemoveAll(filepath.Join(f.template, "alder", ".musterstone"))
	in("decide", "--survey", "alder", "--stone", "OM-01", "--record", "U020", "--as", "confirmed", "--by", "Bea Ost")
	theirs := filepath.Join(f.template, "alder", ledger.FileName)
	if err := os.Rename(theirs, filepath.Join(f.template, "theirs.jsonl")); err != nil {
		t.Fatal(err)
	}
	in("publish", "--survey", "alder", "--site=false", "out")
	in("decide", "--survey", "alder", "--stone", "OM-01", "--as", "unsure", "--by", "Ann Novak")
	os.RemoveAll(filepath.Join(f.template, "alder", ".musterstone"))
}

// run runs the program without fault.
func (f *faults) run(dir string, args ...string) (status int, out string) {
	cmd := exec.Command(f.program, args...)
	cmd.Dir = dir
	b, err := cmd.CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		return -1, err.Error()
	}
	return cmd.ProcessState.ExitCode(), string(b)
}

func (f *faults) copy(t *testing.T) string {
	t.Helper()
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(f.template)); err != nil {
		t.Fatal(err)
	}
	return dir
}

// walk finds out how often the command makes each call, and lets them fail one after the other.
func (f *faults) walk(t *testing.T, strace string, w faulted) {
	dir := f.copy(t)
	trace := filepath.Join(t.TempDir(), "trace")
	f.before = digests(t, dir)
	f.printed, _ = f.traced(t, strace, dir, w.args, "--seccomp-bpf", "-o", trace, "-e", "trace="+strings.Join(w.calls, ","))
	f.after = digests(t, dir)
	times := countCalls(t, trace, w.calls)
	many := 0
	if text := os.Getenv("MUSTERSTONE_FAULTS"); text != "" {
		var err error
		if many, err = strconv.Atoi(text); err != nil {
			t.Fatalf("MUSTERSTONE_FAULTS says how many steps of each call: 100, and not %q", text)
		}
	}
	runs := 0
	for _, call := range w.calls {
		for _, fault := range []string{"error=EIO", "error=ENOSPC", "signal=KILL"} {
			if call == "mmap" && fault != "error=ENOSPC" {
				continue // ENOMEM would be the runtime's own end
			}
			for _, n := range steps(times[call], many) {
				runs++
				inject := fmt.Sprintf("inject=%s:%s:when=%d", call, fault, n)
				dir := f.copy(t)
				printed, ended := f.traced(t, strace, dir, w.args, "--seccomp-bpf", "-o", os.DevNull, "-e", "trace="+call, "-e", inject)
				if !t.Run(inject, func(t *testing.T) { w.judge(t, f, dir, ended, printed) }) {
					t.Logf("printed:\n%s", printed)
				}
				os.RemoveAll(dir)
			}
		}
	}
	if runs < len(w.calls) {
		t.Errorf("%d runs with faults: calls %v", runs, times)
	}
	t.Logf("%d runs with faults; calls %v", runs, times)
}

// steps are the numbers of the calls that are made to fail: one in the middle and the last or, where many is given, all up to as many and then at least as many over
// the whole run.
func steps(n, many int) []int {
	var s []int
	for i := 1; i <= n; i++ {
		if many > 0 && (n <= many || i%(n/many) == 0) || i == n || i == (n+1)/2 {
			s = append(s, i)
		}
	}
	return s
}

// traced runs the command under strace. One processor, so that the calls come from few threads: strace counts those of each thread by themselves.
func (f *faults) traced(t *testing.T, strace, dir string, args []string, options ...string) (printed string, ended bool) {
	t.Helper()
	cmd := exec.Command(strace, append(append([]string{"-f"}, options...), append([]string{f.program}, args...)...)...)
	cmd.Dir = dir
	cmd.Env = append(os.Environ(), "GOMAXPROCS=1")
	var out, errs bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &errs
	err := cmd.Run()
	return out.String() + errs.String(), err == nil
}

func countCalls(t *testing.T, trace string, calls []string) map[string]int {
	t.Helper()
	b, err := os.ReadFile(trace)
	if err != nil {
		t.Fatal(err)
	}
	type key struct{ thread, call string }
	counts, most := map[key]int{}, map[string]int{}
	for line := range strings.Lines(string(b)) {
		thread, rest, _ := strings.Cut(line, " ")
		call, _, ok := strings.Cut(strings.TrimSpace(rest), "(")
		if ok && slices.Contains(calls, call) {
			k := key{thread, call}
			counts[k]++
			most[call] = max(most[call], counts[k])
		}
	}
	return most
}

// digests are those of the files below a folder, by name.
func digests(t *testing.T, dir string) map[string]string {
	t.Helper()
	all := map[string]string{}
	err := filepath.WalkDir(dir, func(path string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		rel, _ := filepath.Rel(dir, path)
		all[filepath.ToSlash(rel)] = fmt.Sprintf("%x", sha256.Sum256(b))
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return all
}

// below are the entries of a folder.
func below(files map[string]string, folder string) string {
	var lines []string
	for name, sum := range files {
		if strings.HasPrefix(name, folder+"/") {
			lines = append(lines, name+" "+sum)
		}
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}

// untouched finds a file of the survey that a fault has changed, but for the ledger.
func untouched(t *testing.T, f *faults, now map[string]string) {
	t.Helper()
	for name, sum := range f.before {
		if strings.HasPrefix(name, "alder/") && name != "alder/"+ledger.FileName && now[name] != sum {
			t.Errorf("%s is not as it was", name)
		}
	}
}

// standing are the decisions of the survey, as "stone record by".
func standing(t *testing.T, dir string) []string {
	t.Helper()
	l, err := ledger.Open(filepath.Join(dir, "alder", ledger.FileName))
	if err != nil {
		t.Fatal(err)
	}
	var all []string
	for _, d := range l.Decisions() {
		all = append(all, fmt.Sprintf("%s %s %s", d.Stone, d.Record, d.By))
	}
	slices.Sort(all)
	return all
}

// decideNext makes another decision, which must go well and lose none.
func decideNext(t *testing.T, f *faults, dir string) {
	t.Helper()
	before := standing(t, dir)
	if status, out := f.run(dir, "decide", "--survey", "alder", "--stone", "OM-03", "--as", "unsure", "--by", "Cy Dahl"); status != 0 {
		t.Errorf("the next decision: status %d\n%s", status, out)
	}
	want := append(before, "OM-03  Cy Dahl")
	slices.Sort(want)
	if got := standing(t, dir); !slices.Equal(got, want) {
		t.Errorf("decisions %q, want %q", got, want)
	}
	if status, out := f.run(dir, "check", "--survey", "alder"); status != 0 && !strings.Contains(out, ".torn-") {
		t.Errorf("check: status %d\n%s", status, out)
	}
}

func judgeDecide(t *testing.T, f *faults, dir string, ended bool, printed string) {
	untouched(t, f, digests(t, dir))
	before, after := []string{"OM-01  Ann Novak"}, []string{"OM-01  Ann Novak", "OM-02 U005 Ann Novak"}
	got := standing(t, dir)
	if !slices.Equal(got, after) && (ended || strings.Contains(printed, "confirmed by") || !slices.Equal(got, before)) {
		t.Errorf("decisions %q; acknowledged: %v", got, ended)
	}
	decideNext(t, f, dir)
}

func judgeMerge(t *testing.T, f *faults, dir string, ended bool, printed string) {
	now := digests(t, dir)
	untouched(t, f, now)
	own := "alder/" + ledger.FileName
	if now[own] != f.after[own] && (ended || now[own] != f.before[own]) {
		t.Errorf("the ledger is neither as before nor as after")
	}
	if now["theirs.jsonl"] != f.before["theirs.jsonl"] {
		t.Error("the other ledger was changed")
	}
	decideNext(t, f, dir)
	if status, out := f.run(dir, "merge", "--into", "alder", "theirs.jsonl"); status != 0 {
		t.Errorf("merge again: status %d\n%s", status, out)
	}
	if got := standing(t, dir); len(got) != 3 {
		t.Errorf("decisions %q", got)
	}
}

func judgePropose(t *testing.T, f *faults, dir string, ended bool, printed string) {
	now := digests(t, dir)
	untouched(t, f, now)
	if own := "alder/" + ledger.FileName; now[own] != f.before[own] {
		t.Error("the ledger was changed")
	}
	if ended && !strings.HasPrefix(printed, f.printed) {
		t.Errorf("ended well, and printed something else:\n%s", printed)
	}
	if _, out := f.run(dir, "check", "--survey", "alder"); strings.Contains(out, "panic") {
		t.Errorf("check: %s", out)
	}
	// What was left behind goes once it is old.
	kept := filepath.Join(dir, "alder", ".musterstone")
	old := time.Now().Add(-2 * time.Hour)
	hidden, _ := filepath.Glob(filepath.Join(kept, ".*-*"))
	for _, name := range hidden {
		if err := os.Chtimes(name, old, old); err != nil {
			t.Fatal(err)
		}
	}
	const again = "musterstone: the index of the records could not be used (a roster could not be read when it was made) and was built again\n"
	for i := range 2 { // the first may build again, and says so where a roster was missing; the second finds it built
		status, out := f.run(dir, "propose", "--survey", "alder")
		if i == 0 {
			out = strings.TrimPrefix(out, again)
		}
		if status != 0 || out != f.printed {
			t.Errorf("the next run: status %d, %d bytes, want %d\n%.600s", status, len(out), len(f.printed), out)
		}
	}
	left, _ := filepath.Glob(filepath.Join(kept, "building-*"))
	if hidden, _ := filepath.Glob(filepath.Join(kept, ".*-*")); len(left)+len(hidden) > 0 {
		t.Errorf("left behind: %q %q", left, hidden)
	}
}

func judgePublish(t *testing.T, f *faults, dir string, ended bool, printed string) {
	now := digests(t, dir)
	untouched(t, f, now)
	if got := below(now, "out"); got != below(f.after, "out") && (ended || got != below(f.before, "out")) {
		t.Errorf("the publication is neither as before nor as after:\n%s", got)
	}
	whole := below(now, "out") == below(f.before, "out")
	if status, out := f.run(dir, "publish", "--survey", "alder", "--site=false", "out"); status != 0 {
		t.Errorf("the next publication: status %d\n%s", status, out)
	}
	if got := below(digests(t, dir), "out"); whole && got != below(f.after, "out") {
		t.Error("the next publication is another than without the fault")
	}
}

// TestPublishUnread: a roster that the disk does not give, whenever it is opened, is no reason to publish, or to write a dossier or a list, without it.
func TestPublishUnread(t *testing.T) {
	f, strace := newFaults(t)
	roster := "alder/roster-county.csv"
	for _, args := range [][]string{{"publish", "--survey", "alder", "--site=false", "out"}, {"dossier", "--survey", "alder", "--stone", "OM-02", "man"},
		{"unmarked", "--survey", "alder", "--as", "csv", "--out", "out/leads.csv"}} {
		folder, _, _ := strings.Cut(args[len(args)-1], "/")
		trace := filepath.Join(t.TempDir(), "trace")
		whole := f.copy(t)
		f.traced(t, strace, whole, args, "-o", trace, "-P", roster, "-e", "trace=openat")
		after := below(digests(t, whole), folder)
		opened := countCalls(t, trace, []string{"openat"})["openat"]
		if opened == 0 || after == "" {
			t.Fatalf("%s: %s was opened %d times, and there is in the folder\n%s", args[0], roster, opened, after)
		}
		failed := 0
		for n := 1; n <= opened; n++ {
			dir := f.copy(t)
			before := below(digests(t, dir), folder)
			printed, ended := f.traced(t, strace, dir, args, "-o", os.DevNull, "-P", roster, "-e", "trace=openat", "-e", fmt.Sprintf("inject=openat:error=EIO:when=%d", n))
			// One that only looks whether the file is a workbook in disguise may fail without harm.
			if now := below(digests(t, dir), folder); ended && now != after || !ended && now != before {
				t.Errorf("%s, opening %d of %d fails: ended well: %v; written anew: %v\n%s", args[0], n, opened, ended, now != before, printed)
			}
			if !ended {
				failed++
			}
		}
		if failed == 0 {
			t.Errorf("%s: no opening that failed was noticed", args[0])
		}
	}
}
