package vocab_test

import (
	"fmt"

	"musterstone/model/date"
	"musterstone/vocab"
)

func ExampleState() {
	for _, text := range []string{"Ill's", "PENNA.", "N. Y.", "WI", "U.S.C.T."} {
		code, ok := vocab.State(text)
		fmt.Println(text, code, ok)
	}
	// Output:
	// Ill's IL true
	// PENNA. PA true
	// N. Y. NY true
	// WI WI true
	// U.S.C.T.  false
}

func ExampleStateForms() {
	for _, f := range vocab.StateForms("COL") {
		fmt.Println(f.State, f.Also, f.Note)
	}
	// Output: CO [colored colonel] COL is Colorado, Colored or Colonel: see the place in the line
}

func ExampleRankIn() {
	rank, brevet, rest, _ := vocab.RankIn("Bvt. Brig. Gen., U. S. Vols.")
	fmt.Println(rank, brevet, rest)
	// Output: brigadier general true U. S. Vols.
}

func ExampleConflictsDuring() {
	fmt.Println(vocab.ConflictsDuring(date.Day{Year: 1862, Month: 8, Day: 14}, date.Day{Year: 1865, Month: 7, Day: 9}))
	// Output: [indian-wars civil-war]
}
