package name

import "testing"

var sample = []string{
	"HOLDEN, JNO. T.", "WM. A. PRUITT", "McNeil, Alexr.", "O'Hare, Linda K.", "W[..]LIAM SM[I]TH", "Van Buren, Martin", "Guthrie J", "Schmidt, Fredk., Jr.",
}

func BenchmarkFold(b *testing.B) {
	for b.Loop() {
		for _, s := range sample {
			Fold(s)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	Parse(sample[0])
	for b.Loop() {
		for _, s := range sample {
			Parse(s)
		}
	}
}

func BenchmarkSound(b *testing.B) {
	names := []string{"holden", "pruitt", "mcneil", "ohare", "smith", "vanburen", "guthrie", "schmidt"}
	Sound(names[0])
	for b.Loop() {
		for _, s := range names {
			Sound(s)
		}
	}
}

func BenchmarkMatch(b *testing.B) {
	for b.Loop() {
		Match("w??l*m*n", "williamson")
		Match("*a*a*a*a*b", "aaaaaaaaaaaaaaaaaaaaaaaa")
	}
}

func BenchmarkSurnameShareDamaged(b *testing.B) {
	for b.Loop() {
		SurnameShare("sm?th")
	}
}
