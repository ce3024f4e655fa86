package marker_test

import (
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	. "musterstone/vocab/marker"
)

// The readings below are built by hand, as a reader of inscriptions would give them.

func named(surname string) model.Name { return model.Name{Surname: surname, Given: "John"} }

func reading(c model.Claim) model.Reading {
	if c.Person.Name.IsZero() {
		c.Person.Name = named("Holden")
	}
	return model.Reading{People: []model.Claim{c}, Probability: 1}
}

func year(y int) date.Date {
	return date.Date{EDTF: "y", From: date.Day{Year: y, Month: 1, Day: 1}, To: date.Day{Year: y, Month: 12, Day: 31}}
}

var (
	ohioInfantry = reading(model.Claim{Service: model.Service{Unit: model.Unit{State: "OH", Number: 47, Arm: "infantry", Company: "F"}}})
	ohioWWI      = func() model.Reading {
		return reading(model.Claim{Home: "OH", Person: model.Person{Died: year(1919)},
			Service: model.Service{Rank: "private", Unit: model.Unit{Number: 148, Arm: "infantry", Division: 37}, Conflicts: []model.ConflictCode{"world-war-i"}}})
	}()
	wwi1932 = reading(model.Claim{Home: "OH", Person: model.Person{Died: year(1932)},
		Service: model.Service{Rank: "private", Unit: model.Unit{Number: 148, Arm: "infantry", Division: 37}, Conflicts: []model.ConflictCode{"world-war-i"}}})
	wwii = reading(model.Claim{Home: "MN", Person: model.Person{Born: year(1919), Died: year(1958)},
		Service: model.Service{Rank: "seaman second class", Branch: "navy", Conflicts: []model.ConflictCode{"world-war-ii"}}})
	csa = reading(model.Claim{Service: model.Service{Unit: model.Unit{State: "GA", Number: 7, Arm: "infantry", Company: "D"}, Side: model.Confederate,
		Conflicts: []model.ConflictCode{"civil-war"}}})
	numberOnly  = model.Reading{GraveNumber: "1742", Unknown: true, Probability: 1}
	civilian    = reading(model.Claim{Person: model.Person{Born: year(1850), Died: year(1911), Relation: "wife"}})
	veteranArmy = model.Reading{People: []model.Claim{{Service: model.Service{Branch: "army"}}}, Probability: 1}
	honorArmy   = model.Reading{People: []model.Claim{{Service: model.Service{Branch: "army", Awards: []string{"medal of honor"}}}}, Probability: 1}
	noWords     = model.Reading{Probability: 1}
)

type row struct {
	name   string
	marker model.Marker
	words  model.Reading
	place  string
	want   string // patterns, any of which may be best, parted by blanks
	also   string // a pattern that must be told too, with at least 2 in 100
	source string
}

