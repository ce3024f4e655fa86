package compare_test

import (
	"fmt"

	"musterstone/link/compare"
)

func ExampleJaroWinkler() {
	fmt.Printf("%.4f\n", compare.JaroWinkler("marhta", "martha"))
	fmt.Printf("%.4f\n", compare.JaroWinkler("wilson", "wikeman")) // Jaro's measure is not above 0.7
	// Output:
	// 0.9611
	// 0.6429
}

func ExampleOSA() {
	fmt.Println(compare.OSA("davis", "advis"), compare.OSA("ca", "abc"))
	// Output: 1 3
}

func ExampleWornDistance() {
	alike := func(x, y byte) float64 {
		if x == 'c' && y == 'g' || x == 'g' && y == 'c' {
			return 0.75
		}
		return 0
	}
	fmt.Println(compare.WornDistance("cage", "gage", alike), compare.WornDistance("page", "gage", alike))
	// Output: 0.25 1
}

func ExamplePatternDistance() {
	fmt.Println(compare.PatternDistance("w??liams*", "williamson"), compare.PatternDistance("w??liams*", "willson"))
	// Output: 0 3
}
