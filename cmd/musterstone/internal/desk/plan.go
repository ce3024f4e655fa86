package desk

import (
	"cmp"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"musterstone/model"
	"musterstone/vocab/natural"
)

// planLimit is how many stones one plan shows one by one; a larger burial ground is shown in parts.
const planLimit = 300

// planView is what the page of a burial ground shows.
type planView struct {
	Cemeteries []choice
	Cemetery   string
	Parts      []choice // sections, where the ground is too large for one page
	Part       string
	Sections   []planSection
	Loose      []listed // with no place
	Counts     []countRow
	Coords     *coordView
	N          int
}

type planSection struct {
	Name string
	Rows []planRow
}

type planRow struct {
	Name  string
	Cells []planCell
}

// planCell is a plot: empty, or the stones that stand on it.
type planCell struct {
	Plot   string
	Stones []listed
}

// coordView is a plot of the stones by latitude and longitude.
type coordView struct {
	Width, Height int
	Points        []point
	Paths         []template.HTML
	Scale         int // length of the rule in pixels
	ScaleText     string
	N             int
	Far           []listed // too far from the others to be drawn
}

type point struct {
	listed
	X, Y string
}

// planPage draws a burial ground by section, row and plot, and by coordinates where there are any.
func (d *Desk) planPage(w http.ResponseWriter, r *http.Request) error {
	if err := d.refresh(); err != nil {
		return err
	}
	b := d.standings()
	q := r.URL.Query()
	v := &planView{Cemetery: q.Get("cemetery"), Part: q.Get("section")}
	n := map[string]int{}
	for i := range d.subjects {
		n[d.facets[i].cemetery]++
	}
	v.Cemeteries = choices("cemetery", n, "")
	if v.Cemetery == "" && len(v.Cemeteries) > 0 {
		v.Cemetery = v.Cemeteries[0].Value
	}
	for i := range v.Cemeteries {
		v.Cemeteries[i].Chosen = v.Cemeteries[i].Value == v.Cemetery
	}
	var here []int
	for i := range d.subjects {
		if d.facets[i].cemetery == v.Cemetery {
			here = append(here, i)
		}
	}
	v.N = len(here)
	counts := map[kind]int{}
	for _, i := range here {
		counts[b.kinds[i]]++
	}
	v.Counts = countRows(&board{counts: counts})
	v.Coords = d.coordinates(b, here)
	shown := here
	if len(here) > planLimit {
		shown = v.choosePart(d, here)
	}
	v.lay(d, b, shown)
	return d.render(w, http.StatusOK, "plan", d.frame(r, "Plan of "+v.Cemetery, "plan", v))
}

// choosePart picks what to show of a large ground: a section, or, of one that is too large and of what lies in none, so many stones at a time.
func (v *planView) choosePart(d *Desk, here []int) []int {
	sections := map[string][]int{}
	var order []string
	for _, i := range here {
		s := d.subjects[i].Stone.Place.Section
		if sections[s] == nil {
			order = append(order, s)
		}
		sections[s] = append(sections[s], i)
	}
	var shown []int
	for _, s := range order {
		for from, all := 0, sections[s]; from < len(all); from += planLimit {
			stones := all[from:min(from+planLimit, len(all))]
			name := fmt.Sprintf("stones %d to %d", from+1, from+len(stones))
			switch {
			case s != "" && len(all) <= planLimit:
				name = "section " + s
			case s != "":
				name = "section " + s + ", " + name
			}
			chosen := name == v.Part
			if chosen || shown == nil {
				shown = stones
			}
			v.Parts = append(v.Parts, choice{name, name, len(stones), chosen})
		}
	}
	if !slices.ContainsFunc(v.Parts, func(c choice) bool { return c.Chosen }) {
		v.Parts[0].Chosen = true
	}
	return shown
}

