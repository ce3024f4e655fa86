package drawing

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab"
)

// bar is one row of the picture of time: what is known for sure is drawn full, what is only bounded is drawn open.
type bar struct {
	label    string
	from, to float64 // in years; NaN where open
	fill     string
	note     string
}

// Time draws one axis with the person's life, the service, the conflicts that the words name, the years of issue of the likeliest government pattern
// and the years in which the marker can have been made. A line marks the death through all rows; what does not fit is told below in red.
func Time(s *model.Stone, r model.Reading, imp model.Implication) string {
	c := r.Claim()
	bars := timeBars(c, imp)
	name := c.Person.Name.String()
	if name == "" {
		name = "stone " + string(s.ID)
	}
	title := "The years of " + name
	lo, hi := math.Inf(1), math.Inf(-1)
	for _, b := range bars {
		for _, y := range []float64{b.from, b.to} {
			if !math.IsNaN(y) {
				lo, hi = math.Min(lo, y), math.Max(hi, y)
			}
		}
	}
	const w, left, right, row, head = 640., 160., 24., 30., 52.
	if math.IsInf(lo, 0) {
		var k canvas
		k.text(16, 28, 15, "start", ink, title, ` font-weight="bold"`)
		k.text(16, 52, 12, "start", faint, "No year is known.", "")
		return sheet(idOf("time", s.ID), title, "No year is known.", w, 70, k.String())
	}
	hi += math.Max(4, (hi-lo)*.06) // room for what is open
	step := axisStep(hi - lo)
	lo, hi = math.Floor((lo-step/4)/step)*step, math.Ceil((hi+step/4)/step)*step
	at := func(y float64) float64 { return left + (y-lo)/(hi-lo)*(w-left-right) }
	var k canvas
	k.text(16, 24, 15, "start", ink, title, ` font-weight="bold"`)
	bottom := head + row*float64(len(bars)) + 6
	for y := lo; y <= hi+1e-9; y += step {
		k.line(at(y), head-6, at(y), bottom, "#e2ddd2", 1, "")
		k.text(at(y), head-10, 10, "middle", faint, strconv.Itoa(int(y)), "")
	}
	var told []string
	for i, b := range bars {
		k.bar(b, head+row*float64(i), row, at, lo, hi, left)
		told = append(told, b.label+" "+b.note)
	}
	if d := c.Person.Died; d.To.Year != 0 {
		x := at(yearOf(d.To))
		k.line(x, head-4, x, bottom, alarm, 1.2, ` stroke-dasharray="4 3"`)
		k.text(x, bottom+12, 10, "middle", alarm, "death", "")
	}
	y := bottom + 32
	for _, t := range imp.Contradictions {
		for _, l := range wrap(stop("Does not fit: "+t.Text), 100) {
			k.text(16, y, 11.5, "start", alarm, l, "")
			y += 15
		}
	}
	desc := stop(strings.Join(told, "; "))
	for _, t := range imp.Contradictions {
		desc += stop(" Does not fit: " + t.Text)
	}
	return sheet(idOf("time", s.ID), title, desc, w, y, k.String())
}

func timeBars(c model.Claim, imp model.Implication) []bar {
	var bars []bar
	if p := c.Person; !p.Born.IsZero() || !p.Died.IsZero() {
		b := span("life", p.Born, p.Died, "#7f9c7a")
		if p.Born.IsZero() && !p.Age.IsZero() && p.Died.To.Year != 0 {
			b.from = yearOf(p.Died.To) - float64(p.Age.Years) - .5
			b.note = note(b.from, b.to)
		}
		bars = append(bars, b)
	}
	sv := c.Service
	if in := came(sv); !in.IsZero() || !sv.MusteredOut.IsZero() {
		bars = append(bars, span("service", in, sv.MusteredOut, accent))
	}
	for _, code := range conflicts(sv, imp) {
		if k, ok := vocab.Conflict(code); ok {
			b := bar{label: k.Name, from: yearOf(k.From), to: yearOf(k.To), fill: "#b06c49"}
			b.note = note(b.from, b.to)
			bars = append(bars, b)
		}
	}
	if near, p := nearest(imp); near.Code != "" && p >= .2 {
		b := bar{label: strings.TrimPrefix(near.Short, "the ") + " issued", from: years(near.From()), to: years(near.To()), fill: "#9a8fb0"}
		b.note = note(b.from, b.to)
		bars = append(bars, b)
	}
	if imp.From != 0 || imp.To != 0 {
		b := bar{label: "this marker made", from: years(imp.From), to: years(imp.To), fill: "#c9b458"}
		b.note = note(b.from, b.to)
		bars = append(bars, b)
	}
	return bars
}

