// Package compare sets one name beside another and says how alike they are.
//
// The names are compared letter by letter as they stand: fold case, accents and marks first. Text that is not ASCII is compared character by
// character. Nothing is allocated for names of up to 64 characters.
//
//	compare.JaroWinkler("marhta", "martha")            // 0.9611
//	compare.OSA("davis", "advis")                      // 1
//	compare.PatternDistance("w??liams*", "williamson") // 0
//
// The comparators know nothing of sounds, nicknames or how common a name is, and an empty name is no name: it is like nothing, not even
// another empty one.
package compare