// The measurements of the published specifications, as a recorder would write them down.
var measurementRows = []row{
	{"1 ten wide, incised, 12 above ground", model.Marker{Width: 10, Height: 12, Thickness: 4, Material: "white marble", Top: "slightly rounded", Lettering: "incised", Setting: "upright"}, ohioInfantry, "", "civil-war-1873", "", "S2"},
	{"2 ten wide, grey granite, 36 long", model.Marker{Width: 10, Length: 36, Thickness: 4, Material: "granite", Top: "slightly rounded", Setting: "upright"}, ohioInfantry, "", "civil-war-1873 fredericksburg-granite", "", "S2"},
	{"3 ten wide, 42 long", model.Marker{Width: 10, Length: 42, Thickness: 4, Material: "white marble", Top: "slightly rounded", Setting: "upright"}, ohioInfantry, "", "civil-war-1873", "", "S2"},
	{"4 block six square, flush", model.Marker{Width: 6, Thickness: 6, Length: 30, Material: "granite", Setting: "flush", Inscription: "1742"}, numberOnly, "", "unknown-block", "", "S2"},
	{"5 block six square, upright", model.Marker{Width: 6, Thickness: 6, Setting: "upright", Inscription: "1742"}, numberOnly, "", "unknown-block", "", "S5"},
	{"6 shield, 12 by 39", model.Marker{Width: 12, Length: 39, Thickness: 4, Material: "marble", Top: "rounded", Device: "recessed shield", Lettering: "raised"}, ohioInfantry, "", "civil-war-1903", "", "memory-sure"},
	{"7 shield, 12 by 36, press of 1914", model.Marker{Width: 12, Length: 36, Thickness: 4, Material: "marble", Top: "rounded", Device: "recessed shield"}, ohioInfantry, "", "civil-war-1903", "", "S30"},
	{"8 pointed, no shield", model.Marker{Width: 12, Length: 39, Thickness: 4, Material: "marble", Top: "pointed", Device: "none"}, csa, "", "confederate-1906", "", "S11"},
	{"9 pointed, cross", model.Marker{Width: 12, Length: 39, Thickness: 4, Material: "marble", Top: "pointed", Device: "confederate cross"}, csa, "", "confederate-1930", "", "S11"},
	{"10 13 by 42, shallow arc", model.Marker{Width: 13, Length: 42, Thickness: 4, Material: "white marble", Top: "slightly rounded", Device: "none", Lettering: "incised"}, wwi1932, "", "general-1922", "", "S3 S6"},
	{"11 13 wide, 24 above ground, Latin cross", model.Marker{Width: 13, Height: 24, Thickness: 4, Material: "marble", Top: "slightly rounded", Emblem: "Latin cross"}, wwi1932, "", "general-1922", "", "S6 common-practice"},
	{"12 13 by 42, granite", model.Marker{Width: 13, Length: 42, Thickness: 4, Material: "granite", Top: "slightly rounded"}, wwii, "", "upright-granite", "", "S6"},
	{"13 flush marble", model.Marker{Width: 24, Length: 12, Thickness: 4, Material: "marble", Setting: "flush"}, wwii, "", "flat-marble", "", "S6"},
	{"14 flush granite", model.Marker{Width: 24, Length: 12, Thickness: 4, Material: "granite", Setting: "flush"}, wwii, "", "flat-granite", "", "S6"},
	{"15 bronze plate", model.Marker{Width: 24, Length: 12, Thickness: .75, Material: "bronze", Setting: "flush"}, wwii, "", "flat-bronze", "", "S6"},
	{"16 bronze on a wall", model.Marker{Width: 8.5, Length: 5.5, Thickness: 7. / 16, Material: "bronze", Setting: "niche"}, wwii, "", "niche-bronze", "", "S6"},
	{"17 large medallion", model.Marker{Width: 6.375, Length: 4.75, Thickness: .5, Material: "bronze", Inscription: "VETERAN\nARMY"}, veteranArmy, "", "medallion", "", "S6"},
	{"18 medium medallion", model.Marker{Width: 3.75, Length: 2.875, Thickness: .25, Material: "bronze", Inscription: "VETERAN"}, noWords, "", "medallion", "", "S6"},
	{"19 small medallion", model.Marker{Width: 2, Length: 1.5, Thickness: .33, Material: "bronze", Inscription: "VETERAN"}, noWords, "", "medallion", "", "S6"},
	{"20 five wide, 2010 to 2012", model.Marker{Width: 5, Material: "bronze", Inscription: "VETERAN"}, noWords, "", "medallion", "", "S20b"},
	{"21 three wide, 2010 to 2012", model.Marker{Width: 3, Material: "bronze", Inscription: "VETERAN"}, noWords, "", "medallion", "", "S20b"},
	{"22 one and a half wide, 2010 to 2012", model.Marker{Width: 1.5, Material: "bronze", Inscription: "VETERAN"}, noWords, "", "medallion", "", "S20b"},
	{"23 medallion of honor", model.Marker{Width: 6.375, Length: 4.75, Material: "bronze", Inscription: "MEDAL OF HONOR\nARMY"}, honorArmy, "", "medallion-honor", "", "S6"},
	{"24 shield, 12 by 42, three thick", model.Marker{Width: 12, Length: 42, Thickness: 3, Material: "marble", Top: "rounded", Device: "recessed shield", Lettering: "raised"}, ohioInfantry, "", "reissue-xa", "", "S6"},
	{"25 shield, 13 by 42, three thick", model.Marker{Width: 13, Length: 42, Thickness: 3, Material: "marble", Top: "rounded", Device: "recessed shield"}, ohioInfantry, "", "reissue-xb", "", "S6"},
	{"26 shield, 10 by 39, three thick", model.Marker{Width: 10, Length: 39, Thickness: 3, Material: "marble", Top: "rounded", Device: "recessed shield"}, ohioInfantry, "", "reissue-xc", "", "S6"},
	{"27 shield, granite, three thick", model.Marker{Width: 12, Length: 42, Thickness: 3, Material: "granite", Top: "rounded", Device: "recessed shield"}, ohioInfantry, "", "reissue-ya", "", "S6"},
	{"28 outline shield on a General stone", model.Marker{Width: 13, Length: 42, Thickness: 4, Material: "marble", Top: "slightly rounded", Device: "outline shield"}, ohioInfantry, "", "general-shield", "", "S3b"},
	{"29 thin, narrow General stone", model.Marker{Width: 11, Length: 40, Thickness: 3, Material: "marble", Top: "slightly rounded", Condition: "cracked"}, ohioWWI, "", "general-1918", "", "S3; the numbers are invented"},
	{"30 shield, 24 above ground", model.Marker{Width: 12, Height: 24, Thickness: 4, Material: "marble", Top: "rounded", Device: "recessed shield"}, ohioInfantry, "", "civil-war-1903", "", "common-practice"},
	{"31 private granite", model.Marker{Width: 20, Height: 36, Thickness: 6, Material: "granite", Top: "other"}, civilian, "", "not-government", "", "common-practice"},
	{"32 flush granite, name and emblem", model.Marker{Width: 24, Length: 12, Thickness: 4, Material: "granite", Lettering: "raised", Emblem: "01"}, reading(model.Claim{}), "", "not-government flat-granite", "not-government", "common-practice"},
	{"33 private name plate", model.Marker{Width: 18, Length: 8, Material: "bronze"}, reading(model.Claim{}), "", "not-government", "", "common-practice"},
	{"34 marble cross", model.Marker{Top: "cross", Material: "white marble", Setting: "upright"}, noWords, "", "overseas-cross not-government", "overseas-cross", "S46"},
}

