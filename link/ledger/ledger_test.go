package ledger

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"musterstone/model"
)

// ticking is a clock that starts at noon of 1 March 2024 and goes on by a step at each look.
func ticking(step time.Duration) func() time.Time {
	at := time.Date(2024, 3, 1, 12, 0, 0, 0, time.UTC).Add(-step)
	return func() time.Time { at = at.Add(step); return at }
}

func open(t testing.TB, path string) *Ledger {
	t.Helper()
	l, err := Open(path)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

func add(t testing.TB, l *Ledger, by, stone, record string, as model.Verdict) model.Decision {
	t.Helper()
	d, err := l.Append(model.Decision{By: by, Stone: model.StoneID(stone), Record: model.RecordID(record), As: as})
	if err != nil {
		t.Fatal(err)
	}
	return d
}

func fresh(t testing.TB) string { return filepath.Join(t.TempDir(), FileName) }

func TestOpenMakesNothing(t *testing.T) {
	path := fresh(t)
	l := open(t, path)
	if n := len(l.Entries()) + len(l.Complaints()); n != 0 {
		t.Errorf("an empty ledger has %d entries and complaints", n)
	}
	if names, _ := filepath.Glob(filepath.Join(filepath.Dir(path), "*")); names != nil {
		t.Errorf("Open made %v", names)
	}
	if _, err := Open(t.TempDir()); err == nil || !strings.Contains(err.Error(), "not a file") {
		t.Errorf("Open of a folder: %v", err)
	}
}

func TestState(t *testing.T) {
	tests := []struct {
		name  string
		steps []string // "ann confirmed", "bob refused", "ann withdraws"
		want  Standing
		held  int
	}{
		{"nobody", nil, Undecided, 0},
		{"one confirms", []string{"ann confirmed"}, Confirmed, 1},
		{"one refuses", []string{"ann refused"}, Refused, 1},
		{"two agree", []string{"ann confirmed", "bob confirmed"}, Confirmed, 2},
		{"two disagree", []string{"ann confirmed", "bob refused"}, Disputed, 2},
		{"a later one of the same person stands", []string{"ann confirmed", "ann refused"}, Refused, 1},
		{"and again", []string{"ann confirmed", "ann refused", "ann confirmed"}, Confirmed, 1},
		{"withdrawn", []string{"ann confirmed", "ann withdraws"}, Withdrawn, 1},
		{"decided anew after withdrawal", []string{"ann confirmed", "ann withdraws", "ann refused"}, Refused, 1},
		{"one of two withdraws", []string{"ann confirmed", "bob refused", "bob withdraws"}, Confirmed, 2},
		{"the dispute ends when one comes round", []string{"ann confirmed", "bob refused", "ann refused"}, Refused, 2},
	}
	for _, clock := range []struct {
		name string
		step time.Duration
	}{{"forward", time.Second}, {"standing", 0}, {"backward", -time.Hour}} {
		for _, tt := range tests {
			t.Run(tt.name+"/clock "+clock.name, func(t *testing.T) {
				path := fresh(t)
				l := open(t, path)
				l.Clock = ticking(clock.step)
				for _, s := range tt.steps {
					by, what, _ := strings.Cut(s, " ")
					if what != "withdraws" {
						add(t, l, by, "s1", "r1", model.Verdict(what))
						continue
					}
					v := l.State().Of("s1", "r1").Voices
					at := slices.IndexFunc(v, func(d model.Decision) bool { return d.By == by })
					if _, err := l.Withdraw(v[at].ID, by, "a slip"); err != nil {
						t.Fatal(err)
					}
				}
				for _, l := range []*Ledger{l, open(t, path)} {
					h := l.State().Of("s1", "r1")
					if h.As != tt.want || len(h.Voices) != tt.held {
						t.Errorf("stands %q by %d people, want %q by %d", h.As, len(h.Voices), tt.want, tt.held)
					}
					if got := len(l.State().Confirmed("s1")) == 1; got != (tt.want == Confirmed) {
						t.Errorf("Confirmed(s1) = %v", l.State().Confirmed("s1"))
					}
					if got := len(l.State().ConfirmedStones("r1")) == 1; got != (tt.want == Confirmed) {
						t.Errorf("ConfirmedStones(r1) = %v", l.State().ConfirmedStones("r1"))
					}
					if l.State().Refused("s1", "r1") != (tt.want == Refused) || l.State().Disputed("s1", "r1") != (tt.want == Disputed) {
						t.Error("Refused or Disputed is wrong")
					}
					if l.State().Count(tt.want) != min(1, len(tt.steps)) {
						t.Errorf("Count(%q) = %d", tt.want, l.State().Count(tt.want))
					}
					if c := l.Complaints(); c != nil {
						t.Errorf("complaints: %v", c)
					}
					ids := map[string]bool{}
					for _, e := range l.Entries() {
						ids[e.ID] = true
					}
					if len(ids) != len(tt.steps) {
						t.Errorf("%d ids for %d decisions", len(ids), len(tt.steps))
					}
				}
			})
		}
	}
}

func TestStateOfManyPairs(t *testing.T) {
	l := open(t, fresh(t))
	l.Clock = ticking(time.Second)
	add(t, l, "ann", "s2", "r9", model.Confirmed)
	add(t, l, "ann", "s1", "r5", model.Confirmed)
	add(t, l, "ann", "s1", "r3", model.Confirmed)
	add(t, l, "bob", "s1", "r4", model.Refused)
	s := l.State()
	if diff := cmp.Diff([]model.RecordID{"r3", "r5"}, s.Confirmed("s1")); diff != "" {
		t.Error(diff)
	}
	if diff := cmp.Diff([]Pair{{"s1", "r3"}, {"s1", "r4"}, {"s1", "r5"}, {"s2", "r9"}}, s.Pairs()); diff != "" {
		t.Error(diff)
	}
	if len((State{}).Confirmed("s1")) != 0 || (State{}).Refused("s1", "r4") {
		t.Error("the zero state decides something")
	}
}

// Nobody's decision is replaced by another person's, or by one on another pair, whatever a line written by hand says.
func TestSupersedesOnlyOnesOwn(t *testing.T) {
	at := time.Date(2024, 3, 1, 12, 0, 0, 0, time.UTC)
	ds := []model.Decision{
		{ID: "a", At: at, By: "ann", Stone: "s1", Record: "r1", As: model.Confirmed},
		{ID: "b", At: at.Add(time.Hour), By: "bob", Stone: "s1", Record: "r1", As: model.Refused, Supersedes: "a"},
		{ID: "c", At: at.Add(time.Hour), By: "ann", Stone: "s2", Record: "r1", As: model.Refused, Supersedes: "a"},
		{ID: "x", At: at, By: "cy", Stone: "s3", Record: "r3", As: model.Confirmed, Supersedes: "y"},
		{ID: "y", At: at.Add(time.Hour), By: "cy", Stone: "s3", Record: "r3", As: model.Refused, Supersedes: "x"},
		{ID: "z", At: at, By: "dee", Stone: "s4", Record: "r4", As: model.Refused, Supersedes: "z"},
	}
	s := StateOf(slices.Values(ds))
	if !s.Disputed("s1", "r1") {
		t.Errorf("s1 r1 stands %q, want disputed", s.Of("s1", "r1").As)
	}
	if !s.Refused("s3", "r3") { // a ring: the latest stands
		t.Errorf("s3 r3 stands %q, want refused", s.Of("s3", "r3").As)
	}
	if !s.Refused("s4", "r4") {
		t.Errorf("s4 r4 stands %q, want refused", s.Of("s4", "r4").As)
	}
	slices.Reverse(ds)
	if diff := cmp.Diff(s, StateOf(slices.Values(ds)), cmp.AllowUnexported(State{})); diff != "" {
		t.Errorf("the order of decisions changes the state:\n%s", diff)
	}
}

func TestWithdrawRefuses(t *testing.T) {
	l := open(t, fresh(t))
	l.Clock = ticking(time.Second)
	first := add(t, l, "ann", "s1", "r1", model.Confirmed)
	second := add(t, l, "ann", "s1", "r1", model.Refused)
	gone, err := l.Withdraw(second.ID, " ann ", "")
	if err != nil {
		t.Fatal(err)
	}
	for _, tt := range []struct{ name, id, by, want string }{
		{"no such", "nix", "ann", "none of that id"},
		{"another's", first.ID, "bob", "it is ann's"},
		{"replaced", first.ID, "ann", "no longer stands"},
		{"a withdrawal", gone.ID, "ann", "is a withdrawal itself"},
		{"nobody", first.ID, "  ", "say who"},
	} {
		if _, err := l.Withdraw(tt.id, tt.by, ""); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: error %v, want %q in it", tt.name, err, tt.want)
		}
	}
	if n := len(l.Entries()); n != 3 {
		t.Errorf("%d lines, want 3", n)
	}
}

