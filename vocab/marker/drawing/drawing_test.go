package drawing

import (
	"encoding/xml"
	"io"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
	"musterstone/vocab/marker"
)

func yr(y int) date.Date {
	return date.Date{EDTF: strconv.Itoa(y), From: date.Day{Year: y, Month: 1, Day: 1}, To: date.Day{Year: y, Month: 12, Day: 31}}
}

func claim(c model.Claim) model.Reading {
	return model.Reading{People: []model.Claim{c}, Probability: 1}
}

var cases = []struct {
	name string
	s    model.Stone
	r    model.Reading
	want []string // in the drawing
	time []string // in the picture of time
}{
	{"shield", model.Stone{ID: "A-1", Marker: model.Marker{Top: "rounded", Material: "white marble", Device: "recessed shield", Lettering: "raised", Setting: "upright", Width: 12,
		Height: 22, Thickness: 4, Inscription: "CORPL\nJNO. T. HOLDEN\nCO. F\n47 ILLS. INF."}},
		claim(model.Claim{Service: model.Service{Rank: "corporal", Unit: model.Unit{State: "IL", Number: 47, Arm: "infantry", Company: "F"}}}),
		[]string{">JNO. T. HOLDEN<", "12 in wide", "beside the Civil War stone of 1903", "as specified", ">ground<"}, []string{"Civil War stone of 1903"}},
	{"a General stone of a man who died in 1891", model.Stone{ID: "B-7", Marker: model.Marker{Top: "slightly rounded", Material: "white marble", Device: "none", Emblem: "Latin cross",
		Setting: "upright", Width: 13}},
		claim(model.Claim{Home: "OH", Person: model.Person{Name: model.Name{Given: "Amos", Surname: "Drury"}, Born: yr(1840), Died: yr(1891)}, Service: model.Service{Rank: "sergeant",
			Conflicts: []model.ConflictCode{"civil-war"}, Side: model.Union, Unit: model.Unit{State: "OH", Number: 3, Arm: "cavalry"}}}),
		[]string{">01<", "height above ground", "stroke-dasharray"}, []string{"The years of Amos Drury", "1840 to 1891", "Civil War", "Does not fit", "death"}},
	{"a bronze plate", model.Stone{ID: "C-2", Marker: model.Marker{Top: "flat", Material: "bronze", Setting: "flush", Width: 24, Length: 12, Thickness: .75}}, model.Reading{},
		[]string{"seen from above", "24 in wide", "3/4 in thick"}, nil},
	{"a bronze plate on a wall", model.Stone{ID: "C-3", Marker: model.Marker{Material: "bronze", Setting: "niche", Width: 8.5, Length: 5.5}}, model.Reading{}, []string{"seen from the front"}, nil},
	{"a small medallion", model.Stone{ID: "F", Marker: model.Marker{Material: "bronze", Device: "folded flag", Width: 2, Inscription: "VETERAN\nARMY"}}, claim(model.Claim{Service: model.Service{Branch: "army"}}),
		[]string{"2 in wide", "1/3 in thick"}, nil},
	{"a private stone", model.Stone{ID: "E-3", Marker: model.Marker{Top: "other", Material: "granite", Setting: "upright", Width: 30, Height: 40, Thickness: 10}},
		claim(model.Claim{Person: model.Person{Born: yr(1838), Died: yr(1901)}}), []string{"No government pattern is near"}, []string{"1838 to 1901"}},
	{"nothing", model.Stone{}, model.Reading{}, []string{"nothing was recorded", "width not measured"}, []string{"No year is known"}},
	{"hostile", model.Stone{ID: `"><script>alert(1)</script>`, Marker: model.Marker{Top: "pointed", Width: 12, Inscription: "<b>&\x00\xff'\"\nCO. & F", Emblem: "</text>", Condition: "]]>"}}, model.Reading{},
		[]string{"&lt;script&gt;", "&lt;b&gt;&amp;??"}, nil},
	{"a broken stone", model.Stone{ID: "I", Marker: model.Marker{Material: "marble", Width: 12.5, Height: 9, Condition: "top broken", Inscription: "[---]\nCO. C"}}, model.Reading{}, []string{"12 1/2 in wide", "Condition: top broken"}, nil},
	{"a giant", model.Stone{ID: "J", Marker: model.Marker{Width: 9999, Height: 1e9, Thickness: 1e6, Length: 1e12, Inscription: strings.Repeat("LONG ", 400)}}, model.Reading{}, nil, nil},
}

