package marker_test

import (
	"encoding/json"
	"fmt"
	"math"
	"strings"
	"sync"
	"testing"

	"musterstone/model"
	. "musterstone/vocab/marker"
)

// TestUndecidedThickness: three and a half inches lie half way between the old stones and the re-issues, so they must leave the odds of the two as they
// stand without a thickness (derived).
func TestUndecidedThickness(t *testing.T) {
	odds := func(x model.Inches) float64 {
		imp := Imply(&model.Stone{Marker: model.Marker{Top: "rounded", Material: "marble", Device: "recessed shield", Width: 12, Thickness: x}}, ohioInfantry)
		return math.Log2(probability(imp, "reissue-xa") / probability(imp, "civil-war-1903"))
	}
	without, half, three := odds(0), odds(3.5), odds(3)
	if math.Abs(half-without) > .2 {
		t.Errorf("3 1/2 inches move the odds by %.2f bits, want none", half-without)
	}
	if three-without < 4 {
		t.Errorf("3 inches move the odds by %.2f bits, want at least 4", three-without)
	}
}

// TestUndecidedWidth: eleven and a half inches lie between the stone of 1903 and the thin one of 1918 (derived), and must leave both possible.
func TestUndecidedWidth(t *testing.T) {
	odds := func(x model.Inches) float64 {
		imp := Imply(&model.Stone{Marker: model.Marker{Top: "slightly rounded", Material: "marble", Width: x, Thickness: 3}}, ohioWWI)
		return probability(imp, "general-1918")
	}
	if odds(11.5) < .2 || odds(11) < odds(13) {
		t.Errorf("11 1/2 inches leave the stone of 1918 %.3f, 11 inches %.3f, 13 inches %.3f", odds(11.5), odds(11), odds(13))
	}
}

// TestLostTop: a lost top tells nothing of its shape (derived).
func TestLostTop(t *testing.T) {
	m := model.Marker{Material: "marble", Lettering: "incised", Width: 12, Thickness: 4, Condition: "top broken off", Height: 10}
	plain := Imply(&model.Stone{Marker: m}, csa)
	m.Top = "flat"
	flat := Imply(&model.Stone{Marker: m}, csa)
	if fmt.Sprint(plain.Patterns) != fmt.Sprint(flat.Patterns) {
		t.Errorf("the shape of a lost top tells: %v against %v", flat.Patterns, plain.Patterns)
	}
	m.Condition = "unbroken"
	if whole := Imply(&model.Stone{Marker: m}, csa); fmt.Sprint(whole.Patterns) == fmt.Sprint(plain.Patterns) {
		t.Errorf("the shape of a whole top does not tell")
	}
}

// TestMissingSaysNothing: a buried length is the normal case, and what was not recorded leaves the odds alone.
func TestMissingSaysNothing(t *testing.T) {
	base := model.Marker{Top: "rounded", Material: "marble", Device: "recessed shield", Width: 12, Thickness: 4}
	a := Imply(&model.Stone{Marker: base}, ohioInfantry)
	base.Height = 24
	b := Imply(&model.Stone{Marker: base}, ohioInfantry)
	if x, y := probability(a, "civil-war-1903"), probability(b, "civil-war-1903"); x < .9 || y < x-.01 {
		t.Errorf("without a height %.4f, with the height of the rule %.4f", x, y)
	}
}

// TestHeightIsHeldLoosely: a stone sunk to half its height, or set high, keeps its pattern; 42 inches above ground, as VA pages print, is not refused (S3 S6).
func TestHeightIsHeldLoosely(t *testing.T) {
	for _, h := range []model.Inches{14, 18, 22, 24, 26, 30, 42} {
		m := model.Marker{Top: "slightly rounded", Material: "white marble", Lettering: "incised", Device: "none", Width: 13, Thickness: 4, Height: h}
		if p := probability(Imply(&model.Stone{Marker: m}, wwi1932), "general-1922"); p < .9 {
			t.Errorf("%v inches above ground leave general-1922 %.3f", h, p)
		}
	}
}

