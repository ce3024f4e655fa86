package ledger

import (
	"os"
	"strings"
	"testing"
	"time"

	"musterstone/model"
)

// TestWrongClock: a decision keeps its time for good, so none is written by a clock that cannot be right.
func TestWrongClock(t *testing.T) {
	for _, at := range []time.Time{time.Unix(0, 0), time.Date(1980, 1, 1, 0, 0, 0, 0, time.UTC), time.Date(2019, 12, 31, 23, 59, 59, 0, time.UTC), time.Date(10000, 1, 1, 0, 0, 0, 0, time.UTC)} {
		path := fresh(t)
		l := open(t, path)
		l.Clock = func() time.Time { return at }
		_, err := l.Append(model.Decision{By: "ann", Stone: "s1", Record: "r1", As: model.Confirmed})
		if err == nil || !strings.Contains(err.Error(), "clock says "+at.UTC().Format(time.DateOnly)) {
			t.Errorf("%v: %v", at, err)
		}
		if _, err := os.Stat(path); err == nil {
			t.Errorf("%v: there is a ledger", at)
		}
		if fault, sure := l.ClockFault(at); fault == "" || !sure {
			t.Errorf("%v: %q, sure %v", at, fault, sure)
		}
	}
}

// TestClockFault: what a clock says is held against the latest decision, and a decision's time against the clock.
func TestClockFault(t *testing.T) {
	made := time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	l := open(t, fresh(t))
	l.Clock = func() time.Time { return made }
	add(t, l, "ann", "s1", "r1", model.Confirmed)
	for _, tt := range []struct {
		clock time.Time
		fault string // in what is said of the clock
		told  int    // complaints about the decision
	}{
		{made, "", 0},
		{made.Add(-23 * time.Hour), "", 0}, // another computer's clock
		{made.AddDate(0, 0, -2), "one of the two clocks was wrong", 1},
		{made.AddDate(10, 0, 0), "", 0},
		{made.AddDate(73, 0, 0), "long before", 0},
	} {
		l.Clock = func() time.Time { return tt.clock }
		fault, sure := l.ClockFault(tt.clock)
		if sure || tt.fault == "" && fault != "" || !strings.Contains(fault, tt.fault) {
			t.Errorf("%v: %q, sure %v", tt.clock, fault, sure)
		}
		if cs := l.Complaints(); len(cs) != tt.told {
			t.Errorf("%v: complaints %v", tt.clock, cs)
		}
	}
	// A line of another program may bear any time: it counts, and is told.
	text, _, err := encode(model.Decision{ID: "19700101T000000Z-aaaaaaaaaa", At: time.Unix(0, 0).UTC(), By: "bob", Stone: "s2", Record: "r2", As: model.Refused}, "")
	if err != nil {
		t.Fatal(err)
	}
	path := fresh(t)
	if err := os.WriteFile(path, text, 0o644); err != nil {
		t.Fatal(err)
	}
	l = open(t, path)
	if cs := l.Complaints(); len(l.Entries()) != 1 || len(cs) != 1 || !strings.Contains(cs[0].Text, "dated 1970-01-01, which cannot be") || cs[0].Fatal {
		t.Errorf("%d decisions, %v", len(l.Entries()), cs)
	}
}

// TestManyMisdated: where this computer's clock is behind all decisions, not every one of very many is complained of.
func TestManyMisdated(t *testing.T) {
	g := &Log{Entries: make([]Entry, model.MostTold+5)}
	for i := range g.Entries {
		g.Entries[i].At = time.Date(2026, 5, 1, 12, 0, 0, 0, time.UTC)
	}
	if cs := g.misdated(FileName, time.Date(2021, 1, 1, 0, 0, 0, 0, time.UTC)); len(cs) != model.MostTold+1 {
		t.Errorf("%d complaints", len(cs))
	}
}
