package marker_test

import (
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	. "musterstone/vocab/marker"
)

var (
	shield  = model.Marker{Top: "rounded", Material: "white marble", Lettering: "raised", Device: "recessed shield", Setting: "upright", Width: 12, Thickness: 4}
	ten     = model.Marker{Top: "rounded", Material: "white marble", Lettering: "raised", Device: "recessed shield", Setting: "upright", Width: 10, Thickness: 4}
	general = model.Marker{Top: "slightly rounded", Material: "white marble", Lettering: "incised", Device: "none", Setting: "upright", Width: 13, Thickness: 4}
	pointed = model.Marker{Top: "pointed", Material: "white marble", Lettering: "incised", Device: "none", Setting: "upright", Width: 12, Thickness: 4}
	crossed = model.Marker{Top: "pointed", Material: "white marble", Lettering: "incised", Device: "confederate cross", Setting: "upright", Width: 12, Thickness: 4}
	block   = model.Marker{Top: "flat", Material: "granite", Setting: "block", Width: 6, Thickness: 6}
	folded  = model.Marker{Material: "bronze", Device: "folded flag", Width: 3.75, Inscription: "VETERAN\nARMY"}
)

func with(m model.Marker, change func(*model.Marker)) model.Marker {
	change(&m)
	return m
}

func union(died int) model.Claim {
	c := model.Claim{Service: model.Service{Side: model.Union, Conflicts: []model.ConflictCode{"civil-war"},
		Unit: model.Unit{State: "OH", Number: 47, Arm: "infantry", Company: "F"}}}
	if died != 0 {
		c.Person.Died = year(died)
	}
	return c
}

