package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/vocab"
	"musterstone/vocab/marker"
)

// Stone draws the stone as recorded, to scale, beside the specification it is nearest to. What was not measured is drawn after that
// specification, with broken lines, and the caption says so. A stone of which nothing was recorded is drawn as an empty place.
func Stone(s *model.Stone, imp model.Implication) string {
	near, p := nearest(imp)
	var spec form
	var size marker.Size
	if near.Code != "" {
		spec, size = specification(near, s.Marker)
	}
	rec := recorded(s.Marker, spec, near.Code != "")
	name := string(s.ID)
	if name == "" {
		name = "a stone"
	}
	title := "Stone " + name + " as recorded"
	if near.Code != "" {
		title += ", beside " + near.Short
	}
	const (
		height  = 430.
		gutter  = 66. // for the rule
		caption = 150.
		most    = 190. // of a face's width
	)
	forms := []form{rec}
	if near.Code != "" {
		forms = append(forms, spec)
	}
	up, down, wide := 1., 0., 1.
	for _, f := range forms {
		up, wide = math.Max(up, f.above), math.Max(wide, f.width)
		if f.buried {
			down = math.Max(down, f.below)
		}
	}
	flush := rec.flush && (near.Code == "" || spec.flush)
	pad := 2.
	if flush || up < 6 {
		down, pad = 0, up*.1
	}
	scale := math.Min((height-120)/(up+down+pad), most/wide)
	scale = math.Min(scale, 60)
	ground := 46 + up*scale + pad*scale/2
	var c canvas
	x := gutter
	for i, f := range forms {
		label := "as recorded"
		if i == 1 {
			label = "as specified"
		}
		x = c.panel(f, x, ground, scale, label, i == 0)
	}
	w := math.Max(x+20, 440)
	c.text(16, 24, fit(title, (w-28)*1.07, 15), "start", ink, title, ` font-weight="bold"`)
	if !flush {
		c.line(gutter-14, ground, w-12, ground, earth, 2, "")
		c.text(w-12, ground-4, 9.5, "end", earth, "ground", "")
	} else {
		seen := "seen from above"
		if onWall(s.Marker.Setting) || s.Marker.Setting == "" && onWall(near.Setting) {
			seen = "seen from the front"
		}
		c.text(w-12, 40, 10, "end", faint, seen, ` font-style="italic"`)
	}
	c.rule(gutter-22, ground, scale, up, down)
	y := ground + down*scale + 44
	for _, line := range captions(s, rec, near, size, p) {
		for _, l := range wrap(line, int(w/6.1)) {
			c.text(16, y, 11.5, "start", ink, l, "")
			y += 15
		}
	}
	return sheet(idOf("stone", s.ID), title, describe(s, rec, near, p), w, y+4, c.String())
}

// onWall reports whether a marker of a setting hangs, so that its face stands upright though no ground is drawn.
func onWall(setting string) bool { return setting == "niche" || setting == "post" }

// nearest is the government pattern that the stone is nearest to, and its probability; the zero Pattern where none is near.
func nearest(imp model.Implication) (marker.Pattern, float64) {
	for _, w := range imp.Patterns {
		if w.Code == model.UnknownPattern || w.Code == model.NotGovernment {
			continue
		}
		if w.Probability < .02 {
			break
		}
		p, _ := marker.Find(w.Code)
		return p, w.Probability
	}
	return marker.Pattern{}, 0
}

// recorded is the stone as recorded; what is missing is borrowed from the specification.
func recorded(m model.Marker, spec form, has bool) form {
	f := form{top: m.Top, material: m.Material, lettering: m.Lettering, device: m.Device, setting: m.Setting,
		width: float64(m.Width), thickness: float64(m.Thickness), above: float64(m.Height)}
	f.flush = m.Setting == "flush" || m.Setting == "niche" || m.Setting == "block" && has && spec.flush || m.Setting == "" && has && spec.flush
	for l := range strings.Lines(m.Inscription) {
		if l = strings.TrimSpace(l); l != "" {
			f.lines = append(f.lines, l)
		}
	}
	if m.Emblem != "" && !strings.EqualFold(m.Emblem, "none") {
		f.emblem = m.Emblem
		if e, ok := marker.FindEmblem(m.Emblem); ok {
			f.emblem = e.Number
		}
	}
	f.broken = slices.Contains(marker.Conditions(m.Condition), "top-lost")
	if f.flush && m.Length > 0 {
		f.above = float64(m.Length)
	}
	borrow := func(x *float64, from, other float64, name string) {
		if *x > 0 {
			return
		}
		*x = other
		if has && from > 0 {
			*x = from
		}
		f.assumed = append(f.assumed, name)
	}
	if f.top == "" {
		f.top = "square"
		if has {
			f.top = spec.top
		}
		if !f.broken {
			f.assumed = append(f.assumed, "top")
		}
	}
	borrow(&f.width, spec.width, 14, "width")
	name := "height above ground"
	if f.flush {
		name = "height of the face"
	}
	borrow(&f.above, spec.above, 24, name)
	if !f.flush && m.Length > m.Height && m.Height > 0 {
		f.below, f.buried = float64(m.Length-m.Height), true
	}
	f.width, f.above = math.Min(f.width, 240), math.Min(f.above, 240)
	f.thickness, f.below = math.Min(f.thickness, 60), math.Min(f.below, 120)
	return f
}

