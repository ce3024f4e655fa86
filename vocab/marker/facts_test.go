package marker_test

import (
	"math"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/vocab"
	. "musterstone/vocab/marker"
)

// TestPublishedSizes sets the table beside the published figures, in inches. Where sources disagree both are asked for.
func TestPublishedSizes(t *testing.T) {
	for _, c := range []struct {
		code                            model.PatternCode
		width, thickness, length, above model.Inches // 0: not asked
		trusted                         bool
		source                          string
	}{
		{"civil-war-1873", 10, 4, 36, 12, true, "S2: 10 by 4, 12 above ground and 24 below"},
		{"civil-war-1873", 10, 4, 42, 12, true, "S2: 12 above ground and 30 below, north of Washington"},
		{"unknown-block", 6, 6, 30, 0, true, "S2"},
		{"civil-war-1903", 12, 4, 39, 0, true, "memory-sure"},
		{"civil-war-1903", 12, 4, 36, 0, false, "S30: three feet long, one foot wide, four inches thick"},
		{"confederate-1906", 12, 4, 39, 0, true, "S11, by the Union stone"},
		{"confederate-1930", 12, 4, 39, 0, true, "S11, by the Union stone"},
		{"confederate-1930", 12, 0, 42, 0, false, "memory-fair"},
		{"general-1922", 13, 4, 42, 0, true, "S3 S6"},
		{"general-1922", 13, 4, 0, 42, false, "S3 S6: 42 inches tall"},
		{"upright-marble", 13, 4, 42, 0, true, "S6"},
		{"upright-granite", 13, 4, 42, 0, true, "S6"},
		{"flat-marble", 24, 4, 12, 0, true, "S6"},
		{"flat-granite", 24, 4, 12, 0, true, "S6"},
		{"flat-bronze", 24, .75, 12, 0, true, "S6"},
		{"niche-bronze", 8.5, .4375, 5.5, 0, true, "S6"},
		{"medallion", 6.375, .5, 4.75, 0, true, "S6 S20f"},
		{"medallion", 3.75, .25, 2.875, 0, true, "S6 S20f"},
		{"medallion", 2, .33, 1.5, 0, true, "S6 S20f"},
		{"medallion", 5, 0, 0, 0, true, "S20b S20c"},
		{"medallion", 3, 0, 0, 0, true, "S20b S20c"},
		{"medallion", 1.5, 0, 0, 0, true, "S20b S20c"},
		{"medallion-honor", 6.375, .5, 4.75, 0, true, "S6"},
		{"reissue-xa", 12, 3, 42, 0, true, "S6"},
		{"reissue-xb", 13, 3, 42, 0, true, "S6"},
		{"reissue-xc", 10, 3, 39, 0, true, "S6"},
		{"reissue-ya", 12, 3, 42, 0, true, "S6"},
	} {
		p, ok := Find(c.code)
		if !ok {
			t.Errorf("no pattern %s", c.code)
			continue
		}
		found := false
		for _, z := range p.Sizes {
			same := func(got, want model.Inches) bool { return want == 0 || math.Abs(float64(got-want)) < .01 }
			found = found || same(z.Width, c.width) && same(z.Thickness, c.thickness) && same(z.Length, c.length) && same(z.Above, c.above) && z.Trusted == c.trusted
		}
		if !found {
			t.Errorf("%s: no size %v by %v by %v, %v above, trusted %v; source %s\n%+v", c.code, c.width, c.thickness, c.length, c.above, c.trusted, c.source, p.Sizes)
		}
	}
}

// TestPublishedYears sets the table beside the published years.
func TestPublishedYears(t *testing.T) {
	for _, c := range []struct {
		code     model.PatternCode
		from, to int
		source   string
	}{
		{"wooden-headboard", 1861, 1885, "S1: General Orders 75; the end is a bound of ours"},
		{"civil-war-1873", 1873, 1903, "S2; end memory-sure"},
		{"unknown-block", 1873, 1903, "S2; end memory-sure"},
		{"civil-war-1903", 1903, 0, "memory-sure"},
		{"spanish-american", 1899, 0, "S28"},
		{"confederate-1906", 1906, 1930, "S11 S12"},
		{"confederate-1930", 1930, 0, "S11"},
		{"general-1918", 1918, 1921, "S3"},
		{"general-1922", 1922, 1947, "S3; the end is a rule of the table"},
		{"upright-granite", 1941, 0, "memory-fair"},
		{"flat-marble", 1936, 0, "memory-sure"},
		{"flat-granite", 1939, 0, "memory-sure"},
		{"flat-bronze", 1940, 0, "memory-sure; S12 fits"},
		{"niche-bronze", 0, 0, "not found"},
		{"medallion", 2010, 0, "S20d"},
		{"general-shield", 1922, 0, "S3b"},
		{"medal-of-honor", 1976, 0, "memory-fair"},
	} {
		p, ok := Find(c.code)
		if !ok || p.From() != c.from || p.To() != c.to {
			t.Errorf("%s: %d to %d, want %d to %d; source %s", c.code, p.From(), p.To(), c.from, c.to, c.source)
		}
	}
}

