// Package inscription reads the words of a grave marker: who lies there, what he served in and when he lived, and what of the
// words could not be placed.
//
// Reading is a grammar over words, scored. The topics of the grammar (names, service, dates, people, sayings, places) each say what the words at a
// place may be; a chart holds every way to lay such pieces end to end, and the best-scored ways become readings with probabilities. Nothing is
// decided by the first look: "3 IND. BTRY." stays both the 3rd Indiana Battery and the 3rd Independent Battery, and the lesser reading is kept.
// Scores are natural logarithms, and house estimates: the tables reading-weights.csv (what pieces are worth beside each other) and reading-kinds.csv (what a form
// is worth alone). The corpus in testdata holds them to account. Ways that are too unlikely are not given, and LeftOut of the first reading tells what they come to.
//
//	r := inscription.Read("CORPL / JNO. T. HOLDEN / CO. F / 47 ILLS. INF.", inscription.Context{})
//	r[0].Claim().Person.Name.Given // "John"; GivenOr has "Jonathan"
//
// What a stone does not say is left out: no private is inferred from a missing rank, and no war from a regiment. A mention of
// service is never made from a title, a name or a place alone, because a civilian's stone must come out with no service at all.
package inscription
