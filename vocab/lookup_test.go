package vocab

import (
	"slices"
	"strings"
	"testing"

	"musterstone/model"
	"musterstone/model/date"
)

// Periods of war of 38 CFR 3.2, as a state statute that follows it and the CRS list of 2006 to 2010 print them (S39a, S39b), and for the wars before it the
// dates of the fact base (from memory, very sure). The years of birth are worked out there from the dates.
func TestConflictDates(t *testing.T) {
	tests := []struct {
		code     model.ConflictCode
		from, to date.Day
		born     [2]int
	}{
		{"revolution", date.Day{Year: 1775, Month: 4, Day: 19}, date.Day{Year: 1783, Month: 9, Day: 3}, [2]int{1715, 1768}},
		{"war-of-1812", date.Day{Year: 1812, Month: 6, Day: 18}, date.Day{Year: 1815, Month: 2, Day: 17}, [2]int{1755, 1800}},
		{"indian-wars", date.Day{Year: 1817, Month: 1, Day: 1}, date.Day{Year: 1898, Month: 12, Day: 31}, [2]int{1755, 1884}},
		{"mexican-war", date.Day{Year: 1846, Month: 4, Day: 24}, date.Day{Year: 1848, Month: 5, Day: 30}, [2]int{1800, 1832}},
		{"civil-war", date.Day{Year: 1861, Month: 4, Day: 12}, date.Day{Year: 1866, Month: 8, Day: 20}, [2]int{1800, 1852}},
		{"spanish-american-war", date.Day{Year: 1898, Month: 4, Day: 21}, date.Day{Year: 1902, Month: 7, Day: 4}, [2]int{1853, 1886}},
		{"philippine-war", date.Day{Year: 1899, Month: 2, Day: 4}, date.Day{Year: 1902, Month: 7, Day: 4}, [2]int{1853, 1888}},
		{"mexican-border", date.Day{Year: 1916, Month: 5, Day: 9}, date.Day{Year: 1917, Month: 4, Day: 5}, [2]int{1856, 1902}},
		{"world-war-i", date.Day{Year: 1917, Month: 4, Day: 6}, date.Day{Year: 1918, Month: 11, Day: 11}, [2]int{1860, 1902}},
		{"world-war-ii", date.Day{Year: 1941, Month: 12, Day: 7}, date.Day{Year: 1946, Month: 12, Day: 31}, [2]int{1885, 1930}},
		{"korea", date.Day{Year: 1950, Month: 6, Day: 27}, date.Day{Year: 1955, Month: 1, Day: 31}, [2]int{1900, 1938}},
		{"vietnam", date.Day{Year: 1961, Month: 2, Day: 28}, date.Day{Year: 1975, Month: 5, Day: 7}, [2]int{1905, 1958}},
		{"gulf", date.Day{Year: 1990, Month: 8, Day: 2}, date.Day{}, [2]int{1930, 0}},
	}
	list := Conflicts()
	if len(list) != len(tests) {
		t.Errorf("%d conflicts, want %d", len(list), len(tests))
	}
	for i, tt := range tests {
		c, ok := Conflict(tt.code)
		if !ok {
			t.Errorf("no conflict %q", tt.code)
			continue
		}
		if c.From != tt.from || c.To != tt.to || [2]int{c.BornFrom, c.BornTo} != tt.born {
			t.Errorf("%s: %v to %v, born %d to %d; want %v to %v, born %v", tt.code, c.From, c.To, c.BornFrom, c.BornTo, tt.from, tt.to, tt.born)
		}
		if i < len(list) && list[i].Code != tt.code {
			t.Errorf("place %d: %s, want %s: they go by their first day", i, list[i].Code, tt.code)
		}
	}
}

func TestConflictOf(t *testing.T) {
	tests := []struct{ text, want string }{
		{"SP. AM. WAR", "spanish-american-war"}, {"SPANISH AMERICAN WAR", "spanish-american-war"}, {"Spanish-American War", "spanish-american-war"},
		{"WORLD WAR", "world-war-i"}, {"World War I", "world-war-i"}, {"W. W. I", "world-war-i"}, {"The Great War", "world-war-i"},
		{"W W II", "world-war-ii"}, {"WORLD WAR II", "world-war-ii"}, {"War of the Rebellion", "civil-war"}, {"1861-65", "civil-war"}, {"1861 - 1865", "civil-war"},
		{"CIVIL WAR", "civil-war"}, {"civil-war", "civil-war"}, {"Mexican War", "mexican-war"}, {"MEXICAN BORDER", "mexican-border"},
		{"PHIL. INS.", "philippine-war"}, {"China Relief Expedition", "spanish-american-war"}, {"REVOLUTIONARY WAR", "revolution"}, {"WAR OF 1812", "war-of-1812"},
		{"Indian Wars", "indian-wars"}, {"KOREA", "korea"}, {"VIETNAM", "vietnam"}, {"Viet Nam", "vietnam"}, {"PERSIAN GULF", "gulf"}, {"PVT", ""}, {"", ""},
	}
	for _, tt := range tests {
		got, ok := ConflictOf(tt.text)
		if string(got) != tt.want || ok != (tt.want != "") {
			t.Errorf("ConflictOf(%q) = %q, %v; want %q", tt.text, got, ok, tt.want)
		}
	}
	found, rest := ConflictsOf("INDIAN WARS and CIVIL WAR, PVT")
	if !slices.Equal(found, []model.ConflictCode{"indian-wars", "civil-war"}) || !slices.Equal(rest, []string{"PVT"}) {
		t.Errorf("ConflictsOf = %q, rest %q", found, rest)
	}
}

