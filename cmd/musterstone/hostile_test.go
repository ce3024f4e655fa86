//go:build linux

package main

import (
	"bufio"
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"
)

// TestBlowUps gives the program inputs that are small for whoever makes them and could be large for whoever reads them. Each ends, says what it must, and stays within its memory.
// The sizes are cut down from those of the table in DEVELOPERS.md where these would take long.
func TestBlowUps(t *testing.T) {
	if testing.Short() {
		t.Skip("large inputs")
	}
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	program := filepath.Join(t.TempDir(), "musterstone")
	if err := os.Symlink(self, program); err != nil {
		t.Fatal(err)
	}
	const stone, roster = "id,cemetery,inscription\nM-1,Old Mill,JOHN HARKNESS CO F 31 WIS INF\n", "id,surname,given,company,regiment,state\nr1,Harkness,John,F,31,WI\n"
	many := func(n int, form string) func(w *bufio.Writer) {
		return func(w *bufio.Writer) {
			for i := range n {
				if strings.Contains(form, "%") {
					fmt.Fprintf(w, form, i)
				} else {
					w.WriteString(form)
				}
			}
		}
	}
	text := func(s string) func(w *bufio.Writer) { return func(w *bufio.Writer) { w.WriteString(s) } }
	after := func(parts ...func(w *bufio.Writer)) func(w *bufio.Writer) {
		return func(w *bufio.Writer) {
			for _, p := range parts {
				p(w)
			}
		}
	}
	type files map[string]func(w *bufio.Writer)
	for _, tt := range []struct {
		name      string
		files     files
		command   string
		status    int
		says      string
		megabytes int // the most memory it may take
	}{
		{"a million columns", files{"stones.csv": text(stone), "roster-a.csv": after(text("id,surname"), many(1_000_000, ",c%d"), text("\nr1,Poe\n"))}, "propose", 2, "roster-a.csv", 80},
		{"one cell of 100 MB", files{"stones.csv": text(stone), "roster-a.csv": after(text(roster+"r2,"), many(100, strings.Repeat("x", 1<<20)), text("\n"))}, "propose", 2, "roster-a.csv:3", 110},
		{"one quoted cell of two million lines", files{"stones.csv": text(stone), "roster-a.csv": after(text(roster+`r2,"`), many(4, strings.Repeat("x\n", 1<<19)), text("\"\n"))}, "propose", 3, "roster-a.csv:3: column \"surname\": a quote mark opens the cell and none closes it", 130},
		{"an inscription of 900 KB", files{"roster-a.csv": text(roster), "stones.csv": after(text(stone+"M-2,Old Mill,"), many(300_000, "[a]"), text("\n"))}, "check", 3,
			`stones.csv:3: column "inscription": it holds 900000 bytes, and no more than 16384 are read`, 110},
		{"inscriptions as long as they may be", files{"roster-a.csv": text(roster), "stones.csv": after(text(stone+"M-2,Old Mill,"), many(5_400, "[a]"), text("\nM-3,Old Mill,"), many(16_000, "["), text("\nM-4,Old Mill,"), many(8_000, "a("),
			text("\nM-5,Old Mill,"), many(1_000, "CO F 31 WIS INF "), text("\n"))}, "propose", 0, "M-5", 160},
		{"metadata nested a million deep", files{"stones.csv": text(stone), "csv-metadata.json": after(text(`{"tables":`), many(1_000_000, "["))}, "propose", 2, "csv-metadata.json:1", 80},
		{"a graph nested a million deep", files{"stones.csv": text(stone), "roster-a.ttl": after(text("<http://a/> <http://b/> "), many(1_000_000, "("))}, "propose", 2, "roster-a.ttl", 110},
		{"a literal of 50 MB", files{"stones.csv": text(stone), "roster-a.nt": after(text(`<http://a/> <http://b/> "`), many(50, strings.Repeat("x", 1<<20)), text("\" .\n"))}, "propose", 2, "roster-a.nt", 110},
		{"10^5 men of one name and unit", files{"stones.csv": text(stone), "roster-a.csv": after(text("id,surname,given,company,regiment,state\n"), many(100_000, "r%d,Harkness,John,F,31,WI\n"))}, "propose", 0, "M-1", 260},
		{"10^5 identical rows", files{"stones.csv": text(stone), "roster-a.csv": after(text("id,surname,given,company,regiment,state\n"), many(100_000, "r1,Harkness,John,F,31,WI\n"))}, "propose", 3, "M-1", 260},
		{"10^5 rows alike without an id", files{"stones.csv": text(stone), "roster-a.csv": after(text("surname,given,company,regiment,state\n"), many(100_000, "Harkness,John,F,31,WI\n"))}, "propose", 0, "M-1", 260},
		{"20,000 ages on as many days", files{"stones.csv": text(stone), "roster-a.csv": after(text("id,surname,age,enlisted\n"), agesOnDays(20_000))}, "propose", 0, "M-1", 200},
		{"3,000 stones that claim one man", files{"stones.csv": after(text("id,cemetery,inscription\n"), many(3_000, "M-%d,Old Mill,JOHN HARKNESS CO F 31 WIS INF\n")), "roster-a.csv": text(roster)}, "propose", 0, "M-2999", 220},
		{"10^5 complaints", files{"stones.csv": text(stone), "roster-a.csv": after(text("id,surname,age\n"), many(100_000, "r%d,Poe,many\n"))}, "check", 3, "roster-a.csv:10002: from here on problems of this weight are not told: 10000 have been", 130},
		{"a ledger of the same ids twice", files{"stones.csv": text(stone), "roster-a.csv": text(roster), "decisions.jsonl": after(many(20_000, noteLine("one")), many(20_000, noteLine("two")))}, "check", 3, "decisions.jsonl:30001: from here on problems of this weight are not told", 220},
		{"a ledger of two million lines that are none", files{"stones.csv": text(stone), "roster-a.csv": text(roster), "decisions.jsonl": many(4, strings.Repeat("x\n", 1<<19))}, "check", 3, "decisions.jsonl:", 200},
		{"a ledger nested a million deep", files{"stones.csv": text(stone), "roster-a.csv": text(roster), "decisions.jsonl": many(1_000_000, `{"id":[`)}, "check", 3, "decisions.jsonl:1", 160},
	} {
		t.Run(tt.name, func(t *testing.T) {
			dir := t.TempDir()
			for name, write := range tt.files {
				f, err := os.Create(filepath.Join(dir, name))
				if err != nil {
					t.Fatal(err)
				}
				w := bufio.NewWriter(f)
				write(w)
				if err := w.Flush(); err != nil {
					t.Fatal(err)
				}
				f.Close()
			}
			status, printed, peak := peakOf(t, exec.Command(program, tt.command, "--survey", dir))
			if status != tt.status || !strings.Contains(printed, tt.says) {
				t.Errorf("status %d, want %d, and %q in\n%.1000s", status, tt.status, tt.says, printed)
			}
			if peak == 0 || peak > tt.megabytes {
				t.Errorf("%d MB, want at most %d, and some", peak, tt.megabytes)
			}
			t.Logf("status %d, %d MB, %d bytes printed", status, peak, len(printed))
		})
	}
}

