package drawing

import (
	"math"

	"musterstone/model"
	"musterstone/vocab/marker"
)

// Spec draws the specification of a pattern alone, for the guide; "" for a code that has none to draw.
func Spec(code model.PatternCode) string {
	p, ok := marker.Find(code)
	if !ok || !p.Government() {
		return ""
	}
	f, _ := specification(p, model.Marker{})
	if f.width == 0 {
		f.width, f.above = 20, 30
	}
	return small(string(code), p, f)
}

// small draws a form in a box of 110 by 150 pixels, with its width under it. Uprights share one scale, so that they compare.
func small(id string, p marker.Pattern, f form) string {
	const w, h, ground = 110., 128., 112.
	s := math.Min(3.9, math.Min((ground-6)/f.above, (w-10)/f.width))
	if f.width < 10 && f.flush {
		s = math.Min(8, (ground-40)/f.above)
	}
	var c canvas
	if !f.flush {
		c.line(4, ground, w-4, ground, earth, 1.6, "")
	}
	y := ground
	if f.flush {
		y = ground - 12
	}
	c.face(f, w/2, y, s, false)
	if f.width > 0 && p.Family != "overseas" {
		c.text(w/2, h-3, 9.5, "middle", ink, inches(f.width)+" wide", "")
	}
	return sheet("spec-"+id, p.Name, p.Tell, w, h, c.String())
}

// specification is the form that a pattern's table gives: of its trusted sizes the one nearest to the measures of m, or the commonest.
func specification(p marker.Pattern, m model.Marker) (form, marker.Size) {
	var size marker.Size
	nearest := math.Inf(1)
	for _, z := range p.Sizes {
		if !z.Trusted || z.Width == 0 {
			continue
		}
		far := 1 - z.Share
		for _, d := range [][2]model.Inches{{m.Width, z.Width}, {m.Thickness, z.Thickness}, {m.Length, z.Length}} {
			if d[0] > 0 && d[1] > 0 {
				far += 3 * math.Abs(float64(d[0]-d[1]))
			}
		}
		if far < nearest {
			size, nearest = z, far
		}
	}
	f := form{width: float64(size.Width), thickness: float64(size.Thickness), above: float64(size.Above), buried: size.Length > size.Above,
		below: float64(size.Length - size.Above), top: marker.Observed("top", p.Top), material: marker.Observed("material", p.Material),
		lettering: marker.Observed("lettering", p.Lettering), device: marker.Observed("device", p.Device)}
	switch p.Family {
	case "overseas":
		f.top = "cross"
	case "medallion":
		f.top = "medallion"
	}
	switch p.Setting {
	case "flush", "niche", "post":
		f.flush = true
		f.above, f.below, f.buried = float64(size.Length), 0, false
	case "block":
		f.flush = true
		f.above, f.below, f.buried = float64(size.Width), 0, false
	}
	return f, size
}
