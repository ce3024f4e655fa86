package ledger

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"musterstone/model"
)

func goldenBytes(t testing.TB) []byte {
	t.Helper()
	data, err := os.ReadFile("testdata/decisions.jsonl")
	if err != nil {
		t.Fatal(err)
	}
	return data
}

// lineStarts gives the offset of each line and the length of the whole.
func lineStarts(data []byte) []int {
	starts := []int{0}
	for i, b := range data {
		if b == '\n' {
			starts = append(starts, i+1)
		}
	}
	return starts
}

// The file cut at every byte: all whole lines count, the rest is told, and after the next decision stands in a file of its own.
func TestTornAtEveryByte(t *testing.T) {
	data := goldenBytes(t)
	starts := lineStarts(data)
	whole := Replay(FileName, data)
	dir := t.TempDir()
	for cut := range len(data) {
		n := 0 // whole lines before the cut, a line without its line end being whole
		for n+1 < len(starts) && starts[n+1]-1 <= cut {
			n++
		}
		g := Replay(FileName, data[:cut])
		if len(g.Entries) != n {
			t.Fatalf("cut at %d: %d entries, want %d", cut, len(g.Entries), n)
		}
		torn := cut - starts[min(n, len(starts)-1)]
		if cut < starts[n] { // only the line end is missing
			torn = 0
		}
		if torn > 0 && (len(g.Complaints) != 1 || g.Complaints[0].Row != n+1 || !strings.Contains(g.Complaints[0].Text, fmt.Sprintf("cut short after %d bytes", torn))) {
			t.Fatalf("cut at %d: complaints %v", cut, g.Complaints)
		}
		if cut%7 != 0 && torn > 1 && cut < len(data)-3 { // the disk is slow: every seventh cut, and those about the line ends
			continue
		}
		path := filepath.Join(dir, fmt.Sprint(cut))
		if err := os.WriteFile(path, data[:cut], 0o644); err != nil {
			t.Fatal(err)
		}
		l := open(t, path)
		add(t, l, "cy", "s9", "r9", model.Confirmed)
		back := open(t, path)
		if got := ids(back.Entries()); len(got) != n+1 || !slices.Equal(got[:n], ids(whole.Entries)[:n]) {
			t.Fatalf("cut at %d: after Append %v", cut, got)
		}
		for _, l := range []*Ledger{l, back} {
			if c := l.Complaints(); torn > 0 && (len(c) != 1 || c[0].File != fmt.Sprint(cut)+".torn-1") || torn == 0 && len(c) != 0 {
				t.Fatalf("cut at %d: complaints after Append %v", cut, c)
			}
		}
		aside, err := os.ReadFile(path + ".torn-1")
		if torn > 0 && (err != nil || !bytes.Equal(aside, data[starts[n]:cut])) {
			t.Fatalf("cut at %d: set aside %q (%v)", cut, aside, err)
		}
	}
}

func ids(entries []Entry) (ids []string) {
	for _, e := range entries {
		ids = append(ids, e.ID)
	}
	return ids
}

// A second torn line does not overwrite the first, and one that was set aside before a kill is not set aside twice.
func TestTornAgain(t *testing.T) {
	data := goldenBytes(t)
	path := fresh(t)
	for i, tail := range []string{`{"id":"a`, `{"id":"b`, `{"id":"b`} {
		if err := os.WriteFile(path, append(slices.Clone(data), tail...), 0o644); err != nil {
			t.Fatal(err)
		}
		add(t, open(t, path), "cy", "s9", "r9", model.Confirmed)
		names, _ := filepath.Glob(path + ".torn-*")
		if want := min(i+1, 2); len(names) != want {
			t.Errorf("after %d torn lines: %v, want %d files", i+1, names, want)
		}
	}
}