func TestMeasurements(t *testing.T) {
	for _, r := range measurementRows {
		t.Run(r.name, func(t *testing.T) {
			s := &model.Stone{Marker: r.marker, Place: model.Place{Cemetery: r.place}}
			imp := Imply(s, r.words)
			code, p := imp.Best()
			t.Logf("%s %.3f %v %s", code, p, imp.Because, imp.Next)
			if !strings.Contains(" "+r.want+" ", " "+string(code)+" ") {
				t.Errorf("best is %s (%.3f), want %s; source %s\n%v", code, p, r.want, r.source, imp.Patterns)
			}
			if r.also != "" && probability(imp, r.also) < .02 {
				t.Errorf("%s has %.4f, want at least .02; source %s\n%v", r.also, probability(imp, r.also), r.source, imp.Patterns)
			}
		})
	}
}

func probability(imp model.Implication, code string) float64 {
	for _, w := range imp.Patterns {
		if string(w.Code) == code {
			return w.Probability
		}
	}
	return 0
}

func TestFraction(t *testing.T) {
	for x, want := range map[float64]string{0: "0", .75: "3/4", 1: "1", 8.5: "8 1/2", 6.375: "6 3/8", .4375: "7/16", 12: "12", .33: "0.3", 12.99999999: "13", 8.3: "8.3"} {
		if got := Fraction(x); got != want {
			t.Errorf("%v is %q, want %q", x, got, want)
		}
	}
}
