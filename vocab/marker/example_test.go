package marker_test

import (
	"fmt"

	"musterstone/model"
	"musterstone/vocab/marker"
)

func ExampleImply() {
	stone := &model.Stone{Marker: model.Marker{Top: "slightly rounded", Material: "white marble", Device: "none", Lettering: "incised", Width: 13,
		Thickness: 4, Inscription: "OHIO\nAMOS DRURY\nPVT CO B 3 OHIO CAV\n1891"}}
	words := model.Reading{People: []model.Claim{{Home: "OH", Person: model.Person{Name: model.Name{Given: "Amos", Surname: "Drury"}, Died: year(1891)},
		Service: model.Service{Rank: "private", Unit: model.Unit{State: "OH", Number: 3, Arm: "cavalry", Company: "B"}}}}}
	imp := marker.Imply(stone, words)
	code, _ := imp.Best()
	fmt.Println(code, imp.Services[0].Code)
	for _, c := range imp.Contradictions {
		fmt.Println(c.Text)
	}
	// Output:
	// general-1922 civil-war/union
	// the General stone of 1922, first issued in 1922, stands on the grave of a man who died in 1891: a later or replacement stone
}

func ExampleFits() {
	stone := &model.Stone{Marker: model.Marker{Top: "pointed", Device: "confederate cross", Material: "marble", Width: 12, Thickness: 4}}
	imp := marker.Imply(stone, model.Reading{})
	bits, why := marker.Fits(imp, model.Service{Side: model.Union, Conflicts: []model.ConflictCode{"civil-war"}}, year(1899))
	fmt.Printf("%.1f bits: %s\n", bits, why)
	// Output:
	// -5.6 bits: the stone speaks of Confederate service in the Civil War, the record of Union service in the Civil War
}

func ExampleFindEmblem() {
	e, _ := marker.FindEmblem("pentacle")
	fmt.Println(e.Number, e.Name, e.From)
	// Output:
	// 37 Wicca (Pentacle) 2007
}