func TestAppendRefuses(t *testing.T) {
	path := fresh(t)
	l := open(t, path)
	for _, tt := range []struct {
		d    model.Decision
		want string
	}{
		{model.Decision{By: "ann", Record: "r", As: model.Confirmed}, "names no stone"},
		{model.Decision{By: "ann", Stone: "s", As: model.Confirmed}, "names no record"},
		{model.Decision{By: " \t", Stone: "s", Record: "r", As: model.Confirmed}, "who made it"},
		{model.Decision{By: "ann", Stone: "s", Record: "r", As: "perhaps"}, `verdict "perhaps" is not known`},
		{model.Decision{By: "ann", Stone: "s\xff", Record: "r", As: model.Refused}, "not UTF-8"},
	} {
		if _, err := l.Append(tt.d); err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%v: error %v, want %q in it", tt.d, err, tt.want)
		}
	}
	if _, err := os.Stat(path); !os.IsNotExist(err) {
		t.Error("a refused decision made the file")
	}
	l = open(t, filepath.Join(filepath.Dir(path), "no", FileName))
	if _, err := l.Append(model.Decision{By: "ann", Stone: "s", Record: "r", As: model.Refused}); err == nil || !strings.Contains(err.Error(), "is there such a folder?") {
		t.Errorf("no folder: %v", err)
	}
}

