package model

// Span is a stretch of a text in bytes, half open: text[From:To].
type Span struct {
	From, To int
}

// Token is a stretch of an inscription and what was made of it. The tokens of a reading tile the text: every byte belongs to
// exactly one, blanks and line breaks included.
type Token struct {
	Span
	// Field is what the token told: "surname", "given", "rank", "company", "regiment", "state", "arm", "body", "born", "died", …;
	// "" for blanks, points and line breaks, "unread" for words that could not be placed, "commonplace" for words that tell nothing of the man.
	Field string
	// Person is the index in Reading.People of the one it speaks of.
	Person int
	// Value is what was understood ("john" for "JNO."), Source the table row that says so, where one does.
	Value, Source string
}

// Reading is one way to read the words of one stone, or the only way to read a register's row.
type Reading struct {
	// People are those whom the stone names, the veteran first where there is one. Empty for a stone that names nobody.
	People []Claim
	// Mention is set where the first of the people is named only as the husband or father of another, without dates of his own: the stone marks the other's grave, and does not say whether he lies there.
	Mention bool
	// Unknown is set for a stone that says that the dead is not known, or gives only a grave number.
	Unknown     bool
	GraveNumber string
	// Memorial is set for a stone that says IN MEMORY OF.
	Memorial bool
	// Society holds the initials of veterans' societies on the stone ("G.A.R.").
	Society []string
	// Unread are the words that could not be placed, as written.
	Unread []string
	Tokens []Token
	// Notes are plain sentences about doubtful points ("company J was not used; perhaps I").
	Notes []string
	// Probability is this reading's share among the readings of the stone that are given.
	Probability float64
	// LeftOut is set in the first reading alone: the share, among all readings that were found, of those that are not given because each is too
	// unlikely. It is at most so much: some of them may say the same as one that is given.
	LeftOut float64
}

// Claim is what the reading says of the stone's first person; the zero Claim where it names nobody.
func (r Reading) Claim() Claim {
	if len(r.People) == 0 {
		return Claim{}
	}
	return r.People[0]
}

// Weighted is a code and its probability.
type Weighted[C ~string] struct {
	Code        C       `json:"code"`
	Probability float64 `json:"probability"`
}

// Contradiction is a plain sentence about what does not fit, and the rule and source behind it.
type Contradiction struct {
	Text   string
	Rule   string // the key of the rule in its table
	Source string // the key of its source
}

// Implication is what the design of a marker, with the words on it, implies.
type Implication struct {
	// Patterns are best first and sum to 1; not-government and unknown are among them.
	Patterns []Weighted[PatternCode]
	// Services are codes of conflict and side ("civil-war/union", "civil-war/confederate", "world-war-i", "none"), best first, summing to 1.
	Services []Weighted[string]
	// From and To are the years in which the marker can have been made; 0 where open.
	From, To       int
	Contradictions []Contradiction
	// Because are sentences that say which observations decided, most telling first.
	Because []string
	// Next says which one measurement or look would tell the two best patterns apart; "" where none would.
	Next string
}

// Best is the likeliest pattern and its probability, or UnknownPattern.
func (m Implication) Best() (PatternCode, float64) {
	if len(m.Patterns) == 0 {
		return UnknownPattern, 0
	}
	return m.Patterns[0].Code, m.Patterns[0].Probability
}
