package assess

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"musterstone/model"
)

// Error is a stone whose true record was not proposed, or that was proposed a wrong one.
type Error struct {
	Stone    model.StoneID    `json:"stone"`
	Kind     Kind             `json:"kind"`
	Proposed model.RecordID   `json:"proposed,omitempty"`
	True     []model.RecordID `json:"true,omitempty"`
	// Probability is that of the record proposed, or of the true one that was not.
	Probability float64 `json:"probability"`
	// Why is what spoke most against the true record, or what stands before it, for a person.
	Why string `json:"why,omitempty"`
}

// Kind is the kind of an error, by what a person can do about it.
type Kind string

// The kinds: a wrong record was proposed, or a true one was missed.
const (
	WrongLacking  Kind = "wrong: the rosters lack its man"
	WrongTie      Kind = "wrong: cannot be told from the true record"
	WrongNamesake Kind = "wrong: a namesake"
	WrongUnit     Kind = "wrong: the true record's unit differs from the stone's"
	WrongName     Kind = "wrong: the true record's name differs from the stone's"
	WrongUnfound  Kind = "wrong: the true record is not among the candidates"
	WrongOther    Kind = "wrong: other"
	MissedSecond  Kind = "missed: its man is proposed for another stone"
	MissedTie     Kind = "missed: cannot be told from another record"
	MissedBehind  Kind = "missed: another record stands before it"
	MissedNone    Kind = "missed: likelier in none of the records"
	MissedBelow   Kind = "missed: below the threshold"
	MissedUnfound Kind = "missed: not among the candidates"
	MissedFar     Kind = "missed: among the candidates, but far behind"
)

// KindCount is how many errors are of a kind.
type KindCount struct {
	Kind Kind `json:"kind"`
	N    int  `json:"n"`
}

// countKinds counts the errors by kind, the most frequent first.
func countKinds(errors []Error) []KindCount {
	n := map[Kind]int{}
	for _, e := range errors {
		n[e.Kind]++
	}
	var out []KindCount
	for k, c := range n {
		out = append(out, KindCount{k, c})
	}
	slices.SortFunc(out, func(a, b KindCount) int { return cmp.Or(cmp.Compare(b.N, a.N), cmp.Compare(a.Kind, b.Kind)) })
	return out
}

// tie is how many bits two records may be apart and still not be told one from the other. House judgement.
const tie = 1.0

// nameFields and unitFields are the fields of evidence that are of the name and of the unit.
var nameFields, unitFields = []string{"surname", "given", "middle", "suffix"}, []string{"unit"}

// wrong is the error of a stone to which a record was proposed that is not its man's; actual is the true record's candidate, nil where there is none.
func wrong(e Error, proposed, actual *model.Candidate) Error {
	e.Proposed, e.Probability = proposed.Record, proposed.Probability
	switch {
	case len(e.True) == 0:
		e.Kind = WrongLacking
		return e
	case actual == nil:
		e.Kind = WrongUnfound
		return e
	case math.Abs(proposed.Bits-actual.Bits) < tie:
		e.Kind = WrongTie
	case worse(proposed, actual, unitFields) >= tie:
		e.Kind = WrongUnit
	case worse(proposed, actual, nameFields) >= tie:
		e.Kind = WrongName
	case worse(actual, proposed, nameFields) < tie:
		e.Kind = WrongNamesake
	default:
		e.Kind = WrongOther
	}
	e.Why = against(actual)
	return e
}

// missed is the error of a stone whose true record was not proposed; first is its best candidate, elsewhere whether the true record is proposed for another stone.
func missed(e Error, none float64, first, actual *model.Candidate, elsewhere bool) Error {
	if actual == nil {
		e.Kind = MissedUnfound
		return e
	}
	e.Probability, e.Why = actual.Probability, against(actual)
	switch {
	case elsewhere:
		e.Kind, e.Why = MissedSecond, ""
	case first.Record != actual.Record && math.Abs(first.Bits-actual.Bits) < tie:
		e.Kind, e.Why = MissedTie, "record "+string(first.Record)+" agrees as well"
	case first.Record != actual.Record && first.Probability > none:
		e.Kind = MissedBehind
	case none >= actual.Probability:
		e.Kind = MissedNone
	default:
		e.Kind = MissedBelow
	}
	return e
}

// worse is by how many bits the second candidate is behind the first in the fields.
func worse(a, b *model.Candidate, fields []string) float64 {
	sum := 0.0
	for _, e := range a.Evidence {
		if slices.Contains(fields, e.Field) {
			sum += e.Bits
		}
	}
	for _, e := range b.Evidence {
		if slices.Contains(fields, e.Field) {
			sum -= e.Bits
		}
	}
	return sum
}

// against is the field that speaks most against a candidate.
func against(c *model.Candidate) string {
	worst := -1
	for i, e := range c.Evidence {
		if e.Bits < 0 && (worst < 0 || e.Bits < c.Evidence[worst].Bits) {
			worst = i
		}
	}
	if worst < 0 || c.Evidence[worst].Bits > -tie {
		return "nothing speaks against it, but too little for it"
	}
	e := c.Evidence[worst]
	if e.Stone != "" || e.Record != "" {
		return fmt.Sprintf("%s: %s, %q and %q (%+.1f bits)", e.Field, e.Level, e.Stone, e.Record, e.Bits)
	}
	return fmt.Sprintf("%s: %s (%+.1f bits)", e.Field, e.Level, e.Bits)
}

// Retrieved tells the true records that were found for their stones, and that no proposal shows, from those that were not found: a proposal leaves out candidates that are
// far behind. Candidates are those found for each stone.
func (r *Report) Retrieved(candidates map[model.StoneID][]model.RecordID) {
	for i := range r.Errors {
		e := &r.Errors[i]
		if e.Kind == MissedUnfound && slices.ContainsFunc(e.True, func(id model.RecordID) bool { return slices.Contains(candidates[e.Stone], id) }) {
			e.Kind = MissedFar
		}
	}
	r.Kinds = countKinds(r.Errors)
}