// TestContradictions asks for each rule where it must speak, and for silence where it must not.
func TestContradictions(t *testing.T) {
	usct := model.Claim{Service: model.Service{Unit: model.Unit{Body: model.BodyUSCT, Number: 5, Arm: "infantry", Company: "B"}}}
	for _, c := range []struct {
		name   string
		marker model.Marker
		claim  model.Claim
		extra  func(*model.Stone, *model.Reading)
		rule   string // "" for silence
		text   string // some of the sentence
	}{
		{"General stone, died 1891", general, union(1891), nil, "later-stone", "first issued in 1922, stands on the grave of a man who died in 1891: a later or replacement stone"},
		{"General stone, died 1932", general, wwi1932.People[0], nil, "", ""},
		{"wide shield, died 1864", shield, union(1864), nil, "later-stone", "first issued in 1903"},
		{"ten-inch shield, died 1864", ten, union(1864), nil, "", ""},
		{"ten-inch shield, died 1880", ten, union(1880), nil, "", ""},
		{"wide shield, died 1915", shield, union(1915), nil, "", ""},
		{"cross, died 1862", crossed, model.Claim{Person: model.Person{Died: year(1862)}, Service: csa.People[0].Service}, nil, "later-stone", "1930"},
		{"ten-inch shield, died 1921", ten, union(1921), nil, "earlier-stone", "issued until 1903"},
		{"shield and World War II", shield, wwii.People[0], nil, "conflict-excluded", "World War II"},
		{"shield, Confederate", shield, csa.People[0], nil, "shield-confederate", "Confederate"},
		{"pointed, Union", pointed, union(0), nil, "pointed-union", "Union"},
		{"pointed, Confederate", pointed, csa.People[0], nil, "", ""},
		{"pointed, US Colored Troops", pointed, usct, nil, "pointed-union", "Union"},
		{"cross, seen in 1912", crossed, csa.People[0], func(s *model.Stone, _ *model.Reading) { s.Recorded = year(1912) }, "cross-before-1930", "1912"},
		{"emblem on a shield stone", with(shield, func(m *model.Marker) { m.Emblem = "01" }), union(0), nil, "emblem-on-shield", "emblem"},
		{"emblem on a General stone with an outline shield", with(general, func(m *model.Marker) { m.Device, m.Emblem = "outline shield", "01" }), union(0), nil, "emblem-on-shield", "outline shield"},
		{"emblem on a General stone", with(general, func(m *model.Marker) { m.Emblem = "01" }), wwi1932.People[0], nil, "", ""},
		{"pentacle, died 1932", with(general, func(m *model.Marker) { m.Emblem = "pentacle" }), model.Claim{Person: model.Person{Born: year(1890), Died: year(1952)},
			Service: model.Service{Branch: "army", Rank: "private", Conflicts: []model.ConflictCode{"world-war-i"}}}, nil, "emblem-late", "2007"},
		{"WORLD WAR I, died 1930", with(general, func(m *model.Marker) { m.Inscription = "OHIO\nJOHN HOLDEN\nPVT 148 INF 37 DIV\nWORLD WAR I\n1930" }),
			model.Claim{Home: "OH", Person: model.Person{Died: year(1930)}, Service: wwi1932.People[0].Service}, nil, "wording-late", "1942"},
		{"company J", shield, model.Claim{Service: model.Service{Unit: model.Unit{State: "NY", Number: 30, Arm: "infantry", Company: "J"}}}, nil, "company-j", "perhaps I"},
		{"company M of infantry", shield, model.Claim{Service: model.Service{Conflicts: []model.ConflictCode{"civil-war"}, Unit: model.Unit{State: "NY", Number: 30, Arm: "infantry", Company: "M"}}}, nil, "company-late", "A to K"},
		{"company M of cavalry", shield, model.Claim{Service: model.Service{Conflicts: []model.ConflictCode{"civil-war"}, Unit: model.Unit{State: "MO", Number: 2, Arm: "cavalry", Company: "M"}}}, nil, "", ""},
		{"US Colored Troops, died 1862", ten, model.Claim{Person: model.Person{Died: year(1862)}, Service: usct.Service}, nil, "usct-years", "1863"},
		{"US Colored Troops, died 1864", ten, model.Claim{Person: model.Person{Died: year(1864)}, Service: usct.Service}, nil, "", ""},
		{"Veteran Reserve Corps, died 1862", ten, model.Claim{Person: model.Person{Died: year(1862)}, Service: model.Service{Unit: model.Unit{Body: model.BodyVRC, Number: 12, Company: "K"}}}, nil, "vrc-years", "1863"},
		{"Korea, died 1945", general, model.Claim{Person: model.Person{Born: year(1910), Died: year(1945)}, Service: model.Service{Branch: "army", Conflicts: []model.ConflictCode{"korea"}}}, nil, "conflict-after-death", "1950"},
		{"World War II, born 1940", general, model.Claim{Person: model.Person{Born: year(1940), Died: year(1999)}, Service: model.Service{Branch: "army", Conflicts: []model.ConflictCode{"world-war-ii"}}}, nil, "too-young", "1940"},
		{"Civil War, born 1760", shield, model.Claim{Person: model.Person{Born: year(1760)}, Service: union(0).Service}, nil, "too-old", "101"},
		{"died in or after 1862, aged 22", ten, model.Claim{Person: model.Person{Died: date.Date{EDTF: "1862/..", From: date.Day{Year: 1862, Month: 1, Day: 1}}, Age: date.Age{Years: 22, Known: true}}, Service: union(0).Service}, nil, "", ""},
		{"born after death", shield, model.Claim{Person: model.Person{Born: year(1880), Died: year(1864)}, Service: union(0).Service}, nil, "born-after-death", "1880"},
		{"crossed swords on a shield stone", with(shield, func(m *model.Marker) { m.Motifs = []string{"crossed swords"} }), union(0), nil, "military-device", "crossed swords"},
		{"GAR star at a shield stone", with(shield, func(m *model.Marker) { m.Motifs = []string{"GAR star"} }), union(0), nil, "", ""},
		{"medallion, Civil War", folded, union(0), func(_ *model.Stone, r *model.Reading) {
			r.People[0].Service.Unit = model.Unit{}
			r.People[0].Service.Branch = "army"
		}, "medallion-era", "6 April 1917"},
		{"block with a name", with(block, func(m *model.Marker) { m.Inscription = "J. HOLDEN" }), model.Claim{}, nil, "block-named", "unknowns"},
		{"IN MEMORY OF on a shield stone", shield, union(0), func(_ *model.Stone, r *model.Reading) { r.Memorial = true }, "memorial-old", "IN MEMORY OF"},
		{"a wife alone", with(general, func(m *model.Marker) { m.Emblem = "01"; m.Length = 42 }), model.Claim{Home: "OH", Person: model.Person{Relation: "wife", Died: year(1960), Born: year(1890)}}, nil, "spouse-alone", "wife"},
		{"a wife in a national cemetery", with(general, func(m *model.Marker) { m.Emblem = "01"; m.Length = 42 }), model.Claim{Home: "OH", Person: model.Person{Relation: "wife", Died: year(1960), Born: year(1890)}},
			func(s *model.Stone, _ *model.Reading) { s.Place.Cemetery = "Fairmead National Cemetery" }, "", ""},
		{"width and thickness changed about", with(shield, func(m *model.Marker) { m.Width, m.Thickness = 4, 12 }), union(0), nil, "", ""},
		{"US Air Force, died 1930", with(general, func(m *model.Marker) { m.Inscription = "JOHN HOLDEN\nUS AIR FORCE" }), model.Claim{Person: model.Person{Died: year(1930)}, Service: model.Service{Branch: "air-force"}}, nil, "wording-service", "1947"},
		{"ARMY AIR FORCE is no Air Force", with(general, func(m *model.Marker) { m.Inscription = "JOHN HOLDEN\nSGT ARMY AIR FORCE\nWORLD WAR II" }), model.Claim{Person: model.Person{Born: year(1920), Died: year(1944)},
			Service: model.Service{Branch: "army", Conflicts: []model.ConflictCode{"world-war-ii"}}}, nil, "", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			s := &model.Stone{Marker: c.marker}
			r := reading(c.claim)
			if c.extra != nil {
				c.extra(s, &r)
			}
			imp := Imply(s, r)
			for _, x := range imp.Contradictions {
				t.Logf("%s: %s (%s)", x.Rule, x.Text, x.Source)
				if strings.ContainsAny(x.Text, "{}") || x.Source == "" {
					t.Errorf("not filled in, or no source: %+v", x)
				}
			}
			if c.rule == "" {
				if len(imp.Contradictions) > 0 && imp.Contradictions[0].Rule != "swapped" {
					t.Errorf("contradiction %+v, want none; %v", imp.Contradictions, imp.Patterns)
				}
				return
			}
			for _, x := range imp.Contradictions {
				if x.Rule == c.rule {
					if !strings.Contains(x.Text, c.text) {
						t.Errorf("%s says %q, want %q in it", x.Rule, x.Text, c.text)
					}
					return
				}
			}
			t.Errorf("%s is silent; %v %v", c.rule, imp.Contradictions, imp.Patterns)
		})
	}
}

