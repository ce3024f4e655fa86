package drawing

import (
	"fmt"
	"math"
	"strings"
)

// form is a marker as it is drawn, in inches.
type form struct {
	top, material, lettering, device, setting string
	width, thickness, above, below            float64
	// assumed are the measures that were not recorded, and are drawn after a specification.
	assumed []string
	emblem  string
	lines   []string
	broken  bool
	flush   bool // drawn as the face alone, without the ground
	buried  bool // below is known
}

var fills = map[string]string{
	"white marble": "#f3f1ec", "marble": "#e8e4dc", "granite": "#c6c7ca", "bronze": "#b18f5a", "iron": "#857a72", "sandstone": "#cdb08a",
	"slate": "#8b969e", "wood": "#cfae82", "zinc": "#b9c2c7", "concrete": "#d2cdc4",
}

func (f form) fill() string {
	if c, ok := fills[f.material]; ok {
		return c
	}
	return "#efede8"
}

// outline is the path of the face, feet at (x, y), s pixels to the inch.
func (f form) outline(x, y, s float64) string {
	w, h := f.width*s, f.above*s
	l, r, t := x-w/2, x+w/2, y-h
	if f.broken {
		n := 5
		var b strings.Builder
		fmt.Fprintf(&b, "M%s %s", num(l), num(y))
		for i := range n + 1 {
			dy := 0.
			if i%2 == 1 {
				dy = math.Min(w*.12, h*.3)
			}
			fmt.Fprintf(&b, " L%s %s", num(l+w*float64(i)/float64(n)), num(t+dy))
		}
		fmt.Fprintf(&b, " L%s %s Z", num(r), num(y))
		return b.String()
	}
	arch := func(rise float64) string {
		rise = math.Min(rise, h*.9)
		rad := (w*w/4 + rise*rise) / (2 * rise)
		return fmt.Sprintf("M%s %s L%s %s A%s %s 0 0 1 %s %s L%s %s Z", num(l), num(y), num(l), num(t+rise), num(rad), num(rad), num(r), num(t+rise), num(r), num(y))
	}
	switch f.top {
	case "rounded", "slightly rounded":
		return arch(f.rise(s))
	case "pointed":
		rise := math.Min(f.rise(s), h*.9)
		return fmt.Sprintf("M%s %s L%s %s L%s %s L%s %s L%s %s Z", num(l), num(y), num(l), num(t+rise), num(x), num(t), num(r), num(t+rise), num(r), num(y))
	case "oval":
		rise := math.Min(w*.5, h*.5)
		return fmt.Sprintf("M%s %s L%s %s A%s %s 0 0 1 %s %s L%s %s Z", num(l), num(y), num(l), num(t+rise), num(w/2), num(rise), num(r), num(t+rise), num(r), num(y))
	case "cross":
		a, b := w*.16, h*.22
		return fmt.Sprintf("M%s %s V%s H%s V%s H%s V%s H%s V%s H%s V%s H%s V%s Z", num(x-a), num(y), num(t+b+2*a), num(l), num(t+b), num(x-a), num(t),
			num(x+a), num(t+b), num(r), num(t+b+2*a), num(x+a), num(y))
	case "medallion":
		return fmt.Sprintf("M%s %s Q%s %s %s %s Q%s %s %s %s Q%s %s %s %s Z", num(l), num(y-h*.3), num(x-w*.2), num(t+h*.12), num(x), num(t), num(x+w*.2), num(t+h*.12), num(r), num(y-h*.3), num(x), num(y+h*.3), num(l), num(y-h*.3))
	case "other":
		k := math.Min(f.rise(s), h*.3)
		return fmt.Sprintf("M%s %s L%s %s Q%s %s %s %s Q%s %s %s %s Q%s %s %s %s L%s %s Z", num(l), num(y), num(l), num(t+k),
			num(l+w*.15), num(t-k*.3), num(l+w*.35), num(t+k*.5), num(x), num(t-k*.4), num(l+w*.68), num(t+k*.6), num(r-w*.1), num(t+k*.2), num(r), num(t+k), num(r), num(y))
	}
	return fmt.Sprintf("M%s %s V%s H%s V%s Z", num(l), num(y), num(t), num(r), num(y))
}

// rise is how far the sides stand below the top, in pixels.
func (f form) rise(s float64) float64 {
	w := f.width * s
	switch f.top {
	case "rounded":
		return w * .3
	case "slightly rounded":
		return w * .09
	case "pointed":
		return w * .22
	case "oval":
		return w * .4
	case "other":
		return w * .14
	}
	return 0
}

// shield is the path of a shield, centred on x, from t down, w wide and h tall.
func shield(x, t, w, h float64) string {
	l, r := x-w/2, x+w/2
	return fmt.Sprintf("M%s %s Q%s %s %s %s Q%s %s %s %s L%s %s Q%s %s %s %s Q%s %s %s %s Z", num(l), num(t), num(x-w*.25), num(t+h*.06), num(x), num(t),
		num(x+w*.25), num(t+h*.06), num(r), num(t), num(r), num(t+h*.58), num(r), num(t+h*.86), num(x), num(t+h), num(l), num(t+h*.86), num(l), num(t+h*.58))
}

