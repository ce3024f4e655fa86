// Package marker says which pattern a grave marker is, how sure that is, what service and time its design implies, and what about
// it does not fit.
//
// The answer is a distribution, never a verdict. Imply weighs every pattern of the tables by Bayes' rule: a prior that depends on
// the kind of burial ground, the share of each service that a pattern was furnished for, and a likelihood for each
// thing that was seen, measured or read. What was not seen says nothing. Sums run in natural logarithms; what is told to people is in bits.
//
//	imp := marker.Imply(stone, reading)
//	code, p := imp.Best() // "civil-war-1903", 0.97
//
// # What is modelled
//
// A pattern has a true look (pattern-looks.csv) and a recorder has his confusions (confusions.csv): a rounded top written
// down as slightly rounded, white marble as granite. A measurement is the specification (pattern-sizes.csv) with a normal error for
// cutting and weather, rounded to the whole inch, the half, the quarter or the sixteenth, with a floor for blunders. The height above
// ground depends on how the stone was set, and is held loosely: it is a mixture round the height that the rule gave, a wide
// one for settled and reset stones, and the whole length for those who typed that. The thickness of a flush stone is half hidden. Words
// count through what a pattern's inscription holds (pattern-shares.csv, pattern-services.csv).
//
// # Two codes for one design
//
// The General stone of 1922 and the upright marble furnished today are one design. The table calls it general-1922 where the wording is of
// between the wars, and upright-marble where wording or dates are later. Nothing else tells them apart, so where the words are
// silent the two share the probability, and Because says so.
//
// # Unknown
//
// The code "unknown" takes 1 - T/T0 of the probability, squared, where T is how many bits the kinds of things looked at can tell on
// average (their mutual information with the pattern, worked out from the tables) and T0 is 1.7 bits. Nothing looked at leaves it
// everything; a top and a read inscription leave it nothing. It does not depend on what was seen, so it never hides a surprise.
//
// # Where it is from
//
// What is known is in tables, each row with its sources. S24 and the like, here and in the tests, are keys of the table sources.csv, whose citations vocab.Source gives;
// "house" is a judgement of this program, and marker-weights.csv has most of those.
//
// The package promises no eligibility: that is the agency's to decide. It never asks anyone to dig for a length.
package marker
