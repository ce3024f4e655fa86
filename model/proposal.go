package model

import "time"

// Evidence is one field set beside the other, and what that is worth in bits: log2 of how much oftener it looks so
// for one man than for two.
type Evidence struct {
	Field  string  `json:"field"`
	Level  string  `json:"level"`
	Bits   float64 `json:"bits"`
	Stone  string  `json:"stone,omitempty"`
	Record string  `json:"record,omitempty"`
	// Why is a sentence for a person, where the values do not speak for themselves.
	Why string `json:"why,omitempty"`
}

// Candidate is a record that may be the stone's man. Bits is the sum of the Evidence.
type Candidate struct {
	Record      RecordID   `json:"record"`
	Probability float64    `json:"probability"`
	Bits        float64    `json:"bits"`
	Proposed    bool       `json:"proposed"`
	Decided     string     `json:"decided,omitempty"` // "confirmed", "refused" or "disputed", where a person has said so
	Evidence    []Evidence `json:"evidence"`
}

// Proposal is what the program says of one stone. None is the probability that none of the records is its man; with the
// candidates' it sums to 1. Candidates are best first.
type Proposal struct {
	Stone      StoneID     `json:"stone"`
	None       float64     `json:"none"`
	Candidates []Candidate `json:"candidates"`
	// Notes are sentences about the stone's proposal as a whole: a man claimed by two stones, a stone already decided.
	Notes []string `json:"notes,omitempty"`
}

// Verdict is what a person decided of a stone and a record.
type Verdict string

// The verdicts of the ledger.
const (
	Confirmed Verdict = "confirmed"
	Refused   Verdict = "refused"
	Withdrawn Verdict = "withdrawn"
)

// Decision is one line of the ledger. A decision is never changed: a later one that Supersedes it takes its place.
type Decision struct {
	ID         string    `json:"id"`
	At         time.Time `json:"at"`
	By         string    `json:"by"`
	Stone      StoneID   `json:"stone"`
	Record     RecordID  `json:"record"`
	As         Verdict   `json:"as"`
	Because    string    `json:"because,omitempty"`
	Seen       *Seen     `json:"seen,omitempty"`
	Supersedes string    `json:"supersedes,omitempty"`
}

// Seen is the proposal as it stood when the decision was made, with what made it.
type Seen struct {
	Proposal *Proposal         `json:"proposal,omitempty"`
	Program  string            `json:"program,omitempty"` // version
	Inputs   map[string]string `json:"inputs,omitempty"`  // file name to SHA-256 of its bytes, in hex
}

// Finding is a veteran with no government marker: a private stone, or a record that no stone answers.
type Finding struct {
	Stone       StoneID      `json:"stone,omitempty"`
	Record      RecordID     `json:"record,omitempty"`
	Kind        string       `json:"kind"` // "private-stone" or "no-stone"
	Probability float64      `json:"probability"`
	Conflict    ConflictCode `json:"conflict,omitempty"`
	Reasons     []string     `json:"reasons"`
	ToShow      []string     `json:"to_show"`
}

// The kinds of finding.
const (
	PrivateStone = "private-stone"
	NoStone      = "no-stone"
)
