package main

import (
	"cmp"
	"fmt"
	"html/template"
	"math"
	"slices"
	"strconv"
	"strings"

	"musterstone/link/unmarked"
	"musterstone/model"
	"musterstone/vocab/natural"
)

// mostPlans is how many grounds the report draws: more do not fit on its second page, where all together, with what parts them, have so much height, in pixels.
const (
	mostPlans  = 4
	plansHigh  = 590.
	plansApart = 14.
)

// spot is a stone on a plan, in any units; y grows towards the reader's foot.
type spot struct {
	x, y float64
	id   model.StoneID
}

// plans draws the grounds with the most leads, and says which were left out.
func plans(all *leads) (out []template.HTML, leftOut string) {
	type ranked struct {
		name  string
		leads int
	}
	var list []ranked
	for _, g := range all.grounds {
		n := 0
		for i := range all.all {
			if strings.EqualFold(all.all[i].place.Cemetery, g) && all.all[i].subject != nil {
				n++
			}
		}
		if n > 0 {
			list = append(list, ranked{g, n})
		}
	}
	slices.SortStableFunc(list, func(a, b ranked) int { return cmp.Or(cmp.Compare(b.leads, a.leads), cmp.Compare(a.name, b.name)) })
	var left []string
	for i, g := range list {
		if i >= mostPlans {
			left = append(left, g.name)
			continue
		}
		out = append(out, template.HTML(plan(all, g.name, i, plansHigh/float64(min(len(list), mostPlans))-plansApart)))
	}
	if len(left) > mostGrounds {
		left = append(left[:mostGrounds:mostGrounds], fmt.Sprintf("and %d more", len(left)-mostGrounds))
	}
	return out, strings.Join(left, ", ")
}

// What a plan is drawn by.
const (
	byPosition = "by position, north above"
	byPlot     = "by row and plot, not to scale"
	byTable    = "in the order of the table: neither row nor plot is told"
)