// One bit flipped anywhere: the damage is told with its line, at most the decision of that line is lost, and none is invented.
func TestFlips(t *testing.T) {
	data := goldenBytes(t)
	starts := lineStarts(data)
	want := Replay(FileName, data)
	known := map[string]string{}
	for _, e := range want.Entries {
		known[e.ID] = text(e.Decision)
	}
	for at := range data {
		for bit := range 8 {
			bad := slices.Clone(data)
			bad[at] ^= 1 << bit
			row, _ := slices.BinarySearch(starts, at+1)
			g := Replay(FileName, bad)
			if len(g.Entries) < len(want.Entries)-1 {
				t.Fatalf("byte %d bit %d: %d of %d decisions left", at, bit, len(g.Entries), len(want.Entries))
			}
			for _, e := range g.Entries {
				if known[e.ID] != text(e.Decision) {
					t.Fatalf("byte %d bit %d: invented %s", at, bit, text(e.Decision))
				}
			}
			if !slices.ContainsFunc(g.Complaints, func(c model.Complaint) bool { return c.Row == row }) {
				t.Fatalf("byte %d bit %d (%q): line %d is not named in %v", at, bit, data[at], row, g.Complaints)
			}
			fatal := slices.ContainsFunc(g.Complaints, func(c model.Complaint) bool { return c.Fatal })
			if fatal != (len(g.Entries) < len(want.Entries)) {
				t.Fatalf("byte %d bit %d: %d decisions, complaints %v", at, bit, len(g.Entries), g.Complaints)
			}
		}
	}
}

func TestComplaints(t *testing.T) {
	lines := strings.Split(strings.TrimSuffix(string(goldenBytes(t)), "\n"), "\n")
	join := func(l ...string) string { return strings.Join(l, "\n") + "\n" }
	const byHand = `{"id":"x1","at":"2024-05-01T10:00:00+02:00","by":"Cy","stone":"s1","record":"r1","as":"refused"}`
	tests := []struct {
		name, data string
		counted    int
		want       string // of the first complaint, "" for none
		fatal      bool
	}{
		{"nothing", "", 0, "", false},
		{"whole", join(lines...), 5, "", false},
		{"Windows line ends", strings.Join(lines, "\r\n") + "\r\n", 5, "", false},
		{"empty lines", join(lines[0], "", " ", lines[1]), 2, "", false},
		{"no last line end", strings.Join(lines, "\n"), 5, "decisions.jsonl:5: the last line has no line end", false},
		{"another order", join(lines[3], lines[0], lines[4], lines[2], lines[1]), 5, "", false},
		{"a line taken out", join(lines[0], lines[1], lines[3], lines[4]), 4, "decisions.jsonl:3: the line that stood last when this one was written", false},
		{"the first taken out", join(lines[1:]...), 4, "decisions.jsonl:1: the line that stood last", false},
		{"twice the same", join(lines[0], lines[1], lines[0]), 2, "decisions.jsonl:3: the same line stands in line 1 already", false},
		{"changed by hand", join(lines[0], strings.Replace(lines[1], "1863", "1864", 1)), 1, "decisions.jsonl:2: decision \"20240301T120130Z-", true},
		{"laid out anew", join(strings.ReplaceAll(lines[1], `","`, `", "`)), 1, "decisions.jsonl:1: decision 20240301T120130Z-", false},
		{"by hand without sum", join(byHand), 1, "decisions.jsonl:1: decision x1 carries no checksum", false},
		{"by hand, twice, otherwise", join(byHand, strings.Replace(byHand, "refused", "confirmed", 1)), 1, "decisions.jsonl:1: decision x1 carries", false},
		{"unknown verdict", join(strings.Replace(byHand, "refused", "perhaps", 1), lines[0]), 1, `decisions.jsonl:1: decision x1: verdict "perhaps" is not known`, true},
		{"no id", join(strings.Replace(byHand, `"id":"x1",`, "", 1)), 0, "decisions.jsonl:1: the decision has no id", true},
		{"no time", join(strings.Replace(byHand, `"at":"2024-05-01T10:00:00+02:00",`, "", 1)), 0, "decisions.jsonl:1: decision x1 does not say when", true},
		{"a bad time", join(strings.Replace(byHand, "2024-05-01T10", "yesterday", 1), lines[0]), 1, "decisions.jsonl:1: the line is not one whole JSON object: ", true},
		{"not JSON", join("hello", lines[0]), 1, "decisions.jsonl:1: the line is not one whole JSON object", true},
		{"not UTF-8", join("{\"id\":\"\xff\"}", lines[0]), 1, "decisions.jsonl:1: the line is not UTF-8", true},
		{"a merge left undone", join("<<<<<<< HEAD", lines[0], "=======", lines[1], ">>>>>>> other"), 2, `decisions.jsonl:1: a mark of an unfinished merge, "<<<<<<<"`, true},
		{"NUL bytes at the end", join(lines[0]) + strings.Repeat("\x00", 50), 1, "decisions.jsonl:2: the last line was cut short after 50 bytes", true},
		{"two in a line", lines[0] + lines[1] + "\n" + lines[2] + "\n", 3, "decisions.jsonl:1: the end of a line is damaged: 2 decisions", false},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			g := Replay(FileName, []byte(tt.data))
			if len(g.Entries) != tt.counted {
				t.Errorf("%d decisions count, want %d", len(g.Entries), tt.counted)
			}
			if tt.want == "" {
				if g.Complaints != nil {
					t.Errorf("complaints %v", g.Complaints)
				}
				return
			}
			if len(g.Complaints) == 0 || !strings.HasPrefix(g.Complaints[0].Error(), tt.want) || g.Complaints[0].Fatal != tt.fatal {
				t.Errorf("complaints %v, want %q first", g.Complaints, tt.want)
			}
		})
	}
	g := Replay(FileName, []byte(join(byHand, strings.Replace(byHand, "refused", "confirmed", 1))))
	if len(g.Complaints) != 3 || !g.Complaints[2].Fatal || g.Entries[0].As != model.Refused {
		t.Errorf("two lines of one id: %v", g.Complaints)
	}
	if got := g.Entries[0].At.Format("15:04Z07:00"); got != "08:00Z" {
		t.Errorf("a time of another zone is %s, want 08:00Z", got)
	}
}

