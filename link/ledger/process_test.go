//go:build unix

package ledger

import (
	"bufio"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"os/signal"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"musterstone/model"
)

// The test binary is its own writing program: with LEDGER_WRITER set it appends decisions to the ledger of that path and says each
// that was acknowledged on standard output.
func TestMain(m *testing.M) {
	if path := os.Getenv("LEDGER_WRITER"); path != "" {
		os.Exit(writer(path))
	}
	os.Exit(m.Run())
}

func writer(path string) int {
	n, _ := strconv.Atoi(os.Getenv("LEDGER_COUNT"))
	if limit := os.Getenv("LEDGER_LIMIT"); limit != "" {
		bytes, _ := strconv.ParseUint(limit, 10, 64)
		signal.Ignore(syscall.SIGXFSZ)
		if err := syscall.Setrlimit(syscall.RLIMIT_FSIZE, &syscall.Rlimit{Cur: bytes, Max: bytes}); err != nil {
			fmt.Println("setrlimit:", err)
			return 1
		}
	}
	l, err := Open(path)
	if err != nil {
		fmt.Println("open:", err)
		return 1
	}
	l.Wait = 30 * time.Second
	for i := range n {
		d, err := l.Append(model.Decision{By: os.Getenv("LEDGER_BY"), Stone: model.StoneID(fmt.Sprint("s", i)), Record: "r", As: model.Confirmed,
			Because: strings.Repeat("because ", i%50)})
		if err != nil {
			fmt.Println("append:", err)
			return 1
		}
		fmt.Println(d.ID)
	}
	return 0
}

func child(path, by string, n int, env ...string) *exec.Cmd {
	c := exec.Command(os.Args[0])
	c.Env = append(os.Environ(), append(env, "LEDGER_WRITER="+path, "LEDGER_BY="+by, "LEDGER_COUNT="+strconv.Itoa(n))...)
	return c
}

// Writers are killed at random moments, fifty of them, or as many as MUSTERSTONE_KILLS says: every acknowledged decision is there, at most one more of
// each, and no complaint.
func TestKill(t *testing.T) {
	kills := 50
	if n, err := strconv.Atoi(os.Getenv("MUSTERSTONE_KILLS")); err == nil {
		kills = n
	}
	path := fresh(t)
	r := rand.New(rand.NewPCG(5, 6))
	acknowledged := map[string]bool{}
	total := 0
	for k := range kills {
		by := fmt.Sprint("writer ", k)
		c := child(path, by, 1000000)
		out, err := c.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := c.Start(); err != nil {
			t.Fatal(err)
		}
		time.AfterFunc(time.Duration(r.IntN(120_000))*time.Microsecond, func() { c.Process.Kill() })
		mine := 0
		for lines := bufio.NewScanner(out); lines.Scan(); {
			if strings.Contains(lines.Text(), ":") {
				t.Fatalf("writer %d: %s", k, lines.Text())
			}
			acknowledged[lines.Text()] = true
			mine++
		}
		c.Wait()
		total += mine
		l := open(t, path)
		got := map[string]bool{}
		his := 0
		for _, e := range l.Entries() {
			got[e.ID] = true
			if e.By == by {
				his++
			}
		}
		for id := range acknowledged {
			if !got[id] {
				t.Fatalf("kill %d: acknowledged decision %s is lost", k, id)
			}
		}
		if his != mine && his != mine+1 {
			t.Fatalf("kill %d: %d decisions acknowledged, %d there", k, mine, his)
		}
	}
	if total == 0 {
		t.Error("no writer lived long enough to write anything")
	}
	t.Logf("%d acknowledged decisions over %d kills", total, kills)
}

func TestTwoProcesses(t *testing.T) {
	path := fresh(t)
	const n = 60
	var wg sync.WaitGroup
	for _, by := range []string{"ann", "bob", "ann"} { // two of them in one name
		wg.Go(func() {
			if out, err := child(path, by, n).CombinedOutput(); err != nil {
				t.Errorf("%s: %v\n%s", by, err, out)
			}
		})
	}
	wg.Wait()
	l := open(t, path)
	if len(l.Entries()) != 3*n || l.Complaints() != nil {
		t.Errorf("%d decisions, want %d; complaints %v", len(l.Entries()), 3*n, l.Complaints())
	}
	if got := l.State().Count(Confirmed); got != n {
		t.Errorf("%d pairs confirmed, want %d", got, n)
	}
}

// The kernel lets the file grow to a limit and then writes short, as a full disk does.
func TestFullDisk(t *testing.T) {
	for _, limit := range []int{1, 100, 700, 1500, 3000, 3001, 3100} {
		path := fresh(t)
		out, err := child(path, "ann", 100, "LEDGER_LIMIT="+strconv.Itoa(limit)).CombinedOutput()
		lines := strings.Split(strings.TrimSpace(string(out)), "\n")
		said := lines[len(lines)-1]
		if err == nil || !strings.Contains(said, "file too large; nothing was changed; see to the disk") {
			t.Fatalf("limit %d: %v, said %q", limit, err, said)
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		g := Replay(FileName, data)
		if len(g.Entries) != len(lines)-1 || g.Complaints != nil || g.Whole != int64(len(data)) {
			t.Errorf("limit %d: %d decisions acknowledged, %d there, %v", limit, len(lines)-1, len(g.Entries), g.Complaints)
		}
		add(t, open(t, path), "bob", "s1", "r1", model.Refused) // there is room again
		if l := open(t, path); len(l.Entries()) != len(lines) || l.Complaints() != nil {
			t.Errorf("limit %d: after room was made %d decisions, %v", limit, len(l.Entries()), l.Complaints())
		}
	}
}

func TestReadOnlyFolder(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, FileName)
	add(t, open(t, path), "ann", "s1", "r1", model.Confirmed)
	os.Remove(path + ".lock")
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	defer os.Chmod(dir, 0o755)
	c := child(path, "ann", 1)
	if os.Getuid() == 0 { // root may write anywhere: try as somebody else
		for d := dir; d != os.TempDir() && d != "/"; d = filepath.Dir(d) {
			if d != dir {
				os.Chmod(d, 0o755)
			}
		}
		exe := filepath.Join(t.TempDir(), "writer")
		os.Chmod(filepath.Dir(exe), 0o755)
		data, err := os.ReadFile(os.Args[0])
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(exe, data, 0o755); err != nil {
			t.Fatal(err)
		}
		c.Path = exe
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	out, err := c.CombinedOutput()
	if err == nil || !strings.Contains(string(out), "permission denied; the folder or the file may only be read") {
		t.Errorf("%v: %s", err, out)
	}
	if l := open(t, path); len(l.Entries()) != 1 || l.Complaints() != nil {
		t.Errorf("the ledger changed: %v %v", l.Entries(), l.Complaints())
	}
}
