package ledger

import (
	"fmt"
	"strings"

	"musterstone/model"
)

// Man puts the man of a record, as understood, in a line by which he can be known again in another download: his names, his unit, when he was born,
// came in and died. "" where no surname is known.
func Man(r *model.Record) string {
	n, s := r.Person.Name, r.Service
	if n.Surname == "" {
		return ""
	}
	u := s.Unit
	in := s.Enlisted
	if in.IsZero() {
		in = s.MusteredIn
	}
	parts := []string{n.Surname, n.Given, n.Middle, n.Suffix, u.Designation(), fmt.Sprint(u.Number), string(u.Arm), u.Company, u.Name, r.Person.Born.EDTF, in.EDTF, r.Person.Died.EDTF}
	return strings.ToLower(strings.Join(parts, "|"))
}

// SawRecord adds to what a person saw what the record said, so that the decision can follow it; r may be nil.
func SawRecord(s *model.Seen, r *model.Record) {
	if r != nil {
		s.Said, s.Man = r.Written, Man(r)
	}
}

// Shown is the part of a proposal that a person is shown when he decides on the record, "" for the stone as a whole: the two likeliest candidates, up to five
// with a chance of at least one in a hundred, those decided on, and the record's own. The rest would only make every line of the ledger long.
func Shown(p model.Proposal, record model.RecordID) *model.Proposal {
	kept := make([]model.Candidate, 0, 5)
	for n, c := range p.Candidates {
		if n < 2 || n < 5 && c.Probability >= 0.01 || c.Decided != "" || c.Record == record {
			kept = append(kept, c)
		}
	}
	p.Candidates = kept
	return &p
}
