// Package unmarked finds the veterans who lie in a survey's burial grounds without a government marker: under private stones,
// and under no stone at all. It also finds government markers that are wrong, failing or one too many, and leads to the names of unknowns.
//
// Every finding carries a probability, the reasons for it in words, and what is still to be shown before anyone asks for a marker.
// It is a lead for people: whether a marker may be had is for the agency and the law to say.
//
// # How the probabilities come about
//
// A private stone is a finding with the probability
//
//	P = P(design is not the government's) × P(a veteran) × P(no government marker elsewhere) × P(he lies here)
//
// P(design is not the government's) is the share of not-government among the design's patterns, plus half of the share of unknown.
// P(a veteran) joins chances by noisy-or, 1 - Π(1 - p): the words (a unit, a rank, a war, a society's initials); the chance that one of the service records is the
// stone's man's; and the signs, each motif or holder by its strength in the table signs.csv, which speak of a veteran whom the rosters lack: by Bayes' rule, the less
// the more of the ground's men they have. Where nothing but a holder beside the stone speaks of service, the chance stays
// below one half: holders move. P(no government marker
// elsewhere) is 1 less the chance that a record of his belongs to a government marker of the survey, or that a government
// marker has the same name and unit. P(he lies here) falls for stones IN MEMORY OF, where his record says he is buried elsewhere,
// where he died in his war away from home, as the stone or the likely record has it, and where the stone is over his wife or child
// and only names him; several such signs are joined as odds, and a list that buries him here answers the first and the third.
//
// The chance that a record is the stone's man's is the linking posterior where words speak of service. Where none do it is lowered first, by so many bits, and by more
// where dates disagree: a civilian of a soldier's name is on no list, so that linking alone makes too much of a name. Against that stands whether the record buries its
// man: linking compares the grounds where one is named, and what it says that one is named at all is measured in the survey, on the men whose stones give a unit.
//
// A record whose remarks name one of the survey's grounds, or a row of a burial register, is a finding with the probability
//
//	P = P(the text means this ground) × P(a veteran, for a register's row) × (1 - P(a stone of the survey is his))
//
// Where nobody has recorded stones in the ground, a burial
// remark stays a lead below one half. A man whom a register's row and a roster both bury here is one finding.
//
// A government marker that something contradicts (its man's record, or its own words), that is recorded broken, sunk or past reading, or that is a man's
// second, is a finding with P(design is the government's) × (1 - Π(1 - chance of each fault)), the faults being rows of the table marker-faults.csv. Names for an
// unknown, from the order of a roster between two named graves or from a grave's number, are a lead, and stay below one half.
//
// # How many there are in all
//
// Men gives each possible veteran without a government marker with the chances that the stones' own words, the rosters' burial remarks and the registers name him;
// Count estimates from them how many lie in a ground whom nothing names (package estimate).
//
// Reasons that speak of another record or row do not name a man who may be living (Input.LivingRecord, Input.LivingStone).
//
// The figures are rows of the tables unmarked-weights.csv and marker-faults.csv, and most are this program's own judgement and say so there. They were set on
// grounds with known truth (testdata/ground) and measured on others of other habits (testdata/acre); both differ from real ones in ways that are told there.
package unmarked
