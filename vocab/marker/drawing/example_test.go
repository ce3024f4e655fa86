package drawing_test

import (
	"fmt"
	"strings"

	"musterstone/model"
	"musterstone/vocab/marker"
	"musterstone/vocab/marker/drawing"
)

func ExampleStone() {
	s := &model.Stone{ID: "A-12", Marker: model.Marker{Top: "pointed", Device: "confederate cross", Material: "marble", Width: 12, Height: 22, Thickness: 4}}
	svg := drawing.Stone(s, marker.Imply(s, model.Reading{}))
	for _, line := range strings.Split(svg, "\n") {
		if strings.HasPrefix(line, "<title") || strings.HasPrefix(line, "<desc") {
			fmt.Println(line)
		}
	}
	// Output:
	// <title id="stone-A-12-t">Stone A-12 as recorded, beside the Confederate stone with the cross</title>
	// <desc id="stone-A-12-d">As recorded: top pointed, material marble, device confederate cross, width 12 inches, thickness 4 inches, height above ground 22 inches. Nearest specification: Confederate stone of 1930, pointed, with the cross, 98%.</desc>
}
