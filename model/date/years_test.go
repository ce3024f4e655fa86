package date

import (
	"slices"
	"testing"
)

// TestYearsOf holds the years worked out from a pattern to those found by trying every year.
func TestYearsOf(t *testing.T) {
	for _, pattern := range []string{"XXXX", "18XX", "186X", "1X6X", "X864", "XX0X", "000X", "XX00"} {
		for _, negative := range []bool{false, true} {
			for _, down := range []bool{false, true} {
				var want []int
				for y := range 10000 {
					switch {
					case !fits(pattern, y) || negative && y == 0:
					case negative:
						want = append(want, -y)
					default:
						want = append(want, y)
					}
				}
				if down != negative {
					slices.Reverse(want)
				}
				if got := yearsOf(pattern, negative, down); !slices.Equal(got, want) {
					t.Errorf("%s, negative %v, down %v: %d years, want %d", pattern, negative, down, len(got), len(want))
				}
			}
		}
	}
}