// agesOnDays are rows of so many men, each of another age on another day.
func agesOnDays(n int) func(w *bufio.Writer) {
	return func(w *bufio.Writer) {
		for i := range n {
			fmt.Fprintf(w, "r%d,Poe,%d y %d m %d d,%s\n", i, 18+i/360, i/30%12, i%30, time.Date(1861, 1, 1+i, 0, 0, 0, 0, time.UTC).Format(time.DateOnly))
		}
	}
}

func noteLine(text string) string {
	return `{"id":"20260101T000000Z-%010x","at":"2026-01-01T00:00:00Z","by":"Ann Novak","stone":"M-1","record":"","as":"noted","because":"` + text + "\"}\n"
}

// peakOf runs a command to its end and gives the most memory that it held, in megabytes, looked at every few milliseconds. What the system says of a process that has ended counts
// that of its parent too.
func peakOf(t *testing.T, cmd *exec.Cmd) (status int, printed string, megabytes int) {
	t.Helper()
	var out bytes.Buffer
	cmd.Stdout, cmd.Stderr = &out, &out
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	done, looked := make(chan struct{}), make(chan int)
	go func() {
		most := 0
		for {
			if b, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", cmd.Process.Pid)); err == nil {
				for line := range strings.Lines(string(b)) {
					if rest, ok := strings.CutPrefix(line, "VmHWM:"); ok {
						kilobytes := 0
						fmt.Sscan(rest, &kilobytes)
						most = max(most, kilobytes>>10)
					}
				}
			}
			select {
			case <-done:
				looked <- most
				return
			case <-time.After(2 * time.Millisecond):
			}
		}
	}()
	cmd.Wait()
	close(done)
	return cmd.ProcessState.ExitCode(), out.String(), <-looked
}
