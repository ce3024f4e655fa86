package inscription

import (
	"strings"
	"testing"
)

// TestDoubt: how likely words of a stone are to say what they seem to, at least or at most. Cases that begin with "> " stand on a government marker.
func TestDoubt(t *testing.T) {
	for _, c := range []struct {
		text, line    string
		least, atMost float64
	}{
		{"JOHN FOX / AGED 45L YRS. / DIED 1890", "born: 1844-01-02/1845-12-31", .9, 1},                 // and not 451 years
		{"> JOHN FOX / AIR SERVICE / 1918", "died: 1918", .9, 1},                                       // of John Fox, not of one Air Service
		{"CAPT. AND BVT. MAJOR / EDMUND DOW / 12 ME. INF.", "rank: captain", .8, 1},                    // the brevet is no second rank
		{"J[..]N FOX / 1840-1900", "name: J[..]n Fox", .9, 1},                                          // John sooner than Jonathan
		{"JOHN FOX / 1840-1900 / [---]AN WAR", "conflicts: indian-wars", 0, .5},                        // or the Mexican, the Korean, the Spanish-American
		{"JOHN FOX / CO. B 161 IND. INF. / [---]ICAN WAR", "conflicts: spanish-american-war", 0, .9},   // or the Mexican
		{"JOHN FOX / 1840 - 1900 / A SOLDIER OF THE UNION / CO. B 12 IND. INF.", "side: union", .9, 1}, // a side
	} {
		ctx := Context{}
		text, government := strings.CutPrefix(c.text, "> ")
		if government {
			ctx.Pattern = "civil-war-1873"
		}
		sum := 0.0
		for _, r := range Read(text, ctx) {
			if says(r, c.line) {
				sum += r.Probability
			}
		}
		if sum < c.least || sum > c.atMost {
			t.Errorf("%s: %q has probability %.2f, want %v to %v", c.text, c.line, sum, c.least, c.atMost)
		}
	}
}
