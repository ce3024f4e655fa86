package job

import (
	"context"
	"path/filepath"

	"musterstone/link/ledger"
	"musterstone/model"
)

// Ledger opens the survey's ledger.
func (j *Job) Ledger() (*ledger.Ledger, error) {
	if j.ledger == nil {
		l, err := ledger.Open(j.LedgerPath())
		if err != nil {
			return nil, err
		}
		for _, c := range l.Complaints() {
			j.complain(c)
		}
		j.ledger = l
	}
	return j.ledger, nil
}

// Follow opens the ledger and the index and has decisions follow their records by what these said.
func (j *Job) Follow(ctx context.Context) (*ledger.Ledger, error) {
	l, err := j.Ledger()
	if err != nil || j.followed || len(l.Decisions()) == 0 {
		return l, err
	}
	x, err := j.Index(ctx)
	if err != nil {
		return nil, err
	}
	j.followed = true
	l.Follow(x.Record, x.Records(context.WithoutCancel(ctx)))
	return l, nil
}

// CheckLedger reads the ledger beside the stones and rosters of today and takes down which decisions are on rows that are not there any more, or on
// another man than they were. It needs no index.
func (j *Job) CheckLedger() error {
	l, err := j.Ledger()
	if err != nil || len(l.Decisions()) == 0 {
		return err
	}
	quiet := func(model.Complaint) {} // Check tells of the rows
	decided := map[model.RecordID]*model.Record{}
	for _, d := range l.Decisions() {
		decided[d.Record] = nil
	}
	have := map[model.RecordID]bool{}
	for r := range j.Survey.Records(quiet) {
		have[r.ID] = true
		if _, ok := decided[r.ID]; ok {
			decided[r.ID] = r
		}
	}
	l.Follow(func(id model.RecordID) (*model.Record, bool) { r := decided[id]; return r, r != nil }, j.Survey.Records(quiet))
	stones := map[model.StoneID]bool{}
	for s := range j.Survey.Stones(quiet) {
		stones[s.ID] = true
	}
	for _, c := range l.LostComplaints() {
		j.complain(c)
	}
	for _, c := range l.Strangers(func(id model.StoneID) bool { return stones[id] }, func(id model.RecordID) bool { return have[id] }) {
		j.complain(c)
	}
	j.followed = false
	l.Follow(nil, nil)
	return nil
}

// MergeLedger puts the decisions of other ledgers into the survey's own.
func (j *Job) MergeLedger(others ...string) error {
	l, err := j.Ledger()
	if err != nil {
		return err
	}
	return l.MergeInto(others...)
}

// LedgerPath is where the survey's ledger stands.
func (j *Job) LedgerPath() string { return filepath.Join(j.Survey.Dir, ledger.FileName) }