func FuzzReplay(f *testing.F) {
	data := goldenBytes(f)
	f.Add(data)
	f.Add(data[:len(data)-9])
	f.Add([]byte("<<<<<<< a\n{}\n[]\nnull\n" + `{"id":"x","at":"2024-05-01T10:00:00Z","by":"C","stone":"s","record":"r","as":"refused","sum":7}`))
	f.Add([]byte("<<<<<<\x10\r\r"))
	f.Add([]byte(`{"id":"x"{"id":"y"}{"id":"z`))
	f.Fuzz(func(t *testing.T, data []byte) {
		g := Replay(FileName, data)
		if g.Whole < 0 || g.Whole > int64(len(data)) {
			t.Fatalf("whole up to %d of %d bytes", g.Whole, len(data))
		}
		if again := Replay(FileName, data[:g.Whole]); len(again.Entries) != len(g.Entries) {
			t.Fatalf("%d decisions, but %d without the torn end", len(g.Entries), len(again.Entries))
		}
		seen := map[string]bool{}
		rows := bytes.Count(data, []byte("\n")) + 1
		for _, e := range g.Entries {
			if bad := lacks(e.Decision); bad != "" || seen[e.ID] || e.Row < 1 || e.Row > rows {
				t.Fatalf("row %d counts: %s %v", e.Row, bad, e.Decision)
			}
			seen[e.ID] = true
		}
		for _, c := range g.Complaints {
			if c.Row < 1 || c.Row > rows || c.Text == "" {
				t.Fatalf("complaint %v", c)
			}
		}
		StateOf(func(yield func(model.Decision) bool) {
			for _, e := range g.Entries {
				if !yield(e.Decision) {
					return
				}
			}
		})
		once := Merge(data)
		if !bytes.Equal(once, Merge(once, data)) {
			t.Fatal("merging twice is not merging once")
		}
	})
}
