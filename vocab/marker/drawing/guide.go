package drawing

import (
	"fmt"
	"strings"

	"musterstone/vocab/marker"
)

const guideStyle = `@page { size: letter; margin: 11mm }
* { box-sizing: border-box }
body { font: 8.6pt/1.24 Georgia, "Times New Roman", serif; color: #222; margin: 0 auto; max-width: 195mm }
h1 { font-size: 15pt; margin: 0 0 1mm } h2 { font-size: 10pt; margin: 2.2mm 0 .6mm; color: #2f5d8a } p { margin: 0 0 1mm }
.drawings { display: grid; grid-template-columns: repeat(8, 1fr); gap: 1mm; margin: 1mm 0 0 }
figure { margin: 0; text-align: center; font-size: 6.9pt; line-height: 1.15; break-inside: avoid } figure svg { width: 100%; height: auto; display: block }
.steps { columns: 2; column-gap: 6mm } section p.e { margin: 0 0 .4mm; padding-left: 3mm; text-indent: -3mm } ul { margin: 0; padding-left: 4mm }
@media screen { body { padding: 12px } }
@media screen and (max-width: 640px) { body { font-size: 16px } h1 { font-size: 22px } h2 { font-size: 18px } .drawings { grid-template-columns: repeat(3, 1fr); gap: 8px } figure { font-size: 13px } .steps { columns: 1 } }`

// Guide is the field guide as one page of HTML with drawings from the specifications, made to print on two pages. It loads nothing.
func Guide() string {
	var b strings.Builder
	b.WriteString("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width\">\n" +
		"<title>How to tell government markers apart</title>\n<style>\n" + guideStyle + "\n</style>\n</head>\n<body>\n" +
		"<h1>How to tell government markers apart</h1>\n<p>Uprights are drawn to one scale, from the specifications. Look in this order: top, device, width, wording.</p>\n" +
		"<div class=\"drawings\">\n")
	for _, p := range marker.Patterns() {
		svg := Spec(p.Code)
		if svg == "" || p.PicturedAs != "" {
			continue
		}
		fmt.Fprintf(&b, "<figure>%s<figcaption>%s</figcaption></figure>\n", svg, escape(strings.TrimPrefix(p.Short, "the ")))
	}
	b.WriteString("</div>\n<div class=\"steps\">\n")
	for i, s := range marker.Steps() {
		fmt.Fprintf(&b, "<section>\n<h2>%d. %s</h2>\n<p>%s</p>\n", i+1, escape(s.Title), escape(s.Lead))
		for _, e := range s.Entries {
			fmt.Fprintf(&b, "<p class=\"e\"><b>%s:</b> %s</p>\n", escape(e.See), escape(e.Means))
		}
		b.WriteString("</section>\n")
	}
	b.WriteString("<section>\n<h2>Please</h2>\n<ul>\n")
	for _, c := range marker.Cautions() {
		fmt.Fprintf(&b, "<li>%s</li>\n", escape(c))
	}
	b.WriteString("</ul>\n</section>\n</div>\n</body>\n</html>\n")
	return b.String()
}
