package weigh

import (
	"maps"
	"math/rand/v2"
	"strings"
	"testing"

	"musterstone/link/compare"
	"musterstone/vocab/name"
)

// madeNames are n invented surnames with many near neighbours among them, and a few with lost letters.
func madeNames(n int) []string {
	r := rand.New(rand.NewPCG(1862, 7))
	start := []string{"Ba", "Scha", "Mc", "Ho", "Wi", "Kra", "Lin", "Ti", "Ga", "Fen", "Ju", "O"}
	middle := []string{"", "l", "ll", "nd", "rt", "ff", "ck", "mm", "ss", "tz", "gg"}
	end := []string{"en", "er", "son", "man", "s", "ey", "ingham", "strom", "ard", "by", ""}
	seen := map[string]bool{}
	var out []string
	for len(out) < n {
		s := start[r.IntN(len(start))] + middle[r.IntN(len(middle))] + end[r.IntN(len(end))] + middle[r.IntN(len(middle))] + end[r.IntN(len(end))]
		b := []byte(name.Fold(s))
		for range r.IntN(3) {
			k := r.IntN(len(b))
			b[k] = byte('a' + r.IntN(26))
			if r.IntN(300) == 0 {
				b[k] = '?'
			}
		}
		if !seen[string(b)] {
			seen[string(b)] = true
			out = append(out, string(b))
		}
	}
	return out
}

// TestSpeller sets what the speller finds beside a comparison with every name, letter by letter.
func TestSpeller(t *testing.T) {
	names := madeNames(5000)
	s := newSpeller(names)
	r := rand.New(rand.NewPCG(3, 4))
	levels := map[string]int{}
	for range 150 {
		folded := names[r.IntN(len(names))]
		if r.IntN(2) == 0 { // a name that is not among them
			k := r.IntN(len(folded))
			if at := strings.IndexAny(folded, "cgoqd"); at >= 0 && r.IntN(2) == 0 { // worn
				folded = folded[:at] + string("gcqog"[r.IntN(5)]) + folded[at+1:]
			} else {
				folded = folded[:k] + string(rune('a'+r.IntN(26))) + folded[k:]
			}
		}
		got := map[string]string{}
		s.like(folded, func(n int32, level string) { got[names[n]] = level })
		a, want := s.spelling(folded), map[string]string{}
		var p compare.Prepared
		p.Set(folded)
		for i := range s.spellings {
			if level := surnameLevel(&a, &s.spellings[i], &p); level != "" {
				want[names[i]] = level
				levels[level]++
			}
		}
		if !maps.Equal(got, want) {
			t.Fatalf("%s is like %v, want %v", folded, got, want)
		}
	}
	for range 150 {
		b := []byte(names[r.IntN(len(names))])
		b[r.IntN(len(b))] = '?'
		pattern := string(b)
		if r.IntN(2) == 0 {
			pattern = strings.Replace(pattern, "?", "*", 1)
		}
		if r.IntN(2) == 0 {
			pattern = pattern[:r.IntN(len(pattern))] + "*"
		}
		got, want := map[string]string{}, map[string]string{}
		s.fitting(pattern, func(n int32, level string) { got[names[n]] = level })
		for _, other := range names {
			if level := fitLevel(pattern, other); level != "" {
				want[other] = level
				levels[level]++
			}
		}
		if !maps.Equal(got, want) {
			t.Fatalf("%s is fitted by %v, want %v", pattern, got, want)
		}
	}
	for _, level := range []string{"same", "spelling", "worn", "near", "two letters", "sound", "fits", "nearly fits"} {
		if levels[level] == 0 {
			t.Errorf("no pair came to the level %q", level)
		}
	}
}

// BenchmarkSpeller finds the surnames like one of 100,000.
func BenchmarkSpeller(b *testing.B) {
	names := madeNames(100000)
	s := newSpeller(names)
	for _, kind := range []string{"whole", "damaged"} {
		b.Run(kind, func(b *testing.B) {
			n, i := 0, 0
			for b.Loop() {
				if i++; kind == "whole" {
					s.like(names[i*37%len(names)], func(int32, string) { n++ })
				} else {
					x := names[i*37%len(names)]
					s.fitting(x[:len(x)/2]+"?"+x[len(x)/2+1:], func(int32, string) { n++ })
				}
			}
		})
	}
}
