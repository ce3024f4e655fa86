//go:build linux

package main

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math/rand/v2"
	"net/http"
	"net/http/cookiejar"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"musterstone/link/ledger"
	"musterstone/model"
)

// TestSoak keeps the desk of the demo at work on loopback for as long as MUSTERSTONE_SOAK says ("1h"), with a note every few requests, and kills it at random. Every note that a
// page acknowledged is in the ledger at the end, the ledger is whole, and within each life the desk's memory and open files stay flat.
func TestSoak(t *testing.T) {
	length, err := time.ParseDuration(os.Getenv("MUSTERSTONE_SOAK"))
	if err != nil {
		t.Skip("MUSTERSTONE_SOAK says how long: 10m")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	dir := t.TempDir()
	program, alder := filepath.Join(dir, "musterstone"), filepath.Join(dir, "alder")
	if err := errors.Join(os.Symlink(self, program), os.CopyFS(alder, os.DirFS("internal/demo/survey"))); err != nil {
		t.Fatal(err)
	}
	r := rand.New(rand.NewPCG(7, 11))
	written := map[string]bool{}
	requests, kills, unsure := 0, 0, 0
	for end := time.Now().Add(length); time.Now().Before(end); kills++ {
		d := startDesk(t, program, alder)
		life := time.Duration(20+r.IntN(100)) * time.Second
		var first, last use
		for stop := time.Now().Add(life); time.Now().Before(stop) && time.Now().Before(end); time.Sleep(20 * time.Millisecond) {
			requests++
			path := []string{"/plan", "/stone?id=OM-01", "/stone?id=OM-02", "/find?q=harkness", "/"}[requests%5]
			if err := d.get(path); err != nil {
				t.Fatalf("request %d, %s: %v", requests, path, err)
			}
			if requests%7 == 0 {
				text := fmt.Sprintf("note %d", requests)
				if err := d.note(text); err != nil {
					t.Fatalf("request %d: %v", requests, err)
				}
				written[text] = true
			}
			last = d.use(t)
			if first == (use{}) && requests%200 == 0 {
				first = last
			}
		}
		if first != (use{}) && (last.files > first.files+8 || last.kilobytes > 2*first.kilobytes+64<<10) {
			t.Errorf("life %d: %+v, then %+v", kills, first, last)
		}
		t.Logf("life %d of %v: %+v, then %+v", kills, life, first, last)
		// One more note is under way when the desk is killed: it may be written or not.
		text := fmt.Sprintf("note under way %d", kills)
		sent := make(chan error, 1)
		go func() { sent <- d.note(text) }()
		time.Sleep(time.Duration(r.IntN(4000)) * time.Microsecond)
		d.cmd.Process.Kill()
		d.cmd.Wait()
		if err := <-sent; err == nil {
			written[text] = true
		} else {
			unsure++
		}
	}
	l, err := ledger.Open(filepath.Join(alder, ledger.FileName))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range l.Complaints() {
		if !strings.Contains(c.File, ".torn-") {
			t.Errorf("the ledger: %s", c.Error())
		}
	}
	for _, d := range l.Decisions() {
		if d.As == model.Noted {
			delete(written, d.Because)
		}
	}
	if len(written) > 0 {
		t.Errorf("%d acknowledged notes are lost: %v", len(written), written)
	}
	t.Logf("%v: %d requests, %d kills (%d with a note that was not acknowledged), %d decisions in the ledger", length, requests, kills, unsure, len(l.Decisions()))
}

// soaked is a desk that runs as a process of its own, and a browser on it.
type soaked struct {
	cmd    *exec.Cmd
	base   string
	client http.Client
	token  string
}

var addressOf = regexp.MustCompile(`http://127\.0\.0\.1:\d+`)

func startDesk(t *testing.T, program, survey string) *soaked {
	t.Helper()
	d := &soaked{cmd: exec.Command(program, "review", "--survey", survey, "--no-open")}
	d.client.Timeout = 20 * time.Second
	errs, err := d.cmd.StderrPipe()
	if err == nil {
		err = d.cmd.Start()
	}
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { d.cmd.Process.Kill() })
	lines := bufio.NewScanner(errs)
	for d.base == "" && lines.Scan() {
		d.base = addressOf.FindString(lines.Text())
	}
	if d.base == "" {
		t.Fatal("the desk did not say where it is")
	}
	go io.Copy(io.Discard, errs)
	d.client.Jar, _ = cookiejar.New(nil)
	page, err := d.page("/who")
	if err != nil {
		t.Fatal(err)
	}
	m := regexp.MustCompile(`name="token" value="([0-9a-f]+)"`).FindStringSubmatch(page)
	if m == nil {
		t.Fatalf("no token on %s", page)
	}
	d.token = m[1]
	if err := d.post("/who", url.Values{"name": {"Ann Novak"}, "back": {"/plan"}}); err != nil {
		t.Fatal(err)
	}
	return d
}

func (d *soaked) page(path string) (string, error) {
	res, err := d.client.Get(d.base + path)
	if err != nil {
		return "", err
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err == nil && res.StatusCode != http.StatusOK {
		err = fmt.Errorf("status %d: %.300s", res.StatusCode, b)
	}
	return string(b), err
}

func (d *soaked) get(path string) error { _, err := d.page(path); return err }

func (d *soaked) post(path string, form url.Values) error {
	form.Set("token", d.token)
	res, err := d.client.PostForm(d.base+path, form)
	if err != nil {
		return err
	}
	defer res.Body.Close()
	b, err := io.ReadAll(res.Body)
	if err == nil && res.StatusCode != http.StatusOK {
		err = fmt.Errorf("%s: status %d: %.300s", path, res.StatusCode, b)
	}
	return err
}

func (d *soaked) note(text string) error {
	return d.post("/note", url.Values{"stone": {"OM-02"}, "text": {text}})
}

// use is what the desk's process holds.
type use struct {
	kilobytes, files int
}

func (d *soaked) use(t *testing.T) use {
	t.Helper()
	var u use
	proc := fmt.Sprintf("/proc/%d/", d.cmd.Process.Pid)
	status, err := os.ReadFile(proc + "status")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(status)) {
		if rest, ok := strings.CutPrefix(line, "VmRSS:"); ok {
			fmt.Sscan(rest, &u.kilobytes)
		}
	}
	files, err := os.ReadDir(proc + "fd")
	if err != nil {
		t.Fatal(err)
	}
	u.files = len(files)
	return u
}