func TestDrawings(t *testing.T) {
	for _, c := range cases {
		t.Run(c.name, func(t *testing.T) {
			imp := marker.Imply(&c.s, c.r)
			picture, years := Stone(&c.s, imp), Time(&c.s, c.r, imp)
			valid(t, picture)
			valid(t, years)
			for _, text := range []string{picture, years} {
				if m := regexp.MustCompile(`[^.\[]\.\.( |<)`).FindString(text); m != "" {
					t.Errorf("two full stops: %q", m)
				}
			}
			for _, w := range c.want {
				if !strings.Contains(picture, w) {
					t.Errorf("the drawing lacks %q\n%s", w, picture)
				}
			}
			for _, w := range c.time {
				if !strings.Contains(years, w) {
					t.Errorf("the years lack %q\n%s", w, years)
				}
			}
			if picture != Stone(&c.s, imp) || years != Time(&c.s, c.r, imp) {
				t.Errorf("drawn otherwise the second time")
			}
		})
	}
}

// valid parses the text as XML and asks for a title and a description first.
func valid(t *testing.T, svg string) {
	t.Helper()
	d := xml.NewDecoder(strings.NewReader(svg))
	var names []string
	for {
		tok, err := d.Token()
		if err == io.EOF {
			break
		}
		if err != nil {
			t.Fatalf("not XML: %v\n%s", err, svg)
		}
		if e, ok := tok.(xml.StartElement); ok {
			names = append(names, e.Name.Local)
			for _, a := range e.Attr {
				if strings.Contains(a.Value, "NaN") || strings.Contains(a.Value, "Inf") {
					t.Fatalf("%s of %s is %s", a.Name.Local, e.Name.Local, a.Value)
				}
			}
		}
	}
	if len(names) < 3 || names[0] != "svg" || names[1] != "title" || names[2] != "desc" {
		t.Errorf("begins with %v, want svg, title, desc", names)
	}
	if strings.Contains(svg, "<script") {
		t.Errorf("a script got through")
	}
}

var numbers = regexp.MustCompile(`-?[0-9.]+`)

// TestScale measures the outlines: as wide and as tall as the inches say.
func TestScale(t *testing.T) {
	for _, top := range []string{"rounded", "slightly rounded", "pointed", "flat", "square", "other", ""} {
		f := form{top: top, width: 12, above: 24}
		const s, x, y = 7., 100., 300.
		left, right, up, down := math.Inf(1), math.Inf(-1), math.Inf(1), math.Inf(-1)
		for _, cmd := range regexp.MustCompile(`[MLVHAQ][^MLVHAQZ]*`).FindAllString(f.outline(x, y, s), -1) {
			n := numbers.FindAllString(cmd, -1)
			at := func(i int) float64 { v, _ := strconv.ParseFloat(n[i], 64); return v }
			switch cmd[0] {
			case 'V':
				up, down = math.Min(up, at(0)), math.Max(down, at(0))
			case 'H':
				left, right = math.Min(left, at(0)), math.Max(right, at(0))
			case 'A': // the crown of the arc lies half way between its ends, a rise above them: told by the radius
				r := at(0)
				rise := r - math.Sqrt(r*r-math.Pow(12*s/2, 2))
				up = math.Min(up, at(6)-rise)
				left, right = math.Min(left, at(5)), math.Max(right, at(5))
			default:
				left, right = math.Min(left, at(len(n)-2)), math.Max(right, at(len(n)-2))
				up, down = math.Min(up, at(len(n)-1)), math.Max(down, at(len(n)-1))
			}
		}
		if math.Abs(right-left-12*s) > .3 || math.Abs(down-up-24*s) > 8 && top == "other" || math.Abs(down-up-24*s) > 1 && top != "other" {
			t.Errorf("%q: drawn %.1f by %.1f, want %.1f by %.1f", top, right-left, down-up, 12*s, 24*s)
		}
	}
}

func TestInches(t *testing.T) {
	for x, want := range map[float64]string{12: "12 in", 8.5: "8 1/2 in", 6.375: "6 3/8 in", .75: "3/4 in", .4375: "7/16 in", 11.99: "12 in"} {
		if got := inches(x); got != want {
			t.Errorf("%v is %q, want %q", x, got, want)
		}
	}
}

