// Package natural orders names as people number things: plot 2 comes before plot 10, and A2 before A10.
package natural

import (
	"cmp"
	"strings"
)

// Compare compares names with the numbers in them as numbers. Letter case and zeros before a number tell two names apart only where nothing else does.
func Compare(a, b string) int {
	tie := cmp.Compare(a, b)
	for a != "" && b != "" {
		x, y := chunk(a), chunk(b)
		a, b = a[len(x):], b[len(y):]
		if isDigit(x[0]) && isDigit(y[0]) {
			x, y = strings.TrimLeft(x, "0"), strings.TrimLeft(y, "0")
			if c := cmp.Or(cmp.Compare(len(x), len(y)), cmp.Compare(x, y)); c != 0 {
				return c
			}
			continue
		}
		if c := cmp.Compare(strings.ToLower(x), strings.ToLower(y)); c != 0 {
			return c
		}
	}
	return cmp.Or(cmp.Compare(len(a), len(b)), tie)
}

// chunk is the run of digits, or of other bytes, at the front.
func chunk(s string) string {
	for i := range len(s) {
		if isDigit(s[i]) != isDigit(s[0]) {
			return s[:i]
		}
	}
	return s
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