func TestEmblems(t *testing.T) {
	for _, c := range []struct {
		text, number string
		from         int
		source       string
	}{
		{"01", "01", 1922, "S23; year memory-sure"},
		{"1", "01", 1922, "S23"},
		{"Latin cross", "01", 1922, "S23"},
		{"Star of David", "03", 1922, "S23"},
		{"Wheel of Righteousness", "02", 1951, "S23; year memory-fair"},
		{"37", "37", 2007, "S27"},
		{"pentacle", "37", 2007, "S27"},
		{"Hammer of Thor", "55", 2013, "S25"},
		{"65", "65", 2013, "S23 S25"},
		{"Sandhill Crane", "57", 2013, "S23 S25"},
		{"Nyame Ye Ohene", "63", 2013, "S23"},
		{"Luther Rose", "51", 2007, "S23 S25"},
		{"50", "", 0, "S23: not in the list"},
		{"square and compasses", "", 0, "S24: no fraternal emblem"},
	} {
		e, ok := FindEmblem(c.text)
		if ok != (c.number != "") || e.Number != c.number || e.From != c.from {
			t.Errorf("%q: %q of %d, want %q of %d; source %s", c.text, e.Number, e.From, c.number, c.from, c.source)
		}
	}
	if n := len(vocab.Rows("emblems")); n != 64 {
		t.Errorf("%d emblems, want 64: 01 to 65 without 50 (S23)", n)
	}
}

// TestFirstYears reads wordings and asks from when the stone can be.
func TestFirstYears(t *testing.T) {
	for _, c := range []struct {
		words  string
		from   int
		source string
	}{
		{"SP. AM. WAR", 1899, "S28 derived"},
		{"WORLD WAR I", 1942, "derived memory-fair"},
		{"WORLD WAR", 1917, "derived"},
		{"WORLD WAR II", 1941, "derived"},
		{"KOREA", 1950, "derived"},
		{"VIETNAM", 1964, "memory-fair"},
		{"GRENADA", 1983, "memory-fair"},
		{"PANAMA", 1989, "memory-fair"},
		{"PERSIAN GULF", 1990, "derived"},
		{"AFGHANISTAN", 2001, "derived"},
		{"IRAQ", 2003, "derived"},
		{"BSM", 1944, "memory-sure"},
		{"PURPLE HEART", 1932, "memory-sure"},
		{"AIR MEDAL", 1942, "memory-sure"},
		{"LEGION OF MERIT", 1942, "memory-sure"},
		{"SILVER STAR", 1932, "memory-sure"},
		{"WORLD WAR II\nKOREA", 1950, "derived"},
		{"VETERAN OF THE WORLD WAR II", 1941, "derived"},
		{"A VETERAN OF THE WORLD WAR", 1917, "derived"},
		{"S. P. A. M. WAR", 0, "nothing of the kind"},
	} {
		s := &model.Stone{Marker: model.Marker{Inscription: "JOHN HOLDEN\n" + c.words, Top: "square", Material: "granite", Width: 30, Thickness: 8}}
		imp := Imply(s, reading(model.Claim{}))
		if imp.From != c.from {
			t.Errorf("%q: from %d, want %d; source %s (%v)", c.words, imp.From, c.from, c.source, imp.Patterns)
		}
	}
}

func TestSigns(t *testing.T) {
	for _, c := range []struct{ motif, service, strength, source string }{
		{"GAR star", "civil-war/union", "strong", "S33a"},
		{"iron cross", "civil-war/confederate", "strong", "S43"},
		{"U S W V", "spanish-american-war", "strong", "S33a"},
		{"crossed swords", "any", "weak", "common-practice"},
		{"crossed cannon", "any", "medium", "common-practice"},
		{"anchor", "any", "weak", "common-practice"},
		{"Square and Compasses", "none", "none", "common-practice"},
		{"poppy", "world-war-i", "medium", "S33b"},
		{"trefoil badge", "civil-war/union", "strong", "memory-sure"},
	} {
		s, ok := FindSign(c.motif)
		if !ok || s.Service != c.service || s.Strength != c.strength {
			t.Errorf("%q: %v %q %q, want %q %q; source %s", c.motif, ok, s.Service, s.Strength, c.service, c.strength, c.source)
		}
	}
}

