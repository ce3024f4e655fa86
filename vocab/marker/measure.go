package marker

import (
	"math"
	"strconv"
	"strings"
)

// The four measures, in the order of Size.sd.
const (
	width = iota
	thickness
	height
	length
	measures
)

// measureKeys name them in tables, measureNames to people.
var (
	measureKeys  = [measures]string{"width", "thickness", "height", "length"}
	measureNames = [measures]string{"width", "thickness", "height above ground", "whole length"}
)

// Tape measures are read to the inch or finer; these are the shares of recorders who read to each. Common practice, no source.
var readings = [...]struct{ grid, share float64 }{{1, .45}, {.5, .33}, {.25, .12}, {1. / 16, .10}}

const (
	gridStep  = .25 // of the tables worked out beforehand
	gridCells = 192 // up to 48 inches
	blunder   = .02 // share of measurements that are simply wrong
	reach     = 60. // inches over which a wrong one is spread
)

// part is a normal component of what is measured.
type part struct{ share, mean, sd float64 }

// parts gives the components of a measure for a size; nil where the size does not fix it.
func (s Size) parts(measure int) []part {
	above, whole := float64(s.Above), float64(s.Length)
	switch measure {
	case width:
		if s.Width > 0 {
			return []part{{1, float64(s.Width), s.sd[width]}}
		}
	case thickness:
		if s.Thickness > 0 {
			if s.setFlat { // half hidden in the ground: what is measured is anything up to the whole
				t := float64(s.Thickness)
				return []part{{.6, t, s.sd[thickness]}, {.4, t / 2, t/4 + .1}}
			}
			return []part{{1, float64(s.Thickness), s.sd[thickness]}}
		}
	case height:
		switch {
		case s.setFlat && whole > 0: // written as the height of the plate, or as what stands proud
			return []part{{.6, whole, s.sd[length]}, {.4, 0, 2}}
		case s.setFlat:
			return []part{{1, 0, 2}}
		case above > 0 && s.sd[height] > 5: // a private stone: whatever its maker liked
			return []part{{1, above, s.sd[height]}}
		case above > 0 && whole > 0:
			return []part{{.70, above, s.sd[height]}, {.22, above, 2.5 * s.sd[height]}, {.08, whole, 1}}
		case above > 0:
			return []part{{.75, above, s.sd[height]}, {.25, above, 2.5 * s.sd[height]}}
		case whole > 0:
			return []part{{1, whole, s.sd[length]}}
		}
	case length:
		switch {
		case whole > 0 && above > 0 && !s.setFlat:
			return []part{{.88, whole, s.sd[length]}, {.12, above, s.sd[height]}}
		case whole > 0:
			return []part{{1, whole, s.sd[length]}}
		}
	}
	return nil
}

// likelihood is the probability that a tape read to x inches, for a marker whose measure has the parts. grid is the rounding
// where it is known, 0 where it is to be told from x.
func likelihood(x float64, parts []part, grid float64) float64 {
	if grid > 0 {
		return rounded(x, parts, grid)
	}
	p, seen := 0., false
	for _, r := range readings {
		if q := x / r.grid; math.Abs(q-math.Round(q)) < 1e-6 {
			p += r.share * rounded(x, parts, r.grid)
			seen = true
		}
	}
	if !seen { // a decimal: as fine as a sixteenth
		f := readings[len(readings)-1]
		p = f.share * rounded(x, parts, f.grid)
	}
	return p
}

func rounded(x float64, parts []part, grid float64) float64 {
	p := blunder * grid / reach
	if parts == nil {
		return grid / reach
	}
	for _, c := range parts {
		if math.Abs(x-c.mean) > grid/2+8*c.sd {
			continue
		}
		p += (1 - blunder) * c.share * (normal((x+grid/2-c.mean)/c.sd) - normal((x-grid/2-c.mean)/c.sd))
	}
	return p
}

func normal(z float64) float64 { return .5 * math.Erfc(-z/math.Sqrt2) }

// sizeRow is a size with its place in the flat list of sizes.
type sizeRow struct {
	pattern  int
	logShare float64
	parts    [measures][]part
}

// measurement is a measure as it was read.
type measurement struct {
	measure int
	x, grid float64
}

// mostMeasured is how many measurements off the grid a room remembers.
const mostMeasured = 1 << 10

// measured gives the log-likelihood of x for every size. It is shared, and not to be changed: a table on the quarter-inch grid, and else what the room remembers.
func (t *tables) measured(room *room, measure int, x float64, grid float64) []float64 {
	if grid == 0 {
		if q := x / gridStep; q == math.Trunc(q) && q >= 1 && q <= gridCells {
			n := len(t.sizes)
			at := int(q-1) * n
			return t.grid[measure][at : at+n]
		}
	}
	key := measurement{measure, x, grid}
	if out, ok := room.measured[key]; ok {
		return out
	}
	out := make([]float64, len(t.sizes))
	for i := range t.sizes {
		out[i] = math.Log(likelihood(x, t.sizes[i].parts[measure], grid))
	}
	if room.measured == nil || len(room.measured) >= mostMeasured {
		room.measured = map[measurement][]float64{}
	}
	room.measured[key] = out
	return out
}

// Fraction writes a measure in inches as people do: "12", "8 1/2", "7/16"; one that is no sixteenth as a decimal, "8.3".
func Fraction(x float64) string {
	whole := math.Floor(x)
	for _, d := range []int{1, 2, 4, 8, 16} {
		n := (x - whole) * float64(d)
		if math.Abs(n-math.Round(n)) >= 1e-6 {
			continue
		}
		switch k := int(math.Round(n)); {
		case k == d:
			return strconv.Itoa(int(whole) + 1)
		case k == 0:
			return strconv.Itoa(int(whole))
		case whole == 0:
			return strconv.Itoa(k) + "/" + strconv.Itoa(d)
		default:
			return strconv.Itoa(int(whole)) + " " + strconv.Itoa(k) + "/" + strconv.Itoa(d)
		}
	}
	return strconv.FormatFloat(x, 'f', 1, 64)
}

// inchText writes inches with their unit: "12 inches", "8 1/2 inches", "3/4 inch".
func inchText(x float64) string {
	text := Fraction(x)
	if text == "1" || x < 1 && strings.Contains(text, "/") {
		return text + " inch"
	}
	return text + " inches"
}
