package ledger

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// several gives ledgers that people who started from one copy wrote apart.
func several(t *testing.T, r *rand.Rand, n int) [][]byte {
	common := fresh(t)
	l := open(t, common)
	l.Clock = ticking(time.Second)
	for i := range 3 {
		add(t, l, "ann", fmt.Sprint("s", i), "r1", model.Confirmed)
	}
	base, err := os.ReadFile(common)
	if err != nil {
		t.Fatal(err)
	}
	var out [][]byte
	for i := range n {
		path := fresh(t)
		if err := os.WriteFile(path, base, 0o644); err != nil {
			t.Fatal(err)
		}
		l := open(t, path)
		l.Clock = ticking(time.Duration(r.IntN(100)) * time.Second)
		for range r.IntN(6) {
			add(t, l, []string{"ann", "bob", "cy"}[r.IntN(3)], fmt.Sprint("s", r.IntN(4)), fmt.Sprint("r", r.IntN(2)),
				[]model.Verdict{model.Confirmed, model.Refused}[r.IntN(2)])
		}
		data, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if i == 0 {
			data = append(data, "damaged {\n"...)
		}
		out = append(out, data)
	}
	return out
}

func TestMergeLaws(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 25 {
		ls := several(t, r, 3)
		a, b, c := ls[0], ls[1], ls[2]
		m := Merge(a, b, c)
		for name, other := range map[string][]byte{
			"commutative": Merge(c, b, a), "associative left": Merge(Merge(a, b), c), "associative right": Merge(a, Merge(b, c)),
			"idempotent": Merge(m, m), "absorbing": Merge(m, b, a),
		} {
			if !bytes.Equal(m, other) {
				t.Fatalf("not %s:\n%s", name, cmp.Diff(string(m), string(other)))
			}
		}
		// Nothing is lost: every line of each stands in the merged one; and nothing is new.
		lines := bytes.Split(bytes.TrimSuffix(m, []byte("\n")), []byte("\n"))
		want := map[string]bool{}
		for _, data := range ls {
			for _, l := range bytes.Split(bytes.TrimSuffix(data, []byte("\n")), []byte("\n")) {
				want[string(l)] = true
			}
		}
		got := map[string]bool{}
		for _, l := range lines {
			got[string(l)] = true
		}
		if diff := cmp.Diff(want, got); diff != "" || len(lines) != len(want) {
			t.Fatalf("lines differ:\n%s", diff)
		}
		g := Replay(FileName, m)
		if len(g.Complaints) != 1 || len(g.Entries) != len(want)-1 {
			t.Fatalf("a merged ledger has complaints besides the damaged line: %v", g.Complaints)
		}
		if !slices.IsSortedFunc(g.Entries, func(a, b Entry) int { return compare(a.Decision, b.Decision) }) {
			t.Fatal("a merged ledger is not sorted")
		}
		// A line-by-line union in any order, as a version control system makes it, says the same.
		union := slices.Clone(lines)
		r.Shuffle(len(union), func(i, j int) { union[i], union[j] = union[j], union[i] })
		u := Replay(FileName, append(bytes.Join(union, []byte("\n")), '\n'))
		if len(u.Complaints) != 1 {
			t.Fatalf("complaints on a union: %v", u.Complaints)
		}
		if diff := cmp.Diff(state(g), state(u), cmp.AllowUnexported(State{})); diff != "" {
			t.Fatalf("the order of lines changes the state:\n%s", diff)
		}
	}
}

func state(g *Log) State {
	var ds []model.Decision
	for _, e := range g.Entries {
		ds = append(ds, e.Decision)
	}
	return StateOf(slices.Values(ds))
}

func TestMergeInto(t *testing.T) {
	ls := several(t, rand.New(rand.NewPCG(3, 4)), 2)
	dir := t.TempDir()
	var paths []string
	for i, data := range ls {
		paths = append(paths, filepath.Join(dir, fmt.Sprint("l", i)))
		if err := os.WriteFile(paths[i], data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	l := open(t, paths[0])
	if err := l.MergeInto(paths[1]); err != nil {
		t.Fatal(err)
	}
	got, _ := os.ReadFile(paths[0])
	if !bytes.Equal(got, Merge(ls...)) {
		t.Error("the file is not the merged one")
	}
	n := len(l.Entries())
	add(t, l, "dee", "s1", "r1", model.Refused)
	if back := open(t, paths[0]); len(back.Entries()) != n+1 {
		t.Errorf("%d decisions after one more, want %d", len(back.Entries()), n+1)
	}
	if err := l.MergeInto(filepath.Join(dir, "none")); err == nil {
		t.Error("merged with a ledger that is not there")
	}
	made := open(t, filepath.Join(dir, "new"))
	if err := made.MergeInto(paths...); err != nil || len(made.Entries()) != n+1 {
		t.Errorf("merging into a new ledger: %d decisions, %v", len(made.Entries()), err)
	}
	if names, _ := filepath.Glob(filepath.Join(dir, "*.merging")); names != nil {
		t.Errorf("left behind: %v", names)
	}
}

// TestMergeUnread: a ledger that is there and cannot be read is not taken for an empty one: nothing is put in its place.
func TestMergeUnread(t *testing.T) {
	other := open(t, fresh(t))
	add(t, other, "ann", "s1", "r1", model.Confirmed)
	path := fresh(t)
	l := open(t, path)
	if err := os.Mkdir(path, 0o777); err != nil { // what reads as an error for whoever runs the test
		t.Fatal(err)
	}
	err := l.MergeInto(other.path)
	if err == nil || !strings.Contains(err.Error(), "read ") || strings.Contains(err.Error(), "put merged") {
		t.Errorf("got %v; want an error of reading", err)
	}
	if left, _ := filepath.Glob(path + ".merging"); left != nil {
		t.Errorf("left over: %v", left)
	}
}
