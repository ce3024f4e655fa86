package unit

// weights are what the parts of a unit are worth beside each other, as natural logarithms: the table unit-weights.csv, whose column "means" says when
// each counts. They are house estimates, held to account by the corpus of inscriptions.
type weights struct {
	MarkFirst, Part, NumberAfterState, NumberAfterArm, StateAfterDivision, StateFirst                                                                                                                                                                   float32
	StateAfterMark, ColoredFirst, MarkLetters, LineAlone, CompanyAfterNumber, DivisionAlone                                                                                                                                                             float32
	DivisionNamed, ArmLetters, BatteryOfFoot, EndsWithNumber, ShipWithMore, NumberWhoseWhat                                                                                                                                                             float32
	IndependentBattery, NumberWhat, NumberWhatOld, NumberWhoseMark, NumberWhose, RegimentSaid                                                                                                                                                           float32
	NoCompany, NumberOnly, Named, DivisionOnly, BrigadeBand, WhoseWhat                                                                                                                                                                                  float32
	NumberedCompany, CompanyWhat, CompanyOnly, CompanyNumberOnly, StateOnly, BodyOnly                                                                                                                                                                   float32
	RegularsOnly, TroopsOnly, MarkOnly, ArmOnly, Otherwise, BatteryFoot                                                                                                                                                                                 float32
	BattalionArtillery, BatteryArtillery, BatteryWordFoot, IndependentOther, IndependentState, ColoredNobodys                                                                                                                                           float32
	BatteryNoNumber, BatteryCompany, NumberDamaged, CompanyLost, NumberYear, WordNoArm, LetterCompany, LetterBare, NumberLost, NumberRegiment, LetterOnly                                                                                               float32
	NumberOver999, NumberOver400, NumberOrdinal, Division, DivisionOfArm, BattalionOfRegiment                                                                                                                                                           float32
	CompanyOfNumber, CompanyNumber, Brigade, BandOfBrigade, ArmBrigade, ArmyCorps                                                                                                                                                                       float32
	AirGroup, SpecialCompany, FormBreaks, RegimentWord, CompanyJ, CompanyBeyondM                                                                                                                                                                        float32
	Ship, ShipEndsLine, ShipWord, CaptainsCompany, ColonelsRegiment, Legion                                                                                                                                                                             float32
	ArmLost, CompanyLetter, CompanyBreaks, CompanyComma, CompanyFigure, FurtherWord, LeftOver, Connective                                                                                                                                               float32
	ArmBehindGap, StateTail, StateWorn, RestWorn, NumberWorn, CompanyLine, CompanyAboveNumber, StateBehindGap, BodyWorn, LineWorn, VolunteersWorn, ColoredWorn, ColoredNumber, LetterMisread, PostalWorn, Commanders, CommandersBare, CommandersCommand float32
}

// worth are the weights. They are read with the lexicon, without which nobody has a Part.
var worth weights