// TestOneDesign: where the words tell no era, the two codes of the General design share the probability, and the text says so.
func TestOneDesign(t *testing.T) {
	imp := Imply(&model.Stone{Marker: general}, noWords)
	a, b := probability(imp, "general-1922"), probability(imp, "upright-marble")
	if a < .3 || b < .3 || !strings.Contains(strings.Join(imp.Because, "\n"), "one design") {
		t.Errorf("general-1922 %.3f, upright-marble %.3f, because %v", a, b, imp.Because)
	}
}

func TestUnknown(t *testing.T) {
	for _, c := range []struct {
		name     string
		stone    model.Stone
		reading  model.Reading
		min, max float64
	}{
		{"nothing at all", model.Stone{}, noWords, 1, 1},
		{"a register's row", model.Stone{Register: &model.Claim{}}, ohioInfantry, 1, 1},
		{"a material alone", model.Stone{Marker: model.Marker{Material: "granite"}}, noWords, .4, .95},
		{"a top alone", model.Stone{Marker: model.Marker{Top: "rounded"}}, noWords, .1, .8},
		{"words alone", model.Stone{}, ohioInfantry, .02, .6},
		{"top and words", model.Stone{Marker: model.Marker{Top: "rounded"}}, ohioInfantry, 0, .05},
		{"everything", model.Stone{Marker: shield}, ohioInfantry, 0, 0},
	} {
		imp := Imply(&c.stone, c.reading)
		if p := probability(imp, "unknown"); p < c.min || p > c.max {
			t.Errorf("%s: unknown %.3f, want %.2f to %.2f; %v", c.name, p, c.min, c.max, imp.Patterns)
		}
	}
}

// TestRegister: a register's row tells of the man's service, and of no stone.
func TestRegister(t *testing.T) {
	s := &model.Stone{Register: &model.Claim{}}
	for _, c := range []struct {
		name string
		r    model.Reading
		want string
	}{
		{"a Georgia regiment of the Confederacy", csa, "civil-war/confederate"},
		{"an Ohio regiment", ohioInfantry, "civil-war/union"},
		{"World War II", wwii, "world-war-ii"},
		{"the Indian Home Guard", reading(model.Claim{Service: model.Service{Unit: model.Unit{Body: "indian-home-guard", Number: 2, Arm: "infantry"}}}), "civil-war/union"},
	} {
		imp := Imply(s, c.r)
		if len(imp.Services) == 0 || imp.Services[0].Code != c.want || imp.Services[0].Probability < .6 || imp.From != 0 {
			t.Errorf("%s: %v from %d, want %s", c.name, imp.Services, imp.From, c.want)
		}
	}
}

// TestServices: what each design implies, words aside.
func TestServices(t *testing.T) {
	for _, c := range []struct {
		name   string
		marker model.Marker
		r      model.Reading
		want   string
		min    float64
		source string
	}{
		{"shield", shield, noWords, "civil-war/union", .6, "S5 S29b"},
		{"shield with SP. AM. WAR", with(shield, func(m *model.Marker) { m.Inscription = "JOHN HOLDEN\nSP. AM. WAR" }), reading(model.Claim{}), "spanish-american-war", .7, "S28"},
		{"pointed", pointed, noWords, "civil-war/confederate", .8, "S11"},
		{"block", with(block, func(m *model.Marker) { m.Inscription = "1742" }), numberOnly, "civil-war/union", .95, "S2"},
		{"General stone, words of 1932", general, wwi1932, "world-war-i", .9, "S3"},
		{"private stone", model.Marker{Top: "square", Material: "granite", Width: 32, Thickness: 10, Setting: "upright"}, civilian, "none", .7, "common-practice"},
	} {
		imp := Imply(&model.Stone{Marker: c.marker}, c.r)
		if imp.Services[0].Code != c.want || imp.Services[0].Probability < c.min {
			t.Errorf("%s: %v, want %s at %.2f; source %s", c.name, imp.Services, c.want, c.min, c.source)
		}
	}
}

