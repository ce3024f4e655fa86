package inscription

import "musterstone/vocab"

// weights are what the pieces of an inscription are worth beside each other, as natural logarithms: the table reading-weights.csv, whose
// column "means" says when each counts. They are house estimates, held to account by the corpus.
type weights struct {
	UnitedStates, RelationAfterUnread, RelationBegins, TradeOfSoldier, StateAsName, HeadingBeforeRelation                                                                                    float32
	HeadingOfSoldier, RankBehindNumber, FormAsName                                                                                                                                           float32
	NoSurname, RankBeforeWord, WantedName, WantedShort, RelationName, RelationGiven                                                                                                          float32
	OtherParent, NameInGap, SurnameInGap, RelationWorn, RelationMisread, GuessedRelation, RelationBeforeOf, WordMisread                                                                      float32
	FirstName, FamilyGiven, FamilyOther, FamilySecond, FirstGivenOnly, FirstGivenAfterTitle, FirstOneWord                                                                                    float32
	NameOfUnknown, AnotherName, AnotherAfterDates, NameAfterName, NameAfterService, NameAfterOther                                                                                           float32
	AnotherNotKnown, AnotherNoGiven, AnotherFamilyGiven, AnotherShort, NameAfterRank, NameInUnitLine                                                                                         float32
	NameInLine, ClosedUnfinished, WantedPair, FirstPair, AnotherPair, SecondRank                                                                                                             float32
	RankAfterName, RankAsSurname, RankAfterUnit, RankInUnitLine, RankElsewhere, UnitBeginsWithState                                                                                          float32
	UnitAfterOthers, SecondUnit, UnitGoesOn, StateAboveName, UnitBroken, BranchWordAlone                                                                                                     float32
	BranchAfterRank, WeakWarLinked, WarLinked, WarYearsLabelled, ModernAwardAlone, MedalOfHonor                                                                                              float32
	YearsLabelled, YearsTooFar, YearsOtherLabel, YearsAgain, YearsOfNobody, DateOfNobody                                                                                                     float32
	DateBorn, BornTwice, DateDied, DiedTwice, DateService, DateAgain                                                                                                                         float32
	HomeAfterUnit, HomeAfterService, HomeAfterDate, PlaceAfterPlace, PlaceLabelled, PlaceAfterDate                                                                                           float32
	PlaceAfterName, PlaceElsewhere, PlaceOfNobody, TitleAfterName, LabelAfterLabel, LabelOfService                                                                                           float32
	LabelOfNobody, AgeAgain, AgeOfNobody, MemorialLate, UnknownNamed, GraveAgain                                                                                                             float32
	LinkAfterRelation, RelationOfFirst, RelationOfAfterName, RelationAgain, RelationAfterName, RelationInLine                                                                                float32
	RelationFirst, TitleOfNobody, WantedNobody, LabelBeforeName, LabelWithout, ServedWithout                                                                                                 float32
	RankBeforeWords, RankBeforeOther, TitleOfSoldier, ArmOfBranch, BodyOfRank, SoldierOfRegiment                                                                                             float32
	CompanyLine, UnitUnfinished, CivilRankAlone, RankAloneAtEnd, RankOfWords, HomeAlone                                                                                                      float32
	HomeModern, WeakWarAlone, WarYearsAlone, WarYearsOfService, ShortLife, AwardAlone                                                                                                        float32
	AwardTooEarly, ModernTooEarly, NavyRankWithUnit, NavyRankOfNavy, ShipWithRank, GraveAlone                                                                                                float32
	Nobody, Doubt, UnitDoubt, DoubtBroken                                                                                                                                                    float32
	GuessedTrade, SureRankSense, PointedDegree, SideWord, SideInitials, WarInitials                                                                                                          float32
	AwardInitials, RelationLetter, LabelLetter, LabelAtEnd, ShortSaying, FormBroken                                                                                                          float32
	GluedInitials, ServiceGoesOn, GraveNameState, AnotherUnit, UnitLinked, YearAfterWords                                                                                                    float32
	LostGiven, LostSurname, InitialGiven, InitialSurname, UnknownGiven, UnknownSurname                                                                                                       float32
	KnownGiven, CommonGiven, KnownSurname, SurnameShare, AbbreviationSurname, GivenSurname                                                                                                   float32
	DamagedGiven, DamagedSurname, DamagedLong, TwoLetterSurname, EpitaphSurname, EpitaphNoSurname                                                                                            float32
	EpitaphNoGiven, EpitaphGiven, SenseOfName, SenseOfAbbreviation, NameBreaks, InitialsBreak                                                                                                float32
	WholeNameBreaks, WholeNameGoesOn, GivenNamesBreak, SurnamePrefix, CommaInitial, CommaState                                                                                               float32
	NameOneWord, NameTwoWords, NameFourWords, NameFurtherWord, InitialAndLost, NameHeadsLine                                                                                                 float32
	GivenOnly, NamedAgain, PrefixWithin, PrefixFirst, SurnameFirst, GivenComma                                                                                                               float32
	NameEndsLine, OtherSurname, NameSuffix, PairBreaks, PairGiven, PairGivenOnly                                                                                                             float32
	PairSurname, PairEndsLine, PairHeadsLine, FamilyHeading, FamilyWord, FamilyGivenName                                                                                                     float32
	Cause, CauseWord, PlaceBreaks, PlaceWord, PlaceWithState, PlaceState                                                                                                                     float32
	PlaceCountry, PlaceCounty, CountyGoesOn, TownshipGoesOn, CountyFirst, PlaceOfBattle                                                                                                      float32
	PlacePreposition, PlaceNativeOf, PlaceEnds, PlaceInLine, DateYear, DateWhole                                                                                                             float32
	DateWord, YearOwnLine, YearInLine, YearAbout, TwoYears, YearsDash                                                                                                                        float32
	YearsOwnLine, YearsFrom, YearsOfWar, YearsLong, YearsWorn, AgeSpan, AgeWord, AgeNumber                                                                                                   float32
	AgeLabel, AgeBare, AgeHeadsLine, YearOfAge, CountedRelation, CountedRelationWord                                                                                                         float32
	CountedAward, CountedAwardWord, ActingRank, ActingRankWord, BrevetRank, BrevetRankWord                                                                                                   float32
	RateClass, WarYear, ArmSense, StateSense, StateLetterSense, MarkSense                                                                                                                    float32
	Home, HomeInLine, HomeFull, HomeWord, HomeLetters, HomeFirst                                                                                                                             float32
	GraveNumber, GraveNumberFirst, GraveNumberYear, GraveWord, NamedPost, NamedPostWord                                                                                                      float32
	Post, RankInitials, RankFigure, RankTwoLetters, RankName, RankNoted                                                                                                                      float32
	RankWeak, RankFurther, Occupation, WarLetters, WarLine, VerseWord                                                                                                                        float32
	Unread, UnreadNote, UnreadNumber, UnreadLost, UnreadJoins, UnreadLetter                                                                                                                  float32
	UnreadAgain, UnreadAfterRank, UnreadAfterService, UnreadAfterUnit, JoinsAfterRelation, Department                                                                                        float32
	RankWorn, WholeNameBelow, ActingSense, Variant, DateWorn, LabelWorn, GuessedShort                                                                                                        float32
	SurnameOfRelation, NameBreaksAtYears, NameBreaksAtSurname, RelationBehindGap, InitialParted, WideGap, LineWorn, NameBreaksAtGiven, NumberAndState, LostAfterRelation, MisreadBeforeGiven float32
	VerseOther, BrevetOfVolunteers, PairUnknown, ArticleFirst, NumberOrYear, BeforeRelation, FamilyDated                                                                                     float32
}

// readWeights reads the table.
func readWeights() (w weights) {
	vocab.Weights("reading-weights", &w)
	return w
}

// kindScore is what a form of a kind is worth alone: base for its first word, word for every further one, line where it fills its line. sense is
// how strongly a word of the kind speaks against a name.
type kindScore struct {
	base, word, line, sense float32
}

// readKinds reads the table reading-kinds.csv.
func readKinds() (all [kinds]kindScore) {
	for _, r := range vocab.Rows("reading-kinds") {
		k, ok := wordKinds[r.Get("kind")]
		if !ok {
			panic(r.Where() + ": unknown kind " + r.Get("kind"))
		}
		all[k] = kindScore{float32(r.Float("base")), float32(r.Float("word")), float32(r.Float("line")), float32(r.Float("sense"))}
	}
	return all
}
