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

func ExampleConflictsDuring() {
	fmt.Println(vocab.ConflictsDuring(date.Day{Year: 1862, Month: 8, Day: 14}, date.Day{Year: 1865, Month: 7, Day: 9}))
	// Output: [indian-wars civil-war]
}