// conflicts are those that the words name, or else the likeliest that the design implies.
func conflicts(s model.Service, imp model.Implication) []model.ConflictCode {
	if len(s.Conflicts) > 0 {
		return s.Conflicts
	}
	if len(imp.Services) > 0 && imp.Services[0].Probability >= .5 {
		code, _, _ := strings.Cut(imp.Services[0].Code, "/")
		return []model.ConflictCode{model.ConflictCode(code)}
	}
	return nil
}

func yearOf(d date.Day) float64 {
	if d.Year == 0 {
		return math.NaN()
	}
	return float64(d.Year) + (float64(max(d.Month, 1))-1)/12 + (float64(max(d.Day, 1))-1)/366
}

func years(y int) float64 {
	if y == 0 {
		return math.NaN()
	}
	return float64(y)
}

func span(label string, from, to date.Date, fill string) bar {
	b := bar{label: label, from: yearOf(from.From), to: yearOf(to.To), fill: fill}
	b.note = note(b.from, b.to)
	return b
}

func note(from, to float64) string {
	f, t := math.IsNaN(from), math.IsNaN(to)
	switch {
	case f && t:
		return "in years not known"
	case f:
		return fmt.Sprintf("to %d", int(to))
	case t:
		return fmt.Sprintf("from %d", int(from))
	}
	return fmt.Sprintf("%d to %d", int(from), int(to))
}

// bar draws a row; an open end fades out in dots over 12 pixels a step.
func (c *canvas) bar(b bar, top, row float64, at func(float64) float64, lo, hi, left float64) {
	y, h := top+7, row-15
	lines := wrap(b.label, 24)
	dy := 0.
	if len(lines) > 1 {
		dy = -5
	}
	for i, l := range lines[:min(len(lines), 2)] {
		c.text(left-12, y+h-4+float64(i)*11+dy, 11, "end", ink, l, "")
	}
	from, to := b.from, b.to
	openL, openR := math.IsNaN(from), math.IsNaN(to)
	switch {
	case openL && openR:
		return
	case openL:
		from = math.Max(lo, to-(hi-lo)*.12)
	case openR:
		to = hi
		if b.label == "life" || b.label == "service" { // no man's goes on to the edge
			to = math.Min(hi, from+(hi-lo)*.12)
		}
	}
	x1, x2 := at(from), math.Max(at(to), at(from)+2)
	c.rect(x1, y, x2-x1, h, b.fill, "none", ` rx="2"`)
	if openL {
		c.text(x1-4, y+h-2, 12, "end", b.fill, "…", "")
	}
	if openR {
		c.path(fmt.Sprintf("M%s %s l8 %s l-8 %s Z", num(x2), num(y), num(h/2), num(h/2)), b.fill, "none", "")
	}
	text := strings.ReplaceAll(b.note, " to ", "–")
	switch {
	case x2-x1 > 70:
		c.text((x1+x2)/2, y+h-4, 10, "middle", "#ffffff", text, "")
	case x2 < 540:
		c.text(x2+12, y+h-4, 10, "start", ink, text, "")
	default:
		c.text(x1-6, y+h-4, 10, "end", ink, text, "")
	}
}

// axisStep is how many years lie between two lines of an axis of so many, of which there are at most a dozen.
func axisStep(wide float64) float64 {
	for _, s := range []float64{5, 10, 20, 25, 50} {
		if wide/s <= 11 {
			return s
		}
	}
	return 100
}
