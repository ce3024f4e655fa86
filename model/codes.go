package model

// The codes below are lower-case kebab words, the same in JSON, in CSV and as SKOS concepts. What each means, with
// its source, stands in the tables of package vocab; the types keep one kind of code from being taken for another.
type (
	// StoneID names a stone within a survey.
	StoneID string
	// RecordID names a service record within a survey.
	RecordID string
	// PatternCode names a marker pattern, such as "civil-war-1873".
	PatternCode string
	// ConflictCode names a conflict, such as "civil-war".
	ConflictCode string
	// Branch is "army", "navy", "marine-corps", "coast-guard", "revenue-cutter", "air-force".
	Branch string
	// Arm is the arm of service: "infantry", "cavalry", "heavy-artillery", …
	Arm string
	// Side is a side of the civil war.
	Side string
	// Body is the designation of a body of troops that is not a state's.
	Body string
	// State is a two-letter postal code.
	State string
	// Rank is the full trade name in lower case: "private", "first sergeant".
	Rank string
)

// The sides of the civil war.
const (
	Union       Side = "union"
	Confederate Side = "confederate"
)

// Bodies of troops that carry no state.
const (
	BodyUSCT     Body = "usct" // US Colored Troops
	BodyVRC      Body = "vrc"  // Veteran Reserve Corps
	BodyRegulars Body = "us"   // regulars, and US Volunteers
)

// Patterns that stand for "none" and "cannot tell".
const (
	NotGovernment  PatternCode = "not-government"
	UnknownPattern PatternCode = "unknown"
)