// TestTablesHold finds shares that do not sum and codes that are not there.
func TestTablesHold(t *testing.T) {
	sums := map[string]float64{}
	add := func(k string, x float64) { sums[k] += x }
	codes := map[string]bool{}
	for _, p := range Patterns() {
		codes[string(p.Code)] = true
	}
	for _, r := range vocab.Rows("pattern-sizes") {
		add("sizes of "+r.Get("pattern"), r.Float("share"))
	}
	for _, r := range vocab.Rows("pattern-looks") {
		add("looks of "+r.Get("pattern")+", "+r.Get("feature"), r.Float("share"))
	}
	for _, r := range vocab.Rows("pattern-services") {
		add("services of "+r.Get("pattern"), r.Float("share"))
	}
	for _, r := range vocab.Rows("confusions") {
		add("confusions of "+r.Get("feature")+" "+r.Get("true"), r.Float("share"))
	}
	for _, r := range vocab.Rows("service-classes") {
		k := "forms of " + r.Get("code")
		for _, f := range []string{"state", "regulars", "body", "numbered", "division", "other"} {
			add(k, r.Float(f))
		}
	}
	for k, x := range sums {
		if math.Abs(x-1) > .002 {
			t.Errorf("the %s sum to %.4f", k, x)
		}
	}
	for _, name := range []string{"pattern-sizes", "pattern-looks", "pattern-services", "pattern-years", "pattern-shares"} {
		seen := map[string]bool{}
		for _, r := range vocab.Rows(name) {
			if !codes[r.Get("pattern")] {
				t.Errorf("%s: no pattern %q", r.Where(), r.Get("pattern"))
			}
			seen[r.Get("pattern")] = true
		}
		for c := range codes {
			if !seen[c] && (name != "pattern-years" || c != "not-government") {
				t.Errorf("%s.csv has no row for %s", name, c)
			}
		}
	}
	// What a row names must be there.
	rows := func(table, column string) map[string]bool {
		m := map[string]bool{}
		for _, r := range vocab.Rows(table) {
			m[r.Get(column)] = true
		}
		return m
	}
	conflicts := map[string]bool{}
	for _, c := range vocab.Conflicts() {
		conflicts[string(c.Code)] = true
	}
	for _, c := range []struct {
		table, column string
		known         map[string]bool
	}{
		{"patterns", "pictured_as", codes}, {"guide-lines", "patterns", codes}, {"dating-clues", "unless", rows("dating-clues", "key")}, {"dating-clues", "services", rows("service-classes", "code")},
		{"service-classes", "also", conflicts},
	} {
		for _, r := range vocab.Rows(c.table) {
			for _, name := range r.List(c.column) {
				if !c.known[name] {
					t.Errorf("%s: column %q: no %q", r.Where(), c.column, name)
				}
			}
		}
	}
	for _, r := range vocab.Rows("marker-faults") {
		for _, key := range r.List("key") {
			if r.Get("from") == "condition" && !rows("marker-conditions", "key")[key] {
				t.Errorf("%s: no condition %q", r.Where(), key)
			}
		}
	}
	for _, r := range vocab.Rows("contradictions") { // the rules about the years of a body of troops
		if body, ok := strings.CutSuffix(r.Get("key"), "-years"); ok && !(rows("bodies", "code")[body] && rows("dating-clues", "key")[body]) {
			t.Errorf("%s: no body of troops, or no clue, %q", r.Where(), body)
		}
	}
	for _, r := range vocab.Rows("observations") {
		if r.Get("said") == "" {
			t.Errorf("%s: no words for it", r.Where())
		}
	}
	for _, r := range vocab.Rows("service-classes") {
		if c := r.Get("conflict"); c != "" {
			k, ok := vocab.Conflict(model.ConflictCode(c))
			if !ok {
				t.Errorf("%s: no conflict %q", r.Where(), c)
				continue
			}
			if k.From.Year < r.Int("from") || k.From.Year-r.Int("from") > 6 {
				t.Errorf("%s: begins in %d, the conflict in %d", r.Where(), r.Int("from"), k.From.Year)
			}
		}
	}
}

// TestObserved: what the table of patterns says of a look in words begins with a value that recorders write.
func TestObserved(t *testing.T) {
	for _, c := range []struct{ feature, text, want string }{
		{"device", "recessed shield, documented from 1896, or none", "recessed shield"}, {"device", "Southern Cross of Honor in a small circle", "confederate cross"}, {"device", "none", "none"},
		{"material", "American white marble", "white marble"}, {"material", "marble or granite", "marble"}, {"material", "any current material", ""},
		{"top", "flat or slightly convex", "flat"}, {"top", "slightly rounded", "slightly rounded"}, {"lettering", "raised or incised, at the bidder's option", "raised"}, {"colour", "white", ""},
	} {
		if got := Observed(c.feature, c.text); got != c.want {
			t.Errorf("%s %q: %q, want %q", c.feature, c.text, got, c.want)
		}
	}
}