func TestGuide(t *testing.T) {
	g := Guide()
	last := -1
	for _, w := range []string{"First the top", "Then the device", "Then the width", "Then the wording", "Emblems of belief", "did not furnish", "Please"} {
		i := strings.Index(g, w)
		if i < last || i < 0 {
			t.Errorf("%q is out of order", w)
		}
		last = i
	}
	if n := strings.Count(g, "<svg"); n < 18 {
		t.Errorf("%d drawings", n)
	}
	if strings.Contains(g, "src=") || strings.Contains(g, "url(") || strings.Contains(g, "<link") {
		t.Errorf("the guide loads something")
	}
	ids := map[string]bool{}
	for _, m := range regexp.MustCompile(` id="([^"]+)"`).FindAllStringSubmatch(g, -1) {
		if ids[m[1]] {
			t.Errorf("the id %q twice", m[1])
		}
		ids[m[1]] = true
	}
	for _, p := range marker.Patterns() {
		if svg := Spec(p.Code); svg != "" {
			valid(t, svg)
		} else if p.Government() {
			t.Errorf("%s has no drawing", p.Code)
		}
	}
}

func FuzzStone(f *testing.F) {
	f.Add("CO. F\n47 ILLS.", "rounded", "01", "top broken", 12., 4., 24.)
	f.Add("\xff<&>\x00", "pointed", "<", "", -1., 0., math.Inf(1))
	f.Fuzz(func(t *testing.T, words, top, emblem, state string, w, th, h float64) {
		s := model.Stone{ID: model.StoneID(emblem), Marker: model.Marker{Inscription: words, Top: top, Emblem: emblem, Condition: state,
			Width: model.Inches(w), Thickness: model.Inches(th), Height: model.Inches(h)}}
		imp := marker.Imply(&s, model.Reading{})
		valid(t, Stone(&s, imp))
		valid(t, Time(&s, model.Reading{}, imp))
	})
}

func BenchmarkStone(b *testing.B) {
	c := cases[0]
	imp := marker.Imply(&c.s, c.r)
	for b.Loop() {
		Stone(&c.s, imp)
	}
}

// TestTitleFits: a drawing's title is no wider than the drawing where the browser has neither Georgia nor Times, and takes a serif whose bold letters are wider
// (DejaVu Serif, measured over such titles in a browser: 0.58).
func TestTitleFits(t *testing.T) {
	for _, id := range []model.StoneID{"1", "OM-08", "OLD-MILL-SECTION-A-0123"} {
		s := &model.Stone{ID: id, Marker: model.Marker{Top: "rounded", Material: "white marble", Width: 12, Thickness: 4, Lettering: "raised", Device: "recessed shield"}}
		svg := Stone(s, marker.Imply(s, model.Reading{}))
		m := regexp.MustCompile(`(?s)viewBox="0 0 ([0-9.]+) .*?<text x="([0-9.]+)" y="24" font-size="([0-9.]+)"[^>]*>([^<]+)<`).FindStringSubmatch(svg)
		if m == nil {
			t.Fatalf("no title in %s", svg)
		}
		var n [3]float64
		for i := range n {
			n[i], _ = strconv.ParseFloat(m[i+1], 64)
		}
		if end := n[1] + 0.58*n[2]*float64(len(m[4])); end > n[0] {
			t.Errorf("%q ends at %.0f, the drawing at %.0f", m[4], end, n[0])
		}
	}
}

// TestOpenService: of a service whose end nobody wrote down the bar does not go on to the years in which the stone was made.
func TestOpenService(t *testing.T) {
	in, err := date.Parse("Oct. 8, 1861")
	if err != nil {
		t.Fatal(err)
	}
	s := model.Stone{ID: "M-1"}
	svg := Time(&s, model.Reading{People: []model.Claim{{Service: model.Service{Enlisted: in}}}}, model.Implication{From: 1903})
	m := regexp.MustCompile(`<rect x="[0-9.]+" y="[0-9.]+" width="([0-9.]+)" height="[0-9.]+" fill="` + accent + `"`).FindStringSubmatch(svg)
	if m == nil {
		t.Fatalf("no bar for the service:\n%s", svg)
	}
	if w, err := strconv.ParseFloat(m[1], 64); err != nil || w > 100 {
		t.Errorf("the bar is %s wide (%v), want a short one", m[1], err)
	}
}
