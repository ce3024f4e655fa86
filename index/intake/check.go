package intake

import (
	"musterstone/model"
	"musterstone/model/same"
)

// Tally counts the rows of one table.
type Tally struct {
	File    string
	Kind    Kind
	Rows    int // rows that became stones or records
	LeftOut int // rows that did not, each with a complaint
	Told    int // complaints in all
}

// Check reads every table to its end and tells everything that is amiss, in the order of files and rows: the survey's notices first.
func (s *Survey) Check(complain func(model.Complaint)) []Tally {
	complain = model.Bounded(complain)
	for _, c := range s.Notices {
		complain(c)
	}
	var n *Tally
	told := func(c model.Complaint) {
		n.Told++
		if c.Fatal && c.Row > 0 {
			n.LeftOut++
		}
		complain(c)
	}
	stones, records := s.stonePass(told), s.rowPass(told)
	tallies := make([]Tally, len(s.Tables))
	for i := range s.Tables {
		t := &s.Tables[i]
		n = &tallies[i]
		n.File, n.Kind = t.File, t.Kind
		if t.Kind.holdsRecords() {
			rows(s, t, records, func(list []*same.Row) bool { n.Rows += len(list); return true })
		} else {
			stones.table(t, func(list []*model.Stone) bool { n.Rows += len(list); return true })
		}
	}
	return tallies
}
