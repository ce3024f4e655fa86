package intake_test

import (
	"fmt"

	"musterstone/index/intake"
	"musterstone/model"
)

func Example() {
	survey, err := intake.Open("testdata/example")
	if err != nil {
		fmt.Println(err)
		return
	}
	complain := func(c model.Complaint) { fmt.Println("told:", c.Error()) }
	for stone := range survey.Stones(complain) {
		fmt.Printf("%s: %q, %s, %g in\n", stone.ID, stone.Marker.Inscription, stone.Marker.Top, stone.Marker.Width)
	}
	for record := range survey.Records(complain) {
		s := record.Service
		fmt.Printf("%s: %s, %s, Co. %s, %d %s %s, %s\n", record.ID, record.Person.Name, s.Rank, s.Unit.Company, s.Unit.Number, s.Unit.State, s.Unit.Arm, s.Conflicts)
	}
	// Output:
	// alder-1: "JOHN SMITH\nCO. F.\n31 WIS. INF.", rounded, 12 in
	// told: stones.csv:3: column "top": "roundish" is not a known top; want one of: rounded, slightly rounded, pointed, flat, square, oval, cross, other
	// told: stones.csv:3: column "width_in": "a foot" is not a number of inches; write 12 or 12.5; a length in centimetres must say cm
	// alder-2: "T. HOLDEN", , 0 in
	// roster-alder-tllww47a: John W Smith, private, Co. F, 31 WI infantry, [civil-war]
}
