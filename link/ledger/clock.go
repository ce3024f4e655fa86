package ledger

import (
	"fmt"
	"time"

	"musterstone/model"
)

// Before began there was no such program (a computer whose clock has lost its battery starts in 1970, 1980 or 2000), and from ended on a line cannot hold the year: a clock that
// says so is wrong.
var (
	began = time.Date(2020, 1, 1, 0, 0, 0, 0, time.UTC)
	ended = time.Date(9999, 12, 31, 0, 0, 0, 0, time.UTC)
)

// ahead is how far before a decision's time a clock may be without being wrong: clocks of several computers differ, and some keep the time of the place.
const ahead = 24 * time.Hour

// longAgo is for how many years a ledger may have lain before the clock is asked about.
const longAgo = 10

func now(clock func() time.Time) time.Time {
	if clock == nil {
		return time.Now()
	}
	return clock()
}

// possible reports whether a decision can have been made then.
func possible(at time.Time) bool { return !at.Before(began) && at.Before(ended) }

// ClockFault says what makes a clock that says now look wrong, "" where nothing does, and whether it is wrong for sure.
func (l *Ledger) ClockFault(now time.Time) (fault string, sure bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if !possible(now) {
		return fmt.Sprintf("this computer's clock says %s, which cannot be", now.UTC().Format(time.DateOnly)), true
	}
	var latest time.Time
	for _, e := range l.log.Entries {
		if e.At.After(latest) {
			latest = e.At
		}
	}
	switch {
	case latest.Sub(now) > ahead:
		return fmt.Sprintf("this computer's clock says %s, and the latest decision in the ledger is of %s: one of the two clocks was wrong", now.UTC().Format(time.DateOnly), latest.Format(time.DateOnly)), false
	case !latest.IsZero() && now.Year()-latest.Year() > longAgo:
		return fmt.Sprintf("this computer's clock says %s, and the latest decision in the ledger is of %s, long before", now.UTC().Format(time.DateOnly), latest.Format(time.DateOnly)), false
	}
	return "", false
}

// misdated complains of the decisions that are dated at a time when they cannot have been made, seen from now.
func (g *Log) misdated(file string, now time.Time) []model.Complaint {
	var cs []model.Complaint
	complain := model.Bounded(func(c model.Complaint) { cs = append(cs, c) })
	for _, e := range g.Entries {
		c := model.Complaint{File: file, Row: e.Row, Hint: "it counts; its time is that of a clock that was wrong, and stays in its line"}
		switch {
		case !possible(e.At):
			c.Text = fmt.Sprintf("decision %s is dated %s, which cannot be", e.ID, e.At.Format(time.DateOnly))
		case e.At.Sub(now) > ahead && possible(now):
			c.Text = fmt.Sprintf("decision %s is dated %s, and this computer's clock says %s", e.ID, e.At.Format(time.DateOnly), now.UTC().Format(time.DateOnly))
			c.Hint = "it counts; look whether this clock is right, or that of the computer on which it was made was wrong"
		default:
			continue
		}
		complain(c)
	}
	return cs
}