// face draws the face, its device, emblem and words, feet at (x, y).
func (c *canvas) face(f form, x, y, s float64, faded bool) {
	dash := ""
	if len(f.assumed) > 0 && faded {
		dash = ` stroke-dasharray="5 4"`
	}
	c.path(f.outline(x, y, s), f.fill(), ink, ` stroke-width="1.4"`+dash)
	w, h := f.width*s, f.above*s
	t := y - h + f.rise(s)*.55
	left := y - t // what is left for device and words
	switch f.device {
	case "recessed shield", "outline shield":
		sw, sh := w*.78, math.Min(w*.98, left*.8)
		st := t + left*.05
		if f.device == "recessed shield" {
			c.path(shield(x, st, sw, sh), "#d9d4c9", ink, ` stroke-width="1.1"`)
			c.path(shield(x, st+1.6, sw-3.2, sh-3.2), "none", faint, ` stroke-width="0.7"`)
		} else {
			c.path(shield(x, st, sw, sh), "none", ink, ` stroke-width="1"`)
		}
		c.words(f, x, st+sh*.07, sw*.84, sh*.66, s)
		return
	case "confederate cross":
		r := math.Min(w*.13, left*.1)
		cy := t + r + left*.03
		fmt.Fprintf(c, `<circle cx="%s" cy="%s" r="%s" fill="none" stroke="%s"/>`+"\n", num(x), num(cy), num(r), ink)
		q, k, a := r*.76, r*.3, r*.1 // arms that widen outwards
		c.path(fmt.Sprintf("M%s %s L%s %s L%s %s L%s %s Z M%s %s L%s %s L%s %s L%s %s Z",
			num(x-k), num(cy-q), num(x+k), num(cy-q), num(x-k), num(cy+q), num(x+k), num(cy+q),
			num(x-q), num(cy-k), num(x-q), num(cy+k), num(x+q), num(cy-k), num(x+q), num(cy+k)), ink, "none", "")
		c.rect(x-a, cy-a, 2*a, 2*a, ink, "none", "")
		t = cy + r
	case "medal of honor":
		r := math.Min(w*.12, left*.1)
		cy := t + r + left*.03
		c.path(star(x, cy, r), "#c9a13b", ink, ` stroke-width="0.8"`)
		t = cy + r
	case "folded flag":
		k := math.Min(w*.26, left*.28)
		cy := t + k*.7
		c.path(fmt.Sprintf("M%s %s L%s %s L%s %s Z", num(x-k), num(cy+k), num(x), num(cy), num(x+k), num(cy+k)), "#8c6f42", ink, ` stroke-width="0.8"`)
		t = cy + k
	case "other":
		r := math.Min(w*.12, left*.1)
		fmt.Fprintf(c, `<circle cx="%s" cy="%s" r="%s" fill="none" stroke="%s" stroke-dasharray="3 2"/>`+"\n", num(x), num(t+r+left*.03), num(r), ink)
		c.text(x, t+r+left*.03+r*.4, r*1.2, "middle", ink, "?", "")
		t += 2*r + left*.03
	}
	if f.emblem != "" {
		r := math.Min(w*.1, left*.09)
		cy := t + r + left*.03
		fmt.Fprintf(c, `<circle cx="%s" cy="%s" r="%s" fill="none" stroke="%s"/>`+"\n", num(x), num(cy), num(r), ink)
		c.text(x, cy+fit(f.emblem, 1.7*r, r)*.36, fit(f.emblem, 1.7*r, r), "middle", ink, f.emblem, "")
		t = cy + r
	}
	c.words(f, x, t+left*.04, w*.88, (y-t)*.86, s)
}

// words writes the inscription within a box centred on x.
func (c *canvas) words(f form, x, t, w, h, s float64) {
	lines := f.lines
	const most = 10
	if len(lines) > most {
		lines = append(append([]string(nil), lines[:most-1]...), "…")
	}
	if len(lines) == 0 || f.top == "cross" {
		return
	}
	step := math.Min(h/float64(len(lines)+1), 1.9*s)
	style := ""
	if f.lettering == "raised" {
		style = ` font-weight="bold"`
	}
	size := math.Min(step*.8, 1.5*s)
	for _, l := range lines {
		size = math.Min(size, math.Max(fit(l, w, size), size*.62)) // one size for all, unless a line is far too long
	}
	size = math.Max(size, 3.2)
	for i, l := range lines {
		own := math.Max(fit(l, w, size), 3.2)
		if n := int(w / (own * .66)); len([]rune(l)) > n && n > 1 && own == 3.2 {
			l = string([]rune(l)[:n-1]) + "…"
		}
		c.text(x, t+step*(float64(i)+1), own, "middle", ink, l, style)
	}
}

func star(x, y, r float64) string {
	var b strings.Builder
	for i := range 10 {
		q := r
		if i%2 == 1 {
			q = r * .42
		}
		a := math.Pi/2 + float64(i)*math.Pi/5
		fmt.Fprintf(&b, "%c%s %s ", "ML"[min(i, 1)], num(x-q*math.Cos(a)), num(y-q*math.Sin(a)))
	}
	return b.String() + "Z"
}
