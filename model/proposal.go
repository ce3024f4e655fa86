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
	Record      RecordID `json:"record"`
	Probability float64  `json:"probability"`
	Bits        float64  `json:"bits"`
	Proposed    bool     `json:"proposed"`
	Decided     string   `json:"decided,omitempty"` // "confirmed", "refused" or "disputed", where a person has said so
	// Second is set in place of Proposed where the man is proposed, or confirmed, for another stone: this would be a second one of his (a name on a family stone,
	// a cenotaph, a replacement) or a row of a register of the same graves.
	Second bool `json:"second,omitempty"`
	// SameAs is the proposed record of which this one looks to be another row of the same man: listed again on transfer, or when he enlisted again. Their
	// probabilities together are that of the man.
	SameAs RecordID `json:"same_as,omitempty"`
	// Person is the place of its man among those whom the stone's likeliest reading names; 0, the first, where the stone gives no choice.
	Person   int        `json:"person,omitempty"`
	Evidence []Evidence `json:"evidence"`
	// Namesakes says how many men of the rosters bear the record's name.
	Namesakes *Namesakes `json:"namesakes,omitempty"`
}

// Namesakes is how many men share a name, the one meant included.
type Namesakes struct {
	Name      string `json:"name"`
	Men       int    `json:"men"`
	Company   string `json:"company,omitempty"` // as a sentence names it: "Company K"
	InCompany int    `json:"in_company,omitempty"`
}

// RunnerUp says why the second best candidate is not the best: how many bits it is behind, and by which fields, the widest difference first. The
// differences add up to Behind.
type RunnerUp struct {
	Record RecordID   `json:"record"`
	Behind float64    `json:"behind"`
	By     []Evidence `json:"by"` // Bits is the best's less the runner-up's; Record the runner-up's value, Stone the best's
}

// Proposal is what the program says of one stone. None is the probability that none of the records is its man; with the
// candidates' it sums to 1. Candidates are best first.
type Proposal struct {
	Stone      StoneID     `json:"stone"`
	None       float64     `json:"none"`
	Candidates []Candidate `json:"candidates"`
	// Notes are sentences about the stone's proposal as a whole: a man claimed by two stones, a stone already decided.
	Notes []string `json:"notes,omitempty"`
	// RunnerUp is set where there is a second candidate that is not decided.
	RunnerUp *RunnerUp `json:"runner_up,omitempty"`
	// WouldChange are sentences that say what, if it were found, would turn the ranking round or settle it.
	WouldChange []string `json:"would_change,omitempty"`
}

// Man is the candidate whom a person has confirmed, or who is likelier than not; nil for none.
func (p *Proposal) Man() *Candidate {
	best := (*Candidate)(nil)
	for i := range p.Candidates {
		c := &p.Candidates[i]
		if c.Decided == string(Confirmed) {
			return c
		}
		if c.Probability >= 0.5 && (best == nil || c.Probability > best.Probability) {
			best = c
		}
	}
	return best
}

// Verdict is what a person decided of a stone and a record, or of a stone alone.
type Verdict string

// The verdicts of the ledger.
const (
	Confirmed Verdict = "confirmed"
	Refused   Verdict = "refused"
	Withdrawn Verdict = "withdrawn"
	// The following are on a stone as a whole: the decision names no record.
	NoneOfThese Verdict = "none"   // the stone's man is in none of the records
	Unsure      Verdict = "unsure" // left for later, or for another
	// Noted is no decision but a note, on a stone or on a stone and a record.
	Noted Verdict = "noted"
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
	// Instead are the IDs of the same person's decisions on other records of the stone, or on the stone as a whole, that this one sets aside: who
	// says "none of these" no longer holds to a record.
	Instead []string `json:"instead,omitempty"`
}

// Seen is the proposal as it stood when the decision was made, with what made it.
type Seen struct {
	Proposal *Proposal         `json:"proposal,omitempty"`
	Program  string            `json:"program,omitempty"` // version
	Inputs   map[string]string `json:"inputs,omitempty"`  // file name to SHA-256 of its bytes, in hex
	// Said is what the record said, cell by cell, and Man the same as understood, in a form that another download of the roster can be searched for.
	Said []Cell `json:"said,omitempty"`
	Man  string `json:"man,omitempty"`
}

// Finding is a veteran with no government marker (a private stone, or a record that no stone answers), a government marker that is wrong,
// failing or one too many, or a lead to the name of an unknown.
type Finding struct {
	Stone       StoneID      `json:"stone,omitempty"`
	Record      RecordID     `json:"record,omitempty"`
	Kind        string       `json:"kind"` // one of the kinds of finding
	Probability float64      `json:"probability"`
	Conflict    ConflictCode `json:"conflict,omitempty"`
	Reasons     []string     `json:"reasons"`
	ToShow      []string     `json:"to_show"`
	// Stones and Records are the others that the reasons speak of, beside those of which linking thinks for Stone: whoever must keep something private asks about them too.
	Stones  []StoneID  `json:"-"`
	Records []RecordID `json:"-"`
}

// The kinds of finding.
const (
	PrivateStone = "private-stone"
	NoStone      = "no-stone"
	// WrongMarker is a government marker whose name, unit or design the record or the words contradict.
	WrongMarker = "wrong-marker"
	// FailingMarker is a government marker recorded as broken, sunk or past reading.
	FailingMarker = "failing-marker"
	// SecondMarker is a government marker of a man who has another in the survey.
	SecondMarker = "second-marker"
	// UnknownLead is a marker of an unknown for which the order of a roster suggests names: a lead, never more.
	UnknownLead = "unknown-lead"
)
