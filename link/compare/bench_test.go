package compare

import (
	"math/rand/v2"
	"testing"
)

// surnames pairs names of about six letters, half of them one made from the other with one letter changed.
func surnames() [][2]string {
	names := []string{
		"smith", "johnson", "holden", "mcneil", "bechtel", "pruitt", "tolliver", "vogel", "kane", "fox", "oconnor", "hagen", "siebert", "barth",
		"williams", "crowle", "lantz", "dodd", "quinn", "telford", "jenks", "sneed", "mabry", "hart", "cromer", "salazar", "schaeffer", "dorne",
	}
	r := rand.New(rand.NewPCG(5, 6))
	var out [][2]string
	for range 1024 {
		a := names[r.IntN(len(names))]
		b := names[r.IntN(len(names))]
		if r.IntN(2) == 0 {
			k := r.IntN(len(a))
			b = a[:k] + string(rune('a'+r.IntN(26))) + a[k+1:]
		}
		out = append(out, [2]string{a, b})
	}
	return out
}

func BenchmarkPairs(b *testing.B) {
	for _, f := range []struct {
		name string
		run  func(a, b string)
	}{
		{"Jaro", func(a, b string) { Jaro(a, b) }},
		{"JaroWinkler", func(a, b string) { JaroWinkler(a, b) }},
		{"Levenshtein", func(a, b string) { Levenshtein(a, b) }},
		{"OSA", func(a, b string) { OSA(a, b) }},
		{"WornDistance", func(a, b string) { WornDistance(a, b, func(x, y byte) float64 { return 0 }) }},
		{"PatternDistance", func(a, b string) { PatternDistance(a, b) }},
	} {
		b.Run(f.name, func(b *testing.B) {
			list := surnames()
			b.ReportAllocs()
			i := 0
			for b.Loop() {
				p := &list[i&1023]
				f.run(p[0], p[1])
				i++
			}
		})
	}
}