// panel draws one form with its side view and measures, and gives where the next begins.
func (c *canvas) panel(f form, x, ground, s float64, label string, isRecorded bool) float64 {
	w := f.width * s
	mid := x + w/2
	if f.buried && f.below > 0 && !f.flush {
		c.rect(mid-w/2, ground, w, f.below*s, "none", faint, ` stroke-dasharray="3 3"`)
	}
	c.face(f, mid, ground, s, isRecorded)
	c.text(mid, ground+16, 10, "middle", ink, wide(f, isRecorded), "")
	end := x + w
	if f.thickness > 0 && !f.flush {
		t := math.Max(f.thickness*s, 1)
		sx := end + 14
		if f.buried {
			c.rect(sx, ground, t, f.below*s, "none", faint, ` stroke-dasharray="3 3"`)
		}
		c.rect(sx, ground-f.above*s, t, f.above*s, f.fill(), ink, ` stroke-width="1.1"`)
		c.text(sx+t/2, ground+16, 10, "middle", ink, inches(f.thickness), "")
		end = sx + t
	} else if f.thickness > 0 {
		c.text(mid, ground+29, 10, "middle", ink, inches(f.thickness)+" thick", "")
	}
	c.text(x+(end-x)/2, 42, 11, "middle", accent, label, ` font-style="italic"`)
	return math.Max(end, x+74) + 46
}

func wide(f form, isRecorded bool) string {
	if isRecorded && slices.Contains(f.assumed, "width") {
		return "width not measured"
	}
	return inches(f.width) + " wide"
}

// inches writes a measure to the sixteenth, or a third: "12 in", "8 1/2 in", "1/3 in".
func inches(x float64) string {
	if math.Abs(x-1./3) < .005 {
		return "1/3 in"
	}
	return marker.Fraction(math.Round(x*16)/16) + " in"
}

// rule draws a rule in inches, up above the ground and down below it.
func (c *canvas) rule(x, ground, s, up, down float64) {
	step, label := 1., 6.
	switch {
	case s > 20:
		step, label = .5, 1
	case s < 4:
		step, label = 2, 12
	}
	a, z := math.Ceil(up), math.Ceil(down)
	c.line(x, ground-a*s, x, ground+z*s, ink, 1, "")
	for v := -z; v <= a+1e-9; v += step {
		y := ground - v*s
		n := 4.
		if math.Abs(math.Mod(v, label)) < 1e-9 {
			n = 8
			c.text(x-10, y+3.3, 9.5, "end", ink, strconv.Itoa(int(math.Abs(v))), "")
		}
		c.line(x-n, y, x, y, ink, .8, "")
	}
	c.text(x-10, ground-a*s-9, 9.5, "end", faint, "in", "")
}

// captions are the lines under the picture.
func captions(s *model.Stone, rec form, near marker.Pattern, size marker.Size, p float64) []string {
	var out []string
	if near.Code == "" {
		out = append(out, "No government pattern is near.")
	} else {
		line := near.Name + " (" + vocab.Percent(p) + ")"
		if size.Width > 0 {
			line += ": " + inches(float64(size.Width)) + " wide"
			if size.Thickness > 0 {
				line += ", " + inches(float64(size.Thickness)) + " thick"
			}
			if size.Length > 0 {
				line += ", " + inches(float64(size.Length)) + " long in all"
			}
		}
		out = append(out, line+". Issued: "+near.Issued+".")
	}
	if len(rec.assumed) > 0 {
		out = append(out, "Not recorded, and drawn by guess with broken lines: "+strings.Join(rec.assumed, ", ")+".")
	}
	if c := s.Marker.Condition; c != "" {
		out = append(out, "Condition: "+c+".")
	}
	return out
}

// describe tells the picture to those who hear it.
func describe(s *model.Stone, rec form, near marker.Pattern, p float64) string {
	m := s.Marker
	var parts []string
	add := func(name, value string) {
		if value != "" {
			parts = append(parts, name+" "+value)
		}
	}
	add("top", m.Top)
	add("material", m.Material)
	add("lettering", m.Lettering)
	add("device", m.Device)
	add("setting", m.Setting)
	for _, x := range []struct {
		name string
		v    model.Inches
	}{{"width", m.Width}, {"thickness", m.Thickness}, {"height above ground", m.Height}, {"whole length", m.Length}} {
		if x.v > 0 {
			add(x.name, strconv.FormatFloat(float64(x.v), 'f', -1, 64)+" inches")
		}
	}
	if len(parts) == 0 {
		parts = []string{"nothing was recorded of the stone itself"}
	}
	text := stop("As recorded: " + strings.Join(parts, ", "))
	if len(rec.lines) > 0 {
		text += stop(" It reads: " + strings.Join(rec.lines, " / "))
	}
	if near.Code != "" {
		text += " Nearest specification: " + near.Name + ", " + vocab.Percent(p) + "."
	}
	return text
}

// stop ends a sentence with a full stop, where it does not end with one already: stones abbreviate.
func stop(s string) string { return strings.TrimSuffix(s, ".") + "." }