// TestPlace: the same poor record is another thing in a national cemetery, whose name tells it by whole words.
func TestPlace(t *testing.T) {
	m := model.Marker{Top: "rounded", Material: "marble"}
	at := func(name string) float64 {
		return probability(Imply(&model.Stone{Marker: m, Place: model.Place{Cemetery: name}}, noWords), "civil-war-1873")
	}
	a := at("Oak Hill")
	for _, name := range []string{"Fairmead National Cemetery", "FAIRMEAD NATIONAL CEM.", "Soldiers’ Home", "Old Post Cemetery"} {
		if b := at(name); b < 2*a {
			t.Errorf("%.3f in a county cemetery, %.3f in %s", a, b, name)
		}
	}
	if b := at("Outpost Cemetery"); b != a {
		t.Errorf("%.3f in a county cemetery, %.3f in one whose name holds the letters of a post", a, b)
	}
}

func TestMade(t *testing.T) {
	for _, c := range []struct {
		name     string
		marker   model.Marker
		r        model.Reading
		from, to int
	}{
		{"ten-inch shield", ten, ohioInfantry, 1873, 1903},
		{"wide shield", shield, ohioInfantry, 1903, 0},
		{"wide shield, died 1915", shield, reading(union(1915)), 1915, 0},
		{"General stone, died 1932", general, wwi1932, 1932, 1947},
		{"cross", crossed, csa, 1930, 0},
		{"no cross", with(pointed, func(m *model.Marker) { m.Height = 24; m.Length = 39 }), csa, 1906, 1930},
		{"private stone", model.Marker{Top: "square", Material: "granite", Width: 32, Thickness: 10}, civilian, 0, 0},
	} {
		imp := Imply(&model.Stone{Marker: c.marker}, c.r)
		if imp.From != c.from || imp.To != c.to {
			t.Errorf("%s: made %d to %d, want %d to %d; %v", c.name, imp.From, imp.To, c.from, c.to, imp.Patterns)
		}
	}
}

// TestMadeForPrivateCemeteries: from 3 February 1879 for Union men (S14), from 1929 for Confederates (S11).
func TestMadeForPrivateCemeteries(t *testing.T) {
	for _, c := range []struct {
		cemetery string
		marker   model.Marker
		r        model.Reading
		from, to int
	}{
		{"Oak Hill", ten, ohioInfantry, 1879, 1903},
		{"Fairmead National Cemetery", ten, ohioInfantry, 1873, 1903},
		{"Oak Hill", with(pointed, func(m *model.Marker) { m.Height = 24; m.Length = 39 }), csa, 1929, 0},
		{"Confederate Rest", with(pointed, func(m *model.Marker) { m.Height = 24; m.Length = 39 }), csa, 1906, 1930},
	} {
		imp := Imply(&model.Stone{Marker: c.marker, Place: model.Place{Cemetery: c.cemetery}}, c.r)
		if imp.From != c.from || imp.To != c.to {
			t.Errorf("%s: made %d to %d, want %d to %d; %v", c.cemetery, imp.From, imp.To, c.from, c.to, imp.Patterns)
		}
	}
}

// TestSociety: the government cut no society's initials (S24).
func TestSociety(t *testing.T) {
	m := model.Marker{Top: "square", Material: "marble", Setting: "upright"}
	r := reading(model.Claim{Person: model.Person{Born: year(1840), Died: year(1909)}, Service: union(0).Service})
	plain := Imply(&model.Stone{Marker: m}, r)
	r.Society = []string{"G.A.R."}
	gar := Imply(&model.Stone{Marker: m}, r)
	if a, b := probability(plain, "not-government"), probability(gar, "not-government"); b < a || a < .5 || b < .99 {
		t.Errorf("not-government %.3f without the initials, %.3f with them", a, b)
	}
	if gar.Services[0].Code != "civil-war/union" {
		t.Errorf("services %v", gar.Services)
	}
}

