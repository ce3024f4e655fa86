// Package ledger keeps what people decided of stones and records, for good: who, when, what and why, one line of JSON a
// decision, in a file that is only ever added to.
//
// # The file
//
// decisions.jsonl is UTF-8, one JSON object a line, each line ended by a line feed. The members of a line are, in this order:
//
//	id          when and a digest of the rest: "20261125T074548Z-3f9a0c12de"; sorts by time
//	at          the moment, UTC, RFC 3339 to the second
//	by          the person, as he or she gave the name
//	stone       the stone's id
//	record      the service record's id; "" for what is on the stone as a whole
//	as          "confirmed" or "refused", of a stone and a record; "none" (its man is in none of the records) or "unsure" (left for later),
//	            of a stone; "withdrawn", of either; "noted", a note
//	because     the person's reason, or the text of the note (left out where none was given)
//	seen        the proposal as it stood, the program's version, the inputs' digests, and what the record said, cell by cell and as a line
//	            to search for (left out where none)
//	supersedes  the id of the same person's earlier decision on the same pair, which this one replaces
//	instead     the ids of the same person's decisions on other records of the stone, or on the stone as a whole, that this one sets aside
//	            (left out where none): a confirmation sets aside an earlier "none" or "unsure", and these set aside confirmations
//	prev        the sum of the line that stood last when this one was written
//	sum         the first 16 hex digits of the SHA-256 of the line's own bytes up to, and not with, `,"sum":`
//
// The verdicts none, unsure and noted, and the member instead, came later than the others; a ledger without them reads as it always did.
// A member that this version does not know is passed over and stays in its line, which nothing rewrites. This is version 1 of the format.
//
// The sum tells a damaged line or one edited by hand from a whole one; such a line is told with its number and does not count,
// and all others still do. A line written by hand may do without sum, and counts, and is told. The member prev only helps to
// notice that lines have gone: lines of two ledgers may be put together in any order, by hand, by a version control system
// (its "union" of lines) or by [Merge], without touching them.
//
// # The stance
//
// A decision is never changed and never taken out. A later one by the same person on the same stone and record replaces it; two
// people who disagree are shown as disagreeing. An acknowledged decision has been written and flushed to the disk before
// Append returns; a line that was cut short by a crash was never acknowledged, and is set aside and told, never dropped in silence.
//
//	l, err := ledger.Open("survey/decisions.jsonl")
//	d, err := l.Append(model.Decision{By: "Ann", Stone: "s1", Record: "r7", As: model.Confirmed, Because: "same company"})
//	l.State().Confirmed("s1") // [r7]
//
// # Newer rosters
//
// A newer download of a roster may give a man another id, or give his id to another man. [Ledger.Follow] lets each decision follow its record by
// what the record said: the same words under the same id; else the same man under the same id, his words mended; else the one record with the
// same words; else the one record of the same man. What can be followed to no record, or to several, is listed by [Ledger.Lost] and links nothing. Lines are not
// touched by this.
//
// The package does not know which stones and records there are, and proposes nothing.
package ledger
