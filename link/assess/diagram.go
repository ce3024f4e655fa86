package assess

import (
	"fmt"
	"strings"
)

// The measures of a diagram, in pixels.
const (
	side   = 420.0 // of the field
	left   = 70.0
	above  = 56.0
	margin = 22.0 // of the title, so that it fits in a wide letter too
	width  = left + side + 40
	height = above + side + 70
)

// diagram draws into a square field from 0 to 1 on both axes.
type diagram struct{ b strings.Builder }

func newDiagram(title, subtitle, across, up string) *diagram {
	d := &diagram{}
	fmt.Fprintf(&d.b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %g %g" width="%g" height="%g" role="img" font-family="Georgia, serif" font-size="13" fill="#222">`+"\n", width, height, width, height)
	fmt.Fprintf(&d.b, "<title>%s</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#fff\"/>\n", title)
	fmt.Fprintf(&d.b, `<text x="%g" y="24" font-size="17">%s</text><text x="%g" y="43" fill="#555">%s</text>`+"\n", margin, title, margin, subtitle)
	for i := range 11 {
		v := float64(i) / 10
		x, y := d.at(v, v)
		fmt.Fprintf(&d.b, `<path d="M%g %gV%gM%g %gH%g" stroke="#ddd"/>`+"\n", x, above, above+side, left, y, left+side)
		if i%2 == 0 {
			fmt.Fprintf(&d.b, `<text x="%g" y="%g" text-anchor="middle">%.1f</text><text x="%g" y="%g" text-anchor="end">%.1f</text>`+"\n", x, above+side+20, v, left-8, y+4, v)
		}
	}
	fmt.Fprintf(&d.b, `<text x="%g" y="%g" text-anchor="middle">%s</text>`+"\n", left+side/2, above+side+46, across)
	fmt.Fprintf(&d.b, `<text transform="translate(22 %g) rotate(-90)" text-anchor="middle">%s</text>`+"\n", above+side/2, up)
	return d
}

// at is where a point of the field stands.
func (d *diagram) at(x, y float64) (float64, float64) { return left + x*side, above + (1-y)*side }

func (d *diagram) line(xs, ys []float64, style string) {
	d.b.WriteString(`<path d="`)
	for i := range xs {
		x, y := d.at(xs[i], ys[i])
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		fmt.Fprintf(&d.b, "%s%.1f %.1f", letter, x, y)
	}
	fmt.Fprintf(&d.b, `" fill="none" %s/>`+"\n", style)
}

func (d *diagram) dot(x, y, radius float64, style, title string) {
	px, py := d.at(x, y)
	fmt.Fprintf(&d.b, `<circle cx="%.1f" cy="%.1f" r="%.1f" %s><title>%s</title></circle>`+"\n", px, py, radius, style, title)
}

func (d *diagram) end() string {
	d.b.WriteString("</svg>\n")
	return d.b.String()
}

const dark = `stroke="#1f4e79" stroke-width="2"`

// CurveSVG draws precision against recall, with what is proposed as a dot.
func CurveSVG(r Report, recall, precision []float64, average float64) string {
	d := newDiagram("Precision against recall", fmt.Sprintf("each stone's best candidate, surest first; average precision %.3f", average), "recall: true links found", "precision: of the links found, those that are true")
	d.line(recall, precision, dark)
	if r.Precision.Of > 0 && r.Links > 0 {
		p, q := r.Precision.Value(), r.Recall.Value()
		note := fmt.Sprintf("proposed: precision %.3f, recall %.3f", p, q)
		d.dot(q, p, 5, `fill="#b03a2e"`, note)
		x, y := d.at(q, p)
		fmt.Fprintf(&d.b, `<text x="%.1f" y="%.1f" text-anchor="end" fill="#b03a2e">%s</text>`+"\n", x-10, y+24, note)
	}
	return d.end()
}

// ReliabilitySVG draws how often each tenth of the probability scale is right, with its 95% interval; what is well calibrated lies on the diagonal.
func ReliabilitySVG(r Report) string {
	d := newDiagram("Is a probability as good as it says?", fmt.Sprintf("each stone's best answer, 'none' among them; calibration error %.3f", r.ECE), "the probability given", "of those answers, how many are right")
	d.line([]float64{0, 1}, []float64{0, 1}, `stroke="#888" stroke-dasharray="5 4"`)
	var xs, ys []float64
	for _, b := range r.Bins {
		if b.N == 0 {
			continue
		}
		rate := NewRate(int(b.Right*float64(b.N)+.5), b.N)
		d.line([]float64{b.Mean, b.Mean}, []float64{rate.Low, rate.High}, `stroke="#1f4e79" stroke-opacity="0.5"`)
		xs, ys = append(xs, b.Mean), append(ys, b.Right)
	}
	d.line(xs, ys, dark)
	for _, b := range r.Bins {
		if b.N > 0 {
			d.dot(b.Mean, b.Right, 4, `fill="#1f4e79"`, fmt.Sprintf("%d answers given %.3f in the mean; %.3f are right", b.N, b.Mean, b.Right))
			x, y := d.at(b.Mean, b.Right)
			fmt.Fprintf(&d.b, `<text x="%.1f" y="%.1f" font-size="11" fill="#555">%d</text>`+"\n", x+7, y+14, b.N)
		}
	}
	return d.end()
}