func TestChangedMeasures(t *testing.T) {
	s := &model.Stone{Marker: model.Marker{Top: "rounded", Width: 4, Thickness: 12, Height: 24, Material: "marble"}}
	imp := Imply(s, ohioInfantry)
	if code, p := imp.Best(); code != "civil-war-1903" || !ruled(imp, "swapped") {
		t.Errorf("width and thickness changed about: %s %.3f %v", code, p, imp.Contradictions)
	}
	s = &model.Stone{Marker: model.Marker{Top: "slightly rounded", Width: 33, Thickness: 10, Height: 63, Material: "marble"}}
	imp = Imply(s, wwi1932)
	if code, p := imp.Best(); code != "general-1922" || !ruled(imp, "centimetres") {
		t.Errorf("centimetres: %s %.3f %v", code, p, imp.Contradictions)
	}
	s = &model.Stone{Marker: model.Marker{Top: "square", Width: 36, Thickness: 12, Height: 30, Material: "granite"}}
	if imp = Imply(s, civilian); ruled(imp, "centimetres") || ruled(imp, "swapped") {
		t.Errorf("a big private stone is turned about: %v", imp.Contradictions)
	}
}

func ruled(imp model.Implication, rule string) bool {
	for _, c := range imp.Contradictions {
		if c.Rule == rule {
			return true
		}
	}
	return false
}

func TestFits(t *testing.T) {
	imp := Imply(&model.Stone{Marker: shield}, ohioInfantry)
	south := Imply(&model.Stone{Marker: crossed}, csa)
	later := Imply(&model.Stone{Marker: general}, wwii)
	for _, c := range []struct {
		name     string
		imp      model.Implication
		service  model.Service
		died     date.Date
		min, max float64
	}{
		{"shield and a Union man", imp, union(0).Service, date.Date{}, .5, 2},
		{"shield and a Confederate", imp, csa.People[0].Service, date.Date{}, -7, -3},
		{"shield and World War II", imp, wwii.People[0].Service, date.Date{}, -7, -3},
		{"shield, side not given", imp, model.Service{Conflicts: []model.ConflictCode{"civil-war"}}, date.Date{}, .1, 1},
		{"shield, enlisted in 1862", imp, model.Service{Enlisted: year(1862)}, date.Date{}, .1, 1},
		{"nothing told", imp, model.Service{Rank: "private"}, date.Date{}, 0, 0},
		{"cross and a Confederate", south, csa.People[0].Service, date.Date{}, 1.5, 3},
		{"cross and a Union man", south, union(0).Service, date.Date{}, -7, -3},
		{"General stone and World War II", later, wwii.People[0].Service, date.Date{}, 2, 5},
		{"General stone, died 1864", later, wwii.People[0].Service, year(1864), -2, 2},
		{"no implication", model.Implication{}, union(0).Service, year(1870), 0, 0},
	} {
		bits, why := Fits(c.imp, c.service, c.died)
		if bits < c.min || bits > c.max || (why == "") != (bits == 0) {
			t.Errorf("%s: %.2f bits (%s), want %.1f to %.1f", c.name, bits, why, c.min, c.max)
		}
		if alone := FitsBits(&c.imp, &c.service, c.died); alone != bits {
			t.Errorf("%s: %.2f bits without the sentence, %.2f with it", c.name, alone, bits)
		}
	}
}

// TestFitsNamesWhatDoesNotFit: the sentence is about the pattern that the death speaks against, though another be likelier.
func TestFitsNamesWhatDoesNotFit(t *testing.T) {
	imp := model.Implication{Patterns: []model.Weighted[model.PatternCode]{{Code: model.NotGovernment, Probability: .6}, {Code: "civil-war-1873", Probability: .4}}}
	bits, why := Fits(imp, model.Service{}, year(1931))
	if want := "the record's man died in 1931, and the Civil War stone of 1873 was issued from 1873 to 1903"; bits >= 0 || why != want {
		t.Errorf("%.2f bits: %q, want %q", bits, why, want)
	}
}