// lay puts the stones in sections, rows and plots.
func (v *planView) lay(d *Desk, b *board, shown []int) {
	type key struct{ section, row string }
	rows := map[key][]int{}
	var keys []key
	for _, i := range shown {
		p := d.subjects[i].Stone.Place
		if p.Section == "" && p.Row == "" && p.Plot == "" {
			v.Loose = append(v.Loose, d.listed(b, i))
			continue
		}
		k := key{p.Section, p.Row}
		if rows[k] == nil {
			keys = append(keys, k)
		}
		rows[k] = append(rows[k], i)
	}
	slices.SortFunc(keys, func(a, c key) int {
		return cmp.Or(natural.Compare(a.section, c.section), natural.Compare(a.row, c.row))
	})
	for _, k := range keys {
		if len(v.Sections) == 0 || v.Sections[len(v.Sections)-1].Name != k.section {
			v.Sections = append(v.Sections, planSection{Name: k.section})
		}
		s := &v.Sections[len(v.Sections)-1]
		ids := rows[k]
		slices.SortStableFunc(ids, func(x, y int) int {
			return natural.Compare(d.subjects[x].Stone.Place.Plot, d.subjects[y].Stone.Place.Plot)
		})
		row := planRow{Name: k.row}
		for _, i := range ids {
			plot := d.subjects[i].Stone.Place.Plot
			last := len(row.Cells) - 1
			if last >= 0 && plot != "" && row.Cells[last].Plot == plot {
				row.Cells[last].Stones = append(row.Cells[last].Stones, d.listed(b, i))
				continue
			}
			if last >= 0 {
				row.Cells = append(row.Cells, gap(row.Cells[last].Plot, plot)...)
			} else {
				row.Cells = append(row.Cells, gap("0", plot)...)
			}
			row.Cells = append(row.Cells, planCell{Plot: plot, Stones: []listed{d.listed(b, i)}})
		}
		s.Rows = append(s.Rows, row)
	}
}

// gap are the empty plots between two numbered ones, so that the plan keeps its distances; at most ten.
func gap(from, to string) []planCell {
	a, err1 := strconv.Atoi(from)
	z, err2 := strconv.Atoi(to)
	if err1 != nil || err2 != nil || z-a < 2 || z-a > 11 {
		return nil
	}
	var out []planCell
	for n := a + 1; n < z; n++ {
		out = append(out, planCell{Plot: strconv.Itoa(n)})
	}
	return out
}

// coordinates plots the stones that have a position, those apart that lie too far from the others; nil where fewer than two are left. North is up; degrees of longitude are drawn shorter by the
// cosine of the latitude.
func (d *Desk) coordinates(b *board, here []int) *coordView {
	var with []int
	var far []listed
	at := make([]*model.Position, len(here))
	for k, i := range here {
		at[k] = d.subjects[i].Stone.Place.Position
	}
	away := model.FarOff(at)
	lo, hi := model.Position{Latitude: 91, Longitude: 181}, model.Position{Latitude: -91, Longitude: -181}
	for k, i := range here {
		p := at[k]
		if p == nil {
			continue
		}
		if away[k] {
			far = append(far, d.listed(b, i))
			continue
		}
		with = append(with, i)
		lo.Latitude, hi.Latitude = min(lo.Latitude, p.Latitude), max(hi.Latitude, p.Latitude)
		lo.Longitude, hi.Longitude = min(lo.Longitude, p.Longitude), max(hi.Longitude, p.Longitude)
	}
	if len(with) < 2 {
		return nil
	}
	wide, high := hi.From(lo)
	const size, edge = 640., 30.
	metre := (size - 2*edge) / max(wide, high, 1)
	v := &coordView{Width: int(max(wide*metre, 120) + 2*edge), Height: int(high*metre + 2*edge + 24), N: len(with), Far: far}
	rule := 1.
	for _, m := range []float64{2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000, 10000} {
		if m*metre <= 160 {
			rule = m
		}
	}
	v.Scale, v.ScaleText = int(rule*metre), fmt.Sprintf("%g metres", rule)
	paths := map[kind]*strings.Builder{}
	for _, i := range with {
		p := d.subjects[i].Stone.Place.Position
		east, north := p.From(lo)
		x, y := edge+east*metre, edge+(high-north)*metre
		if len(with) <= planLimit {
			v.Points = append(v.Points, point{d.listed(b, i), strconv.FormatFloat(x-6, 'f', 1, 64), strconv.FormatFloat(y-6, 'f', 1, 64)})
			continue
		}
		k := b.kinds[i]
		if paths[k] == nil {
			paths[k] = &strings.Builder{}
		}
		fmt.Fprintf(paths[k], "M%d %d%s", int(x), int(y), smallShape[k])
	}
	for _, k := range kinds {
		if paths[k.Kind] != nil {
			// Kinds and numbers of our own: nothing to be escaped.
			v.Paths = append(v.Paths, template.HTML(fmt.Sprintf(`<path class="k k-%s thin" d="%s"/>`, k.Kind, paths[k.Kind])))
		}
	}
	return v
}

// smallShape is the mark of a kind where there are too many stones for one that can be opened.
var smallShape = map[kind]string{
	toDecide: "m-2-2h4v4h-4z", leftOpen: "m0-3l3 5h-6z", disputed: "m0-3l3 3l-3 3l-3-3z", settled: "m-2 0l2 2l3-5", nobody: "m-2-2l4 4m0-4l-4 4", nothing: "h1",
}
