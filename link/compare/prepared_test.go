package compare

import "testing"

// TestPrepared sets the prepared name beside the functions: the same figures to the bit.
func TestPrepared(t *testing.T) {
	var p Prepared
	n := 20000
	if testing.Short() {
		n = 2000
	}
	pairs(n, func(a, b string) {
		p.Set(a)
		for _, other := range []string{b, a, "", a + b} {
			if got, want := p.JaroWinkler(other), JaroWinkler(a, other); got != want {
				t.Fatalf("JaroWinkler of %q prepared and %q: %v, want %v", a, other, got, want)
			}
			if got, want := p.OSA(other), OSA(a, other); got != want {
				t.Fatalf("OSA of %q prepared and %q: %v, want %v", a, other, got, want)
			}
		}
	})
	if p.Set(""); p.JaroWinkler("x") != 0 || p.OSA("xy") != 2 {
		t.Error("the empty name is like something")
	}
}