func TestBusy(t *testing.T) {
	path := fresh(t)
	a, b := open(t, path), open(t, path)
	unlock, err := a.lock()
	if err != nil {
		t.Fatal(err)
	}
	b.Wait = 30 * time.Millisecond
	_, err = b.Append(model.Decision{By: "bob", Stone: "s", Record: "r", As: model.Refused})
	if err == nil || !strings.Contains(err.Error(), "another program is writing to the ledger, and went on for 30ms") {
		t.Errorf("error %v", err)
	}
	unlock()
	add(t, b, "bob", "s", "r", model.Refused)
	add(t, a, "ann", "s", "r", model.Confirmed)
	if as := a.State().Of("s", "r").As; as != Disputed {
		t.Errorf("a sees %q, want disputed: it did not read what b wrote", as)
	}
	if as := b.State().Of("s", "r").As; as != Refused {
		t.Errorf("b sees %q before Refresh", as)
	}
	if err := b.Refresh(); err != nil || !b.State().Disputed("s", "r") {
		t.Errorf("b sees %q after Refresh (%v)", b.State().Of("s", "r").As, err)
	}
}

func TestStrangers(t *testing.T) {
	l := open(t, fresh(t))
	l.Clock = ticking(time.Second)
	add(t, l, "ann", "gone", "r1", model.Refused)
	add(t, l, "ann", "s1", "r1", model.Confirmed)
	add(t, l, "ann", "s1", "gone", model.Confirmed)
	d := add(t, l, "ann", "gone too", "r1", model.Confirmed)
	if _, err := l.Withdraw(d.ID, "ann", ""); err != nil {
		t.Fatal(err)
	}
	add(t, l, "ann", "gone", "r1", model.Confirmed) // replaces the first
	cs := l.Strangers(func(s model.StoneID) bool { return s == "s1" }, func(r model.RecordID) bool { return r == "r1" })
	if len(cs) != 2 || cs[0].Row != 3 || !strings.Contains(cs[0].Text, `record "gone"`) || cs[1].Row != 6 || !strings.Contains(cs[1].Text, `stone "gone"`) {
		t.Errorf("complaints %v", cs)
	}
}