// TestNext: the look or measure that tells the two best apart.
func TestNext(t *testing.T) {
	for _, c := range []struct {
		name   string
		marker model.Marker
		r      model.Reading
		want   string
	}{
		{"shield, no width", model.Marker{Top: "rounded", Material: "marble", Device: "recessed shield", Lettering: "raised"}, ohioInfantry, "measure the width: 12 inches against 10 would decide"},
		{"pointed, no device", model.Marker{Top: "pointed", Material: "marble", Width: 12, Thickness: 4}, csa, "look at the device"},
		{"flush, no material", model.Marker{Top: "flat", Setting: "flush", Width: 24, Lettering: "incised"}, wwii, "look at the material"},
		{"everything", shield, ohioInfantry, ""},
		{"nothing", model.Marker{}, noWords, "write down the top"},
	} {
		imp := Imply(&model.Stone{Marker: c.marker}, c.r)
		if !strings.HasPrefix(imp.Next, c.want) || c.want == "" && imp.Next != "" {
			t.Errorf("%s: next is %q, want %q; %v", c.name, imp.Next, c.want, imp.Patterns)
		}
	}
}

// TestNobodyDigs: the length of a standing stone is never asked for.
func TestNobodyDigs(t *testing.T) {
	for _, r := range measurementRows {
		m := r.marker
		m.Length, m.Height = 0, 0
		imp := Imply(&model.Stone{Marker: m}, r.words)
		if strings.Contains(imp.Next, "whole length") && m.Setting != "flush" {
			t.Errorf("%s: %s", r.name, imp.Next)
		}
	}
}

func TestSumsAndSameness(t *testing.T) {
	var all []string
	for _, r := range measurementRows {
		imp := Imply(&model.Stone{Marker: r.marker}, r.words)
		p, s := 0., 0.
		for _, w := range imp.Patterns {
			p += w.Probability
		}
		for _, w := range imp.Services {
			s += w.Probability
		}
		if math.Abs(p-1) > 1e-9 || math.Abs(s-1) > 1e-9 {
			t.Errorf("%s: patterns sum to %v, services to %v", r.name, p, s)
		}
		b, _ := json.Marshal(imp)
		all = append(all, string(b))
	}
	var wg sync.WaitGroup
	for range 4 {
		wg.Go(func() {
			for i, r := range measurementRows {
				b, _ := json.Marshal(Imply(&model.Stone{Marker: r.marker}, r.words))
				if string(b) != all[i] {
					t.Errorf("%s: another answer the second time", r.name)
				}
			}
		})
	}
	wg.Wait()
}

// TestOddInput: nothing a recorder writes can break it.
func TestOddInput(t *testing.T) {
	for _, m := range []model.Marker{
		{Width: -3, Thickness: model.Inches(math.NaN()), Height: model.Inches(math.Inf(1)), Length: 1e12},
		{Width: 1e-9, Top: "triangular", Material: "kryptonite", Device: "???", Setting: "aloft", Emblem: "99", Lettering: "gilt"},
		{Inscription: "[[[((\n]]]\x00 UNKNOWN", Condition: "TOP BROKEN; SUNK", Motifs: []string{"", "crossed swords", "crossed swords"}},
	} {
		imp := Imply(&model.Stone{Marker: m}, noWords)
		sum := 0.
		for _, w := range imp.Patterns {
			if math.IsNaN(w.Probability) {
				t.Errorf("%+v: %v", m, imp.Patterns)
			}
			sum += w.Probability
		}
		if math.Abs(sum-1) > 1e-9 {
			t.Errorf("%+v sums to %v", m, sum)
		}
	}
}

// TestReasonsStandAlone: where reasons are published they have no order, so that each names the pattern for which it speaks.
func TestReasonsStandAlone(t *testing.T) {
	s := &model.Stone{Marker: model.Marker{Top: "rounded", Material: "white marble", Width: 12, Thickness: 4, Lettering: "raised", Device: "recessed shield"}}
	imp := Imply(s, model.Reading{People: []model.Claim{{Service: model.Service{Unit: model.Unit{Number: 31, State: "WI"}}}}})
	if len(imp.Because) < 3 {
		t.Fatalf("reasons: %q", imp.Because)
	}
	for _, r := range imp.Because[:3] {
		if _, of, _ := strings.Cut(r, ": "); !strings.Contains(of, "the Civil War stone of 1903") {
			t.Errorf("%q does not say for what", r)
		}
	}
}