// A list of a county's old soldiers gives a regiment, a birth and a death: the death, in 1898 or 1918, is of an old man in another war's years.
func TestUnderstoodAtDeath(t *testing.T) {
	tests := []struct {
		born, died, enlisted, state, want string
	}{
		{"1840", "12 Feb 1902", "", "MI", ""},
		{"1879", "12 Feb 1902", "", "MI", "spanish-american-war philippine-war"},
		{"", "12 Feb 1902", "", "MI", ""},
		{"", "1 May 1918", "", "MI", ""},
		{"1895", "1 May 1918", "", "MI", "world-war-i"},
		{"", "6 Feb 1863", "", "MI", "civil-war"},
		{"1844", "6 Feb 1863", "", "MI", "civil-war"},
		{"1788", "6 Feb 1863", "", "OH", ""},                   // of the War of 1812
		{"1758", "1 May 1847", "", "VA", ""},                   // of the Revolution
		{"1950", "1 May 1991", "", "TX", "gulf"},               // which has no last year of birth
		{"1840", "12 Feb 1902", "Aug 1862", "MI", "civil-war"}, // he entered service in it
		{"1879", "12 Feb 1902", "", "", ""},                    // of a state's regiment alone
		{"", "6 Feb 1863", "May 1898", "", "spanish-american-war"},
	}
	for _, tt := range tests {
		parse := func(text string) date.Date {
			if text == "" {
				return date.Date{}
			}
			d, err := date.Parse(text)
			if err != nil {
				t.Fatal(err)
			}
			return d
		}
		s := &model.Service{Enlisted: parse(tt.enlisted)}
		s.Unit.State = model.State(tt.state)
		born, died := parse(tt.born), parse(tt.died)
		var got []string
		for _, c := range UnderstoodConflicts(s, &born, &died, func(_ int, from, to date.Day) []model.ConflictCode { return ConflictsHolding(from, to) }) {
			got = append(got, string(c))
		}
		if strings.Join(got, " ") != tt.want {
			t.Errorf("born %q, died %q, enlisted %q, of a regiment of %q: %q, want %q", tt.born, tt.died, tt.enlisted, tt.state, got, tt.want)
		}
	}
}

func TestConflictsDuring(t *testing.T) {
	day := func(y, m, d int) date.Day { return date.Day{Year: y, Month: m, Day: d} }
	tests := []struct {
		from, to date.Day
		want     []model.ConflictCode
	}{
		{day(1864, 1, 1), day(1864, 12, 31), []model.ConflictCode{"indian-wars", "civil-war"}},
		{day(1917, 4, 5), day(1917, 4, 6), []model.ConflictCode{"mexican-border", "world-war-i"}},
		{day(1920, 1, 1), day(1930, 1, 1), nil},
		{day(1918, 11, 11), day(1918, 11, 11), []model.ConflictCode{"world-war-i"}},
		{day(1918, 11, 12), day(1918, 11, 12), nil},
		{day(1960, 1, 1), date.Day{}, []model.ConflictCode{"vietnam", "gulf"}},
		{date.Day{}, day(1800, 1, 1), []model.ConflictCode{"revolution"}},
		{date.Day{}, date.Day{}, nil},
	}
	for _, tt := range tests {
		if got := ConflictsDuring(tt.from, tt.to); !slices.Equal(got, tt.want) {
			t.Errorf("ConflictsDuring(%v, %v) = %q, want %q", tt.from, tt.to, got, tt.want)
		}
	}
}

// Services that the agency's own list names for VA Form 40-10007 (S9), and the branch column of its burial data.
func TestBranchAndSide(t *testing.T) {
	tests := []struct{ text, branch, side string }{
		{"US ARMY", "army", "union"}, {"US NAVY", "navy", "union"}, {"US MARINE CORPS", "marine-corps", ""}, {"US COAST GUARD", "coast-guard", ""},
		{"U. S. R. C. S.", "revenue-cutter", ""}, {"US Revenue Cutter Service", "revenue-cutter", ""}, {"US AIR FORCE", "air-force", ""},
		{"Confederate States Army", "army", "confederate"}, {"Provisional Army CS", "army", "confederate"}, {"Confederate States Navy", "navy", "confederate"},
		{"CS Marine Corps", "marine-corps", "confederate"}, {"Continental Line", "army", ""}, {"Continental Navy", "navy", ""},
		{"Continental Marine", "marine-corps", ""}, {"Army Nurse Corps", "army", ""}, {"Army Air Service", "army", ""}, {"US ARMY AIR CORPS", "army", ""},
		{"C.S.A.", "army", "confederate"}, {"C. S. N.", "navy", "confederate"}, {"Union", "", "union"}, {"Federal", "", "union"}, {"Confederate", "", "confederate"},
		{"U.S.S.", "", ""}, {"", "", ""},
	}
	for _, tt := range tests {
		if got, ok := Branch(tt.text); string(got) != tt.branch || ok != (tt.branch != "") {
			t.Errorf("Branch(%q) = %q, %v; want %q", tt.text, got, ok, tt.branch)
		}
		if got, ok := Side(tt.text); string(got) != tt.side || ok != (tt.side != "") {
			t.Errorf("Side(%q) = %q, %v; want %q", tt.text, got, ok, tt.side)
		}
	}
}