// awkward is text that a writer of JSON lines can trip over.
const awkward = "\"Q\" & <b> \\ \u2028 \n\t\x00 é n\u0303 😀 ,\"sum\":\"0123456789abcdef\"}"

func golden(t *testing.T, path string) *Ledger {
	l := open(t, path)
	l.Clock = ticking(90 * time.Second)
	seen := &model.Seen{
		Proposal: &model.Proposal{Stone: "OM-14", None: 0.04, Candidates: []model.Candidate{{Record: "A-0112", Probability: 0.93, Bits: 17.25, Proposed: true,
			Evidence: []model.Evidence{{Field: "surname", Level: "exact", Bits: 9.125, Stone: "Holden", Record: "Holden"}}}}},
		Program: "0.1.0", Inputs: map[string]string{"stones.csv": "ab12", "roster-a.csv": "cd34"},
	}
	for _, d := range []model.Decision{
		{By: "Ann Lee", Stone: "OM-14", Record: "A-0112", As: model.Confirmed, Because: "company & regiment agree; <F> is clear on the stone", Seen: seen},
		{By: "Bob Orr", Stone: "OM-14", Record: "A-0112", As: model.Refused, Because: "died in 1863 says the roster"},
		{By: "Ann  Lee", Stone: "OM-14", Record: "A-0112", As: model.Refused},
		{By: "Ann Lee", Stone: "OM-2", Record: "A-0007", As: model.Confirmed, Because: awkward},
	} {
		if _, err := l.Append(d); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := l.Withdraw(l.Entries()[1].ID, "Bob Orr", "looked again"); err != nil {
		t.Fatal(err)
	}
	return l
}

// The bytes of the file are what people, scripts and merges rely on.
func TestGolden(t *testing.T) {
	path := fresh(t)
	l := golden(t, path)
	got, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const file = "testdata/decisions.jsonl"
	if os.Getenv("UPDATE") == "1" {
		if err := os.WriteFile(file, got, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Errorf("the lines changed:\n%s", cmp.Diff(string(want), string(got)))
	}
	if diff := cmp.Diff(l.Entries(), Replay(FileName, want).Entries); diff != "" {
		t.Errorf("what is read is not what was written:\n%s", diff)
	}
	if d := l.Entries()[3].Decision; d.Because != awkward {
		t.Errorf("%q came back as %q", awkward, d.Because)
	}
}

func ExampleLedger() {
	dir, err := os.MkdirTemp("", "ledger")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.RemoveAll(dir)
	l, err := Open(filepath.Join(dir, FileName))
	if err != nil {
		fmt.Println(err)
		return
	}
	l.Clock = func() time.Time { return time.Date(2024, 3, 1, 12, 0, 0, 0, time.UTC) }
	d, err := l.Append(model.Decision{By: "Ann", Stone: "s1", Record: "r7", As: model.Confirmed, Because: "same company"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(d.ID)
	fmt.Println(l.State().Confirmed("s1"))
	// Output:
	// 20240301T120000Z-1a977aa4bc
	// [r7]
}

func BenchmarkStateOf(b *testing.B) {
	var ds []model.Decision
	at := time.Date(2024, 3, 1, 12, 0, 0, 0, time.UTC)
	for i := range 5000 {
		ds = append(ds, model.Decision{ID: fmt.Sprint(i), At: at, By: "ann", Stone: model.StoneID(fmt.Sprint("s", i/2)), Record: "r", As: model.Confirmed})
	}
	for b.Loop() {
		StateOf(slices.Values(ds))
	}
}
