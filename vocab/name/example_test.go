package name_test

import (
	"fmt"

	"musterstone/vocab/name"
)

func ExampleParse() {
	for _, s := range []string{"JNO. T. HOLDEN", "McNeil, Alexr., Jr.", "W[..]LIAM VAN BUREN"} {
		n := name.Parse(s)
		fmt.Printf("%s; surname %s, perhaps %q\n", n, n.Surname, n.GivenOr)
	}
	// Output:
	// John T Holden; surname Holden, perhaps ["Jonathan"]
	// Alexander McNeil Jr; surname McNeil, perhaps []
	// W[..]liam Van Buren; surname Van Buren, perhaps []
}

func ExampleFold() {
	fmt.Println(name.Fold("O'Hare"), name.Fold("W[..]LIAM"), name.Fold("[---]SON"))
	// Output: ohare w??liam *son
}

func ExampleMatch() {
	damaged := name.Fold("SM[.]TH")
	fmt.Println(name.Match(damaged, "smith"), name.Match(damaged, "smyth"), name.Match(damaged, "south"))
	// Output: true true false
}

func ExampleRoots() {
	for _, f := range name.Roots("Harry") {
		fmt.Printf("%s %.1f\n", f.Name, f.P)
	}
	// Output:
	// henry 0.6
	// harold 0.2
	// harry 0.2
}

func ExampleSound() {
	fmt.Println(name.Sound("Klausen") == name.Sound("Clausen"), name.Soundex("Klausen") == name.Soundex("Clausen"))
	// Output: true false
}