func TestAfloat(t *testing.T) {
	for branch, want := range map[model.Branch]bool{"navy": true, "marine-corps": true, "coast-guard": true, "revenue-cutter": true, "army": false, "air-force": false, "": false} {
		if got := Afloat(branch); got != want {
			t.Errorf("Afloat(%q) = %v, want %v", branch, got, want)
		}
	}
}

func TestLabel(t *testing.T) {
	tests := []struct{ kind, code, want string }{
		{"conflict", "civil-war", "Civil War"}, {"arm", "heavy-artillery", "Heavy Artillery"}, {"side", "union", "Union"}, {"branch", "marine-corps", "Marine Corps"},
		{"body", "usct", "US Colored Troops"}, {"state", "WV", "West Virginia"}, {"rank", "first sergeant", "first sergeant"},
		{"pattern", "general-1922", "General stone of 1922"}, {"verdict", "refused", "refused"}, {"mark", "national-guard", "National Guard"},
		{"service", "none", "no service"}, {"service", "civil-war/union", "Union service in the Civil War"}, {"no such kind", "some-code", "some code"},
	}
	for _, tt := range tests {
		if got := Label(tt.kind, tt.code); got != tt.want {
			t.Errorf("Label(%q, %q) = %q, want %q", tt.kind, tt.code, got, tt.want)
		}
	}
}

func TestPercent(t *testing.T) {
	for p, want := range map[float64]string{1: "over 99%", .996: "over 99%", .5: "50%", .004: "under 1%", 0: "under 1%"} {
		if got := Percent(p); got != want {
			t.Errorf("%v: %s, want %s", p, got, want)
		}
	}
}

func TestSource(t *testing.T) {
	citation, where, ok := Source("S35")
	if !ok || !strings.Contains(citation, "State abbreviations 1831-1963") || where == "" {
		t.Errorf("Source(S35) = %q, %q, %v", citation, where, ok)
	}
	if _, _, ok := Source("no such key"); ok {
		t.Error("a key that no row has was found")
	}
}

// TestForms finds forms that point to a code that is not in its table, and the same form twice for one code.
func TestForms(t *testing.T) {
	for _, tt := range []struct{ forms, column, table, code string }{
		{"state-forms", "state", "states", "code"}, {"rank-forms", "rank", "ranks", "rank"}, {"branch-forms", "branch", "branches", "code"},
		{"side-forms", "side", "sides", "code"}, {"conflict-forms", "conflict", "conflicts", "code"},
		{"arms", "broader", "arms", "code"}, {"arms", "worded_as", "arms", "code"}, {"unit-implies", "branch", "branches", "code"}, {"unit-implies", "side", "sides", "code"},
		{"unit-implies", "conflict", "conflicts", "code"}, {"bodies", "side", "sides", "code"}, {"state-sides", "state", "states", "code"},
	} {
		known := codes(tt.table, tt.code)
		seen := map[string]bool{}
		for _, r := range Rows(tt.forms) {
			code := r.Get(tt.column)
			if _, ok := known[code]; !ok && code != "" {
				t.Errorf("%s: %q is not in table %s", r.Where(), code, tt.table)
			}
			if !strings.HasSuffix(tt.forms, "-forms") {
				continue
			}
			k := Key(r.Get("form")) + " " + code
			if seen[k] && tt.forms != "state-forms" {
				t.Errorf("%s: the form %q twice", r.Where(), r.Get("form"))
			}
			if Key(r.Get("form")) == "" {
				t.Errorf("%s: an empty form", r.Where())
			}
			seen[k] = true
		}
	}
}

func TestKey(t *testing.T) {
	tests := []struct{ text, want string }{
		{"1ST. SERG'T", "1sergt"}, {"First Sergt", "1sergt"}, {"1 Sergt.", "1sergt"}, {"2/LT", "2lt"}, {"2d Lt.", "2lt"}, {"N. Y.", "ny"}, {"Ill’s", "ills"},
		{"1st Lt. & Adj.", "1ltandadj"}, {"Sergeant-major", "sergeantmajor"}, {"", ""}, {" . ", ""}, {"Münster", "munster"},
	}
	for _, tt := range tests {
		if got := Key(tt.text); got != tt.want {
			t.Errorf("Key(%q) = %q, want %q", tt.text, got, tt.want)
		}
	}
}