// spots are the places of a ground's stones, and what they are drawn by: position where nine in ten have one, else section, row and plot, else nothing but the table's order.
func spots(all *leads, cemetery string) (list []spot, by string) {
	var in []*model.Stone
	placed := 0
	for _, s := range all.subjects {
		if strings.EqualFold(s.Stone.Place.Cemetery, cemetery) {
			in = append(in, s.Stone)
			if s.Stone.Place.Position != nil {
				placed++
			}
		}
	}
	if placed > 0 && placed*10 >= len(in)*9 {
		at := make([]*model.Position, len(in))
		for i, s := range in {
			at[i] = s.Place.Position
		}
		far, origin := 0, (*model.Position)(nil)
		for i, away := range model.FarOff(at) {
			if s, p := in[i], at[i]; away {
				far++
			} else if p != nil {
				origin = cmp.Or(origin, p)
				east, north := p.From(*origin)
				list = append(list, spot{east, -north, s.ID})
			}
		}
		if far > 0 {
			return list, fmt.Sprintf("%s; not drawn: %s more than ten kilometres off", byPosition, count(far, "stone", "stones"))
		}
		return list, byPosition
	}
	by = byTable
	var lines []string
	line := func(s *model.Stone) string { return s.Place.Section + "\x00" + s.Place.Row }
	for _, s := range in {
		if !slices.Contains(lines, line(s)) {
			lines = append(lines, line(s))
		}
	}
	slices.SortStableFunc(lines, natural.Compare)
	seen := map[string]int{}
	for _, s := range in {
		if s.Place.Section+s.Place.Row+s.Place.Plot != "" {
			by = byPlot
		}
		k := line(s)
		seen[k]++
		x := float64(seen[k])
		if n, err := strconv.Atoi(strings.Trim(s.Place.Plot, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ .-")); err == nil && n < 1000 {
			x = float64(n)
		}
		list = append(list, spot{x, float64(slices.Index(lines, k)) * 1.6, s.ID})
	}
	return list, by
}

// plan draws a ground from above, at most so many pixels high: every stone a small ring, every lead its own shape with its number.
func plan(all *leads, cemetery string, n int, most float64) string {
	const w, head, edge = 700., 34., 20.
	list, by := spots(all, cemetery)
	measured := strings.HasPrefix(by, byPosition)
	if len(list) == 0 {
		return ""
	}
	minX, maxX, minY, maxY := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
	for _, s := range list {
		minX, maxX, minY, maxY = min(minX, s.x), max(maxX, s.x), min(minY, s.y), max(maxY, s.y)
	}
	across, down := min((w-2*edge)/max(maxX-minX, 1e-9), 60), min(max(20, most-head-2*edge)/max(maxY-minY, 1e-9), 60)
	if measured {
		across = min(across, down, 14) // pixels a metre
		down = across
	}
	h := (maxY-minY)*down + 2*edge + head
	left := (w - (maxX-minX)*across) / 2
	at := func(s spot) (float64, float64) { return left + (s.x-minX)*across, 26 + edge + (s.y-minY)*down }
	var b strings.Builder
	title := "Plan of " + cemetery
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="plan" width="%.0f" height="%.0f" viewBox="0 0 %.0f %.0f" role="img" aria-labelledby="plan%d-t" font-family="Georgia, 'Times New Roman', serif">`, w, h, w, h, n)
	fmt.Fprintf(&b, `<title id="plan%d-t">%s</title><text x="0" y="15" font-size="14" font-weight="bold">%s</text>`, n, template.HTMLEscapeString(title), template.HTMLEscapeString(cemetery))
	fmt.Fprintf(&b, `<text x="%.0f" y="15" font-size="11" text-anchor="end" fill="#555">%s</text>`, w-2, by)
	fmt.Fprintf(&b, `<rect x="0.5" y="22.5" width="%.1f" height="%.1f" fill="#fbfaf5" stroke="#bbb"/>`, w-2, h-24)
	where := map[model.StoneID]spot{}
	for _, s := range list {
		where[s.id] = s
		x, y := at(s)
		fmt.Fprintf(&b, `<circle cx="%.1f" cy="%.1f" r="2" fill="none" stroke="#999"/>`, x, y)
	}
	numbers := map[model.StoneID][]string{}
	shapes := map[model.StoneID]string{}
	var order []model.StoneID
	for i := range all.all {
		l := &all.all[i]
		if s, ok := where[l.Stone]; ok {
			if numbers[l.Stone] == nil {
				order = append(order, l.Stone)
				x, y := at(s)
				shapes[l.Stone] = shape(l, x, y)
			}
			numbers[l.Stone] = append(numbers[l.Stone], strconv.Itoa(l.number))
		}
	}
	for i, id := range order {
		x, y := at(where[id])
		b.WriteString(shapes[id])
		dy := -7.
		if i%2 == 1 && (measured || across < 24) { // close neighbours in a row write above and below in turn
			dy = 15
		}
		fmt.Fprintf(&b, `<text x="%.1f" y="%.1f" font-size="10" text-anchor="middle">%s</text>`, x, y+dy, strings.Join(numbers[id], ", "))
	}
	if measured {
		metres := 10.
		if metres*across > w/3 {
			metres = 5
		}
		fmt.Fprintf(&b, `<path d="M10 %.1f h%.1f" stroke="#333" stroke-width="2"/><text x="10" y="%.1f" font-size="10">%.0f metres</text>`, h-12, metres*across, h-16, metres)
	}
	b.WriteString("</svg>")
	return b.String()
}

// shape is the mark of a lead: a square for a man without a marker, full where that is likelier than not; a triangle for a marker that stands and has something amiss; a diamond for an
// unknown.
func shape(l *lead, x, y float64) string {
	fill := "#fff"
	if l.Probability >= 0.5 {
		fill = "#2f5d8a"
	}
	switch {
	case l.Kind == model.UnknownLead:
		return fmt.Sprintf(`<path d="M%.1f %.1f l5 5 l-5 5 l-5 -5 Z" fill="#fff" stroke="#2f5d8a"/>`, x, y-5)
	case unmarked.NoMarker(l.Kind):
		return fmt.Sprintf(`<rect x="%.1f" y="%.1f" width="8" height="8" fill="%s" stroke="#2f5d8a"/>`, x-4, y-4, fill)
	}
	return fmt.Sprintf(`<path d="M%.1f %.1f l5 9 h-10 Z" fill="#fff" stroke="#a3271b" stroke-width="1.5"/>`, x, y-5)
}
